//! What was written down: the shape of the record. Names and units are those of the file.

mod candidate;
mod instruments;
mod panel;
mod visits;

use crate::codec::declaring::*;
use quantity::{
    Count, FilmUnit, Fraction, Hours, Instant, LengthUnit, MassUnit, Micrometres, Millilitres, Millimetres,
    TemperatureUnit, Unit, VolumeUnit,
};

pub use candidate::*;
pub use instruments::*;
pub use panel::*;
pub use visits::*;

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

/// What was done on a panel or blank before something else, as whoever noted that knew it: the newest of its coats, comb
/// readings, weigh-ins and leavings; before them its cup. A blank is weighed with the panels, so the newest coat of any may be named there.
pub enum DoneBefore {}

/// What a step of spray day is left out of: a candidate, a panel or a blank.
pub enum LeftOutOf {}

named! {
    Balance: Among::All("balances");
    Comb: Among::All("combs");
    Candidate: Among::All("candidates");
    Mixed: Among::All("mixes");
    Panel: Among::All("panels");
    Round: Among::All("rounds");
    Move: Among::All("moves");
    DoneBefore: Among::Own("dabs"), Among::Own("weigh_ins"), Among::Own("left"), Among::All("mixes"), Among::All("coats");
    LeftOutOf: Among::All("candidates"), Among::All("panels"), Among::All("blanks");
}

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
        /// Who sprays.
        painter: String,
        /// In which shop.
        shop: String,
        /// What the panels are cut from: metal and grade.
        metal: String,
        /// How the metal was prepared: blasted, sanded, degreased.
        preparation: String,
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
        /// The hours in which the person comes to the scale.
        hours: KeptHours,
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
        /// Steps of spray day that were left out.
        skipped: Entries<Skipped>,
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
        /// How far the gun sprays over each edge of a panel, mm.
        overspray_mm: Option<Millimetres>,
        /// What stays in cup, gun and hose, mL.
        left_in_gun_ml: Option<Millilitres>,
        /// When it is to be sprayed.
        spray_at: Option<Instant>,
        /// How sure a panel is to be before its weight is called steady; `usual` where it is not said.
        certainty: Option<Certainty>,
    }
}

words! {
    /// How sure a panel is to be before its weight is called steady.
    Certainty {
        /// Fewer are called, and hardly any falsely.
        Cautious = "cautious",
        /// Between the two.
        Usual = "usual",
        /// More are called, and more of them falsely.
        Quick = "quick",
    }
}

group! {
    /// The drawn order of spraying.
    Order {
        /// What it was drawn from.
        seed: String,
        /// The candidates in that order.
        candidates: Refs<Candidate>,
    }
}

group! {
    /// The hours of the day in which the person comes to the scale.
    KeptHours {
        /// From, h after midnight.
        from_h: Option<Hours>,
        /// To, h after midnight.
        to_h: Option<Hours>,
    }
}

entry! {
    /// A time to weigh.
    Due {
        /// Hours after the last coat.
        due_h: Option<Hours>,
    }
}
