//! A weight judged the moment it is entered. Nothing here blocks: the weight is stored, and the sentence stands beside it.

use super::card::{ScaleCard, balance_of, blank_readings, clock_h, scale_card};
use super::panel::PanelFindings;
use super::rounds::Judged;
use super::tongue::Tongue;
use quantity::{Instant, Quantity};
use record::{Id, SprayTest};

use science::drying::{Balance, Jump, OfScale, Say, Scale, Weighing};
use science::weigh::reading_u;

/// Standard deviations of a difference beyond which it is called odd: at two, one good weight in twenty would be.
const ODD: f64 = 3.0;

/// Repeatability where nobody measured it, in divisions of the scale (design choice).
const UNKNOWN_REPEATABILITY: f64 = 0.5;

/// What is odd about a panel's weight, beyond what its curve says: heavier than before, or no change or a larger fall than
/// the curve before it expected. `None` where nothing is.
///
/// All but the first refits the panel: it is for the weight that is up, not for every one on the screen.
pub(super) fn odd(panel: &PanelFindings, weigh_in: &Id, tongue: &Tongue) -> Option<String> {
    let card = &panel.work.card;
    let Step { place, newest, before, change_g, limit_g, .. } = Step::to(panel, weigh_in)?;
    let gained_g = panel.work.may_gain_g();
    if change_g > limit_g + gained_g {
        let cannot = if gained_g > 0.0 { "no primer gains so much as it cures" } else { "drying cannot do that" };
        return Some(format!("That is heavier than before: {cannot}. Weigh it again."));
    }
    let expected = panel.work.expected_before(place)?;
    if change_g < -limit_g {
        // With few weights a curve bends to whatever came last: what it expected before is what tells another panel, or a
        // chip gone. Outside its interval by more than chance at the scale.
        return (newest.gross_g < expected.low - limit_g).then(|| {
            let by = tongue.weight(expected.median - newest.gross_g, card.division_g());
            format!("That is {by} less than the curve expected: is it this panel, and is it whole?")
        });
    }
    let missing_g = before.gross_g - expected.median;
    (newest.gross_g > expected.high + gained_g && missing_g > limit_g + gained_g).then(|| {
        let by = tongue.weight(missing_g, card.division_g());
        format!("No change, although the curve expected {by} less: is it this panel, and has the scale come to rest?")
    })
}

/// Whether a panel's weight is heavier than the one before by more than chance.
pub(super) fn heavier(panel: &PanelFindings, weigh_in: &Id) -> bool {
    Step::to(panel, weigh_in).is_some_and(|step| step.change_g > step.limit_g + panel.work.may_gain_g())
}

/// What a weight's change comes to once the drift that the blank shows is taken off it; nothing where the scale held.
pub(super) fn without_drift(panel: &PanelFindings, weigh_in: &Id, tongue: &Tongue) -> Option<String> {
    let division_g = panel.work.card.division_g();
    let step = Step::to(panel, weigh_in).filter(|step| step.drift_g.abs() >= division_g)?;
    let forecast = panel.work.forecast.as_ref();
    let jumped = forecast.is_ok_and(|f| {
        let within = |jump: &&Jump| jump.by_h > step.before.t_h && jump.after_h < step.newest.t_h;
        f.jumps().any(|jump| within(&jump)) || f.doubt_at(step.newest.balance, step.newest.t_h).is_some()
    });
    let what = if jumped { "jump" } else { "drift" };
    Some(format!("{} with the scale's {what} taken off", tongue.change(step.change_g, division_g)))
}

/// From one weight of a panel to the next on the same scale, the drift that the blank shows taken off the later.
pub(super) struct Step {
    place: usize,
    pub newest: Weighing,
    pub before: Weighing,
    /// How much heavier the panel has become, g.
    change_g: f64,
    /// How far the scale drifted between the two, as the blank shows it, g.
    drift_g: f64,
    /// How far the two may differ by chance, g.
    limit_g: f64,
}

impl Step {
    pub fn to(panel: &PanelFindings, weigh_in: &Id) -> Option<Self> {
        let card = &panel.work.card;
        let place = card.weigh_ins.iter().position(|(id, _)| id == weigh_in)?;
        let newest = card.weigh_ins[place].1;
        let before = card.weigh_ins[..place].iter().rfind(|(_, weighing)| weighing.say != Say::SetAside)?.1;
        if newest.balance != before.balance {
            return None;
        }
        let scale = card.scales.as_ref().ok()?.iter().find(|scale| scale.number == newest.balance)?;
        let limit_g = limit(&scale.scale)?;
        // Only what would be called drift at the blank itself: less than that is chance in the blank's own weight.
        let by_blank = || Some(blank_at(scale, newest.t_h)? - blank_at(scale, before.t_h)?);
        // A visit on which it was forgotten lies on the level that the curve has it on.
        let by_curve = || {
            let at = |weighing: &Weighing| {
                panel.work.forecast.as_ref().ok().map(|f| f.drift_at_g(weighing.balance, weighing.t_h))
            };
            Some(at(&newest)? - at(&before)?)
        };
        let drift_g = by_blank().or_else(by_curve).unwrap_or(0.0);
        let drift_g = if drift_g.abs() > limit_g { drift_g } else { 0.0 };
        let newest = Weighing { gross_g: newest.gross_g - drift_g, ..newest };
        Some(Self { place, newest, before, change_g: newest.gross_g - before.gross_g, drift_g, limit_g })
    }
}

/// Divisions over which the blank's change is no drift any more (design choice).
const JUMPS: f64 = 6.0;

/// How long before or after a panel the blank may have been weighed to speak for it, h (design choice).
const WITH_IT_H: f64 = 1.0;

/// What the blank weighed on a scale at about that time, g.
fn blank_at(scale: &ScaleCard, t_h: f64) -> Option<f64> {
    let apart = |reading: &&Weighing| (reading.t_h - t_h).abs();
    let near = scale.blank.iter().filter(|reading| apart(reading) <= WITH_IT_H);
    near.min_by(|a, b| apart(a).total_cmp(&apart(b))).map(|reading| reading.gross_g)
}

/// How far two weights of one thing may differ on a scale by chance, g.
pub(super) fn limit(scale: &Scale) -> Option<f64> {
    let sd_g = scale.repeatability.map_or(UNKNOWN_REPEATABILITY * scale.division_g, |r| r.sd_g);
    Some(ODD * std::f64::consts::SQRT_2 * reading_u(scale.division_g, sd_g).ok()?)
}

/// What a blank's weight in a round says of the scale: how far it moved since it was last on this one, and whether that is
/// to be looked at first. Before it is weighed, at `at`, what it was.
///
/// Once it is weighed again and shows the same (another reading of about that time or a later one agrees, or the person says
/// so), the scale jumped: that is taken off, and nothing is left to look at.
pub(super) fn blank(test: &SprayTest, owner: &Id, round: &Id, at: Instant, tongue: &Tongue) -> Judged {
    let judged = || {
        let blank = test.blanks.find(owner)?;
        let newest = blank.weigh_ins.kept().find(|weigh_in| weigh_in.round.as_ref() == Some(round));
        let of_round = || test.rounds.find(round)?.balance.as_ref();
        let balance = newest.map_or_else(of_round, |newest| balance_of(test, newest));
        let on_it = blank_readings(test, blank, balance);
        let scale = scale_card(test, balance, on_it.iter().map(|reading| reading.gross_g)).scale;
        let at_h = clock_h(newest.map_or(Some(at), |newest| super::moment(test, newest))?);
        let number = test.rounds.all().iter().position(|known| known.id == *round).map(|place| place as u32);
        // What it moved by is told since the visit before, not since a repeat.
        let last_by = |limit_h: f64| {
            let other = |of: &&Weighing| of.t_h < limit_h && (of.round != number || number.is_none());
            on_it.iter().filter(other).reduce(|a, b| if b.t_h > a.t_h { b } else { a })
        };
        let before = last_by(at_h)?;
        let Some(newest) = newest else {
            return Some(Judged::fine(format!("was {}", tongue.weight(before.gross_g, scale.division_g))));
        };
        let moved_g = newest.gross_g?.get() - before.gross_g;
        let moved = tongue.change(moved_g, scale.division_g);
        let limit_g = limit(&scale)?;
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
