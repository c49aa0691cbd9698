//! What stands beside the fields in which weights, coats and places are entered.

use super::tongue::Tongue;
use quantity::{Instant, Quantity};
use record::{Entries, Id, Owner, SprayTest, WeighIn};

/// A test in a few words, for the list of tests.
pub fn about(test: &SprayTest) -> String {
    let count = |n: usize, one: &str, many: &str| if n == 1 { format!("1 {one}") } else { format!("{n} {many}") };
    let newest = test.rounds.kept().filter_map(|round| round.at).reduce(|a, b| if b > a { b } else { a });
    let weighed = newest.map_or(String::new(), |at| format!(", last weighed {}", at.said()));
    format!(
        "{}, {}{weighed}",
        count(test.candidates.kept().count(), "candidate", "candidates"),
        count(test.panels.kept().count(), "panel", "panels"),
    )
}

/// When the oldest reading was made that came after an export; the oldest of all where there was none.
pub fn oldest_reading_since(test: &SprayTest, exported: Option<Instant>) -> Option<Instant> {
    let mut oldest: Option<Instant> = None;
    let mut see = |at: Option<Instant>| {
        if let Some(at) = at.filter(|at| exported.is_none_or(|exported| *at > exported)) {
            oldest = Some(oldest.map_or(at, |known| if at < known { at } else { known }));
        }
    };
    each_reading(test, &mut see);
    oldest
}

/// Shows when each reading was made.
fn each_reading(test: &SprayTest, see: &mut dyn FnMut(Option<Instant>)) {
    for panel in test.panels.kept() {
        panel.bare.kept().for_each(|bare| see(bare.at));
        panel.dabs.kept().for_each(|dab| see(dab.at));
        panel.weigh_ins.kept().for_each(|weigh_in| see(super::moment(test, weigh_in)));
        panel.spots.kept().for_each(|spot| see(spot.at));
    }
    test.blanks.kept().flat_map(|blank| blank.weigh_ins.kept()).for_each(|weigh_in| see(super::moment(test, weigh_in)));
}

/// What to say of a file whose newest reading or coat has not come yet by the clock here.
pub fn ahead_said(test: &SprayTest, now: Instant) -> Option<String> {
    let mut newest: Option<Instant> = None;
    let mut see = |at: Option<Instant>| {
        if let Some(at) = at.filter(|at| newest.is_none_or(|newest| *at > newest)) {
            newest = Some(at);
        }
    };
    each_reading(test, &mut see);
    test.panels.kept().flat_map(|panel| panel.coats.kept()).for_each(|coat| see(coat.at));
    let at = newest.filter(|at| at.hours_since(now) > super::check::AHEAD_H)?;
    Some(format!(
        "Its newest reading is of {}, and here it is {}: set the clock of the phone that is wrong, then correct the times.",
        at.said(),
        now.said(),
    ))
}

/// A moment as it was noted (RFC 3339), in words; what is no moment, as it stands.
pub fn moment_said(noted: &str) -> String {
    noted.parse().map_or_else(|_| noted.to_owned(), Instant::said)
}

/// Hours that readings may wait before the page says that they are on this phone alone.
const WAITS_H: f64 = 24.0;

/// What a coat is told to where nobody said how fine the scale is, g.
const FINE_G: f64 = 0.01;

/// What to say of exports, from the moments as they were noted: when the last was, and whether readings wait for the next.
pub fn export_said(exported: &str, waiting: &str, now: Instant) -> String {
    let exported: Option<Instant> = exported.parse().ok();
    let waiting: Option<Instant> = waiting.parse().ok();
    let last = exported.map_or("Never saved as a file".to_owned(), |at| format!("Last saved as a file {}", at.said()));
    match waiting.filter(|at| now.hours_since(*at) > WAITS_H) {
        Some(at) => format!("{last}; readings since {} are on this phone alone: save or send them.", at.said_day()),
        None => format!("{last}."),
    }
}

/// How long a test waits in the bin.
pub fn binned_said(title: &str, days_left: u32) -> String {
    let days = if days_left == 1 { "one more day".into() } else { format!("{days_left} more days") };
    format!("{title}: erased once this page has been opened on {days}.")
}

/// Share of the gap to the next due time within which a weighing counts for the nearer of the two (design choice).
const COUNTS_WITHIN: f64 = 1.0 / 3.0;

/// The times of the schedule for which nothing was weighed yet, the first one first. A weighing passes over all times before
/// it, and counts for the one it comes a little early for as well.
pub fn open_dues(test: &SprayTest) -> Vec<Instant> {
    let of_panels = test.panels.kept().flat_map(|panel| panel.weigh_ins.kept());
    let weighed =
        of_panels.filter_map(|weigh_in| super::moment(test, weigh_in)).reduce(|a, b| if b > a { b } else { a });
    let mut dues: Vec<Instant> = super::due_times(test).into_iter().filter_map(|due| due.at).collect();
    let Some(weighed) = weighed else { return dues };
    let before = dues.iter().copied().rfind(|due| *due <= weighed);
    dues.retain(|due| *due > weighed);
    let early = |due: &Instant| {
        // Before the first time of all the gap is the one after it.
        let gap_h = before.map(|before| due.hours_since(before)).or(dues.get(1).map(|then| then.hours_since(*due)));
        gap_h.is_some_and(|gap_h| due.hours_since(weighed) <= COUNTS_WITHIN * gap_h)
    };
    if dues.first().is_some_and(early) {
        dues.remove(0);
    }
    dues
}

/// When the schedule next asks for a weigh-in, once anything is weighed.
pub fn next_due(test: &SprayTest) -> Option<Instant> {
    let begun = test.panels.kept().any(|panel| panel.weigh_ins.kept().next().is_some());
    open_dues(test).into_iter().next().filter(|_| begun)
}

/// The same in a sentence: the next one to come, or one whose time has come.
pub fn due_said(test: &SprayTest, now: Instant) -> Option<String> {
    next_due(test).map(|at| due_at_said(at, now))
}

/// A time to weigh as it stands at a moment.
fn due_at_said(at: Instant, now: Instant) -> String {
    if at > now { format!("Due next: {}.", at.said()) } else { format!("Due since {}.", at.said()) }
}

/// The same of a time as it was noted (RFC 3339), for the list of tests; nothing where none was.
pub fn noted_due_said(noted: &str, now: Instant) -> String {
    noted.parse().map_or(String::new(), |at| due_at_said(at, now))
}

/// The button that notes the next coat after so many.
pub fn coat_button(sprayed: usize, candidate: &str) -> String {
    format!("Coat {} of {candidate} sprayed now", sprayed + 1)
}

/// Weigh-ins made outside any round: on spray day.
pub(super) fn outside_rounds(list: &Entries<WeighIn>) -> impl Iterator<Item = &WeighIn> {
    list.kept().filter(|weigh_in| weigh_in.round.is_none())
}

/// The weigh-in made outside any round, which the spray screen fills in: the latest, since an earlier one is a weight
/// between coats.
pub fn wet_weigh_in(test: &SprayTest, owner: &Owner) -> Option<Id> {
    let dated = outside_rounds(owner.weigh_ins(test)?).filter_map(|weigh_in| Some((weigh_in.at?, &weigh_in.id)));
    dated.reduce(|a, b| if b.0 > a.0 { b } else { a }).map(|(_, id)| id.clone())
}

/// What a wet weight says at once: the mass of the coat.
pub fn wet_hint(test: &SprayTest, owner: &Owner, tongue: &Tongue) -> String {
    let coat = || {
        let panel = test.panels.find(owner.panel()?)?;
        let bare_g = panel.latest_bare()?.gross_g?.get();
        let wet_g = panel.weigh_ins.find(&wet_weigh_in(test, owner)?)?.gross_g?.get();
        Some(format!("wet coat {}", tongue.weight(wet_g - bare_g, tongue.division_g.unwrap_or(FINE_G))))
    };
    coat().unwrap_or_default()
}

/// A weight like the next one of a panel or blank, g: its last, wherever it was made; else the last bare weight of another
/// panel, since all are cut from one sheet.
pub fn former_weight(test: &SprayTest, owner: &Owner) -> Option<f64> {
    let own = owner.weigh_ins(test)?.kept().filter_map(|weigh_in| weigh_in.gross_g).next_back();
    let bare = || test.panels.find(owner.panel()?)?.latest_bare()?.gross_g;
    let of_another = || {
        owner.panel()?;
        test.panels.kept().filter_map(|other| other.latest_bare()?.gross_g).next_back()
    };
    own.or_else(bare).or_else(of_another).map(Quantity::get)
}
