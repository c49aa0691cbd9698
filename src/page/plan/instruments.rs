//! Instruments: scales and how well they repeat, blanks, combs, the dry gauge.

use leptos::prelude::*;

use super::slot;
use crate::findings::{self, BlankWanted};
use crate::page::desk::Desk;
use crate::page::parts::{PhraseField, RowField, each, fold, picks};
use crate::page::spray::ids;
use crate::quantity::{Division, Quantity};
use crate::record::{Action, BalanceLine, GaugeLine, Id, Phrase, Pick, Row, Slot, SprayTest};

/// Step of a further scale until the person says its own, g.
const DIVISION_G: f64 = 0.1;

/// The instruments of a test.
pub fn section(desk: Desk) -> AnyView {
    let balances = ids(desk, |test| test.balances.kept().map(|balance| balance.id.clone()).collect());
    let blanks = ids(desk, |test| test.blanks.kept().map(|blank| blank.id.clone()).collect());
    let combs = ids(desk, |test| test.combs.kept().map(|comb| comb.id.clone()).collect());
    let wanted = Memo::new(move |_| desk.with(findings::blanks_wanted));
    let add_scale = move |_| {
        if let Ok(division_g) = Division::new(DIVISION_G) {
            desk.press(Action::AddBalance { label: "Another scale".into(), division_g });
        }
    };
    let add_comb = move |_| {
        let teeth_um = desk.with_untracked(findings::teeth_in_hand);
        desk.press(Action::AddComb { label: "Another comb".into(), teeth_um });
    };
    view! {
        <h2>"Instruments"</h2>
        {each(balances, move |id| scale(desk, id))}
        {move || wanted.get().into_iter().map(|blank| blank_wanted(desk, blank)).collect_view()}
        {fold(Signal::derive(move || format!("Blanks: {}", blanks.with(Vec::len))), false, move || {
            each(blanks, move |id| blank(desk, id))
        })}
        {each(combs, move |id| comb(id, combs))}
        {fold(Signal::stored("Dry-film gauge".into()), false, gauge)}
        <p class="actions">
            <button on:click=add_scale>"Add a scale"</button>
            <button on:click=add_comb>"Add a comb"</button>
        </p>
    }
    .into_any()
}

fn scale(desk: Desk, id: Id) -> AnyView {
    let spread = {
        let id = id.clone();
        Signal::derive(move || desk.with(|test| findings::repeats_said(test, &id, &desk.tongue())))
    };
    let name = {
        let id = id.clone();
        Signal::derive(move || desk.with(|test| Phrase::Balance(id.clone()).read(test).unwrap_or_default().to_owned()))
    };
    let more = {
        let id = id.clone();
        move || {
            let remove = {
                let id = id.clone();
                move |_| desk.press(Action::Remove(id.clone()))
            };
            let stated = Slot::Balance(id.clone(), BalanceLine::Repeatability);
            view! {
                <PhraseField label="Name of the scale" phrase=Phrase::Balance(id.clone())/>
                {slot("Repeatability by its paper", stated, "A standard deviation; counts while the five weighings are not there.")}
                <button class="plain" on:click=remove>"Remove this scale"</button>
            }
            .into_any()
        }
    };
    view! {
        <div class="instrument">
            {slot("Division of the scale", Slot::Balance(id.clone(), BalanceLine::Division), "The smallest step its display makes.")}
            <RowField label="One panel, weighed five times" row=Row::Repeats(id) hint=spread/>
            {fold(name, false, more)}
        </div>
    }
    .into_any()
}

fn blank_wanted(desk: Desk, wanted: BlankWanted) -> AnyView {
    let BlankWanted { label, balance, place, said } = wanted;
    let add = move |_| {
        desk.press(Action::AddBlank { label: label.clone() });
        let newest = |test: &SprayTest| test.blanks.kept().next_back().map(|blank| blank.id.clone());
        if let Some(blank) = desk.with_untracked(newest) {
            if balance.is_some() {
                desk.press(Action::Choose(Pick::BlankScale(blank.clone(), balance.clone())));
            }
            if !place.is_empty() {
                desk.press(Action::Write(Phrase::BlankPlace(blank), place.clone()));
            }
        }
    };
    view! { <p class="flag">{said}</p> <p class="actions"><button on:click=add>"Add this blank"</button></p> }
        .into_any()
}

fn blank(desk: Desk, id: Id) -> AnyView {
    let remove = {
        let id = id.clone();
        move |_| desk.press(Action::Remove(id.clone()))
    };
    let scales = {
        let id = id.clone();
        move || {
            let balances = desk.with(|test| {
                let named = test.balances.kept().map(|balance| (balance.label.clone(), Some(balance.id.clone())));
                named.collect::<Vec<_>>()
            });
            let options = balances.into_iter().map(|(label, balance)| (label, Pick::BlankScale(id.clone(), balance)));
            let options: Vec<_> = options.collect();
            (options.len() > 1).then(|| picks(desk, "Weighed on", options, None))
        }
    };
    view! {
        <div class="panel-lines">
            <div class="pair">
                <PhraseField label="Name of the blank" phrase=Phrase::Blank(id.clone())/>
                <PhraseField label="Where it stands" phrase=Phrase::BlankPlace(id)/>
            </div>
            {scales}
            <button class="plain" on:click=remove>"Remove this blank"</button>
        </div>
    }
    .into_any()
}

fn comb(id: Id, combs: Memo<Vec<Id>>) -> AnyView {
    let several = {
        let id = id.clone();
        move || {
            let phrase = Phrase::Comb(id.clone());
            combs.with(|combs| combs.len() > 1).then(|| view! { <PhraseField label="Name of the comb" phrase/> })
        }
    };
    view! {
        <div class="instrument">
            {several}
            <RowField
                label="Teeth of the comb"
                row=Row::Teeth(id)
                hint="From the shortest, with spaces between. A new test starts with the steps of ASTM D4414's example."
            />
        </div>
    }
    .into_any()
}

fn gauge() -> AnyView {
    view! {
        {slot("Calibration of the gauge", Slot::Gauge(GaugeLine::Calibration), "By its paper, as a standard uncertainty; 2 µm where it is empty.")}
        <RowField
            label="On the bare prepared metal"
            row=Row::BaseMetal
            hint="Ten readings before any coat: the roughness that a gauge counts as film."
        />
    }
    .into_any()
}
