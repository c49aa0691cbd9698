//! How much to mix, in words.

use crate::words::wording::Wording;
use crate::work::{Assumed, DENSITY, LEFT_IN_GUN_ML, MixCard, NoAmount, OVERSPRAY_MM, WET_FILM_UM, amount_of};
use quantity::{Unit, figure, plain};
use record::{Candidate, SprayTest};

impl Assumed {
    pub(crate) fn said(self, wording: &Wording) -> String {
        let units = &wording.units;
        match self {
            Self::TransferEfficiency => "half of what is sprayed lands".into(),
            Self::Overspray => {
                format!(
                    "{} {} sprayed over each edge",
                    figure(units.length.shown(OVERSPRAY_MM), 0),
                    units.length.symbol()
                )
            }
            Self::LeftInGun => format!("{} stay in cup and gun", volume(LEFT_IN_GUN_ML, wording)),
            Self::Coats => "two coats".into(),
            Self::WetFilm => format!("{} wet a coat", wording.tooth(WET_FILM_UM)),
            Self::Density => {
                format!("a mix of {}, which sets the size of the batch and not its ratio", wording.density(DENSITY))
            }
        }
    }
}

impl NoAmount {
    /// In one sentence.
    pub fn said(&self, wording: &Wording) -> String {
        match self {
            Self::Panels => "Give the panels' sides, or type how much to mix.".into(),
            Self::Mix(wants) => wants.said(wording),
        }
    }
}

/// A volume in the person's unit.
pub(crate) fn volume(ml: f64, wording: &Wording) -> String {
    let unit = wording.units.volume;
    let shown = unit.shown(ml);
    let text = if shown >= 100.0 { figure(shown, 0) } else { plain((shown * 10.0).round() / 10.0) };
    format!("{text} {}", unit.symbol())
}

/// How much is to be mixed, and what that rests on.
pub fn amount_said(test: &SprayTest, candidate: &Candidate, wording: &Wording) -> String {
    let amount = MixCard::of(candidate).map_err(NoAmount::Mix).and_then(|mix| amount_of(test, candidate, &mix));
    let amount = match amount {
        Ok(amount) => amount,
        Err(trouble) => return trouble.said(wording),
    };
    let assumed: Vec<String> = amount.assumed.iter().map(|assumed| assumed.said(wording)).collect();
    let assumed = if assumed.is_empty() { String::new() } else { format!(" Assumed: {}.", assumed.join("; ")) };
    match (amount.typed, assumed.is_empty()) {
        (true, true) => String::new(),
        (true, false) => assumed.trim_start().into(),
        (false, _) => format!("Worked out from the panels: {}.{assumed}", volume(amount.ml, wording)),
    }
}
