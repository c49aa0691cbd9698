//! From lost grams to lost film.

use super::interval::Estimate;
use super::outcome::Forecast;
use super::panel::FilmScale;

/// Why film cannot be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoFilm {
    /// Area and solvent density are not positive finite numbers.
    BadFilmScale,
}

impl Forecast {
    /// Shrinkage still to come after `t_h` (test's clock, h; the day of sanding), µm: 10⁴ (m(t_s) − c₀) / (A ρ_s), as a
    /// distribution over the plateau grid (not the difference of two intervals), widened by u(A) and u(ρ_s). For a day
    /// to come, m(t_s) is itself a forecast under unchanged conditions.
    ///
    /// # Errors
    /// When the film scale is not usable.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// use comb_scale_science::drying::FilmScale;
    /// let film = FilmScale { area_cm2: 1000.0, u_area_cm2: 5.0, solvent_density: 0.87, u_solvent_density: 0.02 };
    /// let rest = answer.shrinkage_to_come(48.0, &film).unwrap();
    /// assert!((rest.median - 10.0 / 0.87 * answer.still_to_lose_at(48.0).median).abs() < 1e-9);
    /// ```
    pub fn shrinkage_to_come(&self, t_h: f64, film: &FilmScale) -> Result<Estimate, NoFilm> {
        if !film.usable() {
            return Err(NoFilm::BadFilmScale);
        }
        let rest = self.still_to_lose_at(t_h).map(|g| g * film.um_per_g());
        let wider = rest.widened(rest.median * film.relative_u());
        Ok(Estimate { low: wider.low.max(0.0), ..wider })
    }
}
