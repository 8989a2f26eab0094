//! The compiled module of the Python package `interstage`: converts, calls the core, converts back.

mod arguments;
mod arrays;
mod catalogue;
mod circuit;
mod components;
mod conditions;
mod cycle;
mod economizers;
mod efficiency;
mod errors;
mod orifice;
mod pairs;
mod phases;
mod points;
mod recipe;
mod refrigerant;
mod saturation;
mod state;
mod stored;
mod threads;
mod trend;
mod units;

use pyo3::prelude::*;

/// The compiled part of the package `interstage`.
#[pymodule]
mod _core {
    use pyo3::prelude::*;

    // Properties.
    #[pymodule_export]
    use super::catalogue::{_citation, PyCitation, PyEnvironment, blends, names};
    #[pymodule_export]
    use super::phases::PyPhases;
    #[pymodule_export]
    use super::refrigerant::PyRefrigerant;
    #[pymodule_export]
    use super::saturation::PySaturation;
    #[pymodule_export]
    use super::state::PyState;

    // Components and cycles.
    #[pymodule_export]
    use super::circuit::PyCircuit;
    #[pymodule_export]
    use super::components::PyStage;
    #[pymodule_export]
    use super::cycle::PyCycle;
    #[pymodule_export]
    use super::economizers::{
        PyClosedEconomizer, PyDirect, PyFlashTank, PyIntercooledTank, PyLiquidInjection,
    };
    #[pymodule_export]
    use super::efficiency::{isentropic_efficiency, polytropic_efficiency};
    #[pymodule_export]
    use super::points::{PyPoint, PyPoints};

    // Columns and threads.
    #[pymodule_export]
    use super::arguments::_fetch;
    #[pymodule_export]
    use super::arrays::{
        _cycles, _derivatives, _saturation_temperatures, _saturations, _states, _surface_tensions,
        _transport, status_text,
    };
    #[pymodule_export]
    use super::threads::{get_threads, set_threads};

    // Orifices and trends: their classes are exported here.
    #[pymodule_export]
    use super::orifice::{PyOrifice, PyOrificeFlow};

    #[pymodule_export]
    use super::trend::{
        _figure_unit, _reading, _trend_remarks, _trend_status_text, PyTrendAnalysis, PyTrendTable,
    };

    #[pymodule_init]
    fn init(module: &Bound<'_, PyModule>) -> PyResult<()> {
        super::units::add(module)?;
        module.add("__version__", env!("CARGO_PKG_VERSION"))?;
        // The package says what is public; this module is private.
        module.delattr("__all__")
    }
}
