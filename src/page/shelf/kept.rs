//! What is kept on this phone and how safely: the bin, what was set aside, the room in use, the browser's promise.

use leptos::prelude::*;

use super::Shelved;
use crate::device;
use crate::page::parts::{button, fold, lines, live, shown};
use crate::record::file_name;
use crate::store::{self, Binned};

/// The tests in the bin, each with the day it is erased.
pub fn bin(shelved: Shelved) -> AnyView {
    shown(move || {
        let bin = shelved.stock.get().ok()?.bin;
        let summary = format!("In the bin: {}", bin.len());
        let inside = move || bin.iter().map(|binned| binned_view(shelved, binned)).collect::<Vec<_>>().into_any();
        (!shelved.with(|stock| stock.bin.is_empty())).then(|| fold(move || summary.clone(), false, inside))
    })
}

fn binned_view(shelved: Shelved, binned: &Binned) -> AnyView {
    let said = format!("{}: erased on {}", binned.summary.title, binned.until.said_day());
    let (back, gone) = (binned.summary.id.clone(), binned.summary.id.clone());
    let asked = RwSignal::new(false);
    let erase = move || {
        if asked.get() {
            let gone = gone.clone();
            let erase = move || shelved.done(store::erase(&gone));
            let sure = button("alert", "Erase it for good", erase);
            view! { {sure} {button("", "Keep it", move || asked.set(false))} }.into_any()
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
pub fn aside(shelved: Shelved) -> AnyView {
    shown(move || {
        let aside = shelved.stock.get().ok()?.aside;
        if aside.is_empty() {
            return None;
        }
        let save = |(name, text): &(String, String)| {
            let (file, text) = (file_name(name), text.clone());
            button("", format!("Save “{name}”"), move || device::download(&file, &text))
        };
        let all: Vec<_> = aside.iter().map(save).collect();
        let said = "Set aside: text kept here that could not be read. Nothing of it was deleted; save it, so that it can be mended.";
        Some(view! { <p class="trouble">{said}</p> <p class="actions">{all}</p> }.into_any())
    })
}

/// How much room is in use, and what the browser promised.
pub fn meter(shelved: Shelved) -> AnyView {
    let used = move || shelved.with(|stock| stock.used);
    let said = move || {
        let (used, used_k, warn) = shelved.with(|stock| (stock.used, stock.used_k, stock.warn));
        let room = format!("{used} % of the room this page allows itself is in use: {used_k} kB.");
        let make_room = "Make room: save tests as files, then remove them here and erase them in the bin.";
        if warn { vec![room, make_room.into()] } else { vec![room] }
    };
    let promise = move || {
        let said = match shelved.shop.lasting.get() {
            Some(true) => "The browser has agreed to keep them until you delete them yourself.",
            Some(false) => {
                "The browser was asked to keep them for good and has not agreed: it may clear them when the phone runs out of room. Save what you cannot lose as a file."
            }
            None => "After the first reading the page asks the browser to keep them for good.",
        };
        vec![said.to_owned()]
    };
    let phones = "Some phones erase what a page has kept when it is not opened for a week or so. On such a phone put the page on the home screen, open it every few days, and save tests as files.";
    view! {
        <h2>"Kept on this phone"</h2>
        <meter aria-label="Room in use" min="0" max="100" high="60" value=used></meter>
        {lines("", said)}
        {lines("", promise)}
        <p class="quiet">{phones}</p>
    }
    .into_any()
}
