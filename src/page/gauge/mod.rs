//! Gauge: dry film, spot by spot.

use leptos::prelude::*;

use super::desk::Desk;
use super::parts::fresh_element_id;
use super::spray::{PanelHead, ids, label_of};
use crate::findings::{self, read_films, spot_said};
use crate::quantity::Unit;
use crate::record::{Action, Id};

/// The dry-film readings of a test.
#[component]
pub fn Gauge(desk: Desk) -> impl IntoView {
    let panels = ids(desk, |test| findings::in_order(test).into_iter().map(|panel| panel.id.clone()).collect());
    view! {
        <h1>"Gauge"</h1>
        <p>"Read the dry film once a thumbnail leaves no mark. A spot is three readings close together, 25 mm or more from the edges; read top, middle and bottom."</p>
        <h2>"Spots"</h2>
        <div class="cards">
            <For each=move || panels.get() key=Id::clone let:panel>
                <Spots panel/>
            </For>
        </div>
    }
}

/// The spots of a panel, and a field for the next one.
#[component]
fn Spots(panel: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let id = fresh_element_id();
    let text = RwSignal::new(String::new());
    let trouble = RwSignal::new(String::new());
    let spots = {
        let panel = panel.clone();
        ids(desk, move |test| {
            test.panels.find(&panel).map(|p| p.spots.kept().map(|spot| spot.id.clone()).collect()).unwrap_or_default()
        })
    };
    let add = {
        let panel = panel.clone();
        move |_| {
            let read = read_films(&text.get_untracked(), &desk.tongue());
            let done = read.and_then(|readings_um| {
                let place = String::new();
                desk.act(Action::Spot { panel: panel.clone(), at: desk.now(), place, readings_um })
            });
            if done.is_ok() {
                text.set(String::new());
            }
            trouble.set(done.err().unwrap_or_default());
        }
    };
    let (of_panel, name) = (panel.clone(), label_of(desk, &panel));
    view! {
        <section class="panel" aria-label=name>
            <PanelHead panel/>
            <ol class="dabs">
                <For each=move || spots.get() key=Id::clone let:spot>
                    <SpotLine panel=of_panel.clone() spot/>
                </For>
            </ol>
            <div class="field">
                <label for=id.clone()>"Readings of a spot"</label>
                <span class="entry">
                    <input
                        id=id
                        class="number"
                        type="text"
                        autocomplete="off"
                        prop:value=move || text.get()
                        on:input:target=move |event| text.set(event.target().value())
                    />
                    <span class="unit">{move || desk.tongue().units.film.symbol()}</span>
                </span>
                <p class="hint">"Three numbers with spaces between."</p>
                <p class="trouble" role="alert">{move || trouble.get()}</p>
            </div>
            <button on:click=add>"Add this spot"</button>
        </section>
    }
}

#[component]
fn SpotLine(panel: Id, spot: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let said = {
        let spot = spot.clone();
        move || desk.with(|test| Some(spot_said(test.panels.find(&panel)?.spots.find(&spot)?, &desk.tongue())))
    };
    view! {
        <li>
            <span>{said}</span>
            <button class="plain" on:click=move |_| desk.press(Action::Remove(spot.clone()))>"Remove"</button>
        </li>
    }
}
