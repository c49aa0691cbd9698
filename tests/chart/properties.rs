//! What holds of every picture, whatever it is given.

use crate::example;
use crate::recorder::{Word, draw};
use comb_scale::chart::{FilmChart, FilmTrace, Look, LossChart, Mark, Scene, Span, Surface, Theme};
use comb_scale::chart::{TimeAxis, TimeFrame, Trace};
use proptest::prelude::*;

/// Numbers of the shop, and everything else an f64 can be.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => 0.0..600.0_f64,
        2 => -50.0..50.0_f64,
        1 => any::<f64>(),
        1 => prop::sample::select(vec![
            f64::NAN, f64::INFINITY, f64::NEG_INFINITY, f64::MAX, f64::MIN_POSITIVE, 5e-324, -0.0, 0.0, 1e7, -1e7,
            1e6, 1e300, 1e-300, 9_999_999.999_999,
        ]),
    ]
}

fn words() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => prop::sample::select(vec!["A1", "Candidate A", "Two-pack filler, grey", "to the sun", "final"])
            .prop_map(str::to_owned),
        1 => any::<String>(),
        1 => Just("W".repeat(300)),
        1 => Just(String::new()),
    ]
}

fn axis() -> impl Strategy<Value = TimeAxis> {
    prop::sample::select(vec![TimeAxis::Linear, TimeAxis::SquareRoot, TimeAxis::Log])
}

prop_compose! {
    fn frame()(
        axis in axis(),
        moments in prop::collection::vec((0..3, number(), words()), 0..12),
        zoom in prop::option::of((number(), number())),
    ) -> TimeFrame {
        let frame = moments.into_iter().fold(TimeFrame::new(axis), |frame, (kind, t, word)| match kind {
            0 => frame.moved(t, &word),
            1 => frame.now(t, &word),
            _ => frame.sanding(t, &word),
        });
        zoom.into_iter().fold(frame, |frame, (from, to)| frame.zoom(from, to))
    }
}

prop_compose! {
    fn trace()(
        names in (words(), words()),
        place in 0..7_usize,
        points in prop::collection::vec((number(), number(), number(), any::<bool>()), 0..12),
        line in prop::collection::vec((number(), number()), 0..20),
        fan in prop::collection::vec((number(), number(), number()), 0..12),
        level in prop::option::of((number(), number(), number())),
        start in prop::option::of((number(), number(), number())),
    ) -> Trace {
        let mut trace = Trace::new(&names.0, &names.1, Mark::of(place)).line(line).fan(fan);
        for (t, y, u, hollow) in points {
            trace = trace.reading(t, y, u, hollow);
        }
        if let Some((low, mid, high)) = level {
            trace = trace.level(low, mid, high);
        }
        if let Some((low, mid, high)) = start {
            trace = trace.start(low, mid, high);
        }
        trace
    }
}

prop_compose! {
    fn look()(
        width in prop_oneof![Just(328.0), Just(700.0), 0.0..5000.0_f64, number()],
        height in prop_oneof![Just(260.0), Just(420.0), 0.0..5000.0_f64, number()],
        ratio in prop_oneof![Just(1.0), Just(3.0), number()],
        dark in any::<bool>(),
    ) -> Look {
        let theme = if dark { Theme::Dark } else { Theme::Light };
        Look::new(width, height).ratio(ratio).themed(theme).on(Surface::Svg)
    }
}

fn chart(frame: TimeFrame, traces: Vec<Trace>) -> LossChart {
    traces.into_iter().fold(LossChart::new("Lost, g", frame), LossChart::panel)
}

/// Every number drawn is finite and inside; words begin and end inside and are at least 12 CSS px. `ratio` is device px
/// to a CSS px, at the least.
fn assert_sound(scene: &Scene, ratio: f64) {
    let (width, height) = scene.px_size();
    let (width, height) = (f64::from(width), f64::from(height));
    let drawn = draw(scene);
    for (x, y) in drawn.dots {
        assert!((0.0..=width).contains(&x) && (0.0..=height).contains(&y), "({x}, {y}) in {width} × {height}");
    }
    for word in &drawn.words {
        let (left, right) = word.stretch();
        let tall = word.size / 2.0;
        assert!(word.size >= 12.0 * ratio - 1e-9, "{word:?}");
        assert!(word.y - tall >= 0.0 && word.y + tall <= height, "{word:?} in {height}");
        assert!(left >= -1.0 && right <= width + 1.0, "{word:?} in {width}");
    }
    for hit in scene.readings() {
        assert!(hit.x >= 0.0 && hit.x * ratio <= width && hit.y >= 0.0 && hit.y * ratio <= height, "{hit:?}");
    }
}

/// The words of the time axis, from left to right.
fn time_words(scene: &Scene) -> Vec<Word> {
    let words = draw(scene).words;
    words.into_iter().filter(|w| w.anchor == "middle").collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_loss_chart_can_be_drawn(
        frame in frame(), traces in prop::collection::vec(trace(), 0..8), look in look(), chosen in (0..8_usize, 0..12_usize)
    ) {
        let scene = chart(frame, traces).chosen(chosen.0, chosen.1).scene(&look);
        // The least pixel ratio that rounds to this size.
        let ratio = (f64::from(scene.px_size().0) - 0.5) / f64::from(look.ratio(1.0).px_size().0);
        assert_sound(&scene, ratio);
    }

    #[test]
    fn any_film_chart_can_be_drawn(
        frame in frame(), comb in (number(), number(), number()), path in prop::collection::vec((number(), number()), 0..9),
        spots in prop::collection::vec((number(), number(), number(), any::<bool>()), 0..9), look in look()
    ) {
        let film = FilmTrace::new("A1", "A", Mark::of(2)).comb(comb.0, comb.1, comb.2).path(path);
        let film = spots.into_iter().fold(film, |film, (t, y, u, hollow)| film.spot(t, y, u, hollow));
        let scene = FilmChart::new("Film, µm", frame).film(film).scene(&look.ratio(1.0));
        assert_sound(&scene, 1.0);
    }

    #[test]
    fn a_tap_on_any_drawn_reading_finds_one_there(frame in frame(), traces in prop::collection::vec(trace(), 1..5)) {
        let scene = chart(frame, traces).scene(&Look::new(328.0, 260.0));
        for hit in scene.readings() {
            let found = scene.nearest(hit.x, hit.y).expect("a reading lies here");
            prop_assert_eq!((found.x, found.y), (hit.x, hit.y));
        }
    }

    /// On a phone and on a desk, however long the test and whatever part is shown.
    #[test]
    fn times_rise_and_keep_apart(
        axis in axis(), from in 0.0..1000.0_f64, log_length in -2.0..4.0_f64, zoomed in any::<bool>(),
        width in prop::sample::select(vec![328.0, 700.0])
    ) {
        let length = 10.0_f64.powf(log_length);
        let (frame, end) = match zoomed {
            true => (TimeFrame::new(axis).zoom(from, from + length), from + length),
            false => (TimeFrame::new(axis), length),
        };
        let trace = Trace::new("A1", "A", Mark::of(0)).reading(0.0, 0.0, 0.1, false).reading(end, 9.0, 0.1, false);
        let words = time_words(&chart(frame, vec![trace]).scene(&Look::new(width, 260.0).on(Surface::Svg)));
        prop_assert!(!words.is_empty());
        for pair in words.windows(2) {
            prop_assert!(pair[0].stretch().1 + 4.0 < pair[1].stretch().0, "{:?}", pair);
            prop_assert!(pair[0].text != pair[1].text);
        }
    }

    #[test]
    fn values_rise_and_keep_apart(low in -1e4..1e4_f64, log_height in -3.0..4.0_f64, height in 160.0..500.0_f64) {
        let high = low + 10.0_f64.powf(log_height);
        let trace = Trace::new("", "", Mark::of(0)).reading(0.0, low, 0.0, false).reading(24.0, high, 0.0, false);
        let scene = chart(TimeFrame::default(), vec![trace]).scene(&Look::new(328.0, height).on(Surface::Svg));
        let words = draw(&scene).words;
        let ticks: Vec<_> = words
            .iter()
            .filter(|w| w.anchor == "end")
            .map(|w| (w.text.replace('−', "-").parse::<f64>().expect("a number"), w.y))
            .collect();
        prop_assert!(!ticks.is_empty());
        for pair in ticks.windows(2) {
            prop_assert!(pair[0].0 < pair[1].0, "{ticks:?}");
            prop_assert!(pair[0].1 - pair[1].1 > 15.0, "{ticks:?}");
        }
    }

    #[test]
    fn a_span_is_finite_and_not_empty(low in number(), high in number(), values in prop::collection::vec(number(), 0..9)) {
        for span in Span::new(low, high).into_iter().chain(Span::around(values)) {
            prop_assert!(span.low().is_finite() && span.high().is_finite());
            prop_assert!(span.low() < span.high() && span.width() > 0.0);
            prop_assert!((span.share(span.at(0.25)) - 0.25).abs() < 1e-6);
        }
    }
}

/// Two words on one line never meet, in any of the example pictures.
#[test]
fn words_never_meet() {
    let looks = [Look::new(328.0, 260.0), Look::new(296.0, 240.0), Look::new(700.0, 420.0)];
    for look in looks.map(|l| l.on(Surface::Svg)) {
        for axis in [TimeAxis::Linear, TimeAxis::SquareRoot, TimeAxis::Log] {
            let scenes = [
                example::one(axis).scene(&look),
                example::five(axis).scene(&look),
                example::nine(axis).scene(&look),
                example::film(axis).scene(&look),
            ];
            for words in scenes.iter().map(|s| draw(s).words) {
                for (i, a) in words.iter().enumerate() {
                    for b in words[..i].iter().filter(|b| (a.y - b.y).abs() < 0.9 * a.size) {
                        let (a, b) = (a.clone(), b.clone());
                        let apart = a.stretch().1 <= b.stretch().0 || b.stretch().1 <= a.stretch().0;
                        assert!(apart, "{a:?} meets {b:?}");
                    }
                }
            }
        }
    }
}

/// The same picture at three times the pixel ratio has every number three times as large, to the rounding.
#[test]
fn the_pixel_ratio_only_enlarges() {
    let at = |ratio: f64| {
        let mut drawn = draw(&example::five(TimeAxis::SquareRoot).scene(&Look::new(328.0, 260.0).ratio(ratio)));
        drawn.words.sort_by(|a, b| a.text.cmp(&b.text));
        drawn.words
    };
    for (one, three) in at(1.0).iter().zip(at(3.0)) {
        assert_eq!(one.text, three.text);
        assert!((three.size - 3.0 * one.size).abs() < 1e-9);
        assert!((three.x - 3.0 * one.x).abs() <= 1.5 && (three.y - 3.0 * one.y).abs() <= 1.5);
    }
}

/// Thirty panels of six candidates, thirty readings each: drawn, and each candidate named once.
#[test]
fn thirty_panels_are_named_by_candidate() {
    let traces = (0..30).map(|i| {
        let (c, whole) = (i / 5, 20.0 + i as f64);
        let trace = Trace::new(&format!("P{i}"), &format!("Candidate {c}"), Mark::of(c));
        (0..30).fold(trace, |t, j| t.reading(16.0 * j as f64, example::lost(whole, 16.0 * j as f64), 0.1, false))
    });
    let scene = chart(TimeFrame::default(), traces.collect()).scene(&Look::new(328.0, 260.0).on(Surface::Svg));
    let words: Vec<_> = draw(&scene).words.into_iter().map(|w| w.text).collect();
    assert_eq!(scene.readings().len(), 900);
    for c in 0..6 {
        assert_eq!(words.iter().filter(|w| **w == format!("Candidate {c}")).count(), 1, "{words:?}");
    }
}
