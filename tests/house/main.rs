//! The house is kept in order by what each room does *not* know. These tests read the source as text and fail when a
//! room uses what it must not, so the rules are ordinary failing tests and not a matter of memory.
//!
//! They read tokens, not meaning. What they cannot see is said beside each rule.

mod arithmetic;
mod circles;
mod dependencies;
mod floors;
mod paths;
mod records;
mod repository;
mod rooms;
mod source;
mod styles;
mod tokens;
mod trials;
mod words;

use source::{Source, repository_root, rust_sources};

/// Fails with one line per finding: file, line, what is wrong.
#[track_caller]
fn assert_none(findings: Vec<String>) {
    assert!(findings.is_empty(), "{} finding(s):\n  {}", findings.len(), findings.join("\n  "));
}

fn each(rule: fn(&Source) -> Vec<String>) -> Vec<String> {
    let sources = rust_sources(&repository_root().join("src"));
    assert!(!sources.is_empty(), "no source was found");
    sources.iter().flat_map(rule).collect()
}

#[test]
fn no_room_knows_what_it_must_not() {
    assert_none(each(rooms::forbidden));
}

#[test]
fn no_folder_knows_one_above_it() {
    assert_none(each(floors::downwards));
}

#[test]
fn no_files_need_one_another_in_a_ring() {
    assert_none(circles::rings(&rust_sources(&repository_root().join("src"))));
}

#[test]
fn each_package_depends_on_what_its_room_may_know() {
    let src = repository_root().join("src");
    let packages = source::entries(&src).into_iter().filter(|room| room.join("Cargo.toml").is_file());
    let faults = packages.flat_map(|room| {
        let name = source::name_from(&src, &room);
        rooms::manifest(&name, &std::fs::read_to_string(room.join("Cargo.toml")).expect("a manifest is UTF-8"))
    });
    assert_none(faults.collect());
}

#[test]
fn only_the_store_touches_browser_storage() {
    assert_none(each(rooms::storage));
}

#[test]
fn a_spray_test_comes_in_through_the_gate_alone() {
    assert_none(each(rooms::gate));
}

#[test]
fn reasons_are_values_until_they_are_worded() {
    assert_none(each(words::worded_too_early));
    assert_none(each(words::science_speaks));
}

#[test]
fn the_page_does_no_arithmetic() {
    assert_none(each(arithmetic::in_page));
}

#[test]
fn tests_change_a_record_by_its_builder() {
    let sources = rust_sources(&repository_root().join("tests"));
    assert!(!sources.is_empty(), "no source was found");
    // The house's own trials show what the rule is against.
    let others = sources.iter().filter(|source| !source.file.starts_with("tests/house/"));
    assert_none(others.flat_map(records::replaced).collect());
}

#[test]
fn main_only_mounts_the_page() {
    assert_none(each(rooms::main_is_short));
}

#[test]
fn something_is_of_every_class_of_the_style_sheets() {
    assert_none(styles::unused(&repository_root()));
}

#[test]
fn no_file_is_too_long() {
    assert_none(repository::long_files(&repository_root()));
}

#[test]
fn the_top_level_holds_only_what_belongs_there() {
    assert_none(repository::strangers_at_the_top(&repository_root()));
}

#[test]
fn nothing_names_a_machine_or_a_registry_host() {
    assert_none(repository::machine_names(&repository_root()));
}

#[test]
fn every_dependency_may_be_handed_on_and_comes_from_the_registry() {
    let packages = dependencies::packages();
    assert!(packages.len() > 100, "cargo told of {} packages", packages.len());
    assert_none(dependencies::strangers(&packages));
}

#[test]
fn every_dependency_is_locked_to_one_file() {
    let lock = std::fs::read_to_string(repository_root().join("Cargo.lock")).expect("the lock file");
    assert!(lock.contains("checksum"));
    assert_none(dependencies::unlocked(&lock));
}
