//! The numbered lines of each part of the card, declared once: which field a line is, and what kind of number.

use super::{Measure, Number};
use crate::model::{Air, Balance, Component, DryGauge, Gun, KeptHours, MeasuredMix, Mix, Panel, Sheet, Spot, Wanted};

macro_rules! lines {
    ($($(#[$doc:meta])* $name:ident of $part:ident { $($(#[$ldoc:meta])* $line:ident: $field:ident, $measure:ident;)+ })+) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum $name {
            $($(#[$ldoc])* $line,)+
        }

        impl $name {
            /// Every line, as they stand on the card.
            pub const ALL: &'static [Self] = &[$(Self::$line,)+];

            /// What kind of number it is.
            pub fn measure(self) -> Measure {
                match self { $(Self::$line => Measure::$measure,)+ }
            }

            pub(super) fn number(self, part: &$part) -> &dyn Number {
                match self { $(Self::$line => &part.$field,)+ }
            }

            pub(super) fn number_mut(self, part: &mut $part) -> &mut dyn Number {
                match self { $(Self::$line => &mut part.$field,)+ }
            }
        }
    )+};
}

lines! {
    /// A line of what the painter is after.
    WantedLine of Wanted {
        /// The dry build to reach.
        DryBuild: dry_build_um, Film;
        /// Sanded or topcoated so long after the last coat.
        Sanding: sanding_h, Hours;
        /// Film taken off by sanding.
        SandingLoss: sanding_loss_um, Film;
        /// The share of what is sprayed that lands.
        TransferEfficiency: transfer_efficiency, Share;
        /// How far the gun sprays over each edge.
        Overspray: overspray_mm, Length;
        /// What stays in cup, gun and hose.
        LeftInGun: left_in_gun_ml, Volume;
    }

    /// The hours in which the person comes to the scale.
    HoursLine of KeptHours {
        /// From, after midnight.
        From: from_h, Hours;
        /// To, after midnight.
        To: to_h, Hours;
    }

    /// A line of a data sheet.
    SheetLine of Sheet {
        /// Solids by weight.
        SolidsByWeight: solids_by_weight, Share;
        /// Solids by volume.
        SolidsByVolume: solids_by_volume, Share;
        /// Density as sprayed.
        Density: density_g_per_ml, Density;
        /// Density of what leaves.
        SolventDensity: solvent_density_g_per_ml, Density;
        /// Density of the dry film.
        DryDensity: dry_density_g_per_ml, Density;
        /// Volatile organic compounds.
        Voc: voc_g_per_l, GramsPerLitre;
        /// Standing time after mixing.
        Standing: standing_min, Minutes;
        /// Pot life.
        PotLife: pot_life_min, Minutes;
        /// Flash-off between coats.
        Flash: flash_min, Minutes;
        /// Coats.
        Coats: coats, Count;
        /// Wet film of a coat.
        WetFilm: wet_film_um, Film;
        /// Dry film of a coat.
        DryFilm: dry_film_um, Film;
        /// When it may be sanded.
        Sanding: sanding_h, Hours;
        /// When it may be recoated.
        Recoat: recoat_h, Hours;
    }

    /// A line of a mix.
    MixLine of Mix {
        /// How much to mix.
        Amount: amount_ml, Volume;
    }

    /// A line of a component of a mix.
    ComponentLine of Component {
        /// Its parts.
        Parts: parts, Parts;
        /// Of a reducer: its share of what it reduces.
        Share: share, Share;
        /// Its density.
        Density: density_g_per_ml, Density;
        /// Volatile organic compounds in it.
        Voc: voc_g_per_l, GramsPerLitre;
        /// Water in it, by weight.
        Water: water_by_weight, Share;
        /// Exempt solvent in it, by weight.
        Exempt: exempt_by_weight, Share;
        /// What a pack holds.
        Pack: pack_l, Litres;
        /// What a pack costs.
        Price: pack_price, Money;
    }

    /// A line of what was measured of a mix.
    MeasuredLine of MeasuredMix {
        /// The empty dish.
        DishEmpty: dish_empty_g, Mass;
        /// The dish with mixed primer.
        DishWet: dish_wet_g, Mass;
        /// The dish when dry.
        DishDry: dish_dry_g, Mass;
        /// The empty density cup.
        CupEmpty: cup_empty_g, Mass;
        /// The cup full.
        CupFull: cup_full_g, Mass;
        /// What the cup holds.
        CupVolume: cup_ml, Volume;
    }

    /// A line of how the gun was set.
    GunLine of Gun {
        /// Its tip.
        Tip: tip_mm, Tip;
        /// Its pressure.
        Pressure: pressure_kpa, Pressure;
        /// Passes.
        Passes: passes, Count;
    }

    /// A line of a panel.
    PanelLine of Panel {
        /// Its width.
        Width: width_mm, Length;
        /// Its length.
        Length: length_mm, Length;
        /// Its thickness.
        Thickness: thickness_mm, Length;
        /// Its coated area.
        Coated: coated_cm2, Area;
    }

    /// A line of a scale.
    BalanceLine of Balance {
        /// The step of its display.
        Division: division_g, Mass;
        /// Its repeatability, where it was not measured here.
        Repeatability: repeatability_g, Mass;
    }

    /// A line of the dry gauge.
    GaugeLine of DryGauge {
        /// Its calibration, as a standard uncertainty.
        Calibration: calibration_um, Film;
    }

    /// A line of the air.
    AirLine of Air {
        /// The air.
        Air: air_c, Temperature;
        /// Its humidity.
        Humidity: humidity_pct, Humidity;
        /// The panels.
        Panel: panel_c, Temperature;
    }

    /// A line of a spot.
    SpotLine of Spot {
        /// How far from the nearest edge.
        Edge: edge_mm, Length;
        /// The shim it was read through.
        Shim: shim_um, Film;
    }
}
