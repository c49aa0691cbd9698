//! Keeping a test: writing it, joining what other tabs write, and noticing when storage is taken away.

use leptos::prelude::*;

use super::{CannotOpen, Desk};
use crate::device;
use crate::page::shop::Shop;
use crate::store::{self, Copy, Heard, Kept, Summary, Trouble};
use record::{History, SprayTest, merge};

impl Desk {
    /// Shares the test with other tabs: waits for the turn to write it, and listens to them.
    pub(super) fn share(self, id: &str) {
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
    pub(super) fn keep(&self) {
        let own = self.take_in_own_key();
        let writer = self.shop.writer.get_value();
        let turn = self.turn.get_untracked();
        let (text, unsaved) = self.with_untracked(|test| match own {
            Ok(()) => {
                let kept = if turn { Kept::Own } else { Kept::Slip(&writer) };
                self.known_text.with_value(|known| keep(self.shop, test, kept, known))
            }
            Err(trouble) => hold(self.shop, test, Some(trouble)),
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
            self.shop.trouble.set(store::want_again(&id).err());
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
        let settled = self.with_untracked(|test| {
            let text = record::write(test);
            let settled = self.known_text.with_value(|known| store::settle(summary_of(test), &text, &copies, known));
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
        let stored = self.id().and_then(|id| store::copies(&id).ok()).and_then(|copies| join(&copies).ok());
        let safe = stored.is_some_and(|stored| self.with_untracked(|test| merge(&stored, test).test == stored));
        if !safe {
            self.keep();
        }
    }

    /// Storage was emptied: what is on screen is written again, and the person told.
    fn write_again(&self) {
        self.known_text.set_value(String::new());
        self.keep();
        let here = self.shop.preferences.get_untracked();
        self.shop.trouble.set(store::write_preferences(&here).err());
        self.shop.emptied.set(true);
    }

    /// Looks after what is kept: storage may be taken away at any moment, and room may be made.
    fn look_after(&self) {
        if self.unsaved.try_get_untracked().flatten().is_some() {
            self.keep();
        } else if store::is_gone() && self.known_text.with_value(|known| !known.is_empty()) {
            self.write_again();
        }
    }
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
fn summary_of(test: &SprayTest) -> Summary {
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
pub(super) fn keep(shop: Shop, test: &SprayTest, kept: Kept<'_>, known: &str) -> (String, Option<Trouble>) {
    let text = record::write(test);
    let unsaved = store::write(summary_of(test), &text, kept, known).err();
    shop.hold(&test.id.0, &text, unsaved);
    (text, unsaved)
}

fn hold(shop: Shop, test: &SprayTest, unsaved: Option<Trouble>) -> (String, Option<Trouble>) {
    let text = record::write(test);
    shop.hold(&test.id.0, &text, unsaved);
    (text, unsaved)
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
