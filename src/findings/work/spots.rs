//! The dry film of a panel as its gauge readings have it.

use crate::facts::{FORM, VISIT_H, latest};
use quantity::Quantity;
use record::{Panel, Spot};
use science::film::spot;

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
