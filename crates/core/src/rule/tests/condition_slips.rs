//! Conditions that are refused: the code, the token, and what is said.

use super::*;

const SIGNS_AND_WORDS: &[Slip] = &[
    ("pickup.gap >= 8 mm", "bad-formula", ">=", "`a at least b`"),
    ("pickup.gap => 8 mm", "bad-formula", "=>", "`a at least b`"),
    ("pickup.gap <= 8 mm", "bad-formula", "<=", "`a at most b`"),
    ("pickup.gap > 8 mm", "bad-formula", ">", "includes the limit"),
    ("pickup.gap < 8 mm", "bad-formula", "<", "includes the limit"),
    ("pickup.gap ≥ 8 mm", "bad-formula", "≥", "`a at least b`"),
    ("pickup.gap ≤ 8 mm", "bad-formula", "≤", "`a at most b`"),
    ("pickup.gap == 8 mm", "bad-formula", "==", "`at least` and `at most`"),
    ("pickup.inlet.facing = down", "bad-formula", "=", "`path is word`"),
    ("pickup.inlet.facing != down", "bad-formula", "!=", "`not path is word`"),
    ("pickup is given && oil is given", "bad-formula", "&&", "write `and`"),
    ("pickup is given || oil is given", "bad-formula", "||", "write `or`"),
    ("!pickup is given", "bad-formula", "!", "write `not`"),
    ("pickup is given And oil is given", "bad-formula", "And", "write `and`"),
    ("pickup is given Or oil is given", "bad-formula", "Or", "write `or`"),
    ("pickup.gap at least 8 And oil is given", "bad-formula", "And", "write `and`"),
    ("NOT pickup is given", "bad-formula", "NOT", "write `not`"),
    ("pickup Is given", "bad-formula", "Is", "write `is`"),
    ("pickup.gap At least 8 mm", "bad-formula", "At", "write `at`"),
    ("(pickup is given AND oil is given)", "bad-formula", "AND", "write `and`"),
];

const SHAPES: &[Slip] = &[
    ("pickup.gap", "bad-formula", "pickup.gap", "compared with nothing"),
    (
        "2 * (pickup.gap) and oil is given",
        "bad-formula",
        "2 * (pickup.gap)",
        "compared with nothing",
    ),
    ("pickup.gap least 8 mm", "bad-formula", "least", "`at least`"),
    ("pickup.gap at 8 mm", "bad-formula", "at", "`at least` or `at most`"),
    ("pickup.gap at least", "bad-formula", "least", "missing behind `least`"),
    ("pickup.gap at least 8 mm at most 9 mm", "bad-formula", "at", "join them by `and`"),
    ("pickup is given and", "bad-formula", "and", "missing behind `and`"),
    ("and pickup is given", "bad-formula", "and", "missing before `and`"),
    ("pickup is given or or oil is given", "bad-formula", "or", "missing before `or`"),
    ("not not pickup is given", "bad-formula", "not", "stands twice"),
    ("pickup is given oil is given", "bad-formula", "oil", "`and` or `or` is missing"),
    ("pickup.inlet.facing is down pickup is given", "bad-formula", "pickup", "`or` is missing"),
    ("pickup is given is given", "bad-formula", "is", "a test is"),
    ("(pickup is given", "bad-formula", "(", "never closed"),
    ("pickup is given)", "bad-formula", ")", "closes nothing"),
    ("pickup is", "bad-formula", "is", "a word is missing"),
    ("is given", "bad-formula", "is", "missing before `is`"),
    ("pickup is not given", "bad-formula", "not", "`not pickup is given`"),
    ("pickup is none", "bad-formula", "none", "`not pickup is given`"),
    ("drain.boss is none", "bad-formula", "none", "`not drain.boss is given`"),
    ("material.alloy is 356", "bad-formula", "356", "not a single word"),
    ("material.alloy is a.b", "bad-formula", "a.b", "not a single word"),
    ("pickup.gap, 8 mm", "bad-formula", ",", "between arguments"),
];

const NAMES_AND_DIMENSIONS: &[Slip] = &[
    ("pikcup is given", "unknown-name", "pikcup", "did you mean `pickup`"),
    ("vehicle.skit is given", "unknown-name", "vehicle.skit", "did you mean `vehicle.skid`"),
    (
        "baseline.pikcup is given",
        "unknown-name",
        "baseline.pikcup",
        "did you mean `baseline.pickup`",
    ),
    ("drain.bos is given", "unknown-name", "drain.bos", "did you mean `drain.boss`"),
    (
        "drains.plug.bos is given",
        "unknown-name",
        "drains.plug.bos",
        "did you mean `drains.plug.boss`",
    ),
    ("quite.another.thing is given", "unknown-name", "quite.another.thing", "a path of the pan"),
    ("pickup.gap is given", "unknown-name", "pickup.gap", "this is a measure"),
    ("pickup.gab at least 8 mm", "unknown-name", "pickup.gab", "did you mean `pickup.gap`"),
    ("pickup.inlet.at.depth is deep", "bad-formula", "deep", "a quantity stands there"),
    ("drain.boss is wide", "bad-formula", "wide", "a quantity stands there"),
    ("pickup.inlet.facing is dwon", "bad-formula", "dwon", "did you mean `down`"),
    ("pickup.inlet.facing is sideways", "bad-formula", "sideways", "down, up, front, rear"),
    ("material.process is sand", "bad-formula", "sand", "sand casting"),
    ("pickup.gap at least 2 L", "wrong-formula-dimension", "2 L", "a volume"),
    ("pickup.gap at least 8", "wrong-formula-dimension", "8", "write `8 mm`"),
    ("8 at most pickup.gap", "wrong-formula-dimension", "8", "write `8 mm`"),
    ("oil.warmth at least 5 K", "wrong-formula-dimension", "5 K", "a temperature difference"),
    ("drain.width at least fin.root", "two-kinds", "fin.root", "`least( )`"),
];

#[test]
fn every_slip_is_told_at_its_token() {
    assert_slips(&[SIGNS_AND_WORDS, SHAPES, NAMES_AND_DIMENSIONS].concat(), read_condition);
}
