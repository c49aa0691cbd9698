//! On the record itself: entries that share their numbers, joins in every order, texts of every kind.

mod dangling;
mod ids;
mod joins;
mod stamps;
mod texts;
mod unknown;
mod written;

use std::collections::BTreeMap;

use comb_scale::record::{SprayTest, open, write};
use serde_json::Value;

fn opened(text: &str) -> SprayTest {
    open(text).unwrap_or_else(|trouble| panic!("{trouble}: {text}")).test
}

/// A record that says these things.
fn record(says: &str) -> SprayTest {
    opened(&format!(r#"{{ "format": "spray-test", "version": 1, "id": "t", {says} }}"#))
}

/// Everything that a test says, by the place where it stands: `panels/1/weigh_ins/2/gross_g`. Stamps are left out.
fn places(test: &SprayTest) -> BTreeMap<String, String> {
    let mut places = BTreeMap::new();
    flatten("", &serde_json::from_str(&write(test)).expect("what is written is JSON"), &mut places);
    places
}

fn flatten(place: &str, value: &Value, places: &mut BTreeMap<String, String>) {
    let under = |name: &str| if place.is_empty() { name.to_owned() } else { format!("{place}/{name}") };
    match value {
        Value::Object(map) => {
            for (name, value) in map.iter().filter(|(name, _)| !["stamp", "edited"].contains(&name.as_str())) {
                flatten(&under(name), value, places);
            }
        }
        Value::Array(items) if items.iter().all(|item| item.get("id").is_some()) => {
            for item in items {
                flatten(&under(item["id"].as_str().unwrap_or("?")), item, places);
            }
        }
        value => {
            places.insert(place.to_owned(), value.to_string());
        }
    }
}

/// Where two tests differ.
fn changed(before: &SprayTest, after: &SprayTest) -> Vec<String> {
    let (before, after) = (places(before), places(after));
    let all: std::collections::BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    all.into_iter().filter(|place| before.get(*place) != after.get(*place)).cloned().collect()
}
