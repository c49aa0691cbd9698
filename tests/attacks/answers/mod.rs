//! What a scale, a forgotten blank or a late hand may do to an answer.

mod densities;
mod gains;
mod jumps;
mod shown;
mod together;

use comb_scale::findings::weigh::{Judged, judged, look_again};
use comb_scale::findings::{Findings, Memory, Panels, Wording, of};
use comb_scale::quantity::Instant;
use comb_scale::record::{Id, Owner, SprayTest, open};

/// How the blank was weighed in a round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Blank {
    /// Once.
    Weighed,
    /// Once, and the person said that it was right.
    Vouched,
    Forgotten,
    /// Once, and so many grams off what the scale should have shown.
    Off(f64),
}

/// A visit to the scale.
#[derive(Clone, Copy, Debug)]
pub struct Visit {
    /// Hours after the last coat.
    pub h: f64,
    /// How much more the scale shows than on the first, g.
    pub out_g: f64,
    pub blank: Blank,
}

/// The first visits of every story: the scale stands, and the blank is weighed each time.
pub fn quiet_days(days: usize) -> Vec<Visit> {
    let early = [0.05, 0.5, 1.0, 4.0, 8.0].into_iter();
    let hours = early.chain((1..days).map(|day| 24.0 * day as f64));
    hours.map(|h| Visit { h, out_g: 0.0, blank: Blank::Weighed }).collect()
}

/// Panels weighed on these visits, each losing 9 g of 26 g in two stages.
#[derive(Clone)]
pub struct Story {
    pub panels: usize,
    pub visits: Vec<Visit>,
    /// (panel, visit, how much more it weighed, g).
    pub odd: Vec<(usize, usize, f64)>,
    /// Whether the panels were weighed bare.
    pub bare: bool,
    /// What else the test holds.
    pub also: String,
    /// What else each panel holds.
    pub each: String,
}

fn start() -> Instant {
    "2026-03-02T10:00:00Z".parse().unwrap()
}

/// Whom a name stands for: `b` is the blank.
fn owned(name: &str) -> Owner {
    if name == "b" { Owner::Blank(Id::from(name)) } else { Owner::Panel(Id::from(name)) }
}

/// Even between minus and plus a half, the same at each run.
fn scatter(i: usize) -> f64 {
    ((i as f64 + 1.0) * 0.618_033_988_749_895).fract() - 0.5
}

impl Story {
    pub fn of(panels: usize, visits: Vec<Visit>) -> Self {
        Self { panels, visits, odd: Vec::new(), bare: true, also: String::new(), each: String::new() }
    }

    /// The same with more visits.
    pub fn then(mut self, visits: impl IntoIterator<Item = Visit>) -> Self {
        self.visits.extend(visits);
        self
    }

    /// The moment of a visit, so many minutes into it.
    pub fn at(&self, visit: usize, minutes: f64) -> Instant {
        start().plus_hours(self.visits[visit].h + minutes / 60.0)
    }

    pub fn last(&self) -> usize {
        self.visits.len() - 1
    }

    /// What a panel has lost by then, g.
    pub fn lost_g(panel: usize, h: f64) -> f64 {
        9.0 - 4.0 * (-h / 2.0).exp() - 5.0 * (-h / (40.0 + 3.0 * panel as f64)).exp()
    }

    fn shown(&self, visit: usize, panel: usize) -> f64 {
        let (v, odd) = (self.visits[visit], self.odd.iter().find(|odd| (odd.0, odd.1) == (panel, visit)));
        let g = 426.0 + 3.0 * panel as f64 - Self::lost_g(panel, v.h) + v.out_g + odd.map_or(0.0, |odd| odd.2);
        (g * 10.0 + 0.8 * scatter(31 * panel + 7 * visit)).round() / 10.0
    }

    pub fn test(&self) -> SprayTest {
        let weighed = |visit: usize, id: &str, minutes: f64, g: f64, more: &str| {
            format!(
                r#"{{ "id": "{id}{visit}", "at": "{}", "round": "r{visit}", "gross_g": {g:.1}{more} }}"#,
                self.at(visit, minutes)
            )
        };
        let visits = || 0..self.visits.len();
        let panel = |p: usize| {
            let weigh_ins = visits().map(|v| weighed(v, "w", 2.0 * (p + 1) as f64, self.shown(v, p), ""));
            format!(
                r#"{{ "id": "p{p}", "label": "A{p}", {} "coats": [ {{ "at": "{}" }} ], {} "weigh_ins": [ {} ] }}"#,
                if self.bare { format!(r#""bare_g": {},"#, 400 + 3 * p) } else { String::new() },
                start(),
                self.each,
                weigh_ins.collect::<Vec<_>>().join(", ")
            )
        };
        let blank = |v: usize| {
            let (off, more) = match self.visits[v].blank {
                Blank::Forgotten => return None,
                Blank::Vouched => (0.0, r#", "vouched": true"#),
                Blank::Weighed => (0.0, ""),
                Blank::Off(off) => (off, ""),
            };
            let g = 561.4 + self.visits[v].out_g + off + 0.08 * scatter(11 * v + 3);
            Some(weighed(v, "w", 0.0, g, more))
        };
        let rounds = visits().map(|v| format!(r#"{{ "id": "r{v}", "at": "{}" }}"#, self.at(v, 0.0)));
        let text = format!(
            r#"{{ "format": "spray-test", "version": 1, "id": "t", "balance": {{ "division_g": 0.1 }}, {} "rounds": [ {} ],
            "panels": [ {} ], "blanks": [ {{ "id": "b", "label": "Blank", "weigh_ins": [ {} ] }} ] }}"#,
            self.also,
            rounds.collect::<Vec<_>>().join(", "),
            (0..self.panels).map(panel).collect::<Vec<_>>().join(", "),
            visits().filter_map(blank).collect::<Vec<_>>().join(", ")
        );
        open(&text).expect("the record opens").test
    }
}

/// A test with all that is told of it.
pub struct Told {
    pub story: Story,
    pub test: SprayTest,
    pub panels: Panels,
    pub findings: Findings,
}

impl Told {
    pub fn of(story: &Story) -> Self {
        let test = story.test();
        let mut memory = Memory::default();
        memory.look(&test);
        while memory.step(None) {}
        let panels = memory.panels(&test, &Wording::default());
        let findings = of(&test, story.at(story.last(), 600.0));
        Self { story: story.clone(), test, panels, findings }
    }

    pub fn judged(&self, owner: &str, visit: usize) -> Judged {
        let round = Id::from(format!("r{visit}").as_str());
        let now = self.story.at(visit, 30.0);
        judged(&self.test, &self.panels, &owned(owner), &round, now, &Wording::default())
    }

    pub fn look_again(&self, owner: &str, visit: usize) -> bool {
        let round = Id::from(format!("r{visit}").as_str());
        let now = self.story.at(visit, 30.0);
        look_again(&self.test, &self.panels, &owned(owner), &round, now, &Wording::default())
    }

    /// What is flagged at a panel's weight of a visit.
    pub fn flag(&self, panel: usize, visit: usize) -> Option<&comb_scale::findings::Flag> {
        let id = Id::from(format!("w{visit}").as_str());
        self.findings.panels[panel].flags.iter().find(|flag| flag.weigh_in == id)
    }

    /// How far what a panel has lost is off the law at worst, g.
    pub fn worst_g(&self) -> f64 {
        let h = self.story.visits[self.story.last()].h;
        let off = |(p, panel): (usize, &comb_scale::findings::PanelFindings)| {
            (panel.lost_g.unwrap_or(f64::NAN) - (Story::lost_g(p, h) - Story::lost_g(p, self.story.visits[0].h))).abs()
        };
        self.findings.panels.iter().enumerate().map(off).fold(0.0, f64::max)
    }
}
