//! What is told of one panel: the answers with their reasons.

use std::sync::Arc;

use serde::{Serialize, Serializer};

use super::verdict::{Flag, FlagKind, Settled};
use super::why::Why;
use crate::work::PanelWork;
use record::Id;
use science::Estimate;
use science::drying::{Forecast, NotYet, Verdict};
use science::routes::Route;

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
    /// Whether it left the test: nothing more is weighed of it.
    pub left: bool,
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
    /// Which route; written by its name.
    #[serde(rename = "name", serialize_with = "by_name")]
    pub route: Route,
    /// The final build, µm.
    pub final_build_um: Option<Estimate>,
    /// It can only say "at least this much".
    pub lower_bound: bool,
    /// Reasons of what is missing.
    #[serde(skip_serializing_if = "Why::is_empty")]
    pub why: Why,
}

impl RouteFindings {
    /// Which route, by its name.
    pub fn name(&self) -> &'static str {
        route_name(self.route)
    }
}

fn by_name<S: Serializer>(route: &Route, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(route_name(*route))
}

/// A route by its name.
pub(crate) fn route_name(route: Route) -> &'static str {
    match route {
        Route::CombAndScale => "comb and scale",
        Route::Sheet => "data sheet",
        Route::ScaleAndDensity => "scale and dry density",
        Route::Gauge => "gauge",
    }
}

impl PanelFindings {
    /// Whether it is too early to say what it will finally weigh: then the range is told, and no one number.
    pub fn too_early(&self) -> bool {
        self.forecast.as_ref().is_some_and(|forecast| forecast.settled == Settled::TooEarly)
    }

    /// Where the newest weight is left out for no fault of the panel's, the verdict says for what, and does not ask for it again.
    pub(crate) fn excuse_newest(&mut self) {
        let Some(newest) = self.work.readings.last() else { return };
        let excused = |flag: &&Flag| {
            flag.weigh_in == newest.id && matches!(flag.kind, FlagKind::GainsWeight | FlagKind::MovedTogether)
        };
        let flagged = |forecast: &Forecast| forecast.verdict == Verdict::NotYet(NotYet::NewestFlagged);
        if let Some(flag) = self.flags.iter().find(excused)
            && let Some(told) = &mut self.forecast
            && self.work.forecast.as_ref().is_ok_and(flagged)
        {
            told.reason.clone_from(&flag.says);
        }
    }
}
