//! What the catalogue holds: names, where correlations were published, and environmental data.

use interstage::{Citation, Environment, Gwp, Refrigerant};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyAnyMethods, PyDict, PyList, PyTuple};

use crate::arguments::{html_of, text};
use crate::errors::{OrRaise, unknown_option};
use crate::refrigerant::PyRefrigerant;
use crate::stored::{hash_of, storage};

/// What a citation can belong to, in the words of `_citation`.
pub(crate) const EQUATION: &str = "equation of state";
pub(crate) const PAIR: &str = "pair";
pub(crate) const TRANSPORT: [&str; 3] = ["viscosity", "thermal_conductivity", "surface_tension"];

/// The paper a correlation of a refrigerant was published in.
///
/// ``str(citation)`` is one readable line, ``citation.bibtex()`` an entry for a bibliography.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> citation = interstage.Refrigerant("R-290").citation
/// >>> citation.year, citation.doi
/// (2009, '10.1021/je900217v')
/// >>> print(citation.bibtex("propane").splitlines()[0])
/// @article{propane,
#[pyclass(module = "interstage", name = "Citation", frozen)]
#[derive(Debug)]
pub(crate) struct PyCitation {
    inner: Citation,
    /// Designation of the refrigerant (of what belongs to a pair, the title) and what of it: the recipe of the citation.
    origin: (String, &'static str),
}

impl PyCitation {
    /// The paper of the equation of state.
    pub(crate) fn of_equation(refrigerant: &Refrigerant) -> Self {
        Self::of(refrigerant.citation()).unwrap_or(Self {
            inner: *refrigerant.citation(),
            origin: (refrigerant.name().to_owned(), EQUATION),
        })
    }

    /// A paper behind pairs of a mixture; `None` for one that is not.
    fn of(citation: &Citation) -> Option<Self> {
        let mut known = Refrigerant::pair_citations();
        known
            .find(|known| *known == citation)
            .map(|known| Self { inner: *known, origin: (known.title.to_owned(), PAIR) })
    }

    /// The paper of a pair.
    pub(crate) fn of_pair(citation: &Citation) -> Self {
        Self { inner: *citation, origin: (citation.title.to_owned(), PAIR) }
    }

    /// Every paper behind a refrigerant.
    pub(crate) fn of_all(refrigerant: &Refrigerant) -> Vec<Self> {
        let components = refrigerant.composition().unwrap_or_default();
        let fluids = components.iter().filter_map(|(name, _)| Refrigerant::named(name).ok());
        let fluids: Vec<_> = fluids.chain([refrigerant.clone()]).collect();
        let of = |citation: &'static Citation| {
            let pair = Self::of(citation);
            pair.or_else(|| fluids.iter().find(|fluid| fluid.citation() == citation).map(Self::of_equation))
        };
        refrigerant.citations().into_iter().filter_map(of).collect()
    }

    /// The papers of what [`TRANSPORT`] names, in its order.
    pub(crate) fn of_transport(refrigerant: &Refrigerant) -> [Option<Self>; 3] {
        let papers = refrigerant.transport_citations();
        let papers = [papers.viscosity, papers.thermal_conductivity, papers.surface_tension];
        let [viscosity, conductivity, tension] = TRANSPORT;
        let [a, b, c] = papers;
        [(a, viscosity), (b, conductivity), (c, tension)].map(|(paper, of)| {
            paper.map(|&inner| Self { inner, origin: (refrigerant.name().to_owned(), of) })
        })
    }
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

    /// Journal, abbreviated, or another place of publication.
    #[getter]
    fn journal(&self) -> &'static str {
        self.inner.journal
    }

    /// Year of publication.
    #[getter]
    fn year(&self) -> u16 {
        self.inner.year
    }

    /// Volume, None if it has none.
    #[getter]
    fn volume(&self) -> Option<&'static str> {
        self.inner.volume
    }

    /// First and last page, or the article number; None if unknown.
    #[getter]
    fn pages(&self) -> Option<&'static str> {
        self.inner.pages
    }

    /// Digital object identifier, None if it has none.
    #[getter]
    fn doi(&self) -> Option<&'static str> {
        self.inner.doi
    }

    /// The BibTeX entry of the paper.
    ///
    /// What appeared in a numbered volume is an ``@article``, anything else (reports, releases, books) a ``@misc``.
    /// Characters with a meaning in TeX are escaped, but not in the DOI, which styles take as it is.
    ///
    /// Parameters
    /// ----------
    /// key : str, optional
    ///     Key of the entry, of which letters and digits of ASCII and ``- _ : . / +`` are kept; by default family name
    ///     of the first author (initials of an institution), year and first page.
    ///
    /// Returns
    /// -------
    /// str
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> print(interstage.Refrigerant("R-600a").citation.bibtex())
    /// @article{Buecker2006-929,
    ///   author = {D. Buecker and W. Wagner},
    ///   title = {{Reference Equations of State for the Thermodynamic Properties of Fluid Phase n-Butane and Isobutane}},
    ///   journal = {J. Phys. Chem. Ref. Data},
    ///   year = {2006},
    ///   volume = {35},
    ///   pages = {929--1019},
    ///   doi = {10.1063/1.1901687}
    /// }
    #[pyo3(signature = (key=None), text_signature = "($self, key=None)")]
    fn bibtex(&self, key: Option<&Bound<'_, PyAny>>) -> PyResult<String> {
        let key = key.map(|key| text("key", key)).transpose()?;
        Ok(self.inner.bibtex(&key.unwrap_or_default()))
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
        let again = py.import("interstage._core")?.getattr("_citation")?;
        let (name, of) = &self.origin;
        (again, (name, *of)).into_pyobject(py)
    }

    fn __eq__(&self, other: &Self) -> bool {
        self.inner == other.inner
    }

    fn __hash__(&self) -> u64 {
        hash_of(&(self.inner.title, self.inner.year))
    }

    fn __str__(&self) -> String {
        self.inner.to_string()
    }

    fn __repr__(&self) -> String {
        format!("Citation({:?})", self.inner.to_string())
    }
}

/// The citation of a refrigerant's equation of state or of one of its transport properties, for pickles.
#[pyfunction]
pub(crate) fn _citation(py: Python<'_>, name: &str, of: &str) -> PyResult<PyCitation> {
    if of == PAIR
        && let Some(known) = Refrigerant::pair_citations().find(|known| known.title == name)
    {
        return Ok(PyCitation { inner: *known, origin: (name.to_owned(), PAIR) });
    }
    let refrigerant = Refrigerant::named(name).or_raise(py)?;
    let equation = PyCitation::of_equation(&refrigerant);
    let transport = PyCitation::of_transport(&refrigerant).into_iter().flatten();
    let mut known = std::iter::once(equation).chain(transport);
    known.find(|citation| citation.origin.1 == of).ok_or_else(|| {
        let [viscosity, conductivity, tension] = TRANSPORT;
        unknown_option(py, "of", of, &[EQUATION, PAIR, viscosity, conductivity, tension])
    })
}

/// What concerns safety and environment of a refrigerant, each datum with its source.
///
/// Made by ``Refrigerant.environment``. Where a source says "from memory", check the current edition of the standard
/// or report.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> e = interstage.Refrigerant("R-134a").environment
/// >>> e.safety_class, e.odp, e.gwp_ar4, e.gwp_ar5, e.gwp_ar6
/// ('A1', 0.0, 1430.0, 1300.0, 1530.0)
/// >>> e.safety_source
/// 'ASHRAE 34, from memory'
/// >>> interstage.Refrigerant("R-1234yf").environment.gwp_ar5
/// '<1'
#[pyclass(module = "interstage", name = "Environment", frozen)]
#[derive(Debug)]
pub(crate) struct PyEnvironment {
    inner: Environment,
    refrigerant: Refrigerant,
}

impl PyEnvironment {
    pub(crate) fn of(refrigerant: &Refrigerant) -> Self {
        Self { inner: *refrigerant.environment(), refrigerant: refrigerant.clone() }
    }
}

/// A potential as a number, an upper limit as a text, None if unknown.
fn potential(py: Python<'_>, gwp: Option<Gwp>) -> PyResult<Bound<'_, PyAny>> {
    match gwp {
        Some(Gwp::Value(value)) => value.into_bound_py_any(py),
        Some(Gwp::Below(limit)) => format!("<{limit}").into_bound_py_any(py),
        _ => Ok(py.None().into_bound(py)),
    }
}

#[pymethods]
impl PyEnvironment {
    /// ASHRAE 34 safety class (letter toxicity, number flammability), None if unknown.
    #[getter]
    fn safety_class(&self) -> Option<&'static str> {
        self.inner.safety_class
    }

    /// Where the safety class was read.
    #[getter]
    fn safety_source(&self) -> &'static str {
        self.inner.safety_source
    }

    /// Ozone depletion potential, dimensionless (R-11: 1), None if unknown.
    #[getter]
    fn odp(&self) -> Option<f64> {
        self.inner.odp
    }

    /// Where the ozone depletion potential was read.
    #[getter]
    fn odp_source(&self) -> &'static str {
        self.inner.odp_source
    }

    /// Global warming potential over 100 years by the fourth IPCC report, dimensionless (CO2: 1); a text such as
    /// ``"<1"`` where only an upper limit is reported, None if unknown.
    #[getter]
    fn gwp_ar4<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let [ar4, _, _] = self.inner.gwp;
        potential(py, ar4)
    }

    /// Global warming potential over 100 years by the fifth IPCC report, dimensionless (CO2: 1); a text such as
    /// ``"<1"`` where only an upper limit is reported, None if unknown.
    #[getter]
    fn gwp_ar5<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let [_, ar5, _] = self.inner.gwp;
        potential(py, ar5)
    }

    /// Global warming potential over 100 years by the sixth IPCC report, dimensionless (CO2: 1); a text such as
    /// ``"<1"`` where only an upper limit is reported, None if unknown.
    #[getter]
    fn gwp_ar6<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let [_, _, ar6] = self.inner.gwp;
        potential(py, ar6)
    }

    /// Where the global warming potentials were read.
    #[getter]
    fn gwp_source(&self) -> &'static str {
        self.inner.gwp_source
    }

    /// What else is to be said about these data, None if nothing.
    #[getter]
    fn note(&self) -> Option<&'static str> {
        self.inner.note
    }

    /// The data and their sources as a dictionary.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "Environment")?;
        data.set_item("safety_class", self.inner.safety_class)?;
        data.set_item("safety_source", self.inner.safety_source)?;
        data.set_item("odp", self.inner.odp)?;
        data.set_item("odp_source", self.inner.odp_source)?;
        data.set_item("gwp_ar4", self.gwp_ar4(py)?)?;
        data.set_item("gwp_ar5", self.gwp_ar5(py)?)?;
        data.set_item("gwp_ar6", self.gwp_ar6(py)?)?;
        data.set_item("gwp_source", self.inner.gwp_source)?;
        data.set_item("note", self.inner.note)?;
        Ok(data)
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let getattr = py.import("builtins")?.getattr("getattr")?;
        let refrigerant = PyRefrigerant { inner: self.refrigerant.clone() };
        (getattr, (refrigerant, "environment")).into_pyobject(py)
    }

    fn __eq__(&self, other: &Self) -> bool {
        self.refrigerant.name() == other.refrigerant.name() && self.inner == other.inner
    }

    fn __hash__(&self) -> u64 {
        hash_of(&self.refrigerant.name())
    }

    fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
        let Environment { safety_class, odp, .. } = self.inner;
        let known = |gwp: Bound<'_, PyAny>| gwp.str().map(|text| text.to_string());
        let odp = odp.map_or_else(|| "None".to_owned(), |odp| odp.to_string());
        Ok(format!(
            "Environment({}: safety_class={}, odp={odp}, gwp_ar4={}, gwp_ar5={}, gwp_ar6={})",
            self.refrigerant.name(),
            safety_class.unwrap_or("None"),
            known(self.gwp_ar4(py)?)?,
            known(self.gwp_ar5(py)?)?,
            known(self.gwp_ar6(py)?)?,
        ))
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        html_of(slf)
    }
}

/// The designations of every refrigerant there is by a name.
///
/// Returns
/// -------
/// list of str
///     ASHRAE 34 designations, in the order of their numbers: first those with an equation of state of their own, then the blends by the
///     mixture model, ``interstage.blends()``. ``interstage.catalogue()`` is the table of them.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> "R-134a" in interstage.names()
/// True
#[pyfunction]
pub(crate) fn names(py: Python<'_>) -> PyResult<Bound<'_, PyList>> {
    PyList::new(py, Refrigerant::catalogue().chain(Refrigerant::blends()).collect::<Vec<_>>())
}

/// The designations of the blends there are by the mixture model.
///
/// Compositions are those of ASHRAE 34, from memory: check the current edition. R-404A, R-407C, R-410A and R-507A have equations of their
/// own and are not among them; ``Refrigerant("R-407C", model="mixture")`` gives them by the mixture model.
///
/// Returns
/// -------
/// list of str
///
/// Examples
/// --------
/// >>> import interstage
/// >>> "R-513A" in interstage.blends()
/// True
#[pyfunction]
pub(crate) fn blends(py: Python<'_>) -> PyResult<Bound<'_, PyList>> {
    PyList::new(py, Refrigerant::blends().collect::<Vec<_>>())
}
