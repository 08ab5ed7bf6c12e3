//! A pan beside its baseline, for a merge request.

use super::HOW;
use crate::beside;
use crate::markdown::{CAUTION, code, escaped, problem_line, push};
use sumpwright_core::compare::{MeasureBeside, Outcome, PansCompared, Sides, TopicCompared};

/// Writes the comparison.
pub(crate) fn pans_compared(compared: &PansCompared) -> String {
    let mut out = String::from("# A pan beside its baseline\n\n");
    if !compared.problems.is_empty() {
        push(&mut out, "## Problems of the documents");
        for problem in &compared.problems {
            out.push_str(&problem_line(&compared.sources, problem));
        }
        out.push('\n');
    }
    match &compared.sides {
        Some(sides) => write(&mut out, sides),
        None => push(&mut out, "**Nothing was compared.**"),
    }
    push(&mut out, CAUTION);
    format!("{}\n", out.trim_end())
}

fn write(out: &mut String, sides: &Sides) {
    let mut line = |word: &str, text: &str| out.extend(["- ", word, ": ", &escaped(text), "\n"]);
    line("pan", &beside::pan(&sides.pan));
    for baseline in &sides.baselines {
        line("beside", &beside::pan(baseline));
    }
    for (word, said) in beside::summary(sides) {
        line(word, &said);
    }
    out.push('\n');
    if sides.verdicts.iter().any(beside::is_grave) {
        push(out, "## Verdicts, from the baseline's to this pan's");
        out.push_str("| rule | verdict |\n|---|---|\n");
        for one in sides.verdicts.iter().filter(|one| beside::is_grave(one)) {
            let said = escaped(&beside::verdicts(one));
            out.extend(["| ", &code(&one.rule), " | ", &said, " |\n"]);
        }
        out.push('\n');
    }
    for topic in &sides.topics {
        write_topic(out, topic);
    }
    push(out, &format!("{}.", escaped(&beside::counts(sides))));
    push(out, HOW);
}

fn write_topic(out: &mut String, topic: &TopicCompared) {
    let told: Vec<&MeasureBeside> =
        topic.measures.iter().filter(|one| beside::is_told(one)).collect();
    let only = [("here", Outcome::OnlyHere), ("in the baseline", Outcome::OnlyThere)]
        .map(|(side, outcome)| (side, beside::one_sided(topic, outcome)));
    if told.is_empty() && only.iter().all(|(_, said)| said.is_empty()) {
        return;
    }
    push(out, &format!("## {}", topic.name));
    for (side, said) in only.iter().filter(|(_, said)| !said.is_empty()) {
        push(out, &format!("Known {side} only: {}.", escaped(&said.join(", "))));
    }
    if told.is_empty() {
        return;
    }
    out.push_str("| measure | outcome | difference | here | baseline |\n|---|---|---|---|---|\n");
    for one in told {
        let cells = [beside::difference(one), beside::here(one), beside::there(one)];
        let cells = cells.map(|cell| escaped(&cell));
        let (name, outcome) = (code(&beside::name(one)), one.outcome.words());
        out.extend(["| ", &name, " | ", outcome, " | ", &cells.join(" | "), " |\n"]);
    }
    out.push('\n');
}
