//! The stand-in for a bare weight nobody took, by what the sheet is stated for and which densities are given.

use super::{Story, Told, quiet_days};
use crate::{Attacks, holds};
use comb_scale::findings::By;
use comb_scale::findings::Wording;
use comb_scale::findings::results::{RowKey, side_by_side};

#[test]
fn a_density_that_is_known_stands_in_whatever_the_sheet_is_stated_for() {
    let mut attacks = Attacks::on("answers, densities by statement");
    for stated_for in ["", r#""stated_for": "mix","#, r#""stated_for": "mix_unreduced","#, r#""stated_for": "base","#] {
        for of_sheet in [true, false] {
            for of_parts in [true, false] {
                for parts in [&["base"][..], &["base", "reducer"], &["base", "hardener", "reducer"]] {
                    let name = format!("sheet {stated_for} {of_sheet}, {parts:?} {of_parts}");
                    attacks.attempt(name, || {
                        let density = if of_parts { r#", "density_g_per_ml": 1.2"# } else { "" };
                        let part = |role: &&str| format!(r#"{{ "role": "{role}", "parts": 1{density} }}"#);
                        let parts = parts.iter().map(part).collect::<Vec<_>>().join(", ");
                        let density = if of_sheet { r#""density_g_per_ml": 1.3,"# } else { "" };
                        let mut story = Story::of(2, quiet_days(9));
                        story.also = format!(
                            r#""candidates": [ {{ "id": "c", "label": "C", "mix": {{ "components": [ {parts} ] }},
                            "sheet": {{ {stated_for} {density} "solids_by_volume": 0.5 }} }} ], "#
                        );
                        let dab = r#"{ "wetted_um": 200, "dry_um": 250 }"#;
                        story.each =
                            format!(r#""candidate": "c", "coated_cm2": 900, "dabs": [ {dab}, {dab}, {dab} ],"#);
                        story.bare = false;
                        let told = Told::of(&story);
                        let known = of_sheet || of_parts;
                        let coat = told.findings.panels[0].wet_coat_g;
                        holds(coat.is_some() == known, format!("wet coat {coat:?}"))?;
                        let table = side_by_side(&told.test, &told.findings, &Wording::default());
                        let cell =
                            &table.rows.iter().find(|row| row.key == RowKey::Mean(By::LossShare)).expect("it").cells[0];
                        holds((cell.value != "–") == known, format!("{} {}", cell.value, cell.below))
                    });
                }
            }
        }
    }
    attacks.close();
}
