//! Every record that is written is one by the published schema, as a general-purpose validator reads it.

use comb_scale::record::{Action, Address, EXAMPLE, History, Owner, merge, open, start, write};
use jsonschema::Validator;
use serde_json::{Map, Value, json};

use super::{at, begun, grams, micrometres, panel};

const SCHEMA: &str = include_str!("../../src/record/record.schema.json");

fn validator() -> Validator {
    let schema: Value = serde_json::from_str(SCHEMA).unwrap();
    jsonschema::draft202012::options().should_validate_formats(true).build(&schema).unwrap()
}

#[track_caller]
fn check(text: &str) -> Value {
    let record: Value = serde_json::from_str(text).unwrap();
    let troubles: Vec<String> =
        validator().iter_errors(&record).map(|trouble| format!("{}: {trouble}", trouble.instance_path())).collect();
    assert!(troubles.is_empty(), "{troubles:#?}\n{text}");
    record
}

#[test]
fn the_example_and_a_new_test_are_records_by_the_schema() {
    check(EXAMPLE);
    check(&write(&open(EXAMPLE).unwrap().test));
    check(&write(start("t".into(), at("2026-03-02T08:10:00+01:00"), "phone").test()));
}

#[test]
fn so_is_one_that_was_worked_on_taken_apart_and_joined() {
    let mut history = begun("ann");
    let (owner, when) = (panel(history.test(), "A1"), at("2026-03-02T09:00:00+01:00"));
    let mut theirs = History::new(history.test().clone(), "ben");
    for (history, gross_g) in [(&mut history, 440.2), (&mut theirs, 440.4)] {
        for action in [
            Action::WeighBare { panel: owner.clone(), at: when, gross_g: grams(412.0) },
            Action::Coat { panels: vec![owner.clone()], at: when },
            Action::Weigh { owner: Owner::Panel(owner.clone()), round: None, at: when, gross_g: grams(gross_g) },
            Action::Spot {
                id: "spot".into(),
                panel: owner.clone(),
                at: when,
                place: "top".into(),
                shim_um: None,
                readings_um: vec![micrometres(90.5)],
            },
            Action::Carry { at: when, to: "Sun".into(), warmer: true, panels: vec![owner.clone()] },
            Action::TakeAir { at: when, air_c: None, humidity_pct: None, panel_c: None },
        ] {
            history.act(action).unwrap();
        }
    }
    let weigh_in = history.test().panels.find(&owner).unwrap().weigh_ins.kept().next().unwrap().id.clone();
    history.act(Action::SetAside { owner: Owner::Panel(owner.clone()), weigh_in, why: "slip".into() }).unwrap();
    history.act(Action::Remove(Address::panel(&owner))).unwrap();
    history.undo();
    check(&write(&merge(history.test(), theirs.test()).test));
}

/// A value that a part of the schema allows, with every field that it names; short forms stand for what is there at length.
fn full(root: &Value, part: &Value, name: &str) -> Value {
    if let Some(path) = part["$ref"].as_str() {
        return full(root, root.pointer(path.trim_start_matches('#')).unwrap(), name);
    }
    let text = match name {
        "edited" => return json!({ "label": "9@phone" }),
        // Entries point at one another by these.
        _ if part.get("names").is_some() => "x",
        "id" => "x",
        _ => "words",
    };
    if let Some(words) = part["enum"].as_array() {
        return words[0].clone();
    }
    if let Some(only) = part.get("const") {
        return only.clone();
    }
    match part["type"].as_str() {
        Some("object") => {
            let mut map = Map::new();
            for (name, part) in part["properties"].as_object().unwrap() {
                let short = part["description"].as_str().unwrap().starts_with("Short form");
                if !short && name != "deleted" {
                    map.insert(name.clone(), full(root, part, name));
                }
            }
            Value::Object(map)
        }
        Some("array") => {
            json!([if part.get("names").is_some() { "x".into() } else { full(root, &part["items"], name) }])
        }
        Some("boolean") => true.into(),
        Some("number" | "integer") => part["maximum"].clone(),
        Some("string") if part.get("format").is_some() => "2026-03-02T08:10:00+01:00".into(),
        Some("string") if part.get("pattern").is_some() => "7@phone".into(),
        Some("string") => text.into(),
        other => panic!("{name}: {other:?}"),
    }
}

/// The names of all fields in a value, dotted.
fn fields(value: &Value, path: &str, all: &mut Vec<String>) {
    match value {
        Value::Object(map) => map.iter().for_each(|(name, value)| {
            all.push(format!("{path}.{name}"));
            fields(value, &format!("{path}.{name}"), all);
        }),
        Value::Array(items) => items.iter().for_each(|item| fields(item, path, all)),
        _ => {}
    }
}

#[test]
fn a_record_with_every_field_there_is_comes_back_with_every_one() {
    let root: Value = serde_json::from_str(SCHEMA).unwrap();
    let mut record = full(&root, &root, "");
    record["version"] = 1.into();
    let opened = open(&check(&record.to_string()).to_string()).unwrap();
    assert_eq!(opened.remarks, []);
    let written = check(&write(&opened.test));
    let (mut before, mut after) = (Vec::new(), Vec::new());
    fields(&record, "", &mut before);
    fields(&written, "", &mut after);
    before.sort();
    after.sort();
    assert_eq!(after, before);
    assert!(before.len() > 250, "{}", before.len());
    assert_eq!(open(&write(&opened.test)).unwrap().test, opened.test);
}
