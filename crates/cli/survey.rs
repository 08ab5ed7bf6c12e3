//! The verb `survey`: a mesh or soundings in, a description to complete out.

use crate::args::SurveyArguments;
use crate::disk::Disk;
use crate::exit::Exit;
use crate::{complain, output};
use std::path::{Component, Path};
use sumpwright_core::survey::{SurveyRequest, survey as surveyed};
use sumpwright_report::Options;

/// Does it.
pub(crate) fn survey(asked: &SurveyArguments) -> Exit {
    let measured = asked.file.replace(std::path::MAIN_SEPARATOR, "/");
    if let Some(output) = asked.output.as_deref().filter(|output| output.symlink_metadata().is_ok())
    {
        complain(&output::exists_already(output));
        return Exit::Fault;
    }
    let description = match &asked.output {
        Some(output) => output.to_string_lossy().replace(std::path::MAIN_SEPARATOR, "/"),
        None => beside(&measured),
    };
    let Some(file) = reference(&description, &measured) else {
        complain(&format!(
            "{measured} cannot be named from the folder of {description}; give both paths from one folder"
        ));
        return Exit::Fault;
    };
    let (shape, keys) = match keys(asked, &file) {
        Ok(keys) => keys,
        Err(complaint) => {
            complain(&complaint);
            return Exit::Fault;
        }
    };
    let request = SurveyRequest { files: &Disk, description: &description, shape, keys: &keys };
    let found = surveyed(request);
    let Some(text) = found.text else {
        let options = Options { width: 100, colour: false, plain: false, all: false };
        let page = sumpwright_report::problems(&found.sources, &found.problems, &options);
        let written = output::write(&page, None);
        complain(&no_description(shape, &description, &page));
        return said(written).max(Exit::Fault);
    };
    // The description is what goes to standard output.
    for odd in &found.problems {
        let help = odd.help.as_ref().map_or_else(String::new, |help| format!("; {help}"));
        complain(&format!("{}{help}", odd.message));
    }
    said(match &asked.output {
        Some(path) => output::write_only_new(&text, path),
        None => output::write(&text, None),
    })
}

/// Why there is none and, where the lines of the description were shown, which stand in no file, where to put it right.
fn no_description(shape: &str, description: &str, shown: &str) -> String {
    if !shown.contains(description) {
        return "no description was written".to_owned();
    }
    let options = match shape {
        "mesh" => {
            "`unit`, `of`, `forward`, `up`, `normals` and `weld` are the options --unit, --of, --forward, --up, --normals and --weld"
        }
        _ => "`rail` and `draft` are the options --rail and --draft",
    };
    format!(
        "no description was written: {description} above is only what it would have begun with; its {options} here"
    )
}

type Keys = Vec<(&'static str, String)>;

/// The key of the interior and what stands under it.
fn keys(asked: &SurveyArguments, file: &str) -> Result<(&'static str, Keys), String> {
    let mut keys = vec![("file", quoted(file))];
    let mut may = |key: &'static str, value: Option<String>| keys.extend(value.map(|v| (key, v)));
    if file.to_ascii_lowercase().ends_with(".csv") {
        let Some(rail) = asked.rail.clone() else {
            return Err("soundings need the rail: add --rail '{ rectangle: [412 mm, 268 mm], corner: 25 mm }'".to_owned());
        };
        may("rail", Some(rail));
        may("draft", asked.draft.clone());
        return Ok(("soundings", keys));
    }
    let Some(of) = &asked.of else {
        return Err("say what the mesh is of: add --of oil-space or --of part".to_owned());
    };
    may("unit", asked.unit.clone().map(|unit| if unit == "um" { "µm".to_owned() } else { unit }));
    may("of", Some(of.replace('-', " ")));
    may("forward", asked.forward.clone());
    may("up", asked.up.clone());
    may("normals", asked.normals.clone());
    may("weld", asked.weld.clone());
    Ok(("mesh", keys))
}

fn said(written: Result<(), String>) -> Exit {
    match written {
        Ok(()) => Exit::NothingAgainst,
        Err(complaint) => {
            complain(&complaint);
            Exit::Fault
        }
    }
}

/// A description in the folder of the mesh.
fn beside(mesh: &str) -> String {
    match mesh.rsplit_once('/') {
        Some((folder, _)) => format!("{folder}/surveyed.yaml"),
        None => "surveyed.yaml".to_owned(),
    }
}

/// A value in quotes, whatever stands in it.
fn quoted(value: &str) -> String {
    let plain = value.chars().all(|c| c.is_ascii_alphanumeric() || "./_- ".contains(c));
    if plain && value.starts_with(|c: char| c.is_ascii_alphanumeric() || c == '.') {
        value.to_owned()
    } else {
        format!("\"{}\"", value.replace('\\', "\\\\").replace('"', "\\\""))
    }
}

/// The path of a file from the folder of another; none where one is absolute and the other is not.
fn reference(from: &str, to: &str) -> Option<String> {
    let (from, to) = (Path::new(from), Path::new(to));
    if from.is_absolute() != to.is_absolute() {
        return None;
    }
    let parts = |path: &Path| -> Option<Vec<String>> {
        let mut parts = Vec::new();
        for part in path.components() {
            match part {
                Component::CurDir => {}
                Component::ParentDir if parts.last().is_some_and(|last| last != "..") => {
                    parts.pop();
                }
                other => parts.push(other.as_os_str().to_str()?.to_owned()),
            }
        }
        Some(parts)
    };
    let folder = parts(from.parent()?)?;
    let target = parts(to)?;
    let same = folder.iter().zip(&target).take_while(|(one, other)| one == other).count();
    if folder.iter().skip(same).any(|part| part == "..") {
        return None;
    }
    let mut way = vec![".."; folder.len() - same];
    way.extend(target.iter().skip(same).map(String::as_str));
    Some(way.join("/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mesh_is_named_from_the_folder_of_the_description() {
        for (from, to, way) in [
            ("surveyed.yaml", "a.stl", Some("a.stl")),
            ("pans/a.yaml", "pans/a.stl", Some("a.stl")),
            ("pans/a.yaml", "meshes/a.stl", Some("../meshes/a.stl")),
            ("./pans/a.yaml", "pans/../b.stl", Some("../b.stl")),
            ("/x/y/a.yaml", "/x/b.stl", Some("../b.stl")),
            ("/x/y/a.yaml", "b.stl", None),
            ("../a.yaml", "b.stl", None),
        ] {
            assert_eq!(reference(from, to).as_deref(), way, "{from} {to}");
        }
    }

    #[test]
    fn a_name_that_yaml_would_read_otherwise_is_quoted() {
        assert_eq!(quoted("a b.stl"), "a b.stl");
        assert_eq!(quoted("#1.stl"), "\"#1.stl\"");
        assert_eq!(quoted("a\"b"), "\"a\\\"b\"");
    }
}
