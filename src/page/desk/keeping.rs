//! Keeping the open test: writing it, joining what other tabs write, noticing when storage is taken away, and handing the
//! record out.

use std::rc::Rc;

use leptos::prelude::*;

use super::stored::{self, CannotOpen};
use crate::device;
use crate::page::app::{App, EXAMPLE_ID};
use crate::store::{self, Copy, Heard, Kept, Trouble};
use record::{History, SprayTest, merge};

/// Who keeps the open test.
#[derive(Clone, Copy)]
pub struct Keeper {
    app: App,
    /// The test, with the way back.
    pub history: RwSignal<History>,
    /// Why the newest change could not be kept, if so.
    pub unsaved: RwSignal<Option<Trouble>>,
    /// The text under the test's own key as this tab last read or wrote it: another one was written by another tab.
    known_text: StoredValue<String>,
    /// Whether this tab has the turn to write under the test's own key.
    turn: RwSignal<bool>,
}

impl Keeper {
    /// Reads a test: what is stored of it, joined with what storage would not take.
    ///
    /// # Errors
    /// [`CannotOpen`].
    pub fn open(app: App, id: &str) -> Result<Self, CannotOpen> {
        let held = app.held(id);
        let unsaved = held.as_ref().map(|(_, trouble)| *trouble);
        let copies = store::copies(id);
        let stored =
            copies.as_ref().map_or_else(|trouble| Err(CannotOpen::Storage(*trouble)), |copies| stored::join(copies));
        let held = held.and_then(|(text, _)| record::open(&text).ok());
        let test = match (stored, held) {
            (Ok(stored), Some(held)) => merge(&stored, &held.test).test,
            (Ok(test), None) => test,
            (Err(_), Some(held)) => held.test,
            // The example needs no storage.
            (Err(CannotOpen::NotHere | CannotOpen::Storage(_)), None) if id == EXAMPLE_ID => {
                let _ = store::want_again(id);
                stored::open_text(record::EXAMPLE)?
            }
            (Err(trouble), None) => return Err(trouble),
        };
        // A text of its own that cannot be read is no text this tab knows: it is set aside before the next one.
        let own = copies.ok().and_then(|copies| copies.into_iter().next()).filter(|copy| !copy.is_slip());
        let known = own.filter(|copy| record::open(&copy.text).is_ok()).map_or(String::new(), |copy| copy.text);
        // A test that is opened by its address before the first screen has listed it.
        if store::listed(id).is_none() {
            stored::heal(&[id.to_owned()]);
        }
        Ok(Self {
            app,
            history: RwSignal::new(History::new(test, &app.writer.get_value())),
            unsaved: RwSignal::new(unsaved),
            known_text: StoredValue::new(known),
            turn: RwSignal::new(false),
        })
    }

    /// Looks at the test as it was written down.
    fn with<T>(&self, look: impl FnOnce(&SprayTest) -> T) -> T {
        self.history.with_untracked(|history| look(history.test()))
    }

    /// Shares the test with other tabs: waits for the turn to write it, and listens to them.
    pub fn share(self, id: &str) {
        store::on_written_elsewhere(move |heard| self.hear(heard));
        device::on_shown(move || self.catch_up());
        device::every_second(move || self.look_after());
        if device::take_turn(&format!("comb-scale/{id}"), move || self.begin_turn()) {
            on_cleanup(device::leave_turn);
        } else {
            // No turns here: every tab writes on a slip of its own, joined whenever the test is opened.
            self.settle();
        }
    }

    fn begin_turn(&self) {
        self.turn.set(true);
        self.settle();
    }

    fn id(&self) -> Option<String> {
        self.history.try_with_untracked(|history| history.test().id.0.clone())
    }

    /// Writes the test down.
    pub fn keep(&self) {
        let own = self.take_in_own_key();
        let writer = self.app.writer.get_value();
        let turn = self.turn.get_untracked();
        let (text, unsaved) = self.with(|test| match own {
            Ok(()) => {
                let kept = if turn { Kept::Own } else { Kept::Slip(&writer) };
                self.known_text.with_value(|known| stored::write(self.app, test, kept, known))
            }
            Err(trouble) => stored::hold(self.app, test, trouble),
        });
        if turn && unsaved.is_none() {
            self.known_text.set_value(text);
        }
        if self.unsaved.get_untracked() != unsaved {
            self.unsaved.set(unsaved);
        }
    }

    /// Keeps a test that was erased in another tab: somebody here wants it.
    pub fn keep_after_all(&self) {
        if let Some(id) = self.id() {
            self.app.trouble.set(store::want_again(&id).err());
            self.keep();
        }
    }

    /// Joins what stands under the test's own key, so that it is never overwritten unread. What cannot be read stays unknown
    /// and is set aside by whoever writes there.
    fn take_in_own_key(&self) -> Result<(), Trouble> {
        let Some(id) = self.id() else { return Ok(()) };
        let copies = store::copies(&id)?;
        let Some(own) = copies.first().filter(|copy| !copy.is_slip()) else { return Ok(()) };
        if self.known_text.with_value(|known| *known == own.text) {
            return Ok(());
        }
        self.take_in(own)
    }

    fn take_in(&self, copy: &Copy) -> Result<(), Trouble> {
        match record::open(&copy.text) {
            Ok(theirs) => {
                self.follow(&theirs.test);
                if !copy.is_slip() {
                    self.known_text.set_value(copy.text.clone());
                }
                Ok(())
            }
            Err(_) if copy.is_slip() => store::set_aside(copy),
            Err(_) => Ok(()),
        }
    }

    /// Joins another copy of the test; says whether anything in it was new.
    fn follow(&self, theirs: &SprayTest) -> bool {
        // Nothing on screen is drawn anew when nothing is.
        let follow = |history: &mut History| {
            let new = history.follow(theirs);
            (new, new)
        };
        self.history.try_maybe_update(follow).unwrap_or(false)
    }

    /// Joins everything that is stored of this test: events may have been missed while the page was put away.
    fn catch_up(&self) {
        for copy in self.id().map_or(Ok(Vec::new()), |id| store::copies(&id)).unwrap_or_default() {
            if let Ok(theirs) = record::open(&copy.text) {
                self.follow(&theirs.test);
            }
        }
    }

    /// Makes one text of all that is stored of this test, where there are slips.
    fn settle(&self) {
        let Some(Ok(copies)) = self.id().map(|id| store::copies(&id)) else { return };
        if !copies.iter().any(Copy::is_slip) || copies.iter().any(|copy| self.take_in(copy).is_err()) {
            return;
        }
        let settled = self.with(|test| {
            let text = record::write(test);
            let settled =
                self.known_text.with_value(|known| store::settle(stored::summary_of(test), &text, &copies, known));
            settled.map(|()| text)
        });
        if let Ok(text) = settled {
            self.known_text.set_value(text);
        }
    }

    fn hear(&self, heard: Heard) {
        let Some(mine) = self.id() else { return };
        match heard {
            Heard::Wrote(id, text) if id == mine => {
                let Ok(theirs) = record::open(&text) else { return };
                // Whoever has the turn writes it all down; what the other one wrote may be overwritten already.
                if self.follow(&theirs.test) && self.turn.get_untracked() {
                    self.keep();
                }
            }
            Heard::Took(id) if id == mine => self.put_back_what_is_missing(),
            Heard::Emptied => self.write_again(),
            _ => {}
        }
    }

    /// Another tab joined a slip and took it away: written again unless all that is here is stored elsewhere.
    fn put_back_what_is_missing(&self) {
        let stored = self.id().and_then(|id| store::copies(&id).ok()).and_then(|copies| stored::join(&copies).ok());
        let safe = stored.is_some_and(|stored| self.with(|test| merge(&stored, test).test == stored));
        if !safe {
            self.keep();
        }
    }

    /// Storage was emptied: what is on screen is written again, and the person told.
    fn write_again(&self) {
        self.known_text.set_value(String::new());
        self.keep();
        let here = self.app.preferences.get_untracked();
        self.app.trouble.set(store::write_preferences(&here).err());
        self.app.emptied.set(true);
    }

    /// Looks after what is kept: storage may be taken away at any moment, and room may be made.
    fn look_after(&self) {
        if self.unsaved.try_get_untracked().flatten().is_some() {
            self.keep();
        } else if store::is_gone() && self.known_text.with_value(|known| !known.is_empty()) {
            self.write_again();
        }
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
        self.with(|test| (record::file_name(&test.title), record::write(test)))
    }

    /// Remembers, when it is called, that the record as it stands now has left the phone: the test may be closed by then, and
    /// readings that came later wait for the next time.
    fn note_of_export(&self) -> impl Fn() + 'static {
        let (id, at) = (self.with(|test| test.id.0.clone()), device::now().to_string());
        // What cannot be remembered is asked about again: no harm.
        move || {
            let _ = store::note_exported(&id, &at);
        }
    }
}
