//! An explanation for programs.

use super::EXPLAIN_SCHEMA;
use super::book::{BookWire, book};
use super::finding::{FindingWire, finding};
use super::proof::{NumberWire, of_number};
use super::wire::{
    ContributionWire, DecisionWire, MadeBy, PlaceWire, ProblemWire, ReadingWire, StateWire,
    WorstWire, contribution, decision, files, made_by, place, problems, reading, state, worst,
};
use crate::{place as places, si};
use schemars::JsonSchema;
use serde::Serialize;
use sumpwright_core::document::rulebook::Force;
use sumpwright_core::explain::{
    Case, Chain, ConditionSeen, Explanation, LimitAsked, LooksAt, MeasureExplained, MeasureSeen,
    OnPan, Part, Pin, RuleExplained, RuleLine, ShownOn, Subject, Term, TestSeen, Written,
};
use sumpwright_core::measure::{Spec, Unknown};
use sumpwright_core::quantity::Dimension;
use sumpwright_core::review::{Contribution, LimitSide, Need, Reading};
use sumpwright_core::rule::Truth;
use sumpwright_core::source::{Sources, Span};

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct ExplanationWire {
    schema: &'static str,
    made_by: MadeBy,
    /// `everything`, `rule`, `measure`, `unknown` or `nothing`.
    subject: &'static str,
    /// A name that is unknown, and the one that was probably meant.
    name: Option<String>,
    meant: Option<String>,
    files: Vec<String>,
    problems: Vec<ProblemWire>,
    rulebook: BookWire,
    rules: Vec<LineWire>,
    measures: Vec<SpecWire>,
    rule: Option<RuleWire>,
    measure: Option<MeasureWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct LineWire {
    rule: String,
    force: &'static str,
    title: String,
    place: PlaceWire,
}

#[derive(Debug, Serialize, JsonSchema)]
struct SpecWire {
    measure: &'static str,
    kind: &'static str,
    over_duty: bool,
    unit: String,
    usual_unit: String,
    meaning: &'static str,
    formula: &'static str,
    source: &'static str,
    range: &'static str,
    checked_against: &'static str,
    checked_by: &'static str,
}

pub(super) fn document(explanation: &Explanation) -> ExplanationWire {
    let sources = &explanation.sources;
    let mut wire = ExplanationWire {
        schema: EXPLAIN_SCHEMA,
        made_by: made_by(),
        subject: "nothing",
        name: None,
        meant: None,
        files: files(sources),
        problems: problems(sources, &explanation.problems),
        rulebook: book(sources, &explanation.book),
        rules: Vec::new(),
        measures: Vec::new(),
        rule: None,
        measure: None,
    };
    match &explanation.subject {
        Subject::Everything(everything) => {
            wire.subject = "everything";
            wire.rules = everything.rules.iter().map(|rule| line(sources, rule)).collect();
            wire.measures = everything.measures.iter().map(|found| spec(found)).collect();
        }
        Subject::Rule(found) => {
            wire.subject = "rule";
            wire.rule = Some(rule(sources, found));
        }
        Subject::Measure(found) => {
            wire.subject = "measure";
            wire.measure = Some(measure(sources, found));
        }
        Subject::Unknown { name, meant } => {
            wire.subject = "unknown";
            wire.name = Some(name.clone());
            wire.meant.clone_from(meant);
        }
        Subject::Nothing => {}
    }
    wire
}

fn line(sources: &Sources, rule: &RuleLine) -> LineWire {
    LineWire {
        rule: rule.id.clone(),
        force: match rule.force {
            Force::Shall => "shall",
            Force::Should => "should",
        },
        title: rule.title.clone(),
        place: place(sources, rule.span),
    }
}

fn spec(spec: &Spec) -> SpecWire {
    SpecWire {
        measure: spec.name,
        kind: spec.kind.word(),
        over_duty: spec.over_duty,
        unit: si::symbol(spec.dimension),
        usual_unit: spec.dimension.usual_symbol(),
        meaning: spec.meaning,
        formula: spec.formula,
        source: spec.source,
        range: spec.range,
        checked_against: spec.checked_against,
        checked_by: spec.checked_by,
    }
}

#[derive(Debug, Serialize, JsonSchema)]
struct WrittenWire {
    text: String,
    place: PlaceWire,
}

fn written(sources: &Sources, written: &Written) -> WrittenWire {
    WrittenWire { text: written.text.clone(), place: place(sources, written.span) }
}

#[derive(Debug, Serialize, JsonSchema)]
struct RuleWire {
    #[serde(flatten)]
    line: LineWire,
    kind: &'static str,
    measure: WrittenWire,
    unit: String,
    measures: Vec<SpecWire>,
    limits: Vec<LimitWire>,
    pins: Vec<PinWire>,
    decision: DecisionWire,
    when: Option<WrittenWire>,
    because: String,
    source: String,
    remedy: Option<String>,
    caution: Option<String>,
    since: Option<u32>,
    cases: CasesWire,
    /// What other rulebooks changed of it.
    changed: Vec<String>,
    on_pan: Option<OnPanWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct LimitWire {
    side: &'static str,
    #[serde(flatten)]
    written: WrittenWire,
}

#[derive(Debug, Serialize, JsonSchema)]
struct PinWire {
    number: String,
    place: PlaceWire,
    pin: Option<String>,
    /// How far a case lets it move; `null` where it was explained on a pan.
    held: Option<NumberWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct CasesWire {
    passing: Option<CaseWire>,
    failing: Option<CaseWire>,
    others: Vec<OthersWire>,
    /// How many do not come out as expected.
    failed: usize,
}

#[derive(Debug, Serialize, JsonSchema)]
struct OthersWire {
    expect: &'static str,
    count: usize,
}

#[derive(Debug, Serialize, JsonSchema)]
struct CaseWire {
    fixture: String,
    exact: bool,
    set: Vec<SetWire>,
    drop: Vec<String>,
    expect: &'static str,
    place: PlaceWire,
}

#[derive(Debug, Serialize, JsonSchema)]
struct SetWire {
    path: String,
    to: String,
}

fn rule(sources: &Sources, rule: &RuleExplained) -> RuleWire {
    let limit = |limit: &LimitAsked| LimitWire {
        side: match limit.side {
            LimitSide::AtLeast => "at least",
            LimitSide::AtMost => "at most",
        },
        written: written(sources, &limit.written),
    };
    let pin = |pin: &Pin| PinWire {
        number: pin.number.clone(),
        place: place(sources, pin.span),
        pin: pin.pin.clone(),
        held: pin.slack.as_ref().map(|slack| of_number(sources, slack)),
    };
    RuleWire {
        line: line(sources, &rule.line),
        kind: rule.kind.word(),
        measure: written(sources, &rule.measure),
        unit: si::symbol(rule.dimension),
        measures: rule.measures.iter().map(|found| spec(found)).collect(),
        limits: rule.limits.iter().map(limit).collect(),
        pins: rule.pins.iter().map(pin).collect(),
        decision: decision(rule.decision),
        when: rule.when.as_ref().map(|when| written(sources, when)),
        because: rule.because.clone(),
        source: rule.source.clone(),
        remedy: rule.remedy.clone(),
        caution: rule.caution.clone(),
        since: rule.since,
        cases: CasesWire {
            passing: rule.cases.passing.as_ref().map(|found| case(sources, found)),
            failing: rule.cases.failing.as_ref().map(|found| case(sources, found)),
            others: rule
                .cases
                .others
                .iter()
                .map(|(expect, count)| OthersWire { expect: expect.words(), count: *count })
                .collect(),
            failed: rule.cases.failed,
        },
        changed: rule.changed.clone(),
        on_pan: rule.on_pan.as_ref().map(|found| on_pan(sources, found)),
    }
}

fn case(sources: &Sources, case: &Case) -> CaseWire {
    let set = |(path, to): &(String, String)| SetWire { path: path.clone(), to: to.clone() };
    CaseWire {
        fixture: case.fixture.clone(),
        exact: case.exact,
        set: case.set.iter().map(set).collect(),
        drop: case.dropped.clone(),
        expect: case.expected.words(),
        place: place(sources, case.span),
    }
}

#[derive(Debug, Serialize, JsonSchema)]
struct OnPanWire {
    path: String,
    title: Option<String>,
    baselines: Vec<String>,
    chains: Vec<ChainWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct ChainWire {
    condition: Option<ConditionWire>,
    terms: Vec<TermWire>,
    moved_by: Vec<MovedWire>,
    taken_as_exact: Vec<MovedWire>,
    finding: FindingWire,
}

#[derive(Debug, Serialize, JsonSchema)]
struct ConditionWire {
    text: String,
    place: PlaceWire,
    #[serde(flatten)]
    truth: TruthWire,
    /// One of the clauses has to hold, and in it every test.
    clauses: Vec<Vec<TestWire>>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct TruthWire {
    truth: &'static str,
    reason: Option<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct TestWire {
    text: String,
    place: PlaceWire,
    #[serde(flatten)]
    truth: TruthWire,
    path: Option<String>,
    stands_at: Option<PlaceWire>,
    formulas: Vec<TermWire>,
    condition: Option<Box<ConditionWire>>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct TermWire {
    text: String,
    measure: Option<&'static str>,
    reading: ReadingWire,
    reason: Option<String>,
    worst: Option<WorstWire>,
    states: Vec<StateWire>,
    parts: Vec<PartWire>,
    note: Option<&'static str>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct PartWire {
    of: String,
    reading: ReadingWire,
    reason: Option<String>,
}

/// An input as it is written, and what it does.
#[derive(Debug, Serialize, JsonSchema)]
struct MovedWire {
    written: String,
    #[serde(flatten)]
    contribution: ContributionWire,
}

fn on_pan(sources: &Sources, on: &OnPan) -> OnPanWire {
    OnPanWire {
        path: on.path.clone(),
        title: on.title.clone(),
        baselines: on.baselines.clone(),
        chains: on.chains.iter().map(|found| chain(sources, found)).collect(),
    }
}

fn chain(sources: &Sources, chain: &Chain) -> ChainWire {
    let moved = |all: &[Contribution]| moved(sources, all, chain.finding.dimension);
    ChainWire {
        condition: chain.condition.as_ref().map(|seen| condition(sources, seen)),
        terms: chain.terms.iter().map(|found| term(sources, found)).collect(),
        moved_by: moved(&chain.moved_by),
        taken_as_exact: moved(&chain.exact),
        finding: finding(sources, &chain.finding),
    }
}

fn moved(sources: &Sources, all: &[Contribution], dimension: Dimension) -> Vec<MovedWire> {
    let one = |moved: &Contribution| MovedWire {
        written: text_at(sources, moved.span),
        contribution: contribution(sources, moved, dimension),
    };
    all.iter().map(one).collect()
}

fn text_at(sources: &Sources, span: Span) -> String {
    sources.slice(places::clamp(sources, span)).to_owned()
}

fn condition(sources: &Sources, seen: &ConditionSeen) -> ConditionWire {
    let clause = |tests: &Vec<TestSeen>| tests.iter().map(|t| test(sources, t)).collect();
    ConditionWire {
        text: seen.text.clone(),
        place: place(sources, seen.span),
        truth: truth(&seen.truth),
        clauses: seen.clauses.iter().map(clause).collect(),
    }
}

fn truth(truth: &Truth) -> TruthWire {
    match truth {
        Truth::True => TruthWire { truth: "true", reason: None },
        Truth::False => TruthWire { truth: "false", reason: None },
        Truth::Unknown(unknown) => {
            TruthWire { truth: "unknown", reason: Some(unknown.reason.clone()) }
        }
    }
}

fn test(sources: &Sources, test: &TestSeen) -> TestWire {
    let mut wire = TestWire {
        text: test.text.clone(),
        place: place(sources, test.span),
        truth: truth(&test.truth),
        path: None,
        stands_at: None,
        formulas: Vec::new(),
        condition: None,
    };
    match &test.looks_at {
        LooksAt::Path { path, stands } => {
            wire.path = Some(path.clone());
            wire.stands_at = stands.map(|span| place(sources, span));
        }
        LooksAt::Formulas(both) => {
            wire.formulas = both.iter().map(|found| term(sources, found)).collect();
        }
        LooksAt::Condition(inner) => {
            wire.condition = Some(Box::new(condition(sources, inner)));
        }
    }
    wire
}

fn term(sources: &Sources, term: &Term) -> TermWire {
    let (value, reason) = read(&term.reading, term.dimension);
    let part = |part: &Part| {
        let (reading, reason) = read(&part.reading, term.dimension);
        PartWire { of: part.of.clone(), reading, reason }
    };
    TermWire {
        text: term.text.clone(),
        measure: term.spec.map(|spec| spec.name),
        reading: value,
        reason,
        worst: term.worst.as_ref().map(|found| worst(sources, found)),
        states: term.states.iter().map(|found| state(sources, found)).collect(),
        parts: term.parts.iter().map(part).collect(),
        note: term.note,
    }
}

fn read(found: &Result<Reading, Unknown>, dimension: Dimension) -> (ReadingWire, Option<String>) {
    let reason = found.as_ref().err().map(|unknown| unknown.reason.clone());
    (reading(found.as_ref().ok().copied(), dimension), reason)
}

#[derive(Debug, Serialize, JsonSchema)]
struct MeasureWire {
    #[serde(flatten)]
    spec: SpecWire,
    rules: Vec<LineWire>,
    shown_on: Option<ShownWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct ShownWire {
    path: String,
    title: Option<String>,
    is_demo: bool,
    objects: Vec<SeenWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct SeenWire {
    object: Option<String>,
    reading: ReadingWire,
    reason: Option<String>,
    worst: Option<WorstWire>,
    moved_by: Vec<MovedWire>,
    taken_as_exact: Vec<MovedWire>,
    subject: Option<NeedWire>,
    needs: Vec<NeedWire>,
    notes: Vec<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct NeedWire {
    path: String,
    place: PlaceWire,
    how_to_get: String,
}

fn measure(sources: &Sources, measure: &MeasureExplained) -> MeasureWire {
    let shown = |shown: &ShownOn| ShownWire {
        path: shown.path.clone(),
        title: shown.title.clone(),
        is_demo: shown.is_demo,
        objects: shown.objects.iter().map(|found| seen(sources, found)).collect(),
    };
    MeasureWire {
        spec: spec(measure.spec),
        rules: measure.rules.iter().map(|rule| line(sources, rule)).collect(),
        shown_on: measure.shown_on.as_ref().map(shown),
    }
}

fn seen(sources: &Sources, seen: &MeasureSeen) -> SeenWire {
    let of = &seen.reading;
    let dimension = of.spec.dimension;
    let (value, reason) = read(&of.reading, dimension);
    let need = |need: &Need| NeedWire {
        path: need.path.clone(),
        place: place(sources, need.span),
        how_to_get: need.how_to_get.clone(),
    };
    SeenWire {
        object: of.object.clone(),
        reading: value,
        reason,
        worst: of.worst.as_ref().map(|found| worst(sources, found)),
        moved_by: moved(sources, &of.contributions, dimension),
        taken_as_exact: moved(sources, &seen.exact, dimension),
        subject: seen.subject.as_ref().map(need),
        needs: seen.needs.iter().map(need).collect(),
        notes: of.notes.clone(),
    }
}
