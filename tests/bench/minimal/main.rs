//! A button that counts its presses.

use leptos::prelude::*;

fn main() {
    leptos::mount::mount_to_body(|| {
        let presses = RwSignal::new(0);
        view! { <button on:click=move |_| presses.update(|presses| *presses += 1)>{move || presses.get()}</button> }
    });
}
