//! Whatever a messenger, an editor or a hand makes of a record: it opens, or one sentence says where the trouble is and what
//! can be kept.

use comb_scale::record::{Address, EXAMPLE, FILE_LIMIT, OpenError, Owner, SprayTest, merge, open, open_any, write};

use super::{begun, grams, panel};
use comb_scale::record::{Action, Entry, History};

fn example() -> SprayTest {
    open(EXAMPLE).unwrap().test
}

fn utf_16(text: &str, unit: fn(u16) -> [u8; 2]) -> Vec<u8> {
    text.encode_utf16().flat_map(unit).collect()
}

#[test]
fn the_same_record_in_any_dress() {
    let test = example();
    let text = write(&test);
    let marked = format!("\u{feff}{text}");
    for (dress, bytes) in [
        ("as written", text.clone().into_bytes()),
        ("marked UTF-8", marked.clone().into_bytes()),
        ("marked twice", format!("\u{feff}{marked}").into_bytes()),
        ("little-endian UTF-16", utf_16(&marked, u16::to_le_bytes)),
        ("big-endian UTF-16", utf_16(&marked, u16::to_be_bytes)),
        ("little-endian UTF-16 without a mark", utf_16(&text, u16::to_le_bytes)),
        ("big-endian UTF-16 without a mark", utf_16(&text, u16::to_be_bytes)),
        ("CRLF", text.replace('\n', "\r\n").into_bytes()),
        ("CR", text.replace('\n', "\r").into_bytes()),
        ("on one line", text.replace('\n', " ").into_bytes()),
        ("with blank lines around", format!("\n\n  {text}\r\n\r\n").into_bytes()),
        ("in a message", format!("Hello :-{{ \"here\" it is:\n{text}\nwhat do you {{think}}?").into_bytes()),
        ("behind another object", format!("{{\"format\": \"letter\"}} {text}").into_bytes()),
        ("within another object", format!("{{\"sent\": [1, {{\"a\": {text} }}], \"by\": \"me\"}}").into_bytes()),
        ("with words behind it", format!("{text} -- sent from my phone").into_bytes()),
        ("twice", format!("{text}{text}").into_bytes()),
    ] {
        let opened = open_any(&bytes).unwrap_or_else(|trouble| panic!("{dress}: {trouble}"));
        assert_eq!(opened.test, test, "{dress}");
        assert_eq!(opened.remarks, [], "{dress}");
    }
}

#[test]
fn what_is_no_record_gets_one_sentence() {
    let picture = b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\xff\xd8".as_slice();
    for (bytes, trouble) in [
        (b"".as_slice(), OpenError::Empty),
        (b"\xef\xbb\xbf \r\n", OpenError::Empty),
        (b"\xff\xfe", OpenError::Empty),
        (b"Hello, are you coming on Tuesday?", OpenError::NothingInside),
        (b"<!DOCTYPE html><title>Some page</title>", OpenError::NothingInside),
        (b"panel,candidate\r\nA1,Grey\r\n", OpenError::NothingInside),
        (b"\"format\": \"spray-test\"", OpenError::NothingInside),
        (b"}}} \"format\": \"spray-test\" {{{", OpenError::NothingInside),
        (b"{ \"name\": \"a-package\", \"version\": \"1.0.0\" }", OpenError::NotASprayTest),
        (b"{ \"format\": \"spray-test\", \"version\": NaN }", OpenError::Unreadable { line: 1, column: 38 }),
        (b"{ \"format\": \"spray-test\" }", OpenError::NoVersion),
        (picture, OpenError::NotText { byte: 1 }),
        (b"PK\x03\x04\xff\xff", OpenError::NotText { byte: 5 }),
    ] {
        let told = open_any(bytes).expect_err("no record");
        assert_eq!(told.trouble, trouble, "{}", String::from_utf8_lossy(bytes));
        let sentence = told.to_string();
        assert!(sentence.ends_with('.') && sentence.matches(". ").count() == 0, "{sentence}");
    }
    assert_eq!(open_any(&vec![b' '; FILE_LIMIT + 1]).unwrap_err().trouble, OpenError::TooLong);
    for deep in ["[".repeat(1_000_000), "{\"a\":".repeat(1_000_000), "{".repeat(1_000_000)] {
        assert!(open_any(deep.as_bytes()).is_err());
    }
}

#[test]
fn the_place_of_the_trouble_is_that_in_the_whole_text() {
    let broken = "Look:\n{ \"format\": \"spray-test\",\n  \"version\": 1,\n  \"title\": Gates }";
    assert_eq!(open_any(broken.as_bytes()).unwrap_err().trouble, OpenError::Unreadable { line: 4, column: 12 });
    let told = open_any(b"Look: { \"format\": \"spray-test\", \"version\": nine }").unwrap_err();
    assert_eq!(told.trouble, OpenError::Unreadable { line: 1, column: 45 });
}

/// Ids of all weigh-ins, taken out or not.
fn weighed(test: &SprayTest) -> Vec<String> {
    test.panels.all().iter().flat_map(|panel| panel.weigh_ins.all()).map(|w| w.id().0.clone()).collect()
}

#[test]
fn of_a_record_that_breaks_off_what_stands_before_can_be_kept_and_harms_nothing() {
    let test = example();
    let text = write(&test);
    let mut kept = 0;
    for cut in (0..text.len()).step_by(97).filter(|cut| text.is_char_boundary(*cut)) {
        let Err(told) = open_any(&text.as_bytes()[..cut]) else { continue };
        let Some(rest) = told.rest else { continue };
        let rest = rest.test;
        assert!(weighed(&rest).len() >= kept, "more text, no fewer weigh-ins");
        kept = weighed(&rest).len();
        let joined = merge(&test, &rest).test;
        assert_eq!(joined, test, "cut at {cut}: the whole test stays as it was");
        assert_eq!(merge(&rest, &test).test, joined);
    }
    assert_eq!(kept, weighed(&test).len());
}

#[test]
fn a_broken_character_costs_no_more_than_itself() {
    let mut bytes = write(&example()).into_bytes();
    let place = EXAMPLE.len() / 2;
    bytes[place] = 0xff;
    let told = open_any(&bytes).unwrap_err();
    assert_eq!(told.trouble, OpenError::NotText { byte: place + 1 });
    assert!(told.rest.is_some());
}

#[test]
fn a_torn_copy_empties_no_field_of_a_test_that_was_worked_on() {
    let mut history = begun("phone");
    let (owner, at) = (panel(history.test(), "A1"), super::at("2026-03-02T09:00:00+01:00"));
    history.act(Action::Weigh { owner: Owner::Panel(owner.clone()), round: None, at, gross_g: grams(440.2) }).unwrap();
    let text = write(history.test());
    history.act(Action::Remove(Address::panel(&owner))).unwrap();
    let test = history.test().clone();
    let mut torn = 0;
    for cut in (0..text.len()).filter(|cut| text.is_char_boundary(*cut)) {
        if let Some(rest) = open_any(&text.as_bytes()[..cut]).err().and_then(|told| told.rest) {
            torn += 1;
            let mut history = History::new(test.clone(), "phone");
            history.absorb(&rest.test).unwrap();
            assert_eq!(history.test(), &test, "cut at {cut}");
        }
    }
    assert!(torn > 100, "{torn}");
}
