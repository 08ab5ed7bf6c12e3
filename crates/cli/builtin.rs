//! The rulebook that travels with the program.

macro_rules! embedded {
    ($($name:literal)*) => {
        &[$((concat!("built-in/rules/", $name), include_str!(concat!("../../rules/", $name)))),*]
    };
}

/// Path as shown and text of each file of the rulebook, by name: the one list of them.
const RULES: &[(&str, &str)] = embedded! {
    "baffle.yaml"
    "clearance.yaml"
    "drain.yaml"
    "fin.yaml"
    "ground.yaml"
    "oil.yaml"
    "pickup.yaml"
    "rotating.yaml"
    "wall.yaml"
};

/// The embedded rulebook.
pub(crate) fn rulebook() -> Vec<(String, String)> {
    RULES.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_list_holds_every_rule_file_of_the_folder() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/rules");
        let names = std::fs::read_dir(folder).unwrap();
        let names = names.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned());
        let mut names: Vec<_> = names.filter(|name| name != "CHANGES.md").collect();
        names.sort();
        let listed: Vec<_> =
            RULES.iter().map(|(path, _)| path.trim_start_matches("built-in/rules/")).collect();
        assert_eq!(listed, names);
    }
}
