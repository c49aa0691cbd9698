//! Coverage and cost.

use crate::rows::rows;
use comb_scale::science::input::InputError;
use comb_scale::science::solids::reduced_solids;
use comb_scale::science::spread::{
    Pack, coats_needed, coverage, mix_price, price_at_build, price_per_area, wet_as_kept, wet_to_spray,
};
use comb_scale::science::{Estimate, Measured};
use proptest::prelude::*;

const MIL: f64 = 25.4;
/// 1 ft²/US gal in m²/L, exact by definition.
const FT2_PER_GAL: f64 = 0.092_903_04 / 3.785_411_784;

fn ft2_per_gal(solids: f64, efficiency: f64, mil: f64) -> f64 {
    coverage(solids, efficiency, mil * MIL).expect("numbers") / FT2_PER_GAL
}

/// Trade Q&A Oct 2003, spreading-rate sheet, plant-maintenance article 2006, MIL-HDBK-1110 2.1.5, coverage handout; two
/// computed with pint because the print is wrong.
#[test]
fn coverage_in_square_feet_per_gallon() {
    for row in rows("cover/ft2_gal", 18) {
        row.check("cov", ft2_per_gal(row.num("vs"), row.num("te"), row.num("dft")));
    }
}

/// Coverage handout and trade coverage note 2022.
#[test]
fn coverage_in_square_metres_per_litre() {
    for row in rows("cover/m2_L", 11) {
        row.check("cov", coverage(row.num("vs") / 100.0, row.num("te"), row.num("dft")).expect("numbers"));
    }
}

/// Computed with pint; trade cost-per-mil article.
#[test]
fn cost_by_area_by_mil_and_by_solids() {
    for row in rows("cover/cost_ft2", 3) {
        let cov = ft2_per_gal(row.num("vs"), row.num("te"), row.num("dft"));
        row.check("cov", cov);
        row.check("cost", price_per_area(row.num("price"), cov).expect("numbers"));
    }
    for row in rows("cover/cost_ft2_mil", 1) {
        let cov = ft2_per_gal(row.num("vs"), row.num("te"), 1.0);
        row.check("cost", price_per_area(row.num("price"), cov).expect("numbers"));
    }
    for row in rows("cover/cost_m2", 1) {
        let cov = coverage(row.num("vs") / 100.0, row.num("te"), row.num("dft")).expect("numbers");
        row.check("cov", cov);
        row.check("cost", price_per_area(row.num("price"), cov).expect("numbers"));
        let exact = |name: &str, by: f64| Measured::exact(row.num(name) / by);
        let at_build = price_at_build(row.num("price"), row.num("dft"), 0.0, exact("vs", 100.0), exact("te", 1.0));
        row.check("cost", at_build.expect("numbers").mid);
    }
}

/// Published error: a Dec 2009 trade Q&A puts solids and efficiency in the denominator of coverage. More of either must give
/// more area.
#[test]
fn solids_and_efficiency_belong_in_the_numerator() {
    assert!(ft2_per_gal(0.6, 0.5, 2.0) > ft2_per_gal(0.5, 0.5, 2.0));
    assert!(ft2_per_gal(0.5, 0.6, 2.0) > ft2_per_gal(0.5, 0.5, 2.0));
    let wrong = 1604.1667 / (0.5 * 0.5 * 2.0);
    assert!((ft2_per_gal(0.5, 0.5, 2.0) - wrong).abs() > 1000.0);
}

/// Published errors: stored text of MIL-HDBK-1110 2.1.5 (600 for 50 % at 1 mil), a coverage table (72 % at 2 mil = 527), a
/// coverage note 2022 (7.57 m²/L), a trade cost article (294 and 358 ft²/gal, $0.14 and $0.12), and a figure of $0.148.
#[test]
fn misprinted_coverages_do_not_come_out() {
    assert!((ft2_per_gal(0.5, 1.0, 1.0) - 600.0).abs() > 200.0);
    assert!((ft2_per_gal(0.72, 1.0, 2.0) - 527.0).abs() > 50.0);
    let note = coverage(reduced_solids(0.5, 0.1).expect("numbers"), 1.0, 60.0).expect("numbers");
    assert_eq!(format!("{note:.2}"), "7.58");
    assert_eq!(format!("{:.1}", ft2_per_gal(0.46, 1.0, 2.5)), "295.2");
    assert_eq!(format!("{:.1}", ft2_per_gal(0.56, 1.0, 2.5)), "359.3");
    let cost = |price, solids| price_per_area(price, ft2_per_gal(solids, 1.0, 2.5)).expect("numbers");
    assert_eq!(format!("{:.4}", cost(43.5, 0.46)), "0.1474");
    assert_eq!(format!("{:.4}", cost(44.75, 0.56)), "0.1245");
}

/// Plain sampling with numpy (scripts/spread_sampling.py).
#[test]
fn wet_film_and_price_agree_with_sampling() {
    let table: serde_json::Value = serde_json::from_str(include_str!("data/spread_sampling.json")).expect("JSON");
    for case in table.as_array().expect("a list") {
        let n = |name: &str| case[name].as_f64().expect("a number");
        let m = |name: &str| Measured::new(n(name), n(&format!("u_{name}")));
        let wet = wet_to_spray(n("wanted"), n("sanding"), m("vs"), m("th")).expect("numbers");
        let price = price_at_build(n("price"), n("wanted"), n("sanding"), m("vs"), m("te")).expect("numbers");
        for (name, got) in [("wet", wet), ("price_m2", price)] {
            let sampled = |i: usize| case[name][i].as_f64().expect("a number");
            let tolerance = 0.03 * (sampled(1) - sampled(0));
            assert!((got.low - sampled(0)).abs() < tolerance, "{name}: got {got:?}, sampled {}", case[name]);
            assert!((got.high - sampled(1)).abs() < tolerance, "{name}: got {got:?}, sampled {}", case[name]);
        }
    }
}

/// What the sheet and what the panels say come to one where both are exact; more sanding needs more of all.
#[test]
fn wet_film_by_sheet_and_by_panels() {
    let by_sheet = wet_to_spray(80.0, 20.0, Measured::exact(0.55), Measured::exact(0.1)).expect("numbers");
    let by_panels = wet_as_kept(80.0, 20.0, &Estimate { low: 0.5, mid: 0.5, high: 0.5 }).expect("numbers");
    for (a, b) in [(by_sheet.low, by_panels.low), (by_sheet.mid, by_panels.mid), (by_sheet.high, by_panels.high)] {
        assert!((a - b).abs() < 1e-9 && (a - 200.0).abs() < 1e-9);
    }
    assert!(wet_as_kept(80.0, 20.0, &Estimate { low: 0.0, mid: 0.5, high: 0.6 }).is_err());
    assert!(wet_as_kept(80.0, 20.0, &Estimate { low: 0.6, mid: 0.5, high: 0.4 }).is_err(), "limits out of order");
    assert!(price_at_build(38.0, 75.0, -1.0, Measured::exact(0.45), Measured::exact(0.5)).is_err());
    assert!(price_at_build(38.0, 75.0, 0.0, Measured::exact(0.45), Measured::new(0.5, -0.1)).is_err());
    let anything = price_at_build(38.0, 75.0, 0.0, Measured::exact(0.45), Measured::new(0.5, 0.3)).unwrap_err();
    let low = InputError::NotPositive("lower limit of solids by volume and transfer efficiency");
    assert_eq!(anything, low, "no limit where it may be nothing");
}

#[test]
fn coats_and_sanding() {
    let exactly_two = coats_needed(60.0, 0.0, 0.5, 0.0, 60.0).expect("numbers");
    assert_eq!(exactly_two.coats, 2);
    let sanded = coats_needed(60.0, 1.0, 0.5, 0.0, 60.0).expect("numbers");
    assert_eq!(sanded.coats, 3);
    assert!((sanded.wet_each_um * 3.0 - 122.0).abs() < 1e-9);
    assert!(coats_needed(1e9, 0.0, 0.5, 0.0, 1.0).is_err());
    assert!(matches!(
        coats_needed(60.0, 0.0, 1.5, 0.0, 60.0),
        Err(InputError::Outside { what: "solids by volume", .. })
    ));
}

#[test]
fn packs_that_do_not_make_a_whole_say_why() {
    let pack = |share, litres| Pack { share, litres, price: 10.0 };
    assert!(mix_price(&[]).is_err());
    assert!(matches!(
        mix_price(&[pack(0.5, 1.0)]),
        Err(InputError::Outside { what: "sum of the shares of the mix", .. })
    ));
    assert_eq!(mix_price(&[pack(0.5, 0.0), pack(0.5, 1.0)]), Err(InputError::NotPositive("content of the pack")));
    // Matched packs leave nothing, and then both prices are the same.
    let matched = mix_price(&[pack(0.8, 4.0), pack(0.2, 1.0)]).expect("packs");
    assert!(matched.left_l.iter().all(|left| left.abs() < 1e-12));
    assert!((matched.per_litre - matched.per_litre_left_thrown_away).abs() < 1e-12);
}

/// What leaves is the wet film less the dry one, at the density of what leaves (10⁻³ L on a m² is a µm).
#[test]
fn what_a_build_gives_off_is_the_film_that_goes() {
    let kept = Estimate { low: 0.45, mid: 0.52, high: 0.6 };
    let wet = wet_as_kept(75.0, 5.0, &kept).expect("numbers");
    let off = comb_scale::science::solvent::at_build(75.0, 5.0, &kept, 0.9).expect("numbers");
    for (off, wet) in [(off.low, wet.low), (off.mid, wet.mid), (off.high, wet.high)] {
        assert!((off - 0.9 * (wet - 80.0)).abs() < 1e-9, "{off} g/m² from {wet} µm");
    }
    let sure = |low: f64| comb_scale::science::solvent::at_build(75.0, 5.0, &Estimate { low, ..kept }, 0.9);
    assert!(sure(0.0).is_err() && sure(-0.1).is_err(), "nothing bounds it");
}

proptest! {
    #[test]
    fn coverage_falls_with_film(solids in 0.05..1.0_f64, um in 1.0..500.0_f64, more in 0.1..100.0_f64) {
        prop_assert!(coverage(solids, 1.0, um + more)? < coverage(solids, 1.0, um)?);
    }

    #[test]
    fn more_film_or_sanding_takes_more(
        um in 1.0..300.0_f64, sanding in 0.0..50.0_f64, more in 0.1..50.0_f64, solids in 0.1..0.9_f64, u in 0.0..0.05_f64,
    ) {
        let (solids, te) = (Measured::new(solids, u), Measured::new(0.5, u));
        let wet = |um, sanding| wet_to_spray(um, sanding, solids, Measured::exact(0.1));
        let price = |um, sanding| price_at_build(30.0, um, sanding, solids, te);
        for (less, more) in [
            (wet(um, sanding)?, wet(um + more, sanding)?), (wet(um, sanding)?, wet(um, sanding + more)?),
            (price(um, sanding)?, price(um + more, sanding)?), (price(um, sanding)?, price(um, sanding + more)?),
        ] {
            prop_assert!(less.low < more.low && less.mid < more.mid && less.high < more.high);
            prop_assert!(less.low > 0.0 && less.low <= less.mid && less.mid <= less.high);
        }
    }

    #[test]
    fn any_finite_numbers_are_survived(n in crate::awkward::numbers(6)) {
        let m = |i: usize| Measured::new(n[i], n[i + 1]);
        let kept = Estimate { low: n[2], mid: n[3], high: n[4] };
        let estimates =
            [wet_to_spray(n[0], n[1], m(2), m(4)), wet_as_kept(n[0], n[1], &kept), price_at_build(n[0], n[1], n[2], m(2), m(4))];
        for got in estimates.into_iter().flatten() {
            prop_assert!(got.low.is_finite() && got.high.is_finite() && got.low <= got.mid && got.mid <= got.high);
        }
        if let Ok(got) = price_per_area(n[2], n[3]) {
            prop_assert!(got.is_finite());
        }
        if let Ok(m2) = coverage(n[0], n[1], n[2]) {
            prop_assert!(m2.is_finite());
        }
        if let Ok(coats) = coats_needed(n[0], n[1], n[2], n[3], n[4]) {
            prop_assert!(coats.wet_um.is_finite() && coats.wet_each_um.is_finite());
        }
        if let Ok(price) = mix_price(&[Pack { share: 0.5, litres: n[0], price: n[1] }, Pack { share: 0.5, litres: n[2], price: n[3] }]) {
            prop_assert!(price.per_litre.is_finite() && price.mix_l.is_finite());
        }
    }
}
