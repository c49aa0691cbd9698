//! Instruments: scales and how well they repeat, blanks, combs, the dry gauge.

use leptos::prelude::*;

use crate::page::desk::Desk;
use crate::page::fields::{RowField, SlotField, picks, row, slot, words};
use crate::page::parts::{button, derived, each, fold, live, shown};
use findings::plan::BlankWanted;
use quantity::{Division, Quantity};
use record::{Action, Address, Balance, BalanceLine, GaugeLine, Id, Phrase, Pick, Row, Slot};

/// Step of a further scale until the person says its own, g.
const DIVISION_G: f64 = 0.1;

/// The instruments of a test.
pub fn section(desk: Desk) -> AnyView {
    let balances = desk.ids(|test| test.balances.kept().map(|balance| balance.id.clone()).collect());
    let blanks = desk.ids(|test| test.blanks.kept().map(|blank| blank.id.clone()).collect());
    let combs = desk.ids(|test| test.combs.kept().map(|comb| comb.id.clone()).collect());
    let wanted = live(move || {
        let blanks =
            findings::plan::blanks_wanted(&desk.current().test).into_iter().map(|blank| blank_wanted(desk, blank));
        blanks.collect::<Vec<_>>().into_any()
    });
    let add_scale = move || {
        if let Ok(division_g) = Division::new(DIVISION_G) {
            desk.press(Action::AddBalance { label: "Another scale".into(), division_g });
        }
    };
    let add_comb = move || {
        let teeth_um = findings::facts::teeth_in_hand(&desk.noted());
        desk.press(Action::AddComb { label: "Another comb".into(), teeth_um });
    };
    view! {
        <h2>"Instruments"</h2>
        {each(balances, move |id| scale(desk, id))}
        {wanted}
        {fold(move || format!("Blanks: {}", blanks.with(Vec::len)), false, move || {
            each(blanks, move |id| blank(desk, id))
        })}
        {each(combs, move |id| comb(id, combs))}
        {fold(|| "Dry-film gauge".into(), false, move || gauge(desk))}
        <p class="actions">
            {button("", "Add a scale", add_scale)}
            {button("", "Add a comb", add_comb)}
        </p>
    }
    .into_any()
}

fn scale(desk: Desk, id: Id) -> AnyView {
    let spread = {
        let id = id.clone();
        derived(move || {
            let current = desk.current();
            findings::plan::repeats_said(&current.test, &id, &current.wording)
        })
    };
    let name = {
        let id = id.clone();
        move || {
            format!(
                "{}: name and paper",
                Phrase::Balance(id.clone()).read(&desk.current().test).unwrap_or_default().to_owned()
            )
        }
    };
    let more = {
        let id = id.clone();
        move || {
            let remove = {
                let id = id.clone();
                move || desk.press(Action::Remove(Address::balance(&id)))
            };
            let stated = Slot::Balance(id.clone(), BalanceLine::Repeatability);
            view! {
                {words("Name of the scale", Phrase::Balance(id.clone()))}
                {slot("Repeatability by its paper", stated, "A standard deviation; counts while the five weighings are not there.")}
                {button("plain destroys", "Remove this scale", remove)}
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
    let add = move || {
        desk.press(Action::AddBlank { label: label.clone() });
        let newest = desk.noted().blanks.kept().next_back().map(|blank| blank.id.clone());
        if let Some(blank) = newest {
            if balance.is_some() {
                desk.press(Action::Choose(Pick::BlankScale(blank.clone(), balance.clone())));
            }
            if !place.is_empty() {
                desk.press(Action::Write(Phrase::BlankPlace(blank), place.clone()));
            }
        }
    };
    view! { <p class="flag">{said}</p> <p class="actions">{button("", "Add this blank", add)}</p> }.into_any()
}

fn blank(desk: Desk, id: Id) -> AnyView {
    let remove = {
        let id = id.clone();
        move || desk.press(Action::Remove(Address::blank(&id)))
    };
    let scales = {
        let id = id.clone();
        shown(move || {
            let option =
                |balance: &Balance| (balance.label.clone(), Pick::BlankScale(id.clone(), Some(balance.id.clone())));
            let options: Vec<_> = desk.current().test.balances.kept().map(option).collect();
            (options.len() > 1).then(|| picks(desk, "Weighed on", options, None))
        })
    };
    view! {
        <div class="panel-lines">
            <div class="pair">
                {words("Name of the blank", Phrase::Blank(id.clone()))}
                {words("Where it stands", Phrase::BlankPlace(id))}
            </div>
            {scales}
            {button("plain destroys", "Remove this blank", remove)}
        </div>
    }
    .into_any()
}

fn comb(id: Id, combs: Memo<Vec<Id>>) -> AnyView {
    let several = {
        let id = id.clone();
        shown(move || combs.with(|combs| combs.len() > 1).then(|| words("Name of the comb", Phrase::Comb(id.clone()))))
    };
    view! {
        <div class="instrument">
            {several}
            {row("Teeth of the comb", Row::Teeth(id), "From the shortest, with spaces between. A new test starts with the steps of ASTM D4414's example.")}
        </div>
    }
    .into_any()
}

fn gauge(desk: Desk) -> AnyView {
    view! {
        <SlotField
            label="Calibration of the gauge"
            of=Slot::Gauge(GaugeLine::Calibration)
            hint=format!("By its paper, as a standard uncertainty; {} where it is empty.", findings::plan::gauge_taken(&desk.current().wording))
        />
        {row("On the bare prepared metal", Row::BaseMetal, "Ten readings before any coat: the roughness that a gauge counts as film.")}
    }
    .into_any()
}
