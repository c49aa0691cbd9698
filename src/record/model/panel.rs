//! A panel and what was read on it.

use super::{Balance, Candidate, Comb, DoneBefore, Mixed, Round};
use crate::codec::declaring::*;
use quantity::{Grams, Instant, Micrometres, Millimetres, SquareCentimetres};

entry! {
    /// A weighed piece of metal carrying one candidate.
    Panel {
        /// The number on its back.
        label: String,
        /// What it carries.
        candidate: Ref<Candidate>,
        /// From which cup.
        mix: Ref<Mixed>,
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
        /// That it left the test.
        left: Entries<Leaving>,
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
        balance: Ref<Balance>,
        /// Left out, and why.
        set_aside: Option<SetAside>,
    }
}

entry! {
    /// A coat sprayed.
    Coat {
        /// When.
        at: Option<Instant>,
        /// The newest entry of its panel, or its cup, that was known then: clocks of phones disagree, this does not.
        after: Ref<DoneBefore>,
    }
}

entry! {
    /// One comb reading.
    Dab {
        /// When.
        at: Option<Instant>,
        /// With which comb.
        comb: Ref<Comb>,
        /// The last wetted tooth, µm; 0 where none was.
        wetted_um: Option<Micrometres>,
        /// The tooth above it, where that was just touched, µm.
        touched_um: Option<Micrometres>,
        /// The first dry tooth, µm; absent where the longest was wetted.
        dry_um: Option<Micrometres>,
        /// Where on the panel.
        place: String,
        /// The newest entry of its panel that was known then.
        after: Ref<DoneBefore>,
    }
}

entry! {
    /// One weighing in a round.
    WeighIn {
        /// When; the round's time where it is absent.
        at: Option<Instant>,
        /// In which round.
        round: Ref<Round>,
        /// On which scale; the round's where it is absent.
        balance: Ref<Balance>,
        /// What the scale showed, g.
        gross_g: Option<Grams>,
        /// What it showed when this was weighed again in the same round, g: the mean of all counts.
        repeats_g: Vec<Grams>,
        /// Left out, and why.
        set_aside: Option<SetAside>,
        /// The person's word that it is right, whatever the page thinks of it.
        vouched: bool,
        /// The newest entry of its panel that was known then; of a blank, that or the newest coat.
        after: Ref<DoneBefore>,
        /// The panel with which its weight was exchanged, as the two had been swapped on the scale.
        exchanged_with: Ref<Panel>,
    }
}

entry! {
    /// That a panel or a blank left the test: chipped, dropped, sold. What it weighed until then counts.
    Leaving {
        /// When.
        at: Option<Instant>,
        /// In which round; none where it was outside of them.
        round: Ref<Round>,
        /// Why, in words.
        why: String,
        /// The newest entry of its panel that was known then.
        after: Ref<DoneBefore>,
    }
}

entry! {
    /// Dry-film readings close together.
    Spot {
        /// When.
        at: Option<Instant>,
        /// Where on the panel.
        place: String,
        /// How far from the nearest edge, mm.
        edge_mm: Option<Millimetres>,
        /// The readings, µm.
        readings_um: Vec<Micrometres>,
        /// The shim they were taken through, µm, to be subtracted.
        shim_um: Option<Micrometres>,
    }
}
