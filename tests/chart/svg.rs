//! The SVG that a report carries, read by a browser's parser and held against the same picture by plotters-svg.

use crate::example;
use crate::recorder::draw;
use comb_scale::chart::{Look, LossChart, Mark, Scene, Surface, TimeAxis, TimeFrame, Trace};
use scraper::{ElementRef, Html, Selector};

/// Device pixels of the picture held against: the finest there is, since that backend rounds to whole ones.
const RATIO: f64 = 8.0;

fn phone() -> Look {
    Look::new(328.0, 260.0).on(Surface::Svg)
}

fn numbers(element: &ElementRef<'_>, name: &str) -> Vec<f64> {
    let text = element.value().attr(name).unwrap_or_else(|| panic!("{name} in {}", element.html()));
    text.split(' ').map(|number| number.parse().expect("a number")).collect()
}

/// The dots of a shape: of a polygon its corners, of a path where its lines go.
fn dots(shape: &ElementRef<'_>) -> Vec<(f64, f64)> {
    let text = shape.value().attr("points").or(shape.value().attr("d")).expect("dots");
    let all: Vec<f64> =
        text.split([' ', 'M']).filter(|part| !part.is_empty()).map(|n| n.parse().expect("a number")).collect();
    all.chunks(2).map(|dot| (dot[0], dot[1])).collect()
}

fn parsed(svg: &str) -> Html {
    let page = Html::parse_document(&format!("<!DOCTYPE html><title>x</title>{svg}"));
    assert!(page.errors.is_empty(), "{:?}", page.errors);
    page
}

fn all<'a>(page: &'a Html, what: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(what).unwrap()).collect()
}

/// Words and shapes stand where the other backend puts them, to less than a quarter of a CSS px.
#[track_caller]
fn check(scene: impl Fn(&Look) -> Scene) {
    let page = parsed(&scene(&phone()).svg("told"));
    let other = draw(&scene(&phone().ratio(RATIO)));

    let words = all(&page, "text");
    assert_eq!(words.len(), other.words.len());
    for (own, other) in words.iter().zip(&other.words) {
        assert_eq!(own.text().collect::<String>(), other.text.trim());
        assert_eq!(own.value().attr("text-anchor"), Some(other.anchor.as_str()));
        let x = numbers(own, "x")[0];
        assert!((x - other.x / RATIO).abs() < 0.25, "{} at {x}, {}", other.text, other.x / RATIO);
    }
    let near = |x: f64, y: f64| {
        let dots = other.dots.iter().map(|(a, b)| (a / RATIO - x).hypot(b / RATIO - y));
        dots.fold(f64::INFINITY, f64::min)
    };
    let shapes = all(&page, "polygon, path");
    assert!(!shapes.is_empty());
    for shape in shapes {
        for dot in dots(&shape) {
            // A rule is a line here and a filled rectangle there: its corners lie half its thickness off.
            assert!(near(dot.0, dot.1) < 1.1, "{}", shape.html());
        }
    }
    for disc in all(&page, "circle") {
        assert!(near(numbers(&disc, "cx")[0], numbers(&disc, "cy")[0]) < 0.25, "{}", disc.html());
    }
}

#[test]
fn it_draws_what_the_other_backend_draws() {
    check(|look| example::one(TimeAxis::SquareRoot).scene(look));
    check(|look| example::five(TimeAxis::Linear).scene(look));
    check(|look| example::nine(TimeAxis::Log).scene(look));
    check(|look| example::film(TimeAxis::SquareRoot).scene(look));
    check(|look| LossChart::new("Lost, g", TimeFrame::default()).scene(look));
}

#[test]
fn nothing_in_a_name_is_markup() {
    let hostile = "</svg><script>alert(1)</script>\" onload=\"x\u{0}\u{7}\u{fffe}";
    let trace = Trace::new(hostile, hostile, Mark::of(0)).reading(0.0, 0.0, 0.1, false).reading(9.0, 4.0, 0.1, false);
    let svg = LossChart::new(hostile, TimeFrame::default()).panel(trace).scene(&phone()).svg(hostile);
    let page = parsed(&svg);
    assert!(all(&page, "script").is_empty());
    let told = all(&page, "svg")[0].value().attr("aria-label").unwrap().to_owned();
    assert_eq!(told, hostile.replace(['\u{0}', '\u{7}', '\u{fffe}'], ""));
    assert!(all(&page, "*").iter().all(|element| element.value().attr("onload").is_none()));
}

#[test]
fn every_curve_lies_within_the_picture() {
    let page = parsed(&example::nine(TimeAxis::SquareRoot).scene(&Look::new(700.0, 420.0)).svg("told"));
    assert_eq!(numbers(&all(&page, "svg")[0], "viewBox"), [0.0, 0.0, 700.0, 420.0]);
    for shape in all(&page, "polygon, path") {
        for dot in dots(&shape) {
            assert!((0.0..=700.0).contains(&dot.0) && (0.0..=420.0).contains(&dot.1), "{}", shape.html());
        }
    }
}
