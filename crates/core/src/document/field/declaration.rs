//! The fields of a supplier's declaration.

use super::{DATE, MAPPING, NAMED, PATH, TEXT, TEXTS, COUNT, rows};

rows! { Declaration;
    "declaration": COUNT, "The edition of this kind of document: 1.";
    "number": TEXT, "The number of the declaration, which no other one ever has.";
    "supersedes": TEXT, "The number of the declaration that this one takes the place of.", optional();
    "issuer": MAPPING, "Who declares.";
    "issuer.name": TEXT, "The name of the firm or person that takes responsibility.";
    "issuer.address": TEXT, "The address at which it can be reached.";
    "pans": TEXTS, "The descriptions of what is declared, from the folder of this file.";
    "serials": TEXTS, "The pieces it is for, by number, batch or date of making.", optional();
    "rulebooks": TEXTS, "The files of the rulebook, from the folder of this one, or `built-in`; left out, the one built in.", optional();
    "checklists": TEXTS, "The customers' lists that are answered, from the folder of this file.", optional();
    "concessions": TEXTS, "The lists of accepted departures, from the folder of this file.", optional();
    "issued": MAPPING, "When and where it is issued.";
    "issued.on": DATE, "The day of issue, by which concessions are judged.";
    "issued.at": TEXT, "The place of issue.";
    "signatory": MAPPING, "Who signs for the issuer.";
    "signatory.name": TEXT, "The person's name.";
    "signatory.function": TEXT, "The function in which the person may sign.";
    "limits": MAPPING, "What its validity is limited to.", optional();
    "limits.use": TEXT, "The use, the vehicles, the oil it is for.", optional();
    "limits.until": DATE, "The last day on which it is valid.", optional();
    "assessed_by": MAPPING, "Who judged the design, for the supporting file.", optional();
    "assessed_by.name": TEXT, "The person's name.";
    "assessed_by.function": TEXT, "The function in which it was judged.";
    "assessed_by.competence": TEXT, "Why this person can judge it: training, years, works.";
    "kept_in_line": TEXT, "How making is kept in line with what is declared, in a sentence or two.", optional();
    "kept_until": DATE, "The day until which the issuer keeps the supporting file.", optional();
    "evidence": NAMED, "Further documents of the supporting file, each under a name.", optional();
    "evidence.*.document": PATH, "The file, from the folder of this one.";
    "evidence.*.sha256": TEXT, "Its digest, as `sha256sum` prints it.";
    "evidence.*.shows": TEXT, "What it shows, in a sentence.";
    "withheld": NAMED, "Files that stay secret, each under a name: only their digests are handed over, and what rests on them cannot be judged again.", optional();
    "withheld.*.file": PATH, "The mesh or table, from the folder of this file.";
    "withheld.*.because": TEXT, "Why it stays secret.";
}
