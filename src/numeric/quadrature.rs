//! Gauss-Legendre quadrature.

/// Nodes and weights on (-1, 1) for `K` points: exact for polynomials up to degree 2 K - 1.
///
/// The nodes are the roots of the Legendre polynomial, found by Newton's method from
/// `cos(pi (k + 3/4) / (K + 1/2))`.
pub(crate) fn gauss_legendre<const K: usize>() -> [(f64, f64); K] {
    std::array::from_fn(|k| {
        let mut x = (std::f64::consts::PI * (k as f64 + 0.75) / (K as f64 + 0.5)).cos();
        let mut slope = 0.0;
        for _ in 0..8 {
            let (mut before, mut value) = (1.0, x);
            for j in 2..=K {
                let j = j as f64;
                (before, value) = (value, ((2.0 * j - 1.0) * x * value - (j - 1.0) * before) / j);
            }
            slope = K as f64 * (x * value - before) / (x * x - 1.0);
            x -= value / slope;
        }
        (x, 2.0 / ((1.0 - x * x) * slope * slope))
    })
}

#[cfg(test)]
mod tests {
    use super::gauss_legendre;

    #[test]
    fn integrates_polynomials_exactly() {
        for power in 0..31_i32 {
            let sum: f64 = gauss_legendre::<16>().iter().map(|(x, w)| w * x.powi(power)).sum();
            let exact = if power % 2 == 0 { 2.0 / f64::from(power + 1) } else { 0.0 };
            assert!((sum - exact).abs() < 4e-15, "{power} {sum} {exact}");
        }
    }
}
