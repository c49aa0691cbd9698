//! A test with its past: every change stamped, every change undone.

use super::action::{Action, Refused, update};
use super::codec::{Full, Pen, carry_over, see_stamps, settle_entry};
use super::merge::{Merged, merge};
use super::model::SprayTest;
use super::stamp::{Id, Stamp};

/// How many steps back are kept.
const DEPTH: usize = 50;

/// A test on this device, and the way back.
#[derive(Clone, Debug)]
pub struct History {
    device: String,
    counter: u64,
    present: SprayTest,
    past: Vec<SprayTest>,
    future: Vec<SprayTest>,
}

impl History {
    /// A history that begins with `present`; `device` names the writer of every stamp to come.
    pub fn new(present: SprayTest, device: &str) -> Self {
        let counter = highest(&present);
        Self { device: device.into(), counter, present, past: Vec::new(), future: Vec::new() }
    }

    /// The test as it stands.
    pub fn test(&self) -> &SprayTest {
        &self.present
    }

    /// An id that nobody else mints, for an entry which the same action must name twice.
    pub fn fresh_id(&self) -> Id {
        Id(format!("{}-{}", self.device, self.counter + 1))
    }

    /// Does one action.
    ///
    /// # Errors
    /// [`Refused`] when the action cannot be done; nothing has changed then.
    pub fn act(&mut self, action: Action) -> Result<(), Refused> {
        let mut next = self.present.clone();
        update(&mut next, action)?;
        if next != self.present {
            if let Some(full) = self.stamp(&mut next) {
                return Err(Refused::Full(full));
            }
            let before = std::mem::replace(&mut self.present, next);
            self.past.push(before);
            self.future.clear();
            if self.past.len() > DEPTH {
                self.past.remove(0);
            }
        }
        Ok(())
    }

    /// Whether there is a step to undo.
    pub fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Whether there is a step to do again.
    pub fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }

    /// Makes the present the beginning: there is nothing to undo.
    pub(super) fn forget_steps(&mut self) {
        self.past.clear();
    }

    /// Takes the last step back. That is a change like any other, with stamps above all others, so that it holds against
    /// a copy on another phone.
    pub fn undo(&mut self) {
        if let Some(earlier) = self.past.pop() {
            let left = self.write(earlier);
            self.future.push(left);
        }
    }

    /// Does the last undone step again.
    pub fn redo(&mut self) {
        if let Some(later) = self.future.pop() {
            let left = self.write(later);
            self.past.push(left);
        }
    }

    /// Joins another copy of this test into it.
    pub fn absorb(&mut self, theirs: &SprayTest) -> Merged {
        let merged = merge(&self.present, theirs);
        if merged.test != self.present {
            self.counter = self.counter.max(highest(&merged.test));
            let before = std::mem::replace(&mut self.present, merged.test.clone());
            self.past.push(before);
            self.future.clear();
        }
        merged
    }

    /// Joins what another tab made of this test in the meantime. That is no step of the person at this one: taking steps
    /// back leaves it alone. Says whether anything was new.
    pub fn follow(&mut self, theirs: &SprayTest) -> bool {
        let now = merge(&self.present, theirs).test;
        if now == self.present {
            return false;
        }
        self.counter = self.counter.max(highest(&now));
        for state in self.past.iter_mut().chain(&mut self.future) {
            carry_over(state, &self.present, &now);
        }
        self.present = now;
        true
    }

    /// Makes `next` the present, stamping what differs; gives the former present.
    fn write(&mut self, mut next: SprayTest) -> SprayTest {
        // Steps back and forth go between tests that were there: what is over in them was so before.
        let _ = self.stamp(&mut next);
        std::mem::replace(&mut self.present, next)
    }

    /// Stamps what differs in `next` from the present; gives a list to which it adds more than that holds.
    fn stamp(&mut self, next: &mut SprayTest) -> Option<Full> {
        self.counter += 1;
        let stamp = Stamp { counter: self.counter, device: self.device.clone() };
        let mut pen = Pen::new(&stamp);
        settle_entry(next, &self.present, &mut pen);
        pen.full
    }
}

fn highest(test: &SprayTest) -> u64 {
    let mut highest = 0;
    see_stamps(test, &mut |stamp| highest = highest.max(stamp.counter));
    highest
}
