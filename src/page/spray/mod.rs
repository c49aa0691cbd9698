//! Spray: the run sheet. One thing at a time, with its clock; everything that was entered below it.

mod comb;
mod entered;
mod runs;
mod task;
mod today;

use leptos::prelude::*;

use crate::page::desk::Desk;
use crate::page::parts::{cautions, lines, memo, shown};
use findings::spray::CandidateRun;
use today::Today;

/// The spray day of a test.
pub fn spray(desk: Desk) -> AnyView {
    let today = Today::begin(desk);
    today.watch();
    let class = move || if today.run().is_none() { "button accent" } else { "button" };
    view! {
        <h1>"Spray"</h1>
        {lines("trouble", move || desk.clocks_said().into_iter().collect())}
        {air_line(today)}
        {task::view(today)}
        {runs::view(today)}
        {cautions(findings::facts::is_under_way(&desk.noted()))}
        {entered::entered(desk)}
        <p class="actions next">{shown(move || (!today.done()).then(|| task::onwards(today, class())))}</p>
    }
    .into_any()
}

/// The air as it was read, with its dew point, and what to mind about it and the candidate that is up.
fn air_line(today: Today) -> AnyView {
    let said = memo(move || {
        let (current, now) = (today.desk.current(), today.now.get());
        let (test, wording) = (&current.test, &current.wording);
        let mut said = findings::spray::air_said(test, now, wording);
        let run = today.run().filter(|_| findings::facts::air_of_the_day(test, now).is_some());
        let warnings = |run: CandidateRun| findings::words::air_warnings(test, &run.candidate, wording);
        said.amiss.extend(run.into_iter().flat_map(warnings));
        said
    });
    shown(move || {
        let said = said.get();
        let amiss = lines("trouble", move || said.amiss.clone());
        (!said.line.is_empty()).then(|| view! { <p class="quiet">{said.line}</p> {amiss} }.into_any())
    })
}
