//! A round in which the panels moved together: one message for all of them, and none of them is blamed.

use super::panel::PanelFindings;
use super::since_last::SinceLast;
use crate::facts::{USUAL_STEP_G, round_number, stays};
use record::{Id, SprayTest};
use science::drying::{GainsMass, OffBy, moved_together};

/// What the panels of a round are off by, all of them or most.
pub(crate) struct MovedTogether {
    /// By how much, g.
    pub by_g: f64,
    /// The weights that are: (panel, weigh-in).
    pub(crate) weigh_ins: Vec<(Id, Id)>,
    /// How many panels were compared.
    pub(crate) of: usize,
    pub(crate) division_g: f64,
    /// Whether the test has a blank, and whether it was weighed in this round.
    pub(crate) blank: Option<bool>,
}

impl MovedTogether {
    /// Looks at the weights of a round among panels whose findings are at hand.
    pub fn of(test: &SprayTest, panels: &[PanelFindings], round: &Id) -> Option<Self> {
        let number = round_number(test, round)?;
        let in_round = |panel: &PanelFindings| {
            let reading = panel.work.readings.iter().find(|reading| reading.weighing.round == Some(number))?;
            Some(((panel.id.clone(), reading.id.clone()), off_by(panel, &reading.id)?))
        };
        let (weigh_ins, off): (Vec<(Id, Id)>, Vec<OffBy>) = panels.iter().filter_map(in_round).unzip();
        let together = moved_together(&off)?;
        let with = weigh_ins.into_iter().zip(&together.with).filter(|(_, with)| **with);
        let of_round =
            |blank: &record::Blank| blank.weigh_ins.kept().any(|weigh_in| weigh_in.round.as_ref() == Some(round));
        let at_hand = test.blanks.kept().filter(|blank| stays(&blank.left) || of_round(blank));
        let blank = at_hand.map(of_round).reduce(|a, b| a || b);
        let division_g = panels.first().map_or(USUAL_STEP_G, |panel| panel.work.card.division_g());
        let weigh_ins = with.map(|(ids, _)| ids).collect();
        Some(Self { by_g: together.by_g, weigh_ins, of: off.len(), division_g, blank })
    }

    /// Whether the blank was weighed in the round, and did not move with them.
    pub fn blank_stood(&self) -> bool {
        self.blank == Some(true)
    }

    /// Whether a panel's weight is one of those that moved.
    pub fn holds(&self, panel: &Id, weigh_in: &Id) -> bool {
        self.weigh_ins.iter().any(|known| (&known.0, &known.1) == (panel, weigh_in))
    }
}

/// How far a panel's weight is off what those before it lead to expect; nothing where there is no saying, or where the
/// panel has a reason of its own to move that way.
fn off_by(panel: &PanelFindings, weigh_in: &Id) -> Option<OffBy> {
    let (card, work) = (&panel.work.card, &panel.work);
    let step = SinceLast::to(panel, weigh_in)?;
    let expected = work.expected_of(weigh_in)?;
    let reading_sd_g = work.forecast.as_ref().ok()?.noise.reading_sd_g;
    let sd_g = expected.width() / (2.0 * 1.96);
    let by_g = step.newest.gross_g - expected.median;
    // A first day in the warm is in no curve yet; what takes mass up does so by itself.
    let warmed = || {
        let first_warm = card.moves.iter().filter(|m| m.warmer).map(|m| m.t_h).reduce(f64::min);
        first_warm.is_some_and(|first| first < step.newest.t_h && step.before.t_h < first + SEEN_AFTER_H)
    };
    let by_itself = if by_g < 0.0 { warmed() } else { card.gains_mass == GainsMass::Yes };
    let curve_sd_g = (sd_g * sd_g - reading_sd_g * reading_sd_g).max(0.0).sqrt();
    (!by_itself).then_some(OffBy { by_g, reading_sd_g, curve_sd_g })
}

/// How long after a move to the warm a weight must be for the curve to know of it, h (as in the science of drying).
const SEEN_AFTER_H: f64 = 1.0;
