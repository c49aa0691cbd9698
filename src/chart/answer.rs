//! The answer as a picture: a bar a candidate, from the film as sprayed to the film that stays.

use super::look::Look;
use super::mark::Mark;
use super::palette::Ink;
use super::scene::{Dot, Item, Scene, Side};
use super::sketch::Sketch;
use super::span::{self, Span};
use super::text;
use super::ticks;
use super::words::{GAP, Words};

/// Room above a candidate's name, CSS px.
const ABOVE: f64 = 10.0;
/// Height of the line of the film as sprayed, CSS px.
const WET_LINE: f64 = 14.0;
/// Height of a bar, CSS px.
const BAR: f64 = 14.0;
/// Radius of a mark beside a name, CSS px.
const MARK: f64 = 4.0;
/// Half the height of a whisker's caps, CSS px.
const CAP: f64 = 3.0;
/// Distance between the strokes of what is still to come, CSS px.
const HATCH: f64 = 4.0;
/// How much of the film that stays is inked: it must not look like what is still to come.
const STAYS: f64 = 0.3;

/// A film with its interval, and the same in words.
#[derive(Clone, Debug, PartialEq)]
pub struct BarEnd {
    low: f64,
    mid: Option<f64>,
    high: f64,
    words: String,
}

impl BarEnd {
    /// An interval and how it is told beside the bar, in the unit of the card. `None` where it cannot be drawn, or is no
    /// interval.
    pub fn new(low: f64, mid: f64, high: f64, words: &str) -> Option<Self> {
        let drawable = [low, mid, high].into_iter().all(|v| span::value(v).is_some());
        (drawable && low <= mid && mid <= high).then(|| Self {
            low: low.max(0.0),
            mid: Some(mid.max(0.0)),
            high: high.max(0.0),
            words: words.to_owned(),
        })
    }

    /// The same where only the range is known: nothing marks its middle.
    pub fn range(self) -> Self {
        Self { mid: None, ..self }
    }

    /// How far what is drawn of it reaches: to its middle, else as far as it may be.
    fn reach(&self) -> f64 {
        self.mid.unwrap_or(self.high)
    }
}

/// What is known of one candidate's film; whatever is missing is left out of the picture and said by `missing`.
///
/// ```
/// use chart::{AnswerBar, AnswerCard, BarEnd, Look, Mark, Words};
/// let mut bar = AnswerBar::new("Buff", Mark::of(0), "weight steady");
/// bar.wet = BarEnd::new(196.0, 212.0, 229.0, "212 sprayed");
/// bar.sanding = BarEnd::new(106.0, 113.0, 121.0, "113");
/// bar.stays = BarEnd::new(104.0, 110.0, 117.0, "110 dry");
/// let words = Words::default().below("After day 3, Buff will shrink 1 to 6 µm more.");
/// let card = AnswerCard::new("film, µm").bar(bar).with(words);
/// let height = card.height(328.0);
/// assert_eq!(height, 160.0);
/// assert_eq!(card.scene(&Look::new(328.0, height)).px_size(), (328, height as u32));
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct AnswerBar {
    name: String,
    mark: Mark,
    state: String,
    /// Wet film as sprayed.
    pub wet: Option<BarEnd>,
    /// Film on the day of sanding.
    pub sanding: Option<BarEnd>,
    /// Film that stays.
    pub stays: Option<BarEnd>,
    /// Said where the wet film would be, if it is not known.
    pub no_wet: String,
    /// Said where the film that stays would be, if it is not known.
    pub missing: String,
}

impl AnswerBar {
    /// A candidate of which nothing is known yet: its name, its mark, and in words whether its weight is steady.
    pub fn new(name: &str, mark: Mark, state: &str) -> Self {
        let (name, state) = (name.to_owned(), state.to_owned());
        Self { name, mark, state, wet: None, sanding: None, stays: None, no_wet: String::new(), missing: String::new() }
    }

    /// How far right the line of the wet film and the bar below it reach, with their whiskers, and what is told beside each.
    fn ends(&self) -> [(f64, &str); 2] {
        let reach =
            |ends: &[&Option<BarEnd>]| ends.iter().filter_map(|end| Some(end.as_ref()?.high)).fold(0.0, f64::max);
        let [wet, stays] = [(&self.wet, &self.no_wet), (&self.stays, &self.missing)]
            .map(|(end, missing)| end.as_ref().map_or(missing.as_str(), |end| &end.words));
        [(reach(&[&self.wet]), wet), (reach(&[&self.sanding, &self.stays]), stays)]
    }
}

/// The answer as a picture: bars on one axis of film, and what is said above and below them.
#[derive(Clone, Debug, PartialEq)]
pub struct AnswerCard {
    caption: String,
    bars: Vec<AnswerBar>,
    words: Words,
}

/// Where the axis of film lies, CSS px.
struct Axis {
    left: f64,
    px_per_film: f64,
}

impl Axis {
    fn x(&self, film: f64) -> f64 {
        self.left + self.px_per_film * film
    }
}

impl AnswerCard {
    /// A card without bars. The caption names the quantity and its unit: "film, µm".
    pub fn new(caption: &str) -> Self {
        Self { caption: caption.to_owned(), bars: Vec::new(), words: Words::default() }
    }

    /// Adds a candidate under those before it.
    pub fn bar(mut self, bar: AnswerBar) -> Self {
        self.bars.push(bar);
        self
    }

    /// The same with words around its bars.
    pub fn with(self, words: Words) -> Self {
        Self { words, ..self }
    }

    /// The height in CSS px that the card takes at a width in CSS px: at least that of the lowest [`Look`].
    pub fn height(&self, width: f64) -> f64 {
        let look = Look::new(width, 160.0);
        let bars = self.bars.len() as f64 * (ABOVE + look.row() + WET_LINE + BAR);
        let words = self.words.height_above(&look) + self.words.height_below(&look);
        (3.0 * GAP + look.row() + bars + words).ceil().max(160.0)
    }

    /// Lays the card out in a look as high as [`AnswerCard::height`] says.
    pub fn scene(&self, look: &Look) -> Scene {
        let mut sketch = Sketch::default();
        sketch.paper(look.width(), look.height());
        let row = look.row();
        let mut top = self.words.draw_above(&mut sketch, look, GAP);
        let axis = self.axis(look);
        let bottom = top + row + self.bars.len() as f64 * (ABOVE + row + WET_LINE + BAR);
        self.ground(&mut sketch, look, &axis, top, bottom);
        top += row;
        for bar in &self.bars {
            bar_drawn(&mut sketch, look, &axis, bar, top + ABOVE);
            top += ABOVE + row + WET_LINE + BAR;
        }
        self.words.draw_below(&mut sketch, look, bottom);
        Scene { look: *look, items: sketch.items, readings: Vec::new(), time: None }
    }

    /// As long as it can be with every word beside a bar still inside the picture.
    fn axis(&self, look: &Look) -> Axis {
        let left = GAP;
        let room = look.width() - left - GAP;
        let ends = self.bars.iter().flat_map(AnswerBar::ends).filter(|(film, _)| *film > 0.0);
        // Words that leave a bar no room at all are cut by the edge.
        let fits =
            |(film, words): (f64, &str)| (room - 2.0 * GAP - text::width(words, look.text_px())).max(room / 4.0) / film;
        let px_per_film = ends.map(fits).reduce(f64::min).filter(|px| px.is_finite());
        Axis { left, px_per_film: px_per_film.unwrap_or(room) }
    }

    /// The caption, and upright rules at round films from the caption down to the last bar.
    fn ground(&self, sketch: &mut Sketch, look: &Look, axis: &Axis, top: f64, bottom: f64) {
        let (size, middle) = (look.text_px(), top + look.row() / 2.0);
        let caption = text::width(&self.caption, size);
        sketch.word(self.caption.clone(), (look.width() - GAP, middle), Side::End, Ink::Secondary);
        let end = look.width() - 2.0 * GAP - caption;
        let longest = (look.width() - axis.left - GAP) / axis.px_per_film;
        let films = Span::new(0.0, longest);
        for tick in films.map_or(Vec::new(), |films| ticks::value_ticks(films, 5.0)) {
            let x = axis.x(tick.at);
            sketch.rule((x, top + look.row()), (x, bottom), 1.0, Ink::Hairline);
            let half = text::width(&tick.label, size) / 2.0;
            let at = x.max(GAP + half);
            if at + half < end {
                sketch.word(tick.label, (at, middle), Side::Middle, Ink::Secondary);
            }
        }
    }
}

/// One candidate: its name and state, the film as sprayed, the film that stays with what is still to come.
fn bar_drawn(sketch: &mut Sketch, look: &Look, axis: &Axis, bar: &AnswerBar, top: f64) {
    let (size, row, ink) = (look.text_px(), look.row(), Ink::Candidate(bar.mark));
    let middle = top + row / 2.0;
    let state = text::width(&bar.state, size);
    sketch.mark(bar.mark, (GAP + 2.0 + MARK, middle), MARK, false);
    let after = 2.0 * GAP + 4.0 + 2.0 * MARK;
    let name = text::fit(&bar.name, size, look.width() - after - state - 3.0 * GAP);
    sketch.word(name, (after, middle), Side::Start, Ink::Text);
    sketch.word(bar.state.clone(), (look.width() - GAP, middle), Side::End, Ink::Text);

    let [wet, dry] = bar.ends();
    let y = top + row + WET_LINE / 2.0;
    if let Some(end) = &bar.wet {
        for dash in super::mark::dashed(&[(axis.x(0.0), y), (axis.x(end.reach()), y)], &[2.0, 3.0]) {
            sketch.rule(dash[0], dash[dash.len() - 1], 1.0, Ink::Secondary);
        }
        whisker(sketch, axis, end, y, Ink::Secondary);
    }
    sketch.word(wet.1.to_owned(), (axis.x(wet.0) + 2.0 * GAP, y), Side::Start, Ink::Secondary);

    let (from, to) = (top + row + WET_LINE + 1.0, top + row + WET_LINE + BAR - 1.0);
    let y = (from + to) / 2.0;
    if let Some(end) = &bar.stays {
        let stays = end.reach();
        sketch.block((axis.x(0.0), from), (axis.x(stays), to), ink, STAYS);
        if let Some(sanding) = bar.sanding.as_ref().map(BarEnd::reach).filter(|reach| *reach > stays) {
            to_come(sketch, (axis.x(stays), from), (axis.x(sanding), to), ink);
        }
    }
    if let Some(sanding) = &bar.sanding {
        whisker(sketch, axis, sanding, y - BAR / 4.0, ink);
    }
    if let Some(end) = &bar.stays {
        whisker(sketch, axis, end, y + BAR / 4.0, ink);
    }
    sketch.word(dry.1.to_owned(), (axis.x(dry.0) + 2.0 * GAP, y), Side::Start, Ink::Text);
}

/// The part of a bar that will still go: hatched and framed, so that it is told from the rest without its color.
fn to_come(sketch: &mut Sketch, (left, top): Dot, (right, bottom): Dot, ink: Ink) {
    let stroke = |line: Vec<Dot>| Item::Stroke { line, width: 1.0, ink, alpha: 1.0 };
    let height = bottom - top;
    let mut x = left - height;
    while x < right {
        // Each stroke rises from the lower edge to the upper, cut off at both sides.
        let (from, to) = ((x.max(left), x), ((x + height).min(right), x));
        let y = |(at, foot): (f64, f64)| bottom - (at - foot);
        if to.0 > from.0 {
            sketch.items.push(stroke(vec![(from.0, y(from)), (to.0, y(to))]));
        }
        x += HATCH;
    }
    sketch.items.push(stroke(vec![(left, top), (right, top), (right, bottom), (left, bottom), (left, top)]));
}

fn whisker(sketch: &mut Sketch, axis: &Axis, end: &BarEnd, y: f64, ink: Ink) {
    let (low, high) = (axis.x(end.low), axis.x(end.high));
    sketch.rule((low, y), (high, y), 1.5, ink);
    let mid = end.mid.map(|mid| (axis.x(mid), CAP / 2.0));
    for (x, cap) in [(low, CAP)].into_iter().chain(mid).chain([(high, CAP)]) {
        sketch.rule((x, y - cap), (x, y + cap), 1.5, ink);
    }
}
