//! The analysis of trends: the kernel behind `interstage.Trend`.
#![expect(clippy::needless_pass_by_value, reason = "extracted arguments arrive by value")]

use std::str::FromStr;

use interstage::{Figure, Quality, Reading, Readings, Status, TrendAnalysis, TrendTable};
use numpy::{IntoPyArray, PyArray1, PyArray3, PyArrayMethods, PyReadonlyArray1};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyString};

use crate::arguments::{array_layer, number};
use crate::brine::PyBrine;
use crate::circuit::PyCircuit;
use crate::errors::OrRaise;
use crate::threads::Runner;

/// Rows between two looks at signals on several threads.
const BLOCK: usize = 8192;

/// Rows that stay on the calling thread, and rows between two looks at signals there.
const SMALL: usize = 256;

/// How rows of readings of one circuit are analysed; `interstage.Trend` brings columns and units to it.
#[pyclass(module = "interstage._core", name = "TrendAnalysis", frozen)]
#[derive(Debug)]
pub(crate) struct PyTrendAnalysis {
    inner: TrendAnalysis,
}

/// Figures of every row.
#[pyclass(module = "interstage._core", name = "TrendTable", frozen)]
#[derive(Debug)]
pub(crate) struct PyTrendTable {
    inner: TrendTable,
}

#[pymethods]
impl PyTrendAnalysis {
    #[new]
    #[pyo3(signature = (circuit, *, minimum_power, drive_efficiency, discharge_temperature_uncertainty,
        widest_efficiency_interval, capacity_uncertainty, tank_exponent_tolerance, tank_exponents, pressure_uncertainty,
        power_uncertainty, heat_balance_limit, rating, chilled_brine, condenser_brine))]
    #[expect(clippy::too_many_arguments, reason = "one for each option of the analysis, all by name")]
    fn new(
        circuit: &Bound<'_, PyCircuit>,
        minimum_power: &Bound<'_, PyAny>,
        drive_efficiency: Option<&Bound<'_, PyAny>>,
        discharge_temperature_uncertainty: &Bound<'_, PyAny>,
        widest_efficiency_interval: &Bound<'_, PyAny>,
        capacity_uncertainty: &Bound<'_, PyAny>,
        tank_exponent_tolerance: &Bound<'_, PyAny>,
        tank_exponents: Option<&Bound<'_, PyAny>>,
        pressure_uncertainty: &Bound<'_, PyAny>,
        power_uncertainty: &Bound<'_, PyAny>,
        heat_balance_limit: &Bound<'_, PyAny>,
        rating: Option<&Bound<'_, PyAny>>,
        chilled_brine: Option<&Bound<'_, PyBrine>>,
        condenser_brine: Option<&Bound<'_, PyBrine>>,
    ) -> PyResult<Self> {
        let py = circuit.py();
        let kelvin = number("discharge_temperature_uncertainty", discharge_temperature_uncertainty)?;
        let interval = number("widest_efficiency_interval", widest_efficiency_interval)?;
        let mut inner = TrendAnalysis::new(circuit.get().inner.clone())
            .and_then(|analysis| analysis.with_discharge_temperature_uncertainty(kelvin, interval))
            .or_raise(py)?;
        inner = inner.with_minimum_power(number("minimum_power", minimum_power)?).or_raise(py)?;
        inner = inner
            .with_capacity_uncertainty(number("capacity_uncertainty", capacity_uncertainty)?)
            .or_raise(py)?;
        let tolerance = number("tank_exponent_tolerance", tank_exponent_tolerance)?;
        inner = inner.with_tank_exponent_tolerance(tolerance).or_raise(py)?;
        let pressure = number("pressure_uncertainty", pressure_uncertainty)?;
        inner = inner.with_pressure_uncertainty(pressure).or_raise(py)?;
        let power = number("power_uncertainty", power_uncertainty)?;
        inner = inner.with_power_uncertainty(power).or_raise(py)?;
        let limit = number("heat_balance_limit", heat_balance_limit)?;
        inner = inner.with_heat_balance_limit(limit).or_raise(py)?;
        if let Some(exponents) = tank_exponents {
            let column = array_layer(py)?.getattr("numbers")?.call1(("tank_exponents", exponents))?;
            inner = inner.with_tank_exponents(column.extract()?).or_raise(py)?;
        }
        if let Some(rating) = rating {
            let (capacity, range): (Bound<'_, PyAny>, Bound<'_, PyAny>) = rating.extract()?;
            let (capacity, range) =
                (number("rated_capacity", &capacity)?, number("full_load_range", &range)?);
            inner = inner.with_rating(capacity, range).or_raise(py)?;
        }
        if let Some(brine) = chilled_brine {
            inner = inner.with_chilled_brine(brine.get().inner);
        }
        if let Some(brine) = condenser_brine {
            inner = inner.with_condenser_brine(brine.get().inner);
        }
        if let Some(drive) = drive_efficiency {
            inner = inner.with_drive_efficiency(number("drive_efficiency", drive)?).or_raise(py)?;
        }
        Ok(Self { inner })
    }

    /// Rows before a part of a table that decide which of its readings jump.
    #[classattr]
    const ROWS_BEFORE: usize = TrendAnalysis::ROWS_BEFORE;

    /// Rows after it.
    #[classattr]
    const ROWS_AFTER: usize = TrendAnalysis::ROWS_AFTER;

    /// Names of the figures of this circuit.
    #[getter]
    fn figures(&self) -> Vec<String> {
        self.inner.figures().iter().map(ToString::to_string).collect()
    }

    /// Sets of readings that a figure can be told from; any one of them is enough.
    fn needs(&self, py: Python<'_>, figure: &str) -> PyResult<Vec<Vec<String>>> {
        let figure = Figure::from_str(figure).or_raise(py)?;
        let sets = self.inner.needs(figure);
        Ok(sets.iter().map(|set| set.iter().map(ToString::to_string).collect()).collect())
    }

    /// Analyses columns (name of the reading: array of SI numbers, NaN where missing). Spikes are found in rows that are in
    /// the order of time.
    fn analyse(
        &self,
        py: Python<'_>,
        columns: Columns<'_>,
        threads: Option<&Bound<'_, PyAny>>,
        in_order: bool,
    ) -> PyResult<PyTrendTable> {
        let owned = owned(py, &columns)?;
        let mut readings = readings(py, &owned)?;
        if !in_order {
            readings = readings.in_no_order();
        }
        let runner = Runner::new(py, threads, readings.rows() <= SMALL)?;
        // Built here, attached to the interpreter: a fork must never find it half done.
        self.inner.circuit().refrigerant().prepare().or_raise(py)?;
        let mut run = self.inner.begin(&readings).or_raise(py)?;
        // Only within a pool of ours may the rows be shared: the pool that others share does not outlive a fork.
        let mut advance = || {
            if runner.shares() { runner.run(|| run.advance_shared(BLOCK)) } else { run.advance(SMALL) }
        };
        while py.detach(&mut advance) > 0 {
            py.check_signals()?;
        }
        Ok(PyTrendTable { inner: run.finish() })
    }

    /// Derivatives of figures to readings, rows by figures by readings. Readings are taken as they are.
    fn slopes<'py>(
        &self,
        py: Python<'py>,
        columns: Columns<'py>,
        figures: Vec<String>,
        threads: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Bound<'py, PyArray3<f64>>> {
        let owned = owned(py, &columns)?;
        let readings = readings(py, &owned)?;
        let figures =
            figures.iter().map(|name| Figure::from_str(name)).collect::<Result<Vec<_>, _>>().or_raise(py)?;
        let runner = Runner::new(py, threads, readings.rows() <= SMALL)?;
        self.inner.circuit().refrigerant().prepare().or_raise(py)?;
        let found = if runner.shares() {
            py.detach(|| runner.run(|| self.inner.slopes_shared(&readings, &figures)))
        } else {
            py.detach(|| self.inner.slopes(&readings, &figures))
        };
        let shape = [readings.rows(), figures.len(), owned.len()];
        found.or_raise(py)?.values().to_vec().into_pyarray(py).reshape(shape)
    }
}

/// Columns by the names of their readings.
type Columns<'py> = Vec<(String, PyReadonlyArray1<'py, f64>)>;

fn owned(py: Python<'_>, columns: &Columns<'_>) -> PyResult<Vec<(Reading, Vec<f64>)>> {
    let own = |(name, column): &(String, PyReadonlyArray1<'_, f64>)| {
        Ok((Reading::from_str(name).or_raise(py)?, column.as_array().to_vec()))
    };
    columns.iter().map(own).collect()
}

fn readings<'a>(py: Python<'_>, columns: &'a [(Reading, Vec<f64>)]) -> PyResult<Readings<'a>> {
    columns
        .iter()
        .try_fold(Readings::new(), |readings, (reading, column)| readings.with(*reading, column))
        .or_raise(py)
}

#[pymethods]
impl PyTrendTable {
    /// Number of rows.
    fn __len__(&self) -> usize {
        self.inner.rows()
    }

    /// One figure in every row.
    fn column<'py>(&self, py: Python<'py>, figure: &str) -> PyResult<Option<Bound<'py, PyArray1<f64>>>> {
        let figure = Figure::from_str(figure).or_raise(py)?;
        Ok(self.inner.column(figure).map(|values| values.into_pyarray(py)))
    }

    /// Remarks on each row, as bits.
    #[getter]
    fn status<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<u32>> {
        self.inner.status().iter().map(|status| status.bits()).collect::<Vec<_>>().into_pyarray(py)
    }

    /// Quality of a reading in each row: 0 good, 1 missing, 2 out of range, 3 spike.
    fn quality<'py>(&self, py: Python<'py>, reading: &str) -> PyResult<Option<Bound<'py, PyArray1<u8>>>> {
        let reading = Reading::from_str(reading).or_raise(py)?;
        let code = |quality: &Quality| match quality {
            Quality::Good => 0,
            Quality::Missing => 1,
            Quality::OutOfRange => 2,
            _ => 3,
        };
        let quality = self.inner.quality(reading);
        Ok(quality.map(|rows| rows.iter().map(code).collect::<Vec<_>>().into_pyarray(py)))
    }

    /// Figures that no row can have, with the reason.
    #[getter]
    fn unavailable<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        by_figure(py, self.inner.unavailable())
    }

    /// Figures that rest on something no reading tells, with what that is.
    #[getter]
    fn assumptions<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        by_figure(py, self.inner.assumptions())
    }
}

fn by_figure<'py>(py: Python<'py>, texts: &[(Figure, String)]) -> PyResult<Bound<'py, PyDict>> {
    let by_figure = PyDict::new(py);
    for (figure, text) in texts {
        by_figure.set_item(figure.to_string(), text)?;
    }
    Ok(by_figure)
}

/// SI unit of a figure, and whether it is a temperature difference.
#[pyfunction]
pub(crate) fn _figure_unit(py: Python<'_>, figure: &str) -> PyResult<(&'static str, bool)> {
    let figure = Figure::from_str(figure).or_raise(py)?;
    Ok((figure.unit(), figure.is_temperature_difference()))
}

/// The full name of a reading and its SI unit.
#[pyfunction]
pub(crate) fn _reading<'py>(py: Python<'py>, name: &str) -> PyResult<(Bound<'py, PyString>, &'static str)> {
    let reading = Reading::from_str(name).or_raise(py)?;
    Ok((PyString::new(py, &reading.to_string()), reading.unit()))
}

/// The remarks of a row's status in words.
#[pyfunction]
pub(crate) fn _trend_status_text(bits: u32) -> String {
    Status::from_bits(bits).to_string()
}

/// Every remark: its bits and its words.
#[pyfunction]
pub(crate) fn _trend_remarks() -> Vec<(u32, &'static str)> {
    Status::ALL.iter().map(|(remark, text)| (remark.bits(), *text)).collect()
}
