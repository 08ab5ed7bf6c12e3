//! The fields of a list of concessions.

use super::{BOUND, COUNT, DATE, MAPPING, NAMED, PATH, TEXT, TEXTS, rows, say, words};

rows! { Concessions;
    "concessions": COUNT, "The edition of this kind of document: 1.";
    "title": TEXT, say::TITLE, optional();
    "accepted": NAMED, "The departures that were accepted, each under its number or name.";
    "accepted.*": MAPPING, "One departure: from one rule, of one pan.";
    "accepted.*.kind": words(&["concession", "deviation permit"]), "A concession after the pan was made, a deviation permit before.";
    "accepted.*.rule": TEXT, "The id of the rule that is not met, as the review prints it.";
    "accepted.*.pan": PATH, "The description of the pan, from the folder of this file.";
    "accepted.*.object": TEXT, "The object that is meant, as the review prints it behind the rule: `fins.keel`.", optional();
    "accepted.*.bound": BOUND, "The worst value that is accepted, of what the rule measures.";
    "accepted.*.also": words(&["inconclusive"]), "`inconclusive`: it also covers a value within the bound of which the rule cannot be decided.", optional();
    "accepted.*.reason": TEXT, "Why the departure may stand, in a sentence.";
    "accepted.*.accepted_by": MAPPING, "The person who answers for it.";
    "accepted.*.accepted_by.name": TEXT, "The name of the person who accepted it.";
    "accepted.*.accepted_by.function": TEXT, "What entitles that person to: the function in the firm, or that of the customer.";
    "accepted.*.accepted_by.on": DATE, "The day of the signature, which is the first on which it holds: year, month and day.";
    "accepted.*.expires": DATE, "The last day on which it holds: year, month and day.";
    "accepted.*.quantity": COUNT, "For how many pieces, if for a number of them.", optional();
    "accepted.*.serials": TEXTS, "For which pieces, by their serial numbers.", optional();
    "accepted.*.use": TEXT, "For which use, if not for every.", optional();
}
