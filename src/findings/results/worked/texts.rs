//! What is said of each number, by its key. Sources by title or number alone.

/// What does not change from panel to panel.
pub(crate) struct Text {
    pub key: &'static str,
    pub formula: &'static str,
    /// Keys of what goes in.
    pub inputs: &'static [&'static str],
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

pub(crate) fn text_of(key: &str) -> &'static Text {
    TEXTS.iter().find(|text| text.key == key).unwrap_or(&UNKNOWN)
}

static UNKNOWN: Text = Text { key: "", formula: "As written down.", inputs: &[], source: "the record", assumes: &[] };

static TEXTS: [Text; 26] = [
    Text {
        key: "lost",
        formula: "wet weight − (newest weight − drift of the scale)",
        inputs: &["wet_gross", "newest_gross", "drift"],
        source: CURVE,
        assumes: &[
            "What the blank shows is the scale's drift and its jumps.",
            "Readings set aside or off the curve are left out.",
        ],
    },
    Text {
        key: "lost_share",
        formula: "lost so far / wet coat",
        inputs: &["lost", "wet_coat"],
        source: "the form of ASTM D2369 and ISO 3251, on a panel",
        assumes: &["Paint on the back or on hook and tape counts as coat."],
    },
    Text {
        key: "lost_before",
        formula: "85 % of (fall of the curve at the first weight) · (time since the last coat); limits 30 % and 260 % of the fall",
        inputs: &["wet_gross", "readings"],
        source: "design choice, tried on simulated panels with their first weights taken away",
        assumes: &["The first weight follows the last coat within half an hour, a second within two hours."],
    },
    Text {
        key: "wet_coat",
        formula: "wet weight − bare weight; without a bare weight: wet film · density · area / 10⁴",
        inputs: &["wet_gross", "bare", "wet_film", "density", "area"],
        source: "by weighing; the stand-in by density, ASTM D1475",
        assumes: &["What flashed off before the wet weight is not in it."],
    },
    Text {
        key: "wet_film",
        formula: "the film µ that all dabs speak for: each ~ N(µ, (s·µ)²), seen through the gap between two teeth; its mean",
        inputs: &["dabs", "comb_bias"],
        source: "ASTM D4414 for the interval; the posterior is this project's",
        assumes: &[COMB],
    },
    Text {
        key: "still_to_lose",
        formula: "m(newest) − final weight, over all curves that agree with the weights",
        inputs: &["readings", "scatter", "belief", "final_gross"],
        source: CURVE,
        assumes: &[FINAL, STAYS, "Drying only ever takes weight away."],
    },
    Text {
        key: "settled",
        formula: "still to lose (90 % quantile) < limit, and the last three weights level",
        inputs: &["still_to_lose", "limit", "readings", "trend"],
        source: CURVE,
        assumes: &[STAYS, "The limit is two divisions of the scale or 1 % of the loss, whichever is more."],
    },
    Text {
        key: "film_still_to_go",
        formula: "10⁴ (m(day) − final weight) / (solvent density · area)",
        inputs: &["final_gross", "solvent_density", "area"],
        source: CURVE,
        assumes: &[STAYS, SOLVENT, AREA, ADDS],
    },
    Text {
        key: "final_build",
        formula: "each route weighed by how well it is known, shared errors counted once: w = V⁻¹1 / (1ᵀV⁻¹1)",
        inputs: &["routes", "weights", "agreement"],
        source: ROUTES,
        assumes: &[
            FINAL,
            "Routes that share an input share its error.",
            "Routes that differ by more than chance are not combined.",
        ],
    },
    Text {
        key: "build_comb",
        formula: "W − 10⁴ (wet weight − final weight) / (solvent density · area)",
        inputs: &["wet_film", "wet_gross", "final_gross", "solvent_density", "area"],
        source: ROUTES,
        assumes: &[COMB, SOLVENT, AREA, ADDS],
    },
    Text {
        key: "build_sheet",
        formula: "W · VS / (1 + reducer)",
        inputs: &["wet_film", "volume_solids", "thinning"],
        source: GUIDEBOOK,
        assumes: &["The sheet is right.", "Nothing had left when the comb was read; else it is a lower bound.", ADDS],
    },
    Text {
        key: "build_density",
        formula: "10⁴ (final weight − bare weight) / (dry density · area)",
        inputs: &["final_gross", "bare", "dry_density", "area"],
        source: "ASTM D1475 for densities; scope of ISO 3233-3:2015; GUM, JCGM 100:2008, eq. (10)",
        assumes: &[AREA, "The film has no pores."],
    },
    Text {
        key: "build_gauge",
        formula: "mean of the spots − shim − base metal",
        inputs: &["spots", "gauge_u", "base_metal", "dry_per_wet"],
        source: "ASTM D7091; SSPC-PA 2; MIL-HDBK-1110, 10.3.11",
        assumes: &["The film was hard enough not to dent under the probe."],
    },
    Text {
        key: "mean_still_to_go",
        formula: "10⁴ (m(day) − final weight) / (solvent density · area), mean of the panels",
        inputs: &["solvent_density", "area", "day"],
        source: MEANS,
        assumes: &[STAYS, SOLVENT, AREA, SHARED],
    },
    Text {
        key: "mean_build",
        formula: "mean of the panels' final builds, each by all its routes",
        inputs: &["agreement"],
        source: MEANS,
        assumes: &[FINAL, SHARED],
    },
    Text {
        key: "loss_per_area",
        formula: "10⁴ (wet weight − final weight) / area, mean of the panels",
        inputs: &["area"],
        source: MEANS,
        assumes: &[FINAL, AREA, SHARED],
    },
    Text {
        key: "loss_share",
        formula: "(wet weight − final weight) / wet coat, mean of the panels",
        inputs: &[],
        source: MEANS,
        assumes: &[FINAL, SHARED],
    },
    Text {
        key: "film_lost",
        formula: "10⁴ (wet weight − final weight) / (solvent density · area), mean of the panels",
        inputs: &["solvent_density", "area"],
        source: MEANS,
        assumes: &[FINAL, SOLVENT, AREA, SHARED],
    },
    Text {
        key: "build_kept",
        formula: "1 − film lost / wet film, mean of the panels",
        inputs: &["solvent_density", "area"],
        source: MEANS,
        assumes: &[COMB, SOLVENT, SHARED, "A ratio to plan with, never verified volume solids (ASTM D4414, 4.2)."],
    },
    Text {
        key: "solids_by_weight",
        formula: "(final weight − bare weight) / (wet weight − bare weight), beside the sheet's for the mix as sprayed",
        inputs: &["stated_by_weight", "e_n"],
        source: "the form of ASTM D2369 and ISO 3251, on a panel",
        assumes: &["Some solvent stays at room temperature: at least the oven's value.", SHARED],
    },
    Text {
        key: "solids_by_volume",
        formula: "1 − (1 − NV) · density of the mix / solvent density, beside the sheet's for the mix as sprayed",
        inputs: &["density", "solvent_density", "stated_by_volume", "e_n"],
        source: "mass balance; scope of ISO 3233-3:2015",
        assumes: &[ADDS, SOLVENT],
    },
    Text {
        key: "days_to_settle",
        formula: "time until still to lose ≤ limit, mean of the panels; at another build between its ratio and its square",
        inputs: &["limit"],
        source: "this project's drying-curve method; thickness: Crank, The Mathematics of Diffusion",
        assumes: &[STAYS, SHARED],
    },
    Text {
        key: "wet_to_spray",
        formula: "(wanted build + sanded off) / share of the wet film kept; by the sheet (wanted + sanded) (1 + reducer) / VS",
        inputs: &["wanted", "sanded_off", "kept", "volume_solids", "thinning"],
        source: GUIDEBOOK,
        assumes: &[AS_KEPT],
    },
    Text {
        key: "coats",
        formula: "wet film to spray / wet film of a coat, rounded up",
        inputs: &["wanted", "sanded_off", "kept", "coat_wet"],
        source: GUIDEBOOK,
        assumes: &[AS_KEPT, "All coats are sprayed alike."],
    },
    Text {
        key: "price",
        formula: "price of the mix by volume · (wanted + sanded off) / (share kept · share that lands)",
        inputs: &["price_per_litre", "wanted", "sanded_off", "kept", "lands"],
        source: "coverage as 1000·VS·TE/D; Paints & Coatings Resource Center; GUM, JCGM 100:2008, eq. (10)",
        assumes: &[AS_KEPT, "What is sprayed over the edges of a small panel and what stays in the gun are not in it."],
    },
    Text {
        key: "solvent_off",
        formula: "solvent density · (wanted + sanded off) · (1 − k) / k, k the share of the wet film kept",
        inputs: &["wanted", "sanded_off", "kept", "solvent_density"],
        source: "mass balance; compare ASTM D3960",
        assumes: &[SOLVENT, "Paint that misses the panel, and what flashed off before the wet weight, are not in it."],
    },
];
