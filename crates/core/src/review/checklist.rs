//! A customer's list held against reviewed pans: every clause, and what answers it.

use super::judge::gravity;
use super::{Finding, PanReview};
use crate::document::Text;
use crate::document::checklist::{ChecklistDoc, ClauseDoc, EvidenceDoc};
use crate::document::dossier::{Library, Part};
use crate::document::reader::{Findings, read_checklist};
use crate::rule::Rulebook;
use crate::source::{Code, Diagnostic, Severity, Span, nearest};
use crate::verdict::Verdict;

/// A customer's list, held against every pan of a review.
#[derive(Debug, Clone)]
pub struct ChecklistHeld {
    /// Its path as shown.
    pub path: String,
    /// What it is called.
    pub title: String,
    /// Who asks for it.
    pub customer: String,
    /// The pans, in the order of the review.
    pub pans: Vec<PanHeld>,
}

impl ChecklistHeld {
    /// Whether a binding clause is not shown to be met by some pan.
    pub fn is_against(&self) -> bool {
        self.pans.iter().any(|pan| pan.clauses.iter().any(ClauseHeld::is_against))
    }
}

/// One pan against a list.
#[derive(Debug, Clone)]
pub struct PanHeld {
    /// The pan's path as shown.
    pub path: String,
    /// Every clause, in the order of the list.
    pub clauses: Vec<ClauseHeld>,
}

/// One clause on one pan.
#[derive(Debug, Clone)]
pub struct ClauseHeld {
    /// Its name in the list.
    pub name: String,
    /// Its number in the customer's text.
    pub number: Option<String>,
    /// What it asks.
    pub says: String,
    /// Whether it must be met.
    pub binding: bool,
    /// Where it stands.
    pub span: Span,
    /// What comes of it.
    pub answer: Answer,
    /// The verdicts of its rules, on each object.
    pub rules: Vec<RuleAnswer>,
    /// The document that answers it.
    pub evidence: Option<EvidenceHeld>,
    /// What a person says to it.
    pub statement: Option<StatementHeld>,
}

impl ClauseHeld {
    /// Whether it must be met and is not shown to be.
    pub fn is_against(&self) -> bool {
        self.binding && !self.answer.is_settled()
    }
}

/// What comes of a clause.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Answer {
    /// The worst verdict of its rules.
    Rules(Verdict),
    /// A document answers it.
    Evidence,
    /// A person's word answers it.
    Statement,
    /// Nothing does.
    Unanswered,
}

impl Answer {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Rules(verdict) => verdict.words(),
            Self::Evidence => "by evidence",
            Self::Statement => "by statement",
            Self::Unanswered => "unanswered",
        }
    }

    /// Whether nothing remains to be shown. Written so that a verdict added later is not settled until someone
    /// says so.
    pub fn is_settled(self) -> bool {
        matches!(
            self,
            Self::Rules(Verdict::Conforms | Verdict::NotApplicable)
                | Self::Evidence
                | Self::Statement
        )
    }
}

/// A verdict that answers a clause.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RuleAnswer {
    /// Id of the rule.
    pub rule: String,
    /// Path of the object, for a rule on a kind.
    pub object: Option<String>,
    /// The verdict.
    pub verdict: Verdict,
}

/// A document that answers a clause; its digest was found to be the one stated.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EvidenceHeld {
    /// Its path as shown.
    pub path: String,
    /// Its SHA-256 digest.
    pub sha256: String,
    /// What it shows.
    pub shows: String,
}

/// What a person says to a clause.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StatementHeld {
    /// What.
    pub words: String,
    /// Who.
    pub by: String,
    /// In which function.
    pub function: String,
    /// On which day.
    pub on: String,
}

/// Holds pans against lists; what is wrong with a list is told, and nothing is held against it then.
pub(super) fn held_against(
    library: &mut Library<'_>,
    paths: &[String],
    rulebook: Option<&Rulebook>,
    pans: &[PanReview],
) -> Vec<ChecklistHeld> {
    let mut paths: Vec<&String> = paths.iter().collect();
    paths.sort();
    paths.dedup();
    paths.into_iter().filter_map(|path| held(library, path, rulebook, pans)).collect()
}

fn held(
    library: &mut Library<'_>,
    path: &str,
    rulebook: Option<&Rulebook>,
    pans: &[PanReview],
) -> Option<ChecklistHeld> {
    let part = library.list_named_by_user(path)?;
    let mut found = Findings::default();
    let doc = read_checklist(&part.node, &mut found);
    if let (Some(doc), Some(rulebook)) = (&doc, rulebook) {
        agrees_with_rulebook(doc, rulebook, &mut found.problems);
    }
    let mut sound = !found.problems.iter().any(|problem| problem.severity == Severity::Error);
    library.problems.append(&mut found.problems);
    let doc = doc?;
    let mut clauses = Vec::new();
    for item in &doc.clauses.entries {
        let shown = item.value.evidence.as_ref().map(|asked| evidence(library, &part, asked));
        sound &= !matches!(shown, Some(None));
        clauses.push((item.name.as_str(), item.name_span, &item.value, shown.flatten()));
    }
    if !sound || rulebook.is_none() {
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

/// Whether the list asks for the rules that are in use, and for no others.
fn agrees_with_rulebook(doc: &ChecklistDoc, rulebook: &Rulebook, problems: &mut Vec<Diagnostic>) {
    if let Some(asked) = doc.rulebook_edition.as_ref().filter(|e| e.text != rulebook.edition) {
        let message = format!(
            "this list asks for another edition of the rulebook than the one in use, which is {}",
            rulebook.edition
        );
        let help = "judge by the rulebook that the customer names, with --rules";
        problems.push(Diagnostic::error(Code::Contradiction, asked.span, message).help(help));
    }
    for id in doc.clauses.entries.iter().flat_map(|clause| &clause.value.rules) {
        let Some(rule) = rulebook.rules.iter().find(|rule| rule.doc.id.text == id.text) else {
            problems.push(unknown_rule(id, rulebook));
            continue;
        };
        if let Some(asked) = doc.decision.as_ref().filter(|asked| asked.value != rule.decision) {
            let message = format!(
                "`{}` is decided by another decision rule than this list asks for",
                id.text
            );
            let help = "state the same `decision` in the rulebook, which may build on another";
            problems.push(
                Diagnostic::error(Code::Contradiction, asked.span, message)
                    .also(id.span, "it answers this clause")
                    .help(help),
            );
        }
    }
}

fn unknown_rule(id: &Text, rulebook: &Rulebook) -> Diagnostic {
    let message = format!("the rulebook in use has no rule `{}`", id.text);
    let ids = rulebook.rules.iter().map(|rule| rule.doc.id.text.as_str());
    let help = nearest(&id.text, ids).map_or_else(
        || "`sumpwright explain` lists the rules".to_owned(),
        |near| format!("did you mean `{near}`?"),
    );
    Diagnostic::error(Code::UnknownName, id.span, message).help(help)
}

/// The document, if it is there and is the one that was meant.
fn evidence(library: &mut Library<'_>, list: &Part, asked: &EvidenceDoc) -> Option<EvidenceHeld> {
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
    let worst = rules.iter().map(|answer| answer.verdict).max_by_key(|v| gravity(*v));
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
