//! The final dry film build of one panel by every route, with what the routes share counted once.
//!
//! | route | formula, µm |
//! |---|---|
//! | comb and scale | `W − 10⁴(m_w − m_f)/(ρ_s A)` |
//! | data sheet | `W·VS/(1 + th)` |
//! | scale and dry density | `10⁴(m_f − m₀)/(ρ_dry A)` |
//! | gauge | as read |
//!
//! Uncertainties are first order (GUM, JCGM 100:2008, eqs (10), (13)) in all inputs but the wet film and the final weight,
//! whose posteriors are carried whole on a fixed grid.

mod agree;
mod given;
mod inputs;

pub use agree::Cause;
pub use given::{DryDensity, Wet};
pub use inputs::{Input, Known, Route, RouteError, SOLVENT_DENSITY};

use super::distribution::Distribution;
use super::estimate::{Estimate, Measured};
use super::input::{InputError, answer, positive};
use super::mixture::{Bell, Mixture};
use inputs::{INPUTS, ROUTES, Slopes};
use serde::Serialize;

/// What an input brings to an uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Contribution {
    /// The input.
    pub input: Input,
    /// Slope times standard uncertainty, µm, with its sign: the same input's errors cancel where signs are alike and
    /// results are subtracted.
    pub um: f64,
    /// Its share of the variance.
    pub share: f64,
}

/// The final build with all that is needed to compare it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Build {
    /// The build with its 95 % interval, µm.
    pub build_um: Estimate,
    /// Mean of its distribution, µm.
    pub mean_um: f64,
    /// Standard uncertainty, µm.
    pub u_um: f64,
    /// What each input brings, the largest first.
    pub contributions: Vec<Contribution>,
    /// What the final weight's whole distribution brings, µm about zero: the contribution of [`Input::FinalMass`] with its
    /// skew.
    pub by_final_mass: Distribution,
}

/// One route's answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RouteBuild {
    /// Which route.
    pub route: Route,
    /// Its build, or why it gives none.
    pub build: Result<Build, RouteError>,
    /// The route can only say "at least this much".
    pub lower_bound: bool,
    /// `E_n = (M − D)/(2√(u² + u_M²))` against the gauge, where there is one; beyond ±1 the route failed.
    pub against_gauge: Option<f64>,
}

/// Whether the routes tell one story.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub enum Agreement {
    /// Fewer than two routes: nothing to hold against each other.
    Untested,
    /// χ² of the predicted routes below its 95 % point, and the gauge, if it was read, within |E_n| ≤ 1 of them combined.
    /// The χ² told takes in the gauge.
    Agree {
        /// χ² of the routes.
        chi2: f64,
        /// Its degrees of freedom.
        degrees: usize,
    },
    /// Beyond chance, with the inputs that may be the cause, likeliest first.
    Disagree {
        /// χ² of the routes.
        chi2: f64,
        /// Its degrees of freedom.
        degrees: usize,
        /// Inputs that would explain it, likeliest first.
        causes: Vec<Cause>,
    },
}

/// Why there is no combined answer.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum NoAnswer {
    /// No route gives a build.
    NoRoute,
    /// The routes differ by more than chance, and no gauge decides.
    Disagree,
    /// An input cannot be worked with.
    Input(InputError),
}

/// The final build of one panel.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FinalBuild {
    /// What each route gives.
    pub routes: Vec<RouteBuild>,
    /// Whether they tell one story.
    pub agreement: Agreement,
    /// The routes combined; the gauge alone where they disagree and it was read.
    pub answer: Result<Build, NoAnswer>,
    /// Weight of each route in the answer. One below zero is no mistake: a comb error shared by two routes is measured by
    /// their difference.
    pub weights: Vec<(Route, f64)>,
    /// The sheet route is a lower bound, and the answer lies below it by more than chance (one-sided 5 %).
    pub below_sheet_bound: bool,
}

/// The final build by every route, tested and combined by generalised least squares (GUM covariance).
///
/// ```
/// use comb_scale_science::routes::{Agreement, DryDensity, Known, Wet, final_build};
/// use comb_scale_science::{Measured, Distribution};
/// let panel = Known {
///     wet: Some(Wet { readings: Measured::new(162.5, 7.2).into(), bias_um: 4.0 }),
///     wet_mass_g: Some(Measured::new(582.31, 0.03)),
///     final_mass_g: Some(Distribution::from(Measured::new(575.42, 0.03))),
///     bare_mass_g: Some(Measured::new(561.84, 0.03)),
///     area_cm2: Measured::new(900.0, 4.0),
///     solvent_density: Measured::new(0.87, 0.02),
///     volume_solids: Some(Measured::new(0.45, 0.02)),
///     thinning: Measured::exact(0.0),
///     dry_density: Some(DryDensity::Known(Measured::new(2.05, 0.06))),
///     gauge_um: None,
///     sheet_is_lower_bound: false,
/// };
/// let build = final_build(&panel);
/// assert!(matches!(build.agreement, Agreement::Agree { degrees: 2, .. }));
/// assert!((build.answer.unwrap().mean_um - 73.5).abs() < 0.1);
/// ```
pub fn final_build(known: &Known) -> FinalBuild {
    if let Err(error) = known.check() {
        let refused = |route| RouteBuild { route, build: Err(error.into()), lower_bound: false, against_gauge: None };
        return FinalBuild {
            routes: ROUTES.map(refused).into(),
            agreement: Agreement::Untested,
            answer: Err(NoAnswer::Input(error)),
            weights: vec![],
            below_sheet_bound: false,
        };
    }
    let u = known.uncertainties();
    let (film, final_g) = known.means();
    let mut routes = Vec::new();
    let mut usable: Vec<(Route, Slopes)> = Vec::new();
    let mut bound = None;
    for route in ROUTES {
        let lower_bound = known.is_lower_bound(route);
        let slopes = known.film_by(route, film, final_g);
        let build = slopes
            .as_ref()
            .map_err(|error| *error)
            .and_then(|slopes| Ok(build_of(known, &[(route, slopes, 1.0)], &u)?));
        let against_gauge = match (&build, known.gauge_um) {
            (Ok(build), Some(gauge)) if route != Route::Gauge => {
                normalised_error(gauge, Measured::new(build.mean_um, build.u_um)).ok()
            }
            _ => None,
        };
        if let (Ok(slopes), Ok(_)) = (slopes, &build) {
            if lower_bound {
                bound = Some(slopes);
            } else {
                usable.push((route, slopes));
            }
        }
        routes.push(RouteBuild { route, build, lower_bound, against_gauge });
    }
    let (agreement, weights) = judge(&usable, &u);
    let parts = weighed(&usable, &weights);
    let answer = answerable(&agreement, &parts).and_then(|()| build_of(known, &parts, &u).map_err(NoAnswer::Input));
    let below_sheet_bound = bound.is_some_and(|bound| {
        let minus = parts.iter().map(|part| (part.0, part.1, -part.2));
        let gap: Vec<(Route, &Slopes, f64)> = minus.chain([(Route::Sheet, &bound, 1.0)]).collect();
        let (mean, total) = (mean_of(&gap), variance_of(&gap, &u));
        !parts.is_empty() && mean > 1.645 * total.sqrt()
    });
    FinalBuild { routes, agreement, answer, weights, below_sheet_bound }
}

/// The answer of [`final_build`] to first order alone, its interval that of a normal error: a fraction of the work.
pub(super) fn first_order(known: &Known) -> Result<Build, NoAnswer> {
    known.check().map_err(NoAnswer::Input)?;
    let u = known.uncertainties();
    let (film, final_g) = known.means();
    let routes = ROUTES.into_iter().filter(|route| !known.is_lower_bound(*route));
    let usable: Vec<(Route, Slopes)> =
        routes.filter_map(|route| Some((route, known.film_by(route, film, final_g).ok()?))).collect();
    let (agreement, weights) = judge(&usable, &u);
    let parts = weighed(&usable, &weights);
    answerable(&agreement, &parts)?;
    errors_of(known, &parts, &u).map_err(NoAnswer::Input)
}

fn weighed<'a>(usable: &'a [(Route, Slopes)], weights: &[(Route, f64)]) -> Vec<(Route, &'a Slopes, f64)> {
    let find = |route: &Route| usable.iter().find(|one| one.0 == *route);
    weights.iter().filter_map(|(route, weight)| find(route).map(|one| (*route, &one.1, *weight))).collect()
}

fn answerable(agreement: &Agreement, parts: &[(Route, &Slopes, f64)]) -> Result<(), NoAnswer> {
    match agreement {
        _ if !parts.is_empty() => Ok(()),
        Agreement::Disagree { .. } => Err(NoAnswer::Disagree),
        _ => Err(NoAnswer::NoRoute),
    }
}

/// `E_n = (M − D)/(2√(u² + u_M²))`, coverage factor 2: a measured film against a predicted one, both in µm.
///
/// ```
/// use comb_scale_science::{Measured, routes::normalised_error};
/// let e_n = normalised_error(Measured::new(76.0, 1.5), Measured::new(73.49795, 1.976514))?;
/// assert!((e_n - 0.50419).abs() < 1e-4);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn normalised_error(measured: Measured, predicted: Measured) -> Result<f64, InputError> {
    measured.checked("measured film")?;
    predicted.checked("predicted film")?;
    let u = positive("uncertainty of the films", measured.u.hypot(predicted.u))?;
    answer((measured.value - predicted.value) / (2.0 * u))
}

/// Dry film over wet film before reducer, `M(1 + th)/W`: a ratio to plan with, never "verified volume solids" (ASTM D4414,
/// 4.2).
///
/// ```
/// use comb_scale_science::{Measured, routes::dry_per_wet};
/// let ratio = dry_per_wet(Measured::new(76.0, 1.5), Measured::new(162.5, 7.216878), Measured::exact(0.0))?;
/// assert!((ratio.value - 0.4676923).abs() < 1e-6 && (ratio.u - 0.0227297).abs() < 1e-6);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn dry_per_wet(dry_um: Measured, wet_um: Measured, thinning: Measured) -> Result<Measured, InputError> {
    positive("dry film", dry_um.checked("dry film")?.value)?;
    positive("wet film", wet_um.checked("wet film")?.value)?;
    let thinned = 1.0 + super::input::not_negative("amount of reducer", thinning.checked("amount of reducer")?.value)?;
    let value = dry_um.value * thinned / wet_um.value;
    Measured::answer(value, value * dry_um.relative().hypot(wet_um.relative()).hypot(thinning.u / thinned))
}

/// Tests the routes and weighs them. Without agreement only the gauge, if it was read, keeps a weight.
fn judge(usable: &[(Route, Slopes)], u: &[f64]) -> (Agreement, Vec<(Route, f64)>) {
    let gauge = usable.iter().find(|one| one.0 == Route::Gauge);
    let predicted: Vec<&(Route, Slopes)> = usable.iter().filter(|one| one.0 != Route::Gauge).collect();
    let alone = |one: &(Route, Slopes)| vec![(one.0, 1.0)];
    let slopes: Vec<&Slopes> = predicted.iter().map(|one| &one.1).collect();
    let combined = if predicted.is_empty() { None } else { agree::combine(&slopes, u) };
    let Some(combined) = combined else {
        // No independent information in the routes (exact inputs): the sharpest one stands for all.
        let spread = |one: &&(Route, Slopes)| variance_of(&[(one.0, &one.1, 1.0)], u);
        let best = usable.iter().min_by(|a, b| spread(a).total_cmp(&spread(b)));
        return (Agreement::Untested, best.map_or(vec![], alone));
    };
    let gauge_u = u[Input::Gauge as usize];
    let gauge_off = gauge.map_or(0.0, |one| {
        let predicted = Measured::new(combined.mean_um, combined.u_um);
        // Without any uncertainty there is nothing to hold a difference against.
        normalised_error(Measured::new(one.1.value, gauge_u), predicted).unwrap_or(0.0)
    });
    let beyond_chance = predicted.len() > 1 && combined.chi2 >= agree::chi2_limit(predicted.len() - 1);
    // What is told, and the search for a cause, take in the gauge as well.
    let all: Vec<&Slopes> = usable.iter().map(|one| &one.1).collect();
    let degrees = all.len() - 1;
    let every = agree::combine(&all, u);
    let chi2 = every.as_ref().map_or(combined.chi2, |every| every.chi2);
    if beyond_chance || gauge_off.abs() > 1.0 {
        let causes = every.map_or(vec![], |every| agree::causes(&every, &all, u));
        return (Agreement::Disagree { chi2, degrees, causes }, gauge.map_or(vec![], alone));
    }
    let to_gauge = gauge.map_or(0.0, |_| combined.u_um.powi(2) / (combined.u_um.powi(2) + gauge_u.powi(2)));
    let shares = predicted.iter().zip(&combined.weights).map(|(one, weight)| (one.0, weight * (1.0 - to_gauge)));
    let weights = shares.chain(gauge.map(|one| (one.0, to_gauge))).collect();
    let agreement = if degrees == 0 { Agreement::Untested } else { Agreement::Agree { chi2, degrees } };
    (agreement, weights)
}

fn mean_of(parts: &[(Route, &Slopes, f64)]) -> f64 {
    parts.iter().map(|(_, slopes, weight)| weight * slopes.value).sum()
}

fn slope_of(parts: &[(Route, &Slopes, f64)], input: Input) -> f64 {
    parts.iter().map(|(_, slopes, weight)| weight * slopes.of(input)).sum()
}

fn variance_of(parts: &[(Route, &Slopes, f64)], u: &[f64]) -> f64 {
    INPUTS.iter().map(|&input| (slope_of(parts, input) * u[input as usize]).powi(2)).sum()
}

/// A weighted sum of routes with its uncertainty: moments to first order, the interval with the posteriors of wet film and
/// final weight carried whole.
fn build_of(known: &Known, parts: &[(Route, &Slopes, f64)], u: &[f64]) -> Result<Build, InputError> {
    let build = errors_of(known, parts, u)?;
    let build_um = interval(known, parts, u, build.mean_um)?;
    Ok(Build { build_um, ..build })
}

/// A weighted sum of routes and what each input brings to it, to first order.
fn errors_of(known: &Known, parts: &[(Route, &Slopes, f64)], u: &[f64]) -> Result<Build, InputError> {
    let (mean_um, variance) = (mean_of(parts), variance_of(parts, u));
    Measured::answer(mean_um, variance)?;
    let mut contributions: Vec<Contribution> = INPUTS
        .iter()
        .map(|&input| (input, slope_of(parts, input) * u[input as usize]))
        .filter(|(_, um)| *um != 0.0)
        .map(|(input, um)| Contribution { input, um, share: um * um / variance })
        .collect();
    order::sort_by(&mut contributions, |a, b| b.share.total_cmp(&a.share));
    let by_final_mass = match &known.final_mass_g {
        Some(final_g) => final_g.error(slope_of(parts, Input::FinalMass))?,
        None => Measured::exact(0.0).into(),
    };
    let u_um = variance.sqrt();
    Ok(Build { build_um: Estimate::normal(mean_um, u_um), mean_um, u_um, contributions, by_final_mass })
}

/// 95 % interval on a fixed grid: every pair of a wet film and a final weight from their posteriors, each with the normal
/// error that all other inputs make there.
fn interval(known: &Known, parts: &[(Route, &Slopes, f64)], u: &[f64], mean: f64) -> Result<Estimate, InputError> {
    const FILMS: usize = 16;
    const WEIGHTS: usize = 24;
    let none = Distribution::from(Measured::exact(0.0));
    let films = known.wet.as_ref().map_or(&none, |wet| &wet.readings).bells(FILMS);
    let finals = known.final_mass_g.as_ref().unwrap_or(&none).bells(WEIGHTS);
    let (film_mean, _) = known.means();
    let mut bells = Vec::with_capacity(films.len() * finals.len());
    for Bell { at: final_g, weight: final_weight, scale: final_sd } in finals {
        let here: Vec<(Route, Slopes, f64)> = parts
            .iter()
            .filter_map(|&(route, _, weight)| Some((route, known.route(route, film_mean, final_g).ok()?, weight)))
            .collect();
        let here: Vec<(Route, &Slopes, f64)> = here.iter().map(|(route, slopes, w)| (*route, slopes, *w)).collect();
        let others = |input: &Input| match input {
            Input::CombReadings => 0.0,
            Input::FinalMass => final_sd,
            other => u[*other as usize],
        };
        let variance: f64 = INPUTS.iter().map(|input| (slope_of(&here, *input) * others(input)).powi(2)).sum();
        // Every route is linear in the wet film.
        let (at_mean, by_film) = (mean_of(&here), slope_of(&here, Input::CombReadings));
        bells.extend(films.iter().map(|film| Bell {
            at: at_mean + by_film * (film.at - film_mean),
            weight: final_weight * film.weight,
            scale: variance.sqrt().hypot(by_film * film.scale),
        }));
    }
    let whole = Mixture::normal(bells);
    let (low, high) = (whole.quantile(0.025)?, whole.quantile(0.975)?);
    // A film cannot be less than none.
    Ok(Estimate { low: low.max(0.0).min(mean), mid: mean, high: high.max(mean) })
}
