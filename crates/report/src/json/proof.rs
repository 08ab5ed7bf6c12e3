//! A proof for programs.

use super::PROOF_SCHEMA;
use super::book::{BookWire, book};
use super::wire::{MadeBy, PlaceWire, ProblemWire, files, made_by, number, place, problems};
use schemars::JsonSchema;
use serde::Serialize;
use sumpwright_core::document::rulebook::Force;
use sumpwright_core::prove::{
    Alteration, AlterationKind, CaseOutcome, CaseProof, Fate, Proof, RuleProof, Score, Slack,
    Stale, Suggestion,
};
use sumpwright_core::source::Sources;

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct ProofWire {
    schema: &'static str,
    made_by: MadeBy,
    whole: bool,
    percent: usize,
    rulebook: BookWire,
    score: ScoreWire,
    files: Vec<String>,
    problems: Vec<ProblemWire>,
    rules: Vec<RuleWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct ScoreWire {
    caught: usize,
    missed: usize,
    equivalent: usize,
    refused: usize,
}

#[expect(clippy::struct_excessive_bools, reason = "each is a fact of its own")]
#[derive(Debug, Serialize, JsonSchema)]
struct RuleWire {
    id: String,
    place: PlaceWire,
    force: &'static str,
    whole: bool,
    score: ScoreWire,
    never_applicable: bool,
    never_breached: bool,
    /// Cases of the rulebooks below that hold there and no longer here.
    replaced: usize,
    lacks_own_cases: bool,
    cases: Vec<CaseWire>,
    numbers: Vec<NumberWire>,
    alterations: Vec<AlterationWire>,
    stale: Vec<StaleWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct CaseWire {
    place: PlaceWire,
    expect: &'static str,
    verdict: Option<&'static str>,
    holds: bool,
    /// Whether every alteration that it notices is noticed by another case too.
    spare: bool,
    points_elsewhere: Option<PlaceWire>,
    problems: Vec<ProblemWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct NumberWire {
    written: String,
    part: &'static str,
    place: PlaceWire,
    /// In SI base units, as all that follow.
    value: Option<f64>,
    low: Option<f64>,
    high: Option<f64>,
    pin: Option<f64>,
    within_pin: Option<bool>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct AlterationWire {
    words: String,
    kind: &'static str,
    fate: &'static str,
    /// The case that notices, from 1.
    case: Option<usize>,
    /// A line to paste under the rule's cases.
    add: Option<String>,
    /// Why it is refused or equivalent, or what kind of case is missing.
    said: Option<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct StaleWire {
    place: PlaceWire,
    words: String,
    why: String,
}

pub(super) fn document(proof: &Proof) -> ProofWire {
    let sources = &proof.sources;
    ProofWire {
        schema: PROOF_SCHEMA,
        made_by: made_by(),
        whole: proof.is_whole(),
        percent: proof.score().percent(),
        rulebook: book(sources, &proof.book),
        score: score(proof.score()),
        files: files(sources),
        problems: problems(sources, &proof.problems),
        rules: proof.rules.iter().map(|r| rule(sources, r)).collect(),
    }
}

fn score(score: Score) -> ScoreWire {
    let Score { caught, missed, invalid: refused, equivalent } = score;
    ScoreWire { caught, missed, equivalent, refused }
}

fn rule(sources: &Sources, rule: &RuleProof) -> RuleWire {
    let stale = |stale: &Stale| StaleWire {
        place: place(sources, stale.span),
        words: stale.words.clone(),
        why: stale.why.clone(),
    };
    RuleWire {
        id: rule.id.clone(),
        place: place(sources, rule.span),
        force: match rule.force {
            Force::Shall => "shall",
            Force::Should => "should",
        },
        whole: rule.is_whole(),
        score: score(rule.score()),
        never_applicable: rule.never_applicable,
        never_breached: rule.never_breached,
        replaced: rule.replaced,
        lacks_own_cases: rule.lacks_own_cases,
        cases: rule.cases.iter().map(|c| case(sources, c)).collect(),
        numbers: rule.slacks.iter().map(|s| of_number(sources, s)).collect(),
        alterations: rule.alterations.iter().map(alteration).collect(),
        stale: rule.stale.iter().map(stale).collect(),
    }
}

fn case(sources: &Sources, case: &CaseProof) -> CaseWire {
    let (verdict, wrong) = match &case.outcome {
        CaseOutcome::Judged(verdict) => (Some(verdict.words()), Vec::new()),
        CaseOutcome::Invalid(wrong) => (None, problems(sources, wrong)),
    };
    CaseWire {
        place: place(sources, case.span),
        expect: case.expected.words(),
        verdict,
        holds: case.holds(),
        spare: case.spare,
        points_elsewhere: case.blames.map(|span| place(sources, span)),
        problems: wrong,
    }
}

pub(super) fn of_number(sources: &Sources, slack: &Slack) -> NumberWire {
    NumberWire {
        written: slack.written.clone(),
        part: slack.part,
        place: place(sources, slack.span),
        value: number(slack.value),
        low: slack.low.and_then(number),
        high: slack.high.and_then(number),
        pin: slack.pin.and_then(number),
        within_pin: slack.within_pin(),
    }
}

fn alteration(alteration: &Alteration) -> AlterationWire {
    let (fate, case, add, said) = match &alteration.fate {
        Fate::Caught(case) => ("caught", Some(case + 1), None, None),
        Fate::Missed(Suggestion::Case(line)) => ("missed", None, Some(line.clone()), None),
        Fate::Missed(Suggestion::Words(words)) => ("missed", None, None, Some((*words).to_owned())),
        Fate::Invalid(why) => ("refused", None, None, Some(why.clone())),
        Fate::Equivalent(why) => ("equivalent", None, None, Some(why.clone())),
    };
    AlterationWire {
        words: alteration.words.clone(),
        kind: kind(alteration.kind),
        fate,
        case,
        add,
        said,
    }
}

fn kind(kind: AlterationKind) -> &'static str {
    match kind {
        AlterationKind::Number => "number",
        AlterationKind::Comparison => "comparison",
        AlterationKind::Condition => "condition",
        AlterationKind::Measure => "measure",
        AlterationKind::Baseline => "baseline",
        AlterationKind::Force => "force",
        AlterationKind::Unit => "unit",
        AlterationKind::Rule => "rule",
        AlterationKind::Uncertainty => "uncertainty",
        AlterationKind::Unknown => "unknown",
    }
}
