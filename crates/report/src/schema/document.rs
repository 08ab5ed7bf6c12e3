//! The schema of a document, row by row of the table of fields.
//!
//! Every value has one schema of its own and never a choice of several, so that an editor's message is about
//! what was written: keywords that do not fit the shape found are without effect.

use super::node::{Node, tree};
use super::{DIALECT, quantity};
use serde_json::{Map, Value, json};
use sumpwright_core::document::DocumentKind;
use sumpwright_core::document::field::{Field, Form, Limits, fields};
use sumpwright_core::quantity::Dimension;

/// What an author may call a thing: a letter, then letters, digits, `_` and `-`; other scripts have their own
/// letters.
const NAME: &str = r"^[^\x00-@\[-`{-\x7f][^\x00-,./:-@\[-^`{-\x7f]*$";
/// The id of a rule.
const RULE_ID: &str = r"^[a-z][a-z0-9-]*\.[a-z][a-z0-9-]*$";

/// The schema as text.
pub(super) fn schema(kind: DocumentKind) -> String {
    let mut builder = Builder { kind, definitions: Map::new() };
    builder.definitions.insert("quantity".to_owned(), quantity::common());
    let root = tree(fields(kind));
    let keys = builder.keys(&root);
    let mut document = json!({
        "$schema": DIALECT,
        "$id": format!("urn:sumpwright:{}:1", kind.key()),
        "title": format!("sumpwright: {}", kind.key()),
        "type": "object",
        "required": [kind.key()],
        "properties": keys,
        "additionalProperties": false,
    });
    if let Some(document) = document.as_object_mut() {
        document.insert("$defs".to_owned(), Value::Object(builder.definitions));
    }
    crate::json::pretty(&document)
}

struct Builder {
    kind: DocumentKind,
    definitions: Map<String, Value>,
}

impl Builder {
    fn keys(&mut self, node: &Node) -> Map<String, Value> {
        node.keys().map(|key| (key.word.to_owned(), self.value(key))).collect()
    }

    /// What may stand at a key.
    fn value(&mut self, node: &Node) -> Value {
        let Some(field) = node.field else { return self.item(node) };
        let mut schema = Map::new();
        schema.insert("description".to_owned(), description(field).into());
        schema.extend(self.shape(node, field));
        Value::Object(schema)
    }

    /// What stands in the places of a list whose things have no row of their own.
    fn item(&mut self, node: &Node) -> Value {
        json!({
            "type": "object",
            "minProperties": 1,
            "properties": self.keys(node),
            "additionalProperties": false,
        })
    }

    fn shape(&mut self, node: &Node, field: &'static Field) -> Map<String, Value> {
        if field.path == self.kind.key() {
            return map(json!({
                "type": ["integer", "string"], "minimum": 1, "maximum": 1, "pattern": "^1$", "default": 1,
                "patternErrorMessage": "this is edition 1",
            }));
        }
        match field.form {
            Form::Mapping => self.mapping(node, field),
            Form::Named => self.named(node, field),
            Form::List => self.list(node, field),
            Form::Quantity => match field.dimension {
                Some(dimension) => self.quantity(field, dimension),
                None => map(quantity::of_any_dimension(field)),
            },
            Form::Swept => self.swept(node, field),
            Form::Quantities(count) => self.quantities(field, count),
            Form::Table => self.table(node, field),
            Form::Words(words) => self.words(node, words),
            Form::Text => map(text()),
            Form::Texts => map(json!({
                "type": ["string", "number", "boolean", "array"],
                "minLength": 1, "minItems": 1, "items": text(),
            })),
            Form::Path => map(json!({
                "type": "string", "pattern": r"^[^/\\:][^\\:]*$",
                "patternErrorMessage": "write a path from this file's folder, with forward slashes",
            })),
            Form::Count => map(json!({
                "type": ["integer", "string"], "minimum": 1, "pattern": "^(?:0*[1-9][0-9]*|none)$",
                "patternErrorMessage": "write a whole number from 1",
            })),
            Form::Date => map(json!({
                "type": "string", "pattern": "^(?:[0-9]{4}-[0-9]{2}-[0-9]{2}|none)$",
                "patternErrorMessage": "write year, month and day, as in `2026-11-25`",
            })),
            Form::Thread => map(json!({
                "type": "string", "pattern": r"^(?: *M *[0-9.]+ *(?:[xX×] *[0-9.]+)? *|.*NPT *|none)$",
                "patternErrorMessage":
                    "write `M14x1.5`, `M6` for the coarse pitch, or `1/2-14 NPT`",
                "examples": ["M14x1.5", "M6", "1/2-14 NPT"],
            })),
            Form::Formula => {
                map(json!({ "type": ["string", "number", "boolean"], "minLength": 1 }))
            }
            // A form that this list does not know is left to the program.
            _ => Map::new(),
        }
    }

    fn mapping(&mut self, node: &Node, field: &Field) -> Map<String, Value> {
        let mut schema = map(json!({
            "type": ["object", "string"],
            "minProperties": 1,
            "properties": self.keys(node),
            "additionalProperties": false,
        }));
        or_words(&mut schema, field);
        schema
    }

    fn named(&mut self, node: &Node, field: &Field) -> Map<String, Value> {
        let each = node.each().map_or(Value::Bool(true), |each| self.value_of_name(each));
        let mut schema = map(json!({
            "type": ["object", "string"],
            "minProperties": 1,
            "additionalProperties": each,
        }));
        if let Some(names) = self.names(field) {
            schema.insert("propertyNames".to_owned(), names);
        }
        if self.kind != DocumentKind::Rulebook {
            schema.insert("examples".to_owned(), json!(["none"]));
        }
        or_words(&mut schema, field);
        schema
    }

    fn value_of_name(&mut self, node: &Node) -> Value {
        match node.field {
            Some(_) => self.value(node),
            None => self.item(node),
        }
    }

    /// What the names may be; none where they are not looked at.
    fn names(&self, field: &Field) -> Option<Value> {
        // An entry of a register has what name it has there.
        if self.kind == DocumentKind::Concessions {
            return None;
        }
        if self.kind != DocumentKind::Rulebook {
            return Some(json!({
                "pattern": NAME,
                "patternErrorMessage":
                    "a name begins with a letter and holds letters, digits, `_` and `-` only",
            }));
        }
        let of_rules = matches!(field.path, "rules" | "instead" | "dropped");
        of_rules.then(|| {
            json!({
                "pattern": RULE_ID,
                "patternErrorMessage":
                    "write the family, a dot, and what is wrong in small letters with hyphens, as in \
                     `pickup.too-close-to-floor`",
            })
        })
    }

    /// A list of quantities, of formulas or of things; of quantities, one may stand alone, or a range.
    fn list(&mut self, node: &Node, field: &'static Field) -> Map<String, Value> {
        if let Some(dimension) = field.dimension {
            let one = self.quantity(field, dimension);
            let mut schema = self.range(node, &one);
            schema.insert("type".to_owned(), json!(["string", "array", "object"]));
            schema.insert("minItems".to_owned(), 1.into());
            schema.insert("items".to_owned(), Value::Object(one));
            return schema;
        }
        let items = match node.each() {
            Some(each) => self.value_of_name(each),
            None => json!({ "type": ["string", "number"] }),
        };
        let mut schema = map(json!({ "type": ["array", "string"], "minItems": 1, "items": items }));
        or_words(&mut schema, field);
        schema
    }

    fn swept(&mut self, node: &Node, field: &'static Field) -> Map<String, Value> {
        let Some(dimension) = field.dimension else { return Map::new() };
        let one = self.quantity(field, dimension);
        self.range(node, &one)
    }

    /// A value, or `from`, `to` and `steps`.
    fn range(&mut self, node: &Node, one: &Map<String, Value>) -> Map<String, Value> {
        map(json!({
            "type": ["string", "object"],
            "if": { "type": "string" },
            "then": one,
            "properties": self.keys(node),
            "required": ["from", "to", "steps"],
            "additionalProperties": false,
        }))
    }

    fn quantities(&mut self, field: &'static Field, count: usize) -> Map<String, Value> {
        let Some(dimension) = field.dimension else { return Map::new() };
        let one = self.quantity(field, dimension);
        let mut schema = map(json!({
            "type": ["array", "string"], "minItems": count, "maxItems": count, "items": one,
        }));
        or_words(&mut schema, field);
        schema
    }

    fn table(&mut self, node: &Node, field: &Field) -> Map<String, Value> {
        let each = node.each();
        let rows = each.map_or(Value::Bool(true), |each| self.value(each));
        let key = each.and_then(|each| each.keys().find_map(|key| key.field));
        let mut schema = map(json!({
            "type": ["object", "string"], "minProperties": 1, "additionalProperties": rows,
        }));
        if let Some(dimension) = key.and_then(|key| key.dimension) {
            schema.insert("propertyNames".to_owned(), quantity::table_key(dimension));
        }
        or_words(&mut schema, field);
        schema
    }

    /// A word of a list; or, where keys stand below it, a mapping of them.
    fn words(&mut self, node: &Node, words: &[&str]) -> Map<String, Value> {
        let mut all: Vec<Value> = Vec::new();
        for word in words {
            // A word that a reader of YAML takes for a number or a truth stands there as that as well.
            all.extend(serde_json::from_str(word).ok().filter(|v: &Value| !v.is_string()));
            all.push((*word).into());
        }
        if node.below.is_empty() {
            if !words.contains(&"none") && self.kind != DocumentKind::Rulebook {
                all.push("none".into());
            }
            return map(json!({ "enum": all }));
        }
        let mapping = json!({
            "type": "object", "properties": self.keys(node), "additionalProperties": false, "minProperties": 1,
        });
        map(json!({ "anyOf": [{ "enum": all }, mapping] }))
    }

    fn quantity(&mut self, field: &'static Field, dimension: Dimension) -> Map<String, Value> {
        let name = quantity::name(field, dimension);
        if !self.definitions.contains_key(&name) {
            let definition = quantity::definition(field, dimension);
            self.definitions.insert(name.clone(), definition);
        }
        let reference = format!("#/$defs/{name}");
        if !field.or_words.is_empty() {
            return map(json!({ "anyOf": [{ "enum": field.or_words }, { "$ref": reference }] }));
        }
        let mut schema = map(json!({ "$ref": reference }));
        if field.limits == Limits::Share {
            schema.insert("exclusiveMinimum".to_owned(), 0.into());
            schema.insert("maximum".to_owned(), 1.into());
        }
        schema
    }
}

/// A word or a sentence; a reader of YAML may take it for a number or a truth.
fn text() -> Value {
    json!({ "type": ["string", "number", "boolean"], "minLength": 1 })
}

/// The words that may stand in place of a mapping or a list.
fn or_words(schema: &mut Map<String, Value>, field: &Field) {
    let words: Vec<&str> = field.or_words.iter().copied().chain(["none"]).collect();
    schema.insert("pattern".to_owned(), format!("^(?:{})$", words.join("|")).into());
    let listed = words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(" or ");
    let message = format!("write {listed}, or what stands below it");
    schema.insert("patternErrorMessage".to_owned(), message.into());
}

/// How a person gets the value, and what is usual.
fn description(field: &Field) -> String {
    match field.typical {
        Some((low, high)) => format!("{} Usually {low} to {high}.", field.how_to_get),
        None => field.how_to_get.to_owned(),
    }
}

fn map(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}
