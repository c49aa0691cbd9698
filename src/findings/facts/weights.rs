//! Weights of panels and blanks.

use super::coats::last_coat;
use super::leaving::{stays, weighed_after_leaving};
use super::scales::{finest_step_g, step_g};
use super::times::{MINUTE_H, clock_order, earliest, latest, moment, newest};
use quantity::{Instant, Quantity};
use record::{Entries, Id, Owner, Panel, SprayTest, WeighIn};

/// The bare weight of a panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bare {
    /// g.
    pub gross_g: f64,
    /// Of how many weighings it is the mean.
    pub weighings: usize,
    /// How far the farthest of those lies that are too far from the newest to count, g; 0 where all agree.
    pub off_by_g: f64,
}

/// Weighings of a bare panel that differ by so many steps of the scale, or fewer, are of the same bare metal (design choice:
/// a scale that is at rest repeats to a step or two).
const AGREE_STEPS: f64 = 5.0;

/// The bare weight of a panel: the mean of its bare weighings that are not set aside, as where two phones weighed it. What is
/// farther than five steps of the scale from the newest does not count: the newest was made to correct it, or the panel was stripped.
pub fn bare_weight(test: &SprayTest, panel: &Panel) -> Option<Bare> {
    let kept = || panel.bare.kept().filter(|bare| bare.set_aside.is_none() && bare.gross_g.is_some());
    // One without a time is older than any with one.
    let newest = kept().reduce(|a, b| if b.at >= a.at { b } else { a })?;
    let own_step_g = newest.balance.as_ref().and_then(|id| test.balances.find(id)?.division_g).map(Quantity::get);
    let limit_g = AGREE_STEPS * own_step_g.unwrap_or_else(|| step_on_g(test, panel));
    let newest_g = newest.gross_g?.get();
    let (mut sum_g, mut count, mut off_by_g) = (0.0, 0.0, 0.0_f64);
    for gross_g in kept().filter_map(|bare| bare.gross_g).map(Quantity::get) {
        let off_g = (gross_g - newest_g).abs();
        // Differences of typed decimals are off by the noise of subtracting.
        if off_g <= limit_g * (1.0 + 1e-9) {
            (sum_g, count) = (sum_g + gross_g, count + 1.0);
        } else {
            off_by_g = off_by_g.max(off_g);
        }
    }
    Some(Bare { gross_g: sum_g / count, weighings: count as usize, off_by_g })
}

/// The step to which a panel's weights are told, g: that of the scale; where nobody noted it, as they were typed.
pub(crate) fn step_on_g(test: &SprayTest, panel: &Panel) -> f64 {
    step_g(test).unwrap_or_else(|| finest_step_g(&mut weights_of(panel)))
}

/// All weights of a panel, g.
pub(crate) fn weights_of(panel: &Panel) -> impl Iterator<Item = f64> {
    let bare = panel.bare.kept().filter_map(|bare| bare.gross_g);
    bare.chain(panel.weigh_ins.kept().filter_map(|weigh_in| weigh_in.gross_g)).map(Quantity::get)
}

/// The weigh-ins of a panel from its last coat on with their times, in order, those set aside as well. Earlier ones are weights
/// between coats.
///
/// Two phones may have weighed a panel within one minute, which is all that a field for a time can tell apart: the weight of
/// spray day, which stands in no round, then comes first; of two alike the heavier, since paint only dries.
pub(crate) fn weigh_ins_since_coat<'a>(test: &'a SprayTest, panel: &'a Panel) -> Vec<(&'a WeighIn, Instant)> {
    let coat = last_coat(panel);
    let mut list = Vec::new();
    for weigh_in in panel.weigh_ins.kept().filter(|weigh_in| weigh_in.gross_g.is_some()) {
        if let Some(at) = moment(test, weigh_in).filter(|at| coat.is_none_or(|coat| *at >= coat)) {
            list.push((weigh_in, at));
        }
    }
    let of_round = |weigh_in: &WeighIn| weigh_in.round.is_some();
    let spray_day = earliest(&mut list.iter().filter(|(weigh_in, _)| !of_round(weigh_in)).map(|(_, at)| *at));
    if let Some(wet) = spray_day {
        let just_before = |at: Instant| at < wet && wet.hours_since(at) < MINUTE_H;
        list.iter_mut().filter(|(weigh_in, at)| of_round(weigh_in) && just_before(*at)).for_each(|(_, at)| *at = wet);
    }
    let gross_g = |weigh_in: &WeighIn| weigh_in.gross_g.map_or(0.0, Quantity::get);
    order::sort_by(&mut list, |(a, a_at), (b, b_at)| {
        clock_order(*a_at, *b_at)
            .then(of_round(a).cmp(&of_round(b)))
            .then(gross_g(b).total_cmp(&gross_g(a)))
            .then_with(|| a.id.cmp(&b.id))
    });
    list
}

/// The wet weighing of a panel: the first from its last coat on that is not set aside. Where it was not weighed on spray day,
/// that of a round stands in for it. (A curve that leaves it out begins with the first that it keeps.)
pub fn wet_weighing<'a>(test: &'a SprayTest, panel: &'a Panel) -> Option<(&'a WeighIn, Instant)> {
    let counts =
        |weigh_in: &WeighIn| weigh_in.set_aside.is_none() && !weighed_after_leaving(test, &panel.left, weigh_in);
    weigh_ins_since_coat(test, panel).into_iter().find(|(weigh_in, _)| counts(weigh_in))
}

/// The same where it was weighed on spray day, and not first in a round.
pub(crate) fn wet_on_spray_day<'a>(test: &'a SprayTest, panel: &'a Panel) -> Option<(&'a WeighIn, Instant)> {
    wet_weighing(test, panel).filter(|(weigh_in, _)| weigh_in.round.is_none())
}

/// Whether a panel brings something to an answer: it is in the test, or was weighed wet before it left.
pub(crate) fn takes_part(test: &SprayTest, panel: &Panel) -> bool {
    stays(&panel.left) || wet_weighing(test, panel).is_some()
}

/// The weigh-in of spray day that stands for a panel's wet weight, or of a blank the newest weighed outside the rounds.
pub fn wet_weigh_in(test: &SprayTest, owner: &Owner) -> Option<Id> {
    let wet = match owner.panel() {
        Some(panel) => wet_on_spray_day(test, test.panels.find(panel)?),
        None => newest(outside_rounds(owner.weigh_ins(test)?).filter_map(|weigh_in| Some((weigh_in.at?, weigh_in))))
            .map(|(at, weigh_in)| (weigh_in, at)),
    };
    wet.map(|(weigh_in, _)| weigh_in.id.clone())
}

/// Weigh-ins made outside any round: on spray day.
pub(crate) fn outside_rounds(list: &Entries<WeighIn>) -> impl Iterator<Item = &WeighIn> {
    list.kept().filter(|weigh_in| weigh_in.round.is_none())
}

/// What a weigh-in showed, g: of one that was weighed again in its round the mean.
pub(crate) fn mean_g(weigh_in: &WeighIn) -> Option<f64> {
    let all = || weigh_in.gross_g.into_iter().chain(weigh_in.repeats_g.iter().copied());
    weigh_in.gross_g.map(|_| all().map(Quantity::get).sum::<f64>() / all().count() as f64)
}

/// All weigh-ins of panels and blanks.
pub(crate) fn all_weigh_ins(test: &SprayTest) -> impl Iterator<Item = &WeighIn> {
    weigh_ins_of_panels(test).chain(test.blanks.kept().flat_map(|blank| blank.weigh_ins.kept()))
}

fn weigh_ins_of_panels(test: &SprayTest) -> impl Iterator<Item = &WeighIn> {
    test.panels.kept().flat_map(|panel| panel.weigh_ins.kept())
}

/// When a panel was last weighed.
pub(crate) fn last_weighed(test: &SprayTest) -> Option<Instant> {
    latest(&mut weigh_ins_of_panels(test).filter_map(|weigh_in| moment(test, weigh_in)))
}

/// A weight like the next one of a panel or blank, g: its newest, wherever it was made; else a bare weight, its own or that of
/// another panel, since all are cut from one sheet.
pub fn former_weight(test: &SprayTest, owner: &Owner) -> Option<f64> {
    let weighed = owner.weigh_ins(test)?.kept();
    let own = newest(weighed.filter_map(|weigh_in| Some((moment(test, weigh_in)?, weigh_in.gross_g?.get()))));
    let bare = |panel: &Panel| bare_weight(test, panel).map(|bare| bare.gross_g);
    let of_panel = || {
        let panel = test.panels.find(owner.panel()?)?;
        bare(panel).or_else(|| test.panels.kept().filter_map(bare).next_back())
    };
    own.map(|(_, gross_g)| gross_g).or_else(of_panel)
}

/// The weigh-in that a panel or blank has in a round.
pub fn weigh_in_of(test: &SprayTest, owner: &Owner, round: &Id) -> Option<Id> {
    let of_round = |weigh_in: &&WeighIn| weigh_in.round.as_ref() == Some(round);
    owner.weigh_ins(test)?.kept().find(of_round).map(|weigh_in| weigh_in.id.clone())
}

/// The round in which a weigh-in was made; none for one of spray day.
pub fn round_of(test: &SprayTest, owner: &Owner, weigh_in: &Id) -> Option<Id> {
    owner.weigh_ins(test)?.find(weigh_in)?.round.as_ref().cloned()
}
