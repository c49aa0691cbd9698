//! Checks the model families against diffusion in a thin film and Arrhenius' law. The page does not use these functions;
//! they are the yardstick that the spectrum is held against.

use crate::values::{Row, list, number, rows};
use std::f64::consts::PI;

/// Share of the solvent gone from a film with one face sealed, Fo = D t/L²:
/// F = 1 − (8/π²) Σ (2n+1)⁻² exp(−(2n+1)² π² Fo/4) (Crank, The Mathematics of Diffusion).
fn share_gone(fo: f64) -> f64 {
    let sum: f64 = (0..60)
        .map(|n| {
            let odd = f64::from(2 * n + 1);
            (-odd * odd * PI * PI * fo / 4.0).exp() / (odd * odd)
        })
        .sum();
    1.0 - 8.0 / (PI * PI) * sum
}

/// The rising function `f` inverted between 0 and `most`.
fn inverse(f: impl Fn(f64) -> f64, value: f64, most: f64) -> f64 {
    let (mut low, mut high) = (0.0, most);
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        *(if f(middle) < value { &mut low } else { &mut high }) = middle;
    }
    0.5 * (low + high)
}

/// With a surface resistance Λ: β tan β = Λ, F = 1 − Σ 2Λ² exp(−β² Fo) / (β² (β² + Λ² + Λ)) (Crank).
fn with_surface(lambda: f64, fo: f64) -> (f64, f64) {
    let root = |n: u32| {
        let base = f64::from(n) * PI;
        base + inverse(|x| (base + x) * x.tan(), lambda, PI / 2.0 - 1e-12)
    };
    let sum: f64 = (0..40)
        .map(root)
        .map(|b| 2.0 * lambda * lambda * (-b * b * fo).exp() / (b * b * (b * b + lambda * lambda + lambda)))
        .sum();
    (root(0), 1.0 - sum)
}

const GAS: f64 = 8.314_462_618e-3; // kJ/(mol K), CODATA 2018
const KELVIN: f64 = 273.15;

/// k₂/k₁ = exp(Ea/R (1/T₁ − 1/T₂)), temperatures in °C.
fn arrhenius(ea: f64, gas: f64, t1: f64, t2: f64) -> f64 {
    (ea / gas * (1.0 / (t1 + KELVIN) - 1.0 / (t2 + KELVIN))).exp()
}

fn close(row: &Row, got: f64, want: f64) {
    let most = row.tolerance.abs.unwrap_or(0.0).max(row.tolerance.rel.unwrap_or(0.0) * want.abs());
    assert!((got - want).abs() <= most, "{} ({}): {got} is not {want}", row.id, row.source);
}

/// Every row of the topic, at least `least` of them.
fn each(topic: &str, least: usize, check: impl Fn(&Row)) {
    let rows: Vec<Row> = rows().into_iter().filter(|r| r.topic == topic).collect();
    assert!(rows.len() >= least, "{topic}: {} rows", rows.len());
    rows.iter().for_each(check);
}

#[test]
fn film_diffusion() {
    each("diff/F", 11, |r| close(r, share_gone(number(&r.inputs, "Fo")), number(&r.expected, "F")));
    each("diff/F_dims", 1, |r| {
        let (d, t, l) = (number(&r.inputs, "D"), number(&r.inputs, "t"), number(&r.inputs, "L"));
        close(r, share_gone(d * t / (l * l)), number(&r.expected, "F"));
    });
}

#[test]
fn film_diffusion_inverted() {
    each("diff/Fo", 7, |r| {
        close(r, inverse(share_gone, number(&r.inputs, "F"), 10.0), number(&r.expected, "Fo"));
    });
    each("diff/ratio", 3, |r| {
        let f = number(&r.inputs, "F");
        let ratio = inverse(share_gone, f, 10.0) / inverse(share_gone, 0.5, 10.0);
        close(r, ratio, number(&r.expected, "diffusion"));
        close(r, (1.0 - f).ln() / 0.5_f64.ln(), number(&r.expected, "exponential"));
    });
    // Both faces open: Fo = 4 D t/l².
    each("diff/half_two_sided", 1, |r| {
        close(r, inverse(share_gone, number(&r.inputs, "F"), 10.0) / 4.0, number(&r.expected, "Dt_l2"));
    });
}

#[test]
fn surface_resistance() {
    each("diff/surface", 3, |r| {
        let (beta, f) = with_surface(number(&r.inputs, "Lambda"), number(&r.inputs, "Fo"));
        close(r, beta, number(&r.expected, "beta1"));
        close(r, f, number(&r.expected, "F"));
    });
}

#[test]
fn arrhenius_factors() {
    each("arr/ratio", 7, |r| {
        let (ea, t1, t2) = (number(&r.inputs, "Ea"), number(&r.inputs, "T1"), number(&r.inputs, "T2"));
        close(r, arrhenius(ea, GAS, t1, t2), number(&r.expected, "k_ratio"));
    });
    each("arr/Ea_x2", 3, |r| {
        let (t1, t2) = (number(&r.inputs, "T1"), number(&r.inputs, "T2"));
        let ea = 2.0_f64.ln() * GAS / (1.0 / (t1 + KELVIN) - 1.0 / (t2 + KELVIN));
        close(r, ea, number(&r.expected, "Ea"));
    });
}

/// Mass given off on day n by the square root of time with an Arrhenius factor: m₁ (√n − √(n − 1)) k.
#[test]
fn square_root_of_time() {
    each("arr/outgas_table", 3, |r| {
        let of = |name| number(&r.inputs, name);
        let factor = arrhenius(of("Ea"), of("Rk"), of("Tref"), of("T"));
        for (day, want) in list(&r.inputs, "days").into_iter().zip(list(&r.expected, "mass")) {
            close(r, of("m1") * factor * (day.sqrt() - (day - 1.0).sqrt()), want);
        }
    });
}
