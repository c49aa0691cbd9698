//! The run sheet as it stands while the clock runs, and the candidate that the painter has turned to.

use leptos::prelude::*;

use crate::device;
use crate::page::desk::Desk;
use crate::page::parts::memo;
use findings::spray::{CandidateRun, RunSheet, Task};
use quantity::Instant;
use record::Id;

/// The sheet of the day, as it stands while the clock runs.
#[derive(Clone, Copy)]
pub struct Today {
    pub desk: Desk,
    /// The moment, to the second.
    pub now: RwSignal<Instant>,
    pub sheet: Memo<RunSheet>,
    /// The candidate that the painter has turned to.
    pub chosen: RwSignal<Option<Id>>,
    /// When the big button was pressed last.
    pressed: RwSignal<Option<Instant>>,
}

impl Today {
    /// Begins to follow the day.
    pub fn begin(desk: Desk) -> Self {
        let now = RwSignal::new(device::now());
        device::every_second(move || now.set(device::now()));
        let sheet = memo(move || RunSheet::of(&desk.current().test, now.get()));
        Self { desk, now, sheet, chosen: RwSignal::new(None), pressed: RwSignal::new(None) }
    }

    /// The run that is up: the one turned to while anything is left to do there, else the most urgent.
    pub fn run(self) -> Option<CandidateRun> {
        let sheet = self.sheet.get();
        let run = |id: &Id| sheet.run(id).cloned();
        let chosen = self.chosen.get().and_then(|id| run(&id)).filter(|run| run.task != Task::Nothing);
        chosen.or_else(|| sheet.front.as_ref().and_then(run))
    }

    /// Whether nothing is left to do before spraying, nor with any candidate.
    pub fn done(self) -> bool {
        self.sheet.with(|sheet| sheet.before == Task::Nothing) && self.run().is_none()
    }

    /// Whether a press for a candidate counts, and is not the last one of the same button bouncing in a glove, which is said.
    /// Stays with that candidate: another one's button must not slip under the same finger.
    pub fn presses(self, candidate: &Id) -> bool {
        let now = device::now();
        let bounces = self.pressed.get_untracked().is_some_and(|before| findings::spray::same_press(before, now));
        if bounces {
            device::say_refused();
        } else {
            self.pressed.set(Some(now));
            self.chosen.set(Some(candidate.clone()));
        }
        !bounces
    }

    /// Rings once for every clock that runs out while it is watched, and keeps the screen awake until then.
    pub fn watch(self) {
        Effect::new(move |before: Option<usize>| {
            let now = self.now.get();
            let sheet = self.sheet.get();
            device::keep_awake(sheet.waiting(now));
            let over = sheet.alarms().filter(|clock| clock.over(now)).count();
            if before.is_some_and(|before| over > before) {
                device::ring();
            }
            over
        });
        on_cleanup(|| device::keep_awake(false));
    }
}
