//! NIST StRD nonlinear reference problems through the least-squares core that the forecast uses.
//!
//! Data, both starts and certified values: NIST Statistical Reference Datasets, nonlinear regression: Misra1a, BoxBOD,
//! MGH17, Lanczos3 (https://www.itl.nist.gov/div898/strd/nls/nls_main.shtml).

use crate::values::{list, rows};
use comb_scale::science::drying::least_squares::{Normal, Problem, Rule, Solution, Stopped, factor, minimise, minimise_past_plateaus};
use nalgebra::SVector;

/// A model: value and slopes at x.
type Model<const P: usize> = fn(&SVector<f64, P>, f64) -> (f64, SVector<f64, P>);

struct Residuals<'a, const P: usize> {
    x: &'a [f64],
    y: &'a [f64],
    model: Model<P>,
    at: SVector<f64, P>,
}

impl<const P: usize> Problem<P> for Residuals<'_, P> {
    fn cost(&mut self, at: &SVector<f64, P>) -> f64 {
        self.at = *at;
        self.x.iter().zip(self.y).map(|(&x, y)| (y - (self.model)(at, x).0).powi(2)).sum()
    }

    fn normal(&mut self, into: &mut Normal<P>) {
        *into = Normal::zero();
        for (&x, y) in self.x.iter().zip(self.y) {
            let (value, slopes) = (self.model)(&self.at, x);
            into.gauss_newton += slopes * slopes.transpose();
            into.gradient += slopes * (y - value);
        }
    }
}

fn saturating(b: &SVector<f64, 2>, x: f64) -> (f64, SVector<f64, 2>) {
    let e = (-b[1] * x).exp();
    (b[0] * (1.0 - e), SVector::from([1.0 - e, b[0] * x * e]))
}

fn mgh17(b: &SVector<f64, 5>, x: f64) -> (f64, SVector<f64, 5>) {
    let (e4, e5) = ((-x * b[3]).exp(), (-x * b[4]).exp());
    (b[0] + b[1] * e4 + b[2] * e5, SVector::from([1.0, e4, e5, -x * b[1] * e4, -x * b[2] * e5]))
}

fn lanczos(b: &SVector<f64, 6>, x: f64) -> (f64, SVector<f64, 6>) {
    let e = [(-b[1] * x).exp(), (-b[3] * x).exp(), (-b[5] * x).exp()];
    (
        b[0] * e[0] + b[2] * e[1] + b[4] * e[2],
        SVector::from([e[0], -x * b[0] * e[0], e[1], -x * b[2] * e[1], e[2], -x * b[4] * e[2]]),
    )
}

/// Digits of agreement, NIST's log relative error.
fn digits(got: f64, want: f64) -> f64 {
    -((got - want).abs() / want.abs()).max(1e-16).log10()
}

fn solve<const P: usize>(data: (&[f64], &[f64]), model: Model<P>, start: &[f64]) -> Solution<P> {
    let mut problem = Residuals { x: data.0, y: data.1, model, at: SVector::zeros() };
    minimise_past_plateaus(&mut problem, SVector::from_column_slice(start), &Rule { tolerance: 1e-24, most_steps: 60000 })
}

fn check<const P: usize>(id: &str, model: Model<P>) {
    let row = rows().into_iter().find(|r| r.id == id).unwrap();
    let (x, y) = (list(&row.inputs, "x"), list(&row.inputs, "y"));
    let (b, sd) = (list(&row.expected, "b"), list(&row.expected, "sd"));
    let rss = row.expected["rss"].value.as_f64().unwrap();
    for start in ["start1", "start2"] {
        let s = solve((&x, &y), model, &list(&row.inputs, start));
        let covariance = factor(s.normal.gauss_newton).map(|l| l.inverse() * (s.cost / (x.len() - P) as f64));
        let b_digits = s.at.iter().zip(&b).map(|(g, w)| digits(*g, *w)).fold(16.0, f64::min);
        let sd_digits =
            covariance.map_or(0.0, |c| (0..P).map(|i| digits(c[(i, i)].sqrt(), sd[i])).fold(16.0, f64::min));
        println!(
            "{:<14} {start}: b {b_digits:4.1} sd {sd_digits:4.1} rss {:4.1} digits, {} steps, {:?}",
            row.topic,
            digits(s.cost, rss),
            s.steps,
            s.stopped
        );
    }
    let _ = Stopped::Converged;
}

#[test]
fn all() {
    check("nist-01", saturating);
    check("nist-02", saturating);
    check("nist-03", mgh17);
    check("nist-04", lanczos);
}
#[test]
fn debug_mgh() {
    let row = rows().into_iter().find(|r| r.id == "nist-03").unwrap();
    let (x, y) = (list(&row.inputs, "x"), list(&row.inputs, "y"));
    for k in 0..6 {
        let f = 10f64.powf(-0.5 * k as f64);
        let start = [50.0, 150.0, -100.0, 1.0 * f, 2.0 * f];
        let mut problem = Residuals { x: &x, y: &y, model: mgh17 as Model<5>, at: SVector::zeros() };
        let s = minimise(&mut problem, SVector::from_column_slice(&start), &Rule { tolerance: 1e-24, most_steps: 60000 });
        println!("{k} {:?} {} {:?} {} H {:?}", s.at.as_slice(), s.cost, s.stopped, s.steps, s.normal.gauss_newton.diagonal().as_slice());
    }
}
