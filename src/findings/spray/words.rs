//! The run sheet in words.

use super::task::Task;
use crate::facts::{
    DABS, bare_weight, comb_readings, comb_readings_made, next_place, outside_rounds, step_on_g, wet_weigh_in,
};
use crate::words::{Wording, bare_said, dab_in_words};
use quantity::{Quantity, Unit};
use record::{Id, Owner, SprayTest};

/// What a wet weight says at once: the mass of the coat.
pub fn wet_hint(test: &SprayTest, owner: &Owner, wording: &Wording) -> String {
    let coat = || {
        let panel = test.panels.find(owner.panel()?)?;
        let bare_g = bare_weight(test, panel)?.gross_g;
        let wet_g = panel.weigh_ins.find(&wet_weigh_in(test, owner)?)?.gross_g?.get();
        Some(format!("wet coat {}", wording.weight(wet_g - bare_g, step_on_g(test, panel))))
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
            let made = comb_readings_made(test, panel);
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
    format!("{label}: dab {} of {DABS}, recorded", comb_readings_made(test, panel).min(DABS))
}

/// How many are still to be weighed bare.
pub fn to_weigh_said(left: usize) -> String {
    match left {
        0 | 1 => "This is the last one.".into(),
        n => format!("{n} to weigh, with this one."),
    }
}

/// What a bare weight comes to where a panel was weighed more than once: `With another weighing: 400.2 g.`
pub fn bare_hint(test: &SprayTest, panel: &Id, wording: &Wording) -> String {
    let told = || {
        let panel = test.panels.find(panel)?;
        let more = bare_weight(test, panel)?.weighings - 1;
        let others = if more == 1 { "another weighing".to_owned() } else { format!("{more} other weighings") };
        (more > 0).then_some(format!("With {others}: {}.", bare_said(test, panel, wording)?))
    };
    told().unwrap_or_default()
}

/// The bare weight noted last, spoken back: a slip is seen while that panel is still at hand. Before the first, how to prepare.
pub fn before_bare_said(test: &SprayTest, wording: &Wording) -> String {
    let panels = test.panels.kept().flat_map(|panel| {
        let bare = panel.bare.kept().filter(|bare| bare.set_aside.is_none());
        bare.filter_map(move |bare| {
            Some((&bare.stamp, &panel.label, bare.gross_g?, bare_hint(test, &panel.id, wording)))
        })
    });
    let blanks = test.blanks.kept().flat_map(|blank| {
        let bare = outside_rounds(&blank.weigh_ins);
        bare.filter_map(|weigh_in| Some((&weigh_in.stamp, &blank.label, weigh_in.gross_g?, String::new())))
    });
    let last = panels.chain(blanks).max_by(|a, b| a.0.cmp(b.0));
    last.map_or(HOW_TO_PREPARE.into(), |(_, label, gross_g, hint)| {
        let noted = format!("Noted: {label} {} {}.", wording.typed_weight(gross_g.get()), wording.units.mass.symbol());
        [noted, hint].join(" ").trim_end().to_owned()
    })
}

/// The newest dab of a panel, spoken back.
pub fn newest_dab_said(test: &SprayTest, panel: &Id, wording: &Wording) -> String {
    let newest = test.panels.find(panel).and_then(|panel| comb_readings(panel).next_back());
    newest.map_or(String::new(), |dab| format!("Last dab: {}.", dab_in_words(test, dab, wording)))
}
