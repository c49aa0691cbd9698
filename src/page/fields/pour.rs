//! The pour: running totals on the scale, read from a metre away, and what a slip asks for.

use leptos::prelude::*;

use super::field::Typed;
use super::number::NumberField;
use crate::page::desk::Desk;
use crate::page::parts::{button, derived, fold, items, live, memo, shown};
use findings::mixing::{PourStep, Pouring};
use record::{Action, Address, Id, Measure};

/// The pour of a candidate. What is typed into it goes to the candidate's cup in progress; the first reading begins one.
#[component]
pub fn PourCard(
    /// Of which candidate.
    candidate: Id,
) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let of = candidate.clone();
    let pouring = derived(move || {
        let current = desk.current();
        findings::mixing::pouring(&current.test, &of, &current.wording)
    });
    let is = move |what: fn(&Pouring) -> bool| memo(move || pouring.with(|pouring| pouring.as_ref().is_ok_and(what)));
    let (takes, begun) = (is(|pouring| !pouring.done), is(|pouring| pouring.begun));
    let totals = live(move || match pouring.get() {
        Err(wanting) => view! { <p class="trouble">{wanting}</p> }.into_any(),
        Ok(pouring) => totals(pouring),
    });
    let of = candidate.clone();
    let entry = shown(move || takes.get().then(|| reading_field(desk, of.clone())));
    let actions = shown(move || begun.get().then(|| cup_actions(desk, candidate.clone())));
    let cautions = fold(|| "Before you pour".into(), false, || items("", &findings::words::MIXING));
    view! { <div class="pour" role="group" aria-label="Pour">{totals} {entry} {actions} {cautions}</div> }
}

/// What comes next, and the totals still to be reached.
fn totals(pouring: Pouring) -> AnyView {
    let Pouring { said, over, steps, poured, whole, notes, begun, .. } = pouring;
    let step = |PourStep { label, add, total, unit, step }: PourStep| {
        view! {
            <li>
                <span class="what">{label}</span>
                <span class="total">{total} " " <span class="unit">{unit}</span></span>
                <span class="quiet">"Add " {add} "; " {step}</span>
            </li>
        }
        .into_any()
    };
    let note = |note| view! { <p class="flag">{note}</p> }.into_any();
    let poured = if poured.is_empty() { String::new() } else { format!("In the cup: {}.", poured.join(", ")) };
    view! {
        <p class:alert=over class="pour-said" role="status">{said}</p>
        <ol class="totals">{steps.into_iter().map(step).collect::<Vec<_>>()}</ol>
        <p class="quiet">{if begun { "In all " } else { "Mix " }} {whole} ". " {poured}</p>
        {notes.into_iter().map(note).collect::<Vec<_>>()}
    }
    .into_any()
}

fn reading_field(desk: Desk, candidate: Id) -> AnyView {
    let of = candidate.0.clone();
    let store = move |typed: Option<f64>| {
        let Some(total_g) = typed else { return Ok(()) };
        let fresh = desk.fresh_id();
        let wording = desk.current().wording;
        let action = findings::mixing::take_reading(&desk.noted(), &candidate, total_g, fresh, &wording)?;
        desk.act(action)
    };
    let hint = "The total after each pour; the next one follows what is really in.";
    view! {
        <NumberField
            label="The scale shows"
            value=Signal::stored(None)
            measure=Measure::Mass
            store
            hint
            typed=Typed::LargeNumber
            of
            fresh=true
        />
    }
    .into_any()
}

fn cup_actions(desk: Desk, candidate: Id) -> AnyView {
    let of = candidate.clone();
    let smaller = shown(move || {
        let action = findings::mixing::smaller_cup(&desk.current().test, &of)?;
        Some(button("", "No more of it: make a smaller mix", move || desk.press(action.clone())))
    });
    let again = move || {
        let cup = findings::facts::cup_in_progress(&desk.noted(), &candidate).map(|cup| cup.id.clone());
        if let Some(cup) = cup {
            desk.press(Action::Remove(Address::cup(&cup)));
        }
    };
    view! { <p class="actions">{smaller} {button("plain alert destroys", "Throw this cup away and begin again", again)}</p> }
        .into_any()
}
