//! The start screen: the tests on this phone, a new one, the worked example.

use leptos::prelude::*;

use super::desk::{CannotOpen, Desk, EXAMPLE_ID};
use super::parts::Choices;
use super::shop::{Place, Shop};
use crate::quantity::{Unit, Units};
use crate::store::{self, Preferences};
use crate::{device, findings};

/// The tests on this phone.
#[component]
pub fn Shelf() -> impl IntoView {
    let shop = expect_context::<Shop>();
    let shelf = RwSignal::new(store::shelf());
    let begin = move |_| shop.go(&Desk::begin(shop), Place::Plan);
    let take_off = move |id: String| {
        shop.trouble.set(store::take_off(&id).err());
        shelf.set(store::shelf());
    };
    view! {
        <header class="front">
            <h1>"Comb & Scale"</h1>
            <p class="lead">
                "Weigh sprayed panels as they dry, read the wet film with a comb, and see what film is left, with how sure it is."
            </p>
        </header>
        <main>
            <p class="actions">
                <button class="accent" on:click=begin>"New spray test"</button>
                <button on:click=move |_| shop.go(EXAMPLE_ID, Place::Results)>"See a worked example"</button>
            </p>
            <h2>"Tests on this phone"</h2>
            {move || match shelf.get() {
                Ok(list) if list.is_empty() => {
                    view! { <p>"None yet. What you enter stays on this phone; nothing is sent anywhere."</p> }.into_any()
                }
                Ok(list) => {
                    list.into_iter()
                        .map(|summary| {
                            let id = summary.id.clone();
                            view! {
                                <article class="shelved">
                                    <a href=format!("#/{}/weigh", summary.id)>
                                        <strong>{summary.title}</strong>
                                        <span>{summary.about}</span>
                                        <span class="quiet">"changed " {summary.changed}</span>
                                    </a>
                                    <Remove take_off=move || take_off(id.clone())/>
                                </article>
                            }
                        })
                        .collect_view()
                        .into_any()
                }
                Err(trouble) => view! { <p class="trouble">{trouble.to_string()}</p> }.into_any(),
            }}
            <h2>"Units on this phone"</h2>
            {unit_choice(shop, "Film", |units| units.film, |prefer, unit| prefer.film = unit)}
            {unit_choice(shop, "Weight", |units| units.mass, |prefer, unit| prefer.mass = unit)}
            {unit_choice(shop, "Sides", |units| units.length, |prefer, unit| prefer.length = unit)}
            {unit_choice(shop, "Volume", |units| units.volume, |prefer, unit| prefer.volume = unit)}
            {unit_choice(shop, "Temperature", |units| units.temperature, |prefer, unit| prefer.temperature = unit)}
            <Cautions/>
        </main>
    }
}

/// Takes a test off the list, after a second press.
#[component]
fn Remove(take_off: impl Fn() + Clone + Send + Sync + 'static) -> impl IntoView {
    let asked = RwSignal::new(false);
    view! {
        {move || {
            let take_off = take_off.clone();
            if asked.get() {
                view! {
                    <p class="actions">
                        <button class="alert" on:click=move |_| take_off()>"Take it off the list"</button>
                        <button on:click=move |_| asked.set(false)>"Keep it"</button>
                    </p>
                }
                    .into_any()
            } else {
                view! { <button class="plain" on:click=move |_| asked.set(true)>"Remove …"</button> }.into_any()
            }
        }}
    }
}

/// A choice between the units of one kind.
fn unit_choice<U: Unit + Send + Sync>(
    shop: Shop,
    label: &'static str,
    of: fn(Units) -> U,
    keep: fn(&mut Preferences, String),
) -> AnyView {
    let choices = U::ALL.iter().map(|&unit| (unit.symbol(), unit.key())).collect();
    key_choice(shop, label, choices, Signal::derive(move || of(shop.units()).key()), keep)
}

/// The same for units of any kind, by their short names.
fn key_choice(
    shop: Shop,
    label: &'static str,
    choices: Vec<(&'static str, &'static str)>,
    chosen: Signal<&'static str>,
    keep: fn(&mut Preferences, String),
) -> AnyView {
    let choose = move |key: &'static str| shop.prefer(|preferences| keep(preferences, key.into()));
    view! { <Choices label choices chosen=move || chosen.get() choose/> }.into_any()
}

/// The cautions that go with every test.
#[component]
pub fn Cautions() -> impl IntoView {
    view! {
        <section class="cautions">
            <h2>"Before mixing, spraying and warming"</h2>
            <ul>{findings::CAUTIONS.map(|caution| view! { <li>{caution}</li> }).collect_view()}</ul>
        </section>
    }
}

/// A test that cannot be laid on the desk.
#[component]
pub fn CannotOpen(id: String, trouble: CannotOpen) -> impl IntoView {
    let sentence = trouble.to_string();
    let raw = match trouble {
        CannotOpen::Text(_, text) => Some(text),
        CannotOpen::Storage(_) | CannotOpen::NotHere => None,
    };
    view! {
        <main>
            <h1>"This test cannot be opened"</h1>
            <p class="trouble" role="alert">{sentence}</p>
            {raw.map(|text| {
                let name = format!("{id}.txt");
                view! {
                    <p>"Nothing was changed or deleted. Save what is there, so that it can be mended."</p>
                    <button class="accent" on:click=move |_| device::download(&name, &text)>"Save its text as a file"</button>
                }
            })}
            <p><a href="#">"All tests"</a></p>
        </main>
    }
}
