//! Short lists of numbers.

use super::Measure;
use crate::address::Owner;
use crate::model::SprayTest;
use crate::stamp::Id;
use quantity::{OutOfBounds, Quantity};

/// One short list of numbers on the card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Row {
    /// The teeth of a comb's first edge. Dabs made with it keep the teeth they name.
    Teeth(Id),
    /// One panel weighed again and again on a scale.
    Repeats(Id),
    /// A panel or blank weighed again in a round: of it, the weigh-in.
    Again(Owner, Id),
    /// The dry gauge on the bare prepared metal.
    BaseMetal,
    /// The readings of a spot: of the panel, the spot.
    Readings(Id, Id),
    /// What was poured into a cup of each component, in the order of the mix.
    Poured(Id),
    /// The air a candidate may be sprayed in, lowest and highest.
    SheetAir(Id),
    /// The air a component's grade is made for: of the candidate, the component.
    GradeAir(Id, Id),
}

/// A list of numbers, whatever their quantity.
trait Numbers {
    fn get(&self) -> Vec<f64>;
    fn set(&mut self, values: &[f64]) -> Result<(), OutOfBounds>;
}

impl<Q: Quantity> Numbers for Vec<Q> {
    fn get(&self) -> Vec<f64> {
        self.iter().map(|quantity| Quantity::get(*quantity)).collect()
    }

    fn set(&mut self, values: &[f64]) -> Result<(), OutOfBounds> {
        *self = values.iter().map(|&value| Q::new(value)).collect::<Result<_, _>>()?;
        Ok(())
    }
}

macro_rules! locate {
    ($row:ident in $test:ident by $find:ident $weigh_ins:ident $edges:ident $($mutable:tt)?) => {
        Some(match $row {
            Row::Teeth(comb) => & $($mutable)? $test.combs.$find(comb)?.edges.$edges().next()?.teeth_um,
            Row::Repeats(balance) => & $($mutable)? $test.balances.$find(balance)?.repeats_g,
            Row::Again(owner, weigh_in) => & $($mutable)? owner.$weigh_ins($test)?.$find(weigh_in)?.repeats_g,
            Row::BaseMetal => & $($mutable)? $test.dry_gauge.base_metal_um,
            Row::Readings(panel, spot) => & $($mutable)? $test.panels.$find(panel)?.spots.$find(spot)?.readings_um,
            Row::Poured(cup) => & $($mutable)? $test.mixes.$find(cup)?.poured_g,
            Row::SheetAir(candidate) => & $($mutable)? $test.candidates.$find(candidate)?.sheet.air_c,
            Row::GradeAir(candidate, component) => {
                & $($mutable)? $test.candidates.$find(candidate)?.mix.components.$find(component)?.air_c
            }
        })
    };
}

impl Row {
    /// What kind of numbers it holds.
    pub fn measure(&self) -> Measure {
        match self {
            Self::Teeth(_) | Self::BaseMetal | Self::Readings(..) => Measure::Film,
            Self::Repeats(_) | Self::Again(..) | Self::Poured(_) => Measure::Mass,
            Self::SheetAir(_) | Self::GradeAir(..) => Measure::Temperature,
        }
    }

    /// The ids of the entries it stands in, one behind the other.
    pub fn owners(&self) -> String {
        match self {
            Self::BaseMetal => String::new(),
            Self::Teeth(id) | Self::Repeats(id) | Self::Poured(id) | Self::SheetAir(id) => id.0.clone(),
            Self::Again(of, id) => [&*of.key(), &id.0].join("|"),
            Self::Readings(of, id) | Self::GradeAir(of, id) => [&*of.0, &id.0].join("|"),
        }
    }

    /// What it holds, in the unit of the record; nothing where its entry is no longer there.
    pub fn read(&self, test: &SprayTest) -> Vec<f64> {
        let numbers: Option<&dyn Numbers> = self.numbers(test);
        numbers.map(Numbers::get).unwrap_or_default()
    }

    pub(crate) fn fill(&self, test: &mut SprayTest, values: &[f64]) -> Option<Result<(), OutOfBounds>> {
        Some(self.numbers_mut(test)?.set(values))
    }

    fn numbers<'a>(&self, test: &'a SprayTest) -> Option<&'a dyn Numbers> {
        locate!(self in test by find weigh_ins kept)
    }

    fn numbers_mut<'a>(&self, test: &'a mut SprayTest) -> Option<&'a mut dyn Numbers> {
        locate!(self in test by find_mut weigh_ins_mut kept_mut mut)
    }
}
