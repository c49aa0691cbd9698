//! The table: its rows, what each says of every candidate, and which candidates differ.

use super::cell::{Cell, Told, cell};
use super::column::Column;
use crate::facts::candidates_in_order;
use crate::told::{Findings, PairFindings};
use crate::words::{Tongue, day};
use crate::work::By;
use quantity::Unit;
use record::{Id, SprayTest};
use science::compare::Claim;

/// What may be said of two candidates in a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RowPair {
    /// Place of the one among the columns.
    pub first: usize,
    /// Place of the other.
    pub second: usize,
    /// What may be said.
    pub claim: Claim,
}

/// A row of the side-by-side table.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What it is called between rooms, the same for ever: see [`worked`](crate::results::worked).
    pub key: &'static str,
    /// What is compared.
    pub name: String,
    /// The unit of every number in it; empty for counts.
    pub unit: String,
    /// A cell a candidate.
    pub cells: Vec<Cell>,
    /// Which pairs differ and which cannot be told apart.
    pub pairs: Vec<RowPair>,
    /// The same in words; empty where the row is not compared.
    pub verdict: String,
}

/// Candidates side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// The candidates, with how many panels each.
    pub columns: Vec<(Id, String, usize)>,
    /// What is compared.
    pub rows: Vec<Row>,
}

/// Which way columns are sorted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Sorting {
    /// The least first.
    #[default]
    Rising,
    /// The greatest first.
    Falling,
}

impl Table {
    /// The columns' places in the order of a row's values; those without a value last, ties as they stand in the list. As
    /// they stand where there is no such row.
    pub fn order(&self, key: &str, sorting: Sorting) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.columns.len()).collect();
        let Some(row) = self.rows.iter().find(|row| row.key == key) else { return order };
        let by = |place: usize| match (row.cells[place].sort, sorting) {
            (None, _) => f64::INFINITY,
            (Some(value), Sorting::Rising) => value,
            (Some(value), Sorting::Falling) => -value,
        };
        order::sort_by(&mut order, |&a, &b| by(a).total_cmp(&by(b)).then(a.cmp(&b)));
        order
    }
}

/// What was noted of each candidate that no weight can say: `Grey: sands dry`.
pub fn notes_said(test: &SprayTest) -> Vec<String> {
    let mut said = Vec::new();
    for candidate in candidates_in_order(test) {
        let notes = candidate.notes.trim();
        if !notes.is_empty() {
            said.push([&candidate.label, ": ", notes].concat());
        }
    }
    said
}

/// What a row says of a candidate.
#[derive(Clone, Copy)]
enum Tell<'a> {
    /// The mean of what candidates are compared by.
    Mean(By),
    /// Something else.
    Else(fn(&Column<'a>) -> Told),
}

/// A row before any cell of it is worked out.
pub(crate) struct Line<'a> {
    pub key: &'static str,
    pub name: String,
    pub unit: String,
    tell: Tell<'a>,
}

impl<'a> Line<'a> {
    /// What it says of one candidate.
    pub fn cell(&self, column: &Column<'a>) -> Cell {
        let told = match self.tell {
            Tell::Mean(by) => column.mean(by, column.tongue.units.film),
            Tell::Else(tell) => tell(column),
        };
        cell(told, column.tongue)
    }
}

/// The rows in their order, film still to go first.
pub(crate) fn lines<'a>(test: &SprayTest, findings: &Findings, tongue: &Tongue) -> [Line<'a>; 13] {
    let film = tongue.units.film.symbol();
    let money = if test.currency.is_empty() { "per m²".into() } else { format!("{}/m²", test.currency) };
    // Each row names the build: in the list to sort by, none stands beside another.
    let build = test.wanted.dry_build_um.map_or(String::new(), |um| format!(" for {} dry", tongue.tooth(um.into())));
    let wet = if build.is_empty() { "Wet film to spray".into() } else { format!("Wet film{build}") };
    let text = |name: &str| name.to_owned();
    let line = |key, name, unit: &str, tell| Line { key, name, unit: unit.into(), tell };
    let (mean, told) = (Tell::Mean, Tell::Else);
    [
        line("film_still_to_go", still_to_go(findings), film, mean(By::FilmStillToGo)),
        line("loss_per_area", text("Lost since the first weighing"), "g/m²", mean(By::LossPerArea)),
        line("loss_share", text("Lost since the first weighing, of the wet coat"), "%", mean(By::LossShare)),
        line("film_lost", text("Film lost since the first weighing"), film, mean(By::FilmLost)),
        line("build_kept", text("Dry film, of the wet"), "%", mean(By::BuildKept)),
        line("final_build", text("Final dry film"), film, mean(By::FinalBuild)),
        line("solids_by_weight", text("Solids by weight, measured"), "%", told(Column::solids_by_weight)),
        line("solids_by_volume", text("Solids by volume, from weights"), "%", told(Column::solids_by_volume)),
        line("days_to_settle", text("Days to weight steady"), "", told(Column::days_to_settle)),
        line("wet_to_spray", wet, film, told(Column::wet_to_spray)),
        line("coats", format!("Coats{build}"), "", told(Column::coats)),
        line("price", format!("Cost{build}"), &money, told(Column::price)),
        line("solvent_off", format!("Solvent given off{build}"), "g/m²", told(Column::solvent_off)),
    ]
}

/// Candidates side by side, film still to go first.
pub fn side_by_side(test: &SprayTest, findings: &Findings, tongue: &Tongue) -> Table {
    let columns = findings.candidates.iter().map(|c| (c.id.clone(), c.label.clone(), c.panels)).collect();
    let columns_of: Vec<Column<'_>> =
        (0..findings.candidates.len()).map(|i| Column::of(test, findings, i, tongue)).collect();
    let mut rows = Vec::new();
    for line in lines(test, findings, tongue) {
        let cells = columns_of.iter().map(|column| line.cell(column)).collect();
        let pairs = match line.tell {
            Tell::Mean(by) => pairs_of(findings, by),
            Tell::Else(_) => Vec::new(),
        };
        let verdict = verdict(findings, &pairs);
        rows.push(Row { key: line.key, name: line.name, unit: line.unit, cells, pairs, verdict });
    }
    Table { columns, rows }
}

fn still_to_go(findings: &Findings) -> String {
    let mut days = findings.candidates.iter().filter_map(|candidate| candidate.day_h);
    match days.next() {
        Some(first) if days.all(|other| other == first) => format!("Shrinkage after {}", day(first)),
        _ => "Shrinkage after sanding".into(),
    }
}

fn pairs_of(findings: &Findings, by: By) -> Vec<RowPair> {
    let place = |id: &Id| findings.candidates.iter().position(|candidate| candidate.id == *id);
    let pair = |pair: &PairFindings| {
        Some(RowPair { first: place(&pair.first)?, second: place(&pair.second)?, claim: pair.claim })
    };
    findings.pairs.iter().filter(|pair| pair.by == by).filter_map(pair).collect()
}

/// Pairs of a kind that are named: more of them nobody reads.
const MOST_NAMED: usize = 6;

/// What may be said of a row's pairs, those of one kind together.
fn verdict(findings: &Findings, pairs: &[RowPair]) -> String {
    let kinds = [
        (Claim::Primer, "differ, more than chance"),
        (Claim::ThisMix, "these mixes differ, more than chance"),
        (Claim::WithinChance, "cannot be told apart"),
        (Claim::OnePanel, "one panel cannot show a difference"),
    ];
    let name = |place: usize| findings.candidates[place].name();
    if let Some(groups) = groups(pairs) {
        let named: Vec<String> =
            groups.iter().map(|group| group.iter().map(|&i| name(i)).collect::<Vec<_>>().join(", ")).collect();
        let mixes = if pairs.iter().any(|pair| pair.claim == Claim::ThisMix) { "these mixes differ" } else { "differ" };
        return format!("{}: {mixes}, more than chance; those named together cannot be told apart", named.join(" | "));
    }
    let mut said = Vec::new();
    for (claim, words) in kinds {
        let own: Vec<&RowPair> = pairs.iter().filter(|pair| pair.claim == claim).collect();
        if own.is_empty() {
            continue;
        }
        // With two candidates, or where all pairs are alike, there is no question which are meant.
        if findings.candidates.len() == 2 || own.len() == pairs.len() {
            said.push(words.to_owned());
        } else {
            let named = own.iter().take(MOST_NAMED).map(|p| format!("{} and {}", name(p.first), name(p.second)));
            let mut named = named.collect::<Vec<_>>().join(", ");
            if own.len() > MOST_NAMED {
                named += &format!(" and {} pairs more", own.len() - MOST_NAMED);
            }
            said.push(format!("{named}: {words}"));
        }
    }
    said.join("; ")
}

/// Places of candidates in groups, where every two of one group cannot be told apart and every two of different groups differ;
/// `None` where the pairs do not fall into groups so, or each is one of its own.
fn groups(pairs: &[RowPair]) -> Option<Vec<Vec<usize>>> {
    let differ = |pair: &RowPair| matches!(pair.claim, Claim::ThisMix | Claim::Primer);
    let alike = |a: usize, b: usize| {
        pairs.iter().any(|pair| (pair.first, pair.second) == (a, b) && pair.claim == Claim::WithinChance)
    };
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let mut join = |place: usize| {
        let known = groups.iter().any(|group| group.contains(&place));
        match groups.iter_mut().find(|group| alike(group[0], place)) {
            _ if known => {}
            Some(group) => group.push(place),
            None => groups.push(vec![place]),
        }
    };
    pairs.iter().flat_map(|pair| [pair.first, pair.second]).for_each(&mut join);
    let together =
        |pair: &RowPair| groups.iter().any(|group| group.contains(&pair.first) && group.contains(&pair.second));
    let whole = pairs.iter().all(|pair| if together(pair) { pair.claim == Claim::WithinChance } else { differ(pair) });
    let telling = groups.len() > 1 && groups.iter().any(|group| group.len() > 1);
    (whole && telling).then_some(groups)
}
