//! Records as large as asked for, as this page would have written them.

use std::fmt::Write;

use comb_scale::quantity::Instant;

/// So many of each.
#[derive(Clone, Copy, Debug)]
pub struct Size {
    pub candidates: usize,
    pub panels: usize,
    pub weigh_ins: usize,
}

/// Grams on panel `which` after `t` hours: two stages of loss, a scatter without a generator.
fn weight(which: usize, i: usize, t: f64) -> f64 {
    let scatter = 0.2 * ((0.618_033_988_75 * (i + 7 * which + 1) as f64).fract() - 0.5);
    let lost = 5.0 * (1.0 - (-t / 2.0).exp()) + (4.0 + 0.1 * (which % 24) as f64) * (1.0 - (-t / 30.0).exp());
    ((592.0 + 1.7 * which as f64 - lost + scatter) * 10.0).round() / 10.0
}

/// A test of that size: its text. The panels go round the candidates; each has its bare weight, two coats, three comb readings.
pub fn text(size: Size) -> String {
    let start: Instant = "2026-03-02T10:00:00Z".parse().expect("an instant");
    let at = |h: f64| start.plus_hours(h).to_string();
    let mut n = 1000;
    let mut mark = || {
        n += 1;
        format!(r#""id": "ab-{n}-1", "stamp": "{n}@ab""#)
    };
    let mut text = String::from(
        r#"{ "format": "spray-test", "version": 1, "id": "big", "title": "Big", "wanted": { "dry_build_um": 80, "sanding_h": 72 },
        "balances": [ { "id": "scale", "label": "Scale", "division_g": 0.1 } ], "combs": [ { "id": "comb", "label": "Comb",
        "edges": [ { "teeth_um": [ 50, 75, 100, 125, 150, 175, 200, 225, 250, 275, 300 ] } ] } ], "candidates": ["#,
    );
    for i in 0..size.candidates {
        let comma = if i > 0 { "," } else { "" };
        write!(text, r#"{comma}{{ "id": "c{i}", "label": "Primer {i}", "sheet": {{ "solids_by_volume": 0.5, "solids_by_weight": 0.7,
            "density_g_per_ml": 1.4, "wet_film_um": 110, "dry_film_um": 55, "coats": 2, "stated_for": "mix" }} }}"#).unwrap();
    }
    text.push_str(r#"], "rounds": ["#);
    let age = |i: usize| 0.25 * (i as f64 + 1.0).powf(1.3);
    for i in 0..size.weigh_ins {
        let comma = if i > 0 { "," } else { "" };
        write!(text, r#"{comma}{{ "id": "r{i}", "at": "{}", "balance": "scale", "place": "shop" }}"#, at(age(i)))
            .unwrap();
    }
    text.push_str(r#"], "panels": ["#);
    for p in 0..size.panels {
        let comma = if p > 0 { "," } else { "" };
        write!(text, r#"{comma}{{ {}, "label": "P{p}", "candidate": "c{}", "rack": "{p}", "width_mm": 300, "length_mm": 300,
            "bare": [ {{ {}, "at": "{}", "gross_g": {}, "balance": "scale" }} ], "coats": [ {{ {}, "at": "{}" }} ], "dabs": ["#,
            mark(), p % size.candidates.max(1), mark(), at(-1.0), 565.0 + 1.7 * p as f64, mark(), at(0.0)).unwrap();
        for d in 0..3 {
            let comma = if d > 0 { "," } else { "" };
            write!(
                text,
                r#"{comma}{{ {}, "at": "{}", "comb": "comb", "wetted_um": 200, "dry_um": 225 }}"#,
                mark(),
                at(0.02)
            )
            .unwrap();
        }
        text.push_str(r#"], "weigh_ins": ["#);
        for i in 0..size.weigh_ins {
            let comma = if i > 0 { "," } else { "" };
            write!(
                text,
                r#"{comma}{{ {}, "at": "{}", "round": "r{i}", "balance": "scale", "gross_g": {} }}"#,
                mark(),
                at(age(i)),
                weight(p, i, age(i))
            )
            .unwrap();
        }
        text.push_str("] }");
    }
    text.push_str(r#"], "blanks": [ { "id": "blank", "label": "Blank", "weigh_ins": ["#);
    for i in 0..size.weigh_ins {
        let comma = if i > 0 { "," } else { "" };
        write!(
            text,
            r#"{comma}{{ {}, "at": "{}", "round": "r{i}", "balance": "scale", "gross_g": {} }}"#,
            mark(),
            at(age(i)),
            weight(0, i + 3, 0.0)
        )
        .unwrap();
    }
    text.push_str("] } ] }");
    text
}
