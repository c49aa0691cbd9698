//! The Cholesky factor that steps and determinants come from.

use super::super::kernel::{product, take_off};
use nalgebra::{SMatrix, SVector};

/// A Cholesky factor: lower triangular L with L Lᵀ = the matrix it was made from.
#[derive(Debug, Clone)]
pub struct Factor<const P: usize> {
    /// L; what is above the diagonal means nothing.
    lower: SMatrix<f64, P, P>,
}

/// The Cholesky factor of a matrix of which the lower triangle is filled; `None` unless it is positive definite (a NaN
/// pivot fails too). In place and column by column: the solver spends a fifth of its time here, twice that with the
/// general routine of the linear algebra library.
///
/// ```
/// use comb_scale_science::drying::least_squares::factor;
/// use nalgebra::Matrix2;
/// let root = factor(Matrix2::new(4.0, 0.0, 2.0, 5.0)).unwrap();
/// assert_eq!(root.lower(), Matrix2::new(2.0, 0.0, 1.0, 2.0));
/// assert!(factor(Matrix2::new(1.0, 0.0, 2.0, 1.0)).is_none());
/// ```
#[must_use]
pub fn factor<const P: usize>(matrix: SMatrix<f64, P, P>) -> Option<Factor<P>> {
    let mut lower = matrix;
    let columns = &mut lower.data.0;
    for j in 0..P {
        let pivot = columns[j][j];
        if !(pivot > 0.0 && pivot < f64::INFINITY) {
            return None;
        }
        let root = pivot.sqrt();
        let scale = 1.0 / root;
        columns[j][j] = root;
        for entry in &mut columns[j][j + 1..] {
            *entry *= scale;
        }
        let column = columns[j];
        for k in j + 1..P {
            let by = column[k];
            if by != 0.0 {
                take_off(&mut columns[k][k..], by, &column[k..]);
            }
        }
    }
    Some(Factor { lower })
}

impl<const P: usize> Factor<P> {
    /// L⁻¹ b.
    ///
    /// ```
    /// use comb_scale_science::drying::least_squares::factor;
    /// use nalgebra::{Matrix2, Vector2};
    /// let root = factor(Matrix2::new(4.0, 0.0, 2.0, 5.0)).unwrap();
    /// assert_eq!(root.half_solve(&Vector2::new(2.0, 5.0)), Vector2::new(1.0, 2.0));
    /// ```
    #[must_use]
    pub fn half_solve(&self, b: &SVector<f64, P>) -> SVector<f64, P> {
        let mut x = *b;
        for (j, column) in self.lower.data.0.iter().enumerate() {
            x[j] /= column[j];
            let by = x[j];
            take_off(&mut x.as_mut_slice()[j + 1..], by, &column[j + 1..]);
        }
        x
    }

    /// (L Lᵀ)⁻¹ b.
    ///
    /// ```
    /// use comb_scale_science::drying::least_squares::factor;
    /// use nalgebra::{Matrix2, Vector2};
    /// let root = factor(Matrix2::new(4.0, 0.0, 2.0, 5.0)).unwrap();
    /// assert_eq!(root.solve(&Vector2::new(8.0, 12.0)), Vector2::new(1.0, 2.0));
    /// ```
    #[must_use]
    pub fn solve(&self, b: &SVector<f64, P>) -> SVector<f64, P> {
        let mut x = self.half_solve(b);
        for (j, column) in self.lower.data.0.iter().enumerate().rev() {
            x[j] = (x[j] - product(&column[j + 1..], &x.as_slice()[j + 1..])) / column[j];
        }
        x
    }

    /// (L Lᵀ)⁻¹.
    ///
    /// ```
    /// use comb_scale_science::drying::least_squares::factor;
    /// use nalgebra::Matrix2;
    /// let root = factor(Matrix2::new(4.0, 0.0, 2.0, 5.0)).unwrap();
    /// assert!((root.inverse() * Matrix2::new(4.0, 2.0, 2.0, 5.0) - Matrix2::identity()).norm() < 1e-12);
    /// ```
    #[must_use]
    pub fn inverse(&self) -> SMatrix<f64, P, P> {
        let columns: [SVector<f64, P>; P] =
            std::array::from_fn(|j| self.solve(&SVector::from_fn(|i, _| if i == j { 1.0 } else { 0.0 })));
        SMatrix::from_columns(&columns)
    }

    /// Σ ln diag L: half the log determinant.
    ///
    /// ```
    /// use comb_scale_science::drying::least_squares::factor;
    /// use nalgebra::Matrix2;
    /// let root = factor(Matrix2::new(4.0, 0.0, 2.0, 5.0)).unwrap();
    /// assert!((root.log_root() - 4f64.ln()).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn log_root(&self) -> f64 {
        (0..P).map(|i| self.lower[(i, i)].ln()).sum()
    }

    /// L, zero above the diagonal.
    ///
    /// ```
    /// use comb_scale_science::drying::least_squares::factor;
    /// use nalgebra::Matrix2;
    /// let root = factor(Matrix2::new(4.0, 0.0, 2.0, 5.0)).unwrap();
    /// assert_eq!(root.lower()[(1, 0)], 1.0);
    /// ```
    #[must_use]
    pub fn lower(&self) -> SMatrix<f64, P, P> {
        self.lower.lower_triangle()
    }
}
