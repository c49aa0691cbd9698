//! What is told of one panel, line by line.

use crate::told::{ForecastFindings, PanelFindings, Telling, route_name};
use crate::words::{Figure, Wording, day, duration, telling_said};
use quantity::figure;
use science::Estimate;
use science::routes::Route;

/// A line of what is told of one panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FigureKey {
    /// Mass lost since the wet weight.
    Lost,
    /// The same of the wet coat.
    LostShare,
    /// What had left before the first weighing, which no other number counts.
    LostBefore,
    /// Mass of the wet coat.
    WetCoat,
    /// Wet film by the comb.
    WetFilm,
    /// Mass still to lose.
    StillToLose,
    /// Whether the weight is steady.
    Settled,
    /// Film still to go after one of its days, by the day's place among them.
    FilmStillToGo(usize),
    /// Final build by all its routes.
    FinalBuild,
    /// Final build by one route.
    BuildBy(Route),
}

/// The lines that there are of a panel, in order.
pub fn figure_keys(panel: &PanelFindings) -> Vec<FigureKey> {
    use FigureKey::{FilmStillToGo, FinalBuild, Lost, LostBefore, LostShare, StillToLose, WetCoat, WetFilm};
    let mut keys = vec![Lost, LostShare, LostBefore, WetCoat, WetFilm, StillToLose];
    keys.extend(panel.forecast.is_some().then_some(FigureKey::Settled));
    keys.extend((0..panel.after_day.len()).map(FilmStillToGo));
    keys.push(FinalBuild);
    keys.extend(panel.routes.iter().map(|route| FigureKey::BuildBy(route.route)));
    keys
}

/// What is told of one panel, line by line.
pub fn panel_figures(panel: &PanelFindings, wording: &Wording) -> Vec<Figure> {
    figure_keys(panel).into_iter().map(|key| panel_figure(panel, key, wording)).collect()
}

/// One line of it.
pub fn panel_figure(panel: &PanelFindings, key: FigureKey, wording: &Wording) -> Figure {
    let weight = |g: f64| wording.weight(g, panel.work.card.division_g());
    let (name, value, note) = match key {
        FigureKey::Lost => ("Lost so far", panel.lost_g.map(weight), panel.why.of("lost_g")),
        FigureKey::LostShare => {
            let share = panel.lost_pct.map(|pct| format!("{} %", figure(pct, 1)));
            ("Lost so far, of the wet coat", share, panel.why.of("lost_pct"))
        }
        FigureKey::LostBefore => return before(panel, wording),
        FigureKey::WetCoat if panel.wet_coat_estimated => {
            let coat = panel.wet_coat_g.map(|g| format!("{} estimated", weight(g)));
            ("Wet coat", coat, Some("Estimated by comb and density: no bare weight."))
        }
        FigureKey::WetCoat => ("Wet coat", panel.wet_coat_g.map(weight), panel.why.of("wet_coat_g")),
        FigureKey::WetFilm => {
            let film = panel.wet_film_um.map(|film| wording.film(&film));
            ("Wet film, comb", film, panel.why.of("wet_film_um"))
        }
        FigureKey::StillToLose => ("Still to lose", still_to_lose(panel, wording), panel.why.of("forecast")),
        FigureKey::Settled => {
            let forecast = panel.forecast.as_ref();
            let reason = forecast.map(|forecast| with_telling(panel, forecast, wording));
            let value = forecast.map(|forecast| forecast.settled.word().into());
            return told("Drying".into(), value, reason.as_deref());
        }
        FigureKey::FilmStillToGo(place) => {
            let after = panel.after_day.get(place);
            let name = after.map_or(String::new(), |after| format!("Shrinkage to come after {}", day(after.day_h)));
            let film = after.and_then(|after| after.film_still_to_go_um);
            let film = film.map(|film| film_still_to_go(panel, &film, wording));
            return told(name, film, after.and_then(|after| after.why.of("film_still_to_go_um")));
        }
        FigureKey::FinalBuild => {
            let film = panel.final_build_um.map(|film| wording.film(&film));
            ("Final dry film", film, panel.why.of("final_build_um"))
        }
        FigureKey::BuildBy(route) => {
            let name = ["Final dry film by ", route_name(route)].concat();
            let found = panel.routes.iter().find(|known| known.route == route);
            let bound = "At least this: solvent had left before the comb was read.";
            let bound = found.filter(|route| route.lower_bound).map(|_| bound);
            let film = found.and_then(|route| route.final_build_um).map(|film| wording.film(&film));
            return told(name, film, found.and_then(|route| route.why.of("final_build_um")).or(bound));
        }
    };
    told(name.into(), value, note)
}

fn told(name: String, value: Option<String>, note: Option<&str>) -> Figure {
    Figure { name, value, note: note.unwrap_or_default().into() }
}

/// Why a weight is or is not steady, and where that is not known the next weighing that would tell.
fn with_telling(panel: &PanelFindings, forecast: &ForecastFindings, wording: &Wording) -> String {
    match Telling::of(&panel.work) {
        Some(telling) => format!("{} {}", forecast.reason, telling_said(&telling, forecast.settled, wording)),
        None => forecast.reason.clone(),
    }
}

/// What a panel still has to lose.
pub(super) fn still_to_lose(panel: &PanelFindings, wording: &Wording) -> Option<String> {
    let still_g = panel.forecast.as_ref()?.still_to_lose_g;
    Some(if panel.too_early() { wording.mass_range(&still_g) } else { wording.mass(&still_g) })
}

/// The film, µm, that a panel still has to lose after a day.
pub(super) fn film_still_to_go(panel: &PanelFindings, film_um: &Estimate, wording: &Wording) -> String {
    if panel.too_early() { wording.film_range(film_um) } else { wording.film(film_um) }
}

/// What had left before the first weighing.
fn before(panel: &PanelFindings, wording: &Wording) -> Figure {
    let known = panel.work.lost_before_g();
    let note = match &known {
        Ok((_, before_h)) => format!("In the {} before it; not in the numbers here.", duration(*before_h)),
        Err(reason) => reason.said(wording),
    };
    let value = known.ok().map(|(lost, _)| wording.mass(&lost));
    Figure { name: "Lost before the first weighing".into(), value, note }
}

/// A panel in a few words: `B1: lost 7.4 g, weight steady`.
pub fn panel_in_short(panel: &PanelFindings, wording: &Wording) -> String {
    format!("{}: {}", panel.label, told_in_short(panel, wording))
}

/// What is told of a panel in a few words: `lost 7.4 g, weight steady`.
pub fn told_in_short(panel: &PanelFindings, wording: &Wording) -> String {
    let lost = panel.lost_g.map(|g| format!("lost {}", wording.weight(g, panel.work.card.division_g())));
    let settled = panel.forecast.as_ref().map(|forecast| forecast.settled.word().to_owned());
    let built = panel.final_build_um.map(|film| format!("dry film {}", wording.film(&film)));
    let parts: Vec<String> = lost.into_iter().chain(settled).chain(built).collect();
    if parts.is_empty() { "no answers yet".to_owned() } else { parts.join(", ") }
}
