//! Where the panels are and were.

use super::coats::last_coat;
use super::times::{earliest, moment, newest, oldest};
use quantity::Instant;
use record::{Id, Move, SprayTest};

/// Where panels stand until somebody says otherwise.
const FIRST_PLACE: &str = "Shop";

/// The place to take a new round for: that named last, by a move or by a round. Where a panel dries is told by its moves.
pub fn place_now(test: &SprayTest) -> String {
    let moved = test.moves.kept().filter_map(|r#move| Some((r#move.at?, &r#move.to)));
    let weighed = test.rounds.kept().filter_map(|round| Some((round.at?, &round.place)));
    let named = moved.chain(weighed).filter(|(_, place)| !place.trim().is_empty());
    newest(named).map_or(FIRST_PLACE.into(), |(_, place)| place.clone())
}

/// Hours in each place from the last coat of a panel until `now`, in the order the places were first seen.
pub fn hours_in_places(test: &SprayTest, panel: &Id, now: Instant) -> Vec<(String, f64)> {
    let Some(from) = test.panels.find(panel).and_then(|panel| {
        let mut weighed = panel.weigh_ins.kept().filter_map(|weigh_in| moment(test, weigh_in));
        last_coat(panel).or_else(|| earliest(&mut weighed))
    }) else {
        return Vec::new();
    };
    let mut hours: Vec<(String, f64)> = Vec::new();
    let mut stay = |place: &str, h: f64| match hours.iter_mut().find(|(known, _)| same_place(known, place)) {
        Some((_, sum)) => *sum += h,
        None => hours.push((place.to_owned(), h)),
    };
    let (mut place, mut since) = (first_place(test), from);
    for moved in in_time(test).into_iter().filter(|m| concerns(m, panel)) {
        let Some(at) = moved.at.filter(|at| *at <= now) else { continue };
        if at > since {
            stay(&place, at.hours_since(since));
            since = at;
        }
        place = moved.to.trim().to_owned();
    }
    if now > since {
        stay(&place, now.hours_since(since));
    }
    hours
}

/// Where a panel is: the place of its last move, else where panels begin.
pub(crate) fn place_of(test: &SprayTest, panel: &Id) -> String {
    let moves = in_time(test);
    let last = moves.iter().rev().find(|m| concerns(m, panel) && !m.to.trim().is_empty());
    last.map_or_else(|| first_place(test), |m| m.to.trim().to_owned())
}

/// Whether a move was one of this panel; one that names none was of all.
pub(crate) fn concerns(moved: &Move, panel: &Id) -> bool {
    moved.panels.is_empty() || moved.panels.contains(panel)
}

/// Where the panels were first weighed.
pub(crate) fn first_place(test: &SprayTest) -> String {
    let named = test.rounds.kept().filter(|round| !round.place.trim().is_empty());
    let moved_before = |at: Instant| test.moves.kept().any(|m| m.at.is_some_and(|moved| moved <= at));
    match oldest(named.filter_map(|round| Some((round.at?, round)))) {
        Some((at, round)) if !moved_before(at) => round.place.trim().to_owned(),
        _ => FIRST_PLACE.into(),
    }
}

/// Dated moves in time order.
pub(crate) fn in_time(test: &SprayTest) -> Vec<&Move> {
    let mut moves: Vec<&Move> = test.moves.kept().filter(|m| m.at.is_some()).collect();
    order::sort_by(&mut moves, |a, b| {
        a.at.partial_cmp(&b.at).unwrap_or(std::cmp::Ordering::Equal).then_with(|| a.id.cmp(&b.id))
    });
    moves
}

/// Whether two names mean one place.
pub(crate) fn same_place(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}
