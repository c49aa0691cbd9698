//! Files that need one another in a ring: none of them can be understood, moved or tested without the others.

use std::collections::{BTreeMap, VecDeque};

use crate::paths::mentions;
use crate::rooms::is_package;
use crate::source::Source;

/// The rooms whose files stand in no ring.
const ROOMS: &[&str] = &["findings", "page"];

/// Each file from which the paths that files name lead back to itself, with the shortest way round. A front, `mod.rs`, leads to
/// every file of its folder: so none of them may name what stands in their own front or is handed on by it.
///
/// Cannot see: what a file reaches by a method or a trait alone.
pub fn rings(sources: &[Source]) -> Vec<String> {
    ROOMS.iter().flat_map(|room| rings_of(sources.iter().filter(|source| source.room() == *room).collect())).collect()
}

fn rings_of(files: Vec<&Source>) -> Vec<String> {
    let place: BTreeMap<&[String], usize> = files.iter().enumerate().map(|(i, file)| (&file.module[..], i)).collect();
    let leads_to: Vec<Vec<usize>> = files.iter().enumerate().map(|(i, file)| named(i, file, &files, &place)).collect();
    let shown = |way: Vec<usize>| way.into_iter().map(|i| files[i].file.as_str()).collect::<Vec<_>>().join(" → ");
    let ring = |i: usize| Some(files[i].finding(1, format!("stands in a ring: {}", shown(way_back(i, &leads_to)?))));
    (0..files.len()).filter_map(ring).collect()
}

/// The files that a file names: each by the longest part of a path that is one.
fn named(own: usize, file: &Source, files: &[&Source], place: &BTreeMap<&[String], usize>) -> Vec<usize> {
    let is_front = file.file.ends_with("/mod.rs") || file.file.ends_with("/lib.rs");
    let inside = |other: &Source| other.module.split_last().is_some_and(|(_, folder)| folder == file.module);
    let mut found: Vec<usize> = (0..files.len()).filter(|i| is_front && inside(files[*i])).collect();
    for mention in mentions(file) {
        // `pub(crate)` says who may know of it, and names nothing.
        let Some(inside @ [_, ..]) = mention.path.strip_prefix(&["crate".to_owned()]) else { continue };
        // `super` leads to a path from the room on, `crate` in a package to one inside it.
        let from_room = inside.first().is_some_and(|first| first == file.room());
        let room = (is_package(file.room()) && !from_room).then(|| file.room().to_owned());
        let path: Vec<String> = room.into_iter().chain(inside.iter().cloned()).collect();
        found.extend((1..=path.len()).rev().find_map(|length| place.get(&path[..length]).copied()));
    }
    found.retain(|other| *other != own);
    found
}

/// The shortest way from a file back to itself.
fn way_back(start: usize, leads_to: &[Vec<usize>]) -> Option<Vec<usize>> {
    let mut before = vec![None; leads_to.len()];
    let mut next = VecDeque::from([start]);
    while let Some(at) = next.pop_front() {
        for &to in &leads_to[at] {
            if to == start {
                let mut way = vec![start, at];
                while let Some(earlier) = before[way[way.len() - 1]] {
                    way.push(earlier);
                }
                way.reverse();
                return Some(way);
            }
            if before[to].is_none() {
                before[to] = Some(at);
                next.push_back(to);
            }
        }
    }
    None
}
