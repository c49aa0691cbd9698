//! Candidates side by side, each row with what may be said of it and how it was worked out.

use leptos::prelude::*;

use super::worked::worked;
use crate::page::desk::Desk;
use crate::page::fields::{MarkSign, SlotField};
use crate::page::parts::{choices, fold, fold_under, lines, live, memo, shown};
use findings::results::{Cell, Lane, Row, RowKey, Sorting, Table, side_by_side};
use record::{Id, Slot, WantedLine};

/// Up to so many candidates have a line each in a row; of more the lanes stand closer, and the values run on.
const LINES: usize = 3;

/// The table, what it is sorted by, and what its last rows are worked out for.
pub fn beside(desk: Desk) -> AnyView {
    let table = memo(move || {
        let found = desk.findings.get();
        let current = desk.current();
        side_by_side(&current.test, &found, &current.wording)
    });
    let sorted = RwSignal::new((None, Sorting::Rising));
    // Some rows wait for it: it is asked for where they do.
    let nothing_wanted = desk.noted().wanted.dry_build_um.is_none();
    view! {
        <section class="beside" aria-label="Side by side">
            <h2>"Side by side"</h2>
            {live(move || drawn(desk, table.get(), sorted.get(), Which::First))}
            {fold(|| "More rows and sorting".into(), false, move || others(desk, table, sorted))}
            {fold(|| "Wanted build and sanding".into(), nothing_wanted, wanted)}
            {lines("of-each", move || findings::results::notes_said(&desk.current().test))}
        </section>
    }
    .into_any()
}

/// The rows that are looked at less often, below what all rows are sorted by.
fn others(desk: Desk, table: Memo<Table>, sorted: RwSignal<(Option<RowKey>, Sorting)>) -> AnyView {
    let several = memo(move || table.with(|table| table.columns.len() > 1));
    view! {
        {shown(move || several.get().then(|| sorting(table, sorted)))}
        {live(move || drawn(desk, table.get(), sorted.get(), Which::Others))}
    }
    .into_any()
}

/// What the last rows are worked out for.
fn wanted() -> AnyView {
    let field = |label: &'static str, line, hint: &'static str| {
        view! { <SlotField label of=Slot::Wanted(line) hint=hint/> }.into_any()
    };
    view! {
        {field("Wanted dry build", WantedLine::DryBuild, "For it the wet film, the coats, the price and the solvent are worked out.")}
        {field("Sanded off", WantedLine::SandingLoss, "")}
        {field("Of what is sprayed, lands", WantedLine::TransferEfficiency, "")}
        {field("Sanded or topcoated after", WantedLine::Sanding, "Hours after the last coat: 72 is three days.")}
    }
    .into_any()
}

fn sorting(table: Memo<Table>, sorted: RwSignal<(Option<RowKey>, Sorting)>) -> AnyView {
    const WAYS: [Sorting; 2] = [Sorting::Rising, Sorting::Falling];
    let option = |row: &Row| view! { <option>{row.name.clone()}</option> }.into_any();
    let options: Vec<AnyView> = table.with_untracked(|table| table.rows.iter().map(option).collect());
    let ways = move || {
        choices(
            "In the order",
            vec!["least first".into(), "most first".into()],
            move || WAYS.iter().position(|way| *way == sorted.get().1),
            move |place| sorted.update(|sorted| sorted.1 = WAYS[place]),
        )
    };
    // The first is the name, and no row.
    let by = move |chosen: i32| {
        let row = RowKey::ALL.iter().zip(1..).find(|(_, place)| *place == chosen);
        sorted.update(|sorted| sorted.0 = row.map(|(key, _)| *key));
    };
    view! {
        <label class="select">
            "Sorted by "
            <select on:change:target=move |event| by(event.target().selected_index())>
                <option>"name"</option>
                {options}
            </select>
        </label>
        {shown(move || sorted.with(|sorted| sorted.0.is_some()).then(ways))}
    }
    .into_any()
}

/// Which rows: those that stand open, or those folded away.
#[derive(Clone, Copy, PartialEq)]
enum Which {
    First,
    Others,
}

fn drawn(desk: Desk, table: Table, (by, sorting): (Option<RowKey>, Sorting), which: Which) -> AnyView {
    let order = table.order(by, sorting);
    let shown = |(_, row): &(usize, &Row)| row.first().is_some() == (which == Which::First);
    let mut rows: Vec<(usize, &Row)> = table.rows.iter().enumerate().filter(shown).collect();
    rows.sort_unstable_by_key(|(_, row)| row.first());
    let drawn: Vec<AnyView> = rows.into_iter().map(|row| drawn_row(desk, &table, row, &order)).collect();
    view! { <div class="strips">{drawn}</div> }.into_any()
}

/// A candidate's mark and name.
fn name(id: Id, label: String) -> AnyView {
    view! { <MarkSign candidate=id/> " " {label} }.into_any()
}

/// One row: its name and verdict, a strip with every candidate, the values; it opens to what each says and how it was worked out.
fn drawn_row(desk: Desk, table: &Table, (place, row): (usize, &Row), order: &[usize]) -> AnyView {
    let title = if row.unit.is_empty() { row.name.clone() } else { format!("{}, {}", row.name, row.unit) };
    let lanes = row.lanes();
    let lane = |place: &usize| drawn_lane(&table.columns[*place].0, lanes[*place].clone());
    let value = |place: &usize| {
        let value = row.cells[*place].value.clone();
        view! { <span class="value"><MarkSign candidate=table.columns[*place].0.clone()/> {value}</span> }.into_any()
    };
    let summary = view! {
        <span class="row-name">{title}</span>
        <span class="word">{row.verdict_word()}</span>
        <span class="strip" aria-hidden="true">{order.iter().map(lane).collect::<Vec<_>>()}</span>
        <span class="values">{order.iter().map(value).collect::<Vec<_>>()}</span>
    }
    .into_any();
    let (key, verdict) = (row.key, row.verdict.clone());
    let told: Vec<((Id, String, usize), Cell)> =
        order.iter().map(|place| (table.columns[*place].clone(), row.cells[*place].clone())).collect();
    let how = move || {
        let found = desk.findings.get();
        let current = desk.current();
        let worked_out = findings::results::worked_beside(&current.test, &found, key, &current.wording);
        let each = |(of, cell): &((Id, String, usize), Cell)| {
            let one = worked_out.iter().find(|(id, _)| *id == of.0).map(|(_, one)| worked(one.clone()));
            view! { {told_of(of.clone(), cell.clone())} {one} }.into_any()
        };
        let verdict = (!verdict.is_empty()).then(|| view! { <p class="verdict">{verdict.clone()}</p> }.into_any());
        view! { {verdict} {told.iter().map(each).collect::<Vec<_>>()} }.into_any()
    };
    let many = order.len() > LINES;
    let id = format!("told-{place}");
    view! {
        <div class="row" class:many=many>
            {fold_under(id.clone(), summary, how)}
            <p class="told-row" id=id hidden=true>{table.row_told(row, order)}</p>
        </div>
    }
    .into_any()
}

/// A candidate on the axis of a row: its interval and its mark, or an empty lane.
fn drawn_lane(id: &Id, lane: Option<Lane>) -> AnyView {
    let drawn = lane.map(|lane| {
        let mark = lane
            .mark
            .map(|at| view! { <span class="at" style:left=at><MarkSign candidate=id.clone()/></span> }.into_any());
        view! { <span class="reach" style:left=lane.left style:width=lane.width></span> {mark} }.into_any()
    });
    view! { <span class="lane">{drawn}</span> }.into_any()
}

/// What a row says of one candidate, in full.
fn told_of((id, label, of): (Id, String, usize), cell: Cell) -> AnyView {
    let panels = findings::words::panels_said(if cell.panels > 0 { cell.panels } else { of });
    view! {
        <p class="who">{name(id, label)} <span class="quiet">{panels}</span></p>
        <p>
            <span class="value">{cell.value}</span>
            <span class="note">{cell.below}</span>
            <span class="note">{cell.note}</span>
        </p>
    }
    .into_any()
}
