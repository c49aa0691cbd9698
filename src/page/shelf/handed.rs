//! What is handed over: files picked or dropped, text pasted. It is looked at first; nothing changes until a press says so.

use std::rc::Rc;
use std::sync::Arc;

use leptos::html::{Input, Textarea};
use leptos::prelude::*;

use crate::device;
use crate::page::app::{App, Place};
use crate::page::desk::{CannotOpen, begin_with, here};
use crate::page::parts::{button, fold, fresh_element_id, items, live};
use record::{
    self, Address, FILE_LIMIT, NotOpened, Opened, Remark, SprayTest, as_its_own, merge_preview, open_each, to_keep,
};

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
    /// One for each record in it; they are told apart by number.
    fn all_of(name: &str, bytes: &[u8]) -> Vec<Self> {
        let all = open_each(bytes);
        let count = all.len();
        let mut handed = Vec::new();
        for (number, opened) in (1..=count).zip(all) {
            let name = if count == 1 { name.to_owned() } else { format!("{name}: {number} of {count}") };
            handed.push(match opened {
                Ok(opened) => Self { name, trouble: None, opened: Some(Arc::new(opened)) },
                Err(NotOpened { trouble, rest }) => {
                    Self { name, trouble: Some(trouble.to_string()), opened: rest.map(|rest| Arc::new(*rest)) }
                }
            });
        }
        handed
    }
}

/// The way in for files and pasted text, and what was handed over.
pub fn section(app: App) -> AnyView {
    let list = RwSignal::new(Vec::<Handed>::new());
    let heard: device::HeardFile = Rc::new(move |name: String, bytes: Vec<u8>| take(list, &name, &bytes));
    device::on_dropped(FILE_LIMIT as f64, heard.clone());
    let (id, field) = (fresh_element_id(), NodeRef::<Input>::new());
    let picked = move |_| {
        if let Some(field) = field.get_untracked() {
            device::read_picked(&field, FILE_LIMIT as f64, &heard);
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
                list.get().into_iter().enumerate().map(|(place, handed)| card(app, list, place, handed)).collect();
            view! { <div role="status">{cards}</div> }.into_any()
        })}
    }
    .into_any()
}

/// Lays what was handed over before all else.
fn take(list: RwSignal<Vec<Handed>>, name: &str, bytes: &[u8]) {
    list.update(|list| {
        let mut all = Handed::all_of(name, bytes);
        all.append(list);
        *list = all;
    });
}

fn paste(list: RwSignal<Vec<Handed>>) -> AnyView {
    let (id, field) = (fresh_element_id(), NodeRef::<Textarea>::new());
    let open = move || {
        if let Some(field) = field.get_untracked() {
            take(list, "What was pasted", field.value().as_bytes());
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
fn card(app: App, list: RwSignal<Vec<Handed>>, place: usize, handed: Handed) -> AnyView {
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
    let inside = opened.map(|opened| inside(app, &opened, broken));
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

fn inside(app: App, opened: &Arc<Opened>, broken: bool) -> AnyView {
    let opened = Arc::new(Opened { test: to_keep(opened.test.clone()), remarks: opened.remarks.clone() });
    let test = &opened.test;
    let title = if test.title.trim().is_empty() { "A test without a name".to_owned() } else { test.title.clone() };
    let what = format!("{title}: {}.", findings::shelf::about(test));
    let what = if broken { format!("What can be read of it: {what}") } else { what };
    let own = button("", "Keep it as a test of its own", {
        let opened = opened.clone();
        move || keep(app, &as_its_own(&opened.test), Vec::new())
    });
    let keep_it = |press: &'static str, back: Vec<Address>| {
        let opened = opened.clone();
        button("accent", press, move || keep(app, &opened.test, back.clone()))
    };
    let new = || keep_it("Keep it on this phone", Vec::new());
    let (mut said, presses) = match here(&test.id.0) {
        Ok(mine) => {
            let preview = merge_preview(&mine, test);
            let mut presses = Vec::new();
            if !preview.too_long {
                presses.push(keep_it("Join it to the test on this phone", Vec::new()));
                presses.extend(back(app, &opened, &preview.to_bring_back()));
            }
            presses.push(own);
            (preview.said(), presses)
        }
        Err(CannotOpen::Text(..)) => (vec![DAMAGED_HERE.to_owned()], vec![new()]),
        Err(CannotOpen::Storage(trouble)) => (vec![trouble.to_string()], vec![new()]),
        Err(CannotOpen::NotHere) => (vec!["This test is not on this phone yet.".to_owned()], vec![new()]),
    };
    said.extend(findings::shelf::ahead_said(test, device::now()));
    let remarks: Vec<String> = opened.remarks.iter().take(REMARKS).map(Remark::to_string).collect();
    let line = |line: String| view! { <p>{line}</p> }.into_any();
    let said: Vec<AnyView> = said.into_iter().map(line).collect();
    view! {
        <p><strong>{what}</strong></p>
        {said}
        {items("remarks", &remarks)}
        <p class="actions">{presses}</p>
    }
    .into_any()
}

/// Said where the text of the same test is here and cannot be read.
const DAMAGED_HERE: &str = "This test is on this phone, but its text here is damaged. Keeping this one sets the damaged text aside; it can be saved below.";

/// Presses that join a copy and bring back what was taken out: each, and all of several.
fn back(app: App, opened: &Arc<Opened>, out: &[(Address, String)]) -> Vec<AnyView> {
    let press = |says: String, back: Vec<Address>| {
        let opened = opened.clone();
        button("", says, move || keep(app, &opened.test, back.clone()))
    };
    let one =
        |(address, name): &(Address, String)| press(format!("Join it and bring back {name}"), vec![address.clone()]);
    let mut presses: Vec<AnyView> = out.iter().map(one).collect();
    if out.len() > 1 {
        let all = out.iter().map(|(address, _)| address.clone()).collect();
        presses.push(press("Join it and bring all of these back".into(), all));
    }
    presses
}

/// Keeps a new test, or joins a copy to the one that is here and brings back what was taken out; then lays it on the desk.
fn keep(app: App, test: &SprayTest, back: Vec<Address>) {
    let id = test.id.0.clone();
    if here(&id).is_ok() {
        app.joining.set_value(Some((record::write(test), back)));
    } else {
        begin_with(app, test);
    }
    app.go(&id, Place::Results);
}
