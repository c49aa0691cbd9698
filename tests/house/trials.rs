//! The rules tried on made-up rooms: each fires where it should, and only there.

mod layers;

use crate::arithmetic;
use crate::dependencies;
use crate::records::replaced;
use crate::repository;
use crate::rooms::{forbidden, gate, main_is_short, manifest, storage};
use crate::source::Source;
use crate::words::{science_speaks, worded_too_early};

/// The rule finds something in `text` exactly on these lines.
#[track_caller]
fn check(rule: impl Fn(&Source) -> Vec<String>, file: &str, text: &str, lines: &[usize]) {
    let findings = rule(&Source::new(file, text));
    let found: Vec<usize> = findings
        .iter()
        .map(|finding| finding.split(':').nth(1).and_then(|line| line.parse().ok()).expect("file:line:"))
        .collect();
    assert_eq!(found, lines, "{file}:\n{text}\n{findings:#?}");
}

#[track_caller]
fn caught(file: &str, text: &str) {
    check(forbidden, file, text, &[1]);
}

#[track_caller]
fn passes(file: &str, text: &str) {
    check(forbidden, file, text, &[]);
}

#[test]
fn a_package_depends_on_what_its_room_may_know() {
    let with =
        |line: &str| format!("[package]\nname = \"x\"\n\n[dependencies]\n{line}\n\n[dev-dependencies]\nrand = \"1\"\n");
    for (room, line) in [
        ("science", "quantity.workspace = true"),
        ("science", "time = { version = \"0.3\" }"),
        ("science", "rand = \"0.9\""),
        ("record", "science = { workspace = true }"),
        ("record", "web-sys.workspace = true"),
        ("quantity", "record.workspace = true"),
        ("chart", "findings.workspace = true"),
        ("findings", "leptos.workspace = true"),
        ("attic", "serde.workspace = true"),
    ] {
        assert_eq!(manifest(room, &with(line)).len(), 1, "{room}: {line}");
    }
    assert_eq!(manifest("science", &with("# as a library\nnalgebra = \"0.34\"\norder.workspace = true")), [""; 0]);
    assert_eq!(
        manifest("science", &with("time = \"0.3\"")),
        ["src/science/Cargo.toml:5: 'science' must not know 'time'"]
    );
}

#[test]
fn a_record_is_not_changed_by_replacing_its_text() {
    let file = "tests/findings/odd.rs";
    for line in [
        r##"let bare = panel.replace(r#""bare_g": 400, "#, "");"##,
        r##"let bare = panel("a1").replace("\"bare_g\":400", "");"##,
        r##"let other = text.replacen(r#""at" : ""#, "x", 1);"##,
        r##"let other = text.replace(&format!(r#", "id": "{id}""#), "");"##,
    ] {
        check(replaced, file, line, &[1]);
    }
    for line in [
        r#"let text = text.replace("\r\n", "\n");"#,
        r#"let quoted = text.replace(" \"", "\"");"#,
        r#"let said = said.replace("at: ", "");"#,
        r##"let bare = panel.without("/bare_g"); let old = replace(r#""a": 1"#, 2);"##,
    ] {
        check(replaced, file, line, &[]);
    }
}

#[test]
fn the_inner_rooms_ask_no_clock() {
    for room in ["order", "quantity", "record", "science", "findings", "chart", "share", "page"] {
        let file = format!("src/{room}/lib.rs");
        for line in [
            "fn f() { std::time::Instant::now(); }",
            "fn f() { time::OffsetDateTime::now_utc(); }",
            "use std::time::SystemTime;",
            "fn f() { let t = Instant::now(); }",
        ] {
            caught(&file, line);
        }
        passes(&file, "// std::time::Instant::now()\nuse super::time; fn f(time: f64, now: f64) -> f64 { time - now }");
    }
}

#[test]
fn each_room_keeps_to_its_side() {
    for line in [
        "use web_sys::window;",
        "fn f() { js_sys::Date::new_0(); }",
        "use leptos::prelude::*;",
        "use plotters_canvas::CanvasBackend;",
        "fn f() -> f64 { rand::random() }",
        "use crate::page::Shown;",
        "use crate::{page::Shown};",
        "use super::store;",
        "use crate::device::clock;",
        "fn f(x: science::film::Film) {}",
        "use science::{film, stats::quantile};",
    ] {
        caught("src/share/mod.rs", line);
    }
    passes("src/share/mod.rs", "use findings::Findings; use record::SprayTest; fn f(science: f64) -> f64 { science }");
    caught("src/share/csv.rs", "use crate::store::read;");
    caught("src/store/mod.rs", "use findings::of;");
    passes("src/store/mod.rs", "use gloo_storage::LocalStorage; use web_sys::Storage;");
    caught("src/device/clock.rs", "use record::SprayTest;");
    passes("src/device/clock.rs", "pub fn now() -> f64 { js_sys::Date::now() }");
    caught("src/page/weigh/mod.rs", "use science::film;");
    caught("src/page/weigh/mod.rs", "fn f() { comb_scale_science::film::mid(1.0); }");
    caught("src/page/weigh/mod.rs", "use web_sys::HtmlElement;");
    caught("src/page/weigh/mod.rs", "fn f() { js_sys::Date::new_0(); }");
    caught("src/page/weigh/mod.rs", "use wasm_bindgen::JsCast;");
    passes("src/page/weigh/mod.rs", "use leptos::web_sys::HtmlElement; use record::Action; use findings::Findings;");
    caught("src/attic/mod.rs", "pub fn f() {}");
}

#[test]
fn storage_is_the_stores() {
    for line in [
        "use gloo_storage::{LocalStorage, Storage};",
        "fn f() { window().local_storage(); }",
        "fn f(s: leptos::web_sys::Storage) {}",
        "fn f() { eval(\"localStorage.clear()\"); }",
    ] {
        check(storage, "src/page/mod.rs", line, &[1]);
        check(storage, "src/device/mod.rs", line, &[1]);
        check(storage, "src/store/mod.rs", line, &[]);
    }
    check(storage, "src/page/mod.rs", "// localStorage is the store's\nuse crate::store::Storage;", &[]);
}

#[test]
fn records_come_in_through_the_gate() {
    for (file, line) in [
        ("src/page/mod.rs", "let test = SprayTest::deserialize(value);"),
        ("src/store/mod.rs", "let test: SprayTest = from_str(&text)?;"),
        ("src/store/mod.rs", "let test = serde_json::from_str::<SprayTest>(&text)?;"),
        ("src/share/mod.rs", "let value: Value = serde_json::from_str(&text)?;"),
        ("src/findings/mod.rs", "use serde_json::{json, from_value};"),
    ] {
        check(gate, file, line, &[1]);
    }
    check(gate, "src/record/gate.rs", "let test: SprayTest = serde_json::from_str(&text)?;", &[]);
    check(
        gate,
        "src/store/mod.rs",
        "let summary: Summary = serde_json::from_str(&text)?;\nfn write(test: &SprayTest) {}",
        &[],
    );
    check(gate, "src/share/mod.rs", "let text = serde_json::to_string(&test)?; let n = u8::from_str(\"3\");", &[]);
}

#[test]
fn main_is_short_enough() {
    check(main_is_short, "src/main.rs", &"\n".repeat(12), &[12]);
    check(main_is_short, "src/main.rs", "fn main() {}", &[]);
}

#[test]
fn arithmetic_in_the_page_is_caught() {
    for line in [
        "let lost = wet - now;",
        "let share = lost / wet;",
        "let share = lost/wet;",
        "let percent = share * 100.0;",
        "let percent = f(share)*100.0;",
        "let next = index + 1;",
        "let odd = index % 2;",
        "total += lost;",
        "total -= lost;",
        "let root = hours.sqrt();",
        "let root = f64::sqrt(hours);",
        "let sum: f64 = grams.iter().sum();",
        "let sum = grams.iter().sum::<f64>();",
        "let n = -x - 1;",
        "let a = b? + c;",
        "view! { <p class=\"a\">{move || wet.get() - now.get()}</p> }",
        "view! { <p>{a * b}</p> }",
        "view! { <p>{a[0]*2}</p> }",
        "view! { <p title=\"x\">{f(a) / b}</p> }",
        "let step = x + STEP;",
    ] {
        check(arithmetic::in_page, "src/page/weigh.rs", line, &[1]);
        check(arithmetic::in_page, "src/findings/weigh.rs", line, &[]);
    }
}

#[test]
fn what_only_looks_like_arithmetic_passes() {
    check(
        arithmetic::in_page,
        "src/page/weigh.rs",
        r##"
use crate::findings::*;
#[component(a = 1 + 2)]
fn part<T: Clone + Send + 'static>(f: impl Fn(f64) -> f64 + Copy + 'static, x: &f64) -> impl IntoView + use<T> {
    let y = *x;
    let z = (-1.0, -y, 1e-3, 2.5E+4);
    if *x > -1.0 { return *x; }
    let s = "a - b * c / d"; // a - b
    let r = r#"a "-" b"#; let c = '*'; let d = '\'' ; let l: &'static str = s;
    let i = index.saturating_sub(1).min(2).max(len).clamp(0, 9);
    let sum = totals.sum; let f = |a| -a; for k in 0..10 {}
    match x { _ => *x };
    view! {
        <p aria-label="x" class:is-open=move || open.get() data-kind="a">"a - b"</p>
        <input type="text" value=text />
        <br/>
        <Row name={name} kind=Kind::Panel/>
        {move || *shown.read()}
    }
}
#[cfg(test)]
mod tests { fn f() { assert_eq!(1 + 1, 2 * 1); } }
"##,
        &[],
    );
}

#[test]
fn a_view_is_over_when_it_closes() {
    check(
        arithmetic::in_page,
        "src/page/a.rs",
        "fn f() { view! { <p/> } }\nlet x = a-b;\n#[cfg(test)]\nuse a;\nlet y = a * b;",
        &[2, 5],
    );
}

#[test]
fn long_files_strangers_and_names_are_found() {
    let root = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("house");
    std::fs::create_dir_all(root.join("src")).expect("a folder to try things in");
    std::fs::write(root.join("src/long.rs"), "\n".repeat(401)).expect("written");
    std::fs::write(root.join("src/short.rs"), "\n".repeat(400)).expect("written");
    std::fs::write(root.join("notes.txt"), concat!("see /", "home/somebody")).expect("written");
    assert_eq!(repository::long_files(&root), ["src/long.rs: 401 lines; split it, or give the reason in tests/house"]);
    assert_eq!(repository::strangers_at_the_top(&root), ["notes.txt: not a thing for the top level"]);
    assert_eq!(repository::machine_names(&root), [concat!("notes.txt:1: '/", "home/'")]);
    for name in [concat!("https://registry", ".npmjs.org/x"), concat!("FROM deb", ".debian.org"), concat!("C:", "\\x")]
    {
        assert_eq!(repository::machine_names_in("a", name).len(), 1, "{name}");
    }
    assert_eq!(repository::machine_names_in("a", "https://docs.rs/work target/work ${TMPDIR:-/tmp}").len(), 0);
}

#[test]
fn licences_are_weighed_as_they_are_written() {
    for fine in
        ["MIT", "GPL-3.0 OR MIT", "Unlicense/MIT", "(MIT OR GPL-3.0) AND Unicode-3.0", "MIT OR GPL-3.0 AND GPL-2.0"]
    {
        assert!(dependencies::allowed(fine), "{fine}");
    }
    for not in ["GPL-3.0", "", "MIT AND GPL-3.0", "(MIT OR Zlib) AND GPL-3.0", "MIT GPL-3.0", "(MIT", "LicenseRef-x"] {
        assert!(!dependencies::allowed(not), "{not}");
    }
}

#[test]
fn strangers_among_the_dependencies_are_found() {
    let told = serde_json::json!([
        { "name": "fine", "license": "MIT", "source": "registry+x" },
        { "name": "comb-scale", "license": "MIT", "source": null },
        { "name": "nameless", "license": null, "source": "registry+x" },
        { "name": "elsewhere", "license": "MIT", "source": "git+https://example.org/x" },
        { "name": "beside", "license": "MIT", "source": null },
    ]);
    let found = dependencies::strangers(told.as_array().expect("a list"));
    let names: Vec<_> = found.iter().map(|finding| finding.split(':').next().unwrap_or_default()).collect();
    assert_eq!(names, ["beside", "elsewhere", "nameless"]);
    let lock =
        "[[package]]\nname = \"a\"\nsource = \"r\"\nchecksum = \"1\"\n[[package]]\nname = \"b\"\nsource = \"s\"\n";
    assert_eq!(dependencies::unlocked(lock), ["a second source: \"s\"", "no checksum: name = \"b\""]);
}

#[test]
fn a_sentence_is_made_in_words_alone() {
    let file = "src/findings/results/beside/column.rs";
    for worded in [
        "fn f() -> Result<Vec<(f64, u8)>, String> {}",
        "type Told = Result<Number, String>;",
        "fn f() -> Result<(f64, &'static str), &'static str> {}",
        "fn f() -> Result<u8, Vec<String>> {}",
        "let x = Ok::<_, String>(1);",
        "let x = std::result::Result::<u8, Box<str>>::Ok(1);",
    ] {
        check(worded_too_early, file, worded, &[1]);
        check(worded_too_early, "src/findings/words/why.rs", worded, &[]);
        check(worded_too_early, "src/page/desk.rs", worded, &[]);
    }
    for value in [
        "fn f() -> Result<String, Reason> {}",
        "fn f() -> Result<(f64, &'static str), Reason> {}",
        "fn f() -> Result<Vec<String>, Reason> { Ok(String::new()) }",
        "// Result<u8, String>",
    ] {
        check(worded_too_early, file, value, &[]);
    }
    let speaks = "impl fmt::Display for InputError {}";
    check(science_speaks, "src/science/input.rs", speaks, &[1]);
    check(science_speaks, "src/science/examples/forecast.rs", speaks, &[]);
    check(science_speaks, "src/findings/told/panel.rs", "format!(\"{input:?} {candidate}\")", &[1]);
    check(science_speaks, "src/findings/told/panel.rs", "format!(\"is it {candidate}?\")", &[]);
}
