//! Results that are numbers with names.

/// A class of numbers, and what every value class has: storage, equality, hash, text.
macro_rules! record {
    (
        $(#[$doc:meta])*
        $class:ident, $name:literal {
            $($(#[$field_doc:meta])* $field:ident: $unit:literal,)+
        }
        $($extra:tt)*
    ) => {
        $(#[$doc])*
        #[pyclass(module = "interstage", name = $name, frozen)]
        #[derive(Debug, Clone, PartialEq)]
        pub(crate) struct $class {
            $($field: f64,)+
        }

        #[pymethods]
        impl $class {
            $(
                $(#[$field_doc])*
                #[getter]
                fn $field(&self) -> f64 {
                    self.$field
                }
            )+

            /// The numbers as a dictionary.
            fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
                let data = storage(py, $name)?;
                $(data.set_item(stringify!($field), self.$field)?;)+
                Ok(data)
            }

            /// The numbers of a dictionary that `to_dict` made, to the bit.
            #[classmethod]
            fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
                let stored = Stored::new(data, $name)?;
                Ok(Self { $($field: stored.finite(stringify!($field))?,)+ })
            }

            fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyTuple>> {
                rebuilt(slf, slf.get().to_dict(slf.py())?)
            }

            fn __eq__(&self, other: &Self) -> bool {
                self == other
            }

            fn __hash__(&self) -> u64 {
                hash_of(self)
            }

            fn __repr__(&self) -> String {
                let parts = [$(concat!(stringify!($field), "=\t", $unit).replace('\t', &shown(self.$field)),)+];
                crate::stored::fitted(&format!("{}({})", $name, parts.map(|part| part.trim_end().to_owned()).join(", ")))
            }

            fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
                crate::arguments::html_of(slf)
            }

            $($extra)*
        }

        impl Hash for $class {
            fn hash<H: Hasher>(&self, state: &mut H) {
                hash_numbers(state, &[$(self.$field),+]);
            }
        }
    };
}

pub(crate) use record;
