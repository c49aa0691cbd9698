//! From lost grams to lost film.

use super::outcome::{Estimate, Forecast};
use super::panel::FilmScale;

/// Why film cannot be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoFilm {
    /// Area and solvent density are not positive finite numbers.
    BadFilmScale,
}

impl Forecast {
    /// Film still to go after `t_h` (test's clock, h; the day of sanding), µm: 10⁴ (m(t_s) − c₀) / (A ρ_s), as a
    /// distribution over the plateau grid (not the difference of two intervals), widened by u(A) and u(ρ_s). For a day
    /// to come, m(t_s) is itself a forecast under unchanged conditions.
    ///
    /// # Errors
    /// When the film scale is not usable.
    pub fn film_still_to_go(&self, t_h: f64, film: &FilmScale) -> Result<Estimate, NoFilm> {
        if !film.usable() {
            return Err(NoFilm::BadFilmScale);
        }
        let rest = self.still_to_lose_at(t_h).map(|g| g * film.um_per_g());
        let wider = rest.widened(rest.median * film.relative_u());
        Ok(Estimate { low: wider.low.max(0.0), ..wider })
    }
}
