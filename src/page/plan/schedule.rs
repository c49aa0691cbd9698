//! When to weigh: the spray day, the hours kept, the times, and their reminders.

use leptos::prelude::*;

use super::slot;
use crate::page::desk::Desk;
use crate::page::parts::{MomentField, NumbersField};
use crate::record::{Action, Dated, HoursLine, Measure, Slot};
use crate::{device, findings, share};

/// When to weigh.
pub fn section(desk: Desk) -> AnyView {
    let spray_at = Signal::derive(move || desk.with(|test| test.wanted.spray_at));
    let set_day = move |at| desk.act(Action::Date(Dated::SprayDay, at));
    let ages = Signal::derive(move || desk.with(findings::kept_ages));
    let set_ages = move |ages: Vec<f64>| desk.act(findings::set_schedule(&ages)?);
    let fitted = Memo::new(move |_| desk.with(findings::fitted_schedule));
    let fit = move |_| {
        if let Ok(action) = fitted.with_untracked(|fitted| findings::set_schedule(&fitted.ages_h)) {
            desk.press(action);
        }
    };
    let is_fitted = move || fitted.with(|fitted| ages.get() == fitted.ages_h);
    let due = Memo::new(move |_| desk.with(findings::schedule_said));
    let dated = Memo::new(move |_| {
        desk.with(|test| findings::schedule_from(test).is_some()) && due.with(|due| !due.is_empty())
    });
    let save = move |_| {
        let (name, text) =
            desk.with_untracked(|test| (share::calendar_name(&test.title), share::schedule_calendar(test, desk.now())));
        if let Some(text) = text {
            device::download_as(&name, &text, "text/calendar;charset=utf-8");
        }
    };
    view! {
        <h2>"When to weigh"</h2>
        <MomentField label="Day and hour of spraying" value=spray_at store=set_day/>
        <div class="pair">
            {slot("I can weigh from", Slot::Hours(HoursLine::From), "")} {slot("until", Slot::Hours(HoursLine::To), "")}
        </div>
        <p class="hint">"Hours of the day: 7.5 is half past seven. The early weigh-ins tell most about what flashes off; daily ones tell when it ends."</p>
        {move || {
            (!is_fitted()).then(|| view! { <p class="actions"><button on:click=fit>"Set the usual times"</button></p> })
        }}
        {move || {
            let moved = if is_fitted() { fitted.with(|fitted| fitted.moved.clone()) } else { Vec::new() };
            moved.into_iter().map(|moved| view! { <p class="note">{moved}</p> }).collect_view()
        }}
        <NumbersField
            label="Weigh after the last coat"
            value=ages
            measure=Measure::Hours
            store=set_ages
            hint=Signal::derive(move || desk.with(findings::anchor_said))
        />
        <ol class="due">{move || due.get().into_iter().map(|due| view! { <li>{due}</li> }).collect_view()}</ol>
        {move || {
            dated.get().then(|| {
                view! { <p class="actions"><button on:click=save>"Save as calendar reminders"</button></p> }
            })
        }}
    }
    .into_any()
}
