//! The comb, drawn with the person's own teeth: a tap on the last wetted tooth records a dab, a second tap on the next
//! one marks that it was just touched.

use leptos::prelude::*;

use crate::page::desk::Desk;
use crate::page::parts::{fresh_element_id, memo};
use findings::facts::teeth_in_hand;
use findings::spray::{DabTeeth, NoDab, Tapping, ToothLook, dabs_said, typed_dab};
use findings::words::dab_in_words;
use quantity::{Micrometres, Quantity};
use record::{Action, Address, Id};

/// The dabs of a panel, and a comb to make the next one.
#[component]
pub fn Dabs(panel: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let dabs = {
        let panel = panel.clone();
        desk.ids(move |test| {
            test.panels.find(&panel).map(|p| p.dabs.kept().map(|dab| dab.id.clone()).collect()).unwrap_or_default()
        })
    };
    let of_panel = panel.clone();
    view! {
        <p class="dab-count">{move || dabs_said(dabs.with(Vec::len))}</p>
        <ol class="dabs">
            <For each=move || dabs.get() key=Id::clone let:dab>
                <DabLine panel=of_panel.clone() dab/>
            </For>
        </ol>
        <Teeth panel=panel.clone()/>
        <TypedDab panel/>
    }
}

/// One dab, spoken back.
#[component]
fn DabLine(panel: Id, dab: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let address = Address::dab(&panel, &dab);
    let said = {
        move || {
            let current = desk.current();
            let dab = current.test.panels.find(&panel)?.dabs.find(&dab)?;
            Some(dab_in_words(&current.test, dab, &current.tongue))
        }
    };
    view! {
        <li>
            <span>{move || said()}</span>
            <button class="plain destroys" on:click=move |_| desk.press(Action::Remove(address.clone()))>"Remove"</button>
        </li>
    }
}

/// The teeth to tap.
#[component]
pub fn Teeth(
    panel: Id,
    /// Where the hand is on it.
    #[prop(default = RwSignal::new(Tapping::default()))]
    hand: RwSignal<Tapping>,
) -> impl IntoView {
    let desk = expect_context::<Desk>();
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
        let look = move |wanted| hand.get().look(place) == wanted;
        view! {
            <button
                class="tooth"
                class:wetted=move || look(ToothLook::Wetted)
                class:next=move || look(ToothLook::Next)
                class:touched=move || look(ToothLook::Touched)
                aria-pressed=move || pressed_said(hand.get().look(place))
                on:click=move |_| tap(place)
            >
                {name}
            </button>
        }
    };
    view! {
        <div class="comb" role="group" aria-label="Comb: tap the last wetted tooth">
            {tooth.clone()(0, "none wetted".into())}
            {move || {
                let tongue = desk.current().tongue;
                let name = |(i, um): (usize, Micrometres)| (i, tongue.bare_tooth(um.get()));
                teeth.get().into_iter().enumerate().map(name).map(|(i, name)| tooth(i.saturating_add(1), name)).collect_view()
            }}
        </div>
        <p class="hint" role="status">
            {move || hand.get().said()}
        </p>
        {move || {
            hand.get().recorded().then(|| view! { <p class="actions"><button class="accent" on:click=move |_| hand.set(Tapping::default())>"Next dab"</button></p> })
        }}
        <p class="trouble" role="alert">{move || trouble.get()}</p>
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
#[component]
fn TypedDab(panel: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let (wetted, dry) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let touched = RwSignal::new(false);
    let trouble = RwSignal::new(String::new());
    let record = move |_| {
        let (noted, tongue) = (desk.noted(), desk.current().tongue);
        let (last, first) = (wetted.get_untracked(), dry.get_untracked());
        let read = typed_dab(&noted, &last, &first, touched.get_untracked(), &tongue);
        match read.map_err(NoDab::said).and_then(|dab| desk.act(dab.action(&noted, panel.clone(), desk.now()))) {
            Ok(()) => {
                wetted.set(String::new());
                dry.set(String::new());
                touched.set(false);
                trouble.set(String::new());
            }
            Err(sentence) => trouble.set(sentence),
        }
    };
    let trouble_id = fresh_element_id();
    let wrong = move || (!trouble.with(String::is_empty)).then_some("true");
    let described = trouble_id.clone();
    let field = move |label: &'static str, text: RwSignal<String>| {
        let (id, described) = (fresh_element_id(), described.clone());
        view! {
            <div class="field">
                <label for=id.clone()>{label}</label>
                <input
                    id=id
                    type="text"
                    inputmode="decimal"
                    autocomplete="off"
                    aria-invalid=move || wrong()
                    aria-describedby=described
                    prop:value=move || text.get()
                    on:input:target=move |event| text.set(event.target().value())
                />
            </div>
        }
    };
    view! {
        <details>
            <summary>"Type a dab instead"</summary>
            <div class="pair">{field("Last wetted tooth", wetted)} {field("First dry tooth", dry)}</div>
            <p class="hint">"Leave the first dry tooth empty where the longest was wetted."</p>
            <label class="tick">
                <input
                    type="checkbox"
                    prop:checked=move || touched.get()
                    on:change:target=move |event| touched.set(event.target().checked())
                />
                "The tooth between was just touched"
            </label>
            <p class="trouble" id=trouble_id role="alert">{move || trouble.get()}</p>
            <button on:click=record>"Record this dab"</button>
        </details>
    }
}
