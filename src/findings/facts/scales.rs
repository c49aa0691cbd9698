//! On which scale something was weighed.

use std::collections::BTreeMap;

use record::{Id, SprayTest, WeighIn};

/// On which scale: as it says, else its round, else the only one there is.
pub(crate) fn balance_of<'a>(test: &'a SprayTest, weigh_in: &'a WeighIn) -> Option<&'a Id> {
    let by_round = || test.rounds.find(weigh_in.round.as_ref()?)?.balance.as_ref();
    let sole = || {
        let mut balances = test.balances.kept();
        balances.next().filter(|_| balances.next().is_none()).map(|balance| &balance.id)
    };
    weigh_in.balance.as_ref().or_else(by_round).or_else(sole)
}

pub(crate) fn balance_number(test: &SprayTest, balance: &Id) -> Option<u32> {
    test.balances.all().iter().position(|known| known.id == *balance).map(|place| place as u32)
}

pub(crate) fn round_places(test: &SprayTest) -> BTreeMap<&Id, u32> {
    test.rounds.all().iter().enumerate().map(|(i, round)| (&round.id, i as u32)).collect()
}
