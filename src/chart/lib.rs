//! Findings drawn: plain numbers in, a picture out, on any plotters backend (a canvas on screen, SVG in reports and
//! tests).
//!
//! This room does not know where it draws, nor what a record, a panel's fit or a browser is. What it is given is made
//! drawable on the way in ([`Span`], [`Trace`], [`TimeFrame`] leave out what is not finite or absurdly large), so that
//! no chart can hang or panic. A chart is laid out into a [`Scene`] in CSS px; the scene paints itself at any pixel
//! ratio and answers taps by the same layout.
//!
//! ```
//! use chart::{Look, LossChart, Mark, Surface, TimeAxis, TimeFrame, Trace};
//! use plotters_svg::SVGBackend;
//!
//! let chart = LossChart::new("Lost, g", TimeFrame::new(TimeAxis::SquareRoot).now(48.0, "now")).panel(
//!     Trace::new("A1", "Candidate A", Mark::of(0))
//!         .reading(0.0, 0.0, 0.08, false)
//!         .reading(24.0, 21.4, 0.08, false)
//!         .line([(0.0, 0.0), (24.0, 21.4), (72.0, 24.0)])
//!         .level(23.5, 24.6, 26.0),
//! );
//! let scene = chart.scene(&Look::new(328.0, 260.0).on(Surface::Svg));
//! let mut svg = String::new();
//! scene.paint(&mut SVGBackend::with_string(&mut svg, scene.px_size())).unwrap();
//! assert!(svg.contains("Lost, g"));
//! let reading = scene.readings()[1];
//! assert_eq!(scene.nearest(reading.x + 9.0, reading.y), Some(reading));
//! ```

mod answer;
mod builder;
mod clip;
mod ends;
mod film;
mod flags;
mod frame;
mod layout;
mod look;
mod loss;
mod mark;
mod palette;

mod picture;
mod place;
mod scene;
mod sketch;
mod span;
mod svg;
mod text;
mod ticks;
mod trace;
mod words;

pub use answer::{AnswerBar, AnswerCard, BarEnd};
pub use film::{FilmChart, FilmTrace};
pub use frame::{TimeAxis, TimeFrame};
pub use look::{Look, Surface};
pub use loss::LossChart;
pub use mark::Mark;
pub use palette::{Ink, Palette, Rgb, Theme};
pub use scene::{Hit, NotDrawn, Scene, TAP_RADIUS};
pub use span::{LARGEST_VALUE, LONGEST_AGE_H, Span};
pub use svg::{is_no_character, push_text};
pub use trace::Trace;
pub use words::Words;
