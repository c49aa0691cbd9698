//! Pictures: golden SVGs, properties of every picture, contrast of every colour, taps.

mod answer;
mod contrast;
mod example;
mod golden;
mod properties;
mod recorder;
mod results;
mod svg;
mod taps;
