//! An odd weight: what is said about it, and what can be done while the panel is still in hand. Nothing is required.

use leptos::prelude::*;

use super::gone::leave;
use super::walking::Walk;
use crate::page::fields::row;
use crate::page::parts::{button, live, memo};
use findings::weigh::{Judged, SET_ASIDE_FOR};
use findings::{Flag, FlagKind};
use record::{Action, Id, Owner, Row};

/// What is odd about the weight that is up, and the presses that answer it.
pub(super) fn asked(walk: Walk, owner: Owner, judged: Memo<Judged>) -> AnyView {
    let (desk, flagged) = (walk.desk, owner.clone());
    let flag = memo(move || {
        let weigh_in = walk.weigh_in(&flagged)?;
        desk.panels.get().panel(flagged.panel()?)?.flags.iter().find(|flag| flag.weigh_in == weigh_in).cloned()
    });
    live(move || {
        let judged = judged.get();
        match walk.weigh_in(&owner) {
            Some(weigh_in) if judged.odd => odd(walk, owner.clone(), weigh_in, flag.get(), judged.said),
            // An ordinary weight that was turned to: on to the next, or out of the curve after all.
            Some(weigh_in) => {
                let again = untrack(|| again(walk, &owner, &weigh_in));
                let set_aside = reasons(walk, owner.clone(), weigh_in);
                let leave = leave(walk, owner.clone(), None);
                view! { {again} <p class="actions">{next(walk)}</p> {set_aside} {leave} }.into_any()
            }
            None => leave(walk, owner.clone(), None),
        }
    })
}

/// The field for further weights of this round, where they would decide or are there.
fn again(walk: Walk, owner: &Owner, weigh_in: &Id) -> Option<AnyView> {
    let again = Row::Again(owner.clone(), weigh_in.clone());
    let there = !again.read(&walk.desk.noted()).is_empty();
    (there || walk.worth_weighing_again(owner))
        .then(|| row("Weighed again", again, "One or two more weights, with a space between. The mean counts."))
}

fn odd(walk: Walk, owner: Owner, weigh_in: Id, flag: Option<Flag>, said: String) -> AnyView {
    let desk = walk.desk;
    let own = (owner.clone(), weigh_in.clone());
    let swapped =
        flag.as_ref().and_then(|flag| flag.swap_with.clone().map(Owner::Panel).zip(flag.swap_weigh_in.clone()));
    let exchange = swapped.map(|other| {
        let action = Action::Exchange(own, other);
        button("accent", "They were swapped: exchange them", move || {
            desk.press(action.clone());
            walk.go_on();
        })
    });
    let left_out = flag.as_ref().is_some_and(|flag| flag.left_out);
    let blank = owner.is_blank();
    let vouch = (left_out || blank).then(|| {
        let action = Action::Vouch { owner: owner.clone(), weigh_in: weigh_in.clone() };
        let says = if blank { "It is right: the scale jumped" } else { "It is right: take it in" };
        button("", says, move || {
            desk.press(action.clone());
            walk.go_on();
        })
    });
    let set_aside =
        flag.is_none_or(|flag| flag.kind != FlagKind::SetAside).then(|| reasons(walk, owner.clone(), weigh_in.clone()));
    view! {
        <p class="trouble" role="alert">{said}</p>
        <p class="hint">"To weigh it again, type the new weight over this one."</p>
        <p class="actions">{exchange} {next(walk)} {vouch}</p>
        {set_aside}
        {leave(walk, owner, Some(weigh_in))}
    }
    .into_any()
}

fn next(walk: Walk) -> AnyView {
    button("", "Next", move || walk.go_on())
}

/// Sets a weight aside, with the reason; it is kept, and left out of the curve.
fn reasons(walk: Walk, owner: Owner, weigh_in: Id) -> AnyView {
    let asked = RwSignal::new(false);
    live(move || {
        if !asked.get() {
            return button("plain", "Set it aside …", move || asked.set(true));
        }
        let reason = |why: &'static str| {
            let action = Action::SetAside { owner: owner.clone(), weigh_in: weigh_in.clone(), why: why.to_owned() };
            button("", why, move || walk.desk.press(action.clone()))
        };
        let reasons: Vec<AnyView> = SET_ASIDE_FOR.map(reason).into();
        view! { <p>"Kept, but left out of the curve, because:"</p> <p class="actions">{reasons}</p> }.into_any()
    })
}
