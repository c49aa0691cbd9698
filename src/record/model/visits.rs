//! Blanks, rounds, moves, air and notes.

use super::panel::{Leaving, Panel, WeighIn};
use super::{Balance, LeftOutOf};
use crate::codec::declaring::*;
use quantity::{Celsius, Instant, Percent};

entry! {
    /// An uncoated panel that travels and is weighed with the others.
    Blank {
        /// Its name.
        label: String,
        /// On which scale it is weighed; any where it is not said.
        balance: Ref<Balance>,
        /// Where it stands between the visits.
        place: String,
        /// Its weighings.
        weigh_ins: Entries<WeighIn>,
        /// That it left the test.
        left: Entries<Leaving>,
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
        balance: Ref<Balance>,
        /// The person's word that the panels, come from a warm place, were cool to the hand.
        cooled: bool,
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
        panels: Refs<Panel>,
        /// The newest move that was known then.
        after: Ref<Move>,
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

words! {
    /// A step of spray day.
    Step {
        /// Reading the air.
        Air = "air",
        /// Weighing bare.
        Bare = "bare",
        /// Pouring a mix by weight.
        Mix = "mix",
        /// The coats that were still planned.
        Coats = "coats",
        /// Reading the comb.
        Comb = "comb",
        /// Weighing wet.
        Wet = "wet",
    }
}

entry! {
    /// A step of spray day that was left out.
    Skipped {
        /// When.
        at: Option<Instant>,
        /// Which step.
        step: Option<Step>,
        /// Of which candidate, panel or blank; of the whole test where none is named.
        of: Ref<LeftOutOf>,
        /// Whether that is a blank.
        blank: bool,
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
