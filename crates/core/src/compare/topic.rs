//! The topics under which measures are told, by the first word of their names.

/// Topics with the families of measures under them, in the order in which a reader wants them.
const TOPICS: &[(&str, &[&str])] = &[
    ("The inlet and what the pump draws", &["pickup", "suction"]),
    ("The oil", &["oil", "level", "air"]),
    ("Clearance", &["skid", "ground", "neighbour", "rotating", "pan"]),
    ("The drain", &["drain"]),
    ("Baffles and oil in motion", &["baffle", "motion"]),
    ("Fins and heat", &["fin", "heat"]),
    ("Flange, bolts and gasket", &["flange", "gasket", "joint"]),
    ("Wall and shape", &["wall", "material", "interior"]),
    ("What it is driven through", &["duty"]),
];

/// Where what is in no topic is told.
const REST: &str = "Other";

/// The names of the topics, in order.
pub(super) fn topics() -> impl Iterator<Item = &'static str> {
    TOPICS.iter().map(|(name, _)| *name).chain([REST])
}

/// The topic of a measure.
pub(super) fn topic(measure: &str) -> &'static str {
    let family = measure.split_once('.').map_or(measure, |(family, _)| family);
    let found = TOPICS.iter().find(|(_, families)| families.contains(&family));
    found.map_or(REST, |(name, _)| *name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::MEASURES;

    #[test]
    fn every_measure_has_a_topic_and_every_family_a_measure() {
        for spec in MEASURES {
            assert_ne!(topic(spec.name), REST, "{}", spec.name);
        }
        for family in TOPICS.iter().flat_map(|(_, families)| *families) {
            let has = MEASURES.iter().any(|spec| spec.name.split_once('.').unwrap().0 == *family);
            assert!(has, "{family}");
        }
    }
}
