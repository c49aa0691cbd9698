//! A panel read on two balances: tied by the blank, or refused.

use crate::bank::{Hit, bounds, hit, table};
use crate::simulated::{CUTS_H, Simulated, bank, parallel};
use comb_scale::science::drying::{Balance, Forecast, NoForecast, Panel, Scale, Settings, Warning, Weighing, forecast};

/// A panel's record up to a cut with some readings, and the blank's of the same rounds, read on another balance.
struct Split {
    joined: Balance,
    readings: Vec<Weighing>,
}

/// `on_second` says which readings are read on a balance that shows `offset_g` more.
fn split(p: &Simulated, n: usize, offset_g: f64, on_second: impl Fn(usize) -> bool) -> Split {
    let moved = |all: &[Weighing]| -> Vec<Weighing> {
        let read = |(i, w): (usize, &Weighing)| {
            let balance = u32::from(on_second(i));
            Weighing { balance, gross_g: w.gross_g + f64::from(balance) * offset_g, ..*w }
        };
        all[..n].iter().enumerate().map(read).collect()
    };
    let blank = moved(&p.blank);
    let balance = |number| {
        let own: Vec<Weighing> = blank.iter().copied().filter(|w| w.balance == number).collect();
        (number, Balance::new(Scale::new(p.division_g), &own))
    };
    Split { joined: Balance::joined(&[balance(0), balance(1)]), readings: moved(&p.readings) }
}

fn forecast_split(p: &Simulated, cut_h: f64, split: &Split) -> Forecast {
    let cut = p.cut(cut_h);
    let panel = Panel { balance: &split.joined, weighings: &split.readings, ..cut.panel(false) };
    forecast(&panel, &Settings::shown()).unwrap()
}

fn singles() -> Vec<Simulated> {
    bank().into_iter().filter(|p| p.kind == "single").collect()
}

/// The later half of each panel's readings on a balance that shows 3.7 g more: coverage as on a single balance.
#[test]
fn the_later_half_on_another_balance() {
    let panels = singles();
    let run = |on_second: fn(usize, usize) -> bool| -> Vec<Vec<Hit>> {
        parallel(&panels, |p| {
            let of = |cut_h: f64| {
                let n = p.cut(cut_h).readings.len();
                hit(p, &forecast_split(p, cut_h, &split(p, n, 3.7, |i| on_second(i, n))))
            };
            CUTS_H.map(of).to_vec()
        })
    };
    let rows = table("later half on another balance", &run(|i, n| i >= n / 2));
    bounds(&rows, panels.len(), [100.0, 99.0, 98.0, 97.0, 95.0, 97.0]);
    let rows = table("two balances in turn", &run(|i, _| i % 2 == 1));
    bounds(&rows, panels.len(), [100.0, 99.0, 98.0, 97.0, 95.0, 97.0]);
}

/// The offset itself changes nothing, and what was taken off each reading holds it.
#[test]
fn the_offset_does_not_matter() {
    for p in singles().iter().take(10) {
        let at = |offset_g| forecast_split(p, 168.0, &split(p, p.cut(168.0).readings.len(), offset_g, |i| i >= 8));
        let (none, much) = (at(0.0), at(-41.3));
        assert!((none.final_gross_g.mean - much.final_gross_g.mean).abs() < 1e-6);
        assert!((none.final_gross_g.width() - much.final_gross_g.width()).abs() < 1e-6);
        for (i, (a, b)) in none.drift_g.iter().zip(&much.drift_g).enumerate() {
            let offset = if i < 8 { 0.0 } else { -41.3 };
            assert!((b - a - offset).abs() < 1e-9);
        }
    }
}

/// A panel read on one balance is forecast as if the other did not exist; the tie is never free.
#[test]
fn joining_costs_only_who_needs_it() {
    let p = &singles()[3];
    let cut = p.cut(168.0);
    let n = cut.readings.len();
    let alone = forecast(&cut.panel(false), &Settings::shown()).unwrap();
    let coarse = Balance::new(Scale::new(1.0), &[Weighing::new(0.0, 300.0)]);
    let joined = Balance::joined(&[(4, coarse), (0, cut.balance.clone())]);
    let beside = forecast(&Panel { balance: &joined, ..cut.panel(false) }, &Settings::shown()).unwrap();
    assert_eq!(alone.final_gross_g, beside.final_gross_g);
    assert_eq!(alone.steady_limit_g, beside.steady_limit_g);
    // The last reading alone on another balance hangs by single readings of the blank.
    let tied = forecast_split(p, 168.0, &split(p, n, 3.7, |i| i == n - 1));
    assert!(tied.noise.drift_sd_g > 2f64.sqrt() * 0.5 * alone.noise.reading_sd_g);
    assert!(tied.noise.drift_sd_g > alone.noise.drift_sd_g);
}

/// Limits are those of the coarser division that was used.
#[test]
fn the_coarser_division_counts() {
    let p = &singles()[3];
    let on = |balance, w: &Weighing| Weighing { balance, ..*w };
    let (fine, coarse) = (Balance::new(Scale::new(p.division_g), &p.blank), Balance::new(Scale::new(0.5), &p.blank));
    let joined = Balance::joined(&[(0, fine), (1, coarse)]);
    assert_eq!(joined.scale.division_g, 0.5);
    let cut = p.cut(504.0);
    let readings: Vec<Weighing> = cut.readings.iter().enumerate().map(|(i, w)| on(u32::from(i > 10), w)).collect();
    let f =
        forecast(&Panel { balance: &joined, weighings: &readings, ..cut.panel(false) }, &Settings::shown()).unwrap();
    assert!(f.steady_limit_g >= 1.0);
}

/// No tie, no forecast: the blank on one balance only, on none, or a balance nobody described.
#[test]
fn without_a_shared_blank() {
    let p = &singles()[0];
    let cut = p.cut(168.0);
    let mut readings = cut.readings.clone();
    readings[5].balance = 1;
    let with_blank = Balance::new(Scale::new(0.1), &p.blank);
    let without = Balance::new(Scale::new(0.1), &[]);
    let refused = |balance: &Balance, readings: &[Weighing]| {
        forecast(&Panel { balance, weighings: readings, ..cut.panel(false) }, &Settings::shown()).unwrap_err()
    };
    let both = |a: &Balance, b: &Balance| Balance::joined(&[(0, a.clone()), (1, b.clone())]);
    assert_eq!(refused(&with_blank, &readings), NoForecast::TwoBalances);
    assert_eq!(refused(&both(&with_blank, &without), &readings), NoForecast::TwoBalances);
    assert_eq!(refused(&both(&without, &with_blank), &readings), NoForecast::TwoBalances);
    assert_eq!(refused(&both(&without, &without), &readings), NoForecast::TwoBalances);
    readings[5].balance = 2;
    assert_eq!(refused(&both(&with_blank, &with_blank), &readings), NoForecast::TwoBalances);
    let bad = Balance::new(Scale::new(f64::NAN), &p.blank);
    readings[5].balance = 1;
    assert_eq!(refused(&both(&with_blank, &bad), &readings), NoForecast::BadScale);
    assert_eq!(refused(&Balance::joined(&[]), &readings), NoForecast::BadScale);
    // One balance without a blank is as good as ever, and says so.
    let joined = both(&without, &with_blank);
    let f = forecast(&Panel { balance: &joined, ..cut.panel(false) }, &Settings::shown()).unwrap();
    assert!(f.warnings.contains(&Warning::NoBlank));
}

/// Repeats of one round on two balances are two readings, not one mean.
#[test]
fn repeats_on_two_balances() {
    let p = &singles()[1];
    let n = p.cut(168.0).readings.len();
    let mut s = split(p, n, 3.7, |i| i >= 6);
    let newest = s.readings[n - 1];
    s.readings[n - 1].round = Some(1);
    s.readings.push(Weighing { balance: 0, gross_g: newest.gross_g - 3.7, round: Some(1), ..newest });
    let f = forecast_split(p, 168.0, &s);
    assert_eq!(
        f.kept,
        n + 1 - f.readings.iter().filter(|r| **r != comb_scale::science::drying::Standing::Kept).count()
    );
    assert!((f.drift_g[n - 1] - f.drift_g[n] - 3.7).abs() < 0.5);
}
