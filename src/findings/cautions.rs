//! The usual cautions, shortest form. The data sheet, the safety data sheet and local rules come first.

/// Where a test leads someone to mix, spray or warm paint. Each names where it comes from.
pub const CAUTIONS: [&str; 5] = [
    "Two-pack primers with isocyanates: only air-fed breathing apparatus while spraying, gloves and covered skin while mixing; a filter mask is not enough (HSE bodyshop guidance; NIOSH 96-111).",
    "Spray mist stays in the air after it cannot be seen any more: know how long your space takes to clear (HSE bodyshop guidance).",
    "No open flame, heater or spark where you spray or flash off; ventilate, and ground metal parts (29 CFR 1910.107).",
    "Never warm panels in a kitchen or closed oven: sun, or a ventilated bake after flash-off (29 CFR 1910.107; NFPA 86).",
    "The primer's data sheet and safety data sheet, local rules and licensed practice govern; this page does not replace them.",
];

/// Where a test leads someone to pour: what mixing alone asks for.
pub const MIXING_CAUTIONS: [&str; 4] = [
    "Gloves, covered skin and eye protection: isocyanate hardeners can make you allergic through the skin (NIOSH 96-111; OSHA).",
    "Mix where the air moves, away from flame and spark; ground metal cans before you pour (29 CFR 1910.107; NFPA 33).",
    "Leave what is left of a hardened mix open to the air, not in a closed can or on rags: it can heat up by itself (common practice).",
    "The safety data sheet of each component governs.",
];

/// What a settled panel is not.
pub const SETTLED_MEANS: &str = "Settled means this scale sees nothing more to lose where the panel is now. It is not the maker's time to sand or recoat: the data sheet says that.";
