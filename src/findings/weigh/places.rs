//! Carrying panels: what was noted, and what to offer.

use crate::facts::{clock_h, first_place, hours_in_places, in_test, in_time, newest, place_of, same_place};
use crate::words::duration;
use quantity::Instant;
use record::{Action, Id, SprayTest};

/// Days after which a habit that nobody noted any more has ended.
const LOOK_BACK_DAYS: u32 = 7;

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
    let now: Vec<String> = in_test(test).into_iter().map(|panel| place_of(test, &panel.id)).collect();
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
    let action = Action::CarryByDay { days, out: out.to.clone(), back: back.to.clone(), panels: out.panels.to_vec() };
    Some(DayOut { asks, press, action })
}

/// The hours that the panels of the test have spent in each place since their last coat, those with the same hours in one line.
pub fn hours_said(test: &SprayTest, now: Instant) -> Vec<String> {
    let mut lines: Vec<(String, Vec<String>)> = Vec::new();
    let panels = in_test(test);
    for panel in &panels {
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
    let all = panels.len();
    let line = |(said, labels): (String, Vec<String>)| {
        let who = if labels.len() == all && all > 1 { "All panels".into() } else { labels.join(", ") };
        format!("{who} so far: {said}.")
    };
    lines.into_iter().map(line).collect()
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
    let (carried, last) = newest(test.moves.kept().filter_map(|m| Some((m.at.filter(|moved| *moved <= at)?, m))))?;
    // Carried back long enough ago, they are as cool as the shop.
    let still_warm = last.warmer || at.hours_since(carried) < COOL_H && warm_before(test, carried);
    still_warm.then(|| {
        let place = last.to.trim().to_lowercase();
        let from = if last.warmer { format!("the {place}") } else { "the warm place".into() };
        format!("The panels come from {from}: are they cool to the hand? A warm panel reads light and stirs the air over the pan.")
    })
}

/// Hours in which a steel panel carried back into the shop cools to the hand (common practice: an hour is ample).
const COOL_H: f64 = 1.0;

fn warm_before(test: &SprayTest, at: Instant) -> bool {
    let earlier = test.moves.kept().filter_map(|m| Some((m.at.filter(|moved| *moved < at)?, m)));
    newest(earlier).is_some_and(|(_, m)| m.warmer)
}
