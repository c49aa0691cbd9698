//! The only changes there are.

use std::fmt;

mod apply;

use super::address::{Address, Owner};
use super::codec::{Entry, Full, entry_at};
use super::gate::{SIZE_LIMIT, blank_form};
use super::model::{BareWeight, Panel, Role, SprayTest, Step};
use super::slot::{Phrase, Pick, Row, Slot};
use super::stamp::Id;
use quantity::{Celsius, Division, Grams, Hours, Instant, Micrometres, OutOfBounds, Parts, Percent};

pub use apply::update;

/// One change. Entries it adds have an empty id until the change is stamped.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// Fills in a number, or empties it.
    Fill(Slot, Option<f64>),
    /// Fills in a short list of numbers.
    List(Row, Vec<f64>),
    /// Writes a line of text.
    Write(Phrase, String),
    /// Makes a choice.
    Choose(Pick),
    /// Adds a candidate with its panels.
    AddCandidate {
        /// Its id: [`History::fresh_id`](super::History::fresh_id).
        id: Id,
        /// Its name.
        label: String,
        /// The numbers on the backs of its panels.
        panels: Vec<String>,
    },
    /// Adds a panel for a candidate.
    AddPanel {
        /// What it carries.
        candidate: Id,
        /// The number on its back.
        label: String,
    },
    /// Adds a blank.
    AddBlank {
        /// Its name.
        label: String,
    },
    /// Adds a scale.
    AddBalance {
        /// Its name.
        label: String,
        /// The step of its display.
        division_g: Division,
    },
    /// Adds a comb with one edge.
    AddComb {
        /// Its name.
        label: String,
        /// Its teeth, from the shortest.
        teeth_um: Vec<Micrometres>,
    },
    /// Adds a component to a candidate's mix.
    AddComponent {
        /// Of which candidate.
        candidate: Id,
        /// Its name.
        label: String,
        /// What it is for.
        role: Role,
    },
    /// Sets the parts of a candidate's mix; a component that isn't there yet is added.
    SetRatio {
        /// Of which candidate.
        candidate: Id,
        /// The parts.
        parts: Vec<PartOfMix>,
    },
    /// Draws the order of spraying and the places in the rack.
    Draw {
        /// What it was drawn from.
        seed: String,
        /// The candidates in that order.
        candidates: Vec<Id>,
        /// The panels with their places.
        racks: Vec<(Id, String)>,
    },
    /// Sets when to weigh, h after the last coat. Times that stay keep their entry, and with it their reminder.
    Schedule(Vec<Hours>),
    /// Begins to pour a cup.
    Pour {
        /// Its id: [`History::fresh_id`](super::History::fresh_id).
        cup: Id,
        /// Of which candidate.
        candidate: Id,
        /// How much it is to be.
        aim_g: Option<Grams>,
        /// What is in it already of each component, in the order of the mix.
        poured_g: Vec<Grams>,
    },
    /// The parts of a cup came together; a cup that nobody poured by weight begins here.
    Mixed {
        /// The cup.
        cup: Id,
        /// Of which candidate.
        candidate: Id,
        /// When.
        at: Instant,
        /// The panels to be sprayed from it.
        panels: Vec<Id>,
    },
    /// Reads the air.
    TakeAir {
        /// When.
        at: Instant,
        /// The air.
        air_c: Option<Celsius>,
        /// Its humidity.
        humidity_pct: Option<Percent>,
        /// The panels.
        panel_c: Option<Celsius>,
    },
    /// Leaves a step of spray day out.
    Skip {
        /// When.
        at: Instant,
        /// Which step.
        step: Step,
        /// Of which candidate, panel or blank; of the whole test where none is named.
        of: Option<Address>,
    },
    /// Weighs a panel bare.
    WeighBare {
        /// Which panel.
        panel: Id,
        /// When.
        at: Instant,
        /// What the scale showed.
        gross_g: Grams,
    },
    /// Sprays a coat on panels.
    Coat {
        /// Which panels.
        panels: Vec<Id>,
        /// When.
        at: Instant,
    },
    /// Reads the comb on a panel.
    Dab {
        /// Which panel.
        panel: Id,
        /// When.
        at: Instant,
        /// With which comb.
        comb: Option<Id>,
        /// The last wetted tooth; 0 where none was.
        wetted_um: Micrometres,
        /// The tooth above it, where that was just touched.
        touched_um: Option<Micrometres>,
        /// The first dry tooth; `None` where the longest was wetted.
        dry_um: Option<Micrometres>,
        /// Where on the panel.
        place: String,
        /// The dab that this one takes the place of, if any.
        instead_of: Option<Id>,
    },
    /// Begins a visit to the scale.
    BeginRound {
        /// When.
        at: Instant,
        /// Where the panels are.
        place: String,
    },
    /// Weighs a panel or a blank.
    Weigh {
        /// The panel or the blank.
        owner: Owner,
        /// In which round; none for the wet weight.
        round: Option<Id>,
        /// When.
        at: Instant,
        /// What the scale showed.
        gross_g: Grams,
    },
    /// Carries panels elsewhere.
    Carry {
        /// When.
        at: Instant,
        /// Where to.
        to: String,
        /// Whether it is warmer there than at the start.
        warmer: bool,
        /// Which panels; none named means all.
        panels: Vec<Id>,
    },
    /// Carries panels to a warm place in the morning and back in the evening, day after day.
    CarryByDay {
        /// When out and when back, of each day.
        days: Vec<[Instant; 2]>,
        /// Where to in the morning: warmer than at the start.
        out: String,
        /// Where to in the evening.
        back: String,
        /// Which panels; none named means all.
        panels: Vec<Id>,
    },
    /// Reads the dry film at a spot.
    Spot {
        /// Its id: [`History::fresh_id`](super::History::fresh_id).
        id: Id,
        /// Which panel.
        panel: Id,
        /// When.
        at: Instant,
        /// Where on it.
        place: String,
        /// The shim it is read through, to be subtracted.
        shim_um: Option<Micrometres>,
        /// The readings.
        readings_um: Vec<Micrometres>,
    },
    /// Tries the dry gauge on a shim.
    Verify {
        /// When.
        at: Instant,
        /// The shim.
        shim_um: Micrometres,
        /// What the gauge said.
        reading_um: Micrometres,
    },
    /// Leaves a weigh-in out, with the reason.
    SetAside {
        /// The panel or the blank.
        owner: Owner,
        /// Which weigh-in.
        weigh_in: Id,
        /// Why.
        why: String,
    },
    /// A panel or a blank leaves the test, with the reason.
    Leave {
        /// The panel or the blank.
        owner: Owner,
        /// In which round, if in one.
        round: Option<Id>,
        /// When.
        at: Instant,
        /// Why.
        why: String,
        /// Its weigh-in that is left out for the same reason.
        weigh_in: Option<Id>,
    },
    /// A panel or a blank that left the test is back in it.
    ComeBack(Owner),
    /// Gives two weigh-ins each other's weight: of each, the panel and the weigh-in.
    Exchange((Owner, Id), (Owner, Id)),
    /// Takes a weigh-in in again that the person or the page had left out.
    Vouch {
        /// The panel or the blank.
        owner: Owner,
        /// Which weigh-in.
        weigh_in: Id,
    },
    /// Corrects a time.
    Date(Dated, Instant),
    /// Takes an entry out.
    Remove(Address),
    /// Takes a round out, with all weigh-ins made in it.
    RemoveRound(Id),
    /// Brings an entry back that was taken out, with what it stands in: a panel's candidate, a weigh-in's round.
    BringBack(Address),
}

/// Something whose time can be corrected.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Dated {
    /// A round, with the weigh-ins in it that have its time.
    Round(Id),
    /// A move.
    Move(Id),
    /// A weigh-in of a panel or blank.
    WeighIn(Owner, Id),
    /// That a panel or a blank left the test.
    Leaving(Owner, Id),
    /// One coat on several panels: of each panel, the coat. The time is that of the first; the others keep their distance.
    Coats(Vec<(Id, Id)>),
    /// A cup that was mixed.
    Cup(Id),
    /// A spot on a panel.
    Spot(Id, Id),
    /// The day it is to be sprayed.
    SprayDay,
}

/// One number of a mix ratio.
#[derive(Clone, Debug, PartialEq)]
pub struct PartOfMix {
    /// The component it stands for; `None` adds one.
    pub component: Option<Id>,
    /// The name of one that is added.
    pub label: String,
    /// What one that is added is for.
    pub role: Role,
    /// Its parts.
    pub parts: Parts,
}

/// Why an action cannot be done.
#[derive(Clone, Debug, PartialEq)]
pub enum Refused {
    /// The number is out of bounds.
    OutOfBounds(OutOfBounds),
    /// What it speaks of is not there, or no longer.
    Gone,
    /// The list it adds to is full.
    Full(Full),
    /// The record would be longer than [`SIZE_LIMIT`].
    NoRoom,
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfBounds(trouble) => write!(f, "It {trouble}."),
            Self::Gone => f.write_str("That entry is no longer there."),
            Self::Full(full) => f.write_str(&super::bounds::refusal(full)),
            Self::NoRoom => {
                write!(f, "Too long: a test can hold {} MB, and this would be more.", SIZE_LIMIT / 1_000_000)
            }
        }
    }
}

impl std::error::Error for Refused {}

impl SprayTest {
    /// An empty test.
    pub fn begin(id: Id, created: Instant) -> Self {
        Self { id, created: Some(created), ..blank_form() }
    }

    fn entry_at(&mut self, way: &[(&'static str, Id)]) -> Result<&mut dyn Entry, Refused> {
        entry_at(self, way).map(|entry| entry as &mut dyn Entry).ok_or(Refused::Gone)
    }
}

impl Panel {
    /// The bare weighing that counts: the latest one kept.
    pub fn latest_bare(&self) -> Option<&BareWeight> {
        let mut kept = self.bare.kept().filter(|bare| bare.set_aside.is_none() && bare.gross_g.is_some());
        kept.next_back()
    }
}
