//! What was worked out of a panel, told.

use std::sync::Arc;

use super::flags::flags;
use super::tongue::Tongue;
use super::verdict::{reason, remarks};
use crate::told::{AfterDay, ForecastFindings, PanelFindings, RouteFindings, Settled};
use crate::work::{PanelCard, PanelWork, Reason, Why, estimate, possible};
use record::Panel;
use science::drying::Forecast;
use science::routes::{Input, Route, RouteError};

impl PanelFindings {
    /// Tells what was worked out of a panel.
    pub(crate) fn of(panel: &Panel, work: Arc<PanelWork>, tongue: &Tongue) -> Self {
        let mut why = Why::default();
        let wet_coat = work.wet_coat_g();
        let lost_pct = work.lost_g().and_then(|lost| wet_coat.clone().map(|(coat, _)| 100.0 * lost / coat));
        let wet_coat = why.note("wet_coat_g", wet_coat);
        let built = work.build.answer.as_ref().map_err(|trouble| Reason::Said(trouble.to_string()));
        let built = built.and_then(|build| possible(build.build_um));
        Self {
            id: panel.id.clone(),
            label: panel.label.clone(),
            candidate: panel.candidate.clone(),
            mix: panel.mix.clone(),
            bare_g: why.note("bare_g", work.card.bare_g.ok_or(Reason::NoBareWeight)),
            wet_gross_g: why.note("wet_gross_g", work.wet().map(|wet| wet.weighing.gross_g)),
            lost_g: why.note("lost_g", work.lost_g()),
            lost_pct: why.note("lost_pct", lost_pct),
            wet_coat_g: wet_coat.map(|(coat, _)| coat),
            wet_coat_estimated: wet_coat.is_some_and(|(_, estimated)| estimated),
            wet_film_um: why.note("wet_film_um", work.wet_film.clone().and_then(|film| possible(film.film_um))),
            forecast: why
                .note("forecast", work.forecast.as_ref().map(|forecast| ForecastFindings::of(forecast, tongue))),
            after_day: work.card.days_h.iter().map(|&day_h| AfterDay::of(&work, day_h)).collect(),
            flags: flags(&work, panel, tongue),
            final_build_um: why.note("final_build_um", built),
            routes: work.build.routes.iter().map(|route| RouteFindings::of(route, &work.card)).collect(),
            area_cm2: why.note("area_cm2", work.card.area_cm2.map(|area| area.value).ok_or(Reason::NoArea)),
            remarks: remarks(&work, tongue),
            why,
            work,
        }
    }
}

impl ForecastFindings {
    fn of(forecast: &Forecast, tongue: &Tongue) -> Self {
        Self {
            final_gross_g: estimate(forecast.final_gross_g),
            still_to_lose_g: estimate(forecast.still_to_lose_g.estimate),
            settled: Settled::of(&forecast.verdict),
            reason: reason(forecast, tongue),
        }
    }
}

impl AfterDay {
    fn of(work: &PanelWork, day_h: f64) -> Self {
        let mut why = Why::default();
        Self { day_h, film_still_to_go_um: why.note("film_still_to_go_um", work.film_still_to_go(day_h)), why }
    }
}

impl RouteFindings {
    fn of(route: &science::routes::RouteBuild, card: &PanelCard) -> Self {
        let mut why = Why::default();
        let (key, name) = match route.route {
            Route::CombAndScale => ("build_comb", "comb and scale"),
            Route::Sheet => ("build_sheet", "data sheet"),
            Route::ScaleAndDensity => ("build_density", "scale and dry density"),
            Route::Gauge => ("build_gauge", "gauge"),
        };
        let needs_area = matches!(route.route, Route::CombAndScale | Route::ScaleAndDensity);
        let build = match &route.build {
            Err(_) if needs_area && card.area_cm2.is_none() => Err(Reason::NoArea),
            Err(RouteError::Missing(Input::VolumeSolids)) if card.sheet.why.is_some() => {
                Err(card.sheet.why.clone().unwrap_or(Reason::SheetOfBase))
            }
            Err(trouble) => Err(Reason::Said(trouble.to_string())),
            Ok(build) => possible(build.build_um),
        };
        Self { key, name, final_build_um: why.note("final_build_um", build), lower_bound: route.lower_bound, why }
    }
}
