//! One panel: its figures, each opening to how it was worked out; what to know beside them; all its weights.

use leptos::prelude::*;

use super::worked::worked;
use crate::page::desk::Desk;
use crate::page::fields::MarkSign;
use crate::page::parts::{Line, button, each, fold, items, live, memo, table};
use findings::facts::{candidates_in_order, panels_on, panels_on_none};
use findings::results::{FigureKey, figure_keys, panel_figure, worked_figure};
use findings::words::{Figure, ReadingLine as Reading, readings};
use findings::{PanelFindings, Wording};
use quantity::Unit;
use record::{Action, Id, Owner, Panel};

/// All panels, those of a candidate that has several folded under its name.
pub fn panels(desk: Desk) -> AnyView {
    let candidates = desk.ids(|test| candidates_in_order(test).iter().map(|of| of.id.clone()).collect());
    let others = desk.ids(|test| ids_of(&panels_on_none(test)));
    view! {
        <h2>"Panel by panel"</h2>
        <div class="cards">
            {each(candidates, move |candidate| of_candidate(desk, candidate))} {each(others, move |panel| card(desk, panel))}
        </div>
    }
    .into_any()
}

fn ids_of(panels: &[&Panel]) -> Vec<Id> {
    panels.iter().map(|panel| panel.id.clone()).collect()
}

fn of_candidate(desk: Desk, candidate: Id) -> AnyView {
    let own = {
        let candidate = candidate.clone();
        desk.ids(move |test| ids_of(&panels_on(test, &candidate)))
    };
    let several = memo(move || own.with(|own| own.len() > 1));
    live(move || {
        let cards = move || each(own, move |panel| card(desk, panel));
        if !several.get() {
            return cards();
        }
        let (mark, named) = (candidate.clone(), candidate.clone());
        let summary = move || findings::words::candidate_with_panels(&desk.current().test, &named);
        view! { <div class="result up of-candidate"><MarkSign candidate=mark/> {fold(summary, false, cards)}</div> }
            .into_any()
    })
}

/// One panel, folded under what matters most of it.
fn card(desk: Desk, panel: Id) -> AnyView {
    let (of, name) = (panel.clone(), desk.label_of(&Owner::Panel(panel.clone())));
    let summary = move || {
        let found = desk.findings.get();
        found.panel(&of).map_or(String::new(), |told| findings::results::panel_in_short(told, &desk.current().wording))
    };
    let mark = desk.current().test.panels.find(&panel).and_then(|panel| panel.candidate.as_ref().cloned());
    let mark = mark.map(|candidate| view! { <MarkSign candidate/> });
    let inside = move || {
        let panel = panel.clone();
        live(move || body(desk, &panel))
    };
    view! { <section class="result up" aria-label=name>{mark} {fold(summary, false, inside)}</section> }.into_any()
}

fn body(desk: Desk, panel: &Id) -> AnyView {
    let found = desk.findings.get();
    let Some(told) = found.panel(panel) else { return ().into_any() };
    let current = desk.current();
    let wording = current.wording;
    let lines = readings(&current.test, told, &wording);
    let figures: Vec<AnyView> = figure_keys(told).into_iter().map(|key| figure(desk, told, key, &wording)).collect();
    let choice = findings::results::sheet_choice(told)
        .map(|(word, pick)| button("", word, move || desk.press(Action::Choose(pick.clone()))));
    let unit = wording.units.mass.symbol();
    let weights = move || {
        let line = |reading: &Reading| {
            let says = reading.flag.as_ref().map(|flag| flag.says.clone());
            let wet = || if reading.wet { "The wet weight.".to_owned() } else { String::new() };
            let says = says.or_else(|| reading.without_drift.clone());
            Line {
                head: reading.at.said_short(),
                cells: vec![reading.age.clone(), reading.weight.clone(), reading.change.clone()],
                struck: reading.left_out,
                note: says.unwrap_or_else(wet),
            }
        };
        let heads = vec!["When".into(), "Age".into(), format!("Weight, {unit}"), format!("Change, {unit}")];
        table(heads, lines.iter().map(line).collect())
    };
    view! {
        <dl>{figures}</dl>
        {items("remarks", &told.remarks)}
        {choice}
        {fold(|| "All weights".into(), false, weights)}
    }
    .into_any()
}

/// A figure whose value opens to how it was worked out.
fn figure(desk: Desk, told: &PanelFindings, key: FigureKey, wording: &Wording) -> AnyView {
    let Figure { name, value, note } = panel_figure(told, key, wording);
    let panel = told.id.clone();
    let how = move || {
        let found = desk.findings.get_untracked();
        let wording = untrack(|| desk.current()).wording;
        found.panel(&panel).map(|told| worked(worked_figure(&desk.noted(), told, key, &wording))).into_any()
    };
    let value = value.unwrap_or_else(|| "–".into());
    let note = (!note.is_empty()).then(|| view! { <span class="note">{note}</span> }.into_any());
    view! {
        <div class="told">
            <dt>{name}</dt>
            <dd>{fold(move || value.clone(), false, how)} {note}</dd>
        </div>
    }
    .into_any()
}
