//! Working a test out without holding up the screen: a panel that somebody stands over at once, the others a few at a time
//! between frames, and all that only Results shows when Results asks for it.

use std::rc::Rc;
use std::sync::Arc;

use leptos::prelude::*;

use super::current::Current;
use crate::device;
use crate::page::app::App;
use crate::page::parts::{derived, memo};
use findings::{Findings, Memory, Panels};
use record::Id;

/// What is worked out of an open test.
#[derive(Clone, Copy)]
pub(super) struct Working {
    /// What is found in the test as it stands, all of it.
    pub findings: Signal<Arc<Findings>>,
    /// What is told of its panels, as far as they are worked out.
    pub panels: Signal<Arc<Panels>>,
    /// The panel that comes before all others that wait.
    pub first: RwSignal<Option<Id>>,
    /// Looks at the test once it has changed.
    looked: Memo<bool>,
    memory: StoredValue<Memory>,
    /// Moves on when a panel was worked out.
    stepped: RwSignal<u32>,
}

impl Working {
    /// Begins to follow a test.
    pub fn begin(app: App, current: Memo<Arc<Current>>) -> Self {
        let memory = StoredValue::new(Memory::default());
        let (stepped, first) = (RwSignal::new(0), RwSignal::new(None));
        let turn = StoredValue::new(false);
        let looked = memo(move || {
            let current = current.get();
            memory.update_value(|memory| memory.look(&current.typed));
            // Another answer each time: whoever asks is to look as well.
            turn.update_value(|turn| *turn = !*turn);
            turn.get_value()
        });
        let panels = Memo::new_with_compare(
            move |_| {
                looked.get();
                stepped.track();
                let current = current.get();
                memory.try_with_value(|memory| memory.panels(&current.typed, &current.wording)).map(Arc::new)
            },
            |_, _| true,
        );
        let findings = Memo::new_with_compare(
            move |_| {
                // What to do next follows the clock, to the hour.
                app.hour.track();
                let current = current.get();
                let all = |memory: &mut Memory| memory.of(&current.typed, device::now(), &current.wording);
                memory.try_update_value(all).map(Arc::new)
            },
            |_, _| true,
        );
        let working = Self {
            findings: derived(move || findings.get().expect("findings are always made")),
            panels: derived(move || panels.get().unwrap_or_default()),
            first,
            looked,
            memory,
            stepped,
        };
        working.go_on();
        working
    }

    /// Works one panel out now.
    pub fn work_out(&self, panel: &Id) {
        self.looked.get_untracked();
        self.memory.update_value(|memory| memory.work_out(panel));
        self.tell();
    }

    /// As long as some wait: a slice of them, and then the browser may draw before the next.
    fn go_on(self) {
        let asked = StoredValue::new(false);
        let slice = move || {
            let first = self.first.try_get_untracked().flatten();
            let work = |memory: &mut Memory| device::for_a_slice(&mut || memory.step(first.as_ref()));
            // The test may have been put away in the meantime.
            if self.memory.try_update_value(work).is_some() {
                asked.set_value(false);
                self.tell();
            }
        };
        Effect::new(move |_| {
            let waiting = self.panels.with(|panels| !panels.waiting.is_empty());
            if waiting && !asked.get_value() {
                asked.set_value(true);
                device::after_frame(slice);
            }
        });
    }

    /// Works out between frames what all findings take, once no panel waits, and then does `then`.
    pub fn prepare(self, then: Rc<dyn Fn()>) {
        device::after_frame(move || {
            let mut more = false;
            let mut step = |memory: &mut Memory| {
                more = memory.prepare();
                more
            };
            let work = |memory: &mut Memory| device::for_a_slice(&mut || step(memory));
            match self.memory.try_update_value(work) {
                Some(()) if more => self.prepare(then.clone()),
                Some(()) => then(),
                // The test was put away in the meantime.
                None => {}
            }
        });
    }

    fn tell(&self) {
        self.stepped.try_update(|stepped| *stepped = stepped.wrapping_add(1));
    }
}
