//! What goes into a number, by its key: name, and value with its unit.

use crate::results::beside::{Cell, Column, Left, Line, lands};
use crate::told::{Findings, PanelFindings, route_name};
use crate::words::{Tongue, bare_said, day};
use crate::work::{By, interval, price_per_litre};
use quantity::{Unit, figure, figures, plain, written};
use record::SprayTest;
use science::drying::{Belief, Forecast};
use science::routes::{Agreement, SOLVENT_DENSITY, dry_per_wet, normalised_error};
use science::weigh::trend;
use science::{Estimate, Measured};

/// Where inputs are looked up: on one panel, or on a candidate and its panels.
pub(crate) struct Inputs<'a> {
    test: &'a SprayTest,
    panel: Option<&'a PanelFindings>,
    column: Option<Column<'a>>,
    tongue: &'a Tongue,
}

type Found = Option<String>;

impl<'a> Inputs<'a> {
    pub fn of_panel(test: &'a SprayTest, panel: &'a PanelFindings, tongue: &'a Tongue) -> Self {
        Self { test, panel: Some(panel), column: None, tongue }
    }

    pub fn of_candidate(test: &'a SprayTest, findings: &'a Findings, place: usize, tongue: &'a Tongue) -> Self {
        Self { test, panel: None, column: Some(Column::of(test, findings, place, tongue)), tongue }
    }

    /// What a row says of the candidate; nothing on a panel, of which no row tells.
    pub fn cell(&self, line: &Line<'a>) -> Cell {
        self.column.as_ref().map(|column| line.cell(column)).unwrap_or_default()
    }

    /// An input's name, and its value or that it is missing.
    pub fn told(&self, key: &str) -> (String, String) {
        let name = NAMES.iter().find(|known| known.0 == key).map_or(key, |known| known.1);
        let value = self.on_panels(key).or_else(|| self.on_candidate(key));
        (name.into(), value.filter(|value| !value.is_empty()).unwrap_or_else(|| "not known".into()))
    }

    /// Each panel's own value of a row that is a mean of panels.
    pub fn values_of(&self, row: &str) -> Vec<(String, String)> {
        let by = match row {
            "film_still_to_go" => By::FilmStillToGo,
            "loss_per_area" => By::LossPerArea,
            "loss_share" | "solids_by_weight" => By::LossShare,
            "film_lost" => By::FilmLost,
            "build_kept" => By::BuildKept,
            "final_build" => By::FinalBuild,
            _ => return Vec::new(),
        };
        let Some(column) = &self.column else { return Vec::new() };
        let film = self.tongue.units.film;
        let (factor, unit) = match (row, by) {
            ("solids_by_weight", _) => (-100.0, "%"),
            (_, By::LossShare | By::BuildKept) => (100.0, "%"),
            (_, By::LossPerArea) => (1.0, "g/m²"),
            _ => (film.shown(1.0), film.symbol()),
        };
        let mut told = Vec::new();
        for panel in &column.panels {
            let label = if panel.label.trim().is_empty() { "a panel without a number" } else { &panel.label };
            let text = match interval(by, &column.told.id, &panel.work) {
                // What is left of what goes.
                Ok(of) if factor < 0.0 => {
                    let left = |gone: f64| 100.0 + factor * gone;
                    estimated(&Estimate { low: left(of.high), mid: left(of.mid), high: left(of.low) }, unit)
                }
                Ok(of) => estimated(&of.scaled(factor), unit),
                Err(reason) => reason.said(self.tongue),
            };
            told.push((label.to_owned(), text));
        }
        told
    }

    fn forecast<T>(&self, panel: &PanelFindings, of: impl Fn(&Forecast) -> T) -> Option<T> {
        panel.work.forecast.as_ref().ok().map(of)
    }

    /// What the panels have: one of them, or all of a candidate's, like ones told once.
    fn on_panels(&self, key: &str) -> Found {
        let panels = self.column.as_ref().map_or(Vec::new(), |column| column.panels.clone());
        let mut told: Vec<String> = Vec::new();
        for panel in self.panel.into_iter().chain(panels) {
            let value = self.on_panel(key, panel).filter(|value| !told.contains(value));
            told.extend(value);
        }
        (!told.is_empty()).then(|| told.join("; "))
    }

    /// What is taken for granted, in the person's units and with their decimal mark.
    pub fn assumed(&self, text: &str) -> String {
        let solvent = in_unit(SOLVENT_DENSITY, self.tongue.units.density());
        written(text).replace("{solvent}", &solvent)
    }

    fn on_panel(&self, key: &str, panel: &PanelFindings) -> Found {
        let (work, tongue) = (&panel.work, self.tongue);
        let card = &work.card;
        let division = card.division_g();
        let weight = |g: f64| tongue.weight(g, division);
        let density = |of: Measured| in_unit(of, tongue.units.density());
        match key {
            "wet_gross" => Some(weight(work.wet().ok()?.weighing.gross_g)),
            "newest_gross" => Some(weight(work.newest()?.weighing.gross_g)),
            "drift" => {
                let drift = work.newest().filter(|_| work.forecast.is_ok())?.drift_g;
                Some(tongue.change(drift, division / 10.0))
            }
            "lost" => panel.lost_g.map(weight),
            "wet_coat" => panel.wet_coat_g.map(weight),
            "bare" => bare_said(self.test, self.test.panels.find(&panel.id)?, tongue),
            "wet_film" => panel.wet_film_um.map(|film| tongue.film(&film)),
            "density" => card.sheet.density_sprayed.map(density),
            "area" => card.area_cm2.map(|area| in_unit(area, tongue.units.area())),
            "dabs" => {
                let read = card.dabs.iter().filter_map(|dab| dab.ok());
                let dabs: Vec<String> = read
                    .map(|dab| {
                        let low = tongue.bare_tooth(dab.low_um.unwrap_or(0.0));
                        let high = dab.high_um.map_or("beyond".into(), |um| tongue.tooth(um));
                        format!("{low} to {high}")
                    })
                    .collect();
                Some(dabs.join(", "))
            }
            "comb_bias" => work.wet_film.as_ref().ok().map(|film| tongue.film_width(film.bias_um)),
            "readings" => self.forecast(panel, |forecast| format!("{} kept", forecast.kept)),
            "scatter" => self.forecast(panel, |forecast| {
                let sd = forecast.noise.reading_sd_g;
                tongue.weight(sd, sd / 10.0)
            }),
            "belief" => self.forecast(panel, |forecast| belief(forecast.belief).to_owned()),
            "final_gross" => panel.forecast.as_ref().map(|forecast| tongue.mass(&forecast.final_gross_g)),
            "still_to_lose" => panel.forecast.as_ref().map(|forecast| tongue.mass_range(&forecast.still_to_lose_g)),
            "limit" => self.forecast(panel, |forecast| {
                let limit = forecast.steady_limit_g;
                tongue.weight(limit, limit / 10.0)
            }),
            "solvent_density" => Some(density(card.solvent_density)),
            "day" => card.days_h.first().map(|day_h| day(*day_h)),
            "routes" => {
                let told = panel.routes.iter().filter_map(|route| Some((route.name, route.final_build_um?)));
                Some(told.map(|(name, film)| format!("{name} {}", tongue.film(&film))).collect::<Vec<_>>().join("; "))
            }
            "weights" => {
                let told = work.build.weights.iter();
                Some(
                    told.map(|(route, w)| format!("{} {}", route_name(*route), figure(*w, 2)))
                        .collect::<Vec<_>>()
                        .join("; "),
                )
            }
            "agreement" => Some(match &work.build.agreement {
                Agreement::Untested => "one way alone: nothing to hold it against".into(),
                Agreement::Agree { chi2, degrees } => format!("they agree: χ² {} on {degrees}", figure(*chi2, 1)),
                Agreement::Disagree { chi2, degrees, .. } => {
                    format!("they differ: χ² {} on {degrees}", figure(*chi2, 1))
                }
            }),
            "volume_solids" => card.sheet.solids_by_volume.map(|solids| measured(solids, 100.0, "%")),
            "thinning" => Some(format!("{} of a volume", plain(card.sheet.thinning))),
            "dry_density" => work.known().dry_density_g_per_ml().ok().map(|rho| tongue.density_to(rho, 2)),
            "spots" => {
                let to_tenths: Vec<f64> = card.spots_um.iter().map(|um| (um * 10.0).round() / 10.0).collect();
                let spots = tongue.gauge_readings(&to_tenths, to_tenths.iter().copied());
                Some(format!("{} {}", spots.join(", "), tongue.units.film.symbol()))
            }
            "dry_per_wet" => {
                let wet = work.wet_film.as_ref().ok()?;
                let wet = Measured::new(wet.mean_um, wet.sd_um.hypot(wet.bias_um));
                let ratio = dry_per_wet(work.gauge_um?, wet, Measured::exact(card.sheet.thinning)).ok()?;
                Some(format!("{}, to plan with, never verified solids", measured(ratio, 100.0, "%")))
            }
            "trend" => self.trend(panel),
            "gauge_u" => Some(tongue.film_width(card.gauge_u_um)),
            "base_metal" => {
                let base = science::film::base_metal(&card.base_metal_um).ok();
                Some(base.map_or("none read".into(), |base| tongue.film_width(base.mean_um)))
            }
            _ => None,
        }
    }

    /// How fast the newest weights fall: whether it is changing now, which is not yet whether it has settled.
    fn trend(&self, panel: &PanelFindings) -> Found {
        let work = &panel.work;
        let newest = || work.kept().skip(work.kept().count().saturating_sub(5)).map(|reading| reading.weighing);
        let days: Vec<f64> = newest().map(|weighing| weighing.t_h / 24.0).collect();
        let masses: Vec<f64> = newest().map(|weighing| weighing.gross_g).collect();
        let (u, limit) = self.forecast(panel, |forecast| (forecast.noise.reading_sd_g, forecast.steady_limit_g))?;
        let trend = trend(&days, &masses, u, limit).ok()?;
        let a_day = Estimate { low: trend.lowest, mid: trend.loss_rate, high: trend.highest };
        Some(format!("{} a day, 90 % interval", self.tongue.mass(&a_day)))
    }

    fn on_candidate(&self, key: &str) -> Found {
        let (wanted, tongue) = (&self.test.wanted, self.tongue);
        let column = self.column.as_ref();
        let percent = |of: Measured| measured(of, 100.0, "%");
        match key {
            "wanted" => Some(wanted.dry_build_um.map_or("not set".into(), |um| tongue.tooth(um.into()))),
            "sanded_off" => Some(wanted.sanding_loss_um.map_or("nothing".into(), |um| tongue.tooth(um.into()))),
            "kept" => Some(match column?.left().ok()? {
                Left::Kept { share, .. } => {
                    let of = share.scaled(100.0);
                    format!("{}, as these panels kept it", figures(of.low, of.mid, of.high, "%"))
                }
                left @ Left::Sheet { .. } => format!("{}, by the sheet", percent(left.measured())),
            }),
            "coat_wet" => column?.wet_of_a_coat().ok().map(|(um, whose)| format!("{}, {whose}", tongue.film_width(um))),
            "lands" => {
                let (lands, assumed) = lands(self.test);
                Some(format!("{}{}", percent(lands), if assumed { ", assumed" } else { "" }))
            }
            "price_per_litre" => {
                let price = price_per_litre(column?.candidate?);
                Some(price.map_or_else(
                    |wants| wants.said(tongue),
                    |of| {
                        let unit = self.tongue.units.large_volume();
                        let price = figure(of * unit.stored(1.0), 2);
                        format!("{price} {}", self.test.currency).trim_end().to_owned() + "/" + unit.symbol()
                    },
                ))
            }
            "stated_by_weight" => Some(column?.stated_by_weight().map_or_else(|why| why.said(tongue), percent)),
            "stated_by_volume" => Some(column?.stated_by_volume().map_or_else(|why| why.said(tongue), percent)),
            "e_n" => {
                let column = column?;
                let (solids, _) = column.weighed_solids().ok()?;
                let off = normalised_error(Measured::new(solids.mid, solids.u()), column.stated_by_weight().ok()?);
                off.ok().map(|e_n| format!("E_n {} by weight: beyond ±1 they differ", figure(e_n, 1)))
            }
            "volume_solids" => column?.sheet.solids_by_volume.map(percent),
            "thinning" => Some(format!("{} of a volume", plain(column?.sheet.thinning))),
            "density" => column?.sheet.density_sprayed.map(|of| in_unit(of, self.tongue.units.density())),
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

/// What each input is called.
const NAMES: [(&str, &str); 39] = [
    ("wet_gross", "Wet weight"),
    ("newest_gross", "Newest weight"),
    ("drift", "Drift taken off"),
    ("lost", "Lost so far"),
    ("wet_coat", "Wet coat"),
    ("bare", "Bare weight"),
    ("wet_film", "Wet film W, comb"),
    ("density", "Density of the mix"),
    ("area", "Coated area"),
    ("dabs", "Dabs"),
    ("comb_bias", "Comb's own error"),
    ("readings", "Weigh-ins"),
    ("scatter", "Scatter of a weighing"),
    ("belief", "Held before any weight"),
    ("final_gross", "Final weight"),
    ("still_to_lose", "Still to lose"),
    ("limit", "Settle limit"),
    ("solvent_density", "Solvent density"),
    ("day", "Day of sanding"),
    ("routes", "Routes"),
    ("weights", "Their weights"),
    ("agreement", "Do they agree"),
    ("volume_solids", "Solids by volume VS, sheet"),
    ("thinning", "Reducer for a volume of paint"),
    ("dry_density", "Density of the dry film"),
    ("spots", "Spots"),
    ("gauge_u", "Gauge's own error"),
    ("base_metal", "Base metal"),
    ("dry_per_wet", "Dry film over wet film, before reducer"),
    ("trend", "Falling now, last five weights"),
    ("wanted", "Wanted build"),
    ("sanded_off", "Sanded off"),
    ("kept", "Share of the wet film kept"),
    ("coat_wet", "Wet film of a coat"),
    ("lands", "Share that lands"),
    ("price_per_litre", "Price of the mix"),
    ("stated_by_weight", "Sheet, by weight"),
    ("stated_by_volume", "Sheet, by volume"),
    ("e_n", "Held against the sheet"),
];
