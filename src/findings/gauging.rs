//! The dry film as the gauge reads it: which reading is due, what a spot says, how it stands against the projection, and
//! whether the gauge can be believed.

use super::card::{clock_h, latest};
use super::tongue::{Tongue, duration};
use super::{PanelCard, Panels};
use quantity::{Instant, Quantity, Unit, decimals_for, figure, signed};
use record::{Id, Panel, Spot, SprayTest, Verification};
use science::film::{self, PANEL_EDGE_MM, PANEL_READINGS, base_metal, spot, too_near_edge, verify};
use science::routes::normalised_error;
use science::{Estimate, Measured};

/// The places of a panel that are read, and of the panel form's thirds.
const PLACES: [&str; 3] = ["top", "middle", "bottom"];

/// The place under which the six readings of the panel form stand.
pub const FORM: &str = "panel form";

/// Readings of a spot.
const SPOT_READINGS: usize = 3;

/// Where the gauge is set down: how far from the edges a spot lies, and a reading of the form, mm (common practice; SSPC-PA 2
/// keeps 25 mm from edges, and panels of a laboratory 12 mm).
const SPOT_EDGE_MM: f64 = 25.0;

/// What counts as the gauge's calibration where nobody noted its paper.
pub fn gauge_taken(tongue: &Tongue) -> String {
    tongue.film_width(PanelCard::GAUGE_U_UM)
}

/// When and where to read.
pub fn how_to_read(tongue: &Tongue) -> String {
    let (spot, form) = (tongue.side(SPOT_EDGE_MM), tongue.side(PANEL_EDGE_MM));
    format!(
        "Read once a thumbnail leaves no mark. Spots: top, middle and bottom, each three readings close together, {spot} or more from the edges. The form: two readings in each third, {form} from the edges and {spot} apart."
    )
}

/// Hours within which readings belong to one visit with the gauge.
const VISIT_H: f64 = 12.0;

/// Age up to which a film is taken for soft where no sheet says when it may be sanded, h.
const SOFT_H: f64 = 24.0;

/// Tolerance of a shim as a share of its thickness (2 %, from memory).
const SHIM_TOLERANCE: f64 = 0.02;

/// How a panel is read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Reading {
    /// Spots of three readings close together: top, middle, bottom.
    #[default]
    Spots,
    /// The panel form: six readings, two in each third.
    Form,
}

/// The reading that is due.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GaugeStop {
    /// On which panel.
    pub panel: Id,
    /// Under which place it is noted.
    pub place: String,
    /// The spot it belongs to, once one of its readings is there.
    pub spot: Option<Id>,
    /// What is due, as said: `A1, top: reading 2 of 3`.
    pub said: String,
}

/// What is due next: on the panel turned to, else on the first panel that this visit has not read yet.
///
/// A spot is gone on with by the `writer` who began it alone: two who read one place at a time each make a spot of their
/// own, and neither's readings are lost when the two are joined.
pub fn gauge_due(
    test: &SprayTest,
    reading: Reading,
    turned: Option<&Id>,
    now: Instant,
    writer: &str,
) -> Option<GaugeStop> {
    let turned = turned.and_then(|id| test.panels.find(id));
    let panels = turned.into_iter().chain(super::in_order(test));
    panels.into_iter().find_map(|panel| due_on(panel, reading, now, writer))
}

fn due_on(panel: &Panel, reading: Reading, now: Instant, writer: &str) -> Option<GaugeStop> {
    let (places, each): (&[&str], usize) = match reading {
        Reading::Spots => (&PLACES, SPOT_READINGS),
        Reading::Form => (&[FORM], PANEL_READINGS),
    };
    places.iter().find_map(|&place| {
        let of_visit =
            |spot: &&Spot| spot.place == place && spot.at.is_some_and(|at| now.hours_since(at).abs() < VISIT_H);
        let begun: Vec<&Spot> = panel.spots.kept().filter(of_visit).collect();
        let done = begun.iter().map(|spot| spot.readings_um.len()).sum::<usize>();
        let own = begun.into_iter().rfind(|spot| spot.id.is_of(writer));
        let third = if place == FORM { PLACES[done * PLACES.len() / each % PLACES.len()] } else { place };
        (done < each).then(|| GaugeStop {
            panel: panel.id.clone(),
            place: place.to_owned(),
            spot: own.map(|spot| spot.id.clone()),
            said: format!("{}, {third}: reading {} of {each}", panel.label, done + 1),
        })
    })
}

/// A warning where a film may still be too soft for a probe.
pub fn too_soft(test: &SprayTest, panel: &Id, now: Instant) -> Option<String> {
    let panel = test.panels.find(panel)?;
    let coat = latest(panel.coats.kept().filter_map(|coat| coat.at))?;
    // Noted for a time that has not come here, it is new.
    let age_h = now.hours_since(coat).max(0.0);
    let sheet = panel.candidate.as_ref().and_then(|id| test.candidates.find(id)).and_then(|c| c.sheet.sanding_h);
    let (from_h, by) = match sheet {
        Some(h) => (h.get(), format!("its sheet has it sanded after {}", duration(h.get()))),
        None => (SOFT_H, "its sheet does not say when it may be sanded".into()),
    };
    (age_h < from_h).then(|| {
        format!(
            "{} is {} old, and {by}: the film may be too soft. A probe dents it and reads low. Wait until a thumbnail leaves no mark, or read through a plastic shim, which is subtracted (common practice).",
            panel.label,
            duration(age_h.max(0.0)),
        )
    })
}

/// The dry film of each spot or form reading that counts, µm: those of the newest visit, the shim subtracted. What several
/// noted of one place on that visit is one spot; the panel form counts reading by reading.
pub(super) fn values_um(panel: &Panel) -> Vec<f64> {
    let newest = latest(panel.spots.kept().filter(|spot| !spot.readings_um.is_empty()).filter_map(|spot| spot.at));
    let of_visit = |spot: &&Spot| match (newest, spot.at) {
        (Some(newest), Some(at)) => newest.hours_since(at) < VISIT_H,
        _ => true,
    };
    let mut values = Vec::new();
    let mut places: Vec<(&str, Vec<f64>)> = Vec::new();
    for of in panel.spots.kept().filter(of_visit) {
        let (place, shim) = (of.place.trim(), of.shim_um.map_or(0.0, Quantity::get));
        // A film is thicker than nothing: a reading that the shim leaves no room in is a slip of one of the two.
        let films = of.readings_um.iter().map(|um| um.get() - shim);
        let mut readings: Vec<f64> = films.filter(|um| shim == 0.0 || *um > 0.0).collect();
        if readings.is_empty() {
            continue;
        }
        match places.iter_mut().find(|(known, _)| !place.is_empty() && *known == place) {
            _ if place == FORM => values.append(&mut readings),
            Some((_, pooled)) => pooled.append(&mut readings),
            None => places.push((place, readings)),
        }
    }
    values.extend(places.iter().filter_map(|(_, readings)| Some(spot(readings).ok()?.mean)));
    values
}

/// A spot as people tell it, with what to mind: `top: 120 µm from 118, 121, 120 · Tue 10 Mar 14:10, 8 d after the last coat`.
pub fn spot_said(panel: &Panel, of: &Spot, tongue: &Tongue) -> String {
    let film = tongue.units.film;
    let values: Vec<f64> = of.readings_um.iter().map(|um| um.get()).collect();
    let Ok(summary) = spot(&values) else { return "no readings".into() };
    let shim = of.shim_um.map_or(0.0, Quantity::get);
    let mean = film.shown(summary.mean - shim);
    let all = panel.spots.kept().flat_map(|spot| spot.readings_um.iter().map(|um| um.get()));
    let each = tongue.gauge_readings(&values, all);
    let mut said = match shim > 0.0 && mean <= 0.0 {
        true => format!("no film: {} {}", each.join(", "), film.symbol()),
        false => format!("{} {} from {}", figure(mean, decimals_for(mean)), film.symbol(), each.join(", ")),
    };
    if !of.place.trim().is_empty() {
        said = format!("{}: {said}", of.place.trim());
    }
    if shim > 0.0 {
        said = format!("{said}, less the shim of {}", tongue.tooth(shim));
    }
    if let Some(at) = of.at {
        let coat = latest(panel.coats.kept().filter_map(|coat| coat.at));
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
pub fn series_said(panel: &Panel, tongue: &Tongue) -> Vec<String> {
    let film = tongue.units.film;
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
            .filter_map(|of| {
                let readings: Vec<f64> = of.readings_um.iter().map(|um| um.get()).collect();
                Some((of.at?, spot(&readings).ok()?.mean - of.shim_um.map_or(0.0, Quantity::get)))
            })
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
pub fn gauge_said(panels: &Panels, panel: &Id, tongue: &Tongue) -> Option<String> {
    let told = panels.panel(panel)?;
    let gauge = told.work.gauge_um?;
    let by_gauge = told.routes.iter().find(|route| route.name == "gauge").and_then(|route| route.final_build_um);
    let film = by_gauge.unwrap_or_else(|| Estimate::normal(gauge.value, gauge.u));
    // No film is thinner than none, however far the readings scatter.
    let read = format!("By the gauge {}", tongue.film(&Estimate { low: film.low.max(0.0), ..film }));
    let others = told.routes.iter().filter(|route| route.name != "gauge" && !route.lower_bound);
    let Some((name, build)) = others.filter_map(|route| Some((route.name, route.final_build_um?))).next() else {
        return Some(format!("{read}. There is no projection to hold it against yet."));
    };
    let predicted = Measured::new(build.mid, build.width() / (2.0 * 1.96));
    let agree = normalised_error(gauge, predicted).is_ok_and(|e| e.abs() <= 1.0);
    let verdict =
        if agree { "they agree" } else { "they do not agree: look at the comb readings, the area and the gauge" };
    Some(format!("{read}; by {name} it comes to {}: {verdict}.", tongue.film(&build)))
}

/// The readings on bare metal, each with the places of the gauge: `6.9 7.0 µm`.
pub fn base_metal_readings(test: &SprayTest, tongue: &Tongue) -> String {
    let readings: Vec<f64> = test.dry_gauge.base_metal_um.iter().map(|um| um.get()).collect();
    let each = tongue.gauge_readings(&readings, readings.iter().copied());
    format!("{} {}", each.join(" "), tongue.units.film.symbol())
}

/// What the readings on bare metal say: `6.1 µm from 10 readings, subtracted from every spot`.
pub fn base_metal_said(test: &SprayTest, tongue: &Tongue) -> String {
    let readings: Vec<f64> = test.dry_gauge.base_metal_um.iter().map(|um| um.get()).collect();
    match base_metal(&readings) {
        Ok(base) => {
            let film = tongue.units.film;
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
pub fn verification_said(test: &SprayTest, of: &Verification, tongue: &Tongue) -> String {
    let (Some(shim), Some(read)) = (of.shim_um.map(Quantity::get), of.reading_um.map(Quantity::get)) else {
        return "shim or reading missing".into();
    };
    let Some(tried) = tried(test, of) else { return "no shim".into() };
    let film = tongue.units.film;
    let (error, limit) = (film.shown(tried.error_um), film.shown(tried.limit_um));
    let decimals = decimals_for(limit);
    let when = of.at.map_or(String::new(), |at| format!("{} · ", at.said()));
    let verdict = if tried.passes { "passes" } else { "out: clean the probe, adjust the gauge, try again" };
    format!(
        "{when}shim {}: read {}, {} {} off, allowed {}: {verdict}",
        tongue.tooth(shim),
        tongue.bare_tooth(read),
        signed(error, decimals),
        film.symbol(),
        figure(limit, decimals),
    )
}

/// What is said before the readings of a day on which the gauge was not tried on a shim yet, or was out when last tried.
pub fn verify_first(test: &SprayTest, now: Instant) -> Option<&'static str> {
    let mut newest: Option<&Verification> = None;
    for of in test.verifications.kept() {
        let of_day = of.at.is_some_and(|at| now.hours_since(at).abs() < VISIT_H);
        if of_day && newest.is_none_or(|newest| of.at >= newest.at) {
            newest = Some(of);
        }
    }
    match newest.map(|of| tried(test, of).is_some_and(|tried| tried.passes)) {
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
