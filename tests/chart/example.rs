//! Made-up spray tests to draw. The curves are plain sums of two exponentials; nothing here is measured.

use comb_scale::chart::{FilmChart, FilmTrace, LossChart, Mark, TimeAxis, TimeFrame, Trace};

/// Grams lost by age `t` (h): a quick part and a slow one.
pub fn lost(whole: f64, t: f64) -> f64 {
    whole * (0.8 * (1.0 - (-t / 3.0).exp()) + 0.2 * (1.0 - (-t / 160.0).exp()))
}

/// A scatter that is the same on every machine, within ±1.
fn scatter(i: usize, j: usize) -> f64 {
    ((i * 37 + j * 101 + 13) % 64) as f64 / 32.0 - 1.0
}

pub const AGES: [f64; 13] = [0.0, 0.5, 1.0, 2.0, 4.0, 8.0, 24.0, 48.0, 72.0, 120.0, 168.0, 240.0, 312.0];

fn grid(from: f64, to: f64, n: usize) -> impl Iterator<Item = f64> {
    // Closer together early, where the curve bends.
    (0..=n).map(move |i| from + (to - from) * (i as f64 / n as f64).powi(2))
}

/// A panel: what it will lose in all (g), and which reading is hollow and off by how much.
pub fn panel(name: &str, candidate: &str, place: usize, whole: f64, slip: Option<(usize, f64)>) -> Trace {
    let u = 0.012 * whole;
    let mut trace = Trace::new(name, candidate, Mark::of(place));
    for (i, t) in AGES.into_iter().enumerate() {
        let off = slip.filter(|s| s.0 == i).map_or(0.0, |s| s.1);
        let y = if i == 0 { 0.0 } else { lost(whole, t) + 0.8 * u * scatter(i, place + name.len()) + off };
        trace = trace.reading(t, y, u, off != 0.0);
    }
    let last = AGES[AGES.len() - 1];
    trace
        .line(grid(0.0, 504.0, 120).map(|t| (t, lost(whole, t))))
        .fan(grid(0.0, 504.0 - last, 24).map(|s| {
            let (t, wide) = (last + s, whole * (0.006 + 0.00012 * s));
            (t, lost(whole, t) - wide, lost(whole, t) + 1.6 * wide)
        }))
        .level(0.965 * whole, whole, 1.07 * whole)
}

pub fn frame(axis: TimeAxis) -> TimeFrame {
    TimeFrame::new(axis).sanding(72.0, "sanded").now(312.0, "now").moved(24.0, "sun").moved(168.0, "shop")
}

/// One panel.
pub fn one(axis: TimeAxis) -> LossChart {
    LossChart::new("Lost, g", frame(axis)).panel(panel("A1", "Candidate A", 0, 24.6, Some((8, 2.4))))
}

/// Five candidates, one panel each.
pub fn five(axis: TimeAxis) -> LossChart {
    let names = ["Epoxy grey", "Two-pack filler", "Etch", "Wet on wet", "Old stock"];
    names.into_iter().enumerate().fold(LossChart::new("Lost, g/m²", frame(axis)), |chart, (i, name)| {
        chart.panel(panel(name, name, i, [246.0, 198.0, 171.0, 226.0, 205.0][i], None))
    })
}

/// Three candidates of three panels.
pub fn nine(axis: TimeAxis) -> LossChart {
    (0..9).fold(LossChart::new("Lost, % of wet coat", frame(axis)), |chart, i| {
        let (c, n) = (i / 3, i % 3 + 1);
        let letter = ["A", "B", "C"][c];
        let whole = [49.5, 41.0, 46.0][c] + 0.5 * n as f64;
        chart.panel(panel(&format!("{letter}{n}"), &format!("Candidate {letter}"), c, whole, None))
    })
}

/// Film of two candidates, with a flagged spot.
pub fn film(axis: TimeAxis) -> FilmChart {
    let film = |name: &str, place: usize, wet: f64, share: f64| {
        let path = move |t: f64| wet * (1.0 - lost(share, t));
        FilmTrace::new(name, name, Mark::of(place))
            .comb(0.94 * wet, wet, 1.06 * wet)
            .path(grid(0.0, 504.0, 120).map(|t| (t, path(t))))
            .fan(grid(0.0, 504.0, 60).map(|t| (t, 0.95 * path(t), 1.05 * path(t))))
            .spot(168.0, path(168.0) + 6.0, 2.0, place == 1)
            .spot(312.0, path(312.0) - 1.5, 2.0, false)
            .final_build(0.95 * path(504.0), path(504.0), 1.05 * path(504.0))
    };
    FilmChart::new("Film, µm", frame(axis)).film(film("A1", 0, 212.0, 0.47)).film(film("B1", 1, 196.0, 0.38))
}
