//! When the panels are sanded or topcoated.

use quantity::Quantity;
use record::{Candidate, SprayTest};

/// The day of sanding that counts for a candidate, h after the last coat: the person's, else that of its sheet.
pub(crate) fn sanding_h(test: &SprayTest, candidate: Option<&Candidate>) -> Option<f64> {
    test.wanted.sanding_h.or(candidate.and_then(|candidate| candidate.sheet.sanding_h)).map(Quantity::get)
}
