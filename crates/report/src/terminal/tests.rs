//! Tests of this module.

use super::atlas::Mark;
use super::draw::{Weight, draw};
use super::page::Page;
use super::{measured, review};
use crate::format::Options;
use crate::samples::{self, World};
use proptest::prelude::*;
use sumpwright_core::review::{BookUsed, Conceding, PanReview, Review};
use sumpwright_core::source::{FileId, Sources, Span};
use sumpwright_core::verdict::Verdict;
use unicode_width::UnicodeWidthStr;

const WIDE: Options = Options { width: 100, colour: false, plain: false, all: false };

#[test]
fn every_verdict_as_text() {
    insta::assert_snapshot!(review(&samples::every_verdict(), &WIDE));
}

#[test]
fn every_verdict_in_sixty_columns_of_ascii() {
    let options = Options { width: 60, plain: true, ..WIDE };
    let text = review(&samples::every_verdict(), &options);
    assert!(text.is_ascii());
    insta::assert_snapshot!(text);
}

#[test]
fn every_verdict_with_all_that_is_known() {
    insta::assert_snapshot!(review(&samples::every_verdict(), &Options { all: true, ..WIDE }));
}

#[test]
fn a_pan_that_conforms_throughout_is_said_in_a_few_lines() {
    insta::assert_snapshot!(review(&samples::conforming(), &WIDE));
}

#[test]
fn documents_that_cannot_be_used() {
    insta::assert_snapshot!(review(&samples::broken(), &WIDE));
}

#[test]
fn readings_as_text() {
    insta::assert_snapshot!(measured(&samples::readings(), &WIDE));
}

#[test]
fn a_bound_that_shows_a_breach_says_so() {
    let world = World::new();
    let findings = vec![samples::bounded(&world)];
    let text = review(&one_pan(world.sources, findings), &WIDE);
    assert!(text.contains("computed    pickup.coverage = at most 3.0 mm (u 1.0 mm)"), "{text}");
    assert!(text.contains("margin      at least 7.0 mm short (u 1.0 mm)"), "{text}");
}

#[test]
fn a_value_just_beyond_its_limit_never_prints_like_it() {
    let world = World::new();
    let mut finding = samples::coverage(&world, Verdict::DoesNotConform, 10.0, 0.0);
    finding.reading = Some(samples::exactly(0.010 - 1e-12, 0.0));
    if let Some(limit) = finding.limits.first_mut() {
        limit.margin = Some(samples::exactly(-1e-12, 0.0));
    }
    let text = review(&one_pan(world.sources, vec![finding]), &WIDE);
    assert!(text.contains("pickup.coverage = 9.999999999"), "{text}");
    assert!(text.contains("limit       at least 10 mm"), "{text}");
}

#[test]
fn colour_is_on_the_words_and_marks_only() {
    let text = review(&samples::every_verdict(), &Options { colour: true, ..WIDE });
    assert!(text.contains("\u{1b}[31mdoes not conform:\u{1b}[0m The inlet"), "{text}");
    let bare: String = strip_colours(&text);
    let trimmed: Vec<_> = bare.lines().map(str::trim_end).collect();
    assert_eq!(trimmed.join("\n"), review(&samples::every_verdict(), &WIDE).trim_end());
}

fn strip_colours(text: &str) -> String {
    let mut parts = text.split('\u{1b}');
    let first = parts.next().unwrap_or("").to_owned();
    parts.fold(first, |out, part| out + part.split_once('m').map_or("", |(_, rest)| rest))
}

#[test]
fn hostile_names_titles_paths_and_excerpts_are_made_visible() {
    let evil = "a\u{1b}[32mconforms\u{202e}\n  conforms: all\u{7}";
    let mut sources = Sources::default();
    let file = sources.add(&format!("pans/{evil}.yaml"), format!("pan: 1 # {evil}\n"));
    let world = World::new();
    let mut finding = samples::coverage(&world, Verdict::DoesNotConform, -8.5, 2.6e-3);
    let span = Span { file, start: 0, end: 30 };
    finding.subject = span;
    finding.driver = None;
    finding.limits.clear();
    finding.rule_span = span;
    for text in [&mut finding.rule, &mut finding.title, &mut finding.measure, &mut finding.because]
    {
        evil.clone_into(text);
    }
    finding.object = Some(evil.to_owned());
    finding.notes = vec![evil.to_owned()];
    let mut review_of = one_pan(sources, vec![finding]);
    if let Some(pan) = review_of.pans.first_mut() {
        pan.title = Some(evil.to_owned());
        evil.clone_into(&mut pan.path);
    }
    for plain in [false, true] {
        let text = review(&review_of, &Options { plain, ..WIDE });
        assert!(!text.contains(['\u{1b}', '\u{202e}', '\u{7}']), "{text}");
        assert!(!text.lines().any(|line| line.trim_start().starts_with("conforms: all")), "{text}");
        assert!(text.contains("\\u{1b}[32mconforms\\u{202e}"), "{text}");
    }
}

fn one_pan(sources: Sources, findings: Vec<sumpwright_core::review::Finding>) -> Review {
    let pans = vec![PanReview {
        path: "pans/a.yaml".to_owned(),
        title: None,
        baselines: Vec::new(),
        findings,
        inputs: Vec::new(),
        notes: Vec::new(),
        figures: Vec::new(),
        coverage: None,
    }];
    Review {
        sources,
        pans,
        problems: Vec::new(),
        rules: 1,
        book: BookUsed::default(),
        checklists: Vec::new(),
        conceding: Conceding::default(),
        screening: None,
    }
}

/// Draws one mark in a text and gives back what is printed.
fn drawn(text: &str, start: u32, end: u32, options: &Options) -> String {
    let mut sources = Sources::default();
    let file = sources.add("a.yaml", text.to_owned());
    let mut page = Page::new(options);
    let mark = Mark::new(Span { file, start, end }, "here");
    draw(&mut page, &sources, ("error", Weight::Heavy), "a title", (mark, Vec::new()));
    page.finish()
}

#[test]
fn places_and_marks_are_right_at_the_edges_of_a_file() {
    let tidy = |text: &str, start, end| drawn(text, start, end, &WIDE);
    insta::assert_snapshot!(
        [
            ("an empty file", tidy("", 0, 0)),
            ("past the end", tidy("a: 1\n", 90, 99)),
            ("the end, after the last line end", tidy("a: 1\n", 5, 5)),
            ("a last line without an end", tidy("a: 1\nb: 2", 8, 9)),
            ("line ends of two characters", tidy("a: 1\r\nb: 2\r\n", 9, 10)),
            ("only the line end", tidy("a: 1\r\nb: 2\r\n", 4, 6)),
            ("a tab before", tidy("a:\t1 mm\n", 3, 7)),
            ("a byte order mark", tidy("\u{feff}a: 1\n", 3, 4)),
            ("after a wide sign", tidy("a: 4 ± 1 mm\n", 8, 12)),
            ("over several lines", tidy("a:\n  b: 1\n  c: 2\n", 5, 17)),
            ("in the middle of a character", tidy("a: ±\n", 4, 5)),
        ]
        .map(|(what, text)| format!("{what}\n{text}"))
        .join("\n")
    );
}

#[test]
fn a_mark_in_a_text_that_does_not_exist_still_gives_a_place() {
    let mut page = Page::new(&WIDE);
    let span = Span { file: FileId(7), start: 3, end: 4 };
    let sources = Sources::default();
    let mark = (Mark::new(span, "here"), Vec::new());
    draw(&mut page, &sources, ("error", Weight::Heavy), "a title", mark);
    assert_eq!(page.finish(), "  error: a title\n  at          :1:1\n");
}

proptest! {
    /// miette panics on spans that do not fit; none reaches it, whatever the text and the marks.
    #[test]
    fn no_text_and_no_span_upsets_the_drawing(
        text in "(\\PC|[\\t\\r\\n±幅\u{1b}\u{202e}\u{feff}]){0,200}",
        marks in prop::collection::vec((0_u32..260, 0_u32..260), 1..5),
        width in 0_usize..130,
        plain in any::<bool>(),
    ) {
        let mut sources = Sources::default();
        let file = sources.add("a.yaml", text);
        let mut marks: Vec<_> = marks
            .into_iter()
            .map(|(start, end)| Mark::new(Span { file, start, end }, "what is said here"))
            .collect();
        let mut page = Page::new(&Options { width, plain, ..WIDE });
        let first = marks.remove(0);
        draw(&mut page, &sources, ("error", Weight::Heavy), "a title", (first, marks));
        let out = page.finish();
        prop_assert!(out.contains("[a.yaml:"));
        prop_assert!(!out.contains("Failed"));
        prop_assert!(out.chars().all(|c| c == '\n' || crate::visible::is_seen(c)));
        prop_assert!(!plain || out.is_ascii());
    }

    #[test]
    fn no_line_of_a_review_is_wider_than_the_page(width in 40_usize..140, plain in any::<bool>()) {
        let options = Options { width, plain, ..WIDE };
        for line in review(&samples::every_verdict(), &options).lines() {
            // The place of an excerpt is never broken, so that it can be followed.
            if !line.contains(".yaml:") {
                prop_assert!(line.width() <= width, "{line}");
            }
        }
    }
}
