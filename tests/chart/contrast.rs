//! Colours that can be told from their ground.

use comb_scale::chart::{Ink, Mark, Palette, Rgb, Theme};

/// Relative luminance, WCAG 2.2, "relative luminance" in the glossary (with the sRGB threshold 0.04045 of
/// IEC 61966-2-1).
fn luminance((r, g, b): Rgb) -> f64 {
    let linear = |c: u8| {
        let c = f64::from(c) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b)
}

/// WCAG 2.2, "contrast ratio" in the glossary.
fn contrast(a: Rgb, b: Rgb) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn the_formula_gives_known_ratios() {
    // White on black is 21:1 by definition; #767676 is the lightest grey with 4.5:1 on white (from memory).
    assert!((contrast((255, 255, 255), (0, 0, 0)) - 21.0).abs() < 1e-12);
    assert!(contrast((0x76, 0x76, 0x76), (255, 255, 255)) >= 4.5);
    assert!(contrast((0x77, 0x77, 0x77), (255, 255, 255)) < 4.5);
}

/// Text 7:1 (WCAG 2.2, success criterion 1.4.6), marks and lines 3:1 (1.4.11).
#[test]
fn text_and_marks_stand_clear_of_the_ground() {
    for theme in [Theme::Light, Theme::Dark] {
        let palette = Palette::of(theme);
        let on_paper = |ink| contrast(palette.colour(ink), palette.colour(Ink::Paper));
        for ink in [Ink::Text, Ink::Secondary] {
            assert!(on_paper(ink) >= 7.0, "{theme:?} {ink:?} {:.2}", on_paper(ink));
        }
        for ink in Mark::ALL.map(Ink::Candidate).into_iter().chain([Ink::Accent]) {
            assert!(on_paper(ink) >= 3.0, "{theme:?} {ink:?} {:.2}", on_paper(ink));
        }
    }
}

/// The set of M. Okabe and K. Ito, "Color Universal Design", 2008. A colour differs from it only where it would not
/// stand 3:1 on paper, or is the ground's own.
#[test]
fn candidates_keep_the_published_colours_where_they_can() {
    let published: [Rgb; 5] = [(0, 0, 0), (0, 114, 178), (213, 94, 0), (0, 158, 115), (204, 121, 167)];
    let paper = Palette::LIGHT.colour(Ink::Paper);
    for (mark, colour) in Mark::ALL.into_iter().zip(published) {
        let ours = Palette::LIGHT.colour(Ink::Candidate(mark));
        if contrast(colour, paper) >= 3.0 {
            assert_eq!(ours, colour, "{mark:?}");
        } else {
            assert!(contrast(ours, paper) > contrast(colour, paper), "{mark:?}");
        }
    }
}

#[test]
fn no_two_candidates_look_alike() {
    for palette in [Palette::LIGHT, Palette::DARK] {
        for (i, a) in Mark::ALL.into_iter().enumerate() {
            for b in &Mark::ALL[..i] {
                assert_ne!(palette.colour(Ink::Candidate(a)), palette.colour(Ink::Candidate(*b)));
            }
        }
    }
}

/// The colours of the page, by role: as they stand in `style/tokens.css`, in light and dark, plain and under more contrast.
fn roles(dark: bool, more: bool) -> Vec<(String, String)> {
    let sheet = include_str!("../../style/tokens.css");
    let block = |head: &str| {
        let (_, rest) = sheet.split_once(head).unwrap_or_else(|| panic!("no {head} in tokens.css"));
        rest.split_once('}').unwrap().0
    };
    let mut blocks = vec![block(":root {")];
    if dark {
        blocks.push(block(":root[data-theme=\"dark\"] {"));
    }
    if more {
        blocks.push(block("@media (prefers-contrast: more) {\n  :root {"));
    }
    let mut roles: Vec<(String, String)> = Vec::new();
    for line in blocks.into_iter().flat_map(str::lines) {
        let Some((name, value)) = line.trim().trim_end_matches(';').split_once(": ") else { continue };
        roles.retain(|(known, _)| known != name);
        roles.push((name.to_owned(), value.to_owned()));
    }
    roles
}

/// A role's colour, by way of the roles it is the same as.
fn colour_of(roles: &[(String, String)], role: &str) -> Rgb {
    let value = &roles.iter().find(|(name, _)| name == role).unwrap_or_else(|| panic!("no {role}")).1;
    if let Some(other) = value.strip_prefix("var(") {
        return colour_of(roles, other.trim_end_matches(')'));
    }
    let part = |at: usize| u8::from_str_radix(&value[at..at + 2], 16).unwrap();
    assert!(value.starts_with('#') && value.len() == 7, "{role}: {value}");
    (part(1), part(3), part(5))
}

/// Text 7:1 (WCAG 2.2, success criterion 1.4.6), edges of fields and marks 3:1 (1.4.11), whatever is asked of the page.
#[test]
fn every_role_of_the_page_stands_clear_of_its_ground() {
    for (dark, more) in [(false, false), (true, false), (false, true), (true, true)] {
        let roles = roles(dark, more);
        let of = |a: &str, b: &str| contrast(colour_of(&roles, a), colour_of(&roles, b));
        let mut pairs = vec![("--on-accent", "--accent", 7.0), ("--paper", "--ink", 7.0)];
        for ground in ["--paper", "--wash"] {
            pairs.extend(["--ink", "--ink-2"].map(|text| (text, ground, 7.0)));
            pairs.extend(
                ["--edge", "--mark-1", "--mark-2", "--mark-3", "--mark-4", "--mark-5"].map(|it| (it, ground, 3.0)),
            );
        }
        // Nothing is written on the wash in these two; the browser's scenario of reading looks at every text there is.
        pairs.extend(["--accent", "--alert"].map(|text| (text, "--paper", 7.0)));
        if more {
            pairs.push(("--rule", "--paper", 3.0));
        }
        for (a, b, least) in pairs {
            assert!(of(a, b) >= least, "dark {dark}, more {more}: {a} on {b}: {:.2}", of(a, b));
        }
    }
}

/// No seam between a chart and the page around it.
#[test]
fn a_chart_has_the_ground_of_the_page() {
    for (theme, dark) in [(Theme::Light, false), (Theme::Dark, true)] {
        assert_eq!(Palette::of(theme).colour(Ink::Paper), colour_of(&roles(dark, false), "--paper"), "{theme:?}");
    }
}
