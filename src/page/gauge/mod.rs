//! Gauge: dry film, spot by spot.

use leptos::prelude::*;

use super::desk::Desk;
use super::parts::NumbersField;
use super::spray::{PanelHead, ids, label_of};
use crate::findings::{self, spot_said};
use crate::quantity::{Micrometres, Quantity};
use crate::record::{Action, Id, Measure};

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
    let spots = {
        let panel = panel.clone();
        ids(desk, move |test| {
            test.panels.find(&panel).map(|p| p.spots.kept().map(|spot| spot.id.clone()).collect()).unwrap_or_default()
        })
    };
    let add = {
        let panel = panel.clone();
        move |readings: Vec<f64>| {
            let readings_um: Result<Vec<_>, _> = readings.into_iter().map(Micrometres::new).collect();
            let readings_um = readings_um.map_err(|trouble| format!("A film {trouble}."))?;
            desk.act(Action::Spot { panel: panel.clone(), at: desk.now(), place: String::new(), readings_um })
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
            <NumbersField
                label="Readings of a spot"
                value=Signal::stored(Vec::new())
                measure=Measure::Film
                store=add
                hint="Three numbers with spaces between."
                fresh=true
            />
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
