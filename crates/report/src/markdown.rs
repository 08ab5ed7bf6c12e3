//! A review as Markdown, for a merge request: what is against the pans first, then a table of all verdicts.
//!
//! Plain CommonMark with the tables that code hosts know. Text of others is escaped, so that a name can make no
//! heading, link, image, mention or markup.

use crate::counts::{by_verdict, gravest_first};
use crate::said::{self, unglued};
use crate::scale::Scale;
use crate::{across, changes, computed, conceded, deciding, place, screening, visible};
use sumpwright_core::review::{ChecklistHeld, ConcessionFinding, Finding, PanReview, Review};
use sumpwright_core::source::{Diagnostic, Severity, Sources};
use sumpwright_core::verdict::Verdict;

/// Writes a review.
pub(crate) fn review(review: &Review) -> String {
    let mut out = String::from("# Oil pan review\n\n");
    let findings = || review.pans.iter().flat_map(|pan| &pan.findings);
    let counts = unglued(&said::counts(&by_verdict(findings())));
    let pans = said::number_of(review.pans.len(), "pan");
    let rules = said::number_of(review.rules, "rule");
    let looked = || format!("Looked at {pans} against {rules}: {counts}.");
    let said = screening::summary(review).map_or_else(looked, |said| escaped(&said));
    push(&mut out, &said);
    if review.is_of_nothing() {
        push(&mut out, "**Nothing was judged.**");
    }
    if !review.problems.is_empty() {
        push(&mut out, "## Problems of the documents");
        for problem in &review.problems {
            out.push_str(&problem_line(&review.sources, problem));
        }
        out.push('\n');
    }
    let changes = changes::lines(&review.book);
    if !changes.is_empty() {
        push(&mut out, &format!("## {}", changes::HEADING));
        for line in changes {
            out.extend(["- **", line.word, "** ", &escaped(&line.placed(&review.sources)), "\n"]);
        }
        out.push('\n');
    }
    if !review.conceding.findings.is_empty() {
        push(&mut out, &format!("## {}", conceded::HEADING));
        for finding in &review.conceding.findings {
            out.push_str(&concession_line(&review.sources, finding));
        }
        out.push('\n');
    }
    if !screening::stale(review).is_empty() {
        push(&mut out, &format!("## {}", screening::HEADING));
        for finding in screening::stale(review) {
            let at = code(&place::text(&review.sources, finding.span));
            let about = code(&screening::about(finding));
            let (said, help) = (escaped(&finding.message), escaped(&finding.help));
            let line = format!("- **{}** {at}: {about}: {said} – {help}\n", screening::WORD);
            out.push_str(&line);
        }
        out.push('\n');
    }
    if review.screening.is_none() {
        across(&mut out, review);
    }
    for pan in &review.pans {
        write_pan(&mut out, &review.sources, pan);
        if review.screening.is_none() {
            write_verdicts(&mut out, pan);
        }
    }
    for list in &review.checklists {
        write_checklist(&mut out, list);
    }
    if let Some(summary) = conceded::summary(review) {
        push(&mut out, &escaped(&summary));
    }
    push(&mut out, CAUTION);
    format!("{}\n", out.trim_end())
}

pub(crate) const CAUTION: &str = "_This review holds a description against rules; it approves no part and no vehicle. The \
vehicle maker's manual, local codes and licensed practice come first._";

pub(crate) fn push(out: &mut String, paragraph: &str) {
    out.push_str(paragraph);
    out.push_str("\n\n");
}

pub(crate) fn problem_line(sources: &Sources, problem: &Diagnostic) -> String {
    let word = match problem.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    };
    let help = problem.help.as_deref().map_or_else(String::new, |h| format!(" – {}", escaped(h)));
    let at = code(&place::text(sources, problem.primary.span));
    format!("- **{word}** {at}: {}{help}\n", escaped(&problem.message))
}

fn write_checklist(out: &mut String, list: &ChecklistHeld) {
    push(out, &format!("## Checklist {} · {}", code(&list.path), escaped(&list.title)));
    for pan in &list.pans {
        push(out, &format!("{}: {}", code(&pan.path), escaped(&said::checklist_outcome(pan))));
        out.push_str("| clause | binding | answer | asked | by |\n|---|---|---|---|---|\n");
        for clause in &pan.clauses {
            let binding = if clause.binding { "binding" } else { "not binding" };
            let line = format!(
                "| {} | {binding} | {} | {} | {} |\n",
                escaped(said::clause_name(clause)),
                clause.answer.words(),
                escaped(&clause.says),
                escaped(&said::answered_by(clause)),
            );
            out.push_str(&line);
        }
        out.push('\n');
    }
}

/// Rules that are not met everywhere, beside the pans.
fn across(out: &mut String, review: &Review) {
    let lines = across::lines(review, false);
    if lines.is_empty() {
        return;
    }
    push(out, "## Across the pans");
    let columns = across::columns(&lines, &review.pans, false);
    let pans = columns.iter().filter_map(|place| review.pans.get(*place));
    let heads: Vec<String> =
        pans.map(|pan| escaped(pan.title.as_deref().unwrap_or(&pan.path))).collect();
    out.extend(["| rule | ", &heads.join(" | "), " |\n|---|", &"---|".repeat(heads.len()), "\n"]);
    for line in &lines {
        let word = |place: &usize| across::short(line.verdicts.get(*place).copied().flatten());
        let words: Vec<&str> = columns.iter().map(word).collect();
        out.extend(["| ", &code(line.rule), " | ", &words.join(" | "), " |\n"]);
    }
    out.push('\n');
    push(out, across::MEANS);
}

fn concession_line(sources: &Sources, finding: &ConcessionFinding) -> String {
    let (at, about) = (code(&place::text(sources, finding.span)), code(&conceded::about(finding)));
    let (said, help) = (escaped(&conceded::finding(finding)), escaped(&finding.help));
    format!("- **{}** {at}: {said}, for {about} – {help}\n", finding.fault.words())
}

fn write_pan(out: &mut String, sources: &Sources, pan: &PanReview) {
    let title = pan.title.as_deref().map_or_else(String::new, |t| format!(" · {}", escaped(t)));
    push(out, &format!("## {}{title}", code(&pan.path)));
    let told = |f: &&Finding| {
        !matches!(f.verdict, Verdict::Conforms | Verdict::NotApplicable) || !f.remarks.is_empty()
    };
    for finding in gravest_first(&pan.findings).into_iter().filter(told) {
        write_finding(out, sources, finding);
    }
}

fn write_verdicts(out: &mut String, pan: &PanReview) {
    let counts = unglued(&said::counts(&by_verdict(&pan.findings)));
    push(out, &format!("<details><summary>All verdicts: {counts}</summary>"));
    out.push_str("| verdict | rule | computed | asked | margin |\n|---|---|---|---|---|\n");
    for finding in &pan.findings {
        out.push_str(&row(finding));
    }
    push(out, "\n</details>");
}

fn write_finding(out: &mut String, sources: &Sources, finding: &Finding) {
    let scale = Scale::of_finding(finding);
    let verdict = finding.verdict.words();
    push(out, &format!("### {verdict}: {}", escaped(&finding.title)));
    let mut line = |word: &str, text: &str| out.extend(["- ", word, ": ", text, "\n"]);
    line("rule", &code(&said::identity(finding)));
    line("at", &code(&place::text(sources, finding.subject)));
    line("computed", &escaped(&said::in_short(finding, &scale)));
    for limit in &finding.limits {
        line("asked", &escaped(&said::limit(finding, limit, &scale)));
    }
    if let Some(worst) = &finding.worst {
        line("worst", &escaped(&said::worst(worst)));
    }
    if let Some(driver) = &finding.driver {
        let moved = format!("{}: {}", driver.path, said::effect(driver, &scale));
        line("moved most by", &escaped(&moved));
    }
    if let Some(accepted) = &finding.acceptance {
        line(conceded::word(accepted), &escaped(&conceded::told(accepted)));
    }
    for remark in &finding.remarks {
        line("remark", &escaped(&conceded::remark(remark)));
    }
    line("why", &escaped(&finding.because));
    line("source", &escaped(&finding.source));
    let mut optional = vec![("remedy", finding.remedy.clone())];
    let computed = computed::paragraphs(sources, finding);
    optional.extend(computed.into_iter().map(|text| (computed::WORD, Some(text))));
    optional.push(("caution", finding.caution.clone()));
    for (word, text) in optional {
        if let Some(text) = text {
            line(word, &escaped(&text));
        }
    }
    for need in &finding.needs {
        line("to measure", &escaped(&format!("{}: {}", need.path, need.how_to_get)));
    }
    out.push('\n');
}

fn row(finding: &Finding) -> String {
    let scale = Scale::of_finding(finding);
    let value = said::computed(finding, &scale).unwrap_or_default();
    let limit = deciding::deciding(finding);
    let asked = limit.map_or_else(String::new, |l| said::limit(finding, l, &scale));
    let margin = limit.and_then(|l| l.margin.map(|m| said::margin(&m, l.side, &scale)));
    let cells = [value, asked, margin.unwrap_or_default()].map(|cell| escaped(&cell));
    let verdict = finding.verdict.words();
    format!("| {verdict} | {} | {} |\n", code(&said::identity(finding)), cells.join(" | "))
}

/// Text in which no sign acts as markup.
pub(crate) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in visible::visible_paragraph(&unglued(text)).chars() {
        match c {
            '\\' | '`' | '*' | '_' | '[' | ']' | '#' | '|' | '!' | '~' => {
                out.push('\\');
                out.push(c);
            }
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            // Without this a host would notify a person whose name is in a file.
            '@' => out.push_str("&#64;"),
            _ => out.push(c),
        }
    }
    out
}

/// A path or name as code; a grave accent in it would end it, and a bar would end a table's cell.
pub(crate) fn code(text: &str) -> String {
    let shown = visible::visible_paragraph(&unglued(text)).replace('`', "'").replace('|', "\\|");
    format!("`{shown}`")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples;

    #[test]
    fn a_review_is_told_as_a_person_reads_it_in_a_merge_request() {
        insta::assert_snapshot!(review(&samples::every_verdict()));
    }

    #[test]
    fn a_name_can_make_no_markup_and_call_nobody() {
        assert_eq!(
            escaped("<img src=x> @all [a](b) *x* | `c`"),
            "&lt;img src=x&gt; &#64;all \\[a\\](b) \\*x\\* \\| \\`c\\`"
        );
    }
}
