//! Two rulebooks beside each other, for programs.

use super::COMPARE_SCHEMA;
use super::book::{BookWire, PartWire, book, part};
use super::wire::{MadeBy, PlaceWire, ProblemWire, files, made_by, place, problems};
use schemars::JsonSchema;
use serde::Serialize;
use sumpwright_core::compare::{
    BookCompared, Comparison, PanCompared, RuleCompared, RuleFate, VerdictChange,
};
use sumpwright_core::document::rulebook::Force;
use sumpwright_core::rule::Strictness;
use sumpwright_core::source::Sources;
use sumpwright_core::verdict::Verdict;

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct ComparisonWire {
    schema: &'static str,
    made_by: MadeBy,
    old: NamedWire,
    new: NamedWire,
    files: Vec<String>,
    problems: Vec<ProblemWire>,
    rules: Vec<RuleWire>,
    pans: Vec<PanWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct NamedWire {
    name: String,
    rules: usize,
    rulebook: BookWire,
}

#[derive(Debug, Serialize, JsonSchema)]
struct RuleWire {
    rule: String,
    title: String,
    place: PlaceWire,
    /// `added`, `removed`, `stricter`, `looser`, `incomparable` or `the same`.
    fate: &'static str,
    parts: Vec<PartWire>,
    reworded: Vec<&'static str>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct PanWire {
    path: String,
    title: Option<String>,
    same: usize,
    changes: Vec<ChangeWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct ChangeWire {
    rule: String,
    object: Option<String>,
    from: Option<VerdictWire>,
    to: Option<VerdictWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct VerdictWire {
    force: &'static str,
    verdict: &'static str,
}

pub(super) fn document(comparison: &Comparison) -> ComparisonWire {
    let sources = &comparison.sources;
    ComparisonWire {
        schema: COMPARE_SCHEMA,
        made_by: made_by(),
        old: named(sources, &comparison.old),
        new: named(sources, &comparison.new),
        files: files(sources),
        problems: problems(sources, &comparison.problems),
        rules: comparison.rules.iter().map(|one| rule(sources, one)).collect(),
        pans: comparison.pans.iter().map(pan).collect(),
    }
}

fn named(sources: &Sources, named: &BookCompared) -> NamedWire {
    NamedWire { name: named.name.clone(), rules: named.rules, rulebook: book(sources, &named.book) }
}

fn rule(sources: &Sources, rule: &RuleCompared) -> RuleWire {
    RuleWire {
        rule: rule.id.clone(),
        title: rule.title.clone(),
        place: place(sources, rule.span),
        fate: fate(rule.fate),
        parts: rule.parts.iter().map(|one| part(sources, one)).collect(),
        reworded: rule.reworded.clone(),
    }
}

fn fate(fate: RuleFate) -> &'static str {
    match fate {
        RuleFate::Added => "added",
        RuleFate::Removed => "removed",
        RuleFate::Kept(strictness) => Strictness::word(strictness),
    }
}

fn pan(pan: &PanCompared) -> PanWire {
    let change = |change: &VerdictChange| ChangeWire {
        rule: change.rule.clone(),
        object: change.object.clone(),
        from: change.from.map(verdict),
        to: change.to.map(verdict),
    };
    PanWire {
        path: pan.path.clone(),
        title: pan.title.clone(),
        same: pan.same,
        changes: pan.changes.iter().map(change).collect(),
    }
}

fn verdict((force, verdict): (Force, Verdict)) -> VerdictWire {
    VerdictWire { force: force.word(), verdict: verdict.words() }
}
