//! The screens: Leptos components, a folder a screen. They show what findings say and hand on what is pressed and typed;
//! they work nothing out.

mod desk;
mod gauge;
mod mixing;
mod parts;
mod plan;
mod results;
mod shelf;
mod shop;
mod spray;
mod weigh;

use leptos::prelude::*;

use desk::Desk;
use shop::{Place, Screen, Shop};

/// The whole page.
#[component]
pub fn Page() -> impl IntoView {
    let shop = Shop::open();
    provide_context(shop);
    view! {
        <Notices shop/>
        {move || match shop.screen.get() {
            Screen::Shelf => view! { <shelf::Shelf/> }.into_any(),
            Screen::Test(id) => match Desk::open(shop, &id) {
                Ok(desk) => {
                    provide_context(desk);
                    view! { <OpenTest desk/> }.into_any()
                }
                Err(trouble) => view! { <shelf::CannotOpen id trouble/> }.into_any(),
            },
        }}
    }
}

/// What the whole page must say: that nothing can be kept, or what is off over plain http.
#[component]
fn Notices(shop: Shop) -> impl IntoView {
    view! {
        <aside aria-label="About this page">
        {move || {
            shop.trouble.get().map(|trouble| {
                view! {
                    <div class="notice alert" role="alert">
                        <p>{trouble.to_string()} " What you enter stays on screen until the page is closed."</p>
                    </div>
                }
            })
        }}
        {(!crate::device::is_secure())
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

/// An open test: its five places and the bar between them.
#[component]
fn OpenTest(desk: Desk) -> impl IntoView {
    let shop = desk.shop;
    view! {
        <header class="card-head">
            <a class="back" href="#">"All tests"</a>
            <p class="title">{move || desk.title()}</p>
            <p class="undo">
                <button class="plain" disabled=move || !desk.can_undo() on:click=move |_| desk.undo()>"Undo"</button>
                <button class="plain" disabled=move || !desk.can_redo() on:click=move |_| desk.redo()>"Redo"</button>
            </p>
        </header>
        <aside aria-label="About this test">
        {move || {
            desk.invented().then(|| view! { <p class="notice">"A worked example: everything in it is invented."</p> })
        }}
        {move || {
            desk.unsaved.get().map(|trouble| {
                view! {
                    <div class="notice alert" role="alert">
                        <p>"Not kept: " {trouble.to_string()} " It is still on screen; save it as a file."</p>
                        <button on:click=move |_| desk.export()>"Save the record as a file"</button>
                    </div>
                }
            })
        }}
        </aside>
        <main>
            {move || match shop.place.get() {
                Place::Plan => view! { <plan::Plan desk/> }.into_any(),
                Place::Spray => view! { <spray::Spray desk/> }.into_any(),
                Place::Weigh => untrack(|| weigh::weigh(desk)),
                Place::Gauge => untrack(|| gauge::gauge(desk)),
                Place::Results => untrack(|| results::results(desk)),
            }}
        </main>
        <nav class="bar" aria-label="Places">
            {Place::ALL
                .map(|place| {
                    let current = move || (shop.place.get() == place).then_some("page");
                    view! {
                        <a href=move || shop.address_of(place) aria-current=current>{place.word()}</a>
                    }
                })
                .collect_view()}
        </nav>
    }
}
