//! A visit to the scale: whom it walks past, what stands beside each weight, and how the weight just typed is judged.

use std::collections::BTreeMap;

use super::judge;
use super::memory::Panels;
use super::mistaken;
use super::panel::PanelFindings;
use super::tables::reading;
use super::together::MovedTogether;
use super::tongue::Tongue;
use super::verdict::{Flag, GAINS, MOVED, WAITS};
use quantity::{Instant, Quantity};
use record::{Address, Entries, Id, Owner, Round, SprayTest, WeighIn};
use science::drying::Doubt;

/// Hours about its round within which a weighing is taken as made at the moment it is typed. In a round entered later, or
/// opened to add to it, it has the round's time; in one that was left open it begins a new round ([`round_is_old`]).
const LIVE_H: f64 = 3.0;

/// The time of a weighing typed now into a round that was opened to add to it.
pub fn weigh_time(round: Option<Instant>, now: Instant) -> Instant {
    match round {
        Some(at) if now.hours_since(at).abs() > LIVE_H => at,
        _ => now,
    }
}

/// A stop on the walk through a round.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// The blank or panel weighed here.
    pub owner: Owner,
    /// Its name.
    pub label: String,
    /// What it carries; nothing for a blank.
    pub candidate: Option<Id>,
    /// Its weighing in this round, once it is made.
    pub weigh_in: Option<Id>,
    /// What the scale showed, as said, and whether it was set aside.
    pub weight: String,
}

/// The walk through a round: the blanks of its scale, then the panels by their places in the rack.
pub fn stops(test: &SprayTest, round: &Id, tongue: &Tongue) -> Vec<Stop> {
    let scale = test.rounds.find(round).and_then(|round| round.balance.as_ref());
    let stop = |owner: Owner, label: &str, candidate: Option<&Id>, list: &Entries<WeighIn>| {
        let made = list.kept().find(|weigh_in| weigh_in.round.as_ref() == Some(round));
        let gross_g = made.and_then(|weigh_in| weigh_in.gross_g).map(Quantity::get);
        let unit = quantity::Unit::symbol(tongue.units.mass);
        let aside = if made.is_some_and(|made| made.set_aside.is_some()) { ", set aside" } else { "" };
        let weight = gross_g.map_or(String::new(), |g| format!("{} {unit}{aside}", tongue.typed_weight(g)));
        let weigh_in = made.map(|weigh_in| weigh_in.id.clone());
        Stop { owner, label: label.to_owned(), candidate: candidate.cloned(), weigh_in, weight }
    };
    let mut walk = Vec::new();
    for blank in test.blanks.kept() {
        if blank.balance.is_none() || scale.is_none() || blank.balance.as_ref() == scale {
            walk.push(stop(Owner::Blank(blank.id.clone()), &blank.label, None, &blank.weigh_ins));
        }
    }
    for panel in super::in_rack(test) {
        walk.push(stop(Owner::Panel(panel.id.clone()), &panel.label, panel.candidate.as_ref(), &panel.weigh_ins));
    }
    walk
}

/// Whose turn it is after `last`: the next on the walk that is not weighed yet, those passed over at the end.
pub fn next_stop(walk: &[Stop], last: Option<&Owner>) -> Option<Owner> {
    let from = last.and_then(|last| walk.iter().position(|stop| stop.owner == *last)).map_or(0, |place| place + 1);
    let (before, after) = walk.split_at(from);
    after.iter().chain(before).find(|stop| stop.weigh_in.is_none()).map(|stop| stop.owner.clone())
}

/// How far a round has come: `3 of 7 weighed`.
pub fn progress_said(walk: &[Stop]) -> String {
    done_of(walk.iter().filter(|stop| stop.weigh_in.is_some()).count(), walk.len())
}

fn done_of(done: usize, all: usize) -> String {
    if done == all { format!("all {done} weighed") } else { format!("{done} of {all} weighed") }
}

/// The round that is still being walked: the one noted last of those begun within the last hours and not at their end.
pub fn round_under_way(test: &SprayTest, now: Instant, tongue: &Tongue) -> Option<Id> {
    let about_now = |at: Instant| now.hours_since(at).abs() <= LIVE_H;
    let newest = test.rounds.kept().rfind(|round| round.at.is_some_and(about_now))?;
    next_stop(&stops(test, &newest.id, tongue), None).map(|_| newest.id.clone())
}

/// Whether a round was begun too long ago to be the one that is being walked.
pub fn round_is_old(test: &SprayTest, round: &Id, now: Instant) -> bool {
    let begun = test.rounds.find(round).and_then(|round| round.at);
    begun.is_some_and(|begun| now.hours_since(begun) > LIVE_H)
}

/// Whether the time of a round was corrected by hand: what is typed into it is meant to have that time too.
pub fn round_is_dated(test: &SprayTest, round: &Id) -> bool {
    test.rounds.find(round).is_some_and(|round| round.edited.contains_key("at"))
}

/// What to mind when weights are typed into a round of earlier.
pub fn old_round_said(test: &SprayTest, round: &Id, now: Instant) -> Option<String> {
    let at = test.rounds.find(round)?.at.filter(|_| round_is_old(test, round, now))?;
    Some(format!("What you type here counts as weighed {}. To weigh now, close it and begin a round.", at.said()))
}

/// What is said when a weight typed into a round that was left open began a new one.
pub fn new_round_said(test: &SprayTest, old: &Id) -> String {
    let at = test.rounds.find(old).and_then(|round| round.at).map_or(String::new(), Instant::said);
    format!("The round of {at} was over: this weight begins a new one.")
}

/// What is said beside a weight, and whether it asks for another look while the panel is still in hand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Judged {
    /// In sentences; nothing where there is nothing to compare with.
    pub said: String,
    /// Whether something is odd.
    pub odd: bool,
}

impl Judged {
    pub(super) fn fine(said: String) -> Self {
        Self { said, odd: false }
    }

    pub(super) fn odd(said: String) -> Self {
        Self { said, odd: true }
    }
}

/// What stands beside the weight of a panel or blank in a round: before it is typed what was and what the curve expects,
/// afterwards the change and what is odd about it.
///
/// Of a panel that waits what it was is said, and that the rest follows.
pub fn judged(test: &SprayTest, panels: &Panels, owner: &Owner, round: &Id, now: Instant, tongue: &Tongue) -> Judged {
    let at = weigh_time(test.rounds.find(round).and_then(|round| round.at), now);
    let moved = || MovedTogether::of(test, &panels.told, round);
    let judged = match owner {
        Owner::Blank(blank) => {
            let judged = judge::blank(test, blank, round, at, tongue);
            match moved() {
                Some(moved) if !judged.odd => Judged::fine(sentences(moved.said(tongue), &judged.said)),
                _ => judged,
            }
        }
        Owner::Panel(id) if panels.waits(id) => Judged::fine(waiting_said(test, owner, round, at, tongue)),
        Owner::Panel(id) => {
            let judged = |panel| panel_judged(test, panel, moved().as_ref(), round, at, tongue);
            panels.panel(id).map_or_else(Judged::default, judged)
        }
    };
    // Another panel on the scale is a likelier tale than a jump of it or a lost chip.
    let another = judged.odd && !looks_swapped(test, panels, owner, round);
    let whose = another.then(|| mistaken::whose(test, panels, owner, round, at)).flatten();
    whose.map_or(judged, |name| Judged::odd(format!("That is what {name} should weigh: is {name} on the scale?")))
}

/// Whether a weight of the round is known already to be that of another, which can be exchanged.
fn looks_swapped(test: &SprayTest, panels: &Panels, owner: &Owner, round: &Id) -> bool {
    let weigh_in = weigh_in_of(test, owner, round);
    let flags = owner.panel().and_then(|id| panels.panel(id)).map_or(&[][..], |panel| &panel.flags[..]);
    flags.iter().any(|flag| Some(&flag.weigh_in) == weigh_in.as_ref() && flag.swap_with.is_some())
}

/// A sentence and what follows it, if anything does.
fn sentences(first: String, then: &str) -> String {
    if then.is_empty() { first } else { format!("{first} {then}") }
}

/// What stands beside a panel that is still to be worked out.
fn waiting_said(test: &SprayTest, owner: &Owner, round: &Id, at: Instant, tongue: &Tongue) -> String {
    let before = |weigh_in: &&WeighIn| weigh_in.round.as_ref() != Some(round) && weigh_in.set_aside.is_none();
    let weighed = |weigh_in: &WeighIn| Some((super::moment(test, weigh_in)?, weigh_in.gross_g?.get()));
    let earlier = owner.weigh_ins(test).into_iter().flat_map(|list| list.kept()).filter(before).filter_map(weighed);
    let last = earlier.filter(|(known, _)| *known <= at).reduce(|a, b| if b.0 > a.0 { b } else { a });
    let unit = quantity::Unit::symbol(tongue.units.mass);
    match last {
        Some((_, g)) if weigh_in_of(test, owner, round).is_none() => {
            format!("was {} {unit}; working the curve out …", tongue.typed_weight(g))
        }
        _ => "Working it out …".into(),
    }
}

/// Whether a weight of a round is to be looked at again: flagged, heavier than before, or of a blank that drifted. Quick
/// enough to ask of everyone on the walk.
pub fn look_again(test: &SprayTest, panels: &Panels, owner: &Owner, round: &Id, now: Instant, tongue: &Tongue) -> bool {
    let panel = match owner {
        Owner::Blank(blank) => return judge::blank(test, blank, round, now, tongue).odd,
        Owner::Panel(id) => panels.panel(id),
    };
    let Some((panel, weigh_in)) = panel.zip(weigh_in_of(test, owner, round)) else { return false };
    match panel.flags.iter().find(|flag| flag.weigh_in == weigh_in) {
        // What a person set aside they have looked at.
        Some(flag) if !waits(flag) => flag.kind != "set_aside" && flag.kind != MOVED && flag.kind != GAINS,
        _ => {
            let moved =
                || MovedTogether::of(test, &panels.told, round).is_some_and(|moved| moved.holds(&panel.id, &weigh_in));
            judge::heavier(panel, &weigh_in) && !moved()
        }
    }
}

/// Whether all that is the matter with a weight is its scale: the blank is to be looked at, and not the panel.
fn waits(flag: &Flag) -> bool {
    flag.kind == WAITS
}

/// What is said of the weight of a panel whose findings are at hand, weighed at `at`.
fn panel_judged(
    test: &SprayTest,
    panel: &PanelFindings,
    moved: Option<&MovedTogether>,
    round: &Id,
    at: Instant,
    tongue: &Tongue,
) -> Judged {
    let card = &panel.work.card;
    let weigh_ins = test.panels.find(&panel.id).map(|panel| &panel.weigh_ins);
    let in_round = |id: &Id| weigh_ins.and_then(|list| list.find(id)).is_some_and(|w| w.round.as_ref() == Some(round));
    let place = card.weigh_ins.iter().position(|(id, _)| in_round(id));
    if let Some(line) = place.and_then(|place| reading(test, panel, place, tongue)) {
        let drift = line.without_drift.as_ref().map_or(String::new(), |said| format!(", {said}"));
        let change =
            if line.change.is_empty() { String::new() } else { format!("{} since the last{drift}", line.change) };
        // Not the panel's fault: it waits for the blank, or rises as its primer does.
        let waits = line.flag.as_ref().is_some_and(|flag| waits(flag) || flag.kind == GAINS);
        if let Some(moved) = moved.filter(|moved| !waits && moved.holds(&panel.id, &line.id)) {
            let said = moved.said(tongue);
            return Judged::fine(if change.is_empty() { said } else { format!("{change}. {said}") });
        }
        let says = line.flag.as_ref().map(|flag| flag.says.clone());
        return match says.filter(|_| !waits).or_else(|| judge::odd(panel, &line.id, tongue)) {
            None if waits => {
                let says = line.flag.map_or(String::new(), |flag| flag.says);
                Judged::fine(if change.is_empty() { says } else { format!("{change}. {says}") })
            }
            Some(says) if change.is_empty() => Judged::odd(says),
            Some(says) => Judged::odd(format!("{change}. {says}")),
            None if change.is_empty() => Judged::default(),
            None if panel.work.forecast.is_ok() => Judged::fine(format!("{change}, as the curve has it.")),
            None => Judged::fine(format!("{change}.")),
        };
    }
    let at_h = super::card::clock_h(at);
    let division = card.division_g();
    let was = card.weigh_ins.iter().rfind(|(_, weighing)| weighing.t_h <= at_h);
    let was = was.map(|(_, weighing)| format!("was {}", tongue.weight(weighing.gross_g, division)));
    let expected = panel.work.forecast.as_ref().ok().map(|forecast| {
        let balance = card.number_of(test, round);
        let doubt = forecast.doubt_at(balance, at_h);
        // What the scale will show: a jump that nothing confirms yet is the likelier reading of a blank just weighed.
        let by_g = forecast.drift_at_g(balance, at_h) + doubt.map_or(0.0, Doubt::by_g);
        let moved = moved.filter(|moved| !moved.blank_stood());
        let by_g = by_g + moved.map_or(0.0, |moved| moved.by_g);
        let expected = forecast.reading_at(at_h).moved(by_g);
        let (low, high) = (tongue.bare_weight(expected.low, division), tongue.weight(expected.high, division));
        let jumped = match (doubt, moved) {
            (Some(_), _) => " if the scale jumped",
            (None, Some(_)) => " if it moved like the others",
            (None, None) => "",
        };
        format!("the curve expects {low} to {high}{jumped}")
    });
    let parts: Vec<String> = was.into_iter().chain(expected).collect();
    Judged::fine(parts.join("; "))
}

/// Rounds, the newest first; a round without a time stands last.
pub fn rounds_newest_first(test: &SprayTest) -> Vec<Id> {
    newest_first(test).into_iter().map(|round| round.id.clone()).collect()
}

fn newest_first(test: &SprayTest) -> Vec<&Round> {
    let mut rounds: Vec<_> = test.rounds.kept().collect();
    order::sort_by(&mut rounds, |a, b| {
        b.at.partial_cmp(&a.at).unwrap_or(std::cmp::Ordering::Equal).then(b.stamp.cmp(&a.stamp))
    });
    rounds
}

/// A round as people name it: `Round 6 · Thu 5 Mar 07:40 · Shop`.
pub fn round_said(test: &SprayTest, id: &Id) -> String {
    rounds_said(test).remove(id).unwrap_or_default()
}

/// All rounds as people name them: at once, since each is counted among the others.
pub fn rounds_said(test: &SprayTest) -> BTreeMap<&Id, String> {
    let mut said = BTreeMap::new();
    for (place, round) in newest_first(test).into_iter().rev().enumerate() {
        let at = round.at.map_or("no time".into(), Instant::said);
        let place_said = round.place.trim();
        let dot = if place_said.is_empty() { "" } else { " · " };
        said.insert(&round.id, format!("Round {} · {at}{dot}{place_said}", place + 1));
    }
    said
}

/// The same, each with how far it has come: `Round 6 · Thu 5 Mar 07:40 · Shop, 3 of 7 weighed`.
pub fn rounds_with_progress(test: &SprayTest) -> BTreeMap<Id, String> {
    let panels = test.panels.kept().map(|panel| (None, &panel.weigh_ins));
    let blanks = test.blanks.kept().map(|blank| (blank.balance.as_ref(), &blank.weigh_ins));
    let owners: Vec<_> = panels.chain(blanks).collect();
    // One look at all weigh-ins, and not one a round.
    let mut weighed: BTreeMap<&Id, Vec<usize>> = BTreeMap::new();
    for (owner, (_, list)) in owners.iter().enumerate() {
        for round in list.kept().filter_map(|weigh_in| weigh_in.round.as_ref()) {
            let owners = weighed.entry(round).or_default();
            if owners.last() != Some(&owner) && !owners.contains(&owner) {
                owners.push(owner);
            }
        }
    }
    let mut told = BTreeMap::new();
    for (id, said) in rounds_said(test) {
        let scale = test.rounds.find(id).and_then(|round| round.balance.as_ref());
        let on_walk = |owner: &usize| owners[*owner].0.is_none() || scale.is_none() || owners[*owner].0 == scale;
        let done = weighed.get(id).map_or(0, |owners| owners.iter().filter(|owner| on_walk(owner)).count());
        let all = (0..owners.len()).filter(on_walk).count();
        told.insert(id.clone(), [&said, ", ", &done_of(done, all)].concat());
    }
    told
}

/// The round begun at that moment: of several, the one noted last.
pub fn round_begun_at(test: &SprayTest, at: Instant) -> Option<Id> {
    let order = rounds_newest_first(test);
    order.into_iter().find(|id| test.rounds.find(id).is_some_and(|round| round.at == Some(at)))
}

/// The weigh-in that a panel or blank has in a round.
pub fn weigh_in_of(test: &SprayTest, owner: &Owner, round: &Id) -> Option<Id> {
    let of_round = |weigh_in: &&WeighIn| weigh_in.round.as_ref() == Some(round);
    owner.weigh_ins(test)?.kept().find(of_round).map(|weigh_in| weigh_in.id.clone())
}

/// The round in which a weigh-in was made; none for one of spray day.
pub fn round_of(test: &SprayTest, owner: &Owner, weigh_in: &Id) -> Option<Id> {
    owner.weigh_ins(test)?.find(weigh_in)?.round.clone()
}

/// Weights that stand in no round.
#[derive(Clone, Debug, PartialEq)]
pub struct Stray {
    /// The round that they name.
    pub round: Id,
    /// What to say of them.
    pub said: String,
    /// Where the round stands, if it was taken out and can be brought back.
    pub back: Option<Address>,
}

/// Weights whose round was taken out, as on another phone while they were typed, or never was in this test.
pub fn strays(test: &SprayTest) -> Vec<Stray> {
    let panels = test.panels.kept().flat_map(|panel| panel.weigh_ins.kept());
    let of_all = panels.chain(test.blanks.kept().flat_map(|blank| blank.weigh_ins.kept()));
    let mut rounds: Vec<(&Id, usize)> = Vec::new();
    for round in of_all.filter_map(|weigh_in| weigh_in.round.as_ref()).filter(|id| test.rounds.find(id).is_none()) {
        match rounds.iter_mut().find(|(known, _)| *known == round) {
            Some((_, count)) => *count += 1,
            None => rounds.push((round, 1)),
        }
    }
    let stray = |(id, count): (&Id, usize)| {
        let removed = test.rounds.all().iter().find(|round| round.id == *id);
        let weights = if count == 1 { "1 weight counts".to_owned() } else { format!("{count} weights count") };
        let said = match removed.map(|round| round.at) {
            Some(Some(at)) => format!("{weights} that belong to the removed round of {}.", at.said()),
            Some(None) => format!("{weights} that belong to a removed round."),
            None => format!("{weights} that belong to no round in this test."),
        };
        Stray { round: id.clone(), said, back: removed.map(|round| Address::round(&round.id)) }
    };
    rounds.into_iter().map(stray).collect()
}

/// Reasons a painter sets a weight aside for, most common first.
pub const SET_ASIDE_FOR: [&str; 6] = [
    "misread or mistyped",
    "the scale had drifted",
    "another panel was on the scale",
    "damp, dust or a touch",
    "the panel was warm",
    "it fell, or lost a chip",
];

/// How to weigh, said before a round is begun.
pub const HOW_TO_WEIGH: &str =
    "Scale level and warmed up, out of draughts, zeroed; the panels cool to the hand. Blank first, then the rack.";
