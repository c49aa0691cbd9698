//! Spray day: what comes next, what is running, what is amiss, and what it costs to leave a step out.
//!
//! Everything is worked out from the times in the record and the moment, so a locked phone, a reload or an empty battery
//! changes nothing. Nothing here blocks: a step pressed early or late is stored, and said.

use super::candidate_run::CandidateRun;
use super::clock::Clock;
use super::task::{Task, skipped};
use crate::facts::{
    air_of_the_day, bare_weight, blanks_in_test, candidates_in_order, cup_in_progress, in_test, outside_rounds,
    panels_on, stays,
};
use quantity::Instant;
use record::{Air, Candidate, Id, Owner, Panel, SprayTest, Step};

/// Spray day as it stands at a moment.
#[derive(Clone, Debug, PartialEq)]
pub struct RunSheet {
    /// What is to be done before anything is sprayed: [`Task::Air`], [`Task::Bare`] or [`Task::Nothing`].
    pub before: Task,
    /// How many are still to be weighed bare.
    pub bare_left: usize,
    /// The candidates in the drawn order.
    pub runs: Vec<CandidateRun>,
    /// Which of them needs the painter most.
    pub front: Option<Id>,
}

impl RunSheet {
    /// The sheet at a moment.
    pub fn of(test: &SprayTest, now: Instant) -> Self {
        let bare = bare_to_weigh(test);
        let before = match bare.first() {
            _ if air_due(test, now) => Task::Air,
            Some(owner) => Task::Bare(owner.clone()),
            None => Task::Nothing,
        };
        let runs: Vec<CandidateRun> =
            spray_order(test).into_iter().map(|candidate| CandidateRun::of(test, candidate, now)).collect();
        let front = runs.iter().filter_map(|run| run.urgency(now).map(|how| (how, run)));
        // The first of equals: the drawn order.
        let front = front.reduce(|a, b| if b.0 > a.0 { b } else { a }).map(|(_, run)| run.candidate.clone());
        Self { before, bare_left: bare.len(), runs, front }
    }

    /// The run of a candidate.
    pub fn run(&self, candidate: &Id) -> Option<&CandidateRun> {
        self.runs.iter().find(|run| run.candidate == *candidate)
    }

    /// The clocks that have an end, running or over: what may ring.
    pub fn alarms(&self) -> impl Iterator<Item = &Clock> {
        self.runs.iter().flat_map(|run| run.clock.iter().chain(&run.pot)).filter(|clock| clock.ends.is_some())
    }

    /// Whether a clock is running towards its end, for which the screen is to stay awake.
    pub fn waiting(&self, now: Instant) -> bool {
        self.alarms().any(|clock| !clock.over(now))
    }
}

/// Candidates as drawn; those that were not in the draw after them.
pub fn spray_order(test: &SprayTest) -> Vec<&Candidate> {
    let mut order = candidates_in_order(test);
    let place = |candidate: &&Candidate| {
        let drawn = test.order.candidates.iter().position(|id| *id == candidate.id);
        drawn.unwrap_or(usize::MAX)
    };
    order::sort_by(&mut order, |a, b| place(a).cmp(&place(b)));
    order
}

/// The ids of a candidate's panels that are sprayed, in the order of their numbers.
pub fn panels_of(test: &SprayTest, candidate: &Id) -> Vec<Id> {
    let own = panels_on(test, candidate).into_iter().filter(|panel| stays(&panel.left));
    own.map(|panel| panel.id.clone()).collect()
}

/// The cup of a candidate that is being poured: its parts have not come together yet.
pub fn cup_being_poured(test: &SprayTest, candidate: &Id) -> Option<Id> {
    cup_in_progress(test, candidate).map(|cup| cup.id.clone())
}

fn air_due(test: &SprayTest, now: Instant) -> bool {
    let whole = |air: &Air| air.air_c.is_some() && air.humidity_pct.is_some() && air.panel_c.is_some();
    let read = air_of_the_day(test, now).is_some_and(whole);
    let left = test.skipped.kept().any(|left| left.step == Some(Step::Air));
    !(read || left || test.panels.kept().any(sprayed))
}

/// Whether paint is on a panel as far as the record can tell.
fn sprayed(panel: &Panel) -> bool {
    panel.coats.kept().next().is_some() || panel.dabs.kept().next().is_some() || panel.weigh_ins.kept().next().is_some()
}

/// The blanks and unsprayed panels that have no bare weight yet, the blanks first, then panels by number: they stand in no rack
/// so far.
fn bare_to_weigh(test: &SprayTest) -> Vec<Owner> {
    let begun = test.panels.kept().any(sprayed);
    let blanks = blanks_in_test(test).filter(|blank| !begun && outside_rounds(&blank.weigh_ins).next().is_none());
    let panels = in_test(test).into_iter();
    let panels = panels.filter(|panel| bare_weight(test, panel).is_none() && !sprayed(panel));
    let blanks = blanks.map(|blank| Owner::Blank(blank.id.clone()));
    let owners = blanks.chain(panels.map(|panel| Owner::Panel(panel.id.clone())));
    owners.filter(|owner| !skipped(test, Step::Bare, &owner.address())).collect()
}
