//! A primer as mixed, and what its data sheet says.

use crate::codec::declaring::*;
use quantity::{
    Celsius, Count, Fraction, Grams, GramsPerLitre, GramsPerMillilitre, Hours, Instant, Kilopascals, Litres,
    Micrometres, Millilitres, Millimetres, Minutes, Money, Parts,
};

entry! {
    /// A primer being compared, as mixed.
    Candidate {
        /// Its name.
        label: String,
        /// Adhesion, sanding, smell: what the weights do not say.
        notes: String,
        /// How it is mixed.
        mix: Mix,
        /// What its data sheet says.
        sheet: Sheet,
        /// What was measured of the mix itself.
        measured: MeasuredMix,
        /// How the gun was set.
        gun: Gun,
        /// The person's word that it takes up oxygen or water while it cures.
        gains_mass: bool,
    }
}

words! {
    /// What the parts of a mix are parts of.
    Basis {
        /// By volume.
        Volume = "volume",
        /// By weight.
        Weight = "weight",
    }
}

words! {
    /// What a component is for.
    Role {
        /// The paint.
        Base = "base",
        /// What cures it.
        Hardener = "hardener",
        /// What thins it.
        Reducer = "reducer",
    }
}

words! {
    /// What the numbers of a data sheet are stated for.
    StatedFor {
        /// All that is in the cup.
        Mix = "mix",
        /// The mix before the reducer.
        MixUnreduced = "mix_unreduced",
        /// The base alone.
        Base = "base",
    }
}

words! {
    /// What a reducer's share is a share of.
    ReducerOf {
        /// Of all other components together.
        Paint = "paint",
        /// Of the base alone.
        Base = "base",
    }
}

group! {
    /// How a candidate is mixed.
    Mix {
        /// What the parts are parts of.
        basis: Option<Basis>,
        /// What a reducer's share is a share of; of the paint where it is not said.
        reducer_of: Option<ReducerOf>,
        /// How much is to be mixed, mL; worked out from the panels where it is absent.
        amount_ml: Option<Millilitres>,
        /// What goes in.
        components: Entries<Component>,
    }
}

entry! {
    /// One component of a mix.
    Component {
        /// Its name.
        label: String,
        /// What it is for.
        role: Option<Role>,
        /// Which grade, as chosen for the temperature.
        grade: String,
        /// The maker's batch number, as printed on the can.
        batch: String,
        /// Its parts.
        parts: Option<Parts>,
        /// Of a reducer that is given in per cent instead of parts: its share, of 1, of what `reducer_of` says.
        share: Option<Fraction>,
        /// Its density, g/mL.
        density_g_per_ml: Option<GramsPerMillilitre>,
        /// Volatile organic compounds in it, g/L.
        voc_g_per_l: Option<GramsPerLitre>,
        /// Water in it, of 1 by weight.
        water_by_weight: Option<Fraction>,
        /// Exempt solvent in it, of 1 by weight.
        exempt_by_weight: Option<Fraction>,
        /// The air this grade is made for, lowest and highest, °C.
        air_c: Vec<Celsius>,
        /// What a pack holds, L.
        pack_l: Option<Litres>,
        /// What a pack costs.
        pack_price: Option<Money>,
    }
}

group! {
    /// What a data sheet says. Film is per coat.
    Sheet {
        /// What it is stated for.
        stated_for: Option<StatedFor>,
        /// Solids by weight, of 1.
        solids_by_weight: Option<Fraction>,
        /// Solids by volume, of 1.
        solids_by_volume: Option<Fraction>,
        /// Density as sprayed, g/mL.
        density_g_per_ml: Option<GramsPerMillilitre>,
        /// Density of what leaves, g/mL.
        solvent_density_g_per_ml: Option<GramsPerMillilitre>,
        /// Density of the dry film, g/mL.
        dry_density_g_per_ml: Option<GramsPerMillilitre>,
        /// Volatile organic compounds, g/L.
        voc_g_per_l: Option<GramsPerLitre>,
        /// Standing time after mixing, min.
        standing_min: Option<Minutes>,
        /// Pot life, min.
        pot_life_min: Option<Minutes>,
        /// Flash-off between coats, min.
        flash_min: Option<Minutes>,
        /// Coats.
        coats: Option<Count>,
        /// Wet film per coat, µm.
        wet_film_um: Option<Micrometres>,
        /// Dry film per coat, µm.
        dry_film_um: Option<Micrometres>,
        /// When it may be sanded, h.
        sanding_h: Option<Hours>,
        /// When it may be recoated, h.
        recoat_h: Option<Hours>,
        /// The air it may be sprayed in, lowest and highest, °C.
        air_c: Vec<Celsius>,
        /// The person's word that its solids take no part in a forecast, as where the weights say otherwise.
        left_out: bool,
    }
}

group! {
    /// What was measured of a mix: a dish of it dried, a cup of known volume weighed.
    MeasuredMix {
        /// The empty dish, g.
        dish_empty_g: Option<Grams>,
        /// The dish with mixed primer, g.
        dish_wet_g: Option<Grams>,
        /// The dish when its primer has dried, g.
        dish_dry_g: Option<Grams>,
        /// The empty density cup, g.
        cup_empty_g: Option<Grams>,
        /// The cup full of mixed primer, g.
        cup_full_g: Option<Grams>,
        /// What the cup holds, mL.
        cup_ml: Option<Millilitres>,
    }
}

group! {
    /// How the gun was set.
    Gun {
        /// Tip, mm.
        tip_mm: Option<Millimetres>,
        /// Pressure, kPa.
        pressure_kpa: Option<Kilopascals>,
        /// Passes.
        passes: Option<Count>,
        /// Anything else.
        note: String,
    }
}

entry! {
    /// A cup that was mixed.
    Mixed {
        /// Of which candidate.
        candidate: Ref<Candidate>,
        /// When its parts came together; absent while it is still being poured.
        at: Option<Instant>,
        /// How much it was to be, g; as the recipe says where it is absent.
        aim_g: Option<Grams>,
        /// What was poured of each component, g, in the order of the mix.
        poured_g: Vec<Grams>,
    }
}
