//! Plan: candidates with their data sheets, panels, what is wanted, instruments.

use leptos::prelude::*;

use super::desk::Desk;
use super::parts::{PhraseField, RowField, SlotField};
use super::results::MarkSign;
use super::shelf::Cautions;
use super::shop::Place;
use crate::findings;
use crate::record::{
    Action, BalanceLine, Id, PanelLine, Phrase, Row, SheetLine, Slot, WantedLine, next_label, next_panel_labels,
};

/// Panels a further candidate starts with, like those of a new test.
const PANELS: usize = 3;

/// The plan of a test.
#[component]
pub fn Plan(desk: Desk) -> impl IntoView {
    let candidates = Memo::new(move |_| {
        desk.with(|test| findings::candidates_in_order(test).iter().map(|c| c.id.clone()).collect::<Vec<_>>())
    });
    let add = move |_| {
        let (letter, panels) = desk.with_untracked(|test| (next_label(test), next_panel_labels(test, None, PANELS)));
        desk.press(Action::AddCandidate { id: desk.fresh_id(), label: format!("Candidate {letter}"), panels });
    };
    view! {
        <h1>"Plan"</h1>
        <PhraseField label="Name of the test" phrase=Phrase::Title/>
        <h2>"Candidates"</h2>
        <div class="cards">
            <For each=move || candidates.get() key=Id::clone let:id>
                <CandidateCard id/>
            </For>
        </div>
        <p class="actions"><button on:click=add>"Add a candidate"</button></p>

        <h2>"Panels"</h2>
        <p>"All panels cut from one sheet: give the painted face once. A panel of another size has its own lines above."</p>
        <div class="pair">
            <SlotField label="Width of every panel" of=Slot::EveryPanel(PanelLine::Width)/>
            <SlotField label="Length of every panel" of=Slot::EveryPanel(PanelLine::Length)/>
        </div>

        <h2>"What you are after"</h2>
        <SlotField label="Sanded or topcoated after" of=Slot::Wanted(WantedLine::Sanding) hint="Hours after the last coat: 72 is three days."/>
        <SlotField label="Wanted dry build" of=Slot::Wanted(WantedLine::DryBuild)/>

        <h2>"Instruments"</h2>
        <Instruments desk/>
        <Cautions/>
        <p class="actions next">
            <a class="button accent" href=move || desk.shop.address_of(Place::Spray)>"Next: spray"</a>
        </p>
    }
}

/// One candidate: name, panels, data sheet.
#[component]
fn CandidateCard(id: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let panels = {
        let id = id.clone();
        Memo::new(move |_| {
            desk.with(|test| {
                let own = findings::in_order(test).into_iter().filter(|panel| panel.candidate.as_ref() == Some(&id));
                own.map(|panel| panel.id.clone()).collect::<Vec<_>>()
            })
        })
    };
    let name = {
        let id = id.clone();
        move || desk.with(|test| Phrase::Candidate(id.clone()).read(test).unwrap_or_default().to_owned())
    };
    let label = untrack(&name);
    let add_panel = {
        let id = id.clone();
        move |_| {
            let labels = desk.with_untracked(|test| next_panel_labels(test, Some(&id), 1));
            for label in labels {
                desk.press(Action::AddPanel { candidate: id.clone(), label });
            }
        }
    };
    let remove = {
        let id = id.clone();
        move |_| desk.press(Action::Remove(id.clone()))
    };
    let line = |label: &'static str, line: SheetLine| {
        view! { <SlotField label of=Slot::Sheet(id.clone(), line)/> }
    };
    view! {
        <section class="candidate" aria-label=label>
            <h3><MarkSign candidate=id.clone()/> <span>{name.clone()}</span></h3>
            <PhraseField label="Name" phrase=Phrase::Candidate(id.clone())/>
            <details>
                <summary>"Data sheet"</summary>
                <p class="hint">"Every line may stay empty; what a missing one costs is said in Results."</p>
                {line("Solids by weight", SheetLine::SolidsByWeight)}
                {line("Solids by volume", SheetLine::SolidsByVolume)}
                {line("Density as sprayed", SheetLine::Density)}
                {line("Density of what leaves", SheetLine::SolventDensity)}
                {line("Density of the dry film", SheetLine::DryDensity)}
                {line("May be sanded after", SheetLine::Sanding)}
            </details>
            <details>
                <summary>{move || format!("Panels: {}", panels.with(Vec::len))}</summary>
                <For each=move || panels.get() key=Id::clone let:panel>
                    <PanelLines panel/>
                </For>
                <button on:click=add_panel>"Add a panel"</button>
            </details>
            <PhraseField label="Notes: adhesion, sanding, smell" phrase=Phrase::Notes(id.clone())/>
            <button class="plain" on:click=remove>"Remove this candidate"</button>
        </section>
    }
}

/// One panel: its number and its size where it differs.
#[component]
fn PanelLines(panel: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let line = |label: &'static str, line: PanelLine| {
        view! { <SlotField label of=Slot::Panel(panel.clone(), line)/> }
    };
    let remove = {
        let panel = panel.clone();
        move |_| desk.press(Action::Remove(panel.clone()))
    };
    view! {
        <div class="panel-lines">
            <PhraseField label="Number on its back" phrase=Phrase::Panel(panel.clone())/>
            <div class="pair">{line("Width", PanelLine::Width)} {line("Length", PanelLine::Length)}</div>
            <div class="pair">
                {line("Thickness, if edges are painted", PanelLine::Thickness)} {line("Or coated area", PanelLine::Coated)}
            </div>
            <button class="plain" on:click=remove>"Remove this panel"</button>
        </div>
    }
}

/// Scales and combs.
#[component]
fn Instruments(desk: Desk) -> impl IntoView {
    let balances = Memo::new(move |_| desk.with(|test| test.balances.kept().map(|b| b.id.clone()).collect::<Vec<_>>()));
    let combs = Memo::new(move |_| desk.with(|test| test.combs.kept().map(|c| c.id.clone()).collect::<Vec<_>>()));
    view! {
        <For each=move || balances.get() key=Id::clone let:balance>
            <SlotField
                label="Division of the scale"
                of=Slot::Balance(balance.clone(), BalanceLine::Division)
                hint="The smallest step its display makes."
            />
        </For>
        <For each=move || combs.get() key=Id::clone let:comb>
            <RowField
                label="Teeth of the comb"
                row=Row::Teeth(comb)
                hint="From the shortest, with spaces between. A new test starts with the steps of ASTM D4414's example."
            />
        </For>
    }
}
