//! Where an entry stands. Ids are unique within their list and nowhere else, so that whoever writes a file by hand may
//! number candidates, panels and moves 1, 2, 3 alike: an id alone names nothing.

use super::codec::{Entries, Step};
use super::model::{Leaving, Skipped, SprayTest, WeighIn};
use super::stamp::Id;

/// What is put on the scale: its weigh-ins are a list of its own.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Owner {
    /// A panel.
    Panel(Id),
    /// A blank.
    Blank(Id),
}

impl Owner {
    /// Which panel, if it is one.
    pub fn panel(&self) -> Option<&Id> {
        match self {
            Self::Panel(id) => Some(id),
            Self::Blank(_) => None,
        }
    }

    /// Which blank, if it is one.
    pub fn blank(&self) -> Option<&Id> {
        match self {
            Self::Panel(_) => None,
            Self::Blank(id) => Some(id),
        }
    }

    /// Whether it is a blank.
    pub fn is_blank(&self) -> bool {
        self.blank().is_some()
    }

    /// Its id, told from that of any other owner.
    pub fn key(&self) -> String {
        match self {
            Self::Panel(id) => id.0.clone(),
            Self::Blank(id) => ["blanks/", &id.0].concat(),
        }
    }

    /// Where it stands.
    pub fn address(&self) -> Address {
        match self {
            Self::Panel(id) => Address::panel(id),
            Self::Blank(id) => Address::blank(id),
        }
    }

    /// The number on its back, or its name.
    pub fn label<'a>(&self, test: &'a SprayTest) -> &'a str {
        let label = match self {
            Self::Panel(id) => test.panels.find(id).map(|panel| &panel.label),
            Self::Blank(id) => test.blanks.find(id).map(|blank| &blank.label),
        };
        label.map_or("", String::as_str)
    }

    /// Its weigh-ins, unless it was taken out.
    pub fn weigh_ins<'a>(&self, test: &'a SprayTest) -> Option<&'a Entries<WeighIn>> {
        match self {
            Self::Panel(id) => test.panels.find(id).map(|panel| &panel.weigh_ins),
            Self::Blank(id) => test.blanks.find(id).map(|blank| &blank.weigh_ins),
        }
    }

    /// That it left the test, unless it was taken out.
    pub fn left<'a>(&self, test: &'a SprayTest) -> Option<&'a Entries<Leaving>> {
        match self {
            Self::Panel(id) => test.panels.find(id).map(|panel| &panel.left),
            Self::Blank(id) => test.blanks.find(id).map(|blank| &blank.left),
        }
    }

    /// As [`Self::left`], to change.
    pub(super) fn left_mut<'a>(&self, test: &'a mut SprayTest) -> Option<&'a mut Entries<Leaving>> {
        match self {
            Self::Panel(id) => test.panels.find_mut(id).map(|panel| &mut panel.left),
            Self::Blank(id) => test.blanks.find_mut(id).map(|blank| &mut blank.left),
        }
    }

    /// As [`Self::weigh_ins`], to change.
    pub(super) fn weigh_ins_mut<'a>(&self, test: &'a mut SprayTest) -> Option<&'a mut Entries<WeighIn>> {
        match self {
            Self::Panel(id) => test.panels.find_mut(id).map(|panel| &mut panel.weigh_ins),
            Self::Blank(id) => test.blanks.find_mut(id).map(|blank| &mut blank.weigh_ins),
        }
    }
}

/// Where an entry stands: from the test down, the name of each list and the id in it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Address(Vec<(&'static str, Id)>);

/// An address for every list of the test itself.
macro_rules! lists {
    ($($(#[$doc:meta])* $one:ident in $list:literal,)*) => {$(
        $(#[$doc])*
        pub fn $one(id: &Id) -> Self {
            Self(vec![($list, id.clone())])
        }
    )*};
}

/// An address for every list of a panel.
macro_rules! lists_of_a_panel {
    ($($(#[$doc:meta])* $one:ident in $list:literal,)*) => {$(
        $(#[$doc])*
        pub fn $one(panel: &Id, id: &Id) -> Self {
            Self::panel(panel).then($list, id)
        }
    )*};
}

impl Address {
    lists! {
        /// A candidate.
        candidate in "candidates",
        /// A panel.
        panel in "panels",
        /// A blank.
        blank in "blanks",
        /// A scale.
        balance in "balances",
        /// A comb.
        comb in "combs",
        /// The gauge tried on a shim.
        verification in "verifications",
        /// A cup that was mixed.
        cup in "mixes",
        /// A visit to the scale.
        round in "rounds",
        /// Panels carried elsewhere.
        carried in "moves",
        /// A step that was left out.
        skipped in "skipped",
        /// A reading of the air.
        air in "air",
        /// A note.
        note in "notes",
        /// A time to weigh.
        due in "schedule",
    }

    lists_of_a_panel! {
        /// A bare weight: of the panel, the weight.
        bare in "bare",
        /// A coat: of the panel, the coat.
        coat in "coats",
        /// A comb reading: of the panel, the reading.
        dab in "dabs",
        /// A spot: of the panel, the spot.
        spot in "spots",
    }

    /// A component: of the candidate, the component.
    pub fn component(candidate: &Id, id: &Id) -> Self {
        Self::candidate(candidate).then("components", id)
    }

    /// A weigh-in: of the panel or the blank, the weigh-in.
    pub fn weigh_in(owner: &Owner, id: &Id) -> Self {
        owner.address().then("weigh_ins", id)
    }

    fn then(mut self, list: &'static str, id: &Id) -> Self {
        self.0.push((list, id.clone()));
        self
    }

    /// Where the entry at the end of a way stands.
    pub(super) fn along(way: &[(&'static str, Id)]) -> Self {
        Self(way.to_vec())
    }

    /// Where the last entry of a way down from the test stands.
    pub(super) fn of(trail: &[Step<'_>]) -> Self {
        Self(trail.iter().map(|(list, entry)| (*list, entry.id().clone())).collect())
    }

    /// The way to it: the name of each list, and the id in it.
    pub(super) fn way(&self) -> &[(&'static str, Id)] {
        &self.0
    }

    /// The id on the way through a list.
    pub(super) fn through(&self, list: &str) -> Option<&Id> {
        self.0.iter().find(|(known, _)| *known == list).map(|(_, id)| id)
    }

    /// The id in its own list.
    pub fn id(&self) -> Option<&Id> {
        self.0.last().map(|(_, id)| id)
    }
}

impl Skipped {
    /// Whether it is of this very candidate, panel or blank. Records of earlier pages do not say that a blank is meant:
    /// there it is where no panel has its id.
    pub fn is_of(&self, test: &SprayTest, address: &Address) -> bool {
        let blank = |id: &Id| self.blank || test.panels.all().iter().all(|panel| panel.id != *id);
        match (self.of.as_ref(), address.way()) {
            (Some(of), [("blanks", id)]) => of == id && blank(id),
            (Some(of), [("panels" | "candidates", id)]) => of == id && !self.blank,
            _ => false,
        }
    }
}
