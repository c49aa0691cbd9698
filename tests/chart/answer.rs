//! The answer card: golden pictures, and what every card holds to.

use crate::golden::check;
use comb_scale::chart::{AnswerBar, AnswerCard, BarEnd, Look, Mark, Scene, Surface, Theme, Words};
use proptest::prelude::*;

/// Wet, sanding day and final film of invented primers, µm: low, mid, high each.
const FILMS: [[[f64; 3]; 3]; 8] = [
    [[196.0, 212.0, 229.0], [108.0, 113.0, 121.0], [104.0, 110.0, 117.0]],
    [[192.0, 208.0, 224.0], [117.0, 125.0, 135.0], [88.0, 99.0, 108.0]],
    [[150.0, 160.0, 172.0], [60.0, 64.0, 70.0], [55.0, 60.0, 66.0]],
    [[96.0, 104.0, 111.0], [22.0, 25.0, 29.0], [14.0, 18.0, 23.0]],
    [[240.0, 250.0, 262.0], [170.0, 182.0, 195.0], [150.0, 171.0, 190.0]],
    [[180.0, 190.0, 202.0], [92.0, 99.0, 107.0], [90.0, 97.0, 105.0]],
    [[60.0, 66.0, 73.0], [30.0, 33.0, 36.0], [29.0, 31.0, 34.0]],
    [[205.0, 220.0, 234.0], [120.0, 131.0, 143.0], [96.0, 118.0, 140.0]],
];

const NAMES: [&str; 8] =
    ["Buff", "Grey", "Epoxy, a name too long for any phone's width", "Wash", "High build", "F", "G", "H"];

fn bar(place: usize) -> AnswerBar {
    let end = |[low, mid, high]: [f64; 3], after: &str| BarEnd::new(low, mid, high, &format!("{mid}{after}"));
    let [wet, sanding, stays] = FILMS[place];
    let state = ["weight steady", "still losing", "too early"][place % 3];
    let mut bar = AnswerBar::new(NAMES[place], Mark::of(place), state);
    bar.wet = end(wet, " sprayed");
    bar.sanding = end(sanding, "");
    bar.stays = end(stays, " dry");
    bar
}

fn card(bars: usize) -> AnswerCard {
    (0..bars).fold(AnswerCard::new("film, µm"), |card, place| card.bar(bar(place)))
}

fn drawn(card: &AnswerCard, width: f64, theme: Theme) -> Scene {
    card.scene(&Look::new(width, card.height(width)).ratio(3.0).on(Surface::Svg).themed(theme))
}

#[test]
fn two_candidates_to_be_sent() {
    let words = Words::default()
        .above("Gate undercoats (invented)")
        .above("2 to 23 Jun")
        .below("After day 3, Buff will shrink 1 to 6 µm more, Grey 19 to 34 µm.")
        .below("3 panels each: the difference is real.")
        .small("Hatched: still to shrink after day 3.");
    let card = card(2).with(words);
    check("answer_two_phone", &drawn(&card, 360.0, Theme::Light));
    check("answer_two_phone_dark", &drawn(&card, 360.0, Theme::Dark));
    check("answer_two_desk", &drawn(&card, 700.0, Theme::Light));
}

#[test]
fn one_candidate_and_eight() {
    check("answer_one_phone", &drawn(&card(1), 328.0, Theme::Light));
    check("answer_eight_phone", &drawn(&card(8), 328.0, Theme::Light));
    assert!(card(8).height(328.0) < 480.0, "eight candidates leave room for the sentence on one screen");
}

#[test]
fn what_is_not_known_is_left_out_and_said() {
    let mut no_comb = bar(0);
    no_comb.wet = None;
    let mut wet_alone = AnswerBar::new("Grey", Mark::of(1), "too early");
    (wet_alone.wet, wet_alone.missing) = (bar(1).wet, "– (1)".into());
    let mut nothing = AnswerBar::new("Third", Mark::of(2), "");
    nothing.missing = "– (2)".into();
    let card = AnswerCard::new("film, µm").bar(no_comb).bar(wet_alone).bar(nothing);
    check("answer_missing_phone", &drawn(&card, 328.0, Theme::Light));
}

proptest! {
    /// Whatever it is given, a card is laid out as high as it says, and every word stands inside it.
    #[test]
    fn every_card_holds_what_is_drawn(
        films in proptest::collection::vec(proptest::array::uniform3(prop_oneof![-1e8..1e8f64, 0.0..1e3f64]), 0..20),
        words in prop_oneof!["\\PC{0,80}", Just(String::new())],
        width in 200.0..900.0f64,
    ) {
        let mut card = AnswerCard::new("film, µm").with(Words::default().above(&words).below(&words).small(&words));
        for (place, [low, mid, high]) in films.into_iter().enumerate() {
            let mut bar = AnswerBar::new(&words, Mark::of(place), "too early");
            let mut in_order = [low, mid, high];
            in_order.sort_by(f64::total_cmp);
            bar.wet = BarEnd::new(low, mid, high, &words);
            bar.stays = BarEnd::new(in_order[0], in_order[1], in_order[2], &words);
            bar.sanding = BarEnd::new(in_order[1], in_order[2], in_order[2], "");
            card = card.bar(bar);
        }
        let look = Look::new(width, card.height(width)).on(Surface::Svg);
        let svg = card.scene(&look).svg("a card");
        let (_, most) = look.px_size();
        for y in svg.split("y=\"").skip(1).filter_map(|rest| rest.split('"').next()?.parse::<f64>().ok()) {
            prop_assert!((0.0..=f64::from(most)).contains(&y), "{y} of {most}");
        }
        prop_assert!(!svg.contains("NaN") && !svg.contains("inf"));
    }
}
