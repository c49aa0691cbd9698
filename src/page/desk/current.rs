//! The open test as it stands, with what else a sentence about it needs.

use std::borrow::Cow;
use std::sync::Arc;

use leptos::prelude::*;

use crate::page::app::App;
use findings::Wording;
use findings::facts::{on_one_clock, step_g};
use quantity::Instant;
use record::{History, SprayTest};

/// What a screen is drawn from: the test as it stands, how to word it, and the moment.
pub struct Current {
    /// The test as it is told: its deeds on one clock; texts in it turn nothing around, and may be none that was typed.
    pub test: Arc<SprayTest>,
    /// The same with its texts as they were written down, to show them in a field.
    pub typed: Arc<SprayTest>,
    /// How to say things to this person, to the place that the test's scale shows.
    pub wording: Wording,
    minute: RwSignal<Instant>,
}

impl Current {
    /// The moment to the minute; who reads it is drawn anew when it moves on.
    pub fn now(&self) -> Instant {
        self.minute.get()
    }
}

/// The test of a history as it stands, made anew when it changes or this phone's units do.
pub(super) fn following(app: App, history: RwSignal<History>) -> Memo<Arc<Current>> {
    let current = move |_: Option<&Arc<Current>>| {
        let noted = history.with(History::shared);
        let typed = on_one_clock(&noted).map_or_else(|| noted.clone(), |it| Arc::new(it.test));
        let test = match record::legible(&typed) {
            Cow::Owned(told) => Arc::new(told),
            Cow::Borrowed(_) => typed.clone(),
        };
        let wording = Wording { units: app.units(), division_g: step_g(&noted) };
        Arc::new(Current { test, typed, wording, minute: app.now })
    };
    Memo::new_with_compare(current, |_, _| true)
}
