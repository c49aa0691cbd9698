//! Spray: the run sheet. One thing at a time, with its clock; everything that was entered below it.

mod comb;
mod entered;
mod lanes;
mod task;

use leptos::prelude::*;

use crate::device;
use crate::page::desk::Desk;
use crate::page::parts::{Cautions, lines, memo};
use crate::page::shop::Place;
use findings::spray::{RunSheet, Task};
use quantity::Instant;
use record::Id;

/// The sheet of the day, as it stands while the clock runs.
#[derive(Clone, Copy)]
pub struct Today {
    desk: Desk,
    now: RwSignal<Instant>,
    sheet: Memo<RunSheet>,
    /// The candidate that the painter has turned to.
    chosen: RwSignal<Option<Id>>,
    /// When the big button was pressed last.
    pressed: RwSignal<Option<Instant>>,
}

impl Today {
    fn begin(desk: Desk) -> Self {
        let now = RwSignal::new(device::now());
        device::every_second(move || now.set(device::now()));
        let sheet = memo(move || desk.with(|test| RunSheet::of(test, now.get())));
        Self { desk, now, sheet, chosen: RwSignal::new(None), pressed: RwSignal::new(None) }
    }

    /// The lane that is up: the one turned to while anything is left to do there, else the most urgent.
    fn lane(self) -> Option<findings::spray::Lane> {
        let sheet = self.sheet.get();
        let lane = |id: &Id| sheet.lane(id).cloned();
        let chosen = self.chosen.get().and_then(|id| lane(&id)).filter(|lane| lane.task != Task::Nothing);
        chosen.or_else(|| sheet.front.as_ref().and_then(lane))
    }

    /// Whether nothing is left to do before spraying, nor with any candidate.
    fn done(self) -> bool {
        self.sheet.with(|sheet| sheet.before == Task::Nothing) && self.lane().is_none()
    }

    /// Whether a press for a candidate counts, and is not the last one of the same button bouncing in a glove, which is said.
    /// Stays with that candidate: another one's button must not slip under the same finger.
    fn presses(self, candidate: &Id) -> bool {
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
    fn watch(self) {
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

/// The spray day of a test.
#[component]
pub fn Spray(desk: Desk) -> impl IntoView {
    let today = Today::begin(desk);
    provide_context(today);
    today.watch();
    view! {
        <h1>"Spray"</h1>
        {lines("trouble", move || desk.clocks_said().into_iter().collect())}
        {air_line(today)}
        {task::view(today)}
        {lanes::view(today)}
        <Cautions/>
        <entered::Entered desk/>
        <p class="actions next">{move || (!today.done()).then(|| onwards(today, today.lane().is_none()))}</p>
    }
}

/// The way to the scale: up where the task was when all is done, below everything until then.
fn onwards(today: Today, accent: bool) -> AnyView {
    let to = move || today.desk.shop.address_of(Place::Weigh);
    view! { <a class="button" class:accent=accent href=to>"Next: weigh as it dries"</a> }.into_any()
}

/// The air as it was read, with its dew point, and what to mind about it and the candidate that is up.
fn air_line(today: Today) -> AnyView {
    let said = memo(move || {
        let tongue = today.desk.tongue();
        let lane = today.lane();
        today.desk.with(|test| {
            let now = today.now.get();
            let mut said = findings::spray::air_said(test, now, &tongue);
            let lane = lane.filter(|_| findings::facts::air_of_the_day(test, now).is_some());
            said.amiss.extend(
                lane.into_iter().flat_map(|lane| findings::words::air_warnings(test, &lane.candidate, &tongue)),
            );
            said
        })
    });
    (move || {
        let said = said.get();
        (!said.line.is_empty()).then(|| {
            view! {
                <p class="quiet">{said.line}</p>
                {sentences(said.amiss)}
            }
        })
    })
    .into_any()
}

/// Sentences about what is amiss, one below the other.
pub(super) fn sentences(list: Vec<String>) -> AnyView {
    list.into_iter().map(|sentence| view! { <p class="trouble">{sentence}</p> }).collect_view().into_any()
}
