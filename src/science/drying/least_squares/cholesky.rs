//! The Cholesky factor that steps, determinants and the routes' weights come from: the only one in the house.

use super::super::kernel::{product, take_off};

/// A Cholesky factor: lower triangular L with L Lᵀ = the matrix it was made from.
#[derive(Debug, Clone, PartialEq)]
pub struct Factor {
    /// Rows, and columns.
    size: usize,
    /// L by columns; what is above the diagonal means nothing.
    lower: Vec<f64>,
}

/// The Cholesky factor of a square matrix, given by columns, of which the lower triangle is filled; `None` unless it is
/// positive definite (a NaN pivot fails too). Column by column: the solver spends a fifth of its time here, twice that with
/// the general routine of the linear algebra library. One size serves all: a copy for each would be weight on the first load.
///
/// ```
/// use comb_scale_science::drying::least_squares::factor;
/// use nalgebra::Matrix2;
/// let root = factor(Matrix2::new(4.0, 0.0, 2.0, 5.0).as_slice()).unwrap();
/// assert_eq!(root.diagonal().collect::<Vec<f64>>(), [2.0, 2.0]);
/// assert!(factor(Matrix2::new(1.0, 0.0, 2.0, 1.0).as_slice()).is_none());
/// ```
#[must_use]
pub fn factor(columns: &[f64]) -> Option<Factor> {
    let size = columns.len().isqrt();
    let mut lower = columns.to_vec();
    for j in 0..size {
        let (done, rest) = lower.split_at_mut((j + 1) * size);
        let column = &mut done[j * size + j..];
        let pivot = column[0];
        if !(pivot > 0.0 && pivot < f64::INFINITY) {
            return None;
        }
        let root = pivot.sqrt();
        let scale = 1.0 / root;
        column[0] = root;
        let below = &mut column[1..];
        below.iter_mut().for_each(|entry| *entry *= scale);
        for (k, next) in rest.chunks_exact_mut(size).enumerate() {
            let by = below[k];
            if by != 0.0 {
                take_off(&mut next[j + 1 + k..], by, &below[k..]);
            }
        }
    }
    Some(Factor { size, lower })
}

impl Factor {
    /// The diagonal and what is under it of each column.
    fn columns(&self) -> impl DoubleEndedIterator<Item = (usize, &[f64])> {
        (0..self.size).map(|j| (j, &self.lower[j * self.size + j..(j + 1) * self.size]))
    }

    /// x becomes L⁻¹ x, of as many entries as the matrix has rows; a shorter one is taken for the first of them.
    ///
    /// ```
    /// use comb_scale_science::drying::least_squares::factor;
    /// let root = factor(&[4.0, 2.0, 0.0, 5.0]).unwrap();
    /// let mut x = [2.0, 5.0];
    /// root.half_solve(&mut x);
    /// assert_eq!(x, [1.0, 2.0]);
    /// ```
    pub fn half_solve(&self, x: &mut [f64]) {
        for (j, column) in self.columns().take(x.len()) {
            x[j] /= column[0];
            let by = x[j];
            take_off(&mut x[j + 1..], by, &column[1..]);
        }
    }

    /// x becomes (L Lᵀ)⁻¹ x, of as many entries as the matrix has rows.
    ///
    /// ```
    /// use comb_scale_science::drying::least_squares::factor;
    /// let root = factor(&[4.0, 2.0, 0.0, 5.0]).unwrap();
    /// let mut x = [8.0, 12.0];
    /// root.solve(&mut x);
    /// assert_eq!(x, [1.0, 2.0]);
    /// ```
    pub fn solve(&self, x: &mut [f64]) {
        self.half_solve(x);
        for (j, column) in self.columns().rev() {
            x[j] = (x[j] - product(&column[1..], &x[j + 1..])) / column[0];
        }
    }

    /// (L Lᵀ)⁻¹, by columns (it is symmetric).
    ///
    /// ```
    /// use comb_scale_science::drying::least_squares::factor;
    /// let inverse = factor(&[4.0, 2.0, 0.0, 5.0]).unwrap().inverse();
    /// assert_eq!(inverse, [0.3125, -0.125, -0.125, 0.25]);
    /// ```
    #[must_use]
    pub fn inverse(&self) -> Vec<f64> {
        let mut inverse = vec![0.0; self.size * self.size];
        for (j, column) in inverse.chunks_exact_mut(self.size.max(1)).enumerate() {
            column[j] = 1.0;
            self.solve(column);
        }
        inverse
    }

    /// A row of L, up to its diagonal.
    ///
    /// ```
    /// use comb_scale_science::drying::least_squares::factor;
    /// let root = factor(&[4.0, 2.0, 0.0, 5.0]).unwrap();
    /// assert_eq!(root.row(1).collect::<Vec<f64>>(), [1.0, 2.0]);
    /// ```
    pub fn row(&self, row: usize) -> impl DoubleEndedIterator<Item = f64> {
        (0..=row).map(move |column| self.lower[column * self.size + row])
    }

    /// The diagonal of L, from the first row on; the sum of its logarithms is half that of the determinant.
    ///
    /// ```
    /// use comb_scale_science::drying::least_squares::factor;
    /// let root = factor(&[4.0, 2.0, 0.0, 5.0]).unwrap();
    /// let half_ln_determinant: f64 = root.diagonal().map(f64::ln).sum();
    /// assert!((half_ln_determinant - 4f64.ln()).abs() < 1e-12);
    /// ```
    pub fn diagonal(&self) -> impl Iterator<Item = f64> {
        self.columns().map(|(_, column)| column[0])
    }
}
