//! Texts handed over: several records, marks, cuts, foreign ids, and records as long as a record may be.

use comb_scale::findings::shelf::ahead_said;
use comb_scale::record::{
    Action, EXAMPLE, EXAMPLE_ID, FILE_LIMIT, History, OpenError, Phrase, Refused, SIZE_LIMIT, as_its_own, merge,
    merge_preview, open, open_any, open_each, to_keep, write,
};

use super::{opened, record};
use crate::{Attacks, holds, same};

fn small(id: &str, title: &str) -> String {
    format!(r#"{{ "format": "spray-test", "version": 1, "id": "{id}", "title": "{title}" }}"#)
}

/// The titles of what is found, `!` before one of which only a part could be read.
fn found(bytes: &[u8]) -> Vec<String> {
    let told = |opened: Result<comb_scale::record::Opened, comb_scale::record::NotOpened>| match opened {
        Ok(opened) => opened.test.title,
        Err(trouble) => format!("!{}", trouble.rest.map_or(String::new(), |rest| rest.test.title)),
    };
    open_each(bytes).into_iter().map(told).collect()
}

#[test]
fn every_record_of_a_message_is_found() {
    let mut attacks = Attacks::on("record: several records in one text");
    let (a, b, c) = (small("a", "A"), small("b", "B"), small("c", "C"));
    let utf_16: Vec<u8> = format!("\u{feff}{a} and {b}").encode_utf16().flat_map(u16::to_le_bytes).collect();
    let cut = r#"{ "format": "spray-test", "version": 1, "title": "Cut", "panels": [ { "label": "A1""#;
    let rows: Vec<(&str, Vec<u8>, &[&str])> = vec![
        ("one", a.clone().into(), &["A"]),
        ("two, one after the other", format!("{a}{b}").into(), &["A", "B"]),
        ("two lines", format!("{a}\n{b}\n").into(), &["A", "B"]),
        ("two with words", format!("Here: {a} and here: {b}. Bye").into(), &["A", "B"]),
        ("three", format!("{a} {b} {c}").into(), &["A", "B", "C"]),
        ("a list of them", format!("[ {a}, {b} ]").into(), &["A", "B"]),
        ("an object of them", format!(r#"{{ "one": {a}, "two": {b} }}"#).into(), &["A", "B"]),
        ("the same twice", format!("{a}\n> {a}").into(), &["A"]),
        ("the same twice, and another", format!("{a}\n> {a}\n{c}").into(), &["A", "C"]),
        ("a mark before each", format!("\u{feff}{a}\u{feff}{b}").into(), &["A", "B"]),
        ("in two bytes a letter", utf_16, &["A", "B"]),
        ("a whole one after one that breaks off", format!("{cut}\n\n{b}").into(), &["!Cut", "B"]),
        ("one that breaks off after a whole one", format!("{a} {cut}").into(), &["A", "!Cut"]),
        ("a letter to somebody", "Dear Ann, no record in here.".into(), &["!"]),
        ("nothing", "".into(), &["!"]),
        ("another format in between", format!(r#"{a} {{ "format": "letter" }} {b}"#).into(), &["A", "B"]),
        (
            "a record told in a note",
            small("d", r#"say \"format\": \"spray-test\" { "#).into(),
            &[r#"say "format": "spray-test" { "#],
        ),
        ("braces in between", format!("{a} }} ]] {{ {b}").into(), &["A", "B"]),
    ];
    for (name, bytes, wanted) in rows {
        attacks.attempt(name, || {
            same("found", found(&bytes), wanted.iter().map(|title| (*title).to_owned()).collect())?;
            same("the first of them", open_any(&bytes).ok().map(|opened| opened.test.title), {
                wanted.first().filter(|title| !title.starts_with('!')).map(|title| (*title).to_owned())
            })
        });
    }
    attacks.attempt("very many are not all shown, and end", || {
        let many: String = (0..2000).map(|n| small(&n.to_string(), &n.to_string())).collect();
        holds((2..20).contains(&found(many.as_bytes()).len()), "too many, or too few")
    });
    attacks.close();
}

#[test]
fn a_file_with_a_foreign_id_becomes_a_test_of_its_own() {
    let mut attacks = Attacks::on("record: ids of other tests");
    for text in [small(EXAMPLE_ID, "Mine"), format!("Look: {}", small(EXAMPLE_ID, "Mine")), EXAMPLE.to_owned()] {
        attacks.attempt(format!("the example's id: {}", &text[..40]), || {
            let kept = |text: &str| to_keep(open_any(text.as_bytes()).unwrap().test);
            let test = kept(&text);
            holds(test.id.0 != EXAMPLE_ID, "it would take the example's place")?;
            same("twice", kept(&text).id, test.id.clone())?;
            same("sent on", kept(&write(&test)).id, test.id)
        });
    }
    attacks.attempt("the example itself opens under its id", || same("id", opened(EXAMPLE).id.0.as_str(), EXAMPLE_ID));
    let about = |label: &str, created: &str| {
        record(&format!(
            r#""created": "2026-03-0{created}T08:00:00Z", "candidates": [ {{ "id": "1", "label": "{label}" }} ],
            "panels": [ {{ "id": "1", "label": "A1", "candidate": "1" }} ]"#
        ))
    };
    for (name, mine, theirs, is) in [
        ("a copy", about("Grey", "2"), about("Grey", "2"), true),
        ("another primer", about("Grey", "2"), about("Red", "2"), false),
        ("begun another day", about("Grey", "2"), about("Grey", "3"), false),
        ("no primer yet", about("", "2"), about("Red", "2"), true),
        ("another id", opened(&small("a", "A")), opened(&small("b", "B")), false),
    ] {
        attacks.attempt(format!("the same test? {name}"), || {
            let told = merge_preview(&mine, &theirs);
            same("looks like one", told.same_test, is)?;
            same("said", told.said()[0].starts_with("It looks like another test"), !is)
        });
    }
    attacks.attempt("kept as a test of its own it is all there, and twice the same", || {
        let mine = about("Grey", "2");
        let own = as_its_own(&mine);
        holds(own.id != mine.id, "it has the same id")?;
        same("all else", super::changed(&mine, &own), vec!["id".to_owned()])?;
        same("again", as_its_own(&mine), own)
    });
    attacks.attempt("a renamed primer of this page is the same test", || {
        let stamped = |label: &str| {
            record(&format!(r#""candidates": [ {{ "id": "phone-1", "stamp": "1@phone", "label": "{label}" }} ]"#))
        };
        holds(merge_preview(&stamped("Grey"), &stamped("Red")).same_test, "it looks like another")
    });
    attacks.attempt("a file of tomorrow is told", || {
        let now = "2026-03-02T09:00:00Z".parse().unwrap();
        let of = |day: u8| {
            record(&format!(r#""panels": [ {{ "id": "p", "weigh_ins": [ {{ "at": "2026-03-0{day}T09:03:00Z", "gross_g": 440 }} ] }} ]"#))
        };
        same("today's", ahead_said(&of(2), now), None)?;
        let said = ahead_said(&of(3), now).unwrap_or_default();
        holds(said.contains("Tue 3 Mar 09:03"), said)
    });
    attacks.close();
}

#[test]
fn what_opens_can_be_written_and_what_is_written_opens() {
    let mut attacks = Attacks::on("record: as long as a record may be");
    let noted =
        |letters: usize| record(&format!(r#""candidates": [ {{ "id": "n", "notes": "{}" }} ]"#, "n".repeat(letters)));
    let pasted = |history: &mut History, letters: usize| {
        history.act(Action::Write(Phrase::Notes("n".into()), "x".repeat(letters)))
    };
    for (name, letters, fits) in
        [("a novel", 1_350_000, true), ("up to the end", SIZE_LIMIT - 1000, true), ("beyond it", SIZE_LIMIT, false)]
    {
        attacks.attempt(format!("a pasted note: {name}"), || {
            let mut history = History::new(noted(1), "phone");
            let done = pasted(&mut history, letters);
            same("done", done.clone(), if fits { Ok(()) } else { Err(Refused::NoRoom) })?;
            holds(open(&write(history.test())).is_ok(), "what is written does not open")?;
            holds(open_any(write(history.test()).as_bytes()).is_ok(), "its file does not open")?;
            let kept = history.test().candidates.kept().next().unwrap().notes.len();
            same("letters kept", kept, if fits { letters } else { 1 })?;
            history.undo();
            history.redo();
            holds(open(&write(history.test())).is_ok(), "after undo and redo it does not open")
        });
    }
    for phrase in [Phrase::Title, Phrase::Currency] {
        attacks.attempt(format!("a pasted line: {phrase:?}"), || {
            let mut history = History::new(noted(1), "phone");
            let done = history.act(Action::Write(phrase.clone(), "\u{1}".repeat(SIZE_LIMIT / 5)));
            same("done", done, Err(Refused::NoRoom))?;
            holds(!history.can_undo(), "something changed")
        });
    }
    attacks.attempt("three that fit do not fit together", || {
        let with =
            |id: &str| record(&format!(r#""notes": [ {{ "id": "{id}", "text": "{}" }} ]"#, "n".repeat(SIZE_LIMIT / 2)));
        let mut history = History::new(with("a"), "phone");
        let told = merge_preview(history.test(), &with("b"));
        holds(told.too_long && told.said()[0].contains("cannot be joined"), "it is not told")?;
        same("joined", history.absorb(&with("b")).map(|_| ()), Err(Refused::NoRoom))?;
        holds(!history.can_undo(), "something changed")?;
        // Tabs of one phone are not refused: what both have stored opens all the same.
        history.follow(&with("b"));
        let both = opened(&write(history.test()));
        same("notes", both.notes.kept().count(), 2)?;
        holds(!merge(&both, &with("a")).test.title.contains('x'), "it merges")
    });
    for (name, entry) in [("empty panels", "{}"), ("panels of one letter", r#"{"label":"x"}"#)] {
        attacks.attempt(format!("a file that would grow: {name}"), || {
            let text = |count: usize| {
                format!(r#"{{"format":"spray-test","version":1,"panels":[{}]}}"#, vec![entry; count].join(","))
            };
            same("too many", open_any(text(200_000).as_bytes()).unwrap_err().trouble, OpenError::TooLong)?;
            let test = open_any(text(20_000).as_bytes()).map_err(|trouble| trouble.to_string())?.test;
            same("again", open_any(write(&test).as_bytes()).map(|opened| opened.test).ok(), Some(test))
        });
    }
    for (name, bytes, limit) in [("spaces", b" ", FILE_LIMIT), ("braces", b"{", FILE_LIMIT)] {
        attacks.attempt(format!("nothing but {name}, too many of them"), || {
            let trouble = open_any(&bytes.repeat(limit + 1)).unwrap_err().trouble;
            same("refused", trouble, OpenError::TooLong)
        });
    }
    attacks.close();
}
