//! What is said of the chart: its title, its legend, and what can be seen in it for those who do not see it.

use super::states::{Look, State, states};
use super::{Chart, DEGREES};
use crate::said::unglued;
use crate::visible::visible;
use sumpwright_core::coverage::{LOOKED_TO, toward};
use sumpwright_core::quantity::{Dimension, print_amount};

/// The title of the chart.
pub(crate) fn title(chart: &Chart<'_>, pan: &str) -> String {
    format!("{pan}: how far it may lean before the inlet uncovers, oil at {}", temperature(chart))
}

/// What stands over the chart.
pub(super) fn heading(chart: &Chart<'_>) -> String {
    format!("How far it may lean, oil at {}", temperature(chart))
}

fn temperature(chart: &Chart<'_>) -> String {
    let point = Dimension { temperature: 1, point: true, ..Dimension::default() };
    unglued(&print_amount(chart.stated.oil_temperature, 0.0, point))
}

fn degrees(tilt: f64) -> String {
    format!("{:.1} deg", tilt * DEGREES)
}

fn looked_to() -> String {
    format!("{:.0} deg", LOOKED_TO * DEGREES)
}

/// What the two lines are.
pub(super) fn curves(chart: &Chart<'_>) -> [String; 2] {
    let [floor, dry] = if chart.between.is_some() {
        [
            ", oil as stated; hatched: least to most oil",
            ", oil as stated; dotted: least to most oil",
        ]
    } else {
        ["", ""]
    };
    [format!("10 mm of oil over the rim{floor}"), format!("the rim comes out{dry}")]
}

/// The least lean of all directions.
pub(super) fn least(chart: &Chart<'_>) -> Option<String> {
    let case = chart.stated;
    (case.least > 0.0 && case.least.is_finite()).then(|| {
        format!("least lean to 10 mm: {}, oil {}", degrees(case.least), toward(case.least_azimuth))
    })
}

/// A state in the legend.
pub(super) fn state(state: &State<'_>) -> String {
    const LONGEST: usize = 46;
    let name = visible(&state.mark.state).into_owned();
    let name = if name.chars().count() > LONGEST {
        format!("{}…", name.chars().take(LONGEST).collect::<String>())
    } else {
        name
    };
    format!("{} {name}: {}, {}", state.number, degrees(state.mark.tilt), left(state))
}

fn left(state: &State<'_>) -> String {
    match state.look {
        Look::Apart => "its oil is kept from the inlet".to_owned(),
        Look::Unknown => "not known what keeps oil apart".to_owned(),
        Look::Covered | Look::Uncovered => way(state),
    }
}

/// How far it is to the line.
fn way(state: &State<'_>) -> String {
    if state.left > 0.0 && state.left.is_infinite() {
        format!("covered up to {}", looked_to())
    } else if state.left > 0.0 {
        let nearest = if state.is_nearest { ", the least" } else { "" };
        format!("{} left{nearest}", degrees(state.left))
    } else {
        format!("{} too far", degrees(-state.left))
    }
}

/// How a chart is read, whatever it shows.
pub(crate) const READ_AS: &str = "The middle is level ground. The farther from it, the more apparent gravity leans, and the \
direction is where the oil then runs: a slope leans it by its angle, an acceleration of 0.58 gn on level ground by 30 deg. \
Solid: 10 mm of oil are left over the inlet's rim; dashed: the rim comes out; filled: covered with the least oil that the check \
allows. Oil at rest; the lines take all of it at one level, the signs of the states count what a ridge or a baffle holds back.";

/// What the chart shows, in sentences.
pub(crate) fn caption(chart: &Chart<'_>) -> String {
    let case = chart.stated;
    let least = if case.least <= 0.0 {
        "On level ground already the rim has less than 10 mm of oil over it.".to_owned()
    } else if case.least.is_infinite() {
        format!(
            "10 mm stay over the rim in every direction up to {}, as far as is looked.",
            looked_to()
        )
    } else {
        format!(
            "10 mm stay over the rim up to {} in every direction; it is least with the oil running {}.",
            degrees(case.least),
            toward(case.least_azimuth)
        )
    };
    let worlds = if case.rays.iter().any(|ray| ray.to_floor.value().is_none()) {
        " What is above the rail is not described; of a lid on the rail and of open room above it, what leaves less is drawn."
    } else {
        ""
    };
    format!("Coverage map, oil at {}. {least}{}{worlds}", temperature(chart), duty(&states(chart)))
}

/// Which state lies nearest, and which are not covered.
fn duty(states: &[State<'_>]) -> String {
    let name = |state: &State<'_>| unglued(&state.mark.state);
    let named = |looks: &[Look]| {
        let found = states.iter().filter(|state| looks.contains(&state.look)).map(name);
        found.collect::<Vec<_>>().join(", ")
    };
    let told = [
        ("Beyond the line", named(&[Look::Uncovered])),
        (
            "Within the line, with less than 10 mm since a ridge or a baffle keeps oil apart",
            named(&[Look::Apart]),
        ),
        ("Not known, since what keeps oil apart is not", named(&[Look::Unknown])),
    ];
    let told = told.into_iter().filter(|(_, names)| !names.is_empty());
    let told = told.map(|(words, names)| format!(" {words}: {names}."));
    let told = told.collect::<Vec<_>>().concat();
    let nearest = states.iter().find(|state| state.is_nearest);
    match (told.is_empty(), nearest) {
        (false, _) => told,
        (true, Some(state)) => format!(
            " Every state of the duty lies within the line; nearest is {} at {}, with {} left.",
            name(state),
            degrees(state.mark.tilt),
            degrees(state.left)
        ),
        (true, None) if states.is_empty() => String::new(),
        (true, None) => " No state of the duty comes near the line.".to_owned(),
    }
}
