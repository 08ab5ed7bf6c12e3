//! Reviews made by hand, for the tests: every verdict, every kind of reading, numbers of the demo world.

use sumpwright_core::document::concessions::ConcessionKind;
use sumpwright_core::document::date::Date;
use sumpwright_core::document::rulebook::{Decision, Force};
use sumpwright_core::measure::{Bounds, ObjectKind, Spec, StateValue, Unknown, Worst};
use sumpwright_core::quantity::{Dimension, Unit};
use sumpwright_core::review::{
    Acceptance, Answer, BookUsed, ChecklistHeld, ClauseHeld, Conceding, ConcessionFault,
    ConcessionFinding, Contribution, EvidenceHeld, Finding, InputUsed, LimitReading, LimitSide,
    MeasureReading, Measured, Need, PanHeld, PanMeasured, PanReview, Reading, Remark, Review,
    RuleAnswer, StatementHeld,
};
use sumpwright_core::source::{Code, Diagnostic, FileId, Sources, Span};
use sumpwright_core::verdict::Verdict;

pub(crate) const PAN: &str = "pan: 1
title: Low finned pan
vehicle: ../vehicles/brindle.yaml
material: { alloy: A356-T6, yield: 165 MPa assumed }
pickup: { fixed_to: case, inlet: { circle: 32 mm, at: { x: 25 mm, y: 10 mm, depth: 44 ± 0.5 mm }, facing: down } }
drains: { plug: { at: { x: -88 mm, y: 0 mm, depth: 34 mm }, axis: rear } }
fins: { keel: { under: floor, count: 9, pitch: 18 mm, height: 22 mm, root: 2.5 mm, tip: 2 mm } }
";

pub(crate) const VEHICLE: &str = "vehicle: 1
title: Brindle
case: { height: 80 ± 5 mm, free_share: 0.50 ± 0.4 }
check: { level: 12 ± 4.5 mm, at: { x: 0 mm, y: 0 mm }, oil_at: 40 degC, engine: running }
";

pub(crate) const DUTY: &str = "duty: 1
states:
  steep-climb: { climb: 30 deg, flow: idle }
  shelf-road: { side_slope: 25 deg, high: left }
";

pub(crate) const RULES: &str = "rulebook: 1
rules:
  pickup.uncovers:
    at_least: 10 mm
  fin.breaks-at-the-strike:
    at_most: material.yield / 1.5
  drain.leaves-too-much:
    at_most: 5 %
  pickup.too-close-to-floor:
    at_least: 8 mm
  surge.uncovers:
    at_least: 0 mm
";

pub(crate) const LENGTH: Dimension =
    Dimension { length: 1, mass: 0, time: 0, temperature: 0, angle: 0, point: false };
pub(crate) const STRESS: Dimension =
    Dimension { length: -1, mass: 1, time: -2, temperature: 0, angle: 0, point: false };
pub(crate) const RATIO: Dimension =
    Dimension { length: 0, mass: 0, time: 0, temperature: 0, angle: 0, point: false };

/// The texts of the demo world.
pub(crate) struct World {
    pub(crate) sources: Sources,
}

impl World {
    pub(crate) fn new() -> Self {
        let mut sources = Sources::default();
        sources.add("fixtures/pans/low-finned.yaml", PAN.to_owned());
        sources.add("fixtures/vehicles/brindle.yaml", VEHICLE.to_owned());
        sources.add("fixtures/duties/rock-trail.yaml", DUTY.to_owned());
        sources.add("built-in/rules/pickup.yaml", RULES.to_owned());
        Self { sources }
    }

    /// The first place in a text, counted from 0, that reads so.
    pub(crate) fn span(&self, file: u32, what: &str) -> Span {
        let file = FileId(file);
        let start = self.sources.text(file).find(what).expect("the sample holds it");
        let byte = |at: usize| u32::try_from(at).expect("the samples are short");
        Span { file, start: byte(start), end: byte(start + what.len()) }
    }
}

pub(crate) fn exactly(value: f64, u: f64) -> Reading {
    Reading { bounds: Bounds::exactly(value), u_low: u, u_high: u }
}

fn climb(world: &World) -> Worst {
    Worst {
        state: "steep-climb".to_owned(),
        span: world.span(2, "steep-climb"),
        oil_temperature: 313.15,
        point: None,
    }
}

/// A finding on the inlet's cover that came out at `millimetres`.
pub(crate) fn coverage(world: &World, verdict: Verdict, millimetres: f64, u: f64) -> Finding {
    let value = millimetres / 1000.0;
    let level = Contribution {
        path: "vehicle.check.level".to_owned(),
        span: world.span(1, "12 ± 4.5 mm"),
        effect: -2.2e-3,
        of_last_digit: false,
        assumed: false,
        how_to_get: "Dip the oil at the maker's check.",
    };
    let share = Contribution {
        path: "vehicle.case.free_share".to_owned(),
        span: world.span(1, "0.50 ± 0.4"),
        effect: 0.9e-3,
        of_last_digit: false,
        assumed: false,
        how_to_get: "By jug: litres between two known heights over outline times height.",
    };
    Finding {
        rule: "pickup.uncovers".to_owned(),
        title: "The inlet stays under oil at every attitude".to_owned(),
        force: Force::Shall,
        object: None,
        verdict,
        measure: "pickup.coverage".to_owned(),
        dimension: LENGTH,
        reading: Some(exactly(value, u)),
        limits: vec![LimitReading {
            side: LimitSide::AtLeast,
            text: "10 mm".to_owned(),
            span: world.span(3, "10 mm"),
            value: Some(exactly(0.010, 0.0)),
            margin: Some(exactly(value - 0.010, u)),
            guard: Some(1.645 * u),
        }],
        decision: Decision::Guarded,
        subject: world.span(0, "44 ± 0.5 mm"),
        driver: Some(level.clone()),
        contributions: vec![level, share],
        worst: Some(climb(world)),
        states: vec![
            StateValue { at: climb(world), bounds: Ok(Bounds::exactly(value)) },
            StateValue {
                at: Worst { state: "shelf-road".to_owned(), ..climb(world) },
                bounds: Err(Unknown::because("the surface meets the case's roof")),
            },
        ],
        reason: String::new(),
        needs: Vec::new(),
        notes: vec!["The level is that of oil at rest.".to_owned()],
        because: "An inlet that uncovers draws air, and the pump's pressure falls.".to_owned(),
        source: "common practice".to_owned(),
        remedy: Some("Lower the inlet, or raise the fill with the maker's leave.".to_owned()),
        computed: None,
        caution: None,
        rule_span: world.span(3, "pickup.uncovers"),
        acceptance: None,
        remarks: Vec::new(),
    }
}

fn fin(world: &World) -> Finding {
    let yield_strength = Contribution {
        path: "material.yield".to_owned(),
        span: world.span(0, "165 MPa assumed"),
        effect: 8.0e6,
        of_last_digit: false,
        assumed: true,
        how_to_get: "From the founder's certificate.",
    };
    let limit = exactly(110.0e6, 8.0e6);
    Finding {
        rule: "fin.breaks-at-the-strike".to_owned(),
        title: "A fin's root bears the stated strike".to_owned(),
        object: Some("fins.keel".to_owned()),
        measure: "fin.root_stress".to_owned(),
        dimension: STRESS,
        reading: Some(exactly(495.0e6, 0.0)),
        limits: vec![LimitReading {
            side: LimitSide::AtMost,
            text: "material.yield / 1.5".to_owned(),
            span: world.span(3, "material.yield / 1.5"),
            value: Some(limit),
            margin: Some(exactly(-385.0e6, 8.0e6)),
            guard: Some(13.2e6),
        }],
        subject: world.span(0, "2.5 mm"),
        driver: Some(yield_strength.clone()),
        contributions: vec![yield_strength],
        worst: None,
        states: Vec::new(),
        notes: Vec::new(),
        because: "A fin that breaks takes a piece of the wall with it.".to_owned(),
        remedy: Some("Make the root thicker, or the fin shorter.".to_owned()),
        caution: Some("Oil on the ground is slippery and toxic to water: catch it.".to_owned()),
        rule_span: world.span(3, "fin.breaks-at-the-strike"),
        acceptance: None,
        remarks: Vec::new(),
        ..coverage(world, Verdict::DoesNotConform, 0.0, 0.0)
    }
}

fn unknown_drain(world: &World) -> Finding {
    let need = |path: &str, what: &str, how: &str| Need {
        path: path.to_owned(),
        span: world.span(0, what),
        how_to_get: how.to_owned(),
    };
    Finding {
        rule: "drain.leaves-too-much".to_owned(),
        title: "Little oil stays behind when the pan is drained".to_owned(),
        object: Some("drains.plug".to_owned()),
        verdict: Verdict::Inconclusive,
        measure: "drain.left_share".to_owned(),
        dimension: RATIO,
        reading: None,
        limits: vec![LimitReading {
            side: LimitSide::AtMost,
            text: "5 %".to_owned(),
            span: world.span(3, "5 %"),
            value: None,
            margin: None,
            guard: None,
        }],
        subject: world.span(0, "plug: "),
        driver: None,
        contributions: Vec::new(),
        worst: None,
        states: Vec::new(),
        reason: "drains.plug.thread is not stated".to_owned(),
        needs: vec![need(
            "drains.plug.thread",
            "plug: ",
            "Read it off the plug, or measure outside diameter and pitch with callipers.",
        )],
        notes: Vec::new(),
        because: "What stays behind dilutes the new oil.".to_owned(),
        remedy: None,
        rule_span: world.span(3, "drain.leaves-too-much"),
        acceptance: None,
        remarks: Vec::new(),
        ..coverage(world, Verdict::Inconclusive, 0.0, 0.0)
    }
}

fn quiet(world: &World, verdict: Verdict, rule: &str, title: &str) -> Finding {
    Finding {
        rule: rule.to_owned(),
        title: title.to_owned(),
        measure: "pickup.floor_gap".to_owned(),
        reading: Some(exactly(0.0100, 0.0003)),
        limits: vec![LimitReading {
            side: LimitSide::AtLeast,
            text: "8 mm".to_owned(),
            span: world.span(3, "8 mm"),
            value: Some(exactly(0.008, 0.0)),
            margin: Some(exactly(0.002, 0.0003)),
            guard: Some(0.0005),
        }],
        worst: None,
        states: Vec::new(),
        notes: Vec::new(),
        rule_span: world.span(3, "pickup.too-close-to-floor"),
        acceptance: None,
        remarks: Vec::new(),
        ..coverage(world, verdict, 10.0, 0.3)
    }
}

/// A bound that shows a breach, without a single value.
pub(crate) fn bounded(world: &World) -> Finding {
    let at_most = |value: f64| Reading { bounds: Bounds::at_most(value), u_low: 0.0, u_high: 1e-3 };
    let mut finding = coverage(world, Verdict::DoesNotConform, 0.0, 0.0);
    finding.reading = Some(at_most(0.003));
    if let Some(limit) = finding.limits.first_mut() {
        limit.margin = Some(at_most(-0.007));
        limit.guard = Some(0.0016);
    }
    finding
}

fn length_unit() -> Unit {
    Unit::of(LENGTH)
}

fn inputs(world: &World) -> Vec<InputUsed> {
    let input = |path: &str, what: &str, value: f64, u: f64| InputUsed {
        path: path.to_owned(),
        span: world.span(0, what),
        value,
        u,
        unit: length_unit(),
        assumed: false,
        how_to_get: "With a tape.",
    };
    let pressure = Unit::for_value(STRESS, 165e6);
    vec![
        input("fins.keel.height", "22 mm", 0.022, 0.0),
        input("fins.keel.pitch", "18 mm", 0.018, 0.0),
        input("fins.keel.root", "2.5 mm", 0.0025, 0.0),
        input("fins.keel.tip", "2 mm }", 0.002, 0.0),
        InputUsed {
            path: "material.yield".to_owned(),
            span: world.span(0, "165 MPa assumed"),
            value: 165e6,
            u: 12e6,
            unit: pressure,
            assumed: true,
            how_to_get: "From the founder's certificate.",
        },
        input("pickup.inlet.at.depth", "44 ± 0.5 mm", 0.044, 0.000_29),
        input("pickup.inlet.at.x", "25 mm", 0.025, -0.0),
        input("pickup.inlet.circle", "32 mm", 0.032, 0.0),
    ]
}

/// A deviation permit that covers the inlet's uncovering.
pub(crate) fn acceptance(world: &World) -> Acceptance {
    Acceptance {
        name: "first-batch".to_owned(),
        kind: ConcessionKind::DeviationPermit,
        span: world.span(0, "pickup"),
        reason: "The first batch is for level ground only".to_owned(),
        by: "M. Quill".to_owned(),
        function: "design authority".to_owned(),
        from: Date::parse("2026-11-02").expect("a day"),
        expires: Date::parse("2027-01-31").expect("a day"),
        bound: "-15 mm".to_owned(),
        quantity: Some(40),
        serials: vec!["0001 to 0040".to_owned()],
        purpose: Some("trials on level ground".to_owned()),
        without: Verdict::DoesNotConform,
        refused: None,
    }
}

/// What a reviewer said of it.
fn remark(world: &World) -> Remark {
    Remark {
        text: "Seen on the drawing".to_owned(),
        judgement: Some("agreed".to_owned()),
        by: "R. Tarn".to_owned(),
        on: Date::parse("2026-11-20"),
        span: world.span(0, "fixed_to"),
        changed: Some("the value was -9.0 mm".to_owned()),
    }
}

/// Something against a concession.
fn conceding(world: &World) -> Conceding {
    let found = ConcessionFinding {
        fault: ConcessionFault::Exceeded,
        name: "fins-of-the-old-pattern".to_owned(),
        pan: "fixtures/pans/low-finned.yaml".to_owned(),
        rule: "fin.breaks-at-the-strike".to_owned(),
        object: Some("fins.keel".to_owned()),
        message: "the value is worse than its bound of 300 MPa".to_owned(),
        span: world.span(0, "fins"),
        other: Some((world.span(0, "2.5 mm"), "the value comes of this".to_owned())),
        help: "mend it".to_owned(),
    };
    let on = Date::parse("2026-11-25");
    Conceding { on, read: 2, elsewhere: 0, findings: vec![found] }
}

/// One pan with a finding of every verdict.
pub(crate) fn every_verdict() -> Review {
    let world = World::new();
    let findings = vec![
        unknown_drain(&world),
        fin(&world),
        quiet(&world, Verdict::NotApplicable, "pickup.away-from-baseline", "Like the baseline"),
        Finding {
            reason: "the mesh has more triangles than the limit of work allows".to_owned(),
            reading: None,
            limits: Vec::new(),
            driver: None,
            ..quiet(&world, Verdict::NotJudged, "pickup.curtain-too-small", "Oil can enter freely")
        },
        quiet(&world, Verdict::Conforms, "pickup.too-close-to-floor", "The inlet clears the floor"),
        coverage(&world, Verdict::DoesNotConform, -8.5, 2.6e-3),
        Finding {
            rule: "pickup.uncovers-by-leave".to_owned(),
            verdict: Verdict::Conceded,
            acceptance: Some(acceptance(&world)),
            remarks: vec![remark(&world)],
            ..coverage(&world, Verdict::DoesNotConform, -8.5, 2.6e-3)
        },
        Finding {
            rule: "pickup.uncovers-soon".to_owned(),
            force: Force::Should,
            ..coverage(&world, Verdict::Advisory, 7.3, 1.1e-3)
        },
        Finding {
            rule: "pickup.uncovers-with-doubt".to_owned(),
            needs: vec![Need {
                path: "vehicle.case.free_share".to_owned(),
                span: world.span(1, "0.50 ± 0.4"),
                how_to_get: "By jug: litres between two known heights over outline times height."
                    .to_owned(),
            }],
            reason: "the uncertainty straddles the limit".to_owned(),
            ..coverage(&world, Verdict::Inconclusive, 12.0, 3.1e-3)
        },
    ];
    let pans = vec![PanReview {
        path: "fixtures/pans/low-finned.yaml".to_owned(),
        title: Some("Low finned pan".to_owned()),
        baselines: vec!["fixtures/pans/stock-stamped.yaml".to_owned()],
        findings,
        inputs: inputs(&world),
        notes: vec!["The drain was moved 0.4 mm to the rear wall of the shelf.".to_owned()],
        figures: Vec::new(),
        coverage: None,
    }];
    let conceding = conceding(&world);
    Review {
        sources: world.sources,
        pans,
        problems: Vec::new(),
        rules: 8,
        book: BookUsed::default(),
        checklists: Vec::new(),
        conceding,
        screening: None,
    }
}

/// One pan that conforms throughout.
pub(crate) fn conforming() -> Review {
    let world = World::new();
    let finding =
        quiet(&world, Verdict::Conforms, "pickup.too-close-to-floor", "The inlet clears the floor");
    let pans = vec![PanReview {
        path: "fixtures/pans/low-finned.yaml".to_owned(),
        title: Some("Low finned pan".to_owned()),
        baselines: Vec::new(),
        findings: vec![finding],
        inputs: inputs(&world).into_iter().filter(|input| !input.assumed).collect(),
        notes: Vec::new(),
        figures: Vec::new(),
        coverage: None,
    }];
    Review {
        sources: world.sources,
        pans,
        problems: Vec::new(),
        rules: 1,
        book: BookUsed::default(),
        checklists: Vec::new(),
        conceding: Conceding::default(),
        screening: None,
    }
}

/// A customer's list, with each way to answer a clause, against a pan that conforms throughout.
pub(crate) fn against_a_list() -> Review {
    let mut review = conforming();
    let text =
        "checklist: 1\nclauses: [floor, fins, inlet, paint, marking, colour, badge, level]\n";
    let file = review.sources.add("lists/<workshop>.yaml", text.to_owned());
    let rules =
        |rule: &str, verdict| vec![RuleAnswer { rule: rule.to_owned(), object: None, verdict }];
    let clause = |name: &str, says: &str, answer: Answer| {
        let start = u32::try_from(text.find(name).expect("it stands there")).expect("small");
        let span = Span { file, start, end: start + u32::try_from(name.len()).expect("small") };
        ClauseHeld {
            name: name.to_owned(),
            number: Some(format!("{start}.1")),
            says: says.to_owned(),
            binding: !["colour", "badge"].contains(&name),
            span,
            answer,
            rules: match answer {
                Answer::Rules(verdict) => rules("pickup.too-close-to-floor", verdict),
                _ => Vec::new(),
            },
            evidence: (answer == Answer::Evidence).then(|| EvidenceHeld {
                path: "lists/salt-fog.txt".to_owned(),
                sha256: "5c1b".repeat(16),
                shows: "A painted pan stood 240 h of salt fog.".to_owned(),
            }),
            statement: (answer == Answer::Statement).then(|| StatementHeld {
                words: "Every pan is stamped.".to_owned(),
                by: "R. Tarn".to_owned(),
                function: "production".to_owned(),
                on: "2026-11-02".to_owned(),
            }),
        }
    };
    let clauses = vec![
        clause("floor", "The inlet clears the floor.", Answer::Rules(Verdict::Conforms)),
        clause("fins", "Fins bear a strike.", Answer::Rules(Verdict::Conceded)),
        clause("inlet", "The inlet stays <covered>.", Answer::Rules(Verdict::DoesNotConform)),
        clause("paint", "The outside is protected against salt.", Answer::Evidence),
        clause("marking", "Every pan is marked.", Answer::Statement),
        clause("colour", "The paint is grey.", Answer::Unanswered),
        clause("badge", "It has a badge.", Answer::Rules(Verdict::NotApplicable)),
        clause("level", "The level can be read.", Answer::Rules(Verdict::Inconclusive)),
    ];
    let path = review.pans[0].path.clone();
    review.checklists = vec![ChecklistHeld {
        path: "lists/<workshop>.yaml".to_owned(),
        title: "Requirements, issue C".to_owned(),
        customer: "The expedition workshop".to_owned(),
        pans: vec![PanHeld { path, clauses }],
    }];
    review
}

/// Documents with an error and a warning, and no pan to judge.
pub(crate) fn broken() -> Review {
    let world = World::new();
    let problems = vec![
        Diagnostic::error(
            Code::UnknownKey,
            world.span(0, "fixed_to"),
            "`fixed_to` is no key of a pickup",
        )
        .labelled("not known here")
        .also(world.span(0, "facing: down"), "the last key that is")
        .help("did you mean `fastened_to`?"),
        Diagnostic::warning(
            Code::OutOfRange,
            world.span(1, "80 ± 5 mm"),
            "a case of 80 mm is higher than most",
        )
        .also(world.span(0, "../vehicles/brindle.yaml"), "read from here"),
    ];
    Review {
        sources: world.sources,
        pans: Vec::new(),
        problems,
        rules: 8,
        book: BookUsed::default(),
        checklists: Vec::new(),
        conceding: Conceding::default(),
        screening: None,
    }
}

static COVERAGE: Spec = Spec {
    name: "pickup.coverage",
    kind: ObjectKind::Pan,
    dimension: LENGTH,
    over_duty: true,
    meaning: "Least depth of the inlet's rim under the oil, over the duty.",
    formula: "min over states and rim points of (level − rim)",
    source: "geometry",
    range: "oil at rest",
    checked_against: "a box",
    checked_by: "made::by_hand",
    read: |_, _| Err(Unknown::because("made by hand")),
};

static LEFT: Spec = Spec {
    name: "drain.left_share",
    kind: ObjectKind::Drain,
    dimension: RATIO,
    over_duty: false,
    meaning: "Share of the oil that stays behind.",
    formula: "V_left / V",
    source: "geometry",
    range: "parked as the duty says",
    checked_against: "a box",
    checked_by: "made::by_hand",
    read: |_, _| Err(Unknown::because("made by hand")),
};

/// Two readings, one of them unknown.
pub(crate) fn readings() -> Measured {
    let world = World::new();
    let finding = coverage(&world, Verdict::Conforms, 23.0, 2.6e-3);
    let measures = vec![
        MeasureReading {
            spec: &LEFT,
            object: Some("drains.plug".to_owned()),
            reading: Err(Unknown::because("drains.plug.thread is not stated")),
            subject: None,
            contributions: Vec::new(),
            worst: None,
            states: Vec::new(),
            notes: Vec::new(),
        },
        MeasureReading {
            spec: &COVERAGE,
            object: None,
            reading: Ok(exactly(0.023, 2.6e-3)),
            subject: Some(finding.subject),
            contributions: finding.contributions,
            worst: finding.worst,
            states: finding.states,
            notes: finding.notes,
        },
    ];
    let pans = vec![PanMeasured {
        path: "fixtures/pans/low-finned.yaml".to_owned(),
        title: Some("Low finned pan".to_owned()),
        measures,
        inputs: inputs(&world),
        notes: Vec::new(),
        coverage: None,
        figures: Vec::new(),
    }];
    Measured { sources: world.sources, pans, problems: Vec::new() }
}
