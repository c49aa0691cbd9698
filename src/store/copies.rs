//! The texts of a test: its own key, and the slips of tabs that did not have the turn.

use js_sys::{Array, JsString, Object};
use wasm_bindgen::JsCast;

use gloo_storage::{LocalStorage, Storage};

use quantity::{BinWait, Instant};

use super::{ASIDE, BIN, ERASED, OURS, SLIP, Summary, TEST, Trouble, get, probe, remove, set, shelf};

/// One text of a test.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Copy {
    /// Where it is kept.
    key: String,
    /// What it says.
    pub text: String,
}

impl Copy {
    /// Whether it lies beside the test's own key.
    pub fn is_slip(&self) -> bool {
        self.key.starts_with(SLIP)
    }

    /// Its length, in UTF-16 units.
    pub fn size(&self) -> u32 {
        size(&self.text)
    }
}

fn size(text: &str) -> u32 {
    text.encode_utf16().count() as u32
}

/// Where the text of a test goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kept<'a> {
    /// Under its own key: it is this tab's turn.
    Own,
    /// On a slip of this writer's, as another tab has the turn.
    Slip(&'a str),
}

/// Every key of this page with the length of its text, in UTF-16 units, as the browser counts room.
pub(super) fn keys() -> Result<Vec<(String, u32)>, Trouble> {
    probe()?;
    let storage = LocalStorage::raw();
    let mut keys = Vec::new();
    for entry in Object::entries(storage.unchecked_ref()).iter() {
        let entry: Array = entry.unchecked_into();
        let (key, text) = (entry.get(0).as_string().unwrap_or_default(), entry.get(1));
        if key.starts_with(OURS) {
            keys.push((key, text.unchecked_ref::<JsString>().length()));
        }
    }
    Ok(keys)
}

/// The test that a key keeps a text of.
pub(super) fn test_of(key: &str) -> Option<&str> {
    key.strip_prefix(TEST).or_else(|| Some(key.strip_prefix(SLIP)?.split_once('/')?.1))
}

fn slip(writer: &str, id: &str) -> String {
    [SLIP, writer, "/", id].concat()
}

fn own(id: &str) -> String {
    [TEST, id].concat()
}

/// Every text of a test, its own key first.
///
/// # Errors
/// [`Trouble::Blocked`].
pub fn copies(id: &str) -> Result<Vec<Copy>, Trouble> {
    let mut copies = Vec::new();
    for (key, _) in keys()?.into_iter().filter(|(key, _)| test_of(key) == Some(id)) {
        let Some(text) = get(&key)? else { continue };
        let place = if key.starts_with(TEST) { 0 } else { copies.len() };
        copies.insert(place, Copy { key, text });
    }
    Ok(copies)
}

/// Keeps the text of a test, and then its summary.
///
/// Where a slip finds no room the text goes under the test's own key, which takes no more than it had. What stands there
/// is lost only where it is `known`, the text that the writer has joined: any other is set aside first, whoever writes.
///
/// # Errors
/// [`Trouble`]; what was there before is still there then.
pub fn write(summary: Summary, text: &str, kept: Kept<'_>, known: &str) -> Result<(), Trouble> {
    let id = summary.id.clone();
    if get(&[ERASED, &id].concat())?.is_some() {
        return Err(Trouble::Erased);
    }
    match kept {
        Kept::Own => set_own(&id, text, known)?,
        Kept::Slip(writer) => set(&slip(writer, &id), text).or_else(|_| set_own(&id, text, known))?,
    }
    // Whoever goes on writing in a test wants it back from the bin.
    let _ = shelf::put_back(&id);
    // The text is safe, which is what counts: a summary that finds no room is made anew when the page is next opened.
    let _ = shelf::list(summary, size(text));
    Ok(())
}

/// The one place where a test's own key is written.
fn set_own(id: &str, text: &str, known: &str) -> Result<(), Trouble> {
    let key = own(id);
    if let Some(there) = get(&key)?.filter(|there| there != known && there != text) {
        aside(&key, &there)?;
    }
    set(&key, text)
}

/// Keeps the text into which `joined` went under the test's own key, and then takes the slips among them away, those that
/// a living tab has written on since excepted.
///
/// # Errors
/// [`Trouble`]; the slips are still there then.
pub fn settle(summary: Summary, text: &str, joined: &[Copy], known: &str) -> Result<(), Trouble> {
    write(summary, text, Kept::Own, known)?;
    for copy in joined.iter().filter(|copy| copy.is_slip()) {
        if get(&copy.key)?.as_ref() == Some(&copy.text) {
            remove(&copy.key)?;
        }
    }
    Ok(())
}

/// Sets a text that cannot be read aside, before another one takes its key.
///
/// # Errors
/// [`Trouble`]; nothing has changed then.
pub fn set_aside(copy: &Copy) -> Result<(), Trouble> {
    aside(&copy.key, &copy.text)
}

pub(super) fn aside(key: &str, text: &str) -> Result<(), Trouble> {
    let name = key.strip_prefix(OURS).unwrap_or(key);
    // A second broken text of the same key does not push the first one out.
    for nth in 0.. {
        let place = format!("{ASIDE}{nth}/{name}");
        match get(&place)? {
            Some(there) if there != text => {}
            Some(_) => break,
            None => {
                set(&place, text)?;
                break;
            }
        }
    }
    remove(key)
}

/// Erases a test for good: every text of it, its place in the bin, its summary. A tab that still has it open learns of it
/// from what is left: the moment, under a key of its own.
///
/// # Errors
/// [`Trouble`]; what is left is erased the next time.
pub fn erase(id: &str, now: Instant) -> Result<(), Trouble> {
    // First, so that nobody writes it again on hearing that a text of it went; where there is no room, there is some after.
    let days = shelf::days_opened(now)?;
    let note = || set(&[ERASED, id].concat(), &BinWait::begun(&days).noted(now));
    let noted = note();
    for (key, _) in keys()?.into_iter().filter(|(key, _)| test_of(key) == Some(id)) {
        remove(&key)?;
    }
    noted.or_else(|_| note())?;
    shelf::take_off(id)?;
    remove(&[BIN, id].concat())
}

/// A test that was erased is wanted after all, by the hand of a person.
///
/// # Errors
/// [`Trouble::Blocked`].
pub fn want_again(id: &str) -> Result<(), Trouble> {
    let place = [ERASED, id].concat();
    if get(&place)?.is_some() { remove(&place) } else { Ok(()) }
}
