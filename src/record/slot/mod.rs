//! The blanks on the card: every number, list of numbers, line of text and choice that a person may fill in, by name, so
//! that one kind of field on a page serves all of its kind.

mod lines;
mod phrase;
mod pick;
mod row;

use super::address::Owner;
use super::model::SprayTest;
use super::stamp::Id;
use quantity::{OutOfBounds, Quantity};

pub use quantity::Measure;

pub use lines::*;
pub use phrase::Phrase;
pub use pick::Pick;
pub use row::Row;

/// A number that may be missing, whatever its quantity.
trait Number {
    fn get(&self) -> Option<f64>;
    fn set(&mut self, value: Option<f64>) -> Result<(), OutOfBounds>;
}

impl<Q: Quantity> Number for Option<Q> {
    fn get(&self) -> Option<f64> {
        self.map(Quantity::get)
    }

    fn set(&mut self, value: Option<f64>) -> Result<(), OutOfBounds> {
        *self = value.map(Q::new).transpose()?;
        Ok(())
    }
}

/// One number on the card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Slot {
    /// A line of what the painter is after.
    Wanted(WantedLine),
    /// The hours in which the person comes to the scale.
    Hours(HoursLine),
    /// A line of the dry gauge.
    Gauge(GaugeLine),
    /// A line of a candidate's data sheet.
    Sheet(Id, SheetLine),
    /// A line of a candidate's mix.
    Mix(Id, MixLine),
    /// A line of a component: of the candidate, the component.
    Component(Id, Id, ComponentLine),
    /// A line of what was measured of a candidate's mix.
    Measured(Id, MeasuredLine),
    /// A line of how the gun was set for a candidate.
    Gun(Id, GunLine),
    /// A line of a panel.
    Panel(Id, PanelLine),
    /// The same line of every panel: a test is cut from one sheet. Reads as what they have in common.
    EveryPanel(PanelLine),
    /// A panel's bare weight: the latest one kept.
    Bare(Id),
    /// A line of a scale.
    Balance(Id, BalanceLine),
    /// A line of the air, as read once.
    Air(Id, AirLine),
    /// A line of a spot: of the panel, the spot.
    Spot(Id, Id, SpotLine),
    /// What a weigh-in showed: of the panel or blank, the weigh-in.
    WeighIn(Owner, Id),
    /// How much a cup is to be.
    Aim(Id),
}

/// Where a slot's number stands in the test; once for reading it and once for writing it.
macro_rules! locate {
    ($slot:ident in $test:ident by $find:ident $weigh_ins:ident $number:ident $($mutable:tt)?) => {
        Some(match $slot {
            Slot::Wanted(line) => line.$number(& $($mutable)? $test.wanted),
            Slot::Hours(line) => line.$number(& $($mutable)? $test.hours),
            Slot::Gauge(line) => line.$number(& $($mutable)? $test.dry_gauge),
            Slot::Sheet(candidate, line) => line.$number(& $($mutable)? $test.candidates.$find(candidate)?.sheet),
            Slot::Mix(candidate, line) => line.$number(& $($mutable)? $test.candidates.$find(candidate)?.mix),
            Slot::Component(candidate, component, line) => {
                line.$number($test.candidates.$find(candidate)?.mix.components.$find(component)?)
            }
            Slot::Measured(candidate, line) => {
                line.$number(& $($mutable)? $test.candidates.$find(candidate)?.measured)
            }
            Slot::Gun(candidate, line) => line.$number(& $($mutable)? $test.candidates.$find(candidate)?.gun),
            Slot::Panel(panel, line) => line.$number($test.panels.$find(panel)?),
            // Every panel's line is read and filled panel by panel, below.
            Slot::EveryPanel(_) => return None,
            Slot::Bare(panel) => {
                let panel = $test.panels.$find(panel)?;
                let latest = panel.latest_bare()?.id.clone();
                & $($mutable)? panel.bare.$find(&latest)?.gross_g
            }
            Slot::Balance(balance, line) => line.$number($test.balances.$find(balance)?),
            Slot::Air(air, line) => line.$number($test.air.$find(air)?),
            Slot::Spot(panel, spot, line) => line.$number($test.panels.$find(panel)?.spots.$find(spot)?),
            Slot::Aim(cup) => & $($mutable)? $test.mixes.$find(cup)?.aim_g,
            Slot::WeighIn(owner, weigh_in) => & $($mutable)? owner.$weigh_ins($test)?.$find(weigh_in)?.gross_g,
        })
    };
}

impl Slot {
    /// What kind of number it holds.
    pub fn measure(&self) -> Measure {
        match self {
            Self::Wanted(line) => line.measure(),
            Self::Hours(line) => line.measure(),
            Self::Gauge(line) => line.measure(),
            Self::Sheet(_, line) => line.measure(),
            Self::Mix(_, line) => line.measure(),
            Self::Component(_, _, line) => line.measure(),
            Self::Measured(_, line) => line.measure(),
            Self::Gun(_, line) => line.measure(),
            Self::Panel(_, line) | Self::EveryPanel(line) => line.measure(),
            Self::Balance(_, line) => line.measure(),
            Self::Air(_, line) => line.measure(),
            Self::Spot(_, _, line) => line.measure(),
            Self::Bare(_) | Self::WeighIn(..) | Self::Aim(_) => Measure::Mass,
        }
    }

    /// The ids of the entries it stands in, one behind the other.
    pub fn owners(&self) -> String {
        match self {
            Self::Wanted(_) | Self::Hours(_) | Self::Gauge(_) | Self::EveryPanel(_) => String::new(),
            Self::Sheet(id, _) | Self::Mix(id, _) | Self::Measured(id, _) | Self::Gun(id, _) => id.0.clone(),
            Self::Panel(id, _) | Self::Balance(id, _) | Self::Air(id, _) => id.0.clone(),
            Self::Bare(id) | Self::Aim(id) => id.0.clone(),
            Self::Component(of, id, _) | Self::Spot(of, id, _) => [&*of.0, &id.0].join("|"),
            Self::WeighIn(of, id) => [&*of.key(), &id.0].join("|"),
        }
    }

    /// What it holds, in the unit of the record.
    pub fn read(&self, test: &SprayTest) -> Option<f64> {
        if let Self::EveryPanel(line) = self {
            let mut lines = test.panels.kept().map(|panel| Self::Panel(panel.id.clone(), *line).read(test));
            let first = lines.next()??;
            return lines.all(|other| other == Some(first)).then_some(first);
        }
        self.number(test)?.get()
    }

    /// Fills it in, or empties it; `None` where the slot's entry is no longer there.
    pub(super) fn fill(&self, test: &mut SprayTest, value: Option<f64>) -> Option<Result<(), OutOfBounds>> {
        if let Self::EveryPanel(line) = self {
            let panels: Vec<Id> = test.panels.kept().map(|panel| panel.id.clone()).collect();
            return panels.into_iter().try_fold(Ok(()), |done, panel| match done {
                Ok(()) => Self::Panel(panel, *line).fill(test, value),
                refused => Some(refused),
            });
        }
        Some(self.number_mut(test)?.set(value))
    }

    fn number<'a>(&self, test: &'a SprayTest) -> Option<&'a dyn Number> {
        locate!(self in test by find weigh_ins number)
    }

    fn number_mut<'a>(&self, test: &'a mut SprayTest) -> Option<&'a mut dyn Number> {
        locate!(self in test by find_mut weigh_ins_mut number_mut mut)
    }
}
