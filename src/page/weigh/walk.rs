//! One round: one number at a time, blank first, then the rack.

use leptos::prelude::*;

use super::asked;
use super::visit::Visit;
use super::walking::Walk;
use crate::page::app::Place;
use crate::page::desk::Desk;
use crate::page::fields::{MarkSign, NumberField, PhraseField, Typed, picks};
use crate::page::parts::{MomentField, button, derived, each, fold, lines, live, memo, pressed_in, shown, toggle, way};
use findings::weigh::{Judged, Stop};
use record::{Action, Balance, Dated, Id, Measure, Owner, Phrase, Pick, Slot};

/// One round, open.
pub(super) fn walk(desk: Desk, round: Id, visit: Visit, turned: StoredValue<Option<Owner>>) -> AnyView {
    let walk = {
        let round = round.clone();
        memo(move || {
            let current = desk.current();
            findings::weigh::stops(&current.test, &round, &current.wording)
        })
    };
    let first = turned.get_value().or_else(|| walk.with_untracked(|walk| findings::weigh::next_stop(walk, None)));
    turned.set_value(None);
    let (up, just) = (RwSignal::new(first), RwSignal::new(None));
    let walking = Walk { desk, round: StoredValue::new(round.clone()), up, just, visit, walk };
    let said = {
        let round = round.clone();
        move || findings::weigh::round_said(&desk.current().test, &round)
    };
    // One that another tab has taken out makes way for the next.
    let up_now = memo(move || {
        let owner = up.get()?;
        let there = |stops: &Vec<Stop>| stops.iter().any(|stop| stop.owner == owner);
        if walk.with(there) { Some(owner) } else { walk.with(|walk| findings::weigh::next_stop(walk, None)) }
    });
    Effect::new(move |_| desk.work_out_first(up.with(|up| up.as_ref()?.panel().cloned())));
    let cool = {
        let round = round.clone();
        shown(move || {
            let asks = findings::weigh::cool_first(&desk.current().test, &round)?;
            let cooled = Pick::Cooled(round.clone(), true);
            let press = button("", "They are cool to the hand", move || desk.press(Action::Choose(cooled.clone())));
            Some(view! { <p class="flag">{asks}</p> <p class="actions">{press}</p> }.into_any())
        })
    };
    view! {
        <section class="round task" aria-label="This round">
            <h2 class="do">{move || said()}</h2>
            {lines("flag", move || about_time(walking))}
            {cool}
            {live(move || read_back(walking))}
            {live(move || match up_now.get() {
                Some(owner) => untrack(|| stop(walking, owner)),
                None => done(walking),
            })}
            {lines("quiet", move || desk.panels.with(|panels| panels.waiting_said().into_iter().collect()))}
            {rack(walking)}
            {shown(move || {
                up_now.get().map(|_| button("plain", "Leave the rest unweighed and close this round", move || visit.open.set(None)))
            })}
            {fold(|| "Time, place and scale of this round".into(), false, move || about(desk, round.clone()))}
        </section>
    }
    .into_any()
}

/// What to mind about the time that weights get here.
fn about_time(walk: Walk) -> Vec<String> {
    let (current, round) = (walk.desk.current(), walk.round.get_value());
    let said = match walk.visit.begun_anew.get() {
        Some(old) => Some(findings::weigh::new_round_said(&current.test, &old)),
        None if walk.visit.is_live(walk.desk, &round) => None,
        None => findings::weigh::old_round_said(&current.test, &round, current.now()),
    };
    said.into_iter().collect()
}

/// The weight stored just before, read back with its change.
fn read_back(walk: Walk) -> AnyView {
    let line = || {
        let owner = walk.just.get()?;
        let stop = walk.walk.with(|stops| stops.iter().find(|stop| stop.owner == owner).cloned())?;
        stop.weigh_in.as_ref()?;
        Some(format!("{} {}. {}", stop.label, stop.weight, walk.judged(&owner).said))
    };
    let again = walk.just.get().filter(|owner| walk.worth_weighing_again(owner)).map(|owner| {
        let turn = move || {
            walk.just.set(None);
            walk.up.set(Some(owner.clone()));
        };
        view! { <p class="actions">{button("", "Weigh it again", turn)}</p> }.into_any()
    });
    view! { <p class="just" role="status">{line()}</p> {again} }.into_any()
}

/// The one that is up: its field, what was and what is expected, and what to do about an odd weight.
fn stop(walk: Walk, owner: Owner) -> AnyView {
    let Some(at) = walk.walk.with_untracked(|stops| stops.iter().find(|stop| stop.owner == owner).cloned()) else {
        return ().into_any();
    };
    let desk = walk.desk;
    let value = {
        let owner = owner.clone();
        derived(move || {
            let slot = Slot::WeighIn(owner.clone(), walk.weigh_in(&owner)?);
            slot.read(&desk.current().test)
        })
    };
    let judged = {
        let owner = owner.clone();
        memo(move || walk.judged(&owner))
    };
    let store = {
        let owner = owner.clone();
        move |typed| walk.store(&owner, typed)
    };
    let hint = derived(move || if judged.with(|judged| judged.odd) { String::new() } else { judged.get().said });
    let mark = at.candidate.map(|candidate| view! { <MarkSign candidate/> });
    let near = findings::facts::former_weight(&desk.noted(), &owner);
    let of = [&*walk.round.get_value().0, &owner.key()].join("|");
    view! {
        <div class="up">
            {mark}
            <NumberField label=at.label measure=Measure::Mass value store hint of near typed=Typed::DueNumber/>
        </div>
        {asked::asked(walk, owner, judged)}
    }
    .into_any()
}

/// The end of a round.
fn done(walk: Walk) -> AnyView {
    let desk = walk.desk;
    let due = move || {
        let current = desk.current();
        findings::words::due_said(&current.test, current.now())
    };
    let odd = move || {
        let odd: Vec<String> =
            walk.walk.get().into_iter().filter(|stop| walk.look_again(&stop.owner)).map(|stop| stop.label).collect();
        let again = || {
            view! { <p class="trouble">{format!("Look again while they are at hand: {}.", odd.join(", "))}</p> }
                .into_any()
        };
        (!odd.is_empty()).then(again)
    };
    view! {
        {shown(odd)}
        <p>{move || format!("Done: {}.", walk.walk.with(|stops| findings::weigh::progress_said(stops)))} " " {move || due()}</p>
        <p class="actions">
            {way("button accent", "Next: see the results", move || desk.app.address_of(Place::Results))}
            {button("", "Begin a round", move || walk.visit.begin_now(desk))}
        </p>
    }
    .into_any()
}

/// Everyone on the walk with what was weighed; a press turns to them.
fn rack(walk: Walk) -> AnyView {
    let of = |id: fn(&Owner) -> Option<&Id>| {
        memo(move || walk.walk.with(|stops| stops.iter().filter_map(|stop| id(&stop.owner).cloned()).collect()))
    };
    let (blanks, panels) = (of(Owner::blank), of(Owner::panel));
    view! {
        <div class="rack">
            {each(blanks, move |id| line(walk, Owner::Blank(id)))} {each(panels, move |id| line(walk, Owner::Panel(id)))}
        </div>
    }
    .into_any()
}

/// One of them. Each follows the test by itself: a weight changes its own line, and not the rack.
fn line(walk: Walk, owner: Owner) -> AnyView {
    let find = |stops: &Vec<Stop>, owner: &Owner| stops.iter().find(|stop| stop.owner == *owner).cloned();
    let Some(Stop { label, candidate, .. }) = walk.walk.with_untracked(|stops| find(stops, &owner)) else {
        return ().into_any();
    };
    let of = owner.clone();
    let stands = memo(move || {
        let weighed = walk.walk.with(|stops| find(stops, &of)).filter(|stop| stop.weigh_in.is_some());
        let odd = weighed.is_some() && walk.look_again(&of);
        let said = weighed.map_or("not yet".into(), |stop| stop.weight);
        Judged { said: if odd { format!("{said}, look again") } else { said }, odd }
    });
    let of = owner.clone();
    let up = memo(move || walk.up.with(|up| up.as_ref() == Some(&of)));
    let mark = candidate.map(|candidate| view! { <MarkSign candidate/> });
    let inside = view! {
        {mark} <span class="name">{label}</span> " " <span class="stands">{move || stands.get().said}</span>
    };
    let turn = move || {
        walk.just.set(None);
        walk.up.set(Some(owner.clone()));
    };
    let class = move || if stands.with(|stands| stands.odd) { "turn odd" } else { "turn" };
    toggle(class, move || pressed_in(up.get()), inside.into_any(), turn)
}

/// When, where and on which scale; and the way to take the round out.
fn about(desk: Desk, round: Id) -> AnyView {
    let at = {
        let round = round.clone();
        derived(move || desk.current().test.rounds.find(&round)?.at)
    };
    let date = {
        let round = round.clone();
        move |at| desk.act(Action::Date(Dated::Round(round.clone()), at))
    };
    let scales = {
        let round = round.clone();
        shown(move || {
            let option =
                |balance: &Balance| (balance.label.clone(), Pick::RoundScale(round.clone(), Some(balance.id.clone())));
            let options: Vec<_> = desk.current().test.balances.kept().map(option).collect();
            (options.len() > 1).then(|| picks(desk, "Weighed on", options, None))
        })
    };
    let remove = {
        let round = round.clone();
        move || desk.press(Action::RemoveRound(round.clone()))
    };
    view! {
        <MomentField label="Weighed at" value=at store=date/>
        <PhraseField label="Where the panels are" phrase=Phrase::Place(round)/>
        {scales}
        {button("plain destroys", "Remove this round and its weights", remove)}
    }
    .into_any()
}
