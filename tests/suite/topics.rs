//! The engineering catalogue, topic by topic: the measures that read it, and the rules that hold it to a limit.

use crate::support::{read, root, rulebook};
use sumpwright_core::measure::MEASURES;

/// What is told or judged of a topic.
enum Held<'a> {
    /// By these rules.
    By(&'a [&'a str]),
    /// By none, and why.
    Told(&'a str),
    /// In no measure, but in this test of what every finding says.
    Tested(&'a str),
}

use Held::{By, Tested, Told};

const NO_LIMIT: Held<'_> = Told("it has no limit of its own");

/// Topics, their measures, and what holds them.
const TOPICS: &[(&str, &[&str], Held<'_>)] = &[
    ("level below the rail", &["oil.level_above_rail"], NO_LIMIT),
    ("inlet coverage, worst rim point", &["pickup.rim_depth"], By(&["pickup.uncovered"])),
    ("vortex depth margin", &["pickup.vortex_margin"], By(&["pickup.draws-a-whirl"])),
    (
        "usable litres, and per litre of fill",
        &["oil.usable_litres", "oil.usable_share"],
        By(&["oil.usable-lost", "oil.less-usable-than-baseline"]),
    ),
    ("attitude margin", &["pickup.tilt_margin"], By(&["pickup.uncovers-soon-after"])),
    ("fill margin", &["oil.fill_margin"], By(&["oil.little-to-lose"])),
    (
        "oil the inlet cannot reach",
        &["oil.stranded", "oil.stranded_share"],
        By(&["oil.stranded-away-from-inlet"]),
    ),
    ("dry floor share", &["oil.dry_floor_share"], NO_LIMIT),
    ("hot rise of level", &["level.hot_rise"], Told("rotating.in-the-oil holds the hot level")),
    ("level change per litre", &["level.per_litre"], NO_LIMIT),
    (
        "inlet Froude number",
        &["pickup.froude", "pickup.reynolds"],
        Told("it says where a formula holds"),
    ),
    ("inlet velocity", &["pickup.inlet_velocity"], By(&["pickup.draws-too-fast"])),
    (
        "floor gap over inlet diameter",
        &["pickup.gap_over_bore", "pickup.floor_gap"],
        By(&[
            "pickup.too-far-from-floor",
            "pickup.too-close-to-floor",
            "pickup.away-from-baseline",
        ]),
    ),
    (
        "curtain over inlet area",
        &["pickup.curtain_over_inlet", "pickup.curtain_area", "pickup.curtain_velocity"],
        By(&["pickup.curtain-throttles", "pickup.gap-too-fast"]),
    ),
    (
        "wall distance over diameter",
        &["pickup.wall_over_bore", "pickup.wall_distance"],
        By(&["pickup.too-near-a-wall"]),
    ),
    (
        "suction pressure, hot and cold, at altitude",
        &["suction.pressure", "suction.cold_pressure"],
        By(&["suction.below-limit"]),
    ),
    (
        "largest cold flow",
        &["suction.cold_flow"],
        By(&["suction.cold-start-starves", "suction.tighter-than-baseline"]),
    ),
    (
        "first frequency along and across",
        &["motion.frequency_along", "motion.frequency_across"],
        By(&["motion.rings-along", "motion.rings-across"]),
    ),
    (
        "static surge rise and first peak",
        &["motion.static_rise", "motion.first_peak"],
        Told("no description says how high the vent stands"),
    ),
    (
        "steady acceleration that bares the floor",
        &["motion.floor_bares_at"],
        Told("what counts is the inlet, and pickup.uncovered looks at it in every state"),
    ),
    ("sloshing mass share", &["motion.sloshing_share"], NO_LIMIT),
    ("damping ratio", &["motion.damping"], NO_LIMIT),
    (
        "opening share of each baffle",
        &["baffle.opening_share", "baffle.opening_area", "baffle.area"],
        By(&["baffle.share-outside-band"]),
    ),
    (
        "opening area over inlet area",
        &["baffle.opening_over_inlet", "baffle.opening_area"],
        By(&["baffle.opening-outside-band", "baffle.starves-the-inlet"]),
    ),
    (
        "opening velocity and head",
        &["baffle.opening_velocity", "baffle.opening_head"],
        By(&["baffle.jets-at-the-inlet", "baffle.eats-the-cover"]),
    ),
    (
        "hold time",
        &["motion.hold_time"],
        Told("it is a bound on the safe side, which can never show that a limit is missed"),
    ),
    ("refill surplus", &["motion.refill_surplus"], By(&["motion.refills-too-slowly"])),
    (
        "baffle height over the worst level",
        &["baffle.freeboard"],
        Told(
            "a baffle under the surface still holds what is below its edge: its hold time says so",
        ),
    ),
    (
        "residual oil per basin",
        &["drain.residual", "drain.residual_share"],
        By(&["drain.leaves-too-much"]),
    ),
    ("time to empty", &["drain.emptying_time"], By(&["drain.slow-to-empty"])),
    (
        "engagement over diameter",
        &["drain.engaged", "drain.thread_diameter", "drain.full_engagement"],
        By(&["drain.thread-too-short"]),
    ),
    ("strip force over preload", &["drain.strip_force", "drain.preload"], By(&["drain.strips"])),
    (
        "boss diameter over thread",
        &["drain.boss", "drain.thread_diameter"],
        By(&["drain.boss-too-thin", "drain.taper-splits-the-boss"]),
    ),
    (
        "seal seat stress",
        &["drain.seat_stress", "drain.ring_yield"],
        By(&["drain.ring-not-seated", "drain.seat-dents"]),
    ),
    (
        "fin and array efficiency",
        &["fin.efficiency", "heat.surface_efficiency"],
        By(&["fin.does-not-conduct"]),
    ),
    (
        "heat shed with and without fins",
        &[
            "heat.shed_least",
            "heat.shed_most",
            "heat.shed_still",
            "heat.shed_bare",
            "heat.fins_gain",
        ],
        By(&["heat.less-than-baseline"]),
    ),
    ("oil temperature drop", &["heat.oil_drop"], NO_LIMIT),
    ("share of resistance on the oil side", &["heat.oil_side_share"], NO_LIMIT),
    (
        "fin spacing over best spacing",
        &["fin.spacing", "fin.best_spacing"],
        By(&["fin.too-close-for-air", "fin.packs-with-mud"]),
    ),
    ("fin root stress", &["fin.root_stress"], By(&["fin.breaks-at-the-strike"])),
    ("fin root to wall strength", &["fin.root_to_wall"], By(&["fin.tears-the-floor"])),
    ("thermal time constant", &["heat.time_constant"], NO_LIMIT),
    (
        "breakover angle",
        &["ground.breakover_angle", "ground.breakover_over_tyres"],
        By(&["ground.breakover-lost"]),
    ),
    ("ground clearance", &["ground.clearance"], By(&["ground.lower-than-baseline"])),
    (
        "skid gap at rest and under load",
        &["skid.gap_at_rest", "skid.gap"],
        By(&["skid.tight-at-rest", "skid.struck", "skid.gap-lost"]),
    ),
    (
        "skid deflection",
        &["skid.deflection"],
        Told(
            "thin plates only: what goes farther is stiffer, and the gap is bounded by the softest",
        ),
    ),
    (
        "neighbour gap with movement and growth",
        &["neighbour.gap"],
        By(&[
            "neighbour.rigid-too-near",
            "neighbour.rotating-too-near",
            "neighbour.exhaust-too-near",
        ]),
    ),
    (
        "bolt pitch in rail lengths",
        &["flange.pitch_in_rail_lengths", "flange.bolt_pitch"],
        By(&["flange.bolts-too-far-apart"]),
    ),
    (
        "gasket stress midway and at a bolt",
        &["gasket.stress_midway", "gasket.stress_at_bolt"],
        By(&["gasket.leaks-between-bolts", "gasket.crushed"]),
    ),
    (
        "flange thread strip over preload",
        &["joint.strip_force", "joint.preload"],
        By(&["joint.strips-the-case"]),
    ),
    (
        "wall thickness over process minimum",
        &["wall.floor_thickness", "wall.side_thickness", "wall.process_minimum"],
        By(&["wall.floor-too-thin", "wall.side-too-thin"]),
    ),
    (
        "pan growth against the case",
        &["joint.growth", "joint.hole_room"],
        By(&["joint.outgrows-its-holes"]),
    ),
    (
        "viscosity at a temperature",
        &["oil.hot_viscosity", "oil.cold_viscosity", "oil.viscosity_at_100"],
        By(&["oil.viscosity-unusual"]),
    ),
    (
        "probability of conformity",
        &[],
        Tested("formulas::the_decision_rule_of_a_rule_wins_over_that_of_the_book"),
    ),
    (
        "share of variance by input",
        &[],
        Tested("demo::the_uncertainty_of_the_skid_gap_is_the_root_of_the_sum_of_squares"),
    ),
    ("dwell time", &["oil.turnover_time"], By(&["air.turns-over-sooner"])),
    ("smallest bubble that escapes", &["air.smallest_bubble"], NO_LIMIT),
    (
        "oil surface to rotating parts",
        &["rotating.gap", "rotating.gap_standing"],
        By(&["rotating.in-the-oil", "rotating.standing-in-the-oil"]),
    ),
    ("apparent tilt of each state", &["duty.apparent_tilt"], NO_LIMIT),
];

/// The lines of a rule in the shipped rulebook, from its id to the next.
fn rule(id: &str) -> Option<String> {
    let head = format!("\n  {id}:\n");
    let (_, text) = rulebook().into_iter().find(|(_, text)| text.contains(&head))?;
    let rule = text.split(&head).nth(1)?;
    let lines = rule.lines().take_while(|line| line.starts_with("    "));
    Some(lines.collect::<Vec<_>>().join("\n"))
}

#[test]
fn every_topic_of_the_catalogue_has_its_measures_and_its_rules() {
    for (topic, measures, held) in TOPICS {
        for name in *measures {
            assert!(MEASURES.iter().any(|spec| spec.name == *name), "{topic}: no measure {name}");
        }
        match held {
            By(rules) => {
                assert!(!rules.is_empty() && !measures.is_empty(), "{topic}");
                for id in *rules {
                    let rule = rule(id).unwrap_or_else(|| panic!("{topic}: no rule {id}"));
                    let limits = rule.split("    cases:").next().unwrap();
                    let uses = |name: &&str| limits.contains(*name);
                    assert!(measures.iter().any(uses), "{topic}: {id} measures else");
                }
            }
            Told(why) => assert!(!measures.is_empty() && why.len() > 20, "{topic}"),
            Tested(test) => {
                let (suite, name) = test.split_once("::").unwrap();
                let text = read(&root().join(format!("tests/suite/{suite}.rs")));
                assert!(text.contains(&format!("#[test]\nfn {name}()")), "{topic}: {test}");
            }
        }
    }
    // As many as the catalogue has rows.
    assert_eq!(TOPICS.len(), 59);
}
