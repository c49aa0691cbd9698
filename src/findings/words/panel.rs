//! What was worked out of a panel, told.

use std::sync::Arc;

use super::flags::flags;
use super::leaving::left_said;
use super::verdict::{reason, remarks};
use super::wording::Wording;
use crate::told::{AfterDay, ForecastFindings, PanelFindings, RouteFindings, Settled, Why};
use crate::work::{PanelCard, PanelWork, Reason, estimate, possible};
use record::Panel;
use science::drying::Forecast;
use science::routes::{Input, Route, RouteError};

impl PanelFindings {
    /// Tells what was worked out of a panel.
    pub(crate) fn of(panel: &Panel, work: Arc<PanelWork>, wording: &Wording) -> Self {
        let mut why = Why::default();
        let left = left_said(&panel.left);
        let wet_coat = work.wet_coat_g();
        let lost_pct = work.lost_g().and_then(|lost| wet_coat.clone().map(|(coat, _)| 100.0 * lost / coat));
        let wet_coat = why.note("wet_coat_g", wet_coat, wording);
        let forecast = work.forecast.as_ref().map(|forecast| ForecastFindings::of(forecast, &left, wording));
        let built = work.build.answer.as_ref().map_err(|trouble| Reason::Build(*trouble));
        let built = built.and_then(|build| possible(build.build_um));
        Self {
            id: panel.id.clone(),
            label: panel.label.clone(),
            candidate: panel.candidate.as_ref().cloned(),
            mix: panel.mix.as_ref().cloned(),
            bare_g: why.note("bare_g", work.card.bare_g.ok_or(Reason::NoBareWeight), wording),
            wet_gross_g: why.note("wet_gross_g", work.wet().map(|wet| wet.weighing.gross_g), wording),
            lost_g: why.note("lost_g", work.lost_g(), wording),
            lost_pct: why.note("lost_pct", lost_pct, wording),
            wet_coat_g: wet_coat.map(|(coat, _)| coat),
            wet_coat_estimated: wet_coat.is_some_and(|(_, estimated)| estimated),
            wet_film_um: why.note(
                "wet_film_um",
                work.wet_film.clone().and_then(|film| possible(film.film_um)),
                wording,
            ),
            forecast: why.note("forecast", forecast.map_err(Clone::clone), wording),
            after_day: work.card.days_h.iter().map(|&day_h| AfterDay::of(&work, day_h, wording)).collect(),
            flags: flags(&work, panel, wording),
            final_build_um: why.note("final_build_um", built, wording),
            routes: work.build.routes.iter().map(|route| RouteFindings::of(route, &work.card, wording)).collect(),
            area_cm2: why.note("area_cm2", work.card.area_cm2.map(|area| area.value).ok_or(Reason::NoArea), wording),
            left: left.is_some(),
            remarks: left.into_iter().chain(remarks(&work, wording)).collect(),
            why,
            work,
        }
    }
}

impl ForecastFindings {
    /// Of one that left the test before it was steady, that is the reason.
    fn of(forecast: &Forecast, left: &Option<String>, wording: &Wording) -> Self {
        let settled = Settled::of(&forecast.verdict);
        let left = left.as_ref().filter(|_| settled != Settled::Yes);
        Self {
            final_gross_g: estimate(forecast.final_gross_g),
            still_to_lose_g: estimate(forecast.still_to_lose_g.estimate),
            settled,
            reason: left.cloned().unwrap_or_else(|| reason(forecast, wording)),
        }
    }
}

impl AfterDay {
    fn of(work: &PanelWork, day_h: f64, wording: &Wording) -> Self {
        let mut why = Why::default();
        let film = why.note("film_still_to_go_um", work.film_still_to_go(day_h), wording);
        Self { day_h, film_still_to_go_um: film, why }
    }
}

impl RouteFindings {
    fn of(route: &science::routes::RouteBuild, card: &PanelCard, wording: &Wording) -> Self {
        let mut why = Why::default();
        let needs_area = matches!(route.route, Route::CombAndScale | Route::ScaleAndDensity);
        let build = match &route.build {
            Err(_) if needs_area && card.area_cm2.is_none() => Err(Reason::NoArea),
            Err(RouteError::Missing(Input::VolumeSolids)) if card.sheet.why.is_some() => {
                Err(card.sheet.why.clone().unwrap_or(Reason::SheetOfBase))
            }
            Err(trouble) => Err(Reason::Route(*trouble)),
            Ok(build) => possible(build.build_um),
        };
        Self {
            route: route.route,
            final_build_um: why.note("final_build_um", build, wording),
            lower_bound: route.lower_bound,
            why,
        }
    }
}
