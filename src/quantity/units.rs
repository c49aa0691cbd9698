//! The units a person may choose. They change what is shown and typed, never what is stored.

use serde::Serialize;

/// How a stored number is shown: in which unit, and by what it is turned into it and back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShownIn {
    /// What is printed behind the number.
    pub symbol: &'static str,
    /// Stored units in one of those shown.
    per: f64,
    /// Shown units in one of those stored, where that is the exact one of the two.
    times: f64,
    /// What is shown for a stored zero.
    zero: f64,
}

impl ShownIn {
    /// A share of 1 in per cent. Divided on the way back, not multiplied by 0.01: 46.5 % is then exactly the 0.465 it reads as.
    pub const PERCENT: Self = Self { times: 100.0, ..Self::as_stored("%") };

    /// As it is stored.
    pub const fn as_stored(symbol: &'static str) -> Self {
        Self::of(symbol, 1.0)
    }

    /// In a unit that is so many of those stored.
    const fn of(symbol: &'static str, per: f64) -> Self {
        Self { symbol, per, times: 1.0, zero: 0.0 }
    }

    /// From the stored number to the shown one.
    pub fn shown(self, stored: f64) -> f64 {
        stored / self.per * self.times + self.zero
    }

    /// From the typed number to the stored one.
    pub fn stored(self, shown: f64) -> f64 {
        (shown - self.zero) / self.times * self.per
    }
}

/// A unit of display for one kind of quantity.
pub trait Unit: Copy + PartialEq + 'static {
    /// All choices, the SI-side one first.
    const ALL: &'static [Self];
    /// Of each choice its symbol, and its short name in a file.
    const CHOICES: &'static [(&'static str, &'static str)];

    /// Its row of the table.
    fn shown_in(self) -> ShownIn;

    /// The short name in a file.
    fn key(self) -> &'static str {
        let place = Self::ALL.iter().position(|unit| *unit == self).unwrap_or(0);
        Self::CHOICES[place].1
    }

    /// What is printed behind a number.
    fn symbol(self) -> &'static str {
        self.shown_in().symbol
    }

    /// From the stored number to the shown one.
    fn shown(self, stored: f64) -> f64 {
        self.shown_in().shown(stored)
    }

    /// From the typed number to the stored one.
    fn stored(self, shown: f64) -> f64 {
        self.shown_in().stored(shown)
    }

    /// The choice of that short name.
    fn from_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|unit| unit.key() == key)
    }
}

macro_rules! units {
    ($($(#[$doc:meta])* $name:ident { $first:ident: $k1:literal, $s1:literal; $second:ident: $k2:literal, $s2:literal, $row:expr; })+) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
        pub enum $name {
            #[doc = concat!("Shown in ", $s1, ", as stored.")]
            #[default]
            #[serde(rename = $k1)]
            $first,
            #[doc = concat!("Shown in ", $s2, ".")]
            #[serde(rename = $k2)]
            $second,
        }

        impl Unit for $name {
            const ALL: &'static [Self] = &[Self::$first, Self::$second];
            const CHOICES: &'static [(&'static str, &'static str)] = &[($s1, $k1), ($s2, $k2)];

            fn shown_in(self) -> ShownIn {
                match self { Self::$first => ShownIn::as_stored($s1), Self::$second => $row($s2) }
            }
        }
    )+};
}

/// Square meters in a square foot. 1 ft = 304.8 mm.
const SQUARE_FOOT: f64 = 0.092_903_04;

// Exact by definition: the international inch and pound of 1959, and the US gallon of 231 cubic inches. A gallon, and a pound a
// gallon, follow the unit of volumes.
units! {
    /// Film and teeth: stored in µm. 1 mil = 25.4 µm.
    FilmUnit { Um: "um", "µm"; Mil: "mil", "mil", |mil| ShownIn::of(mil, 25.4); }
    /// Sides of panels: stored in mm. 1 in = 25.4 mm.
    LengthUnit { Mm: "mm", "mm"; Inch: "in", "in", |inch| ShownIn::of(inch, 25.4); }
    /// Weights: stored in g. 1 oz = 453.59237 g / 16.
    MassUnit { G: "g", "g"; Oz: "oz", "oz", |oz| ShownIn::of(oz, 28.349_523_125); }
    /// Volumes: stored in mL. 1 US fluid ounce = 3785.411784 mL / 128.
    VolumeUnit { Ml: "ml", "mL"; FlOz: "floz", "fl oz", |fl_oz| ShownIn::of(fl_oz, 29.573_529_562_5); }
    /// Areas: stored in cm²; they follow the unit of sides. 1 in² = 6.4516 cm².
    AreaUnit { SquareCm: "cm2", "cm²"; SquareInch: "in2", "in²", |square_inch| ShownIn::of(square_inch, 6.4516); }
    /// Packs: stored in L. 1 US gallon = 3.785411784 L.
    LargeVolumeUnit { L: "l", "L"; Gal: "gal", "gal", |gal| ShownIn::of(gal, 3.785_411_784); }
    /// Densities: stored in g/mL. 1 lb/gal = 453.59237 g / 3785.411784 mL.
    DensityUnit {
        GPerMl: "g_per_ml", "g/mL";
        LbPerGal: "lb_per_gal", "lb/gal", |lb_per_gal| ShownIn::of(lb_per_gal, 453.592_37 / 3_785.411_784);
    }
    /// Grams in a litre: stored in g/L. 1 lb/gal = 453.59237 g / 3.785411784 L.
    ContentUnit {
        GPerL: "g_per_l", "g/L";
        LbPerGal: "lb_per_gal", "lb/gal", |lb_per_gal| ShownIn::of(lb_per_gal, 453.592_37 / 3.785_411_784);
    }
    /// Pressures: stored in kPa; they follow the unit of sides. 1 psi = 4.4482216152605 N / 6.4516 cm².
    PressureUnit { Kpa: "kpa", "kPa"; Psi: "psi", "psi", |psi| ShownIn::of(psi, 6.894_757_293_168); }
    /// Temperatures: stored in °C.
    TemperatureUnit { C: "c", "°C"; F: "f", "°F", |f| ShownIn { times: 1.8, zero: 32.0, ..ShownIn::as_stored(f) }; }
}

/// One choice of each kind.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Units {
    /// Film and teeth.
    pub film: FilmUnit,
    /// Sides of panels.
    pub length: LengthUnit,
    /// Weights.
    pub mass: MassUnit,
    /// Volumes.
    pub volume: VolumeUnit,
    /// Temperatures.
    pub temperature: TemperatureUnit,
}

impl Units {
    /// Everything as it is stored.
    pub const STORED: Self = Self {
        film: FilmUnit::Um,
        length: LengthUnit::Mm,
        mass: MassUnit::G,
        volume: VolumeUnit::Ml,
        temperature: TemperatureUnit::C,
    };

    /// As painters have them in the United States, who weigh on scales in grams.
    pub const CUSTOMARY: Self = Self {
        film: FilmUnit::Mil,
        length: LengthUnit::Inch,
        mass: MassUnit::G,
        volume: VolumeUnit::FlOz,
        temperature: TemperatureUnit::F,
    };

    /// How a number of that stored unit is shown; as it stands where there is no choice of units for it.
    pub fn shown_in(&self, stored: &'static str) -> ShownIn {
        match stored {
            "µm" => self.film.shown_in(),
            "mm" => self.length.shown_in(),
            "cm²" => self.area().shown_in(),
            "g" => self.mass.shown_in(),
            "mL" => self.volume.shown_in(),
            "L" => self.large_volume().shown_in(),
            "g/mL" => self.density().shown_in(),
            "g/L" => self.content().shown_in(),
            "°C" => self.temperature.shown_in(),
            "kPa" => self.pressure().shown_in(),
            "g/m²" => self.mass_per_area(),
            "/m²" => self.per_area(),
            _ => ShownIn::as_stored(stored),
        }
    }

    /// Areas, by the unit of sides.
    pub fn area(&self) -> AreaUnit {
        if self.length == LengthUnit::Mm { AreaUnit::SquareCm } else { AreaUnit::SquareInch }
    }

    /// Pressures, by the unit of sides.
    pub fn pressure(&self) -> PressureUnit {
        if self.length == LengthUnit::Mm { PressureUnit::Kpa } else { PressureUnit::Psi }
    }

    /// What a square meter costs or takes, by the unit of sides: a square foot's.
    pub fn per_area(&self) -> ShownIn {
        match self.length {
            LengthUnit::Mm => ShownIn::as_stored("/m²"),
            LengthUnit::Inch => ShownIn::of("/sq ft", 1.0 / SQUARE_FOOT),
        }
    }

    /// Grams on a square meter, by the units of sides and of weights.
    pub fn mass_per_area(&self) -> ShownIn {
        let mass = self.mass.shown_in().per;
        match (self.length, self.mass) {
            (LengthUnit::Mm, MassUnit::G) => ShownIn::as_stored("g/m²"),
            (LengthUnit::Mm, MassUnit::Oz) => ShownIn::of("oz/m²", mass),
            (LengthUnit::Inch, MassUnit::G) => ShownIn::of("g/sq ft", mass / SQUARE_FOOT),
            (LengthUnit::Inch, MassUnit::Oz) => ShownIn::of("oz/sq ft", mass / SQUARE_FOOT),
        }
    }

    /// Packs, by the unit of volumes.
    pub fn large_volume(&self) -> LargeVolumeUnit {
        if self.volume == VolumeUnit::Ml { LargeVolumeUnit::L } else { LargeVolumeUnit::Gal }
    }

    /// Densities, by the unit of volumes.
    pub fn density(&self) -> DensityUnit {
        if self.volume == VolumeUnit::Ml { DensityUnit::GPerMl } else { DensityUnit::LbPerGal }
    }

    /// What a litre holds, by the unit of volumes.
    pub fn content(&self) -> ContentUnit {
        if self.volume == VolumeUnit::Ml { ContentUnit::GPerL } else { ContentUnit::LbPerGal }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn there_and_back<U: Unit>(values: &[f64]) {
        for &unit in U::ALL {
            for &value in values {
                let back = unit.shown(unit.stored(value));
                assert!((back - value).abs() <= 1e-12 * value.abs().max(1.0), "{} {value} {back}", unit.key());
            }
            assert!(U::from_key(unit.key()) == Some(unit));
        }
        assert!(U::from_key("furlong").is_none());
    }

    #[test]
    fn a_round_trip_changes_nothing() {
        let values = [0.0, 1.0, 12.5, 0.003, 412.3, 99_999.9];
        there_and_back::<FilmUnit>(&values);
        there_and_back::<LengthUnit>(&values);
        there_and_back::<MassUnit>(&values);
        there_and_back::<VolumeUnit>(&values);
        there_and_back::<TemperatureUnit>(&values);
        there_and_back::<AreaUnit>(&values);
        there_and_back::<LargeVolumeUnit>(&values);
        there_and_back::<DensityUnit>(&values);
        there_and_back::<ContentUnit>(&values);
        there_and_back::<PressureUnit>(&values);
    }

    /// Definitions: international yard and pound agreement (1959); 1 lb = 453.59237 g, 1 mil = 25.4 µm, 1 US fl oz =
    /// 29.5735295625 mL; °F after SCIENCE rows computed with a general-purpose units library.
    #[test]
    fn exact_factors() {
        assert_eq!(FilmUnit::Mil.stored(1.0), 25.4);
        assert_eq!(MassUnit::Oz.stored(16.0), 453.59237);
        assert_eq!(VolumeUnit::FlOz.stored(128.0), 3_785.411_784);
        assert_eq!(LargeVolumeUnit::Gal.stored(1.0), 3.785_411_784);
        // NIST Special Publication 811 (2008), appendix B.8: pound per gallon (US) to kilogram per cubic metre, 119.8264.
        assert!((ContentUnit::LbPerGal.stored(1.0) - 119.8264).abs() < 5e-5);
        assert!((1000.0 * DensityUnit::LbPerGal.stored(1.0) - 119.8264).abs() < 5e-5);
        // The same, pound-force per square inch to kilopascal, 6.894 757.
        assert!((PressureUnit::Psi.stored(1.0) - 6.894_757).abs() < 5e-7);
        for (f, c) in [(50.0, 10.0), (68.0, 20.0), (95.0, 35.0)] {
            assert!((TemperatureUnit::F.stored(f) - c).abs() < 1e-12);
        }
    }

    /// By hand: 90 g/m² are 90 × 0.3048² = 8.361 g on a square foot, 0.2949 oz; 25 a square meter are 2.3226 a square foot.
    #[test]
    fn what_lies_on_an_area_follows_sides_and_weights() {
        let metric = Units::STORED;
        let inches = Units { length: LengthUnit::Inch, ..metric };
        for (units, symbol, shown) in [
            (metric, "g/m²", 90.0),
            (Units { mass: MassUnit::Oz, ..metric }, "oz/m²", 3.1747),
            (inches, "g/sq ft", 8.3613),
            (Units { mass: MassUnit::Oz, ..inches }, "oz/sq ft", 0.29494),
        ] {
            let told = units.shown_in("g/m²");
            assert_eq!(told.symbol, symbol);
            assert!((told.shown(90.0) - shown).abs() < 1e-4 * shown, "{symbol}: {}", told.shown(90.0));
        }
        assert!((inches.shown_in("/m²").shown(25.0) - 2.3226).abs() < 1e-4);
        assert_eq!((inches.shown_in("/m²").symbol, metric.shown_in("/m²").symbol), ("/sq ft", "/m²"));
    }
}
