//! The candidates side by side on spray day: where each stands, to turn to it; and what was done, to correct its time.

use leptos::prelude::*;

use super::today::Today;
use crate::page::fields::MarkSign;
use crate::page::parts::{MomentField, lines, memo};
use findings::spray::Done;
use record::{Action, Id};

/// All lanes, in the drawn order.
pub fn view(today: Today) -> AnyView {
    let ids = memo(move || today.sheet.get().lanes.into_iter().map(|lane| lane.candidate).collect::<Vec<_>>());
    view! {
        <h2>"Candidates, in the order of spraying"</h2>
        {move || ids.get().into_iter().map(|id| row(today, id)).collect_view()}
    }
    .into_any()
}

fn row(today: Today, id: Id) -> AnyView {
    let of = id.clone();
    let lane = memo(move || today.sheet.get().lane(&of).cloned());
    let label = move || lane.get().map(|lane| lane.label);
    let up = {
        let id = id.clone();
        move || today.lane().is_some_and(|lane| lane.candidate == id).to_string()
    };
    let stands = move || {
        let lane = lane.get()?;
        let clock = lane.clock.map_or(String::new(), |clock| format!(" {}", clock.figure(today.now.get())));
        Some(format!("{}{clock}", lane.words()))
    };
    let turn = {
        let id = id.clone();
        move |_| today.chosen.set(Some(id.clone()))
    };
    let done = memo(move || lane.get().map(|lane| lane.done).unwrap_or_default());
    let amiss = memo(move || lane.get().map(|lane| lane.amiss).unwrap_or_default());
    view! {
        <section class="lane" aria-label=move || label()>
            <button class="turn" aria-pressed=move || up() on:click=turn>
                <MarkSign candidate=id/>
                <span class="name">{move || label()}</span>
                <span class="stands">{move || stands()}</span>
            </button>
            {lines("trouble", move || amiss.get())}
            {move || (!done.get().is_empty()).then(|| times(today, done))}
        </section>
    }
    .into_any()
}

/// What was done, with times that can be corrected.
fn times(today: Today, done: Memo<Vec<Done>>) -> AnyView {
    let list = move || done.get().into_iter().map(|done| time(today, done)).collect_view();
    let last = move || done.get().last().map(|done| format!("{} {}", done.text, done.at.said_time()));
    view! {
        <details>
            <summary>{move || last()}</summary>
            {list}
        </details>
    }
    .into_any()
}

fn time(today: Today, done: Done) -> AnyView {
    let desk = today.desk;
    let Done { text, at, dated, entries } = done;
    let store = move |at| desk.act(Action::Date(dated.clone(), at));
    let never = move |_| entries.iter().for_each(|entry| desk.press(Action::Remove(entry.clone())));
    let label = format!("{text}, at");
    view! {
        <MomentField label value=Signal::stored(Some(at)) store/>
        <button class="plain destroys" on:click=never>"This was not done: take it out"</button>
    }
    .into_any()
}
