//! The primers compared: how they are mixed, what their data sheets say, how the gun was set.

use serde::{Serialize, Serializer};
use serde_json::Value;

use crate::quantity::{
    Celsius, Count, Fraction, Grams, GramsPerLitre, GramsPerMillilitre, Hours, Instant, Kilopascals, Litres,
    Micrometres, Millimetres, Minutes, Money, Parts,
};
use crate::record::codec::{
    Entries, Entry, Field, Identified, Leaf, Mark, MarkMut, Object, Part, PartMut, Reader, Rest, Written, entry, group,
    object, read_object, same_entry, same_object, words,
};
use crate::record::stamp::{Edited, Id, Stamp};

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

group! {
    /// How a candidate is mixed.
    Mix {
        /// What the parts are parts of.
        basis: Option<Basis>,
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
        /// Its share.
        parts: Option<Parts>,
        /// Its density, g/mL.
        density_g_per_ml: Option<GramsPerMillilitre>,
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
        candidate: Option<Id>,
        /// When.
        at: Option<Instant>,
        /// What was poured of each component, g, in the order of the mix.
        poured_g: Vec<Grams>,
    }
}
