//! How the page is laid out, decided once from options, environment and terminal.

use crate::args::{Colour, PageArguments};
use std::env;
use std::io::IsTerminal;
use sumpwright_report::Options;

/// Columns where no terminal says otherwise.
const USUAL_WIDTH: usize = 100;

/// Lines longer than this are hard to read, however wide the terminal.
const WIDEST: usize = 120;

/// What decides the layout beside the options: read from the system once, so that it can be tested.
#[expect(clippy::struct_excessive_bools, reason = "each is a fact of its own")]
#[derive(Debug, Clone, Default)]
struct Surroundings {
    is_terminal: bool,
    columns: Option<usize>,
    no_color: bool,
    dumb: bool,
    utf8: bool,
}

/// The layout for this run.
pub(crate) fn options(asked: &PageArguments) -> Options {
    decide(asked, &surroundings(asked.output.is_none()))
}

fn decide(asked: &PageArguments, around: &Surroundings) -> Options {
    let colour = match asked.color {
        Colour::Always => true,
        Colour::Never => false,
        Colour::Auto => around.is_terminal && !around.no_color && !around.dumb,
    };
    let of_terminal = || around.columns.map_or(USUAL_WIDTH, |columns| columns.min(WIDEST));
    let width = asked.width.map_or_else(of_terminal, usize::from);
    let printed = asked.output.is_none();
    let plain = asked.plain || (printed && (around.dumb || !around.utf8));
    Options { width, colour, plain, all: asked.all }
}

fn surroundings(printed: bool) -> Surroundings {
    let is_terminal = printed && std::io::stdout().is_terminal();
    let columns = is_terminal.then(terminal_size::terminal_size).flatten();
    Surroundings {
        is_terminal,
        columns: columns.map(|(width, _)| usize::from(width.0)),
        no_color: env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty()),
        dumb: env::var_os("TERM").is_some_and(|term| term == "dumb"),
        utf8: cfg!(windows) || is_utf8(["LC_ALL", "LC_CTYPE", "LANG"].map(|n| env::var(n).ok())),
    }
}

/// Whether the locale is UTF-8: the first of the variables that is set and not empty says it.
fn is_utf8(variables: [Option<String>; 3]) -> bool {
    let locale = variables.into_iter().flatten().find(|value| !value.is_empty());
    locale.is_some_and(|locale| {
        let locale = locale.to_ascii_lowercase();
        locale.contains("utf-8") || locale.contains("utf8")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked() -> PageArguments {
        PageArguments {
            format: "text".to_owned(),
            color: Colour::Auto,
            plain: false,
            width: None,
            all: false,
            output: None,
            quiet: false,
        }
    }

    fn terminal() -> Surroundings {
        Surroundings { is_terminal: true, columns: Some(80), utf8: true, ..Surroundings::default() }
    }

    #[test]
    fn a_terminal_gets_its_width_and_colour_and_a_pipe_neither() {
        let seen = decide(&asked(), &terminal());
        assert!(seen.colour && !seen.plain && seen.width == 80);
        let piped = decide(&asked(), &Surroundings { utf8: true, ..Surroundings::default() });
        assert!(!piped.colour && !piped.plain && piped.width == USUAL_WIDTH);
    }

    #[test]
    fn no_color_and_a_dumb_terminal_are_heeded_unless_colour_is_asked_for() {
        let no_color = Surroundings { no_color: true, ..terminal() };
        assert!(!decide(&asked(), &no_color).colour);
        let dumb = Surroundings { dumb: true, ..terminal() };
        assert!(!decide(&asked(), &dumb).colour && decide(&asked(), &dumb).plain);
        let always = PageArguments { color: Colour::Always, ..asked() };
        assert!(decide(&always, &no_color).colour);
    }

    #[test]
    fn the_locale_does_not_change_what_is_written_to_a_file() {
        let bare = Surroundings::default();
        assert!(decide(&asked(), &bare).plain);
        let to_file = PageArguments { output: Some("review.txt".into()), ..asked() };
        assert!(!decide(&to_file, &bare).plain);
    }

    #[test]
    fn the_first_locale_variable_that_is_set_decides() {
        let own = |text: &str| Some(text.to_owned());
        assert!(is_utf8([None, own(""), own("en_GB.UTF-8")]));
        assert!(is_utf8([own("C.utf8"), None, own("C")]));
        assert!(!is_utf8([own("C"), None, own("en_GB.UTF-8")]));
        assert!(!is_utf8([None, None, None]));
    }
}
