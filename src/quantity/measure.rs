//! What kind of number something is: its bounds, and in which unit it is shown and typed. The one table of both, with the factors
//! of [`Units`].

use super::show::plain_to;
use super::units::{ShownIn, Units};
use super::{
    Celsius, Count, Fraction, Grams, GramsPerLitre, GramsPerMillilitre, Hours, Kilopascals, Litres, Micrometres,
    Millilitres, Millimetres, Minutes, Money, OutOfBounds, Parts, Percent, Quantity, SquareCentimetres,
};

macro_rules! measures {
    ($($(#[$doc:meta])* $measure:ident: $quantity:ident;)+) => {
        /// What kind of number is typed or shown: decides its unit.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Measure {
            $($(#[$doc])* $measure,)+
        }

        impl Measure {
            /// Its bounds as stored, with the unit that it is stored in.
            pub fn bounds(self) -> OutOfBounds {
                let (low, high, unit) = match self {
                    $(Self::$measure => ($quantity::LOW, $quantity::HIGH, $quantity::UNIT),)+
                };
                OutOfBounds { low, high, unit }
            }
        }
    };
}

measures! {
    /// A weight.
    Mass: Grams;
    /// A film.
    Film: Micrometres;
    /// A side.
    Length: Millimetres;
    /// The tip of a gun, mm whatever the unit of sides.
    Tip: Millimetres;
    /// An area, cm².
    Area: SquareCentimetres;
    /// A density, g/mL.
    Density: GramsPerMillilitre;
    /// A small volume.
    Volume: Millilitres;
    /// A pack, L.
    Litres: Litres;
    /// Grams a litre.
    GramsPerLitre: GramsPerLitre;
    /// A share, shown in per cent.
    Share: Fraction;
    /// Parts of a mix.
    Parts: Parts;
    /// Money, in the currency of the test.
    Money: Money;
    /// A temperature.
    Temperature: Celsius;
    /// Relative humidity, %.
    Humidity: Percent;
    /// Hours.
    Hours: Hours;
    /// Minutes.
    Minutes: Minutes;
    /// A pressure, kPa.
    Pressure: Kilopascals;
    /// How many.
    Count: Count;
}

/// Decimals of a number in a field.
const MOST_DECIMALS: usize = 3;

/// Steps in which combs and data sheets have films, µm (common practice).
const COMB_STEP_UM: f64 = 5.0;

impl Measure {
    /// Whether a stored number lies within its bounds.
    pub fn allows(self, stored: f64) -> bool {
        let OutOfBounds { low, high, .. } = self.bounds();
        stored >= low && stored <= high
    }

    /// In which unit it is shown and typed.
    ///
    /// ```
    /// use quantity::{FilmUnit, Measure, Units};
    /// let units = Units { film: FilmUnit::Mil, ..Units::STORED };
    /// assert_eq!((Measure::Film.shown_in(&units).symbol, Measure::Film.shown_in(&units).stored(2.0)), ("mil", 50.8));
    /// assert_eq!((Measure::Share.shown_in(&units).symbol, Measure::Share.shown_in(&units).stored(46.5)), ("%", 0.465));
    /// ```
    pub fn shown_in(self, units: &Units) -> ShownIn {
        match self {
            Self::Share => ShownIn::PERCENT,
            Self::Tip => ShownIn::as_stored(Millimetres::UNIT),
            _ => units.shown_in(self.bounds().unit),
        }
    }

    /// A stored number as text in the unit it is shown in: as it was typed there, or, noted in the other unit, with no more
    /// figures than that can bear.
    ///
    /// ```
    /// use quantity::{Measure, Units};
    /// let read = |measure: Measure, stored| measure.text(stored, &Units::CUSTOMARY);
    /// assert_eq!([150.0, 25.0, 80.0, 106.0].map(|um| read(Measure::Film, um)), ["6", "1", "3.1", "4.17"]);
    /// assert_eq!(read(Measure::Film, 5.906 * 25.4), "5.906");
    /// assert_eq!((read(Measure::Length, 300.0), read(Measure::Litres, 4.0)), ("11.8".to_owned(), "1.06".to_owned()));
    /// ```
    pub fn text(self, stored: f64, units: &Units) -> String {
        let (shown_in, slack) = (self.shown_in(units), self.slack(stored));
        let shown = shown_in.shown(stored);
        let says_it = |decimals: &usize| {
            let scale = 10f64.powi(*decimals as i32);
            (shown_in.stored((shown * scale).round() / scale) - stored).abs() <= slack
        };
        plain_to(shown, (0..MOST_DECIMALS).find(says_it).unwrap_or(MOST_DECIMALS))
    }

    /// How far off a number may be told in another unit: half its last digit, and never more than half a per cent. A film in
    /// steps of 5 µm, as on combs and sheets, is good to half such a step.
    fn slack(self, stored: f64) -> f64 {
        if self == Self::Film && stored != 0.0 && stored % COMB_STEP_UM == 0.0 {
            return COMB_STEP_UM / 2.0;
        }
        let digits = stored.to_string().split_once('.').map_or(0, |(_, behind)| behind.len());
        (0.5 * 10f64.powi(-(digits as i32))).min(0.005 * stored.abs())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{FilmUnit, LengthUnit, MassUnit, TemperatureUnit, VolumeUnit};

    const OTHERS: Units = Units {
        film: FilmUnit::Mil,
        length: LengthUnit::Inch,
        mass: MassUnit::Oz,
        volume: VolumeUnit::FlOz,
        temperature: TemperatureUnit::F,
    };

    /// Each measure in both systems, with a number that lies within its bounds.
    #[test]
    fn every_measure_is_shown_and_typed_in_one_unit() {
        for (measure, stored, metric, other, shown) in [
            (Measure::Mass, 453.592_37, "g", "oz", 16.0),
            (Measure::Film, 50.8, "µm", "mil", 2.0),
            (Measure::Length, 254.0, "mm", "in", 10.0),
            (Measure::Tip, 1.3, "mm", "mm", 1.3),
            (Measure::Area, 64.516, "cm²", "in²", 10.0),
            (Measure::Volume, 3_785.411_784, "mL", "fl oz", 128.0),
            (Measure::Litres, 3.785_411_784, "L", "gal", 1.0),
            (Measure::Share, 0.465, "%", "%", 46.5),
            (Measure::Temperature, 20.0, "°C", "°F", 68.0),
            (Measure::Humidity, 52.0, "%", "%", 52.0),
            (Measure::Hours, 72.0, "h", "h", 72.0),
            (Measure::Minutes, 15.0, "min", "min", 15.0),
            (Measure::Pressure, 206.842_718_795_04, "kPa", "psi", 30.0),
            (Measure::Parts, 4.0, "", "", 4.0),
            (Measure::Money, 59.9, "", "", 59.9),
            (Measure::Count, 3.0, "", "", 3.0),
        ] {
            let (as_stored, chosen) = (measure.shown_in(&Units::STORED), measure.shown_in(&OTHERS));
            assert_eq!((as_stored.symbol, chosen.symbol), (metric, other), "{measure:?}");
            assert!((chosen.shown(stored) - shown).abs() < 1e-9, "{measure:?}: {}", chosen.shown(stored));
            assert!((chosen.stored(shown) - stored).abs() < 1e-9, "{measure:?}: {}", chosen.stored(shown));
            assert!(measure.allows(stored) && !measure.allows(f64::NAN) && !measure.allows(1e12), "{measure:?}");
        }
        assert_eq!([Measure::Density, Measure::GramsPerLitre].map(|of| of.shown_in(&OTHERS).symbol), ["lb/gal"; 2]);
    }
}
