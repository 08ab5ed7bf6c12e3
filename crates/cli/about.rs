//! What the program says of itself: schemas for editors, completions for shells, manual pages.

use crate::args::{Arguments, CompletionsArguments, ManArguments, SchemaArguments};
use crate::exit::Exit;
use crate::{complain, output};
use clap::{Command, CommandFactory};
use std::fmt::Write;
use std::io;
use std::path::Path;
use sumpwright_report::SCHEMAS;

const PROGRAM: &str = "sumpwright";

/// One schema, all of them into a folder, or the list.
pub(crate) fn schema(asked: &SchemaArguments) -> Exit {
    if let Some(folder) = &asked.folder {
        let all = SCHEMAS.iter().map(|schema| (format!("{}.json", schema.name), (schema.write)()));
        return told(output::write_all(folder, all));
    }
    let found = SCHEMAS.iter().find(|schema| asked.name.as_deref() == Some(schema.name));
    let text = match found {
        Some(schema) => (schema.write)(),
        None => list(),
    };
    told(output::write(&text, asked.output.as_deref()))
}

fn list() -> String {
    let width = SCHEMAS.iter().map(|schema| schema.name.len()).max().unwrap_or(0);
    let mut text = String::new();
    for schema in SCHEMAS {
        // Writing to a string does not fail.
        let _ = writeln!(text, "{:width$}  {}", schema.name, schema.of);
    }
    text
}

/// The completions of a shell.
pub(crate) fn completions(asked: &CompletionsArguments) -> Exit {
    let mut bytes = Vec::new();
    clap_complete::generate(asked.shell, &mut Arguments::command(), PROGRAM, &mut bytes);
    as_text(Ok(bytes), asked.output.as_deref())
}

/// The page of the program, of a verb, or all of them into a folder.
pub(crate) fn man(asked: &ManArguments) -> Exit {
    let program = built();
    if let Some(folder) = &asked.folder {
        return told(
            all_pages(&program).and_then(|pages| output::write_all(folder, pages.into_iter())),
        );
    }
    let command = match &asked.verb {
        None => Some(&program),
        Some(verb) => program.find_subcommand(verb),
    };
    let Some(command) = command else {
        let verbs: Vec<&str> = program.get_subcommands().map(Command::get_name).collect();
        let verb = asked.verb.as_deref().unwrap_or_default();
        complain(&format!("there is no verb {verb}; the verbs are {}", verbs.join(", ")));
        return Exit::Fault;
    };
    as_text(page(command), asked.output.as_deref())
}

/// The command line with the names of its verbs as they are called.
fn built() -> Command {
    let mut program = Arguments::command();
    program.build();
    program
}

fn all_pages(program: &Command) -> Result<Vec<(String, String)>, String> {
    let mut pages = Vec::new();
    for command in [program].into_iter().chain(program.get_subcommands()) {
        let bytes = page(command).map_err(|error| error.to_string())?;
        let name = match command.get_name() {
            PROGRAM => format!("{PROGRAM}.1"),
            verb => format!("{PROGRAM}-{verb}.1"),
        };
        pages.push((name, String::from_utf8_lossy(&bytes).into_owned()));
    }
    Ok(pages)
}

fn page(command: &Command) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let source = format!("{PROGRAM} {}", env!("CARGO_PKG_VERSION"));
    clap_mangen::Man::new(command.clone()).source(source).render(&mut bytes)?;
    Ok(bytes)
}

fn as_text(made: io::Result<Vec<u8>>, file: Option<&Path>) -> Exit {
    told(match made {
        Ok(bytes) => output::write(&String::from_utf8_lossy(&bytes), file),
        Err(error) => Err(error.to_string()),
    })
}

fn told(done: Result<(), String>) -> Exit {
    match done {
        Ok(()) => Exit::NothingAgainst,
        Err(complaint) => {
            complain(&complaint);
            Exit::Fault
        }
    }
}
