//! All that was entered on spray day, field by field: to be corrected, or filled in by hand.

use leptos::prelude::*;

use super::comb;
use crate::page::desk::Desk;
use crate::page::fields::{NumberField, PanelHead};
use crate::page::parts::{MomentField, derived, each, fold, memo, shown};
use quantity::{Grams, Quantity};
use record::{Action, Address, Dated, Id, Measure, Owner, Panel, Slot};

/// Bare weights, dabs and wet weights of every panel.
pub fn entered(desk: Desk) -> AnyView {
    let all = fold(|| "Every weight and dab, to correct".into(), false, move || inside(desk));
    view! { <div class="entered">{all}</div> }.into_any()
}

fn inside(desk: Desk) -> AnyView {
    let panels = desk.ids(|test| findings::facts::in_order(test).into_iter().map(|panel| panel.id.clone()).collect());
    let blanks = desk.ids(|test| test.blanks.kept().map(|blank| blank.id.clone()).collect());
    view! {
        <h3>"Bare"</h3>
        <div class="fields">{each(panels, move |panel| bare_field(desk, panel))}</div>
        <h3>"Comb and wet weight"</h3>
        {each(blanks, move |blank| wet_field(desk, Owner::Blank(blank)))}
        <div class="cards">{each(panels, move |panel| sprayed(desk, panel))}</div>
    }
    .into_any()
}

/// A panel after its last coat: comb, then scale.
fn sprayed(desk: Desk, panel: Id) -> AnyView {
    let owner = Owner::Panel(panel.clone());
    let name = desk.label_of(&owner);
    view! {
        <section class="panel" aria-label=name>
            <PanelHead panel=panel.clone()/>
            {comb::dabs(desk, panel)}
            {wet_field(desk, owner)}
        </section>
    }
    .into_any()
}

/// The bare weight of a panel.
fn bare_field(desk: Desk, panel: Id) -> AnyView {
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
        findings::spray::bare_hint(&current.test, &counted, &current.wording)
    });
    view! { <NumberField label value measure=Measure::Mass store hint of near/> }.into_any()
}

/// The wet weight of a panel, or the blank weighed with them; once stored, its time can be corrected.
fn wet_field(desk: Desk, owner: Owner) -> AnyView {
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
            findings::spray::wet_hint(&current.test, &owner, &current.wording)
        })
    };
    let near = findings::facts::former_weight(&desk.noted(), &owner);
    let (shown_label, of) = (label.clone(), owner.key());
    let weighed_at = shown(move || {
        let weigh_in = wet.get()?;
        let dated = Dated::WeighIn(owner.clone(), weigh_in.clone());
        let of = owner.clone();
        let at = derived(move || {
            let test = &desk.current().test;
            findings::facts::moment(test, of.weigh_ins(test)?.find(&weigh_in)?)
        });
        let store = move |at| desk.act(Action::Date(dated.clone(), at));
        Some(view! { <MomentField label=format!("{shown_label}: weighed at") value=at store/> }.into_any())
    });
    view! { <NumberField label value measure=Measure::Mass store hint of near/> {weighed_at} }.into_any()
}
