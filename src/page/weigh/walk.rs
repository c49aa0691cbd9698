//! One round: one number at a time, blank first, then the rack.

use leptos::prelude::*;

use super::{Visit, asked};
use crate::page::desk::Desk;
use crate::page::fields::{MarkSign, NumberField, PhraseField, Typed, picks};
use crate::page::parts::{MomentField, button, derived, each, fold, lines, live, memo, shown};
use crate::page::shop::Place;
use findings::weigh::{Judged, Stop};
use quantity::{Grams, Quantity};
use record::{Action, Address, Balance, Dated, Id, Measure, Owner, Phrase, Pick, Slot};

/// A round on its way.
#[derive(Clone, Copy)]
pub(super) struct Walk {
    pub desk: Desk,
    /// Which round.
    pub round: StoredValue<Id>,
    /// The blank or panel that is up: turned to, or next in the rack.
    pub up: RwSignal<Option<Owner>>,
    /// The one weighed just before, whose weight is still read back.
    pub just: RwSignal<Option<Owner>>,
    visit: Visit,
    walk: Memo<Vec<Stop>>,
}

impl Walk {
    /// Goes on to the next that is not weighed yet.
    pub fn go_on(self) {
        let last = self.up.get_untracked();
        self.up.set(self.walk.with_untracked(|walk| findings::weigh::next_stop(walk, last.as_ref())));
        self.just.set(last);
    }

    /// What is said beside the weight of a panel or blank.
    pub fn judged(self, owner: &Owner) -> Judged {
        let (desk, round) = (self.desk, self.round.get_value());
        let panels = desk.panels.get();
        desk.with(|test| findings::weigh::judged(test, &panels, owner, &round, desk.now(), &desk.tongue()))
    }

    /// Whether the weight of a panel or blank is to be looked at again.
    fn look_again(self, owner: &Owner) -> bool {
        let (desk, round) = (self.desk, self.round.get_value());
        let panels = desk.panels.get();
        desk.with(|test| findings::weigh::look_again(test, &panels, owner, &round, desk.now(), &desk.tongue()))
    }

    /// The weighing that a panel or blank has in this round.
    pub fn weigh_in(self, owner: &Owner) -> Option<Id> {
        let round = self.round.get_value();
        self.desk.with(|test| findings::facts::weigh_in_of(test, owner, &round))
    }

    /// Stores a weight, or says what speaks against it. One that is as expected makes way for the next; an odd one stays up
    /// while the panel is still in hand.
    fn store(self, owner: &Owner, typed: Option<f64>) -> Result<(), String> {
        let desk = self.desk;
        let stored = untrack(|| self.weigh_in(owner));
        match (typed, stored) {
            (None, None) => return Ok(()),
            (None, Some(weigh_in)) => return desk.act(Action::Remove(Address::weigh_in(owner, &weigh_in))),
            (Some(_), Some(weigh_in)) => desk.act(Action::Fill(Slot::WeighIn(owner.clone(), weigh_in), typed))?,
            (Some(gross), None) => {
                let gross_g = Grams::new(gross).map_err(|trouble| format!("A weight {trouble}."))?;
                return self.weigh(owner, gross_g);
            }
        }
        self.weighed(owner);
        Ok(())
    }

    /// Notes a weight in this round; in a round that was left open too long it begins a new one.
    fn weigh(self, owner: &Owner, gross_g: Grams) -> Result<(), String> {
        let (desk, round, now, visit) = (self.desk, self.round.get_value(), self.desk.now(), self.visit);
        let begun = desk.with_untracked(|test| test.rounds.find(&round).and_then(|round| round.at));
        let at = if visit.is_live(desk, &round) { now } else { findings::weigh::weigh_time(begun, now) };
        let weigh = |round: Id| desk.act(Action::Weigh { owner: owner.clone(), round: Some(round), at, gross_g });
        if !visit.is_over(desk, &round) {
            weigh(round)?;
            self.weighed(owner);
            return Ok(());
        }
        let anew = super::note_round(desk, now)?;
        if let Err(trouble) = weigh(anew.clone()) {
            desk.press(Action::RemoveRound(anew));
            return Err(trouble);
        }
        visit.begun_anew.set(Some(round));
        visit.open.set(Some(anew));
        Ok(())
    }

    /// Goes on after a weight that is as expected.
    fn weighed(self, owner: &Owner) {
        // It is in somebody's hand: whatever else waits.
        if let Some(panel) = owner.panel() {
            self.desk.work_out(panel);
        }
        if !untrack(|| self.judged(owner)).odd {
            self.go_on();
        }
    }
}

/// One round, open.
pub(super) fn walk(desk: Desk, round: Id, visit: Visit, turned: StoredValue<Option<Owner>>) -> AnyView {
    let walk = {
        let round = round.clone();
        memo(move || desk.with(|test| findings::weigh::stops(test, &round, &desk.tongue())))
    };
    let first = turned.get_value().or_else(|| walk.with_untracked(|walk| findings::weigh::next_stop(walk, None)));
    turned.set_value(None);
    let (up, just) = (RwSignal::new(first), RwSignal::new(None));
    let walking = Walk { desk, round: StoredValue::new(round.clone()), up, just, visit, walk };
    let said = {
        let round = round.clone();
        move || desk.with(|test| findings::weigh::round_said(test, &round))
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
            let asks = desk.with(|test| findings::weigh::cool_first(test, &round))?;
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
    let now = walk.desk.today();
    let anew = walk.visit.begun_anew.get();
    let said = walk.desk.with(|test| match anew {
        Some(old) => Some(findings::weigh::new_round_said(test, &old)),
        None if walk.visit.is_live(walk.desk, &walk.round.get_value()) => None,
        None => findings::weigh::old_round_said(test, &walk.round.get_value(), now),
    });
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
    view! { <p class="just" role="status">{line()}</p> }.into_any()
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
            desk.with(|test| slot.read(test))
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
    let near = desk.with_untracked(|test| findings::facts::former_weight(test, &owner));
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
    let due = move || desk.with(|test| findings::words::due_said(test, desk.today()));
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
            <a class="button accent" href=move || desk.shop.address_of(Place::Results)>"Next: see the results"</a>
            {button("", "Begin a round", move || super::begin_now(desk, walk.visit))}
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
    live(move || {
        let (Judged { said, odd }, label, owner) = (stands.get(), label.clone(), owner.clone());
        let class = if odd { "turn odd" } else { "turn" };
        let mark = candidate.clone().map(|candidate| view! { <MarkSign candidate/> });
        let turn = move |_| {
            walk.just.set(None);
            walk.up.set(Some(owner.clone()));
        };
        view! {
            <button class=class aria-pressed=up.get().to_string() on:click=turn>
                {mark} <span class="name">{label}</span> " " <span class="stands">{said}</span>
            </button>
        }
        .into_any()
    })
}

/// When, where and on which scale; and the way to take the round out.
fn about(desk: Desk, round: Id) -> AnyView {
    let at = {
        let round = round.clone();
        derived(move || desk.with(|test| test.rounds.find(&round)?.at))
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
            let options: Vec<_> = desk.with(|test| test.balances.kept().map(option).collect());
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
