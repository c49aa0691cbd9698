//! When to weigh: the spray day, the hours kept, the times, and their reminders.

use leptos::prelude::*;

use crate::page::desk::Desk;
use crate::page::fields::{NumbersField, slot};
use crate::page::parts::{MomentField, button, derived, lines, live, shown};
use crate::{device, share};
use quantity::written;
use record::{Action, Dated, HoursLine, Measure, Slot};

/// When to weigh.
pub fn section(desk: Desk) -> AnyView {
    let spray_at = derived(move || desk.current().test.wanted.spray_at);
    let set_day = move |at| desk.act(Action::Date(Dated::SprayDay, at));
    let ages = derived(move || findings::facts::kept_ages(&desk.current().test));
    let set_ages =
        move |ages: Vec<f64>| desk.act(findings::plan::set_schedule(&ages).map_err(findings::plan::age_refused)?);
    let fitted = move || findings::plan::fitted_schedule(&desk.current().test);
    let fit = move || {
        if let Ok(action) = findings::plan::set_schedule(&untrack(fitted).ages_h) {
            desk.press(action);
        }
    };
    // It stays when it has nothing more to do: the focus would go on into the hours, and a phone open its keys.
    let usual = move || match ages.get() == fitted().ages_h {
        true => "These are the usual times",
        false => "Set the usual times",
    };
    let moved = lines("note", move || {
        let fitted = fitted();
        if ages.get() == fitted.ages_h { fitted.moved } else { Vec::new() }
    });
    let save = move || {
        let noted = desk.noted();
        if let Some(text) = share::schedule_calendar(&noted, desk.now()) {
            device::download_as(&share::calendar_name(&noted.title), &text, "text/calendar;charset=utf-8");
        }
    };
    let reminders = shown(move || {
        let current = desk.current();
        let dated =
            findings::facts::schedule_from(&current.test).is_some() && current.test.schedule.kept().next().is_some();
        dated.then(|| view! { <p class="actions">{button("", "Save as calendar reminders", save)}</p> }.into_any())
    });
    view! {
        <h2>"When to weigh"</h2>
        <MomentField label="Day and hour of spraying" value=spray_at store=set_day/>
        <div class="pair">
            {slot("I can weigh from", Slot::Hours(HoursLine::From), "")} {slot("until", Slot::Hours(HoursLine::To), "")}
        </div>
        <p class="hint">{written("Hours of the day: 7.5 is half past seven.")} " The early weigh-ins tell most about what flashes off; daily ones tell when it ends."</p>
        <p class="actions">{live(move || button("", usual(), fit))}</p>
        {moved}
        <NumbersField
            label="Weigh after the last coat"
            value=ages
            measure=Measure::Hours
            store=set_ages
            hint=derived(move || findings::plan::anchor_said(&desk.current().test))
        />
        {lines("due", move || findings::plan::schedule_said(&desk.current().test))}
        {reminders}
    }
    .into_any()
}
