//! Golden SVGs. `UPDATE_GOLDEN=1 cargo test --no-default-features --test chart` writes them anew; look at them before
//! committing.

use crate::example;
use comb_scale::chart::{Look, LossChart, Scene, Surface, Theme, TimeAxis, TimeFrame, Trace, Words};
use plotters_svg::SVGBackend;
use std::path::Path;

/// The picture as text: one element a line, no blanks at line ends.
fn svg(scene: &Scene) -> String {
    let mut text = String::new();
    scene.paint(&mut SVGBackend::with_string(&mut text, scene.px_size())).unwrap();
    text.lines().map(|line| format!("{}\n", line.trim_end().replace(" \"", "\""))).collect()
}

pub fn check(name: &str, scene: &Scene) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/chart/golden").join(format!("{name}.svg"));
    let drawn = svg(scene);
    if std::env::var_os("UPDATE_GOLDEN").is_some() {
        std::fs::write(&path, &drawn).unwrap();
    }
    let golden = std::fs::read_to_string(&path).unwrap_or_default().replace("\r\n", "\n");
    let line = drawn.lines().zip(golden.lines()).position(|(a, b)| a != b);
    assert!(drawn == golden, "{name}.svg differs, first in line {:?}", line.map(|l| l + 1));
}

pub fn phone() -> Look {
    Look::new(328.0, 260.0).ratio(3.0).on(Surface::Svg)
}

pub fn desk() -> Look {
    Look::new(700.0, 420.0).ratio(2.0).on(Surface::Svg)
}

#[test]
fn one_panel() {
    check("one_linear_phone", &example::one(TimeAxis::Linear).scene(&phone()));
    check("one_root_phone", &example::one(TimeAxis::SquareRoot).scene(&phone()));
    check("one_log_phone", &example::one(TimeAxis::Log).chosen(0, 8).scene(&phone()));
    check("one_root_desk", &example::one(TimeAxis::SquareRoot).scene(&desk()));
}

#[test]
fn five_candidates() {
    check("five_root_phone", &example::five(TimeAxis::SquareRoot).scene(&phone()));
    check("five_root_phone_dark", &example::five(TimeAxis::SquareRoot).scene(&phone().themed(Theme::Dark)));
    check("five_linear_desk", &example::five(TimeAxis::Linear).scene(&desk()));
}

#[test]
fn nine_panels() {
    check("nine_log_phone", &example::nine(TimeAxis::Log).scene(&phone()));
    check("nine_root_desk", &example::nine(TimeAxis::SquareRoot).scene(&desk()));
}

#[test]
fn film() {
    check("film_root_phone", &example::film(TimeAxis::SquareRoot).scene(&phone()));
    check("film_root_desk", &example::film(TimeAxis::SquareRoot).scene(&desk()));
}

/// As it leaves the page: a chart with the test's name above and what is drawn below.
#[test]
fn to_be_sent() {
    let words = Words::default()
        .above("Gate undercoats (invented)")
        .above("Film over time")
        .below("● Buff: B1, B2, B3")
        .small("From the comb reading on the left to the final dry film on the right; points are gauge readings.");
    let chart = example::film(TimeAxis::SquareRoot);
    let look = Look::new(360.0, words.height(360.0, 320.0)).ratio(3.0).on(Surface::Svg);
    check("film_sent", &words.around(&look, 320.0, &|look| chart.scene(look)));
}

#[test]
fn late_days() {
    let frame = example::frame(TimeAxis::Linear).zoom(144.0, 504.0);
    let chart = LossChart::new("Lost, g", frame).panel(example::panel("A1", "Candidate A", 0, 24.6, Some((10, -30.0))));
    check("late_days_phone", &chart.scene(&phone()));
}

/// Panels carried into the sun each morning and back each evening for three weeks.
#[test]
fn daily_moves() {
    let frame = (1..21).fold(example::frame(TimeAxis::Linear), |frame, day| {
        let morning = 24.0 * f64::from(day);
        frame.moved(morning, "sun").moved(morning + 8.0, "shop")
    });
    let chart = LossChart::new("Lost, g", frame).panel(example::panel("A1", "Candidate A", 0, 24.6, None));
    check("daily_moves_phone", &chart.scene(&phone()));
}

#[test]
fn next_to_nothing() {
    check("empty_phone", &LossChart::new("Lost, g", TimeFrame::default()).scene(&phone()));
    let wet = Trace::new("A1", "Candidate A", comb_scale::chart::Mark::of(0)).reading(0.0, 0.0, 0.08, false);
    check("wet_weight_only_phone", &LossChart::new("Lost, g", TimeFrame::default()).panel(wet).scene(&phone()));
}
