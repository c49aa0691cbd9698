//! The one thing to do now: its heading, its clock, its field or its button, and the way to leave it out.

use leptos::html::Section;
use leptos::prelude::*;

use super::comb;
use super::today::Today;
use crate::device;
use crate::page::app::Place;
use crate::page::desk::Desk;
use crate::page::fields::{MarkSign, NumberField, PourCard, Typed};
use crate::page::parts::{button, button_as, derived, items, lines, live, memo, shown, way};
use findings::spray::{
    CandidateRun, Tapping, Task, WayPast, dab_recorded_said, newest_dab_said, rushing, task_said, touch_up,
};
use quantity::{Celsius, Grams, Percent, Quantity};
use record::{Action, Address, AirLine, Id, Measure, Owner, Slot, Step};

/// What is up: a step before spraying, or a candidate's next one. Drawn anew only when it is another one, so that no
/// field is taken from under the fingers.
pub fn view(today: Today) -> AnyView {
    let up = memo(move || {
        let sheet = today.sheet.get();
        match sheet.before {
            // A clock that begins anew, with another cup or a corrected time, is another thing to wait for.
            Task::Nothing => match today.run() {
                // Only counted up beside a field, a clock takes the field from nobody.
                Some(run) if matches!(run.task, Task::Comb(_) | Task::Wet(_)) => {
                    (Some(run.candidate), run.task, [None, None])
                }
                Some(run) => (Some(run.candidate), run.task, [run.clock, run.pot]),
                None => (None, Task::Nothing, [None, None]),
            },
            before => (None, before, [None, None]),
        }
    });
    // Another task stands at the top of the screen, wherever the last one was left.
    let place = NodeRef::<Section>::new();
    Effect::new(move |before: Option<()>| {
        up.track();
        if let (Some(()), Some(place)) = (before, place.get_untracked()) {
            // A tap that stored a weight is still under the finger: what it meant must not slip away.
            device::after_frame(move || device::bring_up(&place));
        }
    });
    view! {
        <section class="task" aria-label="Now" node_ref=place>
            {live(move || {
                let (candidate, task, _) = up.get();
                untrack(|| one(today, candidate, task))
            })}
        </section>
    }
    .into_any()
}

fn one(today: Today, candidate: Option<Id>, task: Task) -> AnyView {
    let hand = RwSignal::new(Tapping::default());
    let (of, named) = (candidate.clone(), task.clone());
    // The heading counts dabs: it follows the test, and goes on when the hand does.
    let head = move || {
        let test = &today.desk.current().test;
        match &named {
            Task::Comb(panel) if hand.get().recorded() => dab_recorded_said(test, panel),
            task => task_said(test, task),
        }
    };
    view! {
        {candidate.map(|candidate| who(today, candidate))}
        <h2 class="do">{move || head()}</h2>
        {body(today, of, task, hand)}
    }
    .into_any()
}

/// The way to the scale: up where the task was when all is done, below everything until then.
pub fn onwards(today: Today, class: &'static str) -> AnyView {
    way(class, "Next: weigh as it dries", move || today.desk.app.address_of(Place::Weigh))
}

/// Whose turn it is.
fn who(today: Today, candidate: Id) -> AnyView {
    let name = today.sheet.get_untracked().run(&candidate).map(|run| run.label.clone());
    view! { <p class="who"><MarkSign candidate/> {name}</p> }.into_any()
}

fn body(today: Today, candidate: Option<Id>, task: Task, hand: RwSignal<Tapping>) -> AnyView {
    let run = candidate.and_then(|id| today.sheet.get_untracked().run(&id).cloned());
    match (task, run) {
        (Task::Air, _) => air(today),
        (Task::Bare(owner), _) => bare(today, owner),
        (Task::Comb(panel), Some(run)) => {
            view! { {since(today, &run)} {comb::teeth(today.desk, panel, hand)} {skip(today, &run)} }.into_any()
        }
        (Task::Wet(owner), Some(run)) => wet(today, owner, &run),
        (_, Some(run)) => spray(today, run),
        (_, None) => view! {
            <p>"All panels are sprayed, read and weighed."</p>
            <p class="actions">{onwards(today, "button accent")}</p>
        }
        .into_any(),
    }
}

/// Air, humidity, panels; the first one typed begins the reading, the others are filled in.
fn air(today: Today) -> AnyView {
    let desk = today.desk;
    let field = |label: &'static str, line: AirLine| {
        let begun = move || {
            let now = today.now.get();
            findings::facts::air_of_the_day(&desk.current().test, now).map(|air| air.id.clone())
        };
        let value = derived(move || Slot::Air(begun()?, line).read(&desk.current().test));
        let store = move |typed: Option<f64>| match untrack(begun) {
            Some(air) => desk.act(Action::Fill(Slot::Air(air, line), typed)),
            None => {
                let read = |of: AirLine| typed.filter(|_| of == line);
                let temperature =
                    |of| read(of).map(Celsius::new).transpose().map_err(|trouble| format!("A temperature {trouble}."));
                let humidity_pct = read(AirLine::Humidity)
                    .map(Percent::new)
                    .transpose()
                    .map_err(|trouble| format!("Humidity {trouble}."))?;
                let (air_c, panel_c) = (temperature(AirLine::Air)?, temperature(AirLine::Panel)?);
                desk.act(Action::TakeAir { at: desk.now(), air_c, humidity_pct, panel_c })
            }
        };
        view! { <NumberField label value measure=Slot::Air(Id::default(), line).measure() store/> }
    };
    view! {
        {field("Air", AirLine::Air)}
        {field("Humidity", AirLine::Humidity)}
        {field("Panels", AirLine::Panel)}
        {leave_out(today, Step::Air, None)}
    }
    .into_any()
}

fn bare(today: Today, owner: Owner) -> AnyView {
    let desk = today.desk;
    let (of, label) = (owner.clone(), desk.label_of(&owner));
    let store = move |typed: Option<f64>| {
        let Some(gross_g) = weight(typed)? else { return Ok(()) };
        let (at, owner) = (desk.now(), of.clone());
        desk.act(match owner {
            Owner::Blank(_) => Action::Weigh { owner, round: None, at, gross_g },
            Owner::Panel(panel) => Action::WeighBare { panel, at, gross_g },
        })
    };
    let before = findings::spray::before_bare_said(&desk.noted(), &desk.current().wording);
    let left = move || findings::spray::to_weigh_said(today.sheet.get().bare_left);
    view! {
        <p>{before}</p>
        {due(desk, format!("{label}, bare weight"), &owner, store)}
        <p class="quiet">{move || left()}</p>
        {leave_out(today, Step::Bare, Some(owner.address()))}
        {leave_out(today, Step::Bare, None)}
    }
    .into_any()
}

/// The weight that is due.
fn due(desk: Desk, label: String, of: &Owner, store: impl Fn(Option<f64>) -> Result<(), String> + 'static) -> AnyView {
    let near = findings::facts::former_weight(&desk.noted(), of);
    let (value, measure, typed) = (Signal::stored(None), Measure::Mass, Typed::DueNumber);
    view! { <NumberField label value measure store typed near of=of.key()/> }.into_any()
}

fn weight(typed: Option<f64>) -> Result<Option<Grams>, String> {
    typed.map(Grams::new).transpose().map_err(|trouble| format!("A weight {trouble}."))
}

/// The wet weight, and the last word on the dab before it.
fn wet(today: Today, owner: Owner, run: &CandidateRun) -> AnyView {
    let desk = today.desk;
    let label = desk.label_of(&owner);
    let what = if owner.is_blank() { "with the wet panels" } else { "wet weight" };
    let panel = owner.panel().cloned();
    let stands = owner.clone();
    let (of, dabbed) = (owner, panel.clone());
    let store = move |typed: Option<f64>| {
        let Some(gross_g) = weight(typed)? else { return Ok(()) };
        desk.act(Action::Weigh { owner: of.clone(), round: None, at: desk.now(), gross_g })
    };
    let weight_due = due(desk, format!("{label}, {what}"), &stands, store);
    let touched = move || {
        let panel = panel.clone()?;
        let current = desk.current();
        let (dab, tooth) = touch_up(&current.test, &panel, &current.wording)?;
        let mark = move || desk.press(dab.instead(&desk.noted(), panel.clone(), desk.now()));
        Some(button("plain", format!("{tooth} was just touched too"), mark))
    };
    let newest = move || {
        let current = desk.current();
        Some(newest_dab_said(&current.test, dabbed.as_ref()?, &current.wording))
    };
    view! {
        {since(today, run)}
        <p>{move || newest()} " " {shown(touched)}</p>
        {weight_due}
        {skip(today, run)}
    }
    .into_any()
}

/// How long the film has been drying.
fn since(today: Today, run: &CandidateRun) -> AnyView {
    let candidate = run.candidate.clone();
    lines("quiet", move || {
        let now = today.now.get();
        let clock = today.sheet.with(|sheet| sheet.run(&candidate)?.clock);
        clock.map(|clock| format!("{} {}", clock.figure(now), clock.words(now))).into_iter().collect()
    })
}

/// Mixing and coats: the clock and the one big button.
fn spray(today: Today, run: CandidateRun) -> AnyView {
    let desk = today.desk;
    let (now, clock, task) = (today.now, run.clock, run.task.clone());
    let panels = {
        let candidate = run.candidate.clone();
        move || findings::spray::panels_of(&desk.noted(), &candidate)
    };
    let mix = {
        let (candidate, panels) = (run.candidate.clone(), panels.clone());
        move || {
            let open = findings::spray::cup_being_poured(&desk.noted(), &candidate);
            let cup = open.unwrap_or_else(|| desk.fresh_id());
            desk.press(Action::Mixed { cup, candidate: candidate.clone(), at: desk.now(), panels: panels() });
        }
    };
    let another = {
        let (mix, candidate) = (mix.clone(), run.candidate.clone());
        move || {
            if today.presses(&candidate) {
                mix();
            }
        }
    };
    // What the scale says is not in the cup yet: asked about once, and no more than that.
    let wants = {
        let candidate = run.candidate.clone();
        move || {
            let current = desk.current();
            findings::mixing::still_to_pour_said(&current.test, &candidate, &current.wording)
        }
    };
    let asked = RwSignal::new(false);
    let press = {
        let (task, candidate, wants, mix) = (task.clone(), run.candidate.clone(), wants.clone(), mix.clone());
        move || match task {
            Task::Mix if wants().is_some() => asked.set(true),
            _ if !today.presses(&candidate) => {}
            Task::Mix => mix(),
            _ => desk.press(Action::Coat { panels: panels(), at: desk.now() }),
        }
    };
    let incomplete = shown(move || {
        let said = wants().filter(|_| asked.get())?;
        let mix = mix.clone();
        Some(asking(said, button("", "Mixed all the same: start the clock", mix), asked))
    });
    let waits = move || clock.is_some_and(|clock| clock.ends.is_some() && !clock.over(now.get()));
    let face = clock.map(|clock| {
        view! {
            <p class="clock" role="timer" class:over=move || !waits()>
                <strong>{move || clock.figure(now.get())}</strong>
                <span>{move || clock.words(now.get())}</span>
            </p>
        }
    });
    // Past the pot life the next thing to do is another cup.
    let pot = run.pot;
    let past = move || pot.is_some_and(|pot| pot.over(now.get()));
    let again = matches!(task, Task::Coat(_)).then(|| {
        let class = move || if past() { "accent" } else { "plain" };
        view! { <p class="actions">{button_as(class, "Another cup was mixed", another)}</p> }.into_any()
    });
    let big = move || if waits() || past() { "big" } else { "big accent" };
    let pour = (task == Task::Mix).then(|| view! { <PourCard candidate=run.candidate.clone()/> });
    view! {
        {face}
        {pour}
        {pot_life(today, &run)}
        <p class="actions">{button_as(big, run.button(), press)}</p>
        {incomplete}
        {lines("hint", move || clock.filter(|_| waits()).map(|clock| rushing(clock.waiting).into()).into_iter().collect())}
        {items("beware", &run.cautions())}
        {again}
        {skip(today, &run)}
    }
    .into_any()
}

/// Pot life and warnings belong beside the task as well.
fn pot_life(today: Today, run: &CandidateRun) -> AnyView {
    let Some(pot) = run.pot else { return ().into_any() };
    let now = today.now;
    view! { <p class="pot"><strong>{move || pot.figure(now.get())}</strong> " " {move || pot.words(now.get())}</p> }
        .into_any()
}

fn skip(today: Today, run: &CandidateRun) -> AnyView {
    run.step().map(|(step, of)| leave_out(today, step, Some(of))).into_any()
}

/// A way past a step: first what it costs, then the press.
fn leave_out(today: Today, step: Step, of: Option<Address>) -> AnyView {
    let asked = RwSignal::new(false);
    let desk = today.desk;
    let whose = of.as_ref().and_then(|of| of.id().cloned());
    let way = memo(move || findings::spray::leaving_out(&desk.current().test, step, whose.as_ref()));
    live(move || {
        let WayPast { word, cost } = way.get();
        let of = of.clone();
        if asked.get() {
            let skip = move || desk.press(Action::Skip { at: desk.now(), step, of: of.clone() });
            asking(cost.into(), button("", word, skip), asked)
        } else {
            button("plain", [word, " …"].concat(), move || asked.set(true))
        }
    })
}

/// A question that a press has raised: what speaks against it, the press that does it all the same, and the way back.
fn asking(said: String, act: AnyView, asked: RwSignal<bool>) -> AnyView {
    let back = button("", "Go back", move || asked.set(false));
    view! {
        <p class="trouble" role="alert">{said}</p>
        <p class="actions">{back} {act}</p>
    }
    .into_any()
}
