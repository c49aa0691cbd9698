//! What may need what: folders in their order, files in no ring, classes of something.

use super::check;
use crate::circles::rings;
use crate::floors::downwards;
use crate::source::Source;
use crate::styles::{in_rust, unused_in};

#[test]
fn folders_know_those_below_them() {
    for (file, line) in [
        ("facts/scales.rs", "use crate::work::PanelCard;"),
        ("facts/scales.rs", "fn f() { super::super::told::panel(); }"),
        ("work/mixing/batch.rs", "use crate::{facts::clock_h, words::Wording};"),
        ("told/panel.rs", "use crate::weigh::Judged;"),
        ("words/odd.rs", "fn f() { crate::results::side_by_side(); }"),
        ("weigh/rounds.rs", "use crate::spray::Task;"),
        ("weigh/rounds.rs", "use super::super::shelf::about;"),
        ("weigh/rounds.rs", "use crate::Findings;"),
        ("attic/mod.rs", "pub fn f() {}"),
    ] {
        check(downwards, &format!("src/findings/{file}"), line, &[1]);
    }
    for (file, line) in [
        ("lib.rs", "pub use told::Findings; pub mod weigh; use crate::words::Wording;"),
        ("facts/scales.rs", "use super::times::clock_h; use crate::facts::order; use record::told;"),
        ("work/mixing/batch.rs", "use super::super::card::PanelCard; use crate::facts::clock_h;"),
        (
            "weigh/mod.rs",
            "mod rounds; pub use rounds::round_said; use crate::words::Wording; use crate::told::{Findings};",
        ),
    ] {
        check(downwards, &format!("src/findings/{file}"), line, &[]);
    }
    for (file, line) in [
        ("parts/live.rs", "use crate::page::desk::Desk;"),
        ("desk/keeping.rs", "use super::super::fields::picks;"),
        ("weigh/walk.rs", "use crate::page::spray::today;"),
        ("weigh/mod.rs", "fn f() { super::open::open(); }"),
        ("open.rs", "use super::workshop;"),
        ("open.rs", "use super::Page;"),
        ("attic.rs", "pub fn f() {}"),
    ] {
        check(downwards, &format!("src/page/{file}"), line, &[1]);
    }
    for (file, line) in [
        ("mod.rs", "mod weigh; use workshop::fetch; use crate::device;"),
        ("weigh/mod.rs", "use crate::device::now; use crate::page::desk::Desk; use findings::spray::Task;"),
        ("open.rs", "use super::{plan, weigh}; use super::desk::Desk;"),
        ("workshop.rs", "use super::open; use super::shelf::handed;"),
    ] {
        check(downwards, &format!("src/page/{file}"), line, &[]);
    }
}

#[test]
fn files_stand_in_no_ring() {
    let found = |files: &[(&str, &str)]| {
        let sources: Vec<Source> = files.iter().map(|(file, text)| Source::new(&format!("src/{file}"), text)).collect();
        rings(&sources).into_iter().map(|finding| finding.replace("src/", "")).collect::<Vec<_>>()
    };
    let two = [("page/a.rs", "use super::b::f;"), ("page/b.rs", "fn f() { crate::page::a::g(); }")];
    assert_eq!(
        found(&two),
        [
            "page/a.rs:1: stands in a ring: page/a.rs → page/b.rs → page/a.rs",
            "page/b.rs:1: stands in a ring: page/b.rs → page/a.rs → page/b.rs"
        ]
    );
    // What stands in the front of its own folder, and what the front hands on.
    assert_eq!(
        found(&[("page/weigh/mod.rs", "mod walk; fn f() {}"), ("page/weigh/walk.rs", "use super::f;")]).len(),
        2
    );
    let handed_on = [("page/parts/mod.rs", "pub use live::f;"), ("page/parts/live.rs", "")];
    assert_eq!(found(&[handed_on[0], handed_on[1], ("page/parts/list.rs", "use crate::page::parts::f;")]).len(), 2);
    assert!(found(&[handed_on[0], handed_on[1], ("page/parts/list.rs", "use super::live::f;")]).is_empty());
    assert!(found(&[handed_on[0], handed_on[1], ("page/open.rs", "use super::parts::f;")]).is_empty());
    assert!(found(&[("chart/a.rs", "use crate::b::f;"), ("chart/b.rs", "use crate::a::g;")]).is_empty());
}

#[test]
fn classes_are_of_something() {
    let named = in_rust(
        "fn f() { button(\"plain destroys\", \"Go to the attic\"); view! { <p class:over=late class=\"at\"/> } }",
    );
    let found = |sheet: &str| {
        let found = unused_in("style/a.css", sheet, &named);
        found.into_iter().map(|finding| finding.replace("style/a.css:", "")).collect::<Vec<_>>()
    };
    assert!(found("button.plain, .destroys:not(.over) > .at { margin: .5rem; }\n/* .attic { } */\n").is_empty());
    assert!(found("@media (max-width: 15.5em) {\n  .at { top: 0; }\n  grid: .attic\n}").is_empty());
    assert_eq!(found("/* Here:\n.cellar { } */\n.at,\n.attic { top: 0; }"), ["4: nothing is of the class 'attic'"]);
    assert_eq!(found(".at:not(.cellar) { top: 0; }"), ["1: nothing is of the class 'cellar'"]);
}
