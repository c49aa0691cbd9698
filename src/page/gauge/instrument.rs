//! What the gauge reads on bare metal and on shims.

use leptos::prelude::*;

use crate::page::desk::Desk;
use crate::page::fields::{NumberField, RowField};
use crate::page::parts::{button, derived, each, fold};
use quantity::{Micrometres, Quantity};
use record::{Action, Address, Id, Measure, Row};

/// Bare metal and shims, folded away once they are there.
pub fn instrument(desk: Desk) -> AnyView {
    let summary = move || {
        let tries = desk.current().test.verifications.kept().count();
        match tries {
            0 => "The gauge: bare metal and shims".to_owned(),
            1 => "The gauge: bare metal, 1 shim tried".to_owned(),
            tries => format!("The gauge: bare metal, {tries} shims tried"),
        }
    };
    fold(summary, false, move || inside(desk))
}

fn inside(desk: Desk) -> AnyView {
    // The newest stands under the field that it was typed into.
    let tries = desk.ids(|test| {
        let mut tries: Vec<Id> = test.verifications.kept().map(|of| of.id.clone()).collect();
        tries.reverse();
        tries
    });
    let base = derived(move || {
        let current = desk.current();
        findings::gauge::base_metal_said(&current.test, &current.wording)
    });
    let shim_um = RwSignal::new(None::<f64>);
    let shim = move |um| {
        shim_um.set(um);
        Ok(())
    };
    let read = move |typed: Option<f64>| {
        let film = |um| Micrometres::new(um).map_err(|trouble| format!("A film {trouble}."));
        let (Some(shim), Some(reading)) = (shim_um.get_untracked(), typed) else {
            return if typed.is_none() { Ok(()) } else { Err("Type the shim's thickness first.".into()) };
        };
        desk.act(Action::Verify { at: desk.now(), shim_um: film(shim)?, reading_um: film(reading)? })
    };
    view! {
        <RowField label="On the bare prepared metal" row=Row::BaseMetal hint=base/>
        <div class="pair">
            <NumberField label="Shim" measure=Measure::Film value=derived(move || shim_um.get()) store=shim/>
            <NumberField label="The gauge reads" measure=Measure::Film value=Signal::stored(None) store=read fresh=true/>
        </div>
        {each(tries, move |id| tried(desk, id))}
    }
    .into_any()
}

fn tried(desk: Desk, id: Id) -> AnyView {
    let said = {
        let id = id.clone();
        move || {
            let current = desk.current();
            let one = current.test.verifications.find(&id)?;
            Some(findings::gauge::verification_said(&current.test, one, &current.wording))
        }
    };
    view! { <p>{move || said()} " " {button("plain destroys", "Remove", move || desk.press(Action::Remove(Address::verification(&id))))}</p> }
        .into_any()
}
