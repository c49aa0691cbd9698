//! The blanks on the card: every single number and every single line of text that a person may fill in, by name, so that
//! one kind of field on a page serves them all.

use super::model::SprayTest;
use super::stamp::Id;
use crate::quantity::{OutOfBounds, Quantity};

/// What kind of number a slot holds: decides the unit it is shown and typed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A weight.
    Mass,
    /// A film.
    Film,
    /// A side.
    Length,
    /// An area, cm².
    Area,
    /// A density, g/mL.
    Density,
    /// A share, shown in per cent.
    Share,
    /// A temperature.
    Temperature,
    /// Relative humidity, %.
    Humidity,
    /// Hours.
    Hours,
    /// Minutes.
    Minutes,
    /// How many.
    Count,
}

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
    /// The dry build to reach.
    DryBuild,
    /// Sanded or topcoated so long after the last coat.
    Sanding,
    /// A line of a candidate's data sheet.
    Sheet(Id, SheetLine),
    /// A line of a panel.
    Panel(Id, PanelLine),
    /// The same line of every panel: a test is cut from one sheet. Reads as what they have in common.
    EveryPanel(PanelLine),
    /// A panel's bare weight: the latest one kept.
    Bare(Id),
    /// The division of a balance.
    Division(Id),
    /// The measured repeatability of a balance.
    Repeatability(Id),
    /// What a weigh-in showed: of the panel or blank, the weigh-in.
    WeighIn(Id, Id),
}

/// A line of a data sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetLine {
    /// Solids by weight.
    SolidsByWeight,
    /// Solids by volume.
    SolidsByVolume,
    /// Density as sprayed.
    Density,
    /// Density of what leaves.
    SolventDensity,
    /// Density of the dry film.
    DryDensity,
    /// When it may be sanded.
    Sanding,
}

/// A line of a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PanelLine {
    /// Its width.
    Width,
    /// Its length.
    Length,
    /// Its thickness.
    Thickness,
    /// Its coated area.
    Coated,
}

/// Where a slot's number stands in the test; once for reading it and once for writing it.
macro_rules! locate {
    ($slot:ident in $test:ident by $find:ident $($mutable:tt)?) => {{
        let number: & $($mutable)? dyn Number = match $slot {
            Slot::DryBuild => & $($mutable)? $test.wanted.dry_build_um,
            Slot::Sanding => & $($mutable)? $test.wanted.sanding_h,
            Slot::Sheet(candidate, line) => {
                let sheet = & $($mutable)? $test.candidates.$find(candidate)?.sheet;
                match line {
                    SheetLine::SolidsByWeight => & $($mutable)? sheet.solids_by_weight,
                    SheetLine::SolidsByVolume => & $($mutable)? sheet.solids_by_volume,
                    SheetLine::Density => & $($mutable)? sheet.density_g_per_ml,
                    SheetLine::SolventDensity => & $($mutable)? sheet.solvent_density_g_per_ml,
                    SheetLine::DryDensity => & $($mutable)? sheet.dry_density_g_per_ml,
                    SheetLine::Sanding => & $($mutable)? sheet.sanding_h,
                }
            }
            // Every panel's line is read and filled panel by panel, below.
            Slot::EveryPanel(_) => return None,
            Slot::Panel(panel, line) => {
                let panel = $test.panels.$find(panel)?;
                match line {
                    PanelLine::Width => & $($mutable)? panel.width_mm,
                    PanelLine::Length => & $($mutable)? panel.length_mm,
                    PanelLine::Thickness => & $($mutable)? panel.thickness_mm,
                    PanelLine::Coated => & $($mutable)? panel.coated_cm2,
                }
            }
            Slot::Bare(panel) => {
                let panel = $test.panels.$find(panel)?;
                let latest = panel.latest_bare()?.id.clone();
                & $($mutable)? panel.bare.$find(&latest)?.gross_g
            }
            Slot::Division(balance) => & $($mutable)? $test.balances.$find(balance)?.division_g,
            Slot::Repeatability(balance) => & $($mutable)? $test.balances.$find(balance)?.repeatability_g,
            Slot::WeighIn(owner, weigh_in) => match $test.panels.$find(owner) {
                Some(panel) => & $($mutable)? panel.weigh_ins.$find(weigh_in)?.gross_g,
                None => & $($mutable)? $test.blanks.$find(owner)?.weigh_ins.$find(weigh_in)?.gross_g,
            },
        };
        Some(number)
    }};
}

impl Slot {
    /// What kind of number it holds.
    pub fn measure(&self) -> Measure {
        match self {
            Self::DryBuild => Measure::Film,
            Self::Sanding | Self::Sheet(_, SheetLine::Sanding) => Measure::Hours,
            Self::Sheet(_, SheetLine::SolidsByWeight | SheetLine::SolidsByVolume) => Measure::Share,
            Self::Sheet(..) => Measure::Density,
            Self::Panel(_, PanelLine::Coated) | Self::EveryPanel(PanelLine::Coated) => Measure::Area,
            Self::Panel(..) | Self::EveryPanel(_) => Measure::Length,
            Self::Bare(_) | Self::Division(_) | Self::Repeatability(_) | Self::WeighIn(..) => Measure::Mass,
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
        locate!(self in test by find)
    }

    fn number_mut<'a>(&self, test: &'a mut SprayTest) -> Option<&'a mut dyn Number> {
        locate!(self in test by find_mut mut)
    }
}

/// One line of text on the card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Phrase {
    /// The name of the test.
    Title,
    /// The name of a candidate.
    Candidate(Id),
    /// The notes on a candidate.
    Notes(Id),
    /// The number of a panel.
    Panel(Id),
    /// The place of a round.
    Place(Id),
}

macro_rules! locate_text {
    ($phrase:ident in $test:ident by $find:ident $($mutable:tt)?) => {
        Some(match $phrase {
            Phrase::Title => & $($mutable)? $test.title,
            Phrase::Candidate(candidate) => & $($mutable)? $test.candidates.$find(candidate)?.label,
            Phrase::Notes(candidate) => & $($mutable)? $test.candidates.$find(candidate)?.notes,
            Phrase::Panel(panel) => & $($mutable)? $test.panels.$find(panel)?.label,
            Phrase::Place(round) => & $($mutable)? $test.rounds.$find(round)?.place,
        })
    };
}

impl Phrase {
    /// What stands there.
    pub fn read<'a>(&self, test: &'a SprayTest) -> Option<&'a str> {
        let text: Option<&String> = locate_text!(self in test by find);
        text.map(String::as_str)
    }

    pub(super) fn text_mut<'a>(&self, test: &'a mut SprayTest) -> Option<&'a mut String> {
        locate_text!(self in test by find_mut mut)
    }
}
