//! A new test: what nearly every painter sets up, ready to be changed.

use super::EXAMPLE_ID;
use super::action::Action;
use super::codec::Entries;
use super::gate::write;
use super::history::History;
use super::model::SprayTest;
use super::stamp::Id;
use quantity::{Division, Instant, Micrometres, Quantity};

/// Teeth of the comb a new test starts with, µm: steps of 25 up to 250 and of 50 up to 500, as the notch gauge standard
/// gives for an example (ASTM D4414, 7.1.2).
const TEETH_UM: [f64; 15] =
    [25.0, 50.0, 75.0, 100.0, 125.0, 150.0, 175.0, 200.0, 225.0, 250.0, 300.0, 350.0, 400.0, 450.0, 500.0];

/// Division of the scale a new test starts with, g.
const DIVISION_G: f64 = 0.1;

/// Panels a candidate starts with: the fewest that show how panels differ with some certainty.
const PANELS: usize = 3;

/// A new test: a scale, a comb, a blank, and two candidates with three panels each.
///
/// ```
/// use record::start;
/// let test = start("t1".into(), "2026-03-02T08:10:00+01:00".parse().unwrap(), "phone").test().clone();
/// let labels: Vec<_> = test.panels.kept().map(|panel| panel.label.as_str()).collect();
/// assert_eq!(labels, ["A1", "A2", "A3", "B1", "B2", "B3"]);
/// ```
pub fn start(id: Id, created: Instant, device: &str) -> History {
    let mut history = History::new(SprayTest::begin(id, created), device);
    let teeth_um = TEETH_UM.iter().filter_map(|&um| Micrometres::new(um).ok()).collect();
    let mut actions =
        vec![Action::AddComb { label: "Comb".into(), teeth_um }, Action::AddBlank { label: "Blank".into() }];
    actions.extend(
        Division::new(DIVISION_G).ok().map(|division_g| Action::AddBalance { label: "Scale".into(), division_g }),
    );
    for action in actions {
        // Adding to an empty test is never refused.
        let _ = history.act(action);
    }
    for _ in 0..2 {
        let (label, panels) = (next_label(history.test()), next_panel_labels(history.test(), None, PANELS));
        let _ =
            history.act(Action::AddCandidate { id: history.fresh_id(), label: format!("Candidate {label}"), panels });
    }
    history.forget_steps();
    history
}

/// A new test on the plan of another: its candidates with sheets and mixes, panels, instruments and hours; nothing that was
/// read, poured or noted, no drawn order and no day.
pub fn again(of: &SprayTest, id: Id, created: Instant) -> SprayTest {
    let of = of.clone();
    let mut test = SprayTest {
        title: of.title + ", again",
        painter: of.painter,
        shop: of.shop,
        metal: of.metal,
        preparation: of.preparation,
        units: of.units,
        currency: of.currency,
        wanted: of.wanted,
        hours: of.hours,
        schedule: of.schedule,
        balances: of.balances,
        combs: of.combs,
        dry_gauge: of.dry_gauge,
        candidates: of.candidates,
        panels: of.panels,
        blanks: of.blanks,
        ..SprayTest::begin(id, created)
    };
    test.wanted.spray_at = None;
    test.dry_gauge.base_metal_um.clear();
    // What was taken out of the old test is none of the new one's plan, and may have readings of its own.
    test.candidates.forget_removed();
    test.panels.forget_removed();
    test.blanks.forget_removed();
    for candidate in test.candidates.kept_mut() {
        candidate.notes.clear();
        candidate.mix.components.kept_mut().for_each(|component| component.batch.clear());
        candidate.measured = Default::default();
        // It was the old test's weights that spoke against the sheet.
        candidate.sheet.left_out = false;
    }
    for panel in test.panels.kept_mut() {
        *panel.mix = None;
        panel.rack.clear();
        panel.bare = Entries::default();
        panel.coats = Entries::default();
        panel.dabs = Entries::default();
        panel.weigh_ins = Entries::default();
        panel.spots = Entries::default();
    }
    for blank in test.blanks.kept_mut() {
        blank.weigh_ins = Entries::default();
    }
    test
}

/// A test of the same content under an id of its own, made from the content: twice the same copy is one test.
///
/// ```
/// use record::{as_its_own, open};
/// let copy = open(r#"{ "format": "spray-test", "version": 1, "id": "1", "title": "Gates" }"#).unwrap().test;
/// let own = as_its_own(&copy);
/// assert!(own.id != copy.id && own.title == copy.title && own == as_its_own(&copy));
/// ```
pub fn as_its_own(test: &SprayTest) -> SprayTest {
    SprayTest { id: Id::of_content(&test.id.0, &write(test), 0), ..test.clone() }
}

/// A test that was handed over, as it may be kept: the worked example's id is no test's of a person, so that one under it
/// becomes a test of its own.
pub fn to_keep(test: SprayTest) -> SprayTest {
    if test.id.0 == EXAMPLE_ID { as_its_own(&test) } else { test }
}

/// The next letter that no panel begins with.
pub fn next_label(test: &SprayTest) -> String {
    let taken = |letter: char| test.panels.all().iter().any(|panel| panel.label.starts_with(letter));
    ('A'..='Z').find(|&letter| !taken(letter)).unwrap_or('Z').into()
}

/// Numbers for the backs of so many more panels of a candidate, or of one to come.
pub fn next_panel_labels(test: &SprayTest, candidate: Option<&Id>, count: usize) -> Vec<String> {
    let own = test.panels.kept().filter(|panel| candidate.is_some() && panel.candidate.as_ref() == candidate);
    let letters = own.map(|panel| panel.label.trim_end_matches(|c: char| c.is_ascii_digit()).to_owned()).next();
    let letters = letters.unwrap_or_else(|| next_label(test));
    let taken = |label: &String| test.panels.kept().any(|panel| panel.label == *label);
    (1..).map(|n| format!("{letters}{n}")).filter(|label| !taken(label)).take(count).collect()
}

/// The name of a record's file: the title without what file systems stumble over, and the ending that says what it is.
///
/// ```
/// assert_eq!(record::file_name("Gate / undercoats: 2"), "Gate undercoats 2.spraytest.txt");
/// ```
pub fn file_name(title: &str) -> String {
    let safe: String = title.chars().map(|c| if c.is_alphanumeric() || c == '-' { c } else { ' ' }).collect();
    let name = safe.split_whitespace().collect::<Vec<_>>().join(" ");
    let short: String = name.chars().take(60).collect();
    format!("{}.spraytest.txt", if short.is_empty() { "spray test" } else { &short })
}
