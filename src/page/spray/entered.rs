//! All that was entered on spray day, field by field: to be corrected, or filled in by hand.

use leptos::prelude::*;

use super::comb;
use crate::page::desk::Desk;
use crate::page::fields::{NumberField, PanelHead};
use crate::page::parts::{MomentField, derived, memo};
use quantity::{Grams, Quantity};
use record::{Action, Address, Dated, Id, Measure, Owner, Panel, Slot};

/// Bare weights, dabs and wet weights of every panel.
#[component]
pub fn Entered(desk: Desk) -> impl IntoView {
    let panels = desk.ids(|test| findings::facts::in_order(test).into_iter().map(|panel| panel.id.clone()).collect());
    let blanks = desk.ids(|test| test.blanks.kept().map(|blank| blank.id.clone()).collect());
    view! {
        <details class="entered">
            <summary>"Every weight and dab, to correct"</summary>
            <h3>"Bare"</h3>
            <div class="fields">
                <For each=move || panels.get() key=Id::clone let:panel>
                    <BareField panel/>
                </For>
            </div>
            <h3>"Comb and wet weight"</h3>
            <For each=move || blanks.get() key=Id::clone let:blank>
                <WetField owner=Owner::Blank(blank)/>
            </For>
            <div class="cards">
                <For each=move || panels.get() key=Id::clone let:panel>
                    <SprayedPanel panel/>
                </For>
            </div>
        </details>
    }
}

/// A panel after its last coat: comb, then scale.
#[component]
fn SprayedPanel(panel: Id) -> impl IntoView {
    let name = expect_context::<Desk>().label_of(&Owner::Panel(panel.clone()));
    view! {
        <section class="panel" aria-label=name>
            <PanelHead panel=panel.clone()/>
            <comb::Dabs panel=panel.clone()/>
            <WetField owner=Owner::Panel(panel)/>
        </section>
    }
}

/// The bare weight of a panel.
#[component]
fn BareField(panel: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let (owner, counted) = (Owner::Panel(panel.clone()), panel.clone());
    let label = format!("{} bare", desk.label_of(&owner));
    let near = findings::facts::former_weight(&desk.noted(), &owner);
    let (slot, of) = (Slot::Bare(panel.clone()), owner.key());
    let value = {
        let slot = slot.clone();
        derived(move || slot.read(&desk.current().test))
    };
    let store = move |typed: Option<f64>| {
        let noted = desk.noted();
        let stored = noted.panels.find(&panel).and_then(Panel::latest_bare).map(|bare| bare.id.clone());
        match (typed, stored) {
            (None, None) => Ok(()),
            (None, Some(bare)) => desk.act(Action::Remove(Address::bare(&panel, &bare))),
            (Some(_), Some(_)) => desk.act(Action::Fill(slot.clone(), typed)),
            (Some(gross), None) => {
                let gross_g = Grams::new(gross).map_err(|trouble| format!("A weight {trouble}."))?;
                desk.act(Action::WeighBare { panel: panel.clone(), at: desk.now(), gross_g })
            }
        }
    };
    let hint = derived(move || {
        let current = desk.current();
        findings::spray::bare_hint(&current.test, &counted, &current.tongue)
    });
    view! { <NumberField label value measure=Measure::Mass store hint of near/> }
}

/// The wet weight of a panel, or the blank weighed with them; once stored, its time can be corrected.
#[component]
fn WetField(owner: Owner) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let label = format!("{} wet", desk.label_of(&owner));
    let label = if owner.is_blank() { format!("{}, with the wet panels", desk.label_of(&owner)) } else { label };
    let wet = {
        let owner = owner.clone();
        memo(move || findings::facts::wet_weigh_in(&desk.current().test, &owner))
    };
    let value = {
        let owner = owner.clone();
        derived(move || {
            let slot = Slot::WeighIn(owner.clone(), wet.get()?);
            slot.read(&desk.current().test)
        })
    };
    let store = {
        let owner = owner.clone();
        move |typed: Option<f64>| match (typed, wet.get_untracked()) {
            (None, None) => Ok(()),
            (None, Some(weigh_in)) => desk.act(Action::Remove(Address::weigh_in(&owner, &weigh_in))),
            (Some(_), Some(weigh_in)) => desk.act(Action::Fill(Slot::WeighIn(owner.clone(), weigh_in), typed)),
            (Some(gross), None) => {
                let gross_g = Grams::new(gross).map_err(|trouble| format!("A weight {trouble}."))?;
                desk.act(Action::Weigh { owner: owner.clone(), round: None, at: desk.now(), gross_g })
            }
        }
    };
    let hint = {
        let owner = owner.clone();
        derived(move || {
            let current = desk.current();
            findings::spray::wet_hint(&current.test, &owner, &current.tongue)
        })
    };
    let near = findings::facts::former_weight(&desk.noted(), &owner);
    let (shown_label, of) = (label.clone(), owner.key());
    view! {
        <NumberField label value measure=Measure::Mass store hint of near/>
        {move || {
            let (owner, label) = (owner.clone(), shown_label.clone());
            wet.get().map(|weigh_in| {
                let at = {
                    let (owner, weigh_in) = (owner.clone(), weigh_in.clone());
                    derived(move || {
                        let test = &desk.current().test;
                        findings::facts::moment(test, owner.weigh_ins(test)?.find(&weigh_in)?)
                    })
                };
                let store = move |at| desk.act(Action::Date(Dated::WeighIn(owner.clone(), weigh_in.clone()), at));
                view! { <MomentField label=format!("{label}: weighed at") value=at store/> }
            })
        }}
    }
}
