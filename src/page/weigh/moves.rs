//! Panels carried elsewhere.

use leptos::prelude::*;

use crate::findings;
use crate::page::desk::Desk;
use crate::page::parts::{MomentField, fresh_element_id};
use crate::page::spray::ids;
use crate::record::{Action, Dated, Id};

/// The moves of a test, and a form for the next one.
#[component]
pub fn Moves(desk: Desk) -> impl IntoView {
    let moves = ids(desk, |test| test.moves.kept().map(|r#move| r#move.id.clone()).collect());
    view! {
        <h2>"Moved panels?"</h2>
        <p class="actions">
            <button on:click=move |_| carry(desk, "Sun", true, Vec::new())>"All into the sun, now"</button>
            <button on:click=move |_| carry(desk, "Shop", false, Vec::new())>"All back into the shop, now"</button>
        </p>
        <OtherMove desk/>
        <ul class="moves">
            <For each=move || moves.get() key=Id::clone let:moved>
                <MoveLine moved/>
            </For>
        </ul>
    }
}

fn carry(desk: Desk, to: &str, warmer: bool, panels: Vec<Id>) {
    desk.press(Action::Carry { at: desk.now(), to: to.into(), warmer, panels });
}

/// One move: where to, which panels, and its time.
#[component]
fn MoveLine(moved: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let said = {
        let moved = moved.clone();
        move || desk.with(|test| findings::move_said(test, &moved))
    };
    let at = {
        let moved = moved.clone();
        Signal::derive(move || desk.with(|test| test.moves.find(&moved)?.at))
    };
    let date = {
        let moved = moved.clone();
        move |at| desk.act(Action::Date(Dated::Move(moved.clone()), at))
    };
    view! {
        <li>
            <p>{said}</p>
            <MomentField label="Moved at" value=at store=date/>
            <button class="plain" on:click=move |_| desk.press(Action::Remove(moved.clone()))>"Remove this move"</button>
        </li>
    }
}

/// A move to any place, of some panels only.
#[component]
fn OtherMove(desk: Desk) -> impl IntoView {
    let to = RwSignal::new(String::new());
    let warmer = RwSignal::new(true);
    let chosen = RwSignal::new(Vec::<Id>::new());
    let trouble = RwSignal::new("");
    let id = fresh_element_id();
    let go = move |_| {
        let place = to.get_untracked().trim().to_owned();
        if place.is_empty() {
            trouble.set("Say where they were carried.");
            return;
        }
        trouble.set("");
        carry(desk, &place, warmer.get_untracked(), chosen.get_untracked());
        to.set(String::new());
        chosen.set(Vec::new());
    };
    view! {
        <details>
            <summary>"Another place, or only some panels"</summary>
            <div class="field">
                <label for=id.clone()>"Where to"</label>
                <input id=id type="text" autocomplete="off" prop:value=move || to.get() on:input:target=move |event| to.set(event.target().value())/>
            </div>
            <label class="tick">
                <input type="checkbox" prop:checked=move || warmer.get() on:change:target=move |event| warmer.set(event.target().checked())/>
                "It is warmer there than at the start"
            </label>
            <fieldset>
                <legend>"Which panels (none ticked: all)"</legend>
                {move || {
                    let panels = desk.with(|test| {
                        findings::in_order(test).into_iter().map(|p| (p.id.clone(), p.label.clone())).collect::<Vec<_>>()
                    });
                    panels.into_iter().map(|(id, label)| view! { <PanelTick id label chosen/> }).collect_view()
                }}
            </fieldset>
            <p class="trouble" role="alert">{move || trouble.get()}</p>
            <button on:click=go>"Moved now"</button>
        </details>
    }
}

#[component]
fn PanelTick(id: Id, label: String, chosen: RwSignal<Vec<Id>>) -> impl IntoView {
    let ticked = {
        let id = id.clone();
        move || chosen.with(|chosen| chosen.contains(&id))
    };
    let tick = move |on: bool| {
        chosen.update(|chosen| {
            chosen.retain(|other| *other != id);
            if on {
                chosen.push(id.clone());
            }
        });
    };
    view! {
        <label class="tick">
            <input type="checkbox" prop:checked=ticked on:change:target=move |event| tick(event.target().checked())/>
            {label}
        </label>
    }
}
