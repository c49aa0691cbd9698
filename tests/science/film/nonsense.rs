//! Whatever finite numbers come in, no panic and no NaN or infinity comes out, from any public function of the science that is
//! not drying; and none is left out of that.

use crate::awkward::{number, numbers};
use crate::samples::{pairs, welch};
use comb_scale::science::comb::{
    CombPrior, CombReading, Interval, Teeth, another_reading, hull_um, interval_on, log_likelihood, scatter_seen,
    wet_film,
};
use comb_scale::science::compare::{
    CandidateMean, Contender, Loss, PanelValue, Shared, candidate, days_at_build, favoured_by_age, judged, pair,
};
use comb_scale::science::film::{base_metal, dry_film, spot, summary, too_near_edge, verify};
use comb_scale::science::input::{In, InputError, answer, finite, not_negative, positive, share, within};
use comb_scale::science::mix::{
    Amount, Basis, Component, Recipe, ReducerOf, amount_to_mix, area_to_spray, reducer_parts,
};
use comb_scale::science::pot::cup;
use comb_scale::science::routes::{dry_per_wet, normalised_error};
use comb_scale::science::solids::{
    Dish, cup_density, dish_solids, film, reduced_solids, volume_solids, weight_solids, weight_solids_reduced,
    wet_for_dry,
};
use comb_scale::science::solvent::at_build;
use comb_scale::science::spread::{
    Pack, coats_needed, coverage, mix_price, price_at_build, price_per_area, wet_as_kept, wet_to_spray,
};
use comb_scale::science::stats::{
    Difference, MeanVariance, holm, least_shown, panels_needed, panels_to_show, power, t_probability, t_quantile,
};
use comb_scale::science::voc::{Ingredient, Organic, Volatiles};
use comb_scale::science::weigh::{reading_u, repeatability, trend};
use comb_scale::science::{Distribution, Estimate, Measured, air};
use proptest::prelude::*;

/// All numbers of an answer.
trait Numbers {
    fn numbers(&self) -> Vec<f64>;
}

impl Numbers for f64 {
    fn numbers(&self) -> Vec<f64> {
        vec![*self]
    }
}

impl Numbers for Measured {
    fn numbers(&self) -> Vec<f64> {
        vec![self.value, self.u]
    }
}

impl Numbers for Estimate {
    fn numbers(&self) -> Vec<f64> {
        vec![self.low, self.mid, self.high]
    }
}

impl Numbers for (f64, f64) {
    fn numbers(&self) -> Vec<f64> {
        vec![self.0, self.1]
    }
}

impl<T: Numbers> Numbers for Vec<T> {
    fn numbers(&self) -> Vec<f64> {
        self.iter().flat_map(Numbers::numbers).collect()
    }
}

impl<T: Numbers> Numbers for Option<T> {
    fn numbers(&self) -> Vec<f64> {
        self.as_ref().map_or(vec![], Numbers::numbers)
    }
}

impl<T: Numbers, E> Numbers for Result<T, E> {
    fn numbers(&self) -> Vec<f64> {
        self.as_ref().map_or(vec![], Numbers::numbers)
    }
}

impl Numbers for PanelValue {
    fn numbers(&self) -> Vec<f64> {
        let shared = self.shared.iter().map(|error| error.by);
        shared.chain([self.value, self.own_u, self.forecast.mean(), self.forecast.sd()]).collect()
    }
}

impl Numbers for CandidateMean {
    fn numbers(&self) -> Vec<f64> {
        vec![self.mean, self.sd.unwrap_or(0.0), self.interval.low, self.interval.mid, self.interval.high]
    }
}

/// Fails naming the function that let something else than a number out.
macro_rules! all_numbers {
    ($($call:expr),+ $(,)?) => {
        $({
            let got = $call;
            prop_assert!(got.numbers().iter().all(|x| x.is_finite()), "{}: {:?}", stringify!($call), got.numbers());
        })+
    };
}

fn m(n: &[f64], i: usize) -> Measured {
    Measured::new(n[i], n[i + 1])
}

/// A distribution of awkward values and weights, refused or not.
fn distribution(n: &[f64]) -> Result<Distribution, InputError> {
    Distribution::new(vec![(n[0], n[1]), (n[2], n[3]), (n[4], n[5])], n[6])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn of_what_is_weighed_and_gauged(n in numbers(10), many in prop::collection::vec(number(), 0..8)) {
        all_numbers!(
            reading_u(n[0], n[1]), repeatability(&many),
            trend(&n[..4], &n[4..8], n[8], n[9]).map(|t| vec![t.loss_rate, t.lowest, t.highest]),
            summary("readings", &many).map(|s| vec![s.mean, s.sd.unwrap_or(0.0), s.lowest, s.highest]),
            spot(&many).map(|s| vec![s.mean, s.sd.unwrap_or(0.0)]),
            base_metal(&many).map(|b| vec![b.mean_um, b.u_um]), dry_film(&many, n[0], None).map(|d| d.film_um),
            base_metal(&n[..3]).and_then(|base| dry_film(&many, n[4], Some(&base))).map(|d| d.film_um),
            verify(n[0], n[1], n[2], n[3]).map(|v| vec![v.error_um, v.limit_um]),
        );
        let _ = too_near_edge(n[0], true);
    }

    #[test]
    fn of_solids_and_solvent(n in numbers(10)) {
        let organic = Organic::BesideSolids(n[0]);
        let paint = Ingredient { organic, density: Some(n[1]), water: n[2], exempt: n[3], ..Ingredient::of_solvent(n[4], n[5]) };
        let dish = |i: usize| Dish { empty_g: n[i], wet_g: n[i + 1], dry_g: n[i + 2] };
        all_numbers!(
            weight_solids(n[0], n[1], n[2], n[3]), dish_solids(&[dish(0), dish(3)], n[6]), dish_solids(&[dish(0)], n[6]),
            cup_density(n[0], n[1], n[2], m(&n, 3)),
            volume_solids(m(&n, 0), m(&n, 2), m(&n, 4)).map(|v| vec![v.solids, v.dry_density]),
            film(m(&n, 0), m(&n, 2), m(&n, 4)),
            reduced_solids(n[0], n[1]), wet_for_dry(n[0], n[1], n[2]), weight_solids_reduced(n[0], n[1]),
            dry_per_wet(m(&n, 0), m(&n, 2), m(&n, 4)), normalised_error(m(&n, 0), m(&n, 2)),
            Volatiles::of_mix(&[paint]).and_then(|v| Ok(v.actual()?)),
        );
    }

    #[test]
    fn of_mixing_and_spraying(n in numbers(10), count in 0..5_usize) {
        let component = |i: usize| Component { parts: n[i], density: Some(n[i + 1]) };
        for basis in [Basis::Volume, Basis::Weight] {
            let Ok(recipe) = Recipe::new(basis, vec![component(0), component(2), component(4)]) else { continue };
            let poured = &n[6..9];
            prop_assert!(!recipe.is_one_pack());
            all_numbers!(
                recipe.shares(Basis::Volume), recipe.shares(Basis::Weight), recipe.density(), recipe.off(poured),
                recipe.thinning(&[1], basis), recipe.corrected(poured, n[9]).map(|c| vec![c.add_g, c.cumulative_g]),
            );
            for amount in [Amount::Millilitres(n[8]), Amount::Grams(n[8]), Amount::Of { component: 1, grams: n[8] }] {
                all_numbers!(recipe.pour(amount).map(|p| vec![p.grams, p.cumulative_g, p.millilitres.unwrap_or_default()]));
            }
        }
        let prices = [Pack { share: n[0], litres: n[1], price: n[2] }, Pack { share: 1.0 - n[0], litres: n[3], price: n[4] }];
        let kept = Estimate { low: n[2], mid: n[3], high: n[4] };
        all_numbers!(
            reducer_parts(&n[..3], n[3], ReducerOf::Base),
            area_to_spray(&[(n[0], n[1]), (n[2], n[3])], n[4]), amount_to_mix(n[0], n[1], count, n[2], n[3]),
            at_build(n[0], n[1], &Estimate { low: n[2], mid: n[3], high: n[4] }, n[5]),
            coverage(n[0], n[1], n[2]), price_per_area(n[0], n[1]),
            coats_needed(n[0], n[1], n[2], n[3], n[4]).map(|c| vec![c.wet_um, c.wet_each_um]),
            wet_to_spray(n[0], n[1], m(&n, 2), m(&n, 4)), wet_as_kept(n[0], n[1], &kept),
            price_at_build(n[0], n[1], n[2], m(&n, 3), m(&n, 5)),
            mix_price(&prices).map(|p| vec![p.per_litre, p.per_litre_left_thrown_away, p.mix_l]),
            mix_price(&prices).map(|p| p.left_l),
            air::dew_point(m(&n, 0), m(&n, 2)), air::dew_margin(m(&n, 0), m(&n, 2)).map(|d| d.margin_k),
        );
        let _ = (air::too_damp(n[0]), cup(n[0], n[1], Some(n[2])));
    }

    #[test]
    fn of_the_comb(n in numbers(8), count in 1..4_usize) {
        let dab = CombReading { wetted_um: n[0], touched_um: (count > 2).then_some(n[1]), dry_um: (count > 1).then_some(n[2]) };
        let ends = |of: Interval| vec![of.low_um, of.high_um];
        let edges: Vec<Teeth> = Teeth::new(n[..3].to_vec()).into_iter().chain(Teeth::new(n[3..6].to_vec())).collect();
        all_numbers!(dab.interval_alone().map(ends), interval_on(&edges, &dab).map(ends));
        let dabs: Vec<Interval> = (0..count)
            .map(|i| Interval { low_um: Some(n[i]), high_um: (i != 2).then_some(n[i + 3]), touched_um: None })
            .collect();
        for prior in [CombPrior::default(), CombPrior { spread: n[6], ln_spread_sd: n[7], bias: n[5] }] {
            all_numbers!(
                wet_film(&dabs, &prior).map(|f| vec![f.mean_um, f.sd_um, f.bias_um, f.film_um.low, f.film_um.high]),
                another_reading(&dabs, &prior),
            );
        }
        all_numbers!(log_likelihood(&dabs, n[6], n[7]), vec![hull_um(&dabs).0, hull_um(&dabs).1.unwrap_or(0.0)]);
        let _ = scatter_seen(&dabs);
    }

    #[test]
    fn of_distributions(n in numbers(9)) {
        for of in [Ok(m(&n, 0).into()), distribution(&n)].into_iter().flatten() {
            all_numbers!(of.estimate(), of.quantile(n[7]));
            for then in [of.error(n[7]), of.narrowed(n[8]), Distribution::mean_of_one_error(&[&of, &of])].into_iter().flatten() {
                all_numbers!(then.estimate(), then.quantile(0.3));
            }
            all_numbers!(of.blurred(n[7]).estimate(), of.points().to_vec());
        }
        let estimate = Estimate::normal(n[0], n[1]);
        all_numbers!(
            estimate, estimate.scaled(n[2]), vec![estimate.width(), estimate.u()],
            m(&n, 0).estimate(), m(&n, 0).relative(),
            finite("number", n[0]), positive("number", n[0]), not_negative("number", n[0]), share("number", n[0]),
            within("number", n[0], n[1], n[2], In::Numbers), answer(n[0]), m(&n, 0).checked("number"),
        );
    }

    #[test]
    fn of_comparison(n in numbers(12)) {
        let by = [(m(&n, 4), Some("a".to_string())), (m(&n, 6), None)];
        let forecast = distribution(&n).and_then(|of| of.error(n[7]));
        let mut values: Vec<PanelValue> = vec![PanelValue::new(n[0], n[1]), PanelValue::new(n[2], n[3])];
        values[0].shared.push(Shared { source: "a".into(), by: n[4] });
        if let Ok(forecast) = forecast {
            values[1].forecast = forecast;
        }
        for loss in [Loss::Weighed(m(&n, 0)), Loss::Forecast(&m(&n, 2).into())] {
            let value = PanelValue::of_loss(loss, n[8], &by);
            all_numbers!(value.clone(), value.clone().and_then(PanelValue::kept));
            values.extend(value);
        }
        let means: Vec<CandidateMean> =
            [&values[..], &values[..1], &values[1..2], &values[..2]].iter().filter_map(|some| candidate(some).ok()).collect();
        all_numbers!(means.clone());
        let contenders: Vec<Contender> = means.iter().map(|mean| Contender { mean, mixes: 1 }).collect();
        // A pair as it stood when there were more candidates.
        if let [a, b, ..] = &means[..] {
            let stale = pair(0, a, 9, b).and_then(|stale| judged(vec![stale], &contenders));
            all_numbers!(stale.map(|pairs| pairs[0].difference));
        }
        if let Ok(pairs) = pairs(&contenders) {
            for pair in pairs {
                all_numbers!(pair.difference, pair.p, pair.p_holm);
                prop_assert!(pair.difference.low <= pair.difference.mid && pair.difference.mid <= pair.difference.high);
                prop_assert!(pair.p.is_none_or(|p| (0.0..=1.0).contains(&p)));
            }
        }
        let part = |i: usize| MeanVariance { variance: n[i], degrees: Some(n[i + 1]) };
        let difference = Difference::new(n[0], &[part(1), part(3)]);
        all_numbers!(
            difference.map(|d| vec![d.value, d.se, d.degrees, d.t, d.p]),
            welch(&n[..3], &n[3..6]).map(|d| vec![d.t, d.p]), holm(&n[..4]), t_quantile(n[0], n[1]), t_probability(n[0], n[1]),
            power(n[0], 3, n[1]), least_shown(3, n[0], n[1]).map(Option::unwrap_or_default), days_at_build(n[0], n[1], n[2]),
        );
        let _ = (favoured_by_age(n[0], n[1]), panels_needed(n[0], 3, n[1]), panels_to_show(n[0], n[1], 3));
    }
}

/// Every public function of the science is called in these tests, by its name.
#[test]
fn no_public_function_is_forgotten() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let called = texts(&root.join("tests/science/film")).join("\n");
    // Names of things that give back a part, a copy or another order and work nothing out.
    let plain = ["um", "g", "exact", "new", "sort_by", "places", "arrange"];
    let mut forgotten = Vec::new();
    for text in texts(&root.join("src/science")) {
        for line in text.lines().filter_map(|line| line.trim_start().strip_prefix("pub ")) {
            let line = line.trim_start_matches("const ");
            let Some(name) = line.strip_prefix("fn ").and_then(|rest| rest.split(['(', '<']).next()) else { continue };
            let calls = |word: &str| called.match_indices(word).any(|(at, _)| is_word(&called, at, word.len()));
            if !plain.contains(&name) && !calls(name) {
                forgotten.push(name.to_string());
            }
        }
    }
    assert!(forgotten.is_empty(), "not called in the tests: {forgotten:?}");
}

fn is_word(text: &str, at: usize, length: usize) -> bool {
    let part_of_a_name = |c: char| c.is_alphanumeric() || c == '_';
    let before = text[..at].chars().next_back().is_some_and(part_of_a_name);
    let after = text[at + length..].chars().next().is_some_and(part_of_a_name);
    !before && !after
}

/// Rust sources under a directory; drying has tests of its own.
fn texts(directory: &std::path::Path) -> Vec<String> {
    let mut texts = Vec::new();
    for entry in std::fs::read_dir(directory).expect("a directory") {
        let path = entry.expect("an entry").path();
        if path.is_dir() && !path.ends_with("drying") {
            texts.extend(self::texts(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            texts.push(std::fs::read_to_string(&path).expect("a source"));
        }
    }
    texts
}
