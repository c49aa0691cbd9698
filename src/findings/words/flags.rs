//! Which weigh-ins to look at, and why.

use super::wording::Wording;
use crate::told::{Flag, FlagKind, MovedTogether, PanelFindings, Swapped};
use crate::work::{PanelWork, Reading};
use record::{Id, Panel, SprayTest};
use science::drying::{Doubt, Standing};

/// Flags the weights that look swapped, in what is told of their panels.
pub(crate) fn flag_swaps(test: &SprayTest, swaps: Vec<Swapped>, told: &mut [PanelFindings]) {
    for Swapped { own: (panel, weigh_in), other: (other, of_other) } in swaps {
        let Some(panel) = told.iter_mut().find(|known| known.id == panel) else { continue };
        let left_out = panel.flags.iter().any(|known| known.weigh_in == weigh_in && known.left_out);
        let label = test.panels.find(&other).map_or("", |other| other.label.as_str());
        let says = format!("This weight and that of {label} fit the other way round: were they swapped on the scale?");
        // It says more than that the reading is off.
        panel.flags.retain(|known| known.weigh_in != weigh_in);
        let (swap_with, swap_weigh_in) = (Some(other), Some(of_other));
        panel.flags.push(Flag { weigh_in, kind: FlagKind::LooksSwapped, swap_with, swap_weigh_in, says, left_out });
    }
}

impl MovedTogether {
    /// The one message: `All 3 panels moved together by −1.2 g: weigh the blank.`
    pub fn said(&self, wording: &Wording) -> String {
        let by = wording.change(self.by_g, self.division_g);
        let (count, of) = (self.weigh_ins.len(), self.of);
        let who = match (count, count == of) {
            (2, true) => "Both panels".to_owned(),
            (_, true) => format!("All {of} panels"),
            _ => format!("{count} of {of} panels"),
        };
        let then = match self.blank {
            Some(false) => ": weigh the blank.",
            Some(true) => ", the blank did not: weigh it again, then look for damp, dust or warm panels.",
            None => ": look at the scale first, is it level and zeroed?",
        };
        format!("{who} moved together by {by}{then}")
    }
}

/// Says of the weights that are off the curve together with the others of their round that they are.
pub(crate) fn flag_moved(test: &SprayTest, told: &mut [PanelFindings], wording: &Wording) {
    let round_of = |panel: &PanelFindings, weigh_in: &Id| {
        test.panels.find(&panel.id)?.weigh_ins.find(weigh_in)?.round.as_ref().cloned()
    };
    let mut rounds: Vec<Id> = Vec::new();
    for panel in &*told {
        for flag in panel.flags.iter().filter(|flag| flag.kind == FlagKind::OffTheCurve) {
            rounds.extend(round_of(panel, &flag.weigh_in).filter(|round| !rounds.contains(round)));
        }
    }
    for round in rounds {
        let Some(moved) = MovedTogether::of(test, told, &round) else { continue };
        for panel in told.iter_mut() {
            let PanelFindings { id, flags, .. } = panel;
            let off = |flag: &&mut Flag| flag.kind == FlagKind::OffTheCurve && moved.holds(id, &flag.weigh_in);
            for flag in flags.iter_mut().filter(off) {
                (flag.kind, flag.says) =
                    (FlagKind::MovedTogether, format!("{} Left out of the curve.", moved.said(wording)));
            }
        }
    }
}

pub(crate) fn flags(work: &PanelWork, panel: &Panel, wording: &Wording) -> Vec<Flag> {
    let flag = |weigh_in: &Id, kind, says| Flag {
        weigh_in: weigh_in.clone(),
        kind,
        swap_with: None,
        swap_weigh_in: None,
        says,
        left_out: true,
    };
    let said = |reading: &Reading| {
        let (kind, says) = match reading.standing {
            Standing::Kept => return None,
            Standing::InDoubt(doubt) => {
                (FlagKind::WaitsForTheBlank, doubt_said(&doubt, wording.change(doubt.by_g(), work.card.division_g())))
            }
            Standing::SetAside => (FlagKind::SetAside, set_aside_said(panel, &reading.id)),
            Standing::NotFinite => (FlagKind::Unreadable, "Not a number.".to_owned()),
            Standing::Slip { off_by_g, ask } => {
                let then = if ask { " Weigh it again." } else { "" };
                let division = work.card.division_g();
                let off = wording.change(off_by_g, division);
                let gains = off_by_g > 0.0 && off_by_g <= work.may_gain_g();
                let says = match as_the_blank(work, reading, off_by_g) {
                    None if gains => {
                        format!(
                            "{off} above a curve that only falls; this primer gains weight as it cures. Left out of the curve."
                        )
                    }
                    Some(by_g) => format!(
                        "{off} off what the other weights say; the blank was {} off too, so the scale was out. Left out of the curve.",
                        wording.change(by_g, division)
                    ),
                    None => format!("{off} off what the other weights say, so left out of the curve.{then}"),
                };
                (if gains { FlagKind::GainsWeight } else { FlagKind::OffTheCurve }, says)
            }
        };
        Some(flag(&reading.id, kind, says))
    };
    work.readings.iter().filter_map(said).collect()
}

/// How far off the blank was on the visit of a weight that is off as far, g.
fn as_the_blank(work: &PanelWork, reading: &Reading, off_by_g: f64) -> Option<f64> {
    let (forecast, weighing) = (work.forecast.as_ref().ok()?, &reading.weighing);
    let by_g = forecast.blank_skipped_g(weighing.balance, weighing.t_h)?;
    // Both sides scatter, and so does what the other weights say.
    let apart = ALIKE_SDS * std::f64::consts::SQRT_2 * forecast.noise.model_sd_g;
    ((by_g - off_by_g).abs() <= apart).then_some(by_g)
}

/// Two readings off by as much as each other differ by no more than so many of their sd.
const ALIKE_SDS: f64 = 4.0;

fn doubt_said(doubt: &Doubt, by: String) -> String {
    match doubt {
        Doubt::Unconfirmed(_) => {
            format!("The blank was {by} off, weighed only once: weigh the blank again. Until then this weight waits.")
        }
        Doubt::Between(_) => {
            format!(
                "The scale jumped by {by} before or after this weight, nobody can tell which: left out of the curve."
            )
        }
    }
}

fn set_aside_said(panel: &Panel, weigh_in: &Id) -> String {
    let Some(aside) = panel.weigh_ins.find(weigh_in).and_then(|weigh_in| weigh_in.set_aside.as_ref()) else {
        return "Weighed after it left the test.".into();
    };
    match Some(aside.why.trim()) {
        Some(why) if !why.is_empty() => format!("Set aside: {why}."),
        _ => "Set aside, nobody says why.".into(),
    }
}
