//! A picture laid out: what is drawn where, and what lies under a tap.

use super::look::Look;
use super::palette::{Ink, Palette};
use super::svg::FONT;
use plotters::prelude::DrawingBackend;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{Color, FontDesc, FontFamily, FontStyle, RGBColor, ShapeStyle, TextStyle};

/// How far from a reading a tap still means it, CSS px: half of a 48 px target.
pub const TAP_RADIUS: f64 = 24.0;

pub(super) type Dot = (f64, f64);

/// One thing to draw, in CSS px from the top left corner.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Item {
    /// A filled polygon.
    Area { corners: Vec<Dot>, ink: Ink, alpha: f64 },
    /// A line through dots.
    Stroke { line: Vec<Dot>, width: f64, ink: Ink, alpha: f64 },
    /// A level or upright rule, laid on whole device pixels.
    Rule { from: Dot, to: Dot, width: f64, ink: Ink },
    /// A filled circle.
    Disc { centre: Dot, radius: f64, ink: Ink },
    /// A word, its middle height at `at`.
    Word { text: String, at: Dot, side: Side, ink: Ink },
}

/// Which end of a word stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    Start,
    Middle,
    End,
}

/// A reading on the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hit {
    /// Place of the trace, in the order they were added.
    pub trace: usize,
    /// Place of the reading in its trace, in the order they were added, those that could not be drawn included.
    pub reading: usize,
    /// Where it is drawn, CSS px from the left.
    pub x: f64,
    /// Where it is drawn, CSS px from the top.
    pub y: f64,
}

/// The backend could not draw; what it said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotDrawn(pub String);

impl std::fmt::Display for NotDrawn {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "the chart could not be drawn: {}", self.0)
    }
}

impl std::error::Error for NotDrawn {}

/// A picture laid out for one look: paints itself on any backend and answers taps by the same layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    pub(super) look: Look,
    pub(super) items: Vec<Item>,
    pub(super) readings: Vec<Hit>,
    /// Of a picture over time alone.
    pub(super) time: Option<super::layout::AgeScale>,
}

impl Scene {
    /// The reading nearest to a place in CSS px, none beyond [`TAP_RADIUS`]. Of two at the same place, the one drawn on
    /// top.
    pub fn nearest(&self, x: f64, y: f64) -> Option<Hit> {
        let far = |hit: &Hit| (hit.x - x).hypot(hit.y - y);
        self.readings
            .iter()
            .rev()
            .filter(|hit| far(hit) <= TAP_RADIUS)
            .min_by(|a, b| far(a).total_cmp(&far(b)))
            .copied()
    }

    /// Every reading drawn, in drawing order.
    pub fn readings(&self) -> &[Hit] {
        &self.readings
    }

    /// The age in h at a distance from the left in CSS px; the nearest end beyond the plot. For zooming about a touch. None
    /// where the picture is not one over time.
    pub fn age_at(&self, x: f64) -> Option<f64> {
        self.time.map(|time| time.age_at(x))
    }

    /// The size in device px that the backend must have.
    pub fn px_size(&self) -> (u32, u32) {
        self.look.px_size()
    }

    /// Paints the picture over whatever was there.
    ///
    /// # Errors
    /// Only what the backend itself reports.
    pub fn paint<B: DrawingBackend>(&self, backend: &mut B) -> Result<(), NotDrawn> {
        backend.ensure_prepared().map_err(said)?;
        let mut brush = Brush { backend, look: &self.look, palette: Palette::of(self.look.theme()) };
        self.items.iter().try_for_each(|item| brush.item(item))?;
        brush.backend.present().map_err(said)
    }
}

fn said(error: impl std::fmt::Display) -> NotDrawn {
    NotDrawn(error.to_string())
}

/// Turns CSS px into device px and roles into colours.
struct Brush<'a, B: DrawingBackend> {
    backend: &'a mut B,
    look: &'a Look,
    palette: Palette,
}

impl<B: DrawingBackend> Brush<'_, B> {
    fn px(&self, (x, y): Dot) -> (i32, i32) {
        let (width, height) = self.look.px_size();
        let put = |v: f64, most: u32| (v * self.look.px_ratio()).round().clamp(0.0, f64::from(most)) as i32;
        (put(x, width), put(y, height))
    }

    /// A thickness in whole device px, at least one.
    fn thick(&self, width: f64) -> u32 {
        (width * self.look.px_ratio()).round().max(1.0) as u32
    }

    fn style(&self, ink: Ink, alpha: f64, width: u32) -> ShapeStyle {
        let (r, g, b) = self.palette.colour(ink);
        ShapeStyle { color: RGBColor(r, g, b).mix(alpha), filled: true, stroke_width: width }
    }

    fn item(&mut self, item: &Item) -> Result<(), NotDrawn> {
        match item {
            Item::Area { corners, ink, alpha } => {
                let style = self.style(*ink, *alpha, 1);
                let corners: Vec<_> = corners.iter().map(|dot| self.px(*dot)).collect();
                self.backend.fill_polygon(corners, &style).map_err(said)
            }
            Item::Stroke { line, width, ink, alpha } => {
                let style = self.style(*ink, *alpha, self.thick(*width));
                let mut line: Vec<_> = line.iter().map(|dot| self.px(*dot)).collect();
                line.dedup();
                self.backend.draw_path(line, &style).map_err(said)
            }
            Item::Rule { from, to, width, ink } => self.rule(*from, *to, *width, *ink),
            Item::Disc { centre, radius, ink } => {
                let style = self.style(*ink, 1.0, 1);
                self.backend.draw_circle(self.px(*centre), self.thick(*radius), &style, true).map_err(said)
            }
            Item::Word { text, at, side, ink } => {
                let (r, g, b) = self.palette.colour(*ink);
                let size = self.look.text_px() * self.look.text_factor() * self.look.px_ratio();
                let font = FontDesc::new(FontFamily::Name(FONT), size, FontStyle::Normal);
                let side = match side {
                    Side::Start => HPos::Left,
                    Side::Middle => HPos::Center,
                    Side::End => HPos::Right,
                };
                let colour = RGBColor(r, g, b);
                let style = TextStyle::from(font).color(&colour).pos(Pos::new(side, VPos::Center));
                self.backend.draw_text(text, &style, self.px(*at)).map_err(said)
            }
        }
    }

    /// A rule as a filled rectangle: a stroked line would fall between device pixels and blur.
    fn rule(&mut self, from: Dot, to: Dot, width: f64, ink: Ink) -> Result<(), NotDrawn> {
        let thick = self.thick(width) as i32;
        let ((x0, y0), (x1, y1)) = (self.px(from), self.px(to));
        let back = thick / 2;
        let (first, last) = if x0 == x1 {
            ((x0 - back, y0.min(y1)), (x0 - back + thick, y0.max(y1)))
        } else {
            ((x0.min(x1), y0 - back), (x0.max(x1), y0 - back + thick))
        };
        let (width, height) = self.look.px_size();
        let inside = |(x, y): (i32, i32)| (x.clamp(0, width as i32), y.clamp(0, height as i32));
        let style = self.style(ink, 1.0, 1);
        self.backend.draw_rect(inside(first), inside(last), &style, true).map_err(said)
    }
}
