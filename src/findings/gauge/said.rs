//! What the gauge read on a panel, in words.

use crate::facts::{FORM, clock_h, last_coat};
use crate::told::Panels;
use crate::words::{Wording, duration};
use crate::work::{bare_metal_um, film_of};
use quantity::{Instant, Quantity, Unit, decimals_for, figure, signed};
use record::{Id, Panel, Spot, SprayTest};
use science::film::{PANEL_READINGS, too_near_edge};
use science::routes::{Route, normalised_error};
use science::{Estimate, Measured};

/// A spot as people tell it, with what to mind: `top: 120 µm from 118, 121, 120 · Tue 10 Mar 14:10, 8 d after the last coat`.
pub fn spot_said(test: &SprayTest, panel: &Panel, of: &Spot, wording: &Wording) -> String {
    let film = wording.units.film;
    let values: Vec<f64> = of.readings_um.iter().map(|um| um.get()).collect();
    let Some(film_um) = film_of(test, of) else { return "no readings".into() };
    let (shim, bare_metal) = (of.shim_um.map_or(0.0, Quantity::get), bare_metal_um(test));
    let mean = film.shown(film_um.value);
    let all = panel.spots.kept().flat_map(|spot| spot.readings_um.iter().map(|um| um.get()));
    let each = wording.gauge_readings(&values, all);
    let mut said = match shim + bare_metal > 0.0 && mean <= 0.0 {
        true => format!("no film: {} {}", each.join(", "), film.symbol()),
        false => format!("{} {} from {}", figure(mean, decimals_for(mean)), film.symbol(), each.join(", ")),
    };
    if !of.place.trim().is_empty() {
        said = format!("{}: {said}", of.place.trim());
    }
    let mut taken_off = Vec::new();
    if shim > 0.0 {
        taken_off.push(format!("the shim of {}", wording.tooth(shim)));
    }
    if bare_metal != 0.0 {
        taken_off.push(format!("{} read on bare metal", wording.film_width(bare_metal)));
    }
    if !taken_off.is_empty() {
        said = format!("{said}, less {}", taken_off.join(" and "));
    }
    if let Some(at) = of.at {
        let coat = last_coat(panel);
        let age =
            coat.map_or(String::new(), |coat| format!(", {} after the last coat", duration(at.hours_since(coat))));
        said = format!("{said} · {}{age}", at.said());
    }
    if of.place != FORM && far_apart(&values) {
        said.push_str(". These lie far apart for one spot: was one mistyped?");
    }
    if of.edge_mm.is_some_and(|mm| too_near_edge(mm.get(), of.place == FORM)) {
        said.push_str(". Too near an edge, where a film is not like the rest");
    }
    if of.place == FORM && values.len() < PANEL_READINGS {
        said = format!(
            "{said}. The form takes {PANEL_READINGS} readings; {} are still to come",
            PANEL_READINGS - values.len()
        );
    }
    said
}

/// Highest to lowest of one spot beyond which a slip is likelier than the film (design choice: readings close together
/// commonly lie within a fifth of each other).
const SLIP: f64 = 1.5;

/// Readings as near as this are one film, however thin, µm (design choice: a few steps of a common gauge).
const FLAT_UM: f64 = 5.0;

fn far_apart(readings_um: &[f64]) -> bool {
    let (low, high) =
        readings_um.iter().fold((f64::INFINITY, 0.0_f64), |(low, high), um| (low.min(*um), high.max(*um)));
    high > SLIP * low && high - low > FLAT_UM
}

/// How the film at fixed places went on from visit to visit: `top: 124 → 121 µm, −3 in 3 d`.
pub fn series_said(test: &SprayTest, panel: &Panel, wording: &Wording) -> Vec<String> {
    let film = wording.units.film;
    let mut places: Vec<&str> = Vec::new();
    for of in panel.spots.kept() {
        if !of.place.trim().is_empty() && !places.contains(&of.place.trim()) {
            places.push(of.place.trim());
        }
    }
    let line = |place: &&str| {
        let mut visits: Vec<(Instant, f64)> = panel
            .spots
            .kept()
            .filter(|of| of.place.trim() == *place)
            .filter_map(|of| Some((of.at?, film_of(test, of)?.value)))
            .collect();
        order::sort_by(&mut visits, |a, b| clock_h(a.0).total_cmp(&clock_h(b.0)));
        let ((first, from_um), (last, to_um)) = (*visits.first()?, *visits.last()?);
        if visits.len() < 2 {
            return None;
        }
        let decimals = decimals_for(film.shown(from_um));
        let each: Vec<String> = visits.iter().map(|(_, um)| figure(film.shown(*um), decimals)).collect();
        let by = signed(film.shown(to_um) - film.shown(from_um), decimals);
        let symbol = film.symbol();
        Some(format!("{place}: {} {symbol}, {by} {symbol} in {}", each.join(" → "), duration(last.hours_since(first))))
    };
    places.iter().filter_map(line).collect()
}

/// The gauge's film of a panel beside what comb and scale, or the sheet, have it come to.
pub fn gauge_said(panels: &Panels, panel: &Id, wording: &Wording) -> Option<String> {
    let told = panels.panel(panel)?;
    let gauge = told.work.gauge_um?;
    let by_gauge = told.routes.iter().find(|route| route.route == Route::Gauge).and_then(|route| route.final_build_um);
    let film = by_gauge.unwrap_or_else(|| Estimate::normal(gauge.value, gauge.u));
    // No film is thinner than none, however far the readings scatter.
    let read = format!("By the gauge {}", wording.film(&Estimate { low: film.low.max(0.0), ..film }));
    let others = told.routes.iter().filter(|route| route.route != Route::Gauge && !route.lower_bound);
    let Some((name, build)) = others.filter_map(|route| Some((route.name(), route.final_build_um?))).next() else {
        return Some(format!("{read}. There is no projection to hold it against yet."));
    };
    let predicted = Measured::new(build.mid, build.width() / (2.0 * 1.96));
    let agree = normalised_error(gauge, predicted).is_ok_and(|e| e.abs() <= 1.0);
    let verdict =
        if agree { "they agree" } else { "they do not agree: look at the comb readings, the area and the gauge" };
    Some(format!("{read}; by {name} it comes to {}: {verdict}.", wording.film(&build)))
}
