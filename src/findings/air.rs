//! The air of spray day, in words.

use super::tongue::Tongue;
use quantity::{Instant, Quantity};
use record::{Air, SprayTest};
use science::Measured;
use science::air::{HUMIDITY_LIMIT, MARGIN_3C, dew_margin, dew_point, too_damp};

/// Uncertainty of a shop thermometer, K, and of a hygrometer, % (design choices).
const THERMOMETER_K: f64 = 0.5;
const HYGROMETER_PCT: f64 = 3.0;

/// What is to be said of a reading of the air.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AirSaid {
    /// The reading in a line: `19 °C, 52 %, panels 18 °C: dew point 9.0 °C, margin 9.0 °C`.
    pub line: String,
    /// Warnings; none of them a lock.
    pub amiss: Vec<String>,
}

/// Hours for which a reading of the air counts as that of the day.
const AIR_HOLDS_H: f64 = 12.0;

/// The newest reading of the air.
pub fn newest_air(test: &SprayTest) -> Option<&Air> {
    newest_within(test, None)
}

/// The newest reading of the air, of all or of those about a moment.
fn newest_within(test: &SprayTest, about: Option<Instant>) -> Option<&Air> {
    let within = |at: Instant| about.is_none_or(|about| about.hours_since(at).abs() <= AIR_HOLDS_H);
    let dated = test.air.kept().filter_map(|air| Some((air.at.filter(|at| within(*at))?, air)));
    dated.reduce(|a: (Instant, &Air), b| if b.0 > a.0 { b } else { a }).map(|(_, air)| air)
}

/// The reading of the air that counts today: an older one is that of another spray day, and stays as it is.
pub fn air_of_the_day(test: &SprayTest, now: Instant) -> Option<&Air> {
    // One that another clock dates days ahead does not hide it.
    newest_within(test, Some(now))
}

/// What is to be said of the reading of the air that counts today.
pub fn air_said(test: &SprayTest, now: Instant, tongue: &Tongue) -> AirSaid {
    let Some(air) = air_of_the_day(test, now) else { return AirSaid::default() };
    let [air_c, humidity, panel_c] =
        [air.air_c.map(Quantity::get), air.humidity_pct.map(Quantity::get), air.panel_c.map(Quantity::get)];
    let mut parts: Vec<String> = Vec::new();
    parts.extend(air_c.map(|c| tongue.temperature(c)));
    parts.extend(humidity.map(|pct| format!("{pct} %")));
    parts.extend(panel_c.map(|c| format!("panels {}", tongue.temperature(c))));
    let mut said = AirSaid { line: parts.join(", "), amiss: Vec::new() };
    if humidity.is_some_and(|pct| too_damp(pct) == Ok(true)) {
        said.amiss.push(format!("Damper than {HUMIDITY_LIMIT} %, where most sheets say stop: see the data sheet."));
    }
    let (Some(air_c), Some(humidity)) = (air_c, humidity) else { return said };
    let dew = match dew_point(Measured::new(air_c, THERMOMETER_K), Measured::new(humidity, HYGROMETER_PCT)) {
        Ok(dew) => dew,
        Err(trouble) => {
            said.amiss.push(trouble.to_string());
            return said;
        }
    };
    said.line += &format!(": dew point {}", tongue.temperature(dew.value));
    let margin = panel_c.and_then(|c| dew_margin(Measured::new(c, THERMOMETER_K), dew).ok());
    if let Some(margin) = margin {
        let least = tongue.temperature_step(MARGIN_3C);
        said.line += &format!(", margin {}", tongue.temperature_step(margin.margin_k.value));
        if margin.margin_k.value <= 0.0 {
            said.amiss.push("The panels are at or below the dew point: water stands on them. Warm them first.".into());
        } else if !margin.keeps_3c {
            said.amiss.push(format!(
                "The panels are less than {least} above the dew point (customary least): warm them, or wait."
            ));
        } else if margin.margin_k.value - 2.0 * margin.margin_k.u < MARGIN_3C {
            said.amiss.push(format!("With such a thermometer the margin may be under the customary {least}."));
        }
    }
    said
}
