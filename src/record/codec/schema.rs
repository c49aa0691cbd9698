//! The published schema of the record against the tables that the record is read and written by: no field is missing from
//! either, and what the one takes the other takes.

use std::collections::BTreeSet;

use jsonschema::Validator;
use serde_json::{Map, Value, json};

use super::part::{Identified, Object, PartMut};
use super::reader::Reader;
use super::reference::Among;
use crate::{SCHEMA, SetAside, SprayTest};

/// What every entry has beside its own fields.
const MARKS: [&str; 4] = ["id", "deleted", "stamp", "edited"];

/// Short forms that are read and never written.
const SHORT: [(&str, &str); 5] =
    [("", "balance"), ("", "comb"), ("", "blank"), ("combs", "teeth_um"), ("panels", "bare_g")];

fn schema() -> Value {
    serde_json::from_str(SCHEMA).expect("the schema is JSON")
}

/// Follows a reference to the definitions.
fn resolved<'s>(root: &'s Value, part: &'s Value) -> &'s Value {
    match part["$ref"].as_str() {
        Some(path) => root.pointer(path.trim_start_matches('#')).unwrap_or_else(|| panic!("{path}")),
        None => part,
    }
}

/// One value of every kind that a file may hold in a field, at and beyond every bound that a quantity has.
fn samples() -> Vec<Value> {
    let bounds =
        [0.0, 0.0001, 0.01, 0.001, 0.3, 1.0, 12.0, 100.0, 300.0, 1e3, 1.5e3, 1e4, 2e4, 4.38e4, 5e4, 1e5, 1.296e5, 1e7];
    let mut numbers: Vec<f64> = vec![-60.0, -60.01, -1e300, 1e300, 1e-300, 5.5];
    numbers.extend(bounds.iter().flat_map(|bound| [*bound, bound * 0.999 - 1e-6, bound * 1.001 + 1e-6]));
    let mut samples: Vec<Value> = numbers.iter().map(|number| json!(number)).collect();
    samples.extend(numbers.iter().map(|number| json!([1, number])));
    for word in [
        "",
        "words",
        "12@phone",
        "@phone",
        "-1@phone",
        "12",
        "12phone",
        "2026-03-02T08:10:00+01:00",
        "2026-03-02T08:10:00Z",
        "2026-03-02T08:10:00",
        "2026-03-02",
        "1969-03-02T08:10:00Z",
        "2200-03-02T08:10:00Z",
        "2026-13-02T08:10:00Z",
        "volume",
        "weight",
        "base",
        "hardener",
        "reducer",
        "mix",
        "mix_unreduced",
        "paint",
        "um",
        "mil",
        "mm",
        "in",
        "g",
        "oz",
        "ml",
        "floz",
        "c",
        "f",
        "cautious",
        "usual",
        "quick",
        "air",
        "bare",
        "coats",
        "comb",
        "wet",
    ] {
        samples.extend([json!(word), json!([word]), json!({ "by": word }), json!({ "title": word })]);
    }
    samples.extend([json!(true), json!([]), json!({}), json!([[]]), json!([null]), json!({ "why": 7 }), json!([{}])]);
    samples
}

/// The schema of one field as a schema of its own.
fn validator(root: &Value, part: &Value) -> Validator {
    let mut alone = part.as_object().expect("an object").clone();
    alone.insert("$defs".into(), root["$defs"].clone());
    jsonschema::draft202012::options().should_validate_formats(true).build(&Value::Object(alone)).expect("a schema")
}

fn walk(object: &mut dyn Object, entry: bool, root: &Value, part: &Value, place: &str) {
    let properties: &Map<String, Value> = resolved(root, part)["properties"].as_object().expect("properties");
    let names = object.names();
    let mut known: BTreeSet<&str> = names.iter().copied().collect();
    known.extend(MARKS.iter().filter(|_| entry));
    known.extend(SHORT.iter().filter(|(list, _)| *list == place).map(|(_, short)| *short));
    let said: BTreeSet<&str> = properties.keys().map(String::as_str).collect();
    assert_eq!(said, known, "the fields of {place}");

    for ((name, among), field) in names.iter().zip(object.references()).zip(object.parts_mut()) {
        let part = &properties[*name];
        let list = |(Among::All(list) | Among::Own(list)): &Among| *list;
        let lists: Vec<&str> = among.iter().map(list).collect();
        let said = part.get("names").cloned().unwrap_or_else(|| json!([]));
        assert_eq!(said, json!(lists), "what {place}.{name} names");
        known_lists(&lists, root);
        assert!(
            part["description"].as_str().is_some_and(|told| told.ends_with('.')),
            "{place}.{name} is not described"
        );
        match field {
            // A record says what it is and of which version; the gate itself looks at both.
            PartMut::Whole(_) if place.is_empty() && matches!(*name, "format" | "version") => {}
            PartMut::Whole(whole) => {
                let by_schema = validator(root, part);
                for sample in samples() {
                    let mut reader = Reader::default();
                    let taken = whole.read(&sample, &mut reader) && reader.remarks.is_empty();
                    // The gate is the more lenient: it reads text from a number, say. What it read is written as described.
                    assert!(taken || !by_schema.is_valid(&sample), "{place}.{name}: {sample} is valid and not read");
                    if taken {
                        assert!(by_schema.is_valid(&whole.value()), "{place}.{name}: {sample} is written otherwise");
                    }
                }
            }
            PartMut::Group(group) => walk(group, false, root, part, name),
            PartMut::List(list) => {
                assert_eq!(part["type"], "array", "{place}.{name}");
                let entry: &mut dyn Identified = list.add();
                walk(entry, true, root, &part["items"], name);
            }
        }
    }
}

/// A reference to a list that there is nowhere could lead nowhere only.
fn known_lists(lists: &[&str], root: &Value) {
    let definitions = root["$defs"].as_object().expect("definitions").values().chain([root]);
    let properties: Vec<&Value> = definitions.map(|part| &part["properties"]).collect();
    for list in lists {
        let known = properties.iter().any(|properties| properties[*list]["items"].get("$ref").is_some());
        assert!(known, "there is no list of {list}");
    }
}

#[test]
fn every_field_is_described_and_takes_what_the_gate_takes() {
    let root = schema();
    walk(&mut SprayTest::default(), true, &root, &root, "");
    // The one group that is a value and is written whole.
    // The walk that follows references does not see into it.
    assert!(SetAside::default().references().iter().all(|among| among.is_empty()));
    walk(&mut SetAside::default(), false, &root, &json!({ "$ref": "#/$defs/set_aside" }), "set_aside");
}

#[test]
fn it_is_a_schema_and_refuses_what_is_no_record() {
    let root = schema();
    assert!(jsonschema::meta::is_valid(&root));
    let validator = validator(&root, &root);
    for (text, valid) in [
        (r#"{ "format": "spray-test", "version": 1, "telepathy": [] }"#, true),
        (
            r#"{ "format": "spray-test", "version": 1, "panels": [ { "bare_g": 412.3, "weigh_ins": [ { "gross_g": 440 } ] } ] }"#,
            true,
        ),
        (r#"{ "format": "letter", "version": 1 }"#, false),
        (r#"{ "format": "spray-test" }"#, false),
        (r#"{ "format": "spray-test", "version": 1, "panels": [ { "weigh_ins": [ { "gross_g": "440" } ] } ] }"#, false),
        (r#"{ "format": "spray-test", "version": 1, "panels": { } }"#, false),
        (r#"[]"#, false),
    ] {
        assert_eq!(validator.is_valid(&serde_json::from_str(text).unwrap()), valid, "{text}");
    }
}
