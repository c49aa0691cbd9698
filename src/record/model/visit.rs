//! Visits to the scale, and where the panels stood meanwhile.

use serde::{Serialize, Serializer};

use crate::quantity::{Celsius, Instant, Percent};
use crate::record::codec::{
    Entry, Field, Identified, Mark, MarkMut, Object, Part, PartMut, Rest, Written, entry, object, same_entry,
};
use crate::record::stamp::{Edited, Id, Stamp};

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
