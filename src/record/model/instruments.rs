//! Scales, combs, gauges.

use crate::codec::declaring::*;
use quantity::{Division, Grams, Instant, Micrometres};

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
