//! Files, and where in the house each one stands.

use std::fs;
use std::path::{Path, PathBuf};

use crate::tokens::{Token, tokens};

/// One Rust file: its place in the crate and its tokens.
pub struct Source {
    /// Path from the repository's root, with `/`.
    pub file: String,
    /// Its module: `["science", "drying", "fit"]`; empty for `lib.rs` and `main.rs`.
    pub module: Vec<String>,
    pub tokens: Vec<Token>,
    pub lines: usize,
}

impl Source {
    /// Reads `text` as if it stood in `file` (`src/science/comb.rs`).
    pub fn new(file: &str, text: &str) -> Self {
        let inside = file.strip_prefix("src/").unwrap_or(file).trim_end_matches(".rs");
        let mut module: Vec<String> = inside.split('/').map(str::to_owned).collect();
        if matches!(module.last().map(String::as_str), Some("mod" | "lib" | "main")) {
            module.pop();
        }
        Self { file: file.to_owned(), module, tokens: tokens(text), lines: text.lines().count() }
    }

    /// The room it is in: `science`, `page` …; `lib` or `main` for the two files at the top.
    pub fn room(&self) -> &str {
        match self.module.first() {
            Some(room) => room,
            None if self.file.ends_with("main.rs") => "main",
            None => "lib",
        }
    }

    pub fn finding(&self, line: usize, what: impl std::fmt::Display) -> String {
        format!("{}:{line}: {what}", self.file)
    }
}

/// Asked of cargo when the test runs: two clones may share one build.
pub fn repository_root() -> PathBuf {
    std::env::var_os("CARGO_MANIFEST_DIR").map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from)
}

pub fn rust_sources(src: &Path) -> Vec<Source> {
    let root = src.parent().expect("src stands in the repository");
    files_under(src)
        .into_iter()
        .filter(|path| path.extension().is_some_and(|ending| ending == "rs"))
        .map(|path| Source::new(&name_from(root, &path), &fs::read_to_string(&path).expect("source is UTF-8")))
        .collect()
}

/// Path from the root, with `/`.
pub fn name_from(root: &Path, path: &Path) -> String {
    let parts = path.strip_prefix(root).expect("the path is in the repository").components();
    parts.map(|part| part.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/")
}

/// All files under a folder, sorted, without what `.gitignore` names and git's own.
pub fn files_under(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for path in entries(folder) {
        if path.is_dir() && !path.is_symlink() {
            found.extend(files_under(&path));
        } else if path.is_file() {
            found.push(path);
        }
    }
    found
}

/// What lies directly in a folder, sorted, without what `.gitignore` names (it holds plain names only) and git's own.
pub fn entries(folder: &Path) -> Vec<PathBuf> {
    let ignored = fs::read_to_string(repository_root().join(".gitignore")).expect(".gitignore is there");
    let mut ignored: Vec<&str> = ignored.lines().map(|line| line.trim().trim_matches('/')).collect();
    ignored.push(".git");
    let mut found: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap_or_else(|error| panic!("{}: {error}", folder.display()))
        .map(|entry| entry.expect("the folder can be read").path())
        .filter(|path| !path.file_name().is_some_and(|name| ignored.iter().any(|ignored| name == *ignored)))
        .collect();
    found.sort();
    found
}
