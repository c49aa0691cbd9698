//! One open test on the desk: the record with its history, what is found in it, and whether it is kept.

use std::fmt;
use std::sync::Arc;

use leptos::prelude::*;

use super::shop::Shop;
use crate::device;
use crate::findings::{self, Findings, Memory, Tongue};
use crate::quantity::{Instant, Quantity};
use crate::record::{self, Action, History, Id, OpenError, SprayTest};
use crate::store::{self, Summary, Trouble};

/// The id under which the worked example lies on the shelf.
pub const EXAMPLE_ID: &str = "worked-example";

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

/// An open test.
#[derive(Clone, Copy)]
pub struct Desk {
    /// What all screens share.
    pub shop: Shop,
    /// Why the newest change could not be kept, if so.
    pub unsaved: RwSignal<Option<Trouble>>,
    /// The weigh-in that Weigh is to open with: one tapped on a chart.
    pub look_at: RwSignal<Option<Id>>,
    /// What is found in the test, as it stands.
    pub findings: Signal<Arc<Findings>>,
    history: RwSignal<History>,
    /// The text this tab last read or wrote: another one in storage was written by another tab.
    known_text: StoredValue<String>,
}

impl Desk {
    /// Lays a test on the desk.
    ///
    /// # Errors
    /// [`CannotOpen`].
    pub fn open(shop: Shop, id: &str) -> Result<Self, CannotOpen> {
        let held = shop.held(id);
        let unsaved = held.as_ref().map(|(_, trouble)| *trouble);
        let stored = match (held, store::read(id), id) {
            (Some((text, _)), _, _) | (None, Ok(Some(text)), _) => text,
            // The example needs no storage.
            (None, _, EXAMPLE_ID) => record::EXAMPLE.to_owned(),
            (None, Ok(None), _) => return Err(CannotOpen::NotHere),
            (None, Err(trouble), _) => return Err(CannotOpen::Storage(trouble)),
        };
        let opened = record::open(&stored).map_err(|trouble| CannotOpen::Text(trouble, stored.clone()))?;
        let device = shop.preferences.with_untracked(|preferences| preferences.device.clone());
        let desk = Self::lay(shop, History::new(opened.test, &device), stored);
        desk.unsaved.set(unsaved);
        Ok(desk)
    }

    /// Begins a new test, keeps it as well as it can be kept, and gives its id.
    pub fn begin(shop: Shop) -> String {
        let device = shop.preferences.with_untracked(|preferences| preferences.device.clone());
        let now = device::now();
        let id = device::random_name(10);
        let mut history = record::start(Id(id.clone()), now, &device);
        let title = format!("Spray test of {}", now.said_day());
        // A title is never refused.
        let _ = history.act(Action::Write(record::Phrase::Title, title));
        keep(shop, history.test());
        id
    }

    fn lay(shop: Shop, history: History, text: String) -> Self {
        let history = RwSignal::new(history);
        let memory = StoredValue::new(Memory::default());
        let findings = Memo::new_with_compare(
            move |_| {
                let tongue = tongue_of(shop, history);
                let found = history.with(|history| {
                    let mut found = None;
                    memory.update_value(|memory| found = Some(memory.of(history.test(), device::now(), &tongue)));
                    found
                });
                found.map(Arc::new)
            },
            |a, b| match (a, b) {
                (Some(a), Some(b)) => !same(a, b),
                _ => true,
            },
        );
        let desk = Self {
            shop,
            unsaved: RwSignal::new(None),
            look_at: RwSignal::new(None),
            findings: Signal::derive(move || findings.get().expect("findings are always made")),
            history,
            known_text: StoredValue::new(text),
        };
        store::on_written_elsewhere(move |id| desk.heard(id));
        desk
    }

    /// Looks at the test as it stands.
    pub fn with<T>(&self, look: impl FnOnce(&SprayTest) -> T) -> T {
        self.history.with(|history| look(history.test()))
    }

    /// Looks at the test without following its changes.
    pub fn with_untracked<T>(&self, look: impl FnOnce(&SprayTest) -> T) -> T {
        self.history.with_untracked(|history| look(history.test()))
    }

    /// An id for an entry that the next action names twice.
    pub fn fresh_id(&self) -> Id {
        self.history.with_untracked(History::fresh_id)
    }

    /// Does an action unless something speaks against it; keeps the test.
    ///
    /// # Errors
    /// The sentence to show where the number was typed; nothing has changed then.
    pub fn act(&self, action: Action) -> Result<(), String> {
        let tongue = self.tongue();
        if let Some(objection) = self.with_untracked(|test| findings::object(test, &action, device::now(), &tongue)) {
            return Err(objection.to_string());
        }
        let done = self.history.try_update(|history| history.act(action));
        done.unwrap_or(Ok(())).map_err(|refused| refused.to_string())?;
        self.keep();
        Ok(())
    }

    /// Does an action that nothing can speak against: a press of a button, not a number.
    pub fn press(&self, action: Action) {
        // Only an entry that another tab has just taken out can refuse; the screen then shows it gone.
        let _ = self.act(action);
    }

    /// Takes the last step back.
    pub fn undo(&self) {
        self.history.update(History::undo);
        self.keep();
    }

    /// Does the last undone step again.
    pub fn redo(&self) {
        self.history.update(History::redo);
        self.keep();
    }

    /// Whether there is a step to take back.
    pub fn can_undo(&self) -> bool {
        self.history.with(History::can_undo)
    }

    /// Whether there is a step to do again.
    pub fn can_redo(&self) -> bool {
        self.history.with(History::can_redo)
    }

    /// The name of the test.
    pub fn title(&self) -> String {
        self.with(|test| test.title.clone())
    }

    /// Whether it is the invented one.
    pub fn invented(&self) -> bool {
        self.with(|test| test.invented)
    }

    /// How to say things to this person.
    pub fn tongue(&self) -> Tongue {
        tongue_of(self.shop, self.history)
    }

    /// The moment.
    pub fn now(&self) -> Instant {
        device::now()
    }

    /// Saves the record as a file.
    pub fn export(&self) {
        let (title, text) = self.with_untracked(|test| (test.title.clone(), record::write(test)));
        device::download(&record::file_name(&title), &text);
    }

    fn keep(&self) {
        self.take_in_other_tab();
        let (text, unsaved) = self.with_untracked(|test| keep(self.shop, test));
        self.known_text.set_value(text);
        self.unsaved.set(unsaved);
    }

    /// Joins what another tab wrote in the meantime, so that neither overwrites the other.
    fn take_in_other_tab(&self) {
        let id = self.with_untracked(|test| test.id.0.clone());
        let Ok(Some(stored)) = store::read(&id) else { return };
        if self.known_text.with_value(|known| *known == stored) {
            return;
        }
        if let Ok(theirs) = record::open(&stored) {
            self.history.update(|history| {
                history.absorb(&theirs.test);
            });
        }
        self.known_text.set_value(stored);
    }

    fn heard(&self, id: &str) {
        if self.history.try_with_untracked(|history| history.test().id.0 == id) == Some(true) {
            self.take_in_other_tab();
        }
    }
}

/// How to say things to this person, to the place that the test's scale shows.
fn tongue_of(shop: Shop, history: RwSignal<History>) -> Tongue {
    let division = |test: &SprayTest| test.balances.kept().find_map(|balance| balance.division_g).map(Quantity::get);
    Tongue { units: shop.units(), division_g: history.with(|history| division(history.test())) }
}

fn same(a: &Option<Arc<Findings>>, b: &Option<Arc<Findings>>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => Arc::ptr_eq(a, b),
        _ => false,
    }
}

/// Writes a test to storage; where that fails, the page holds it for as long as it is open. Gives the text, and why it is
/// not stored.
fn keep(shop: Shop, test: &SprayTest) -> (String, Option<Trouble>) {
    let text = record::write(test);
    let summary = Summary {
        id: test.id.0.clone(),
        title: test.title.clone(),
        about: findings::about(test),
        changed: device::now().said(),
    };
    let unsaved = store::write(summary, &text).err();
    shop.hold(&test.id.0, &text, unsaved);
    (text, unsaved)
}
