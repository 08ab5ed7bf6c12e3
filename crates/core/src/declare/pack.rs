//! What is handed over: every file that was judged with, judged again where it then lies.

use super::layout::layout;
use super::noted::Noted;
use super::read::{Asked, Attached};
use super::{
    Assessor, ClauseResult, DeclareRequest, Evidence, Issuer, Judging, Listed, Object, Person,
    Record, Refusal, Requirements, Role, RuleResult, is_yaml, judge,
};
use crate::document::DocumentKind;
use crate::document::attached::ATTACHED_LIMIT;
use crate::document::reader::kind_of;
use crate::review::{self, Measured, Request, Review};
use crate::rule::hex;
use crate::source::{Files, Folder, Sources, parse};
use crate::verdict::Verdict;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};

/// What is to be handed over, before anything that is made from it is written.
#[derive(Debug)]
pub struct Package {
    /// The files that were judged with; those that are withheld are not among them.
    pub folder: Folder,
    /// What is declared. Its list of files holds those of the folder and those withheld, and nothing that is made.
    pub record: Record,
    /// The review, judged in the folder.
    pub review: Review,
    /// Every measure, likewise.
    pub measured: Measured,
}

/// The SHA-256 digest (FIPS 180-4) in 64 hexadecimal digits.
pub fn sha256(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

/// The pans conform by what was computed here, under the stated duty; more is not said.
const CONFORMS: &str = "The object of this declaration, as it is described in the files listed here, conforms to every \
requirement with `shall` of the rulebook named here that applies to it, as computed under the stated duty and with the \
stated uncertainty.";
const CONFORMS_BUT: &str = "The object of this declaration, as it is described in the files listed here, conforms to every \
requirement with `shall` of the rulebook named here that applies to it, as computed under the stated duty and with the \
stated uncertainty, but for the departures that the listed concessions cover.";

/// Copies, and judges again.
///
/// # Errors
/// Where a copy cannot be made, or is judged otherwise than the original.
pub(super) fn pack(
    files: &Noted<'_>,
    request: DeclareRequest<'_>,
    asked: &Asked,
    attached: &Attached,
    review: &Review,
) -> Result<Package, Refusal> {
    let at = asked.doc.number.span;
    let refuse = |what: String| Refusal { what, at, unfinished: true };
    let seen = files.seen();
    let places = layout(seen.iter(), request.absolute);
    let moved = |path: &String| places.get(path).cloned().unwrap_or_else(|| path.clone());
    let mut folder = Folder::default();
    for path in &seen {
        let bytes = files.read(path, None, ATTACHED_LIMIT).map_err(|_| {
            refuse(format!("{path} cannot be copied: it is gone, or larger than 256 MiB"))
        })?;
        folder.files.insert(moved(path), bytes);
    }
    if files.took_built_in() {
        let texts = files.built_in().into_iter();
        folder.files.extend(texts.map(|(path, text)| (path, text.into_bytes())));
    }
    let all = |paths: &[String]| paths.iter().map(moved).collect::<Vec<String>>();
    let rulebook = asked.judging.rulebook.iter().map(|(path, text)| (moved(path), text.clone()));
    let judging = Judging {
        pans: all(&asked.judging.pans),
        rulebook: rulebook.collect(),
        checklists: all(&asked.judging.checklists),
        concessions: all(&asked.judging.concessions),
        ..asked.judging.clone()
    };
    // Drawings show the shape that is to stay secret.
    let again = judge(&folder, &judging, asked.withheld.is_empty());
    if verdicts(&again) != verdicts(review) {
        return Err(refuse(
            "the copy is judged otherwise than the original; this is a fault of the program"
                .to_owned(),
        ));
    }
    let measured = review::measure(Request {
        files: &folder,
        pans: &judging.pans,
        rulebook: &[],
        drawn: false,
    });
    let evidence: BTreeSet<String> =
        evidence_of(review, attached).map(|path| moved(&path)).collect();
    let source = moved(&request.path.to_owned());
    let mut listed: Vec<Listed> = folder
        .files
        .iter()
        .map(|(name, bytes)| Listed {
            name: name.clone(),
            role: role(name, bytes, &judging, &evidence),
            sha256: sha256(bytes),
            withheld: None,
        })
        .collect();
    for (path, because) in &asked.withheld {
        let name = moved(path);
        folder.files.remove(&name);
        for file in listed.iter_mut().filter(|file| file.name == name) {
            file.withheld = Some(because.clone());
        }
    }
    let record = record(asked, attached, &again, listed, (&judging, &source, &places));
    Ok(Package { folder, record, review: again, measured })
}

/// Pan and verdicts, without the paths, which differ.
fn verdicts(review: &Review) -> Vec<(&str, Option<&str>, Verdict)> {
    let findings = review.pans.iter().flat_map(|pan| &pan.findings);
    let mut all: Vec<_> =
        findings.map(|f| (f.rule.as_str(), f.object.as_deref(), f.verdict)).collect();
    // Other paths may bring the pans into another order.
    all.sort_by_key(|(rule, object, verdict)| (*rule, *object, verdict.words()));
    all
}

fn evidence_of<'a>(
    review: &'a Review,
    attached: &'a Attached,
) -> impl Iterator<Item = String> + 'a {
    let clauses = review.checklists.iter().flat_map(|list| &list.pans).flat_map(|pan| &pan.clauses);
    let of_lists = clauses.filter_map(|clause| clause.evidence.as_ref());
    of_lists.chain(attached.evidence.iter().map(|(_, held)| held)).map(|held| held.path.clone())
}

fn role(name: &str, bytes: &[u8], judging: &Judging, evidence: &BTreeSet<String>) -> Role {
    if judging.pans.iter().any(|path| path == name) {
        return Role::Pan;
    }
    if evidence.contains(name) {
        return Role::Evidence;
    }
    let kind = std::str::from_utf8(bytes).ok().filter(|_| is_yaml(name)).and_then(|text| {
        let mut aside = Sources::default();
        let file = aside.add(name, text.to_owned());
        kind_of(&parse(&aside, file, &mut Vec::new())?)
    });
    match kind {
        Some(DocumentKind::Rulebook) => Role::Rulebook,
        Some(DocumentKind::Checklist) => Role::Checklist,
        Some(DocumentKind::Concessions) => Role::Concessions,
        Some(DocumentKind::Declaration) => Role::Declaration,
        _ => Role::Input,
    }
}

fn record(
    asked: &Asked,
    attached: &Attached,
    review: &Review,
    files: Vec<Listed>,
    (judging, source, places): (&Judging, &str, &BTreeMap<String, String>),
) -> Record {
    let doc = &asked.doc;
    let text = |text: &crate::document::Text| text.text.clone();
    let moved = |path: &String| places.get(path).cloned().unwrap_or_else(|| path.clone());
    let conceded = review.pans.iter().flat_map(|pan| &pan.findings);
    let conceded = conceded.filter(|finding| finding.verdict == Verdict::Conceded).count();
    let mut objects: Vec<Object> = attached
        .objects
        .iter()
        .map(|object| Object { pan: moved(&object.pan), ..object.clone() })
        .collect();
    objects.sort_by(|a, b| a.pan.cmp(&b.pan));
    let evidence = attached.evidence.iter().map(|(name, held)| Evidence {
        name: name.clone(),
        path: moved(&held.path),
        sha256: held.sha256.clone(),
        shows: held.shows.clone(),
    });
    Record {
        number: text(&doc.number),
        supersedes: doc.supersedes.as_ref().map(text),
        issuer: Issuer { name: text(&doc.issuer.name), address: text(&doc.issuer.address) },
        objects,
        serials: doc.serials.iter().map(text).collect(),
        statement: if conceded == 0 { CONFORMS } else { CONFORMS_BUT }.to_owned(),
        requirements: Requirements {
            rulebook: judging.rulebook.iter().map(|(path, _)| path.clone()).collect(),
            edition: review.book.edition.clone(),
            rules: review
                .book
                .ids
                .iter()
                .cloned()
                .zip(review.book.digests.iter().cloned())
                .collect(),
            checklists: judging.checklists.clone(),
            concessions: judging.concessions.clone(),
        },
        issued_on: doc.issued.on.date.to_string(),
        issued_at: text(&doc.issued.at),
        signatory: Person {
            name: text(&doc.signatory.name),
            function: text(&doc.signatory.function),
        },
        limited_to: doc.limits.purpose.as_ref().map(text),
        valid_until: doc.limits.until.map(|day| day.date.to_string()),
        assessed_by: doc.assessed_by.as_ref().map(|assessor| Assessor {
            person: Person {
                name: text(&assessor.person.name),
                function: text(&assessor.person.function),
            },
            competence: text(&assessor.competence),
        }),
        kept_in_line: doc.kept_in_line.as_ref().map(text),
        kept_until: doc.kept_until.map(|day| day.date.to_string()),
        evidence: evidence.collect(),
        results: results(review),
        clauses: clauses(review),
        engine: env!("CARGO_PKG_VERSION").to_owned(),
        source: source.to_owned(),
        files,
    }
}

/// What every rule came to.
pub(crate) fn results(review: &Review) -> Vec<RuleResult> {
    let of_pan = |pan: &'_ review::PanReview| -> Vec<RuleResult> {
        let finite = |value: f64| value.is_finite().then_some(value);
        let one = |finding: &review::Finding| RuleResult {
            pan: pan.path.clone(),
            rule: finding.rule.clone(),
            object: finding.object.clone(),
            verdict: finding.verdict.words().to_owned(),
            low: finding.reading.and_then(|reading| finite(reading.bounds.low)),
            high: finding.reading.and_then(|reading| finite(reading.bounds.high)),
        };
        pan.findings.iter().map(one).collect()
    };
    review.pans.iter().flat_map(of_pan).collect()
}

/// What every clause came to.
pub(crate) fn clauses(review: &Review) -> Vec<ClauseResult> {
    let mut all = Vec::new();
    for list in &review.checklists {
        for pan in &list.pans {
            all.extend(pan.clauses.iter().map(|clause| {
                let ids: BTreeSet<&String> = clause.rules.iter().map(|rule| &rule.rule).collect();
                ClauseResult {
                    list: list.path.clone(),
                    pan: pan.path.clone(),
                    clause: clause.name.clone(),
                    number: clause.number.clone(),
                    says: clause.says.clone(),
                    binding: clause.binding,
                    answer: clause.answer.words().to_owned(),
                    word: word(clause),
                    rules: ids.into_iter().cloned().collect(),
                }
            }));
        }
    }
    all
}

/// What stands for a clause that no program can judge.
fn word(clause: &review::ClauseHeld) -> Option<String> {
    let document = clause.evidence.as_ref().map(|found| format!("{}: {}", found.path, found.shows));
    let person = clause
        .statement
        .as_ref()
        .map(|said| format!("{}, {}, on {}: {}", said.by, said.function, said.on, said.words));
    let all: Vec<String> = document.into_iter().chain(person).collect();
    (!all.is_empty()).then(|| all.join("; "))
}
