//! Whether the gauge can be believed: bare metal and shims.

use crate::facts::{VISIT_H, newest};
use crate::words::Wording;
use crate::work::PanelCard;
use quantity::{Instant, Quantity, Unit, decimals_for, figure, signed};
use record::{SprayTest, Verification};
use science::film;
use science::film::{base_metal, verify};

/// Tolerance of a shim as a share of its thickness (2 %, from memory).
const SHIM_TOLERANCE: f64 = 0.02;

/// The readings on bare metal, each with the places of the gauge: `6.9 7.0 µm`.
pub fn base_metal_readings(test: &SprayTest, wording: &Wording) -> String {
    let readings: Vec<f64> = test.dry_gauge.base_metal_um.iter().map(|um| um.get()).collect();
    let each = wording.gauge_readings(&readings, readings.iter().copied());
    format!("{} {}", each.join(" "), wording.units.film.symbol())
}

/// What the readings on bare metal say: `6.1 µm from 10 readings, subtracted from every spot`.
pub fn base_metal_said(test: &SprayTest, wording: &Wording) -> String {
    let readings: Vec<f64> = test.dry_gauge.base_metal_um.iter().map(|um| um.get()).collect();
    match base_metal(&readings) {
        Ok(base) => {
            let film = wording.units.film;
            let mean = film.shown(base.mean_um);
            let few = if readings.len() < 10 { " Ten tell it better." } else { "" };
            let count = if readings.len() == 1 { "1 reading".into() } else { format!("{} readings", readings.len()) };
            format!(
                "{} {} from {count}, subtracted from every film; never zero the gauge on it.{few}",
                figure(mean, decimals_for(mean)),
                film.symbol()
            )
        }
        Err(_) => "About ten readings on the bare prepared steel, before any coat: what a gauge counts as film there is subtracted.".into(),
    }
}

/// A verification as people tell it: `shim 75 µm: read 76, 1 µm off, within 4.3: passes`.
pub fn verification_said(test: &SprayTest, of: &Verification, wording: &Wording) -> String {
    let (Some(shim), Some(read)) = (of.shim_um.map(Quantity::get), of.reading_um.map(Quantity::get)) else {
        return "shim or reading missing".into();
    };
    let Some(tried) = tried(test, of) else { return "no shim".into() };
    let film = wording.units.film;
    let (error, limit) = (film.shown(tried.error_um), film.shown(tried.limit_um));
    let decimals = decimals_for(limit);
    let when = of.at.map_or(String::new(), |at| format!("{} · ", at.said()));
    let verdict = if tried.passes { "passes" } else { "out: clean the probe, adjust the gauge, try again" };
    format!(
        "{when}shim {}: read {}, {} {} off, allowed {}: {verdict}",
        wording.tooth(shim),
        wording.bare_tooth(read),
        signed(error, decimals),
        film.symbol(),
        figure(limit, decimals),
    )
}

/// What is said before the readings of a day on which the gauge was not tried on a shim yet, or was out when last tried.
pub fn verify_first(test: &SprayTest, now: Instant) -> Option<&'static str> {
    let of_day = |at: &Instant| now.hours_since(*at).abs() < VISIT_H;
    match newest(test.verifications.kept().filter_map(|of| Some((of.at.filter(of_day)?, of))))
        .map(|(_, of)| tried(test, of).is_some_and(|tried| tried.passes))
    {
        None => Some("Try the gauge on a shim first, on the bare prepared steel."),
        Some(false) => Some("On the shim the gauge was out: its readings cannot be believed until it passes."),
        Some(true) => None,
    }
}

/// A verification worked out, where shim and reading are there.
fn tried(test: &SprayTest, of: &Verification) -> Option<film::Verification> {
    let shim = of.shim_um?.get();
    verify(shim, SHIM_TOLERANCE * shim, of.reading_um?.get(), 2.0 * PanelCard::gauge_u_um(test)).ok()
}
