//! A supplier declares, a customer judges again: what is handed over, what is refused, and every way to tamper.

mod tamper;
mod world;

use std::collections::BTreeMap;
use sumpwright_core::confirm::{
    Authenticity, Confirmation, FileState, ItemOutcome, Outcome, PAYLOAD_TYPE, TO_SIGN,
};
use sumpwright_core::source::{Files, Severity};
use sumpwright_report::{JSON, Options, TEXT};
use world::{Customer, RULES, SOURCE, World, confirmed, replace};

const PAGE: Options = Options { width: 96, colour: false, plain: false, all: false };

#[test]
fn what_is_declared_is_handed_over_in_whole_and_confirmed() {
    let folder = World::new().handed_over();
    let names: Vec<&str> = folder.keys().map(String::as_str).collect();
    assert_eq!(
        names,
        [
            "declaration.html",
            "declaration.json",
            "declaration.to-sign",
            "inputs/declared/d.yaml",
            "inputs/lists/a.yaml",
            "inputs/lists/salt.txt",
            "inputs/oils/own.yaml",
            "inputs/pans/inside.stl",
            "inputs/pans/meshed.yaml",
            "inputs/pans/plain.yaml",
            "inputs/rules/own.yaml",
            "inputs/sumpwright.yaml",
            "measures.json",
            "review.html",
            "review.json",
            "test-result.json",
        ]
    );
    let found = confirmed(&folder, Customer::default());
    assert_eq!(found.outcome, Outcome::Confirmed, "{:#?}", found.reasons);
    assert_eq!(found.rules.len(), 4);
    assert_eq!(found.clauses.len(), 6);
    assert!(found.rules.iter().all(|item| item.outcome == ItemOutcome::Same));
    insta::assert_snapshot!("confirmed", (TEXT.confirmation.unwrap())(&found, &PAGE));
}

#[test]
fn the_same_is_declared_byte_for_byte_and_wherever_the_program_is_called_from() {
    let world = World::new();
    assert_eq!(world.handed_over(), world.handed_over());
    let mut elsewhere = World::new();
    elsewhere.files.files = elsewhere
        .files
        .files
        .into_iter()
        .map(|(path, bytes)| (format!("repo/{path}"), bytes))
        .collect();
    let path = format!("repo/{SOURCE}");
    let absolute = |path: &str| format!("/{path}");
    let request = sumpwright_core::declare::DeclareRequest {
        files: &elsewhere.files,
        path: &path,
        absolute: &absolute,
    };
    let package = sumpwright_core::declare::declare(request).package.expect("it can be declared");
    let made = sumpwright_report::made(&package);
    let there: BTreeMap<String, Vec<u8>> = package.folder.files.into_iter().chain(made).collect();
    assert_eq!(there, world.handed_over());
}

#[test]
fn the_statement_is_what_other_programs_read() {
    let folder = World::new().handed_over();
    let statement: serde_json::Value = serde_json::from_slice(&folder["declaration.json"]).unwrap();
    assert_eq!(statement["_type"], "https://in-toto.io/Statement/v1");
    let subjects = statement["subject"].as_array().unwrap();
    for subject in subjects {
        let name = subject["name"].as_str().unwrap();
        assert_eq!(subject["digest"]["sha256"], sumpwright_core::declare::sha256(&folder[name]));
    }
    assert_eq!(subjects.len(), 5);
    // What is signed is the statement itself, with its type and length before it.
    let signed = &folder[TO_SIGN];
    let statement = &folder["declaration.json"];
    let head = format!("DSSEv1 28 {PAYLOAD_TYPE} {} ", statement.len());
    assert!(signed.starts_with(head.as_bytes()) && signed.ends_with(statement));
    let result: serde_json::Value = serde_json::from_slice(&folder["test-result.json"]).unwrap();
    assert_eq!(result["predicate"]["result"], "PASSED");
    assert_eq!(result["predicate"]["passedTests"].as_array().unwrap().len(), 4);
}

#[test]
fn what_is_not_shown_is_not_declared() {
    for (path, old, new, why) in [
        ("pans/plain.yaml", "depth: 63", "depth: 70", "does not conform"),
        ("pans/plain.yaml", "depth: 63 ± 0.5", "depth: 66.5 ± 3", "inconclusive"),
        ("lists/a.yaml", "    evidence", "    # evidence", "nothing answers it"),
    ] {
        let world = World::new().with(path, old, new);
        let declared = world.declared();
        assert!(declared.package.is_none(), "{new}");
        assert!(
            declared.refusals.iter().any(|refusal| refusal.what.contains(why)),
            "{new}: {:#?}",
            declared.refusals
        );
    }
    let world = World::new().with("pans/plain.yaml", "depth: 63", "depth: 70");
    insta::assert_snapshot!("refused", (TEXT.declared.unwrap())(&world.declared(), &PAGE));
}

#[test]
fn a_document_at_fault_is_told_where_it_is() {
    for (path, old, new, at) in [
        ("pans/plain.yaml", "revision: B, ", "", "{ name: Plain pan, state: as designed }"),
        (
            "pans/plain.yaml",
            "object: { name: Plain pan, revision: B, state: as designed }\n",
            "",
            "../pans/plain.yaml",
        ),
        (SOURCE, "../pans/plain.yaml", "../pans/plane.yaml", "../pans/plane.yaml"),
        (SOURCE, "../rules/own.yaml", "../rules/owl.yaml", "../rules/owl.yaml"),
        (
            SOURCE,
            "limits:",
            "withheld: { x: { file: ../pans/absent.stl, because: Ours. } }\nlimits:",
            "../pans/absent.stl",
        ),
        (
            SOURCE,
            "limits:",
            "withheld: { x: { file: ../pans/plain.yaml, because: Ours. } }\nlimits:",
            "../pans/plain.yaml",
        ),
        (
            SOURCE,
            "limits:",
            "withheld: { x: { file: ../lists/salt.txt, because: Ours. } }\nlimits:",
            "",
        ),
        (
            SOURCE,
            "limits:",
            "evidence: { x: { document: ../lists/salt.txt, sha256: 5c1b049f2934ce47f5edf5c85d6cb66a9df032211ea4f1a5b4816bc8fd323c6c, shows: It. } }\nlimits:",
            "5c1b049f2934ce47f5edf5c85d6cb66a9df032211ea4f1a5b4816bc8fd323c6c",
        ),
        ("lists/salt.txt", "240", "24", ""),
    ] {
        let declared = World::new().with(path, old, new).declared();
        let fault = |p: &&sumpwright_core::source::Diagnostic| p.severity == Severity::Error;
        if at.is_empty() {
            continue;
        }
        assert!(declared.package.is_none(), "{new}");
        let spots: Vec<&str> = declared
            .review
            .problems
            .iter()
            .filter(fault)
            .map(|p| declared.review.sources.slice(p.primary.span))
            .collect();
        assert!(spots.contains(&at), "{new}: {spots:?}");
    }
    assert!(World::new().with("lists/salt.txt", "240", "24").declared().package.is_none());
}

#[test]
fn what_is_withheld_is_marked_and_what_rests_on_it_is_not_confirmed() {
    let secret =
        "withheld: { inside: { file: ../pans/inside.stl, because: The shape is ours. } }\nlimits:";
    let world = World::new().with(SOURCE, "limits:", secret);
    let mut folder = world.handed_over();
    assert!(!folder.contains_key("inputs/pans/inside.stl"));
    let page = String::from_utf8(folder["declaration.html"].clone()).unwrap();
    assert!(page.contains("WITHHELD: The shape is ours. What rests on it"));
    // Who signs reads what is asked, and on whose word it rests.
    assert!(page.contains("“It does not rust.” by evidence"), "{page}");
    assert!(page.contains("inputs/lists/salt.txt: It stood 240 h."));
    assert!(page.contains("R. Example, production, on 2026-11-02: Every one is."));
    // No drawing shows the shape.
    assert!(!String::from_utf8(folder["review.html"].clone()).unwrap().contains("<svg"));
    let found = confirmed(&folder, Customer::default());
    assert_eq!(found.outcome, Outcome::NotInWhole, "{:#?}", found.reasons);
    let of = |pan: &str| -> Vec<ItemOutcome> {
        found.rules.iter().filter(|item| item.pan.ends_with(pan)).map(|item| item.outcome).collect()
    };
    assert_eq!(of("plain.yaml"), [ItemOutcome::Same; 2]);
    assert_eq!(of("meshed.yaml"), [ItemOutcome::NotReproducible; 2]);
    // What is withheld is not there, and no document is at fault for that.
    assert!(found.review.problems.is_empty(), "{:#?}", found.review.problems);
    insta::assert_snapshot!("withheld", (TEXT.confirmation.unwrap())(&found, &PAGE));
    // Who gets it by another way can put it in its place.
    let shape = world.files.files["pans/inside.stl"].clone();
    folder.insert("inputs/pans/inside.stl".to_owned(), shape);
    assert_eq!(confirmed(&folder, Customer::default()).outcome, Outcome::Confirmed);
    replace(&mut folder, "inputs/pans/inside.stl", "-75", "-76");
    assert_eq!(confirmed(&folder, Customer::default()).outcome, Outcome::Differs);
}

/// Else a secret hides that nothing beside it can be judged either.
#[test]
fn a_document_at_fault_is_told_where_something_is_withheld_too() {
    let secret =
        "withheld: { inside: { file: ../pans/inside.stl, because: The shape is ours. } }\nlimits:";
    let mut folder = World::new().with(SOURCE, "limits:", secret).handed_over();
    let path = "inputs/pans/plain.yaml";
    let old = sumpwright_core::declare::sha256(&folder[path]);
    replace(&mut folder, path, "pan: 1", "pan: 2");
    let new = sumpwright_core::declare::sha256(&folder[path]);
    for _ in 0..2 {
        replace(&mut folder, "declaration.json", &old, &new);
    }
    let found = confirmed(&folder, Customer::default());
    assert_eq!(found.outcome, Outcome::CannotConfirm, "{:#?}", found.reasons);
}

#[test]
fn the_rulebook_is_the_customer_s() {
    let folder = World::new().handed_over();
    let stricter = RULES.replace("at_least: 8 mm", "at_least: 9 mm");
    let found = confirmed(&folder, Customer { rules: Some(&stricter), ..Customer::default() });
    assert_eq!(found.outcome, Outcome::Differs);
    assert!(found.rulebook.known_by.is_none());
    let text = (TEXT.confirmation.unwrap())(&found, &PAGE);
    assert!(text.contains("Looser"), "{text}");
    insta::assert_snapshot!("loosened", text);
    // By its edition alone.
    let edition = found.rulebook.declared.clone();
    let by = |edition: &str| {
        confirmed(&folder, Customer { edition: Some(edition), ..Customer::default() }).outcome
    };
    assert_eq!(by(&edition), Outcome::Confirmed);
    assert_eq!(by(&"0".repeat(64)), Outcome::Differs);
}

#[test]
fn on_a_later_day_it_says_what_has_ended() {
    let folder = World::new().handed_over();
    let on = |day| confirmed(&folder, Customer { on: Some(day), ..Customer::default() });
    assert_eq!(on("2028-11-25").outcome, Outcome::Confirmed);
    assert_eq!(on("2028-11-26").outcome, Outcome::Differs);
    let early = on("2026-11-25");
    assert_eq!(early.outcome, Outcome::Differs);
    assert!(early.reasons[0].contains("does not stand: It is issued only"), "{:#?}", early.reasons);
}

#[test]
fn a_concession_is_named_and_ends_on_its_day() {
    let concessions = "\
concessions: 1
accepted:
  low:
    kind: deviation permit
    pan: pans/plain.yaml
    rule: pickup.too-close-to-floor
    bound: 4 mm
    reason: The first batch is used on level ground.
    accepted_by: { name: M. Quill, function: design authority, on: 2026-11-02 }
    expires: 2027-01-31
";
    let mut world = World::new().with("pans/plain.yaml", "depth: 63", "depth: 69").with(
        SOURCE,
        "limits:",
        "concessions: ../concessions.yaml\nlimits:",
    );
    world.files.files.insert("concessions.yaml".to_owned(), concessions.as_bytes().to_vec());
    let folder = world.handed_over();
    let statement = String::from_utf8(folder["declaration.json"].clone()).unwrap();
    assert!(statement.contains("but for the departures that the listed concessions cover"));
    let on = |day| confirmed(&folder, Customer { on: day, ..Customer::default() });
    assert_eq!(on(None).outcome, Outcome::Confirmed);
    assert_eq!(on(Some("2027-01-31")).outcome, Outcome::Confirmed);
    let ended = on(Some("2027-02-01"));
    assert_eq!(ended.outcome, Outcome::Differs);
    assert!(ended.reasons.iter().any(|reason| reason.contains("low")), "{:#?}", ended.reasons);
    // Dropped from the folder, or moved to a later day, it is no longer what was declared.
    let mut later = folder.clone();
    replace(&mut later, "inputs/concessions.yaml", "2027-01-31", "2029-01-31");
    assert_eq!(confirmed(&later, Customer::default()).outcome, Outcome::Differs);
}

/// Seventy-nine lines that say one thing hide the file that is altered.
#[test]
fn one_reason_is_told_once() {
    let mut folder = World::new().handed_over();
    replace(&mut folder, "inputs/pans/plain.yaml", "depth: 63", "depth: 64");
    let mut found = confirmed(&folder, Customer::default());
    let altered = found.rules.iter().find(|item| item.outcome == ItemOutcome::Altered).unwrap();
    let (altered, why) = (altered.clone(), altered.why.clone());
    found.rules = vec![altered.clone(), altered.clone(), altered.clone()];
    found.clauses.clear();
    let text = |found: &Confirmation| {
        (TEXT.confirmation.unwrap())(found, &Options { width: 4000, ..PAGE })
    };
    assert_eq!(text(&found).matches(&why).count(), 3);
    found.rules.push(altered);
    let told = text(&found);
    assert_eq!(told.matches(&why).count(), 1, "{told}");
    assert!(told.contains("4 of them"), "{told}");
    let whole = (TEXT.confirmation.unwrap())(&found, &Options { all: true, width: 4000, ..PAGE });
    assert_eq!(whole.matches(&why).count(), 4);
    // Why it is not signed is the first thing that is said, and not the second too.
    found.authenticity = Authenticity::NotSigned("the ink is wet".to_owned());
    found.reasons = vec!["It is not signed by the key given: the ink is wet.".to_owned()];
    assert_eq!(text(&found).matches("the ink is wet").count(), 1);
}

#[test]
fn a_reader_of_the_result_is_told_the_same() {
    let mut folder = World::new().handed_over();
    replace(&mut folder, "inputs/pans/plain.yaml", "depth: 63", "depth: 64");
    let found = confirmed(&folder, Customer::default());
    let json: serde_json::Value =
        serde_json::from_str(&(JSON.confirmation.unwrap())(&found, &PAGE)).unwrap();
    assert_eq!(json["outcome"], "differs");
    assert_eq!(json["files"][0]["name"], "inputs/pans/plain.yaml");
    assert_eq!(found.files[0].state, FileState::Changed);
    assert_eq!(found.authenticity, Authenticity::NotAsked);
    // What is made anew holds digests that every change of a page moves: a person reads the part before it.
    let text = (TEXT.confirmation.unwrap())(&found, &PAGE);
    let (told, anew) = text.split_once("declaration.html is not what").expect("it is told");
    assert!(anew.contains("review.json is not what") && anew.contains("anew 0.010999"), "{anew}");
    insta::assert_snapshot!("altered", told.trim_end());
    assert!(World::new().files.exists("pans/other.yaml"));
    assert!(
        !folder.keys().any(|name| name.contains("other.yaml")),
        "what is not declared stays at home"
    );
}
