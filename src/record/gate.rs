//! The one way in for any text, and the way out.

use std::fmt;

use serde::Serialize;
use serde_json::{Map, Value};

use super::bounds::left_unread;
use super::codec::{Reader, Remark, Written, follow_references, read_entry, restore_fields, see_full};
use super::migrate::{STEPS, migrate};
use super::model::SprayTest;
use super::stamp::Id;
use quantity::{Count, Quantity};

/// The version of the form that this page writes.
pub const VERSION: u64 = 1;

/// The longest record, as this page writes it, in bytes: a hundred times a test of nine panels and 25 weigh-ins, and about
/// as much as a browser stores at all. Nothing that a person does makes a longer one.
pub const SIZE_LIMIT: usize = 4_000_000;

/// The longest text that is looked at, in bytes: a record may come in a report or in two bytes a letter, and what is stored
/// opens even where two tabs together have written more than one of them may.
pub const FILE_LIMIT: usize = 4 * SIZE_LIMIT;

/// Whether a record is not longer than a record may be.
pub(super) fn fits(test: &SprayTest) -> bool {
    write(test).len() <= SIZE_LIMIT
}

const FORMAT: &str = "spray-test";

/// A text that could be opened.
#[derive(Clone, Debug)]
pub struct Opened {
    /// What it says.
    pub test: SprayTest,
    /// What in it is worth a word: values that could not be read, names that lead nowhere.
    pub remarks: Vec<Remark>,
}

/// Why a text cannot be opened. Each prints as one sentence for a painter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OpenError {
    /// There is nothing in it.
    Empty,
    /// Longer than [`FILE_LIMIT`], or than [`SIZE_LIMIT`] as it would be written.
    TooLong,
    /// It breaks off, or is no JSON, at this line and column.
    Unreadable {
        /// Counted from 1.
        line: usize,
        /// Counted from 1.
        column: usize,
    },
    /// It is something else.
    NotASprayTest,
    /// There is no record anywhere in it.
    NothingInside,
    /// Its characters cannot be read from this byte on, counted from 1.
    NotText {
        /// Counted from 1.
        byte: usize,
    },
    /// It is a spray test, but says no version that could be read.
    NoVersion,
}

impl fmt::Display for OpenError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("There is nothing in it."),
            Self::TooLong => {
                write!(f, "Kept here it would be longer than {} MB, and no spray test is.", SIZE_LIMIT / 1_000_000)
            }
            Self::Unreadable { line, column } => write!(
                f,
                "It cannot be read from line {line}, column {column} on: it was cut off, or is not a spray test."
            ),
            Self::NotASprayTest => f.write_str("It is not a spray test: its \"format\" is not \"spray-test\"."),
            Self::NothingInside => f.write_str("There is no spray test in it."),
            Self::NotText { byte } => write!(
                f,
                "It is not text from byte {byte} on: it was damaged on the way, or is a picture or an archive."
            ),
            Self::NoVersion => f.write_str("It says no \"version\", so it is unclear how to read it."),
        }
    }
}

impl std::error::Error for OpenError {}

/// Opens the text of a record: parses it, reads every part that can be read, and mints what ids are missing.
///
/// The same text gives the same test on every phone. What cannot be read is remarked on and kept as it stood.
///
/// # Errors
/// [`OpenError`] when the text as a whole is no spray test.
///
/// ```
/// use record;
/// let text = r#"{ "format": "spray-test", "version": 1, "title": "Gates",
///     "panels": [ { "label": "A1", "bare_g": 412.3 } ] }"#;
/// let opened = record::open(text).unwrap();
/// assert_eq!(opened.test.title, "Gates");
/// assert!(opened.remarks.is_empty());
/// let again = record::open(&record::write(&opened.test)).unwrap();
/// assert_eq!(again.test, opened.test);
/// ```
pub fn open(text: &str) -> Result<Opened, OpenError> {
    if text.len() > FILE_LIMIT {
        return Err(OpenError::TooLong);
    }
    let text = text.trim_start_matches('\u{feff}').trim();
    if text.is_empty() {
        return Err(OpenError::Empty);
    }
    let value = serde_json::from_str(text)
        .map_err(|trouble| OpenError::Unreadable { line: trouble.line(), column: trouble.column() })?;
    let Value::Object(mut map) = value else { return Err(OpenError::NotASprayTest) };
    if map.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(OpenError::NotASprayTest);
    }
    let version = map.get("version").and_then(Value::as_u64).filter(|&version| version >= 1);
    let version = version.ok_or(OpenError::NoVersion)?;

    let mut reader = Reader::default();
    if version > VERSION {
        reader.within("version", |reader| {
            reader.remark("was written by a newer page; what this page does not know is kept");
        });
    }
    migrate(&mut map, version, STEPS);
    expand_short_forms(&mut map);
    let mut test = SprayTest::default();
    read_entry(&mut test, map, &mut reader);
    restore(&mut test);
    follow_references(&mut test, &mut reader);
    follow_blanks(&test, &mut reader);
    see_full(&test, "", &mut |place, full| reader.within(place, |reader| reader.remark(left_unread(&full))));
    Ok(Opened { test, remarks: reader.remarks })
}

/// Writes a test as text: one entry a line, always in the same order.
pub fn write(test: &SprayTest) -> String {
    let mut text = Vec::new();
    let mut serializer = serde_json::Serializer::with_formatter(&mut text, Ledger::default());
    // A record is strings, bounded numbers, lists and objects: none of them can fail to be written.
    test.serialize(&mut serializer).expect("a record is always writable");
    text.push(b'\n');
    String::from_utf8(text).expect("JSON is UTF-8")
}

/// An empty test of this version.
pub(super) fn blank_form() -> SprayTest {
    SprayTest { format: FORMAT.into(), version: Count::new(VERSION as f64).ok(), ..SprayTest::default() }
}

/// Remarks on steps left out of a blank where what they name is none.
fn follow_blanks(test: &SprayTest, reader: &mut Reader) {
    let is_no_blank = |id: &Id| test.blanks.all().iter().all(|blank| blank.id != *id);
    let named = |id: &Id| test.panels.find(id).is_some() || test.candidates.find(id).is_some();
    for step in test.skipped.kept().filter(|step| step.blank) {
        if let Some(of) = step.of.as_ref().filter(|of| named(of) && is_no_blank(of)) {
            let place = ["skipped[", &step.id.0, "].of"].concat();
            reader.within(&place, |reader| reader.remark(["names \"", &of.0, "\", which is no blank"].concat()));
        }
    }
}

fn restore(test: &mut SprayTest) {
    if test.id.0.is_empty() {
        test.id = Id::of_content("", &Written::entry(test).text(), 0);
        test.rest.remove("id");
    }
    restore_fields(test, "");
}

/// Short forms: one thing where the form has a list, and a bare weight as a number.
fn expand_short_forms(test: &mut Map<String, Value>) {
    for (one, many) in [("balance", "balances"), ("comb", "combs"), ("blank", "blanks")] {
        if test.get(one).is_some_and(Value::is_object) && !test.contains_key(many) {
            let value = test.remove(one);
            test.insert(many.into(), Value::Array(value.into_iter().collect()));
        }
    }
    for comb in objects(test, "combs") {
        wrap(comb, "teeth_um", "edges", "teeth_um");
    }
    for panel in objects(test, "panels") {
        wrap(panel, "bare_g", "bare", "gross_g");
    }
}

/// Turns `short: value` into `list: [ { inner: value } ]`.
fn wrap(map: &mut Map<String, Value>, short: &str, list: &str, inner: &str) {
    if map.contains_key(list) {
        return;
    }
    if let Some(value) = map.remove(short) {
        let mut entry = Map::new();
        entry.insert(inner.to_owned(), value);
        map.insert(list.into(), Value::Array(vec![Value::Object(entry)]));
    }
}

fn objects<'a>(map: &'a mut Map<String, Value>, list: &str) -> impl Iterator<Item = &'a mut Map<String, Value>> {
    map.get_mut(list).and_then(Value::as_array_mut).into_iter().flatten().filter_map(Value::as_object_mut)
}

/// Lays the text out like a ledger: the parts on lines of their own, each entry of a list within a part on one line.
#[derive(Default)]
struct Ledger {
    depth: usize,
    filled: Vec<bool>,
}

impl Ledger {
    /// Panels and what they list open up; a weighing, four deep, stays on its line.
    const OPEN: usize = 4;

    fn open<W: ?Sized + std::io::Write>(&mut self, writer: &mut W, bracket: &[u8]) -> std::io::Result<()> {
        self.depth += 1;
        self.filled.push(false);
        writer.write_all(bracket)
    }

    fn close<W: ?Sized + std::io::Write>(&mut self, writer: &mut W, bracket: &[u8]) -> std::io::Result<()> {
        let broken = self.depth <= Self::OPEN && self.filled.pop() == Some(true);
        if self.depth > Self::OPEN {
            self.filled.pop();
        }
        self.depth -= 1;
        if broken {
            self.line(writer)?;
        }
        writer.write_all(bracket)
    }

    fn item<W: ?Sized + std::io::Write>(&mut self, writer: &mut W, first: bool) -> std::io::Result<()> {
        if let Some(filled) = self.filled.last_mut() {
            *filled = true;
        }
        if !first {
            writer.write_all(b",")?;
        }
        if self.depth <= Self::OPEN {
            self.line(writer)
        } else if first {
            Ok(())
        } else {
            writer.write_all(b" ")
        }
    }

    fn line<W: ?Sized + std::io::Write>(&self, writer: &mut W) -> std::io::Result<()> {
        writer.write_all(b"\n")?;
        (0..self.depth).try_for_each(|_| writer.write_all(b" "))
    }
}

impl serde_json::ser::Formatter for Ledger {
    fn begin_array<W: ?Sized + std::io::Write>(&mut self, writer: &mut W) -> std::io::Result<()> {
        self.open(writer, b"[")
    }

    fn end_array<W: ?Sized + std::io::Write>(&mut self, writer: &mut W) -> std::io::Result<()> {
        self.close(writer, b"]")
    }

    fn begin_array_value<W: ?Sized + std::io::Write>(&mut self, writer: &mut W, first: bool) -> std::io::Result<()> {
        self.item(writer, first)
    }

    fn begin_object<W: ?Sized + std::io::Write>(&mut self, writer: &mut W) -> std::io::Result<()> {
        self.open(writer, b"{")
    }

    fn end_object<W: ?Sized + std::io::Write>(&mut self, writer: &mut W) -> std::io::Result<()> {
        self.close(writer, b"}")
    }

    fn begin_object_key<W: ?Sized + std::io::Write>(&mut self, writer: &mut W, first: bool) -> std::io::Result<()> {
        self.item(writer, first)
    }

    fn begin_object_value<W: ?Sized + std::io::Write>(&mut self, writer: &mut W) -> std::io::Result<()> {
        writer.write_all(b": ")
    }
}
