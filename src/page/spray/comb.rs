//! The comb, drawn with the person's own teeth: a tap on the last wetted tooth records a dab, a second tap on the next
//! one marks that it was just touched.

use leptos::prelude::*;

use crate::page::desk::Desk;
use crate::page::parts::{Form, button, each, fold, live, memo, shown, tick, toggle};
use findings::facts::teeth_in_hand;
use findings::spray::{DabTeeth, NoDab, Tapping, ToothLook, dabs_said, typed_dab};
use findings::words::dab_in_words;
use quantity::Quantity;
use record::{Action, Address, Id};

/// The dabs of a panel, and a comb to make the next one.
pub fn dabs(desk: Desk, panel: Id) -> AnyView {
    let of = panel.clone();
    let dabs = desk.ids(move |test| {
        test.panels.find(&of).map(|p| p.dabs.kept().map(|dab| dab.id.clone()).collect()).unwrap_or_default()
    });
    let of = panel.clone();
    view! {
        <p>{move || dabs_said(dabs.with(Vec::len))}</p>
        <ol class="dabs">{each(dabs, move |dab| dab_line(desk, of.clone(), dab))}</ol>
        {teeth(desk, panel.clone(), RwSignal::new(Tapping::default()))}
        {fold(|| "Type a dab instead".into(), false, move || typed(desk, panel.clone()))}
    }
    .into_any()
}

/// One dab, spoken back.
fn dab_line(desk: Desk, panel: Id, dab: Id) -> AnyView {
    let address = Address::dab(&panel, &dab);
    let said = move || {
        let current = desk.current();
        let dab = current.test.panels.find(&panel)?.dabs.find(&dab)?;
        Some(dab_in_words(&current.test, dab, &current.wording))
    };
    let remove = button("plain destroys", "Remove", move || desk.press(Action::Remove(address.clone())));
    view! { <li><span>{move || said()}</span> {remove}</li> }.into_any()
}

/// The teeth to tap; `hand` is where the hand is on them.
pub fn teeth(desk: Desk, panel: Id, hand: RwSignal<Tapping>) -> AnyView {
    let teeth = memo(move || teeth_in_hand(&desk.current().test));
    let trouble = RwSignal::new(String::new());
    let tap = move |place: usize| {
        let (dab, again, then) = teeth.with_untracked(|teeth| hand.get_untracked().tap(place, teeth));
        let write = if again { DabTeeth::instead } else { DabTeeth::action };
        let action = write(dab, &desk.noted(), panel.clone(), desk.now());
        trouble.set(desk.act(action).err().unwrap_or_default());
        hand.set(then);
    };
    let tooth = move |place: usize, name: String| {
        let tap = tap.clone();
        let look = move || hand.get().look(place);
        toggle(move || class_of(look()), move || pressed_said(look()), name.into_any(), move || tap(place))
    };
    let none = tooth(0, "none wetted".into());
    let teeth = live(move || {
        let wording = desk.current().wording;
        let names = teeth.get().into_iter().map(|um| wording.bare_tooth(um.get()));
        names.zip(1..).map(|(name, place)| tooth(place, name)).collect::<Vec<AnyView>>().into_any()
    });
    let next = shown(move || {
        let next = || button("accent", "Next dab", move || hand.set(Tapping::default()));
        hand.get().recorded().then(|| view! { <p class="actions">{next()}</p> }.into_any())
    });
    view! {
        <div class="comb" role="group" aria-label="Comb: tap the last wetted tooth">{none} {teeth}</div>
        <p class="hint" role="status">{move || hand.get().said()}</p>
        {next}
        <p class="trouble" role="alert">{move || trouble.get()}</p>
    }
    .into_any()
}

fn class_of(look: ToothLook) -> &'static str {
    match look {
        ToothLook::Next => "tooth next-up",
        ToothLook::Touched => "tooth touched",
        ToothLook::Wetted | ToothLook::Dry => "tooth",
    }
}

/// How a tooth is told to whoever hears the page.
fn pressed_said(look: ToothLook) -> &'static str {
    match look {
        ToothLook::Wetted => "true",
        ToothLook::Touched => "mixed",
        ToothLook::Next | ToothLook::Dry => "false",
    }
}

/// A dab typed as numbers: for a comb that is not drawn here.
fn typed(desk: Desk, panel: Id) -> AnyView {
    let (wetted, dry) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let touched = RwSignal::new(false);
    let form = Form::new();
    let record = move || {
        let (noted, wording) = (desk.noted(), desk.current().wording);
        let (last, first) = (wetted.get_untracked(), dry.get_untracked());
        let read = typed_dab(&noted, &last, &first, touched.get_untracked(), &wording);
        match read.map_err(NoDab::said).and_then(|dab| desk.act(dab.action(&noted, panel.clone(), desk.now()))) {
            Ok(()) => {
                wetted.set(String::new());
                dry.set(String::new());
                touched.set(false);
                form.say("");
            }
            Err(sentence) => form.say(sentence),
        }
    };
    view! {
        <div class="pair">
            {form.line("Last wetted tooth", "decimal", wetted)} {form.line("First dry tooth", "decimal", dry)}
        </div>
        <p class="hint">"Leave the first dry tooth empty where the longest was wetted."</p>
        {tick("The tooth between was just touched", touched.into(), move |on| touched.set(on))}
        {form.said()}
        {button("", "Record this dab", record)}
    }
    .into_any()
}
