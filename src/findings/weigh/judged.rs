//! What stands beside a weight in a round, and whether it asks for another look.

use super::judge::{Judged, blank_judged, odd_weight};
use super::mistaken::whose_weight;
use super::rounds::weigh_time;
use crate::facts::{clock_h, moment, newest, weigh_in_of};
use crate::told::{Flag, FlagKind, MovedTogether, PanelFindings, Panels, heavier};
use crate::words::{Wording, reading_line};
use quantity::{Instant, Quantity};
use record::{Id, Owner, SprayTest, WeighIn};
use science::drying::Doubt;

/// What stands beside the weight of a panel or blank in a round: before it is typed what was and what the curve expects,
/// afterwards the change and what is odd about it.
///
/// Of a panel that waits what it was is said, and that the rest follows.
pub fn judged(test: &SprayTest, panels: &Panels, owner: &Owner, round: &Id, now: Instant, wording: &Wording) -> Judged {
    let at = weigh_time(test.rounds.find(round).and_then(|round| round.at), now);
    let moved = || MovedTogether::of(test, &panels.told, round);
    let judged = match owner {
        Owner::Blank(blank) => {
            let judged = blank_judged(test, blank, round, at, wording);
            match moved() {
                Some(moved) if !judged.odd => Judged::fine(sentences(moved.said(wording), &judged.said)),
                _ => judged,
            }
        }
        Owner::Panel(id) if panels.waits(id) => Judged::fine(waiting_said(test, owner, round, at, wording)),
        Owner::Panel(id) => {
            let judged = |panel| panel_judged(test, panel, moved().as_ref(), round, at, wording);
            panels.panel(id).map_or_else(Judged::default, judged)
        }
    };
    // Another panel on the scale is a likelier tale than a jump of it or a lost chip.
    let another = judged.odd && !looks_swapped(test, panels, owner, round);
    let whose = another.then(|| whose_weight(test, panels, owner, round, at)).flatten();
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
fn waiting_said(test: &SprayTest, owner: &Owner, round: &Id, at: Instant, wording: &Wording) -> String {
    let before = |weigh_in: &&WeighIn| weigh_in.round.as_ref() != Some(round) && weigh_in.set_aside.is_none();
    let weighed = |weigh_in: &WeighIn| Some((moment(test, weigh_in)?, weigh_in.gross_g?.get()));
    let earlier = owner.weigh_ins(test).into_iter().flat_map(|list| list.kept()).filter(before).filter_map(weighed);
    let last = newest(earlier.filter(|(known, _)| *known <= at));
    let unit = quantity::Unit::symbol(wording.units.mass);
    match last {
        Some((_, g)) if weigh_in_of(test, owner, round).is_none() => {
            format!("was {} {unit}; working the curve out …", wording.typed_weight(g))
        }
        _ => "Working it out …".into(),
    }
}

/// Whether a weight of a round is to be looked at again: flagged, heavier than before, or of a blank that drifted. Quick
/// enough to ask of everyone on the walk.
pub fn look_again(
    test: &SprayTest,
    panels: &Panels,
    owner: &Owner,
    round: &Id,
    now: Instant,
    wording: &Wording,
) -> bool {
    let panel = match owner {
        Owner::Blank(blank) => return blank_judged(test, blank, round, now, wording).odd,
        Owner::Panel(id) => panels.panel(id),
    };
    let Some((panel, weigh_in)) = panel.zip(weigh_in_of(test, owner, round)) else { return false };
    match panel.flags.iter().find(|flag| flag.weigh_in == weigh_in) {
        // What a person set aside they have looked at.
        Some(flag) if !waits(flag) => {
            matches!(flag.kind, FlagKind::OffTheCurve | FlagKind::LooksSwapped | FlagKind::Unreadable)
        }
        _ => {
            let moved =
                || MovedTogether::of(test, &panels.told, round).is_some_and(|moved| moved.holds(&panel.id, &weigh_in));
            heavier(panel, &weigh_in) && !moved()
        }
    }
}

/// Whether all that is the matter with a weight is its scale: the blank is to be looked at, and not the panel.
fn waits(flag: &Flag) -> bool {
    flag.kind == FlagKind::WaitsForTheBlank
}

/// What is said of the weight of a panel whose findings are at hand, weighed at `at`.
fn panel_judged(
    test: &SprayTest,
    panel: &PanelFindings,
    moved: Option<&MovedTogether>,
    round: &Id,
    at: Instant,
    wording: &Wording,
) -> Judged {
    let card = &panel.work.card;
    let weigh_ins = test.panels.find(&panel.id).map(|panel| &panel.weigh_ins);
    let in_round = |id: &Id| weigh_ins.and_then(|list| list.find(id)).is_some_and(|w| w.round.as_ref() == Some(round));
    let own = panel.work.readings.iter().find(|reading| in_round(&reading.id));
    if let Some(line) = own.and_then(|own| reading_line(test, panel, own, wording)) {
        let drift = line.without_drift.as_ref().map_or(String::new(), |said| format!(", {said}"));
        let change = if line.change.is_empty() {
            String::new()
        } else {
            format!("{} {} since the last{drift}", line.change, line.unit)
        };
        // Not the panel's fault: it waits for the blank, or rises as its primer does.
        let waits = line.flag.as_ref().is_some_and(|flag| waits(flag) || flag.kind == FlagKind::GainsWeight);
        if let Some(moved) = moved.filter(|moved| !waits && moved.holds(&panel.id, &line.id)) {
            let said = moved.said(wording);
            return Judged::fine(if change.is_empty() { said } else { format!("{change}. {said}") });
        }
        let says = line.flag.as_ref().map(|flag| flag.says.clone());
        return match says.filter(|_| !waits).or_else(|| odd_weight(panel, &line.id, wording)) {
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
    let at_h = clock_h(at);
    let division = card.division_g();
    let was = panel.work.readings.iter().rfind(|reading| reading.weighing.t_h <= at_h);
    let was = was.map(|was| format!("was {}", wording.weight(was.weighing.gross_g, division)));
    let expected = panel.work.forecast.as_ref().ok().map(|forecast| {
        let balance = card.number_of(test, round);
        let doubt = forecast.doubt_at(balance, at_h);
        // What the scale will show: a jump that nothing confirms yet is the likelier reading of a blank just weighed.
        let by_g = forecast.drift_at_g(balance, at_h) + doubt.map_or(0.0, Doubt::by_g);
        let moved = moved.filter(|moved| !moved.blank_stood());
        let by_g = by_g + moved.map_or(0.0, |moved| moved.by_g);
        let expected = forecast.reading_at(at_h).moved(by_g);
        let (low, high) = (wording.bare_weight(expected.low, division), wording.weight(expected.high, division));
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
