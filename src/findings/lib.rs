//! From the record, through the science, to what a person is told. The only room that sees both.
//!
//! [`of`] is pure: the same test at the same moment gives the same findings. They come in layers, each from the one
//! before: scales and cards, panels, candidates, sentences; only the last looks at the clock. [`Memory`] keeps each panel's
//! work while its card stays the same, so that a number typed for one panel refits that panel alone.

#![deny(missing_docs)]

mod air;
mod answer;
mod beside;
mod candidate;
mod card;
mod cautions;
mod check;
mod combing;
mod curve;
mod deeds;
mod entry;
mod film;
mod gauging;
mod judge;
mod measure;
mod memory;
mod mistaken;
mod mixing;
mod next;
mod odd;
mod panel;
mod places;
mod planning;
mod rounds;
mod run;
mod said;
mod sheet;
mod swapped;
mod tables;
mod together;
mod tongue;
mod verdict;
mod why;
mod work;
mod worked;

use serde::Serialize;

pub use air::{AirSaid, air_of_the_day, air_said, newest_air};
pub use answer::{Answer, Glance, answer};
pub use beside::{Cell, Row, RowPair, Sorting, Table, notes_said, side_by_side};
pub use candidate::{By, CandidateFindings, MeanFindings, PairFindings};
pub use card::{PanelCard, moment};
pub use cautions::{CAUTIONS, MIXING, SETTLED_MEANS};
pub use check::{Objection, dab_in_words, object};
pub use combing::{
    DabTeeth, Tapping, ToothLook, comb_in_hand, dabs_said, next_place, teeth_in_hand, touch_up, typed_dab,
};
pub use curve::{
    CurveChoice, CurveLine, CurveOf, Zoom, curve_table, curve_text, loss_chart, middle_age, reading_of, reading_said,
    window_said, zoomed,
};
pub use deeds::{OneClock, clocks_said, on_one_clock};
pub use entry::{
    about, ahead_said, binned_said, coat_button, due_said, export_said, former_weight, moment_said, next_due,
    noted_due_said, oldest_reading_since, wet_hint, wet_weigh_in,
};
pub use film::{FilmLine, film_chart, film_spot_said, film_table, film_text};
pub use gauging::{
    FORM, GaugeStop, Reading as GaugeReading, base_metal_readings, base_metal_said, gauge_due, gauge_said, gauge_taken,
    how_to_read, series_said, spot_said, too_soft, verification_said, verify_first,
};
pub use measure::{NotRead, read_in, read_near, read_row, show_in, show_row, unit_of};
pub use memory::{Memory, Panels};
pub use mixing::{
    Amount, Assumed, MixCard, MixPart, MixWants, NoAmount, PourStep, Pouring, amount_of, amount_said, component_said,
    components_in_order, cup_in_progress, cups_said, mix_said, pouring, smaller_cup, still_to_pour_said, take_reading,
    worth_of,
};
pub use odd::{odd_about, odd_said};
pub use panel::{AfterDay, ForecastFindings, PanelFindings, RouteFindings};
pub use places::{
    DayOut, PlaceToCarry, cool_first, day_out, hours_in_places, hours_said, last_move_said, move_said, place_now,
    places_to_carry,
};
pub use planning::{
    BlankWanted, Dated, Fitted, SHEET_LINES, WHY_DRAWN, air_warnings, anchor_said, blanks_wanted, costs_said, draw,
    due_times, fitted_schedule, gaps_said, kept_ages, order_said, plan_check, repeats_said, schedule_from,
    schedule_said, set_schedule, weigh_by,
};
pub use rounds::{
    HOW_TO_WEIGH, Judged, SET_ASIDE_FOR, Stop, Stray, judged, look_again, new_round_said, next_stop, old_round_said,
    progress_said, round_begun_at, round_is_dated, round_is_old, round_of, round_said, round_under_way,
    rounds_newest_first, rounds_said, rounds_with_progress, stops, strays, weigh_in_of, weigh_time,
};
pub use run::{
    Clock, DABS, Done, Lane, RunSheet, Task, Waiting, WayPast, before_bare_said, cup_being_poured, dab_recorded_said,
    leaving_out, newest_dab_said, panels_of, rushing, same_press, spray_order, task_said, to_weigh_said,
};
pub use said::NOT_SHOWN;
pub use sheet::SheetCard;
pub use tables::{Figure, Reading, panel_figures, panel_in_short, panels_said, readings};
pub use tongue::{Tongue, day, duration};
pub use verdict::{Flag, Settled};
pub use why::{Reason, Why};
pub use work::PanelWork;
pub use worked::{Share, Whose, Worked, worked, worked_beside};

use quantity::{Instant, Units};
use record::{Id, Panel, SprayTest, plain_characters};

/// What a person is told of one test.
#[derive(Clone, Debug, Serialize)]
pub struct Findings {
    /// Of each panel, by candidate and label.
    pub panels: Vec<PanelFindings>,
    /// Of each candidate, by label.
    pub candidates: Vec<CandidateFindings>,
    /// Of each pair of candidates.
    pub pairs: Vec<PairFindings>,
    /// What to do next: what narrows the answer most, then what is missing.
    pub next: Vec<String>,
    /// What a painter would say out loud.
    pub said: Vec<String>,
}

impl Findings {
    /// What is told of one panel.
    pub fn panel(&self, id: &Id) -> Option<&PanelFindings> {
        self.panels.iter().find(|panel| panel.id == *id)
    }
}

/// The findings of a test at a moment, in the units that the test suggests.
///
/// ```
/// let text = r#"{ "format": "spray-test", "version": 1, "balance": { "division_g": 0.1 },
///   "panels": [ { "label": "A1", "bare_g": 400.0, "weigh_ins": [
///     { "at": "2026-03-02T09:00:00Z", "gross_g": 440.0 }, { "at": "2026-03-02T13:00:00Z", "gross_g": 435.0 } ] } ] }"#;
/// let test = record::open(text).unwrap().test;
/// let findings = findings::of(&test, "2026-03-02T14:00:00Z".parse().unwrap());
/// assert_eq!(findings.panels[0].lost_g, Some(5.0));
/// assert_eq!(findings.panels[0].lost_pct, Some(12.5));
/// assert!(findings.panels[0].forecast.is_none() && findings.panels[0].why.of("forecast").is_some());
/// ```
pub fn of(test: &SprayTest, now: Instant) -> Findings {
    let suggested = &test.units;
    let units = Units {
        film: suggested.film.unwrap_or_default(),
        length: suggested.length.unwrap_or_default(),
        mass: suggested.mass.unwrap_or_default(),
        volume: suggested.volume.unwrap_or_default(),
        temperature: suggested.temperature.unwrap_or_default(),
    };
    let on_one_clock = on_one_clock(test);
    let test = on_one_clock.as_ref().map_or(test, |on_one_clock| &on_one_clock.test);
    Memory::default().of(test, now, &Tongue { units, division_g: None })
}

/// Panels by candidate, then label, as they stand in every list.
pub fn in_order(test: &SprayTest) -> Vec<&Panel> {
    let candidates = candidate::in_order(test);
    let place = |panel: &Panel| {
        let own = candidates.iter().position(|candidate| panel.candidate.as_ref() == Some(&candidate.id));
        own.unwrap_or(usize::MAX)
    };
    let mut panels: Vec<&Panel> = test.panels.kept().collect();
    let key = |panel: &Panel| (place(panel), natural(&panel.label), panel.id.clone());
    order::sort_by(&mut panels, |a, b| key(a).cmp(&key(b)));
    panels
}

/// Panels in the order of their places in the rack, as they are weighed while they dry; those without a place after them.
pub fn in_rack(test: &SprayTest) -> Vec<&Panel> {
    let mut panels = in_order(test);
    let place = |panel: &Panel| {
        let rack = panel.rack.trim();
        (rack.is_empty(), natural(rack))
    };
    order::sort_by(&mut panels, |a, b| place(a).cmp(&place(b)));
    panels
}

pub use candidate::in_order as candidates_in_order;

/// A label cut into words and numbers, so that A2 stands before A10.
fn natural(label: &str) -> Vec<(String, u64)> {
    let mut parts: Vec<(String, u64)> = vec![(String::new(), 0)];
    for c in plain_characters(label) {
        let last = parts.len() - 1;
        match c.to_digit(10) {
            Some(digit) => parts[last].1 = parts[last].1.saturating_mul(10).saturating_add(u64::from(digit)),
            None => {
                if label.is_empty() || parts[last].1 > 0 {
                    parts.push((c.to_lowercase().collect(), 0));
                } else {
                    parts[last].0.extend(c.to_lowercase());
                }
            }
        }
    }
    parts
}
