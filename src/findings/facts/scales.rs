//! Scales: which one weighed something, and what its smallest step is.

use std::collections::BTreeMap;

use quantity::Quantity;
use record::{Blank, Id, SprayTest, WeighIn};

/// The smallest step of a scale where nobody noted one and no weight shows it, g.
pub(crate) const USUAL_STEP_G: f64 = 0.1;

/// The smallest step of the scale, g: of several that of the first which has one noted.
pub fn step_g(test: &SprayTest) -> Option<f64> {
    test.balances.kept().find_map(|balance| balance.division_g).map(Quantity::get)
}

/// The same, and the usual one where none is noted.
pub(crate) fn step_or_usual_g(test: &SprayTest) -> f64 {
    step_g(test).unwrap_or(USUAL_STEP_G)
}

/// The finest decimal step that weights were written with, g: what stands in for the step of a scale that nobody noted.
pub(crate) fn finest_step_g(weights: &mut dyn Iterator<Item = f64>) -> f64 {
    let decimals = weights.map(quantity::decimals_of).max().unwrap_or(0);
    10f64.powi(-(decimals.min(3) as i32))
}

/// On which scale: as it says, else its round, else the only one there is. A scale that never was in the test is none, one
/// that was taken out is.
pub fn balance_of<'a>(test: &'a SprayTest, weigh_in: &'a WeighIn) -> Option<&'a Id> {
    let known = |id: &&Id| balance_number(test, id).is_some();
    let by_round = || weigh_in.round.find(&test.rounds)?.balance.as_ref().filter(known);
    weigh_in.balance.as_ref().filter(known).or_else(by_round).or_else(|| sole_balance(test))
}

/// On which scale a round is weighed, where it names one that is there.
pub fn balance_of_round<'a>(test: &'a SprayTest, round: &Id) -> Option<&'a Id> {
    test.rounds.find(round)?.balance.find(&test.balances).map(|balance| &balance.id)
}

/// Whether a blank is weighed on a scale: one that names none which is there is weighed on any.
pub fn is_weighed_on(test: &SprayTest, blank: &Blank, scale: Option<&Id>) -> bool {
    let own = blank.balance.find(&test.balances).map(|balance| &balance.id);
    own.is_none() || scale.is_none() || own == scale
}

/// The scale of a test that has but one.
pub fn sole_balance(test: &SprayTest) -> Option<&Id> {
    let mut balances = test.balances.kept();
    balances.next().filter(|_| balances.next().is_none()).map(|balance| &balance.id)
}

/// The number by which the science knows a scale.
pub(crate) fn balance_number(test: &SprayTest, balance: &Id) -> Option<u32> {
    test.balances.all().iter().position(|known| known.id == *balance).map(|place| place as u32)
}

/// The number by which the science knows a round.
pub(crate) fn round_number(test: &SprayTest, round: &Id) -> Option<u32> {
    test.rounds.all().iter().position(|known| known.id == *round).map(|place| place as u32)
}

/// The same of all rounds at once, for a walk through all weigh-ins.
pub(crate) fn round_numbers(test: &SprayTest) -> BTreeMap<&Id, u32> {
    test.rounds.all().iter().enumerate().map(|(i, round)| (&round.id, i as u32)).collect()
}
