//! What is handed over: files picked or dropped, text pasted. It is looked at first; nothing changes until a press says so.

use std::rc::Rc;
use std::sync::Arc;

use leptos::html::{Input, Textarea};
use leptos::prelude::*;

use crate::page::desk::{Desk, here};
use crate::page::parts::{button, fold, fresh_element_id, live};
use crate::page::shop::{Place, Shop};
use crate::record::{self, NotOpened, Opened, Remark, SIZE_LIMIT, SprayTest, merge_preview, open_any};
use crate::{device, findings};

/// Remarks shown of a file: more of them say no more.
const REMARKS: usize = 5;

/// One thing handed over.
#[derive(Clone)]
struct Handed {
    name: String,
    /// Why it could not be opened as it stands.
    trouble: Option<String>,
    /// What can be read of it.
    opened: Option<Arc<Opened>>,
}

impl Handed {
    fn of(name: String, bytes: &[u8]) -> Self {
        match open_any(bytes) {
            Ok(opened) => Self { name, trouble: None, opened: Some(Arc::new(opened)) },
            Err(NotOpened { trouble, rest }) => {
                Self { name, trouble: Some(trouble.to_string()), opened: rest.map(|rest| Arc::new(*rest)) }
            }
        }
    }
}

/// The way in for files and pasted text, and what was handed over.
pub fn section(shop: Shop) -> AnyView {
    let list = RwSignal::new(Vec::<Handed>::new());
    let heard: device::HeardFile =
        Rc::new(move |name, bytes: Vec<u8>| list.update(|list| list.insert(0, Handed::of(name, &bytes))));
    device::on_dropped(SIZE_LIMIT as f64, heard.clone());
    let (id, field) = (fresh_element_id(), NodeRef::<Input>::new());
    let picked = move |_| {
        if let Some(field) = field.get_untracked() {
            device::read_picked(&field, SIZE_LIMIT as f64, &heard);
        }
    };
    view! {
        <h2>"Open a test from a file"</h2>
        <div class="field">
            <label for=id.clone()>"Records or reports, one or several"</label>
            <input id=id type="file" multiple=true node_ref=field on:change=picked/>
        </div>
        {fold(|| "Paste a record or a message with one in it".into(), false, move || paste(list))}
        {live(move || {
            let cards: Vec<AnyView> =
                list.get().into_iter().enumerate().map(|(place, handed)| card(shop, list, place, handed)).collect();
            view! { <div role="status">{cards}</div> }.into_any()
        })}
    }
    .into_any()
}

fn paste(list: RwSignal<Vec<Handed>>) -> AnyView {
    let (id, field) = (fresh_element_id(), NodeRef::<Textarea>::new());
    let open = move || {
        if let Some(field) = field.get_untracked() {
            let handed = Handed::of("What was pasted".into(), field.value().as_bytes());
            list.update(|list| list.insert(0, handed));
        }
    };
    view! {
        <div class="field">
            <label for=id.clone()>"The text"</label>
            <textarea id=id rows="4" node_ref=field></textarea>
        </div>
        {button("", "Look at it", open)}
    }
    .into_any()
}

/// One thing handed over: what it is, what it would change, and the press that does so.
fn card(shop: Shop, list: RwSignal<Vec<Handed>>, place: usize, handed: Handed) -> AnyView {
    let Handed { name, trouble, opened } = handed;
    let label = name.clone();
    let broken = trouble.is_some();
    let away = move || {
        list.update(|list| {
            if place < list.len() {
                list.remove(place);
            }
        });
    };
    let said = trouble.map(|trouble| view! { <p class="trouble">{trouble}</p> }.into_any());
    let inside = opened.map(|opened| inside(shop, &opened, broken));
    view! {
        <div class="handed" role="group" aria-label=label>
            <h3>{name}</h3>
            {said}
            {inside}
            <p class="actions">{button("plain", "Leave it", away)}</p>
        </div>
    }
    .into_any()
}

fn inside(shop: Shop, opened: &Arc<Opened>, broken: bool) -> AnyView {
    let test = &opened.test;
    let title = if test.title.trim().is_empty() { "A test without a name".to_owned() } else { test.title.clone() };
    let what = format!("{title}: {}.", findings::about(test));
    let what = if broken { format!("What can be read of it: {what}") } else { what };
    let (said, press) = match here(&test.id.0) {
        Some(mine) => (merge_preview(&mine, test).said(), "Join it to the test on this phone"),
        None => (vec!["This test is not on this phone yet.".to_owned()], "Keep it on this phone"),
    };
    let remark = |remark: &Remark| view! { <li>{remark.to_string()}</li> }.into_any();
    let remarks: Vec<AnyView> = opened.remarks.iter().take(REMARKS).map(remark).collect();
    let line = |line: String| view! { <p>{line}</p> }.into_any();
    let said: Vec<AnyView> = said.into_iter().map(line).collect();
    let opened = opened.clone();
    view! {
        <p><strong>{what}</strong></p>
        {said}
        <ul class="remarks">{remarks}</ul>
        <p class="actions">{button("accent", press, move || keep(shop, &opened.test))}</p>
    }
    .into_any()
}

/// Keeps a new test, or joins a copy to the one that is here; then lays it on the desk.
fn keep(shop: Shop, test: &SprayTest) {
    let id = test.id.0.clone();
    if here(&id).is_some() {
        shop.joining.set_value(Some(record::write(test)));
    } else {
        Desk::begin_with(shop, test);
    }
    shop.go(&id, Place::Results);
}
