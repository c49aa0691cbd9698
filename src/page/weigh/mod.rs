//! Weigh: a visit to the scale, panel by panel; panels carried elsewhere.

mod moves;

use leptos::prelude::*;

use super::desk::Desk;
use super::parts::{MomentField, NumberField, PhraseField, Typed};
use super::shop::Place;
use super::spray::{ids, label_of};
use crate::findings;
use crate::quantity::{Grams, Quantity};
use crate::record::{Action, Dated, Entries, Entry, Id, Measure, Phrase, Slot, SprayTest, WeighIn};

/// The rounds of a test.
#[component]
pub fn Weigh(desk: Desk) -> impl IntoView {
    let rounds = ids(desk, findings::rounds_newest_first);
    let open = RwSignal::new(None::<Id>);
    let begin = move |_| {
        let place = desk.with_untracked(findings::place_now);
        desk.press(Action::BeginRound { at: desk.now(), place });
        open.set(rounds.with_untracked(|rounds| rounds.first().cloned()));
    };
    let shown =
        move || open.get().filter(|id| rounds.with(|r| r.contains(id))).or_else(|| rounds.with(|r| r.first().cloned()));
    let shown = Memo::new(move |_| shown());
    view! {
        <h1>"Weigh"</h1>
        <p>"Scale level and warm, out of draughts, panels cool to the hand. The blank first, then the rack in order."</p>
        <p class="actions"><button class="accent" on:click=begin>"Begin a round"</button></p>
        {move || shown.get().map(|round| view! { <Round round/> })}
        <moves::Moves desk/>
        <h2>"All rounds"</h2>
        <ul class="rounds">
            <For each=move || rounds.get() key=Id::clone let:round>
                <RoundLink round open/>
            </For>
        </ul>
        <p class="actions next">
            <a class="button accent" href=move || desk.shop.address_of(Place::Results)>"Next: see the results"</a>
        </p>
    }
}

/// A round in the list; a press opens it.
#[component]
fn RoundLink(round: Id, open: RwSignal<Option<Id>>) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let said = {
        let round = round.clone();
        move || desk.with(|test| findings::round_said(test, &round))
    };
    view! { <li><button class="plain" on:click=move |_| open.set(Some(round.clone()))>{said}</button></li> }
}

/// One round: its time and place, the blank, then every panel.
#[component]
fn Round(round: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let panels = ids(desk, |test| findings::in_rack(test).into_iter().map(|panel| panel.id.clone()).collect());
    let blanks = ids(desk, |test| test.blanks.kept().map(|blank| blank.id.clone()).collect());
    let at = {
        let round = round.clone();
        Signal::derive(move || desk.with(|test| test.rounds.find(&round)?.at))
    };
    let said = {
        let round = round.clone();
        move || desk.with(|test| findings::round_said(test, &round))
    };
    let date = {
        let round = round.clone();
        move |at| desk.act(Action::Date(Dated::Round(round.clone()), at))
    };
    let remove = {
        let round = round.clone();
        move |_| desk.press(Action::RemoveRound(round.clone()))
    };
    let (for_blanks, for_panels) = (round.clone(), round.clone());
    view! {
        <section class="round">
            <h2>{said}</h2>
            <div class="fields">
                <For each=move || blanks.get() key=Id::clone let:blank>
                    <WeighField owner=blank round=for_blanks.clone()/>
                </For>
                <For each=move || panels.get() key=Id::clone let:panel>
                    <WeighField owner=panel round=for_panels.clone()/>
                </For>
            </div>
            <details>
                <summary>"Time and place of this round"</summary>
                <MomentField label="Weighed at" value=at store=date/>
                <PhraseField label="Where the panels are" phrase=Phrase::Place(round)/>
                <button class="plain" on:click=remove>"Remove this round and its weights"</button>
            </details>
        </section>
    }
}

fn weigh_ins_of<'a>(test: &'a SprayTest, owner: &Id) -> Option<&'a Entries<WeighIn>> {
    match test.panels.find(owner) {
        Some(panel) => Some(&panel.weigh_ins),
        None => test.blanks.find(owner).map(|blank| &blank.weigh_ins),
    }
}

/// The weight of a panel or blank in a round.
#[component]
fn WeighField(owner: Id, round: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let label = label_of(desk, &owner);
    let stored = {
        let (owner, round) = (owner.clone(), round.clone());
        Memo::new(move |_| {
            desk.with(|test| {
                let of_round = |weigh_in: &&WeighIn| weigh_in.round.as_ref() == Some(&round);
                weigh_ins_of(test, &owner)?.kept().find(of_round).map(|weigh_in| weigh_in.id().clone())
            })
        })
    };
    let value = {
        let owner = owner.clone();
        Signal::derive(move || {
            let slot = Slot::WeighIn(owner.clone(), stored.get()?);
            desk.with(|test| slot.read(test))
        })
    };
    let hint = {
        let (owner, round) = (owner.clone(), round.clone());
        Signal::derive(move || {
            let found = desk.findings.get();
            desk.with(|test| {
                let at = findings::weigh_time(test.rounds.find(&round).and_then(|round| round.at), desk.now());
                let panel = found.panel(&owner);
                let tongue = desk.tongue();
                match panel {
                    Some(panel) => findings::weighing_hint(test, panel, &round, at, &tongue),
                    None => findings::blank_hint(test, &owner, &round, &tongue),
                }
            })
        })
    };
    let store = {
        let owner = owner.clone();
        move |typed: Option<f64>| match (typed, stored.get_untracked()) {
            (None, None) => Ok(()),
            (None, Some(weigh_in)) => desk.act(Action::Remove(weigh_in)),
            (Some(_), Some(weigh_in)) => desk.act(Action::Fill(Slot::WeighIn(owner.clone(), weigh_in), typed)),
            (Some(gross), None) => {
                let gross_g = Grams::new(gross).map_err(|trouble| format!("A weight {trouble}."))?;
                let begun = desk.with_untracked(|test| test.rounds.find(&round).and_then(|round| round.at));
                let at = findings::weigh_time(begun, desk.now());
                desk.act(Action::Weigh { owner: owner.clone(), round: Some(round.clone()), at, gross_g })
            }
        }
    };
    view! {
        <NumberField label value measure=Measure::Mass store hint typed=Typed::LargeNumber/>
        {move || stored.get().map(|weigh_in| view! { <LeftOut owner=owner.clone() weigh_in/> })}
    }
}

/// What can be done about a weigh-in that is off the curve, or was set aside.
#[component]
fn LeftOut(owner: Id, weigh_in: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let flag = {
        let (owner, weigh_in) = (owner.clone(), weigh_in.clone());
        Memo::new(move |_| {
            let found = desk.findings.get();
            found.panel(&owner)?.flags.iter().find(|flag| flag.weigh_in == weigh_in).cloned()
        })
    };
    let vouch = {
        let (owner, weigh_in) = (owner.clone(), weigh_in.clone());
        move || desk.press(Action::Vouch { owner: owner.clone(), weigh_in: weigh_in.clone() })
    };
    let (swapped_owner, swapped_weigh_in) = (owner.clone(), weigh_in.clone());
    let set_aside = move || {
        let why = "set aside at the scale".to_owned();
        desk.press(Action::SetAside { owner: owner.clone(), weigh_in: weigh_in.clone(), why });
    };
    view! {
        {move || {
            let (vouch, set_aside) = (vouch.clone(), set_aside.clone());
            let own = (swapped_owner.clone(), swapped_weigh_in.clone());
            flag.get().map(|flag| {
                let exchange = flag.swap_with.clone().zip(flag.swap_weigh_in.clone()).map(|other| {
                    let action = Action::Exchange(own, other);
                    view! { <button class="accent" on:click=move |_| desk.press(action.clone())>"They were swapped: exchange them"</button> }
                });
                view! {
                    <p class="actions flag">
                        {exchange}
                        <button on:click=move |_| vouch()>"It is right: take it in"</button>
                        {(flag.kind != "set_aside")
                            .then(|| view! { <button on:click=move |_| set_aside()>"It is wrong: set it aside"</button> })}
                    </p>
                }
            })
        }}
    }
}
