//! Where two files that should be alike are not.

use serde_json::Value;

/// So many differences are told.
const TOLD: usize = 20;

/// In words; the first file is the one that lies there, the second the one made anew.
pub fn differences(there: &[u8], anew: &[u8]) -> Vec<String> {
    let json = |bytes: &[u8]| serde_json::from_slice::<Value>(bytes).ok();
    let mut found = Vec::new();
    if let (Some(there), Some(anew)) = (json(there), json(anew)) {
        walk("", &there, &anew, &mut found);
        let more = found.len().saturating_sub(TOLD);
        found.truncate(TOLD);
        if more > 0 {
            found.push(format!("and {more} more"));
        }
        if found.is_empty() {
            found.push("it is laid out otherwise, and says the same".to_owned());
        }
        return found;
    }
    let lines = |bytes: &[u8]| {
        String::from_utf8_lossy(bytes).lines().map(str::to_owned).collect::<Vec<_>>()
    };
    let (there, anew) = (lines(there), lines(anew));
    let same = there.iter().zip(&anew).take_while(|(a, b)| a == b).count();
    vec![format!("from line {} on", same + 1)]
}

fn walk(path: &str, there: &Value, anew: &Value, found: &mut Vec<String>) {
    match (there, anew) {
        (Value::Object(a), Value::Object(b)) => {
            for (key, value) in a {
                match b.get(key) {
                    Some(other) => walk(&format!("{path}/{key}"), value, other, found),
                    None => found.push(format!("{path}/{key} is there, and should not be")),
                }
            }
            let missing = b.keys().filter(|key| !a.contains_key(*key));
            found.extend(missing.map(|key| format!("{path}/{key} is missing")));
        }
        (Value::Array(a), Value::Array(b)) => {
            if a.len() != b.len() {
                found.push(format!("{path} has {} entries, anew {}", a.len(), b.len()));
            }
            for (index, (one, other)) in a.iter().zip(b).enumerate() {
                walk(&format!("{path}/{index}"), one, other, found);
            }
        }
        (one, other) if one != other => {
            found.push(format!("{path} is {}, anew {}", short(one), short(other)));
        }
        _ => {}
    }
}

fn short(value: &Value) -> String {
    const LONGEST: usize = 60;
    let text = match value {
        Value::Object(_) => "an object".to_owned(),
        Value::Array(_) => "a list".to_owned(),
        other => other.to_string(),
    };
    if text.chars().count() <= LONGEST {
        return text;
    }
    let start: String = text.chars().take(LONGEST).collect();
    format!("{start}…")
}
