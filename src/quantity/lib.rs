//! Numbers with units, the units a person may choose, and every bound in one place.
//!
//! Each quantity of the record is a newtype over `f64` in its SI-side unit. One can only be made through
//! [`Quantity::new`], which refuses what is not finite or out of bounds, so whoever holds one need not check it again.
//!
//! ```
//! use quantity::{Grams, Quantity};
//! assert_eq!(Grams::new(412.3).unwrap().get(), 412.3);
//! assert!(Grams::new(f64::NAN).is_err());
//! assert_eq!(Grams::new(-1.0).unwrap_err().to_string(), "must lie between 0 and 100000 g");
//! ```

mod days;
mod instant;
mod manner;
mod measure;
mod number;
mod show;
mod units;

use std::fmt;

use serde::{Serialize, Serializer};

pub use days::{BinWait, OpenedDays};
pub use instant::{Instant, NotAnInstant};
pub use manner::{Manner, written};
pub use measure::Measure;
pub use number::{NotANumber, either_number, read_number};
pub use show::{decimals_for, decimals_of, figure, figures, plain, plain_to, signed};
pub use units::{
    AreaUnit, ContentUnit, DensityUnit, FilmUnit, LargeVolumeUnit, LengthUnit, MassUnit, ShownIn, TemperatureUnit,
    Unit, Units, VolumeUnit,
};

/// A number that has a unit and bounds.
pub trait Quantity: Copy + PartialEq + Into<f64> {
    /// The unit it is kept in, as printed behind the number; empty for a bare fraction.
    const UNIT: &'static str;
    /// The least value that makes sense.
    const LOW: f64;
    /// The greatest value that makes sense.
    const HIGH: f64;

    /// Keeps `value` without looking at it; [`Quantity::new`] is the way in.
    #[doc(hidden)]
    fn trusted(value: f64) -> Self;

    /// The quantity, or the sentence why not.
    ///
    /// # Errors
    /// [`OutOfBounds`] when `value` is not finite or lies outside `LOW..=HIGH`.
    fn new(value: f64) -> Result<Self, OutOfBounds> {
        if value >= Self::LOW && value <= Self::HIGH {
            Ok(Self::trusted(value))
        } else {
            Err(OutOfBounds { low: Self::LOW, high: Self::HIGH, unit: Self::UNIT })
        }
    }

    /// The plain number, in [`Quantity::UNIT`].
    fn get(self) -> f64 {
        self.into()
    }
}

/// The bounds of a quantity, for a number that lies outside them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfBounds {
    /// The least value allowed.
    pub low: f64,
    /// The greatest value allowed.
    pub high: f64,
    /// The unit of both.
    pub unit: &'static str,
}

impl fmt::Display for OutOfBounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let ((low, _), (high, unit)) = (manner::bound(self.low, self.unit), manner::bound(self.high, self.unit));
        write!(f, "must lie between {low} and {high}")?;
        if unit.is_empty() { Ok(()) } else { write!(f, " {unit}") }
    }
}

impl std::error::Error for OutOfBounds {}

macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident, $unit:literal, $low:literal ..= $high:literal;)+) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                // Whole numbers as people write them: 100, not 100.0. The bounds keep them exact.
                if self.0.fract() == 0.0 {
                    serializer.serialize_i64(self.0 as i64)
                } else {
                    serializer.serialize_f64(self.0)
                }
            }
        }

        impl From<$name> for f64 {
            fn from(quantity: $name) -> f64 {
                quantity.0
            }
        }

        impl Quantity for $name {
            const UNIT: &'static str = $unit;
            const LOW: f64 = $low;
            const HIGH: f64 = $high;

            fn trusted(value: f64) -> Self {
                Self(value)
            }
        }
    )+

        /// Calls a macro once with each quantity there is, so that another room can write an `impl` for all of them.
        #[macro_export]
        macro_rules! each_quantity {
            ($then:ident) => {$($then!($crate::$name);)+};
        }
    };
}

// The one list of bounds. They are wide: they keep out slips of whole orders and text that is no measurement, not
// unusual work.
quantities! {
    /// A mass, g: up to a panel of a hundred kilograms.
    Grams, "g", 0.0 ..= 100_000.0;
    /// The division or the repeatability of a balance, g.
    Division, "g", 0.0001 ..= 1_000.0;
    /// A film or a tooth, µm: 20 mm is a trowelled floor.
    Micrometres, "µm", 0.0 ..= 20_000.0;
    /// A side or a thickness of a panel, mm.
    Millimetres, "mm", 0.01 ..= 10_000.0;
    /// A coated area, cm²: a square centimetre to ten square metres.
    SquareCentimetres, "cm²", 1.0 ..= 100_000.0;
    /// A density, g/mL: lighter than any solvent to heavier than any pigment.
    GramsPerMillilitre, "g/mL", 0.3 ..= 12.0;
    /// Grams of volatile matter a litre, g/L.
    GramsPerLitre, "g/L", 0.0 ..= 1_500.0;
    /// A share of one.
    Fraction, "", 0.0 ..= 1.0;
    /// Parts of a mix.
    Parts, "", 0.0 ..= 10_000.0;
    /// A volume of mixed primer, mL.
    Millilitres, "mL", 0.0 ..= 100_000.0;
    /// A volume, L.
    Litres, "L", 0.001 ..= 1_000.0;
    /// Money, in the currency of the test.
    Money, "", 0.0 ..= 10_000_000.0;
    /// A temperature, °C: a winter yard to a baking oven.
    Celsius, "°C", -60.0 ..= 300.0;
    /// Relative humidity, %.
    Percent, "%", 0.0 ..= 100.0;
    /// A stretch of time, min: up to three months.
    Minutes, "min", 0.0 ..= 129_600.0;
    /// A stretch of time, h: up to five years.
    Hours, "h", 0.0 ..= 43_800.0;
    /// An air pressure at the gun, kPa.
    Kilopascals, "kPa", 0.0 ..= 50_000.0;
    /// How many of something.
    Count, "", 0.0 ..= 1_000.0;
}
