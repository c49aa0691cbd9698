//! The day's air against what sheets and grades are made for.

use super::wording::Wording;
use crate::facts::newest_air;
use crate::work::{MixCard, components_in_order};
use quantity::{Celsius, Quantity, Unit, plain};
use record::{Id, SprayTest};

/// What speaks against spraying a candidate in the air as last read: its sheet's range, and that of each grade chosen.
pub fn air_warnings(test: &SprayTest, candidate: &Id, wording: &Wording) -> Vec<String> {
    let told = || {
        let (air, candidate) = (newest_air(test)?, test.candidates.find(candidate)?);
        let (now, at) = (air.air_c?.get(), air.at?);
        let unit = wording.units.temperature;
        let degrees = |c: f64| plain((unit.shown(c) * 10.0).round() / 10.0);
        let outside = |range: &[Celsius], what: &str, advice: &str| {
            let &[low, high] = range else { return None };
            (now < low.get() || now > high.get()).then(|| {
                format!(
                    "The air was {} {} ({}), and {what} is made for {} to {}: {advice}",
                    degrees(now),
                    unit.symbol(),
                    at.said(),
                    degrees(low.get()),
                    degrees(high.get()),
                )
            })
        };
        let mut warnings: Vec<String> = Vec::new();
        warnings.extend(outside(
            &candidate.sheet.air_c,
            &candidate.label,
            "wait, or warm the shop; a film sprayed outside its range dries like another primer.",
        ));
        let mix = MixCard::of(candidate).ok();
        for component in components_in_order(candidate) {
            let name = mix.as_ref().and_then(|mix| mix.parts.iter().find(|part| part.id == component.id));
            let name = name.map_or(component.label.as_str(), |part| part.label.as_str());
            let grade = component.grade.trim();
            let what = if grade.is_empty() { name.to_owned() } else { format!("{name}, grade {grade},") };
            warnings.extend(outside(&component.air_c, &what, "choose the grade for this temperature."));
        }
        Some(warnings)
    };
    told().unwrap_or_default()
}
