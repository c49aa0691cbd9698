//! The usual cautions, shortest form. The data sheet, the safety data sheet and local rules come first.

/// Where a test leads someone to mix, spray or warm paint. Each names where it comes from.
pub const CAUTIONS: [&str; 5] = [
    "Two-pack primers with isocyanates: only air-fed breathing apparatus while spraying, gloves and covered skin while mixing; a filter mask is not enough (HSE bodyshop guidance; NIOSH 96-111).",
    "Spray mist stays in the air after it cannot be seen any more: know how long your space takes to clear (HSE bodyshop guidance).",
    "No open flame, heater or spark where you spray or flash off; ventilate, and ground metal parts (29 CFR 1910.107).",
    "Never warm panels in a kitchen or closed oven: sun, or a ventilated bake after flash-off (29 CFR 1910.107; NFPA 86).",
    "The primer's data sheet and safety data sheet, local rules and licensed practice govern; this page does not replace them.",
];

/// Beside a mix being poured.
pub const MIXING: [&str; 2] = [
    "Gloves, covered skin and eye protection while pouring and stirring: hardeners harm through the skin as well (OSHA; NIOSH 96-111).",
    "Bond and ground metal cans when pouring; leave hardened left-overs open to the air, they can heat by themselves (from memory: the safety data sheet governs).",
];

/// Beside a coat about to be sprayed.
pub const SPRAYING: [&str; 2] = [
    "Isocyanates: air-fed breathing apparatus, visor down until the space has cleared; a filter mask is not enough (HSE bodyshop guidance; Safe Work Australia 2020).",
    "Exhaust running, no flame or spark within 6 m (20 ft), panels and gun grounded (29 CFR 1910.107).",
];

/// Beside a flash-off.
pub const FLASHING: [&str; 1] =
    ["Flash off in moving air. No closed oven, no heater with a flame or spark (29 CFR 1910.107; NFPA 86)."];

/// What a settled panel is not.
pub const SETTLED_MEANS: &str = "Settled means this scale sees nothing more to lose where the panel is now. It is not the maker's time to sand or recoat: the data sheet says that.";
