//! Where a file that was judged with lies in the folder that is handed over.

use std::collections::BTreeMap;

/// The folder that takes what was judged with.
pub const INPUTS: &str = "inputs";

/// Paths in the folder by paths of the host: files keep their places to each other, from the nearest folder that holds
/// them all.
pub(super) fn layout<'p>(
    paths: impl Iterator<Item = &'p String> + Clone,
    absolute: &dyn Fn(&str) -> String,
) -> BTreeMap<String, String> {
    let spread = |path: &str| -> Vec<String> {
        absolute(path).split('/').filter(|part| !part.is_empty()).map(str::to_owned).collect()
    };
    let mut common: Option<Vec<String>> = None;
    for path in paths.clone() {
        let mut folders = spread(path);
        folders.pop();
        common = Some(match common {
            None => folders,
            Some(held) => {
                held.into_iter().zip(folders).take_while(|(a, b)| a == b).map(|(a, _)| a).collect()
            }
        });
    }
    let above = common.map_or(0, |held| held.len());
    paths
        .map(|path| {
            let parts = spread(path);
            let own = parts.get(above..).unwrap_or_default().join("/");
            (path.clone(), format!("{INPUTS}/{own}"))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn laid_out(paths: &[&str], working: &str) -> Vec<String> {
        let absolute = |path: &str| crate::document::dossier::tidy(&format!("{working}/{path}"));
        let paths: Vec<String> = paths.iter().map(|path| (*path).to_owned()).collect();
        let found = layout(paths.iter(), &absolute);
        paths.iter().map(|path| found[path].clone()).collect()
    }

    #[test]
    fn files_keep_their_places_wherever_the_program_is_called_from() {
        let from_top = laid_out(&["pans/a.yaml", "oils/b.yaml", "declared/d.yaml"], "/home/x");
        assert_eq!(
            from_top,
            ["inputs/pans/a.yaml", "inputs/oils/b.yaml", "inputs/declared/d.yaml"]
        );
        let from_below =
            laid_out(&["../pans/a.yaml", "../oils/b.yaml", "d.yaml"], "/home/x/declared");
        assert_eq!(from_below, from_top);
    }

    #[test]
    fn what_is_laid_out_once_stays_where_it_is() {
        let again = laid_out(&["inputs/pans/a.yaml", "inputs/oils/b.yaml"], "/");
        assert_eq!(again, ["inputs/pans/a.yaml", "inputs/oils/b.yaml"]);
        assert_eq!(laid_out(&["inputs/a.yaml"], "/"), ["inputs/a.yaml"]);
    }
}
