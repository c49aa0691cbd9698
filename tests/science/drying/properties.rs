//! Properties that hold for every input.

use comb_scale::science::drying::steady::{Beginnings, first_steady};
use comb_scale::science::drying::{
    Balance, FilmScale, Forecast, GainsMass, InRound, Move, Older, Panel, Repeatability, Say, Scale, Settings,
    Weighing, forecast, swaps,
};
use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::RngSeed;

/// The same cases every time: what fails here fails everywhere.
const SEED: RngSeed = RngSeed::Fixed(20_260_302);

/// A number from the sensible to the absurd, always finite.
fn anything() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => -10.0..1000.0,
        1 => select(vec![0.0, -0.0, 1.0, -1.0, 0.1, 1e-9, -1e-9, 1e-300, 5e-324, 1e9, -1e9, 1e15, 1e300, f64::MAX, f64::MIN]),
        1 => any::<f64>().prop_filter("finite", |v| v.is_finite()),
    ]
}

fn say() -> impl Strategy<Value = Say> {
    select(vec![Say::Nothing, Say::Nothing, Say::Nothing, Say::SetAside, Say::Keep])
}

prop_compose! {
    fn weighing()(t_h in anything(), gross_g in anything(), round in prop::option::of(0u32..4), balance in 0u32..12, say in say())
        -> Weighing {
        Weighing { t_h, gross_g, round, balance: u32::from(balance == 0), say }
    }
}

prop_compose! {
    /// A panel that dries, more or less: falling masses with scatter, on a sensible scale.
    fn drying()(
        coat in 5.0..150.0f64,
        division in select(vec![0.01, 0.05, 0.1, 0.5]),
        solids in 0.45..0.85f64,
        fast in 0.5..20.0f64,
        slow in 40.0..600.0f64,
        share in 0.1..0.9f64,
        gaps in prop::collection::vec(0.1..60.0f64, 4..16),
        scatter in prop::collection::vec(-1.5..1.5f64, 17),
    ) -> (f64, f64, Vec<Weighing>) {
        let bare = 10.0 * coat;
        let mut t = 0.0;
        let ages = std::iter::once(0.0).chain(gaps.into_iter().map(|g| { t += g; t })).collect::<Vec<_>>();
        let loss = coat * (1.0 - solids);
        let gross = |t: f64, s: f64| {
            let left = share * (-t / fast).exp() + (1.0 - share) * (-t / slow).exp();
            ((bare + coat - loss * (1.0 - left)) / division + 0.7 * s).round() * division
        };
        let readings = ages.iter().zip(&scatter).map(|(&t, &s)| Weighing::new(t, gross(t, s))).collect();
        (division, bare, readings)
    }
}

fn numbers(f: &Forecast) -> Vec<f64> {
    let mut all = vec![
        f.wet_t_h,
        f.newest_age_h,
        f.wet_gross_g,
        f.lost_g,
        f.predicted_loss_g,
        f.steady_limit_g,
        f.floor_gross_g,
        f.noise.reading_sd_g,
        f.noise.model_sd_g,
        f.noise.drift_sd_g,
        f.noise.ratio,
        f.still_to_lose_g.q90,
    ];
    for e in [Some(f.final_gross_g), f.final_coat_g, Some(f.still_to_lose_g.estimate)].into_iter().flatten() {
        all.extend([e.mean, e.median, e.low, e.high]);
    }
    all
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 10_000, failure_persistence: None, rng_seed: SEED, ..ProptestConfig::default() })]

    /// No finite input panics, hangs or returns a NaN.
    #[test]
    fn absurd_input(
        readings in prop::collection::vec(weighing(), 0..9),
        blank in prop::collection::vec(weighing(), 0..4),
        division in anything(),
        repeatability in prop::option::of((anything(), anything())),
        bare in prop::option::of(anything()),
        moves in prop::collection::vec((anything(), any::<bool>()), 0..3),
        sheet in prop::option::of(0.01..0.99f64),
        estimated in prop::option::of(anything()),
        film in prop::option::of((anything(), anything(), anything(), anything())),
        gains in select(vec![GainsMass::No, GainsMass::Yes, GainsMass::Unsure]),
        at in anything(),
    ) {
        let repeatability = repeatability.map(|(sd_g, dof)| Repeatability { sd_g, dof });
        let balance = Balance::new(Scale { division_g: division, repeatability }, &blank);
        let moves: Vec<Move> = moves.into_iter().map(|(t_h, warmer)| Move { t_h, warmer }).collect();
        let film = film.map(|(area_cm2, u_area_cm2, solvent_density, u_solvent_density)| {
            FilmScale { area_cm2, u_area_cm2, solvent_density, u_solvent_density }
        });
        let panel = Panel {
            moves: &moves, sheet_solids: sheet, estimated_coat_g: estimated, film, gains_mass: gains, coats: 2,
            ..Panel::new(&balance, bare, &readings)
        };
        if let Ok(f) = forecast(&panel, &Settings::instant()) {
            let mut all = numbers(&f);
            let dated = f.at(at);
            all.extend([dated.low, dated.mean, dated.median, dated.high, f.curve_gross_g(at)]);
            all.extend(f.next_weigh_in([at]).iter().map(|g| g.share));
            let until = f.hours_until(at);
            all.extend([until.low, until.median, until.high]);
            all.extend(f.steady_limit_um);
            if let Some(Ok(um)) = film.map(|film| f.shrinkage_to_come(at, &film)) {
                all.extend([um.low, um.mean, um.high]);
            }
            prop_assert!(all.iter().all(|v| v.is_finite()), "{f:?} {all:?}");
            let last = f.final_gross_g;
            prop_assert!(last.low <= last.median && last.median <= last.high);
            let older = [Older { by_h: at, forecast: &f }];
            if let Ok(f) = forecast(&Panel { older: &older, ..panel.clone() }, &Settings::instant()) {
                prop_assert!(numbers(&f).iter().all(|v| v.is_finite()));
            }
        }
        let _ = first_steady(&panel, &Settings::instant(), &mut Beginnings::new());
        let _ = swaps(&[InRound { panel: &panel, weighing: 0 }, InRound { panel: &panel, weighing: 3 }]);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, rng_seed: SEED, ..ProptestConfig::default() })]

    /// A sensible panel with one absurd entry: no NaN either.
    #[test]
    fn one_absurd_entry((division, bare, mut readings) in drying(), at in 0usize..17, time in any::<bool>(), what in anything()) {
        let i = at % readings.len();
        if time { readings[i].t_h = what } else { readings[i].gross_g = what }
        let balance = Balance::new(Scale::new(division), &[]);
        let moves = [Move { t_h: 30.0, warmer: true }];
        if let Ok(f) = forecast(&Panel { moves: &moves, ..Panel::new(&balance, Some(bare), &readings) }, &Settings::shown()) {
            prop_assert!(numbers(&f).iter().all(|v| v.is_finite()));
        }
    }

    /// The interval lies between the floor and the newest kept readings, as far as their scatter and the drift let one say.
    #[test]
    fn interval_is_inside((division, bare, readings) in drying()) {
        let balance = Balance::new(Scale::new(division), &[]);
        if let Ok(f) = forecast(&Panel::new(&balance, Some(bare), &readings), &Settings::shown()) {
            let slack = 1.96 * f.noise.drift_sd_g;
            let last = f.final_gross_g;
            prop_assert!(last.low >= f.floor_gross_g - slack && last.mean >= f.floor_gross_g);
            let newest = readings.iter().rev().take(5).map(|w| w.gross_g).fold(f64::MIN, f64::max);
            // c₀ may exceed the curve by a quarter of σᵤ = s₀/0.0851, and s₀ is widened by √s² at most.
            let curve = 0.25 * f.noise.model_sd_g * f.noise.ratio.max(1.0).sqrt() / 0.0851;
            prop_assert!(last.high <= newest + slack + curve, "{last:?} {newest} {slack} {curve}");
            prop_assert!(last.mean <= newest + curve);
            let rest = f.still_to_lose_g;
            prop_assert!(rest.estimate.low >= 0.0 && rest.estimate.mean >= 0.0);
        }
    }

    /// A constant added to bare and gross weights alike shifts the gross forecast by it.
    #[test]
    fn a_heavier_panel((division, bare, readings) in drying(), by in 1.0..500.0f64) {
        let balance = Balance::new(Scale::new(division), &[]);
        let by = (by / division).round() * division;
        let heavier: Vec<Weighing> = readings.iter().map(|w| Weighing { gross_g: w.gross_g + by, ..*w }).collect();
        let run = |bare, readings: &[Weighing]| forecast(&Panel::new(&balance, Some(bare), readings), &Settings::shown());
        if let (Ok(a), Ok(b)) = (run(bare, &readings), run(bare + by, &heavier)) {
            let off = b.final_gross_g.mean - a.final_gross_g.mean - by;
            prop_assert!(off.abs() < 1e-4 * a.final_gross_g.width(), "{off}");
        }
    }

    /// Grams or ounces: the same answer.
    #[test]
    fn units_change_nothing((division, bare, readings) in drying(), unit in select(vec![1.0 / 28.349_523_125, 1000.0])) {
        let run = |k: f64| {
            let balance = Balance::new(Scale::new(k * division), &[]);
            let readings: Vec<Weighing> = readings.iter().map(|w| Weighing { gross_g: k * w.gross_g, ..*w }).collect();
            forecast(&Panel::new(&balance, Some(k * bare), &readings), &Settings::shown())
        };
        match (run(1.0), run(unit)) {
            (Ok(a), Ok(b)) => {
                prop_assert_eq!(&a.readings.len(), &b.readings.len());
                let width = a.final_gross_g.width();
                for (x, y) in [
                    (a.final_gross_g.mean, b.final_gross_g.mean),
                    (a.final_gross_g.low, b.final_gross_g.low),
                    (a.final_gross_g.high, b.final_gross_g.high),
                    (a.steady_limit_g, b.steady_limit_g),
                ] {
                    prop_assert!((x - y / unit).abs() < 1e-3 * width, "{x} {} of {width}", y / unit);
                }
            }
            (a, b) => prop_assert_eq!(a.is_ok(), b.is_ok()),
        }
    }

    /// The order of entry changes nothing at all.
    #[test]
    fn order_changes_nothing(((division, bare, readings), order) in drying().prop_flat_map(|d| {
        let order = Just((0..d.2.len()).collect::<Vec<usize>>()).prop_shuffle();
        (Just(d), order)
    })) {
        let blank: Vec<Weighing> = readings.iter().step_by(2).map(|w| Weighing::new(w.t_h, bare)).collect();
        let balance = Balance::new(Scale::new(division), &blank);
        let turned: Vec<Weighing> = blank.iter().rev().copied().collect();
        let turned = Balance::new(Scale::new(division), &turned);
        let shuffled: Vec<Weighing> = order.iter().map(|&i| readings[i]).collect();
        let a = forecast(&Panel::new(&balance, Some(bare), &readings), &Settings::shown());
        let b = forecast(&Panel::new(&turned, Some(bare), &shuffled), &Settings::shown());
        match (a, b) {
            (Ok(a), Ok(b)) => {
                prop_assert_eq!(numbers(&a), numbers(&b));
                for (to, &from) in order.iter().enumerate() {
                    prop_assert_eq!(a.readings[from], b.readings[to]);
                }
            }
            (a, b) => prop_assert_eq!(a, b),
        }
    }
}
