//! The only room that touches browser storage. It knows texts and keys, not what the texts mean.
//!
//! One key a test, written whole; one for the summaries that the start screen needs; one for this phone's preferences.
//! Storage is probed on every call, since a browser may block it, fill it or take it away while the page is open.

use std::fmt;

use gloo_storage::{LocalStorage, Storage};
use leptos::ev;
use leptos::prelude::window_event_listener;
use serde::{Deserialize, Serialize};

const TEST: &str = "comb-scale/test/";
const SHELF: &str = "comb-scale/shelf";
const PREFERENCES: &str = "comb-scale/preferences";

/// Why something could not be kept or fetched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// The browser does not let this page store anything.
    Blocked,
    /// There is no room left.
    Full,
    /// What is stored under a key is not what this page writes there; it is left as it is.
    Unreadable,
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Blocked => {
                "This browser does not let the page keep anything: private mode, or storage is turned off."
            }
            Self::Full => "There is no room left to keep it on this phone.",
            Self::Unreadable => "What was kept here cannot be read.",
        })
    }
}

impl std::error::Error for Trouble {}

/// What the start screen says of a test.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Summary {
    /// Which test.
    pub id: String,
    /// Its name.
    pub title: String,
    /// What it holds, in words.
    pub about: String,
    /// When it was last changed here, in words.
    pub changed: String,
}

/// What this phone prefers. Changes nothing that is stored in a test.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Preferences {
    /// Who writes here: the device part of every stamp.
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

fn set_json(key: &str, value: &impl Serialize) -> Result<(), Trouble> {
    set(key, &serde_json::to_string(value).map_err(|_| Trouble::Unreadable)?)
}

/// The text of a test, if there is one.
///
/// # Errors
/// [`Trouble::Blocked`].
pub fn read(id: &str) -> Result<Option<String>, Trouble> {
    get(&format!("{TEST}{id}"))
}

/// Keeps the text of a test and its summary.
///
/// # Errors
/// [`Trouble`]; what was there before is still there then.
pub fn write(summary: Summary, text: &str) -> Result<(), Trouble> {
    set(&format!("{TEST}{}", summary.id), text)?;
    // The text is safe; a shelf that cannot be read is begun anew from this test.
    let mut list = shelf().unwrap_or_default();
    list.retain(|known| known.id != summary.id);
    list.insert(0, summary);
    set_json(SHELF, &list)
}

/// The tests kept here, the one changed last first.
///
/// # Errors
/// [`Trouble::Blocked`], or [`Trouble::Unreadable`] where the list itself is broken.
pub fn shelf() -> Result<Vec<Summary>, Trouble> {
    match get(SHELF)? {
        None => Ok(Vec::new()),
        Some(text) => serde_json::from_str(&text).map_err(|_| Trouble::Unreadable),
    }
}

/// Takes a test off the shelf; its text stays under its key.
///
/// # Errors
/// [`Trouble`].
pub fn take_off(id: &str) -> Result<(), Trouble> {
    let mut list = shelf()?;
    list.retain(|known| known.id != id);
    set_json(SHELF, &list)
}

/// This phone's preferences; the defaults where none are kept.
pub fn preferences() -> Preferences {
    get(PREFERENCES).ok().flatten().and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default()
}

/// Keeps this phone's preferences.
///
/// # Errors
/// [`Trouble`].
pub fn write_preferences(preferences: &Preferences) -> Result<(), Trouble> {
    set_json(PREFERENCES, preferences)
}

/// Calls `heard` with the id of a test that another tab has written.
pub fn on_written_elsewhere(heard: impl Fn(&str) + 'static) {
    window_event_listener(ev::storage, move |event| {
        if let Some(id) = event.key().as_deref().and_then(|key| key.strip_prefix(TEST)) {
            heard(id);
        }
    });
}
