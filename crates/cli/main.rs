//! The command line: parse, call the library, print.

mod about;
mod args;
mod builtin;
mod compare;
mod confirm;
mod declare;
mod disk;
mod exit;
mod output;
mod page;
mod progress;
mod project;
mod run;
#[cfg(test)]
mod scratch;
mod screen;
mod select;
mod survey;

use clap::Parser;
use std::io::Write;
use std::process::ExitCode;

fn main() -> ExitCode {
    let done = args::Arguments::try_parse().map_or_else(|told| told_by_clap(&told), run::run);
    ExitCode::from(done.code())
}

/// Help and version go where results go, and are no fault; a wrong use is.
fn told_by_clap(told: &clap::Error) -> exit::Exit {
    let printed = told.print();
    match (told.use_stderr(), printed) {
        (false, Ok(())) => exit::Exit::NothingAgainst,
        (false, Err(error)) if error.kind() == std::io::ErrorKind::BrokenPipe => {
            exit::Exit::NothingAgainst
        }
        (false, Err(error)) => {
            complain(&format!("this cannot be printed: {error}"));
            exit::Exit::Fault
        }
        _ => exit::Exit::Fault,
    }
}

/// One line to the person at the terminal, beside the results. Where that cannot be written, nothing can.
fn complain(text: &str) {
    drop(writeln!(
        std::io::stderr().lock(),
        "sumpwright: {}",
        sumpwright_report::made_visible(text)
    ));
}
