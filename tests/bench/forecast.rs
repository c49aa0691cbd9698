//! How long forecasts take: `cargo bench --no-default-features --bench forecast`.

mod panels;

use comb_scale::science::drying::{Settings, forecast};
use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use panels::Record;
use std::hint::black_box;

fn one_panel(c: &mut Criterion) {
    let mut group = c.benchmark_group("one panel, 20 weigh-ins");
    for (when, moved) in [("before a move", false), ("after a move", true)] {
        let record = Record::new(20, moved, 0);
        for (name, settings) in [("shown", Settings::shown()), ("instant", Settings::instant())] {
            group.bench_function(format!("{when}, {name}"), |b| {
                b.iter(|| forecast(black_box(&record.panel()), &settings));
            });
        }
    }
    group.finish();
}

fn growth(c: &mut Criterion) {
    let mut group = c.benchmark_group("growth");
    group.sample_size(10);
    for (panels, weigh_ins) in [(9, 20), (12, 30), (50, 20), (200, 20), (50, 50), (50, 100), (200, 100)] {
        let records: Vec<Record> = (0..panels).map(|v| Record::new(weigh_ins, true, v)).collect();
        group.bench_function(BenchmarkId::from_parameter(format!("{panels} x {weigh_ins}")), |b| {
            b.iter(|| records.iter().filter(|r| forecast(black_box(&r.panel()), &Settings::shown()).is_ok()).count());
        });
    }
    group.finish();
}

/// One panel with a slip in every fifth reading.
fn many_slips(c: &mut Criterion) {
    let mut group = c.benchmark_group("a fifth of the readings are slips");
    group.sample_size(10);
    for weigh_ins in [25, 50, 100, 200] {
        let mut record = Record::new(weigh_ins, true, 0);
        record.slip_every_fifth();
        group.bench_function(BenchmarkId::from_parameter(weigh_ins), |b| {
            b.iter(|| forecast(black_box(&record.panel()), &Settings::shown()));
        });
    }
    group.finish();
}

criterion_group!(benches, one_panel, growth, many_slips);
criterion_main!(benches);
