//! The larger part of the program: all that opens a test and works on it. It is a file of its own, fetched behind the first
//! screen, so that this screen is there while the rest is on its way. What the first screen asks of it goes through
//! [`Workshop`]; where it names a function of it directly, that function comes with the first file, which then grows.

use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use super::desk::{self, Desk};
use super::open;
use super::parts::{button, lines, live};
use super::shelf::handed;
use super::shop::Shop;
use crate::device;

/// What can be asked of it.
#[derive(Clone, Copy)]
pub struct Workshop {
    /// The screens of the test of an id.
    pub open: fn(Shop, &str) -> AnyView,
    /// Begins a new test, and gives its id.
    pub begin: fn(Shop) -> String,
    /// Makes the summaries of these tests anew.
    pub heal: fn(&[String]),
    /// Says their times anew, as this phone now says times.
    pub reword: fn(&[String]),
    /// The way in for files and pasted text.
    pub handed: fn(Shop) -> AnyView,
}

#[wasm_split(workshop, wasm_split_path = ::leptos::wasm_split, fallible)]
fn fetched() -> Result<Workshop, SplitLoaderError> {
    Ok(Workshop {
        open: open::open,
        begin: Desk::begin,
        heal: desk::heal,
        reword: desk::reword,
        handed: handed::section,
    })
}

/// What a person wants of it.
type Wish = fn(Shop, Workshop);

#[derive(Clone, Copy)]
enum Arrival {
    Awaited,
    Missing,
    Here(Workshop),
}

/// The workshop on its way, or here.
#[derive(Clone, Copy)]
pub struct Delivery {
    arrival: RwSignal<Arrival>,
    /// What was pressed before it was here; a second press is the same wish, or a better one.
    wish: StoredValue<Option<Wish>>,
}

impl Delivery {
    /// Not sent for yet.
    pub fn new() -> Self {
        Self { arrival: RwSignal::new(Arrival::Awaited), wish: StoredValue::new(None) }
    }

    /// The workshop, once it is here; who reads this hears of its arrival.
    pub fn here(self) -> Option<Workshop> {
        match self.arrival.get() {
            Arrival::Here(workshop) => Some(workshop),
            Arrival::Awaited | Arrival::Missing => None,
        }
    }
}

/// Sends for the workshop.
pub fn send_for(shop: Shop) {
    let Delivery { arrival, wish } = shop.delivery;
    arrival.set(Arrival::Awaited);
    spawn_local(async move {
        let Ok(workshop) = fetched().await else { return arrival.set(Arrival::Missing) };
        arrival.set(Arrival::Here(workshop));
        if let Some(wish) = wish.try_update_value(Option::take).flatten() {
            wish(shop, workshop);
        }
        // The whole of this version runs: it may replace the one before.
        device::keep_offline(move || shop.newer.set(true));
    });
}

/// Asks something of the workshop: at once, or as soon as it is here.
pub fn ask(shop: Shop, what: Wish) {
    match shop.delivery.arrival.get_untracked() {
        Arrival::Here(workshop) => what(shop, workshop),
        Arrival::Awaited | Arrival::Missing => shop.delivery.wish.set_value(Some(what)),
    }
}

/// A view that the workshop makes. Until it is here `frame` holds a word of that, or what to do where it does not come.
pub fn made(shop: Shop, frame: fn(AnyView) -> AnyView, view: impl Fn(Workshop) -> AnyView + Send + 'static) -> AnyView {
    live(move || match shop.delivery.arrival.get() {
        Arrival::Here(workshop) => untrack(|| view(workshop)),
        Arrival::Awaited => frame(lines("quiet", || vec!["The rest of the page is on its way …".into()])),
        Arrival::Missing => {
            let said = "The rest of the page did not come. What is kept on this phone is safe.";
            frame(
                view! {
                    <p class="trouble" role="alert">{said}</p>
                    {button("", "Fetch it again", move || send_for(shop))}
                }
                .into_any(),
            )
        }
    })
}
