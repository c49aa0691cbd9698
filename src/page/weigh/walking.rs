//! A round on its way: who is up, who was weighed, and where a weight goes.

use leptos::prelude::*;

use super::visit::{Visit, note_round};
use crate::page::desk::Desk;
use findings::weigh::{Judged, Stop};
use quantity::{Grams, Instant, Quantity};
use record::{Action, Address, Id, Owner, Slot};

/// A round on its way.
#[derive(Clone, Copy)]
pub struct Walk {
    pub desk: Desk,
    /// Which round.
    pub round: StoredValue<Id>,
    /// The blank or panel that is up: turned to, or next in the rack.
    pub up: RwSignal<Option<Owner>>,
    /// The one weighed just before, whose weight is still read back.
    pub just: RwSignal<Option<Owner>>,
    pub visit: Visit,
    /// All who are weighed in it.
    pub walk: Memo<Vec<Stop>>,
}

impl Walk {
    /// Goes on to the next that is not weighed yet.
    pub fn go_on(self) {
        let last = self.up.get_untracked();
        self.up.set(self.walk.with_untracked(|walk| findings::weigh::next_stop(walk, last.as_ref())));
        self.just.set(last);
    }

    /// What is said beside the weight of a panel or blank.
    pub fn judged(self, owner: &Owner) -> Judged {
        let (desk, round) = (self.desk, self.round.get_value());
        let panels = desk.panels.get();
        let current = desk.current();
        findings::weigh::judged(&current.test, &panels, owner, &round, desk.now(), &current.wording)
    }

    /// Whether the weight of a panel or blank is to be looked at again.
    pub fn look_again(self, owner: &Owner) -> bool {
        let (desk, round) = (self.desk, self.round.get_value());
        let panels = desk.panels.get();
        let current = desk.current();
        findings::weigh::look_again(&current.test, &panels, owner, &round, desk.now(), &current.wording)
    }

    /// The weighing that a panel or blank has in this round.
    pub fn weigh_in(self, owner: &Owner) -> Option<Id> {
        let round = self.round.get_value();
        findings::facts::weigh_in_of(&self.desk.current().test, owner, &round)
    }

    /// Whether a panel that was weighed in this round is worth to be weighed again while it is at hand.
    pub fn worth_weighing_again(self, owner: &Owner) -> bool {
        let panels = self.desk.panels.get();
        let worth = || {
            let (current, weigh_in) = (self.desk.current(), self.weigh_in(owner)?);
            let weigh_in = owner.weigh_ins(&current.test)?.find(&weigh_in)?;
            Some(findings::weigh::worth_weighing_again(panels.panel(owner.panel()?)?, weigh_in))
        };
        worth().unwrap_or(false)
    }

    /// Stores a weight, or says what speaks against it. One that is as expected makes way for the next; an odd one stays up
    /// while the panel is still in hand.
    pub fn store(self, owner: &Owner, typed: Option<f64>) -> Result<(), String> {
        let desk = self.desk;
        let stored = untrack(|| self.weigh_in(owner));
        match (typed, stored) {
            (None, None) => return Ok(()),
            (None, Some(weigh_in)) => return desk.act(Action::Remove(Address::weigh_in(owner, &weigh_in))),
            (Some(_), Some(weigh_in)) => desk.act(Action::Fill(Slot::WeighIn(owner.clone(), weigh_in), typed))?,
            (Some(gross), None) => {
                let gross_g = Grams::new(gross).map_err(|trouble| format!("A weight {trouble}."))?;
                return self.weigh(owner, gross_g);
            }
        }
        self.weighed(owner);
        Ok(())
    }

    /// Notes a weight in this round; in a round that was left open too long it begins a new one.
    fn weigh(self, owner: &Owner, gross_g: Grams) -> Result<(), String> {
        let (desk, round, now, visit) = (self.desk, self.round.get_value(), self.desk.now(), self.visit);
        let at = self.time();
        let weigh = |round: Id| desk.act(Action::Weigh { owner: owner.clone(), round: Some(round), at, gross_g });
        if !visit.is_over(desk, &round) {
            weigh(round)?;
            self.weighed(owner);
            return Ok(());
        }
        let anew = note_round(desk, now)?;
        if let Err(trouble) = weigh(anew.clone()) {
            desk.press(Action::RemoveRound(anew));
            return Err(trouble);
        }
        visit.begun_anew.set(Some(round));
        visit.open.set(Some(anew));
        Ok(())
    }

    /// When what is noted in this round now was done.
    fn time(self) -> Instant {
        let (desk, round, now) = (self.desk, self.round.get_value(), self.desk.now());
        let begun = desk.noted().rounds.find(&round).and_then(|round| round.at);
        if self.visit.is_live(desk, &round) { now } else { findings::weigh::weigh_time(begun, now) }
    }

    /// Takes a panel or blank out of the test, and a weight of it out of the curve for the same reason; goes on.
    pub fn leave(self, owner: &Owner, why: &str, weigh_in: Option<Id>) {
        let (round, at) = (Some(self.round.get_value()), self.time());
        self.go_on();
        self.desk.press(Action::Leave { owner: owner.clone(), round, at, why: why.to_owned(), weigh_in });
    }

    /// Goes on after a weight that is as expected.
    fn weighed(self, owner: &Owner) {
        // It is in somebody's hand: whatever else waits.
        if let Some(panel) = owner.panel() {
            self.desk.work_out(panel);
        }
        if !untrack(|| self.judged(owner)).odd {
            self.go_on();
        }
    }
}
