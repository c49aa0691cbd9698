//! Where an axis is marked, and what it says there.

use super::frame::TimeAxis;
use super::span::Span;
use quantity::figure;

/// A mark on an axis.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tick {
    pub at: f64,
    pub label: String,
}

/// Most marks tried on one axis.
const MOST: f64 = 60.0;

/// Marks at multiples of 1, 2 or 5 × 10ⁿ, at most `most` of them, with as many digits as the step needs.
pub(super) fn value_ticks(span: Span, most: f64) -> Vec<Tick> {
    let rough = span.width() / most.clamp(1.0, MOST);
    let power = rough.log10().floor() as i32;
    let unit = 10f64.powi(power);
    let step = unit * [1.0, 2.0, 5.0].into_iter().find(|f| f * unit >= rough * (1.0 - 1e-9)).unwrap_or(10.0);
    let places = (-(step * 1.000_001).log10().floor()).clamp(0.0, 9.0) as usize;
    multiples(span, step).map(|at| Tick { at, label: figure(at, places) }).collect()
}

/// The multiples of `step` in the span, none where there are more than could be told apart.
fn multiples(span: Span, step: f64) -> impl Iterator<Item = f64> {
    let (first, last) = ((span.low() / step - 1e-9).ceil(), (span.high() / step + 1e-9).floor());
    let count = if last - first < 2.0 * MOST { (last - first + 1.0).max(0.0) as u32 } else { 0 };
    // Adding 0 turns −0 into 0.
    (0..count).map(move |i| (first + f64::from(i)) * step + 0.0)
}

const MINUTE: f64 = 1.0 / 60.0;
const DAY: f64 = 24.0;
const WEEK: f64 = 168.0;

/// Steps in hours that a painter counts in.
const STEPS_H: [f64; 23] = [
    MINUTE,
    2.0 * MINUTE,
    5.0 * MINUTE,
    10.0 * MINUTE,
    0.25,
    0.5,
    1.0,
    2.0,
    3.0,
    6.0,
    12.0,
    DAY,
    2.0 * DAY,
    WEEK,
    2.0 * WEEK,
    4.0 * WEEK,
    13.0 * WEEK,
    26.0 * WEEK,
    52.0 * WEEK,
    104.0 * WEEK,
    260.0 * WEEK,
    520.0 * WEEK,
    1040.0 * WEEK,
];

/// Ages worth a mark on an uneven axis, the most telling first.
const TELLING_H: [f64; 32] = [
    0.0,
    DAY,
    WEEK,
    1.0,
    4.0 * WEEK,
    3.0 * DAY,
    2.0 * WEEK,
    6.0,
    52.0 * WEEK,
    3.0 * WEEK,
    12.0,
    8.0 * WEEK,
    3.0,
    2.0,
    0.5,
    13.0 * WEEK,
    26.0 * WEEK,
    2.0 * DAY,
    104.0 * WEEK,
    260.0 * WEEK,
    520.0 * WEEK,
    1040.0 * WEEK,
    5200.0 * WEEK,
    0.25,
    10.0 * MINUTE,
    5.0 * MINUTE,
    2.0 * MINUTE,
    MINUTE,
    4.0,
    8.0,
    4.0 * DAY,
    5.0 * DAY,
];

/// Marks on the time axis. `room` gives the stretch (left, right) in px that a label takes at an age; labels keep
/// `gap` px apart.
pub(super) fn time_ticks(axis: TimeAxis, ages: Span, gap: f64, room: impl Fn(f64, &str) -> (f64, f64)) -> Vec<Tick> {
    let even = || {
        STEPS_H.iter().find_map(|&step| {
            let ticks: Vec<Tick> = multiples(ages, step).map(|at| Tick { at, label: say(at, step) }).collect();
            let clear = ticks.windows(2).all(|p| room(p[0].at, &p[0].label).1 + gap <= room(p[1].at, &p[1].label).0);
            (!ticks.is_empty() && clear).then_some(ticks)
        })
    };
    if axis != TimeAxis::Linear {
        let mut ticks: Vec<Tick> = Vec::new();
        for at in TELLING_H.into_iter().filter(|t| ages.holds(*t)) {
            let tick = Tick { at, label: say(at, at) };
            let place = ticks.partition_point(|t| t.at < at);
            let (left, right) = room(at, &tick.label);
            let clear_before = place == 0 || room(ticks[place - 1].at, &ticks[place - 1].label).1 + gap <= left;
            let clear_after = ticks.get(place).is_none_or(|t| right + gap <= room(t.at, &t.label).0);
            if clear_before && clear_after {
                ticks.insert(place, tick);
            }
        }
        if ticks.len() > 2 {
            return ticks;
        }
    }
    even().unwrap_or_default()
}

/// An age in the words of the shop: "30 min", "36 h", "4 d", "2 wk"; the wet weight at 0. `step` is the distance
/// between marks: the unit stays the same along an axis until the numbers grow large.
fn say(t_h: f64, step: f64) -> String {
    let whole = |unit: f64| (t_h / unit).round();
    let rest = |t: f64, unit: f64| t - (t / unit + 1e-9).floor() * unit;
    if t_h == 0.0 {
        return "wet".to_owned();
    }
    if step >= WEEK && rest(t_h, WEEK) < 1e-6 {
        return format!("{} wk", whole(WEEK));
    }
    if step >= DAY {
        return format!("{} d", whole(DAY));
    }
    let minutes = (rest(t_h, 1.0) * 60.0).round();
    let hours = (t_h + 1e-9).floor();
    if minutes > 0.0 && t_h < 2.0 {
        return format!("{} min", whole(MINUTE));
    }
    let (days, hours) = if hours > 72.0 { ((hours / DAY).floor(), hours % DAY) } else { (0.0, hours) };
    [(days, "d"), (hours, "h"), (minutes, "min")]
        .into_iter()
        .filter(|(n, _)| *n > 0.0)
        .map(|(n, unit)| format!("{n} {unit}"))
        .collect::<Vec<_>>()
        .join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn labels(ticks: &[Tick]) -> String {
        ticks.iter().map(|t| t.label.as_str()).collect::<Vec<_>>().join(", ")
    }

    fn values(low: f64, high: f64, most: f64) -> String {
        labels(&value_ticks(Span::new(low, high).unwrap(), most))
    }

    /// Labels 7 px a letter on an axis of `px`.
    fn times(axis: TimeAxis, from: f64, to: f64, px: f64) -> String {
        let scaled = Span::new(axis.scale(from), axis.scale(to)).unwrap();
        labels(&time_ticks(axis, Span::new(from, to).unwrap(), 10.0, |t, label| {
            let (x, half) = (px * scaled.share(axis.scale(t)), 3.5 * label.chars().count() as f64);
            (x - half, x + half)
        }))
    }

    #[test]
    fn values_step_by_one_two_or_five() {
        assert_eq!(values(-1.3, 26.0, 6.0), "0, 5, 10, 15, 20, 25");
        assert_eq!(values(0.012, 0.031, 4.0), "0.015, 0.020, 0.025, 0.030");
        assert_eq!(values(-2.1, 2.1, 4.0), "−2, 0, 2");
        assert_eq!(values(9_999_980.0, 1e7, 5.0), "9999980, 9999985, 9999990, 9999995, 10000000");
    }

    #[test]
    fn times_are_said_in_the_unit_of_the_step() {
        let linear = TimeAxis::Linear;
        assert_eq!(times(linear, 0.0, 1.0, 250.0), "wet, 15 min, 30 min, 45 min, 1 h");
        assert_eq!(times(linear, 0.0, 12.0, 250.0), "wet, 2 h, 4 h, 6 h, 8 h, 10 h, 12 h");
        assert_eq!(times(linear, 0.0, 48.0, 250.0), "wet, 12 h, 24 h, 36 h, 48 h");
        assert_eq!(times(linear, 0.0, 96.0, 250.0), "wet, 1 d, 2 d, 3 d, 4 d");
        assert_eq!(times(linear, 0.0, 504.0, 250.0), "wet, 1 wk, 2 wk, 3 wk");
        assert_eq!(times(linear, 0.0, 504.0, 600.0), "wet, 2 d, 4 d, 6 d, 8 d, 10 d, 12 d, 14 d, 16 d, 18 d, 20 d");
        assert_eq!(times(linear, 240.0, 252.0, 250.0), "10 d, 10 d 6 h, 10 d 12 h");
    }

    #[test]
    fn uneven_axes_mark_the_telling_ages() {
        assert_eq!(times(TimeAxis::SquareRoot, 0.0, 504.0, 250.0), "wet, 1 d, 3 d, 1 wk, 2 wk, 3 wk");
        assert_eq!(times(TimeAxis::Log, 0.0, 504.0, 250.0), "wet, 1 h, 6 h, 1 d, 1 wk");
        assert_eq!(times(TimeAxis::Log, 240.0, 300.0, 250.0), "10 d, 11 d, 12 d");
    }
}
