//! The start screen: the tests on this phone, a new one, the worked example, and how safely all of it is kept.

pub mod handed;
mod kept;
mod shelved;

use leptos::prelude::*;

use crate::device;
use crate::page::app::{App, Delivery, EXAMPLE_ID, Place, address_in, prefer_units};
use crate::page::parts::{button, choices, fold, lines, live};
use crate::store::{self, Preferences, Stock, Summary, Trouble};
use quantity::{FilmUnit, LengthUnit, MassUnit, TemperatureUnit, Unit, Units};
use shelved::Shelved;

/// What is stored, after mending the summaries that do not fit their tests.
fn fresh_stock(delivery: Delivery) -> Result<Stock, Trouble> {
    let stock = store::stock(device::now())?;
    if stock.unlisted.is_empty() {
        return Ok(stock);
    }
    let Some(workshop) = delivery.here() else { return Ok(stock) };
    (workshop.heal)(&stock.unlisted);
    store::stock(device::now())
}

/// The tests on this phone.
#[component]
pub fn Shelf() -> impl IntoView {
    let app = expect_context::<App>();
    let delivery = expect_context::<Delivery>();
    let shelved = Shelved { app, delivery, look: RwSignal::new(false) };
    store::on_written_elsewhere(move |_| shelved.look_again());
    device::on_shown(move || shelved.look_again());
    device::set_title(&[]);
    let begin = move || delivery.ask(|app, workshop| app.go(&(workshop.begin)(app), Place::Plan));
    view! {
        <header class="front">
            <h1>"Comb & Scale"</h1>
            <p class="lead">
                "Weigh sprayed panels as they dry, read the wet film with a comb, and see what film is left, with how sure it is."
            </p>
        </header>
        <main>
            <p class="actions">
                {button("accent", "New spray test", begin)}
                {button("", "See a worked example", move || app.go(EXAMPLE_ID, Place::Results))}
            </p>
            {live(move || {
                shelved.look.track();
                all(shelved)
            })}
            {delivery.made(|said| said, move |workshop| (workshop.handed)(app))}
            {fold(move || units_said(app), false, move || units(shelved))}
            <p class="cautions">
                "Two-pack primers can injure. Plan and Spray show the cautions before you mix, spray, sand, or heat."
            </p>
        </main>
    }
}

/// All that is kept here.
fn all(shelved: Shelved) -> AnyView {
    let stock = match fresh_stock(shelved.delivery) {
        Ok(stock) => stock,
        Err(trouble) => return view! { <p class="trouble">{trouble.to_string()}</p> }.into_any(),
    };
    let none = stock.tests.is_empty();
    let mut parts = vec![view! { <h2>"Tests on this phone"</h2> }.into_any()];
    parts.extend(stock.tests.into_iter().map(|summary| shelved_test(shelved, summary)));
    if none {
        let none = "None yet. What you enter stays on this phone; nothing is sent anywhere.";
        parts.push(lines("", move || vec![none.into()]));
    }
    parts.push(kept::bin(shelved, stock.bin));
    parts.push(kept::aside(stock.aside));
    // A phone that keeps nothing yet has nothing to say of it.
    if !none || stock.warn {
        parts.push(kept::meter(shelved.app, stock.used, stock.used_k, stock.warn));
    }
    parts.into_any()
}

/// A test on the shelf; it goes into the bin after a second press.
fn shelved_test(shelved: Shelved, summary: Summary) -> AnyView {
    let asked = RwSignal::new(false);
    let (id, due, now) = (summary.id.clone(), summary.due, shelved.app.now);
    let remove = move || {
        if asked.get() {
            let id = id.clone();
            let bin = move || shelved.done(store::bin(&id, device::now()));
            let sure = button("alert destroys", "Put it into the bin", bin);
            let keep = button("", "Keep it", move || asked.set(false));
            // What undoes the press comes under the finger, not what goes on with it.
            view! { <p class="actions">{keep} {sure}</p> }.into_any()
        } else {
            button("plain", "Remove …", move || asked.set(true))
        }
    };
    view! {
        <article class="shelved">
            <a href=address_in(&summary.id, Place::Weigh)>
                <strong>{summary.title}</strong>
                <span>{summary.about}</span>
                <span>{move || findings::words::noted_due_said(&due, now.get())}</span>
                <span class="quiet">"changed " {findings::shelf::moment_said(&summary.changed)}</span>
                <span class="quiet">{move || findings::shelf::export_said(&summary.exported, &summary.waiting, now.get())}</span>
            </a>
            {live(remove)}
        </article>
    }
    .into_any()
}

/// A choice of this phone: its name, the words and keys to choose from, the first of which counts while none is chosen, and
/// where the key is kept.
type PhoneChoice = (&'static str, &'static [(&'static str, &'static str)], fn(&mut Preferences) -> &mut String);

const UNITS: [PhoneChoice; 5] = [
    ("Film", FilmUnit::CHOICES, |preferences| &mut preferences.film),
    ("Weight", MassUnit::CHOICES, |preferences| &mut preferences.mass),
    ("Sides", LengthUnit::CHOICES, |preferences| &mut preferences.length),
    ("Volume", &[("mL and L", "ml"), ("US fl oz and gal", "floz")], |preferences| &mut preferences.volume),
    ("Temperature", TemperatureUnit::CHOICES, |preferences| &mut preferences.temperature),
];

const WAYS: [PhoneChoice; 3] = [
    ("Decimals", &[("point: 12.5", "point"), ("comma: 12,5", "comma")], |preferences| &mut preferences.mark),
    ("Dates and times", &[("2 Jun 14:10", "24"), ("Jun 2, 2:10 pm", "12")], |preferences| &mut preferences.clock),
    ("Screen", &[("as the phone", ""), ("light", "light"), ("dark", "dark")], |preferences| &mut preferences.theme),
];

/// The two sets of units that painters have.
const SETS: [Units; 2] = [Units::STORED, Units::CUSTOMARY];

const SET_WORDS: [&str; 2] = ["metric", "US"];

fn set_of_units(app: App) -> Option<usize> {
    SETS.iter().position(|set| *set == app.units())
}

fn units_said(app: App) -> String {
    let set = set_of_units(app).map_or("mixed", |place| SET_WORDS[place]);
    ["Units on this phone: ", set].concat()
}

/// Everything this phone may choose for itself.
fn units(shelved: Shelved) -> AnyView {
    view! {
        <p class="hint">"They change what is shown and typed, never what is stored."</p>
        {sets_of_units(shelved)}
        {all_of(shelved, &UNITS)}
        {all_of(shelved, &WAYS)}
    }
    .into_any()
}

/// Neither set is pressed where the units are mixed.
fn sets_of_units(shelved: Shelved) -> AnyView {
    let words = SET_WORDS.map(str::to_owned).to_vec();
    let choose = move |place: usize| {
        shelved.app.prefer(|preferences| prefer_units(preferences, SETS[place]));
        shelved.look_again();
    };
    choices("All units", words, move || set_of_units(shelved.app), choose)
}

fn all_of(shelved: Shelved, part: &'static [PhoneChoice]) -> AnyView {
    part.iter().map(|choice| one_choice(shelved, *choice)).collect::<Vec<_>>().into_any()
}

/// One choice of this phone.
fn one_choice(shelved: Shelved, (label, options, part): PhoneChoice) -> AnyView {
    let app = shelved.app;
    let words = options.iter().map(|(word, _)| (*word).to_owned()).collect();
    let chosen = move || {
        let key = app.preferences.with(|preferences| part(&mut preferences.clone()).clone());
        Some(options.iter().position(|(_, known)| *known == key).unwrap_or(0))
    };
    let choose = move |place: usize| {
        app.prefer(|preferences| options[place].1.clone_into(part(preferences)));
        if label == "Dates and times" {
            shelved.delivery.ask(|_, workshop| (workshop.reword)(&ids_on_shelf()));
        }
        shelved.look_again();
    };
    choices(label, words, chosen, choose)
}

fn ids_on_shelf() -> Vec<String> {
    let tests = store::stock(device::now()).map_or_else(|_| Vec::new(), |stock| stock.tests);
    tests.into_iter().map(|summary| summary.id).collect()
}
