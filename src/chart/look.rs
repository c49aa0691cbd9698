//! How large, how sharp and on what ground a picture is drawn.

use super::palette::Theme;

/// The size of letters told to a backend, over the size they come out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Surface {
    /// A canvas on screen: as told.
    #[default]
    Canvas,
    /// An SVG file: plotters-svg divides every letter size by 1.24.
    Svg,
}

/// The look of a picture. Sizes are CSS px; every one is multiplied by the pixel ratio when painted.
///
/// ```
/// use chart::{Look, Surface, Theme};
/// let phone = Look::new(328.0, 260.0).ratio(3.0);
/// assert_eq!(phone.px_size(), (984, 780));
/// let report = Look::new(700.0, 420.0).ratio(4.0).on(Surface::Svg).themed(Theme::Light);
/// assert_eq!(report.px_size(), (2800, 1680));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    width: f64,
    height: f64,
    ratio: f64,
    theme: Theme,
    surface: Surface,
}

impl Look {
    /// A light picture of a size in CSS px, one device pixel each, on a canvas. The size is held within 200 × 160 and
    /// 4000 × 4000; a size that is no number becomes the least.
    pub fn new(width: f64, height: f64) -> Self {
        let held = |v: f64, least: f64| if v >= least { v.min(4000.0).round() } else { least };
        Self {
            width: held(width, 200.0),
            height: held(height, 160.0),
            ratio: 1.0,
            theme: Theme::Light,
            surface: Surface::Canvas,
        }
    }

    /// Device pixels to a CSS px, held within 1 and 8. Backends count in whole device pixels, so a curve is smooth from
    /// 2 on: give a canvas at least 2 and let CSS bring it down.
    pub fn ratio(self, px_ratio: f64) -> Self {
        Self { ratio: if px_ratio >= 1.0 { px_ratio.min(8.0) } else { 1.0 }, ..self }
    }

    /// On a light or dark ground.
    pub fn themed(self, theme: Theme) -> Self {
        Self { theme, ..self }
    }

    /// On a canvas or into an SVG.
    pub fn on(self, surface: Surface) -> Self {
        Self { surface, ..self }
    }

    /// The same at another height, CSS px.
    pub(super) fn as_high(self, height: f64) -> Self {
        Self { height: Self::new(self.width, height).height, ..self }
    }

    /// Size in device px.
    pub fn px_size(&self) -> (u32, u32) {
        ((self.width * self.ratio).round() as u32, (self.height * self.ratio).round() as u32)
    }

    pub(super) fn width(&self) -> f64 {
        self.width
    }

    pub(super) fn height(&self) -> f64 {
        self.height
    }

    pub(super) fn px_ratio(&self) -> f64 {
        self.ratio
    }

    pub(super) fn theme(&self) -> Theme {
        self.theme
    }

    pub(super) fn text_factor(&self) -> f64 {
        match self.surface {
            Surface::Canvas => 1.0,
            Surface::Svg => 1.24,
        }
    }

    /// Size of every word, CSS px.
    pub(super) fn text_px(&self) -> f64 {
        if self.wide() { 13.0 } else { 12.0 }
    }

    /// Height of a line of text, CSS px.
    pub(super) fn row(&self) -> f64 {
        (self.text_px() * 1.3).ceil()
    }

    /// Whether there is room to spare from side to side.
    pub(super) fn wide(&self) -> bool {
        self.width >= 560.0
    }
}
