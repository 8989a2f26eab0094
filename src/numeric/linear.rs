//! Small systems of linear equations, solved in place on the stack.

/// Solves `matrix x = right` in the leading `n` rows and columns by elimination; `None` where the matrix is singular or
/// something is not a number.
///
/// Pivots are chosen by their size beside the largest entry of their row, so that rows may have any scale.
pub(crate) fn solve<const M: usize>(
    mut matrix: [[f64; M]; M],
    mut right: [f64; M],
    n: usize,
) -> Option<[f64; M]> {
    let n = n.min(M);
    let mut scale = [0.0; M];
    for (scale, row) in scale.iter_mut().zip(&matrix).take(n) {
        *scale = row.iter().take(n).fold(0.0, |largest: f64, entry| largest.max(entry.abs()));
    }
    for column in 0..n {
        let mut best = column;
        for row in column..n {
            let size = |row: usize| matrix[row][column].abs() / scale[row];
            if size(row) > size(best) {
                best = row;
            }
        }
        matrix.swap(column, best);
        right.swap(column, best);
        scale.swap(column, best);
        let pivot = matrix[column];
        // Also refuses what is not a number.
        if !(pivot[column].abs() > 0.0 && pivot[column].is_finite()) {
            return None;
        }
        for row in column + 1..n {
            let factor = matrix[row][column] / pivot[column];
            for (entry, above) in matrix[row].iter_mut().zip(&pivot).take(n).skip(column) {
                *entry -= factor * above;
            }
            right[row] -= factor * right[column];
        }
    }
    let mut solution = [0.0; M];
    for row in (0..n).rev() {
        let known: f64 = (row + 1..n).map(|column| matrix[row][column] * solution[column]).sum();
        solution[row] = (right[row] - known) / matrix[row][row];
    }
    solution.iter().all(|x| x.is_finite()).then_some(solution)
}

#[cfg(test)]
mod tests {
    use super::solve;

    /// Products of a matrix with what was found, against the right side.
    fn largest_miss<const M: usize>(matrix: &[[f64; M]; M], right: &[f64; M], n: usize) -> f64 {
        let found = solve(*matrix, *right, n).unwrap();
        let miss = |row: usize| {
            let product: f64 = (0..n).map(|column| matrix[row][column] * found[column]).sum();
            let size: f64 = (0..n).map(|column| (matrix[row][column] * found[column]).abs()).sum();
            (product - right[row]).abs() / size
        };
        (0..n).map(miss).fold(0.0, f64::max)
    }

    #[test]
    fn solves_what_needs_other_rows_first_and_rows_of_any_scale() {
        let matrix = [[0.0, 2.0, 1.0], [1e12, 3e12, -1e12], [1e-9, 0.0, 5e-9]];
        assert!(largest_miss(&matrix, &[3.0, 1e12, 2e-9], 3) < 1e-15);
        // Only the leading part counts.
        let matrix = [[2.0, 1.0, f64::NAN], [1.0, -1.0, 7.0], [0.0, 0.0, 0.0]];
        assert_eq!(solve(matrix, [4.0, -1.0, f64::NAN], 2), Some([1.0, 2.0, 0.0]));
    }

    #[test]
    fn solves_the_hilbert_matrix_to_rounding_of_its_residual() {
        let matrix: [[f64; 8]; 8] =
            std::array::from_fn(|i| std::array::from_fn(|j| 1.0 / (i + j + 1) as f64));
        assert!(largest_miss(&matrix, &[1.0, -2.0, 3.0, -4.0, 5.0, -6.0, 7.0, -8.0], 8) < 1e-14);
    }

    #[test]
    fn refuses_singular_and_undefined_systems() {
        assert_eq!(solve([[1.0, 2.0], [2.0, 4.0]], [1.0, 1.0], 2), None);
        assert_eq!(solve([[0.0; 2]; 2], [1.0, 1.0], 2), None);
        assert_eq!(solve([[f64::NAN, 1.0], [1.0, 1.0]], [1.0, 1.0], 2), None);
        assert_eq!(solve([[1.0, 0.0], [0.0, 1.0]], [f64::INFINITY, 1.0], 2), None);
    }
}
