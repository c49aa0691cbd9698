//! Panels: their size, how they are sprayed, the drawn order, from which cup each came.

use leptos::prelude::*;

use crate::device;
use crate::page::desk::Desk;
use crate::page::fields::{Field, Typed, picks, slot, wanted, words};
use crate::page::parts::{button, derived, each, fold, lines, shown};
use record::{Action, Address, Id, Owner, PanelLine, Phrase, Pick, Slot, SprayTest, WantedLine, next_panel_labels};

/// Letters of a drawn seed: easy to read out to another phone.
const SEED_LETTERS: usize = 4;

/// The panels of a test.
pub fn section(desk: Desk) -> AnyView {
    let every = |label: &'static str, line: PanelLine| slot(label, Slot::EveryPanel(line), "");
    view! {
        <h2>"Panels"</h2>
        <p>"All panels cut from one sheet: give the painted face once. A panel of another size has its own lines with its candidate."</p>
        <div class="pair">
            {every("Width of every panel", PanelLine::Width)} {every("Length of every panel", PanelLine::Length)}
        </div>
        <div class="pair">
            {wanted("Sprayed over each edge", WantedLine::Overspray, "")} {wanted("Of what is sprayed, lands", WantedLine::TransferEfficiency, "")}
        </div>
        {wanted("Stays in cup and gun", WantedLine::LeftInGun, "")}
        {order(desk)}
    }
    .into_any()
}

fn order(desk: Desk) -> AnyView {
    let draw = move || {
        let seed = device::random_name(SEED_LETTERS);
        let action = findings::plan::draw(&desk.noted(), &seed);
        desk.press(action);
    };
    let take = move |typed: &str| {
        if typed.is_empty() {
            return Err("A draw needs a seed: any word will do.".to_owned().into());
        }
        Ok(desk.act(findings::plan::draw(&desk.noted(), typed))?)
    };
    let seed = Field {
        label: "Seed of the draw".into(),
        of: String::new(),
        typed: Typed::Words,
        shown: derived(move || desk.current().typed.order.seed.clone()),
        unit: Signal::stored(""),
        hint: Signal::stored("Whoever types the same seed draws the same order.".into()),
        fresh: false,
        take: Box::new(take),
    };
    view! {
        <h3>"Order of spraying"</h3>
        {lines("order", move || vec![findings::plan::order_said(&desk.current().test)])}
        <p class="hint">{findings::plan::WHY_DRAWN}</p>
        <p class="actions">{button("", "Draw the order", draw)}</p>
        {seed.view()}
    }
    .into_any()
}

/// The panels of a candidate, folded under their number.
pub fn of_candidate(desk: Desk, id: Id) -> AnyView {
    let panels = {
        let id = id.clone();
        desk.ids(move |test| {
            let own = findings::facts::in_order(test).into_iter().filter(|panel| panel.candidate.as_ref() == Some(&id));
            own.map(|panel| panel.id.clone()).collect()
        })
    };
    fold(
        move || format!("Panels: {}", panels.with(Vec::len)),
        false,
        move || {
            let id = id.clone();
            let add = move || {
                for label in next_panel_labels(&desk.noted(), Some(&id), 1) {
                    desk.press(Action::AddPanel { candidate: id.clone(), label });
                }
            };
            view! {
                {each(panels, move |panel| panel_lines(desk, panel))}
                <p class="actions">{button("", "Add a panel", add)}</p>
            }
            .into_any()
        },
    )
}

/// One panel: its number, its place, its cup, and its size where it differs.
fn panel_lines(desk: Desk, panel: Id) -> AnyView {
    let line = |label: &'static str, line: PanelLine| slot(label, Slot::Panel(panel.clone(), line), "");
    let remove = {
        let panel = panel.clone();
        move || desk.press(Action::Remove(Address::panel(&panel)))
    };
    let cup = {
        let panel = panel.clone();
        shown(move || {
            let cups = cups_of(&desk.current().test, &panel);
            let pick = |(said, cup): (String, Id)| (said, Pick::Cup(panel.clone(), Some(cup)));
            (!cups.is_empty()).then(|| picks(desk, "From which cup", cups.into_iter().map(pick).collect(), None))
        })
    };
    view! {
        <div class="panel-lines" role="group" aria-label=desk.label_of(&Owner::Panel(panel.clone()))>
            <div class="pair">
                {words("Number on its back", Phrase::Panel(panel.clone()))}
                {words("Place in the rack", Phrase::Rack(panel.clone()))}
            </div>
            <div class="pair">{line("Width", PanelLine::Width)} {line("Length", PanelLine::Length)}</div>
            <div class="pair">
                {line("Thickness, if edges are painted", PanelLine::Thickness)} {line("Or coated area", PanelLine::Coated)}
            </div>
            {cup}
            {button("plain destroys", "Remove this panel", remove)}
        </div>
    }
    .into_any()
}

/// The cups that came together of a panel's candidate, by when.
fn cups_of(test: &SprayTest, panel: &Id) -> Vec<(String, Id)> {
    let candidate = test.panels.find(panel).map(|panel| &panel.candidate);
    let own = test.mixes.kept().filter(|cup| Some(&cup.candidate) == candidate);
    own.filter_map(|cup| Some((cup.at?.said(), cup.id.clone()))).collect()
}
