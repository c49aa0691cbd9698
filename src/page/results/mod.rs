//! Results: what a painter would say, the curves, candidates side by side, what to do next, panel by panel.

mod answer;
mod beside;
mod canvas;
mod chart;
mod out;
mod panel;
mod send;
mod worked;

use leptos::prelude::*;

use crate::device;
use crate::page::desk::Desk;
use crate::page::parts::{lines, live, memo, shown};
use findings::words::STEADY_MEANS;

/// Said while candidates are compared, before there is a result.
const COMPARING: &str = "Comparing the candidates …";

/// The results of a test.
pub fn results(desk: Desk) -> AnyView {
    let drawable =
        memo(move || desk.findings.with(|found| found.panels.iter().any(|panel| panel.wet_gross_g.is_some())));
    let any = memo(move || desk.findings.with(|found| !found.panels.is_empty()));
    let next = move || {
        let item = |next: String| view! { <li>{next}</li> }.into_any();
        let items: Vec<AnyView> = desk.findings.get().next.iter().cloned().map(item).collect();
        view! { <ol class="next-list">{items}</ol> }.into_any()
    };
    // The panels are worked out between frames. Once they are, the sentences are drawn, and what takes longer to draw a frame
    // later, below them. None of it goes away again when something changes.
    let (asked, worked_out, begun) = (StoredValue::new(false), RwSignal::new(false), RwSignal::new(false));
    Effect::new(move |_| {
        if !asked.get_value() && desk.panels.with(|panels| panels.waiting.is_empty()) {
            asked.set_value(true);
            desk.prepare(move || {
                worked_out.try_set(true);
                device::after_frame(move || {
                    begun.try_set(true);
                });
            });
        }
    });
    let said = move || match worked_out.get() {
        // The first of them is told by the picture and its sentence, wherever there is one.
        true => desk.findings.with(|found| found.said[usize::from(any.get())..].to_vec()),
        false => desk.panels.with(|panels| vec![panels.waiting_said().unwrap_or_else(|| COMPARING.into())]),
    };
    let at_a_glance = move || (worked_out.get() && any.get()).then(|| untrack(|| answer::answer(desk)));
    let charts = move || (begun.get() && drawable.get()).then(|| untrack(|| chart::charts(desk)));
    let beside = move || (begun.get() && any.get()).then(|| untrack(|| beside::beside(desk)));
    let rest = move || {
        begun.get().then(|| {
            view! {
                <h2>"What next"</h2>
                {live(next)}
                {shown(move || any.get().then(|| untrack(|| panel::panels(desk))))}
                <p class="hint">{STEADY_MEANS}</p>
                {out::out(desk)}
            }
            .into_any()
        })
    };
    view! {
        <h1>"Results"</h1>
        {shown(at_a_glance)}
        <div class="results-top">
            <section class="said" aria-label="What the test says">{lines("", said)}</section>
            {shown(charts)}
            {shown(beside)}
        </div>
        {shown(rest)}
    }
    .into_any()
}
