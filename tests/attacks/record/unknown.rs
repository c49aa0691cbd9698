//! What a newer page writes and this one does not know: it survives, and merges under its own stamps.

use std::collections::BTreeMap;

use comb_scale::record::{Action, History, Phrase, merge, write};
use proptest::prelude::*;

use super::{places, record};
use crate::{Attacks, holds, same};

/// What both together must say, by place: `-` for nothing.
type Wanted = &'static [(&'static str, &'static str)];

/// A name, what two phones say, and what both together must say.
const ROWS: &[(&str, &str, &str, Wanted)] = &[
    ("one has it", r#""fan": 1"#, r#""notes": []"#, &[("fan", "1")]),
    (
        "the later edit, though its text is less",
        r#""fan": 9, "edited": { "fan": "5@a" }"#,
        r#""fan": 1, "edited": { "fan": "6@b" }"#,
        &[("fan", "1")],
    ),
    ("an edit against none", r#""fan": 9"#, r#""fan": 1, "edited": { "fan": "6@b" }"#, &[("fan", "1")]),
    (
        "two fields edited on two phones",
        r#""fan": 2, "lamp": 1, "edited": { "fan": "5@a" }"#,
        r#""fan": 1, "lamp": 2, "edited": { "lamp": "6@b" }"#,
        &[("fan", "2"), ("lamp", "2")],
    ),
    ("emptied later", r#""fan": 9, "edited": { "fan": "5@a" }"#, r#""edited": { "fan": "6@b" }"#, &[("fan", "-")]),
    ("emptied earlier", r#""fan": 9, "edited": { "fan": "7@a" }"#, r#""edited": { "fan": "6@b" }"#, &[("fan", "9")]),
    ("never heard of it", r#""fan": 9, "edited": { "fan": "7@a" }"#, r#""title": "x""#, &[("fan", "9")]),
    (
        "a group, field by field",
        r#""air2": { "fan": 1, "hood": 1 }, "edited": { "air2.fan": "6@a" }"#,
        r#""air2": { "fan": 0, "hood": 2 }, "edited": { "air2.hood": "7@b" }"#,
        &[("air2/fan", "1"), ("air2/hood", "2")],
    ),
    (
        "a group emptied field by field",
        r#""air2": { "fan": 1, "hood": 1 }"#,
        r#""edited": { "air2.fan": "6@b" }"#,
        &[("air2/fan", "-"), ("air2/hood", "1")],
    ),
    (
        "a group written whole",
        r#""air2": { "fan": 9 }, "edited": { "air2": "5@a" }"#,
        r#""air2": { "fan": 1, "hood": 2 }, "edited": { "air2": "6@b" }"#,
        &[("air2/fan", "1"), ("air2/hood", "2")],
    ),
    (
        "a field of a known group",
        r#""wanted": { "gloss": 9 }, "edited": { "wanted.gloss": "5@a" }"#,
        r#""wanted": { "gloss": 1 }, "edited": { "wanted.gloss": "6@b" }"#,
        &[("wanted/gloss", "1")],
    ),
    (
        "a field of an entry",
        r#""panels": [ { "id": "p", "tag": "z", "edited": { "tag": "5@a" } } ]"#,
        r#""panels": [ { "id": "p", "tag": "a", "edited": { "tag": "6@b" } } ]"#,
        &[("panels/p/tag", "\"a\"")],
    ),
    (
        "a list of entries",
        r#""lamps": [ { "id": "1", "stamp": "5@a", "w": 40 } ]"#,
        r#""lamps": [ { "id": "2", "stamp": "6@b", "w": 60 } ]"#,
        &[("lamps/1/w", "40"), ("lamps/2/w", "60")],
    ),
    (
        "one entry of it edited",
        r#""lamps": [ { "id": "1", "stamp": "5@a", "w": 90 } ]"#,
        r#""lamps": [ { "id": "1", "stamp": "5@a", "edited": { "w": "6@b" }, "w": 60 } ]"#,
        &[("lamps/1/w", "60")],
    ),
    (
        "one entry of it taken out",
        r#""lamps": [ { "id": "1", "stamp": "5@a", "w": 90 } ]"#,
        r#""lamps": [ { "id": "1", "stamp": "5@a", "edited": { "deleted": "6@b" }, "deleted": true, "w": 90 } ]"#,
        &[("lamps/1/deleted", "true")],
    ),
    (
        "entries within entries",
        r#""racks": [ { "id": "1", "hooks": [ { "id": "1", "mm": 5 } ] } ]"#,
        r#""racks": [ { "id": "1", "hooks": [ { "id": "2", "mm": 6 } ] } ]"#,
        &[("racks/1/hooks/1/mm", "5"), ("racks/1/hooks/2/mm", "6")],
    ),
    (
        "a list in an entry",
        r#""panels": [ { "id": "p", "dents": [ { "id": "1", "mm": 5 } ] } ]"#,
        r#""panels": [ { "id": "p", "dents": [ { "id": "2", "mm": 6 } ] } ]"#,
        &[("panels/p/dents/1/mm", "5"), ("panels/p/dents/2/mm", "6")],
    ),
    (
        "a list of numbers, whole",
        r#""tries": [ 9, 9 ], "edited": { "tries": "5@a" }"#,
        r#""tries": [ 1 ], "edited": { "tries": "6@b" }"#,
        &[("tries", "[1]")],
    ),
    (
        "the stamp of earlier pages",
        r#""fan": 9, "edited": { "rest": "5@a" }"#,
        r#""fan": 1, "edited": { "rest": "6@b" }"#,
        &[("fan", "1")],
    ),
    (
        "the stamp of earlier pages against a newer one",
        r#""fan": 9, "edited": { "rest": "5@a" }"#,
        r#""fan": 1, "edited": { "fan": "6@b" }"#,
        &[("fan", "1")],
    ),
    (
        "the stamp of earlier pages in a group",
        r#""wanted": { "gloss": 9 }, "edited": { "wanted.rest": "5@a" }"#,
        r#""wanted": { "gloss": 1 }, "edited": { "wanted.rest": "6@b" }"#,
        &[("wanted/gloss", "1")],
    ),
    (
        "a name with dots",
        r#""fan.speed": 9, "edited": { "fan.speed": "5@a" }"#,
        r#""fan.speed": 1, "edited": { "fan.speed": "6@b" }"#,
        &[("fan.speed", "1")],
    ),
    ("no stamps at all: something goes before nothing", r#""fan": "" "#, r#""fan": "a""#, &[("fan", "\"a\"")]),
    (
        "another kind of thing",
        r#""fan": { "x": 1 }, "edited": { "fan": "5@a" }"#,
        r#""fan": 1, "edited": { "fan": "6@b" }"#,
        &[("fan", "1")],
    ),
    (
        "a value that could not be read",
        r#""panels": [ { "id": "p", "width_mm": "wide", "edited": { "width_mm": "5@a" } } ]"#,
        r#""panels": [ { "id": "p", "width_mm": "a", "edited": { "width_mm": "6@b" } } ]"#,
        &[("panels/p/width_mm", "\"a\"")],
    ),
];

#[test]
fn unknown_fields_merge_by_their_stamps() {
    let mut attacks = Attacks::on("record: fields of a newer page");
    for (name, mine, theirs, wanted) in ROWS {
        attacks.attempt(name, || {
            let (mine, theirs) = (record(mine), record(theirs));
            let both = merge(&mine, &theirs).test;
            same("in the other order", write(&merge(&theirs, &mine).test), write(&both))?;
            same("joined again", write(&merge(&both, &mine).test), write(&both))?;
            same("with itself", write(&merge(&mine, &mine).test), write(&mine))?;
            let places = places(&both);
            for (place, value) in *wanted {
                same(place, places.get(*place).map_or("-", String::as_str), *value)?;
            }
            // Whatever is done and undone here leaves it alone.
            let mut history = History::new(both.clone(), "phone");
            history.act(Action::Write(Phrase::Title, "Gates".into())).unwrap();
            history.undo();
            same("after undo", super::changed(&both, history.test()), Vec::new())?;
            // A join that brought it takes it back.
            let mut history = History::new(mine.clone(), "phone");
            history.absorb(&theirs).map_err(|refused| refused.to_string())?;
            history.undo();
            same("after undoing the join", super::changed(&mine, history.test()), Vec::new())?;
            history.absorb(&theirs).map_err(|refused| refused.to_string())?;
            holds(super::changed(&both, history.test()).is_empty(), "joined again it is another")
        });
    }
    attacks.close();
}

/// Something unknown, two levels deep, with stamps or without. A name is always of one kind, as in any one form: `u` a value,
/// `v` a group, `w` a list of entries.
fn unknown() -> impl Strategy<Value = String> {
    let one_of = |name: &'static str, values: &'static [&'static str]| {
        prop::option::of(prop::sample::select(values)).prop_map(move |value| value.map(|value| (name, value)))
    };
    let fields = (
        one_of("u", &["1", "2", "\"a\"", "\"\"", "[ 1, 2 ]"]),
        one_of("v", &[r#"{ "x": 1 }"#, r#"{ "x": 2, "y": 1 }"#, r#"{ "z": { "x": 1 } }"#, "{}"]),
        one_of(
            "w",
            &[
                r#"[ { "id": "1", "stamp": "3@a", "x": 1 } ]"#,
                r#"[ { "id": "1", "stamp": "3@a", "edited": { "x": "7@b" }, "x": 2 }, { "id": "2" } ]"#,
                r#"[ { "id": "2", "deleted": true, "edited": { "deleted": "8@a" } } ]"#,
            ],
        ),
    );
    let path = prop::sample::select(&["u", "v", "v.x", "v.y", "v.z.x", "w", "rest", "title"][..]);
    let stamp = (path, 5_u8..9, prop::sample::select(&["a", "b"][..]));
    (fields, prop::collection::vec(stamp, 0..4)).prop_map(|((u, v, w), stamps)| {
        let fields = [u, v, w].into_iter().flatten();
        let mut says: Vec<String> = fields.map(|(name, value)| format!(r#""{name}": {value}"#)).collect();
        let stamps: BTreeMap<_, _> = stamps.into_iter().map(|(path, n, who)| (path, format!("{n}@{who}"))).collect();
        let edited: Vec<String> = stamps.iter().map(|(path, stamp)| format!(r#""{path}": "{stamp}""#)).collect();
        says.push(format!(r#""stamp": "2@first", "edited": {{ {} }}"#, edited.join(", ")));
        says.join(", ")
    })
}

proptest! {
    #[test]
    fn joining_what_is_unknown_is_commutative_associative_and_idempotent(
        (a, b, c) in (unknown(), unknown(), unknown())
    ) {
        let (a, b, c) = (record(&a), record(&b), record(&c));
        let ab = merge(&a, &b).test;
        prop_assert_eq!(write(&ab), write(&merge(&b, &a).test));
        prop_assert_eq!(write(&merge(&ab, &ab).test), write(&ab));
        prop_assert_eq!(write(&merge(&ab, &a).test), write(&ab));
        prop_assert_eq!(write(&merge(&ab, &c).test), write(&merge(&a, &merge(&b, &c).test).test));
    }
}
