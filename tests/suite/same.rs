//! What may not change a verdict: the order of keys and files, the unit a length is written in, a mirror.

use crate::support::{Disk, measure, read, review, root};
use proptest::prelude::*;
use serde_yaml::{Mapping, Value};
use sumpwright_core::review::{PanReview, Review};

const PANS: [&str; 4] = [
    "fixtures/pans/deep-cast.yaml",
    "fixtures/pans/drain-retrofit.yaml",
    "fixtures/pans/low-finned.yaml",
    "fixtures/pans/stock-stamped.yaml",
];
const BESIDE: [&str; 3] = [
    "fixtures/vehicles/brindle.yaml",
    "fixtures/oils/trail.yaml",
    "fixtures/duties/rock-trail.yaml",
];

/// Every verdict of a review with its pan, rule and object.
fn verdicts(review: &Review) -> Vec<String> {
    assert!(review.problems.is_empty(), "{:#?}", review.problems);
    let all = review.pans.iter().flat_map(|pan| {
        pan.findings.iter().map(|f| {
            let object = f.object.as_deref().unwrap_or("");
            format!("{} {} {object} {}", pan.path, f.rule, f.verdict.words())
        })
    });
    // Objects of one rule stand as they are written.
    let mut all: Vec<String> = all.collect();
    all.sort();
    all
}

fn changed(change: impl Fn(&str) -> String) -> Disk {
    let texts = PANS.iter().chain(&BESIDE);
    Disk {
        instead: texts
            .map(|path| ((*path).to_owned(), change(&read(&root().join(path)))))
            .collect(),
    }
}

/// The document with the keys of every mapping in another order; the kind stays first.
fn shuffled(value: Value, turn: usize, top: bool) -> Value {
    match value {
        Value::Mapping(mapping) => {
            let mut entries: Vec<(Value, Value)> = mapping.into_iter().collect();
            let fixed = usize::from(top);
            let rest = entries.len() - fixed;
            if rest > 0 {
                entries[fixed..].rotate_left(turn % rest);
                if turn % 2 == 1 {
                    entries[fixed..].reverse();
                }
            }
            let entries = entries.into_iter().map(|(k, v)| (k, shuffled(v, turn, false)));
            Value::Mapping(entries.collect::<Mapping>())
        }
        other => other,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, failure_persistence: None, ..ProptestConfig::default() })]

    // The zones of an interior have an order (the first is the rail's), and so has a baseline list; the demo pans
    // name the zone that a sump opens in by its default, so zones are left in place.
    #[test]
    fn the_order_of_keys_changes_no_verdict(turn in 1usize..40) {
        let disk = changed(|text| {
            let value: Value = serde_yaml::from_str(text).unwrap();
            let kept = value.get("interior").and_then(|i| i.get("zones")).cloned();
            let mut value = shuffled(value, turn, true);
            if let Some(zones) = kept {
                value["interior"]["zones"] = zones;
            }
            serde_yaml::to_string(&value).unwrap()
        });
        prop_assert_eq!(verdicts(&review(&disk, &PANS)), verdicts(&review(&Disk::default(), &PANS)));
    }
}

#[test]
fn the_order_of_files_changes_no_byte_of_a_verdict() {
    let mut backward = PANS;
    backward.reverse();
    assert_eq!(
        verdicts(&review(&Disk::default(), &backward)),
        verdicts(&review(&Disk::default(), &PANS))
    );
}

/// Every verdict and number of a pan, to the last digit.
fn numbers(pan: &PanReview) -> Vec<String> {
    let all = pan.findings.iter().map(|f| {
        let moves: Vec<_> = f.contributions.iter().map(|c| (&c.path, c.effect)).collect();
        let limits: Vec<_> = f.limits.iter().map(|l| (l.value, l.margin, l.guard)).collect();
        let (rule, object, verdict) = (&f.rule, &f.object, f.verdict);
        format!("{rule} {object:?} {verdict:?} {:?} {limits:?} {moves:?} {}", f.reading, f.reason)
    });
    all.collect()
}

// So many pans that each is judged by one thread, all beside one baseline that is read once.
#[test]
fn a_pan_among_many_says_to_the_last_digit_what_it_says_alone() {
    let text = |path: &str| read(&root().join(path));
    let many: Vec<(String, String)> = (0..16)
        .map(|number| {
            let (from, depth) = [(PANS[0], "depth: 118 "), (PANS[2], "depth: 54 ")][number % 2];
            let deeper = format!("{}.{number:02} ", depth.trim_end());
            (format!("fixtures/pans/of-many-{number:02}.yaml"), text(from).replace(depth, &deeper))
        })
        .collect();
    let paths: Vec<&str> = many.iter().map(|(path, _)| path.as_str()).collect();
    let disk = Disk { instead: many.clone() };
    let one_thread = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap();
    let together = one_thread.install(|| review(&disk, &paths));
    assert_eq!((together.problems.len(), together.pans.len()), (0, 16));
    for at in [0, 1, 15] {
        let alone = review(&disk, &[paths[at]]);
        assert_eq!(numbers(&together.pans[at]), numbers(&alone.pans[0]), "{}", paths[at]);
    }
    assert_ne!(numbers(&together.pans[0]), numbers(&together.pans[2]));
}

/// Every number before ` mm` in inches, all digits kept.
fn in_inches(text: &str) -> String {
    let mut out = String::new();
    for line in text.lines() {
        let (body, comment) = line.split_once(" #").map_or((line, ""), |(b, c)| (b, c));
        let words: Vec<&str> = body.split(' ').collect();
        let inches = |w: &str| {
            let digits = w.trim_start_matches(['[', '{']);
            let lead = &w[..w.len() - digits.len()];
            digits.parse::<f64>().ok().map(|v| format!("{lead}{:?}", v / 25.4))
        };
        let mut made: Vec<String> = words.iter().map(|w| (*w).to_owned()).collect();
        for i in 1..words.len() {
            let bare = words[i].trim_end_matches([',', ']', '}']);
            if bare != "mm" {
                continue;
            }
            made[i] = words[i].replace("mm", "in");
            made[i - 1] = inches(words[i - 1]).unwrap();
            if i >= 3 && words[i - 2] == "±" {
                made[i - 3] = inches(words[i - 3]).unwrap();
            }
        }
        out.push_str(&made.join(" "));
        if !comment.is_empty() {
            out.push_str(" #");
            out.push_str(comment);
        }
        out.push('\n');
    }
    out
}

#[test]
fn inches_give_the_same_verdicts_and_the_same_readings() {
    let disk = changed(in_inches);
    assert!(disk.instead[0].1.contains(" in"), "nothing was rewritten");
    assert_eq!(verdicts(&review(&disk, &PANS)), verdicts(&review(&Disk::default(), &PANS)));
    let (inch, metric) = (measure(&disk, &PANS), measure(&Disk::default(), &PANS));
    for (a, b) in inch.pans.iter().zip(&metric.pans) {
        for (a, b) in a.measures.iter().zip(&b.measures) {
            let (Ok(x), Ok(y)) = (&a.reading, &b.reading) else { continue };
            let (x, y) = (x.bounds.low, y.bounds.low);
            if x.is_infinite() && x.to_bits() == y.to_bits() {
                continue;
            }
            // The rail is 0.4 m wide: rounding of the rewritten numbers moves a level by some 1e-16 of that.
            assert!((x - y).abs() <= 1e-11 * y.abs() + 1e-13, "{}: {x} {y}", a.spec.name);
        }
    }
}

#[test]
fn a_mirror_image_driven_in_the_mirror_gives_the_same_verdicts() {
    let disk = changed(|text| {
        let mut text = text.replace("high: left", "high: right");
        // Turned round in two steps, so that no value is turned twice.
        text = text.replace(", y: -", ", y: @");
        text.replace(", y: ", ", y: -").replace(", y: -@", ", y: ")
    });
    assert_eq!(verdicts(&review(&disk, &PANS)), verdicts(&review(&Disk::default(), &PANS)));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    // Within one basin: the stock pan's floor is one hollow at every attitude of the duty.
    #[test]
    fn more_oil_never_uncovers_the_inlet(litres in 1.0f64..5.0, more in 0.0f64..0.9) {
        let pan = read(&root().join("fixtures/pans/stock-stamped.yaml"));
        let depth = |litres: f64| {
            let text = format!("{pan}\ncheck: {{ volume: {litres} L, oil_at: 40 degC, engine: running }}\n");
            let disk = Disk { instead: vec![("fixtures/pans/stock-stamped.yaml".to_owned(), text)] };
            let measured = measure(&disk, &["fixtures/pans/stock-stamped.yaml"]);
            let rim = measured.pans[0].measures.iter().find(|m| m.spec.name == "pickup.rim_depth");
            rim.unwrap().reading.as_ref().unwrap().bounds.low
        };
        prop_assert!(depth(litres + more) >= depth(litres) - 1e-12);
    }
}
