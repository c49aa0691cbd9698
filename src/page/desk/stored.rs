//! Tests as they stand in storage: reading the texts of one as one test, writing them, and what the start screen says of them.

use std::fmt;

use leptos::prelude::GetValue;

use crate::device;
use crate::page::app::App;
use crate::store::{self, Copy, Kept, Summary, Trouble};
use record::{Action, Id, OpenError, SprayTest, merge};

/// Why a test cannot be laid on the desk.
#[derive(Clone, Debug, PartialEq)]
pub enum CannotOpen {
    /// Storage.
    Storage(Trouble),
    /// There is no such test here.
    NotHere,
    /// Its text cannot be read; here it is, to be saved.
    Text(OpenError, String),
}

impl fmt::Display for CannotOpen {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Storage(trouble) => trouble.fmt(f),
            Self::NotHere => f.write_str("There is no such test on this phone."),
            Self::Text(trouble, _) => write!(f, "The record of this test is damaged. {trouble}"),
        }
    }
}

/// Begins a new test, keeps it as well as it can be kept, and gives its id.
pub fn begin(app: App) -> String {
    let now = device::now();
    let id = device::random_name(10);
    let mut history = record::start(Id(id.clone()), now, &app.writer.get_value());
    let title = format!("Spray test of {}", now.said_day());
    // A title is never refused.
    let _ = history.act(Action::Write(record::Phrase::Title, title));
    // No other tab can know it yet.
    write(app, history.test(), Kept::Own, "");
    id
}

/// Keeps a test that is not here yet; a text of it that cannot be read is set aside.
pub fn begin_with(app: App, test: &SprayTest) {
    // One that was erased here comes back by the hand of a person.
    let _ = store::want_again(&test.id.0);
    write(app, test, Kept::Own, "");
}

/// Opens a text that must be a record.
pub(super) fn open_text(text: &str) -> Result<SprayTest, CannotOpen> {
    let opened = record::open(text).map_err(|trouble| CannotOpen::Text(trouble, text.to_owned()))?;
    Ok(opened.test)
}

/// What the stored texts of a test say together; those that cannot be read are passed over while another one can.
pub(super) fn join(copies: &[Copy]) -> Result<SprayTest, CannotOpen> {
    let mut joined = Err(CannotOpen::NotHere);
    for copy in copies {
        joined = match (joined, open_text(&copy.text)) {
            (Ok(so_far), Ok(test)) => Ok(merge(&so_far, &test).test),
            (Ok(test), Err(_)) | (Err(_), Ok(test)) => Ok(test),
            // The trouble of the test's own key is told.
            (Err(CannotOpen::NotHere), Err(trouble)) => Err(trouble),
            (Err(trouble), Err(_)) => Err(trouble),
        };
    }
    joined
}

/// What the start screen says of a test.
pub(super) fn summary_of(test: &SprayTest) -> Summary {
    let on_one_clock = findings::facts::on_one_clock(test);
    let test = on_one_clock.as_ref().map_or(test, |it| &it.test);
    let exported = store::exported(&test.id.0).and_then(|at| at.parse().ok());
    let waiting = findings::facts::oldest_reading_since(test, exported);
    Summary {
        id: test.id.0.clone(),
        title: test.title.clone(),
        about: findings::shelf::about(test),
        changed: device::now().to_string(),
        waiting: waiting.map_or(String::new(), |at| at.to_string()),
        due: findings::facts::next_due(test).map_or(String::new(), |at| at.to_string()),
        exported: String::new(),
    }
}

/// The test of this id as it is kept here.
///
/// # Errors
/// [`CannotOpen`].
pub fn here(id: &str) -> Result<SprayTest, CannotOpen> {
    store::copies(id).map_err(CannotOpen::Storage).and_then(|copies| join(&copies))
}

/// Writes a test to storage; where that fails, the page holds it for as long as it is open. Gives the text, and why it is
/// not stored. `known` is the text under the test's own key that went into it.
pub(super) fn write(app: App, test: &SprayTest, kept: Kept<'_>, known: &str) -> (String, Option<Trouble>) {
    let text = record::write(test);
    let unsaved = store::write(summary_of(test), &text, kept, known).err();
    app.hold(&test.id.0, &text, unsaved);
    (text, unsaved)
}

/// Holds a test in the page alone, because of this trouble.
pub(super) fn hold(app: App, test: &SprayTest, trouble: Trouble) -> (String, Option<Trouble>) {
    let text = record::write(test);
    app.hold(&test.id.0, &text, Some(trouble));
    (text, Some(trouble))
}

/// Makes the summaries anew of tests whose summary is missing or of an earlier text.
pub fn heal(ids: &[String]) {
    list_anew(ids.iter(), |_| None);
}

/// Says anew what the start screen says of these tests: times are written otherwise from now on.
pub fn reword(ids: &[String]) {
    // Each comes to stand first: the last one begins.
    list_anew(ids.iter().rev(), |id| store::listed(id).map(|known| known.changed));
}

fn list_anew<'a>(ids: impl Iterator<Item = &'a String>, changed: fn(&str) -> Option<String>) {
    for id in ids {
        let changed = changed(id).unwrap_or_else(|| device::now().to_string());
        let Ok(copies) = store::copies(id) else { return };
        let Some(size) = copies.first().map(Copy::size) else { continue };
        let summary = match join(&copies) {
            Ok(test) => summary_of(&test),
            Err(_) => Summary {
                id: id.clone(),
                title: id.clone(),
                about: "Its record is damaged; open it to save what is there.".into(),
                ..Summary::default()
            },
        };
        // Where there is no room for it, the test stays unlisted in storage and is still on the screen.
        let _ = store::list(Summary { id: id.clone(), changed, ..summary }, size);
    }
}
