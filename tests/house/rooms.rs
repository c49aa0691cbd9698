//! Which room may know what.

use crate::paths::{Mention, mentions, statements_with};
use crate::source::Source;
use crate::tokens::{Kind, Token};

/// What one room must not use.
struct Room {
    name: &'static str,
    /// Other rooms of the crate.
    rooms: &'static [&'static str],
    crates: &'static [&'static str],
    /// It may ask no clock: being told the time is another matter.
    timeless: bool,
}

/// The browser, by any door.
const WEB: &[&str] = &[
    "web_sys",
    "js_sys",
    "wasm_bindgen",
    "wasm_bindgen_futures",
    "gloo",
    "gloo_storage",
    "gloo_timers",
    "gloo_utils",
    "leptos",
    "plotters_canvas",
    "console_error_panic_hook",
];

const CHANCE: &[&str] = &["rand", "rand_core", "rand_distr", "fastrand", "getrandom", "oorandom"];

const ROOMS: &[Room] = &[
    Room {
        name: "quantity",
        rooms: &["record", "science", "findings", "chart", "share", "store", "device", "page"],
        crates: &[],
        timeless: true,
    },
    Room {
        name: "record",
        rooms: &["science", "findings", "chart", "share", "store", "device", "page"],
        crates: &[],
        timeless: true,
    },
    // Plain numbers in SI: the units a person may choose, and how a number is shown, are `quantity`'s.
    Room {
        name: "science",
        rooms: &["quantity", "record", "findings", "chart", "share", "store", "device", "page"],
        crates: &["time", "chrono", "jiff"],
        timeless: true,
    },
    // Findings fill the chart's own input type, so the chart need not know them: one way only.
    Room { name: "findings", rooms: &["share", "store", "device", "page"], crates: &[], timeless: true },
    // The canvas is the page's or the device's: the chart draws on any backend.
    Room {
        name: "chart",
        rooms: &["record", "science", "findings", "share", "store", "device", "page"],
        crates: &[],
        timeless: true,
    },
    Room { name: "share", rooms: &["science", "store", "device", "page"], crates: &[], timeless: true },
    Room {
        name: "store",
        rooms: &["science", "findings", "chart", "share", "page"],
        crates: &["plotters_canvas"],
        timeless: false,
    },
    Room { name: "device", rooms: &["record", "science", "findings", "store", "page"], crates: &[], timeless: false },
    // Leptos aside, which brings its own way to an element.
    Room {
        name: "page",
        rooms: &["science"],
        crates: &[
            "web_sys",
            "js_sys",
            "wasm_bindgen",
            "wasm_bindgen_futures",
            "gloo",
            "gloo_storage",
            "gloo_timers",
            "gloo_utils",
        ],
        timeless: true,
    },
];

/// Rooms without the browser and without chance: all but the outermost three.
fn is_inner(room: &str) -> bool {
    !matches!(room, "store" | "device" | "page" | "main" | "lib")
}

/// A room that uses another room or a crate which it must not know.
///
/// Cannot see: what reaches a room as a value or through a generic, or a type re-exported by a room it may know.
pub fn forbidden(source: &Source) -> Vec<String> {
    let name = source.room();
    let Some(room) = ROOMS.iter().find(|room| room.name == name) else {
        let known = matches!(name, "lib" | "main");
        return if known {
            vec![]
        } else {
            vec![source.finding(1, format!("no rule says what room '{name}' may know"))]
        };
    };
    let fault = |mention: &Mention| {
        if let Some(other) = mention.room().filter(|other| room.rooms.contains(other)) {
            return Some(format!("'{name}' must not know the room '{other}'"));
        }
        let last = mention.path.last().expect("a path has segments").as_str();
        // The device has the one clock there is: who may know the device may ask it.
        let by_device = mention.path.iter().any(|segment| segment == "device");
        if room.timeless && !by_device && (asks_clock(mention) || last == "SystemTime") {
            return Some(format!("'{name}' must ask no clock: {}", mention.shown()));
        }
        // A single word may be anything; a crate stands at the head of a path.
        let outside = mention.outside().filter(|_| mention.path.len() > 1)?;
        let closed =
            room.crates.contains(&outside) || is_inner(name) && (WEB.contains(&outside) || CHANCE.contains(&outside));
        closed.then(|| format!("'{name}' must not know the crate '{outside}'"))
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

/// A room other than `findings` that uses both the record and the science, in whatever files.
pub fn both_sides(sources: &[Source]) -> Vec<String> {
    let mut findings = Vec::new();
    for room in ROOMS.iter().filter(|room| room.name != "findings") {
        let first = |wanted: &str| {
            let own = sources.iter().filter(|source| source.room() == room.name && room.name != wanted);
            own.flat_map(|source| mentions(source).into_iter().map(move |mention| (source, mention)))
                .find(|(_, mention)| mention.room() == Some(wanted))
                .map(|(source, mention)| source.finding(mention.line, wanted))
        };
        if let (Some(record), Some(science)) = (first("record"), first("science")) {
            findings.push(format!("'{}' sees both: {record}, {science}", room.name));
        }
    }
    findings
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
