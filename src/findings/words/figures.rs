//! Findings as lines and tables to read, in the person's units. Everything a screen prints comes from here.

use super::tongue::{Tongue, day, duration};
use crate::facts::panels_on;
use crate::told::{PanelFindings, Settled};
use quantity::figure;
use record::{Id, SprayTest};

/// A number with its name, or why it is missing.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What it is called between rooms, the same for ever: see [`worked`](crate::results::worked).
    pub key: &'static str,
    /// What it is.
    pub name: String,
    /// With unit and interval; `None` where it cannot be had.
    pub value: Option<String>,
    /// Why it is missing, or what to know about it.
    pub note: String,
}

impl Figure {
    fn new(key: &'static str, name: impl Into<String>, value: Option<String>, why: Option<&str>) -> Self {
        Self { key, name: name.into(), value, note: why.unwrap_or_default().into() }
    }
}

/// What is told of one panel, line by line.
pub fn panel_figures(panel: &PanelFindings, tongue: &Tongue) -> Vec<Figure> {
    let why = |name: &str| panel.why.of(name);
    let division = panel.work.card.division_g();
    let weight = |g: f64| tongue.weight(g, division);
    let estimated = if panel.wet_coat_estimated { "Estimated by comb and density: no bare weight." } else { "" };
    let coat =
        panel.wet_coat_g.map(|g| if panel.wet_coat_estimated { format!("{} estimated", weight(g)) } else { weight(g) });
    let mut figures = vec![
        Figure::new("lost", "Lost so far", panel.lost_g.map(weight), why("lost_g")),
        Figure::new(
            "lost_share",
            "Lost, of the wet coat",
            panel.lost_pct.map(|pct| format!("{} %", figure(pct, 1))),
            why("lost_pct"),
        ),
        before(panel, tongue),
        Figure::new("wet_coat", "Wet coat", coat, why("wet_coat_g").or(Some(estimated))),
        Figure::new("wet_film", "Wet film, comb", panel.wet_film_um.map(|film| tongue.film(&film)), why("wet_film_um")),
    ];
    match &panel.forecast {
        Some(forecast) => {
            let too_early = forecast.settled == Settled::TooEarly;
            let still = if too_early {
                // Too early: the range, not the point.
                tongue.mass_range(&forecast.still_to_lose_g)
            } else {
                tongue.mass(&forecast.still_to_lose_g)
            };
            figures.push(Figure::new("still_to_lose", "Still to lose", Some(still), None));
            figures.push(Figure::new(
                "settled",
                "Settled?",
                Some(forecast.settled.word().into()),
                Some(&forecast.reason),
            ));
        }
        None => figures.push(Figure::new("still_to_lose", "Still to lose", None, why("forecast"))),
    }
    for after in &panel.after_day {
        let film = after.film_still_to_go_um.map(|film| tongue.film(&film));
        let name = format!("Shrinkage to come after {}", day(after.day_h));
        figures.push(Figure::new("film_still_to_go", name, film, after.why.of("film_still_to_go_um")));
    }
    let built = panel.final_build_um.map(|film| tongue.film(&film));
    figures.push(Figure::new("final_build", "Final dry film", built, why("final_build_um")));
    for route in &panel.routes {
        let bound = if route.lower_bound { "At least this: solvent had left before the comb was read." } else { "" };
        let film = route.final_build_um.map(|film| tongue.film(&film));
        let note = route.why.of("final_build_um").or(Some(bound));
        figures.push(Figure::new(route.key, format!("Final dry film by {}", route.name), film, note));
    }
    figures
}

/// What had left before the first weighing, which no other number counts.
pub(crate) fn before(panel: &PanelFindings, tongue: &Tongue) -> Figure {
    let told = panel.work.lost_before_g();
    let note = match &told {
        Ok((_, before_h)) => format!("In the {} before it; not in the numbers here.", duration(*before_h)),
        Err(reason) => reason.said(tongue),
    };
    let value = told.ok().map(|(lost, _)| tongue.mass(&lost));
    Figure::new("lost_before", "Lost before the first weighing", value, Some(&note))
}

/// A panel in a few words: `B1: lost 7.4 g, settled`.
pub fn panel_in_short(panel: &PanelFindings, tongue: &Tongue) -> String {
    format!("{}: {}", panel.label, told_in_short(panel, tongue))
}

/// What is told of a panel in a few words: `lost 7.4 g, settled`.
pub fn told_in_short(panel: &PanelFindings, tongue: &Tongue) -> String {
    let lost = panel.lost_g.map(|g| format!("lost {}", tongue.weight(g, panel.work.card.division_g())));
    let settled = panel.forecast.as_ref().map(|forecast| match forecast.settled {
        Settled::TooEarly => "too early to say if settled".to_owned(),
        settled => settled.word().to_owned(),
    });
    let built = panel.final_build_um.map(|film| format!("dry film {}", tongue.film(&film)));
    let parts: Vec<String> = lost.into_iter().chain(settled).chain(built).collect();
    if parts.is_empty() { "no answers yet".to_owned() } else { parts.join(", ") }
}

/// A candidate with the numbers of its panels: `Buff: B1, B2, B3`.
pub fn candidate_with_panels(test: &SprayTest, candidate: &Id) -> String {
    let label = test.candidates.find(candidate).map_or("", |candidate| candidate.label.trim());
    let panels: Vec<&str> = panels_on(test, candidate).iter().map(|panel| panel.label.as_str()).collect();
    [label, ": ", &panels.join(", ")].concat()
}

/// So many panels.
pub fn panels_said(count: usize) -> String {
    if count == 1 { "1 panel".into() } else { format!("{count} panels") }
}
