//! One comparison as a whole: what was wanted, planned and noted.

use serde::{Serialize, Serializer};
use serde_json::Value;

use super::candidate::{Candidate, Mixed};
use super::instrument::{Balance, Comb, DryGauge, Verification};
use super::panel::{Blank, Panel};
use super::units::SuggestedUnits;
use super::visit::{Air, Move, Round};
use crate::quantity::{Count, Fraction, Hours, Instant, Micrometres};
use crate::record::codec::{
    Entries, Entry, Field, Identified, Leaf, Mark, MarkMut, Object, Part, PartMut, Reader, Rest, Written, entry, group,
    object, read_object, same_entry, same_object,
};
use crate::record::stamp::{Edited, Id, Stamp};

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
    /// Anything else, and when.
    Note {
        /// When.
        at: Option<Instant>,
        /// What.
        text: String,
    }
}
