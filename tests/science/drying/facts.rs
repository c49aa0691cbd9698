//! The plain facts beside a forecast: for how long the scale has seen no change, what the blank leaves open, what the sheet
//! did, what is outside the evidence, and that nothing absurd is told.

use crate::evidence::{Stated, told as told_of};
use crate::fresh::{Kind, panels};
use crate::random::Random;
use crate::simulated::{CUTS_H, bank, parallel};
use comb_scale::science::drying::{
    AGE_TRIED_H, Balance, Beyond, FilmScale, Forecast, GAP_TRIED_H, Move, Panel, SOLIDS_TRIED, Scale, Settings,
    Warning, Weighing, forecast,
};

const D: f64 = 0.1;

/// A panel that dries to 430 g over some days, read with the scatter of its scale.
fn readings(ages_h: &[f64], chance: &mut Random) -> Vec<Weighing> {
    let mass = |t: f64| 430.0 + 6.0 * (-t / 6.0).exp() + 2.0 * (-t / 40.0).exp();
    ages_h.iter().map(|&t| Weighing::new(t, ((mass(t) + 0.08 * chance.normal()) / D).round() * D)).collect()
}

fn told(weighings: &[Weighing], blank: &[Weighing]) -> Forecast {
    forecast(&Panel::new(&Balance::new(Scale::new(D), blank), Some(400.0), weighings), &Settings::shown()).unwrap()
}

/// A mass that stands still is level for nearly all of the time, one that falls by more than the scale scatters is not; and
/// between them the level run begins about where the fall ends.
#[test]
fn level_as_long_as_the_scale_sees_no_change() {
    let days = |from: usize, to: usize| (from..=to).map(|d| 24.0 * d as f64);
    let mut chance = Random(5);
    let (mut whole, mut falling) = (0, 0);
    for _ in 0..40 {
        // Done after a day; then 13 days of nothing.
        let course = |t: f64| 430.0 + 8.0 * (-t / 3.0).exp();
        let ages: Vec<f64> = [0.0, 1.0, 4.0, 8.0].into_iter().chain(days(1, 14)).collect();
        let at = |t: f64, chance: &mut Random| ((course(t) + 0.08 * chance.normal()) / D).round() * D;
        let still: Vec<Weighing> = ages.iter().map(|&t| Weighing::new(t, at(t, &mut chance))).collect();
        let level = told(&still, &[]).level;
        assert!(level.hours <= 13.0 * 24.0 && level.readings <= 14, "{level:?}");
        whole += usize::from(level.hours >= 10.0 * 24.0);
        // The same, still losing 0.1 g a day.
        let losing: Vec<Weighing> =
            still.iter().map(|w| Weighing::new(w.t_h, w.gross_g - (w.t_h / 240.0 / D).round() * D)).collect();
        falling += usize::from(told(&losing, &[]).level.hours <= 5.0 * 24.0);
    }
    println!(
        "still for 13 d: level for 10 d or more {whole} of 40; losing 0.1 g a day: for 5 d or less {falling} of 40"
    );
    assert!(whole >= 34 && falling >= 36, "{whole} {falling}");
    let two = told(&readings(&[0.0, 1.0, 4.0, 8.0, 24.0], &mut chance), &[]).level;
    assert_eq!((two.hours, two.readings), (0.0, 1), "nothing is level that fell by grams");
}

/// The blank's part of what is open of the newest weight: none of it where the panel scatters alone, and three weighings of the
/// blank never leave more than one.
#[test]
fn what_the_blank_leaves_open() {
    let ages: Vec<f64> = [0.0, 1.0, 4.0, 8.0].into_iter().chain((1..=10).map(|d| 24.0 * f64::from(d))).collect();
    let mut chance = Random(9);
    let weighings = readings(&ages, &mut chance);
    let blank: Vec<Weighing> = ages.iter().map(|&t| Weighing::new(t, 800.0)).collect();
    let f = told(&weighings, &blank).newest_weight();
    assert!((0.05..0.6).contains(&f.blank_share) && f.blank_thrice_sd_g < f.sd_g, "{f:?}");
    assert!((f.sd_g.powi(2) * (1.0 - f.blank_share)).sqrt() > 0.05, "{f:?}");
    // A panel weighed three times in the round leaves more of the doubt to the blank.
    let thrice: Vec<Weighing> =
        weighings.iter().enumerate().flat_map(|(i, w)| [Weighing { round: Some(i as u32), ..*w }; 3]).collect();
    let g = told(&thrice, &blank).newest_weight();
    assert!(g.blank_share > 1.4 * f.blank_share && g.sd_g < f.sd_g, "{f:?} {g:?}");
    // Without a blank the drift is assumed, and weighing none three times does not help.
    let none = told(&weighings, &[]).newest_weight();
    assert!(none.blank_share > f.blank_share && none.blank_thrice_sd_g == none.sd_g, "{none:?}");
}

/// From one fit: what the sheet narrowed and how far it lies off is what two forecasts say, with it and without.
#[test]
fn the_sheet_left_out_is_the_forecast_without() {
    let bank = bank();
    let panels: Vec<_> = bank.iter().filter(|p| p.kind == "single").step_by(15).collect();
    let apart = parallel(&panels, |p| {
        CUTS_H[..4]
            .iter()
            .flat_map(|&cut| [0.0, 0.2].map(|off| (cut, off)))
            .map(|(cut, off)| {
                let with = told_of(p, cut, Stated::Sheet(off)).unwrap();
                let without = told_of(p, cut, Stated::Nothing).unwrap();
                let narrowed = with.narrowed.expect("a sheet took part");
                assert_eq!(narrowed.to, with.final_gross_g);
                for (a, b) in [
                    (narrowed.from.low, without.final_gross_g.low),
                    (narrowed.from.mean, without.final_gross_g.mean),
                    (narrowed.from.high, without.final_gross_g.high),
                ] {
                    assert!((a - b).abs() < 1e-9, "{} at {cut}: {a} {b}", p.id);
                }
                assert!(without.narrowed.is_none());
                let warned = with.warnings.iter().any(|w| matches!(w, Warning::SheetConflict { .. }));
                assert_eq!(warned, narrowed.apart_sds.abs() > 2.0);
                (off > 0.0, narrowed.apart_sds)
            })
            .collect::<Vec<_>>()
    });
    let mean = |off: bool| {
        let of: Vec<f64> = apart.iter().flatten().filter(|a| a.0 == off).map(|a| a.1).collect();
        of.iter().sum::<f64>() / of.len() as f64
    };
    assert!(mean(false).abs() < 0.7 && mean(true) > 1.0, "{} {}", mean(false), mean(true));
}

/// Each limit of the evidence is said with its number, and panels as the banks have them are within all of them.
#[test]
fn what_is_outside_the_evidence_is_said() {
    for p in bank().iter().step_by(40) {
        let f = told_of(p, 504.0, Stated::Nothing).unwrap();
        assert_eq!(f.beyond_evidence(), [], "{}", p.id);
    }
    let mut chance = Random(3);
    let days: Vec<f64> = (0..10).map(|d| 24.0 * f64::from(d)).collect();
    let plain = readings(&days, &mut chance);
    let balance = Balance::new(Scale::new(D), &[]);
    let told = |weighings: &[Weighing], change: &dyn Fn(&mut Panel)| {
        let mut panel = Panel::new(&balance, Some(400.0), weighings);
        change(&mut panel);
        forecast(&panel, &Settings::shown()).unwrap().beyond_evidence()
    };
    assert_eq!(told(&plain, &|_| ()), []);
    let moves = [30.0, 60.0, 90.0].map(|t_h| Move { t_h, warmer: t_h != 60.0 });
    let panel = Panel { moves: &moves, ..Panel::new(&balance, Some(400.0), &plain) };
    assert_eq!(forecast(&panel, &Settings::shown()).unwrap().beyond_evidence(), [Beyond::Moves(3)]);
    assert_eq!(told(&plain, &|panel| panel.coats = 6), [Beyond::Coats(6)]);
    let late: Vec<Weighing> =
        plain.iter().map(|w| Weighing::new(if w.t_h > 150.0 { w.t_h + 360.0 } else { w.t_h }, w.gross_g)).collect();
    let said = told(&late, &|_| ());
    assert!(matches!(said[..], [Beyond::Gap(h), Beyond::Age(age)] if h > GAP_TRIED_H && age > AGE_TRIED_H), "{said:?}");
    // Nearly all of it stays, or nearly nothing.
    let said = told(&plain, &|panel| panel.bare_g = Some(300.0));
    assert!(matches!(said[..], [Beyond::Solids(s)] if s > SOLIDS_TRIED[1]), "{said:?}");
}

/// Whatever the panel: no gross mass under bare or under nothing at any time, and never more shrinkage than was sprayed.
#[test]
fn nothing_absurd_is_told() {
    for kind in [Kind::Thin, Kind::Abrupt, Kind::Single] {
        for p in panels(kind, 12, 20_270_611) {
            for cut in [8.0, 24.0, 96.0] {
                for stated in [Stated::Nothing, Stated::NoBareWeight, Stated::Sheet(0.0)] {
                    let Some(f) = told_of(&p, cut, stated) else { continue };
                    let least = if stated == Stated::NoBareWeight { 0.0 } else { p.bare_g };
                    let times = [0.0, cut, 2.0 * cut, 500.0, 5000.0];
                    let masses = times.iter().flat_map(|t| [f.at(*t), f.reading_at(*t)]).chain([f.final_gross_g]);
                    for mass in masses {
                        assert!(mass.low >= least && mass.mean >= least && mass.low <= mass.high, "{} {mass:?}", p.id);
                    }
                    let film =
                        FilmScale { area_cm2: 10.0, u_area_cm2: 5.0, solvent_density: 0.8, u_solvent_density: 0.2 };
                    let capped = f.shrinkage_to_come(cut, &film).unwrap().at_most(120.0);
                    assert!(capped.low >= 0.0 && capped.high <= 120.0 && capped.mean <= 120.0);
                }
            }
        }
    }
}
