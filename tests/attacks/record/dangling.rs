//! References that lead nowhere: every field of the record that names an entry, as the published schema lists them.

use comb_scale::findings;
use comb_scale::record::{EXAMPLE, Opened, SprayTest, open, write};
use serde_json::{Map, Value, json};

use crate::{Attacks, holds, same};

const SCHEMA: &str = include_str!("../../../src/record/record.schema.json");

/// A name that nothing has.
const NOTHING: &str = "nowhere";

/// A field that names entries, as the schema describes it.
struct Reference {
    /// The way to it: the name of each list or group, then its own.
    way: Vec<String>,
    several: bool,
    lists: Vec<String>,
}

fn references(root: &Value, part: &Value, way: &mut Vec<String>, all: &mut Vec<Reference>) {
    if let Some(definition) = part["$ref"].as_str() {
        return references(root, root.pointer(definition.trim_start_matches('#')).unwrap(), way, all);
    }
    if let Some(lists) = part["names"].as_array() {
        let lists = lists.iter().map(|list| list.as_str().unwrap().to_owned()).collect();
        all.push(Reference { way: way.clone(), several: part["type"] == "array", lists });
    } else if part["type"] == "array" {
        references(root, &part["items"], way, all);
    } else if let Some(properties) = part["properties"].as_object() {
        for (name, part) in properties.iter().filter(|(_, part)| !said(part).starts_with("Short form")) {
            way.push(name.clone());
            references(root, part, way, all);
            way.pop();
        }
    }
}

fn said(part: &Value) -> &str {
    part["description"].as_str().unwrap_or_default()
}

/// Every field of the record that names entries.
fn every_reference() -> Vec<Reference> {
    let (root, mut all): (Value, _) = (serde_json::from_str(SCHEMA).unwrap(), Vec::new());
    references(&root, &root, &mut Vec::new(), &mut all);
    all
}

/// The worked example, as its file.
fn example() -> Value {
    serde_json::from_str(EXAMPLE).unwrap()
}

/// The object at the end of a way of lists and groups, in the first entry of each list; what is not there is put there.
fn object<'a>(record: &'a mut Value, way: &[String], group: &dyn Fn(&str) -> bool) -> &'a mut Map<String, Value> {
    let map = record.as_object_mut().unwrap();
    let Some((name, way)) = way.split_first() else { return map };
    if group(name) {
        return object(map.entry(name.as_str()).or_insert_with(|| json!({})), way, group);
    }
    let list = map.entry(name.as_str()).or_insert_with(|| json!([])).as_array_mut().unwrap();
    if list.is_empty() {
        list.push(json!({}));
    }
    object(&mut list[0], way, group)
}

impl Reference {
    /// The worked example with this field naming something.
    fn naming(&self, named: &str) -> Value {
        let mut record = example();
        let (field, way) = self.way.split_last().unwrap();
        let holder = object(&mut record, way, &|name| ["order", "mix", "wanted", "hours"].contains(&name));
        match holder.get_mut(field).and_then(Value::as_array_mut).filter(|_| self.several) {
            Some(several) => several.push(named.into()),
            None if self.several => _ = holder.insert(field.clone(), json!([named])),
            None => _ = holder.insert(field.clone(), named.into()),
        }
        record
    }

    fn name(&self) -> String {
        self.way.join(".")
    }
}

fn opened(record: &Value) -> Opened {
    open(&record.to_string()).unwrap()
}

/// What the gate says of where something leads.
fn remarks(opened: &Opened) -> Vec<String> {
    opened.remarks.iter().map(ToString::to_string).collect()
}

/// It is said, once and where it is; it stays as it was written; all else is told as before.
fn survives(of: &Reference, named: &str) -> Result<(), String> {
    let opened = opened(&of.naming(named));
    let remarks = remarks(&opened);
    let field = format!(".{}: names \"{named}\", which is not in this test", of.way.last().unwrap());
    holds(remarks.len() == 1 && remarks[0].ends_with(&field), format!("the gate says {remarks:?}"))?;
    let text = write(&opened.test);
    holds(text.contains(named), "it is not written back")?;
    same("what is written", open(&text).unwrap().test, opened.test.clone())?;
    told(&opened.test)
}

/// Findings, the walk through every round and the report do without.
fn told(test: &SprayTest) -> Result<(), String> {
    let now = "2026-04-20T08:10:00Z".parse().unwrap();
    let (found, whole) = (findings::of(test, now), findings::of(&open(EXAMPLE).unwrap().test, now));
    same("panels told", found.panels.len(), whole.panels.len())?;
    same("candidates told", found.candidates.len(), whole.candidates.len())?;
    let wording = findings::words::Wording::default();
    let blank = test.blanks.kept().next().map(|blank| blank.id.clone()).unwrap();
    for round in test.rounds.kept() {
        let stops = findings::weigh::stops(test, &round.id, &wording);
        holds(stops.iter().any(|stop| stop.owner.blank() == Some(&blank)), "a walk passes the blank by")?;
    }
    Ok(())
}

#[test]
fn every_reference_that_leads_nowhere_is_said_and_survived() {
    let mut attacks = Attacks::on("record: references that lead nowhere");
    let all = every_reference();
    assert!(all.len() >= 19, "the schema names the fields that name something");
    for of in &all {
        attacks.attempt(format!("{} names nothing", of.name()), || survives(of, NOTHING));
        attacks.attempt(format!("{} names the test", of.name()), || survives(of, "worked-example"));
        // An id is one of its list only: that of an entry of another kind names nothing.
        if !of.lists.iter().any(|list| list == "notes") {
            attacks.attempt(format!("{} names a note", of.name()), || {
                let id = example()["notes"][0]["id"].as_str().unwrap().to_owned();
                survives(of, &id)
            });
        }
    }
    attacks.close();
}

/// A test in which these entries stand, and what the gate says of it.
fn remarks_on(says: &str) -> Vec<String> {
    remarks(&open(&format!(r#"{{ "format": "spray-test", "version": 1, "id": "t", {says} }}"#)).unwrap())
}

#[test]
fn a_name_is_followed_only_to_what_the_field_is_about() {
    const OTHER: &str =
        r#"{ "id": "q", "label": "B1", "dabs": [ { "id": "dab-q" } ], "coats": [ { "id": "coat-q" } ] }"#;
    let panel = |inside: &str| format!(r#""panels": [ {{ "id": "p", "label": "A1", {inside} }}, {OTHER} ]"#);
    let coat_after = |after: &str| panel(&format!(r#""coats": [ {{ "id": "c", "after": "{after}" }} ]"#));
    let weighed = r#""blanks": [ { "id": "b", "weigh_ins": [ { "id": "w", "after": "coat-q" } ] } ]"#;
    let skipped =
        |step: &str| format!(r#"{}, "blanks": [ {{ "id": "b" }} ], "skipped": [ {step} ]"#, panel(r#""rack": "1""#));
    let two = r#""candidates": [ { "id": "1", "label": "Grey" }, { "id": "2", "label": "Grey" } ]"#;
    let mut attacks = Attacks::on("record: names that mean something else");
    for (name, says, wanted) in [
        ("a coat of another panel", coat_after("coat-q"), None),
        ("a comb reading of another panel", coat_after("dab-q"), Some("panels[A1].coats[c].after")),
        ("a blank after any coat", format!("{}, {weighed}", panel(r#""rack": "1""#)), None),
        (
            "a removed one is there",
            panel(r#""candidate": "g" "#) + r#", "candidates": [ { "id": "g", "deleted": true } ]"#,
            None,
        ),
        ("said by a removed one", panel(r#""dabs": [ { "id": "d", "comb": "none", "deleted": true } ]"#), None),
        ("a label of two", format!(r#"{}, {two}"#, panel(r#""candidate": "Grey""#)), Some("panels[A1].candidate")),
        ("an id of two labels", format!(r#"{}, {two}"#, panel(r#""candidate": "1""#)), None),
        (
            "a label where a label is empty",
            panel(r#""candidate": """#) + r#", "candidates": [ { "id": "1" } ]"#,
            Some("panels[A1].candidate"),
        ),
        ("a step of a panel", skipped(r#"{ "id": "s", "step": "wet", "of": "A1" }"#), None),
        ("a step of a blank", skipped(r#"{ "id": "s", "step": "wet", "of": "b", "blank": true }"#), None),
        (
            "a step of a blank that is a panel",
            skipped(r#"{ "id": "s", "of": "p", "blank": true }"#),
            Some("skipped[s].of"),
        ),
    ] {
        attacks.attempt(name, || {
            let remarks = remarks_on(&says);
            let places: Vec<Option<&str>> = remarks.iter().map(|remark| remark.split(": ").next()).collect();
            same("what is said", places, wanted.map(Some).into_iter().collect())
        });
    }
    attacks.close();
}
