//! The tests kept here: their summaries, the bin, and how much room all of it takes.

use serde_json::{Number, Value};

use super::copies::{keys, test_of};
use super::{ASIDE, BIN, ERASED, Fields, OPENED, SHELF, Trouble, erase, fill, get, get_json, pour, remove, set};
use quantity::{BinWait, Instant, OpenedDays};

/// What this page allows itself, in UTF-16 units: browsers commonly give an origin 5 MiB of them, or as many bytes, and a
/// write that finds no room is said whatever this is. *From memory.*
const ALLOWED: u32 = 5_000_000;

/// The share of it from which on it is time to make room, %.
const WARN_FROM: u32 = 60;

/// What the start screen says of a test.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Summary {
    /// Which test.
    pub id: String,
    /// Its name.
    pub title: String,
    /// What it holds, in words.
    pub about: String,
    /// When it was last changed here (RFC 3339; older pages wrote it in words).
    pub changed: String,
    /// When its record last left the phone (RFC 3339); empty where it never did.
    pub exported: String,
    /// When the oldest reading was made that no export holds (RFC 3339); empty where there is none.
    pub waiting: String,
    /// When it is next to be weighed (RFC 3339); empty where nothing says.
    pub due: String,
}

impl Summary {
    fn parts(&mut self) -> [(&'static str, &mut String); 7] {
        [
            ("id", &mut self.id),
            ("title", &mut self.title),
            ("about", &mut self.about),
            ("changed", &mut self.changed),
            ("exported", &mut self.exported),
            ("waiting", &mut self.waiting),
            ("due", &mut self.due),
        ]
    }

    fn of(fields: &Fields) -> Self {
        let mut summary = Self::default();
        fill(&mut summary.parts(), fields);
        summary
    }
}

/// A test in the bin.
#[derive(Clone, Debug, PartialEq)]
pub struct Binned {
    /// Which.
    pub summary: Summary,
    /// On how many more days the page is opened before it is erased.
    pub days_left: u32,
}

/// All that is kept here.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stock {
    /// The tests on the shelf, the one changed last first.
    pub tests: Vec<Summary>,
    /// Those in the bin.
    pub bin: Vec<Binned>,
    /// Tests whose summary is missing or of an earlier text: the page was killed between two writes, or the list broke.
    pub unlisted: Vec<String>,
    /// Texts that could not be read and were set aside: a name and the text.
    pub aside: Vec<(String, String)>,
    /// The share of what the page allows itself that is in use, %.
    pub used: u32,
    /// How much that is, in kB (1000 characters).
    pub used_k: u32,
    /// Whether it is time to make room.
    pub warn: bool,
}

/// The days on which the page was opened, today among them.
pub(super) fn days_opened(now: Instant) -> Result<OpenedDays, Trouble> {
    let mut days = OpenedDays::parse(&get(OPENED)?.unwrap_or_default());
    if days.opened(now) {
        // Without room the day is not counted, and the bin waits longer.
        let _ = set(OPENED, &days.to_string());
    }
    Ok(days)
}

/// Looks at all that is kept here. What has waited its days in the bin is erased: days on which the page was opened, since a
/// clock may be set to any date.
///
/// # Errors
/// [`Trouble::Blocked`].
pub fn stock(now: Instant) -> Result<Stock, Trouble> {
    let days = days_opened(now)?;
    let keys = keys()?;
    let mut stock = Stock::default();
    let mut used = 0;
    for (key, length) in &keys {
        used += length + key.encode_utf16().count() as u32;
        if let Some(name) = key.strip_prefix(ASIDE) {
            stock.aside.push((name.to_owned(), get(key)?.unwrap_or_default()));
        }
    }
    (stock.used, stock.used_k) = (used / (ALLOWED / 100), used.div_ceil(1000));
    stock.warn = stock.used >= WARN_FROM;

    let texts_of = |id: &str| -> Vec<u64> {
        keys.iter().filter(|(key, _)| test_of(key) == Some(id)).map(|(_, length)| u64::from(*length)).collect()
    };
    let mut listed: Vec<String> = Vec::new();
    for fields in summaries()? {
        let summary = Summary::of(&fields);
        let size = fields.get("size").and_then(Value::as_u64);
        // A summary without a text is all that is left of a test that was being erased.
        let texts = texts_of(&summary.id);
        if texts.is_empty() || listed.contains(&summary.id) {
            continue;
        }
        listed.push(summary.id.clone());
        if !texts.iter().any(|length| Some(*length) == size) {
            stock.unlisted.push(summary.id.clone());
        }
        stock.tests.push(summary);
    }
    for id in keys.iter().filter_map(|(key, _)| test_of(key)) {
        if !listed.iter().any(|listed| listed == id) {
            listed.push(id.to_owned());
            stock.unlisted.push(id.to_owned());
            stock.tests.push(Summary { id: id.to_owned(), title: id.to_owned(), ..Summary::default() });
        }
    }
    for key in keys.iter().map(|(key, _)| key).filter(|key| key.starts_with(ERASED)) {
        // No tab is open for longer than that.
        let wait = get(key)?.and_then(|noted| BinWait::read(&noted, &days));
        if wait.is_none_or(|wait| wait.days_left(&days) == 0) {
            remove(key)?;
        }
    }
    for (key, id) in keys.iter().filter_map(|(key, _)| Some((key, key.strip_prefix(BIN)?))) {
        let wait = BinWait::read(&get(key)?.unwrap_or_default(), &days).unwrap_or_else(|| {
            // A page that went by the clock noted it. Without room it is noted the next time.
            let begun = BinWait::begun(&days);
            let _ = set(key, &begun.noted(now));
            begun
        });
        let days_left = wait.days_left(&days);
        let over = days_left == 0;
        if over {
            erase(id, now)?;
            stock.unlisted.retain(|unlisted| unlisted != id);
        }
        if let Some(place) = stock.tests.iter().position(|summary| summary.id == id) {
            let summary = stock.tests.remove(place);
            if !over {
                stock.bin.push(Binned { summary, days_left });
            }
        }
    }
    Ok(stock)
}

fn summaries() -> Result<Vec<Fields>, Trouble> {
    let mut all = Vec::new();
    if let Value::Array(list) = get_json(SHELF)? {
        for one in list {
            if let Value::Object(fields) = one {
                all.push(fields);
            }
        }
    }
    Ok(all)
}

/// Puts the summary of a test first on the shelf; `size` is the length of the text it was made from, in UTF-16 units.
///
/// # Errors
/// [`Trouble`].
pub fn list(mut summary: Summary, size: u32) -> Result<(), Trouble> {
    let mut all = summaries()?;
    let known = all.iter().position(|fields| Summary::of(fields).id == summary.id);
    let mut fields = known.map(|place| all.remove(place)).unwrap_or_default();
    summary.exported = Summary::of(&fields).exported;
    pour(&mut summary.parts(), &mut fields);
    fields.insert("size".into(), Value::Number(Number::from(size)));
    all.insert(0, fields);
    keep(all)
}

/// What the shelf says of a test.
pub fn listed(id: &str) -> Option<Summary> {
    summaries().ok()?.iter().map(Summary::of).find(|summary| summary.id == id)
}

/// When the record of a test last left the phone, as it was noted.
pub fn exported(id: &str) -> Option<String> {
    listed(id).map(|known| known.exported).filter(|at| !at.is_empty())
}

/// Notes that the record of a test left the phone at `at` (RFC 3339): no reading waits any more.
///
/// # Errors
/// [`Trouble`].
pub fn note_exported(id: &str, at: &str) -> Result<(), Trouble> {
    let mut all = summaries()?;
    for fields in &mut all {
        let mut summary = Summary::of(fields);
        if summary.id == id {
            (summary.exported, summary.waiting) = (at.to_owned(), String::new());
            pour(&mut summary.parts(), fields);
        }
    }
    keep(all)
}

pub(super) fn take_off(id: &str) -> Result<(), Trouble> {
    let mut all = summaries()?;
    all.retain(|fields| Summary::of(fields).id != id);
    keep(all)
}

fn keep(all: Vec<Fields>) -> Result<(), Trouble> {
    let mut list = Vec::new();
    for fields in all {
        list.push(Value::Object(fields));
    }
    set(SHELF, &Value::Array(list).to_string())
}

/// Puts a test into the bin, where it waits for 30 days on which the page is opened.
///
/// # Errors
/// [`Trouble`].
pub fn bin(id: &str, now: Instant) -> Result<(), Trouble> {
    set(&[BIN, id].concat(), &BinWait::begun(&days_opened(now)?).noted(now))
}

/// Puts a test back on the shelf.
///
/// # Errors
/// [`Trouble`].
pub fn put_back(id: &str) -> Result<(), Trouble> {
    let place = [BIN, id].concat();
    if get(&place)?.is_some() { remove(&place) } else { Ok(()) }
}
