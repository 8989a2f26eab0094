//! Batch calls over NumPy arrays: the kernels behind `interstage._arrays`.
//!
//! Columns come in as one-dimensional arrays of `float64` with any stride. The interpreter is free while rows are
//! calculated, and is asked for signals some ten times a second.

use std::ops::Range;
use std::time::{Duration, Instant};

use interstage::{
    ChillerSlices, CycleColumns, CycleSlices, DerivativeColumns, DerivativeSlices, Error, Refrigerant,
    RowStatus, SERIAL_CYCLES, SERIAL_ROWS, SaturationColumns, SaturationSlices, StateColumns, StateSlices,
};
use numpy::ndarray::{Axis, Slice};
use numpy::{IntoPyArray, PyArray1, PyArrayMethods};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};

use crate::arguments::number;
use crate::circuit::PyCircuit;
use crate::conditions::{conditions, size};
use crate::errors::{OrRaise, unknown_option};
pub(crate) use crate::pairs::View;
use crate::pairs::pair_named;
use crate::refrigerant::PyRefrigerant;
use crate::threads::Runner;

/// Rows of a block that several threads share.
const BLOCK: usize = 64;

/// How long rows are calculated between two looks at signals.
const PATIENCE: Duration = Duration::from_millis(100);

/// Output columns that can be divided.
pub(crate) trait Divide: Send + Sized {
    fn divide(self, row: usize) -> (Self, Self);
    fn rows(&self) -> usize;
}

macro_rules! divide {
    ($($slices:ident),*) => {$(
        impl Divide for $slices<'_> {
            fn divide(self, row: usize) -> (Self, Self) {
                self.split_at(row)
            }
            fn rows(&self) -> usize {
                self.status.len()
            }
        }
    )*};
}

divide! { StateSlices, SaturationSlices, DerivativeSlices, CycleSlices, ChillerSlices }

impl Divide for &mut [f64] {
    fn divide(self, row: usize) -> (Self, Self) {
        self.split_at_mut(row)
    }
    fn rows(&self) -> usize {
        self.len()
    }
}

/// Fills all rows, block by block, with `fill(rows, slices of these rows)`.
///
/// A block is small enough for the core to stay on the calling thread if that is all there is.
pub(crate) fn in_blocks<S: Divide>(
    py: Python<'_>,
    threads: Option<&Bound<'_, PyAny>>,
    serial: usize,
    out: S,
    fill: impl Fn(Range<usize>, S) -> interstage::Result<()> + Sync,
) -> PyResult<()> {
    let rows = out.rows();
    let runner = Runner::new(py, threads, rows <= serial)?;
    let block = if runner.shares() { BLOCK * serial } else { serial };
    let mut first = 0;
    let mut rest = Some(out);
    while first < rows {
        py.detach(|| {
            runner.run(|| {
                let start = Instant::now();
                while let Some(out) = rest.take_if(|_| first < rows && start.elapsed() < PATIENCE) {
                    let next = (first + block).min(rows);
                    let (now, later) = out.divide(next - first);
                    fill(first..next, now)?;
                    (first, rest) = (next, Some(later));
                }
                Ok(())
            })
        })
        .or_raise(py)?;
        py.check_signals()?;
    }
    Ok(())
}

/// Refuses a column of another length.
fn same_rows(py: Python<'_>, argument: &'static str, found: usize, expected: usize) -> PyResult<()> {
    if found == expected {
        Ok(())
    } else {
        Err(Error::WrongLength { argument, found, expected }).or_raise(py)
    }
}

fn part<'a>(column: &'a View<'_>, rows: Range<usize>) -> View<'a> {
    column.slice_axis(Axis(0), Slice::from(rows))
}

/// Columns T, p, rho, h, s, u, x, phase code and status of states from two properties.
#[pyfunction]
pub(crate) fn _states<'py>(
    refrigerant: &Bound<'py, PyRefrigerant>,
    first: &str,
    a: &Bound<'py, PyArray1<f64>>,
    second: &str,
    b: &Bound<'py, PyArray1<f64>>,
    threads: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyTuple>> {
    let py = refrigerant.py();
    let pair = pair_named(py, first, second)?;
    let refrigerant = &refrigerant.get().inner;
    // Built here, attached to the interpreter: a fork must never find it half done.
    refrigerant.prepare().or_raise(py)?;
    let (a, b) = (a.try_readonly()?, b.try_readonly()?);
    let (a, b) = (a.as_array(), b.as_array());
    same_rows(py, "second column", b.len(), a.len())?;
    let mut out = StateColumns::with_rows(a.len());
    in_blocks(py, threads, SERIAL_ROWS, out.as_slices(), |rows, out| {
        (pair.states)(refrigerant, part(&a, rows.clone()), part(&b, rows), out)
    })?;
    let StateColumns {
        temperature,
        pressure,
        density,
        enthalpy,
        entropy,
        internal_energy,
        quality,
        phase,
        status,
    } = out;
    let numbers = [temperature, pressure, density, enthalpy, entropy, internal_energy, quality];
    let numbers = numbers.into_iter().map(|column| column.into_pyarray(py).into_any());
    let codes = [phase, status].into_iter().map(|column| column.into_pyarray(py).into_any());
    PyTuple::new(py, numbers.chain(codes).collect::<Vec<_>>())
}

/// A dictionary of columns by name, which must stand as in the core.
macro_rules! by_name {
    ($py:expr, $columns:expr, $($name:ident),*) => {{
        let data = PyDict::new($py);
        $(data.set_item(stringify!($name), $columns.$name.into_pyarray($py))?;)*
        data.set_item("status", $columns.status.into_pyarray($py))?;
        data
    }};
}

pub(crate) use by_name;

/// Columns of saturation by temperature (`"T"`) or pressure (`"p"`).
#[pyfunction]
pub(crate) fn _saturations<'py>(
    refrigerant: &Bound<'py, PyRefrigerant>,
    name: &str,
    column: &Bound<'py, PyArray1<f64>>,
    threads: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyDict>> {
    let py = refrigerant.py();
    let refrigerant = &refrigerant.get().inner;
    refrigerant.prepare().or_raise(py)?;
    let column = column.try_readonly()?;
    let column = column.as_array();
    let mut out = SaturationColumns::with_rows(column.len());
    in_blocks(py, threads, SERIAL_ROWS, out.as_slices(), |rows, out| {
        if name == "T" {
            refrigerant.saturations_at_temperature(part(&column, rows), out)
        } else {
            refrigerant.saturations_at_pressure(part(&column, rows), out)
        }
    })?;
    Ok(by_name!(
        py,
        out,
        temperature,
        pressure,
        temperature_glide,
        liquid_temperature,
        liquid_pressure,
        liquid_density,
        liquid_enthalpy,
        liquid_entropy,
        liquid_internal_energy,
        vapor_density,
        vapor_enthalpy,
        vapor_entropy,
        vapor_internal_energy,
        latent_heat
    ))
}

/// Columns of slopes at states: temperatures, pressures, densities and phase codes.
#[pyfunction]
pub(crate) fn _derivatives<'py>(
    refrigerant: &Bound<'py, PyRefrigerant>,
    temperature: &Bound<'py, PyArray1<f64>>,
    pressure: &Bound<'py, PyArray1<f64>>,
    density: &Bound<'py, PyArray1<f64>>,
    phase: &Bound<'py, PyArray1<u8>>,
) -> PyResult<Bound<'py, PyDict>> {
    let py = refrigerant.py();
    let refrigerant = &refrigerant.get().inner;
    let (temperature, pressure, density) =
        (temperature.try_readonly()?, pressure.try_readonly()?, density.try_readonly()?);
    let (temperature, pressure, density) = (temperature.as_array(), pressure.as_array(), density.as_array());
    let phase = phase.try_readonly()?;
    let phase = phase.as_slice()?;
    same_rows(py, "temperature", temperature.len(), phase.len())?;
    same_rows(py, "pressure", pressure.len(), phase.len())?;
    same_rows(py, "density", density.len(), phase.len())?;
    let mut out = DerivativeColumns::with_rows(phase.len());
    in_blocks(py, None, SERIAL_ROWS, out.as_slices(), |rows, out| {
        let phase = phase.get(rows.clone()).unwrap_or_default();
        let part = |column| part(column, rows.clone());
        refrigerant.derivatives_of(part(&temperature), part(&pressure), part(&density), phase, out)
    })?;
    Ok(by_name!(
        py,
        out,
        cp,
        cv,
        speed_of_sound,
        isentropic_exponent,
        joule_thomson,
        compressibility_factor,
        isothermal_compressibility,
        thermal_expansion
    ))
}

/// A column of a transport property (`"viscosity"`, `"thermal_conductivity"` or `"prandtl_number"`) at states:
/// temperatures, pressures, densities and phase codes. NaN where it has no value.
#[pyfunction]
pub(crate) fn _transport<'py>(
    refrigerant: &Bound<'py, PyRefrigerant>,
    property: &str,
    temperature: &Bound<'py, PyArray1<f64>>,
    pressure: &Bound<'py, PyArray1<f64>>,
    density: &Bound<'py, PyArray1<f64>>,
    phase: &Bound<'py, PyArray1<u8>>,
) -> PyResult<Bound<'py, PyArray1<f64>>> {
    let py = refrigerant.py();
    let refrigerant = &refrigerant.get().inner;
    let of = match property {
        "viscosity" => Refrigerant::viscosity,
        "thermal_conductivity" => Refrigerant::thermal_conductivity,
        "prandtl_number" => Refrigerant::prandtl_number,
        other => {
            let known = ["viscosity", "thermal_conductivity", "prandtl_number"];
            return Err(unknown_option(py, "property", other, &known));
        }
    };
    // Whether anything is published does not depend on the state: it is asked at one that every refrigerant has.
    let somewhere =
        refrigerant.saturation_at_temperature(refrigerant.minimum_saturation_temperature()).or_raise(py)?;
    if let Err(error @ Error::NotPublished { .. }) = of(refrigerant, &somewhere.vapor()) {
        return Err(error).or_raise(py);
    }
    let (temperature, pressure, density) =
        (temperature.try_readonly()?, pressure.try_readonly()?, density.try_readonly()?);
    let (temperature, pressure, density) = (temperature.as_array(), pressure.as_array(), density.as_array());
    let phase = phase.try_readonly()?;
    let phase = phase.as_slice()?;
    same_rows(py, "temperature", temperature.len(), phase.len())?;
    same_rows(py, "pressure", pressure.len(), phase.len())?;
    same_rows(py, "density", density.len(), phase.len())?;
    let mut out = vec![f64::NAN; phase.len()];
    let one = 1_usize.into_bound_py_any(py)?;
    in_blocks(py, Some(&one), SERIAL_ROWS, out.as_mut_slice(), |rows, out| {
        let mut states = StateColumns::with_rows(rows.len());
        let inputs = part(&temperature, rows.clone());
        states.temperature.iter_mut().zip(inputs).for_each(|(state, &given)| *state = given);
        let inputs = part(&pressure, rows.clone());
        states.pressure.iter_mut().zip(inputs).for_each(|(state, &given)| *state = given);
        let inputs = part(&density, rows.clone());
        states.density.iter_mut().zip(inputs).for_each(|(state, &given)| *state = given);
        states.phase.copy_from_slice(phase.get(rows).unwrap_or_default());
        states.status.fill(RowStatus::Ok.code());
        for (row, value) in out.iter_mut().enumerate() {
            let state = states.get(row);
            *value = state.and_then(|state| of(refrigerant, &state).ok()).unwrap_or(f64::NAN);
        }
        Ok(())
    })?;
    Ok(out.into_pyarray(py))
}

/// A column of surface tensions by temperature, NaN outside the range.
#[pyfunction]
pub(crate) fn _surface_tensions<'py>(
    refrigerant: &Bound<'py, PyRefrigerant>,
    temperature: &Bound<'py, PyArray1<f64>>,
) -> PyResult<Bound<'py, PyArray1<f64>>> {
    let py = refrigerant.py();
    let refrigerant = &refrigerant.get().inner;
    refrigerant.surface_tension(refrigerant.minimum_saturation_temperature()).or_raise(py)?;
    let temperature = temperature.try_readonly()?;
    let temperature = temperature.as_array();
    let values = temperature.iter().map(|&t| refrigerant.surface_tension(t).unwrap_or(f64::NAN));
    Ok(values.collect::<Vec<_>>().into_pyarray(py))
}

/// A column of saturation temperatures by pressure, NaN outside the range.
#[pyfunction]
pub(crate) fn _saturation_temperatures<'py>(
    refrigerant: &Bound<'py, PyRefrigerant>,
    pressure: &Bound<'py, PyArray1<f64>>,
) -> PyResult<Bound<'py, PyArray1<f64>>> {
    let py = refrigerant.py();
    let refrigerant = &refrigerant.get().inner;
    refrigerant.prepare().or_raise(py)?;
    let pressure = pressure.try_readonly()?;
    let pressure = pressure.as_array();
    let values = py.detach(|| {
        pressure
            .iter()
            .map(|&p| refrigerant.saturation_temperature(p).unwrap_or(f64::NAN))
            .collect::<Vec<_>>()
    });
    Ok(values.into_pyarray(py))
}

/// Columns of solved cycles from evaporating and condensing temperature, superheat, subcooling, carryover, bypass and size, where
/// `size_name` is `"capacity"`, `"mass_flow"` or `"power"`.
#[pyfunction]
#[expect(clippy::needless_pass_by_value, reason = "arrays of arguments are extracted by value")]
pub(crate) fn _cycles<'py>(
    circuit: &Bound<'py, PyCircuit>,
    columns: [Bound<'py, PyArray1<f64>>; 7],
    size_name: &str,
    threads: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyDict>> {
    let py = circuit.py();
    let circuit = &circuit.get().inner;
    circuit.refrigerant().prepare().or_raise(py)?;
    let columns = columns.iter().map(|column| Ok(column.try_readonly()?)).collect::<PyResult<Vec<_>>>()?;
    let columns: Vec<View<'_>> = columns.iter().map(|column| column.as_array()).collect();
    let mut out = CycleColumns::with_rows(columns.first().map_or(0, View::len), circuit);
    in_blocks(py, threads, SERIAL_CYCLES, out.as_slices(), |rows, out| {
        let conditions = |row: usize| {
            let at = |column: usize| {
                columns.get(column).and_then(|of| of.get(rows.start + row)).copied().unwrap_or(f64::NAN)
            };
            conditions(std::array::from_fn(at), size(size_name, at(6)))
        };
        circuit.solve_rows(conditions, out)
    })?;
    Ok(by_name!(
        py,
        out,
        cop,
        kw_per_ton,
        eer,
        carnot_cop,
        capacity,
        power,
        expander_power,
        shaft_power,
        motor_input_power,
        drive_input_power,
        motor_heat,
        heat_rejected,
        refrigerating_effect,
        economizer_benefit,
        evaporator_inlet_quality,
        discharge_temperature,
        evaporating_pressure,
        condensing_pressure,
        evaporator_mass_flow,
        condenser_mass_flow,
        mass_closure,
        energy_closure,
        interstage_pressures,
        flash_fractions,
        stage_work,
        stage_head,
        head_split,
        stage_power,
        stage_mass_flow,
        stage_inlet_volume_flow,
        stage_wet
    ))
}

/// The words for a row status.
///
/// Parameters
/// ----------
/// code : int
///     A value of the attribute `status` of array results.
///
/// Returns
/// -------
/// str
///
/// Examples
/// --------
/// >>> import interstage
/// >>> interstage.status_text(0)
/// 'ok'
/// >>> interstage.status_text(1)
/// 'an input is missing'
#[pyfunction]
pub(crate) fn status_text(code: &Bound<'_, PyAny>) -> PyResult<String> {
    let py = code.py();
    let number = number("code", code)?;
    let known = RowStatus::ALL.iter().find(|status| f64::from(status.code()) == number);
    match known {
        Some(status) => Ok(status.to_string()),
        None => {
            let known: Vec<String> = RowStatus::ALL.iter().map(|status| status.code().to_string()).collect();
            let known: Vec<&str> = known.iter().map(String::as_str).collect();
            Err(unknown_option(py, "code", &number.to_string(), &known))
        }
    }
}
