//! The units suggested to a new reader.

use serde::{Serialize, Serializer};
use serde_json::Value;

use crate::quantity::{FilmUnit, LengthUnit, MassUnit, TemperatureUnit, Unit, VolumeUnit};
use crate::record::codec::{
    Field, Leaf, Object, Part, PartMut, Reader, Rest, Written, group, object, read_object, same_object,
};

macro_rules! unit_leaves {
    ($($unit:ty)+) => {$(
        impl Leaf for $unit {
            fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
                let unit = value.as_str().and_then(<$unit>::from_key);
                if unit.is_none() {
                    let keys: Vec<_> = <$unit>::ALL.iter().map(|unit| unit.key()).collect();
                    reader.remark(format!("must be one of: {}", keys.join(" ")));
                }
                unit
            }
        }
    )+};
}

unit_leaves! { FilmUnit LengthUnit MassUnit VolumeUnit TemperatureUnit }

group! {
    /// Units suggested to a new reader; each phone keeps its own choice.
    SuggestedUnits {
        /// Film and teeth.
        film: Option<FilmUnit>,
        /// Sides.
        length: Option<LengthUnit>,
        /// Weights.
        mass: Option<MassUnit>,
        /// Volumes.
        volume: Option<VolumeUnit>,
        /// Temperatures.
        temperature: Option<TemperatureUnit>,
    }
}
