//! What the plan will be able to tell apart, and what it will not.

use crate::facts::{DABS, kept_ages, sanding_h, step_g, takes_part, teeth_in_hand};
use crate::told::PanelFindings;
use crate::words::{Wording, day, odd_said};
use crate::work::{WET_FILM_UM, area};
use quantity::{Quantity, Unit, decimals_for, figure, plain};
use record::SprayTest;
use science::Measured;
use science::comb::{CombPrior, Interval, wet_film};
use science::film::summary;
use science::routes::SOLVENT_DENSITY;
use science::solids::film;
use science::stats::{least_shown, panels_to_show, power};

/// Spread between panels of one primer, as a share of what is compared, until there is a measured one. It lies between two
/// published ones: 4.2 % of 65 µm on 40 sprayed clearcoat panels (data set of the R package EngrExpt), and 10 % on 200 automobile
/// primer readings of 28 µm (R package qqtest), which carry the gauge's own scatter and places on the body as well.
const SPREAD: f64 = 0.05;

/// The difference a painter is taken to care for, as a share (design choice).
const DIFFERENCE: f64 = 0.10;

/// A chance that is good enough: four times in five (customary).
const CHANCE: f64 = 0.8;

/// The last weigh-in before which a projection is wide, h (the drying method's own evidence: up to the tenth day each
/// further day narrows it).
const LONG_ENOUGH_H: f64 = 240.0;

/// Sentences on what does not fit, and on what this plan will show and what it will not.
pub fn plan_check(test: &SprayTest, panels: &[PanelFindings], wording: &Wording) -> Vec<String> {
    let mut said = odd_said(test, wording);
    said.extend(panels_check(test, panels));
    said.extend(cups_check(test));
    said.extend(dabs_check(test, wording));
    said.extend(scale_check(test, wording));
    said.extend(days_check(test));
    said
}

/// Panels of the candidate with the fewest.
fn fewest(test: &SprayTest) -> usize {
    let of = |candidate: &record::Candidate| {
        let own = test.panels.kept().filter(|panel| panel.candidate.as_ref() == Some(&candidate.id));
        own.filter(|panel| takes_part(test, panel)).count()
    };
    test.candidates.kept().map(of).min().unwrap_or(0)
}

fn panels_check(test: &SprayTest, told: &[PanelFindings]) -> Vec<String> {
    let (candidates, panels) = (test.candidates.kept().count(), fewest(test));
    if candidates < 2 {
        return vec!["With one candidate there is nothing to compare: add another, or read its curve alone.".into()];
    }
    if panels == 0 {
        return vec!["A candidate has no panel yet.".into()];
    }
    if panels == 1 {
        return vec![
            "With one panel of a candidate nothing can be told apart from chance, however often it is weighed: spray three or more.".into(),
        ];
    }
    let comparisons = candidates * (candidates - 1) / 2;
    let alpha = 0.05 / comparisons as f64;
    let (spread, measured) = measured_spread(told).map_or((SPREAD, false), |spread| (spread, true));
    let basis = if measured {
        format!("Panels of one primer differ here by {} (standard deviation, as measured).", percent(spread))
    } else {
        format!(
            "Assumed until panels are weighed: those of one primer differ by {} (standard deviation) though sprayed alike.",
            percent(spread)
        )
    };
    let mut said = Vec::new();
    let least = least_shown(panels, alpha, CHANCE).ok().flatten().map(|effect| effect * spread);
    let pairs = match comparisons {
        1 => "two primers".to_owned(),
        pairs => format!("any of {pairs} pairs of primers"),
    };
    if let Some(least) = least {
        said.push(format!(
            "{panels} panels of each will tell {pairs} apart, four times in five, if they differ by {} or more.",
            percent(least)
        ));
    }
    if let (Ok(chance), Ok(needed)) =
        (power(DIFFERENCE / spread, panels, alpha), panels_to_show(DIFFERENCE, spread, comparisons))
    {
        let needed = match needed {
            Some(needed) if needed <= panels => String::new(),
            Some(needed) => format!(" For four in five it takes {needed} panels of each."),
            None => " No sensible number of panels makes that four in five.".into(),
        };
        if chance < CHANCE {
            said.push(format!(
                "A difference of {} they will miss more often than that: it shows {} times in a hundred.{needed}",
                percent(DIFFERENCE),
                figure(100.0 * chance, 0)
            ));
        }
    }
    said.push(basis);
    said
}

/// A share in per cent: whole ones from ten on.
fn percent(share: f64) -> String {
    let tenths = (1000.0 * share).round() / 10.0;
    if tenths < 10.0 { format!("{} %", plain(tenths)) } else { format!("{} %", figure(tenths, 0)) }
}

/// Spread between panels of one candidate, as a share: of the coat's loss in all, pooled over the candidates with several
/// panels that have a curve. `None` until there are four such panels of at least two degrees of freedom.
fn measured_spread(panels: &[PanelFindings]) -> Option<f64> {
    let share = |panel: &PanelFindings| {
        let forecast = panel.forecast.as_ref()?;
        let loss = panel.wet_gross_g? - forecast.final_gross_g.mid;
        Some(loss / panel.wet_coat_g?).filter(|share| *share > 0.0)
    };
    let (mut squares, mut degrees) = (0.0, 0.0);
    let mut candidates: Vec<_> = panels.iter().filter_map(|panel| panel.candidate.as_ref()).collect();
    candidates.dedup();
    for candidate in candidates {
        let own = panels.iter().filter(|panel| panel.candidate.as_ref() == Some(candidate));
        let shares: Vec<f64> = own.filter_map(share).collect();
        let Ok(of) = summary("panels", &shares) else { continue };
        if let Some(sd) = of.sd {
            let dof = (of.count - 1) as f64;
            squares += dof * (sd / of.mean).powi(2);
            degrees += dof;
        }
    }
    let spread = (squares / degrees).sqrt();
    (degrees >= 2.0 && spread.is_finite() && spread > 0.0).then_some(spread)
}

fn cups_check(test: &SprayTest) -> Option<String> {
    (test.candidates.kept().count() > 1).then(|| {
        "All panels of a candidate from one cup show this mix on this day. A claim about the primer itself needs a second cup, another day."
            .into()
    })
}

/// What one dab and three dabs say of a film between two teeth.
fn dabs_check(test: &SprayTest, wording: &Wording) -> Option<String> {
    let teeth: Vec<f64> = teeth_in_hand(test).into_iter().map(Quantity::get).collect();
    let sheet = |candidate: &record::Candidate| {
        let coats = candidate.sheet.coats.map_or(1.0, Quantity::get).max(1.0);
        Some(candidate.sheet.wet_film_um?.get() * coats)
    };
    let wet_um = test.candidates.kept().find_map(sheet).unwrap_or(WET_FILM_UM);
    let above = teeth.iter().position(|tooth| *tooth > wet_um)?;
    let low_um = above.checked_sub(1).map(|below| teeth[below]);
    let dab = Interval { low_um, high_um: Some(teeth[above]), touched_um: None };
    let within = |dabs: usize| {
        let film = wet_film(&vec![dab; dabs], &CombPrior::default()).ok()?;
        Some(wording.units.film.shown(0.5 * film.film_um.width()))
    };
    let (one, three) = (within(1)?, within(DABS)?);
    let unit = wording.units.film.symbol();
    let shown = |half: f64| format!("{} {unit}", figure(half, decimals_for(half).min(1)));
    Some(format!(
        "About {}, one dab says the wet film to within {} either way, {DABS} dabs to within {}; the comb's own error stays however many.",
        wording.tooth(wet_um),
        shown(one),
        shown(three),
    ))
}

/// What a step of the scale is in film.
fn scale_check(test: &SprayTest, wording: &Wording) -> Option<String> {
    let division = step_g(test)?;
    let areas = test.panels.kept().filter_map(area);
    let area = areas.min_by(|a, b| a.value.total_cmp(&b.value))?;
    let step = film(Measured::exact(division), SOLVENT_DENSITY, area).ok()?.value;
    let shown = wording.units.film.shown(step);
    let unit = wording.units.film.symbol();
    let coarse =
        if step > 5.0 { ": coarse for such small panels; larger ones, or a finer scale, show more" } else { "" };
    Some(format!(
        "One step of the scale, {}, is {} {unit} of lost film{coarse}.",
        wording.weight(division, division),
        figure(shown, decimals_for(shown))
    ))
}

fn days_check(test: &SprayTest) -> Vec<String> {
    let ages = kept_ages(test);
    let Some(last) = ages.last().copied() else {
        return vec!["No times to weigh are set yet.".into()];
    };
    let mut said = Vec::new();
    if last < LONG_ENOUGH_H {
        said.push(format!(
            "The last weigh-in is on {}: what then still leaves is a projection, and each further day to day 10 narrows it.",
            day(last)
        ));
    }
    let sanding = test.candidates.kept().filter_map(|candidate| sanding_h(test, Some(candidate))).reduce(f64::max);
    if let Some(sanding) = sanding.filter(|sanding| *sanding > last) {
        said.push(format!(
            "Nothing is weighed after the day of sanding, {}: film that goes then is not seen.",
            day(sanding)
        ));
    }
    if ages.iter().filter(|age| **age <= 8.0).count() < 3 {
        said.push(
            "Fewer than three weigh-ins in the first eight hours: the fast part of the curve will be a guess.".into(),
        );
    }
    said
}
