//! What lies in the repository: how long files are, what stands at the top, and names that belong to one machine.

use std::fs;
use std::path::Path;

use crate::source::{entries, files_under, name_from};

/// Lines after which a file wants splitting, or a reason.
const LONGEST: usize = 400;

const COUNTED: [&str; 6] = ["rs", "mjs", "js", "css", "html", "sh"];

/// Longer files, each with its reason. One that has become short again is taken off the list.
const LONG_FOR_A_REASON: &[(&str, &str)] = &[];

/// What may stand at the top beside dot-files. Something new there is a decision, made here.
const TOP: &[&str] = &[
    "CHANGELOG.md",
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE",
    "Makefile",
    "README.md",
    "Trunk.toml",
    "index.html",
    "src",
    "style",
    "tests",
];

/// Folders of one machine, and hosts that packages come from. Spelled in pieces, so that this file passes itself.
const NAMES: &[&str] = &[
    concat!("/", "root/"),
    concat!("/", "home/"),
    concat!("/", "Users/"),
    concat!("/", "work/"),
    concat!("/", "tmp/"),
    concat!("C:", "\\"),
    concat!("registry", ".npmjs.org"),
    concat!("registry", ".yarnpkg.com"),
    concat!("static", ".crates.io"),
    concat!("index", ".crates.io"),
    concat!("static.rust", "-lang.org"),
    concat!("deb", ".debian.org"),
    concat!("pypi", ".org"),
    concat!("files", ".pythonhosted.org"),
];

pub fn long_files(root: &Path) -> Vec<String> {
    let mut findings = Vec::new();
    let mut excused: Vec<&str> = LONG_FOR_A_REASON.iter().map(|(file, _)| *file).collect();
    for path in files_under(root) {
        let counted = path.extension().is_some_and(|ending| COUNTED.iter().any(|counted| ending == *counted));
        let lines = if counted { fs::read_to_string(&path).map_or(0, |text| text.lines().count()) } else { 0 };
        if lines > LONGEST {
            let name = name_from(root, &path);
            match excused.iter().position(|file| *file == name) {
                Some(at) => drop(excused.swap_remove(at)),
                None => findings.push(format!("{name}: {lines} lines; split it, or give the reason in tests/house")),
            }
        }
    }
    findings.extend(excused.iter().map(|file| format!("{file}: not long any more; take it off the list")));
    findings
}

pub fn strangers_at_the_top(root: &Path) -> Vec<String> {
    let names = entries(root).into_iter().map(|path| name_from(root, &path));
    names
        .filter(|name| !name.starts_with('.') && !TOP.contains(&name.as_str()))
        .map(|name| format!("{name}: not a thing for the top level"))
        .collect()
}

/// Every text file is looked at; `Cargo.lock` names cargo's registry in its own notation, which holds no address fetched.
pub fn machine_names(root: &Path) -> Vec<String> {
    let mut findings = Vec::new();
    for path in files_under(root) {
        let Ok(text) = fs::read_to_string(&path) else { continue };
        findings.extend(machine_names_in(&name_from(root, &path), &text));
    }
    findings
}

pub fn machine_names_in(file: &str, text: &str) -> Vec<String> {
    let found = text.lines().enumerate().flat_map(|(at, line)| {
        NAMES.iter().filter(move |name| line.contains(**name)).map(move |name| format!("{file}:{}: '{name}'", at + 1))
    });
    found.collect()
}
