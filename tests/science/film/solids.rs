//! Solids, densities, wet and dry film.

use crate::rows::rows;
use comb_scale::science::Measured;
use comb_scale::science::input::{In, InputError};
use comb_scale::science::solids::{
    DISH_BETWEEN, Dish, cup_density, dish_solids, film, reduced_solids, volume_solids, weight_solids, wet_for_dry,
};
use proptest::prelude::*;

const MIL: f64 = 25.4;

fn exact(value: f64) -> Measured {
    Measured::exact(value)
}

/// Trade Q&A Oct 2003 (1.5 mil dry at 42 % = 3.57 mil wet); the rest computed with pint.
#[test]
fn wet_film_for_a_dry_one() {
    for row in rows("wetdry/wft", 5) {
        let unit = if row.unit("dft") == "mil" { MIL } else { 1.0 };
        row.check("wft", wet_for_dry(row.num("dft") * unit, row.num("vs"), row.num("th")).expect("numbers") / unit);
    }
}

/// Between-laboratory coefficient of variation of ASTM D2369, 1.7 %: more dishes in one oven do not average it away.
#[test]
fn dishes_share_the_error_of_their_oven() {
    let dish = |dry_g| Dish { empty_g: 1.5, wet_g: 2.0, dry_g };
    let many = dish_solids(&[dish(1.8); 50], 0.0001).expect("dishes");
    assert!((many.value - 0.6).abs() < 1e-12 && (many.u / many.value - DISH_BETWEEN).abs() < 1e-5);
    // By hand: solids 0.58 and 0.62, s = 0.028284, s/√2 = 0.02; with 0.017·0.6 = 0.0102 that makes 0.022450.
    let apart = dish_solids(&[dish(1.79), dish(1.81)], 0.0001).expect("dishes");
    assert!((apart.value - 0.6).abs() < 1e-12 && (apart.u - 0.022_450).abs() < 1e-6, "{apart:?}");
    assert_eq!(dish_solids(&[], 0.0001), Err(InputError::TooFew { what: "dishes", least: 1 }));
    assert!(dish_solids(&[dish(2.1)], 0.0001).is_err(), "a dish does not gain weight");
    assert!(dish_solids(&[dish(1.4)], 0.0001).is_err(), "nor end lighter than empty");
}

/// Trade coverage note 2022: 50 % with 10 % reducer is 45.45 %.
#[test]
fn reducer_lowers_solids() {
    for row in rows("wetdry/vs_thinned", 1) {
        let share = row.num("vs") / 100.0;
        row.check("vs", 100.0 * reduced_solids(share, row.num("th")).expect("numbers"));
    }
}

/// Solids by weight on a panel (numpy) and in a dish (ISO 3251 form, from memory; mpmath).
#[test]
fn solids_by_weight() {
    for row in rows("frommass/nv_panel", 2) {
        let nv = weight_solids(row.num("tare"), row.num("wet"), row.num("dry"), 0.0).expect("numbers").value;
        row.check("nv", 100.0 * nv);
        row.check("volatile", 100.0 * (1.0 - nv));
    }
    for row in rows("frommass/nv_dish", 1) {
        row.check(
            "nv",
            100.0 * weight_solids(row.num("m0"), row.num("m1"), row.num("m2"), 0.0).expect("numbers").value,
        );
    }
}

/// Mass balance (ISO 3233-3 scope; equation not read), computed with mpmath and `uncertainties`.
#[test]
fn solids_by_volume_from_weights() {
    for row in rows("frommass/nvv", 4) {
        let got = volume_solids(exact(row.num("nv") / 100.0), exact(row.num("rho")), exact(row.num("rho_s")))
            .expect("numbers");
        row.check("nvv", 100.0 * got.solids.value);
        row.check("rho_dry", got.dry_density.value);
    }
    for row in rows("frommass/nvv_u", 1) {
        let m = |name: &str, unit: f64| Measured::new(row.num(name) * unit, row.num(&format!("u_{name}")) * unit);
        let got = volume_solids(m("nv", 0.01), m("rho", 1.0), m("rho_s", 1.0)).expect("numbers");
        row.check("nvv", 100.0 * got.solids.value);
        row.check("u_nvv", 100.0 * got.solids.u);
        row.check("rho_dry", got.dry_density.value);
        row.check("u_rho_dry", got.dry_density.u);
    }
}

/// ASTM D1475 / ISO 2811-1 form (from memory), computed with pint.
#[test]
fn density_in_a_cup() {
    for row in rows("frommass/density_cup", 1) {
        let rho = cup_density(row.num("empty"), row.num("full"), 0.01, exact(row.num("V"))).expect("numbers");
        row.check("rho", rho.value);
        assert!((rho.u - 0.01 * 2.0_f64.sqrt() / 100.0).abs() < 1e-12);
    }
}

/// Film of a mass, computed with pint and `uncertainties` (GUM eq. (10)).
#[test]
fn film_of_a_mass() {
    for row in rows("frommass/wft", 2) {
        row.check("wft", film(exact(row.num("m")), exact(row.num("rho")), exact(row.num("A"))).expect("numbers").value);
    }
    for row in rows("frommass/dft_u", 1) {
        let m = |name: &str| Measured::new(row.num(name), row.num(&format!("u_{name}")));
        let got = film(m("m"), m("rho_dry"), m("A")).expect("numbers");
        row.check("dft", got.value);
        row.check("u", got.u);
    }
    for row in rows("mass/sensitivity", 2) {
        let of = |mass: &str, rho: &str| {
            film(exact(row.num(mass)), exact(row.num(rho)), exact(row.num("A"))).expect("numbers")
        };
        row.check("solvent_um", of("dm", "rho_s").value);
        row.check("step_um", of("d", "rho_dry").value);
    }
}

#[test]
fn impossible_solids_say_why() {
    assert_eq!(
        reduced_solids(1.2, 0.0),
        Err(InputError::Outside { what: "solids by volume", low: 0.0, high: 1.0, unit: In::Shares })
    );
    assert_eq!(reduced_solids(0.5, -0.1), Err(InputError::Negative("amount of reducer")));
    assert_eq!(weight_solids(10.0, 10.0, 10.0, 0.1), Err(InputError::NotPositive("wet coat")));
    // A paint far heavier than its solvent with few solids: no volume is left for them.
    let impossible = volume_solids(exact(0.2), exact(1.4), exact(0.87));
    assert_eq!(impossible, Err(InputError::NotPositive("solids by volume that follow from these densities")));
    assert_eq!(film(exact(1.0), exact(-1.0), exact(900.0)), Err(InputError::NotPositive("density")));
}

proptest! {
    #[test]
    fn more_reducer_needs_more_wet_film(dry in 1.0..500.0_f64, solids in 0.05..1.0_f64, th in 0.0..1.0_f64, more in 0.001..1.0_f64) {
        prop_assert!(wet_for_dry(dry, solids, th + more)? > wet_for_dry(dry, solids, th)?);
    }

    #[test]
    fn any_finite_numbers_are_survived(n in crate::awkward::numbers(8)) {
        let m = |i: usize| Measured::new(n[i], n[i + 1]);
        let results = [
            weight_solids(n[0], n[1], n[2], n[3]), cup_density(n[0], n[1], n[2], m(3)), film(m(0), m(2), m(4)),
            volume_solids(m(0), m(2), m(4)).map(|got| got.dry_density),
        ];
        for got in results.into_iter().flatten() {
            prop_assert!(got.value.is_finite() && got.u.is_finite());
        }
    }
}
