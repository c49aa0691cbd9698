//! What goes into a number, by its key: name, and value with its unit.

use crate::results::beside::{Column, Left, RowKey, lands};
use crate::results::figures::{film_still_to_go, still_to_lose};
use crate::told::{PanelFindings, route_name};
use crate::words::{Wording, bare_said, day};
use crate::work::{By, Reason, interval, price_per_litre};
use quantity::{Unit, figure, figures, plain, written};
use record::SprayTest;
use science::drying::steady::MOST_UM;
use science::drying::{Belief, Forecast};
use science::routes::{Agreement, SOLVENT_DENSITY, dry_per_wet, normalised_error};
use science::weigh::trend;
use science::{Estimate, Measured};

/// Where inputs are looked up: on one panel, or on a candidate and its panels.
pub(crate) struct Inputs<'a> {
    test: &'a SprayTest,
    panel: Option<&'a PanelFindings>,
    column: Option<Column<'a>>,
    wording: &'a Wording,
}

type Found = Option<String>;

impl<'a> Inputs<'a> {
    pub fn of_panel(test: &'a SprayTest, panel: &'a PanelFindings, wording: &'a Wording) -> Self {
        Self { test, panel: Some(panel), column: None, wording }
    }

    pub fn of_candidate(test: &'a SprayTest, column: Column<'a>, wording: &'a Wording) -> Self {
        Self { test, panel: None, column: Some(column), wording }
    }

    /// An input's name, and its value or that it is missing.
    pub fn told(&self, input: Input) -> (String, String) {
        let value = self.on_panels(input).or_else(|| self.on_candidate(input));
        (input.name().into(), value.filter(|value| !value.is_empty()).unwrap_or_else(|| "not known".into()))
    }

    /// The unit of film in use.
    pub fn film_symbol(&self) -> &'static str {
        self.wording.units.film.symbol()
    }

    /// Each panel's own value of a row that is a mean of panels.
    pub fn values_of(&self, row: RowKey) -> Vec<(String, String)> {
        let by = match row {
            RowKey::Mean(by) => by,
            RowKey::SolidsByWeight => By::LossShare,
            _ => return Vec::new(),
        };
        let Some(column) = &self.column else { return Vec::new() };
        let (film, per_area) = (self.wording.units.film, self.wording.units.mass_per_area());
        let (factor, unit) = match (row, by) {
            (RowKey::SolidsByWeight, _) => (-100.0, "%"),
            (_, By::LossShare | By::BuildKept) => (100.0, "%"),
            (_, By::LossPerArea) => (per_area.shown(1.0), per_area.symbol),
            _ => (film.shown(1.0), film.symbol()),
        };
        let mut told = Vec::new();
        for panel in &column.panels {
            let label = if panel.label.trim().is_empty() { "a panel without a number" } else { &panel.label };
            let text = match interval(by, &column.told.id, &panel.work) {
                Ok(_) if row == RowKey::SolidsByWeight && panel.bare_g.is_none() => {
                    Reason::NoBareWeight.said(self.wording)
                }
                Ok(of) if by == By::FilmStillToGo => film_still_to_go(panel, &of, self.wording),
                // What is left of what goes.
                Ok(of) if factor < 0.0 => {
                    let left = |gone: f64| 100.0 + factor * gone;
                    estimated(&Estimate { low: left(of.high), mid: left(of.mid), high: left(of.low) }, unit)
                }
                Ok(of) => estimated(&of.scaled(factor), unit),
                Err(reason) => reason.said(self.wording),
            };
            told.push((label.to_owned(), text));
        }
        told
    }

    fn forecast<T>(&self, panel: &PanelFindings, of: impl Fn(&Forecast) -> T) -> Option<T> {
        panel.work.forecast.as_ref().ok().map(of)
    }

    /// What the panels have: one of them, or all of a candidate's, like ones told once.
    fn on_panels(&self, input: Input) -> Found {
        let panels = self.column.as_ref().map_or(Vec::new(), |column| column.panels.clone());
        let mut told: Vec<String> = Vec::new();
        for panel in self.panel.into_iter().chain(panels) {
            let value = self.on_panel(input, panel).filter(|value| !told.contains(value));
            told.extend(value);
        }
        (!told.is_empty()).then(|| told.join("; "))
    }

    /// What is taken for granted, in the person's units and with their decimal mark.
    pub fn assumed(&self, text: &str) -> String {
        let solvent = in_unit(SOLVENT_DENSITY, self.wording.units.density());
        written(text).replace("{solvent}", &solvent).replace("{cap}", &self.wording.film_width(MOST_UM))
    }

    fn on_panel(&self, input: Input, panel: &PanelFindings) -> Found {
        let (work, wording) = (&panel.work, self.wording);
        let card = &work.card;
        let division = card.division_g();
        let weight = |g: f64| wording.weight(g, division);
        let density = |of: Measured| in_unit(of, wording.units.density());
        match input {
            Input::WetGross => Some(weight(work.wet().ok()?.weighing.gross_g)),
            Input::NewestGross => Some(weight(work.newest()?.weighing.gross_g)),
            Input::Drift => {
                let drift = work.newest().filter(|_| work.forecast.is_ok())?.drift_g;
                Some(wording.change(drift, division / 10.0))
            }
            Input::Lost => panel.lost_g.map(weight),
            Input::WetCoat => panel.wet_coat_g.map(weight),
            Input::Bare => bare_said(self.test, self.test.panels.find(&panel.id)?, wording),
            Input::WetFilm => panel.wet_film_um.map(|film| wording.film(&film)),
            Input::Density => card.sheet.density_sprayed.map(density),
            Input::Area => card.area_cm2.map(|area| in_unit(area, wording.units.area())),
            Input::Dabs => {
                let read = card.dabs.iter().filter_map(|dab| dab.ok());
                let dabs: Vec<String> = read
                    .map(|dab| {
                        let low = wording.bare_tooth(dab.low_um.unwrap_or(0.0));
                        let high = dab.high_um.map_or("beyond".into(), |um| wording.tooth(um));
                        format!("{low} to {high}")
                    })
                    .collect();
                Some(dabs.join(", "))
            }
            Input::CombBias => work.wet_film.as_ref().ok().map(|film| wording.film_width(film.bias_um)),
            Input::Readings => self.forecast(panel, |forecast| format!("{} kept", forecast.kept)),
            Input::Scatter => self.forecast(panel, |forecast| {
                let sd = forecast.noise.reading_sd_g;
                wording.weight(sd, sd / 10.0)
            }),
            Input::Belief => self.forecast(panel, |forecast| belief(forecast.belief).to_owned()),
            Input::FinalGross => panel.forecast.as_ref().map(|forecast| wording.mass(&forecast.final_gross_g)),
            Input::StillToLose => still_to_lose(panel, wording),
            Input::Limit => self.forecast(panel, |forecast| {
                let limit = forecast.steady_limit_g;
                wording.weight(limit, limit / 10.0)
            }),
            Input::SolventDensity => Some(density(card.solvent_density)),
            Input::Day => card.days_h.first().map(|day_h| day(*day_h)),
            Input::Routes => {
                let told = panel.routes.iter().filter_map(|route| Some((route.name(), route.final_build_um?)));
                Some(told.map(|(name, film)| format!("{name} {}", wording.film(&film))).collect::<Vec<_>>().join("; "))
            }
            Input::Weights => {
                let told = work.build.weights.iter();
                Some(
                    told.map(|(route, w)| format!("{} {}", route_name(*route), figure(*w, 2)))
                        .collect::<Vec<_>>()
                        .join("; "),
                )
            }
            Input::Agreement => Some(match &work.build.agreement {
                Agreement::Untested => "one way alone: nothing to hold it against".into(),
                Agreement::Agree { chi2, degrees } => format!("they agree: χ² {} on {degrees}", figure(*chi2, 1)),
                Agreement::Disagree { chi2, degrees, .. } => {
                    format!("they differ: χ² {} on {degrees}", figure(*chi2, 1))
                }
            }),
            Input::VolumeSolids => card.sheet.solids_by_volume.map(|solids| measured(solids, 100.0, "%")),
            Input::Thinning => Some(format!("{} of a volume", plain(card.sheet.thinning))),
            Input::DryDensity => work.known().dry_density_g_per_ml().ok().map(|rho| wording.density_to(rho, 2)),
            Input::Spots => {
                let to_tenths: Vec<f64> = card.spots_um.iter().map(|um| (um * 10.0).round() / 10.0).collect();
                let spots = wording.gauge_readings(&to_tenths, to_tenths.iter().copied());
                Some(format!("{} {}", spots.join(", "), wording.units.film.symbol()))
            }
            Input::DryPerWet => {
                let wet = work.wet_film.as_ref().ok()?;
                let wet = Measured::new(wet.mean_um, wet.sd_um.hypot(wet.bias_um));
                let ratio = dry_per_wet(work.gauge_um?, wet, Measured::exact(card.sheet.thinning)).ok()?;
                Some(format!("{}, to plan with, never verified solids", measured(ratio, 100.0, "%")))
            }
            Input::Trend => self.trend(panel),
            Input::GaugeU => Some(wording.film_width(card.gauge_u_um)),
            Input::BaseMetal => {
                let base = science::film::base_metal(&card.base_metal_um).ok();
                Some(base.map_or("none read".into(), |base| wording.film_width(base.mean_um)))
            }
            _ => None,
        }
    }

    /// How fast the newest weights fall: whether it is changing now, which is not yet whether it is steady.
    fn trend(&self, panel: &PanelFindings) -> Found {
        let work = &panel.work;
        let newest = || work.kept().skip(work.kept().count().saturating_sub(5)).map(|reading| reading.weighing);
        let days: Vec<f64> = newest().map(|weighing| weighing.t_h / 24.0).collect();
        let masses: Vec<f64> = newest().map(|weighing| weighing.gross_g).collect();
        let (u, limit) = self.forecast(panel, |forecast| (forecast.noise.reading_sd_g, forecast.steady_limit_g))?;
        let trend = trend(&days, &masses, u, limit).ok()?;
        let a_day = Estimate { low: trend.lowest, mid: trend.loss_rate, high: trend.highest };
        Some(format!("{} a day, 90 % interval", self.wording.mass(&a_day)))
    }

    fn on_candidate(&self, input: Input) -> Found {
        let (wanted, wording) = (&self.test.wanted, self.wording);
        let column = self.column.as_ref();
        let percent = |of: Measured| measured(of, 100.0, "%");
        match input {
            Input::Wanted => Some(wanted.dry_build_um.map_or("not set".into(), |um| wording.tooth(um.into()))),
            Input::SandedOff => Some(wanted.sanding_loss_um.map_or("nothing".into(), |um| wording.tooth(um.into()))),
            Input::Kept => Some(match column?.left().ok()? {
                Left::Kept { share, .. } => {
                    let of = share.scaled(100.0);
                    format!("{}, as these panels kept it", figures(of.low, of.mid, of.high, "%"))
                }
                left @ Left::Sheet { .. } => format!("{}, by the sheet", percent(left.measured())),
            }),
            Input::CoatWet => {
                column?.wet_of_a_coat().ok().map(|(um, whose)| format!("{}, {whose}", wording.film_width(um)))
            }
            Input::Lands => {
                let (lands, assumed) = lands(self.test);
                Some(format!("{}{}", percent(lands), if assumed { ", assumed" } else { "" }))
            }
            Input::PricePerLitre => {
                let price = price_per_litre(column?.candidate?);
                Some(price.map_or_else(
                    |wants| wants.said(wording),
                    |of| {
                        let unit = self.wording.units.large_volume();
                        let price = figure(of * unit.stored(1.0), 2);
                        format!("{price} {}", self.test.currency).trim_end().to_owned() + "/" + unit.symbol()
                    },
                ))
            }
            Input::StatedByWeight => Some(column?.stated_by_weight().map_or_else(|why| why.said(wording), percent)),
            Input::StatedByVolume => Some(column?.stated_by_volume().map_or_else(|why| why.said(wording), percent)),
            Input::AgainstSheet => {
                let column = column?;
                let (solids, _) = column.weighed_solids().ok()?;
                let off = normalised_error(Measured::new(solids.mid, solids.u()), column.stated_by_weight().ok()?);
                off.ok().map(|e_n| format!("E_n {} by weight: beyond ±1 they differ", figure(e_n, 1)))
            }
            Input::VolumeSolids => column?.sheet.solids_by_volume.map(percent),
            Input::Thinning => Some(format!("{} of a volume", plain(column?.sheet.thinning))),
            Input::Density => column?.sheet.density_sprayed.map(|of| in_unit(of, self.wording.units.density())),
            _ => None,
        }
    }
}

/// A measured value in a unit without an offset.
fn in_unit(of: Measured, unit: impl Unit) -> String {
    measured(of, unit.shown(1.0), unit.symbol())
}

/// A value with its 95 % interval: `0.870 g/mL (0.811 to 0.929)`.
fn measured(of: Measured, factor: f64, unit: &str) -> String {
    if of.u == 0.0 {
        return format!("{} {unit}", plain(of.value * factor));
    }
    estimated(&Estimate::normal(of.value * factor, of.u * factor), unit)
}

fn estimated(of: &Estimate, unit: &str) -> String {
    figures(of.low, of.mid, of.high, unit)
}

fn belief(belief: Belief) -> &'static str {
    match belief {
        Belief::AnyCoat => "67 % solids by weight, give or take 12",
        Belief::Sheet => "the data sheet's solids",
        Belief::Older => "older panels of the same candidate",
        Belief::LossSoFar => "the loss so far, for want of a bare weight",
    }
}

/// What goes into a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Input {
    WetGross,
    NewestGross,
    Drift,
    Lost,
    WetCoat,
    Bare,
    WetFilm,
    Density,
    Area,
    Dabs,
    CombBias,
    Readings,
    Scatter,
    Belief,
    FinalGross,
    StillToLose,
    Limit,
    SolventDensity,
    Day,
    Routes,
    Weights,
    Agreement,
    VolumeSolids,
    Thinning,
    DryDensity,
    Spots,
    GaugeU,
    BaseMetal,
    DryPerWet,
    Trend,
    Wanted,
    SandedOff,
    Kept,
    CoatWet,
    Lands,
    PricePerLitre,
    StatedByWeight,
    StatedByVolume,
    AgainstSheet,
}

impl Input {
    fn name(self) -> &'static str {
        match self {
            Self::WetGross => "Wet weight",
            Self::NewestGross => "Newest weight",
            Self::Drift => "Drift taken off",
            Self::Lost => "Lost so far",
            Self::WetCoat => "Wet coat",
            Self::Bare => "Bare weight",
            Self::WetFilm => "Wet film W, comb",
            Self::Density => "Density of the mix",
            Self::Area => "Coated area",
            Self::Dabs => "Dabs",
            Self::CombBias => "Comb's own error",
            Self::Readings => "Weigh-ins",
            Self::Scatter => "Scatter of a weighing",
            Self::Belief => "Held before any weight",
            Self::FinalGross => "Final weight",
            Self::StillToLose => "Still to lose",
            Self::Limit => "Settle limit",
            Self::SolventDensity => "Solvent density",
            Self::Day => "Day of sanding",
            Self::Routes => "Routes",
            Self::Weights => "Their weights",
            Self::Agreement => "Do they agree",
            Self::VolumeSolids => "Solids by volume VS, sheet",
            Self::Thinning => "Reducer for a volume of paint",
            Self::DryDensity => "Density of the dry film",
            Self::Spots => "Spots",
            Self::GaugeU => "Gauge's own error",
            Self::BaseMetal => "Base metal",
            Self::DryPerWet => "Dry film over wet film, before reducer",
            Self::Trend => "Falling now, last five weights",
            Self::Wanted => "Wanted build",
            Self::SandedOff => "Sanded off",
            Self::Kept => "Share of the wet film kept",
            Self::CoatWet => "Wet film of a coat",
            Self::Lands => "Share that lands",
            Self::PricePerLitre => "Price of the mix",
            Self::StatedByWeight => "Sheet, by weight",
            Self::StatedByVolume => "Sheet, by volume",
            Self::AgainstSheet => "Held against the sheet",
        }
    }
}
