//! What was written down: the shape of the record. Names and units are those of the file.

use serde::ser::{Serialize, Serializer};
use serde_json::{Map, Value};

use super::codec::{
    Entries, Entry, Field, Identified, Leaf, Lines, Object, Pen, Reader, Rest, Sides, dotted, entry, group, object,
    words,
};
use super::stamp::{Edited, Id, Stamp};
use crate::quantity::{
    Celsius, Count, Division, FilmUnit, Fraction, Grams, GramsPerLitre, GramsPerMillilitre, Hours, Instant,
    Kilopascals, LengthUnit, Litres, MassUnit, Micrometres, Millimetres, Minutes, Money, Parts, Percent,
    SquareCentimetres, TemperatureUnit, Unit, VolumeUnit,
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

entry! {
    /// One comparison: everything that was written down about it.
    SprayTest {
        /// Always `spray-test`.
        format: String,
        /// The version of this form.
        version: Option<Count>,
        /// What the person calls it.
        title: String,
        /// When it was begun.
        created: Option<Instant>,
        /// Invented, to show the page: the worked example and nothing else.
        invented: bool,
        /// The units suggested to a new reader.
        units: SuggestedUnits,
        /// Of every price in it, as an ISO 4217 code.
        currency: String,
        /// What the painter is after.
        wanted: Wanted,
        /// The drawn order of spraying.
        order: Order,
        /// When to weigh.
        schedule: Entries<Due>,
        /// The scales.
        balances: Entries<Balance>,
        /// The combs.
        combs: Entries<Comb>,
        /// The gauge for dry film.
        dry_gauge: DryGauge,
        /// The gauge tried on shims.
        verifications: Entries<Verification>,
        /// The primers compared.
        candidates: Entries<Candidate>,
        /// The cups that were mixed.
        mixes: Entries<Mixed>,
        /// The panels sprayed.
        panels: Entries<Panel>,
        /// The panels that stay bare and are weighed with the others.
        blanks: Entries<Blank>,
        /// The visits to the scale.
        rounds: Entries<Round>,
        /// Panels carried elsewhere.
        moves: Entries<Move>,
        /// The air, as read.
        air: Entries<Air>,
        /// Anything else.
        notes: Entries<Note>,
    }
}

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

group! {
    /// What the painter is after.
    Wanted {
        /// The dry build to reach, µm.
        dry_build_um: Option<Micrometres>,
        /// When it is sanded or topcoated, h after the last coat.
        sanding_h: Option<Hours>,
        /// Film taken off by sanding, µm.
        sanding_loss_um: Option<Micrometres>,
        /// The share of what is sprayed that lands.
        transfer_efficiency: Option<Fraction>,
    }
}

group! {
    /// The drawn order of spraying.
    Order {
        /// What it was drawn from.
        seed: String,
        /// The candidates in that order.
        candidates: Vec<Id>,
    }
}

entry! {
    /// A time to weigh.
    Due {
        /// Hours after the last coat.
        due_h: Option<Hours>,
    }
}

entry! {
    /// A scale.
    Balance {
        /// Its name.
        label: String,
        /// The step of its display, g.
        division_g: Option<Division>,
        /// Its repeatability as a standard deviation, g.
        repeatability_g: Option<Grams>,
        /// One panel weighed again and again, off and on, g.
        repeats_g: Vec<Grams>,
    }
}

entry! {
    /// A wet-film comb.
    Comb {
        /// Its name.
        label: String,
        /// Its edges.
        edges: Entries<Edge>,
    }
}

entry! {
    /// One edge of a comb.
    Edge {
        /// Its teeth, µm, from the shortest.
        teeth_um: Vec<Micrometres>,
    }
}

group! {
    /// The gauge for dry film.
    DryGauge {
        /// Its calibration as a standard uncertainty, µm.
        calibration_um: Option<Micrometres>,
        /// Readings on the bare prepared metal, µm.
        base_metal_um: Vec<Micrometres>,
    }
}

entry! {
    /// The dry gauge tried on a shim.
    Verification {
        /// When.
        at: Option<Instant>,
        /// The shim, µm.
        shim_um: Option<Micrometres>,
        /// What the gauge said, µm.
        reading_um: Option<Micrometres>,
    }
}

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

entry! {
    /// A weighed piece of metal carrying one candidate.
    Panel {
        /// The number on its back.
        label: String,
        /// What it carries.
        candidate: Option<Id>,
        /// From which cup.
        mix: Option<Id>,
        /// Its place in the rack.
        rack: String,
        /// Width, mm.
        width_mm: Option<Millimetres>,
        /// Length, mm.
        length_mm: Option<Millimetres>,
        /// Thickness, mm.
        thickness_mm: Option<Millimetres>,
        /// Coated area, cm², where it is known better than by the sides.
        coated_cm2: Option<SquareCentimetres>,
        /// Weighings before any coat.
        bare: Entries<BareWeight>,
        /// The coats.
        coats: Entries<Coat>,
        /// The comb readings.
        dabs: Entries<Dab>,
        /// The weighings after that.
        weigh_ins: Entries<WeighIn>,
        /// The readings of dry film.
        spots: Entries<Spot>,
    }
}

group! {
    /// Why a reading is left out.
    SetAside {
        /// Who left it out: `person` or `page`.
        by: String,
        /// Why, in words.
        why: String,
    }
}

entry! {
    /// A weighing before any coat.
    BareWeight {
        /// When.
        at: Option<Instant>,
        /// What the scale showed, g.
        gross_g: Option<Grams>,
        /// On which scale.
        balance: Option<Id>,
        /// Left out, and why.
        set_aside: Option<SetAside>,
    }
}

entry! {
    /// A coat sprayed.
    Coat {
        /// When.
        at: Option<Instant>,
    }
}

entry! {
    /// One comb reading.
    Dab {
        /// When.
        at: Option<Instant>,
        /// With which comb.
        comb: Option<Id>,
        /// The last wetted tooth, µm; 0 where none was.
        wetted_um: Option<Micrometres>,
        /// The tooth above it, where that was just touched, µm.
        touched_um: Option<Micrometres>,
        /// The first dry tooth, µm; absent where the longest was wetted.
        dry_um: Option<Micrometres>,
        /// Where on the panel.
        place: String,
    }
}

entry! {
    /// One weighing in a round.
    WeighIn {
        /// When; the round's time where it is absent.
        at: Option<Instant>,
        /// In which round.
        round: Option<Id>,
        /// On which scale; the round's where it is absent.
        balance: Option<Id>,
        /// What the scale showed, g.
        gross_g: Option<Grams>,
        /// Left out, and why.
        set_aside: Option<SetAside>,
        /// The person's word that it is right, whatever the page thinks of it.
        vouched: bool,
    }
}

entry! {
    /// Dry-film readings close together.
    Spot {
        /// When.
        at: Option<Instant>,
        /// Where on the panel.
        place: String,
        /// The readings, µm.
        readings_um: Vec<Micrometres>,
        /// The shim they were taken through, µm, to be subtracted.
        shim_um: Option<Micrometres>,
    }
}

entry! {
    /// An uncoated panel that travels and is weighed with the others.
    Blank {
        /// Its name.
        label: String,
        /// Its weighings.
        weigh_ins: Entries<WeighIn>,
    }
}

entry! {
    /// One visit to the scale.
    Round {
        /// When it was begun.
        at: Option<Instant>,
        /// Where the panels were.
        place: String,
        /// On which scale.
        balance: Option<Id>,
    }
}

entry! {
    /// Panels carried to another drying place.
    Move {
        /// When.
        at: Option<Instant>,
        /// Where to.
        to: String,
        /// Whether it is warmer there than at the start.
        warmer: bool,
        /// Which panels; all of them where none is named.
        panels: Vec<Id>,
    }
}

entry! {
    /// The air, as read.
    Air {
        /// When.
        at: Option<Instant>,
        /// The air, °C.
        air_c: Option<Celsius>,
        /// Relative humidity, %.
        humidity_pct: Option<Percent>,
        /// The panels, °C.
        panel_c: Option<Celsius>,
    }
}

entry! {
    /// Anything else, and when.
    Note {
        /// When.
        at: Option<Instant>,
        /// What.
        text: String,
    }
}
