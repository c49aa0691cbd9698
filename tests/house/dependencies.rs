//! What the page is built from: every crate under a licence that lets it be handed on with this one, from the one
//! registry, and the very file that was locked.
//!
//! Cannot see: faults published after the lock file was made. The lists of such faults are on the network; these tests
//! run without it.

use std::process::Command;

use serde_json::Value;

use crate::source::repository_root;

/// SPDX names of licences that ask for no more than their text and a name.
const ALLOWED: &[&str] = &["MIT", "MIT-0", "ISC", "Apache-2.0", "Zlib", "BSL-1.0", "Unicode-3.0", "CC0-1.0"];

/// One that asks more of whoever hands the code on: fine for what only the tests use.
const FOR_TESTS: &str = "MPL-2.0";

/// The packages of this repository.
const OURS: [&str; 8] = [
    "comb-scale",
    "comb-scale-chart",
    "comb-scale-findings",
    "comb-scale-order",
    "comb-scale-quantity",
    "comb-scale-record",
    "comb-scale-records",
    "comb-scale-science",
];

/// What the crates are built for: this machine, in tests, and the browser.
const PLATFORMS: [&str; 2] = ["host-tuple", "wasm32-unknown-unknown"];

/// Every package that a build for the platform takes in, as cargo tells of them.
pub fn packages() -> Vec<Value> {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let mut all = Vec::new();
    for platform in PLATFORMS {
        let told = Command::new(&cargo)
            .args(["metadata", "--locked", "--format-version", "1", "--filter-platform", platform])
            .current_dir(repository_root())
            .output()
            .expect("cargo runs");
        assert!(told.status.success(), "{}", String::from_utf8_lossy(&told.stderr));
        let told: Value = serde_json::from_slice(&told.stdout).expect("cargo tells in JSON");
        let shipped = shipped(&told["resolve"]);
        for package in told["packages"].as_array().expect("packages") {
            let mut package = package.clone();
            package["shipped"] = shipped.iter().any(|id| *id == package["id"]).into();
            all.push(package);
        }
    }
    all
}

/// What is reached from our own crate without going by way of a dev-dependency.
fn shipped(resolve: &Value) -> Vec<Value> {
    let nodes = resolve["nodes"].as_array().expect("nodes");
    let mut reached = vec![resolve["root"].clone()];
    let mut next = 0;
    while next < reached.len() {
        let node = nodes.iter().find(|node| node["id"] == reached[next]).expect("every dependency is a node");
        for dependency in node["deps"].as_array().expect("deps") {
            let kinds = dependency["dep_kinds"].as_array().expect("kinds");
            if kinds.iter().any(|kind| kind["kind"] != "dev") && !reached.contains(&dependency["pkg"]) {
                reached.push(dependency["pkg"].clone());
            }
        }
        next += 1;
    }
    reached
}

/// Packages under other licences, or from elsewhere than the registry; ours have no source.
pub fn strangers(packages: &[Value]) -> Vec<String> {
    let mut findings = Vec::new();
    for package in packages {
        let name = package["name"].as_str().unwrap_or_default();
        match package["license"].as_str() {
            Some(licence) if allowed(licence) => {}
            Some(FOR_TESTS) if package["shipped"] == false => {}
            other => findings.push(format!("{name}: licence {other:?}")),
        }
        let own = package["source"].is_null() && OURS.contains(&name);
        let known = own || package["source"].as_str().is_some_and(|source| source.starts_with("registry+"));
        if !known {
            findings.push(format!("{name}: comes from {}", package["source"]));
        }
    }
    findings.sort();
    findings.dedup();
    findings
}

/// Locked packages without the checksum of their file, or from another place than the others.
pub fn unlocked(lock: &str) -> Vec<String> {
    let mut places: Vec<&str> = lock.lines().filter_map(|line| line.strip_prefix("source = ")).collect();
    places.sort_unstable();
    places.dedup();
    let mut findings: Vec<String> = places.iter().skip(1).map(|place| format!("a second source: {place}")).collect();
    for package in lock.split("[[package]]").skip(1) {
        let says = |what: &str| package.lines().any(|line| line.starts_with(what));
        if !says("checksum = ") && !OURS.iter().any(|name| says(&format!("name = \"{name}\""))) {
            findings.push(format!("no checksum: {}", package.lines().nth(1).unwrap_or_default()));
        }
    }
    findings
}

/// Whether an SPDX expression can be met by allowed licences alone. `/` is how older crates wrote `OR`.
pub fn allowed(expression: &str) -> bool {
    let spaced = expression.replace('(', " ( ").replace(')', " ) ").replace('/', " OR ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut at = 0;
    either(&words, &mut at) && at == words.len()
}

fn either(words: &[&str], at: &mut usize) -> bool {
    let mut met = both(words, at);
    while words.get(*at) == Some(&"OR") {
        *at += 1;
        met |= both(words, at);
    }
    met
}

fn both(words: &[&str], at: &mut usize) -> bool {
    let mut met = one(words, at);
    while words.get(*at) == Some(&"AND") {
        *at += 1;
        met &= one(words, at);
    }
    met
}

fn one(words: &[&str], at: &mut usize) -> bool {
    let Some(word) = words.get(*at) else { return false };
    *at += 1;
    if *word != "(" {
        return ALLOWED.contains(word);
    }
    let met = either(words, at);
    *at += 1;
    met && words.get(*at - 1) == Some(&")")
}
