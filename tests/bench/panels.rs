//! Panels for the benchmarks, shared by the native one and the WASM one: a coat that loses in two stages, weighed daily,
//! moved on day 6.

use comb_scale::science::drying::{Balance, Move, Panel, Scale, Weighing};

/// A panel's record with its balance.
pub struct Record {
    pub balance: Balance,
    pub readings: Vec<Weighing>,
    pub moves: Vec<Move>,
    pub bare_g: f64,
}

impl Record {
    /// `n` readings over three weeks (or all before the move on day 6); `variant` makes panels differ.
    pub fn new(n: usize, moved: bool, variant: usize) -> Self {
        let first = [0.0, 0.5, 1.0, 2.0, 4.0, 8.0];
        let last: f64 = if moved { 504.0 } else { 144.0 };
        let later = n.saturating_sub(first.len());
        let ages = first.into_iter().take(n).chain((1..=later).map(|i| 8.0 + (last - 8.0) * i as f64 / later as f64));
        let bare_g = 500.0 + variant as f64;
        let loss = |t: f64| {
            let tau = if moved && t > 144.0 { 144.0 + 6.0 * (t - 144.0) } else { t };
            5.0 * (-t / 2.0).exp() + 4.0 * (-tau / 30.0).exp() + 2.0 * (-tau / 400.0).exp()
        };
        // Scatter without a generator: the golden-ratio sequence.
        let scatter = |i: usize| 0.25 * ((0.618_033_988_75 * (i + 7 * variant + 1) as f64).fract() - 0.5);
        let round = |g: f64| (g * 10.0).round() / 10.0;
        let readings: Vec<Weighing> =
            ages.enumerate().map(|(i, t)| Weighing::new(t, round(bare_g + 27.0 + loss(t) + scatter(i)))).collect();
        let blank: Vec<Weighing> = readings
            .iter()
            .enumerate()
            .map(|(i, w)| Weighing::new(w.t_h, round(800.0 + 0.6 * scatter(i + 3) + 0.0002 * w.t_h)))
            .collect();
        Self {
            balance: Balance::new(Scale::new(0.1), &blank),
            readings,
            moves: vec![Move { t_h: 144.0, warmer: true }],
            bare_g,
        }
    }

    /// Makes every fifth reading a slip: what the slip screen costs at its worst.
    pub fn slip_every_fifth(&mut self) {
        self.readings.iter_mut().skip(4).step_by(5).enumerate().for_each(|(i, w)| w.gross_g += 1.5 + 0.1 * i as f64);
    }

    pub fn panel(&self) -> Panel<'_> {
        Panel { moves: &self.moves, ..Panel::new(&self.balance, Some(self.bare_g), &self.readings) }
    }
}
