//! The published schemas describe what the commands really answer, to the last key.
//!
//! The validator knows the keywords our schemas use and refuses any other, so that a keyword it
//! does not understand cannot pass unseen; a key that the schema does not name is a fault.

use serde_json::Value;

use crate::program::{demo, file, run};

/// Every fault of `value` against `schema`, with its path.
fn faults(schema: &Value, root: &Value, value: &Value, path: &str, found: &mut Vec<String>) {
    let Some(schema) = schema.as_object() else { return };
    if let Some(target) = schema.get("$ref") {
        let target = target.as_str().expect("a reference is text");
        let name = target.strip_prefix("#/$defs/").expect("references stay in the document");
        faults(&root["$defs"][name], root, value, path, found);
    }
    for (keyword, wanted) in schema {
        match keyword.as_str() {
            "$ref" | "$defs" | "$schema" | "title" | "description" | "format" | "additionalProperties" => {}
            "type" => {
                let allowed = wanted.as_array().cloned().unwrap_or_else(|| vec![wanted.clone()]);
                if !allowed.iter().any(|t| is_of_type(value, t.as_str().expect("a type is text"))) {
                    found.push(format!("{path}: {value} is not {wanted}"));
                }
            }
            "required" => {
                for key in wanted.as_array().expect("a list") {
                    if value.is_object() && value.get(key.as_str().expect("a key")).is_none() {
                        found.push(format!("{path}: {key} is missing"));
                    }
                }
            }
            "properties" => {
                for (key, inner) in value.as_object().into_iter().flatten() {
                    match wanted.get(key) {
                        Some(part) => faults(part, root, inner, &format!("{path}.{key}"), found),
                        // The keys of a variant stand in the schema around it or in the variant.
                        None if schema.contains_key("oneOf") => {}
                        None => found.push(format!("{path}.{key}: not in the schema")),
                    }
                }
            }
            "items" => {
                for (i, inner) in value.as_array().into_iter().flatten().enumerate() {
                    faults(wanted, root, inner, &format!("{path}[{i}]"), found);
                }
            }
            "minItems" | "maxItems" => {
                let Some(count) = value.as_array().map(|items| items.len() as u64) else { continue };
                let bound = wanted.as_u64().expect("a number");
                if (keyword == "minItems" && count < bound) || (keyword == "maxItems" && count > bound) {
                    found.push(format!("{path}: {count} items against {keyword} {bound}"));
                }
            }
            "minimum" => {
                if value.as_f64().is_some_and(|v| v < wanted.as_f64().expect("a number")) {
                    found.push(format!("{path}: {value} is below {wanted}"));
                }
            }
            "const" => {
                if value != wanted {
                    found.push(format!("{path}: {value} is not {wanted}"));
                }
            }
            "enum" => {
                if !wanted.as_array().expect("a list").contains(value) {
                    found.push(format!("{path}: {value} is none of {wanted}"));
                }
            }
            "anyOf" | "oneOf" => {
                let tried = wanted.as_array().expect("a list").iter().map(|one| {
                    let mut inner = Vec::new();
                    faults(one, root, value, path, &mut inner);
                    inner
                });
                let tried: Vec<Vec<String>> = tried.collect();
                let fitting = tried.iter().filter(|t| t.is_empty()).count();
                if fitting == 0 || (keyword == "oneOf" && fitting != 1) {
                    found.push(format!("{path}: {fitting} of {keyword} fit: {tried:?}"));
                }
            }
            other => panic!("{path}: this test does not know the keyword {other}"),
        }
    }
    // A map with free keys.
    if let (Some(inner), None) = (schema.get("additionalProperties"), schema.get("properties")) {
        for (key, value) in value.as_object().into_iter().flatten() {
            faults(inner, root, value, &format!("{path}.{key}"), found);
        }
    }
}

fn is_of_type(value: &Value, name: &str) -> bool {
    match name {
        "object" => value.is_object(),
        "array" => value.is_array(),
        "string" => value.is_string(),
        "boolean" => value.is_boolean(),
        "null" => value.is_null(),
        "number" => value.is_number(),
        "integer" => value.is_i64() || value.is_u64(),
        other => panic!("this test does not know the type {other}"),
    }
}

fn schema(name: &str) -> Value {
    let run = run(&["schema", name]);
    assert_eq!(run.code, 0, "{name}: {}", run.err);
    serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{name}: {e}"))
}

/// Checks the answer of a command against the schema called `name`.
fn answers_as_described(name: &str, args: &[&str]) {
    let schema = schema(name);
    let run = run(&[args, &["--format", "json"]].concat());
    let answer: Value =
        serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{args:?}: {e}: {}", run.err));
    let mut found = Vec::new();
    faults(&schema, &schema, &answer, name, &mut found);
    assert!(found.is_empty(), "{args:?}: {found:#?}");
}

#[test]
fn every_answer_in_json_is_as_its_schema_says() {
    for name in ["attic-lowtech.toml", "shelf-gassed.toml", "hall-hardwater.toml"] {
        answers_as_described("tank", &["tank", &demo(name)]);
        answers_as_described("fill", &["fill", &demo(name)]);
        answers_as_described("plan", &["plan", &demo(name)]);
        answers_as_described("grow", &["grow", &demo(name), "--weeks", "6"]);
    }
    let start = ["--start", "2027-03-01", "--zone", "Europe/Berlin"];
    let tank = demo("shelf-gassed.toml");
    answers_as_described("calendar", &[&["calendar", &tank], &start[..]].concat());
    answers_as_described("find", &["find", "red", "stem"]);
    answers_as_described("show", &["show", "Vallisneria spiralis"]);
    answers_as_described("catalogue", &["catalogue", "check"]);
    let wishes = file("schema-wishes.txt", "Vallisneria spiralis\nLemna minor\n");
    let wishes = wishes.to_str().expect("path is UTF-8");
    answers_as_described("check", &["check", &demo("hall-hardwater.toml"), wishes]);
    let everything = ["--explain", "Vallisneria spiralis", "--inputs"];
    let list = ["Micranthemum callitrichoides", "Lagarosiphon major", "Rotala macrandra"];
    let attic = demo("attic-lowtech.toml");
    answers_as_described("check", &[&["check", &attic, wishes], &list[..], &everything[..]].concat());
    answers_as_described("compare", &["compare", &attic, "Vallisneria spiralis", "Lagarosiphon major"]);
    let two = demo("shelf-gassed.toml");
    answers_as_described("compare", &["compare", "--plant", "Vallisneria spiralis", &attic, &two]);
}

#[test]
fn every_schema_names_its_dialect_and_describes_every_key() {
    for name in ["fill", "find", "show", "tank", "check", "compare", "plan", "grow", "calendar", "catalogue"]
    {
        let schema = schema(name);
        assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema", "{name}");
        let parts = schema["$defs"].as_object().into_iter().flat_map(|d| d.values()).chain([&schema]);
        for part in parts {
            for (key, inner) in part["properties"].as_object().into_iter().flatten() {
                let told = inner.get("description").is_some() || inner.get("const").is_some();
                assert!(told, "{name}: `{key}` has no description");
            }
        }
    }
}

type Harm = fn(&mut Value);

#[test]
fn the_validator_is_not_blind() {
    let schema = schema("tank");
    let run = run(&["tank", &demo("attic-lowtech.toml"), "--format", "json"]);
    let answer: Value = serde_json::from_str(&run.out).expect("JSON");
    let harms: [(&str, Harm); 5] = [
        ("a key more", |v| v["volumes"]["gallons"] = 1.into()),
        ("a key less", |v| drop(v["loads"].as_object_mut().expect("an object").remove("total_kg"))),
        ("text for a number", |v| v["light"]["map"]["ppfd_umol_m2_s"][0][0] = "bright".into()),
        ("an unknown kind", |v| v["audit"][0]["value"]["kind"] = "guess".into()),
        ("a point of three", |v| v["zone_plan"][0]["mark_cm"] = vec![1, 2, 3].into()),
    ];
    for (name, harm) in harms {
        let mut harmed = answer.clone();
        harm(&mut harmed);
        let mut found = Vec::new();
        faults(&schema, &schema, &harmed, "tank", &mut found);
        assert!(!found.is_empty(), "{name} passes");
    }
}

#[test]
fn an_unknown_name_is_refused_with_the_list() {
    let run = run(&["schema", "fil"]);
    assert_eq!(run.code, 2);
    for name in ["fill", "find", "show", "tank", "check", "compare", "plan", "grow", "calendar", "catalogue"]
    {
        assert!(run.err.contains(name), "{name}: {}", run.err);
    }
}
