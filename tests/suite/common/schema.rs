//! A small checker of JSON against JSON Schema: the words that the shipped schemas use, and a panic at any other word, so that
//! nothing is passed over in silence.
//!
//! A full validator from the registry (jsonschema 0.61.2 without its default features) brings 55 packages more for the same answer;
//! while the schemas were made, an independent one agreed on every file and output.

use serde_json::{Map, Value};

/// Words that only describe.
const SILENT: &[&str] = &["$schema", "$defs", "title", "description", "format", "default"];

/// Everything in which `value` departs from `schema`.
pub(crate) fn departures(schema: &Value, value: &Value) -> Vec<String> {
    let mut found = Vec::new();
    check(schema, schema, value, "", &mut found);
    found
}

fn fits(root: &Value, schema: &Value, value: &Value) -> bool {
    let mut found = Vec::new();
    check(root, schema, value, "", &mut found);
    found.is_empty()
}

fn check(root: &Value, schema: &Value, value: &Value, place: &str, found: &mut Vec<String>) {
    let rules = match schema {
        Value::Bool(true) => return,
        Value::Object(rules) => rules,
        other => panic!("{other} is no schema"),
    };
    for (word, rule) in rules {
        if !one(root, rules, (word, rule), value, place, found) {
            found.push(format!("{place}: {value} against {word}: {rule}"));
        }
    }
}

/// Whether one rule holds; rules of members report for themselves.
fn one(
    root: &Value,
    rules: &Map<String, Value>,
    (word, rule): (&str, &Value),
    value: &Value,
    place: &str,
    found: &mut Vec<String>,
) -> bool {
    let number =
        |test: fn(f64, f64) -> bool| value.as_f64().is_none_or(|own| test(own, rule.as_f64().unwrap()));
    let count = |length: Option<usize>, test: fn(usize, usize) -> bool| {
        length.is_none_or(|own| test(own, usize::try_from(rule.as_u64().unwrap()).unwrap()))
    };
    let schemas = || rule.as_array().unwrap().iter();
    let has = |key: &Value| value.as_object().is_none_or(|own| own.contains_key(key.as_str().unwrap()));
    match word {
        word if SILENT.contains(&word) => true,
        "type" => match rule {
            Value::String(name) => is(name, value),
            names => names.as_array().unwrap().iter().any(|name| is(name.as_str().unwrap(), value)),
        },
        "const" => rule == value,
        "enum" => rule.as_array().unwrap().contains(value),
        "minimum" => number(|own, limit| own >= limit),
        "maximum" => number(|own, limit| own <= limit),
        "exclusiveMinimum" => number(|own, limit| own > limit),
        "minItems" => count(value.as_array().map(Vec::len), |own, limit| own >= limit),
        "maxItems" => count(value.as_array().map(Vec::len), |own, limit| own <= limit),
        "minLength" => count(value.as_str().map(|own| own.chars().count()), |own, limit| own >= limit),
        "maxLength" => count(value.as_str().map(|own| own.chars().count()), |own, limit| own <= limit),
        "required" => rule.as_array().unwrap().iter().all(has),
        "dependentRequired" => rule
            .as_object()
            .unwrap()
            .iter()
            .all(|(key, needs)| value.get(key).is_none() || needs.as_array().unwrap().iter().all(has)),
        "anyOf" => schemas().any(|own| fits(root, own, value)),
        "oneOf" => schemas().filter(|own| fits(root, own, value)).count() == 1,
        "if" => !fits(root, rule, value) || fits(root, &rules["then"], value),
        "then" => rules.contains_key("if"),
        "$ref" => {
            let target = root.pointer(rule.as_str().unwrap().strip_prefix('#').unwrap());
            check(root, target.expect("a reference leads somewhere"), value, place, found);
            true
        }
        "items" => {
            for (index, own) in value.as_array().into_iter().flatten().enumerate() {
                check(root, rule, own, &format!("{place}/{index}"), found);
            }
            true
        }
        "properties" => {
            for (key, own) in value.as_object().into_iter().flatten() {
                if let Some(schema) = rule.get(key) {
                    check(root, schema, own, &format!("{place}/{key}"), found);
                }
            }
            true
        }
        "additionalProperties" => {
            let known = |key: &str| rules.get("properties").is_some_and(|own| own.get(key).is_some());
            for (key, own) in value.as_object().into_iter().flatten().filter(|(key, _)| !known(key)) {
                match rule {
                    Value::Bool(false) => found.push(format!("{place}: unknown key {key}")),
                    schema => check(root, schema, own, &format!("{place}/{key}"), found),
                }
            }
            true
        }
        other => panic!("the checker does not know the word {other}"),
    }
}

fn is(name: &str, value: &Value) -> bool {
    match name {
        "null" => value.is_null(),
        "boolean" => value.is_boolean(),
        "string" => value.is_string(),
        "array" => value.is_array(),
        "object" => value.is_object(),
        "number" => value.is_number(),
        "integer" => value.is_u64() || value.is_i64(),
        other => panic!("no type {other}"),
    }
}

/// Keys that are in the document and in no schema of it: a schema that forgets a field is out of date.
pub(crate) fn unknown_keys(schema: &Value, value: &Value) -> Vec<String> {
    let mut strict = schema.clone();
    close(&mut strict);
    departures(&strict, value)
}

/// Makes every object with named members take no others.
fn close(schema: &mut Value) {
    match schema {
        Value::Array(list) => list.iter_mut().for_each(close),
        Value::Object(rules) => {
            rules.values_mut().for_each(close);
            if rules.contains_key("properties") && !rules.contains_key("additionalProperties") {
                rules.insert("additionalProperties".to_owned(), Value::Bool(false));
            }
        }
        _ => {}
    }
}
