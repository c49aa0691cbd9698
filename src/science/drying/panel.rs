//! What a forecast is made from: one panel's weigh-ins, its scale, its moves and what else is known of it.

use super::balance::Balance;
use super::outcome::Forecast;

/// A reading of the scale.
///
/// `t_h` is in hours on any one clock that the whole test shares (its zero does not matter); `gross_g` is panel and
/// coat together, g. The earliest is the wet weight; of several at one time one that is in no round, then the heaviest, since
/// paint only dries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weighing {
    /// Hours on the test's clock.
    pub t_h: f64,
    /// What the scale showed, g.
    pub gross_g: f64,
    /// Readings of one panel with the same round number are repeats of each other and count as their mean.
    pub round: Option<u32>,
    /// Which balance it was read on. Readings on two balances are not one curve unless the same blank was weighed on
    /// both: [`Balance::joined`].
    pub balance: u32,
    /// What the person says about it.
    pub say: Say,
}

impl Weighing {
    /// A single reading at `t_h` hours, g, on balance 0, about which the person has said nothing.
    ///
    /// ```
    /// use comb_scale_science::drying::{Say, Weighing};
    /// assert_eq!(Weighing::new(24.0, 431.7).say, Say::Nothing);
    /// ```
    #[must_use]
    pub const fn new(t_h: f64, gross_g: f64) -> Self {
        Self { t_h, gross_g, round: None, balance: 0, say: Say::Nothing }
    }
}

/// What the person says about a reading; it outranks the slip screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Say {
    /// Nothing: the slip screen judges.
    #[default]
    Nothing,
    /// Set aside by the person: left out, whatever it says.
    SetAside,
    /// Restored by the person: the screen never flags it.
    Keep,
}

/// The resolution of a balance and, if it was measured, its repeatability.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// Smallest step shown, g.
    pub division_g: f64,
    /// Measured repeatability; replaces the value assumed from the division.
    pub repeatability: Option<Repeatability>,
}

impl Scale {
    /// A scale of which only the division is known, g.
    ///
    /// ```
    /// use comb_scale_science::drying::Scale;
    /// assert_eq!(Scale::new(0.1).repeatability, None);
    /// ```
    #[must_use]
    pub const fn new(division_g: f64) -> Self {
        Self { division_g, repeatability: None }
    }
}

/// A measured repeatability: the sd of repeated readings of one thing and its degrees of freedom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Repeatability {
    /// Standard deviation of one reading, g.
    pub sd_g: f64,
    /// Degrees of freedom behind it (readings minus one).
    pub dof: f64,
}

/// The panel was carried to another place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// Hours on the test's clock.
    pub t_h: f64,
    /// The new place is warmer than the first one. `false`: back to the first place, or one about as cool.
    pub warmer: bool,
}

/// What turns lost grams into lost film: D = 10⁴ g / (area · solvent density), µm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmScale {
    /// Coated area, cm².
    pub area_cm2: f64,
    /// Its standard uncertainty, cm².
    pub u_area_cm2: f64,
    /// Density of the solvent that leaves, g/mL.
    pub solvent_density: f64,
    /// Its standard uncertainty, g/mL.
    pub u_solvent_density: f64,
}

impl FilmScale {
    /// µm of film a gram of lost solvent takes with it.
    ///
    /// ```
    /// use comb_scale_science::drying::FilmScale;
    /// let film = FilmScale { area_cm2: 1000.0, u_area_cm2: 5.0, solvent_density: 0.8, u_solvent_density: 0.02 };
    /// assert!((film.um_per_g() - 12.5).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn um_per_g(&self) -> f64 {
        1e4 / (self.area_cm2 * self.solvent_density)
    }

    /// Relative standard uncertainty of [`FilmScale::um_per_g`].
    ///
    /// ```
    /// use comb_scale_science::drying::FilmScale;
    /// let film = FilmScale { area_cm2: 1000.0, u_area_cm2: 30.0, solvent_density: 1.0, u_solvent_density: 0.04 };
    /// assert!((film.relative_u() - 0.05).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn relative_u(&self) -> f64 {
        (self.u_area_cm2 / self.area_cm2).hypot(self.u_solvent_density / self.solvent_density)
    }

    /// Area and density are such as panels and solvents have, give or take many powers of ten.
    pub(super) fn usable(&self) -> bool {
        let plausible = |v: f64| (1e-6..=1e9).contains(&v);
        plausible(self.area_cm2) && plausible(self.solvent_density) && self.relative_u() <= 10.0
    }
}

/// Does the coat take up oxygen or water while it loses solvent? A box the person ticks: it cannot be told from the
/// weights (a test on the data alone does not work).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum GainsMass {
    /// It only loses mass.
    #[default]
    No,
    /// It does: the upper limit of the final mass is raised by 1 % of the wet coat.
    Yes,
    /// Nobody knows: raised by 2 %.
    Unsure,
}

impl GainsMass {
    pub(super) const fn share(self) -> f64 {
        match self {
            Self::No => 0.0,
            Self::Yes => 0.01,
            Self::Unsure => 0.02,
        }
    }
}

/// An older panel of the same candidate, offered to inform a younger one.
#[derive(Debug, Clone, Copy)]
pub struct Older<'a> {
    /// How much earlier than this panel it was sprayed, h.
    pub by_h: f64,
    /// Its own forecast, made without help from others.
    pub forecast: &'a Forecast,
}

/// One panel, as the forecast sees it.
#[derive(Debug, Clone)]
pub struct Panel<'a> {
    /// The balance it is weighed on, with its blank; several, tied by one blank, from [`Balance::joined`].
    pub balance: &'a Balance,
    /// Mass of the bare panel, g; `None` when it was not weighed.
    pub bare_g: Option<f64>,
    /// Its readings from the wet weight on, in any order. The first kept one in time is the wet weight.
    pub weighings: &'a [Weighing],
    /// Moves of this panel, in any order.
    pub moves: &'a [Move],
    /// Coats under the wet weight.
    pub coats: u32,
    /// Solids by weight of the mix as sprayed, from its data sheet or a dish, a fraction of 1.
    pub sheet_solids: Option<f64>,
    /// Their standard deviation: [`SHEET_SD`], or [`dish_sd`].
    pub solids_sd: f64,
    /// Least solids by weight that any coat is believed to have, a fraction of 1; see [`LEAST_SOLIDS`].
    pub least_solids: f64,
    /// Area and solvent density, where they are known.
    pub film: Option<FilmScale>,
    /// Coat mass at the wet weight by comb and density, g, for panels whose bare mass is not known.
    pub estimated_coat_g: Option<f64>,
    /// Whether the coat takes up oxygen or water.
    pub gains_mass: GainsMass,
    /// How sure a "steady" is to be.
    pub certainty: Certainty,
    /// Older panels of the same candidate.
    pub older: &'a [Older<'a>],
    /// A "steady" that was already given, from an earlier forecast or [`super::steady::first_steady`]; once yes it
    /// stays yes until a reading contradicts it or the panel moves somewhere warmer.
    pub steady_before: Option<SteadyBefore>,
}

/// Least solids by weight of a sprayed coat, unless the person says otherwise: a wash primer has under a tenth.
pub const LEAST_SOLIDS: f64 = 0.015;

/// Standard deviation of a data sheet's solids by weight, as a share of 1. A sheet states them for another batch and another
/// oven; one that is 0.04 off still gives intervals that hold.
pub const SHEET_SD: f64 = 0.045;

/// Standard deviation of solids by weight from a dish of the mixed paint, `u` from its weighings, as shares of 1. The rest is
/// what a dish in an oven and a coat on a panel keep differently.
///
/// ```
/// use comb_scale_science::drying::dish_sd;
/// assert!((dish_sd(0.01) - 0.018).abs() < 1e-4);
/// ```
#[must_use]
pub fn dish_sd(u: f64) -> f64 {
    const OTHER_PLACE: f64 = 0.015;
    u.hypot(OTHER_PLACE)
}

/// How sure a "steady" is to be that no more than the limit is left.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Certainty {
    /// 95 %.
    Cautious,
    /// 90 %.
    #[default]
    Usual,
    /// 80 %.
    Quick,
}

impl Certainty {
    /// The least probability, a share of 1.
    ///
    /// ```
    /// use comb_scale_science::drying::Certainty;
    /// assert_eq!(Certainty::default().least(), 0.9);
    /// ```
    #[must_use]
    pub const fn least(self) -> f64 {
        match self {
            Self::Cautious => 0.95,
            Self::Usual => 0.90,
            Self::Quick => 0.80,
        }
    }

    /// What it costs, measured with one weighing a round on 1040 simulated panels: the public banks' 300 carried into the warm, 60
    /// that never moved, 100 thin and 60 that end suddenly, and as many fresh ones of each kind (`evidence::all` in
    /// `tests/science/drying`, which holds these figures to what it measures).
    ///
    /// ```
    /// use comb_scale_science::drying::Certainty;
    /// let (cautious, quick) = (Certainty::Cautious.calls(), Certainty::Quick.calls());
    /// assert!(cautious.of_dry < quick.of_dry && cautious.falsely < quick.falsely);
    /// ```
    #[must_use]
    pub const fn calls(self) -> Calls {
        match self {
            Self::Cautious => Calls { of_dry: 0.67, falsely: 0.003 },
            Self::Usual => Calls { of_dry: 0.76, falsely: 0.008 },
            Self::Quick => Calls { of_dry: 0.85, falsely: 0.035 },
        }
    }
}

/// How often "steady" is called at a certainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Calls {
    /// Of the panels that were dry by three weeks, the share of 1 that was called by then.
    pub of_dry: f64,
    /// Of all panels, the share of 1 that was called while more than the limit was still to come.
    pub falsely: f64,
}

impl<'a> Panel<'a> {
    /// A one-coat panel of which only the weights are known.
    ///
    /// ```
    /// use comb_scale_science::drying::{Balance, Panel, Scale, Weighing};
    /// let balance = Balance::new(Scale::new(0.1), &[]);
    /// let readings = [Weighing::new(0.0, 438.6)];
    /// // What else is known goes on top.
    /// let panel = Panel { coats: 2, ..Panel::new(&balance, Some(400.0), &readings) };
    /// assert_eq!(panel.sheet_solids, None);
    /// ```
    #[must_use]
    pub fn new(balance: &'a Balance, bare_g: Option<f64>, weighings: &'a [Weighing]) -> Self {
        Self {
            balance,
            bare_g,
            weighings,
            moves: &[],
            coats: 1,
            sheet_solids: None,
            solids_sd: SHEET_SD,
            least_solids: LEAST_SOLIDS,
            film: None,
            estimated_coat_g: None,
            gains_mass: GainsMass::No,
            certainty: Certainty::Usual,
            older: &[],
            steady_before: None,
        }
    }
}

/// A "steady" given earlier, and what would contradict it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SteadyBefore {
    /// When it was given: the time of the newest reading then, h on the test's clock.
    pub t_h: f64,
    /// Gross mass on the fitted curve then, drift removed, g.
    pub gross_g: f64,
    /// The limit then, g.
    pub limit_g: f64,
}

/// How finely the posterior is worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// Points of the plateau grid.
    pub points: usize,
    /// The maximum is left when the predicted gain in cost is under this.
    pub tolerance: f64,
    /// The same for the points of the grid.
    pub grid_tolerance: f64,
    /// A direction of the grid is left when the log weight is this far below its best.
    pub cut: f64,
    /// Most steps to the maximum.
    pub most_steps: usize,
    /// Most steps at a point of the grid.
    pub most_grid_steps: usize,
}

impl Settings {
    /// What is shown and printed.
    ///
    /// ```
    /// use comb_scale_science::drying::Settings;
    /// assert_eq!(Settings::shown().points, 16);
    /// ```
    #[must_use]
    pub const fn shown() -> Self {
        Self { points: 16, tolerance: 0.02, grid_tolerance: 0.02, cut: 12.0, most_steps: 60, most_grid_steps: 20 }
    }

    /// The judgement given the moment a number is entered.
    ///
    /// ```
    /// use comb_scale_science::drying::Settings;
    /// assert!(Settings::instant().points < Settings::shown().points);
    /// ```
    #[must_use]
    pub const fn instant() -> Self {
        Self { points: 12, tolerance: 0.1, grid_tolerance: 0.2, cut: 8.0, most_steps: 60, most_grid_steps: 20 }
    }

    /// Fully converged: for checks, some ten times slower than [`Settings::shown`].
    ///
    /// ```
    /// use comb_scale_science::drying::Settings;
    /// assert!(Settings::converged().tolerance < Settings::shown().tolerance);
    /// ```
    #[must_use]
    pub const fn converged() -> Self {
        Self { points: 48, tolerance: 1e-8, grid_tolerance: 1e-8, cut: 20.0, most_steps: 400, most_grid_steps: 400 }
    }
}
