//! The walk through a round.

use crate::facts::{asked_in, balance_of_round, in_rack, is_weighed_on};
use crate::words::Wording;
use quantity::Quantity;
use record::{Entries, Id, Leaving, Owner, SprayTest, WeighIn};

/// A stop on the walk through a round.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// The blank or panel weighed here.
    pub owner: Owner,
    /// Its name.
    pub label: String,
    /// What it carries; nothing for a blank.
    pub candidate: Option<Id>,
    /// Its weighing in this round, once it is made.
    pub weigh_in: Option<Id>,
    /// What the scale showed, as said, and whether it was set aside.
    pub weight: String,
}

/// The walk through a round: the blanks of its scale, then the panels by their places in the rack. Of those that had left the
/// test, the ones that were weighed in it all the same.
pub fn stops(test: &SprayTest, round: &Id, wording: &Wording) -> Vec<Stop> {
    let (of_test, scale) = (test.rounds.find(round), balance_of_round(test, round));
    let asked = |left: &Entries<Leaving>| asked_in(left, of_test);
    let stop = |owner: Owner, label: &str, candidate: Option<&Id>, list: &Entries<WeighIn>| {
        let made = list.kept().find(|weigh_in| weigh_in.round.as_ref() == Some(round));
        let gross_g = made.and_then(|weigh_in| weigh_in.gross_g).map(Quantity::get);
        let unit = quantity::Unit::symbol(wording.units.mass);
        let aside = if made.is_some_and(|made| made.set_aside.is_some()) { ", set aside" } else { "" };
        let weight = gross_g.map_or(String::new(), |g| format!("{} {unit}{aside}", wording.typed_weight(g)));
        let weigh_in = made.map(|weigh_in| weigh_in.id.clone());
        Stop { owner, label: label.to_owned(), candidate: candidate.cloned(), weigh_in, weight }
    };
    let mut walk = Vec::new();
    for blank in test.blanks.kept().filter(|blank| is_weighed_on(test, blank, scale)) {
        let at = stop(Owner::Blank(blank.id.clone()), &blank.label, None, &blank.weigh_ins);
        walk.extend(Some(at).filter(|at| at.weigh_in.is_some() || asked(&blank.left)));
    }
    for panel in in_rack(test) {
        let at = stop(Owner::Panel(panel.id.clone()), &panel.label, panel.candidate.as_ref(), &panel.weigh_ins);
        walk.extend(Some(at).filter(|at| at.weigh_in.is_some() || asked(&panel.left)));
    }
    walk
}

/// Whose turn it is after `last`: the next on the walk that is not weighed yet, those passed over at the end.
pub fn next_stop(walk: &[Stop], last: Option<&Owner>) -> Option<Owner> {
    let from = last.and_then(|last| walk.iter().position(|stop| stop.owner == *last)).map_or(0, |place| place + 1);
    let (before, after) = walk.split_at(from);
    after.iter().chain(before).find(|stop| stop.weigh_in.is_none()).map(|stop| stop.owner.clone())
}

/// How far a round has come: `3 of 7 weighed`.
pub fn progress_said(walk: &[Stop]) -> String {
    done_of(walk.iter().filter(|stop| stop.weigh_in.is_some()).count(), walk.len())
}

pub(crate) fn done_of(done: usize, all: usize) -> String {
    if done == all { format!("all {done} weighed") } else { format!("{done} of {all} weighed") }
}
