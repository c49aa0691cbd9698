//! What to say of the clocks by which a test was noted.

use super::wording::duration;
use crate::facts::{APART_H, ClocksApart, newest_deed, on_one_clock};
use quantity::Instant;
use record::SprayTest;

/// What is to be said of the clocks by which a test was noted, at a moment of this phone's clock: that two disagree, one was
/// set back, or something is noted for a time that has not come.
pub fn clocks_said(test: &SprayTest, now: Instant) -> Option<String> {
    let ahead = newest_deed(test).filter(|at| at.hours_since(now) >= APART_H).map(|at| {
        let by = duration(at.hours_since(now));
        format!("Something is noted for {}, and it is {} here: a clock is {by} or more off. Set the clocks right, then correct the time.", at.said(), now.said_time())
    });
    ahead.or_else(|| on_one_clock(test)?.apart.map(apart_said))
}

fn apart_said(apart: ClocksApart) -> String {
    let by = duration(apart.by_h);
    if apart.set_back {
        format!(
            "A clock was set back by {by} or more while this was noted. What it noted before counts as that much earlier. Where that is wrong, correct the time."
        )
    } else {
        format!(
            "The clocks of two phones are {by} or more apart: set them right. What the one ahead noted counts as that much earlier. Where that is wrong, correct the time."
        )
    }
}
