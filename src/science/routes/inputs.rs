//! What a panel's final build is worked out from, and how each route depends on it.

use super::given::{DryDensity, Wet};
use crate::distribution::Distribution;
use crate::estimate::Measured;
use crate::input::{InputError, answer, not_negative, positive, share};
use serde::Serialize;

/// 1 g/(g/cm³ · cm²) in µm.
pub(super) const UM: f64 = 1e4;

/// Solvent density in g/mL and its uncertainty where nobody knows better (common practice).
pub const SOLVENT_DENSITY: Measured = Measured::new(0.87, 0.03);

/// An independent input of the final build.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Input {
    /// The readings: where in its gap the film lies, and how it varies over the panel.
    #[serde(rename = "readings")]
    CombReadings,
    /// The error that all readings of one comb share.
    Comb,
    /// The panel's weight when the comb was read.
    WetMass,
    /// The weight it ends at.
    FinalMass,
    /// The bare panel.
    BareMass,
    /// The coated area.
    Area,
    /// Density of the solvent that leaves.
    SolventDensity,
    /// Solids by volume, as the sheet states them.
    VolumeSolids,
    /// Reducer per paint, by volume.
    Thinning,
    /// Density of the dry film.
    DryDensity,
    /// Density and solids by weight of the mix, where the dry density comes from them.
    MixDensity,
    /// Solids by weight of the mix, where the dry density comes from them.
    WeightSolids,
    /// The dry-film gauge.
    Gauge,
}

pub(super) const INPUTS: [Input; 13] = [
    Input::CombReadings,
    Input::Comb,
    Input::WetMass,
    Input::FinalMass,
    Input::BareMass,
    Input::Area,
    Input::SolventDensity,
    Input::VolumeSolids,
    Input::Thinning,
    Input::DryDensity,
    Input::MixDensity,
    Input::WeightSolids,
    Input::Gauge,
];

impl Input {
    /// Whether an error in it is the same on every panel of a candidate, so that more panels do not average it away.
    ///
    /// ```
    /// use comb_scale_science::routes::Input;
    /// assert!(Input::SolventDensity.shared_by_candidate() && !Input::CombReadings.shared_by_candidate());
    /// ```
    pub fn shared_by_candidate(self) -> bool {
        !matches!(self, Self::CombReadings | Self::WetMass | Self::BareMass | Self::Area | Self::Gauge)
    }
}

/// A way of reaching the final build.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Route {
    /// Wet film by the comb, less the film that the lost grams made up.
    CombAndScale,
    /// Wet film by the comb times the data sheet's solids by volume.
    Sheet,
    /// Final grams over the density of the dry film.
    ScaleAndDensity,
    /// Read on the dry film.
    Gauge,
}

/// All, in the order they are shown.
pub(super) const ROUTES: [Route; 4] = [Route::CombAndScale, Route::Sheet, Route::ScaleAndDensity, Route::Gauge];

/// Why a route gives no number.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum RouteError {
    /// An input is not there yet.
    Missing(Input),
    /// The inputs contradict each other so far that no film is left.
    NoFilmLeft,
    /// An input cannot be worked with.
    Input(InputError),
}

impl From<InputError> for RouteError {
    fn from(error: InputError) -> Self {
        Self::Input(error)
    }
}

/// What is known of one panel. Masses in g, all weighed with the same zero (gross), areas in cm², densities in g/mL.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Known {
    /// The wet film by the comb, if it was read.
    pub wet: Option<Wet>,
    /// The panel's weight at the moment the comb was read, after the readings.
    pub wet_mass_g: Option<Measured>,
    /// Posterior of the weight it ends at; a steady panel's reading is one value with its uncertainty.
    pub final_mass_g: Option<Distribution>,
    /// The bare panel, g, if it was weighed.
    pub bare_mass_g: Option<Measured>,
    /// Coated area, cm².
    pub area_cm2: Measured,
    /// Density of the solvent that leaves, g/mL.
    pub solvent_density: Measured,
    /// Solids by volume of the paint before reducer, as a share of 1.
    pub volume_solids: Option<Measured>,
    /// Volume of reducer per volume of paint before reducer.
    pub thinning: Measured,
    /// Density of the dry film, where it is known or follows from others.
    pub dry_density: Option<DryDensity>,
    /// Dry film by the gauge, µm.
    pub gauge_um: Option<Measured>,
    /// More than one coat before the comb was read, or minutes between the last coat and the comb reading: solvent had left already,
    /// and the sheet route is a lower bound.
    pub sheet_is_lower_bound: bool,
}

/// A route's value in µm and its slope by each input.
#[derive(Clone, Debug)]
pub(super) struct Slopes {
    pub value: f64,
    pub by: [f64; INPUTS.len()],
}

impl Slopes {
    pub fn of(&self, input: Input) -> f64 {
        self.by[input as usize]
    }
}

impl Known {
    /// Checks everything that is there, so that the routes need not.
    pub(super) fn check(&self) -> Result<(), InputError> {
        let above_zero = |what, measured: Measured| positive(what, measured.checked(what)?.value).map(|_| ());
        above_zero("coated area", self.area_cm2)?;
        above_zero("density of the solvent", self.solvent_density)?;
        not_negative("amount of reducer", self.thinning.checked("amount of reducer")?.value)?;
        if let Some(solids) = self.volume_solids {
            share("solids by volume", solids.checked("solids by volume")?.value)?;
        }
        match self.dry_density {
            None => {}
            Some(DryDensity::Known(density)) => above_zero("density of the dry film", density)?,
            Some(DryDensity::Sheet { density, weight_solids } | DryDensity::Balance { density, weight_solids }) => {
                above_zero("density of the mix", density)?;
                share("solids by weight", weight_solids.checked("solids by weight")?.value)?;
            }
        }
        if let Some(wet) = &self.wet {
            positive("wet film", wet.readings.mean())?;
            not_negative("comb's own error", wet.bias_um)?;
        }
        for (what, mass) in [("wet weight", self.wet_mass_g), ("bare weight", self.bare_mass_g)] {
            if let Some(mass) = mass {
                mass.checked(what)?;
            }
        }
        if let Some(mass) = &self.final_mass_g {
            Measured::new(mass.mean(), mass.sd()).checked("final weight")?;
        }
        self.gauge_um.map_or(Ok(()), |gauge| above_zero("dry-film reading", gauge))
    }

    /// Standard uncertainty of each input, in its own unit; zero where it is not there.
    pub(super) fn uncertainties(&self) -> [f64; INPUTS.len()] {
        let u = |measured: Option<Measured>| measured.map_or(0.0, |m| m.u);
        let (known, density, weight_solids) = match self.dry_density {
            None => (None, None, None),
            Some(DryDensity::Known(known)) => (Some(known), None, None),
            Some(DryDensity::Sheet { density, weight_solids } | DryDensity::Balance { density, weight_solids }) => {
                (None, Some(density), Some(weight_solids))
            }
        };
        INPUTS.map(|input| match input {
            Input::CombReadings => self.wet.as_ref().map_or(0.0, |wet| wet.readings.sd()),
            Input::Comb => self.wet.as_ref().map_or(0.0, |wet| wet.bias_um),
            Input::WetMass => u(self.wet_mass_g),
            Input::FinalMass => self.final_mass_g.as_ref().map_or(0.0, Distribution::sd),
            Input::BareMass => u(self.bare_mass_g),
            Input::Area => self.area_cm2.u,
            Input::SolventDensity => self.solvent_density.u,
            Input::VolumeSolids => u(self.volume_solids),
            Input::Thinning => self.thinning.u,
            Input::DryDensity => u(known),
            Input::MixDensity => u(density),
            Input::WeightSolids => u(weight_solids),
            Input::Gauge => u(self.gauge_um),
        })
    }

    /// Means of the two inputs that are distributions: wet film in µm and final weight in g, where they are there.
    pub(super) fn means(&self) -> (f64, f64) {
        (
            self.wet.as_ref().map_or(0.0, |wet| wet.readings.mean()),
            self.final_mass_g.as_ref().map_or(0.0, Distribution::mean),
        )
    }

    /// Whether a route can only say "at least this much".
    pub(super) fn is_lower_bound(&self, route: Route) -> bool {
        route == Route::Sheet && self.sheet_is_lower_bound
    }

    /// As [`Known::route`], if it leaves any film.
    pub(super) fn film_by(&self, route: Route, film: f64, final_g: f64) -> Result<Slopes, RouteError> {
        let slopes = self.route(route, film, final_g)?;
        if slopes.value > 0.0 { Ok(slopes) } else { Err(RouteError::NoFilmLeft) }
    }

    /// Density of the dry film, g/cm³, as known, stated or derived.
    ///
    /// # Errors
    /// [`RouteError`] names what is missing, or the number that cannot be right.
    pub fn dry_density_g_per_ml(&self) -> Result<f64, RouteError> {
        Ok(answer(self.dry_density_slopes()?.0)?)
    }

    /// A route's value and slopes for one wet film (µm) and one final weight (g).
    pub(super) fn route(&self, route: Route, film: f64, final_g: f64) -> Result<Slopes, RouteError> {
        let mut by = [0.0; INPUTS.len()];
        let mut slope = |input: Input, value: f64| by[input as usize] = value;
        let need = |there: bool, input: Input| if there { Ok(()) } else { Err(RouteError::Missing(input)) };
        let area = self.area_cm2.value;
        let value = match route {
            Route::CombAndScale => {
                need(self.wet.is_some(), Input::CombReadings)?;
                need(self.final_mass_g.is_some(), Input::FinalMass)?;
                let wet_g = self.wet_mass_g.ok_or(RouteError::Missing(Input::WetMass))?.value;
                let density = self.solvent_density.value;
                let per_gram = UM / (density * area);
                let lost = per_gram * (wet_g - final_g);
                slope(Input::CombReadings, 1.0);
                slope(Input::Comb, 1.0);
                slope(Input::WetMass, -per_gram);
                slope(Input::FinalMass, per_gram);
                slope(Input::Area, lost / area);
                slope(Input::SolventDensity, lost / density);
                film - lost
            }
            Route::Sheet => {
                need(self.wet.is_some(), Input::CombReadings)?;
                let solids = self.volume_solids.ok_or(RouteError::Missing(Input::VolumeSolids))?.value;
                let thinned = 1.0 + self.thinning.value;
                slope(Input::CombReadings, solids / thinned);
                slope(Input::Comb, solids / thinned);
                slope(Input::VolumeSolids, film / thinned);
                slope(Input::Thinning, -film * solids / thinned.powi(2));
                film * solids / thinned
            }
            Route::ScaleAndDensity => {
                need(self.final_mass_g.is_some(), Input::FinalMass)?;
                let bare_g = self.bare_mass_g.ok_or(RouteError::Missing(Input::BareMass))?.value;
                let (density, of_density) = self.dry_density_slopes()?;
                let build = UM * (final_g - bare_g) / (density * area);
                for (input, by_input) in of_density {
                    slope(input, -build / density * by_input);
                }
                slope(Input::FinalMass, UM / (density * area));
                slope(Input::BareMass, -UM / (density * area));
                slope(Input::Area, -build / area);
                build
            }
            Route::Gauge => {
                slope(Input::Gauge, 1.0);
                self.gauge_um.ok_or(RouteError::Missing(Input::Gauge))?.value
            }
        };
        if by.iter().chain([&value]).any(|number| !number.is_finite()) {
            return Err(InputError::Extreme.into());
        }
        Ok(Slopes { value, by })
    }

    /// Dry density in g/cm³ and its slopes by what it is derived from.
    fn dry_density_slopes(&self) -> Result<(f64, Vec<(Input, f64)>), RouteError> {
        match self.dry_density.ok_or(RouteError::Missing(Input::DryDensity))? {
            DryDensity::Known(density) => Ok((density.value, vec![(Input::DryDensity, 1.0)])),
            DryDensity::Sheet { density, weight_solids } => {
                let solids = self.volume_solids.ok_or(RouteError::Missing(Input::VolumeSolids))?.value;
                let dry = density.value * weight_solids.value / solids;
                Ok((
                    dry,
                    vec![
                        (Input::MixDensity, dry / density.value),
                        (Input::WeightSolids, dry / weight_solids.value),
                        (Input::VolumeSolids, -dry / solids),
                    ],
                ))
            }
            DryDensity::Balance { density, weight_solids } => {
                let (rho, nv, rho_s) = (density.value, weight_solids.value, self.solvent_density.value);
                let nvv = share("solids by volume that follow from these densities", 1.0 - (1.0 - nv) * rho / rho_s)?;
                let dry = rho * nv / nvv;
                Ok((
                    dry,
                    vec![
                        (Input::MixDensity, nv / nvv + dry / nvv * (1.0 - nv) / rho_s),
                        (Input::WeightSolids, rho / nvv - dry / nvv * rho / rho_s),
                        (Input::SolventDensity, -dry / nvv * (1.0 - nv) * rho / rho_s.powi(2)),
                    ],
                ))
            }
        }
    }
}
