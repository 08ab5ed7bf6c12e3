//! What is known of the pans of a folder, beside what they came to.

use super::found::{FileFound, FileState};
use super::items::Known;
use crate::declare::{Record, Role, is_yaml};
use crate::review::Review;
use std::collections::BTreeMap;

/// What rests on what is not as declared. A table, a mesh, a log, a project may bear on any pan.
pub(super) fn known<'a>(record: &Record, files: &'a [FileFound], review: &Review) -> Known<'a> {
    let against = |file: &&FileFound| file.state.is_against();
    let role = |name: &str| record.files.iter().find(|f| f.name == name).map(|file| file.role);
    let mut altered = BTreeMap::new();
    for pan in &record.objects {
        let judged = review.pans.iter().find(|found| found.path == pan.pan);
        let rests = |file: &FileFound| match role(&file.name) {
            Some(Role::Pan | Role::Input) => match judged {
                Some(judged) if is_yaml(&file.name) => {
                    file.name == pan.pan
                        || judged.baselines.contains(&file.name)
                        || judged
                            .inputs
                            .iter()
                            .any(|i| review.sources.path(i.span.file) == file.name)
                }
                _ => true,
            },
            Some(Role::Rulebook | Role::Concessions | Role::Checklist | Role::Declaration) => true,
            _ => false,
        };
        let first = files.iter().filter(against).find(|file| rests(file));
        altered.extend(first.map(|file| {
            (pan.pan.clone(), format!("{}, which is {}", file.name, file.state.words()))
        }));
    }
    let evidence = files.iter().filter(against);
    let evidence = evidence.filter(|file| role(&file.name) == Some(Role::Evidence));
    Known {
        altered,
        altered_evidence: evidence.map(|f| (f.name.clone(), f.state.words())).collect(),
        withheld: files.iter().find_map(|file| match &file.state {
            FileState::Withheld(because) => Some(because.as_str()),
            _ => None,
        }),
        other_engine: record.engine != env!("CARGO_PKG_VERSION"),
    }
}
