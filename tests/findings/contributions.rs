//! What each input contributes to the final builds of the worked example.

use comb_scale::findings::of;
use comb_scale::record::{EXAMPLE, open};
use comb_scale::science::routes::{Build, Input, Route};

/// One line of the table: the shares of the variance, the largest first.
fn line(build: &Build) -> String {
    let shares = build.contributions.iter().map(|one| format!("{:?} {:.1} %", one.input, 100.0 * one.share));
    format!("{:.1} ± {:.1} µm: {}", build.mean_um, build.u_um, shares.collect::<Vec<_>>().join(", "))
}

fn share_of(build: &Build, inputs: &[Input]) -> f64 {
    build.contributions.iter().filter(|one| inputs.contains(&one.input)).map(|one| one.share).sum()
}

fn assert_adds_up(what: &str, build: &Build) {
    let shares: f64 = build.contributions.iter().map(|one| one.share).sum();
    assert!((shares - 1.0).abs() < 1e-9, "{what}: the shares add to {shares}");
    let variance: f64 = build.contributions.iter().map(|one| one.um * one.um).sum();
    assert!((variance.sqrt() / build.u_um - 1.0).abs() < 1e-9, "{what}: the parts make another uncertainty");
    let falls = build.contributions.windows(2).all(|two| two[0].share >= two[1].share);
    assert!(falls, "{what}: the largest comes first");
}

/// `cargo test --no-default-features --test findings contributions -- --nocapture` prints the table.
#[test]
fn what_each_input_contributes_in_the_worked_example() {
    let test = open(EXAMPLE).expect("the example opens").test;
    let findings = of(&test, "2026-03-16T10:00:00+01:00".parse().expect("an instant"));
    let mut told = 0;
    for panel in &findings.panels {
        for route in &panel.work.build.routes {
            let what = format!("{}, {:?}", panel.label, route.route);
            let Ok(build) = &route.build else { continue };
            println!("{what}: {}", line(build));
            assert_adds_up(&what, build);
            told += usize::from(route.route == Route::CombAndScale);
            if route.route == Route::CombAndScale {
                let comb = share_of(build, &[Input::CombReadings, Input::Comb]);
                assert!(
                    matches!(build.contributions[0].input, Input::CombReadings | Input::Comb),
                    "{what} is led by the comb"
                );
                assert!(comb > 0.5, "{what}: the comb brings {comb} of the variance");
            }
        }
        let answer = panel.work.build.answer.as_ref().expect("the example's routes have an answer");
        println!("{}, answer: {}", panel.label, line(answer));
        assert_adds_up(&panel.label, answer);
    }
    assert_eq!(told, findings.panels.len(), "comb and scale answers on every panel");
}
