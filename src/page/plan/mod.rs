//! Plan: candidates with their data sheets and mixes, panels, instruments, when to weigh, and what the plan can show.

mod candidate;
mod check;
mod instruments;
mod mix;
mod panels;
mod schedule;

use leptos::prelude::*;

use crate::page::app::Place;
use crate::page::desk::Desk;
use crate::page::fields::{picks, wanted, words};
use crate::page::parts::{button, cautions, each, fold, lines, way};
use record::{Action, Phrase, WantedLine, next_label, next_panel_labels};

/// Panels a further candidate starts with, like those of a new test.
const PANELS: usize = 3;

/// The plan of a test.
pub fn plan(desk: Desk) -> AnyView {
    let candidates = desk.ids(|test| findings::facts::candidates_in_order(test).iter().map(|c| c.id.clone()).collect());
    let add = move || {
        let noted = desk.noted();
        let (letter, panels) = (next_label(&noted), next_panel_labels(&noted, None, PANELS));
        desk.press(Action::AddCandidate { id: desk.fresh_id(), label: format!("Candidate {letter}"), panels });
    };
    view! {
        <h1>"Plan"</h1>
        {words("Name of the test", Phrase::Title)}
        {fold(|| "Painter, shop, metal".into(), false, made_by)}
        <h2>"Candidates"</h2>
        <div class="cards">{each(candidates, move |id| candidate::card(desk, id))}</div>
        <p class="actions">{button("", "Add a candidate", add)}</p>

        {panels::section(desk)}

        <h2>"What you are after"</h2>
        {wanted("Sanded or topcoated after", WantedLine::Sanding, findings::words::SANDING)}
        <div class="pair">
            {wanted("Wanted dry build", WantedLine::DryBuild, "")}
            {wanted("Sanded off", WantedLine::SandingLoss, "")}
        </div>

        {certainty(desk)}

        {instruments::section(desk)}
        {schedule::section(desk)}
        {check::section(desk)}

        {cautions(findings::facts::is_under_way(&desk.noted()))}
        <p class="actions next">
            {way("button accent", "Next: spray", move || desk.app.address_of(Place::Spray))}
            {button("", "Begin a new test with this plan", move || desk.begin_again())}
        </p>
    }
    .into_any()
}

/// How sure a panel is to be before its weight is called steady.
fn certainty(desk: Desk) -> AnyView {
    let costs = || lines("quiet", findings::plan::certainty_costs);
    view! {
        {picks(desk, "Call a weight steady", findings::plan::certainties(), Some(findings::plan::USUAL))}
        {fold(|| "What each choice costs".into(), false, costs)}
    }
    .into_any()
}

/// Who sprays, where and on what: for those who get the report.
fn made_by() -> AnyView {
    view! {
        <p class="hint">"For the report; every line may stay empty."</p>
        <div class="pair">{words("Painter", Phrase::Painter)} {words("Shop", Phrase::Shop)}</div>
        <div class="pair">{words("Metal", Phrase::Metal)} {words("How it was prepared", Phrase::Preparation)}</div>
    }
    .into_any()
}
