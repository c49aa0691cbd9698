//! One candidate's cells.

use super::cell::{Number, Told, in_film};
use super::left::{Left, lands};
use crate::told::{CandidateFindings, Findings, PanelFindings, Settled, Telling};
use crate::words::{Wording, until};
use crate::work::{By, MixCard, Reason, SheetCard, price_per_litre, sheet_of, value};
use quantity::{FilmUnit, Quantity, Unit, decimals_for, figure, figures, plain};
use record::{Candidate, SprayTest};
use science::compare::{PanelValue, days_at_build};
use science::drying::{Forecast, HORIZON_H};
use science::estimate::Z95;
use science::mix::Basis;
use science::routes::normalised_error;
use science::solids::{reduced_solids, volume_solids, weight_solids_reduced};
use science::solvent::at_build;
use science::spread::{coats_needed, price_at_build};
use science::{Estimate, Measured, compare, drying};

/// One candidate with all that its cells are told from.
pub(crate) struct Column<'a> {
    pub test: &'a SprayTest,
    pub told: &'a CandidateFindings,
    pub candidate: Option<&'a Candidate>,
    pub panels: Vec<&'a PanelFindings>,
    pub sheet: SheetCard,
    pub wording: &'a Wording,
}

impl<'a> Column<'a> {
    /// The candidate at that place among the findings.
    pub fn of(test: &'a SprayTest, findings: &'a Findings, place: usize, wording: &'a Wording) -> Self {
        let told = &findings.candidates[place];
        let candidate = test.candidates.find(&told.id);
        let panels: Vec<&PanelFindings> =
            findings.panels.iter().filter(|panel| panel.candidate.as_ref() == Some(&told.id)).collect();
        let of_panel = panels.first().map(|panel| panel.work.card.sheet.clone());
        let sheet = of_panel.or_else(|| Some(sheet_of(test, candidate?, None))).unwrap_or_default();
        Self { test, told, candidate, panels, sheet, wording }
    }

    /// The mean of what candidates are compared by.
    pub fn mean(&self, by: By, film: FilmUnit) -> Told {
        let told = self.told.mean(by);
        let mean = told.known()?;
        let of = match by {
            By::LossShare | By::BuildKept => mean.scaled(100.0),
            By::LossPerArea => mean.scaled(self.wording.units.mass_per_area().shown(1.0)),
            By::FilmStillToGo | By::FilmLost | By::FinalBuild => in_film(mean, film),
        };
        let note = if by == By::LossPerArea { self.before_said() } else { String::new() };
        let number = Number { note, ..Number::new(of, told.panels) };
        // Too early: the range, not the point.
        let early = self.too_early().filter(|_| by == By::FilmStillToGo);
        Ok(match early {
            Some(early) => number.range_alone(&early),
            None => number,
        })
    }

    /// What had left an area before the first weighing, as a mean of the panels of which it can be told; their errors
    /// are of one kind, and do not shrink by being many.
    fn before_said(&self) -> String {
        let per_area = self.wording.units.mass_per_area();
        let of = |panel: &&PanelFindings| {
            let (lost, _) = panel.work.lost_before_g().ok()?;
            Some(lost.scaled(per_area.shown(1e4 / panel.work.card.area_cm2?.value)))
        };
        let told: Vec<Estimate> = self.panels.iter().filter_map(of).collect();
        let mean = |of: fn(&Estimate) -> f64| told.iter().map(of).sum::<f64>() / told.len() as f64;
        if told.is_empty() {
            return "what left before it can't be told".into();
        }
        format!("and before it about {}", figures(mean(|e| e.low), mean(|e| e.mid), mean(|e| e.high), per_area.symbol))
    }

    /// What stands below a range that has no one number yet, since it is too early to say of one of its panels what it will
    /// finally weigh: the weighing that would tell.
    fn too_early(&self) -> Option<String> {
        let early = self.panels.iter().any(|panel| panel.too_early());
        let telling = Telling::too_early(&self.panels);
        let weigh = || telling.map_or_else(|| "weigh on".into(), |telling| until(&telling, self.wording));
        early.then(|| format!("too early: {}", weigh()))
    }

    /// Solids of the mix as sprayed, by weight: what is finally left of the wet coat, from panels weighed bare alone.
    pub fn solids_by_weight(&self) -> Told {
        let (solids, panels) = self.weighed_solids()?;
        let stated = self.stated_by_weight();
        Ok(Number { note: beside_sheet(&solids, stated), ..Number::new(solids.scaled(100.0), panels) })
    }

    /// The same as a share of 1, and from how many panels.
    pub fn weighed_solids(&self) -> Result<(Estimate, usize), Reason> {
        let left = |panel: &&PanelFindings| -> Result<PanelValue, Reason> {
            panel.work.card.bare_g.ok_or(Reason::NoBareWeight)?;
            let lost = value(By::LossShare, &self.told.id, &panel.work)?;
            Ok(lost.kept()?)
        };
        let values: Vec<Result<PanelValue, Reason>> = self.panels.iter().map(left).collect();
        let known: Vec<PanelValue> = values.iter().filter_map(|value| value.clone().ok()).collect();
        if known.is_empty() {
            let labels = self.panels.iter().map(|panel| panel.label.as_str());
            return Err(Reason::of_panels(labels.zip(values)));
        }
        Ok((compare::candidate(&known)?.interval, known.len()))
    }

    /// The sheet's solids by weight, brought to the mix as sprayed.
    pub fn stated_by_weight(&self) -> Result<Measured, Reason> {
        let stated = self.sheet.solids_by_weight.ok_or(Reason::NoSheetSolids(Basis::Weight))?;
        let reducer = match self.candidate {
            Some(candidate) if self.sheet.thinning > 0.0 => MixCard::of(candidate)?.thinning(Basis::Weight)?,
            _ => 0.0,
        };
        let reduced = weight_solids_reduced(stated.value, reducer)?;
        Ok(Measured::new(reduced, stated.u / (1.0 + reducer)))
    }

    /// Solids of the mix as sprayed, by volume: from those by weight and two densities.
    pub fn solids_by_volume(&self) -> Told {
        let (by_weight, panels) = self.weighed_solids()?;
        let density = self.sheet.density_sprayed.ok_or(Reason::NoMixDensity)?;
        let solvent = self.panels.first().ok_or(Reason::NoPanel)?.work.card.solvent_density;
        let at = |weight: f64| volume_solids(Measured::exact(weight), density, solvent).map(|found| found.solids);
        let mid = at(by_weight.mid)?;
        // The weights' own interval is lopsided while the panels dry, and stays so; the densities add on both sides.
        let beside = |weight: f64| at(weight).map_or(0.0, |limit| (limit.value - mid.value).abs());
        let reach = |weight: f64| beside(weight).hypot(Z95 * mid.u);
        let of = Estimate {
            low: (mid.value - reach(by_weight.low)).max(0.0),
            mid: mid.value,
            high: (mid.value + reach(by_weight.high)).min(1.0),
        };
        let stated = self.stated_by_volume();
        Ok(Number { note: beside_sheet(&of, stated), ..Number::new(of.scaled(100.0), panels) })
    }

    /// The sheet's solids by volume, brought to the mix as sprayed.
    pub fn stated_by_volume(&self) -> Result<Measured, Reason> {
        let stated = self.sheet.solids_by_volume.ok_or(Reason::NoSheetSolids(Basis::Volume))?;
        let reduced = reduced_solids(stated.value, self.sheet.thinning)?;
        Ok(Measured::new(reduced, stated.u / (1.0 + self.sheet.thinning)))
    }

    /// Days from the last coat until no more is left to lose than the settle limit.
    pub fn days_to_settle(&self) -> Told {
        let (mut n, mut low, mut mid, mut high) = (0.0, 0.0, 0.0, 0.0);
        let mut all_settled = true;
        for panel in &self.panels {
            let Ok(forecast) = &panel.work.forecast else { continue };
            let settled = Settled::of(&forecast.verdict) == Settled::Yes;
            all_settled &= settled;
            let until = forecast.hours_until(forecast.steady_limit_g);
            let stood = forecast.wet_t_h - panel.work.card.last_coat_h.unwrap_or(forecast.wet_t_h);
            // What is steady was so by its newest weight at the latest.
            let most = if settled { forecast.newest_age_h } else { f64::INFINITY };
            let days = |ahead: f64, of: fn(&drying::Estimate) -> f64| {
                (stood + age_reached(forecast, ahead, of).min(most)) / 24.0
            };
            // Panels share the forecast's error: at every share the mean of their quantiles.
            n += 1.0;
            low += days(until.low, |rest| rest.low);
            mid += days(until.median, |rest| rest.median);
            high += days(until.high, |rest| rest.high);
        }
        if n == 0.0 {
            let values = self.panels.iter().map(|panel| (panel.label.as_str(), panel.work.forecast.clone()));
            return Err(Reason::of_panels(values));
        }
        let (low, mid, high) = (low / n, mid / n, high / n);
        let horizon = HORIZON_H / 24.0;
        let shown = |days: f64| if days.is_finite() { figure(days, 0) } else { format!("over {horizon}") };
        let (from, to) = (shown(low), shown(high));
        let range = if from == to { from } else { format!("{from} to {to}") };
        let early = self.too_early();
        let too_early = early.is_some();
        let words = if let Some(early) = early {
            (range, early)
        } else if all_settled {
            ("steady".into(), format!("by day {range}"))
        } else {
            (shown(mid), range)
        };
        let note = if too_early { String::new() } else { self.days_at_wanted(mid).unwrap_or_default() };
        let bounded = |days: f64| days.min(1e6);
        let of = Estimate { low: bounded(low), mid: bounded(mid), high: bounded(high) };
        // A day by which it was steady is no day on which it became so.
        let range_only = too_early || all_settled;
        Ok(Number { words: Some(words), note, range_only, ..Number::new(of, n as usize) })
    }

    /// Days that the wanted build would take where the panels' took so many, between evaporation and diffusion.
    fn days_at_wanted(&self, days: f64) -> Option<String> {
        let (dry_um, build) = (self.wanted().ok()?.0, self.told.mean(By::FinalBuild).mean?);
        let (least, most) = days_at_build(days, build.mid, dry_um).ok()?;
        let (least, most) = (figure(least, 0), figure(most, 0));
        let range = if least == most { least } else { format!("{least} to {most}") };
        Some(format!("at {}: about {range} d", self.wording.tooth(dry_um.round())))
    }

    /// The wet film that leaves the wanted dry build.
    pub fn wet_to_spray(&self) -> Told {
        let left = self.left()?;
        let of = in_film(self.wet_um(&left)?, self.wording.units.film);
        Ok(Number { note: self.wet_note(&left), ..Number::new(of, left.panels()) })
    }

    /// The other way to the wet film, where there are two.
    fn wet_note(&self, left: &Left) -> String {
        let Left::Kept { .. } = left else { return "by the data sheet".into() };
        let by_sheet = self.by_sheet().and_then(|left| self.wet_um(&left));
        by_sheet.map_or(String::new(), |wet| {
            let film = self.wording.units.film;
            let shown = film.shown(wet.mid);
            format!("by the sheet {} {}", figure(shown, decimals_for(film.shown(wet.width()))), film.symbol())
        })
    }

    /// How many coats it takes.
    pub fn coats(&self) -> Told {
        let left = self.left()?;
        let (dry_um, sanding_um) = self.wanted()?;
        let (each_um, whose) = self.wet_of_a_coat()?;
        let coats = |share: f64| coats_needed(dry_um, sanding_um, share.min(1.0), 0.0, each_um);
        let share = left.share()?;
        let (least, likely, most) = (coats(share.high)?, coats(share.mid)?, coats(share.low)?);
        let value = figure(likely.coats.into(), 0);
        let each = self.wording.film_width(likely.wet_each_um);
        let range =
            if least.coats == most.coats { String::new() } else { format!("{} to {}; ", least.coats, most.coats) };
        let of = Estimate { low: least.coats.into(), mid: likely.coats.into(), high: most.coats.into() };
        let words = Some((value, format!("{range}{each} wet each")));
        Ok(Number { words, note: whose.into(), ..Number::new(of, left.panels()) })
    }

    /// What the paint for a square metre at the wanted build costs.
    pub fn price(&self) -> Told {
        let left = self.left()?;
        let (dry_um, sanding_um) = self.wanted()?;
        let per_litre = price_per_litre(self.candidate.ok_or(Reason::NoCandidate)?)?;
        let (lands, assumed) = lands(self.test);
        let of = price_at_build(per_litre, dry_um, sanding_um, left.measured(), lands)?;
        let of = of.scaled(self.wording.units.per_area().shown(1.0));
        let whose = if assumed { "if half of the spray lands" } else { "" };
        Ok(Number { note: whose.into(), ..Number::new(of, left.panels()) })
    }

    /// Solvent that a square metre of film gives off at the wanted build.
    pub fn solvent_off(&self) -> Told {
        let (dry_um, sanding_um) = self.wanted()?;
        let kept = self.told.mean(By::BuildKept);
        let share = kept.known()?;
        let solvent = self.panels.first().ok_or(Reason::NoPanel)?.work.card.solvent_density;
        let off = at_build(dry_um, sanding_um, &share, solvent.value)?;
        Ok(Number::new(off.scaled(self.wording.units.mass_per_area().shown(1.0)), kept.panels))
    }

    /// The wanted dry build and what is sanded off, µm.
    pub fn wanted(&self) -> Result<(f64, f64), Reason> {
        let wanted = &self.test.wanted;
        let dry = wanted.dry_build_um.map(Quantity::get).filter(|um| *um > 0.0).ok_or(Reason::NoWantedBuild)?;
        Ok((dry, wanted.sanding_loss_um.map_or(0.0, Quantity::get)))
    }

    /// What is left of the wet film: as the panels kept it where they say so, else by the sheet.
    pub fn left(&self) -> Result<Left, Reason> {
        self.wanted()?;
        let kept = self.told.mean(By::BuildKept);
        match kept.mean {
            Some(share) if share.low > 0.0 => Ok(Left::Kept { share, panels: kept.panels }),
            _ => self.by_sheet(),
        }
    }

    /// What is left of it by the sheet.
    fn by_sheet(&self) -> Result<Left, Reason> {
        let missing = || self.sheet.why.clone().unwrap_or(Reason::NoSheetSolids(Basis::Volume));
        let solids = self.sheet.solids_by_volume.ok_or_else(missing)?;
        Ok(Left::Sheet { solids, thinning: self.sheet.thinning })
    }

    /// The wet film that leaves the wanted dry build, µm.
    fn wet_um(&self, left: &Left) -> Result<Estimate, Reason> {
        let (dry_um, sanding_um) = self.wanted()?;
        left.wet_um(dry_um, sanding_um)
    }

    /// Wet film of one coat, µm, and whose it is.
    pub fn wet_of_a_coat(&self) -> Result<(f64, &'static str), Reason> {
        let by_sheet = self.candidate.and_then(|c| c.sheet.wet_film_um).map(Quantity::get).filter(|um| *um > 0.0);
        let by_comb = || {
            let of = |panel: &&PanelFindings| Some(panel.wet_film_um?.mid / f64::from(panel.work.card.coats.max(1)));
            let films: Vec<f64> = self.panels.iter().filter_map(of).collect();
            (!films.is_empty()).then(|| films.iter().sum::<f64>() / films.len() as f64)
        };
        let sheet = by_sheet.map(|um| (um, "coats as the sheet has them"));
        let comb = || by_comb().map(|um| (um, "coats as on these panels"));
        sheet.or_else(comb).ok_or(Reason::NoCoatFilm)
    }
}

/// The age since the wet weight at which no more was, or will be, left to lose than the settle limit, h: `ahead_h` after the
/// newest weight, or looked for before it where it was so by then. Without end where it lies beyond the horizon.
fn age_reached(forecast: &Forecast, ahead_h: f64, of: fn(&drying::Estimate) -> f64) -> f64 {
    if ahead_h >= HORIZON_H {
        return f64::INFINITY;
    }
    if ahead_h > 0.0 {
        return forecast.newest_age_h + ahead_h;
    }
    let (mut before, mut by) = (0.0, forecast.newest_age_h);
    while by - before > 0.5 {
        let middle = 0.5 * (before + by);
        let reached = of(&forecast.still_to_lose_at(forecast.wet_t_h + middle)) <= forecast.steady_limit_g;
        *(if reached { &mut by } else { &mut before }) = middle;
    }
    by
}

/// The sheet's value beside a measured one, both shares of 1, and whether they agree: `E_n` within ±1.
fn beside_sheet(measured: &Estimate, stated: Result<Measured, Reason>) -> String {
    let Ok(stated) = stated else { return "not on the sheet".into() };
    let off = normalised_error(Measured::new(measured.mid, measured.u()), stated);
    let verdict = if off.is_ok_and(|e_n| e_n.abs() <= 1.0) { "agrees" } else { "differs" };
    format!("sheet {} %: {verdict}", plain((stated.value * 1000.0).round() / 10.0))
}
