//! The air of spray day, in words.

use crate::facts::air_of_the_day;
use crate::words::{Wording, input_error_said};
use quantity::{Instant, Quantity};
use record::SprayTest;
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

/// What is to be said of the reading of the air that counts today.
pub fn air_said(test: &SprayTest, now: Instant, wording: &Wording) -> AirSaid {
    let Some(air) = air_of_the_day(test, now) else { return AirSaid::default() };
    let [air_c, humidity, panel_c] =
        [air.air_c.map(Quantity::get), air.humidity_pct.map(Quantity::get), air.panel_c.map(Quantity::get)];
    let mut parts: Vec<String> = Vec::new();
    parts.extend(air_c.map(|c| wording.temperature(c)));
    parts.extend(humidity.map(|pct| format!("{pct} %")));
    parts.extend(panel_c.map(|c| format!("panels {}", wording.temperature(c))));
    let mut said = AirSaid { line: parts.join(", "), amiss: Vec::new() };
    if humidity.is_some_and(|pct| too_damp(pct) == Ok(true)) {
        said.amiss.push(format!("Damper than {HUMIDITY_LIMIT} %, where most sheets say stop: see the data sheet."));
    }
    let (Some(air_c), Some(humidity)) = (air_c, humidity) else { return said };
    let dew = match dew_point(Measured::new(air_c, THERMOMETER_K), Measured::new(humidity, HYGROMETER_PCT)) {
        Ok(dew) => dew,
        Err(trouble) => {
            said.amiss.push(input_error_said(&trouble, wording));
            return said;
        }
    };
    said.line += &format!(": dew point {}", wording.temperature(dew.value));
    let margin = panel_c.and_then(|c| dew_margin(Measured::new(c, THERMOMETER_K), dew).ok());
    if let Some(margin) = margin {
        let least = wording.temperature_step(MARGIN_3C);
        said.line += &format!(", margin {}", wording.temperature_step(margin.margin_k.value));
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
