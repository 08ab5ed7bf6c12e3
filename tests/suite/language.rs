//! The page on the rule language: every example on it does what the page says.

use crate::support::{Disk, read, root};
use sumpwright_core::document::dossier::Library;
use sumpwright_core::document::reader::{Findings, read_rulebook};
use sumpwright_core::explain::{Demo, ExplainRequest, Subject, explain};
use sumpwright_core::prove::{ProveRequest, prove};
use sumpwright_core::review::{Request, review};
use sumpwright_core::rule::{Function, Rulebook, Truth, resolve};
use sumpwright_core::source::Diagnostic;

/// A fenced block: what its fence says, the line it begins on, and its text.
struct Block {
    marks: Vec<String>,
    line: usize,
    text: String,
}

impl Block {
    fn is(&self, marks: &[&str]) -> bool {
        self.marks == marks
    }

    /// The lines that are no remark.
    fn lines(&self) -> impl Iterator<Item = &str> {
        self.text.lines().filter(|line| !line.trim().is_empty() && !line.starts_with('#'))
    }
}

fn page() -> String {
    read(&root().join("rules/LANGUAGE.md"))
}

fn blocks() -> Vec<Block> {
    let mut blocks: Vec<Block> = Vec::new();
    let mut inside = false;
    for (number, line) in page().lines().enumerate() {
        match line.strip_prefix("```") {
            Some(_) if inside => inside = false,
            Some(marks) => {
                inside = true;
                let marks = marks.split_whitespace().map(str::to_owned).collect();
                blocks.push(Block { marks, line: number + 1, text: String::new() });
            }
            None if inside => {
                let block = blocks.last_mut().unwrap();
                block.text.push_str(line);
                block.text.push('\n');
            }
            None => {}
        }
    }
    assert!(!inside, "the last block is not closed");
    blocks
}

fn of(marks: &[&str]) -> Vec<Block> {
    let found: Vec<Block> = blocks().into_iter().filter(|block| block.is(marks)).collect();
    assert!(!found.is_empty(), "the page has no block {marks:?}");
    found
}

/// A rulebook of one rule, as a block has it.
fn book_of(rule: &str) -> String {
    let indented = rule.trim_end().replace('\n', "\n  ");
    format!("rulebook: 1\nfixtures: ../fixtures/pans\nrules:\n  {indented}\n")
}

/// A rulebook of one rule of which only the condition matters.
fn book_when(condition: &str) -> String {
    book_of(&format!(
        "test.rule:\n  title: T\n  force: shall\n  measure: pickup.floor_gap\n  at_least: 0 mm\n  \
         when: \"{condition}\"\n  because: B\n  source: common practice\n"
    ))
}

fn resolved(text: &str) -> (Rulebook, Vec<Diagnostic>) {
    let disk = Disk::default();
    let mut library = Library::new(&disk);
    let mut found = Findings::default();
    let part = library.add_text("rules/page.yaml", text.to_owned()).expect("it is YAML");
    let docs: Vec<_> = read_rulebook(&part.node, &mut found).into_iter().collect();
    let mut problems = library.problems;
    problems.append(&mut found.problems);
    let book = resolve(&docs, &mut problems);
    (book, problems)
}

/// The condition of a one-rule book, printed.
fn printed(condition: &str) -> String {
    let (book, problems) = resolved(&book_when(condition));
    assert!(problems.is_empty(), "{condition}: {problems:#?}");
    book.rules[0].when.as_ref().unwrap().to_string()
}

#[test]
fn every_block_is_of_a_sort_that_is_run() {
    let known: [&[&str]; 10] = [
        &["yaml", "builds-on"],
        &["yaml", "refused", "builds-on"],
        &["yaml", "rule"],
        &["yaml", "rulebook"],
        &["text", "formula"],
        &["text", "condition"],
        &["text", "truths"],
        &["text", "grammar"],
        &["text", "refused", "formula"],
        &["text", "refused", "condition"],
    ];
    for block in blocks() {
        assert!(
            known.iter().any(|marks| block.is(marks)),
            "line {}: {:?}",
            block.line,
            block.marks
        );
        assert!(block.lines().count() > 0, "line {}: nothing stands in it", block.line);
    }
}

#[test]
fn every_rule_of_the_page_is_read_and_its_cases_hold() {
    let rules = of(&["yaml", "rule"]).into_iter().map(|block| (block.line, book_of(&block.text)));
    let books = of(&["yaml", "rulebook"]).into_iter().map(|block| (block.line, block.text));
    let mut cases = 0;
    for (line, text) in rules.chain(books) {
        let rulebook = [("rules/page.yaml".to_owned(), text)];
        let proof = prove(ProveRequest {
            files: &Disk::default(),
            rulebook: &rulebook,
            progress: &|_, _| (),
        });
        assert!(proof.problems.is_empty(), "line {line}: {:#?}", proof.problems);
        assert_eq!(proof.rules.len(), 1, "line {line}");
        assert!(proof.rules[0].stale.is_empty(), "line {line}: {:?}", proof.rules[0].stale);
        for case in proof.rules.iter().flat_map(|rule| &rule.cases) {
            assert!(case.holds(), "line {line}: {:?} instead of {:?}", case.outcome, case.expected);
            cases += 1;
        }
    }
    assert!(cases >= 6, "only {cases} cases were run");
}

#[test]
fn every_formula_and_condition_of_the_page_prints_as_it_is_written() {
    for block in of(&["text", "formula"]) {
        for line in block.lines() {
            // A comparison with itself takes a formula of any dimension and any kind of object.
            let both = format!("{line} at least {line}");
            assert_eq!(printed(&both), both, "line {}", block.line);
        }
    }
    for block in of(&["text", "condition"]) {
        for line in block.lines() {
            assert_eq!(printed(line), line, "line {}", block.line);
        }
    }
}

fn refused_with(block: &Block, text: &str) {
    refused_as(block, &resolved(text).1);
}

fn refused_as(block: &Block, problems: &[Diagnostic]) {
    let first = block.text.lines().next().unwrap_or_default();
    let code = first.strip_prefix("# ").unwrap_or_else(|| panic!("line {}: no code", block.line));
    let codes: Vec<&str> = problems.iter().map(|problem| problem.code.word()).collect();
    assert_eq!(codes, [code], "line {}: {problems:#?}", block.line);
    let said = problems[0].help.is_some();
    assert!(said, "line {}: it does not say what to do: {problems:#?}", block.line);
}

/// What the page builds on the shipped rulebook is proven where it changes it, and all of it is said.
#[test]
fn the_rulebook_of_the_page_that_builds_on_another_is_proven_and_said() {
    for block in of(&["yaml", "builds-on"]) {
        let rulebook = [("rules/page.yaml".to_owned(), block.text.clone())];
        let proof = prove(ProveRequest {
            files: &Disk::default(),
            rulebook: &rulebook,
            progress: &|_, _| (),
        });
        assert!(proof.problems.is_empty(), "line {}: {:#?}", block.line, proof.problems);
        let [layer] = proof.book.layers.as_slice() else { panic!("{:#?}", proof.book) };
        let said: Vec<(&str, &str)> = layer
            .changes
            .iter()
            .map(|change| (change.rule.as_str(), change.what.strictness().word()))
            .collect();
        let meant = [("fin.packs-with-mud", "looser"), ("pickup.too-close-to-floor", "stricter")];
        assert_eq!(said, meant);
        assert!(!layer.pinned);
        let open: Vec<&str> =
            proof.rules.iter().filter(|r| !r.is_whole()).map(|r| r.id.as_str()).collect();
        assert!(proof.is_whole(), "{open:?}");
    }
}

#[test]
fn what_the_page_says_is_refused_is_refused_for_that_reason() {
    for block in of(&["yaml", "refused", "builds-on"]) {
        let rulebook = [("rules/page.yaml".to_owned(), block.text.clone())];
        let review = review(Request {
            files: &Disk::default(),
            pans: &[],
            rulebook: &rulebook,
            drawn: false,
        });
        refused_as(&block, &review.problems);
    }
    for block in of(&["text", "refused", "formula"]) {
        for line in block.lines() {
            refused_with(&block, &book_when(&format!("{line} at least {line}")));
        }
    }
    for block in of(&["text", "refused", "condition"]) {
        for line in block.lines() {
            refused_with(&block, &book_when(line));
        }
    }
}

/// On the stock pan, whose pickup is stated and whose drains are `none`, with its fins left out.
#[test]
fn the_truths_of_the_page_are_those_that_come_out() {
    const STOCK: &str = "fixtures/pans/stock-stamped.yaml";
    let text = read(&root().join(STOCK));
    assert!(text.contains("fins: none\n") && text.contains("drains: none\n"));
    let text = text.replace("fins: none\n", "");
    let disk = Disk { instead: vec![(STOCK.to_owned(), text)] };
    for block in of(&["text", "truths"]) {
        for line in block.lines() {
            let (truth, condition) = line.split_once(' ').expect("a truth and a condition");
            let rulebook = [("rules/page.yaml".to_owned(), book_when(condition.trim()))];
            let found = explain(ExplainRequest {
                files: &disk,
                rulebook: &rulebook,
                name: Some("test.rule"),
                pan: Some(STOCK),
                demo: Demo { files: &disk, pan: STOCK, pans: &[] },
                with_curve: false,
            });
            let Subject::Rule(rule) = found.subject else {
                panic!("{line}: {:#?}", found.problems)
            };
            let chain = &rule.on_pan.expect("the pan was read").chains[0];
            let came_out = match chain.condition.as_ref().expect("it has one").truth {
                Truth::True => "true",
                Truth::False => "false",
                Truth::Unknown(_) => "unknown",
            };
            assert_eq!(came_out, truth, "{condition}");
        }
    }
}

#[test]
fn the_page_names_every_function() {
    let grammar: String = of(&["text", "grammar"]).into_iter().map(|block| block.text).collect();
    for function in Function::ALL {
        assert!(grammar.contains(&format!("\"{}\"", function.word())), "{}", function.word());
    }
}
