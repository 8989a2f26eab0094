//! The logarithmic mean.

/// Logarithmic mean of two positive numbers, `(a - b) / ln(a / b)`, with all digits where they are nearly the same.
pub(crate) fn logarithmic_mean(a: f64, b: f64) -> f64 {
    let (small, large) = if a < b { (a, b) } else { (b, a) };
    let excess = (large - small) / small;
    if excess == 0.0 {
        return small;
    }
    (large - small) / if excess.is_finite() { excess.ln_1p() } else { large.ln() - small.ln() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lies_between_geometric_and_arithmetic_mean() {
        for a in [1e-300, 1e-3, 0.999_999_999, 1.0, 2.0, 278.15, 1e9] {
            for b in [0.5, 1.0, 1.000_000_1, 280.0, 1e5] {
                let mean = logarithmic_mean(a, b);
                assert_eq!(mean, logarithmic_mean(b, a));
                let rounding = 4.0 * f64::EPSILON;
                assert!(mean >= (a * b).sqrt() * (1.0 - rounding), "{a} {b} {mean}");
                assert!(mean <= 0.5 * (a + b) * (1.0 + rounding), "{a} {b} {mean}");
            }
        }
        // Beyond the largest quotient.
        let mean = logarithmic_mean(1e4, f64::MIN_POSITIVE);
        assert!((mean * (1e4f64.ln() - f64::MIN_POSITIVE.ln()) / 1e4 - 1.0).abs() < 1e-14);
    }
}
