//! The state that all screens share: where the person is, what this phone prefers, whether anything can be kept.

use leptos::prelude::*;

use super::left::Leftovers;
use super::place::{Place, Screen, address_in};
use crate::device;
use crate::page::parts::memo;
use crate::store::{self, Preferences, Trouble};
use quantity::{Instant, Manner, Unit, Units};
use record::Address;

/// What all screens share.
#[derive(Clone, Copy)]
pub struct App {
    /// Which screen is up.
    pub screen: Memo<Screen>,
    /// Which place of the open test.
    pub place: Memo<Place>,
    /// The moment, which moves on with the minute, when the page comes to the front again, and when the clock is set. What a
    /// screen says of today or of what is due follows it; running clocks have their own second.
    pub now: RwSignal<Instant>,
    /// The hour it falls in, for what takes longer to work out.
    pub hour: Memo<String>,
    /// What this phone prefers.
    pub preferences: RwSignal<Preferences>,
    /// Why nothing can be kept, if so.
    pub trouble: RwSignal<Option<Trouble>>,
    /// Whether storage was emptied by other hands while the page was open.
    pub emptied: RwSignal<bool>,
    /// Whether a newer version of the page waits.
    pub newer: RwSignal<bool>,
    /// Whether the browser was asked to keep what is stored, and whether it has promised.
    pub asked_lasting: RwSignal<bool>,
    pub lasting: RwSignal<bool>,
    /// Who writes here: the device part of every stamp, another one in each tab, since two tabs that count alike would
    /// otherwise give two entries one id.
    pub writer: StoredValue<String>,
    /// Tests that storage would not take: they last as long as the page is open.
    held: StoredValue<Vec<(String, String, Trouble)>>,
    /// The text of a copy of a test that is joined to it when it is next laid on the desk, as a step to be taken back; and
    /// what was taken out and is to come back then.
    pub joining: StoredValue<Option<(String, Vec<Address>)>>,
    /// What was typed and could not be stored.
    pub leftovers: Leftovers,
}

impl App {
    /// Begins: reads the address and this phone's preferences.
    pub fn open() -> Self {
        let address = RwSignal::new(device::address());
        device::on_address(move || address.set(device::address()));
        device::store_typed_when_hidden();
        device::answer_when_asked();
        let mut preferences = store::preferences();
        let trouble = RwSignal::new(None);
        if preferences.device.is_empty() {
            preferences.device = device::random_name(6);
            prefer_manner(&mut preferences, Manner::of_region(&device::language(), device::writes_commas()));
            trouble.set(store::write_preferences(&preferences).err());
        }
        manner_of(&preferences).take_on();
        let parts = move || {
            let address = address.get();
            let mut parts = address.trim_start_matches('/').split('/').map(device::from_address);
            (parts.next().unwrap_or_default(), parts.next().unwrap_or_default())
        };
        let (newer, lasting) = (RwSignal::new(false), RwSignal::new(false));
        let now = RwSignal::new(device::now());
        device::every_minute(move |at| now.set(at));
        device::is_lasting(move |promised| lasting.set(promised));
        Self {
            screen: memo(move || match parts() {
                (id, _) if id.is_empty() => Screen::Shelf,
                (id, _) => Screen::Test(id),
            }),
            place: memo(move || Place::of(&parts().1)),
            now,
            hour: memo(move || now.get().to_local().chars().take(13).collect()),
            preferences: RwSignal::new(preferences),
            trouble,
            emptied: RwSignal::new(false),
            newer,
            asked_lasting: RwSignal::new(false),
            lasting,
            writer: StoredValue::new(device::random_name(7)),
            held: StoredValue::new(Vec::new()),
            joining: StoredValue::new(None),
            leftovers: Leftovers::open(),
        }
    }

    /// Holds the text of a test that storage would not take, or lets it go once storage has it.
    pub fn hold(&self, test: &str, text: &str, unsaved: Option<Trouble>) {
        self.held.update_value(|held| {
            held.retain(|(known, ..)| known != test);
            held.extend(unsaved.map(|trouble| (test.to_owned(), text.to_owned(), trouble)));
        });
    }

    /// The text of a test that storage would not take, and why.
    pub fn held(&self, test: &str) -> Option<(String, Trouble)> {
        let of = |(known, text, trouble): &(String, String, Trouble)| (known == test).then(|| (text.clone(), *trouble));
        self.held.with_value(|held| held.iter().find_map(of))
    }

    /// The address of a place of the open test.
    pub fn address_of(&self, place: Place) -> String {
        match self.screen.get() {
            Screen::Shelf => "#".into(),
            Screen::Test(id) => address_in(&id, place),
        }
    }

    /// Asks the browser to keep what is stored for good, the first time there is a reading to be kept.
    pub fn ask_lasting(&self) {
        let (asked, lasting) = (self.asked_lasting, self.lasting);
        if !asked.get_untracked() && !lasting.get_untracked() {
            asked.set(true);
            device::ask_lasting(move |promised| lasting.set(promised));
        }
    }

    /// Goes to a place of a test.
    pub fn go(&self, test: &str, place: Place) {
        device::go_to(&address_in(test, place));
    }

    /// The units this phone shows and reads.
    pub fn units(&self) -> Units {
        self.preferences.with(units_of)
    }

    /// Changes what this phone prefers.
    pub fn prefer(&self, change: impl FnOnce(&mut Preferences)) {
        self.preferences.update(|preferences| {
            change(preferences);
            manner_of(preferences).take_on();
            device::set_theme(&preferences.theme);
        });
        self.trouble.set(store::write_preferences(&self.preferences.get_untracked()).err());
    }
}

fn units_of(chosen: &Preferences) -> Units {
    Units {
        film: Unit::from_key(&chosen.film).unwrap_or_default(),
        length: Unit::from_key(&chosen.length).unwrap_or_default(),
        mass: Unit::from_key(&chosen.mass).unwrap_or_default(),
        volume: Unit::from_key(&chosen.volume).unwrap_or_default(),
        temperature: Unit::from_key(&chosen.temperature).unwrap_or_default(),
    }
}

fn manner_of(chosen: &Preferences) -> Manner {
    let half_days = chosen.clock == "12";
    Manner { units: units_of(chosen), comma: chosen.mark == "comma", half_days, month_first: half_days }
}

fn prefer_manner(preferences: &mut Preferences, manner: Manner) {
    prefer_units(preferences, manner.units);
    for (chosen, part, key) in
        [(manner.comma, &mut preferences.mark, "comma"), (manner.half_days, &mut preferences.clock, "12")]
    {
        if chosen {
            key.clone_into(part);
        }
    }
}

/// Chooses a unit of each kind.
pub fn prefer_units(preferences: &mut Preferences, units: Units) {
    let keys = [units.film.key(), units.length.key(), units.mass.key(), units.volume.key(), units.temperature.key()];
    let parts = [
        &mut preferences.film,
        &mut preferences.length,
        &mut preferences.mass,
        &mut preferences.volume,
        &mut preferences.temperature,
    ];
    for (part, key) in parts.into_iter().zip(keys) {
        key.clone_into(part);
    }
}
