//! Findings from records, checked against numbers worked out by hand in the tests.

mod agreeing;
mod answer;
mod believed;
mod beside;
mod coats;
mod comparison;
mod contributions;
mod deeds;
mod entries;
mod example;
mod film;
mod gauging;
mod judging;
mod jumps;
mod leaving;
mod memory;
mod mistaken;
mod mixing;
mod next;
mod odd;
mod panels;
mod planning;
mod pouring;
mod refused;
mod rounds;
mod said;
mod sheets;
mod spraying;
mod telling;
mod told;
mod units;
mod weighed;
mod weighed_again;
mod worked;

use comb_scale::findings::results::{Worked, figure_keys, worked_figure};
use comb_scale::findings::{Findings, Memory, PanelFindings, Panels, Wording, of};
use comb_scale::quantity::Instant;
use comb_scale::record::SprayTest;
use expect_test::Expect;
use serde_json::{Value, json};

pub use records::{Piece, list, piece, test_of};

/// Holds a sentence against what it was; see [`told`] for how to write all of them anew.
#[track_caller]
pub fn reads(said: impl AsRef<str>, expected: Expect) {
    expected.assert_eq(said.as_ref());
}

/// Findings a year after everything in these tests.
pub fn found(test: &SprayTest) -> Findings {
    of(test, "2027-03-01T12:00:00Z".parse().expect("an instant"))
}

/// What is told of its panels, all worked out.
pub fn panels_of(test: &SprayTest) -> Panels {
    let mut memory = Memory::default();
    memory.look(test);
    while memory.step(None) {}
    memory.panels(test, &Wording::default())
}

/// How every figure of a panel was worked out.
pub fn all_worked(test: &SprayTest, panel: &PanelFindings, wording: &Wording) -> Vec<Worked> {
    figure_keys(panel).into_iter().map(|key| worked_figure(test, panel, key, wording)).collect()
}

/// Weigh-ins of a panel, from (hours after 2 March 2026 10:00 UTC, g).
pub fn weigh_ins(readings: &[(f64, f64)]) -> String {
    let list = weighed(readings);
    list.as_array().expect("a list").iter().map(Value::to_string).collect::<Vec<_>>().join(", ")
}

/// The same as a list, for [`Piece::with`].
pub fn weighed(readings: &[(f64, f64)]) -> Value {
    weighed_from("2026-03-02T10:00:00Z", readings)
}

/// Weigh-ins of a panel, from (hours after `start`, g).
pub fn weighed_from(start: &str, readings: &[(f64, f64)]) -> Value {
    let start: Instant = start.parse().expect("an instant");
    let entry = |(hours, grams): &(f64, f64)| json!({ "at": start.plus_hours(*hours).to_string(), "gross_g": grams });
    readings.iter().map(entry).collect()
}

/// Readings of a panel that loses 8 g of 26 g in two stages, to 0.1 g, at the default ages.
pub fn drying(bare_g: f64) -> Vec<(f64, f64)> {
    [0.0, 0.5, 1.0, 4.0, 8.0, 24.0, 48.0, 72.0, 96.0, 120.0, 144.0, 168.0, 192.0, 240.0, 288.0, 336.0]
        .iter()
        .map(|&t: &f64| {
            let lost = 8.0 - 4.0 * (-t / 2.0).exp() - 4.0 * (-t / 40.0).exp();
            (t, ((bare_g + 26.0 - lost) * 10.0).round() / 10.0)
        })
        .collect()
}
