//! Spray: bare weights, coats, comb, wet weights.

mod comb;

use leptos::prelude::*;

use super::desk::Desk;
use super::parts::{MomentField, NumberField};
use super::results::MarkSign;
use super::shelf::Cautions;
use super::shop::Place;
use crate::findings;
use crate::quantity::{Grams, Quantity};
use crate::record::{Action, Dated, Id, Measure, Phrase, Slot, SprayTest};

/// The spray day of a test.
#[component]
pub fn Spray(desk: Desk) -> impl IntoView {
    let panels = ids(desk, |test| findings::in_order(test).into_iter().map(|panel| panel.id.clone()).collect());
    let blanks = ids(desk, |test| test.blanks.kept().map(|blank| blank.id.clone()).collect());
    let candidates = ids(desk, |test| findings::candidates_in_order(test).iter().map(|c| c.id.clone()).collect());
    view! {
        <h1>"Spray"</h1>
        <h2>"1. Weigh bare"</h2>
        <p>"Number, hook, tape and clean first; level scale, out of draughts, panels cool to the hand."</p>
        <div class="fields">
            <For each=move || panels.get() key=Id::clone let:panel>
                <BareField panel/>
            </For>
        </div>
        <h2>"2. Spray the coats"</h2>
        <Cautions/>
        <For each=move || candidates.get() key=Id::clone let:candidate>
            <Coats candidate/>
        </For>
        <h2>"3. Comb, then weigh wet"</h2>
        <p>"Dab at three places or more, away from the edges, right after the last coat; then weigh, since the comb takes paint away."</p>
        <For each=move || blanks.get() key=Id::clone let:blank>
            <WetField owner=blank/>
        </For>
        <div class="cards">
            <For each=move || panels.get() key=Id::clone let:panel>
                <SprayedPanel panel/>
            </For>
        </div>
        <p class="actions next">
            <a class="button accent" href=move || desk.shop.address_of(Place::Weigh)>"Next: weigh as it dries"</a>
        </p>
    }
}

/// The ids of a list of the test, to be followed one by one.
pub fn ids(desk: Desk, list: impl Fn(&SprayTest) -> Vec<Id> + Send + Sync + 'static) -> Memo<Vec<Id>> {
    Memo::new(move |_| desk.with(&list))
}

/// A panel's number with its candidate's mark and name.
#[component]
pub fn PanelHead(panel: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let head = move || {
        desk.with(|test| {
            let panel = test.panels.find(&panel)?;
            let candidate = panel.candidate.clone()?;
            let name = Phrase::Candidate(candidate.clone()).read(test).unwrap_or_default().to_owned();
            Some((panel.label.clone(), candidate, name))
        })
    };
    view! {
        {move || {
            head().map(|(label, candidate, name)| {
                view! { <h3><MarkSign candidate/> <span>{label}</span> <span class="quiet">{name}</span></h3> }
            })
        }}
    }
}

/// The number on a panel's back, or a blank's name.
pub fn label_of(desk: Desk, owner: &Id) -> String {
    desk.with_untracked(|test| {
        let panel = test.panels.find(owner).map(|panel| panel.label.clone());
        panel.or_else(|| test.blanks.find(owner).map(|blank| blank.label.clone())).unwrap_or_default()
    })
}

/// A panel after its last coat: comb, then scale.
#[component]
fn SprayedPanel(panel: Id) -> impl IntoView {
    let name = label_of(expect_context::<Desk>(), &panel);
    view! {
        <section class="panel" aria-label=name>
            <PanelHead panel=panel.clone()/>
            <comb::Dabs panel=panel.clone()/>
            <WetField owner=panel/>
        </section>
    }
}

/// The bare weight of a panel.
#[component]
fn BareField(panel: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let label = format!("{} bare", label_of(desk, &panel));
    let slot = Slot::Bare(panel.clone());
    let value = {
        let slot = slot.clone();
        Signal::derive(move || desk.with(|test| slot.read(test)))
    };
    let store = move |typed: Option<f64>| {
        let stored = desk.with_untracked(|test| test.panels.find(&panel)?.latest_bare().map(|bare| bare.id.clone()));
        match (typed, stored) {
            (None, None) => Ok(()),
            (None, Some(bare)) => desk.act(Action::Remove(bare)),
            (Some(_), Some(_)) => desk.act(Action::Fill(slot.clone(), typed)),
            (Some(gross), None) => {
                let gross_g = Grams::new(gross).map_err(|trouble| format!("A weight {trouble}."))?;
                desk.act(Action::WeighBare { panel: panel.clone(), at: desk.now(), gross_g })
            }
        }
    };
    view! { <NumberField label value measure=Measure::Mass store/> }
}

/// The coats of a candidate's panels.
#[component]
fn Coats(candidate: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let own = {
        let candidate = candidate.clone();
        move |test: &SprayTest| -> Vec<Id> {
            let own = test.panels.kept().filter(|panel| panel.candidate.as_ref() == Some(&candidate));
            own.map(|panel| panel.id.clone()).collect()
        }
    };
    let coats = {
        let candidate = candidate.clone();
        move || {
            desk.with(|test| {
                let first = findings::in_order(test).into_iter().find(|p| p.candidate.as_ref() == Some(&candidate));
                let times = first.map(|panel| panel.coats.kept().filter_map(|coat| coat.at).collect::<Vec<_>>());
                times.unwrap_or_default()
            })
        }
    };
    let name = {
        let candidate = candidate.clone();
        move || desk.with(|test| Phrase::Candidate(candidate.clone()).read(test).unwrap_or_default().to_owned())
    };
    let label = untrack(&name);
    let sprayed = move |_| desk.press(Action::Coat { panels: desk.with_untracked(&own), at: desk.now() });
    view! {
        <section class="coats" aria-label=label>
            <h3><MarkSign candidate/> <span>{name.clone()}</span></h3>
            <ol>{
                let coats = coats.clone();
                move || coats().into_iter().map(|at| view! { <li>{at.said()}</li> }).collect_view()
            }</ol>
            <button on:click=sprayed>{move || findings::coat_button(coats().len(), &name())}</button>
        </section>
    }
}

/// The wet weight of a panel, or the blank weighed with them; once stored, its time can be corrected.
#[component]
fn WetField(owner: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let label = format!("{} wet", label_of(desk, &owner));
    let label = if desk.with_untracked(|test| test.blanks.find(&owner).is_some()) {
        format!("{}, with the wet panels", label_of(desk, &owner))
    } else {
        label
    };
    let wet = {
        let owner = owner.clone();
        Memo::new(move |_| desk.with(|test| findings::wet_weigh_in(test, &owner)))
    };
    let value = {
        let owner = owner.clone();
        Signal::derive(move || {
            let slot = Slot::WeighIn(owner.clone(), wet.get()?);
            desk.with(|test| slot.read(test))
        })
    };
    let store = {
        let owner = owner.clone();
        move |typed: Option<f64>| match (typed, wet.get_untracked()) {
            (None, None) => Ok(()),
            (None, Some(weigh_in)) => desk.act(Action::Remove(weigh_in)),
            (Some(_), Some(weigh_in)) => desk.act(Action::Fill(Slot::WeighIn(owner.clone(), weigh_in), typed)),
            (Some(gross), None) => {
                let gross_g = Grams::new(gross).map_err(|trouble| format!("A weight {trouble}."))?;
                desk.act(Action::Weigh { owner: owner.clone(), round: None, at: desk.now(), gross_g })
            }
        }
    };
    let hint = {
        let owner = owner.clone();
        Signal::derive(move || desk.with(|test| findings::wet_hint(test, &owner, &desk.tongue())))
    };
    let shown_label = label.clone();
    view! {
        <NumberField label value measure=Measure::Mass store hint/>
        {move || {
            let (owner, label) = (owner.clone(), shown_label.clone());
            wet.get().map(|weigh_in| {
                let at = {
                    let (owner, weigh_in) = (owner.clone(), weigh_in.clone());
                    Signal::derive(move || {
                        desk.with(|test| {
                            let list = match test.panels.find(&owner) {
                                Some(panel) => &panel.weigh_ins,
                                None => &test.blanks.find(&owner)?.weigh_ins,
                            };
                            findings::moment(test, list.find(&weigh_in)?)
                        })
                    })
                };
                let store = move |at| desk.act(Action::Date(Dated::WeighIn(owner.clone(), weigh_in.clone()), at));
                view! { <MomentField label=format!("{label}: weighed at") value=at store/> }
            })
        }}
    }
}
