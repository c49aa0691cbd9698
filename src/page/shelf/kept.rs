//! What is kept on this phone and how safely: the bin, what was set aside, the room in use, the browser's promise.

use leptos::prelude::*;

use super::shelved::Shelved;
use crate::device;
use crate::page::app::App;
use crate::page::parts::{button, lines, live};
use crate::store::{self, Binned};
use record::file_name;

/// The tests in the bin, each with the days that it waits.
pub fn bin(shelved: Shelved, bin: Vec<Binned>) -> AnyView {
    if bin.is_empty() {
        return ().into_any();
    }
    let all: Vec<_> = bin.into_iter().map(|binned| binned_view(shelved, binned)).collect();
    view! { <h2>"In the bin"</h2> {all} }.into_any()
}

fn binned_view(shelved: Shelved, binned: Binned) -> AnyView {
    let said = findings::shelf::binned_said(&binned.summary.title, binned.days_left);
    let (back, gone) = (binned.summary.id.clone(), binned.summary.id.clone());
    let asked = RwSignal::new(false);
    let erase = move || {
        if asked.get() {
            let gone = gone.clone();
            let erase = move || shelved.done(store::erase(&gone, device::now()));
            let sure = button("alert destroys", "Erase it for good", erase);
            let keep = button("", "Keep it", move || asked.set(false));
            view! { {keep} {sure} }.into_any()
        } else {
            button("plain", "Erase now …", move || asked.set(true))
        }
    };
    view! {
        <div class="shelved">
            <p>{said}</p>
            <p class="actions">
                {button("", "Put it back", move || shelved.done(store::put_back(&back)))}
                {live(erase)}
            </p>
        </div>
    }
    .into_any()
}

/// Texts that could not be read and gave way to others.
pub fn aside(aside: Vec<(String, String)>) -> AnyView {
    if aside.is_empty() {
        return ().into_any();
    }
    let save = |(name, text): (String, String)| {
        button("", format!("Save “{name}”"), move || device::download(&file_name(&name), &text))
    };
    let all: Vec<_> = aside.into_iter().map(save).collect();
    let said = "Set aside: text kept here that could not be read. Nothing of it was deleted; save it, so that it can be mended.";
    view! { <p class="trouble">{said}</p> <p class="actions">{all}</p> }.into_any()
}

/// How much room is in use, and what the browser promised.
pub fn meter(app: App, used: u32, used_k: u32, warn: bool) -> AnyView {
    let said = move || {
        let mut said = vec![format!("{used} % of the room this page allows itself is in use: {used_k} kB.")];
        if warn {
            said.push("Make room: save tests as files, then remove them here and erase them in the bin.".into());
        }
        let promise = if app.lasting.get() {
            "The browser has agreed to keep them until you delete them yourself."
        } else if app.asked_lasting.get() {
            "The browser was asked to keep them for good and has not agreed: it may clear them when the phone runs out of room. Save what you cannot lose as a file."
        } else {
            "With the next reading the page asks the browser to keep them for good."
        };
        said.push(promise.into());
        said.push("Some phones erase what a page has kept when it is not opened for a week or so. On such a phone put the page on the home screen, open it every few days, and save tests as files.".into());
        said
    };
    view! {
        <h2>"Kept on this phone"</h2>
        <meter aria-label="Room in use" min="0" max="100" high="60" value=used.to_string()></meter>
        {lines("", said)}
    }
    .into_any()
}
