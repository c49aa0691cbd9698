//! Panels and blanks that left the test, in sentences.

use crate::facts::leaving;
use record::{Entries, Leaving, Owner, SprayTest};

/// That a panel or a blank left the test, when and why: `Left the test Tue 3 Mar 08:00: it fell, or lost a chip.`
pub fn left_said(left: &Entries<Leaving>) -> Option<String> {
    let leaving = leaving(left)?;
    let when = leaving.at.map_or(String::new(), |at| format!(" {}", at.said()));
    let why = leaving.why.trim();
    let why = if why.is_empty() { String::new() } else { format!(": {why}") };
    Some(format!("Left the test{when}{why}."))
}

/// The same of one by name: `A2: left the test Tue 3 Mar 08:00: it fell, or lost a chip.`
pub fn owner_left_said(test: &SprayTest, owner: &Owner) -> String {
    let said = owner.left(test).and_then(left_said).unwrap_or_default();
    [owner.label(test), ": ", &said].concat()
}
