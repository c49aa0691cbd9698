//! Panels and blanks that left the test: the presses by which one leaves it, and the way back.

use leptos::prelude::*;

use super::walking::Walk;
use crate::page::desk::Desk;
use crate::page::parts::{MomentField, button, derived, fold, live, memo, shown};
use findings::facts::leaving;
use findings::weigh::LEAVES_FOR;
use record::{Action, Dated, Id, Owner};

/// Takes the panel or blank that is up out of the test, with the reason; its weight that is odd, `weigh_in`, is left out for it too.
pub(super) fn leave(walk: Walk, owner: Owner, weigh_in: Option<Id>) -> AnyView {
    let asked = RwSignal::new(false);
    let left = {
        let owner = owner.clone();
        memo(move || owner.left(&walk.desk.current().test).and_then(leaving).is_some())
    };
    shown(move || {
        if left.get() {
            return None;
        }
        if !asked.get() {
            return Some(button("plain", "It leaves the test …", move || asked.set(true)));
        }
        let reason = |why: &'static str| {
            let (owner, weigh_in) = (owner.clone(), weigh_in.clone());
            button("", why, move || walk.leave(&owner, why, weigh_in.clone()))
        };
        let reasons: Vec<AnyView> = LEAVES_FOR.map(reason).into();
        let said = "Earlier weights count. From here on nobody is asked to weigh it, because:";
        Some(view! { <p>{said}</p> <p class="actions">{reasons}</p> }.into_any())
    })
}

/// Those that left the test, each with the time to correct and the press that brings it back.
pub(super) fn gone(desk: Desk) -> AnyView {
    let gone = memo(move || findings::facts::gone(&desk.current().test));
    let all =
        move || live(move || gone.get().into_iter().map(|owner| line(desk, owner)).collect::<Vec<_>>().into_any());
    shown(move || {
        (!gone.with(Vec::is_empty)).then(|| fold(move || format!("Left the test: {}", gone.with(Vec::len)), false, all))
    })
}

fn line(desk: Desk, owner: Owner) -> AnyView {
    let entry = owner.left(&desk.noted()).and_then(leaving).map(|leaving| leaving.id.clone());
    let (said, of, back) = (owner.clone(), owner.clone(), owner.clone());
    let at = derived(move || leaving(of.left(&desk.current().test)?)?.at);
    let when = entry.map(|id| {
        let date = move |at| desk.act(Action::Date(Dated::Leaving(owner.clone(), id.clone()), at));
        view! { <MomentField label="Left at" value=at store=date/> }
    });
    view! {
        <p>{move || findings::words::owner_left_said(&desk.current().test, &said)}</p>
        {when}
        <p class="actions">{button("", "It is back in the test", move || desk.press(Action::ComeBack(back.clone())))}</p>
    }
    .into_any()
}
