//! What stands beside the fields in which weights, coats and places are entered.

use super::panel::PanelFindings;
use super::tongue::Tongue;
use crate::quantity::{Instant, Quantity, Unit, decimals_for, figure};
use crate::record::{Entries, Id, Spot, SprayTest, WeighIn};

/// A test in a few words, for the list of tests.
pub fn about(test: &SprayTest) -> String {
    let count = |n: usize, one: &str, many: &str| if n == 1 { format!("1 {one}") } else { format!("{n} {many}") };
    let newest = test.rounds.kept().filter_map(|round| round.at).reduce(|a, b| if b > a { b } else { a });
    let weighed = newest.map_or(String::new(), |at| format!(", last weighed {}", at.said()));
    let due = next_due(test).map_or(String::new(), |at| format!(", weigh next {}", at.said()));
    format!(
        "{}, {}{weighed}{due}",
        count(test.candidates.kept().count(), "candidate", "candidates"),
        count(test.panels.kept().count(), "panel", "panels"),
    )
}

/// When the schedule next asks for a weigh-in: its first time after everything weighed so far.
pub fn next_due(test: &SprayTest) -> Option<Instant> {
    let of_panels = test.panels.kept().flat_map(|panel| panel.weigh_ins.kept());
    let weighed =
        of_panels.filter_map(|weigh_in| super::moment(test, weigh_in)).reduce(|a, b| if b > a { b } else { a })?;
    super::due_times(test).into_iter().filter_map(|due| due.at).find(|at| *at > weighed)
}

/// Where the panels are as far as anybody noted: where the last of them were carried, else where they were last weighed.
pub fn place_now(test: &SprayTest) -> String {
    let moved = test.moves.kept().filter_map(|r#move| Some((r#move.at?, &r#move.to)));
    let weighed = test.rounds.kept().filter_map(|round| Some((round.at?, &round.place)));
    let named = moved.chain(weighed).filter(|(_, place)| !place.trim().is_empty());
    named.reduce(|a, b| if b.0 > a.0 { b } else { a }).map_or("Shop".into(), |(_, place)| place.clone())
}

/// Hours about its round within which a weighing is taken as made at the moment it is typed; a round entered later has
/// its own time.
const LIVE_H: f64 = 3.0;

/// The time of a weighing typed now into a round.
pub fn weigh_time(round: Option<Instant>, now: Instant) -> Instant {
    match round {
        Some(at) if now.hours_since(at).abs() > LIVE_H => at,
        _ => now,
    }
}

/// What to know at the scale: the weight before, and what the curve expects now; once weighed, the change and what is odd.
pub fn weighing_hint(test: &SprayTest, panel: &PanelFindings, round: &Id, at: Instant, tongue: &Tongue) -> String {
    let lines = super::readings(test, panel, tongue);
    let weigh_ins = test.panels.find(&panel.id).map(|panel| &panel.weigh_ins);
    let in_round = |id: &Id| weigh_ins.and_then(|list| list.find(id)).is_some_and(|w| w.round.as_ref() == Some(round));
    if let Some(place) = lines.iter().position(|line| in_round(&line.id)) {
        let line = &lines[place];
        let says = line.flag.as_ref().map(|flag| flag.says.clone());
        let says = says.or_else(|| super::judge::odd(panel, &line.id, tongue));
        let flag = says.map_or(String::new(), |says| format!(" {says}"));
        return if line.change.is_empty() { flag } else { format!("{} since the last.{flag}", line.change) };
    }
    let before = lines.iter().rfind(|line| line.at <= at);
    let was = before.map_or(String::new(), |line| format!("was {}", line.weight));
    match &panel.work.forecast {
        Ok(forecast) => {
            let expected = forecast.reading_at(super::card::clock_h(at));
            let division = panel.work.card.division_g();
            let (low, high) = (tongue.bare_weight(expected.low, division), tongue.weight(expected.high, division));
            format!("{was}; the curve expects {low} to {high}")
        }
        Err(_) => was,
    }
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
pub fn wet_weigh_in(test: &SprayTest, owner: &Id) -> Option<Id> {
    let list = match test.panels.find(owner) {
        Some(panel) => &panel.weigh_ins,
        None => &test.blanks.find(owner)?.weigh_ins,
    };
    let dated = outside_rounds(list).filter_map(|weigh_in| Some((weigh_in.at?, &weigh_in.id)));
    dated.reduce(|a, b| if b.0 > a.0 { b } else { a }).map(|(_, id)| id.clone())
}

/// What a wet weight says at once: the mass of the coat.
pub fn wet_hint(test: &SprayTest, owner: &Id, tongue: &Tongue) -> String {
    let coat = || {
        let panel = test.panels.find(owner)?;
        let bare_g = panel.latest_bare()?.gross_g?.get();
        let wet_g = panel.weigh_ins.find(&wet_weigh_in(test, owner)?)?.gross_g?.get();
        Some(format!("wet coat {}", tongue.weight(wet_g - bare_g, 0.01)))
    };
    coat().unwrap_or_default()
}

/// Rounds, the newest first; a round without a time stands last.
pub fn rounds_newest_first(test: &SprayTest) -> Vec<Id> {
    let mut rounds: Vec<_> = test.rounds.kept().collect();
    crate::order::sort_by(&mut rounds, |a, b| {
        b.at.partial_cmp(&a.at).unwrap_or(std::cmp::Ordering::Equal).then(b.stamp.cmp(&a.stamp))
    });
    rounds.into_iter().map(|round| round.id.clone()).collect()
}

/// A round as people name it: `Round 6 · Thu 5 Mar 07:40 · Shop`.
pub fn round_said(test: &SprayTest, id: &Id) -> String {
    let order = rounds_newest_first(test);
    let number = order.iter().rev().position(|known| known == id).map_or(0, |place| place + 1);
    let round = test.rounds.find(id);
    let at = round.and_then(|round| round.at).map_or("no time".into(), Instant::said);
    let place = round.map(|round| round.place.trim()).filter(|place| !place.is_empty());
    let place = place.map_or(String::new(), |place| format!(" · {place}"));
    format!("Round {number} · {at}{place}")
}

/// A move as people tell it: `A1, A2 → Sun, warmer`.
pub fn move_said(test: &SprayTest, id: &Id) -> String {
    let Some(moved) = test.moves.find(id) else { return String::new() };
    let labels: Vec<&str> =
        moved.panels.iter().filter_map(|id| test.panels.find(id)).map(|panel| panel.label.as_str()).collect();
    let who = if moved.panels.is_empty() { "All panels".into() } else { labels.join(", ") };
    format!("{who} → {}{}", moved.to, if moved.warmer { ", warmer" } else { "" })
}

/// A spot as people tell it: `120 µm from 118, 121, 120`.
pub fn spot_said(spot: &Spot, tongue: &Tongue) -> String {
    let readings: Vec<f64> = spot.readings_um.iter().map(|um| um.get()).collect();
    let Ok(summary) = crate::science::film::spot(&readings) else { return "no readings".into() };
    let film = tongue.units.film;
    let mean = figure(film.shown(summary.mean), decimals_for(film.shown(summary.mean)));
    let each: Vec<String> = spot.readings_um.iter().map(|um| tongue.bare_tooth(um.get())).collect();
    format!("{mean} {} from {}", film.symbol(), each.join(", "))
}
