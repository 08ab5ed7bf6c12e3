//! The schemas beside the table of fields and the program's own reader of quantities.

use super::*;
use proptest::prelude::*;
use regex::Regex;
use serde_json::Value;
use sumpwright_core::document::field::{FIELDS, Field, Form, Limits, fields};
use sumpwright_core::quantity::{StatedUncertainty, parse_quantity, unit_symbols};
use sumpwright_core::source::{FileId, Scalar, Span};

fn parsed(schema: &Schema) -> Value {
    serde_json::from_str(&(schema.write)()).expect(schema.name)
}

fn of_document(kind: DocumentKind) -> Value {
    serde_json::from_str(&document::schema(kind)).expect("a schema is JSON")
}

#[test]
fn every_kind_of_document_has_a_schema_and_no_name_stands_twice() {
    for kind in DocumentKind::ALL {
        assert!(SCHEMAS.iter().any(|schema| schema.name == kind.key()), "{}", kind.key());
    }
    for (place, schema) in SCHEMAS.iter().enumerate() {
        assert!(SCHEMAS[..place].iter().all(|other| other.name != schema.name), "{}", schema.name);
        assert_eq!(parsed(schema)["$schema"], DIALECT, "{}", schema.name);
    }
}

/// What the schema says at the path of a field; the way to it leads through names, lists and ranges.
fn at<'s>(schema: &'s Value, path: &str) -> Option<&'s Value> {
    path.split('.').try_fold(schema, |here, word| {
        let key = match word {
            "*" if here.get("items").is_some() => return here.get("items"),
            "*" => return here.get("additionalProperties"),
            key => key,
        };
        let mapping = here.get("anyOf").and_then(|ways| ways.get(1)).unwrap_or(here);
        mapping.get("properties")?.get(key)
    })
}

#[test]
fn every_field_says_how_a_person_gets_it_and_what_is_usual() {
    for kind in DocumentKind::ALL {
        let schema = of_document(kind);
        for field in fields(kind).iter().filter(|field| field.form != Form::TableKey) {
            let found = at(&schema, field.path).unwrap_or_else(|| panic!("{}", field.path));
            let said = found["description"].as_str().unwrap_or_default();
            assert!(said.starts_with(field.how_to_get), "{}: {said}", field.path);
            if let Some((low, high)) = field.typical {
                assert!(said.contains(low) && said.contains(high), "{}: {said}", field.path);
            }
        }
    }
}

fn each_pattern(value: &Value, found: &mut impl FnMut(&str)) {
    match value {
        Value::Object(map) => {
            for (key, inner) in map {
                match (key.as_str(), inner) {
                    ("pattern", Value::String(pattern)) => found(pattern),
                    _ => each_pattern(inner, found),
                }
            }
        }
        Value::Array(items) => items.iter().for_each(|item| each_pattern(item, found)),
        _ => {}
    }
}

#[test]
fn every_pattern_is_one_without_looking_ahead() {
    for schema in SCHEMAS {
        // This reader of patterns knows no looking ahead, so it refuses what other readers may not know.
        each_pattern(&parsed(schema), &mut |pattern| {
            Regex::new(pattern).unwrap_or_else(|error| panic!("{}: {error}", schema.name));
        });
    }
}

fn scalar(text: &str) -> Scalar {
    let span = Span { file: FileId(0), start: 0, end: 0 };
    Scalar { text: text.to_owned(), span, verbatim_at: None, plain: true }
}

fn row(path: &str) -> &'static Field {
    FIELDS.iter().find(|field| field.path == path).expect("the field is in the table")
}

fn accepts(field: &Field, text: &str) -> bool {
    let dimension = field.dimension.expect("it is a quantity");
    [quantity::common(), quantity::definition(field, dimension)].iter().all(|definition| {
        let pattern = definition["pattern"].as_str().expect("it has a pattern");
        Regex::new(pattern).expect("it is a pattern").is_match(text)
    })
}

#[test]
fn what_cannot_stand_at_a_field_is_refused() {
    for (path, text) in [
        ("wall.floor", "5"),
        ("wall.floor", "5 mmm"),
        ("wall.floor", "5 deg"),
        ("wall.floor", "5 mm^2"),
        ("wall.floor", "-5 mm"),
        ("wall.floor", "0 mm"),
        ("wall.floor", "0.00 mm"),
        ("wall.floor", "5,5 mm"),
        ("wall.floor", ".5 mm"),
        ("wall.floor", "5 mm ± 0.1 mm by depth_gauge"),
        ("wall.floor", "5 mm (U 0.4 mm)"),
        ("wall.floor", "1/2"),
        ("pump.flow.*", "12 L/mn"),
        ("pump.flow.*", "12 L"),
        ("interior.zones.*.depth", "118 mm assumed"),
        ("check.oil_at", "40 K"),
        ("states.*.braking", "0.5 g"),
    ] {
        assert!(!accepts(row(path), text), "{path}: {text}");
    }
}

#[test]
fn the_forms_of_the_grammar_are_let_through() {
    for (path, text) in [
        ("wall.floor", "62.4 ± 0.3 mm"),
        ("wall.floor", "62.4mm+/-0.3mm"),
        ("wall.floor", "1 1/2 in"),
        ("wall.floor", "62.4 mm (u 0.2 mm)"),
        ("wall.floor", "62.4 mm (U 0.4 mm at k 2)"),
        ("wall.floor", "62.4 mm by depth_gauge"),
        ("wall.floor", "3 mm assumed"),
        ("wall.floor", "none"),
        ("check.oil_at", "40 ± 2 degC"),
        ("check.oil_at", "-10 degC ± 2 K"),
        ("material.expansion", "2.1e-5 1/K"),
        ("material.conductivity", "150 W/(m·K)"),
        ("oil.heat_capacity", "2.1 kJ/(kg·K)"),
        ("pump.flow.*", "12 L/min"),
        ("case.free_share", "50 %"),
        ("case.free_share", "0.50 ± 0.05"),
        ("mount.moves.down", "-0.0 mm"),
    ] {
        let path = path.strip_prefix("oil.").unwrap_or(path);
        assert!(accepts(row(path), text), "{path}: {text}");
    }
}

fn number() -> impl Strategy<Value = String> {
    prop_oneof![
        "[0-9]{1,4}(\\.[0-9]{1,3})?([eE][+-]?[0-3])?",
        "([0-9]{1,2} )?[0-9]{1,2}/[1-9]",
        "-?[0-9]{1,2}",
        "\\+[0-9]",
    ]
}

fn power() -> impl Strategy<Value = String> {
    let symbols: Vec<&str> = unit_symbols().map(|(symbol, _)| symbol).collect();
    (prop::sample::select(symbols), prop::sample::select(vec!["", "", "", "^2", "²", "^3", "^-1"]))
        .prop_map(|(symbol, power)| format!("{symbol}{power}"))
}

fn unit() -> impl Strategy<Value = String> {
    let usual: Vec<String> = FIELDS
        .iter()
        .filter_map(|field| Some(format!(" {}", field.dimension?.usual_symbol())))
        .collect();
    prop_oneof![
        prop::sample::select(usual),
        power().prop_map(|one| format!(" {one}")),
        (power(), power()).prop_map(|(a, b)| format!("{a}/{b}")),
        (power(), power(), power()).prop_map(|(a, b, c)| format!(" {a}·{b}/({c}*s)")),
        power().prop_map(|one| format!(" 1/{one}")),
    ]
}

fn statement() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        (number(), unit()).prop_map(|(n, u)| format!(" ± {n}{u}")),
        number().prop_map(|n| format!(" +/- {n}")),
        (number(), unit()).prop_map(|(n, u)| format!(" (u {n}{u})")),
        (number(), unit()).prop_map(|(n, u)| format!("(U {n}{u} at k 2)")),
        Just(" by depth_gauge".to_owned()),
        Just(" assumed".to_owned()),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, ..ProptestConfig::default() })]

    /// A schema that refuses what the program reads would be worse than none.
    #[test]
    fn no_quantity_that_the_program_reads_is_refused(
        (number, unit, stated, ahead) in (number(), unit(), statement(), any::<bool>()),
    ) {
        let text = if ahead && !stated.contains(['(', 'b', 'a']) {
            format!("{number}{stated}{unit}")
        } else {
            format!("{number}{unit}{stated}")
        };
        let Ok(read) = parse_quantity(&scalar(&text)) else { return Ok(()) };
        let fits = |field: &&Field| {
            let sign = match field.limits {
                Limits::Any => true,
                Limits::Positive => read.value > 0.0,
                _ => false,
            };
            let stated = read.uncertainty != StatedUncertainty::Assumed || field.typical.is_some();
            field.dimension == Some(read.unit.dimension) && sign && stated && field.form != Form::TableKey
        };
        for field in FIELDS.iter().filter(fits).take(2) {
            prop_assert!(accepts(field, &text), "{}: {}", field.path, text);
        }
    }
}
