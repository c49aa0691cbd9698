//! What a forecast answers, each part with its reason as data.

use super::balance::Drifts;
use super::dated::Curves;
use super::drift::{Doubt, Jump};
use super::interval::Estimate;
use super::least_squares::Stopped;
use super::outlook::Judged;
use super::pool::{OlderUse, Trace};
use super::unchanged::Level;

/// Why no forecast can be made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoForecast {
    /// No weigh-in is kept.
    NoWeighing,
    /// Fewer kept readings than anything can be said from.
    FewReadings {
        /// Kept.
        kept: usize,
        /// Least.
        needed: usize,
    },
    /// The division is not a positive number.
    BadScale,
    /// The kept readings are from two balances, and no blank that was weighed on both ties them
    /// ([`Balance::joined`](super::Balance::joined)).
    TwoBalances,
    /// The panel is not heavier than it was bare.
    NoCoat {
        /// First kept gross mass less bare mass, g.
        coat_g: f64,
    },
    /// All kept readings are equal: nothing was lost that this scale could see.
    AllEqual,
    /// The mass did not fall by more than the scatter: there is no drying curve in it.
    NothingLost {
        /// Wet weight less the least kept reading, g.
        lost_g: f64,
        /// Scatter of a reading, g.
        scatter_g: f64,
    },
    /// Masses or times so large or small that they can not be meant (a mass over 10⁷ divisions, ages over 10⁶ h).
    NotPlausible,
    /// Least solids or sheet solids are not fractions between 0 and 1.
    BadSolids,
    /// No final mass above the floor agrees with the readings.
    NoPlateau {
        /// Why the solver stopped.
        stopped: Stopped,
    },
}

/// What became of one weigh-in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Standing {
    /// In the fit.
    Kept,
    /// Set aside by the person.
    SetAside,
    /// Not a finite number.
    NotFinite,
    /// Left out by the slip screen; shown, and restorable by the person.
    Slip {
        /// Reading less what the others say, g.
        off_by_g: f64,
        /// The panel should be weighed again: it is the newest reading, 8 h old or more. Under 8 h the screen is often
        /// wrong, so it marks and asks for nothing.
        ask: bool,
    },
    /// Left out because nobody can tell what the scale showed then; back once the blank does.
    InDoubt(Doubt),
}

/// How the readings scatter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Noise {
    /// sₙ: scatter of a single reading, g.
    pub reading_sd_g: f64,
    /// s₀ = hypot(sₙ, 0.001 y₀): with the model's own floor, before the noise check, g.
    pub model_sd_g: f64,
    /// s_dr: scale drift between the first and the newest reading, g.
    pub drift_sd_g: f64,
    /// s²: how many times the residuals' variance exceeds what was expected, before the refit.
    pub ratio: f64,
}

/// What the coat's own mass rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CoatMass {
    /// The bare panel was weighed: g at the wet weight.
    Weighed(f64),
    /// Estimated by comb and density: g at the wet weight.
    Estimated(f64),
    /// Not available: no bare weight, and no comb-and-density estimate.
    NotAvailable,
}

/// What the belief about the final mass rests on besides the readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Belief {
    /// Any coat: 67 % solids by weight, give or take 12.
    AnyCoat,
    /// Stated or measured solids: a data sheet's or a dish's.
    Sheet,
    /// Older panels of the same candidate.
    Older,
    /// No bare weight: from the loss so far.
    LossSoFar,
}

/// Is the weight steady, in the place where the panel is?
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Verdict {
    /// Yes.
    Yes(Since),
    /// Not yet.
    NotYet(NotYet),
    /// Too early to say: show the range, not the point.
    TooEarly(TooEarly),
}

/// What a yes rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Since {
    /// The readings as they are now.
    Now,
    /// An earlier yes that no reading since has contradicted; time on the test's clock, h.
    Earlier(f64),
}

/// Why it is not called steady.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NotYet {
    /// This scale cannot see the rest: one division exceeds 3 µm of film, or where the area is not known, two divisions
    /// exceed 5 % of the predicted loss. Never a yes.
    ScaleCannotSee {
        /// The coarsest division that could, g.
        division_g: f64,
        /// Or how many times as large a panel.
        panel_times: f64,
    },
    /// More may be left than the limit.
    StillToLose,
    /// The last three kept readings are not level.
    NotLevel {
        /// Largest less smallest, g.
        span_g: f64,
    },
    /// A thin coat, or one of unknown solids, that has not been level for long enough beside its age: thin coats can go on
    /// losing for weeks, slower and slower.
    LevelTooBriefly,
    /// The newest reading was flagged: weigh again.
    NewestFlagged,
}

/// Why it is too early.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TooEarly {
    /// Fewer kept readings than the method trusts.
    FewReadings {
        /// Kept.
        kept: usize,
        /// Least.
        needed: usize,
    },
    /// The interval is over a quarter of the predicted loss.
    WideInterval {
        /// Width, g.
        width_g: f64,
        /// A quarter of the predicted loss, g.
        most_g: f64,
    },
}

/// What the person should know beside the numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Warning {
    /// The mass moves for other reasons than drying: damp, handling (s² over 2.5 at 14 d or later).
    Wanders {
        /// s².
        ratio: f64,
    },
    /// The mass rises beyond the scatter; the fit can only fall, so the rise is not in it.
    Rises {
        /// Mean of the newest two readings less the lowest mean of two before, g.
        by_g: f64,
    },
    /// One division exceeds 3 µm of film, or where the area is not known, two exceed 5 % of the predicted loss.
    ScaleTooCoarse,
    /// Sheet and scale disagree: the final mass by the stated solids and the median by the weights alone lie over two
    /// combined sd apart.
    SheetConflict {
        /// By the stated solids less by the weights, g.
        apart_g: f64,
        /// Combined sd, g.
        sd_g: f64,
    },
    /// The sheet's solids cannot be used without a bare weight.
    SheetNeedsBareWeight,
    /// The panel was moved to a warmer place and no reading more than an hour after it is kept yet.
    MoveNotSeenYet,
    /// The blank was never weighed: drift is assumed, not measured.
    NoBlank,
    /// The scale jumped since the wet weight, and that is taken off.
    Jumped(Jump),
    /// The first weighing of the blank is off all later ones, and skipped as a slip; if it was a jump, it is not taken off.
    FirstBlankOff {
        /// First less the others, g.
        by_g: f64,
    },
    /// Area or solvent density are not usable; what needs them is left out.
    BadFilmScale,
    /// The solver did not reach its tolerance.
    NotConverged(Stopped),
}

/// What is still to lose, g.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rest {
    /// Mean and 95 % interval; its limits are widened by drift and by what the fitted mass of today leaves open.
    pub estimate: Estimate,
    /// 90 % quantile of the posterior itself.
    pub q90: f64,
}

/// What stated solids (a data sheet's or a dish's) did to a forecast, from one fit: the weights alone, and with them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Narrowed {
    /// Final gross mass by the weights alone, g: what leaving the sheet out would show.
    pub from: Estimate,
    /// With the stated solids, g.
    pub to: Estimate,
    /// Final mass by the stated solids alone less the median by the weights alone, g.
    pub apart_g: f64,
    /// The same in their combined sd: over 2 either way they contradict each other ([`Warning::SheetConflict`]).
    pub apart_sds: f64,
}

/// One panel's forecast. "Final" means 90 days on, wherever the panel then is.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    /// What became of each weigh-in, in the caller's order.
    pub readings: Vec<Standing>,
    /// What was taken off each weigh-in, g, in the caller's order: the scale's drift since the wet weight, and where it
    /// was read on another balance, how much more that one shows.
    pub drift_g: Vec<f64>,
    /// Kept readings (repeats of a round count once).
    pub kept: usize,
    /// The wet weight's time on the test's clock, h.
    pub wet_t_h: f64,
    /// Age of the newest kept reading, h since the wet weight.
    pub newest_age_h: f64,
    /// Gross mass at the wet weight, g.
    pub wet_gross_g: f64,
    /// The coat's mass at the wet weight.
    pub coat: CoatMass,
    /// Scatter.
    pub noise: Noise,
    /// Lost so far: wet weight less newest kept reading, drift removed, g.
    pub lost_g: f64,
    /// Final gross mass in the scale's frame at the wet weight, g.
    pub final_gross_g: Estimate,
    /// Final mass of the coat, g; `None` exactly when [`CoatMass::NotAvailable`].
    pub final_coat_g: Option<Estimate>,
    /// Still to lose, g.
    pub still_to_lose_g: Rest,
    /// Predicted loss from the wet weight to the end, g.
    pub predicted_loss_g: f64,
    /// Is the weight steady?
    pub verdict: Verdict,
    /// The most that may be left of a steady weight, g: max(2 d, 1 % of the predicted loss), and where the film scale is known, never over 3 µm.
    pub steady_limit_g: f64,
    /// The plain fact beside it: for how long the scale has seen no change.
    pub level: Level,
    /// Probability that no more than that limit is still to lose: what the verdict looks at.
    pub steady_probability: f64,
    /// The same in µm of film; `None` when the panel's [`super::FilmScale`] is not known (or not usable:
    /// [`Warning::BadFilmScale`]).
    pub steady_limit_um: Option<f64>,
    /// What the belief about the final mass rested on.
    pub belief: Belief,
    /// What stated solids did; `Some` exactly when they took part.
    pub narrowed: Option<Narrowed>,
    /// What was done with each older panel, in the caller's order.
    pub older: Vec<OlderUse>,
    /// Why the fit stopped.
    pub stopped: Stopped,
    /// Solver steps in all.
    pub steps: usize,
    /// Least final mass that was allowed (the floor), gross g.
    pub floor_gross_g: f64,
    /// What else to say.
    pub warnings: Vec<Warning>,
    pub(super) drifts: Drifts,
    pub(super) wet_balance: u32,
    pub(super) curves: Curves,
    pub(super) trace: Trace,
    pub(super) judged: Judged,
}

impl Forecast {
    /// Is it too early to show more than the range?
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// assert!(answer.too_early(), "the interval is over a quarter of the predicted loss");
    /// ```
    #[must_use]
    pub fn too_early(&self) -> bool {
        matches!(self.verdict, Verdict::TooEarly(_))
    }

    /// Is the weight steady?
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// assert!(!answer.steady());
    /// ```
    #[must_use]
    pub fn steady(&self) -> bool {
        matches!(self.verdict, Verdict::Yes(_))
    }
}
