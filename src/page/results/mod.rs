//! Results: what a painter would say, the curve, candidates side by side, panel by panel.

mod chart;

use leptos::prelude::*;

use super::desk::Desk;
use super::parts::{SlotField, Told};
use super::spray::{PanelHead, ids, label_of};
use crate::chart::Mark;
use crate::findings::{self, SETTLED_MEANS, panel_figures, readings, side_by_side};
use crate::quantity::Unit;
use crate::record::{Id, Slot, WantedLine};

/// The results of a test.
#[component]
pub fn Results(desk: Desk) -> impl IntoView {
    let panels = ids(desk, |test| findings::in_order(test).into_iter().map(|panel| panel.id.clone()).collect());
    let drawable =
        Memo::new(move |_| desk.findings.with(|found| found.panels.iter().any(|panel| panel.wet_gross_g.is_some())));
    view! {
        <h1>"Results"</h1>
        <div class="results-top">
        <section class="said" aria-label="What the test says">
            {move || {
                let said = desk.findings.get().said.clone();
                if said.is_empty() {
                    view! { <p>"Nothing can be said yet: weigh the panels bare, wet, and on at least three visits more."</p> }
                        .into_any()
                } else {
                    said.into_iter().map(|sentence| view! { <p>{sentence}</p> }).collect_view().into_any()
                }
            }}
        </section>
        {move || drawable.get().then(|| view! { <chart::Curve desk/> })}
        <section class="beside">
            <h2>"Side by side"</h2>
            <SideBySide desk/>
            <SlotField
                label="Sanded or topcoated after"
                of=Slot::Wanted(WantedLine::Sanding)
                hint="Hours after the last coat: 72 is three days."
            />
        </section>
        </div>
        <h2>"What next"</h2>
        <ul class="next-list">
            {move || desk.findings.get().next.iter().cloned().map(|next| view! { <li>{next}</li> }).collect_view()}
        </ul>
        <h2>"Panel by panel"</h2>
        <div class="cards">
            <For each=move || panels.get() key=Id::clone let:panel>
                <PanelResult panel/>
            </For>
        </div>
        <p class="hint">{SETTLED_MEANS}</p>
        <p class="actions"><button on:click=move |_| desk.export()>"Save the record as a file"</button></p>
    }
}

/// A candidate's mark, the same beside its name everywhere.
#[component]
pub fn MarkSign(candidate: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let mark = Memo::new(move |_| {
        desk.with(|test| {
            findings::candidates_in_order(test).iter().position(|known| known.id == candidate).map(Mark::of)
        })
    });
    let class = move || match mark.get() {
        None => "mark",
        Some(Mark::Circle) => "mark m1",
        Some(Mark::Square) => "mark m2",
        Some(Mark::Triangle) => "mark m3",
        Some(Mark::Diamond) => "mark m4",
        Some(Mark::Cross) => "mark m5",
    };
    let sign = move || match mark.get() {
        None => "",
        Some(Mark::Circle) => "●",
        Some(Mark::Square) => "■",
        Some(Mark::Triangle) => "▲",
        Some(Mark::Diamond) => "◆",
        Some(Mark::Cross) => "✕",
    };
    view! { <span class=class aria-hidden="true">{sign}</span> }
}

/// Candidates side by side.
#[component]
fn SideBySide(desk: Desk) -> impl IntoView {
    view! {
        {move || {
            let table = side_by_side(&desk.findings.get(), &desk.tongue());
            let heads = table.columns.into_iter().map(|(id, label, panels)| {
                view! {
                    <th scope="col">
                        <MarkSign candidate=id/> " " {label}
                        <span class="quiet">{findings::panels_said(panels)}</span>
                    </th>
                }
            });
            let rows = table.rows.into_iter().map(|row| {
                let cells = row.cells.into_iter().map(|cell| {
                    view! { <td><span class="value">{cell.value}</span> <span class="note">{cell.below}</span></td> }
                });
                view! {
                    <tbody>
                        <tr class="row-name">
                            <th scope="rowgroup" colspan="9">{row.name} ", " {row.unit}</th>
                        </tr>
                        <tr>{cells.collect_view()}</tr>
                        {(!row.verdict.is_empty())
                            .then(|| view! { <tr class="verdict"><td colspan="9">{row.verdict}</td></tr> })}
                    </tbody>
                }
            });
            view! {
                <table class="side">
                    <thead><tr>{heads.collect_view()}</tr></thead>
                    {rows.collect_view()}
                </table>
            }
        }}
    }
}

/// One panel: its figures, what to know beside them, its weigh-ins.
#[component]
fn PanelResult(panel: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let (head, name) = (panel.clone(), label_of(desk, &panel));
    let body = move || {
        let found = desk.findings.get();
        let told = found.panel(&panel)?;
        let tongue = desk.tongue();
        let lines = desk.with(|test| readings(test, told, &tongue));
        let figures = panel_figures(told, &tongue);
        let remarks = told.remarks.clone();
        let unit = tongue.units.mass.symbol();
        Some(view! {
            <dl>{figures.into_iter().map(|figure| view! { <Told figure/> }).collect_view()}</dl>
            <ul class="remarks">{remarks.into_iter().map(|remark| view! { <li>{remark}</li> }).collect_view()}</ul>
            <details>
                <summary>{format!("All weights, {unit}")}</summary>
                <table class="readings">
                    <thead><tr><th scope="col">"When"</th><th scope="col">"Age"</th><th scope="col">"Weight"</th><th scope="col">"Change"</th></tr></thead>
                    <tbody>
                        {lines
                            .into_iter()
                            .map(|line| {
                                let note = line.flag.map(|flag| flag.says).or(line.wet.then(|| "The wet weight.".into()));
                                view! {
                                    <tr class:flagged=line.left_out>
                                        <td>{line.at.said()}</td>
                                        <td>{line.age}</td>
                                        <td>{line.weight}</td>
                                        <td>{line.change}</td>
                                    </tr>
                                    {note.map(|note| view! { <tr class="note-row"><td colspan="4">{note}</td></tr> })}
                                }
                            })
                            .collect_view()}
                    </tbody>
                </table>
            </details>
        })
    };
    view! {
        <section class="panel result" aria-label=name>
            <PanelHead panel=head/>
            {body}
        </section>
    }
}
