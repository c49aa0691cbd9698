//! Candidates side by side, each row with what may be said of it and how it was worked out.

use leptos::prelude::*;

use super::MarkSign;
use super::worked::worked;
use crate::page::desk::Desk;
use crate::page::parts::{SlotField, choices, fold, lines, live, memo, shown};
use findings::results::{Cell, Row, Sorting, Table, side_by_side};
use record::{Id, Slot, WantedLine};

/// Up to so many candidates stand in columns on a phone; more stand one below the other.
const COLUMNS: usize = 3;

/// Cells of a line where candidates stand one below the other: name and value.
const LINE_CELLS: usize = 2;

/// The table, what it is sorted by, and what its last rows are worked out for.
pub fn beside(desk: Desk) -> AnyView {
    let table = memo(move || {
        let found = desk.findings.get();
        desk.with(|test| side_by_side(test, &found, &desk.tongue()))
    });
    let sorted = RwSignal::new((String::new(), Sorting::Rising));
    let several = memo(move || table.with(|table| table.columns.len() > 1));
    let wanted = |label: &'static str, line, hint: &'static str| {
        view! { <SlotField label of=Slot::Wanted(line) hint=hint/> }.into_any()
    };
    view! {
        <section class="beside" aria-label="Side by side">
            <h2>"Side by side"</h2>
            {shown(move || several.get().then(|| sorting(table, sorted)))}
            {live(move || drawn(desk, table.get(), sorted.get()))}
            <p class="note">{findings::words::NOT_SHOWN}</p>
            {lines("", move || desk.with(findings::results::notes_said))}
            {wanted("Wanted dry build", WantedLine::DryBuild, "For it the wet film, the coats, the price and the solvent are worked out.")}
            {wanted("Sanded off", WantedLine::SandingLoss, "")}
            {wanted("Of what is sprayed, lands", WantedLine::TransferEfficiency, "")}
            {wanted("Sanded or topcoated after", WantedLine::Sanding, "Hours after the last coat: 72 is three days.")}
        </section>
    }
    .into_any()
}

fn sorting(table: Memo<Table>, sorted: RwSignal<(String, Sorting)>) -> AnyView {
    const WAYS: [Sorting; 2] = [Sorting::Rising, Sorting::Falling];
    let option = |row: &Row| view! { <option value=row.key>{row.name.clone()}</option> }.into_any();
    let options: Vec<AnyView> = table.with_untracked(|table| table.rows.iter().map(option).collect());
    let ways = move || {
        choices(
            "In the order",
            vec!["least first".into(), "most first".into()],
            move || WAYS.iter().position(|way| *way == sorted.get().1),
            move |place| sorted.update(|sorted| sorted.1 = WAYS[place]),
        )
    };
    let by = move |key: String| sorted.update(|sorted| sorted.0 = key);
    view! {
        <label class="select">
            "Sorted by "
            <select on:change:target=move |event| by(event.target().value())>
                <option value="">"name"</option>
                {options}
            </select>
        </label>
        {shown(move || (!sorted.with(|sorted| sorted.0.is_empty())).then(ways))}
    }
    .into_any()
}

fn drawn(desk: Desk, table: Table, (key, sorting): (String, Sorting)) -> AnyView {
    let order = table.order(&key, sorting);
    let columns = order.len() <= COLUMNS;
    let head = |place: &usize| {
        let (id, label, panels) = table.columns[*place].clone();
        view! { <th scope="col">{name(id, label)} <span class="quiet">{findings::words::panels_said(panels)}</span></th> }
            .into_any()
    };
    let heads: Vec<AnyView> = order.iter().map(head).collect();
    let mut bodies = Vec::new();
    for row in &table.rows {
        let cells = order.iter().map(|place| (table.columns[*place].clone(), row.cells[*place].clone()));
        bodies.push(body(desk, row, cells.collect(), columns));
    }
    let head = if columns { view! { <thead><tr>{heads}</tr></thead> }.into_any() } else { ().into_any() };
    view! { <table class="side">{head} {bodies}</table> }.into_any()
}

/// A candidate's mark and name.
fn name(id: Id, label: String) -> AnyView {
    view! { <MarkSign candidate=id/> " " {label} }.into_any()
}

/// One row: its name, which opens to how it was worked out; its cells in columns or one below the other; its verdict.
fn body(desk: Desk, row: &Row, cells: Vec<((Id, String, usize), Cell)>, columns: bool) -> AnyView {
    let key = row.key;
    let width = if columns { cells.len() } else { LINE_CELLS }.to_string();
    let title = if row.unit.is_empty() { row.name.clone() } else { format!("{}, {}", row.name, row.unit) };
    let ids: Vec<(Id, String)> = cells.iter().map(|((id, label, _), _)| (id.clone(), label.clone())).collect();
    let how = move || {
        let found = desk.findings.get();
        let told = desk.with(|test| findings::results::worked_beside(test, &found, key, &desk.tongue()));
        let each = |(id, label): &(Id, String)| {
            let one = told.iter().find(|(of, _)| of == id).map(|(_, one)| worked(one.clone()));
            view! { <p class="who">{name(id.clone(), label.clone())}</p> {one} }.into_any()
        };
        ids.iter().map(each).collect::<Vec<_>>().into_any()
    };
    let cells: Vec<AnyView> = cells.into_iter().map(|(of, cell)| drawn_cell(of, cell, columns)).collect();
    let cells = if columns { view! { <tr>{cells}</tr> }.into_any() } else { cells.into_any() };
    let verdict = (!row.verdict.is_empty())
        .then(|| view! { <tr class="verdict"><td colspan=width.clone()>{row.verdict.clone()}</td></tr> }.into_any());
    view! {
        <tbody>
            <tr class="row-name"><th scope="rowgroup" colspan=width.clone()>{fold(move || title.clone(), false, how)}</th></tr>
            {cells}
            {verdict}
        </tbody>
    }
    .into_any()
}

fn drawn_cell((id, label, of): (Id, String, usize), cell: Cell, columns: bool) -> AnyView {
    // The number of panels stands in the head; here only where it is another.
    let fewer = (cell.panels > 0 && cell.panels != of).then(|| findings::words::panels_said(cell.panels));
    let inside = view! {
        <span class="value">{cell.value}</span>
        <span class="note">{cell.below}</span>
        <span class="note">{cell.note}</span>
        <span class="note">{fewer}</span>
    }
    .into_any();
    if columns {
        return view! { <td>{inside}</td> }.into_any();
    }
    let of = findings::words::panels_said(of);
    view! { <tr><th scope="row">{name(id, label)} <span class="quiet">{of}</span></th><td>{inside}</td></tr> }
        .into_any()
}
