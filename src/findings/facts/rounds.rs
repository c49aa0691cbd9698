//! Rounds, in order.

use quantity::Instant;
use record::{Id, Round, SprayTest};

/// Rounds, the newest first; a round without a time stands last.
pub fn rounds_newest_first(test: &SprayTest) -> Vec<Id> {
    newest_first(test).into_iter().map(|round| round.id.clone()).collect()
}

pub(crate) fn newest_first(test: &SprayTest) -> Vec<&Round> {
    let mut rounds: Vec<_> = test.rounds.kept().collect();
    order::sort_by(&mut rounds, |a, b| {
        b.at.partial_cmp(&a.at).unwrap_or(std::cmp::Ordering::Equal).then(b.stamp.cmp(&a.stamp))
    });
    rounds
}

/// The round begun at that moment: of several, the one noted last.
pub fn round_begun_at(test: &SprayTest, at: Instant) -> Option<Id> {
    let order = rounds_newest_first(test);
    order.into_iter().find(|id| test.rounds.find(id).is_some_and(|round| round.at == Some(at)))
}
