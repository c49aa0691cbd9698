//! Colours by role, on paper and in the dark.

use super::mark::Mark;

/// A colour, 8 bits each of red, green and blue.
pub type Rgb = (u8, u8, u8);

/// Light or dark ground.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    /// Ink on pale paper.
    #[default]
    Light,
    /// The same roles turned over.
    Dark,
}

/// The part a colour plays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// The ground.
    Paper,
    /// Text that must be read first.
    Text,
    /// Tick labels, captions, the rules of moves.
    Secondary,
    /// Grid rules only: never carries meaning.
    Hairline,
    /// The chosen reading.
    Accent,
    /// A candidate's own colour.
    Candidate(Mark),
}

/// The colours of one theme.
///
/// ```
/// use chart::{Ink, Palette, Theme};
/// assert_eq!(Palette::of(Theme::Light).colour(Ink::Text), (0x15, 0x18, 0x1b));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Palette {
    paper: Rgb,
    text: Rgb,
    secondary: Rgb,
    hairline: Rgb,
    accent: Rgb,
    candidates: [Rgb; 5],
}

impl Palette {
    /// Ink on paper. Candidates: black, blue, vermilion, bluish green and reddish purple of the set for colour-blind
    /// readers (M. Okabe, K. Ito, "Color Universal Design", 2008), the purple darkened: as published it stands under
    /// 3:1 on paper.
    pub const LIGHT: Self = Self {
        paper: (0xfb, 0xfa, 0xf6),
        text: (0x15, 0x18, 0x1b),
        secondary: (0x4a, 0x51, 0x57),
        hairline: (0xd8, 0xd5, 0xcc),
        accent: (0x0b, 0x5a, 0x8a),
        candidates: [
            (0x00, 0x00, 0x00),
            (0x00, 0x72, 0xb2),
            (0xd5, 0x5e, 0x00),
            (0x00, 0x9e, 0x73),
            (0xb0, 0x5a, 0x88),
        ],
    };

    /// The roles turned over: black becomes paper white, and blue is lightened to stand as clear as the rest.
    pub const DARK: Self = Self {
        paper: (0x15, 0x18, 0x1b),
        text: (0xfb, 0xfa, 0xf6),
        secondary: (0xb4, 0xba, 0xc0),
        hairline: (0x3a, 0x3f, 0x44),
        accent: (0x7c, 0xc4, 0xf0),
        candidates: [
            (0xfb, 0xfa, 0xf6),
            (0x3d, 0x9b, 0xdb),
            (0xe8, 0x76, 0x1e),
            (0x00, 0xae, 0x80),
            (0xcc, 0x79, 0xa7),
        ],
    };

    /// The palette of a theme.
    pub fn of(theme: Theme) -> Self {
        match theme {
            Theme::Light => Self::LIGHT,
            Theme::Dark => Self::DARK,
        }
    }

    /// The colour that plays a part.
    pub fn colour(&self, ink: Ink) -> Rgb {
        match ink {
            Ink::Paper => self.paper,
            Ink::Text => self.text,
            Ink::Secondary => self.secondary,
            Ink::Hairline => self.hairline,
            Ink::Accent => self.accent,
            Ink::Candidate(mark) => self.candidates[mark.place()],
        }
    }
}
