//! The fields of a rulebook.

use super::{
    ANYTHING, COUNT, FORMULA, LIST, MAPPING, NAMED, PATH, SHARE, TEXT, TEXTS, rows, words,
};

rows! { Rulebook;
    "rulebook": COUNT, "The edition of this kind of document: 1.";
    "decision": words(&["guarded", "simple"]), "How a verdict takes the uncertainty into account: `guarded`, `simple`, or a probability.", optional();
    "decision.probability": SHARE, "The least probability of conformity that is asked for.";
    "fixtures": PATH, "The folder in which the pans named in cases live.", optional();
    "builds_on": MAPPING, "The rulebook that this one changes and adds to.", optional();
    "builds_on.book": TEXTS, "`built-in`, or the path of its file; several in a list.";
    "builds_on.edition": TEXT, "The digest that its rules must have, as `sumpwright prove` prints it.", optional();
    "instead": NAMED, "What stands in place of parts of its rules, under the id of each.", optional();
    "instead.*.reason": TEXT, "Why the rule is changed, in a sentence.";
    "instead.*.at_least": FORMULA, "The lower limit, inclusive; `none` takes it away.", optional();
    "instead.*.at_most": FORMULA, "The upper limit, inclusive; `none` takes it away.", optional();
    "instead.*.within": LIST, "Both limits, inclusive, in place of `at_least` and `at_most`.", optional();
    "instead.*.force": words(&["shall", "should"]), "Whether it is a requirement or a recommendation.", optional();
    "instead.*.when": FORMULA, "The condition under which the rule applies; `none`: always.", optional();
    "instead.*.decision": words(&["guarded", "simple"]), "Its own decision rule, in place of the book's.", optional();
    "instead.*.decision.probability": SHARE, "The least probability of conformity that is asked for.";
    "instead.*.pin": ANYTHING, "How tightly the cases must hold the numbers: a quantity, a share, or one for each number as written.", optional();
    "instead.*.equivalent": NAMED, "Alterations that no case could notice, in the words in which they are reported.", optional();
    "instead.*.equivalent.*": TEXT, "Why the altered rule asks the same.";
    "instead.*.cases": LIST, "What proves it: one fixture, one value changed, both sides of the limit.", optional();
    "instead.*.cases.*.fixture": TEXT, "The pan, by its file name without ending.";
    "instead.*.cases.*.exact": words(&["true", "false"]), "Whether all uncertainties of the fixture are set to zero.", optional();
    "instead.*.cases.*.set": NAMED, "Dotted paths into the fixture and what each is set to.", optional();
    "instead.*.cases.*.set.*": ANYTHING, "What it is set to.";
    "instead.*.cases.*.drop": TEXTS, "Dotted paths into the fixture that are left out.", optional();
    "instead.*.cases.*.expect": words(&["conforms", "does not conform", "inconclusive", "advisory", "not applicable"]), "The verdict that must come out, the worst over the rule's objects.";
    "dropped": NAMED, "The ids of its rules that do not hold here.", optional();
    "dropped.*": TEXT, "Why the rule does not hold here, in a sentence.";
    "rules": NAMED, "The rules, each under its id.";
    "rules.*.title": TEXT, "What conforms, as a sentence.";
    "rules.*.force": words(&["shall", "should"]), "Whether it is a requirement or a recommendation.";
    "rules.*.measure": FORMULA, "The formula that is judged.";
    "rules.*.at_least": FORMULA, "The lower limit, inclusive.";
    "rules.*.at_most": FORMULA, "The upper limit, inclusive.";
    "rules.*.within": LIST, "Both limits, inclusive, in place of `at_least` and `at_most`.";
    "rules.*.pin": ANYTHING, "How tightly the cases must hold the numbers: a quantity, a share, or one for each number as written.", optional();
    "rules.*.when": FORMULA, "The condition under which the rule applies.", optional();
    "rules.*.because": TEXT, "Why it matters.";
    "rules.*.source": TEXT, "Where it comes from: a published text with its clause, or `common practice`.";
    "rules.*.remedy": TEXT, "What usually puts it right.", optional();
    "rules.*.caution": TEXT, "What can hurt while putting it right.", optional();
    "rules.*.since": COUNT, "The edition of the rulebook that brought it.", optional();
    "rules.*.decision": words(&["guarded", "simple"]), "Its own decision rule, in place of the book's.", optional();
    "rules.*.decision.probability": SHARE, "The least probability of conformity that is asked for.";
    "rules.*.equivalent": NAMED, "Alterations that no case could notice, in the words in which they are reported.", optional();
    "rules.*.equivalent.*": TEXT, "Why the altered rule asks the same.";
    "rules.*.cases": LIST, "What proves it: one fixture, one value changed, both sides of the limit.", optional();
    "rules.*.cases.*.fixture": TEXT, "The pan, by its file name without ending.";
    "rules.*.cases.*.exact": words(&["true", "false"]), "Whether all uncertainties of the fixture are set to zero.", optional();
    "rules.*.cases.*.set": NAMED, "Dotted paths into the fixture and what each is set to.", optional();
    "rules.*.cases.*.set.*": ANYTHING, "What it is set to.";
    "rules.*.cases.*.drop": TEXTS, "Dotted paths into the fixture that are left out.", optional();
    "rules.*.cases.*.expect": words(&["conforms", "does not conform", "inconclusive", "advisory", "not applicable"]), "The verdict that must come out, the worst over the rule's objects.";
}
