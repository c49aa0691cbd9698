//! The mix of a candidate: components with their grades, packs and prices; how much to mix; what it costs.

use leptos::prelude::*;

use crate::page::desk::Desk;
use crate::page::fields::{Field, SlotField, Typed, picks, row, slot, words};
use crate::page::parts::{button, derived, each, fold, live, memo, shown, told};
use record::{Action, Address, Basis, Candidate, ComponentLine, Id, MixLine, Phrase, Pick, ReducerOf, Role, Row, Slot};

const ROLES: [(&str, Role); 3] = [("Base", Role::Base), ("Hardener", Role::Hardener), ("Reducer", Role::Reducer)];

/// The ratio of the mix, as it stands on the can.
pub fn ratio(desk: Desk, id: Id) -> AnyView {
    let of = id.clone();
    let shown =
        derived(move || desk.current().test.candidates.find(&of).map_or(String::new(), findings::mixing::ratio_said));
    let candidate = id.clone();
    let take = move |typed: &str| {
        let current = desk.current();
        let Some(candidate) = current.test.candidates.find(&candidate) else { return Ok(()) };
        Ok(desk.act(findings::mixing::set_ratio(candidate, typed, &current.wording)?)?)
    };
    let hint = Signal::stored("Base, hardener, reducer, as on the can: 4:1:1.".into());
    let (of, typed, take) = (id.0, Typed::Numbers, Box::new(take));
    Field { label: "Mix ratio".into(), of, typed, shown, unit: Signal::stored(""), hint, fresh: false, take }.view()
}

/// The mix editor, folded under the recipe in a line.
pub fn folded(desk: Desk, id: Id) -> AnyView {
    let of = id.clone();
    let said = move || desk.current().test.candidates.find(&of).map_or(String::new(), findings::mixing::mix_said);
    fold(said, false, move || editor(desk, id.clone()))
}

fn editor(desk: Desk, id: Id) -> AnyView {
    let components = {
        let id = id.clone();
        desk.ids(move |test| {
            let of = |candidate: &Candidate| {
                findings::mixing::components_in_order(candidate)
                    .into_iter()
                    .map(|component| component.id.clone())
                    .collect()
            };
            test.candidates.find(&id).map(of).unwrap_or_default()
        })
    };
    let basis = [("By volume", Basis::Volume), ("By weight", Basis::Weight)];
    let basis = basis.map(|(word, basis)| (word.to_owned(), Pick::Basis(id.clone(), basis))).to_vec();
    let of = [("Base and hardener", ReducerOf::Paint), ("Base alone", ReducerOf::Base)];
    let of = of.map(|(word, of)| (word.to_owned(), Pick::ReducerOf(id.clone(), of))).to_vec();
    let reducer_of = {
        let id = id.clone();
        let by_share = memo(move || {
            let any =
                |candidate: &Candidate| candidate.mix.components.kept().any(|component| component.share.is_some());
            desk.current().test.candidates.find(&id).is_some_and(any)
        });
        shown(move || by_share.get().then(|| picks(desk, "A reducer's per cent is of", of.clone(), Some(0))))
    };
    let add = ROLES.map(|(word, role)| {
        let candidate = id.clone();
        let add = move || desk.press(Action::AddComponent { candidate: candidate.clone(), label: word.into(), role });
        button("", format!("Add {}", word.to_lowercase()), add)
    });
    let amount = {
        let id = id.clone();
        derived(move || {
            let current = desk.current();
            let said = |candidate| findings::mixing::amount_said(&current.test, candidate, &current.wording);
            current.test.candidates.find(&id).map(said).unwrap_or_default()
        })
    };
    let worth = {
        let id = id.clone();
        live(move || {
            let current = desk.current();
            let figures = |candidate| findings::mixing::worth_of(&current.test, candidate, &current.wording);
            let figures = current.test.candidates.find(&id).map(figures);
            figures.unwrap_or_default().into_iter().map(told).collect::<Vec<_>>().into_any()
        })
    };
    let candidate = id.clone();
    view! {
        {picks(desk, "Parts are given", basis, Some(0))}
        {each(components, move |component| component_card(desk, candidate.clone(), component))}
        <p class="actions">{Vec::from(add)}</p>
        {reducer_of}
        <SlotField label="How much to mix" of=Slot::Mix(id, MixLine::Amount) hint=amount/>
        <dl>{worth}</dl>
    }
    .into_any()
}

fn component_card(desk: Desk, candidate: Id, id: Id) -> AnyView {
    let said = {
        let (candidate, id) = (candidate.clone(), id.clone());
        move || {
            let current = desk.current();
            let component = current.test.candidates.find(&candidate)?.mix.components.find(&id)?;
            Some(findings::mixing::component_said(component, &current.wording))
        }
    };
    let is_new =
        [ComponentLine::Parts, ComponentLine::Share].map(|line| Slot::Component(candidate.clone(), id.clone(), line));
    let is_new = is_new.iter().all(|slot| slot.read(&desk.noted()).is_none());
    fold(
        move || said().unwrap_or_default(),
        is_new,
        move || {
            let line = |label: &'static str, line: ComponentLine, hint: &'static str| {
                slot(label, Slot::Component(candidate.clone(), id.clone(), line), hint)
            };
            let reducer = Pick::Role(candidate.clone(), id.clone(), Role::Reducer);
            let share = {
                let of = Slot::Component(candidate.clone(), id.clone(), ComponentLine::Share);
                shown(move || {
                    let is = reducer.holds(&desk.current().test);
                    is.then(|| slot("Or per cent", of.clone(), "Counts instead of parts."))
                })
            };
            let remove = {
                let address = Address::component(&candidate, &id);
                move || desk.press(Action::Remove(address.clone()))
            };
            let more = {
                let (candidate, id) = (candidate.clone(), id.clone());
                move || more_of(desk, &candidate, &id)
            };
            view! {
                <div class="component">
                    <div class="pair">
                        {line("Parts", ComponentLine::Parts, "")} {line("Density", ComponentLine::Density, "")}
                    </div>
                    {share}
                    <div class="pair">
                        {words("Grade", Phrase::Grade(candidate.clone(), id.clone()))}
                        {row("Made for air of", Row::GradeAir(candidate.clone(), id.clone()), "")}
                    </div>
                    <p class="hint">"The grade bought for your temperature; the air, lowest and highest: 15 25."</p>
                    {fold(|| "Name, batch, pack, price, VOC".into(), false, more)}
                    {button("plain destroys", "Remove this component", remove)}
                </div>
            }
            .into_any()
        },
    )
}

fn more_of(desk: Desk, candidate: &Id, id: &Id) -> AnyView {
    let roles = ROLES.map(|(word, role)| (word.to_owned(), Pick::Role(candidate.clone(), id.clone(), role))).to_vec();
    let line = |label: &'static str, line: ComponentLine| {
        slot(label, Slot::Component(candidate.clone(), id.clone(), line), "")
    };
    view! {
        {words("Name of the component", Phrase::Component(candidate.clone(), id.clone()))}
        {words("Batch number", Phrase::Batch(candidate.clone(), id.clone()))}
        {picks(desk, "It is a", roles, None)}
        <div class="pair">{line("Pack holds", ComponentLine::Pack)} {line("Price of a pack", ComponentLine::Price)}</div>
        {words("Currency", Phrase::Currency)}
        {line("VOC in a litre of it", ComponentLine::Voc)}
        <div class="pair">{line("Water, by weight", ComponentLine::Water)} {line("Exempt solvent", ComponentLine::Exempt)}</div>
    }
    .into_any()
}
