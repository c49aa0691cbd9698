//! A visit to the scale: whom it walks past, what stands beside each weight, and how the weight just typed is judged.

use std::collections::BTreeMap;

use super::walk::{done_of, next_stop, stops};
use crate::facts::{all_weigh_ins, asked_in, balance_of_round, is_weighed_on, newest_first};
use crate::words::Wording;
use quantity::Instant;
use record::{Address, Id, SprayTest};

/// Hours about its round within which a weighing is taken as made at the moment it is typed. In a round entered later, or
/// opened to add to it, it has the round's time; in one that was left open it begins a new round ([`round_is_old`]).
const LIVE_H: f64 = 3.0;

/// The time of a weighing typed now into a round that was opened to add to it.
pub fn weigh_time(round: Option<Instant>, now: Instant) -> Instant {
    match round {
        Some(at) if now.hours_since(at).abs() > LIVE_H => at,
        _ => now,
    }
}

/// The round that is still being walked: the one noted last of those begun within the last hours and not at their end.
pub fn round_under_way(test: &SprayTest, now: Instant, wording: &Wording) -> Option<Id> {
    let about_now = |at: Instant| now.hours_since(at).abs() <= LIVE_H;
    let newest = test.rounds.kept().rfind(|round| round.at.is_some_and(about_now))?;
    next_stop(&stops(test, &newest.id, wording), None).map(|_| newest.id.clone())
}

/// Whether a round was begun too long ago to be the one that is being walked.
pub fn round_is_old(test: &SprayTest, round: &Id, now: Instant) -> bool {
    let begun = test.rounds.find(round).and_then(|round| round.at);
    begun.is_some_and(|begun| now.hours_since(begun) > LIVE_H)
}

/// Whether the time of a round was corrected by hand: what is typed into it is meant to have that time too.
pub fn round_is_dated(test: &SprayTest, round: &Id) -> bool {
    test.rounds.find(round).is_some_and(|round| round.edited.contains_key("at"))
}

/// What to mind when weights are typed into a round of earlier.
pub fn old_round_said(test: &SprayTest, round: &Id, now: Instant) -> Option<String> {
    let at = test.rounds.find(round)?.at.filter(|_| round_is_old(test, round, now))?;
    Some(format!("What you type here counts as weighed {}. To weigh now, close it and begin a round.", at.said()))
}

/// What is said when a weight typed into a round that was left open began a new one.
pub fn new_round_said(test: &SprayTest, old: &Id) -> String {
    let at = test.rounds.find(old).and_then(|round| round.at).map_or(String::new(), Instant::said);
    format!("The round of {at} was over: this weight begins a new one.")
}

/// A round as people name it: `Round 6 · Thu 5 Mar 07:40 · Shop`.
pub fn round_said(test: &SprayTest, id: &Id) -> String {
    rounds_said(test).remove(id).unwrap_or_default()
}

/// All rounds as people name them: at once, since each is counted among the others.
pub fn rounds_said(test: &SprayTest) -> BTreeMap<&Id, String> {
    let mut said = BTreeMap::new();
    for (place, round) in newest_first(test).into_iter().rev().enumerate() {
        let at = round.at.map_or("no time".into(), Instant::said);
        let place_said = round.place.trim();
        let dot = if place_said.is_empty() { "" } else { " · " };
        said.insert(&round.id, format!("Round {} · {at}{dot}{place_said}", place + 1));
    }
    said
}

/// The same, each with how far it has come: `Round 6 · Thu 5 Mar 07:40 · Shop, 3 of 7 weighed`.
pub fn rounds_with_progress(test: &SprayTest) -> BTreeMap<Id, String> {
    let panels = test.panels.kept().map(|panel| (None, &panel.weigh_ins, &panel.left));
    let blanks = test.blanks.kept().map(|blank| (Some(blank), &blank.weigh_ins, &blank.left));
    let owners: Vec<_> = panels.chain(blanks).collect();
    // One look at all weigh-ins, and not one a round.
    let mut weighed: BTreeMap<&Id, Vec<usize>> = BTreeMap::new();
    for (owner, (_, list, _)) in owners.iter().enumerate() {
        for round in list.kept().filter_map(|weigh_in| weigh_in.round.as_ref()) {
            let owners = weighed.entry(round).or_default();
            if owners.last() != Some(&owner) && !owners.contains(&owner) {
                owners.push(owner);
            }
        }
    }
    let mut told = BTreeMap::new();
    for (id, said) in rounds_said(test) {
        let (round, scale) = (test.rounds.find(id), balance_of_round(test, id));
        let on_walk = |owner: &usize| owners[*owner].0.is_none_or(|blank| is_weighed_on(test, blank, scale));
        let made = weighed.get(id).map_or(&[][..], |owners| owners);
        let asked = |owner: &usize| made.contains(owner) || asked_in(owners[*owner].2, round);
        let done = made.iter().filter(|owner| on_walk(owner)).count();
        let all = (0..owners.len()).filter(|owner| on_walk(owner) && asked(owner)).count();
        told.insert(id.clone(), [&said, ", ", &done_of(done, all)].concat());
    }
    told
}

/// Weights that stand in no round.
#[derive(Clone, Debug, PartialEq)]
pub struct Stray {
    /// The round that they name.
    pub round: Id,
    /// What to say of them.
    pub said: String,
    /// Where the round stands, if it was taken out and can be brought back.
    pub back: Option<Address>,
}

/// Weights whose round was taken out, as on another phone while they were typed, or never was in this test.
pub fn strays(test: &SprayTest) -> Vec<Stray> {
    let mut rounds: Vec<(&Id, usize)> = Vec::new();
    for round in
        all_weigh_ins(test).filter_map(|weigh_in| weigh_in.round.as_ref()).filter(|id| test.rounds.find(id).is_none())
    {
        match rounds.iter_mut().find(|(known, _)| *known == round) {
            Some((_, count)) => *count += 1,
            None => rounds.push((round, 1)),
        }
    }
    let stray = |(id, count): (&Id, usize)| {
        let removed = test.rounds.all().iter().find(|round| round.id == *id);
        let weights = if count == 1 { "1 weight counts".to_owned() } else { format!("{count} weights count") };
        let said = match removed.map(|round| round.at) {
            Some(Some(at)) => format!("{weights} that belong to the removed round of {}.", at.said()),
            Some(None) => format!("{weights} that belong to a removed round."),
            None => format!("{weights} that belong to no round in this test."),
        };
        Stray { round: id.clone(), said, back: removed.map(|round| Address::round(&round.id)) }
    };
    rounds.into_iter().map(stray).collect()
}

/// Reasons a panel or a blank leaves the test for, most common first.
pub const LEAVES_FOR: [&str; 4] =
    ["it lost a chip", "it was dropped or bent", "it was sold or given away", "its coat was touched or spoiled"];

/// Reasons a painter sets a weight aside for, most common first. What lost a chip is lighter from then on: it leaves the test.
pub const SET_ASIDE_FOR: [&str; 5] = [
    "misread or mistyped",
    "the scale had drifted",
    "another panel was on the scale",
    "damp, dust or a touch",
    "the panel was warm",
];

/// How to weigh, said before a round is begun.
pub const HOW_TO_WEIGH: &str =
    "Scale level and warmed up, out of draughts, zeroed; the panels cool to the hand. Blank first, then the rack.";
