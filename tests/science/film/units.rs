//! Units of display against factors computed with a general-purpose units library (pint 0.25.3), and there and back.

use crate::rows::{Row, rows};
use comb_scale::quantity::{FilmUnit, LengthUnit, MassUnit, TemperatureUnit, Unit, VolumeUnit};
use comb_scale::science::air::MARGIN_5F;
use proptest::prelude::*;

/// Ounces of a pound, and fluid ounces of a US gallon, by definition.
const OZ_PER_LB: f64 = 16.0;
const FL_OZ_PER_GAL: f64 = 128.0;

fn litres_per_gallon() -> f64 {
    VolumeUnit::FlOz.stored(FL_OZ_PER_GAL) / 1000.0
}

/// Square metres of a square foot, from the inch.
fn square_foot() -> f64 {
    (LengthUnit::Inch.stored(12.0) / 1000.0).powi(2)
}

/// What the row converts, by the crate's own factors.
fn converted(row: &Row) -> f64 {
    let x = row.num("x");
    match row.unit("x") {
        "mil" => FilmUnit::Mil.stored(x),
        "lb" => MassUnit::Oz.stored(OZ_PER_LB * x),
        "US fl oz" => VolumeUnit::FlOz.stored(x),
        "US gal" => x * litres_per_gallon(),
        "ft2" => x * square_foot(),
        "lb/US gal" => MassUnit::Oz.stored(OZ_PER_LB * x) / litres_per_gallon(),
        "ft2/US gal" => x * square_foot() / litres_per_gallon(),
        // Litres over m²·m: a bare number once the film is in metres as well.
        "US gal/(ft2 mil)" => x * litres_per_gallon() / 1000.0 / (square_foot() * FilmUnit::Mil.stored(1e-6)),
        other => panic!("no conversion for {other}"),
    }
}

#[test]
fn conversions_computed_with_pint() {
    for row in rows("unit/convert", 8) {
        row.check("y", converted(&row));
    }
}

#[test]
fn fahrenheit_computed_with_pint() {
    for row in rows("unit/degF_to_degC", 3) {
        row.check("C", TemperatureUnit::F.stored(row.num("F")));
    }
}

/// A difference has no 32 in it: the 5 °F rule is 2.78 K.
#[test]
fn a_difference_in_fahrenheit_computed_with_pint() {
    for row in rows("unit/deltaF_to_K", 1) {
        let above = |degrees: f64| TemperatureUnit::F.stored(degrees);
        row.check("dK", above(60.0 + row.num("dF")) - above(60.0));
        row.check("dK", MARGIN_5F);
    }
}

/// Both ways round, to 1e-12 of the number (of 32 where a temperature is less).
fn assert_there_and_back<U: Unit>(value: f64, least: f64) -> Result<(), TestCaseError> {
    for &unit in U::ALL {
        for back in [unit.shown(unit.stored(value)), unit.stored(unit.shown(value))] {
            prop_assert!((back - value).abs() <= 1e-12 * value.abs().max(least), "{} {value} {back}", unit.key());
        }
    }
    Ok(())
}

proptest! {
    #[test]
    fn there_and_back_changes_nothing(value in prop_oneof![-1e5..1e5_f64, -1.0..1.0_f64, -1e-6..1e-6_f64]) {
        assert_there_and_back::<FilmUnit>(value, 0.0)?;
        assert_there_and_back::<LengthUnit>(value, 0.0)?;
        assert_there_and_back::<MassUnit>(value, 0.0)?;
        assert_there_and_back::<VolumeUnit>(value, 0.0)?;
        assert_there_and_back::<TemperatureUnit>(value, 32.0)?;
    }
}
