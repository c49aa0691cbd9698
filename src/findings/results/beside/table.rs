//! The table: its rows, what each says of every candidate, and which candidates differ.

use super::cell::{Cell, cell};
use super::column::Column;
use crate::facts::candidates_in_order;
use crate::told::{Findings, PairFindings};
use crate::words::{Wording, day};
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
    /// What it compares: see [`worked_beside`](crate::results::worked_beside).
    pub key: RowKey,
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
    /// they stand where no row is named.
    pub fn order(&self, by: Option<RowKey>, sorting: Sorting) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.columns.len()).collect();
        let Some(row) = self.rows.iter().find(|row| Some(row.key) == by) else { return order };
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

/// What a row compares.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowKey {
    /// The mean of what candidates are compared by.
    Mean(By),
    /// Solids by weight, as the panels have them.
    SolidsByWeight,
    /// Solids by volume, from those by weight.
    SolidsByVolume,
    /// Days until the weight is steady.
    DaysToSettle,
    /// Wet film for the wanted build.
    WetToSpray,
    /// Coats for it.
    Coats,
    /// Its price.
    Price,
    /// Solvent that it gives off.
    SolventOff,
}

impl RowKey {
    /// All, in the order of the rows: film still to go first.
    pub const ALL: [Self; 13] = [
        Self::Mean(By::FilmStillToGo),
        Self::Mean(By::LossPerArea),
        Self::Mean(By::LossShare),
        Self::Mean(By::FilmLost),
        Self::Mean(By::BuildKept),
        Self::Mean(By::FinalBuild),
        Self::SolidsByWeight,
        Self::SolidsByVolume,
        Self::DaysToSettle,
        Self::WetToSpray,
        Self::Coats,
        Self::Price,
        Self::SolventOff,
    ];

    /// What it says of one candidate.
    pub(crate) fn cell(self, of: &Column<'_>) -> Cell {
        let told = match self {
            Self::Mean(by) => of.mean(by, of.wording.units.film),
            Self::SolidsByWeight => of.solids_by_weight(),
            Self::SolidsByVolume => of.solids_by_volume(),
            Self::DaysToSettle => of.days_to_settle(),
            Self::WetToSpray => of.wet_to_spray(),
            Self::Coats => of.coats(),
            Self::Price => of.price(),
            Self::SolventOff => of.solvent_off(),
        };
        cell(told, of.wording)
    }

    /// What it compares, and in which unit.
    pub(crate) fn heading(self, test: &SprayTest, findings: &Findings, wording: &Wording) -> (String, String) {
        let film = wording.units.film.symbol();
        let (per_area, mass_per_area) = (wording.units.per_area().symbol, wording.units.mass_per_area().symbol);
        // Each row names the build: in the list to sort by, none stands beside another.
        let build =
            test.wanted.dry_build_um.map_or(String::new(), |um| format!(" for {} dry", wording.tooth(um.into())));
        let (name, unit) = match self {
            Self::Mean(By::FilmStillToGo) => return (still_to_go(findings), film.into()),
            Self::Mean(By::LossPerArea) => ("Total loss from the first weighing", mass_per_area),
            Self::Mean(By::LossShare) => ("Total loss from the first weighing, of the wet coat", "%"),
            Self::Mean(By::FilmLost) => ("Total film loss from the first weighing", film),
            Self::Mean(By::BuildKept) => ("Dry film, of the wet", "%"),
            Self::Mean(By::FinalBuild) => ("Final dry film", film),
            Self::SolidsByWeight => ("Solids by weight, measured", "%"),
            Self::SolidsByVolume => ("Solids by volume, from weights", "%"),
            Self::DaysToSettle => ("Days to weight steady", ""),
            Self::WetToSpray if build.is_empty() => ("Wet film to spray", film),
            Self::WetToSpray => return (["Wet film", &build].concat(), film.into()),
            Self::Coats => return (["Coats", &build].concat(), String::new()),
            Self::Price if test.currency.is_empty() => {
                return (["Cost", &build].concat(), per_area.replace('/', "per "));
            }
            Self::Price => return (["Cost", &build].concat(), [&test.currency, per_area].concat()),
            Self::SolventOff => return (["Solvent given off", &build].concat(), mass_per_area.into()),
        };
        (name.into(), unit.into())
    }
}

/// Candidates side by side, film still to go first.
pub fn side_by_side(test: &SprayTest, findings: &Findings, wording: &Wording) -> Table {
    let columns = findings.candidates.iter().map(|c| (c.id.clone(), c.label.clone(), c.panels)).collect();
    let columns_of: Vec<Column<'_>> =
        (0..findings.candidates.len()).map(|i| Column::of(test, findings, i, wording)).collect();
    let mut rows = Vec::new();
    for key in RowKey::ALL {
        let (name, unit) = key.heading(test, findings, wording);
        let cells = columns_of.iter().map(|column| key.cell(column)).collect();
        let pairs = match key {
            RowKey::Mean(by) => pairs_of(findings, by),
            _ => Vec::new(),
        };
        let verdict = verdict(findings, &pairs);
        rows.push(Row { key, name, unit, cells, pairs, verdict });
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
