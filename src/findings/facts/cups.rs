//! Cups of a mix.

use record::{Id, Mixed, SprayTest};

/// The newest cup of a candidate that is still being poured.
pub fn cup_in_progress<'a>(test: &'a SprayTest, candidate: &Id) -> Option<&'a Mixed> {
    let own = test.mixes.kept().filter(|cup| cup.candidate.as_ref() == Some(candidate) && cup.at.is_none());
    own.max_by(|a, b| a.stamp.cmp(&b.stamp))
}
