//! Numbers as people read them: two significant figures in the interval, the value to the same place.

use super::manner::marked;

/// Decimals that give `spread` two significant figures, 0 to 6: 0.34 → 2, 3.4 → 1, 34 → 0.
///
/// ```
/// use quantity::decimals_for;
/// assert_eq!([0.034, 0.34, 3.4, 34.0, 340.0].map(decimals_for), [3, 2, 1, 0, 0]);
/// ```
pub fn decimals_for(spread: f64) -> usize {
    if !(spread.is_finite() && spread > 0.0) {
        return 0;
    }
    (1.0 - spread.log10().floor()).clamp(0.0, 6.0) as usize
}

/// Decimals that a scale of division `step` shows, 0 to 6: 0.1 → 1, 0.05 → 2, 0.5 → 1, 1 → 0.
///
/// ```
/// use quantity::decimals_of;
/// assert_eq!([1.0, 0.1, 0.2, 0.05, 0.01].map(decimals_of), [0, 1, 1, 2, 2]);
/// ```
pub fn decimals_of(step: f64) -> usize {
    (0..=6).find(|&n| ((step * 10f64.powi(n)).round() - step * 10f64.powi(n)).abs() < 1e-6).unwrap_or(6) as usize
}

/// A number with so many decimals and a real minus sign; an en dash for what is not finite.
pub fn figure(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "–".into();
    }
    let text = format!("{value:.decimals$}");
    marked(match text.strip_prefix('-') {
        // What rounds to zero has no sign.
        Some(zero) if zero.chars().all(|c| c == '0' || c == '.') => zero.into(),
        Some(rest) => format!("−{rest}"),
        None => text,
    })
}

/// A number with up to three decimals and no idle zeros: `12.5`, `300`, `7.874`.
///
/// ```
/// use quantity::plain;
/// assert_eq!([12.5, 300.0, 7.874_01].map(plain), ["12.5", "300", "7.874"]);
/// ```
pub fn plain(value: f64) -> String {
    plain_to(value, 3)
}

/// A number with up to so many decimals and no idle zeros.
pub fn plain_to(value: f64, decimals: usize) -> String {
    let text = figure(value, decimals);
    let trimmed = text.trim_end_matches('0').trim_end_matches(['.', ',']);
    if text.contains(['.', ',']) { trimmed.into() } else { text }
}

/// As [`figure`], with a plus sign where it is positive: for changes.
pub fn signed(value: f64, decimals: usize) -> String {
    let text = figure(value, decimals);
    if value > 0.0 && text.contains(|c: char| ('1'..='9').contains(&c)) { format!("+{text}") } else { text }
}

/// Value, unit and interval: `212 µm (196 to 229)`.
///
/// ```
/// use quantity::figures;
/// assert_eq!(figures(196.3, 212.4, 229.0, "µm"), "212 µm (196 to 229)");
/// assert_eq!(figures(0.412, 0.7, 1.08, "g"), "0.70 g (0.41 to 1.08)");
/// ```
pub fn figures(low: f64, mid: f64, high: f64, unit: &str) -> String {
    let decimals = decimals_for(high - low);
    let space = if unit.is_empty() { "" } else { " " };
    format!("{}{space}{unit} ({} to {})", figure(mid, decimals), figure(low, decimals), figure(high, decimals))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sign_is_a_real_one_and_zero_has_none() {
        assert_eq!(figure(-0.04, 1), "0.0");
        assert_eq!(figure(-0.26, 1), "−0.3");
        assert_eq!(signed(0.26, 1), "+0.3");
        assert_eq!(signed(0.04, 1), "0.0");
        assert_eq!(figure(f64::NAN, 1), "–");
    }

    #[test]
    fn no_spread_shows_whole_numbers() {
        assert_eq!(figures(5.0, 5.0, 5.0, ""), "5 (5 to 5)");
    }
}
