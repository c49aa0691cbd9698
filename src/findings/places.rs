//! Where the panels dry: the places they were carried to, the habit of a place that is warm by day only, and the hours
//! spent in each.

use super::card::clock_h;
use super::tongue::duration;
use quantity::Instant;
use record::{Action, Id, Move, SprayTest};

/// Where panels stand until somebody says otherwise.
const FIRST_PLACE: &str = "Shop";

/// Days after which a habit that nobody noted any more has ended.
const LOOK_BACK_DAYS: u32 = 7;

/// Where the panels are as far as anybody noted: where the last of them were carried, else where they were last weighed.
pub fn place_now(test: &SprayTest) -> String {
    let moved = test.moves.kept().filter_map(|r#move| Some((r#move.at?, &r#move.to)));
    let weighed = test.rounds.kept().filter_map(|round| Some((round.at?, &round.place)));
    let named = moved.chain(weighed).filter(|(_, place)| !place.trim().is_empty());
    named.reduce(|a, b| if b.0 > a.0 { b } else { a }).map_or(FIRST_PLACE.into(), |(_, place)| place.clone())
}

/// A move as people tell it: `A1, A2 → Sun, warmer`.
pub fn move_said(test: &SprayTest, id: &Id) -> String {
    let Some(moved) = test.moves.find(id) else { return String::new() };
    let warmer = if moved.warmer { ", warmer" } else { "" };
    format!("{} → {}{warmer}", who(test, &moved.panels), moved.to)
}

/// The newest move with its time; before there is one, how moves are noted.
pub fn last_move_said(test: &SprayTest) -> String {
    let last = in_time(test).last().and_then(|last| Some((last.at?, &last.id)));
    match last {
        Some((at, id)) => format!("Last noted: {} · {}. Its time can be set below.", move_said(test, id), at.said()),
        None => "A place that is warm by day only is two moves a day: note the first day, and the page offers the same for the days after.".into(),
    }
}

/// A place that panels can be carried to with one tap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlaceToCarry {
    /// Its name.
    pub to: String,
    /// Whether it is warmer there than at the start.
    pub warmer: bool,
}

/// Places to offer: those of this test, the sun and the shop, without the one where all panels are.
pub fn places_to_carry(test: &SprayTest) -> Vec<PlaceToCarry> {
    let first = PlaceToCarry { to: first_place(test), warmer: false };
    let sun = PlaceToCarry { to: "Sun".into(), warmer: true };
    let mut places = vec![sun, first];
    for moved in in_time(test) {
        let to = moved.to.trim();
        match places.iter_mut().find(|known| same_place(&known.to, to)) {
            Some(known) => known.warmer = moved.warmer,
            None if to.is_empty() => {}
            None => places.push(PlaceToCarry { to: to.to_owned(), warmer: moved.warmer }),
        }
    }
    let now: Vec<String> = test.panels.kept().map(|panel| place_of(test, &panel.id)).collect();
    places.retain(|place| now.is_empty() || !now.iter().all(|at| same_place(at, &place.to)));
    places
}

/// Two moves a day, out to a warm place and back, that were noted once and may be noted for the days since.
#[derive(Clone, Debug, PartialEq)]
pub struct DayOut {
    /// What to ask.
    pub asks: String,
    /// What the press says.
    pub press: String,
    /// The moves that it notes.
    pub action: Action,
}

/// The habit to offer: the newest move out to a warm place and back within a day, on each full day since that has no move
/// of its own. `None` where there is none.
pub fn day_out(test: &SprayTest, now: Instant) -> Option<DayOut> {
    let moves = in_time(test);
    let (back, out) = (moves.last()?, moves.iter().rev().nth(1)?);
    let (left, came) = (out.at?, back.at?);
    let within_a_day = came.hours_since(left) < 24.0 && left.said_day() == came.said_day();
    if !(out.warmer && !back.warmer && out.panels == back.panels && within_a_day) {
        return None;
    }
    let day = |days: u32| [left, came].map(|at| at.plus_hours(24.0 * f64::from(days)));
    let past = |[_, back]: &[Instant; 2]| *back <= now;
    if clock_h(now) - clock_h(came) > 24.0 * f64::from(LOOK_BACK_DAYS) {
        return None;
    }
    let days: Vec<[Instant; 2]> = (1..=LOOK_BACK_DAYS).map(day).filter(past).collect();
    let newest = days.last()?[0];
    let which = match days.len() {
        1 => newest.said_day(),
        _ => format!("{} to {}", days[0][0].said_day(), newest.said_day()),
    };
    let asks = format!(
        "{} went into the {} at {} and back at {} on {}. The same on {which}?",
        who(test, &out.panels),
        lower(&out.to),
        left.said_time(),
        came.said_time(),
        left.said_day(),
    );
    let press = if days.len() == 1 { "Yes, note it".into() } else { format!("Yes, note these {} days", days.len()) };
    let action = Action::CarryByDay { days, out: out.to.clone(), back: back.to.clone(), panels: out.panels.clone() };
    Some(DayOut { asks, press, action })
}

/// The hours that panels have spent in each place since their last coat, panels with the same hours in one line.
pub fn hours_said(test: &SprayTest, now: Instant) -> Vec<String> {
    let mut lines: Vec<(String, Vec<String>)> = Vec::new();
    for panel in super::in_order(test) {
        let hours = hours_in_places(test, &panel.id, now);
        // In one place all the time: nothing to report.
        if hours.len() < 2 {
            continue;
        }
        let said: Vec<String> = hours.iter().map(|(place, h)| format!("{place} {}", duration(*h))).collect();
        let said = said.join(", ");
        match lines.iter_mut().find(|(known, _)| *known == said) {
            Some((_, labels)) => labels.push(panel.label.clone()),
            None => lines.push((said, vec![panel.label.clone()])),
        }
    }
    let all = test.panels.kept().count();
    let line = |(said, labels): (String, Vec<String>)| {
        let who = if labels.len() == all && all > 1 { "All panels".into() } else { labels.join(", ") };
        format!("{who} so far: {said}.")
    };
    lines.into_iter().map(line).collect()
}

/// Hours in each place from the last coat of a panel until `now`, in the order the places were first seen.
pub fn hours_in_places(test: &SprayTest, panel: &Id, now: Instant) -> Vec<(String, f64)> {
    let Some(from) = test.panels.find(panel).and_then(|panel| {
        let coats = panel.coats.kept().filter_map(|coat| coat.at);
        let weighed = panel.weigh_ins.kept().filter_map(|weigh_in| super::moment(test, weigh_in));
        super::card::latest(coats).or_else(|| weighed.reduce(|a, b| if b < a { b } else { a }))
    }) else {
        return Vec::new();
    };
    let mut hours: Vec<(String, f64)> = Vec::new();
    let mut stay = |place: &str, h: f64| match hours.iter_mut().find(|(known, _)| same_place(known, place)) {
        Some((_, sum)) => *sum += h,
        None => hours.push((place.to_owned(), h)),
    };
    let (mut place, mut since) = (first_place(test), from);
    for moved in in_time(test).into_iter().filter(|m| concerns(m, panel)) {
        let Some(at) = moved.at.filter(|at| *at <= now) else { continue };
        if at > since {
            stay(&place, at.hours_since(since));
            since = at;
        }
        place = moved.to.trim().to_owned();
    }
    if now > since {
        stay(&place, now.hours_since(since));
    }
    hours
}

/// Where a panel is: the place of its last move, else where panels begin.
pub(super) fn place_of(test: &SprayTest, panel: &Id) -> String {
    let moves = in_time(test);
    let last = moves.iter().rev().find(|m| concerns(m, panel) && !m.to.trim().is_empty());
    last.map_or_else(|| first_place(test), |m| m.to.trim().to_owned())
}

fn concerns(moved: &Move, panel: &Id) -> bool {
    moved.panels.is_empty() || moved.panels.contains(panel)
}

/// Where the panels were first weighed.
fn first_place(test: &SprayTest) -> String {
    let named = test.rounds.kept().filter(|round| !round.place.trim().is_empty() && round.at.is_some());
    let first = named.reduce(|a, b| if b.at < a.at { b } else { a });
    let moved_before = |at: Option<Instant>| test.moves.kept().any(|m| m.at.is_some() && m.at <= at);
    match first {
        Some(round) if !moved_before(round.at) => round.place.trim().to_owned(),
        _ => FIRST_PLACE.into(),
    }
}

/// Dated moves in time order.
fn in_time(test: &SprayTest) -> Vec<&Move> {
    let mut moves: Vec<&Move> = test.moves.kept().filter(|m| m.at.is_some()).collect();
    order::sort_by(&mut moves, |a, b| {
        a.at.partial_cmp(&b.at).unwrap_or(std::cmp::Ordering::Equal).then_with(|| a.id.cmp(&b.id))
    });
    moves
}

fn same_place(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

fn lower(place: &str) -> String {
    place.trim().to_lowercase()
}

/// Which panels, as said.
fn who(test: &SprayTest, panels: &[Id]) -> String {
    if panels.is_empty() {
        return "All panels".into();
    }
    let labels: Vec<&str> =
        panels.iter().filter_map(|id| test.panels.find(id)).map(|panel| panel.label.as_str()).collect();
    labels.join(", ")
}

/// What to mind when the panels of a round come from a warm place and nobody has said yet that they are cool.
pub fn cool_first(test: &SprayTest, round: &Id) -> Option<String> {
    let round = test.rounds.find(round).filter(|round| !round.cooled)?;
    let at = round.at?;
    let moved = test.moves.kept().filter(|m| m.at.is_some_and(|moved| moved <= at));
    let last = moved.reduce(|a, b| if b.at > a.at { b } else { a })?;
    // Carried back long enough ago, they are as cool as the shop.
    let still_warm = last.warmer || at.hours_since(last.at?) < COOL_H && warm_before(test, last.at?);
    still_warm.then(|| {
        let place = last.to.trim().to_lowercase();
        let from = if last.warmer { format!("the {place}") } else { "the warm place".into() };
        format!("The panels come from {from}: are they cool to the hand? A warm panel reads light and stirs the air over the pan.")
    })
}

/// Hours in which a steel panel carried back into the shop cools to the hand (common practice: an hour is ample).
const COOL_H: f64 = 1.0;

fn warm_before(test: &SprayTest, at: Instant) -> bool {
    let earlier = test.moves.kept().filter(|m| m.at.is_some_and(|moved| moved < at));
    earlier.reduce(|a, b| if b.at > a.at { b } else { a }).is_some_and(|m| m.warmer)
}
