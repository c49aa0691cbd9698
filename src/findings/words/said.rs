//! What a painter would say out loud: two to six sentences, each true to its interval.

use super::verdict::days_to_go;
use super::wording::{Wording, day, duration};
use crate::facts::place_of;
use crate::told::{CandidateFindings, PairFindings, PanelFindings, Settled};
use crate::work::By;
use quantity::{decimals_for, figure};
use record::{Id, SprayTest};
use science::Estimate;
use science::compare::{Claim, Favours, favoured_by_age};

/// What no weighing can show; said beside every ranking.
pub const NOT_SHOWN: &str = "These weights say nothing about adhesion, corrosion protection, sanding or filling.";

/// Two to six sentences, the shrinkage to come after the day of sanding first; one alone where nothing can be said.
pub(crate) fn out_loud(
    test: &SprayTest,
    candidates: &[CandidateFindings],
    pairs: &[PairFindings],
    panels: &[PanelFindings],
    wording: &Wording,
) -> Vec<String> {
    let of = |by: By| pairs.iter().filter(|pair| pair.by == by).collect::<Vec<_>>();
    let told = [
        still_to_go(candidates, wording),
        compared(&of(By::FilmStillToGo), candidates, wording),
        keeps_more(&of(By::BuildKept), candidates),
        settled(test, candidates, panels, wording),
    ];
    let mut said: Vec<String> = told.into_iter().flatten().collect();
    if said.is_empty() {
        return vec![nothing(candidates, panels)];
    }
    said.extend(unequal_age(test, candidates, panels));
    said.push(NOT_SHOWN.into());
    said
}

/// Why nothing can be said, and what to do about it.
fn nothing(candidates: &[CandidateFindings], panels: &[PanelFindings]) -> String {
    let then = if panels.is_empty() {
        "add the candidates and their panels in Plan."
    } else if candidates.iter().all(|candidate| candidate.panels == 0) {
        "say in Plan which panel carries which candidate."
    } else if panels.iter().all(|panel| panel.wet_gross_g.is_none()) {
        "weigh the panels bare, wet, and on at least three visits more."
    } else {
        let reasons = panels.iter().find_map(|panel| panel.why.of("forecast"));
        let reason = reasons.unwrap_or("There is no drying curve yet.");
        return format!("Nothing can be said yet, since the curves are missing: {reason} Go on weighing.");
    };
    format!("Nothing can be said yet: {then}")
}

fn still_to_go(candidates: &[CandidateFindings], wording: &Wording) -> Option<String> {
    let part = |candidate: &CandidateFindings| {
        let still = candidate.mean(By::FilmStillToGo).mean?;
        let day = day(candidate.day_h?);
        Some((day, format!("{} {}", candidate.name(), wording.film_range(&still))))
    };
    let parts: Vec<(String, String)> = candidates.iter().filter_map(part).collect();
    let (first_day, _) = parts.first()?;
    let same_day = parts.iter().all(|(day, _)| day == first_day);
    let text: Vec<String> =
        parts.iter().map(|(day, film)| if same_day { film.clone() } else { format!("{film} after {day}") }).collect();
    let when = if same_day { format!("after {first_day}") } else { "after sanding".into() };
    Some(format!("Shrinkage to come {when}: {}.", text.join(", ")))
}

fn name<'a>(id: &Id, candidates: &'a [CandidateFindings]) -> &'a str {
    candidates.iter().find(|c| c.id == *id).map_or("?", CandidateFindings::name)
}

/// Several names as part of a sentence: `A`, `A and B`, `A, B and C`.
fn listed(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).into(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// Whether the evidence is enough to say that two differ.
fn differ(claim: Claim) -> bool {
    matches!(claim, Claim::ThisMix | Claim::Primer)
}

/// The one of a pair with the less, and the one with the more.
fn less_and_more(pair: &PairFindings) -> (&Id, &Id) {
    if pair.difference.mid <= 0.0 { (&pair.first, &pair.second) } else { (&pair.second, &pair.first) }
}

/// The first row's comparison: all pairs in one sentence.
fn compared(pairs: &[&PairFindings], candidates: &[CandidateFindings], wording: &Wording) -> Option<String> {
    if let [pair] = pairs {
        return Some(of_two(pair, candidates, wording));
    }
    if pairs.is_empty() {
        return None;
    }
    let in_pairs = |c: &&CandidateFindings| pairs.iter().any(|pair| pair.first == c.id || pair.second == c.id);
    let names: Vec<&str> = candidates.iter().filter(in_pairs).map(CandidateFindings::name).collect();
    let count = |claim: Claim| pairs.iter().filter(|pair| pair.claim == claim).count();
    if count(Claim::OnePanel) == pairs.len() {
        return Some(
            "One panel of a candidate cannot show whether its difference from another would repeat: spray more.".into(),
        );
    }
    if count(Claim::WithinChance) == pairs.len() {
        return Some(format!("{} cannot be told apart by it with these panels.", listed(&names)));
    }
    let of_mixes = pairs.iter().any(|pair| pair.claim == Claim::ThisMix);
    let beaten = |less: &Id| -> Vec<&Id> {
        let own = pairs.iter().filter(|pair| differ(pair.claim) && less_and_more(pair).0 == less);
        own.map(|pair| less_and_more(pair).1).collect()
    };
    // Those with less to go than the same others are told together.
    let mut groups: Vec<(Vec<&str>, Vec<&Id>)> = Vec::new();
    for less in candidates {
        let more = beaten(&less.id);
        match groups.iter_mut().find(|group| group.1 == more) {
            _ if more.is_empty() => {}
            Some(group) => group.0.push(less.name()),
            None => groups.push((vec![less.name()], more)),
        }
    }
    let mut parts: Vec<String> = Vec::new();
    for (less, more) in &groups {
        let has = if less.len() == 1 { "has" } else { "have" };
        let more: Vec<&str> = more.iter().map(|id| name(id, candidates)).collect();
        parts.push(format!("{} {has} less to go than {}", listed(less), listed(&more)));
    }
    if !parts.is_empty() {
        let mixes = if of_mixes { "Of these mixes, " } else { "" };
        parts = vec![format!("{mixes}{}, more than chance", parts.join("; "))];
    }
    let alike: Vec<&&PairFindings> = pairs.iter().filter(|pair| !differ(pair.claim)).collect();
    // Many pairs one by one are no sentence any more.
    if alike.len() > 3 {
        parts.push("no other two can be told apart".into());
    } else {
        for (place, pair) in alike.iter().enumerate() {
            let (second, first) = (name(&pair.second, candidates), name(&pair.first, candidates));
            match place {
                0 => parts.push(format!("{second} cannot be told from {first}")),
                _ => parts.push(format!("nor {second} from {first}")),
            }
        }
    }
    Some(format!("{} with these panels.", parts.join("; ")))
}

fn of_two(pair: &PairFindings, candidates: &[CandidateFindings], wording: &Wording) -> String {
    let (less, more) = less_and_more(pair);
    let (less, more) = (name(less, candidates), name(more, candidates));
    let d = pair.difference;
    let gap = if d.mid <= 0.0 { Estimate { low: -d.high, mid: -d.mid, high: -d.low } } else { d };
    match pair.claim {
        Claim::ThisMix => {
            format!(
                "This mix of {less} has {} less to go than this mix of {more}, more than chance.",
                wording.film_range(&gap)
            )
        }
        Claim::Primer => format!("{less} has {} less to go than {more}, more than chance.", wording.film_range(&gap)),
        Claim::WithinChance => {
            let (first, second) = (name(&pair.first, candidates), name(&pair.second, candidates));
            format!("{first} and {second} cannot be told apart by it with these panels.")
        }
        Claim::OnePanel if gap.low <= 0.0 => {
            let (first, second) = (name(&pair.first, candidates), name(&pair.second, candidates));
            format!("{first} and {second} cannot be told apart by one panel each: spray more.")
        }
        Claim::OnePanel => format!(
            "{less} has less to go than {more} here ({}), but one panel cannot show whether that would repeat: spray more.",
            wording.film(&gap)
        ),
    }
}

/// Who keeps more of the film than whom, where there is the evidence for it: the one that keeps most, with those that are more
/// than the same others.
fn keeps_more(pairs: &[&PairFindings], candidates: &[CandidateFindings]) -> Option<String> {
    let beaten_by = |id: &Id| -> Vec<&Id> {
        let own = pairs.iter().filter(|pair| differ(pair.claim) && less_and_more(pair).1 == id);
        own.map(|pair| less_and_more(pair).0).collect()
    };
    let proven = candidates.iter().filter(|candidate| !beaten_by(&candidate.id).is_empty());
    let kept = |id: &Id| candidates.iter().find(|c| c.id == *id)?.mean(By::BuildKept).mean;
    let mid = |id: &Id| kept(id).map_or(f64::NEG_INFINITY, |kept| kept.mid);
    let best = proven.reduce(|a, b| if mid(&b.id) > mid(&a.id) { b } else { a })?;
    let less = beaten_by(&best.id);
    let more: Vec<&Id> = candidates.iter().map(|c| &c.id).filter(|id| beaten_by(id) == less).collect();
    let named = |ids: &[&Id]| listed(&ids.iter().map(|id| name(id, candidates)).collect::<Vec<_>>());
    let range = |ids: &[&Id]| {
        let all = ids.iter().filter_map(|id| kept(id));
        all.reduce(|a, b| Estimate { low: a.low.min(b.low), mid: a.mid, high: a.high.max(b.high) })
    };
    let of_mix = pairs.iter().any(|pair| pair.claim == Claim::ThisMix && more.contains(&less_and_more(pair).1));
    let who = match (more.len() + less.len(), of_mix) {
        (2, true) => format!("This mix of {} keeps more of its film than this mix of {}", named(&more), named(&less)),
        (_, true) if more.len() == 1 => {
            format!("Of these mixes, {} keeps more of its film than {}", named(&more), named(&less))
        }
        (_, true) => format!("Of these mixes, {} keep more of their film than {}", named(&more), named(&less)),
        (_, false) if more.len() == 1 => format!("{} keeps more of its film than {}", named(&more), named(&less)),
        (_, false) => format!("{} keep more of their film than {}", named(&more), named(&less)),
    };
    Some(format!("{who}: {} against {}.", percent_range(&range(&more)?), percent_range(&range(&less)?)))
}

/// A share of 1 as the bounds of its interval: `58 to 63 %`.
fn percent_range(of: &Estimate) -> String {
    let percent = of.scaled(100.0);
    // Whole per cents are what people say, unless the interval is narrower than that.
    let decimals = if percent.width() > 2.0 { 0 } else { decimals_for(percent.width()) };
    format!("{} to {} %", figure(percent.low, decimals), figure(percent.high, decimals))
}

/// Of which candidates the weight is steady, what the others have still to lose, and of which it is too early to say: one sentence.
fn settled(
    test: &SprayTest,
    candidates: &[CandidateFindings],
    panels: &[PanelFindings],
    wording: &Wording,
) -> Option<String> {
    let (mut done, mut early, mut places, mut open) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let mut open_said = Vec::new();
    for candidate in candidates {
        let own = || panels.iter().filter(|panel| panel.candidate.as_ref() == Some(&candidate.id));
        let forecasts: Vec<_> = own().filter_map(|panel| panel.forecast.as_ref()).collect();
        if forecasts.is_empty() {
            continue;
        }
        if forecasts.iter().all(|forecast| forecast.settled == Settled::Yes) {
            done.push(candidate.name());
            let place = own().next().map(|panel| place_of(test, &panel.id).to_lowercase());
            let place = place.map_or("where it is now".into(), |place| format!("in the {place}"));
            if !places.contains(&place) {
                places.push(place);
            }
        } else if forecasts.iter().any(|forecast| forecast.settled == Settled::TooEarly) {
            early.push(candidate.name());
        } else {
            let low = forecasts.iter().map(|f| f.still_to_lose_g.low).fold(f64::INFINITY, f64::min);
            let high = forecasts.iter().map(|f| f.still_to_lose_g.high).fold(0.0, f64::max);
            let longest = own()
                .filter_map(|panel| panel.work.forecast.as_ref().ok())
                .max_by(|a, b| a.still_to_lose_g.estimate.mean.total_cmp(&b.still_to_lose_g.estimate.mean));
            open.push((candidate.name(), Estimate { low, mid: low, high }, longest.and_then(days_to_go)));
        }
    }
    if open.len() > 2 {
        // One by one they are no sentence any more.
        let names: Vec<&str> = open.iter().map(|one| one.0).collect();
        let low = open.iter().map(|one| one.1.low).fold(f64::INFINITY, f64::min);
        let high = open.iter().map(|one| one.1.high).fold(0.0, f64::max);
        let range = wording.mass_range(&Estimate { low, mid: low, high });
        open_said.push(format!("{} have {range} a panel still to lose", listed(&names)));
    } else {
        for (name, range, when) in &open {
            let when = when.as_ref().map_or(String::new(), |time| format!(", {time} more"));
            open_said.push(format!("{name} has {} a panel still to lose{when}", wording.mass_range(range)));
        }
    }
    let mut parts = Vec::new();
    if !done.is_empty() {
        let places: Vec<&str> = places.iter().map(String::as_str).collect();
        parts.push(format!("The weight of {} is steady {}", listed(&done), listed(&places)));
    }
    parts.extend(open_said);
    if !early.is_empty() {
        let it = if parts.is_empty() { "It is" } else { "it is" };
        parts.push(format!("{it} too early to say when {} will be steady", listed(&early)));
    }
    (!parts.is_empty()).then(|| format!("{}.", parts.join("; ")))
}

/// Whom it favours that panels stood for unequal times between the last coat and the first weighing; of the two candidates
/// farthest apart.
fn unequal_age(test: &SprayTest, candidates: &[CandidateFindings], panels: &[PanelFindings]) -> Option<String> {
    let ages: Vec<(&str, f64)> =
        candidates.iter().filter_map(|c| Some((c.name(), mean_age(test, c, panels)?))).collect();
    let short = ages.iter().copied().reduce(|a, b| if b.1 < a.1 { b } else { a })?;
    let long = ages.iter().copied().reduce(|a, b| if b.1 > a.1 { b } else { a })?;
    (favoured_by_age(short.1, long.1) == Ok(Some(Favours::Second))).then(|| {
        format!(
            "{} stood {} before its first weighing and {} {}: what left before is not counted, which favours {}.",
            long.0,
            duration(long.1),
            short.0,
            duration(short.1),
            long.0
        )
    })
}

/// How long a candidate's panels stood on average before their first weighing, h, where their coats were noted.
fn mean_age(test: &SprayTest, candidate: &CandidateFindings, panels: &[PanelFindings]) -> Option<f64> {
    let (mut sum, mut count) = (0.0, 0.0);
    for panel in panels.iter().filter(|panel| panel.candidate.as_ref() == Some(&candidate.id)) {
        let noted = test.panels.find(&panel.id)?.coats.kept().any(|coat| coat.at.is_some());
        if let (true, Ok(wet), Some(coat_h)) = (noted, panel.work.wet(), panel.work.card.last_coat_h) {
            (sum, count) = (sum + (wet.weighing.t_h - coat_h), count + 1.0);
        }
    }
    (count > 0.0).then(|| sum / count)
}
