//! A visit to the scale: which round is open, and whether it is being weighed now.

use leptos::prelude::*;

use crate::page::desk::Desk;
use quantity::Instant;
use record::{Action, Id};

/// A visit to the scale.
#[derive(Clone, Copy)]
pub struct Visit {
    /// The round that is open.
    pub open: RwSignal<Option<Id>>,
    /// Whether it is being weighed now; one of earlier is opened to be added to or corrected.
    pub live: StoredValue<bool>,
    /// The round that was left open, whose next weight began the one that is open.
    pub begun_anew: RwSignal<Option<Id>>,
}

impl Visit {
    /// Whether what is typed into a round is weighed now.
    pub fn is_live(self, desk: Desk, round: &Id) -> bool {
        self.live.get_value() && !findings::weigh::round_is_dated(&desk.noted(), round)
    }

    /// Whether a round that is being weighed was left open for too long.
    pub fn is_over(self, desk: Desk, round: &Id) -> bool {
        self.is_live(desk, round) && findings::weigh::round_is_old(&desk.noted(), round, desk.now())
    }

    /// Begins a round at that time, and opens it.
    pub fn begin(self, desk: Desk, at: Instant) -> Result<(), String> {
        self.open.set(Some(note_round(desk, at)?));
        self.begun_anew.set(None);
        Ok(())
    }

    /// Begins a round that is weighed now.
    pub fn begin_now(self, desk: Desk) {
        self.live.set_value(true);
        // Nothing speaks against the present moment.
        let _ = self.begin(desk, desk.now());
    }
}

/// Notes the beginning of a round at that time.
pub fn note_round(desk: Desk, at: Instant) -> Result<Id, String> {
    let place = untrack(|| findings::facts::place_now(&desk.current().typed));
    desk.act(Action::BeginRound { at, place })?;
    findings::facts::round_begun_at(&desk.noted(), at).ok_or_else(String::new)
}
