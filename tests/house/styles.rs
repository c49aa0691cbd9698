//! Classes of the style sheets: what nothing is of a class of any more goes with it.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use crate::source::{files_under, name_from};
use crate::tokens::{Kind, tokens};

/// Each class that a sheet in `style/` has a rule for and that nothing in `src` or `index.html` names.
///
/// Cannot see: a class whose name is put together, or that stands in a text which looks like classes and is none.
pub fn unused(root: &Path) -> Vec<String> {
    let read = |path: &Path| fs::read_to_string(path).unwrap_or_default();
    let mut named = words(&read(&root.join("index.html")));
    for file in files_under(&root.join("src")) {
        match file.extension().and_then(|ending| ending.to_str()) {
            Some("rs") => named.extend(in_rust(&read(&file))),
            Some("js") => named.extend(words(&read(&file))),
            _ => {}
        }
    }
    let sheets = files_under(&root.join("style"));
    let sheets = sheets.iter().filter(|file| file.extension().is_some_and(|ending| ending == "css"));
    sheets.flat_map(|sheet| unused_in(&name_from(root, sheet), &read(sheet), &named)).collect()
}

/// The classes of a sheet that are not among those `named`.
pub fn unused_in(file: &str, sheet: &str, named: &BTreeSet<String>) -> Vec<String> {
    let (mut found, mut comment) = (Vec::new(), false);
    for (line, text) in (1..).zip(sheet.lines()) {
        let selector = text.split('{').next().unwrap_or_default();
        comment |= text.trim_start().starts_with("/*");
        // A declaration on a line of its own has no class in it, but may have a number with a point.
        if !comment && (text.contains('{') || text.trim_end().ends_with(',')) {
            let unknown = classes(selector).filter(|class| !named.contains(*class));
            found.extend(unknown.map(|class| format!("{file}:{line}: nothing is of the class '{class}'")));
        }
        comment &= !text.contains("*/");
    }
    found
}

fn classes(selector: &str) -> impl Iterator<Item = &str> {
    let name = |after: &'_ str| after.find(|c: char| !is_of_name(c)).unwrap_or(after.len());
    selector.split('.').skip(1).map(move |after| &after[..name(after)]).filter(|class| {
        // As in `15.5em` or `.5rem`.
        class.starts_with(|c: char| c.is_ascii_lowercase())
    })
}

fn is_of_name(c: char) -> bool {
    c.is_ascii_alphanumeric() || c == '-'
}

/// The words of each text of a Rust file that could be classes, small words and nothing else, and those behind `class:` in a view.
pub fn in_rust(source: &str) -> BTreeSet<String> {
    let tokens = tokens(source);
    let mut found = BTreeSet::new();
    for (at, token) in tokens.iter().enumerate() {
        if token.kind == Kind::Text && token.text.chars().all(|c| c == ' ' || is_of_name(c) && !c.is_ascii_uppercase())
        {
            found.extend(words(&token.text));
        } else if token.is_word() && at >= 2 && tokens[at - 1].is(":") && tokens[at - 2].is("class") {
            found.insert(token.text.clone());
        }
    }
    found
}

fn words(text: &str) -> BTreeSet<String> {
    text.split(|c| !is_of_name(c)).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}
