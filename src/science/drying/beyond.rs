//! Where a forecast stands outside what its method was tried on.

use super::outcome::Forecast;

/// Solids by weight of the coats that the method was tried on, shares of 1 (the banks' thin coats begin at 0.08, their
/// high-build ones end at 0.85).
pub const SOLIDS_TRIED: [f64; 2] = [0.08, 0.85];
/// The longest gap between two weighings in the banks, h: a week.
pub const GAP_TRIED_H: f64 = 171.0;
/// The age of the banks' last weighings, h: three weeks.
pub const AGE_TRIED_H: f64 = 506.0;
/// Moves of a panel in the banks.
pub const MOVES_TRIED: usize = 1;
/// Coats of a panel in the simulations (`tests/science/drying/coats.rs`).
pub const COATS_TRIED: u32 = 4;

/// One thing about a panel that the method was not tried on. The forecast may still hold; nobody has measured how often.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Beyond {
    /// The coat's solids by weight, as the forecast has them, lie outside [`SOLIDS_TRIED`].
    Solids(f64),
    /// Moves after the wet weight, over [`MOVES_TRIED`].
    Moves(usize),
    /// The longest gap between weighings, h, over [`GAP_TRIED_H`].
    Gap(f64),
    /// Coats under the wet weight, over [`COATS_TRIED`].
    Coats(u32),
    /// Age of the newest weighing, h, over [`AGE_TRIED_H`].
    Age(f64),
}

impl Forecast {
    /// All that is outside the evidence.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let mut weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// use comb_scale_science::drying::Beyond;
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// assert_eq!(answer.beyond_evidence(), []);
    /// weighings[6].t_h = 400.0;
    /// let late = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// assert_eq!(late.beyond_evidence(), [Beyond::Gap(376.0)]);
    /// ```
    #[must_use]
    pub fn beyond_evidence(&self) -> Vec<Beyond> {
        let judged = &self.judged;
        let solids = judged.weighed.then(|| (judged.wet - self.predicted_loss_g) / judged.wet);
        let gap = judged.points.windows(2).map(|two| two[1].t_h - two[0].t_h).fold(0.0, f64::max);
        let tried = SOLIDS_TRIED[0]..=SOLIDS_TRIED[1];
        [
            solids.filter(|solids| !tried.contains(solids)).map(Beyond::Solids),
            Some(judged.moves).filter(|moves| *moves > MOVES_TRIED).map(Beyond::Moves),
            Some(gap).filter(|gap| *gap > GAP_TRIED_H).map(Beyond::Gap),
            Some(judged.coats).filter(|coats| *coats > COATS_TRIED).map(Beyond::Coats),
            Some(self.newest_age_h).filter(|age| *age > AGE_TRIED_H).map(Beyond::Age),
        ]
        .into_iter()
        .flatten()
        .collect()
    }
}
