//! The dry film of a panel as its gauge readings have it.

use crate::facts::{FORM, VISIT_H, latest};
use quantity::Quantity;
use record::{Panel, Spot, SprayTest};
use science::Measured;
use science::film::{base_metal, spot};

/// What the gauge counts as film on bare metal, µm: subtracted from every film.
pub(crate) fn bare_metal_um(test: &SprayTest) -> f64 {
    let readings: Vec<f64> = test.dry_gauge.base_metal_um.iter().map(|um| um.get()).collect();
    base_metal(&readings).map_or(0.0, |base| base.mean_um)
}

/// The film of a spot: the mean of its readings less the shim and what the gauge counts as film on bare metal, µm, with the
/// standard uncertainty that their scatter gives it; `None` where nothing is read.
pub(crate) fn film_of(test: &SprayTest, of: &Spot) -> Option<Measured> {
    let readings: Vec<f64> = of.readings_um.iter().map(|um| um.get()).collect();
    let summary = spot(&readings).ok()?;
    let film_um = summary.mean - of.shim_um.map_or(0.0, Quantity::get) - bare_metal_um(test);
    Some(Measured::new(film_um, summary.sd.unwrap_or(0.0) / (summary.count as f64).sqrt()))
}

/// The dry film of each spot or form reading that counts, µm: those of the newest visit, the shim subtracted. What several
/// noted of one place on that visit is one spot; the panel form counts reading by reading.
pub(crate) fn values_um(panel: &Panel) -> Vec<f64> {
    let newest = latest(&mut panel.spots.kept().filter(|spot| !spot.readings_um.is_empty()).filter_map(|spot| spot.at));
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
