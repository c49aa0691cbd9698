//! Losses along a straight line, and where they end: by the terms of the slip screen.

use super::fit::Point;
use super::model::Ends;
use super::screen::Design;

/// Ramps that end earlier than this are not told from the terms above, h.
const EARLIEST_END_H: f64 = 1.0;
const MOST_RAMPS: usize = 30;
/// The newest readings at which a ramp may always end.
const NEWEST_RAMPS: usize = 3;
/// A fall of χ² by the ramps that makes a loss straight.
const STRAIGHT_FALL: f64 = 10.0;
/// A second end counts from this share of the first one's amplitude.
const SECOND_END: f64 = 0.05;
/// As many readings must follow an end for it to be one.
const READINGS_AFTER: usize = 2;
/// Where a loss that may be straight and still runs could end, in ages.
const MAY_END: [f64; 2] = [1.0, 2.5];
/// How fast a loss runs on that is not bent, beside how fast it began.
const UNBENT: f64 = 0.75;
/// Each half of such a loss is so many sd of a reading.
const SEEN_SDS: f64 = 8.0;
/// A reading this long in the warm: a loss that is not straight by now has no straight terms, h.
const IN_THE_WARM_H: f64 = 1.0;

/// Where straight terms end, from the readings that are kept (in time order).
///
/// Straight: the ramps lower χ² by more than 10 max(1, χ²_with/max(1, n − 4)). Then the ends are those of the largest ramp
/// and of the second where it has over 0.05 of its amplitude; an end that fewer than two readings follow may be where the
/// readings stop and not the loss, and the loss may go on straight for another while. So it may where it is not straight,
/// until the warm has been seen.
pub(crate) fn ends(kept: &[Point], sigma_u: f64) -> Ends {
    let n = kept.len();
    let age = kept[n - 1].t_h;
    let running = MAY_END.map(|ages| ages * age);
    let design = Design::new(kept);
    let all: Vec<usize> = (0..n).collect();
    let without = design.fit(kept, &all, sigma_u, &[], design.columns - design.ramps.len());
    let with = if without.chi2 > STRAIGHT_FALL {
        design.fit(kept, &all, sigma_u, &without.used, design.columns)
    } else {
        without.clone()
    };
    let straight = without.chi2 - with.chi2 > STRAIGHT_FALL * (with.chi2 / (n as f64 - 4.0).max(1.0)).max(1.0);
    if !straight {
        return if kept.iter().any(|p| p.hours.warm > IN_THE_WARM_H) { [0.0; 2] } else { running };
    }
    let first_ramp = design.columns - design.ramps.len();
    let mut found: Vec<(f64, f64)> = with
        .used
        .iter()
        .zip(&with.amplitudes)
        .filter(|(column, _)| **column >= first_ramp)
        .map(|(column, amplitude)| (design.ramps[column - first_ramp], *amplitude))
        .collect();
    order::sort_by(&mut found, |a, b| b.1.total_cmp(&a.1));
    let followed = |end: f64| kept.iter().filter(|p| p.t_h > end).count() >= READINGS_AFTER;
    match found[..] {
        [(end, _), ..] if !followed(end) => running,
        [(end, amplitude), (second, less), ..] if less > SECOND_END * amplitude => [end, second],
        [(end, _), ..] => [end, 0.0],
        [] => running,
    }
}

/// Whether the loss runs on as fast as it began, so that nothing in it says where it will end: from the newest reading of the
/// first half of the time on, it is lost at least [`UNBENT`] times as fast as before it. A loss that slows as a film's does comes
/// to 0.4, an exponential one of a pace as long as the time to 0.6.
pub(crate) fn unbent(kept: &[Point], scatter: f64) -> bool {
    let (first, last) = (kept[0], kept[kept.len() - 1]);
    let half = kept.iter().rev().find(|p| p.t_h > 0.0 && p.t_h <= 0.5 * last.t_h);
    let Some(half) = half.filter(|_| last.hours.warm <= 0.0) else { return false };
    let (before, after) = ((first.y - half.y) / half.t_h, (half.y - last.y) / (last.t_h - half.t_h));
    half.y - last.y > SEEN_SDS * scatter && first.y - half.y > SEEN_SDS * scatter && after > UNBENT * before
}

/// Ends that a ramp may have: the readings of 1 h and more, evenly in ln t where they are many, and the newest ones.
pub(super) fn ramps(points: &[Point]) -> Vec<f64> {
    let times: Vec<f64> = points.iter().map(|p| p.t_h).filter(|t| *t >= EARLIEST_END_H).collect();
    let n = times.len();
    if n <= MOST_RAMPS {
        return times;
    }
    let (first, last) = (times[0], times[n - 1]);
    let spaced = |k: usize| first * (last / first).powf(k as f64 / (MOST_RAMPS - NEWEST_RAMPS) as f64);
    let mut next = 0;
    let mut chosen = Vec::with_capacity(MOST_RAMPS);
    for (i, t) in times.into_iter().enumerate() {
        if i + NEWEST_RAMPS >= n || t >= spaced(next) {
            chosen.push(t);
            while next < MOST_RAMPS && spaced(next) <= t {
                next += 1;
            }
        }
    }
    chosen
}
