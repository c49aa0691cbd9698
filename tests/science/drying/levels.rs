//! Which level of a scale that jumps a weight belongs to: back on an old one, and between the blank's weighings.

use crate::jumps::{D, all_kept, blank, jumps, rounds, told};
use comb_scale::science::drying::{Balance, Doubt, OfScale, Scale, Standing};

/// A panel weighed between the two blank readings round a jump has the level of the nearer one; midway its own other weights
/// tell, on either side of the jump; and where they agree with neither level it is left out, with its reason.
#[test]
fn between_two_blank_readings_the_nearer_one_tells_and_midway_the_other_weights() {
    let rounds = rounds(14);
    let (before, after) = (rounds[6], rounds[7]);
    for (jumped_h, midway_g) in [(after - 1.0, 0.0), (before + 1.0, 5.0)] {
        let level = |t: f64| if t >= jumped_h { 5.0 } else { 0.0 };
        let f = told(&rounds, &[before + 0.5, after - 0.5, before + 12.0], &blank(&rounds, level), level);
        assert!(f.drift_at_g(0, before + 0.5).abs() < 0.1);
        assert!((f.drift_at_g(0, after - 0.5) - 5.0).abs() < 0.15);
        assert!((f.drift_at_g(0, before + 12.0) - midway_g).abs() < 0.15);
        assert!(all_kept(&f), "{:?}", f.readings);
        let [jump] = jumps(&f)[..] else { panic!("{:?}", jumps(&f)) };
        assert!(jump.told_by_panel && jump.after_h <= jumped_h && jumped_h <= jump.by_h, "{jump:?}");
    }
    let level = |t: f64| {
        if t < before + 6.0 {
            0.0
        } else if t < after - 1.0 {
            2.5
        } else {
            5.0
        }
    };
    let f = told(&rounds, &[before + 12.0], &blank(&rounds, level), level);
    let doubtful: Vec<usize> = (0..f.readings.len()).filter(|&i| f.readings[i] != Standing::Kept).collect();
    assert_eq!(doubtful, [7], "{:?}", f.readings);
    assert!(matches!(f.readings[7], Standing::InDoubt(Doubt::Between(by)) if (by - 5.0).abs() < 0.2));
    // Of a small jump the midway reading still says something.
    let level = |t: f64| if t >= after { 0.7 } else { 0.0 };
    let f = told(&rounds, &[before + 7.0], &blank(&rounds, level), level);
    assert!(all_kept(&f) && jumps(&f).len() == 1, "{:?}", f.readings);
}

/// The blank is back on a level that the scale had left: that is believed at once, however often the scale goes to and fro;
/// a level that it never showed is not.
#[test]
fn a_blank_back_on_an_old_level_needs_no_other() {
    let rounds = rounds(14);
    for by in [0.8, -1.2, 5.0, -40.0] {
        for back in [7, 9, 13] {
            let level = |t: f64| if t >= rounds[5] && t < rounds[back] { by } else { 0.0 };
            let blank = blank(&rounds[..=back], level);
            let f = told(&rounds[..=back], &[], &blank, level);
            assert!(all_kept(&f) && jumps(&f).len() == 2, "{by} g, back in round {back}: {:?}", f.readings);
            let balance = Balance::new(Scale::new(D), &blank);
            assert!(matches!(balance.of_scale(rounds[back]), Some(OfScale::Back(g)) if (g + by).abs() < 0.3));
            assert!(matches!(balance.of_scale(rounds[5]), Some(OfScale::Jumped(g)) if (g - by).abs() < 0.3));
            // As far off, but nowhere that it has been.
            let level = |t: f64| if t >= rounds[back] { 2.0 * by } else { level(t) };
            let blank = self::blank(&rounds[..=back], level);
            let balance = Balance::new(Scale::new(D), &blank);
            assert!(matches!(balance.of_scale(rounds[back]), Some(OfScale::Alone(_))), "{by} g, round {back}");
        }
    }
}
