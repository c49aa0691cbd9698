//! Odd but honest records: moves, forgotten blanks, repeats, uptake, coarse scales, what the person says.

use crate::simulated::{Simulated, bank};
use comb_scale::science::drying::{
    Balance, Beyond, FilmScale, Forecast, GainsMass, Move, NotYet, Panel, Repeatability, Say, Scale, Settings, Since,
    Standing, TooEarly, Verdict, Warning, Weighing, forecast,
};
use std::f64::consts::PI;

fn shown(panel: &Panel) -> Forecast {
    forecast(panel, &Settings::shown()).unwrap()
}

/// The default ages of weigh-ins, to three weeks.
fn ages() -> Vec<f64> {
    let mut ages = comb_scale::science::drying::default_ages_h();
    ages.extend([360.0, 384.0, 432.0, 504.0]);
    ages
}

/// Scatter without a generator: the golden-ratio sequence through a rough normal inverse, sd 1.
fn scatter(i: usize) -> f64 {
    let u = (0.5 + 0.618_033_988_749_895 * (i as f64 + 1.0)).fract().clamp(0.01, 0.99);
    (u / (1.0 - u)).ln() / 1.7
}

/// A coat that dries by diffusion (Crank's film, one face sealed) with a quick flash first; masses in g.
struct Film {
    bare: f64,
    solids: f64,
    flash: f64,
    solvent: f64,
    /// L²/D, h.
    time_h: f64,
}

impl Film {
    fn of(coat: f64) -> Self {
        Self { bare: 12.0 * coat, solids: 0.68 * coat, flash: 0.12 * coat, solvent: 0.2 * coat, time_h: 150.0 }
    }

    fn gross(&self, t_h: f64) -> f64 {
        let fo = t_h / self.time_h;
        let left: f64 = (0..80)
            .map(|n| f64::from(2 * n + 1))
            .map(|odd| 8.0 / (PI * PI) * (-odd * odd * PI * PI * fo / 4.0).exp() / (odd * odd))
            .sum();
        self.bare + self.solids + self.flash * (-t_h / 1.5).exp() + self.solvent * left
    }

    fn weighed(&self, ages: &[f64], division: f64, sd: f64) -> Vec<Weighing> {
        let read = |(i, &t): (usize, &f64)| {
            Weighing::new(t, ((self.gross(t) + sd * scatter(i)) / division).round() * division)
        };
        ages.iter().enumerate().map(read).collect()
    }
}

fn single(id: usize) -> Simulated {
    bank().into_iter().nth(id).unwrap()
}

/// Coats of 5 to 150 g on scales from 0.01 to 1 g: the final mass lies in the interval, and the coarser the scale is for
/// the coat the wider it is.
#[test]
fn coats_and_divisions() {
    for coat in [5.0, 20.0, 60.0, 150.0] {
        let mut before = 0.0;
        for division in [0.01, 0.1, 1.0] {
            let film = Film::of(coat);
            let readings = film.weighed(&ages(), division, 0.8 * division);
            let balance = Balance::new(Scale::new(division), &[]);
            let f = shown(&Panel::new(&balance, Some(film.bare), &readings));
            let last = f.final_coat_g.unwrap();
            assert!((last.low..=last.high).contains(&film.solids), "{coat} g, {division} g: {last:?}");
            assert!(last.width() > before);
            before = last.width();
        }
    }
}

/// A scale that cannot see the rest never says settled, however level the readings, and says what could.
#[test]
fn coarse_scales_never_settle() {
    let film = Film::of(40.0);
    let daily: Vec<f64> = (0..90).map(|d| f64::from(d) * 24.0).collect();
    let settled = |division: f64, scale: Option<FilmScale>| {
        let readings = film.weighed(&daily, division, 0.3 * division);
        let balance = Balance::new(Scale::new(division), &[]);
        shown(&Panel { film: scale, ..Panel::new(&balance, Some(film.bare), &readings) })
    };
    assert!(settled(0.1, None).steady());
    // The loss is some 12 g: 5 % of it is 0.6 g, so the division may be 0.3 g at most.
    let coarse = settled(0.5, None);
    let Verdict::NotYet(NotYet::ScaleCannotSee { division_g, panel_times }) = coarse.verdict else {
        panic!("{:?}", coarse.verdict)
    };
    assert!((division_g - 0.025 * coarse.predicted_loss_g).abs() < 1e-9);
    assert!((panel_times - 0.5 / division_g).abs() < 1e-9);
    assert!(coarse.warnings.contains(&Warning::ScaleTooCoarse));
    // 0.2 g on 150 cm² of solvent at 0.87 g/mL are 15 µm of film, not 3.
    let small = FilmScale { area_cm2: 150.0, u_area_cm2: 1.5, solvent_density: 0.87, u_solvent_density: 0.02 };
    let by_film = settled(0.1, Some(small));
    assert!(matches!(by_film.verdict, Verdict::NotYet(NotYet::ScaleCannotSee { .. })));
    assert!((by_film.steady_limit_um.unwrap() - by_film.steady_limit_g * 1e4 / (150.0 * 0.87)).abs() < 1e-9);
}

/// What curves know of moves: one before the second reading, one back, several, one not seen yet, one before the start.
#[test]
fn moves() {
    let p = single(0);
    let cut = p.first(p.readings.len());
    let with = |moves: &[Move]| shown(&Panel { moves, ..cut.panel(false) });
    let to = |t_h, warmer| Move { t_h, warmer };
    let (early, back) = (with(&[to(0.2, true)]), with(&[to(150.0, true), to(300.0, false)]));
    assert_eq!(early.beyond_evidence(), []);
    assert_eq!(back.beyond_evidence(), [Beyond::Moves(2)]);
    for f in [&early, &back, &with(&[to(100.0, true), to(150.0, true), to(200.0, false), to(250.0, true)])] {
        let last = f.final_coat_g.unwrap();
        assert!(last.low < p.final_coat_g + 0.5 && last.high > p.final_coat_g - 0.5, "{last:?}");
    }
    let seen = |f: &Forecast| !f.warnings.contains(&Warning::MoveNotSeenYet);
    assert!(seen(&with(&[to(150.0, true)])));
    assert!(!seen(&with(&[to(10_000.0, true)])));
    // A move before the wet weight only says where the first place was.
    assert_eq!(with(&[to(-5.0, true)]), with(&[]));
    // A move to a place no warmer changes nothing.
    assert_eq!(with(&[to(5.0, false)]).final_gross_g, with(&[]).final_gross_g);
}

/// The blank forgotten in some rounds, or always.
#[test]
fn forgotten_blanks() {
    let p = bank().into_iter().find(|p| p.blank.last().unwrap().gross_g - p.blank[0].gross_g > 0.15).unwrap();
    let cut = p.first(p.readings.len());
    let run = |blank: &[Weighing]| {
        let balance = Balance::new(Scale::new(0.1), blank);
        shown(&Panel { balance: &balance, ..cut.panel(false) })
    };
    let some: Vec<Weighing> = p.blank.iter().copied().enumerate().filter(|(i, _)| i % 3 == 0).map(|b| b.1).collect();
    let (all, some, none) = (run(&p.blank), run(&some), run(&[]));
    assert!((all.final_gross_g.mean - some.final_gross_g.mean).abs() < 0.15);
    assert!(none.warnings.contains(&Warning::NoBlank) && !all.warnings.contains(&Warning::NoBlank));
    assert!(all.noise.drift_sd_g < none.noise.drift_sd_g);
    // A scale that drifted up by 0.15 g makes the panel look heavier than it is.
    assert!(none.final_gross_g.mean > all.final_gross_g.mean + 0.3);
}

/// Repeats of a round count as their mean and narrow the answer; they also tell the scatter.
#[test]
fn repeats() {
    let film = Film::of(40.0);
    let once = film.weighed(&ages(), 0.01, 0.05);
    let thrice: Vec<Weighing> = ages()
        .iter()
        .enumerate()
        .flat_map(|(round, &t)| {
            let film = &film;
            (0..3).map(move |k| Weighing {
                round: Some(round as u32),
                ..Weighing::new(t + 0.01 * f64::from(k), film.gross(t) + 0.05 * scatter(3 * round + k as usize))
            })
        })
        .collect();
    let balance =
        Balance::new(Scale { division_g: 0.01, repeatability: Some(Repeatability { sd_g: 0.05, dof: 9.0 }) }, &[]);
    let (a, b) =
        (shown(&Panel::new(&balance, Some(film.bare), &once)), shown(&Panel::new(&balance, Some(film.bare), &thrice)));
    assert_eq!((a.kept, b.kept), (once.len(), once.len()));
    assert!(b.final_gross_g.width() < a.final_gross_g.width());
    assert!((b.noise.reading_sd_g - 0.05).abs() < 0.02, "{}", b.noise.reading_sd_g);
}

/// A flagged reading stays visible, is left out, and counts again when the person says so; and the other way round.
#[test]
fn the_person_outranks_the_screen() {
    let film = Film::of(40.0);
    let mut readings = film.weighed(&ages(), 0.1, 0.05);
    readings[9].gross_g += 2.0;
    let balance = Balance::new(Scale::new(0.1), &[]);
    let run = |readings: &[Weighing]| shown(&Panel::new(&balance, Some(film.bare), readings));
    let flagged = run(&readings);
    let Standing::Slip { off_by_g, ask } = flagged.readings[9] else { panic!("{:?}", flagged.readings) };
    assert!((off_by_g - 2.0).abs() < 0.3 && !ask);
    assert_eq!(flagged.kept, readings.len() - 1);
    readings[9].say = Say::Keep;
    assert_eq!(run(&readings).readings[9], Standing::Kept);
    readings[9].say = Say::SetAside;
    let aside = run(&readings);
    assert_eq!(aside.readings[9], Standing::SetAside);
    assert_eq!(aside.final_gross_g, flagged.final_gross_g);
    // The newest reading flagged: weigh again, and no verdict of settled meanwhile.
    let mut newest = film.weighed(&ages(), 0.1, 0.05);
    newest.last_mut().unwrap().gross_g -= 3.0;
    let f = run(&newest);
    assert!(matches!(f.readings.last(), Some(Standing::Slip { ask: true, .. })));
    assert_eq!(f.verdict, Verdict::NotYet(NotYet::NewestFlagged));
}

/// A mass that rises is said, not fitted as loss; one that wanders is said from 14 d on.
#[test]
fn rises_and_wanders() {
    let film = Film::of(40.0);
    let balance = Balance::new(Scale::new(0.1), &[]);
    let run = |off: &dyn Fn(f64) -> f64, readings: &[Weighing]| {
        let moved: Vec<Weighing> =
            readings.iter().map(|w| Weighing { gross_g: w.gross_g + off(w.t_h), say: Say::Keep, ..*w }).collect();
        shown(&Panel::new(&balance, Some(film.bare), &moved)).warnings
    };
    let readings = film.weighed(&ages(), 0.1, 0.05);
    let rises = |w: &[Warning]| w.iter().any(|w| matches!(w, Warning::Rises { .. }));
    let wanders = |w: &[Warning]| w.iter().any(|w| matches!(w, Warning::Wanders { .. }));
    let still = run(&|_| 0.0, &readings);
    assert!(!rises(&still) && !wanders(&still));
    assert!(rises(&run(&|t| if t > 250.0 { 0.006 * (t - 250.0) } else { 0.0 }, &readings)));
    assert!(wanders(&run(&|t| 0.6 * (t / 30.0).sin() * f64::from(u8::from(t > 20.0)), &readings)));
}

/// The box the person ticks raises the upper limit only.
#[test]
fn uptake() {
    let film = Film::of(40.0);
    let readings = film.weighed(&ages(), 0.1, 0.05);
    let balance = Balance::new(Scale::new(0.1), &[]);
    let run = |gains_mass| {
        shown(&Panel { gains_mass, ..Panel::new(&balance, Some(film.bare), &readings) }).final_coat_g.unwrap()
    };
    let (no, yes, unsure) = (run(GainsMass::No), run(GainsMass::Yes), run(GainsMass::Unsure));
    let wet = readings[0].gross_g - film.bare;
    assert!((yes.high - no.high - 0.01 * wet).abs() < 1e-9 && (unsure.high - no.high - 0.02 * wet).abs() < 1e-9);
    assert_eq!((yes.low, yes.mean), (no.low, no.mean));
}

/// A sheet far from the scale is said; one that fits is not. More coats widen the upper side.
#[test]
fn sheets() {
    let film = Film::of(40.0);
    let readings = film.weighed(&ages(), 0.1, 0.05);
    let balance = Balance::new(Scale::new(0.1), &[]);
    let conflict = |solids: f64, until: usize| {
        let panel = Panel { sheet_solids: Some(solids), ..Panel::new(&balance, Some(film.bare), &readings[..until]) };
        shown(&panel).warnings.iter().any(|w| matches!(w, Warning::SheetConflict { .. }))
    };
    assert!(!conflict(0.68, 12));
    assert!(conflict(0.45, 12));
    let high = |coats| {
        let panel = Panel { sheet_solids: Some(0.6), coats, ..Panel::new(&balance, Some(film.bare), &readings[..7]) };
        shown(&panel).final_coat_g.unwrap().high
    };
    assert!(high(2) > high(1));
}

/// Once yes it stays yes, until a reading contradicts it or the panel moves somewhere warmer.
#[test]
fn yes_stays_yes() {
    let film = Film { time_h: 60.0, ..Film::of(40.0) };
    let days: Vec<f64> = (0..30).map(|d| f64::from(d) * 24.0).collect();
    let mut readings = film.weighed(&days, 0.01, 0.002);
    let balance = Balance::new(Scale::new(0.01), &[]);
    let first = shown(&Panel::new(&balance, Some(film.bare), &readings));
    assert_eq!(first.verdict, Verdict::Yes(Since::Now));
    let steady_before = first.steady_now();
    let newest = readings.last().unwrap().gross_g;
    let mut next = |off: f64, moves: &[Move]| {
        readings.push(Weighing { say: Say::Keep, ..Weighing::new(744.0, newest + off) });
        let panel = Panel { moves, steady_before, ..Panel::new(&balance, Some(film.bare), &readings) };
        let verdict = shown(&panel).verdict;
        readings.pop();
        verdict
    };
    // Not level any more by itself, but within the limit of 1 % of some 12 g.
    assert_eq!(next(-0.08, &[]), Verdict::Yes(Since::Earlier(696.0)));
    assert!(matches!(next(-0.5, &[]), Verdict::NotYet(_)), "a reading that contradicts it by more than the limit");
    let warmer = [Move { t_h: 700.0, warmer: true }];
    assert!(!matches!(next(-0.08, &warmer), Verdict::Yes(_)), "a move somewhere warmer");
}

/// Readings minutes and weeks apart, two at the same instant, and few of them.
#[test]
fn odd_times() {
    let film = Film::of(40.0);
    let balance = Balance::new(Scale::new(0.1), &[]);
    let run = |ages: &[f64]| shown(&Panel::new(&balance, Some(film.bare), &film.weighed(ages, 0.1, 0.05)));
    let few = run(&[0.0, 1.0, 24.0]);
    assert_eq!(few.verdict, Verdict::TooEarly(TooEarly::FewReadings { kept: 3, needed: 5 }));
    let minutes = run(&[0.0, 0.02, 0.05, 0.08, 0.1, 0.15]);
    assert!(minutes.too_early());
    let weeks = run(&[0.0, 336.0, 672.0, 1008.0, 1344.0, 1680.0, 2016.0, 2100.0]).final_coat_g.unwrap();
    assert!((weeks.low..=weeks.high).contains(&film.solids), "{weeks:?}");
    let twice = run(&[0.0, 1.0, 1.0, 4.0, 24.0, 24.0, 48.0, 48.0, 96.0]).final_coat_g.unwrap();
    assert!((twice.low..=twice.high).contains(&film.solids), "{twice:?}");
}
