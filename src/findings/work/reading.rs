//! A weigh-in once its panel is worked out: all that is known of it is one value.

use std::sync::OnceLock;

use super::card::PanelCard;
use record::Id;
use science::drying::{Estimate, Forecast, Say, Standing, Weighing};

/// What a weigh-in is to its panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// The wet weight, from which all loss is told: the first that counts.
    Wet,
    /// Any other.
    Later,
}

/// A weigh-in of a panel, from the wet weight on.
#[derive(Clone, Debug)]
pub struct Reading {
    /// Which one.
    pub id: Id,
    /// What was weighed, and when.
    pub weighing: Weighing,
    /// Whether it counts, as the curve has it; without a curve as the painter has it.
    pub standing: Standing,
    /// What of it is the scale's drift since the wet weight, g, which is taken off in the curve; 0 without a curve.
    pub drift_g: f64,
    /// Whether it is the wet weight.
    pub role: Role,
    /// What those before it expected of it, once asked for.
    pub(super) expected: OnceLock<Option<Estimate>>,
}

impl Reading {
    /// The weigh-ins of a card, in its order.
    pub(super) fn all_of(card: &PanelCard, forecast: Option<&Forecast>) -> Vec<Self> {
        let mut readings = Vec::new();
        let mut role = Role::Wet;
        for (place, (id, weighing)) in card.weigh_ins.iter().enumerate() {
            // The science answers in the order in which it was asked.
            let (standing, drift_g) = match forecast {
                Some(forecast) => (forecast.readings[place], forecast.drift_g[place]),
                None if weighing.say == Say::SetAside => (Standing::SetAside, 0.0),
                None => (Standing::Kept, 0.0),
            };
            let mut reading = Self {
                id: id.clone(),
                weighing: *weighing,
                standing,
                drift_g,
                role: Role::Later,
                expected: OnceLock::new(),
            };
            if reading.counts() {
                reading.role = std::mem::replace(&mut role, Role::Later);
            }
            readings.push(reading);
        }
        readings
    }

    /// Whether it is in the curve, or would be.
    pub fn counts(&self) -> bool {
        self.standing == Standing::Kept
    }
}
