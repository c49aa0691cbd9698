//! A choice of the record.

use leptos::prelude::*;

use crate::page::desk::Desk;
use crate::page::parts::{choices, memo};
use record::{Action, Pick};

/// A row of buttons for a choice of the record. While nobody has chosen, the one at `default` shows as chosen.
pub fn picks(desk: Desk, label: &str, options: Vec<(String, Pick)>, default: Option<usize>) -> AnyView {
    let (mut words, mut all) = (Vec::new(), Vec::new());
    for (word, pick) in options {
        words.push(word);
        all.push(pick);
    }
    let held = all.clone();
    let chosen = memo(move || held.iter().position(|pick| pick.holds(&desk.current().test)).or(default));
    choices(label, words, move || chosen.get(), move |place| desk.press(Action::Choose(all[place].clone())))
}
