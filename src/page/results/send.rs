//! A button that sends a picture: through the phone's share sheet, or as a file where there is none.

use leptos::prelude::*;

use crate::device;
use crate::page::parts::button;
use chart::{Look, Scene};

/// A picture to be sent.
pub struct Picture {
    /// What its file is called.
    pub name: String,
    /// What goes with it.
    pub text: String,
    /// How high it is at a width, CSS px.
    pub height: Box<dyn Fn(f64) -> f64>,
    /// Lays it out.
    pub lay_out: Box<dyn Fn(&Look) -> Scene>,
}

/// The button, and what came of it. The picture is made when it is pressed.
pub fn send(label: &'static str, picture: Box<dyn Fn() -> Picture>) -> AnyView {
    let sent = RwSignal::new("");
    let press = move || {
        let Picture { name, text, height, lay_out } = untrack(&*picture);
        let done =
            move |handed| sent.set(if handed { "" } else { "Not sent: the sheet was closed, or the phone refused." });
        untrack(|| device::send_picture((&name, &text), &*height, &*lay_out, done));
    };
    view! {
        <p class="actions">{button("", label, press)}</p>
        <p class="just" role="status">{move || sent.get()}</p>
    }
    .into_any()
}
