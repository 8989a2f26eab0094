//! Figures of what was solved, as attributes and as a table.

/// Writes the methods of a class whose figures are those of its field `$of`: getters of numbers, getters of several (one a stage,
/// interstage, tank or circuit), the class's own methods, and `figures`.
macro_rules! figure_methods {
    ($class:ty, $of:ident: numbers { $($(#[$doc:meta])* $number:ident)* } tuples { $($(#[$tuple_doc:meta])* $tuple:ident)* }
     $($own:tt)*) => {
        #[pymethods]
        impl $class {
            $($(#[$doc])* #[getter] fn $number(&self) -> f64 { self.$of.$number() })*
            $(
                $(#[$tuple_doc])*
                #[getter]
                fn $tuple<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, pyo3::types::PyTuple>> {
                    pyo3::types::PyTuple::new(py, self.$of.$tuple())
                }
            )*
            $($own)*
        }

        impl $class {
            /// Every figure by name.
            fn figures<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, pyo3::types::PyDict>> {
                let known = $crate::stored::known;
                let figures = pyo3::types::PyDict::new(py);
                $(figures.set_item(stringify!($number), known(self.$number()))?;)*
                $(
                    let several: Vec<_> = self.$of.$tuple().iter().copied().map(known).collect();
                    figures.set_item(stringify!($tuple), several)?;
                )*
                Ok(figures)
            }
        }
    };
}

pub(crate) use figure_methods;
