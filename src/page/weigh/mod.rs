//! Weigh: visits to the scale, and panels carried elsewhere.

mod asked;
mod moves;
mod walk;

use leptos::prelude::*;

use super::desk::Desk;
use super::parts::{MomentField, button, each, fold, live, memo, shown};
use super::shop::Place;
use super::spray::ids;
use crate::device;
use crate::findings::{self, HOW_TO_WEIGH};
use crate::quantity::Instant;
use crate::record::{Action, Id};

/// The rounds of a test.
pub fn weigh(desk: Desk) -> AnyView {
    let rounds = ids(desk, findings::rounds_newest_first);
    // A round that was interrupted is gone on with, one that a chart points at is opened; any other from the list.
    let asked = desk.look_at.get().map(|(owner, weigh_in)| {
        let round = desk.with(|test| findings::round_of(test, &owner, &weigh_in));
        (round, owner)
    });
    desk.look_at.set(None);
    let (asked_round, owner) = asked.unzip();
    let under_way = || desk.with(|test| findings::round_under_way(test, desk.now(), &desk.tongue()));
    let open = RwSignal::new(asked_round.flatten().or_else(under_way));
    let turned = StoredValue::new(owner);
    // Back at the scale on another day, yesterday's round is over, whether or not it was walked to its end.
    device::on_shown(move || {
        let old = |round: &Id| desk.with_untracked(|test| findings::round_is_old(test, round, desk.now()));
        if open.with_untracked(|open| open.as_ref().is_some_and(old)) {
            open.set(None);
        }
    });
    let open_now = memo(move || open.get().filter(|id| rounds.with(|rounds| rounds.contains(id))));
    let begin_now = move || begin_now(desk, open);
    let due = move || desk.with(|test| findings::due_said(test, desk.now()));
    let earlier = move || {
        view! {
            <MomentField label="It was weighed at" value=Signal::stored(None) store=move |at| begin(desk, open, at)/>
            <p class="hint">"The weights then get that time, which can be mended below."</p>
        }
        .into_any()
    };
    let head = move || match open_now.get() {
        Some(round) => untrack(|| walk::walk(desk, round, open, turned)),
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
        {live(head)}
        {moves::moves(desk)}
        {shown(move || (!rounds.with(Vec::is_empty)).then(|| list(desk, rounds, open)))}
        <p class="actions next">
            <a class="button" href=move || desk.shop.address_of(Place::Results)>"See the results"</a>
        </p>
    }
    .into_any()
}

/// Begins a round at that time, and opens it.
fn begin(desk: Desk, open: RwSignal<Option<Id>>, at: Instant) -> Result<(), String> {
    let place = desk.with_untracked(findings::place_now);
    desk.act(Action::BeginRound { at, place })?;
    open.set(desk.with_untracked(|test| findings::round_begun_at(test, at)));
    Ok(())
}

fn begin_now(desk: Desk, open: RwSignal<Option<Id>>) {
    // Nothing speaks against the present moment.
    let _ = begin(desk, open, desk.now());
}

/// All rounds; a press opens one.
fn list(desk: Desk, rounds: Memo<Vec<Id>>, open: RwSignal<Option<Id>>) -> AnyView {
    let told = memo(move || desk.with(findings::rounds_with_progress));
    let line = move |round: Id| {
        let said = {
            let round = round.clone();
            move || told.with(|told| told.get(&round).cloned().unwrap_or_default())
        };
        let turn = move || open.set(Some(round.clone()));
        live(move || {
            let turn = turn.clone();
            button("plain", said(), turn)
        })
    };
    let head = move || format!("All rounds: {}", rounds.with(Vec::len));
    fold(head, false, move || view! { <div class="rounds">{each(rounds, line)}</div> }.into_any())
}
