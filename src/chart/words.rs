//! Words around a picture that leaves the page: lines above it and paragraphs below, wrapped to its width.

use super::look::Look;
use super::palette::Ink;
use super::scene::{Item, Scene, Side};
use super::sketch::Sketch;
use super::text;

/// Room between words and the edge, CSS px.
pub(super) const GAP: f64 = 4.0;
/// Room above a paragraph, CSS px.
const PARAGRAPH: f64 = 6.0;

/// What is said above and below a picture.
///
/// ```
/// use chart::{Look, LossChart, TimeAxis, TimeFrame, Words};
/// let words = Words::default().above("Gate undercoats").below("Weight lost over time");
/// let chart = LossChart::new("Lost, g", TimeFrame::new(TimeAxis::Linear));
/// let height = words.height(360.0, 300.0);
/// assert_eq!(height, 350.0);
/// let scene = words.around(&Look::new(360.0, height).ratio(3.0), 300.0, &|look| chart.scene(look));
/// assert_eq!(scene.px_size(), (1080, 1050));
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Words {
    above: Vec<String>,
    below: Vec<String>,
    small: Vec<String>,
}

impl Words {
    /// Adds a line above the picture.
    pub fn above(mut self, line: &str) -> Self {
        self.above.push(line.to_owned());
        self
    }

    /// Adds a paragraph below it.
    pub fn below(mut self, line: &str) -> Self {
        self.below.push(line.to_owned());
        self
    }

    /// Adds a paragraph in secondary ink under those.
    pub fn small(mut self, line: &str) -> Self {
        self.small.push(line.to_owned());
        self
    }

    /// The height in CSS px of a picture with them, from a width and the height of the picture alone.
    pub fn height(&self, width: f64, picture: f64) -> f64 {
        let look = Look::new(width, picture);
        3.0 * GAP + self.height_above(&look) + picture + self.height_below(&look)
    }

    /// A picture laid out at its own height, with them around it; `look` is as high as [`Words::height`] says.
    pub fn around(&self, look: &Look, picture: f64, lay_out: &dyn Fn(&Look) -> Scene) -> Scene {
        let mut sketch = Sketch::default();
        sketch.paper(look.width(), look.height());
        let top = self.draw_above(&mut sketch, look, GAP);
        let scene = lay_out(&look.as_high(picture));
        sketch.items.extend(scene.items.into_iter().map(|item| item.lower(top)));
        self.draw_below(&mut sketch, look, top + picture);
        Scene { look: *look, items: sketch.items, readings: Vec::new(), time: None }
    }

    pub(super) fn height_above(&self, look: &Look) -> f64 {
        self.above.iter().flat_map(|line| wrapped(line, look)).count() as f64 * look.row()
    }

    pub(super) fn height_below(&self, look: &Look) -> f64 {
        let paragraph = |line: &String| PARAGRAPH + wrapped(line, look).len() as f64 * look.row();
        self.below.iter().chain(&self.small).map(paragraph).sum()
    }

    /// Draws what stands above from a place downwards; gives where it ends.
    pub(super) fn draw_above(&self, sketch: &mut Sketch, look: &Look, top: f64) -> f64 {
        self.above.iter().fold(top, |top, line| paragraph(sketch, look, line, top, Ink::Text))
    }

    /// Draws what stands below, from a place downwards.
    pub(super) fn draw_below(&self, sketch: &mut Sketch, look: &Look, top: f64) {
        let mut draw = |lines: &[String], top, ink| {
            lines.iter().fold(top, |top, line| paragraph(sketch, look, line, top + PARAGRAPH, ink))
        };
        let top = draw(&self.below, top, Ink::Text);
        draw(&self.small, top, Ink::Secondary);
    }
}

fn wrapped(line: &str, look: &Look) -> Vec<String> {
    text::wrapped(line, look.text_px(), look.width() - 2.0 * GAP)
}

fn paragraph(sketch: &mut Sketch, look: &Look, line: &str, mut top: f64, ink: Ink) -> f64 {
    for line in wrapped(line, look) {
        sketch.word(line, (GAP, top + look.row() / 2.0), Side::Start, ink);
        top += look.row();
    }
    top
}

impl Item {
    /// The same farther down, CSS px.
    fn lower(mut self, by: f64) -> Self {
        match &mut self {
            Self::Area { corners: dots, .. } | Self::Stroke { line: dots, .. } => {
                dots.iter_mut().for_each(|dot| dot.1 += by)
            }
            Self::Rule { from, to, .. } => {
                from.1 += by;
                to.1 += by;
            }
            Self::Disc { centre: at, .. } | Self::Word { at, .. } => at.1 += by,
        }
        self
    }
}
