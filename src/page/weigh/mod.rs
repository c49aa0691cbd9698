//! Weigh: visits to the scale, and panels carried elsewhere.

mod asked;
mod gone;
mod moves;
mod visit;
mod walk;
mod walking;

use leptos::prelude::*;

use crate::device;
use crate::page::app::Place;
use crate::page::desk::Desk;
use crate::page::parts::{MomentField, button, each, fold, lines, live, memo, shown, way};
use findings::weigh::{HOW_TO_WEIGH, Stray};
use record::{Action, Id};
use visit::Visit;

/// The rounds of a test.
pub fn weigh(desk: Desk) -> AnyView {
    let rounds = desk.ids(findings::facts::rounds_newest_first);
    // A round that was interrupted is gone on with, one that a chart points at is opened; any other from the list.
    let asked = desk.look_at.get().map(|(owner, weigh_in)| {
        let round = findings::facts::round_of(&desk.current().test, &owner, &weigh_in);
        (round, owner)
    });
    desk.look_at.set(None);
    let (asked_round, owner) = asked.unzip();
    let under_way = || {
        let current = desk.current();
        findings::weigh::round_under_way(&current.test, desk.now(), &current.wording)
    };
    let asked_round = asked_round.flatten();
    let visit = Visit {
        live: StoredValue::new(asked_round.is_none()),
        open: RwSignal::new(asked_round.or_else(under_way)),
        begun_anew: RwSignal::new(None),
    };
    let open = visit.open;
    let turned = StoredValue::new(owner);
    // Back at the scale on another day, yesterday's round is over, whether or not it was walked to its end.
    device::on_shown(move || {
        if open.get_untracked().is_some_and(|round| visit.is_over(desk, &round)) {
            open.set(None);
        }
    });
    let open_now = memo(move || open.get().filter(|id| rounds.with(|rounds| rounds.contains(id))));
    let begin_now = move || visit.begin_now(desk);
    let due = move || {
        let current = desk.current();
        findings::words::due_said(&current.test, current.now())
    };
    let earlier = move || {
        let begin = move |at| {
            visit.live.set_value(false);
            visit.begin(desk, at)
        };
        view! {
            <MomentField label="It was weighed at" value=Signal::stored(None) store=begin/>
            <p class="hint">"The weights then get that time, which can be mended below."</p>
        }
        .into_any()
    };
    let head = move || match open_now.get() {
        Some(round) => untrack(|| walk::walk(desk, round, visit, turned)),
        None => view! {
            <p>{HOW_TO_WEIGH}</p>
            <p class="quiet">{due()}</p>
            <p class="actions">{button("accent", "Begin a round", begin_now)}</p>
            {fold(|| "Enter a round of earlier".into(), false, earlier)}
        }
        .into_any(),
    };
    view! {
        <h1>"Weigh"</h1>
        {lines("trouble", move || desk.clocks_said().into_iter().collect())}
        {live(head)}
        {live(move || strays(desk))}
        {gone::gone(desk)}
        {moves::moves(desk)}
        {shown(move || (!rounds.with(Vec::is_empty)).then(|| list(desk, rounds, visit)))}
        <p class="actions next">
            {way("button", "See the results", move || desk.app.address_of(Place::Results))}
        </p>
    }
    .into_any()
}

/// Weights that count and stand in no round, with what can be done about them.
fn strays(desk: Desk) -> AnyView {
    let stray = |Stray { round, said, back }: Stray| {
        let back = back
            .map(|address| button("", "Bring the round back", move || desk.press(Action::BringBack(address.clone()))));
        let remove = button("plain", "Remove these weights", move || desk.press(Action::RemoveRound(round.clone())));
        view! { <p class="flag">{said}</p> <p class="actions">{back} {remove}</p> }.into_any()
    };
    findings::weigh::strays(&desk.current().test).into_iter().map(stray).collect::<Vec<AnyView>>().into_any()
}

/// All rounds; a press opens one.
fn list(desk: Desk, rounds: Memo<Vec<Id>>, visit: Visit) -> AnyView {
    let told = memo(move || findings::weigh::rounds_with_progress(&desk.current().test));
    let line = move |round: Id| {
        let said = {
            let round = round.clone();
            move || told.with(|told| told.get(&round).cloned().unwrap_or_default())
        };
        let turn = move || {
            visit.live.set_value(false);
            visit.open.set(Some(round.clone()));
        };
        live(move || {
            let turn = turn.clone();
            button("plain", said(), turn)
        })
    };
    let head = move || format!("All rounds: {}", rounds.with(Vec::len));
    fold(head, false, move || view! { <div class="rounds">{each(rounds, line)}</div> }.into_any())
}
