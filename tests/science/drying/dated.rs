//! Dated forecasts, film after a day, time until, the next weigh-in and panels without a bare weight, on the bank.

use crate::simulated::{Simulated, bank, parallel, quantile};
use comb_scale::science::drying::{CoatMass, FilmScale, Forecast, Panel, Settings, forecast};
use statrs::distribution::{Binomial, DiscreteCDF};

fn shown(panel: &Panel) -> Forecast {
    forecast(panel, &Settings::shown()).unwrap()
}

fn kind(kind: &str) -> Vec<Simulated> {
    bank().into_iter().filter(|p| p.kind == kind).collect()
}

/// Fewer than this of `n` is beyond chance (0.5 %) for intervals that hold in `share` of cases.
fn least(share: f64, n: usize) -> usize {
    Binomial::new(share, n as u64).unwrap().inverse_cdf(0.005) as usize
}

/// From each cut to a later day of the noiseless course. Panels that never move: conditions stay unchanged.
const AHEAD: [(f64, u32); 5] = [(24.0, 96), (48.0, 168), (96.0, 240), (168.0, 336), (336.0, 720)];

/// What is truly left at a day, g; a coat that has by then regained something has nothing left.
fn left(p: &Simulated, day_h: u32) -> f64 {
    (p.coat_g_at_h[&day_h] - p.final_coat_g).max(0.0)
}

#[test]
fn dated_intervals_hold() {
    let stay = kind("stay");
    for (cut, day) in AHEAD {
        let hits = parallel(&stay, |p| {
            let f = shown(&p.cut(cut).panel(false));
            let day_h = f64::from(day);
            let film = FilmScale {
                area_cm2: p.area_cm2,
                u_area_cm2: 0.01 * p.area_cm2,
                solvent_density: p.solvent_density,
                u_solvent_density: 0.02,
            };
            let (mass, um) = (f.at(day_h), f.shrinkage_to_come(day_h, &film).unwrap());
            let until = f.hours_until(left(p, day));
            let (coat, to_go) = (p.coat_g_at_h[&day] + p.bare_g, left(p, day) * film.um_per_g());
            let ahead = day_h - f.newest_age_h;
            let by_then = left(p, day) <= 0.0 || (until.low - 0.5..=until.high + 0.5).contains(&ahead);
            (
                (mass.low..=mass.high).contains(&coat),
                (um.low..=um.high).contains(&to_go),
                by_then,
                mass.width(),
                um.high,
            )
        });
        let n = hits.len();
        let count = |of: fn(&(bool, bool, bool, f64, f64)) -> bool| hits.iter().filter(|h| of(h)).count();
        let (mass, film, until) = (count(|h| h.0), count(|h| h.1), count(|h| h.2));
        let width = quantile(hits.iter().map(|h| h.3).collect(), 0.5);
        let um = quantile(hits.iter().map(|h| h.4).collect(), 0.5);
        println!(
            "from {cut} h to {day} h: of {n} covered mass {mass} ({width:.2} g wide), film to go {film} (up to {um:.0} µm), \
             time until {until}"
        );
        for covered in [mass, film, until] {
            assert!(covered >= least(0.95, n), "{covered} of {n}");
        }
    }
}

/// The next reading: expected shares against what one more reading really did. Conditions must stay unchanged, so the
/// reading comes before the move.
#[test]
fn next_weigh_in_is_foretold() {
    let panels: Vec<Simulated> = kind("single").into_iter().take(120).collect();
    for (cut, waits) in [(24.0, [24.0, 48.0, 72.0]), (48.0, [24.0, 48.0, 72.0])] {
        let shares = parallel(&panels, |p| {
            let n = p.cut(cut).readings.len();
            let now = shown(&p.first(n).panel(false));
            let foretold = now.next_weigh_in(waits.map(|w| cut + w));
            let whole = p.first(p.readings.len());
            let mut pairs = Vec::new();
            for (k, gain) in foretold.iter().enumerate() {
                // The bank's readings are daily with gaps.
                if let Some(next) = p.readings.iter().find(|w| (w.t_h - gain.t_h).abs() < 6.0) {
                    let weighings = [&whole.readings[..n], &[*next]].concat();
                    let then = shown(&Panel { weighings: &weighings, ..whole.panel(false) });
                    pairs.push((k, gain.share, then.final_gross_g.width() / now.final_gross_g.width()));
                }
            }
            pairs
        });
        let median = |k: usize, of: fn(&(usize, f64, f64)) -> f64| {
            quantile(shares.iter().flatten().filter(|s| s.0 == k).map(of).collect(), 0.5)
        };
        let mut before = 1.0;
        for (k, wait) in waits.into_iter().enumerate() {
            let (foretold, real) = (median(k, |s| s.1), median(k, |s| s.2));
            println!(
                "a reading {wait} h after {cut} h: interval to {foretold:.2} of its width foretold, {real:.2} found"
            );
            assert!((foretold - real).abs() < 0.1);
            assert!(foretold < before, "the later, the more it tells");
            before = foretold;
        }
    }
}

/// No bare weight: good from 2 d on; at 1 d the method's evidence says 81 %.
#[test]
fn no_bare_weight() {
    let panels = kind("single");
    for (cut, stated) in [(24.0, 0.81), (48.0, 0.95), (96.0, 0.95), (168.0, 0.95), (336.0, 0.95), (504.0, 0.95)] {
        let hits = parallel(&panels, |p| {
            let c = p.cut(cut);
            let f = shown(&Panel { bare_g: None, ..c.panel(false) });
            assert_eq!((f.coat, f.final_coat_g), (CoatMass::NotAvailable, None));
            let truth = p.bare_g + p.final_coat_g;
            ((f.final_gross_g.low..=f.final_gross_g.high).contains(&truth), f.final_gross_g.width())
        });
        let covered = hits.iter().filter(|h| h.0).count();
        let width = quantile(hits.iter().map(|h| h.1).collect(), 0.5);
        println!("no bare weight, {cut} h: {covered} of {} covered, {width:.2} g wide", hits.len());
        assert!(covered >= least(stated, hits.len()));
    }
}

/// The coat by comb and density, where there is no bare weight: marked, and moved along with the loss.
#[test]
fn estimated_coat() {
    let p = &kind("single")[0];
    let c = p.cut(336.0);
    let f = shown(&Panel { bare_g: None, estimated_coat_g: Some(38.0), ..c.panel(false) });
    assert_eq!(f.coat, CoatMass::Estimated(38.0));
    let (coat, gross) = (f.final_coat_g.unwrap(), f.final_gross_g);
    assert!((38.0 - coat.mean - (f.wet_gross_g - gross.mean)).abs() < 1e-9);
}
