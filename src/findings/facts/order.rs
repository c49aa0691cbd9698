//! Panels and candidates in the order in which they stand in every list.

use record::{Candidate, Id, Panel, SprayTest, plain_characters};

/// Candidates in the order of the numbers on their panels, as they stand in every list and get their marks; those without a
/// panel after them, by name. Not by name alone: a card must not jump, nor a mark change, while its name is being typed.
pub fn candidates_in_order(test: &SprayTest) -> Vec<&Candidate> {
    let key = |candidate: &Candidate| {
        let own = test.panels.kept().filter(|panel| panel.candidate.as_ref() == Some(&candidate.id));
        let first = own.map(|panel| natural(&panel.label)).min();
        (first.is_none(), first, natural(&candidate.label), candidate.id.clone())
    };
    let mut candidates: Vec<_> = test.candidates.kept().map(|candidate| (key(candidate), candidate)).collect();
    order::sort_by(&mut candidates, |a, b| a.0.cmp(&b.0));
    candidates.into_iter().map(|(_, candidate)| candidate).collect()
}

/// A candidate's panels in the order of their numbers.
pub fn panels_on<'a>(test: &'a SprayTest, candidate: &Id) -> Vec<&'a Panel> {
    let mut panels = in_order(test);
    panels.retain(|panel| panel.candidate.as_ref() == Some(candidate));
    panels
}

/// Panels by candidate, then label, as they stand in every list.
pub fn in_order(test: &SprayTest) -> Vec<&Panel> {
    let candidates = candidates_in_order(test);
    let place = |panel: &Panel| {
        let own = candidates.iter().position(|candidate| panel.candidate.as_ref() == Some(&candidate.id));
        own.unwrap_or(usize::MAX)
    };
    let mut panels: Vec<&Panel> = test.panels.kept().collect();
    let key = |panel: &Panel| (place(panel), natural(&panel.label), panel.id.clone());
    order::sort_by(&mut panels, |a, b| key(a).cmp(&key(b)));
    panels
}

/// Panels that carry no candidate of the test, in the order of their numbers.
pub fn panels_on_none(test: &SprayTest) -> Vec<&Panel> {
    let carries = |panel: &&Panel| panel.candidate.as_ref().is_some_and(|id| test.candidates.find(id).is_some());
    in_order(test).into_iter().filter(|panel| !carries(panel)).collect()
}

/// Panels in the order of their places in the rack, as they are weighed while they dry; those without a place after them.
pub fn in_rack(test: &SprayTest) -> Vec<&Panel> {
    let mut panels = in_order(test);
    let place = |panel: &Panel| {
        let rack = panel.rack.trim();
        (rack.is_empty(), natural(rack))
    };
    order::sort_by(&mut panels, |a, b| place(a).cmp(&place(b)));
    panels
}

/// A label cut into words and numbers, so that A2 stands before A10.
fn natural(label: &str) -> Vec<(String, u64)> {
    let mut parts: Vec<(String, u64)> = vec![(String::new(), 0)];
    for c in plain_characters(label) {
        let last = parts.len() - 1;
        match c.to_digit(10) {
            Some(digit) => parts[last].1 = parts[last].1.saturating_mul(10).saturating_add(u64::from(digit)),
            None => {
                if label.is_empty() || parts[last].1 > 0 {
                    parts.push((c.to_lowercase().collect(), 0));
                } else {
                    parts[last].0.extend(c.to_lowercase());
                }
            }
        }
    }
    parts
}
