//! From the record, through the science, to what a person is told. The only room that sees both.
//!
//! [`of`] is pure: the same test at the same moment gives the same findings. [`Memory::of`] writes numbers and moments as
//! [`quantity::Manner`] has it, which is set and not handed on. They come in layers, each from the one
//! before: scales and cards, panels, candidates, sentences; only the last looks at the clock. [`Memory`] keeps each panel's
//! work while its card stays the same, so that a number typed for one panel refits that panel alone.
//!
//! The folders stand in the order in which data flows, and none knows a later one: [`facts`], `work`, `told`, [`words`], and
//! then a folder for what each screen shows, of which none knows another.

#![deny(missing_docs)]

pub mod facts;
pub mod gauge;
pub mod plan;
pub mod results;
pub mod shelf;
pub mod spray;
mod told;
pub mod weigh;
pub mod words;
mod work;

/// Mixing, which Plan and Spray share.
pub mod mixing {
    pub use crate::words::mixing::*;
    pub use crate::work::mixing::{Amount, Assumed, NoAmount, amount_of};
    pub use crate::work::{MixCard, MixPart, MixWants, components_in_order};
}

pub use told::{
    AfterDay, CandidateFindings, Findings, Flag, FlagKind, ForecastFindings, MeanFindings, PairFindings, PanelFindings,
    Panels, RouteFindings, Settled, Telling, Why,
};
pub use words::Wording;
pub use work::{By, Memory, PanelCard, PanelWork, Reading, Reason, Role, SheetCard};

use quantity::{Instant, Manner, Units};
use record::SprayTest;

/// The findings of a test at a moment, in the units that the test suggests, with a decimal point and a clock of 24 hours
/// whatever is set here ([`quantity::Manner`]).
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
    let on_one_clock = facts::on_one_clock(test);
    let test = on_one_clock.as_ref().map_or(test, |on_one_clock| &on_one_clock.test);
    let plain = Manner { units, ..Manner::PLAIN };
    plain.during(|| Memory::default().of(test, now, &Wording { units, division_g: None }))
}
