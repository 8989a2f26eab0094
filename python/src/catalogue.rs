//! What the catalogue holds: names, and where equations of state were published.

use interstage::{Citation, Refrigerant};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList, PyTuple};

use crate::errors::{OrRaise, unreadable};
use crate::refrigerant::PyRefrigerant;
use crate::stored::storage;

/// The paper an equation of state was published in.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> interstage.Refrigerant("R-134a").citation.year
/// 1994
#[pyclass(module = "interstage", name = "Citation", frozen, eq)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyCitation {
    pub(crate) inner: Citation,
}

#[pymethods]
impl PyCitation {
    /// Authors, as printed.
    #[getter]
    fn authors(&self) -> &'static str {
        self.inner.authors
    }

    /// Title of the paper.
    #[getter]
    fn title(&self) -> &'static str {
        self.inner.title
    }

    /// Journal, abbreviated.
    #[getter]
    fn journal(&self) -> &'static str {
        self.inner.journal
    }

    /// Year of publication.
    #[getter]
    fn year(&self) -> u16 {
        self.inner.year
    }

    /// Volume.
    #[getter]
    fn volume(&self) -> &'static str {
        self.inner.volume
    }

    /// First and last page, or the article number.
    #[getter]
    fn pages(&self) -> &'static str {
        self.inner.pages
    }

    /// Digital object identifier.
    #[getter]
    fn doi(&self) -> &'static str {
        self.inner.doi
    }

    /// The fields as a dictionary.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "Citation")?;
        let Citation { authors, title, journal, year, volume, pages, doi, .. } = self.inner;
        for (key, value) in [("authors", authors), ("title", title), ("journal", journal)] {
            data.set_item(key, value)?;
        }
        data.set_item("year", year)?;
        for (key, value) in [("volume", volume), ("pages", pages), ("doi", doi)] {
            data.set_item(key, value)?;
        }
        Ok(data)
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        // The catalogue holds every citation.
        for name in Refrigerant::catalogue() {
            let refrigerant = Refrigerant::named(name).or_raise(py)?;
            if *refrigerant.citation() == self.inner {
                let getattr = py.import("builtins")?.getattr("getattr")?;
                return (getattr, (PyRefrigerant { inner: refrigerant }, "citation")).into_pyobject(py);
            }
        }
        Err(unreadable(py, "no refrigerant has this citation".to_owned()))
    }

    fn __hash__(&self) -> u64 {
        crate::stored::hash_of(&self.inner.doi)
    }

    fn __str__(&self) -> String {
        let Citation { authors, title, journal, year, volume, pages, doi, .. } = self.inner;
        format!("{authors}: {title}. {journal} {volume} ({year}) {pages}. doi:{doi}")
    }

    fn __repr__(&self) -> String {
        format!("Citation({:?})", self.__str__())
    }
}

/// The names of every refrigerant in the catalogue.
///
/// Returns
/// -------
/// list of str
///     ASHRAE 34 designations.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> "R-134a" in interstage.catalogue()
/// True
#[pyfunction]
pub(crate) fn catalogue(py: Python<'_>) -> PyResult<Bound<'_, PyList>> {
    PyList::new(py, Refrigerant::catalogue().collect::<Vec<_>>())
}
