//! A test with its past: every change stamped, every change undone.

use std::sync::Arc;

use super::action::{Action, Refused, update};
use super::codec::{Full, Pen, Stroke, carry_over, see_stamps, settle_entry};
use super::gate::fits;
use super::merge::{Merged, merge, never_taken_back};
use super::model::SprayTest;
use super::stamp::{Id, Stamp};

/// How many steps back are kept.
const DEPTH: usize = 50;

/// A test on this device, and the way back.
#[derive(Clone, Debug)]
pub struct History {
    device: String,
    /// Above every counter seen; ids are minted from it.
    counter: u64,
    /// The latest stamp seen.
    latest: Stamp,
    /// Shared with whoever looks at it, and so are the steps: none is changed while it is looked at.
    present: Arc<SprayTest>,
    past: Vec<Step>,
    future: Vec<Step>,
}

/// A state to go back to, or forth.
#[derive(Clone, Debug)]
struct Step {
    test: Arc<SprayTest>,
    /// Whether a join lies between it and the next.
    joins: bool,
}

impl History {
    /// A history that begins with `present`; `device` names the writer of every stamp to come.
    pub fn new(present: SprayTest, device: &str) -> Self {
        let mut history = Self {
            device: device.into(),
            counter: 0,
            latest: Stamp::default(),
            present: Arc::default(),
            past: Vec::new(),
            future: Vec::new(),
        };
        history.see(&present);
        history.present = Arc::new(present);
        history
    }

    /// The test as it stands.
    pub fn test(&self) -> &SprayTest {
        &self.present
    }

    /// The test as it stands, to hold on to.
    pub fn shared(&self) -> Arc<SprayTest> {
        self.present.clone()
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
        let mut next = SprayTest::clone(&self.present);
        update(&mut next, action)?;
        if next != *self.present {
            if !fits(&next) {
                return Err(Refused::NoRoom);
            }
            if let Some(full) = self.stamp(&mut next, Stroke::Write) {
                return Err(Refused::Full(full));
            }
            let test = std::mem::replace(&mut self.present, Arc::new(next));
            self.past.push(Step { test, joins: false });
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
    /// a copy on another phone. A join that is taken back holds in the other tabs here, and is as if it had not been
    /// wherever the copies are joined again.
    pub fn undo(&mut self) {
        if let Some(Step { test, joins }) = self.past.pop() {
            let test = self.write(test, if joins { Stroke::TakeBack } else { Stroke::Write });
            self.future.push(Step { test, joins });
        }
    }

    /// Does the last undone step again.
    pub fn redo(&mut self) {
        if let Some(Step { test, joins }) = self.future.pop() {
            let test = self.write(test, Stroke::Write);
            self.past.push(Step { test, joins });
        }
    }

    /// Joins another copy of this test into it.
    ///
    /// # Errors
    /// [`Refused::NoRoom`] when both together are longer than a record may be; nothing has changed then.
    pub fn absorb(&mut self, theirs: &SprayTest) -> Result<Merged, Refused> {
        let theirs = never_taken_back(theirs);
        let mine = never_taken_back(&self.present);
        let mut merged = merge(&self.present, &theirs);
        if !fits(&merged.test) {
            return Err(Refused::NoRoom);
        }
        self.see(&merged.test);
        if mine != *self.present {
            let Merged { mut test, clashes } = merge(&mine, &theirs);
            let stamp = self.latest.next(&self.device);
            settle_entry(&mut test, &merged.test, &mut Pen::new(&stamp, String::new(), Stroke::JoinAgain));
            self.see(&test);
            merged = Merged { test, clashes };
        }
        if merged.test != *self.present {
            let test = std::mem::replace(&mut self.present, Arc::new(merged.test.clone()));
            self.past.push(Step { test, joins: true });
            self.future.clear();
        }
        Ok(merged)
    }

    /// Joins what another tab made of this test in the meantime. That is no step of the person at this one: taking steps
    /// back leaves it alone. Says whether anything was new.
    pub fn follow(&mut self, theirs: &SprayTest) -> bool {
        let now = merge(&self.present, theirs).test;
        if now == *self.present {
            return false;
        }
        self.see(&now);
        for step in self.past.iter_mut().chain(&mut self.future) {
            let test: &mut SprayTest = Arc::make_mut(&mut step.test);
            carry_over(test, &*self.present, &now);
        }
        self.present = Arc::new(now);
        true
    }

    /// Makes `next` the present, stamping what differs; gives the former present.
    fn write(&mut self, next: Arc<SprayTest>, stroke: Stroke) -> Arc<SprayTest> {
        let mut next = Arc::unwrap_or_clone(next);
        // Steps back and forth go between tests that were there: what is over in them was so before.
        let _ = self.stamp(&mut next, stroke);
        std::mem::replace(&mut self.present, Arc::new(next))
    }

    /// Stamps what differs in `next` from the present; gives a list to which it adds more than that holds.
    fn stamp(&mut self, next: &mut SprayTest, stroke: Stroke) -> Option<Full> {
        self.counter += 1;
        self.latest = self.latest.next(&self.device);
        let mut pen = Pen::new(&self.latest, format!("{}-{}", self.device, self.counter), stroke);
        settle_entry(next, &*self.present, &mut pen);
        pen.full
    }

    /// Takes note of every stamp of a test: what is written from now on stands above them.
    fn see(&mut self, test: &SprayTest) {
        let latest = &mut self.latest;
        see_stamps(test, &mut |stamp| {
            if *stamp > *latest {
                latest.clone_from(stamp);
            }
        });
        self.counter = self.counter.max(self.latest.counter);
    }
}
