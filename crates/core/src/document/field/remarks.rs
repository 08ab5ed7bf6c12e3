//! The fields of a file of remarks.

use super::{BOUND, COUNT, DATE, LIST, TEXT, rows, say, words};

rows! { Remarks;
    "remarks": COUNT, "The edition of this kind of document: 1.";
    "title": TEXT, say::TITLE, optional();
    "by": TEXT, "The name of the reviewer.", optional();
    "on": DATE, "The day of the review: year, month and day.", optional();
    "findings": LIST, "The findings that something is said of.";
    "findings.*.rule": TEXT, "The id of the rule, as the review prints it.";
    "findings.*.object": TEXT, "The object, as the review prints it behind the rule: `fins.keel`.", optional();
    "findings.*.verdict": words(super::REMARK_VERDICTS), "The verdict that the remark is about, so that a change is noticed.", optional();
    "findings.*.value": BOUND, "The value that the remark is about, as the review prints it.", optional();
    "findings.*.judgement": TEXT, "What you make of it, in a few words of your own.", optional();
    "findings.*.remark": TEXT, "What there is to say, in sentences; `none` until there is something.";
    "findings.*.by": TEXT, "The reviewer, where it is another than that of the file.", optional();
    "findings.*.on": DATE, "The day, where it is another than that of the file.", optional();
}
