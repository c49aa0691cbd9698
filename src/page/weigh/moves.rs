//! Panels carried elsewhere: one tap for all, a habit for a place that is warm by day only, the hours in each place.

use leptos::prelude::*;

use crate::page::desk::Desk;
use crate::page::parts::{Form, MomentField, button, derived, each, fold, lines, live, memo, shown, tick};
use findings::weigh::PlaceToCarry;
use record::{Action, Address, Dated, Id, Panel};

/// The moves of a test, and the next one.
pub fn moves(desk: Desk) -> AnyView {
    let list = desk.ids(|test| test.moves.kept().map(|r#move| r#move.id.clone()).collect());
    let places = memo(move || findings::weigh::places_to_carry(&desk.current().typed));
    let to = move |place: PlaceToCarry| {
        let PlaceToCarry { to, warmer } = place;
        button("", format!("All panels → {to}, now"), move || carry(desk, &to, warmer, Vec::new()))
    };
    let day_out = memo(move || {
        let current = desk.current();
        findings::weigh::day_out(&current.typed, current.now())
    });
    let habit = move || {
        let day = day_out.get()?;
        let action = day.action;
        let note = button("", day.press, move || desk.press(action.clone()));
        Some(view! { <p>{day.asks}</p> <p class="actions">{note}</p> }.into_any())
    };
    let known = move || {
        let count = list.with(Vec::len);
        if count == 1 { "1 move noted".to_owned() } else { format!("{count} moves noted") }
    };
    view! {
        <h2>"Moved panels?"</h2>
        {live(move || {
            let buttons: Vec<AnyView> = places.get().into_iter().map(to).collect();
            view! { <p class="actions">{buttons}</p> }.into_any()
        })}
        {shown(habit)}
        {lines("quiet", move || {
            let current = desk.current();
            let mut said = findings::weigh::hours_said(&current.test, current.now());
            said.insert(0, findings::weigh::last_move_said(&current.test));
            said
        })}
        {fold(|| "Another place, or only some panels".into(), false, move || other(desk))}
        {shown(move || {
            (!list.with(Vec::is_empty)).then(|| fold(known, false, move || each(list, move |id| line(desk, id))))
        })}
    }
    .into_any()
}

fn carry(desk: Desk, to: &str, warmer: bool, panels: Vec<Id>) {
    desk.press(Action::Carry { at: desk.now(), to: to.into(), warmer, panels });
}

/// One move: where to, which panels, and its time.
fn line(desk: Desk, moved: Id) -> AnyView {
    let said = {
        let moved = moved.clone();
        move || findings::weigh::move_said(&desk.current().test, &moved)
    };
    let at = {
        let moved = moved.clone();
        derived(move || desk.current().test.moves.find(&moved)?.at)
    };
    let date = {
        let moved = moved.clone();
        move |at| desk.act(Action::Date(Dated::Move(moved.clone()), at))
    };
    view! {
        <p>{move || said()}</p>
        <MomentField label="Moved at" value=at store=date/>
        {button("plain destroys", "Remove this move", move || desk.press(Action::Remove(Address::carried(&moved))))}
    }
    .into_any()
}

/// A move to any place, of some panels only.
fn other(desk: Desk) -> AnyView {
    let to = RwSignal::new(String::new());
    let warmer = RwSignal::new(true);
    let chosen = RwSignal::new(Vec::<Id>::new());
    let form = Form::new();
    let go = move || {
        let place = to.get_untracked().trim().to_owned();
        if place.is_empty() {
            return form.say("Say where they were carried.");
        }
        form.say("");
        carry(desk, &place, warmer.get_untracked(), chosen.get_untracked());
        to.set(String::new());
        chosen.set(Vec::new());
    };
    let panels = move || {
        let current = desk.current();
        let tick = |panel: &Panel| panel_tick(panel.id.clone(), panel.label.clone(), chosen);
        let ticks: Vec<AnyView> = findings::facts::in_test(&current.test).into_iter().map(tick).collect();
        ticks.into_any()
    };
    view! {
        {form.line("Where to", "text", to)}
        {tick("It is warmer there than at the start", warmer.into(), move |on| warmer.set(on))}
        <fieldset>
            <legend>"Which panels (none ticked: all)"</legend>
            {live(panels)}
        </fieldset>
        {form.said()}
        {button("", "Moved now", go)}
    }
    .into_any()
}

fn panel_tick(id: Id, label: String, chosen: RwSignal<Vec<Id>>) -> AnyView {
    let ticked = {
        let id = id.clone();
        derived(move || chosen.with(|chosen| chosen.contains(&id)))
    };
    tick(label, ticked, move |on| {
        chosen.update(|chosen| {
            chosen.retain(|other| *other != id);
            if on {
                chosen.push(id.clone());
            }
        });
    })
}
