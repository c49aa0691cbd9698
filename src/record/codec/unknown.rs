//! Joining what this version does not know, under the stamps of those who do: a newer page writes its fields, groups and
//! lists of entries as this one writes its own.

use std::collections::BTreeSet;

use serde_json::{Map, Value};

use super::join::{Stamps, carry_along, weight};
use super::part::dotted;
use crate::stamp::{Edited, Stamp};

/// Two copies of something, mine first.
type Both<T> = [T; 2];

/// What two copies make of an unknown field together, `None` where it was emptied; its stamp goes into `edited` where it
/// is not the entry's own.
///
/// An object merges field by field and a list of entries by id; anything else merges whole.
pub fn join_unknown(
    path: &str,
    stamps: Both<Stamps<'_>>,
    values: Both<Option<Value>>,
    edited: &mut Edited,
) -> Option<Value> {
    match values {
        // Where one has nothing, the other's fields stand against that one by one.
        [None, None] => None,
        [None | Some(Value::Object(_)), None | Some(Value::Object(_))] => {
            let maps = values.map(|value| value.and_then(object).unwrap_or_default());
            Some(Value::Object(join_maps(path, stamps, maps, edited)))
        }
        [None | Some(Value::Array(_)), None | Some(Value::Array(_))] if values.iter().flatten().all(lists_entries) => {
            let lists = values.map(|value| value.and_then(list).unwrap_or_default());
            Some(Value::Array(join_lists(lists)))
        }
        values => join_whole(path, stamps, values, edited),
    }
}

fn join_maps(
    path: &str,
    stamps: Both<Stamps<'_>>,
    [mut mine, mut theirs]: Both<Map<String, Value>>,
    edited: &mut Edited,
) -> Map<String, Value> {
    let new = theirs.keys().filter(|name| !mine.contains_key(*name));
    let names: Vec<String> = mine.keys().chain(new).cloned().collect();
    let mut joined = Map::new();
    for name in names {
        let values = [mine.remove(&name), theirs.remove(&name)];
        if let Some(value) = join_unknown(&dotted(path, &name), stamps, values, edited) {
            joined.insert(name, value);
        }
    }
    joined
}

fn join_whole(
    path: &str,
    [mine, theirs]: Both<Stamps<'_>>,
    [my_value, their_value]: Both<Option<Value>>,
    edited: &mut Edited,
) -> Option<Value> {
    let (my_edit, their_edit) = (last_edit(mine, path), last_edit(theirs, path));
    let nothing = Stamp::default();
    // A copy that has no such field and never emptied it says nothing about it.
    let written = |edit: Option<&Stamp>, stamps: Stamps<'_>, value: &Option<Value>| {
        edit.unwrap_or(if value.is_some() { stamps.entry } else { &nothing }).clone()
    };
    let (my_stamp, their_stamp) = (written(my_edit, mine, &my_value), written(their_edit, theirs, &their_value));
    let heavy = |value: &Option<Value>| value.as_ref().map(weight);
    let take = (&their_stamp, heavy(&their_value)) > (&my_stamp, heavy(&my_value));
    let (stamp, value) = if take { (their_stamp, their_value) } else { (my_stamp, my_value) };
    // What is carried along says this already, nearly always.
    if stamp != *my_edit.max(their_edit).unwrap_or(mine.entry.max(theirs.entry)) {
        edited.insert(path.into(), stamp);
    }
    value
}

/// When an unknown field was last written, if that was after its entry: with what it is part of, as well. Earlier pages
/// had one stamp for all unknown fields of an object, `rest`.
fn last_edit<'a>(stamps: Stamps<'a>, path: &str) -> Option<&'a Stamp> {
    let mut last = stamps.edited.get(path);
    let mut outer = Some(path);
    while let Some(whole) = outer {
        let (object, rest) = match whole.rsplit_once('.') {
            Some((object, _)) => (Some(object), dotted(object, "rest")),
            None => (None, "rest".into()),
        };
        last = last.max(stamps.edited.get(&rest)).max(object.and_then(|object| stamps.edited.get(object)));
        outer = object;
    }
    last
}

fn object(value: Value) -> Option<Map<String, Value>> {
    if let Value::Object(map) = value { Some(map) } else { None }
}

fn list(value: Value) -> Option<Vec<Value>> {
    if let Value::Array(items) = value { Some(items) } else { None }
}

/// Whether a value lists entries as this page writes them, each under an id of its own.
fn lists_entries(value: &Value) -> bool {
    let items = value.as_array().map_or(&[][..], Vec::as_slice);
    let mut ids = BTreeSet::new();
    !items.is_empty() && items.iter().all(|item| is_entry(item) && ids.insert(item["id"].as_str()))
}

fn is_entry(item: &Value) -> bool {
    let stamp = |text: &Value| {
        let read = text.as_str().and_then(Stamp::read);
        read.is_some_and(|read| read != Stamp::default() && text.as_str() == Some(&read.to_string()))
    };
    let edited =
        |edited: &Value| edited.as_object().is_some_and(|edited| !edited.is_empty() && edited.values().all(stamp));
    item.get("id").is_some_and(Value::is_string)
        && item.get("stamp").is_none_or(stamp)
        && item.get("edited").is_none_or(edited)
}

fn join_lists([mut mine, theirs]: Both<Vec<Value>>) -> Vec<Value> {
    let alike = mine.is_empty()
        || theirs.is_empty()
        || mine.len() == theirs.len() && mine.iter().zip(&theirs).all(|(mine, their)| mine["id"] == their["id"]);
    for their in theirs {
        match mine.iter_mut().find(|entry| entry["id"] == their["id"]) {
            Some(entry) => *entry = join_entries([entry.take(), their]),
            None => mine.push(their),
        }
    }
    // The order means nothing; where both have the same it is left alone.
    if !alike {
        let key = |entry: &Value| (stamp_of(entry), entry["id"].to_string());
        order::sort_by(&mut mine, |a, b| key(a).cmp(&key(b)));
    }
    mine
}

fn join_entries(entries: Both<Value>) -> Value {
    let [my_stamp, their_stamp] = [stamp_of(&entries[0]), stamp_of(&entries[1])];
    let [my_edited, their_edited] = [edited_of(&entries[0]), edited_of(&entries[1])];
    let stamps =
        [Stamps { entry: &my_stamp, edited: &my_edited }, Stamps { entry: &their_stamp, edited: &their_edited }];
    let mut edited = Edited::new();
    let fields = entries.map(|entry| {
        let mut fields = object(entry).unwrap_or_default();
        fields.remove("stamp");
        fields.remove("edited");
        fields
    });
    let mut joined = join_maps("", stamps, fields, &mut edited);
    carry_along(&mut edited, &my_edited);
    carry_along(&mut edited, &their_edited);
    let stamp = (&my_stamp).max(&their_stamp);
    if *stamp != Stamp::default() {
        joined.insert("stamp".into(), Value::String(stamp.to_string()));
    }
    if !edited.is_empty() {
        let mut written = Map::new();
        for (path, stamp) in edited {
            written.insert(path, Value::String(stamp.to_string()));
        }
        joined.insert("edited".into(), Value::Object(written));
    }
    Value::Object(joined)
}

fn stamp_of(entry: &Value) -> Stamp {
    entry.get("stamp").and_then(Value::as_str).and_then(Stamp::read).unwrap_or_default()
}

fn edited_of(entry: &Value) -> Edited {
    let mut edited = Edited::new();
    for (path, stamp) in entry.get("edited").and_then(Value::as_object).into_iter().flatten() {
        if let Some(stamp) = stamp.as_str().and_then(Stamp::read) {
            edited.insert(path.clone(), stamp);
        }
    }
    edited
}
