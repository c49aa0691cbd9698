//! Which room may know what.

use crate::paths::{Mention, mentions, statements_with};
use crate::source::Source;
use crate::tokens::{Kind, Token};

/// A room that is a package of its own: what its manifest may name. The compiler sees to the rest.
struct Package {
    name: &'static str,
    dependencies: &'static [&'static str],
}

const PACKAGES: &[Package] = &[
    Package { name: "order", dependencies: &[] },
    Package { name: "quantity", dependencies: &["serde", "time"] },
    Package { name: "record", dependencies: &["order", "quantity", "serde", "serde_json", "time"] },
    // Plain numbers in SI: the units a person may choose, and how a number is shown, are `quantity`'s.
    Package { name: "science", dependencies: &["nalgebra", "order", "serde", "statrs"] },
    // Findings fill the chart's own input type, so the chart need not know them: one way only.
    Package { name: "chart", dependencies: &["order", "plotters", "quantity"] },
    // The only room that sees both the record and the science.
    Package { name: "findings", dependencies: &["chart", "order", "quantity", "record", "science", "serde"] },
];

/// A room within the program's own package: what it must not use.
struct Room {
    name: &'static str,
    rooms: &'static [&'static str],
    crates: &'static [&'static [&'static str]],
    /// It may ask no clock: being told the time is another matter.
    timeless: bool,
}

const ROOMS: &[Room] = &[
    Room { name: "share", rooms: &["science", "store", "device", "page"], crates: &[BROWSER, WORLD], timeless: true },
    Room {
        name: "store",
        rooms: &["science", "findings", "chart", "share", "page"],
        crates: &[&["plotters_canvas"]],
        timeless: false,
    },
    Room { name: "device", rooms: &["record", "science", "findings", "store", "page"], crates: &[], timeless: false },
    // Leptos aside, which brings its own way to an element.
    Room { name: "page", rooms: &["science"], crates: &[BROWSER], timeless: true },
];

/// The browser itself.
const BROWSER: &[&str] =
    &["web_sys", "js_sys", "wasm_bindgen", "wasm_bindgen_futures", "gloo", "gloo_storage", "gloo_timers", "gloo_utils"];

/// What is built on it, and chance.
const WORLD: &[&str] = &[
    "leptos",
    "plotters_canvas",
    "console_error_panic_hook",
    "rand",
    "rand_core",
    "rand_distr",
    "fastrand",
    "getrandom",
    "oorandom",
];

/// Whether a room is a package of its own.
pub fn is_package(room: &str) -> bool {
    PACKAGES.iter().any(|package| package.name == room)
}

/// A dependency in the manifest of a room that it must not have.
pub fn manifest(name: &str, text: &str) -> Vec<String> {
    let file = format!("src/{name}/Cargo.toml");
    let Some(package) = PACKAGES.iter().find(|package| package.name == name) else {
        return vec![format!("{file}:1: no rule says what '{name}' may depend on")];
    };
    let named = text.lines().enumerate().skip_while(|(_, line)| line.trim() != "[dependencies]").skip(1);
    named
        .take_while(|(_, line)| !line.starts_with('['))
        .filter_map(|(at, line)| Some((at, line.split(['.', ' ', '=']).next()?)))
        .filter(|(_, word)| !word.is_empty() && !word.starts_with('#') && !package.dependencies.contains(word))
        .map(|(at, word)| format!("{file}:{}: '{name}' must not know '{word}'", at + 1))
        .collect()
}

/// A room that uses another room or a crate which it must not know, or a package of ours that asks the clock.
///
/// Cannot see: what reaches a room as a value or through a generic, or a type re-exported by a room it may know.
pub fn forbidden(source: &Source) -> Vec<String> {
    let name = source.room();
    let room = ROOMS.iter().find(|room| room.name == name);
    if room.is_none() && !is_package(name) {
        let known = matches!(name, "lib" | "main");
        let unruled = || source.finding(1, format!("no rule says what room '{name}' may know"));
        return if known { vec![] } else { vec![unruled()] };
    }
    let timeless = room.is_none_or(|room| room.timeless);
    let fault = |mention: &Mention| {
        let last = mention.path.last().expect("a path has segments").as_str();
        // The device has the one clock there is: who may know the device may ask it.
        let by_device = mention.path.iter().any(|segment| segment == "device");
        if timeless && !by_device && (asks_clock(mention) || last == "SystemTime") {
            return Some(format!("'{name}' must ask no clock: {}", mention.shown()));
        }
        let room = room?;
        if let Some(other) = mention.room().filter(|other| room.rooms.contains(other)) {
            return Some(format!("'{name}' must not know the room '{other}'"));
        }
        // A single word may be anything; a crate stands at the head of a path.
        let outside = mention.outside().filter(|_| mention.path.len() > 1)?;
        room.crates.concat().contains(&outside).then(|| format!("'{name}' must not know the crate '{outside}'"))
    };
    let found = mentions(source);
    let mut findings: Vec<String> =
        found.iter().filter_map(|mention| Some(source.finding(mention.line, fault(mention)?))).collect();
    findings.dedup();
    findings
}

fn asks_clock(mention: &Mention) -> bool {
    let last = mention.path.last().map(String::as_str);
    mention.path.len() > 1 && matches!(last, Some("now" | "now_utc" | "now_local"))
        || mention.path.starts_with(&["std".into(), "time".into()])
}

/// Browser storage anywhere but in `store`.
pub fn storage(source: &Source) -> Vec<String> {
    const WORDS: [&str; 8] = [
        "gloo_storage",
        "LocalStorage",
        "SessionStorage",
        "StorageEvent",
        "local_storage",
        "session_storage",
        "indexed_db",
        "IdbFactory",
    ];
    const NAMES: [&str; 3] = ["localStorage", "sessionStorage", "indexedDB"];
    if source.room() == "store" {
        return vec![];
    }
    let by_name = source.tokens.iter().filter(|token| match token.kind {
        Kind::Word => WORDS.contains(&token.text.as_str()) || NAMES.contains(&token.text.as_str()),
        Kind::Text => NAMES.iter().any(|name| token.text.contains(name)),
        _ => false,
    });
    let by_path = mentions(source).into_iter().filter(|it| {
        it.path.iter().any(|part| part == "web_sys") && it.path.last().is_some_and(|last| last == "Storage")
    });
    let mut lines: Vec<usize> = by_name.map(|token| token.line).chain(by_path.map(|mention| mention.line)).collect();
    lines.dedup();
    lines.into_iter().map(|line| source.finding(line, "browser storage is the store's alone")).collect()
}

/// Text turned into a record, or into any serde data, elsewhere than in `record` (and `store`, for what is its own: the
/// summaries and preferences; never a `SprayTest`).
///
/// Cannot see: `serde_json` reached under another name, or a `SprayTest` inferred three lines further down.
pub fn gate(source: &Source) -> Vec<String> {
    const READERS: [&str; 4] = ["from_str", "from_slice", "from_value", "from_reader"];
    if source.room() == "record" {
        return vec![];
    }
    let reads =
        |token: &Token| token.is_word() && (READERS.contains(&token.text.as_str()) || token.text == "deserialize");
    let test = |token: &Token| token.is("SprayTest");
    let mut findings: Vec<String> =
        statements_with(source, move |statement| statement.iter().any(reads) && statement.iter().any(test))
            .map(|line| source.finding(line, "a SprayTest comes in through record::open alone"))
            .collect();
    if source.room() != "store" {
        let serde = |it: &Mention| {
            it.path[0] == "serde_json" && it.path.last().is_some_and(|last| READERS.contains(&last.as_str()))
        };
        findings.extend(
            mentions(source)
                .iter()
                .filter(|it| serde(it))
                .map(|it| source.finding(it.line, "only record and store read JSON")),
        );
    }
    findings
}

/// `main.rs` mounts the page and does nothing else.
pub fn main_is_short(source: &Source) -> Vec<String> {
    let long = source.room() == "main" && source.lines >= 10;
    if long { vec![source.finding(source.lines, "main.rs stays under ten lines")] } else { vec![] }
}
