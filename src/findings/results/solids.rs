//! The data sheet against the weights: which of them to believe is the painter's choice.

use crate::told::PanelFindings;
use record::Pick;
use science::drying::Warning;

/// What can be done about a data sheet that the weights contradict: the words of the press, and the choice that it makes for
/// the panel's candidate. Nothing where sheet and weights agree, or where a dish was dried and stands for the sheet.
pub fn sheet_choice(panel: &PanelFindings) -> Option<(&'static str, Pick)> {
    let (candidate, sheet) = (panel.candidate.clone()?, &panel.work.card.sheet);
    if sheet.left_out {
        return Some(("Take the sheet in again", Pick::SheetLeftOut(candidate, false)));
    }
    let warnings = panel.work.forecast.as_ref().map_or(&[][..], |forecast| &forecast.warnings);
    let contradicted = warnings.iter().any(|warning| matches!(warning, Warning::SheetConflict { .. }));
    (contradicted && sheet.narrows()).then_some(("Leave the sheet out", Pick::SheetLeftOut(candidate, true)))
}
