//! The order of spraying and the places in the rack, drawn from a seed that is shown: whoever draws from the same seed gets
//! the same order, on every phone.

use crate::facts::{candidates_in_order, in_test};
use record::{Action, Id, SprayTest, fnv_1a};

/// Why anything is drawn at all.
pub const WHY_DRAWN: &str = "Sprayed in the order of the list, the last primer gets the warmer shop and the practised hand, and its panels one end of the rack; drawn by lot, such things fall on any of them.";

/// A generator of 64-bit numbers: SplitMix64 (Steele, Lea & Flood, OOPSLA 2014).
struct SplitMix(u64);

impl SplitMix {
    /// Begins from a text: its hash.
    fn of(seed: &str) -> Self {
        Self(fnv_1a(&[seed.trim()]))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `bound`, all equally likely: those that would make the low ones likelier are thrown away.
    fn below(&mut self, bound: u64) -> u64 {
        let bound = bound.max(1);
        let fair = u64::MAX - u64::MAX % bound;
        loop {
            let drawn = self.next();
            if drawn < fair {
                return drawn % bound;
            }
        }
    }

    /// Fisher and Yates, from the end.
    fn shuffle<T>(&mut self, list: &mut [T]) {
        for last in (1..list.len()).rev() {
            list.swap(last, self.below(last as u64 + 1) as usize);
        }
    }
}

/// Draws the order of the candidates and a place in the rack for every panel.
///
/// ```
/// use findings::plan::draw;
/// use record::start;
/// let test = start("t1".into(), "2026-03-02T08:10:00+01:00".parse().unwrap(), "phone").test().clone();
/// assert_eq!(draw(&test, "gate 7"), draw(&test, " gate 7 "), "the seed alone decides");
/// assert_ne!(draw(&test, "gate 7"), draw(&test, "gate 8"));
/// ```
pub fn draw(test: &SprayTest, seed: &str) -> Action {
    let mut chance = SplitMix::of(seed);
    let mut candidates: Vec<Id> = candidates_in_order(test).into_iter().map(|candidate| candidate.id.clone()).collect();
    chance.shuffle(&mut candidates);
    let panels: Vec<Id> = in_test(test).into_iter().map(|panel| panel.id.clone()).collect();
    let mut places: Vec<usize> = (1..=panels.len()).collect();
    chance.shuffle(&mut places);
    let racks = panels.into_iter().zip(places).map(|(panel, place)| (panel, place.to_string())).collect();
    Action::Draw { seed: seed.trim().into(), candidates, racks }
}

/// The drawn order in words; says so where candidates came later.
pub fn order_said(test: &SprayTest) -> String {
    let drawn: Vec<&str> = (test.order.candidates.iter())
        .filter_map(|id| test.candidates.find(id))
        .map(|candidate| candidate.label.as_str())
        .collect();
    if drawn.is_empty() {
        return "Not drawn yet.".into();
    }
    let left_out = test.candidates.kept().any(|candidate| !test.order.candidates.contains(&candidate.id));
    let unplaced = in_test(test).into_iter().any(|panel| panel.rack.trim().is_empty());
    let stale = match (left_out, unplaced) {
        (true, _) => " A candidate came later: draw again.",
        (false, true) => " A panel came later and has no place in the rack: draw again.",
        (false, false) => "",
    };
    format!("{}.{stale}", drawn.join(", then "))
}

#[cfg(test)]
mod tests {
    use super::SplitMix;

    /// The first numbers from 1234567, as a public programming task for this generator gives them (from memory).
    #[test]
    fn the_generator_is_the_known_one() {
        let mut chance = SplitMix(1_234_567);
        let drawn = [chance.next(), chance.next(), chance.next(), chance.next(), chance.next()];
        let known = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
            16_408_922_859_458_223_821,
        ];
        assert_eq!(drawn, known);
    }

    /// Test vectors of the hash's authors: the 64-bit FNV-1a of the empty text, of `a` and of `foobar`.
    #[test]
    fn the_hash_is_the_known_one() {
        let known = [("", 0xcbf2_9ce4_8422_2325), ("a", 0xaf63_dc4c_8601_ec8c), ("foobar", 0x8594_4171_f739_67e8)];
        for (text, hash) in known {
            assert_eq!(SplitMix::of(text).0, hash, "{text}");
        }
    }

    /// Each of the 6 orders of three comes up in a sixth of the draws, to within five standard deviations.
    #[test]
    fn every_order_is_equally_likely() {
        let mut counts = std::collections::BTreeMap::new();
        for seed in 0..6000 {
            let mut list = [1, 2, 3];
            SplitMix::of(&format!("seed {seed}")).shuffle(&mut list);
            *counts.entry(list).or_insert(0) += 1;
        }
        let sd = (6000.0 * (1.0 / 6.0) * (5.0 / 6.0_f64)).sqrt();
        assert_eq!(counts.len(), 6);
        assert!(counts.values().all(|&count| (f64::from(count) - 1000.0).abs() < 5.0 * sd));
    }
}
