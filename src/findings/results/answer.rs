//! The answer at a glance: for each candidate one bar, from the film as sprayed to the film that stays, one sentence below and
//! what the evidence is.

use super::film::on_day;
use crate::told::{CandidateFindings, Findings, PanelFindings, Settled, Telling};
use crate::words::{Wording, day, until};
use crate::work::By;
use chart::{AnswerBar, AnswerCard, BarEnd, Mark};
use quantity::{FilmUnit, Unit, decimals_for, figure};
use science::Estimate;
use science::compare::Claim;

/// Candidates up to which the sentence names each; of more it names the first and the last.
const NAMED: usize = 4;

/// What is told of one candidate at a glance. Films are in µm.
#[derive(Clone, Debug, PartialEq)]
pub struct Glance {
    /// Its name.
    pub name: String,
    /// Wet film as sprayed: the mean of its panels' comb readings with the mean of their intervals, since one comb read all.
    pub wet_um: Option<Estimate>,
    /// Film on the day of sanding.
    pub sanding_um: Option<Estimate>,
    /// Whether of that only the range is told: it is too early to say what will still be lost.
    pub too_early: bool,
    /// Final dry film.
    pub final_um: Option<Estimate>,
    /// Whether its weight is steady, in two words; empty where no curve tells.
    pub state: &'static str,
    /// The places of the footnotes that say why the wet film and the final film are missing, counted from 0.
    pub missing: [Option<usize>; 2],
}

/// The answer of a test at a glance.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// A candidate each, in the order of every list.
    pub glances: Vec<Glance>,
    /// What will still shrink, in one sentence.
    pub sentence: String,
    /// What the evidence is: how many panels, and what may be said of the difference.
    pub evidence: String,
    /// Why films are missing, each reason once.
    pub footnotes: Vec<String>,
    /// What the hatched part of a bar is; empty where none has one.
    pub hatched: String,
    /// Of which candidates it is too early to say, and which weighing would tell; empty where it is of none.
    pub early: String,
}

/// The answer at a glance.
pub fn answer(findings: &Findings, wording: &Wording) -> Answer {
    let mut footnotes = Vec::new();
    let glances: Vec<Glance> = findings.candidates.iter().map(|told| glance(told, findings, &mut footnotes)).collect();
    let hatched = glances.iter().any(|glance| glance.sanding_um.is_some() && glance.final_um.is_some());
    let when = after_day(&findings.candidates);
    Answer {
        sentence: shrinking(&findings.candidates, wording)
            .or_else(|| findings.said.first().cloned())
            .unwrap_or_default(),
        evidence: evidence(findings),
        hatched: match (hatched, glances.iter().any(|glance| glance.too_early)) {
            (false, _) => String::new(),
            (true, false) => format!("Hatched: still to shrink {when}."),
            (true, true) => format!("Hatched: still to shrink {when}; at most so much where it is too early."),
        },
        early: early(findings, wording),
        glances,
        footnotes,
    }
}

/// The next weighing that would tell of each candidate of which it is too early to say.
fn early(findings: &Findings, wording: &Wording) -> String {
    let mut parts = Vec::new();
    for told in &findings.candidates {
        let own: Vec<&PanelFindings> =
            findings.panels.iter().filter(|panel| panel.candidate.as_ref() == Some(&told.id)).collect();
        parts.extend(Telling::too_early(&own).map(|telling| format!("{}, {}", told.name(), until(&telling, wording))));
    }
    if parts.is_empty() { String::new() } else { format!("Too early: {}.", parts.join("; ")) }
}

fn glance(told: &CandidateFindings, findings: &Findings, footnotes: &mut Vec<String>) -> Glance {
    let panels: Vec<&PanelFindings> =
        findings.panels.iter().filter(|panel| panel.candidate.as_ref() == Some(&told.id)).collect();
    let wet: Vec<Estimate> = panels.iter().filter_map(|panel| panel.wet_film_um).collect();
    let wet_um = mean(&wet);
    let built = told.mean(By::FinalBuild);
    let mut footnote = |missing: bool, why: Option<&str>| {
        let why = why.filter(|_| missing)?;
        let known = footnotes.iter().position(|known: &String| known == why);
        Some(known.unwrap_or_else(|| {
            footnotes.push(why.to_owned());
            footnotes.len() - 1
        }))
    };
    let no_wet = panels.iter().find_map(|panel| panel.why.of("wet_film_um"));
    let missing = [footnote(wet_um.is_none(), no_wet), footnote(built.mean.is_none(), built.why.of("mean"))];
    Glance {
        name: told.name().to_owned(),
        wet_um,
        sanding_um: at_sanding(told, &panels),
        too_early: panels.iter().any(|panel| panel.too_early()),
        final_um: built.mean,
        state: state(&panels),
        missing,
    }
}

/// The mean of estimates that share their error: it does not shrink by their being many.
fn mean(of: &[Estimate]) -> Option<Estimate> {
    let mean = |part: fn(&Estimate) -> f64| of.iter().map(part).sum::<f64>() / of.len() as f64;
    (!of.is_empty()).then(|| Estimate { low: mean(|e| e.low), mid: mean(|e| e.mid), high: mean(|e| e.high) })
}

/// The film on the day of sanding, µm: of one panel as the film chart draws it; of several the final film and what is still to
/// shrink, their intervals added in squares. That is wide rather than narrow, since a final weight taken too low makes the one
/// smaller and the other larger.
fn at_sanding(told: &CandidateFindings, panels: &[&PanelFindings]) -> Option<Estimate> {
    let (stays, to_go) = (told.mean(By::FinalBuild), told.mean(By::FilmStillToGo));
    let (stays_um, to_go_um) = (stays.mean?, to_go.mean?);
    if stays.panels == 1 && to_go.panels == 1 {
        let alone = panels.iter().find(|panel| panel.final_build_um.is_some() && panel.forecast.is_some());
        if let Some(film) = alone.and_then(|panel| on_day(panel, told.day_h?)) {
            return Some(film);
        }
    }
    let mid = stays_um.mid + to_go_um.mid;
    let below = (stays_um.mid - stays_um.low).hypot(to_go_um.mid - to_go_um.low);
    let above = (stays_um.high - stays_um.mid).hypot(to_go_um.high - to_go_um.mid);
    Some(Estimate { low: mid - below, mid, high: mid + above })
}

/// Steady is a candidate whose panels all are; too early it is as long as it is for one of them. Those that left the test stay as
/// they were, so they are asked only where no other is.
fn state(panels: &[&PanelFindings]) -> &'static str {
    let all_left = panels.iter().all(|panel| panel.left);
    let asked = panels.iter().filter(|panel| all_left || !panel.left);
    let told: Vec<Settled> = asked.filter_map(|panel| Some(panel.forecast.as_ref()?.settled)).collect();
    if told.is_empty() {
        ""
    } else if told.contains(&Settled::TooEarly) {
        "too early"
    } else if told.iter().all(|settled| *settled == Settled::Yes) {
        "weight steady"
    } else {
        "still losing"
    }
}

/// `after day 3`; `after sanding` where the candidates are not sanded on the same day.
fn after_day(candidates: &[CandidateFindings]) -> String {
    let mut days = candidates.iter().filter(|told| told.panels > 0).filter_map(|told| told.day_h);
    match days.next() {
        Some(first) if days.all(|other| other == first) => format!("after {}", day(first)),
        _ => "after sanding".into(),
    }
}

/// What each will still shrink after the day of sanding, in one sentence.
fn shrinking(candidates: &[CandidateFindings], wording: &Wording) -> Option<String> {
    let told = |told: &CandidateFindings| Some((told.name().to_owned(), told.mean(By::FilmStillToGo).mean?));
    let mut known: Vec<(String, Estimate)> = candidates.iter().filter_map(told).collect();
    let when = after_day(candidates);
    let when = format!("A{}", &when[1..]);
    if known.len() > NAMED {
        order::sort_by(&mut known, |a, b| a.1.mid.total_cmp(&b.1.mid));
        let ((least, few), (most, many)) = (known.first()?, known.last()?);
        let (few, many) = (wording.film_range(few), wording.film_range(many));
        return Some(format!("{when}, {least} will shrink least, {few}, and {most} most, {many}."));
    }
    let mut parts = Vec::new();
    for (place, (name, range)) in known.iter().enumerate() {
        let range = wording.film_range(range);
        parts.push(if place == 0 { format!("{name} will shrink {range} more") } else { format!("{name} {range}") });
    }
    (!parts.is_empty()).then(|| format!("{when}, {}.", parts.join(", ")))
}

/// How many panels there are, and what may be said of what will still shrink.
fn evidence(findings: &Findings) -> String {
    let counts = findings.candidates.iter().map(|told| told.mean(By::FilmStillToGo).panels).filter(|n| *n > 0);
    let counts: Vec<usize> = counts.collect();
    let (Some(least), Some(most)) = (counts.iter().min(), counts.iter().max()) else { return String::new() };
    let each = if counts.len() > 1 { " each" } else { "" };
    let panels = match (least, most) {
        (1, 1) => format!("One panel{each}"),
        (least, most) if least == most => format!("{least} panels{each}"),
        (least, most) => format!("{least} to {most} panels{each}"),
    };
    let pairs: Vec<Claim> =
        findings.pairs.iter().filter(|pair| pair.by == By::FilmStillToGo).map(|pair| pair.claim).collect();
    let any = |claim: Claim| pairs.contains(&claim);
    let all = |claim: Claim| pairs.iter().all(|own| *own == claim);
    let real = pairs.iter().filter(|claim| matches!(claim, Claim::Primer | Claim::ThisMix)).count();
    let mixes = if any(Claim::ThisMix) { " between these mixes" } else { "" };
    let verdict = match (pairs.len(), real) {
        (0, _) if counts.len() < 2 => "nothing to compare it with".into(),
        (0, _) => "no winner yet".into(),
        _ if all(Claim::OnePanel) => "no winner yet".into(),
        (1, 1) => format!("the difference{mixes} is real"),
        (pairs, real) if pairs == real => format!("the differences{mixes} are real"),
        (1, _) => "no real difference seen".into(),
        (_, 0) => "no real difference seen".into(),
        _ => format!("some of the differences{mixes} are real"),
    };
    format!("{panels}: {verdict}.")
}

impl Answer {
    /// The bars as a picture, in the unit of film chosen.
    pub fn card(&self, wording: &Wording) -> AnswerCard {
        let film = wording.units.film;
        let mut card = AnswerCard::new(&format!("film, {}", film.symbol()));
        for (place, glance) in self.glances.iter().enumerate() {
            let mut bar = AnswerBar::new(&glance.name, Mark::of(place), glance.state);
            bar.wet = end(glance.wet_um.as_ref(), film, "sprayed");
            let sanding = end(glance.sanding_um.as_ref(), film, "");
            bar.sanding = if glance.too_early { sanding.map(BarEnd::range) } else { sanding };
            bar.stays = end(glance.final_um.as_ref(), film, "dry");
            let [no_wet, missing] =
                glance.missing.map(|note| note.map_or("–".into(), |note| format!("– ({})", note + 1)));
            (bar.no_wet, bar.missing) = (no_wet, missing);
            card = card.bar(bar);
        }
        card
    }

    /// What stands in small below the bars: what is hatched, and why films are missing.
    pub fn notes(&self) -> Vec<String> {
        let numbered = self.footnotes.iter().enumerate().map(|(at, why)| format!("({}) {why}", at + 1));
        let mut notes = vec![self.early.clone(), self.hatched.clone()];
        notes.extend(numbered);
        notes.retain(|note| !note.is_empty());
        notes
    }

    /// The picture in words, for those who listen.
    pub fn told(&self, wording: &Wording) -> String {
        let mut told = String::from("Film of each candidate.");
        for glance in &self.glances {
            let mut parts = Vec::new();
            parts.extend(glance.wet_um.map(|film| format!("{} sprayed", wording.film(&film))));
            let film = |film| if glance.too_early { wording.film_range(film) } else { wording.film(film) };
            parts.extend(glance.sanding_um.as_ref().map(|of| format!("{} on the day of sanding", film(of))));
            parts.extend(glance.final_um.map(|film| format!("{} dry", wording.film(&film))));
            parts.extend((!glance.state.is_empty()).then(|| glance.state.to_owned()));
            let said = if parts.is_empty() { "nothing is known yet".into() } else { parts.join(", ") };
            told += &format!(" {}: {said}.", glance.name);
        }
        told
    }
}

fn end(of: Option<&Estimate>, film: FilmUnit, word: &str) -> Option<BarEnd> {
    let of = of?;
    let [low, mid, high] = [of.low, of.mid, of.high].map(|um| film.shown(um));
    let words =
        if word.is_empty() { String::new() } else { format!("{} {word}", figure(mid, decimals_for(high - low))) };
    BarEnd::new(low, mid, high, &words)
}
