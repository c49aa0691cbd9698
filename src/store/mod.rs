//! The only room that touches browser storage. It knows texts and keys, not what the texts mean.
//!
//! | key, after `comb-scale/` | what |
//! |---|---|
//! | `test/ID` | a test, written whole, by the one tab whose turn it is |
//! | `slip/WRITER/ID` | the same test as another tab wrote it, until it is joined |
//! | `bin/ID` | since when a test lies in the bin, and on how many days the page had been opened by then |
//! | `erased/ID` | since when a test is erased for good: no tab that still has it open writes it again |
//! | `opened` | on how many days the page was opened, and their dates |
//! | `aside/…` | a text that could not be read and whose key was needed again |
//! | `shelf` | the summaries that the start screen shows; made anew from the tests where they are wrong |
//! | `left` | what was typed and could not be stored |
//! | `preferences` | what this phone prefers |
//!
//! No two tabs write one key of a test, and each write is one call of the browser, so that a page that is killed at any
//! moment leaves every text whole. Storage is probed on every call, since a browser may block it, fill it or take it away
//! while the page is open.

mod copies;
mod heard;
mod left;
mod shelf;

use std::fmt;

use gloo_storage::{LocalStorage, Storage};
use serde_json::{Map, Value};

pub use copies::{Copy, Kept, copies, erase, set_aside, settle, want_again, write};
pub use heard::{Heard, is_gone, on_written_elsewhere};
pub use left::{Left, leave, left, let_go};
pub use shelf::{Binned, Stock, Summary, bin, exported, list, listed, note_exported, put_back, stock};

const TEST: &str = "comb-scale/test/";
const SLIP: &str = "comb-scale/slip/";
const BIN: &str = "comb-scale/bin/";
const ERASED: &str = "comb-scale/erased/";
const ASIDE: &str = "comb-scale/aside/";
const OPENED: &str = "comb-scale/opened";
const SHELF: &str = "comb-scale/shelf";
const LEFT: &str = "comb-scale/left";
const PREFERENCES: &str = "comb-scale/preferences";
const OURS: &str = "comb-scale/";

/// Why something could not be kept or fetched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// The browser does not let this page store anything.
    Blocked,
    /// There is no room left.
    Full,
    /// The test was erased for good in another tab.
    Erased,
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Blocked => {
                "This browser does not let the page keep anything: private mode, or storage is turned off."
            }
            Self::Full => "There is no room left to keep it on this phone.",
            Self::Erased => "This test was erased for good in another tab.",
        })
    }
}

impl std::error::Error for Trouble {}

/// What this phone prefers. Changes nothing that is stored in a test.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Preferences {
    /// This phone.
    pub device: String,
    /// `um` or `mil`.
    pub film: String,
    /// `mm` or `in`.
    pub length: String,
    /// `g` or `oz`.
    pub mass: String,
    /// `ml` or `floz`.
    pub volume: String,
    /// `c` or `f`.
    pub temperature: String,
    /// `point` or `comma`.
    pub mark: String,
    /// `24` or `12`.
    pub clock: String,
    /// `light`, `dark`, or empty: as the phone wishes. Read by `src/offline/tab.js` as well, before the program runs.
    pub theme: String,
}

impl Preferences {
    fn parts(&mut self) -> [(&'static str, &mut String); 9] {
        [
            ("device", &mut self.device),
            ("film", &mut self.film),
            ("length", &mut self.length),
            ("mass", &mut self.mass),
            ("volume", &mut self.volume),
            ("temperature", &mut self.temperature),
            ("mark", &mut self.mark),
            ("clock", &mut self.clock),
            ("theme", &mut self.theme),
        ]
    }
}

/// What is written by hand, field by field, so that what a newer page keeps beside it stays there.
type Fields = Map<String, Value>;

fn fill(parts: &mut [(&'static str, &mut String)], fields: &Fields) {
    for (name, text) in parts {
        **text = fields.get(*name).and_then(Value::as_str).unwrap_or_default().to_owned();
    }
}

fn pour(parts: &mut [(&'static str, &mut String)], fields: &mut Fields) {
    for (name, text) in parts {
        fields.insert((*name).to_owned(), Value::String(text.clone()));
    }
}

/// Whether browser storage is there at this moment. `gloo_storage` panics where a browser blocks it, so it is asked for
/// by hand first.
fn probe() -> Result<(), Trouble> {
    let window = web_sys::window().ok_or(Trouble::Blocked)?;
    match window.local_storage() {
        Ok(Some(_)) => Ok(()),
        _ => Err(Trouble::Blocked),
    }
}

fn get(key: &str) -> Result<Option<String>, Trouble> {
    probe()?;
    LocalStorage::raw().get_item(key).map_err(|_| Trouble::Blocked)
}

fn set(key: &str, text: &str) -> Result<(), Trouble> {
    probe()?;
    // The one error left to a storage that is there: the quota.
    LocalStorage::raw().set_item(key, text).map_err(|_| Trouble::Full)
}

fn remove(key: &str) -> Result<(), Trouble> {
    probe()?;
    LocalStorage::raw().remove_item(key).map_err(|_| Trouble::Blocked)
}

/// What is kept under one of the two keys that hold no test. Text that cannot be read is set aside; all of it can be had
/// again elsewhere, or chosen again.
fn get_json(key: &str) -> Result<Value, Trouble> {
    let Some(text) = get(key)? else { return Ok(Value::Null) };
    match serde_json::from_str(&text) {
        Ok(value) => Ok(value),
        Err(_) => copies::aside(key, &text).map(|()| Value::Null),
    }
}

fn kept_preferences() -> Fields {
    match get_json(PREFERENCES) {
        Ok(Value::Object(fields)) => fields,
        _ => Fields::new(),
    }
}

/// This phone's preferences; the defaults where none are kept.
pub fn preferences() -> Preferences {
    let mut preferences = Preferences::default();
    fill(&mut preferences.parts(), &kept_preferences());
    preferences
}

/// Keeps this phone's preferences.
///
/// # Errors
/// [`Trouble`].
pub fn write_preferences(preferences: &Preferences) -> Result<(), Trouble> {
    let mut fields = kept_preferences();
    pour(&mut preferences.clone().parts(), &mut fields);
    set(PREFERENCES, &Value::Object(fields).to_string())
}
