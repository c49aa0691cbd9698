//! The run sheet in words.

use super::run::Task;
use crate::facts::{DABS, dabs_of_last_coat, next_place, outside_rounds, wet_weigh_in};
use crate::words::{Tongue, dab_in_words};
use quantity::{Quantity, Unit};
use record::{Id, Owner, SprayTest};

/// What a coat is told to where nobody said how fine the scale is, g.
const FINE_G: f64 = 0.01;

/// What a wet weight says at once: the mass of the coat.
pub fn wet_hint(test: &SprayTest, owner: &Owner, tongue: &Tongue) -> String {
    let coat = || {
        let panel = test.panels.find(owner.panel()?)?;
        let bare_g = panel.latest_bare()?.gross_g?.get();
        let wet_g = panel.weigh_ins.find(&wet_weigh_in(test, owner)?)?.gross_g?.get();
        Some(format!("wet coat {}", tongue.weight(wet_g - bare_g, tongue.division_g.unwrap_or(FINE_G))))
    };
    coat().unwrap_or_default()
}

/// What is done before the first bare weight.
const HOW_TO_PREPARE: &str = "Number, hook, tape and clean the panels first; the scale level and warm, out of draughts, the panels cool to the hand.";

/// What is to be done, as the heading of the task: `A1: dab 2 of 3, middle third`.
pub fn task_said(test: &SprayTest, task: &Task) -> String {
    match task {
        Task::Air => "Read the air".into(),
        Task::Bare(owner) => format!("Weigh {} bare", owner.label(test)),
        Task::Mix => "Pour and mix".into(),
        Task::Coat(coat) => format!("Spray coat {coat}"),
        Task::Comb(panel) => {
            let made = dabs_of_last_coat(test, panel);
            let dab = made.min(DABS - 1) + 1;
            format!(
                "{}: dab {dab} of {DABS}, {}",
                test.panels.find(panel).map_or("", |panel| &panel.label),
                next_place(test, panel)
            )
        }
        Task::Wet(owner) if owner.is_blank() => format!("Weigh {}", owner.label(test)),
        Task::Wet(owner) => format!("Weigh {} wet", owner.label(test)),
        Task::Nothing => "Sprayed and weighed".into(),
    }
}

/// The dab just recorded, while it may still be touched up: `A1: dab 1 of 3, recorded`.
pub fn dab_recorded_said(test: &SprayTest, panel: &Id) -> String {
    let label = test.panels.find(panel).map_or("", |panel| panel.label.as_str());
    format!("{label}: dab {} of {DABS}, recorded", dabs_of_last_coat(test, panel).min(DABS))
}

/// How many are still to be weighed bare.
pub fn to_weigh_said(left: usize) -> String {
    match left {
        0 | 1 => "This is the last one.".into(),
        n => format!("{n} to weigh, with this one."),
    }
}

/// The bare weight noted last, spoken back: a slip is seen while that panel is still at hand. Before the first, how to prepare.
pub fn before_bare_said(test: &SprayTest, tongue: &Tongue) -> String {
    let panels = test.panels.kept().filter_map(|panel| {
        let bare = panel.latest_bare()?;
        Some((&bare.stamp, &panel.label, bare.gross_g?))
    });
    let blanks = test.blanks.kept().flat_map(|blank| {
        let bare = outside_rounds(&blank.weigh_ins);
        bare.filter_map(|weigh_in| Some((&weigh_in.stamp, &blank.label, weigh_in.gross_g?)))
    });
    let last = panels.chain(blanks).max_by(|a, b| a.0.cmp(b.0));
    last.map_or(HOW_TO_PREPARE.into(), |(_, label, gross_g)| {
        format!("Noted: {label} {} {}.", tongue.typed_weight(gross_g.get()), tongue.units.mass.symbol())
    })
}

/// The newest dab of a panel, spoken back.
pub fn newest_dab_said(test: &SprayTest, panel: &Id, tongue: &Tongue) -> String {
    let newest = test.panels.find(panel).and_then(|panel| panel.dabs.kept().next_back());
    newest.map_or(String::new(), |dab| format!("Last dab: {}.", dab_in_words(test, dab, tongue)))
}
