//! What the drying curve says, in sentences.

use super::comb::comb_said;
use super::refused::route_input_name;
use super::wording::{Wording, duration};
use crate::work::{PanelCard, PanelWork};
use quantity::{Unit, figure, plain};
use science::drying::{
    AGE_TRIED_H, Belief, Beyond, COATS_TRIED, Forecast, GAP_TRIED_H, HORIZON_H, Jump, MOVES_TRIED, NoForecast, NotYet,
    OlderUse, SOLIDS_TRIED, Since, TooEarly, Verdict, Warning,
};
use science::routes::Agreement;

/// Why there is no forecast, in a sentence.
pub(crate) fn no_forecast(trouble: NoForecast) -> String {
    match trouble {
        NoForecast::NoWeighing => "There is no weight after the last coat yet.".into(),
        NoForecast::FewReadings { kept, needed } => {
            format!("A drying curve needs {needed} weigh-ins with the wet weight; there {} so far.", count(kept))
        }
        NoForecast::BadScale => "The scale's division is missing or makes no sense: give it in Plan.".into(),
        NoForecast::TwoBalances => {
            "This panel was weighed on two scales; without a blank weighed on both that is not one curve.".into()
        }
        NoForecast::NoCoat { .. } => "The wet weight is not above the bare weight: one of them is wrong.".into(),
        NoForecast::AllEqual => "All weights are equal: nothing has left that this scale could see.".into(),
        NoForecast::NothingLost { .. } => {
            "The weights did not fall by more than they scatter, so there is no drying curve in them.".into()
        }
        NoForecast::NotPlausible => "These weights or times cannot be meant: look at them again.".into(),
        NoForecast::BadSolids => "The solids on the data sheet are no share between 0 and 100 %.".into(),
        NoForecast::NoPlateau { .. } => "No final weight agrees with these weights: look at them again.".into(),
    }
}

fn count(kept: usize) -> String {
    match kept {
        0 => "are none".into(),
        1 => "is 1".into(),
        n => format!("are {n}"),
    }
}

/// Why the verdict is what it is, in a sentence.
pub(crate) fn reason(forecast: &Forecast, wording: &Wording) -> String {
    let limit = wording.weight(forecast.steady_limit_g, forecast.steady_limit_g / 10.0);
    let left = forecast.steady_limit_um.map_or_else(|| limit.clone(), |um| wording.film_width(um));
    // Never 100: nothing is that sure.
    let percent = (100.0 * forecast.steady_probability).floor().min(99.0);
    let level = level_for(forecast);
    match &forecast.verdict {
        Verdict::Yes(Since::Now) => {
            format!("{percent} % sure that under {left} is still to come where it is now.{level}")
        }
        Verdict::Yes(Since::Earlier(_)) => {
            format!("It was steady where it is now, and no weight since has moved by more than {limit}.")
        }
        Verdict::NotYet(NotYet::StillToLose) => {
            format!("Only {percent} % sure that under {left} is still to come.{level}")
        }
        Verdict::NotYet(NotYet::LevelTooBriefly) => {
            format!("A thin coat can go on losing for weeks: {percent} % sure is not enough so soon.{level}")
        }
        Verdict::NotYet(NotYet::NotLevel { .. }) => "The last three weights are not level yet.".into(),
        Verdict::NotYet(NotYet::NewestFlagged) => "The newest weight is off the curve: weigh again.".into(),
        Verdict::NotYet(NotYet::ScaleCannotSee { division_g, panel_times }) => format!(
            "This scale cannot see the rest: it takes one that shows {} {} or less, or a panel {} times as large.{level}",
            one_figure(wording.units.mass.shown(*division_g)),
            wording.units.mass.symbol(),
            plain((panel_times * 10.0).ceil() / 10.0),
        ),
        Verdict::TooEarly(TooEarly::FewReadings { kept, needed }) => {
            format!("There {} of the {needed} weigh-ins it takes.", count(*kept))
        }
        Verdict::TooEarly(TooEarly::WideInterval { .. }) => {
            "What it will finally weigh is not known closely enough yet.".into()
        }
    }
}

/// The plain fact beside the verdict, where there is one to tell: ` Level for 6 d.`
fn level_for(forecast: &Forecast) -> String {
    let level = forecast.level;
    let tells = level.readings >= LEVEL_READINGS && level.hours >= LEVEL_H;
    if tells { format!(" Level for {}.", duration(level.hours)) } else { String::new() }
}

/// So many weighings over so long, h, are called level; fewer say little (design choice).
const LEVEL_READINGS: usize = 3;
const LEVEL_H: f64 = 24.0;

/// Rounded down to one figure: the scale must be at least this fine.
fn one_figure(step: f64) -> String {
    let places = step.abs().max(1e-9).log10().floor();
    let unit = 10f64.powf(places);
    figure((step / unit).floor() * unit, (-places).max(0.0) as usize)
}

/// What to know beside a panel's numbers.
pub(crate) fn remarks(work: &PanelWork, wording: &Wording) -> Vec<String> {
    let mut said = on_the_card(&work.card, wording);
    if let Ok(forecast) = &work.forecast {
        said.extend(forecast.warnings.iter().filter_map(|warning| warn(warning, work, wording)));
        said.extend(jumps_said(work, forecast, wording));
        said.extend(beyond_said(&forecast.beyond_evidence()));
        if let Some(alone) = forecast.narrowed.map(|narrowed| narrowed.from) {
            let [from, to] =
                [alone.width(), forecast.final_gross_g.width()].map(|g| wording.weight(g, work.card.division_g()));
            if from != to {
                said.push(format!("The stated solids change the range of the final weight from {from} to {to}."));
            }
        }
        if forecast.belief == Belief::Older {
            let used = forecast.older.iter().filter(|older| matches!(older, OlderUse::Used { .. })).count();
            said.push(format!("Older panels of the same candidate ({used}) help with what this one cannot know yet."));
        }
    }
    if let Agreement::Disagree { causes, .. } = &work.build.agreement {
        let cause = causes
            .first()
            .map_or(String::new(), |cause| format!(" Look first at the {}.", route_input_name(cause.input)));
        said.push(format!("The ways to the final build differ by more than chance.{cause}"));
    }
    said
}

/// What of a panel the method was not tried on: one sentence, however much it is.
fn beyond_said(beyond: &[Beyond]) -> Option<String> {
    let percent = |share: f64| figure(100.0 * share, 0);
    let one = |beyond: &Beyond| match beyond {
        Beyond::Solids(share) => {
            let [least, most] = SOLIDS_TRIED.map(percent);
            format!("{} % solids (tried: {least} to {most} %)", percent(*share))
        }
        Beyond::Moves(moves) => format!("{moves} moves (tried: {MOVES_TRIED})"),
        Beyond::Gap(hours) => format!("{} without a weight (tried: {})", duration(*hours), duration(GAP_TRIED_H)),
        Beyond::Coats(coats) => format!("{coats} coats (tried: {COATS_TRIED})"),
        Beyond::Age(hours) => format!("weighed to {} (tried: {})", duration(*hours), duration(AGE_TRIED_H)),
    };
    let all: Vec<String> = beyond.iter().map(one).collect();
    let all = all.join(", ");
    (!all.is_empty()).then(|| format!("Outside what the forecast was tried on: {all}. Its range is less certain."))
}

fn on_the_card(card: &PanelCard, wording: &Wording) -> Vec<String> {
    let mut said = Vec::new();
    for scale in card.scales.iter().flatten().filter(|scale| scale.assumed) {
        let division = wording.weight(scale.scale.division_g, scale.scale.division_g);
        said.push(format!("The scale's division is not filled in; the weights look like steps of {division}."));
    }
    if card.sheet.left_out {
        said.push("The data sheet's solids are left out of the forecast, as you chose.".into());
    }
    let unread = card.dabs.iter().filter_map(|dab| dab.as_ref().err());
    said.extend(unread.map(|trouble| ["A comb reading is left out: ", &comb_said(trouble, wording)].concat()));
    if !card.dabs.is_empty() && card.dabs.len() < 3 {
        said.push("Three dabs at different places or more tell the wet film better than one.".into());
    }
    said
}

/// How the scale jumped since the wet weight: each jump by itself, more than two in one sentence.
fn jumps_said(work: &PanelWork, forecast: &Forecast, wording: &Wording) -> Vec<String> {
    let jumps: Vec<&Jump> = forecast.jumps().collect();
    let division = work.card.division_g();
    if jumps.len() > MOST_JUMPS_SAID {
        let most = jumps.iter().map(|jump| jump.by_g.abs()).fold(0.0, f64::max);
        let (times, most) = (jumps.len(), wording.weight(most, division));
        return vec![format!(
            "The scale jumped {times} times, by up to {most}, as the blank shows. That is taken off; zero it before each round."
        )];
    }
    let coat_h = work.card.last_coat_h.unwrap_or(forecast.wet_t_h);
    let said = |jump: &Jump| {
        let (by, after, until) = (jump.by_g, duration(jump.after_h - coat_h), duration(jump.by_h - coat_h));
        let (by, panels) =
            (wording.change(by, division), if jump.told_by_panel { " and these weights show" } else { " shows" });
        format!("The scale jumped by {by} between {after} and {until}, as the blank{panels}. That is taken off.")
    };
    jumps.into_iter().map(said).collect()
}

/// Jumps of the scale that are told one by one.
const MOST_JUMPS_SAID: usize = 2;

fn warn(warning: &Warning, work: &PanelWork, wording: &Wording) -> Option<String> {
    Some(match warning {
        Warning::Jumped(_) => return None,
        Warning::FirstBlankOff { by_g } => format!(
            "The blank's first weight is {} off all later ones and counts as a slip; if the scale jumped after it, say in Weigh that the second is right.",
            wording.change(*by_g, work.card.division_g())
        ),
        Warning::Wanders { .. } => "The weight moves for other reasons than drying: damp, dust or handling.".into(),
        Warning::Rises { by_g } if *by_g <= work.may_gain_g() => format!(
            "The weight rises by {} beyond the scatter, as a primer does that gains weight as it cures; the curve can only fall.",
            wording.change(*by_g, by_g / 10.0)
        ),
        Warning::Rises { by_g } => format!(
            "The weight rises by {} beyond the scatter; drying cannot do that, so look for damp, dust or a moved zero.",
            wording.change(*by_g, by_g / 10.0)
        ),
        Warning::ScaleTooCoarse => "This scale is coarse for so little paint.".into(),
        Warning::SheetConflict { .. } => {
            "The stated solids and the weights disagree: check the sheet's figure and the mix.".into()
        }
        Warning::SheetNeedsBareWeight => "The data sheet's solids help only with a bare weight.".into(),
        Warning::MoveNotSeenYet => {
            "No weight since the move to the warmer place: what that changes is not in the curve yet.".into()
        }
        Warning::NoBlank => "No blank was weighed: the scale's drift is assumed, not measured.".into(),
        Warning::BadFilmScale => "The coated area or the density of what leaves makes no sense.".into(),
        Warning::NotConverged(_) => "The best curve was not found for certain, so its interval is less certain.".into(),
    })
}

/// How long until no more is left to lose than the settle limit, if that is within reach.
pub(crate) fn days_to_go(forecast: &Forecast) -> Option<String> {
    let until = forecast.hours_until(forecast.steady_limit_g);
    let (low, high) = (until.low, until.high);
    if high >= HORIZON_H || high <= 0.0 {
        return None;
    }
    if low <= 1.0 {
        return Some(format!("up to {}", duration(high)));
    }
    let (low, high) = (duration(low), duration(high));
    Some(if low == high { format!("about {high}") } else { format!("{low} to {high}") })
}
