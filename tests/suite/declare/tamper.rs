//! Every way to tamper with a folder that was thought of: none is confirmed, and nothing panics.

use super::world::{Customer, RULES, World, confirmed, replace};
use rayon::prelude::*;
use std::collections::BTreeMap;
use sumpwright_core::confirm::{
    Authenticity, Confirmation, ENVELOPE, FileState, ItemOutcome, Outcome, PublicKey, STATEMENT,
    TO_SIGN,
};
use sumpwright_core::declare::sha256;

type Files = BTreeMap<String, Vec<u8>>;

/// What is done, and to what.
type Way = (&'static str, fn(&mut Files));

fn put(files: &mut Files, name: &str, text: &str) {
    files.insert(name.to_owned(), text.as_bytes().to_vec());
}

fn drop_line(files: &mut Files, name: &str, holding: &str) {
    let text = String::from_utf8(files[name].clone()).unwrap();
    let kept: Vec<&str> = text.lines().filter(|line| !line.contains(holding)).collect();
    assert!(kept.len() < text.lines().count(), "{name}: {holding}");
    put(files, name, &(kept.join("\n") + "\n"));
}

/// Writes the digest of a file that was changed into the statement, as who covers a trace would.
fn cover(files: &mut Files, name: &str, before: &[u8]) {
    let (old, new) = (sha256(before), sha256(&files[name]));
    let text = String::from_utf8(files[STATEMENT].clone()).unwrap();
    put(files, STATEMENT, &text.replace(&old, &new));
}

fn covered(files: &mut Files, name: &str, old: &str, new: &str) {
    let before = files[name].clone();
    replace(files, name, old, new);
    cover(files, name, &before);
}

/// Changes of what was judged with.
const OF_INPUTS: &[Way] = &[
    ("a value is made better", |f| replace(f, "inputs/pans/plain.yaml", "depth: 63", "depth: 60")),
    ("a value is made better and the trace covered", |f| {
        covered(f, "inputs/pans/plain.yaml", "depth: 63", "depth: 60");
    }),
    ("an uncertainty is taken away", |f| {
        covered(f, "inputs/pans/plain.yaml", "63 ± 0.5 mm", "63 mm");
    }),
    ("a unit is another", |f| {
        covered(f, "inputs/pans/plain.yaml", "circle: 30 mm", "circle: 30 in");
    }),
    ("a remark is added", |f| replace(f, "inputs/pans/plain.yaml", "pan: 1\n", "pan: 1\n# seen\n")),
    ("a family is said not to be there", |f| {
        covered(
            f,
            "inputs/pans/meshed.yaml",
            "wall: { floor: 2.0 ± 0.1 mm, sides: 2 mm }",
            "wall: none",
        );
    }),
    ("the object is another revision", |f| {
        covered(f, "inputs/pans/plain.yaml", "revision: B", "revision: C");
    }),
    ("the object is as made", |f| covered(f, "inputs/pans/plain.yaml", "as designed", "as made")),
    ("the oil is thinner", |f| replace(f, "inputs/oils/own.yaml", "30 mm^2/s", "29 mm^2/s")),
    ("the mesh is deeper", |f| replace(f, "inputs/pans/inside.stl", "-75", "-76")),
    ("the mesh is another of the same volume", |f| {
        let text = String::from_utf8(f["inputs/pans/inside.stl"].clone()).unwrap();
        let other = text.replace("-75", "-150").replace("130", "65");
        put(f, "inputs/pans/inside.stl", &other);
    }),
    ("the mesh is gone", |f| drop(f.remove("inputs/pans/inside.stl"))),
    ("the mesh is empty", |f| put(f, "inputs/pans/inside.stl", "")),
    ("the pan is gone", |f| drop(f.remove("inputs/pans/plain.yaml"))),
    ("two pans stand in each other's place", |f| {
        let (one, other) =
            (f["inputs/pans/plain.yaml"].clone(), f["inputs/pans/meshed.yaml"].clone());
        f.insert("inputs/pans/plain.yaml".to_owned(), other);
        f.insert("inputs/pans/meshed.yaml".to_owned(), one);
    }),
    ("a pan is no text", |f| {
        drop(f.insert("inputs/pans/plain.yaml".to_owned(), vec![0, 159, 146, 150]));
    }),
    ("a pan is cut off", |f| f.get_mut("inputs/pans/plain.yaml").unwrap().truncate(40)),
    ("a pan is refused YAML", |f| put(f, "inputs/pans/plain.yaml", "pan: 1\n\ta: [")),
    ("lines end otherwise", |f| {
        let text = String::from_utf8(f["inputs/pans/plain.yaml"].clone()).unwrap();
        put(f, "inputs/pans/plain.yaml", &text.replace('\n', "\r\n"));
    }),
    ("the project is gone", |f| drop(f.remove("inputs/sumpwright.yaml"))),
];

/// Changes of what is asked for.
const OF_REQUIREMENTS: &[Way] = &[
    ("a limit is loosened", |f| {
        replace(f, "inputs/rules/own.yaml", "at_least: 8 mm", "at_least: 2 mm");
    }),
    ("a limit is loosened and the trace covered", |f| {
        covered(f, "inputs/rules/own.yaml", "at_least: 8 mm", "at_least: 2 mm");
    }),
    ("a rule only advises", |f| {
        covered(f, "inputs/rules/own.yaml", "force: shall", "force: should");
    }),
    ("a rule is dropped", |f| {
        let text = String::from_utf8(f["inputs/rules/own.yaml"].clone()).unwrap();
        let before = f["inputs/rules/own.yaml"].clone();
        put(f, "inputs/rules/own.yaml", text.split("  wall.too-thin:").next().unwrap());
        cover(f, "inputs/rules/own.yaml", &before);
    }),
    ("the decision is simple", |f| covered(f, "inputs/rules/own.yaml", "guarded", "simple")),
    ("a rule measures another thing", |f| {
        covered(f, "inputs/rules/own.yaml", "pickup.floor_gap", "pickup.depth");
    }),
    ("the rulebook is gone", |f| drop(f.remove("inputs/rules/own.yaml"))),
    ("a clause is dropped", |f| {
        drop_line(f, "inputs/lists/a.yaml", "clear:");
    }),
    ("a clause binds no more", |f| {
        covered(
            f,
            "inputs/lists/a.yaml",
            "says: The inlet stands clear.",
            "says: The inlet stands clear., binding: false",
        );
    }),
    ("a clause asks another rule", |f| {
        covered(
            f,
            "inputs/lists/a.yaml",
            "rules: pickup.too-close-to-floor",
            "rules: wall.too-thin",
        );
    }),
    ("a statement is another person's", |f| {
        covered(f, "inputs/lists/a.yaml", "by: R. Example", "by: S. Example");
    }),
    ("evidence is changed", |f| replace(f, "inputs/lists/salt.txt", "240", "480")),
    ("evidence is changed and both digests with it", |f| {
        let before = f["inputs/lists/salt.txt"].clone();
        let (list, old) = (f["inputs/lists/a.yaml"].clone(), sha256(&before));
        replace(f, "inputs/lists/salt.txt", "240", "480");
        let new = sha256(&f["inputs/lists/salt.txt"]);
        replace(f, "inputs/lists/a.yaml", &old, &new);
        cover(f, "inputs/lists/salt.txt", &before);
        cover(f, "inputs/lists/a.yaml", &list);
    }),
    ("evidence is gone", |f| drop(f.remove("inputs/lists/salt.txt"))),
];

/// Changes of what was written of it.
const OF_RESULTS: &[Way] = &[
    ("a verdict is turned", |f| replace(f, "review.json", "\"conforms\"", "\"does_not_conform\"")),
    ("a value in the review is another", |f| {
        covered(f, "review.json", "\"value\": 0.", "\"value\": 1.");
    }),
    ("the review is laid out otherwise", |f| covered(f, "review.json", "\n", "\n\n")),
    ("the review is gone", |f| drop(f.remove("review.json"))),
    ("a measure is another", |f| covered(f, "measures.json", "\"value\": 0.", "\"value\": 1.")),
    ("the page of the review is another", |f| {
        covered(f, "review.html", "conforms", "conforms well");
    }),
    ("the page has a script", |f| {
        covered(f, "declaration.html", "</body>", "<script>1</script></body>");
    }),
    ("the page names another object", |f| {
        covered(f, "declaration.html", "revision B", "revision C");
    }),
    ("the outcome is another", |f| covered(f, "test-result.json", "PASSED", "FAILED")),
    ("other bytes are to be signed", |f| replace(f, TO_SIGN, "DSSEv1", "DSSEv2")),
    ("nothing is to be signed", |f| put(f, TO_SIGN, "")),
];

/// Changes of the statement.
const OF_STATEMENT: &[Way] = &[
    ("the statement is gone", |f| drop(f.remove(STATEMENT))),
    ("the statement is cut off", |f| f.get_mut(STATEMENT).unwrap().truncate(400)),
    ("the statement is of another type", |f| replace(f, STATEMENT, "Statement/v1", "Statement/v2")),
    ("the predicate is of another edition", |f| {
        replace(f, STATEMENT, "declaration:1", "declaration:2");
    }),
    ("an unknown key is added", |f| {
        replace(f, STATEMENT, "\"number\": \"14\",", "\"number\": \"14\", \"also\": 1,");
    }),
    ("a key stands twice", |f| {
        replace(f, STATEMENT, "\"number\": \"14\",", "\"number\": \"14\", \"number\": \"15\",");
    }),
    ("the number is another", |f| {
        replace(f, STATEMENT, "\"number\": \"14\"", "\"number\": \"15\"");
    }),
    ("the signatory is another", |f| replace(f, STATEMENT, "R. Example", "S. Example")),
    ("the issuer is another", |f| replace(f, STATEMENT, "Hillbrook Pressings", "Others")),
    ("the day is another", |f| {
        replace(f, STATEMENT, "\"on\": \"2026-11-26\"", "\"on\": \"2026-11-27\"");
    }),
    ("it is valid for longer", |f| replace(f, STATEMENT, "2028-11-25", "2038-11-25")),
    ("the sentence says more", |f| {
        replace(f, STATEMENT, "conforms to every", "is safe and conforms to every");
    }),
    ("another version is said to have judged", |f| {
        replace(
            f,
            STATEMENT,
            concat!("\"version\": \"", env!("CARGO_PKG_VERSION"), "\""),
            "\"version\": \"0.0.1\"",
        );
    }),
    ("an older engine, and a verdict of it", |f| {
        replace(
            f,
            STATEMENT,
            concat!("\"version\": \"", env!("CARGO_PKG_VERSION"), "\""),
            "\"version\": \"0.0.1\"",
        );
        replace(f, STATEMENT, "\"verdict\": \"conforms\"", "\"verdict\": \"does not conform\"");
    }),
    ("a value in the statement is another", |f| {
        replace(f, STATEMENT, "\"low\": 0.0", "\"low\": 0.1");
    }),
    ("an edition is another", |f| {
        let text = String::from_utf8(f[STATEMENT].clone()).unwrap();
        let at = text.find("\"edition\": \"").unwrap() + 12;
        let old = text[at..at + 64].to_owned();
        put(f, STATEMENT, &text.replacen(&old, &"a".repeat(64), 1));
    }),
    ("a file is listed no more", |f| {
        let text = String::from_utf8(f[STATEMENT].clone()).unwrap();
        let at = text.find("\"name\": \"review.html\"").unwrap();
        let (from, to) = (text[..at].rfind('{').unwrap(), at + text[at..].find("},").unwrap() + 2);
        put(f, STATEMENT, &format!("{}{}", &text[..from], &text[to..]));
    }),
    ("a subject stands twice", |f| {
        let text = String::from_utf8(f[STATEMENT].clone()).unwrap();
        let (from, to) = (text.find("    {\n").unwrap(), text.find("    },\n").unwrap() + 7);
        put(f, STATEMENT, &format!("{}{}{}", &text[..to], &text[from..to], &text[to..]));
    }),
    ("a path leads out", |f| {
        replace(f, STATEMENT, "\"from\": \"inputs/", "\"from\": \"../inputs/");
    }),
    ("a path is that of the machine", |f| {
        replace(f, STATEMENT, "\"from\": \"inputs/", "\"from\": \"/inputs/");
    }),
    ("a digest is another", |f| {
        let digest = sha256(&f["inputs/pans/plain.yaml"]);
        replace(f, STATEMENT, &digest, &"0".repeat(64));
    }),
    ("what is there is said to be withheld", |f| {
        replace(f, STATEMENT, "\"withheld\": null", "\"withheld\": \"ours\"");
    }),
];

/// Things added.
const ADDED: &[Way] = &[
    ("a file is added", |f| put(f, "inputs/pans/new.yaml", "pan: 1\n")),
    ("a file shadows another by its case", |f| put(f, "inputs/pans/Plain.yaml", "pan: 1\n")),
    ("a hidden file is added", |f| put(f, ".note", "")),
    ("a rulebook is brought along as the built-in one", |f| {
        put(f, "built-in/rules/own.yaml", RULES);
    }),
    ("a project nearer to the pans", |f| {
        put(f, "inputs/pans/sumpwright.yaml", "project: 1\npans: '*.yaml'\n");
    }),
];

fn each(ways: &[Way]) -> Vec<(&'static str, Confirmation)> {
    let folder = World::new().handed_over();
    ways.par_iter()
        .map(|(name, change)| {
            let mut changed = folder.clone();
            change(&mut changed);
            assert_ne!(changed, folder, "{name} changes nothing");
            (*name, confirmed(&changed, Customer::default()))
        })
        .collect()
}

fn none_is_confirmed(ways: &[Way]) {
    for (name, found) in each(ways) {
        assert!(
            matches!(found.outcome, Outcome::Differs | Outcome::CannotConfirm),
            "{name}: {:?}",
            found.outcome
        );
        assert!(!found.reasons.is_empty(), "{name}");
    }
}

#[test]
fn no_change_of_what_was_judged_with_is_confirmed() {
    none_is_confirmed(OF_INPUTS);
}

#[test]
fn no_change_of_what_is_asked_for_is_confirmed() {
    none_is_confirmed(OF_REQUIREMENTS);
}

#[test]
fn no_change_of_what_was_written_is_confirmed() {
    none_is_confirmed(OF_RESULTS);
}

#[test]
fn no_change_of_the_statement_is_confirmed() {
    none_is_confirmed(OF_STATEMENT);
}

#[test]
fn nothing_added_is_confirmed() {
    none_is_confirmed(ADDED);
    let folder = World::new().handed_over();
    let odd = vec![("inputs/link.yaml".to_owned(), "a link".to_owned())];
    let found = confirmed(&folder, Customer { odd, ..Customer::default() });
    assert_eq!(found.outcome, Outcome::Differs);
}

#[test]
fn only_line_endings_are_named_as_such() {
    let mut folder = World::new().handed_over();
    let text = String::from_utf8(folder["inputs/lists/salt.txt"].clone()).unwrap();
    put(&mut folder, "inputs/lists/salt.txt", &text.replace('\n', "\r\n"));
    let found = confirmed(&folder, Customer::default());
    assert_eq!(found.files[0].state, FileState::LineEndings);
    // A list with that document in it is not read in whole; what a person said to another clause is not said to differ.
    let of = |number: &str| found.clauses.iter().find(|clause| clause.name == number).unwrap();
    assert_eq!(of("2.2").outcome, ItemOutcome::Altered);
    assert_eq!(of("2.3").outcome, ItemOutcome::Altered);
    assert!(of("2.3").why.contains("inputs/lists/salt.txt is altered"), "{}", of("2.3").why);
    assert_eq!(of("2.1").outcome, ItemOutcome::Same);
}

/// The document that was signed for decides what is secret.
#[test]
fn what_only_the_statement_withholds_is_missing() {
    let mut folder = World::new().handed_over();
    folder.remove("inputs/lists/salt.txt");
    let mut statement: serde_json::Value = serde_json::from_slice(&folder[STATEMENT]).unwrap();
    let files = statement["predicate"]["files"].as_array_mut().unwrap();
    let salt = files.iter_mut().find(|file| file["name"] == "inputs/lists/salt.txt").unwrap();
    salt["withheld"] = "Ours.".into();
    put(&mut folder, STATEMENT, &serde_json::to_string_pretty(&statement).unwrap());
    let found = confirmed(&folder, Customer::default());
    assert_eq!(found.outcome, Outcome::Differs, "{:#?}", found.reasons);
    assert_eq!(found.files[0].state, FileState::Missing);
}

/// A pan that is gone says nothing of the rules, and the customer is not sent to look for another rulebook.
#[test]
fn where_a_pan_is_gone_the_rulebook_is_not_said_to_be_another() {
    let mut folder = World::new().handed_over();
    folder.remove("inputs/pans/plain.yaml");
    let found = confirmed(&folder, Customer::default());
    assert_eq!(found.outcome, Outcome::Differs);
    assert!(found.rulebook.known_by.is_some(), "{:#?}", found.rulebook);
    assert!(!found.reasons.iter().any(|why| why.contains("rulebook")), "{:#?}", found.reasons);
    replace(&mut folder, "inputs/rules/own.yaml", "at_least: 8 mm", "at_least: 2 mm");
    let found = confirmed(&folder, Customer::default());
    assert!(found.rulebook.known_by.is_none());
}

/// One byte of each file, at places spread over it.
#[test]
fn a_byte_changed_anywhere_is_noticed() {
    let folder = World::new().handed_over();
    let names: Vec<&String> = folder.keys().collect();
    names.par_iter().for_each(|name| {
        let length = folder[*name].len();
        for share in [0, 3, 7] {
            let mut changed = folder.clone();
            let bytes = changed.get_mut(*name).unwrap();
            let at = length * share / 10;
            bytes[at] = if bytes[at] == b'x' { b'y' } else { b'x' };
            let found = confirmed(&changed, Customer::default());
            assert_ne!(found.outcome, Outcome::Confirmed, "{name}, byte {at}");
        }
    });
}

/// Signatures; the arithmetic is held against RFC 8032 in the core.
mod signed {
    use super::*;
    use ed25519_dalek::pkcs8::EncodePublicKey;
    use ed25519_dalek::pkcs8::spki::der::pem::LineEnding;
    use ed25519_dalek::{Signer, SigningKey};
    use sumpwright_report::envelope;

    type Signing<'a> = (&'a str, &'a dyn Fn(&mut Files));

    fn key(seed: u8) -> (SigningKey, PublicKey) {
        let own = SigningKey::from_bytes(&[seed; 32]);
        let pem = own.verifying_key().to_public_key_pem(LineEnding::LF).unwrap();
        let public = PublicKey::read(&pem).unwrap();
        (own, public)
    }

    fn sign(folder: &mut Files, own: &SigningKey) {
        let signature = own.sign(&folder[TO_SIGN]).to_bytes();
        let text = envelope(&folder[STATEMENT], &signature, "head of design").unwrap();
        put(folder, ENVELOPE, &text);
    }

    fn judged(folder: &Files, key: &PublicKey) -> Confirmation {
        confirmed(folder, Customer { key: Some(key), ..Customer::default() })
    }

    #[test]
    fn a_signature_of_the_key_given_is_told() {
        let ((own, public), mut folder) = (key(1), World::new().handed_over());
        sign(&mut folder, &own);
        let found = judged(&folder, &public);
        assert_eq!(found.outcome, Outcome::Confirmed, "{:#?}", found.reasons);
        assert_eq!(found.authenticity, Authenticity::Signed(public.hex()));
    }

    #[test]
    fn no_other_signature_is() {
        let ((own, public), (other, _)) = (key(1), key(2));
        let folder = World::new().handed_over();
        let ways: &[Signing<'_>] = &[
            ("none", &|_| {}),
            ("another's", &|f| sign(f, &other)),
            ("of another statement", &|f| {
                sign(f, &own);
                replace(f, STATEMENT, "\"number\": \"14\"", "\"number\": \"15\"");
            }),
            ("of another type", &|f| {
                sign(f, &own);
                replace(f, ENVELOPE, "vnd.in-toto+json", "json");
            }),
            ("altered", &|f| {
                sign(f, &own);
                replace(f, ENVELOPE, "\"sig\": \"", "\"sig\": \"A");
            }),
            ("not one", &|f| {
                sign(f, &own);
                put(f, ENVELOPE, "{}");
            }),
            ("of a payload written otherwise", &|f| {
                let text = String::from_utf8(f[STATEMENT].clone()).unwrap().replace('\n', "");
                let bytes = sumpwright_core::confirm::to_sign(
                    sumpwright_core::confirm::PAYLOAD_TYPE,
                    text.as_bytes(),
                );
                let signature = own.sign(&bytes).to_bytes();
                put(f, ENVELOPE, &envelope(text.as_bytes(), &signature, "").unwrap());
            }),
        ];
        for (name, change) in ways {
            let mut changed = folder.clone();
            change(&mut changed);
            let found = judged(&changed, &public);
            assert_eq!(found.outcome, Outcome::Differs, "{name}");
            assert!(matches!(found.authenticity, Authenticity::NotSigned(_)), "{name}");
        }
    }

    #[test]
    fn an_envelope_that_signs_another_statement_is_noticed_without_a_key() {
        let ((own, _), mut folder) = (key(1), World::new().handed_over());
        sign(&mut folder, &own);
        replace(&mut folder, STATEMENT, "Hillbrook Pressings", "Others");
        let found = confirmed(&folder, Customer::default());
        assert_eq!(found.outcome, Outcome::Differs);
    }

    #[test]
    fn an_envelope_that_does_not_hold_the_statement_is_noticed_without_a_key() {
        let ((own, public), mut folder) = (key(1), World::new().handed_over());
        sign(&mut folder, &own);
        assert_eq!(confirmed(&folder, Customer::default()).outcome, Outcome::Confirmed);
        let other = envelope(b"{}", &[0; 64], "").unwrap();
        for altered in ["{}", other.as_str()] {
            put(&mut folder, ENVELOPE, altered);
            let found = confirmed(&folder, Customer::default());
            assert_eq!(found.outcome, Outcome::Differs, "{altered}");
            assert_eq!(found.files.len(), 1);
            assert!(matches!(found.files[0].state, FileState::NotTheStatement(_)), "{altered}");
            // With a key it is told once, as why it is not signed.
            assert!(judged(&folder, &public).files.is_empty(), "{altered}");
        }
    }
}
