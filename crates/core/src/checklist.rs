//! Customers' lists: a review, with its concessions, and lists become the same review with every clause and what answers
//! it. No verdict changes.

use crate::document::Text;
use crate::document::checklist::{ChecklistDoc, ClauseDoc, EvidenceDoc};
use crate::document::dossier::{Library, Part};
use crate::document::reader::{Findings, read_checklist};
use crate::review::{
    Answer, BookUsed, ChecklistHeld, ClauseHeld, EvidenceHeld, Finding, PanHeld, PanReview, Review,
    RuleAnswer, StatementHeld, gravity,
};
use crate::source::{Code, Diagnostic, Files, Span, has_error, nearest};
use crate::verdict::Verdict;

/// Holds every pan of a review against lists, named by their paths. What is wrong with a list is among the problems of
/// the review, and nothing is held against it then.
pub fn hold(mut review: Review, files: &dyn Files, paths: &[String]) -> Review {
    let mut paths: Vec<&String> = paths.iter().collect();
    paths.sort();
    paths.dedup();
    let mut library = Library::over(files, std::mem::take(&mut review.sources));
    for path in paths {
        let found = held(&mut library, path, &review.book, &review.pans);
        review.checklists.extend(found);
    }
    review.sources = library.sources;
    review.problems.append(&mut library.problems);
    review.problems.sort_by(|a, b| {
        (a.primary.span, a.code, &a.message).cmp(&(b.primary.span, b.code, &b.message))
    });
    review
}

fn held(
    library: &mut Library<'_>,
    path: &str,
    book: &BookUsed,
    pans: &[PanReview],
) -> Option<ChecklistHeld> {
    let part = library.list_named_by_user(path)?;
    let mut found = Findings::default();
    let doc = read_checklist(&part.node, &mut found);
    // Of a rulebook at fault nothing is known, and that has been told.
    let stands = !book.edition.is_empty();
    if let Some(doc) = doc.as_ref().filter(|_| stands) {
        agrees_with_rulebook(doc, book, &mut found.problems);
        found.problems.extend(decided_otherwise(doc, pans));
    }
    let mut sound = !has_error(&found.problems);
    library.problems.append(&mut found.problems);
    let doc = doc?;
    let mut clauses = Vec::new();
    for item in &doc.clauses.entries {
        let shown = item.value.evidence.as_ref().map(|asked| evidence(library, &part, asked));
        sound &= !matches!(shown, Some(None));
        clauses.push((item.name.as_str(), item.name_span, &item.value, shown.flatten()));
    }
    if !sound || !stands {
        return None;
    }
    let of_pan = |pan: &PanReview| PanHeld {
        path: pan.path.clone(),
        clauses: clauses
            .iter()
            .map(|(name, span, clause, shown)| {
                answered(name, *span, clause, shown.clone(), &pan.findings)
            })
            .collect(),
    };
    Some(ChecklistHeld {
        path: part.path,
        title: doc.title?.text,
        customer: doc.customer?.text,
        pans: pans.iter().map(of_pan).collect(),
    })
}

/// Whether the list asks for rules of the rulebook in use, and of that edition.
fn agrees_with_rulebook(doc: &ChecklistDoc, book: &BookUsed, problems: &mut Vec<Diagnostic>) {
    if let Some(asked) = doc.rulebook_edition.as_ref().filter(|asked| asked.text != book.edition) {
        let message = format!(
            "this list asks for another edition of the rulebook than the one in use, which is {}",
            book.edition
        );
        let help = "judge by the rulebook that the customer names, with --rules";
        problems.push(Diagnostic::error(Code::Contradiction, asked.span, message).help(help));
    }
    let asked = doc.clauses.entries.iter().flat_map(|clause| &clause.value.rules);
    let unknown = asked.filter(|id| !book.ids.contains(&id.text));
    problems.extend(unknown.map(|id| unknown_rule(id, book)));
}

/// The first rule that answers a clause and was decided by another decision rule than the list asks for.
fn decided_otherwise(doc: &ChecklistDoc, pans: &[PanReview]) -> Option<Diagnostic> {
    let asked = doc.decision.as_ref()?;
    let otherwise = |id: &&Text| {
        let mut findings = pans.iter().flat_map(|pan| verdicts_of(&pan.findings, id));
        findings.any(|finding| finding.decision != asked.value)
    };
    let id = doc.clauses.entries.iter().flat_map(|clause| &clause.value.rules).find(otherwise)?;
    let message =
        format!("`{}` is decided by another decision rule than this list asks for", id.text);
    let help = "state the same `decision` in the rulebook, which may build on another";
    let problem = Diagnostic::error(Code::Contradiction, asked.span, message);
    Some(problem.also(id.span, "it answers this clause").help(help))
}

fn unknown_rule(id: &Text, book: &BookUsed) -> Diagnostic {
    let message = format!("the rulebook in use has no rule `{}`", id.text);
    let help = nearest(&id.text, book.ids.iter().map(String::as_str)).map_or_else(
        || "`sumpwright explain` lists the rules".to_owned(),
        |near| format!("did you mean `{near}`?"),
    );
    Diagnostic::error(Code::UnknownName, id.span, message).help(help)
}

/// The document, if it is there and is the one that was meant.
pub(crate) fn evidence(
    library: &mut Library<'_>,
    list: &Part,
    asked: &EvidenceDoc,
) -> Option<EvidenceHeld> {
    let file = library.evidence(list, &asked.document)?;
    let sha256 = file.hex();
    if sha256 != asked.sha256.text {
        let message =
            format!("{} is not the document that was meant: its digest is another", file.path);
        let help = format!("it is {sha256}; state that only if the document was looked at again");
        library.problems.push(
            Diagnostic::error(Code::Contradiction, asked.sha256.span, message)
                .also(asked.document.span, "the document")
                .help(help),
        );
        return None;
    }
    Some(EvidenceHeld { path: file.path, sha256, shows: asked.shows.text.clone() })
}

fn answered(
    name: &str,
    span: Span,
    clause: &ClauseDoc,
    evidence: Option<EvidenceHeld>,
    findings: &[Finding],
) -> ClauseHeld {
    let rules: Vec<RuleAnswer> = clause
        .rules
        .iter()
        .flat_map(|id| verdicts_of(findings, id))
        .map(|finding| RuleAnswer {
            rule: finding.rule.clone(),
            object: finding.object.clone(),
            verdict: finding.verdict,
        })
        .collect();
    let statement = clause.statement.as_ref().map(|said| StatementHeld {
        words: said.words.text.clone(),
        by: said.by.text.clone(),
        function: said.function.text.clone(),
        on: said.on.text.clone(),
    });
    // Every rule that is named has to say something: one that is silent answers nothing.
    let silent = clause.rules.iter().any(|id| verdicts_of(findings, id).next().is_none());
    let worst = rules.iter().map(|answer| answer.verdict).max_by_key(|verdict| weight(*verdict));
    let applies = worst.filter(|verdict| *verdict != Verdict::NotApplicable);
    let answer = match (applies, worst) {
        _ if silent => Answer::Unanswered,
        (Some(verdict), _) => Answer::Rules(verdict),
        _ if evidence.is_some() => Answer::Evidence,
        _ if statement.is_some() => Answer::Statement,
        (None, Some(verdict)) => Answer::Rules(verdict),
        (None, None) => Answer::Unanswered,
    };
    ClauseHeld {
        name: name.to_owned(),
        number: clause.number.as_ref().map(|number| number.text.clone()),
        says: clause.says.text.clone(),
        binding: clause.binding,
        span,
        answer,
        rules,
        evidence,
        statement,
    }
}

/// What a rule came to, on each object.
fn verdicts_of<'f>(findings: &'f [Finding], id: &'f Text) -> impl Iterator<Item = &'f Finding> {
    findings.iter().filter(move |finding| finding.rule == id.text)
}

/// How much a verdict weighs in a clause: one that is conceded is told beside one that conforms.
fn weight(verdict: Verdict) -> (u8, bool) {
    (gravity(verdict), verdict == Verdict::Conceded)
}
