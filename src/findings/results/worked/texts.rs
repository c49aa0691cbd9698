//! What is said of each number, by its key. Sources by title or number alone.

use super::inputs::Input;
use super::inputs::Input::*;
use crate::results::beside::RowKey;
use crate::results::figures::FigureKey;
use crate::work::By;
use science::routes::Route;

/// What does not change from panel to panel.
pub(crate) struct Text {
    pub formula: &'static str,
    /// What goes in.
    pub inputs: &'static [Input],
    pub source: &'static str,
    pub assumes: &'static [&'static str],
}

const CURVE: &str = "this project's drying-curve method";

const ROUTES: &str = "mass balance and generalised least squares; GUM, JCGM 100:2008, eqs (10) and (13)";

const MEANS: &str =
    "mean of the panels, which are the unit of evidence; Student's t with Welch's degrees, Holm over all pairs";

const GUIDEBOOK: &str = "Metal Finishing Guidebook 2012–13; MIL-HDBK-1110, 2.1.5; GUM, JCGM 100:2008, eq. (10)";

const STAYS: &str = "The panel stays where it is now; what warmth would drive out later is not in it.";

const SOLVENT: &str =
    "All that is lost is solvent of one density; without a better number {solvent} (common practice).";

const AREA: &str = "The coated area is known to 1 %.";

const ADDS: &str = "Volumes add, and the film has no pores.";

const COMB: &str =
    "A dab is an interval; the film scatters by about 6 % over a panel, and the comb itself may be 2.5 % off.";

const SHARED: &str = "What the panels share (comb, densities, the unseen end of the curve) does not average out.";

const FINAL: &str = "Final means 90 days on.";

const AS_KEPT: &str =
    "The share of the wet film kept is that of these panels, or the sheet's solids where they do not say.";

/// What is said of a panel's figure, which is worked out from the panel.
pub(crate) fn of_figure(key: FigureKey) -> &'static Text {
    match key {
        FigureKey::Lost => &Text {
            formula: "wet weight − (newest weight − drift of the scale)",
            inputs: &[WetGross, NewestGross, Drift],
            source: CURVE,
            assumes: &[
                "What the blank shows is the scale's drift and its jumps.",
                "Readings set aside or off the curve are left out.",
            ],
        },
        FigureKey::LostShare => &Text {
            formula: "lost so far / wet coat",
            inputs: &[Lost, WetCoat],
            source: "the form of ASTM D2369 and ISO 3251, on a panel",
            assumes: &["Paint on the back or on hook and tape counts as coat."],
        },
        FigureKey::LostBefore => &Text {
            formula: "85 % of (fall of the curve at the first weight) · (time since the last coat); limits 30 % and 260 % of the fall",
            inputs: &[WetGross, Readings],
            source: "design choice, tried on simulated panels with their first weights taken away",
            assumes: &["The first weight follows the last coat within half an hour, a second within two hours."],
        },
        FigureKey::WetCoat => &Text {
            formula: "wet weight − bare weight; without a bare weight: wet film · density · area / 10⁴",
            inputs: &[WetGross, Bare, WetFilm, Density, Area],
            source: "by weighing; the stand-in by density, ASTM D1475",
            assumes: &["What flashed off before the wet weight is not in it."],
        },
        FigureKey::WetFilm => &Text {
            formula: "the film µ that all dabs speak for: each ~ N(µ, (s·µ)²), seen through the gap between two teeth; its mean",
            inputs: &[Dabs, CombBias],
            source: "ASTM D4414 for the interval; the posterior is this project's",
            assumes: &[COMB],
        },
        FigureKey::StillToLose => &Text {
            formula: "m(newest) − final weight, over all curves that agree with the weights",
            inputs: &[Readings, Scatter, Belief, FinalGross],
            source: CURVE,
            assumes: &[FINAL, STAYS, "Drying only ever takes weight away."],
        },
        FigureKey::Settled => &Text {
            formula: "still to lose < limit, as surely as the plan asks, and the last three weights level",
            inputs: &[StillToLose, Limit, Readings, Trend],
            source: CURVE,
            assumes: &[
                STAYS,
                "The limit is two steps of the scale or 1 % of the loss, whichever is more; never over {cap} of film.",
            ],
        },
        FigureKey::FilmStillToGo(_) => &Text {
            formula: "10⁴ (m(day) − final weight) / (solvent density · area)",
            inputs: &[FinalGross, SolventDensity, Area],
            source: CURVE,
            assumes: &[STAYS, SOLVENT, AREA, ADDS],
        },
        FigureKey::FinalBuild => &Text {
            formula: "each route weighed by how well it is known, shared errors counted once: w = V⁻¹1 / (1ᵀV⁻¹1)",
            inputs: &[Routes, Weights, Agreement],
            source: ROUTES,
            assumes: &[
                FINAL,
                "Routes that share an input share its error.",
                "Routes that differ by more than chance are not combined.",
            ],
        },
        FigureKey::BuildBy(Route::CombAndScale) => &Text {
            formula: "W − 10⁴ (wet weight − final weight) / (solvent density · area)",
            inputs: &[WetFilm, WetGross, FinalGross, SolventDensity, Area],
            source: ROUTES,
            assumes: &[COMB, SOLVENT, AREA, ADDS],
        },
        FigureKey::BuildBy(Route::Sheet) => &Text {
            formula: "W · VS / (1 + reducer)",
            inputs: &[WetFilm, VolumeSolids, Thinning],
            source: GUIDEBOOK,
            assumes: &[
                "The sheet is right.",
                "Nothing had left when the comb was read; else it is a lower bound.",
                ADDS,
            ],
        },
        FigureKey::BuildBy(Route::ScaleAndDensity) => &Text {
            formula: "10⁴ (final weight − bare weight) / (dry density · area)",
            inputs: &[FinalGross, Bare, DryDensity, Area],
            source: "ASTM D1475 for densities; scope of ISO 3233-3:2015; GUM, JCGM 100:2008, eq. (10)",
            assumes: &[AREA, "The film has no pores."],
        },
        FigureKey::BuildBy(Route::Gauge) => &Text {
            formula: "mean of the spots − shim − base metal",
            inputs: &[Spots, GaugeU, BaseMetal, DryPerWet],
            source: "ASTM D7091; SSPC-PA 2; MIL-HDBK-1110, 10.3.11",
            assumes: &["The film was hard enough not to dent under the probe."],
        },
    }
}

/// What is said of a row, which is worked out from the panels of a candidate.
pub(crate) fn of_row(key: RowKey) -> &'static Text {
    match key {
        RowKey::Mean(By::FilmStillToGo) => &Text {
            formula: "10⁴ (m(day) − final weight) / (solvent density · area), mean of the panels",
            inputs: &[SolventDensity, Area, Day],
            source: MEANS,
            assumes: &[STAYS, SOLVENT, AREA, SHARED],
        },
        RowKey::Mean(By::FinalBuild) => &Text {
            formula: "mean of the panels' final builds, each by all its routes",
            inputs: &[Agreement],
            source: MEANS,
            assumes: &[FINAL, SHARED],
        },
        RowKey::Mean(By::LossPerArea) => &Text {
            formula: "10⁴ (wet weight − final weight) / area, mean of the panels",
            inputs: &[Area],
            source: MEANS,
            assumes: &[FINAL, AREA, SHARED],
        },
        RowKey::Mean(By::LossShare) => &Text {
            formula: "(wet weight − final weight) / wet coat, mean of the panels",
            inputs: &[],
            source: MEANS,
            assumes: &[FINAL, SHARED],
        },
        RowKey::Mean(By::FilmLost) => &Text {
            formula: "10⁴ (wet weight − final weight) / (solvent density · area), mean of the panels",
            inputs: &[SolventDensity, Area],
            source: MEANS,
            assumes: &[FINAL, SOLVENT, AREA, SHARED],
        },
        RowKey::Mean(By::BuildKept) => &Text {
            formula: "1 − film lost / wet film, mean of the panels",
            inputs: &[SolventDensity, Area],
            source: MEANS,
            assumes: &[COMB, SOLVENT, SHARED, "A ratio to plan with, never verified volume solids (ASTM D4414, 4.2)."],
        },
        RowKey::SolidsByWeight => &Text {
            formula: "(final weight − bare weight) / (wet weight − bare weight), beside the sheet's for the mix as sprayed",
            inputs: &[StatedByWeight, AgainstSheet],
            source: "the form of ASTM D2369 and ISO 3251, on a panel",
            assumes: &["Some solvent stays at room temperature: at least the oven's value.", SHARED],
        },
        RowKey::SolidsByVolume => &Text {
            formula: "1 − (1 − NV) · density of the mix / solvent density, beside the sheet's for the mix as sprayed",
            inputs: &[Density, SolventDensity, StatedByVolume, AgainstSheet],
            source: "mass balance; scope of ISO 3233-3:2015",
            assumes: &[ADDS, SOLVENT],
        },
        RowKey::DaysToSettle => &Text {
            formula: "time until still to lose ≤ limit, mean of the panels; at another build between its ratio and its square",
            inputs: &[Limit],
            source: "this project's drying-curve method; thickness: Crank, The Mathematics of Diffusion",
            assumes: &[STAYS, SHARED],
        },
        RowKey::WetToSpray => &Text {
            formula: "(wanted build + sanded off) / share of the wet film kept; by the sheet (wanted + sanded) (1 + reducer) / VS",
            inputs: &[Wanted, SandedOff, Kept, VolumeSolids, Thinning],
            source: GUIDEBOOK,
            assumes: &[AS_KEPT],
        },
        RowKey::Coats => &Text {
            formula: "wet film to spray / wet film of a coat, rounded up",
            inputs: &[Wanted, SandedOff, Kept, CoatWet],
            source: GUIDEBOOK,
            assumes: &[AS_KEPT, "All coats are sprayed alike."],
        },
        RowKey::Price => &Text {
            formula: "price of the mix by volume · (wanted + sanded off) / (share kept · share that lands)",
            inputs: &[PricePerLitre, Wanted, SandedOff, Kept, Lands],
            source: "coverage as 1000·VS·TE/D; Paints & Coatings Resource Center; GUM, JCGM 100:2008, eq. (10)",
            assumes: &[
                AS_KEPT,
                "What is sprayed over the edges of a small panel and what stays in the gun are not in it.",
            ],
        },
        RowKey::SolventOff => &Text {
            formula: "solvent density · (wanted + sanded off) · (1 − k) / k, k the share of the wet film kept",
            inputs: &[Wanted, SandedOff, Kept, SolventDensity],
            source: "mass balance; compare ASTM D3960",
            assumes: &[
                SOLVENT,
                "Paint that misses the panel, and what flashed off before the wet weight, are not in it.",
            ],
        },
    }
}
