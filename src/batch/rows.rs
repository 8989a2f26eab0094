//! Columns of inputs.

/// A column of inputs: slices, vectors and arrays of `f64`, arrays and views of the crate `ndarray` with the feature of that
/// name, or one `f64` that holds for every row.
pub trait Rows: Sync {
    /// Number of rows, or `None` if one value holds for every row.
    fn rows(&self) -> Option<usize>;
    /// Value of a row; NaN, a missing value, beyond the end.
    fn row(&self, index: usize) -> f64;
}

impl Rows for f64 {
    fn rows(&self) -> Option<usize> {
        None
    }
    fn row(&self, _: usize) -> f64 {
        *self
    }
}

impl<C: Rows + ?Sized> Rows for &C {
    fn rows(&self) -> Option<usize> {
        (**self).rows()
    }
    fn row(&self, index: usize) -> f64 {
        (**self).row(index)
    }
}

macro_rules! rows {
    ($([$($generic:tt)*] $type:ty),*) => {$(
        impl<$($generic)*> Rows for $type {
            fn rows(&self) -> Option<usize> {
                Some(self.len())
            }
            fn row(&self, index: usize) -> f64 {
                self.get(index).copied().unwrap_or(f64::NAN)
            }
        }
    )*};
}

rows! { [] [f64], [] Vec<f64>, [const N: usize] [f64; N] }
#[cfg(feature = "ndarray")]
rows! { ['a] ndarray::ArrayView1<'a, f64>, [] ndarray::Array1<f64> }
