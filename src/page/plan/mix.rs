//! The mix of a candidate: components with their grades, packs and prices; how much to mix; what it costs.

use leptos::prelude::*;

use super::slot;
use crate::findings;
use crate::page::desk::Desk;
use crate::page::parts::{PhraseField, RowField, SlotField, Told, each, fold, picks};
use crate::page::spray::ids;
use crate::record::{
    Action, Basis, Candidate, Component, ComponentLine, Id, MixLine, Phrase, Pick, ReducerOf, Role, Row, Slot,
};

const ROLES: [(&str, Role); 3] = [("Base", Role::Base), ("Hardener", Role::Hardener), ("Reducer", Role::Reducer)];

/// The mix editor, folded under the recipe in a line.
pub fn folded(desk: Desk, id: Id) -> AnyView {
    let said = {
        let id = id.clone();
        Signal::derive(move || desk.with(|test| test.candidates.find(&id).map_or(String::new(), findings::mix_said)))
    };
    fold(said, false, move || editor(desk, id.clone()))
}

fn editor(desk: Desk, id: Id) -> AnyView {
    let components = {
        let id = id.clone();
        ids(desk, move |test| {
            let of = |candidate: &Candidate| {
                findings::components_in_order(candidate).into_iter().map(|component| component.id.clone()).collect()
            };
            test.candidates.find(&id).map(of).unwrap_or_default()
        })
    };
    let basis = [("By volume", Basis::Volume), ("By weight", Basis::Weight)];
    let basis = basis.map(|(word, basis)| (word.to_owned(), Pick::Basis(id.clone(), basis))).to_vec();
    let of = [("Base and hardener", ReducerOf::Paint), ("Base alone", ReducerOf::Base)];
    let of = of.map(|(word, of)| (word.to_owned(), Pick::ReducerOf(id.clone(), of))).to_vec();
    let add = ROLES.map(|(word, role)| {
        let candidate = id.clone();
        let add = move |_| desk.press(Action::AddComponent { candidate: candidate.clone(), label: word.into(), role });
        view! { <button on:click=add>"Add " {word.to_lowercase()}</button> }
    });
    let amount = {
        let id = id.clone();
        Signal::derive(move || {
            desk.with(|test| test.candidates.find(&id).map(|c| findings::amount_said(test, c, &desk.tongue())))
                .unwrap_or_default()
        })
    };
    let worth = {
        let id = id.clone();
        Memo::new(move |_| {
            desk.with(|test| test.candidates.find(&id).map(|c| findings::worth_of(test, c, &desk.tongue())))
                .unwrap_or_default()
        })
    };
    let candidate = id.clone();
    view! {
        {picks(desk, "Parts are parts", basis, Some(0))}
        {each(components, move |component| component_card(desk, candidate.clone(), component))}
        <p class="actions">{add.collect_view()}</p>
        {picks(desk, "A reducer's per cent is of", of, Some(0))}
        <SlotField label="How much to mix" of=Slot::Mix(id, MixLine::Amount) hint=amount/>
        <dl>{move || worth.get().into_iter().map(|figure| view! { <Told figure/> }).collect_view()}</dl>
    }
    .into_any()
}

fn component_card(desk: Desk, candidate: Id, id: Id) -> AnyView {
    let find = {
        let (candidate, id) = (candidate.clone(), id.clone());
        move |read: fn(&Component) -> String| {
            desk.with(|test| test.candidates.find(&candidate)?.mix.components.find(&id).map(read)).unwrap_or_default()
        }
    };
    let said = Signal::derive(move || find(findings::component_said));
    let is_new =
        [ComponentLine::Parts, ComponentLine::Share].map(|line| Slot::Component(candidate.clone(), id.clone(), line));
    let is_new = desk.with_untracked(|test| is_new.iter().all(|slot| slot.read(test).is_none()));
    fold(said, is_new, move || {
        let line = |label: &'static str, line: ComponentLine, hint: &'static str| {
            slot(label, Slot::Component(candidate.clone(), id.clone(), line), hint)
        };
        let roles =
            ROLES.map(|(word, role)| (word.to_owned(), Pick::Role(candidate.clone(), id.clone(), role))).to_vec();
        let reducer = Pick::Role(candidate.clone(), id.clone(), Role::Reducer);
        let share = {
            let of = Slot::Component(candidate.clone(), id.clone(), ComponentLine::Share);
            move || {
                let shown = desk.with(|test| reducer.holds(test));
                shown.then(|| slot("Or per cent", of.clone(), "Counts instead of parts."))
            }
        };
        let remove = {
            let id = id.clone();
            move |_| desk.press(Action::Remove(id.clone()))
        };
        let more = {
            let (candidate, id) = (candidate.clone(), id.clone());
            move || more_of(&candidate, &id)
        };
        view! {
            <div class="component">
                <PhraseField label="Name of the component" phrase=Phrase::Component(candidate.clone(), id.clone())/>
                {picks(desk, "It is a", roles, None)}
                <div class="pair">
                    {line("Parts", ComponentLine::Parts, "")} {line("Density", ComponentLine::Density, "")}
                </div>
                {share}
                <PhraseField label="Grade, as chosen for the temperature" phrase=Phrase::Grade(candidate.clone(), id.clone())/>
                <RowField
                    label="Air this grade is made for"
                    row=Row::GradeAir(candidate.clone(), id.clone())
                    hint="Lowest and highest, with a space between."
                />
                {fold(Signal::stored("VOC, pack and price".into()), false, more)}
                <button class="plain" on:click=remove>"Remove this component"</button>
            </div>
        }
        .into_any()
    })
}

fn more_of(candidate: &Id, id: &Id) -> AnyView {
    let line = |label: &'static str, line: ComponentLine| {
        slot(label, Slot::Component(candidate.clone(), id.clone(), line), "")
    };
    view! {
        <div class="pair">{line("Pack holds", ComponentLine::Pack)} {line("Price of a pack", ComponentLine::Price)}</div>
        <PhraseField label="Currency" phrase=Phrase::Currency/>
        {line("VOC in a litre of it", ComponentLine::Voc)}
        <div class="pair">{line("Water, by weight", ComponentLine::Water)} {line("Exempt solvent", ComponentLine::Exempt)}</div>
    }
    .into_any()
}
