//! Solvent and VOC.

use crate::rows::{Row, rows};
use comb_scale::science::input::InputError;
use comb_scale::science::mix::MixError;
use comb_scale::science::voc::{EXEMPT_DENSITY, Ingredient, Organic, Volatiles, WATER_DENSITY};
use proptest::prelude::*;

/// g/L in 1 lb/US gal, exact by definition.
const LB_PER_GAL: f64 = 453.592_37 / 3.785_411_784;

/// The percentage form of the worked example as masses: 100 g of coating with S % solids and W % water.
fn hundred_grams(row: &Row) -> Volatiles {
    let water_g = row.num("W");
    let density = row.num("Dc") * LB_PER_GAL / 1000.0;
    let water_density = row.maybe("Dw").unwrap_or(8.33) * LB_PER_GAL / 1000.0;
    Volatiles {
        volatile_g: 100.0 - row.num("S"),
        water_g,
        exempt_g: 0.0,
        volume_ml: 100.0 / density,
        water_ml: water_g / water_density,
        exempt_ml: 0.0,
    }
}

/// Published worked example of a water-borne coating.
#[test]
fn water_borne_worked_example() {
    for row in rows("voc/less_water_pct", 1) {
        row.check("voc", hundred_grams(&row).less_water_and_exempt().expect("numbers") / LB_PER_GAL);
    }
    for row in rows("voc/actual_pct", 1) {
        row.check("voc", hundred_grams(&row).actual().expect("numbers") / LB_PER_GAL);
    }
}

/// Metal Finishing Guidebook App. B: with as much reducer as it allows, the mix is at the limit, to the figures in print.
#[test]
fn most_reducer_of_the_metal_finishing_guidebook() {
    for row in rows("voc/max_thinner", 1) {
        let paint = Ingredient::of_solvent(row.num("V"), row.num("total") / row.num("V"));
        let mix = |reducer: f64| {
            Volatiles::of_mix(&[paint, Ingredient::of_solvent(reducer, row.num("thin_voc"))])
                .and_then(|mix| Ok(mix.actual()?))
                .expect("components")
        };
        let (mut low, mut high) = (0.0, row.num("V"));
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            *(if mix(middle) > row.num("limit") { &mut high } else { &mut low }) = middle;
        }
        row.check("y", low);
    }
}

/// The same rows of the Metal Finishing Guidebook App. B, from the components of the mix.
#[test]
fn voc_of_components_is_the_guidebooks_mean() {
    for row in rows("voc/mix", 2) {
        let parts = row.list("v").into_iter().zip(row.list("voc"));
        let parts: Vec<Ingredient> =
            parts.map(|(v, voc)| Ingredient::of_solvent(1000.0 * v, voc * LB_PER_GAL)).collect();
        let mix = Volatiles::of_mix(&parts).expect("components");
        row.check("voc", mix.actual().expect("numbers") / LB_PER_GAL);
        row.check("voc", mix.less_water_and_exempt().expect("numbers") / LB_PER_GAL);
    }
}

/// The published water-borne example, as one component of a mix and with a reducer of nothing but water, which changes the VOC
/// of a litre and not the VOC less water.
#[test]
fn water_borne_component_of_a_mix() {
    let row = &rows("voc/less_water_pct", 1)[0];
    let paint = Ingredient {
        volume_ml: 400.0,
        density: Some(row.num("Dc") * LB_PER_GAL / 1000.0),
        organic: Organic::BesideSolids(row.num("S") / 100.0),
        water: row.num("W") / 100.0,
        exempt: 0.0,
        exempt_density: EXEMPT_DENSITY,
    };
    let water =
        Ingredient { volume_ml: 40.0, density: Some(WATER_DENSITY), water: 1.0, ..Ingredient::of_solvent(0.0, 0.0) };
    for parts in [&[paint][..], &[paint, water]] {
        let less = Volatiles::of_mix(parts).and_then(|mix| Ok(mix.less_water_and_exempt()?));
        row.check("voc", less.expect("numbers") / LB_PER_GAL);
    }
    let actual = |parts: &[Ingredient]| Volatiles::of_mix(parts).and_then(|mix| Ok(mix.actual()?)).expect("numbers");
    for row in rows("voc/actual_pct", 1) {
        row.check("voc", actual(&[paint]) / LB_PER_GAL);
    }
    assert!((actual(&[paint, water]) / actual(&[paint]) - 1.0 / 1.1).abs() < 1e-12);
    // Per volume of solids water drops out.
    let per_solids = |parts: &[Ingredient], solids: f64| {
        Volatiles::of_mix(parts).and_then(|mix| Ok(mix.per_volume_of_solids(solids)?)).expect("numbers")
    };
    assert!((per_solids(&[paint], 0.22) - per_solids(&[paint, water], 0.2)).abs() < 1e-9);
}

/// Exempt solvent counts neither as VOC nor as volume; worked out by hand. 100 mL of 1.0 g/mL with 40 % solids, 30 % acetone
/// of 0.8 g/mL: 30 g of VOC in 62.5 mL.
#[test]
fn exempt_solvent_is_taken_out_of_both() {
    let paint = Ingredient {
        volume_ml: 100.0,
        density: Some(1.0),
        organic: Organic::BesideSolids(0.4),
        water: 0.0,
        exempt: 0.3,
        exempt_density: 0.8,
    };
    let mix = Volatiles::of_mix(&[paint]).expect("a component");
    assert!((mix.actual().expect("numbers") - 300.0).abs() < 1e-9);
    assert!((mix.less_water_and_exempt().expect("numbers") - 480.0).abs() < 1e-9);
    let none = Ingredient { density: None, ..paint };
    assert_eq!(Volatiles::of_mix(&[Ingredient::of_solvent(1.0, 300.0), none]), Err(MixError::DensityUnknown(1)));
    let over_full = Volatiles::of_mix(&[Ingredient { water: 0.5, ..paint }]).unwrap_err();
    assert!(
        matches!(over_full, MixError::Input(InputError::Negative(what)) if what.contains("beside solids")),
        "{over_full:?}"
    );
    assert!(Volatiles::of_mix(&[]).is_err());
}

/// 40 CFR 59.104(a)(1), computed with mpmath.
#[test]
fn less_water_and_exempt_of_40_cfr_59_104() {
    for row in rows("voc/cfr59", 1) {
        let mix = Volatiles {
            volatile_g: row.num("Wv"),
            water_g: row.num("Ww"),
            exempt_g: row.num("Wec"),
            volume_ml: row.num("V"),
            water_ml: row.num("Vw"),
            exempt_ml: row.num("Vec"),
        };
        row.check("voc", mix.less_water_and_exempt().expect("numbers"));
    }
}

/// Published errors of the Metal Finishing Guidebook: its 3:1 mix prints 2.75, and its two-pack example divides 15.9 by 5
/// where 4:1 of 3.6 and 2.2 make 16.6.
#[test]
fn misprinted_vocs_do_not_come_out() {
    let of = |parts: [(f64, f64); 2]| {
        let parts = parts.map(|(volume, voc)| Ingredient::of_solvent(volume, 100.0 * voc));
        Volatiles::of_mix(&parts).and_then(|mix| Ok(mix.actual()?)).expect("numbers") / 100.0
    };
    assert!((of([(3.0, 3.1), (1.0, 1.8)]) - 2.775).abs() < 1e-12);
    let two_pack = of([(4.0, 3.6), (1.0, 2.2)]);
    assert!((two_pack - 3.32).abs() < 1e-12 && (two_pack - 15.9 / 5.0).abs() > 0.1);
}

/// Published error of the Metal Finishing Guidebook 2013, App. B, example 3 with water: 52 % water and 42 % solids by
/// volume, solvent of 7.36 lb/US gal. It then takes the solids as 0.52 and prints 0.76 lb/US gal; 0.42 makes
/// 0.06·7.36/0.48 = 0.92. The volumes are those of 100 mL of coating.
#[test]
fn misprinted_voc_less_water_does_not_come_out() {
    let less_water = |solids_ml: f64, water_ml: f64| {
        let solvent_ml = 6.0;
        // Water of 1 g/mL; its mass leaves with the volatiles and is taken off again.
        let mix = Volatiles {
            volatile_g: solvent_ml * 7.36 * LB_PER_GAL / 1000.0 + water_ml,
            water_g: water_ml,
            exempt_g: 0.0,
            volume_ml: solids_ml + water_ml + solvent_ml,
            water_ml,
            exempt_ml: 0.0,
        };
        format!("{:.2}", mix.less_water_and_exempt().expect("numbers") / LB_PER_GAL)
    };
    assert_eq!(less_water(42.0, 52.0), "0.92");
    // The slip itself: solids of 0.52.
    assert_eq!(less_water(52.0, 42.0), "0.76");
}

#[test]
fn impossible_volatiles_say_why() {
    let mix =
        Volatiles { volatile_g: 5.0, water_g: 6.0, exempt_g: 0.0, volume_ml: 10.0, water_ml: 6.0, exempt_ml: 0.0 };
    assert!(matches!(mix.actual(), Err(InputError::Negative(what)) if what.contains("less water")));
    let all_water = Volatiles { volatile_g: 6.0, water_ml: 10.0, ..mix };
    assert!(all_water.less_water_and_exempt().is_err());
}

proptest! {
    #[test]
    fn any_finite_mix_is_survived(n in crate::awkward::numbers(10)) {
        let part = |i: usize, organic| Ingredient {
            volume_ml: n[i], density: Some(n[i + 1]), organic, water: n[i + 2], exempt: n[i + 3], exempt_density: n[8],
        };
        if let Ok(mix) = Volatiles::of_mix(&[part(0, Organic::PerLitre(n[9])), part(4, Organic::BesideSolids(n[9]))]) {
            let answers = [mix.actual(), mix.less_water_and_exempt(), mix.per_volume_of_solids(n[9])];
            prop_assert!(answers.into_iter().flatten().all(|voc| voc.is_finite() && voc >= 0.0));
        }
    }

    #[test]
    fn more_solvent_in_a_component_is_more_voc(voc in 0.0..800.0_f64, more in 0.1..100.0_f64, solids in 0.1..0.9_f64) {
        let of = |voc| Volatiles::of_mix(&[Ingredient::of_solvent(100.0, voc), Ingredient::of_solvent(25.0, 300.0)]);
        let (less, more) = (of(voc)?, of(voc + more)?);
        prop_assert!(more.actual()? > less.actual()?);
        prop_assert!(more.per_volume_of_solids(solids)? > less.per_volume_of_solids(solids)?);
        prop_assert!(less.per_volume_of_solids(solids + 0.05)? <= less.per_volume_of_solids(solids)?);
    }

}
