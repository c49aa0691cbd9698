//! One open test on the desk: the record with its history, what is found in it, and whether it is kept.

mod keeping;
mod working;

use std::borrow::Cow;
use std::fmt;
use std::rc::Rc;
use std::sync::Arc;

use leptos::prelude::*;

use super::parts::memo;
use super::shop::{EXAMPLE_ID, Place, Shop, address_in};
use crate::device;
use crate::store::{self, Kept, Trouble};
use findings::{Findings, Panels, Tongue};
use quantity::Instant;
use record::{Action, History, Id, OpenError, Owner, Row, Slot, SprayTest, merge};

pub use keeping::{heal, here, reword};
use keeping::{join, keep, open_text};
use working::{Seen, Working};

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
    /// Why the newest press of a button was refused, if so.
    pub refused: RwSignal<Option<String>>,
    /// The weigh-in that Weigh is to open with: one tapped on a chart.
    pub look_at: RwSignal<Option<(Owner, Id)>>,
    /// What is found in the test, as it stands; all of it is worked out when it is asked for.
    pub findings: Signal<Arc<Findings>>,
    /// What is told of its panels, as far as they are worked out; the rest follows between frames.
    pub panels: Signal<Arc<Panels>>,
    working: Working,
    seen: Seen,
    /// The test as it is told, where a text in it would turn its neighbors around.
    legible: Memo<Option<Arc<SprayTest>>>,
    history: RwSignal<History>,
    /// The text under the test's own key as this tab last read or wrote it: another one was written by another tab.
    known_text: StoredValue<String>,
    /// Whether this tab has the turn to write under the test's own key.
    turn: RwSignal<bool>,
}

impl Desk {
    /// Lays a test on the desk.
    ///
    /// # Errors
    /// [`CannotOpen`].
    pub fn open(shop: Shop, id: &str) -> Result<Self, CannotOpen> {
        let held = shop.held(id);
        let unsaved = held.as_ref().map(|(_, trouble)| *trouble);
        let copies = store::copies(id);
        let stored = copies.as_ref().map_or_else(|trouble| Err(CannotOpen::Storage(*trouble)), |copies| join(copies));
        let held = held.and_then(|(text, _)| record::open(&text).ok());
        let test = match (stored, held) {
            (Ok(stored), Some(held)) => merge(&stored, &held.test).test,
            (Ok(test), None) => test,
            (Err(_), Some(held)) => held.test,
            // The example needs no storage.
            (Err(CannotOpen::NotHere | CannotOpen::Storage(_)), None) if id == EXAMPLE_ID => {
                let _ = store::want_again(id);
                open_text(record::EXAMPLE)?
            }
            (Err(trouble), None) => return Err(trouble),
        };
        // A text of its own that cannot be read is no text this tab knows: it is set aside before the next one.
        let own = copies.ok().and_then(|copies| copies.into_iter().next()).filter(|copy| !copy.is_slip());
        let known = own.filter(|copy| record::open(&copy.text).is_ok()).map_or(String::new(), |copy| copy.text);
        let desk = Self::lay(shop, History::new(test, &shop.writer.get_value()), known);
        desk.unsaved.set(unsaved);
        // A test that is opened by its address before the first screen has listed it.
        if store::listed(id).is_none() {
            heal(&[id.to_owned()]);
        }
        desk.share(id);
        desk.join_handed(id);
        Ok(desk)
    }

    /// Begins a new test, keeps it as well as it can be kept, and gives its id.
    pub fn begin(shop: Shop) -> String {
        let now = device::now();
        let id = device::random_name(10);
        let mut history = record::start(Id(id.clone()), now, &shop.writer.get_value());
        let title = format!("Spray test of {}", now.said_day());
        // A title is never refused.
        let _ = history.act(Action::Write(record::Phrase::Title, title));
        // No other tab can know it yet.
        keep(shop, history.test(), Kept::Own, "");
        id
    }

    /// Begins a new test on the plan of this one, and lays it on the desk.
    pub fn begin_again(&self) {
        let id = device::random_name(10);
        let test = self.with_untracked(|test| record::again(test, Id(id.clone()), device::now()));
        Self::begin_with(self.shop, &test);
        self.shop.go(&id, Place::Plan);
    }

    /// Keeps a test that is not here yet; a text of it that cannot be read is set aside.
    pub fn begin_with(shop: Shop, test: &SprayTest) {
        // One that was erased here comes back by the hand of a person.
        let _ = store::want_again(&test.id.0);
        keep(shop, test, Kept::Own, "");
    }

    /// Joins the copy that was handed over for this test, as one step; what is to come back with it follows.
    fn join_handed(&self, id: &str) {
        let Some((text, back)) = self.shop.joining.try_update_value(Option::take).flatten() else { return };
        let theirs = record::open(&text).ok().map(|opened| opened.test);
        if let Some(theirs) = theirs.filter(|theirs| theirs.id.0 == id) {
            self.history.update(|history| {
                // A copy that would not fit is not offered to be joined.
                if history.absorb(&theirs).is_ok() {
                    for address in back {
                        let _ = history.act(Action::BringBack(address));
                    }
                }
            });
            self.keep();
        }
    }

    fn lay(shop: Shop, history: History, text: String) -> Self {
        let history = RwSignal::new(history);
        let seen = Seen::begin(history);
        let working = Working::begin(shop, seen);
        Self {
            shop,
            unsaved: RwSignal::new(None),
            refused: RwSignal::new(None),
            look_at: RwSignal::new(None),
            findings: working.findings,
            panels: working.panels,
            working,
            seen,
            legible: memo(move || {
                seen.with(|test| match record::legible(test) {
                    Cow::Owned(told) => Some(Arc::new(told)),
                    Cow::Borrowed(_) => None,
                })
            }),
            history,
            known_text: StoredValue::new(text),
            turn: RwSignal::new(false),
        }
    }

    /// Looks at the test as it is told, to draw it: its deeds on one clock; texts in it turn nothing around, and may be none
    /// that was typed.
    pub fn with<T>(&self, look: impl FnOnce(&SprayTest) -> T) -> T {
        let legible = self.legible.get();
        self.seen.with(|test| look(legible.as_deref().unwrap_or(test)))
    }

    /// Looks at the test with its texts as they were written down, to show them in a field.
    pub fn with_typed<T>(&self, look: impl FnOnce(&SprayTest) -> T) -> T {
        self.seen.with(look)
    }

    /// Looks at the test as it was written down without following its changes, to do something to it.
    pub fn with_untracked<T>(&self, look: impl FnOnce(&SprayTest) -> T) -> T {
        self.history.with_untracked(|history| look(history.test()))
    }

    /// What is to be said of the clocks by which the test was noted.
    pub fn clocks_said(&self) -> Option<String> {
        let now = self.today();
        self.history.with(|history| findings::words::clocks_said(history.test(), now))
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
        let objects = |test: &SprayTest| findings::words::object(test, &action, device::now(), &tongue);
        if let Some(objection) = untrack(|| self.with(objects)) {
            return Err(objection.to_string());
        }
        let reading = is_reading(&action);
        let done = self.history.try_update(|history| history.act(action));
        done.unwrap_or(Ok(())).map_err(|refused| refused.to_string())?;
        self.keep();
        if reading {
            self.shop.ask_lasting();
        }
        Ok(())
    }

    /// Works a panel out now, though others may wait: somebody stands over it.
    pub fn work_out(&self, panel: &Id) {
        self.working.work_out(panel);
    }

    /// Works out between frames what [`Desk::findings`] takes, once no panel waits, and then does `then`.
    pub fn prepare(&self, then: impl Fn() + 'static) {
        self.working.prepare(Rc::new(then));
    }

    /// Has a panel worked out before all others that wait.
    pub fn work_out_first(&self, panel: Option<Id>) {
        self.working.first.set(panel);
    }

    /// Does what a button says: no number was typed, so what refuses it is told at the head of the screen. A full list does,
    /// and an entry that another tab has just taken out.
    pub fn press(&self, action: Action) {
        let refused = self.act(action).err();
        if self.refused.with_untracked(|before| *before != refused) {
            self.refused.set(refused);
        }
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

    /// How to say things to this person.
    pub fn tongue(&self) -> Tongue {
        tongue_of(self.shop, self.history)
    }

    /// The moment.
    pub fn now(&self) -> Instant {
        device::now()
    }

    /// The moment to the minute, to be followed: for all words that depend on it.
    pub fn today(&self) -> Instant {
        self.shop.now.get()
    }

    /// The address of the place of this test that is up.
    pub fn here(&self) -> String {
        self.with_untracked(|test| address_in(&test.id.0, self.shop.place.get_untracked()))
    }

    /// Saves the record as a file.
    pub fn export(&self) {
        let (name, text) = self.record_file();
        device::download(&name, &text);
        self.note_of_export()();
    }

    /// Hands the record to the phone's share sheet; saves it as a file where there is none. `said` hears how it went.
    pub fn send(&self, said: impl Fn(&'static str) + 'static) {
        let (name, text) = self.record_file();
        let note = self.note_of_export();
        let done = move |handed| {
            if handed {
                note();
            }
            said(if handed { "" } else { "Not sent: the sheet was closed, or the phone refused." });
        };
        if !device::share_file(&name, &text, "text/plain", done) {
            self.export();
        }
    }

    /// Puts the record on the clipboard. `done` hears once it is there; or else gets its text, to be copied by hand.
    pub fn copy(&self, done: impl Fn(Option<String>) + 'static) {
        let (_, text) = self.record_file();
        let note = self.note_of_export();
        let done = Rc::new(done);
        let (by_hand, later) = (text.clone(), done.clone());
        let copied = move |copied: bool| {
            if copied {
                note();
            }
            later((!copied).then(|| by_hand.clone()));
        };
        if !device::copy(&text, copied) {
            done(Some(text));
        }
    }

    fn record_file(&self) -> (String, String) {
        self.with_untracked(|test| (record::file_name(&test.title), record::write(test)))
    }

    /// Remembers, when it is called, that the record as it stands now has left the phone: the test may be closed by then, and
    /// readings that came later wait for the next time.
    fn note_of_export(&self) -> impl Fn() + 'static {
        let (id, at) = (self.with_untracked(|test| test.id.0.clone()), device::now().to_string());
        // What cannot be remembered is asked about again: no harm.
        move || {
            let _ = store::note_exported(&id, &at);
        }
    }
}

/// How to say things to this person, to the place that the test's scale shows.
fn tongue_of(shop: Shop, history: RwSignal<History>) -> Tongue {
    Tongue { units: shop.units(), division_g: history.with(|history| findings::facts::step_g(history.test())) }
}

/// Whether an action writes down what a scale, a comb, a gauge or a thermometer showed.
fn is_reading(action: &Action) -> bool {
    matches!(
        action,
        Action::WeighBare { .. }
            | Action::Weigh { .. }
            | Action::Dab { .. }
            | Action::Spot { .. }
            | Action::TakeAir { .. }
            | Action::Verify { .. }
            | Action::List(Row::Readings(..) | Row::BaseMetal, _)
            | Action::Fill(Slot::Bare(_) | Slot::WeighIn(..), Some(_))
    )
}
