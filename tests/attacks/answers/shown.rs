//! One number, one interval, wherever it is shown.

use super::{Story, Told, quiet_days};
use crate::{Attacks, holds, same};
use comb_scale::findings::results::{
    CurveChoice, FigureKey, RowKey, curve_text, film_text, panel_figure, panel_in_short, side_by_side, worked_beside,
};
use comb_scale::findings::{By, PanelFindings, Wording};
use comb_scale::share::{DecimalMark, report, results_csv};

#[test]
fn a_chart_speaks_of_the_panels_that_it_draws() {
    let mut attacks = Attacks::on("answers, what a chart speaks of");
    let told = Told::of(&Story::of(3, quiet_days(9)));
    for alone in 0..3 {
        attacks.attempt(format!("A{alone} alone"), || {
            let panel = Some(told.findings.panels[alone].id.clone());
            let text =
                curve_text(&told.findings, &CurveChoice { panel, ..CurveChoice::default() }, &Wording::default());
            for p in 0..3 {
                same(&format!("A{p} is spoken of"), text.contains(&format!("A{p} ")), p == alone)?;
            }
            holds(text.starts_with("Chart of mass lost"), text)
        });
    }
    attacks.close();
}

/// Every text that shows a panel's number of that row of the comparison: in its figures, in the comparison, in how the
/// comparison was worked out, and in sentences.
fn shown(told: &Told, panel: &PanelFindings, by: By, unit: &str) -> Vec<(&'static str, String)> {
    let wording = Wording::default();
    let mut texts = Vec::new();
    let key = match by {
        By::FilmStillToGo => Some(FigureKey::FilmStillToGo(0)),
        By::FinalBuild => Some(FigureKey::FinalBuild),
        _ => None,
    };
    let figure = key.and_then(|key| panel_figure(panel, key, &wording).value);
    texts.extend(figure.map(|value| ("figure", value)));
    let candidate = panel.candidate.as_ref().expect("it carries one");
    let row = worked_beside(&told.test, &told.findings, RowKey::Mean(by), &wording);
    let (_, row) = row.into_iter().find(|(id, _)| id == candidate).expect("the candidate");
    let own = row.inputs.iter().find(|(name, _)| *name == panel.label);
    texts.extend(own.map(|(_, value)| ("worked", value.clone())));
    if told.story.panels == 1 {
        let table = side_by_side(&told.test, &told.findings, &wording);
        let cell = &table.rows.iter().find(|row| row.key == RowKey::Mean(by)).expect("a row").cells[0];
        if cell.range_only {
            texts.push(("side by side", format!("{} {unit}", cell.value)));
        } else if cell.sort.is_some() && cell.below.contains(" to ") {
            texts.push(("side by side", format!("{} {unit} ({})", cell.value, cell.below)));
        }
    }
    texts
}

#[test]
fn one_number_has_one_interval_wherever_it_is_shown() {
    let mut attacks = Attacks::on("answers, one number in many places");
    let dab = r#"{ "wetted_um": 200, "dry_um": 250 }"#;
    let spot = r#"{ "at": "2026-03-20T10:00:00Z", "place": "top", "readings_um": [ 118, 121, 120 ] }"#;
    for panels in [1, 3] {
        for days in [4, 9, 20] {
            for bare in [true, false] {
                for gauge in [true, false] {
                    let mut story = Story::of(panels, quiet_days(days));
                    story.bare = bare;
                    story.also = r#""wanted": { "sanding_h": 72 }, "candidates": [ { "id": "c", "label": "C",
                        "sheet": { "density_g_per_ml": 1.3, "solids_by_volume": 0.5 } } ], "#
                        .into();
                    let spots = if gauge { spot } else { "" };
                    story.each = format!(
                        r#""candidate": "c", "coated_cm2": 900, "dabs": [ {dab}, {dab}, {dab} ], "spots": [ {spots} ],"#
                    );
                    let told = Told::of(&story);
                    let rows = [
                        (By::FilmStillToGo, "µm"),
                        (By::FinalBuild, "µm"),
                        (By::LossPerArea, "g/m²"),
                        (By::LossShare, "%"),
                        (By::FilmLost, "µm"),
                        (By::BuildKept, "%"),
                    ];
                    for (by, unit) in rows {
                        let name = format!("{by:?}: {panels} panels, {days} days, bare {bare}, gauge {gauge}");
                        attacks.attempt(name, || {
                            for panel in &told.findings.panels {
                                let texts = shown(&told, panel, by, unit);
                                holds(texts.windows(2).all(|pair| pair[0].1 == pair[1].1), format!("{texts:?}"))?;
                            }
                            Ok(())
                        });
                    }
                    attacks.attempt(
                        format!("sentences and files: {panels} panels, {days} days, {bare}, {gauge}"),
                        || {
                            let (wording, now) = (Wording::default(), story.at(story.last(), 600.0));
                            let text = film_text(&told.test, &told.findings, &CurveChoice::default(), &wording);
                            let report = report(&told.test, &told.findings, now, &wording);
                            let csv = results_csv(&told.test, &told.findings, DecimalMark::Point);
                            for panel in &told.findings.panels {
                                let Some(build) = panel.final_build_um else { continue };
                                let said = wording.film(&build);
                                holds(text.contains(&format!("final build {said}")), format!("the chart: {text}"))?;
                                holds(report.contains(&said), format!("the report has no {said}"))?;
                                holds(panel_in_short(panel, &wording).contains(&said), "in short")?;
                                let own = format!("{},", panel.label);
                                let line =
                                    csv.lines().find(|line| line.contains(&own) && line.contains(",final build,"));
                                let cells: Vec<f64> =
                                    line.unwrap_or_default().split(',').filter_map(|cell| cell.parse().ok()).collect();
                                for bound in [build.low, build.mid, build.high] {
                                    let near = cells.iter().any(|cell| (cell - bound).abs() < 1e-3 * bound.abs());
                                    holds(near, format!("the table has no {bound}: {line:?}"))?;
                                }
                            }
                            Ok(())
                        },
                    );
                }
            }
        }
    }
    attacks.close();
}
