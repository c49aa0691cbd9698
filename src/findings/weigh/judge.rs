//! A weight judged the moment it is entered. Nothing here blocks: the weight is stored, and the sentence stands beside it.

use crate::facts::{balance_of, balance_of_round, clock_h, moment, round_number};
use crate::told::{PanelFindings, SinceLast, chance_limit_g};
use crate::words::Wording;
use crate::work::{blank_readings, newest_weighing, scale_card};
use quantity::{Instant, Quantity};
use record::{Id, SprayTest};
use science::drying::{Balance, OfScale, Say, Weighing};

/// What is odd about a panel's weight, beyond what its curve says: heavier than before, or no change or a larger fall than
/// the curve before it expected. `None` where nothing is.
///
/// All but the first refits the panel: it is for the weight that is up, not for every one on the screen.
pub(crate) fn odd_weight(panel: &PanelFindings, weigh_in: &Id, wording: &Wording) -> Option<String> {
    let card = &panel.work.card;
    let SinceLast { newest, before, change_g, limit_g, .. } = SinceLast::to(panel, weigh_in)?;
    let gained_g = panel.work.may_gain_g();
    if change_g > limit_g + gained_g {
        let cannot = if gained_g > 0.0 { "no primer gains so much as it cures" } else { "drying cannot do that" };
        return Some(format!("That is heavier than before: {cannot}. Weigh it again."));
    }
    let expected = panel.work.expected_of(weigh_in)?;
    if change_g < -limit_g {
        // With few weights a curve bends to whatever came last: what it expected before is what tells another panel, or a
        // chip gone. Outside its interval by more than chance at the scale.
        return (newest.gross_g < expected.low - limit_g).then(|| {
            let by = wording.weight(expected.median - newest.gross_g, card.division_g());
            format!("That is {by} less than the curve expected: is it this panel, and is it whole?")
        });
    }
    let missing_g = before.gross_g - expected.median;
    (newest.gross_g > expected.high + gained_g && missing_g > limit_g + gained_g).then(|| {
        let by = wording.weight(missing_g, card.division_g());
        format!("No change, although the curve expected {by} less: is it this panel, and has the scale come to rest?")
    })
}

/// Divisions over which the blank's change is no drift any more (design choice).
const JUMPS: f64 = 6.0;

/// What a blank's weight in a round says of the scale: how far it moved since it was last on this one, and whether that is
/// to be looked at first. Before it is weighed, at `at`, what it was.
///
/// Once it is weighed again and shows the same (another reading of about that time or a later one agrees, or the person says
/// so), the scale jumped: that is taken off, and nothing is left to look at.
pub(crate) fn blank_judged(test: &SprayTest, owner: &Id, round: &Id, at: Instant, wording: &Wording) -> Judged {
    let judged = || {
        let blank = test.blanks.find(owner)?;
        let newest = blank.weigh_ins.kept().find(|weigh_in| weigh_in.round.as_ref() == Some(round));
        let of_round = || balance_of_round(test, round);
        let balance = newest.map_or_else(of_round, |newest| balance_of(test, newest));
        let on_it = blank_readings(test, blank, balance);
        let scale = scale_card(test, balance, &mut on_it.iter().map(|reading| reading.gross_g)).scale;
        let at_h = clock_h(newest.map_or(Some(at), |newest| moment(test, newest))?);
        let number = round_number(test, round);
        // What it moved by is told since the visit before, not since a repeat.
        let last_by = |limit_h: f64| {
            let other = |of: &&Weighing| of.t_h < limit_h && (of.round != number || number.is_none());
            newest_weighing(&mut on_it.iter().filter(other))
        };
        let before = last_by(at_h)?;
        let Some(newest) = newest else {
            return Some(Judged::fine(format!("was {}", wording.weight(before.gross_g, scale.division_g))));
        };
        let moved_g = newest.gross_g?.get() - before.gross_g;
        let moved = wording.change(moved_g, scale.division_g);
        let limit_g = chance_limit_g(&scale)?;
        let gross_g = newest.gross_g?.get();
        let since = |of: &&Weighing| of.t_h >= at_h || number.is_some() && of.round == number;
        let agree = on_it.iter().filter(since).filter(|of| (of.gross_g - gross_g).abs() <= limit_g);
        let again = newest.vouched || agree.count() > 1;
        let far = moved_g.abs() > JUMPS * scale.division_g;
        // The first weight stands alone against all others: it counts as a slip until somebody says more.
        let first_alone = far && before.say != Say::Keep && !newest.vouched && last_by(before.t_h).is_none();
        let of_scale = Balance::new(scale, &on_it).of_scale(at_h);
        let before_that = last_by(before.t_h).is_some_and(|of| (of.gross_g - gross_g).abs() <= limit_g);
        let back = match of_scale {
            Some(OfScale::Back(_)) => true,
            // One that counts for nothing is asked about.
            Some(OfScale::Alone(_)) => false,
            _ => before_that,
        };
        let has = if far { "jumped" } else { "drifted" };
        Some(if moved_g.abs() > limit_g && back {
            Judged::fine(format!("{moved} since the last, as it was before that: the scale is back."))
        } else if first_alone && again {
            Judged::odd(format!(
                "{moved} since the first weight, which counts as a slip. If the scale jumped after it, say that this one is right."
            ))
        } else if moved_g.abs() > limit_g && again && !matches!(of_scale, Some(OfScale::Alone(_))) {
            Judged::fine(format!("{moved} since the last: the scale has {has}, and that is taken off."))
        } else if moved_g.abs() > limit_g {
            Judged::odd(format!(
                "{moved} since the last: nothing left the blank, so the scale has {has}. Zero it and weigh the blank again."
            ))
        } else {
            Judged::fine(format!("{moved} since the last: the scale holds."))
        })
    };
    judged().unwrap_or_default()
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
    pub(crate) fn fine(said: String) -> Self {
        Self { said, odd: false }
    }

    pub(crate) fn odd(said: String) -> Self {
        Self { said, odd: true }
    }
}
