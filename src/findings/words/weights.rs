//! Weights of a panel in words.

use super::wording::Wording;
use crate::facts::{bare_weight, step_on_g};
use record::{Panel, SprayTest};

/// The bare weight of a panel to the step of the scale: `400.2 g`.
pub(crate) fn bare_said(test: &SprayTest, panel: &Panel, wording: &Wording) -> Option<String> {
    Some(wording.weight(bare_weight(test, panel)?.gross_g, step_on_g(test, panel)))
}
