//! Two panels swapped in a round: each was read as the other.
//!
//! Looked for before the slip screen (which would take both readings for slips), suggested, never done silently.

use super::between::predicted;
use super::outcome::NoForecast;
use super::panel::Panel;
use super::readings::{Readings, read};

/// Gain in log likelihood (twice) from which a swap is suggested.
const SUGGESTED: f64 = 6.0;

/// A panel's reading in the round that is looked at.
#[derive(Debug, Clone, Copy)]
pub struct InRound<'a> {
    /// The panel with all its readings.
    pub panel: &'a Panel<'a>,
    /// Index of the round's reading in [`Panel::weighings`]; any of them where the round has repeats.
    pub weighing: usize,
}

/// A suggested swap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swap {
    /// Index of one panel in the round.
    pub one: usize,
    /// Index of the other, greater than `one`.
    pub other: usize,
    /// ρ(own) + ρ(own) − ρ(crossed) − ρ(crossed); suggested over 6.
    pub gain: f64,
}

/// Looks for pairs of panels that were read as each other in one round. Each panel is predicted from its own other
/// readings: in the newest round by its last value + 0.7 min(0, last slope in √t · Δ√t) with sd hypot(0.12 u, 0.5 |step|),
/// with a later reading by interpolation in √t with sd hypot(0.12 u, 0.2 |step|), step being the change between the two
/// neighbours. With ρ(z) = 5 ln(1 + z²/4) a swap is suggested when ρ(own) + ρ(own) − ρ(crossed) − ρ(crossed) > 6. A panel
/// appears in one suggestion at most, the strongest; panels with fewer than two earlier readings (or none before and
/// after) can not be judged and appear in none. Strongest first.
///
/// ```
/// use comb_scale_science::drying::{Balance, InRound, Panel, Scale, Weighing, swaps};
/// let balance = Balance::new(Scale::new(0.1), &[]);
/// let weighed = |grams: [f64; 5]| {
///     let ages = [0.0, 1.0, 4.0, 8.0, 24.0];
///     [0, 1, 2, 3, 4].map(|i| Weighing::new(ages[i], grams[i]))
/// };
/// // The last two readings are exchanged.
/// let (a, b) = (weighed([438.6, 437.2, 435.5, 434.2, 441.8]), weighed([448.4, 447.1, 445.3, 444.1, 431.7]));
/// let (a, b) = (Panel::new(&balance, Some(400.0), &a), Panel::new(&balance, Some(410.0), &b));
/// let found = swaps(&[InRound { panel: &a, weighing: 4 }, InRound { panel: &b, weighing: 4 }]);
/// assert_eq!((found[0].one, found[0].other), (0, 1));
/// ```
#[must_use]
pub fn swaps(round: &[InRound]) -> Vec<Swap> {
    let predicted: Vec<Option<Predicted>> = round.iter().map(|r| Predicted::new(r).ok().flatten()).collect();
    let mut pairs = Vec::new();
    for (one, a) in predicted.iter().enumerate() {
        for (other, b) in predicted.iter().enumerate().skip(one + 1) {
            if let (Some(a), Some(b)) = (a, b) {
                let gain = a.surprise(a.gross) + b.surprise(b.gross) - a.surprise(b.gross) - b.surprise(a.gross);
                if gain > SUGGESTED {
                    pairs.push(Swap { one, other, gain });
                }
            }
        }
    }
    order::sort_by(&mut pairs, |p, q| q.gain.total_cmp(&p.gain).then(p.one.cmp(&q.one)).then(p.other.cmp(&q.other)));
    let mut taken = vec![false; round.len()];
    pairs.retain(|p| {
        let free = !taken[p.one] && !taken[p.other];
        if free {
            taken[p.one] = true;
            taken[p.other] = true;
        }
        free
    });
    pairs
}

/// What a panel's gross reading in the round should have been.
struct Predicted {
    gross: f64,
    expected: f64,
    sd: f64,
}

impl Predicted {
    fn new(at: &InRound) -> Result<Option<Self>, NoForecast> {
        let r = read(at.panel)?;
        let Some(i) = r.readings.iter().position(|reading| reading.from.contains(&at.weighing)) else {
            return Ok(None);
        };
        Ok(Self::of(&r, i))
    }

    fn of(r: &Readings, i: usize) -> Option<Self> {
        let at = |k: usize| (r.points[k].t_h.max(0.0).sqrt(), r.points[k].y);
        let last = i.checked_sub(1)?;
        let next = (i + 1 < r.points.len()).then(|| at(i + 1));
        let (expected, sd) = predicted(last.checked_sub(1).map(at), at(last), next, at(i).0, r.u())?;
        let y = |k: usize| r.points[k].y;
        // Back to the gross reading at that time: drift added again.
        let gross = r.readings[i].gross;
        Some(Self { gross, expected: expected + gross - y(i), sd })
    }

    /// ρ(z) = 5 ln(1 + z²/4), the Student-t(4) cost.
    fn surprise(&self, gross: f64) -> f64 {
        let z = (gross - self.expected) / self.sd;
        5.0 * (z * z / 4.0).ln_1p()
    }
}
