//! The same totals in every format: verdicts, concessions, clauses of customers' lists. What a review counts is counted
//! again in the bytes that a reader gets.

use crate::support::{Disk, read, root, rulebook};
use serde_json::Value;
use std::collections::BTreeMap;
use sumpwright_core::checklist::hold;
use sumpwright_core::concede::{ConcedeRequest, concede};
use sumpwright_core::document::date::Date;
use sumpwright_core::review::{Request, Review, review};
use sumpwright_report::{FORMATS, Format, HTML, JSON, JUNIT, MARKDOWN, Options, SARIF, TEXT};

const PANS: [&str; 3] = [
    "fixtures/pans/low-finned.yaml",
    "fixtures/pans/stock-stamped.yaml",
    "fixtures/pans/twin-sump.yaml",
];
const CHECKLIST: &str = "fixtures/checklists/workshop.yaml";
const CONCESSIONS: &str = "fixtures/concessions.yaml";
const PAGE: Options = Options { width: 400, colour: false, plain: false, all: true };

/// One that holds, one that has ended.
const ACCEPTED: &str = "concessions: 1
accepted:
  fins: { kind: deviation permit, pan: pans/low-finned.yaml, rule: fin.breaks-at-the-strike, object: fins.keel,
          bound: 520 MPa, reason: The first batch., expires: 2027-01-31,
          accepted_by: { name: M. Quill, function: design authority, on: 2026-11-02 } }
  climb: { kind: deviation permit, pan: pans/low-finned.yaml, rule: pickup.uncovered, bound: -18 mm, reason: Level ground.,
           expires: 2026-11-24, accepted_by: { name: M. Quill, function: design authority, on: 2026-11-02 } }
";

type Counts = BTreeMap<String, usize>;
/// Counts again what a format has written.
type Reader = fn(&str) -> Totals;

/// What is counted in a review, in whatever form it comes.
#[derive(Debug, Default, PartialEq, Eq)]
struct Totals {
    verdicts: Counts,
    /// What is against concessions, by its word.
    faults: Counts,
    /// Clauses on pans, by their answer.
    answers: Counts,
    /// Clauses that must be met and are not shown to be.
    against: usize,
}

fn counted(words: impl IntoIterator<Item = impl Into<String>>) -> Counts {
    let mut counts = Counts::new();
    for word in words {
        *counts.entry(word.into()).or_default() += 1;
    }
    counts
}

fn judged() -> Review {
    let pan = read(&root().join(PANS[0]));
    let stated = pan.replacen("pan: 1\n", "pan: 1\nobject: { state: as designed }\n", 1);
    let list = read(&root().join(CHECKLIST));
    // One more clause that nothing answers, and that must be met.
    let list = format!("{list}  badge: {{ number: \"6.4\", says: It has a badge. }}\n");
    let instead = [(PANS[0], stated), (CHECKLIST, list), (CONCESSIONS, ACCEPTED.to_owned())];
    let disk = Disk { instead: instead.map(|(path, text)| (path.to_owned(), text)).into() };
    let (pans, book) = (PANS.map(str::to_owned), rulebook());
    let found = review(Request { files: &disk, pans: &pans, rulebook: &book, drawn: false });
    let on = Date::parse("2026-11-25");
    let paths = [CONCESSIONS.to_owned()];
    let found = concede(found, ConcedeRequest { files: &disk, paths: &paths, on, longest: None });
    let found = hold(found, &disk, &[CHECKLIST.to_owned()]);
    assert!(found.problems.is_empty(), "{:#?}", found.problems);
    found
}

fn truth(review: &Review) -> Totals {
    let findings = review.pans.iter().flat_map(|pan| &pan.findings);
    let clauses = || {
        let pans = review.checklists.iter().flat_map(|list| &list.pans);
        pans.flat_map(|pan| &pan.clauses)
    };
    Totals {
        verdicts: counted(findings.map(|finding| finding.verdict.words())),
        faults: counted(review.conceding.findings.iter().map(|finding| finding.fault.words())),
        answers: counted(clauses().map(|clause| clause.answer.words())),
        against: clauses().filter(|clause| clause.is_against()).count(),
    }
}

fn list<'v>(value: &'v Value, path: &str) -> Vec<&'v Value> {
    value.pointer(path).and_then(Value::as_array).unwrap().iter().collect()
}

fn word(value: &Value, path: &str) -> String {
    value.pointer(path).and_then(Value::as_str).unwrap().replace('_', " ")
}

fn in_json(text: &str) -> Totals {
    let json: Value = serde_json::from_str(text).unwrap();
    let verdicts = json["counts"].as_object().unwrap().iter();
    let pans = list(&json, "/checklists").into_iter().flat_map(|one| list(one, "/pans"));
    let clauses: Vec<&Value> = pans.flat_map(|pan| list(pan, "/clauses")).collect();
    let findings = list(&json, "/pans").into_iter().flat_map(|pan| list(pan, "/findings"));
    let totals = Totals {
        verdicts: counted(findings.map(|finding| word(finding, "/verdict"))),
        faults: counted(list(&json, "/concessions/findings").iter().map(|f| word(f, "/fault"))),
        answers: counted(clauses.iter().map(|clause| word(clause, "/answer"))),
        against: clauses.iter().filter(|clause| clause["against"] == true).count(),
    };
    // Its own sum says the same.
    let sum = verdicts.map(|(verdict, n)| {
        (verdict.replace('_', " "), usize::try_from(n.as_u64().unwrap()).unwrap())
    });
    assert_eq!(sum.filter(|(_, n)| *n > 0).collect::<Counts>(), totals.verdicts);
    totals
}

fn in_sarif(text: &str) -> Totals {
    let log: Value = serde_json::from_str(text).unwrap();
    let results = list(&log, "/runs/0/results");
    let of = |family: &'static str| {
        let has = move |result: &&&Value| {
            let id = word(result, "/ruleId");
            let own = ["concession.", "checklist."].iter().find(|own| id.starts_with(**own));
            own.copied().unwrap_or("") == family
        };
        results.iter().filter(has).copied().collect::<Vec<_>>()
    };
    let verdict = |result: &Value| word(result, "/properties/verdict");
    let failed =
        |result: &&Value| result.pointer("/properties/clause/against") == Some(&Value::Bool(true));
    Totals {
        verdicts: counted(of("").into_iter().map(verdict)),
        faults: counted(of("concession.").into_iter().map(verdict)),
        answers: counted(of("checklist.").into_iter().map(verdict)),
        against: of("checklist.").into_iter().filter(failed).count(),
    }
}

/// The values of the properties of a name, and the cases of each suite that did not pass.
fn in_junit(text: &str) -> Totals {
    let values = |name: &str| {
        let mark = format!("<property name=\"{name}\" value=\"");
        let rest = text.split(&mark).skip(1).map(|rest| rest.split('"').next().unwrap().to_owned());
        counted(rest.collect::<Vec<_>>())
    };
    let suite = |begins: &str| -> String {
        let mark = format!("<testsuite name=\"{begins}");
        let found = text.split(&mark).nth(1).unwrap_or("");
        found.split("</testsuite>").next().unwrap().to_owned()
    };
    let types = |suite: &str| {
        let rest = suite.split("<failure ").skip(1);
        let types =
            rest.map(|rest| rest.split("type=\"").nth(1).unwrap().split('"').next().unwrap());
        counted(types.map(str::to_owned).collect::<Vec<_>>())
    };
    let checklist = suite("checklist ");
    Totals {
        verdicts: values("verdict"),
        faults: types(&suite("concessions")),
        answers: values("answer"),
        against: checklist.matches("<failure ").count() + checklist.matches("<error ").count(),
    }
}

/// The rows of tables, as cells.
fn rows(text: &str) -> Vec<Vec<&str>> {
    let lines = text.lines().filter(|line| line.starts_with("| "));
    lines.map(|line| line.split('|').map(str::trim).collect()).collect()
}

fn in_markdown(text: &str) -> Totals {
    let (reviews, lists) = text.split_once("\n## Checklist ").unwrap();
    let cell = |text, place: usize, second: &str| {
        let cells = rows(text)
            .into_iter()
            .filter(move |row| row.get(2).is_some_and(|c| c.contains(second)));
        cells.map(|row| row[place].to_owned()).collect::<Vec<_>>()
    };
    let (_, conceded) = reviews.split_once("## Concessions").unwrap();
    let (conceded, _) = conceded.split_once("\n## ").unwrap();
    let faults = conceded.lines().filter_map(|line| line.strip_prefix("- **")?.split_once("**"));
    let open: usize = lists.lines().filter_map(not_shown).sum();
    Totals {
        verdicts: counted(cell(reviews, 1, "`").into_iter().filter(|word| !word.starts_with('`'))),
        faults: counted(faults.map(|(word, _)| word)),
        answers: counted(cell(lists, 3, "binding").into_iter().filter(|word| word != "answer")),
        against: open,
    }
}

/// `of 7 binding clauses, 2 not shown to be met: …`
fn not_shown(line: &str) -> Option<usize> {
    let (_, rest) = line.split_once(" binding clauses, ")?;
    rest.split_once(" not shown")?.0.parse().ok()
}

fn in_html(page: &str) -> Totals {
    let spans = |part: &str| -> Vec<String> {
        let marks = part.split("<span class=\"verdict").skip(1);
        let words = marks.map(|rest| rest.split_once('>').unwrap().1.split('<').next().unwrap());
        words.map(str::to_owned).collect()
    };
    let after = |mark: &str, end: &str| -> Vec<&str> {
        page.split(mark).skip(1).map(|rest| rest.split(end).next().unwrap()).collect()
    };
    let verdicts = after("<h3>All verdicts</h3>", "</table>");
    let faults = after("<h2>Concessions that need a decision</h2>", "</section>");
    let lists = after("<section id=\"checklist-", "</section>");
    let paragraphs = lists.iter().flat_map(|list| list.split("</p>"));
    Totals {
        verdicts: counted(verdicts.into_iter().flat_map(spans)),
        faults: counted(faults.into_iter().flat_map(spans)),
        answers: counted(lists.iter().flat_map(|list| spans(list))),
        against: paragraphs.filter_map(not_shown).sum(),
    }
}

/// As the last lines say it; a clause begins its line with its number in the list.
fn in_text(text: &str) -> Totals {
    let (_, said) = text.split_once("\nLooked at ").unwrap();
    let said = said.split_once(" files: ").unwrap().1.split(". Decided").next().unwrap();
    let verdicts = said.split(", ").map(|part| {
        let (count, word) = part.split_once(['\u{a0}', ' ']).unwrap();
        let word = word.replace('\u{a0}', " ");
        let word = match word.as_str() {
            "do not conform" => "does not conform",
            "conform" => "conforms",
            other => other,
        };
        (word.to_owned(), count.parse().unwrap())
    });
    let numbers = ["3.1", "4.1", "5.1", "6.1", "6.2", "6.3", "6.4"];
    let answer = |line: &str| {
        let (number, rest) = line.trim().split_once(' ')?;
        let answer = rest.trim().split("  ").next()?.to_owned();
        numbers.contains(&number).then_some(answer)
    };
    let (_, lists) = text.split_once("\nChecklist ").unwrap();
    let told = ["expired", "exceeded", "unused"];
    let fault = |line: &str| told.iter().find(|word| line.trim().starts_with(&format!("{word}: ")));
    Totals {
        verdicts: verdicts.collect(),
        faults: counted(text.lines().filter_map(fault).copied()),
        answers: counted(lists.lines().filter_map(answer)),
        against: lists.lines().filter_map(not_shown).sum(),
    }
}

#[test]
fn every_format_has_the_same_totals() {
    let review = judged();
    let truth = truth(&review);
    // There is something of each to count.
    for verdict in ["conforms", "does not conform", "advisory", "conceded", "not applicable"] {
        assert!(truth.verdicts.contains_key(verdict), "{verdict}");
    }
    assert!(truth.faults.contains_key("expired") && truth.against > 0);
    assert!(truth.answers.contains_key("by evidence") && truth.answers.contains_key("unanswered"));
    let readers: [(&Format, Reader); 6] = [
        (&JSON, in_json),
        (&SARIF, in_sarif),
        (&JUNIT, in_junit),
        (&MARKDOWN, in_markdown),
        (&HTML, in_html),
        (&TEXT, in_text),
    ];
    assert_eq!(readers.len(), FORMATS.len(), "a format is not counted");
    for (format, count) in readers {
        let text = (format.review)(&review, &PAGE);
        assert_eq!(count(&text), truth, "{}", format.name);
    }
}
