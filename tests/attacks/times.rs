//! How long a test of some size takes, by hand: `SIZES=24x120x200,2x4x500 cargo test --no-default-features --test attacks times --
//! --ignored --nocapture` (candidates × panels × weigh-ins).

use std::time::Instant as Clock;

use comb_scale::chart::Look;
use comb_scale::findings::facts::rounds_newest_first;
use comb_scale::findings::plan::plan_check;
use comb_scale::findings::results::{
    CurveChoice, FigureKey, RowKey, curve_table, curve_text, film_chart, film_table, loss_chart, side_by_side,
    worked_beside, worked_figure,
};
use comb_scale::findings::spray::RunSheet;
use comb_scale::findings::weigh::stops;
use comb_scale::findings::words::readings;
use comb_scale::findings::{Memory, Wording};
use comb_scale::quantity::{Grams, Instant, Quantity};
use comb_scale::record::{Action, History, Owner, SprayTest, merge, open, write};
use comb_scale::share;

use super::large::{Size, text};

fn timed<T>(what: &str, work: impl FnOnce() -> T) -> T {
    let begun = Clock::now();
    let done = work();
    println!("  {what}: {:.0} ms", begun.elapsed().as_secs_f64() * 1e3);
    done
}

#[test]
#[ignore = "prints times, by hand"]
fn times() {
    for size in std::env::var("SIZES").unwrap_or("24x120x20".into()).split(',') {
        let size: Vec<usize> = size.split('x').map(|n| n.parse().expect("three numbers")).collect();
        let size = Size { candidates: size[0], panels: size[1], weigh_ins: size[2] };
        let text = text(size);
        println!("{size:?}: {} kB", text.len() / 1000);
        match timed("open", || open(&text)) {
            Ok(opened) => all_of(&opened.test),
            Err(trouble) => println!("  {trouble}"),
        }
    }
}

fn all_of(test: &SprayTest) {
    let now: Instant = "2026-09-02T10:00:00Z".parse().expect("an instant");
    let wording = Wording::default();
    timed("write", || write(test).len());
    timed("join", || merge(test, test));
    let mut history = History::new(test.clone(), "me");
    let owner = Owner::Panel(test.panels.kept().next_back().expect("a panel").id.clone());
    let gross_g = Grams::new(580.0).expect("a weight");
    timed("take a weight", || history.act(Action::Weigh { owner, round: None, at: now, gross_g }))
        .expect("room for it");
    let mut memory = Memory::default();
    timed("look", || memory.look(test));
    timed("work one panel out", || memory.step(None));
    timed("panels while most wait", || memory.panels(test, &wording));
    timed("work all out", || while memory.step(None) {});
    timed("panels", || memory.panels(test, &wording));
    timed("look again", || memory.look(test));
    timed("look after a weight", || memory.look(history.test()));
    let rounds = rounds_newest_first(test);
    timed("the walk of a round", || rounds.first().map(|round| stops(test, round, &wording)));
    memory.look(test);
    let found = timed("findings", || memory.of(test, now, &wording));
    println!("    of {} pairs", found.pairs.len());
    timed("findings again", || memory.of(test, now, &wording));
    timed("side by side", || side_by_side(test, &found, &wording));
    timed("a row's working", || worked_beside(test, &found, RowKey::DaysToSettle, &wording));
    timed("a figure's working", || worked_figure(test, &found.panels[0], FigureKey::FinalBuild, &wording));
    let choice = CurveChoice::default();
    let look = Look::new(328.0, 260.0);
    timed("curves", || loss_chart(test, &found, &choice, now, &wording).scene(&look).readings().len());
    timed("curves in a table", || curve_table(test, &found, &choice, &wording));
    timed("curves in words", || curve_text(&found, &comb_scale::findings::results::CurveChoice::default(), &wording));
    timed("films", || film_chart(test, &found, &choice, now, &wording).scene(&look).readings().len());
    timed("films in a table", || film_table(test, &found, &choice, &wording));
    timed("spray day", || RunSheet::of(test, now));
    timed("plan", || plan_check(test, &found.panels, &wording));
    timed("readings of a panel", || readings(test, &found.panels[0], &wording));
    timed("report", || share::report(test, &found, now, &wording).len());
    timed("readings as a table", || share::readings_csv(test, &found, share::DecimalMark::Point).len());
}
