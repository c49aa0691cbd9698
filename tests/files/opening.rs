use comb_scale::record::{FILE_LIMIT, OpenError, Owner, open, write};

use super::{begun, grams, panel};
use comb_scale::record::Action;
use records::piece;
use serde_json::json;

const SMALL: &str = r#"{
    "format": "spray-test", "version": 1, "title": "Gates",
    "balance": { "label": "Shop", "division_g": 0.1 },
    "comb": { "teeth_um": [100, 125, 150] },
    "blank": { "label": "Blank", "weigh_ins": [ { "at": "2026-03-02T09:00:00+01:00", "gross_g": 400.1 } ] },
    "candidates": [ { "label": "Grey" } ],
    "panels": [ { "label": "A1", "candidate": "Grey", "bare_g": 412.3, "from_the_future": { "x": [1, 2] },
        "weigh_ins": [ { "at": "2026-03-02T09:00:00+01:00", "gross_g": 440.25 },
                       { "at": "2026-03-02T09:00:00+01:00", "gross_g": 440.25 } ] } ],
    "spare": true
}"#;

#[test]
fn short_forms_open_as_lists_with_ids() {
    let opened = open(SMALL).unwrap();
    assert_eq!(opened.remarks, []);
    let test = opened.test;
    let panel = test.panels.kept().next().unwrap();
    assert_eq!(panel.bare.kept().next().unwrap().gross_g, Some(grams(412.3)));
    assert_eq!(test.balances.kept().count(), 1);
    assert_eq!(test.combs.kept().next().unwrap().edges.kept().next().unwrap().teeth_um.len(), 3);
    assert_eq!(test.blanks.kept().next().unwrap().weigh_ins.kept().count(), 1);
    let grey = test.candidates.kept().next().unwrap();
    assert_eq!(panel.candidate.as_ref(), Some(&grey.id), "a label written for an id leads to its entry");
    let ids: Vec<_> = panel.weigh_ins.kept().map(|w| w.id.clone()).collect();
    assert_eq!(ids.len(), 2, "two equal readings are two readings");
    assert_ne!(ids[0], ids[1]);
}

#[test]
fn the_same_text_gives_the_same_test_and_list_order_means_nothing() {
    let listed = |candidates| open(&piece(SMALL).with("/candidates", candidates).to_string()).unwrap().test;
    let turned = listed(json!([{ "label": "Red" }, { "label": "Grey" }]));
    assert_eq!(turned.candidates, listed(json!([{ "label": "Grey" }, { "label": "Red" }])).candidates);
    assert_eq!(open(SMALL).unwrap().test, open(SMALL).unwrap().test);
}

#[test]
fn writing_and_opening_is_the_identity_and_keeps_unknown_fields() {
    let test = open(SMALL).unwrap().test;
    let text = write(&test);
    let again = open(&text).unwrap();
    assert_eq!(again.remarks, []);
    assert_eq!(again.test, test);
    assert_eq!(write(&again.test), text);
    assert!(text.contains("\"from_the_future\"") && text.contains("\"spare\""), "{text}");
}

#[test]
fn a_weigh_in_stands_on_one_line() {
    let mut history = begun("phone");
    let (owner, at) = (panel(history.test(), "A1"), super::at("2026-03-02T09:00:00+01:00"));
    history.act(Action::Weigh { owner: Owner::Panel(owner), round: None, at, gross_g: grams(440.2) }).unwrap();
    let text = write(history.test());
    let line = text.lines().find(|line| line.contains("440.2")).unwrap();
    assert!(line.contains("\"at\"") && line.contains("\"id\""), "{line}");
    assert!(text.lines().all(|line| line.len() < 300), "{text}");
}

#[test]
fn what_cannot_be_read_is_remarked_on_and_kept() {
    let text = r#"{ "format": "spray-test", "version": 1, "created": "2026-03-02T08:10:00", "panels": [
        { "label": "A1", "candidate": "nobody", "weigh_ins": [ { "gross_g": "heavy" }, { "gross_g": "440,2" },
          { "gross_g": -3 }, 7 ] } ] , "blanks": 4, "candidates": [ { "id": "c", "label": "A" }, { "id": "c", "label": "B" } ],
        "wanted": { "sanding_h": "soon" }, "units": { "film": "furlong" } }"#;
    let opened = open(text).unwrap();
    let said: Vec<_> = opened.remarks.iter().map(ToString::to_string).collect();
    for part in [
        "created: must be a date and time with its offset",
        "panels[0].weigh_ins[0].gross_g: must be a number",
        "panels[0].weigh_ins[1].gross_g: was text and is read as a number",
        "panels[0].weigh_ins[2].gross_g: must lie between 0 and 100000 g",
        "panels[0].weigh_ins[3]: must be an object",
        "blanks: must be a list",
        "wanted.sanding_h: must be a number",
        "units.film: must be one of: um mil",
        "panels[A1].candidate: names \"nobody\"",
    ] {
        assert!(said.iter().any(|remark| remark.starts_with(part)), "{part} in {said:#?}");
    }
    assert_eq!(opened.test.candidates.kept().count(), 2, "entries of one id are told apart, not dropped");
    let text = write(&opened.test);
    for kept in ["\"heavy\"", "\"soon\"", "\"furlong\"", "-3"] {
        assert!(text.contains(kept), "{kept} in {text}");
    }
}

#[test]
fn an_id_that_cannot_be_read_is_told_of_and_minted() {
    let text = r#"{ "format": "spray-test", "version": 1, "id": [ 1 ], "notes": [ { "id": { }, "text": "dust" } ] }"#;
    let opened = open(text).unwrap();
    let said: Vec<_> = opened.remarks.iter().map(ToString::to_string).collect();
    assert_eq!(said, ["notes[0].id: must be text", "id: must be text"]);
    assert_eq!(open(&write(&opened.test)).unwrap().test, opened.test);
}

#[test]
fn a_text_that_is_no_spray_test_gets_one_sentence() {
    for (text, trouble) in [
        ("", OpenError::Empty),
        ("\u{feff}  \n", OpenError::Empty),
        ("{ \"format\": \"spray-test\", ", OpenError::Unreadable { line: 1, column: 25 }),
        ("[1, 2]", OpenError::NotASprayTest),
        ("{ \"format\": \"letter\" }", OpenError::NotASprayTest),
        ("{ \"format\": \"spray-test\" }", OpenError::NoVersion),
        ("{ \"format\": \"spray-test\", \"version\": \"one\" }", OpenError::NoVersion),
    ] {
        assert_eq!(open(text).unwrap_err(), trouble, "{text}");
        assert!(trouble.to_string().ends_with('.'));
    }
    assert_eq!(open(&" ".repeat(FILE_LIMIT + 1)).unwrap_err(), OpenError::TooLong);
    assert!(matches!(open(&"[".repeat(100_000)).unwrap_err(), OpenError::Unreadable { .. }));
}

#[test]
fn a_newer_version_opens_with_a_remark() {
    let opened = open(r#"{ "format": "spray-test", "version": 7, "id": "t", "telepathy": 1 }"#).unwrap();
    assert!(opened.remarks[0].to_string().starts_with("version: was written by a newer page"));
    let text = write(&opened.test);
    assert!(text.contains("\"version\": 7") && text.contains("telepathy"), "{text}");
}
