//! The pour: running totals on the scale, read from a metre away, and what a slip asks for.

use leptos::prelude::*;

use super::desk::Desk;
use super::parts::{NumberField, fold};
use crate::findings::{self, PourStep, Pouring};
use crate::record::{Action, Id, Measure};

/// The pour of a candidate. What is typed into it goes to the candidate's cup in progress; the first reading begins one.
#[component]
pub fn PourCard(
    /// Of which candidate.
    candidate: Id,
) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let pouring = {
        let candidate = candidate.clone();
        Memo::new(move |_| desk.with(|test| findings::pouring(test, &candidate, &desk.tongue())))
    };
    let takes = Memo::new(move |_| pouring.with(|pouring| pouring.as_ref().is_ok_and(|pouring| !pouring.done)));
    let entry = {
        let candidate = candidate.clone();
        move || takes.get().then(|| reading_field(desk, candidate.clone()))
    };
    view! {
        <section class="pour" aria-label="Pour">
            {move || match pouring.get() {
                Err(wanting) => view! { <p class="trouble">{wanting}</p> }.into_any(),
                Ok(pouring) => totals(pouring),
            }}
            {entry}
            {move || pouring.with(|pouring| pouring.as_ref().is_ok_and(|p| p.begun)).then(|| cup_actions(desk, candidate.clone()))}
            {fold(Signal::stored("Before you pour".into()), false, || {
                let cautions = findings::MIXING_CAUTIONS.map(|caution| view! { <li>{caution}</li> });
                view! { <ul>{cautions.collect_view()}</ul> }.into_any()
            })}
        </section>
    }
}

/// What comes next, and the totals still to be reached.
fn totals(pouring: Pouring) -> AnyView {
    let Pouring { said, over, steps, poured, whole, notes, begun, .. } = pouring;
    let step = |PourStep { label, add, total, unit, step }: PourStep| {
        view! {
            <li>
                <span class="what">{label}</span>
                <span class="total">{total} <span class="unit">{unit}</span></span>
                <span class="quiet">{add} " of it; " {step}</span>
            </li>
        }
    };
    view! {
        <p class:alert=over class="pour-said" role="status">{said}</p>
        <ol class="totals">{steps.into_iter().map(step).collect_view()}</ol>
        <p class="quiet">{if begun { "In all " } else { "Mix " }} {whole} "."</p>
        {(!poured.is_empty()).then(|| view! { <p class="quiet">"In the cup: " {poured.join(", ")} "."</p> })}
        {notes.into_iter().map(|note| view! { <p class="flag">{note}</p> }).collect_view()}
    }
    .into_any()
}

fn reading_field(desk: Desk, candidate: Id) -> AnyView {
    let store = move |typed: Option<f64>| {
        let Some(total_g) = typed else { return Ok(()) };
        let fresh = desk.fresh_id();
        let actions = desk.with_untracked(|test| findings::take_reading(test, &candidate, total_g, fresh))?;
        actions.into_iter().try_for_each(|action| desk.act(action))
    };
    let hint = "The total after each pour, as the scale shows it; the next total follows what is really in.";
    view! {
        <NumberField
            label="The scale shows"
            value=Signal::stored(None)
            measure=Measure::Mass
            store
            hint
            large=true
            fresh=true
        />
    }
    .into_any()
}

fn cup_actions(desk: Desk, candidate: Id) -> AnyView {
    let smaller = {
        let candidate = candidate.clone();
        Memo::new(move |_| desk.with(|test| findings::smaller_cup(test, &candidate)))
    };
    let again = move |_| {
        let cup = desk.with_untracked(|test| findings::cup_in_progress(test, &candidate).map(|cup| cup.id.clone()));
        if let Some(cup) = cup {
            desk.press(Action::Remove(cup));
        }
    };
    view! {
        <p class="actions">
            {move || {
                smaller.get().map(|action| {
                    view! {
                        <button on:click=move |_| desk.press(action.clone())>"No more of it: make a smaller mix"</button>
                    }
                })
            }}
            <button class="plain" on:click=again>"Throw this cup away and begin again"</button>
        </p>
    }
    .into_any()
}
