//! The screens: Leptos components, a folder a screen. They show what findings say and hand on what is pressed and typed;
//! they work nothing out.

// A closure written out in a view is compiled once for all views; one handed on by name brings its own copy of the machinery.
#![allow(clippy::redundant_closure)]

mod app;
mod desk;
mod fields;
mod gauge;
mod open;
mod parts;
mod plan;
mod results;
mod shelf;
mod spray;
mod weigh;
mod workshop;

use leptos::prelude::*;

use crate::device;
use app::{App, Delivery, Screen};
use parts::{alert, button, lines, shown};

/// The whole page.
#[component]
pub fn Page() -> impl IntoView {
    let app = App::open();
    provide_context(app);
    device::clear_first_paint();
    let delivery = Delivery::begin(app, workshop::fetch);
    provide_context(delivery);
    view! {
        <Notices app/>
        {move || match app.screen.get() {
            Screen::Shelf => view! { <shelf::Shelf/> }.into_any(),
            Screen::Test(id) => delivery.made(alone, move |workshop| (workshop.open)(app, &id)),
        }}
    }
}

/// What stands in the place of a test that is not up yet.
fn alone(said: AnyView) -> AnyView {
    view! {
        <main>
            <h1>"Comb & Scale"</h1>
            {said}
            <p><a href="#">"All tests"</a></p>
        </main>
    }
    .into_any()
}

/// What the whole page must say: that nothing can be kept, that it was erased, that a newer version waits, or what is off
/// over plain http.
#[component]
fn Notices(app: App) -> impl IntoView {
    let trouble = move || {
        let trouble = app.trouble.get()?;
        Some(alert(vec![format!("{trouble} What you enter stays on screen until the page is closed.")], ().into_any()))
    };
    let emptied = move || {
        let said = "What this page kept on this phone was erased while it was open: by hand, by the browser, or in another tab. The test that was on screen was written again. Others are gone unless you saved them as files.";
        let known = button("", "I have read this", move || app.emptied.set(false));
        app.emptied.get().then(|| alert(vec![said.into()], known))
    };
    view! {
        <aside aria-label="About this page">
            {shown(trouble)}
            {shown(emptied)}
            {app.leftovers.view()}
            {shown(move || app.newer.get().then(newer_version))}
            {(!device::is_secure())
                .then(|| {
                    view! {
                        <p class="notice">
                            "Opened over plain http: use without a network, sharing and keeping the screen awake are off. They need https, or the computer that serves the page."
                        </p>
                    }
                })}
        </aside>
    }
}

/// The offer of the version that waits. Nothing is forced: what is being typed stays.
fn newer_version() -> AnyView {
    let held_up = RwSignal::new(false);
    let said = move || {
        let more = "A field still holds something that could not be stored. Put it right or empty it first.";
        let offer = "A newer version of this page is ready. Your tests stay as they are.";
        if held_up.get() { vec![offer.into(), more.into()] } else { vec![offer.into()] }
    };
    let go = button("", "Use the newer version", move || held_up.set(!device::use_newer()));
    view! { <div class="notice" role="status">{lines("", said)} {go}</div> }.into_any()
}
