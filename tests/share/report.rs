//! The report, read by a browser's parser: the HTML Living Standard's own rules for what is an error.

use comb_scale::findings::{self, Wording};
use comb_scale::quantity::Instant;
use comb_scale::record::{Action, EXAMPLE, History, Owner, SprayTest, open, open_any, write};
use comb_scale::share::{report, report_name};
use records::test_of;
use scraper::{ElementRef, Html, Selector};

fn now() -> Instant {
    "2026-03-20T12:00:00+01:00".parse().unwrap()
}

fn report_of(test: &SprayTest) -> String {
    report(test, &findings::of(test, now()), now(), &Wording::default())
}

fn all<'a>(page: &'a Html, what: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(what).unwrap()).collect()
}

fn said(element: &ElementRef<'_>) -> String {
    element.text().collect()
}

/// Parses a report: no error, nothing that runs or is fetched, everything named.
#[track_caller]
fn check(text: &str) -> Html {
    let page = Html::parse_document(text);
    assert!(page.errors.is_empty(), "{:?}", page.errors);
    for closed in ["script", "img", "link", "iframe", "object", "form", "a", "base", "template", "video", "audio"] {
        assert!(all(&page, closed).is_empty(), "<{closed}>");
    }
    for element in all(&page, "*") {
        for (name, value) in element.value().attrs() {
            assert!(!name.starts_with("on") && !["src", "href", "style", "srcdoc"].contains(&name), "{name}={value}");
        }
    }
    let style = said(&all(&page, "style")[0]);
    assert!(!style.contains("url(") && !style.contains("@import") && !style.contains("http"), "{style}");
    assert_eq!(all(&page, "html")[0].value().attr("lang"), Some("en"));
    let policy = all(&page, "meta[http-equiv='Content-Security-Policy']")[0].value().attr("content").unwrap();
    assert!(policy.starts_with("default-src 'none'; style-src 'unsafe-inline'"), "{policy}");

    let levels: Vec<u8> =
        all(&page, "h1, h2, h3, h4, h5, h6").iter().map(|h| h.value().name().as_bytes()[1] - b'0').collect();
    assert_eq!(levels[0], 1);
    assert!(levels.windows(2).all(|pair| pair[1] > 1 && pair[1] <= pair[0] + 1), "{levels:?}");
    for table in all(&page, "table") {
        let of = |what: &str| table.select(&Selector::parse(what).unwrap()).count();
        assert!(of("caption") == 1 && of("thead th[scope=col]") > 1 && of("tbody tr") > 0, "{}", table.html());
        assert!(table.select(&Selector::parse("caption").unwrap()).all(|caption| !said(&caption).trim().is_empty()));
    }
    for figure in all(&page, "figure") {
        let of = |what: &str| figure.select(&Selector::parse(what).unwrap()).count();
        assert!(of("figcaption") == 1 && of("svg[role=img][aria-label]") == 1);
    }
    assert!(!text.contains("NaN") && !said(&all(&page, "main")[0]).contains("inf "));
    page
}

#[test]
fn it_tells_the_whole_test() {
    let test = open(EXAMPLE).unwrap().test;
    let page = check(&report_of(&test));
    let told = said(&all(&page, "main")[0]);
    for panel in test.panels.kept() {
        for weigh_in in panel.weigh_ins.kept() {
            let grams = format!("{:.1}", f64::from(weigh_in.gross_g.unwrap()));
            assert!(told.contains(&grams), "{grams} of {}", panel.label);
        }
    }
    for part in [
        findings::words::NOT_SHOWN,
        findings::words::STEADY_MEANS,
        "Data sheet",
        "Visits to the scale",
        "95 % interval",
        "invented",
    ] {
        assert!(told.contains(part), "{part}");
    }
    assert!(findings::words::CAUTIONS.iter().all(|caution| told.contains(caution)));
    let findings = findings::of(&test, now());
    let answer = findings::results::answer(&findings, &Wording::default());
    assert!(told.contains(&answer.sentence) && told.contains(&answer.evidence));
    // The first sentence says in figures what the answer's does.
    assert!(findings.said[1..].iter().all(|sentence| told.contains(sentence)));
    assert_eq!(all(&page, "figure").len(), 4, "the answer, film, loss, share of the coat");
}

#[test]
fn its_text_gives_the_live_test_back() {
    let test = open(EXAMPLE).unwrap().test;
    let text = report_of(&test);
    let opened = open_any(text.as_bytes()).unwrap();
    assert_eq!((opened.test, opened.remarks), (test.clone(), vec![]));
    let utf_16: Vec<u8> = [0xfeff].into_iter().chain(text.encode_utf16()).flat_map(u16::to_le_bytes).collect();
    assert_eq!(open_any(&utf_16).unwrap().test, test);
    assert_eq!(open_any(text.replace('\n', "\r\n").as_bytes()).unwrap().test, test);
    // As a browser saves a page that it has read.
    assert_eq!(open_any(Html::parse_document(&text).html().as_bytes()).unwrap().test, test);
}

/// Everything a name may hold that means something to HTML, JSON, JavaScript or CSS.
const HOSTILE: &str = "</pre></script></style><script>alert(1)</script><img src=x onerror=y>-->\" ' &lt; &amp; \\u003c {{ }} \u{0} \u{7f} \u{85} \u{fffe} \u{10ffff} \u{202e} \"format\": \"spray-test\"";

#[test]
fn nothing_in_a_name_is_markup_or_ends_the_record() {
    let hostile = serde_json::to_string(HOSTILE).unwrap();
    let inside = format!(
        r#""title": {hostile}, "currency": {hostile}, "order": {{ "seed": {hostile}, "candidates": [ "c" ] }},
        "balances": [ {{ "id": "b", "label": {hostile}, "division_g": 0.1 }} ],
        "combs": [ {{ "id": "k", "label": {hostile}, "edges": [ {{ "teeth_um": [ 100, 200 ] }} ] }} ],
        "candidates": [ {{ "id": "c", "label": {hostile}, "notes": {hostile}, "gun": {{ "note": {hostile} }},
            "mix": {{ "components": [ {{ "label": {hostile}, "grade": {hostile}, "parts": 1 }} ] }} }} ],
        "panels": [ {{ "id": "p", "label": {hostile}, "candidate": "c", "rack": {hostile}, "bare_g": 400,
            "dabs": [ {{ "comb": "k", "wetted_um": 100, "dry_um": 200, "place": {hostile} }} ],
            "spots": [ {{ "place": {hostile}, "readings_um": [ 90 ] }} ],
            "weigh_ins": [ {{ "at": "2026-03-02T10:00:00Z", "gross_g": 440,
                "set_aside": {{ "by": {hostile}, "why": {hostile} }} }} ] }} ],
        "blanks": [ {{ "label": {hostile}, "place": {hostile} }} ], "rounds": [ {{ "place": {hostile} }} ],
        "moves": [ {{ "to": {hostile} }} ], "notes": [ {{ "text": {hostile} }} ], {hostile}: 1"#
    );
    // Its last field is nobody's, which the builder of records refuses.
    let test = open(&format!(r#"{{ "format": "spray-test", "version": 1, "id": "t", {inside} }}"#)).unwrap().test;
    let text = report_of(&test);
    let page = check(&text);
    assert_eq!(all(&page, "pre").len(), 1);
    assert!(said(&all(&page, "h1")[0]).starts_with("</pre></script></style><script>alert(1)</script>"));
    assert_eq!(open_any(text.as_bytes()).unwrap().test, test);
    assert_eq!(open(&said(&all(&page, "pre")[0])).unwrap().test, test, "what stands in it is a record as it is");
}

#[test]
fn whatever_is_missing_the_report_says_what_there_is() {
    let panels: Vec<String> = (1..=30).map(|n| format!(r#"{{ "label": "P{n}", "candidate": "c{n}" }}"#)).collect();
    let candidates: Vec<String> = (1..=30).map(|n| format!(r#"{{ "id": "c{n}", "label": "C{n}" }}"#)).collect();
    let many = format!(r#""panels": [ {} ], "candidates": [ {} ]"#, panels.join(", "), candidates.join(", "));
    for inside in [
        r#""title": """#,
        r#""panels": [ { } ]"#,
        r#""candidates": [ { } ]"#,
        r#""candidates": [ { "id": "c" } ], "panels": [ { "candidate": "c", "weigh_ins": [ { "at": "2026-03-02T10:00:00Z", "gross_g": 440 } ] } ]"#,
        r#""panels": [ { "weigh_ins": [ { "gross_g": 440 }, { "at": "2099-03-02T10:00:00Z" }, { "at": "2099-03-02T10:00:00Z", "gross_g": 100000 } ] } ]"#,
        r#""moves": [ { }, { "to": "Sun" } ], "rounds": [ { } ], "air": [ { }, { "air_c": 20 } ], "notes": [ { } ], "skipped": [ { "step": "air" } ], "blanks": [ { } ], "verifications": [ { } ], "balances": [ { } ], "combs": [ { } ]"#,
        &many,
    ] {
        let test = test_of(inside);
        let text = report_of(&test);
        check(&text);
        assert_eq!(open_any(text.as_bytes()).unwrap().test, test);
    }
}

#[test]
fn what_was_set_aside_stays_with_its_reason() {
    let mut history = History::new(open(EXAMPLE).unwrap().test, "phone");
    let panel = history.test().panels.kept().next().unwrap();
    let (owner, weigh_in) = (panel.id.clone(), panel.weigh_ins.kept().nth(3).unwrap().id.clone());
    history
        .act(Action::SetAside { owner: Owner::Panel(owner), weigh_in, why: "the cat sat on the scale".into() })
        .unwrap();
    let page = check(&report_of(history.test()));
    let out: Vec<String> = all(&page, "li.out").iter().map(said).collect();
    assert!(out.iter().any(|row| row.contains("Left out by the painter: the cat sat on the scale")), "{out:?}");
    assert!(out.iter().any(|row| row.contains("left out of the curve")), "{out:?}");
    let page = check(&report_of(&open(EXAMPLE).unwrap().test));
    assert_eq!(all(&page, "li.out").len() + 1, out.len());
}

#[test]
fn the_name_of_the_file_is_the_title_made_safe() {
    assert_eq!(report_name("Gate / undercoats"), "Gate undercoats.report.html");
    assert_eq!(report_name("../../<b>"), "b.report.html");
    assert_eq!(report_name("  "), "spray test.report.html");
    assert!(write(&open(EXAMPLE).unwrap().test).len() < report_of(&open(EXAMPLE).unwrap().test).len());
}

/// Two panels and a blank: a jump of the scale between the last two visits, A2 without a bare weight, and weights swapped on
/// the last but one.
#[test]
fn the_readings_tell_of_a_jump_taken_off_of_missing_bare_weights_and_of_an_exchange() {
    let at = |day: usize| format!("2026-03-{:02}T10:00:00Z", 2 + day);
    let law = |day: usize| 9.0 * (1.0 - (-(day as f64) / 2.0).exp());
    let out = |day: usize| if day >= 9 { 1.3 } else { 0.0 };
    let panel = |p: usize, bare: &str| {
        let weigh_in = |day: usize| {
            let g = 426.0 + 3.0 * p as f64 - law(day) + out(day);
            format!(r#"{{ "id": "w{day}", "at": "{}", "round": "r{day}", "gross_g": {g:.1} }}"#, at(day))
        };
        let weigh_ins: Vec<String> = (0..11).map(weigh_in).collect();
        format!(r#"{{ "id": "p{p}", "label": "A{}", {bare} "weigh_ins": [ {} ] }}"#, p + 1, weigh_ins.join(", "))
    };
    let rounds: Vec<String> = (0..11).map(|day| format!(r#"{{ "id": "r{day}", "at": "{}" }}"#, at(day))).collect();
    let blank =
        |day: usize| format!(r#"{{ "at": "{}", "round": "r{day}", "gross_g": {:.1} }}"#, at(day), 561.4 + out(day));
    let blanks: Vec<String> = (0..11).map(blank).collect();
    let test = test_of(&format!(
        r#""balance": {{ "division_g": 0.1 }}, "rounds": [ {} ], "panels": [ {}, {} ],
        "blanks": [ {{ "id": "b", "label": "Blank", "weigh_ins": [ {} ] }} ]"#,
        rounds.join(", "),
        panel(0, r#""bare": [ { "gross_g": 400 } ],"#),
        panel(1, ""),
        blanks.join(", ")
    ));
    let mut history = History::new(test, "phone");
    let of = |p: usize| (Owner::Panel(format!("p{p}").as_str().into()), "w8".into());
    history.act(Action::Exchange(of(0), of(1))).unwrap();
    let text = report_of(history.test());
    let page = check(&text);
    let told = said(&all(&page, "main")[0]);
    assert!(told.contains("Panels were weighed bare (not A2), right after the last coat"), "{told}");
    assert!(told.contains("g with the scale's jump taken off"), "{told}");
    assert!(told.contains("Exchanged with the weight of A2: they were swapped on the scale."), "{told}");
    // The first page tells of each, once.
    let first = &told[..told.find("What this does not show").unwrap()];
    for corrected in [
        "A2 was never weighed bare",
        "Between 10 Mar and 11 Mar the scale jumped by +1.3 g, as the blank shows. That is taken off A1, A2.",
        "A1 and A2 were swapped on the scale on 10 Mar: their weights are exchanged.",
    ] {
        assert_eq!(first.matches(corrected).count(), 1, "{corrected} in {first}");
    }
    // Exchanged back, there is nothing to tell.
    history.act(Action::Exchange(of(0), of(1))).unwrap();
    assert!(!report_of(history.test()).contains("Exchanged with"));
    history.undo();
    let csv = comb_scale::share::readings_csv(
        history.test(),
        &findings::of(history.test(), now()),
        comb_scale::share::DecimalMark::Point,
    );
    let line = |what: &str| csv.lines().find(|line| line.contains(what)).unwrap_or_default().to_owned();
    assert!(line("2026-03-10 10:00:00").ends_with(",A2"), "{}", line("2026-03-10 10:00:00"));
    let taken: f64 = line("2026-03-12 10:00:00").split(',').nth(20).unwrap().parse().unwrap();
    assert!((taken - 1.3).abs() < 0.1, "{taken}");
}

#[test]
fn it_says_who_sprayed_on_what_and_from_which_cans() {
    let test = test_of(
        r#""painter": "Ada", "shop": "Yard 3", "metal": "Galvanized, 1.5 mm", "preparation": "Swept P240",
        "candidates": [ { "id": "c", "label": "Grey", "mix": { "components": [ { "label": "Base", "parts": 4, "batch": "L77" } ] } } ],
        "panels": [ { "label": "A1", "candidate": "c" } ]"#,
    );
    let page = check(&report_of(&test));
    let told = said(&all(&page, "main")[0]);
    let answer = told.find("The answer").unwrap();
    for words in ["● Grey (1 panel)", "Ada", "Yard 3", "Galvanized, 1.5 mm", "Swept P240"] {
        assert!(told.find(words).is_some_and(|at| at < answer), "{words}");
    }
    assert!(told.contains("batch L77"));
}
