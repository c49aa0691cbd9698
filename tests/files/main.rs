//! The gate, the way out, stamps, undo and merging.

mod damage;
mod filling;
mod fuzzing;
mod merging;
mod opening;
mod previewing;
mod schema;
mod sniffing;
mod tabs;
mod undoing;

use comb_scale::quantity::{Division, Grams, Instant, Micrometres, Quantity};
use comb_scale::record::{Action, History, Id, SprayTest};

pub fn at(text: &str) -> Instant {
    text.parse().expect("an instant")
}

pub fn grams(value: f64) -> Grams {
    Grams::new(value).expect("grams")
}

pub fn micrometres(value: f64) -> Micrometres {
    Micrometres::new(value).expect("µm")
}

/// Two candidates, a panel each, a blank, a scale and a comb, as the page makes them.
pub fn begun(device: &str) -> History {
    let mut history = History::new(SprayTest::begin(Id::from("t1"), at("2026-03-02T08:10:00+01:00")), device);
    let mut act = |action| history.act(action).expect("the action can be done");
    act(Action::AddBalance { label: "Shop scale".into(), division_g: Division::new(0.1).expect("a division") });
    act(Action::AddComb { label: "Comb".into(), teeth_um: [100.0, 125.0, 150.0].map(micrometres).to_vec() });
    act(Action::AddBlank { label: "Blank".into() });
    for label in ["A", "B"] {
        let (id, panels) = (history.fresh_id(), vec![format!("{label}1")]);
        history.act(Action::AddCandidate { id, label: label.into(), panels }).expect("the action can be done");
    }
    history
}

pub fn panel(test: &SprayTest, label: &str) -> Id {
    test.panels.kept().find(|panel| panel.label == label).expect("the panel").id.clone()
}
