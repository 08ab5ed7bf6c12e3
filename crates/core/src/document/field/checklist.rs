//! The fields of a customer's list.

use super::{COUNT, DATE, MAPPING, NAMED, PATH, SHARE, TEXT, TEXTS, rows, words};

rows! { Checklist;
    "checklist": COUNT, "The edition of this kind of document: 1.";
    "title": TEXT, "What the list is called, with its own edition, as the customer writes it.";
    "customer": TEXT, "Who asks for it.";
    "decision": words(&["guarded", "simple"]), "The decision rule that the list asks for, where it says one: `guarded`, `simple`, or a probability.", optional();
    "decision.probability": SHARE, "The least probability of conformity that is asked for.";
    "rulebook_edition": TEXT, "The digest of the rules that the list asks for, as `sumpwright prove` prints it.", optional();
    "clauses": NAMED, "The clauses, each under a name.";
    "clauses.*.number": TEXT, "Its number in the customer's text.", optional();
    "clauses.*.says": TEXT, "What it asks, in the customer's words.";
    "clauses.*.binding": words(&["true", "false"]), "Whether it must be met; left out, it must.", optional();
    "clauses.*.rules": TEXTS, "The ids of the rules that answer it.", optional();
    "clauses.*.evidence": MAPPING, "The document that answers it, where no rule can.", optional();
    "clauses.*.evidence.document": PATH, "The file, from the folder of this one.";
    "clauses.*.evidence.sha256": TEXT, "Its digest, as `sha256sum` prints it.";
    "clauses.*.evidence.shows": TEXT, "What it shows, in a sentence.";
    "clauses.*.statement": MAPPING, "What a person says to it, where neither a rule nor a document answers.", optional();
    "clauses.*.statement.words": TEXT, "What the person says.";
    "clauses.*.statement.by": TEXT, "The person's name.";
    "clauses.*.statement.function": TEXT, "The function in which the person says it.";
    "clauses.*.statement.on": DATE, "The day on which it was said.";
}
