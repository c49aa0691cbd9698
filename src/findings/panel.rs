//! What is told of one panel: the answers with their reasons.

use std::sync::Arc;

use serde::Serialize;

use super::card::PanelCard;
use super::tongue::Tongue;
use super::verdict::{Flag, GAINS, MOVED, Settled, flags};
use super::why::{Reason, Why};
use super::work::{PanelWork, estimate, possible};
use record::{Id, Panel};
use science::Estimate;
use science::drying::{Forecast, NotYet, Verdict};
use science::routes::{Input, Route, RouteError};

/// What is told of one panel.
#[derive(Clone, Debug, Serialize)]
pub struct PanelFindings {
    /// Which one.
    pub id: Id,
    /// The number on its back.
    pub label: String,
    /// What it carries.
    pub candidate: Option<Id>,
    /// From which cup.
    pub mix: Option<Id>,
    /// Bare weight, g.
    pub bare_g: Option<f64>,
    /// Wet weight, panel and coat, g.
    pub wet_gross_g: Option<f64>,
    /// Grams gone since the wet weight, drift removed.
    pub lost_g: Option<f64>,
    /// The same as a share of the wet coat, %.
    pub lost_pct: Option<f64>,
    /// Mass of the wet coat, g.
    pub wet_coat_g: Option<f64>,
    /// Whether that is only estimated, by comb and density.
    pub wet_coat_estimated: bool,
    /// Wet film from the comb, µm.
    pub wet_film_um: Option<Estimate>,
    /// What the drying curve expects.
    pub forecast: Option<ForecastFindings>,
    /// Film still to go after the day of sanding.
    pub after_day: Vec<AfterDay>,
    /// Weigh-ins to look at.
    pub flags: Vec<Flag>,
    /// Projected final dry film build, µm.
    pub final_build_um: Option<Estimate>,
    /// The build by every route.
    pub routes: Vec<RouteFindings>,
    /// Coated area, cm².
    pub area_cm2: Option<f64>,
    /// Reasons of what is missing.
    pub why: Why,
    /// What to know beside the numbers.
    pub remarks: Vec<String>,
    /// The worked-out panel behind it.
    #[serde(skip)]
    pub work: Arc<PanelWork>,
}

/// What the drying curve expects. "Final" means 90 days on, wherever the panel then is.
#[derive(Clone, Debug, Serialize)]
pub struct ForecastFindings {
    /// Final weight of panel and coat, g.
    pub final_gross_g: Estimate,
    /// Still to lose, g.
    pub still_to_lose_g: Estimate,
    /// Settled?
    pub settled: Settled,
    /// Why so.
    pub reason: String,
}

/// Film still to go after a day.
#[derive(Clone, Debug, Serialize)]
pub struct AfterDay {
    /// Hours after the last coat.
    pub day_h: f64,
    /// Film still to go then, µm.
    pub film_still_to_go_um: Option<Estimate>,
    /// Reasons of what is missing.
    #[serde(skip_serializing_if = "Why::is_empty")]
    pub why: Why,
}

/// The final build by one route.
#[derive(Clone, Debug, Serialize)]
pub struct RouteFindings {
    /// What its figure is called between rooms.
    #[serde(skip)]
    pub key: &'static str,
    /// Which route.
    pub name: &'static str,
    /// The final build, µm.
    pub final_build_um: Option<Estimate>,
    /// It can only say "at least this much".
    pub lower_bound: bool,
    /// Reasons of what is missing.
    #[serde(skip_serializing_if = "Why::is_empty")]
    pub why: Why,
}

impl PanelFindings {
    /// Tells what was worked out of a panel.
    pub(super) fn of(panel: &Panel, work: Arc<PanelWork>, tongue: &Tongue) -> Self {
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
            wet_gross_g: why.note("wet_gross_g", work.wet().map(|wet| wet.gross_g)),
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
            remarks: super::verdict::remarks(&work, tongue),
            why,
            work,
        }
    }
}

impl PanelFindings {
    /// Where the newest weight is left out for no fault of the panel's, the verdict says for what, and does not ask for it again.
    pub(super) fn excuse_newest(&mut self) {
        let Some((newest, _)) = self.work.card.weigh_ins.last() else { return };
        let excused = |flag: &&Flag| flag.weigh_in == *newest && (flag.kind == GAINS || flag.kind == MOVED);
        let flagged = |forecast: &Forecast| forecast.verdict == Verdict::NotYet(NotYet::NewestFlagged);
        if let Some(flag) = self.flags.iter().find(excused)
            && let Some(told) = &mut self.forecast
            && self.work.forecast.as_ref().is_ok_and(flagged)
        {
            told.reason.clone_from(&flag.says);
        }
    }

    /// What of a weight is the scale's drift since the wet weight, g, and taken off in the curve.
    pub fn drift_of(&self, weigh_in: &Id) -> Option<f64> {
        let place = self.work.card.weigh_ins.iter().position(|(id, _)| id == weigh_in)?;
        self.work.forecast.as_ref().ok()?.drift_g.get(place).copied()
    }
}

impl ForecastFindings {
    fn of(forecast: &Forecast, tongue: &Tongue) -> Self {
        Self {
            final_gross_g: estimate(forecast.final_gross_g),
            still_to_lose_g: estimate(forecast.still_to_lose_g.estimate),
            settled: Settled::of(&forecast.verdict),
            reason: super::verdict::reason(forecast, tongue),
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
