//! The candidates side by side on spray day: where each stands, to turn to it; and what was done, to correct its time.

use leptos::prelude::*;

use super::today::Today;
use crate::page::fields::MarkSign;
use crate::page::parts::{MomentField, button, each, fold, lines, live, memo, pressed_in, shown, toggle};
use findings::spray::Done;
use record::{Action, Id};

/// All runs, in the drawn order.
pub fn view(today: Today) -> AnyView {
    let ids = memo(move || today.sheet.with(|sheet| sheet.runs.iter().map(|run| run.candidate.clone()).collect()));
    view! { <h2>"Candidates, in the order of spraying"</h2> {each(ids, move |id| row(today, id))} }.into_any()
}

fn row(today: Today, id: Id) -> AnyView {
    let of = id.clone();
    let run = memo(move || today.sheet.get().run(&of).cloned());
    let label = move || run.get().map(|run| run.label);
    let stands = move || {
        let run = run.get()?;
        let clock = run.clock.map_or(String::new(), |clock| format!(" {}", clock.figure(today.now.get())));
        Some(format!("{}{clock}", run.words()))
    };
    let inside = view! {
        <MarkSign candidate=id.clone()/>
        <span class="name">{move || label()}</span>
        <span class="stands">{move || stands()}</span>
    };
    let of = id.clone();
    let up = move || pressed_in(today.run().is_some_and(|run| run.candidate == of));
    let turn = toggle(|| "turn", up, inside.into_any(), move || today.chosen.set(Some(id.clone())));
    let done = memo(move || run.get().map(|run| run.done).unwrap_or_default());
    let any = memo(move || done.with(|done| !done.is_empty()));
    let amiss = memo(move || run.get().map(|run| run.amiss).unwrap_or_default());
    view! {
        <section class="lane" aria-label=move || label()>
            {turn}
            {lines("trouble", move || amiss.get())}
            {shown(move || any.get().then(|| times(today, done)))}
        </section>
    }
    .into_any()
}

/// What was done, with times that can be corrected.
fn times(today: Today, done: Memo<Vec<Done>>) -> AnyView {
    let last = move || done.get().last().map_or(String::new(), |done| format!("{} {}", done.text, done.at.said_time()));
    let list = move || done.get().into_iter().map(|done| time(today, done)).collect::<Vec<AnyView>>().into_any();
    fold(last, false, move || live(list))
}

fn time(today: Today, done: Done) -> AnyView {
    let desk = today.desk;
    let Done { text, at, dated, entries } = done;
    let store = move |at| desk.act(Action::Date(dated.clone(), at));
    let never = move || entries.iter().for_each(|entry| desk.press(Action::Remove(entry.clone())));
    let label = format!("{text}, at");
    view! {
        <MomentField label value=Signal::stored(Some(at)) store/>
        {button("plain destroys", "This was not done: take it out", never)}
    }
    .into_any()
}
