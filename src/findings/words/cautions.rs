//! The usual cautions, shortest form. The data sheet, the safety data sheet and local rules come first.

/// Where a test leads someone to mix, spray, sand or heat. Each names where it comes from.
pub const CAUTIONS: [&str; 10] = [
    "The primer's data sheet and safety data sheet, local codes, and licensed practice govern. This page does not replace them.",
    "Two-pack primers with isocyanates: air-fed visor or mask while spraying, gloves and covered skin while mixing. A filter mask is not enough (HSE bodyshop guidance; NIOSH 96-111).",
    "Isocyanates and amine hardeners, epoxies too, can make you allergic, and then a trace is enough. Wheeze, tight chest, or rash: stop, leave, see a doctor (from memory).",
    "One-pack solvent paints: a mask with organic-vapor and particle filters (from memory).",
    "Mist hangs in the air after you can't see it, in a room for up to 30 min. Keep the visor down until it has cleared (HSE bodyshop guidance).",
    "No open flame, heater, or spark where you spray or flash off. The phone and the scale can spark too: keep them out of there. Ventilate, and ground metal parts (29 CFR 1910.107).",
    "Never warm panels in a kitchen or closed oven: sun, or a ventilated bake after flash-off (29 CFR 1910.107; NFPA 86).",
    "Never thin paint that has begun to thicken. Never put a lid on mixed two-pack: it heats and builds pressure. Leave it open, outdoors, away from what burns, until it is hard (from memory).",
    "Solvent rags go into a lidded metal can and out of the building daily. Cleaning the gun needs the same protection as spraying (from memory).",
    "Sanding dust of primer harms. Let the film cure first, and use extraction and a P100 or P3 filter (from memory).",
];

/// Beside a mix being poured.
pub const MIXING: [&str; 2] = [
    "Gloves, covered skin, and eye protection while pouring and stirring: hardeners harm through the skin as well (OSHA; NIOSH 96-111).",
    "Bond and ground metal cans when pouring (29 CFR 1910.106). No lid on what is left over: it heats (from memory).",
];

/// Beside a coat about to be sprayed.
pub const SPRAYING: [&str; 2] = [
    "Isocyanates: air-fed visor or mask, visor down until the air has cleared. A filter mask is not enough (HSE bodyshop guidance; Safe Work Australia 2020).",
    "Exhaust running, no flame or spark within 20 ft (6 m), phone and scale out of the spray area, panels and gun grounded (29 CFR 1910.107).",
];

/// Beside a comb reading and a wet weight, which are taken in the mist.
pub const IN_THE_MIST: [&str; 1] = [
    "Mist hangs on after you can't see it: visor down until it has cleared (HSE bodyshop guidance). Tap and weigh outside the spray area.",
];

/// Below the day of sanding.
pub const SANDING: &str = "Hours after the last coat: 72 is three days. The dust of primer harms: let it cure first, and use extraction and a P100 or P3 filter.";

/// Beside a flash-off.
pub const FLASHING: [&str; 1] =
    ["Flash off in moving air. No closed oven, no heater with a flame or spark (29 CFR 1910.107; NFPA 86)."];

/// What a steady weight is not.
pub const STEADY_MEANS: &str = "Weight steady means this scale sees nothing more to lose where the panel is now. It is not the maker's time to sand or recoat: the data sheet says that.";
