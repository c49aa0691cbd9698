//! What happens to storage while the page is open, by other hands.

use gloo_storage::{LocalStorage, Storage};
use leptos::ev;
use leptos::prelude::{on_cleanup, window_event_listener};

use super::copies::test_of;
use super::probe;

/// What another tab did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Heard {
    /// It wrote this text of this test.
    Wrote(String, String),
    /// It took a text of this test away.
    Took(String),
    /// It emptied the whole storage.
    Emptied,
    /// Something else: the summaries, the bin.
    Other,
}

/// Calls `heard` with what another tab does, for as long as the part of the page that asked is there.
pub fn on_written_elsewhere(heard: impl Fn(Heard) + 'static) {
    listen(Box::new(heard));
}

fn listen(heard: Box<dyn Fn(Heard)>) {
    let handle = window_event_listener(ev::storage, move |event| {
        // The text comes with the event: read from storage it may be another one again by now.
        let (key, text) = (event.key(), event.new_value());
        heard(match (key.as_deref().map(test_of), text) {
            (None, _) => Heard::Emptied,
            (Some(Some(id)), Some(text)) => Heard::Wrote(id.to_owned(), text),
            (Some(Some(id)), None) => Heard::Took(id.to_owned()),
            (Some(None), _) => Heard::Other,
        });
    });
    on_cleanup(move || handle.remove());
}

/// Whether storage was taken from the page while it is open: blocked, or emptied. A page that could keep anything has
/// kept its preferences at the least.
pub fn is_gone() -> bool {
    probe().is_err() || LocalStorage::length() == 0
}
