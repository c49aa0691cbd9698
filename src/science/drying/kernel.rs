//! The two loops in which most of a fit's time goes, written out four at a time: the page is built for size, and such a
//! build unrolls nothing by itself.

/// Σ a b over as many as both have.
pub(super) fn product(a: &[f64], b: &[f64]) -> f64 {
    let n = a.len().min(b.len());
    let (a, b) = (&a[..n], &b[..n]);
    let (mut even, mut odd) = (0.0, 0.0);
    let mut i = 0;
    while i + 4 <= n {
        even += a[i] * b[i] + a[i + 2] * b[i + 2];
        odd += a[i + 1] * b[i + 1] + a[i + 3] * b[i + 3];
        i += 4;
    }
    while i < n {
        even += a[i] * b[i];
        i += 1;
    }
    even + odd
}

/// Each of `from`, `by` times, taken off its counterpart.
pub(super) fn take_off(entries: &mut [f64], by: f64, from: &[f64]) {
    let n = entries.len().min(from.len());
    let (entries, from) = (&mut entries[..n], &from[..n]);
    let mut i = 0;
    while i + 4 <= n {
        entries[i] -= by * from[i];
        entries[i + 1] -= by * from[i + 1];
        entries[i + 2] -= by * from[i + 2];
        entries[i + 3] -= by * from[i + 3];
        i += 4;
    }
    while i < n {
        entries[i] -= by * from[i];
        i += 1;
    }
}
