//! The fit of one panel, weighed by what is believed of its final mass.

use super::dated::{Curves, OF_MASS};
use super::fit::{Point, maximum};
use super::interval::Estimate;
use super::least_squares::{Factor, Rule, Stopped, factor};
use super::model::{Curve, WARM_PARAMETERS};
use super::outcome::NoForecast;
use super::panel::{Panel, Settings};
use super::plateau::{Grid, Reach, grid};
use super::prior::{Believed, Prior, StandIn};
use super::quantile::Weighted;
use super::readings::Readings;
use super::straight::{ends, unbent};

/// Least final mass where no bare weight is known, as a share of what is taken for the coat.
const LEAST_OF_GUESS: f64 = 0.05;
/// The grid ends this much under the floor, but not under the other, as shares of the wet coat.
const GRID_PAST_FLOOR: f64 = 0.02;
const LEAST_OF_GRID: f64 = 0.005;
/// The fit of one panel: its grid, which any belief about the final mass can weigh.
pub(super) struct Walked {
    pub grid: Grid,
    best: Curve,
    pub noise_ratio: f64,
    /// See [`Curves::precision`].
    precision: Option<Factor>,
    warm: bool,
    pub stopped: Stopped,
    pub steps: usize,
}

/// What a belief makes of a grid, in coat grams.
pub(super) struct Posterior {
    pub mesh: Vec<(f64, f64)>,
    /// Before widening.
    pub last: Estimate,
    pub sd: f64,
    pub rest: Weighted,
}

impl Walked {
    pub fn new<const P: usize>(
        r: &Readings,
        kept: &[Point],
        panel: &Panel,
        widest: &Believed,
        settings: &Settings,
    ) -> Self {
        let lost = (r.wet - kept[kept.len() - 1].y).max(r.scatter);
        // No bare weight: U = (L/0.33)/45, and a higher least share, as the coat itself is only a guess; but no panel ends
        // up lighter than nothing.
        let (stand_in, unit, least, least_g) = match r.loss {
            None => (StandIn { centre: 0.6 * r.wet, sd: 0.25 * r.wet }, r.wet / 45.0, panel.least_solids, 0.0),
            Some(loss) => {
                let stand_in = StandIn { centre: r.wet - 1.3 * loss, sd: 0.6 * loss };
                (stand_in, loss / 0.33 / 45.0, LEAST_OF_GUESS, -r.offset)
            }
        };
        let prior = Prior::new(stand_in, unit, lost, ends(kept, r.sigma_u()), unbent(kept, r.scatter));
        let rule = Rule { tolerance: settings.tolerance, most_steps: settings.most_steps };
        let best = maximum::<P>(kept, r.sigma_u(), &prior, &rule);
        let reach = Reach {
            end: (least - GRID_PAST_FLOOR).max(LEAST_OF_GRID) * r.wet,
            floor: (least * r.wet).max(least_g),
            widest,
        };
        let grid = grid(&best, &prior, &reach, settings);
        let mut precision = best.solution.normal.gauss_newton;
        precision.column_mut(0).fill(0.0);
        precision[(0, 0)] = 1.0;
        let precision = factor(precision.as_slice());
        Self {
            best: Curve::new(best.solution.at.as_slice(), prior.ends),
            noise_ratio: best.noise_ratio,
            precision,
            warm: P == WARM_PARAMETERS,
            stopped: best.solution.stopped,
            steps: best.steps + grid.steps,
            grid,
        }
    }

    pub fn weigh(&self, believed: &Believed) -> Result<Posterior, NoForecast> {
        let (grid, stopped) = (&self.grid, self.stopped);
        let mesh = grid.mesh(believed);
        let masses = Weighted::new(mesh.iter().copied());
        let (Some(x), Some(rest)) = (masses, grid.rest(believed)) else {
            return Err(NoForecast::NoPlateau { stopped });
        };
        let mass = |x: f64| grid.top - x.exp();
        let mean = x.mean(mass);
        let sd = x.mean(|x| (mass(x) - mean).powi(2)).sqrt();
        // Small x are high masses.
        let [low, high] = OF_MASS.map(|q| mass(x.quantile(1.0 - q)));
        let low = if grid.open_at_floor(&mesh) { grid.floor } else { low };
        let last = Estimate { mean, median: mass(x.quantile(0.5)), low, high };
        let finite = [last.mean, last.median, last.low, last.high, sd, rest.quantile(0.9), rest.mean(|r| r)];
        if finite.iter().any(|v| !v.is_finite()) {
            return Err(NoForecast::NoPlateau { stopped });
        }
        Ok(Posterior { mesh, last, sd, rest })
    }

    pub fn curves(&self, p: &Posterior, r: &Readings) -> Curves {
        let mut curves = Curves::new(&self.grid, &p.mesh, self.best.clone(), r.places.clone(), self.warm);
        curves.precision.clone_from(&self.precision);
        curves
    }
}
