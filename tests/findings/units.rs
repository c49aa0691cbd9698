//! Units, decimal mark and clock: what is typed reads back the same, what is stored stays, and every sentence follows.

use comb_scale::findings::results::side_by_side;
use comb_scale::findings::words::{read_in, show_in, unit_of};
use comb_scale::findings::{Wording, of};
use comb_scale::quantity::{
    FilmUnit, GramsPerMillilitre, LengthUnit, Manner, MassUnit, Micrometres, Quantity, TemperatureUnit, Units,
    VolumeUnit,
};
use comb_scale::record::{EXAMPLE, Measure, open, write};
use comb_scale::share::{DecimalMark, readings_csv, report, results_csv};

use super::found;
use super::told::told;

pub const CUSTOMARY: Units = Units {
    film: FilmUnit::Mil,
    length: LengthUnit::Inch,
    mass: MassUnit::Oz,
    volume: VolumeUnit::FlOz,
    temperature: TemperatureUnit::F,
};

/// Every measure with a number a painter would type, and its units: as stored, and customary.
const MEASURES: [(Measure, f64, &str, &str); 18] = [
    (Measure::Mass, 438.9, "g", "oz"),
    (Measure::Film, 212.0, "µm", "mil"),
    (Measure::Length, 300.0, "mm", "in"),
    (Measure::Tip, 1.6, "mm", "mm"),
    (Measure::Area, 900.0, "cm²", "in²"),
    (Measure::Density, 1.32, "g/mL", "lb/gal"),
    (Measure::Volume, 300.0, "mL", "fl oz"),
    (Measure::Litres, 3.5, "L", "gal"),
    (Measure::GramsPerLitre, 540.0, "g/L", "lb/gal"),
    (Measure::Share, 0.465, "%", "%"),
    (Measure::Parts, 4.5, "", ""),
    (Measure::Money, 39.9, "", ""),
    (Measure::Temperature, 19.5, "°C", "°F"),
    (Measure::Humidity, 52.5, "%", "%"),
    (Measure::Hours, 7.5, "h", "h"),
    (Measure::Minutes, 12.5, "min", "min"),
    (Measure::Pressure, 200.5, "kPa", "psi"),
    (Measure::Count, 3.0, "", ""),
];

#[test]
fn what_is_typed_reads_back_the_same_in_every_unit_and_with_either_mark() {
    for (units, comma) in [(Units::STORED, false), (Units::STORED, true), (CUSTOMARY, false), (CUSTOMARY, true)] {
        let wording = Wording { units, division_g: None };
        Manner { units, comma, half_days: false, month_first: false }.during(|| {
            for (measure, _, metric, customary) in MEASURES {
                assert_eq!(unit_of(measure, &wording), if units == CUSTOMARY { customary } else { metric });
                for typed in ["12.5", "7", "0.125", "3.141"] {
                    let typed = if comma { typed.replace('.', ",") } else { typed.to_owned() };
                    let near = read_in(measure, "3", None, &wording).ok();
                    let stored = read_in(measure, &typed, near, &wording).unwrap();
                    assert_eq!(show_in(measure, stored, &wording), typed, "{measure:?} {units:?}");
                }
            }
        });
    }
}

/// By definition: 1 mil = 25.4 µm, 1 in = 25.4 mm, 1 oz = 28.349523125 g, 1 US gal = 3.785411784 L of 128 fl oz, 1 lb = 16 oz,
/// 1 psi = 6.894757 kPa; to half the last digit of what is stored.
#[test]
fn each_quantity_in_customary_units() {
    let wording = Wording { units: CUSTOMARY, division_g: None };
    let shown: Vec<String> =
        MEASURES.iter().map(|(measure, stored, ..)| show_in(*measure, *stored, &wording)).collect();
    let by_hand = [
        "15.482", "8.35", "11.8", "1.6", "139.5", "11", "10.14", "0.92", "4.51", "46.5", "4.5", "39.9", "67.1", "52.5",
        "7.5", "12.5", "29.08", "3",
    ];
    assert_eq!(shown, by_hand);
}

#[test]
fn a_bound_is_told_in_the_unit_it_was_typed_in() {
    let too_thick = Micrometres::new(30_000.0).unwrap_err();
    let too_light = GramsPerMillilitre::new(0.1).unwrap_err();
    assert_eq!(too_thick.to_string(), "must lie between 0 and 20000 µm");
    let told = Manner { units: CUSTOMARY, comma: true, half_days: false, month_first: false }
        .during(|| [too_thick.to_string(), too_light.to_string()]);
    assert_eq!(told, ["must lie between 0 and 787,4 mil", "must lie between 2,5 and 100,14 lb/gal"]);
}

/// Numbers with a mark between their digits: the mark of each.
fn marks(text: &str) -> (usize, usize) {
    let letters: Vec<char> = text.chars().collect();
    let between = |mark: char| {
        letters.windows(3).filter(|w| w[1] == mark && w[0].is_ascii_digit() && w[2].is_ascii_digit()).count()
    };
    (between('.'), between(','))
}

#[test]
fn every_sentence_table_and_chart_follows_and_nothing_stored_does() {
    let test = open(EXAMPLE).unwrap().test;
    let stored = write(&test);
    let plain = found(&test);
    let said = told(&test, &plain, &Wording::default());
    assert!(marks(&said).0 > 200 && marks(&said).1 == 0, "{:?}", marks(&said));
    let csv = (readings_csv(&test, &plain, DecimalMark::Point), results_csv(&test, &plain, DecimalMark::Point));

    let wording = Wording { units: CUSTOMARY, division_g: Some(0.1) };
    let manner = Manner { units: CUSTOMARY, comma: true, half_days: true, month_first: true };
    manner.during(|| {
        let now = "2027-03-01T12:00:00Z".parse().unwrap();
        let found = comb_scale::findings::Memory::default().of(&test, now, &wording);
        let said = told(&test, &found, &wording);
        assert!(marks(&said).0 == 0 && marks(&said).1 > 200, "{:?}", marks(&said));
        for unit in ["µm", " g ", "cm²", "g/mL"] {
            assert!(!said.contains(unit), "{unit} in {said}");
        }
        assert!(said.contains(" am") && said.contains(" mil") && said.contains(" oz"));
        assert!(!said.contains("07:41"), "a clock of 24 hours");
        // The charts of the report are drawn of the same.
        let paper = report(&test, &found, now, &wording);
        let charts: Vec<&str> =
            paper.split("<text").skip(1).filter_map(|it| it.split_once('>')?.1.split('<').next()).collect();
        assert!(charts.iter().all(|label| marks(label).0 == 0), "{charts:?}");
        // Held against each other whole: too long to print.
        assert!(
            (readings_csv(&test, &plain, DecimalMark::Point), results_csv(&test, &plain, DecimalMark::Point)) == csv
        );
        assert_eq!(write(&test), stored);
    });
}

/// The front door gives the same findings wherever it is asked, whatever this phone writes like.
#[test]
fn findings_do_not_depend_on_the_manner_that_is_set() {
    let test = open(EXAMPLE).unwrap().test;
    let told = || serde_json::to_string(&of(&test, "2026-03-16T10:00:00+01:00".parse().unwrap())).unwrap();
    let plain = told();
    let other = Manner {
        units: Units { film: FilmUnit::Mil, ..Units::STORED },
        comma: true,
        half_days: true,
        month_first: true,
    };
    assert_eq!(other.during(told), plain);
}

/// By hand: what lies on a square meter, times 0.3048², lies on a square foot.
#[test]
fn what_lies_on_an_area_is_told_of_a_square_foot() {
    let test = open(EXAMPLE).unwrap().test;
    let found = found(&test);
    let us = Wording { units: Units::CUSTOMARY, ..Wording::default() };
    let (metric, customary) = (side_by_side(&test, &found, &Wording::default()), side_by_side(&test, &found, &us));
    let mut told = Vec::new();
    for (metric, customary) in metric.rows.iter().zip(&customary.rows).filter(|(row, _)| row.unit.contains("/m²")) {
        told.push(customary.unit.as_str());
        for (of, in_feet) in metric.cells.iter().zip(&customary.cells) {
            let (of, in_feet) = (of.of.unwrap(), in_feet.of.unwrap());
            assert!((in_feet.mid / of.mid - 0.092_903_04).abs() < 1e-9, "{}", metric.name);
            assert!((in_feet.low / of.low - 0.092_903_04).abs() < 1e-9, "{}", metric.name);
        }
    }
    assert_eq!(told, ["g/sq ft", "EUR/sq ft", "g/sq ft"]);
}
