//! One candidate: its mix, its data sheet, the gun, its panels.

use leptos::prelude::*;

use super::{mix, panels};
use crate::page::desk::Desk;
use crate::page::fields::{MarkSign, PourCard, picks, row, slot, words};
use crate::page::parts::{button, fold, lines, live, memo, shown};
use record::{Action, Address, GunLine, Id, MeasuredLine, Phrase, Pick, Row, Slot, StatedFor};

/// The card of a candidate.
pub fn card(desk: Desk, id: Id) -> AnyView {
    let name = {
        let id = id.clone();
        move || Phrase::Candidate(id.clone()).read(&desk.current().test).unwrap_or_default().to_owned()
    };
    let label = name.clone();
    let warnings = {
        let id = id.clone();
        lines("flag", move || {
            let current = desk.current();
            findings::words::air_warnings(&current.test, &id, &current.wording)
        })
    };
    let remove = {
        let id = id.clone();
        move || desk.press(Action::Remove(Address::candidate(&id)))
    };
    view! {
        <section class="candidate" aria-label=move || label()>
            <h3><MarkSign candidate=id.clone()/> {live(move || view! { <span>{name()}</span> }.into_any())}</h3>
            {warnings}
            {words("Name", Phrase::Candidate(id.clone()))}
            {mix::ratio(desk, id.clone())}
            {mix::folded(desk, id.clone())}
            {pour(desk, id.clone())}
            {sheet(desk, id.clone())}
            {gun(id.clone())}
            {measured(id.clone())}
            {panels::of_candidate(desk, id.clone())}
            {words("Notes: adhesion, sanding, smell", Phrase::Notes(id))}
            {button("plain destroys", "Remove this candidate", remove)}
        </section>
    }
    .into_any()
}

/// The pour; while something is wanting for it, the line under the amount to mix says what.
fn pour(desk: Desk, id: Id) -> AnyView {
    let of = id.clone();
    let ready = memo(move || {
        let current = desk.current();
        findings::mixing::pouring(&current.test, &of, &current.wording).is_ok()
    });
    let card = move || {
        let id = id.clone();
        let open = findings::facts::cup_in_progress(&desk.noted(), &id).is_some();
        fold(
            || "Pour on the scale".into(),
            open,
            move || {
                let of = id.clone();
                let cups = lines("", move || {
                    let current = desk.current();
                    findings::mixing::cups_said(&current.test, &of, &current.wording)
                });
                view! { <PourCard candidate=id.clone()/> {cups} }.into_any()
            },
        )
    };
    shown(move || ready.get().then(|| untrack(&card)))
}

/// The data sheet: every line, and once below them what the empty ones cost.
fn sheet(desk: Desk, id: Id) -> AnyView {
    let of = id.clone();
    fold(
        move || findings::plan::gaps_said(&desk.current().test, &of),
        false,
        move || {
            let mut fields = Vec::new();
            for (label, line) in findings::plan::SHEET_LINES {
                fields.push(slot(label, Slot::Sheet(id.clone(), line), ""));
            }
            let stated = [
                ("All that is in the cup", StatedFor::Mix),
                ("Mix before reducer", StatedFor::MixUnreduced),
                ("Base alone", StatedFor::Base),
            ];
            let stated = stated.map(|(word, stated)| (word.to_owned(), Pick::StatedFor(id.clone(), stated))).to_vec();
            let gains = [("No", false), ("Yes", true)];
            let gains = gains.map(|(word, gains)| (word.to_owned(), Pick::GainsMass(id.clone(), gains))).to_vec();
            let of = id.clone();
            let costs = fold(
                || "What the empty lines cost".into(),
                false,
                move || {
                    let of = of.clone();
                    lines("quiet", move || {
                        let current = desk.current();
                        findings::plan::costs_said(&current.test, &of, &current.wording)
                    })
                },
            );
            view! {
                <p class="hint">"Fill in what the sheet says; every line may stay empty."</p>
                {picks(desk, "Its numbers are stated for", stated, Some(1))}
                <div class="pair">{fields}</div>
                {row("Air it may be sprayed in", Row::SheetAir(id.clone()), "Lowest and highest, with a space between.")}
                {picks(desk, "Takes up mass while it cures", gains, None)}
                {costs}
            }
            .into_any()
        },
    )
}

fn gun(id: Id) -> AnyView {
    fold(
        || "Gun set-up".into(),
        false,
        move || {
            let line = |label: &'static str, line: GunLine| slot(label, Slot::Gun(id.clone(), line), "");
            view! {
                <div class="pair">{line("Tip", GunLine::Tip)} {line("Pressure", GunLine::Pressure)}</div>
                {line("Passes for a coat", GunLine::Passes)}
                {words("Fan, fluid, distance", Phrase::GunNote(id.clone()))}
            }
            .into_any()
        },
    )
}

/// The step a scale needs for a dish or a density cup, g.
const FINE_G: f64 = 0.01;

fn measured(id: Id) -> AnyView {
    fold(
        || "Measured on the mix".into(),
        false,
        move || {
            let line = |label: &'static str, line: MeasuredLine| slot(label, Slot::Measured(id.clone(), line), "");
            view! {
            <p class="hint">
                "A dish of mixed primer dried shows its solids, a cup of known volume its density: better than the sheet, since they are of your own mix. Both need a scale of "
                {expect_context::<Desk>().current().wording.weight(FINE_G, FINE_G)} " or finer."
            </p>
            {line("Empty dish", MeasuredLine::DishEmpty)}
            {line("Dish with mixed primer", MeasuredLine::DishWet)}
            {line("Dish, dried", MeasuredLine::DishDry)}
            {line("Empty density cup", MeasuredLine::CupEmpty)}
            {line("Density cup, full", MeasuredLine::CupFull)}
            {line("What the cup holds", MeasuredLine::CupVolume)}
        }
        .into_any()
        },
    )
}
