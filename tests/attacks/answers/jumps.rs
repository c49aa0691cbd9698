//! The scale jumps, the blank is forgotten, and the scale is back or stays out.

use super::{Blank, Story, Told, Visit, quiet_days};
use crate::{Attacks, holds};
use comb_scale::findings::FlagKind;

/// The scale jumps on day 6, as the blank shows; then come days without the blank; then the blank again.
fn forgotten(by_g: f64, days: usize, back_on: usize, confirmed: Blank) -> Story {
    let out = |day: usize| if day < back_on { by_g } else { 0.0 };
    let visit = |day: usize, blank| Visit { h: 24.0 * (6 + day) as f64, out_g: out(day), blank };
    let first = match confirmed {
        Blank::Vouched => vec![visit(0, Blank::Vouched)],
        _ => vec![Visit { h: 140.0, ..visit(0, Blank::Weighed) }, visit(0, Blank::Weighed)],
    };
    Story::of(3, quiet_days(6))
        .then(first)
        .then((1..=days).map(|day| visit(day, Blank::Forgotten)))
        .then([visit(days + 1, Blank::Weighed)])
}

/// No weight is left out or waits, and what was lost is the law's.
fn all_count(told: &Told) -> Result<(), String> {
    let flags: Vec<&str> =
        told.findings.panels.iter().flat_map(|panel| panel.flags.iter().map(|flag| flag.says.as_str())).collect();
    holds(flags.is_empty(), format!("{flags:?}"))?;
    holds(told.worst_g() < 0.2, format!("lost is {} g off", told.worst_g()))
}

/// Nobody is asked about, and each jump is told with the correction.
fn nobody_is_blamed(told: &Told) -> Result<(), String> {
    let last = told.story.last();
    for owner in ["b", "p0", "p1", "p2"] {
        for visit in [last - 1, last] {
            let judged = told.judged(owner, visit);
            holds(!judged.odd, format!("{owner} on visit {visit}: {}", judged.said))?;
            holds(!told.look_again(owner, visit), format!("{owner} is to be looked at again"))?;
        }
    }
    let remarks = told.findings.panels[0].remarks.join(" ");
    holds(remarks.contains("The scale jumped by") && remarks.contains("That is taken off"), remarks)
}

#[test]
fn a_blank_forgotten_after_a_jump_is_no_dead_end() {
    let mut attacks = Attacks::on("answers, jumps with the blank forgotten");
    for by_g in [1.2, -1.2, 0.8, -5.0, 40.0] {
        for confirmed in [Blank::Vouched, Blank::Weighed] {
            for days in [1, 2] {
                for back_on in 1..=days + 2 {
                    let name = format!("{by_g} g, {confirmed:?}, {days} days without the blank, back on day {back_on}");
                    attacks.attempt(name, || {
                        let told = Told::of(&forgotten(by_g, days, back_on, confirmed));
                        all_count(&told)?;
                        nobody_is_blamed(&told)
                    });
                }
            }
        }
    }
    for off_g in [1.2, -5.0] {
        attacks.attempt(format!("the blank alone is {off_g} g off on the newest visit"), || {
            let last = Visit { h: 144.0, out_g: 0.0, blank: Blank::Off(off_g) };
            let told = Told::of(&Story::of(3, quiet_days(6)).then([last]));
            holds(told.judged("b", told.story.last()).odd, "the blank is not asked about")?;
            let flag = told.flag(0, told.story.last());
            holds(flag.is_some_and(|flag| flag.kind == FlagKind::WaitsForTheBlank), format!("{flag:?}"))
        });
        attacks.attempt(format!("the blank alone was {off_g} g off, and is right the next day"), || {
            let visit = |day: usize, blank| Visit { h: 24.0 * day as f64, out_g: 0.0, blank };
            let told =
                Told::of(&Story::of(3, quiet_days(6)).then([visit(6, Blank::Off(off_g)), visit(7, Blank::Weighed)]));
            all_count(&told)
        });
    }
    attacks.close();
}
