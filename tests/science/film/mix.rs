//! Mixing.

use crate::rows::rows;
use comb_scale::science::input::InputError;
use comb_scale::science::mix::{
    Amount, Basis, Component, MixError, Recipe, ReducerOf, amount_to_mix, area_to_spray, reducer_parts,
};
use proptest::prelude::*;

fn recipe(basis: Basis, parts: &[f64], densities: &[f64]) -> Recipe {
    let component = |(parts, density): (&f64, &f64)| Component { parts: *parts, density: Some(*density) };
    Recipe::new(basis, parts.iter().zip(densities).map(component).collect()).expect("a recipe")
}

/// Volume parts to grams, computed with pint and numpy.
#[test]
fn volume_parts_become_cumulative_grams() {
    for row in rows("mix/pour", 4) {
        let recipe = recipe(Basis::Volume, &row.list("parts"), &row.list("rho"));
        let pour = recipe.pour(Amount::Millilitres(row.num("V"))).expect("densities are known");
        row.check_list("mL", pour.millilitres.as_ref().expect("densities are known"));
        row.check_list("g", &pour.grams);
        row.check_list("cumulative_g", &pour.cumulative_g);
        row.check("total_g", pour.total_g);
        row.check("rho_mix", recipe.density().expect("densities are known"));
    }
}

/// Computed with mpmath.
#[test]
fn partner_of_what_is_in_the_cup() {
    for row in rows("mix/partner", 1) {
        let recipe =
            recipe(Basis::Volume, &[row.num("part_a"), row.num("part_b")], &[row.num("rho_a"), row.num("rho_b")]);
        let pour = recipe.pour(Amount::Of { component: 0, grams: row.num("m_a") }).expect("densities are known");
        row.check("m_b", pour.grams[1]);
    }
}

/// Hardener in excess when 4:1 by volume is weighed as 4:1; computed with mpmath.
#[test]
fn weighing_a_volume_ratio_is_wrong_by_the_densities() {
    for row in rows("mix/ratio_by_weight", 1) {
        let recipe =
            recipe(Basis::Volume, &[row.num("part_a"), row.num("part_b")], &[row.num("rho_a"), row.num("rho_b")]);
        let by_weight = recipe.shares(Basis::Weight).expect("densities are known");
        row.check("weight_ratio", by_weight[0] / by_weight[1]);
        // What lies in the cup.
        let off = recipe.off(&[400.0, 100.0]).expect("weights");
        row.check("error_pct", 100.0 * off[1]);
    }
}

/// Computed with pint.
#[test]
fn how_much_to_mix() {
    for row in rows("mix/amount", 3) {
        let dead_ml = 1000.0 * row.num("dead");
        let coats = row.num("coats") as usize;
        let ml = amount_to_mix(1e4 * row.num("A"), row.num("wft"), coats, row.num("te"), dead_ml).expect("numbers");
        row.check("V", ml / 1000.0);
    }
}

/// "+10 % reducer" on 2:1 means 2:1:0.3 here, 2:1:0.2 on some sheets (common practice: ask which).
#[test]
fn reducer_percentage_has_two_meanings() {
    assert_eq!(reducer_parts(&[2.0, 1.0], 10.0, ReducerOf::Mix).map(|p| (p * 1e9).round()), Ok(3e8));
    assert_eq!(reducer_parts(&[2.0, 1.0], 10.0, ReducerOf::Base).map(|p| (p * 1e9).round()), Ok(2e8));
    assert!(reducer_parts(&[], 10.0, ReducerOf::Base).is_err());
}

#[test]
fn impossible_mixes_say_why() {
    let component = |parts, density| Component { parts, density };
    assert_eq!(Recipe::new(Basis::Volume, vec![]), Err(MixError::NoComponents));
    assert_eq!(Recipe::new(Basis::Volume, vec![component(1.0, None); 5]), Err(MixError::TooMany(5)));
    assert_eq!(Recipe::new(Basis::Volume, vec![component(1.0, None), component(0.0, None)]), Err(MixError::NoParts(1)));
    assert_eq!(
        Recipe::new(Basis::Volume, vec![component(1.0, Some(-1.0))]),
        Err(MixError::Input(InputError::NotPositive("density of a component")))
    );
    let unknown = Recipe::new(Basis::Volume, vec![component(4.0, Some(1.4)), component(1.0, None)]).expect("a recipe");
    assert_eq!(unknown.pour(Amount::Grams(100.0)), Err(MixError::DensityUnknown(1)));
    // By weight nothing needs a density, until litres are asked for.
    let by_weight = Recipe::new(Basis::Weight, vec![component(4.0, None), component(1.0, None)]).expect("a recipe");
    let pour = by_weight.pour(Amount::Grams(100.0)).expect("grams from grams");
    assert!((pour.grams[0] - 80.0).abs() < 1e-12 && pour.millilitres.is_none());
    assert_eq!(by_weight.pour(Amount::Millilitres(100.0)), Err(MixError::DensityUnknown(0)));
    assert_eq!(by_weight.pour(Amount::Of { component: 7, grams: 1.0 }), Err(MixError::NoSuchComponent(7)));
    assert!(by_weight.corrected(&[1.0], 0.0).is_err());
    assert_eq!(unknown.corrected(&[100.0, 30.0], 0.0), Err(MixError::DensityUnknown(1)));
    assert!(amount_to_mix(900.0, 150.0, 1, 0.0, 0.0).is_err());
}

/// Parts of 4:1:1 by volume as weights; each slip worked out by hand.
#[test]
fn over_poured_at_any_step_and_twice() {
    let recipe = recipe(Basis::Volume, &[4.0, 1.0, 1.0], &[1.45, 1.05, 0.87]);
    let planned = recipe.pour(Amount::Millilitres(300.0)).expect("densities are known");
    let mend = |poured: &[f64], least| recipe.corrected(poured, least).expect("weights");
    let close = |got: &[f64], expected: &[f64]| {
        assert!(got.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{got:?} {expected:?}");
    };
    // The first, short of its target: what was planned is still poured.
    close(&mend(&[280.0, 0.0, 0.0], planned.total_g).add_g, &[10.0, 52.5, 43.5]);
    // The first by a tenth: all others grow by it.
    close(&mend(&[319.0, 0.0, 0.0], planned.total_g).add_g, &[0.0, 57.75, 47.85]);
    // The second, and then the first again while mending.
    let once = mend(&[290.0, 63.0, 0.0], planned.total_g);
    close(&once.add_g, &[58.0, 0.0, 52.2]);
    close(&once.cumulative_g, &[411.0, 411.0, 463.2]);
    close(&mend(&[377.0, 63.0, 0.0], once.total_g).add_g, &[0.0, 5.25, 56.55]);
    // The last.
    close(&mend(&[290.0, 52.5, 47.85], planned.total_g).add_g, &[29.0, 5.25, 0.0]);
    // Nothing over-poured: nothing to add.
    close(&mend(&planned.grams, planned.total_g).add_g, &[0.0; 3]);
}

/// A one-pack primer pours by weight or volume and has no ratio; with reducer it is a mix of two.
#[test]
fn one_pack_has_nothing_to_mix_and_two_with_reducer() {
    let one = recipe(Basis::Volume, &[1.0], &[1.3]);
    assert!((one.pour(Amount::Millilitres(200.0)).expect("a density").total_g - 260.0).abs() < 1e-9);
    assert_eq!(one.off(&[260.0]), Err(MixError::NothingToMix));
    assert_eq!(one.corrected(&[260.0], 0.0), Err(MixError::NothingToMix));
    // With a tenth of reducer, by either meaning.
    for of in [ReducerOf::Mix, ReducerOf::Base] {
        let reducer = reducer_parts(&[1.0], 10.0, of).expect("parts");
        let pour =
            recipe(Basis::Volume, &[1.0, reducer], &[1.3, 0.87]).pour(Amount::Millilitres(220.0)).expect("densities");
        assert!((pour.grams[0] - 260.0).abs() < 1e-9 && (pour.grams[1] - 17.4).abs() < 1e-9, "{pour:?}");
    }
}

/// VS/(1 + th): the reducer of 2:1:0.3 by volume is a tenth of the paint, wherever it stands in the recipe.
#[test]
fn thinning_is_the_reducer_beside_all_else() {
    let last = recipe(Basis::Volume, &[2.0, 1.0, 0.3], &[1.42, 1.1, 0.86]);
    let first = recipe(Basis::Volume, &[0.3, 2.0, 1.0], &[0.86, 1.42, 1.1]);
    for (recipe, place) in [(&last, 2), (&first, 0)] {
        assert!((recipe.thinning(&[place], Basis::Volume).expect("parts") - 0.1).abs() < 1e-12);
        // 25.8 g on 284 g and 110 g.
        assert!((recipe.thinning(&[place], Basis::Weight).expect("densities") - 25.8 / 394.0).abs() < 1e-12);
    }
    assert_eq!(last.thinning(&[3], Basis::Volume), Err(MixError::NoSuchComponent(3)));
    assert!(last.thinning(&[0, 1, 2], Basis::Volume).is_err(), "all reducer is no paint");
}

/// Small panels catch less than is sprayed at them: 20 × 30 cm with 5 cm all round is 30 × 40 cm.
#[test]
fn area_to_spray_has_a_margin_all_round() {
    assert_eq!(area_to_spray(&[(200.0, 300.0), (100.0, 150.0)], 50.0), Ok(1200.0 + 500.0));
    assert!(area_to_spray(&[], 50.0).is_err() && area_to_spray(&[(0.0, 300.0)], 50.0).is_err());
    assert_eq!(amount_to_mix(900.0, 150.0, 0, 0.5, 0.0), Err(InputError::NotPositive("number of coats")));
}

/// Half a division over 2 % of the smallest pour is too coarse (common practice).
#[test]
fn coarse_scale_is_told() {
    let recipe = recipe(Basis::Weight, &[99.0, 1.0], &[1.2, 1.0]);
    let coarse = |grams| recipe.pour(Amount::Grams(grams)).and_then(|pour| Ok(pour.on_scale(0.1)?.too_coarse));
    // 2 % of 2.4 g and of 2.6 g against half of 0.1 g.
    assert_eq!(coarse(240.0), Ok(true));
    assert_eq!(coarse(260.0), Ok(false));
    let targets = recipe.pour(Amount::Grams(123.456)).expect("weights").on_scale(0.1).expect("a division");
    assert!((targets.cumulative_g[0] - 122.2).abs() < 1e-9 && (targets.cumulative_g[1] - 123.5).abs() < 1e-9);
    assert!((targets.one_division[1] - 0.1 / 1.23456).abs() < 1e-12);
    // 1.3 g are poured in place of 1.23 g.
    assert!((targets.by_rounding[1] - (1.3 / 1.23456 - 1.0)).abs() < 1e-9);
}

proptest! {
    #[test]
    fn corrected_mix_keeps_the_recipe_and_takes_nothing_out(
        parts in prop::collection::vec(0.1..10.0_f64, 2..=4), poured in prop::collection::vec(0.0..500.0_f64, 4),
        least in 0.0..500.0_f64,
    ) {
        let n = parts.len();
        let recipe = recipe(Basis::Weight, &parts, &vec![1.2; n]);
        let poured = &poured[..n];
        prop_assume!(poured.iter().any(|g| *g > 1.0));
        let mend = recipe.corrected(poured, least)?;
        prop_assert!(mend.add_g.iter().all(|g| *g >= 0.0));
        let grown = mend.total_g > least + 1e-9;
        prop_assert!(!grown || mend.add_g.iter().any(|g| *g < 1e-9), "what was over-poured needs none");
        prop_assert!(mend.total_g >= least && (mend.cumulative_g[n - 1] - mend.total_g).abs() < 1e-9);
        let whole: Vec<f64> = poured.iter().zip(&mend.add_g).map(|(a, b)| a + b).collect();
        for off in recipe.off(&whole)? {
            prop_assert!(off.abs() < 1e-9);
        }
    }

    #[test]
    fn parts_by_volume_and_by_weight_are_one_mix(
        parts in prop::collection::vec(0.1..10.0_f64, 3), densities in prop::collection::vec(0.7..2.0_f64, 3),
    ) {
        let by_volume = recipe(Basis::Volume, &parts, &densities);
        let by_weight = recipe(Basis::Weight, &by_volume.shares(Basis::Weight)?, &densities);
        for (a, b) in by_volume.shares(Basis::Volume)?.iter().zip(by_weight.shares(Basis::Volume)?) {
            prop_assert!((a - b).abs() < 1e-12);
        }
        prop_assert!((by_volume.density()? - by_weight.density()?).abs() < 1e-12);
    }

    #[test]
    fn any_finite_numbers_are_survived(n in crate::awkward::numbers(8)) {
        let component = |i: usize| Component { parts: n[i], density: Some(n[i + 1]) };
        if let Ok(recipe) = Recipe::new(Basis::Volume, vec![component(0), component(2)]) {
            if let Ok(pour) = recipe.pour(Amount::Millilitres(n[4])) {
                prop_assert!(pour.cumulative_g.iter().all(|g| g.is_finite()));
                if let Ok(targets) = pour.on_scale(n[5]) {
                    prop_assert!(targets.cumulative_g.iter().chain(&targets.one_division).chain(&targets.by_rounding).all(|g| g.is_finite()));
                }
            }
            if let Ok(mend) = recipe.corrected(&n[6..], n[5]) {
                prop_assert!(mend.add_g.iter().chain(&mend.cumulative_g).all(|g| g.is_finite()));
            }
            if let Ok(off) = recipe.off(&n[6..]) {
                prop_assert!(off.iter().all(|g| g.is_finite()));
            }
        }
        if let Ok(ml) = amount_to_mix(n[0], n[1], 3, n[2], n[3]) {
            prop_assert!(ml.is_finite());
        }
    }
}
