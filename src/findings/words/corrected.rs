//! What was corrected or left out of a test, for those who judge it by its report.

use super::wording::Wording;
use crate::facts::{bare_weight, in_order, moment};
use crate::told::Findings;
use quantity::Instant;
use record::{Panel, SprayTest};
use science::drying::Jump;

/// Weights left out that are told one by one; the rest stand with the readings.
const MOST_LEFT_OUT: usize = 4;

/// What was corrected, one sentence each: panels never weighed bare, jumps of the scale taken off, weights exchanged between
/// panels, weights left out.
pub fn corrected_said(test: &SprayTest, findings: &Findings, wording: &Wording) -> Vec<String> {
    let mut said: Vec<String> = never_bare(test).into_iter().collect();
    said.extend(jumps(test, findings, wording));
    said.extend(exchanges(test));
    said.extend(left_out(test, findings));
    said
}

fn never_bare(test: &SprayTest) -> Option<String> {
    let mut labels: Vec<&str> = Vec::new();
    for panel in in_order(test) {
        if bare_weight(test, panel).is_none() && panel.weigh_ins.kept().next().is_some() {
            labels.push(&panel.label);
        }
    }
    let were = if labels.len() == 1 { "was" } else { "were" };
    (!labels.is_empty()).then(|| {
        let labels = labels.join(", ");
        format!("{labels} {were} never weighed bare: what is told in % of the coat is estimated by comb and density, or missing.")
    })
}

/// A jump of the scale, told once for all panels.
struct OfAll {
    jump: Jump,
    step_g: f64,
    panels: Vec<String>,
}

fn jumps(test: &SprayTest, findings: &Findings, wording: &Wording) -> Vec<String> {
    let mut told: Vec<OfAll> = Vec::new();
    for panel in &findings.panels {
        let Ok(forecast) = &panel.work.forecast else { continue };
        let step_g = panel.work.card.division_g();
        for jump in forecast.jumps() {
            let same = |known: &&mut OfAll| {
                known.jump.after_h < jump.by_h
                    && jump.after_h < known.jump.by_h
                    && (known.jump.by_g - jump.by_g).abs() <= 2.0 * step_g
            };
            match told.iter_mut().find(same) {
                Some(known) => known.panels.push(panel.label.clone()),
                None => told.push(OfAll { jump: *jump, step_g, panels: vec![panel.label.clone()] }),
            }
        }
    }
    let mut said = Vec::new();
    for OfAll { jump, step_g, panels } in told {
        let [after, by] = [jump.after_h, jump.by_h].map(|hours| on_the_shops_clock(test, hours).said_day());
        let when = if after == by { format!("On {by}") } else { format!("Between {after} and {by}") };
        let (by, panels) = (wording.change(jump.by_g, step_g), panels.join(", "));
        said.push(format!("{when} the scale jumped by {by}, as the blank shows. That is taken off {panels}."));
    }
    said
}

/// A moment of the clock that all of a test shares, as the clock on the shop's wall had it.
fn on_the_shops_clock(test: &SprayTest, hours: f64) -> Instant {
    let offset_min = test.created.map_or(0, Instant::offset_min);
    Instant::from_epoch_ms(hours * 3.6e6, offset_min).unwrap_or(Instant::EPOCH)
}

/// Each exchange once, though both panels carry it.
fn exchanges(test: &SprayTest) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for panel in in_order(test) {
        for weigh_in in panel.weigh_ins.kept() {
            let Some(other) = weigh_in.exchanged_with.find(&test.panels) else { continue };
            let when = moment(test, weigh_in).map_or(String::new(), |at| format!(" on {}", at.said_day()));
            let told = |one: &Panel, other: &Panel| {
                format!(
                    "{} and {} were swapped on the scale{when}: their weights are exchanged.",
                    one.label, other.label
                )
            };
            let sentence = told(panel, other);
            if !said.contains(&sentence) && !said.contains(&told(other, panel)) {
                said.push(sentence);
            }
        }
    }
    said
}

fn left_out(test: &SprayTest, findings: &Findings) -> Vec<String> {
    let mut said = Vec::new();
    let mut more = 0;
    for panel in &findings.panels {
        let weigh_ins = test.panels.find(&panel.id).map(|panel| &panel.weigh_ins);
        for flag in panel.flags.iter().filter(|flag| flag.left_out) {
            if said.len() == MOST_LEFT_OUT {
                more += 1;
                continue;
            }
            let at = weigh_ins.and_then(|all| moment(test, all.find(&flag.weigh_in)?));
            let when = at.map_or(String::new(), |at| format!(", {}", at.said()));
            said.push(format!("{}{when}: {}", panel.label, flag.says));
        }
    }
    if more > 0 {
        said.push(format!("{more} more weights are left out; each says why among the readings."));
    }
    said
}
