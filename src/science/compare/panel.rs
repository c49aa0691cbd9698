//! One panel's value, its errors kept apart by whom they are shared with.

use crate::distribution::Distribution;
use crate::estimate::Measured;
use crate::input::{InputError, answer, finite, positive};
use crate::routes::{Build, Input};
use serde::Serialize;

/// An error shared by several panels, with what one standard uncertainty of it does to the value, sign included.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Shared {
    /// Where it comes from: one comb, one gauge, one density. Like names cancel in a difference.
    pub source: String,
    /// What one standard uncertainty of it adds to the value, in the unit of the value.
    pub by: f64,
}

/// One panel's value of whatever is compared, in any unit.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PanelValue {
    /// The value, in any unit.
    pub value: f64,
    /// Standard uncertainty from measuring this panel alone.
    pub own_u: f64,
    /// Error of the forecast, about zero, in the unit of the value and with its skew: panels of one candidate share it.
    pub forecast: Distribution,
    /// What it shares with other panels.
    pub shared: Vec<Shared>,
}

impl PanelValue {
    /// A value with nothing but an error of its own, as standard uncertainty.
    ///
    /// ```
    /// use comb_scale_science::compare::PanelValue;
    /// assert_eq!(PanelValue::new(74.1, 1.5).forecast.sd(), 0.0);
    /// ```
    pub fn new(value: f64, own_u: f64) -> Self {
        Self { value, own_u, forecast: Measured::exact(0.0).into(), shared: vec![] }
    }

    /// A final build for comparison. `source` names where an input's error comes from if other panels share it (the comb's
    /// name, the candidate's for its densities and solids), and `None` if it is this panel's own; the final weight is the
    /// forecast.
    ///
    /// ```
    /// use comb_scale_science::{Estimate, Measured, compare::PanelValue, routes::{Build, Contribution, Input}};
    /// let of = |input, um| Contribution { input, um, share: 0.0 };
    /// let build = Build {
    ///     build_um: Estimate::normal(80.0, 13.0),
    ///     mean_um: 80.0,
    ///     u_um: 13.0,
    ///     contributions: vec![of(Input::CombReadings, 12.0), of(Input::Comb, 4.0), of(Input::FinalMass, 3.0)],
    ///     by_final_mass: Measured::new(0.0, 3.0).into(),
    /// };
    /// let value = PanelValue::of_build(&build, |input| (input == Input::Comb).then(|| "comb 1".into()));
    /// assert_eq!((value.own_u, value.forecast.sd(), value.shared[0].by), (12.0, 3.0, 4.0));
    /// ```
    pub fn of_build(build: &Build, source: impl Fn(Input) -> Option<String>) -> Self {
        let mut value = Self::new(build.mean_um, 0.0);
        value.forecast = build.by_final_mass.clone();
        for one in &build.contributions {
            match (one.input, source(one.input)) {
                (Input::FinalMass, _) => {}
                (_, Some(source)) => value.shared.push(Shared { source, by: one.um }),
                (_, None) => value.own_u = value.own_u.hypot(one.um).min(f64::MAX),
            }
        }
        value
    }

    /// A loss times `factor`, divided by measured values above zero, each with the name of its error if other panels share
    /// it: film lost (10⁴ over solvent density and area), share of the coat, g/m². First order.
    ///
    /// ```
    /// use comb_scale_science::{Measured, compare::{Loss, PanelValue}};
    /// let density = (Measured::new(0.87, 0.03), Some("solvent of A".to_string()));
    /// let area = (Measured::new(900.0, 9.0), None);
    /// let film = PanelValue::of_loss(Loss::Weighed(Measured::new(6.9, 0.07)), 1e4, &[density, area])?;
    /// assert!((film.value - 88.12).abs() < 0.01 && film.forecast.sd() == 0.0 && film.shared.len() == 1);
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn of_loss(loss: Loss, factor: f64, by: &[(Measured, Option<String>)]) -> Result<Self, InputError> {
        let (lost, own) = match loss {
            Loss::Weighed(lost) => (lost.checked("loss")?.value, lost.u),
            Loss::Forecast(lost) => (answer(lost.mean())?, 0.0),
        };
        let mut scale = finite("factor", factor)?;
        for (divisor, _) in by {
            scale = answer(scale / positive("divisor", divisor.checked("divisor")?.value)?)?;
        }
        let value = answer(lost * scale)?;
        let mut panel = Self::new(value, answer((own * scale).abs())?);
        if let Loss::Forecast(lost) = loss {
            panel.forecast = lost.error(scale)?;
        }
        for (divisor, source) in by {
            let by = answer(-value * divisor.relative())?;
            match source {
                Some(source) => panel.shared.push(Shared { source: source.clone(), by }),
                None => panel.own_u = answer(panel.own_u.hypot(by))?,
            }
        }
        Ok(panel)
    }

    /// What stays where this is the share that goes: `1 − value`.
    ///
    /// ```
    /// use comb_scale_science::{Measured, compare::{Loss, PanelValue}};
    /// let gone = PanelValue::of_loss(Loss::Weighed(Measured::new(6.0, 0.1)), 1.0, &[(Measured::exact(20.0), None)])?;
    /// assert!((gone.kept()?.value - 0.7).abs() < 1e-12);
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn kept(mut self) -> Result<Self, InputError> {
        self.value = answer(1.0 - self.value)?;
        self.forecast = self.forecast.error(-1.0)?;
        self.shared.iter_mut().for_each(|error| error.by = -error.by);
        Ok(self)
    }
}

/// Grams that left: weighed, an error of the panel's own, or forecast, an error that its candidate's panels share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Loss<'a> {
    /// Weighed, g.
    Weighed(Measured),
    /// Forecast, g: the distribution of what will have left.
    Forecast(&'a Distribution),
}
