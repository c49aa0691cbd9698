//! A tap finds the reading that was drawn there.

use crate::example;
use crate::recorder::draw;
use comb_scale::chart::{Look, LossChart, Mark, Scene, Surface, TAP_RADIUS, TimeAxis, TimeFrame, Trace};

fn phone() -> Look {
    Look::new(328.0, 260.0).on(Surface::Svg)
}

fn sparse(axis: TimeAxis) -> Scene {
    let trace = Trace::new("A1", "Candidate A", Mark::of(0))
        .reading(0.0, 0.0, 0.0, false)
        .reading(f64::NAN, 3.0, 0.0, false)
        .reading(24.0, 10.0, 0.0, false)
        .reading(240.0, 21.0, 0.0, true);
    LossChart::new("Lost, g", TimeFrame::new(axis)).panel(trace).scene(&phone())
}

#[test]
fn a_tap_near_a_reading_finds_it_by_the_place_it_was_given() {
    for axis in [TimeAxis::Linear, TimeAxis::SquareRoot, TimeAxis::Log] {
        let scene = sparse(axis);
        let places: Vec<_> = scene.readings().iter().map(|r| r.reading).collect();
        assert_eq!(places, [0, 2, 3], "the second could not be drawn, and keeps its place");
        for hit in scene.readings() {
            assert_eq!(scene.nearest(hit.x, hit.y), Some(*hit));
            assert_eq!(scene.nearest(hit.x + 5.0, hit.y - 5.0), Some(*hit));
        }
    }
}

#[test]
fn readings_are_where_their_marks_are_drawn() {
    // Square marks: a polygon about the centre.
    let trace = Trace::new("A1", "A", Mark::Square).reading(0.0, 0.0, 0.0, false).reading(50.0, 7.0, 0.0, false);
    let scene = LossChart::new("Lost, g", TimeFrame::default()).panel(trace).scene(&phone().ratio(4.0));
    let drawn = draw(&scene);
    for hit in scene.readings() {
        let about = |d: &&(f64, f64)| (d.0 / 4.0 - hit.x).abs() < 4.0 && (d.1 / 4.0 - hit.y).abs() < 4.0;
        assert!(drawn.dots.iter().filter(about).count() >= 4, "{hit:?}");
    }
}

#[test]
fn a_tap_away_from_all_readings_finds_none() {
    let scene = sparse(TimeAxis::Linear);
    let last = scene.readings()[2];
    assert!(scene.nearest(last.x, last.y + TAP_RADIUS - 0.5).is_some());
    assert!(scene.nearest(last.x, last.y + TAP_RADIUS + 0.5).is_none());
    assert!(scene.nearest(f64::NAN, last.y).is_none());
    assert!(LossChart::new("Lost, g", TimeFrame::default()).scene(&phone()).nearest(100.0, 100.0).is_none());
}

#[test]
fn ages_and_places_agree() {
    for axis in [TimeAxis::Linear, TimeAxis::SquareRoot, TimeAxis::Log] {
        let scene = example::one(axis).scene(&phone());
        for (hit, age) in scene.readings().iter().zip(example::AGES) {
            assert!((scene.age_at(hit.x).unwrap() - age).abs() < 1e-6, "{axis:?} {age}");
        }
        assert_eq!(scene.age_at(-50.0), Some(0.0));
        assert!((scene.age_at(1e9).unwrap() - 504.0).abs() < 1e-6);
    }
}

#[test]
fn a_zoomed_chart_answers_only_for_what_it_shows() {
    let frame = example::frame(TimeAxis::Linear).zoom(144.0, 504.0);
    let chart = LossChart::new("Lost, g", frame).panel(example::panel("A1", "A", 0, 24.6, None));
    let ages: Vec<_> = chart.scene(&phone()).readings().iter().map(|r| example::AGES[r.reading]).collect();
    assert_eq!(ages, [168.0, 240.0, 312.0]);
}
