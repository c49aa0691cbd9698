//! The way out of Results: the report on paper or as a file, tables for a spreadsheet, the record.

use leptos::prelude::*;

use crate::device;
use crate::page::desk::Desk;
use crate::page::parts::{button, fold, shown};
use crate::share::{self, DecimalMark};

/// Where the browser has no clipboard, or does not let the page use it.
const REFUSED: &str = "Not copied: this browser refused. Copy the text below by hand.";

/// Report, tables, record.
pub fn out(desk: Desk) -> AnyView {
    let report = move || {
        let found = desk.findings.get_untracked();
        share::report(&desk.noted(), &found, desk.now(), &untrack(|| desk.current()).wording)
    };
    let text = RwSignal::new(None::<String>);
    let said = RwSignal::new("");
    let copy = move || {
        said.set("");
        desk.keeper.copy(move |by_hand| {
            said.set(if by_hand.is_none() { "Copied. Paste it into a message." } else { REFUSED });
            text.set(by_hand);
        });
    };
    let as_text = move || {
        let text = text.get()?;
        let area = view! {
            <textarea
                aria-label="The record as text, to be copied"
                rows="6"
                readonly=true
                // A browser brings up the line that is written in, and leaves the rest under the bar of places.
                on:focus:target=|event| device::bring_up(&event.target())
            >
                {text}
            </textarea>
        };
        Some(area.into_any())
    };
    let save = move || device::download_as(&share::report_name(&title(desk)), &report(), share::REPORT_TYPE);
    view! {
        <h2>"Report and files"</h2>
        <p>"The report holds all of it, down to the last reading. Its file opens on any phone and carries the record."</p>
        <p class="actions ways-out">
            {button("", "Print report", move || device::print(&report()))}
            {button("", "Save report", save)}
        </p>
        {fold(|| "Tables for a spreadsheet".into(), false, move || tables(desk))}
        <p>"The record is for another painter's phone: they add their weights and send it back."</p>
        <p class="actions ways-out">
            {device::shares_files().then(|| button("accent", "Send the record", move || desk.keeper.send(move |how| said.set(how))))}
            {button("", "Save the record", move || desk.keeper.export())}
            {button("", "Copy as text", copy)}
        </p>
        <p class="just" role="status">{move || said.get()}</p>
        {shown(as_text)}
    }
    .into_any()
}

fn tables(desk: Desk) -> AnyView {
    view! {
        <p class="actions ways-out">
            {button("", "Readings", move || readings(desk))} {button("", "Results", move || results(desk))}
        </p>
    }
    .into_any()
}

fn title(desk: Desk) -> String {
    desk.noted().title.clone()
}

/// A comma where this phone's own numbers have one.
fn mark() -> DecimalMark {
    if device::writes_decimal_comma() { DecimalMark::Comma } else { DecimalMark::Point }
}

fn readings(desk: Desk) {
    let found = desk.findings.get_untracked();
    let text = share::readings_csv(&desk.noted(), &found, mark());
    device::download_as(&share::readings_csv_name(&title(desk)), &text, share::CSV_TYPE);
}

fn results(desk: Desk) {
    let text = share::results_csv(&desk.noted(), &desk.findings.get_untracked(), mark());
    device::download_as(&share::results_csv_name(&title(desk)), &text, share::CSV_TYPE);
}
