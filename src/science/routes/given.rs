//! What a route is given besides plain numbers: the wet film, and where the dry density comes from.

use serde::Serialize;

use crate::comb::WetFilm;
use crate::distribution::Distribution;
use crate::estimate::Measured;

/// Density of the dry film in g/cm³, and where it comes from: what it is derived from is shared with other routes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum DryDensity {
    /// Known by itself: from earlier panels that a gauge measured, or stated.
    Known(Measured),
    /// `ρ·NV/VS` from the sheet's density (g/mL), solids by weight and the same solids by volume as the sheet route.
    Sheet {
        /// Density of the mix, g/mL.
        density: Measured,
        /// Solids by weight, as a share of 1.
        weight_solids: Measured,
    },
    /// `ρ·NV/NVV`, `NVV = 1 − (1 − NV)·ρ/ρ_s`, from density and solids by weight, with the solvent density.
    Balance {
        /// Density of the mix, g/mL.
        density: Measured,
        /// Solids by weight, as a share of 1.
        weight_solids: Measured,
    },
}

/// The wet film as the routes use it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Wet {
    /// From the readings alone, µm.
    #[serde(rename = "dabs")]
    pub readings: Distribution,
    /// Standard uncertainty of the comb's own error, µm.
    pub bias_um: f64,
}

impl From<&WetFilm> for Wet {
    fn from(film: &WetFilm) -> Self {
        Self { readings: film.readings.clone(), bias_um: film.bias_um }
    }
}
