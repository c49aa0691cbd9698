//! The larger part of the program, which opens a test and works on it, on its way: a file of its own, fetched behind the first
//! screen, so that this screen is there before it. What the first screen asks of it goes through [`Workshop`]; where it names a
//! function of it directly, that function comes with the first file, which then grows.

use leptos::prelude::*;

use super::state::App;
use crate::device;
use crate::page::parts::{button, lines, live};

/// What can be asked of it.
#[derive(Clone, Copy)]
pub struct Workshop {
    /// The screens of the test of an id.
    pub open: fn(App, &str) -> AnyView,
    /// Begins a new test, and gives its id.
    pub begin: fn(App) -> String,
    /// Makes the summaries of these tests anew.
    pub heal: fn(&[String]),
    /// Says their times anew, as this phone now says times.
    pub reword: fn(&[String]),
    /// The way in for files and pasted text.
    pub handed: fn(App) -> AnyView,
}

/// What a person wants of it.
type Wish = fn(App, Workshop);

/// Fetches it, and tells once that it is here (or, by `None`, that it did not come).
pub type Fetch = fn(Box<dyn FnOnce(Option<Workshop>)>);

#[derive(Clone, Copy)]
enum Arrival {
    Awaited,
    Missing,
    Here(Workshop),
}

/// The workshop on its way, or here.
#[derive(Clone, Copy)]
pub struct Delivery {
    app: App,
    fetch: Fetch,
    arrival: RwSignal<Arrival>,
    /// What was pressed before it was here; a second press is the same wish, or a better one.
    wish: StoredValue<Option<Wish>>,
}

impl Delivery {
    /// Sends for the workshop.
    pub fn begin(app: App, fetch: Fetch) -> Self {
        let delivery = Self { app, fetch, arrival: RwSignal::new(Arrival::Awaited), wish: StoredValue::new(None) };
        delivery.send_for();
        delivery
    }

    fn send_for(self) {
        self.arrival.set(Arrival::Awaited);
        (self.fetch)(Box::new(move |workshop| self.take_in(workshop)));
    }

    fn take_in(self, workshop: Option<Workshop>) {
        let Self { app, arrival, wish, .. } = self;
        let Some(workshop) = workshop else { return arrival.set(Arrival::Missing) };
        arrival.set(Arrival::Here(workshop));
        if let Some(wish) = wish.try_update_value(Option::take).flatten() {
            wish(app, workshop);
        }
        // The whole of this version runs: it may replace the one before.
        device::keep_offline(move || app.newer.set(true));
    }

    /// The workshop, once it is here; who reads this hears of its arrival.
    pub fn here(self) -> Option<Workshop> {
        match self.arrival.get() {
            Arrival::Here(workshop) => Some(workshop),
            Arrival::Awaited | Arrival::Missing => None,
        }
    }

    /// Asks something of the workshop: at once, or as soon as it is here.
    pub fn ask(self, what: Wish) {
        match self.arrival.get_untracked() {
            Arrival::Here(workshop) => what(self.app, workshop),
            Arrival::Awaited | Arrival::Missing => self.wish.set_value(Some(what)),
        }
    }

    /// A view that the workshop makes. Until it is here `frame` holds a word of that, or what to do where it does not come.
    pub fn made(self, frame: fn(AnyView) -> AnyView, view: impl Fn(Workshop) -> AnyView + Send + 'static) -> AnyView {
        live(move || match self.arrival.get() {
            Arrival::Here(workshop) => untrack(|| view(workshop)),
            Arrival::Awaited => frame(lines("quiet", || vec!["The rest of the page is on its way …".into()])),
            Arrival::Missing => {
                let said = "The rest of the page did not come. What is kept on this phone is safe.";
                frame(
                    view! {
                        <p class="trouble" role="alert">{said}</p>
                        {button("", "Fetch it again", move || self.send_for())}
                    }
                    .into_any(),
                )
            }
        })
    }
}
