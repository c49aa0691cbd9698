//! Stamps that no phone makes: whatever a file says, what is written next holds against it.

use comb_scale::record::{Action, History, Phrase, SprayTest, merge, open, write};

use super::{opened, record};
use crate::{Attacks, holds, same};

/// Counters at, about and far beyond every end.
const COUNTERS: &[&str] = &[
    "0",
    "1",
    "000012",
    "9007199254740990",
    "9007199254740991",
    "9007199254740992",
    "9007199254740993",
    "4611686018427387903",
    "4611686018427387904",
    "9223372036854775806",
    "9223372036854775807",
    "9223372036854775808",
    "18446744073709551614",
    "18446744073709551615",
    "18446744073709551616",
    "99999999999999999999999999999999999999",
];

/// Writers with which such a stamp may come.
const WRITERS: &[&str] = &["", "x", "\u{10ffff}\u{10ffff}", "a<5@b", "a<", "x~000000007~y", "x~999999999~y", "~"];

fn poisoned(stamp: &str) -> SprayTest {
    record(&format!(
        r#""title": "Gates", "edited": {{ "title": "{stamp}" }},
        "blanks": [ {{ "id": "n", "stamp": "{stamp}", "label": "before" }} ],
        "panels": [ {{ "id": "p", "label": "A1", "edited": {{ "deleted": "{stamp}" }} }} ]"#
    ))
}

fn edit(test: &SprayTest, device: &str, title: &str) -> SprayTest {
    let mut history = History::new(test.clone(), device);
    history.act(Action::Write(Phrase::Title, title.into())).unwrap();
    history.act(Action::Write(Phrase::Blank("n".into()), title.into())).unwrap();
    history.act(Action::Remove(comb_scale::record::Address::panel(&"p".into()))).unwrap();
    history.test().clone()
}

fn shows(what: &str, test: &SprayTest, title: &str) -> Result<(), String> {
    same(&format!("the title {what}"), test.title.as_str(), title)?;
    same(&format!("the blank {what}"), test.blanks.kept().next().unwrap().label.as_str(), title)?;
    same(&format!("panels {what}"), test.panels.kept().count(), 0)
}

#[test]
fn what_is_written_next_holds_against_any_stamp() {
    let mut attacks = Attacks::on("record: stamps at every end");
    for counter in COUNTERS {
        for writer in WRITERS {
            let stamp = format!("{counter}@{writer}");
            attacks.attempt(&stamp, || {
                let hostile = poisoned(&stamp);
                same("read again", &opened(&write(&hostile)), &hostile)?;
                // Nothing of a record may hang on a stamp that says it goes back to another.
                let edited = opened(&write(&edit(&hostile, "ann", "Doors")));
                shows("with the copy it came from", &merge(&edited, &hostile).test, "Doors")?;
                shows("in the other order", &merge(&hostile, &edited).test, "Doors")?;
                let mut history = History::new(edited.clone(), "later");
                for n in 0..30 {
                    history.act(Action::Write(Phrase::Title, format!("Doors {n}"))).unwrap();
                }
                let many = open(&write(history.test())).unwrap().test;
                same("after many edits", merge(&many, &hostile).test.title.as_str(), "Doors 29")?;
                same("against the first edit", merge(&edited, &many).test.title.as_str(), "Doors 29")?;
                // Two phones that go on from it.
                let other = edit(&hostile, "ben", "Fences");
                let (one, two) = (merge(&many, &other).test, merge(&other, &many).test);
                same("both orders", write(&one), write(&two))?;
                let three = edit(&one, "cleo", "Gutters");
                let left = merge(&merge(&three, &other).test, &many).test;
                same("grouped otherwise", write(&left), write(&merge(&three, &merge(&other, &many).test).test))?;
                shows("of the last who wrote", &left, "Gutters")?;
                holds(write(&left).len() < 20_000, "stamps grow without end")
            });
        }
    }
    attacks.close();
}
