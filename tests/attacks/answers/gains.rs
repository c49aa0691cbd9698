//! A primer that gains weight as it cures: no weight of it is called impossible for that.

use super::{Story, Told, quiet_days};
use crate::{Attacks, holds};
use comb_scale::findings::Wording;
use comb_scale::share::report;

/// All that is said of a rise, wherever: at the entry, in the chart, beside the numbers, in the report.
fn said_anywhere(told: &Told) -> String {
    let last = told.story.last();
    let entry = (0..=last).map(|visit| told.judged("p0", visit).said);
    let flags = told.findings.panels[0].flags.iter().map(|flag| flag.says.clone());
    let remarks = told.findings.panels[0].remarks.iter().cloned();
    let report = report(&told.test, &told.findings, told.story.at(last, 60.0), &Wording::default());
    entry.chain(flags).chain(remarks).chain([report]).collect::<Vec<_>>().join("\n")
}

#[test]
fn a_rise_is_judged_by_whether_the_primer_gains_weight() {
    let mut attacks = Attacks::on("answers, weight gained");
    for gains in [true, false] {
        for rise_g in [0.4, 0.8, 1.2] {
            for days in 1..=3 {
                attacks.attempt(format!("gains {gains}: {rise_g} g up over the last {days} days"), || {
                    let mut story = Story::of(2, quiet_days(21));
                    story.also = format!(r#""candidates": [ {{ "id": "c", "label": "C", "gains_mass": {gains} }} ], "#);
                    story.each = r#""candidate": "c","#.into();
                    let last = story.last();
                    story.odd = (0..days).map(|d| (0, last - d, rise_g * (days - d) as f64 / days as f64)).collect();
                    let told = Told::of(&story);
                    let said = said_anywhere(&told);
                    let blamed = ["drying cannot do that", "Weigh it again", "weigh again"];
                    let blames = blamed.iter().any(|words| said.contains(words));
                    let odd = (0..days).any(|d| told.judged("p0", last - d).odd || told.look_again("p0", last - d));
                    let newest: Vec<_> = (0..days).map(|d| told.judged("p0", last - d)).collect();
                    let flags = &told.findings.panels[0].flags;
                    holds((blames || odd) != gains, format!("blames {blames}, {newest:?}, {flags:?}"))
                });
            }
        }
    }
    attacks.attempt("five grams up is too much for any primer", || {
        let mut story = Story::of(2, quiet_days(15));
        story.also = r#""candidates": [ { "id": "c", "label": "C", "gains_mass": true } ], "#.into();
        story.each = r#""candidate": "c","#.into();
        story.odd = vec![(0, story.last(), 5.0)];
        holds(Told::of(&story).judged("p0", story.last()).odd, "nothing is asked")
    });
    attacks.close();
}
