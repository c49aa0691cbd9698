//! Bad input: a reason, never a made-up number.

use comb_scale::science::drying::{
    Balance, FilmScale, NoFilm, NoForecast, Panel, Say, Scale, Settings, Weighing, forecast,
};

fn refusal(scale: f64, bare: Option<f64>, readings: &[Weighing]) -> NoForecast {
    let balance = Balance::new(Scale::new(scale), &[]);
    forecast(&Panel::new(&balance, bare, readings), &Settings::shown()).unwrap_err()
}

fn readings(grams: &[f64]) -> Vec<Weighing> {
    grams.iter().enumerate().map(|(i, &g)| Weighing::new(10.0 * i as f64, g)).collect()
}

#[test]
fn every_refusal_says_why() {
    let good = readings(&[440.0, 437.0, 435.0, 434.0, 433.5, 433.2]);
    assert_eq!(refusal(0.1, Some(400.0), &[]), NoForecast::NoWeighing);
    let aside: Vec<Weighing> = good.iter().map(|w| Weighing { say: Say::SetAside, ..*w }).collect();
    assert_eq!(refusal(0.1, Some(400.0), &aside), NoForecast::NoWeighing);
    assert_eq!(refusal(0.1, Some(400.0), &good[..1]), NoForecast::FewReadings { kept: 1, needed: 3 });
    assert_eq!(refusal(0.1, Some(400.0), &good[..2]), NoForecast::FewReadings { kept: 2, needed: 3 });
    for scale in [0.0, -0.1, f64::NAN, f64::INFINITY] {
        assert_eq!(refusal(scale, Some(400.0), &good), NoForecast::BadScale);
    }
    assert_eq!(refusal(0.1, Some(450.0), &good), NoForecast::NoCoat { coat_g: -10.0 });
    assert_eq!(refusal(0.1, Some(400.0), &readings(&[440.0; 6])), NoForecast::AllEqual);
    let rising = readings(&[440.0, 440.2, 440.3, 440.5, 440.6, 440.8]);
    assert!(matches!(refusal(0.1, Some(400.0), &rising), NoForecast::NothingLost { .. }));
    let mut two = good.clone();
    two[3].balance = 1;
    assert_eq!(refusal(0.1, Some(400.0), &two), NoForecast::TwoBalances);
    let mut absurd = good.clone();
    absurd[2].gross_g = 1e12;
    assert_eq!(refusal(0.1, Some(400.0), &absurd), NoForecast::NotPlausible);
    absurd[2] = Weighing::new(1e9, 435.0);
    assert_eq!(refusal(0.1, Some(400.0), &absurd), NoForecast::NotPlausible);
    assert_eq!(refusal(0.1, Some(f64::NAN), &good), NoForecast::NotPlausible);
    let balance = Balance::new(Scale::new(0.1), &[]);
    for (least, sheet) in [(0.0, None), (1.0, None), (f64::NAN, None), (0.4, Some(1.2)), (0.4, Some(-0.1))] {
        let panel = Panel { least_solids: least, sheet_solids: sheet, ..Panel::new(&balance, Some(400.0), &good) };
        assert_eq!(forecast(&panel, &Settings::shown()).unwrap_err(), NoForecast::BadSolids);
    }
}

/// Negative times are as good as any other: the clock's zero does not matter.
#[test]
fn times_are_relative() {
    let balance = Balance::new(Scale::new(0.1), &[]);
    let good = readings(&[440.0, 437.0, 435.0, 434.0, 433.5, 433.2]);
    let earlier: Vec<Weighing> = good.iter().map(|w| Weighing { t_h: w.t_h - 1000.0, ..*w }).collect();
    let run = |w: &[Weighing]| forecast(&Panel::new(&balance, Some(400.0), w), &Settings::shown()).unwrap();
    assert_eq!(run(&good).final_gross_g, run(&earlier).final_gross_g);
}

#[test]
fn film_needs_an_area() {
    let balance = Balance::new(Scale::new(0.1), &[]);
    let good = readings(&[440.0, 437.0, 435.0, 434.0, 433.5, 433.2]);
    let f = forecast(&Panel::new(&balance, Some(400.0), &good), &Settings::shown()).unwrap();
    let film = FilmScale { area_cm2: 0.0, u_area_cm2: 1.0, solvent_density: 0.87, u_solvent_density: 0.02 };
    assert_eq!(f.shrinkage_to_come(100.0, &film), Err(NoFilm::BadFilmScale));
}
