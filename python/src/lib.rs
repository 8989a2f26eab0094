//! The compiled module of the Python package `interstage`: converts, calls the core, converts back.

mod arguments;
mod arrays;
mod brine;
mod catalogue;
mod chiller;
mod chiller_point;
mod circuit;
mod circuit_options;
mod circuit_solving;
mod columns;
mod components;
mod conditions;
mod cycle;
mod design;
mod duty;
mod economizers;
mod efficiency;
mod errors;
mod exchange;
mod exchanger;
mod figures;
mod ideal_cop;
mod impeller;
mod orifice;
mod pairs;
mod phases;
mod points;
mod rating;
mod recipe;
mod record;
mod refrigerant;
mod saturation;
mod state;
mod stored;
mod threads;
mod trend;
mod units;
mod variable_ua;
mod water_flow;
mod zones;

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
    use super::chiller::{_chiller_rows, PyChiller};
    #[pymodule_export]
    use super::chiller_point::PyChillerPoint;
    #[pymodule_export]
    use super::circuit::PyCircuit;
    #[pymodule_export]
    use super::components::PyStage;
    #[pymodule_export]
    use super::cycle::PyCycle;
    #[pymodule_export]
    use super::design::PyDesignPoint;
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

    // Exchangers, ratings and impellers.
    #[pymodule_export]
    use super::exchange::{PyHeatExchange, logarithmic_mean_difference, ua_from_temperatures};
    #[pymodule_export]
    use super::exchanger::PyExchanger;
    #[pymodule_export]
    use super::ideal_cop::{carnot_cop, entropic_mean_temperature, lorenz_cop};
    #[pymodule_export]
    use super::impeller::{PyImpeller, PyStageDuty};
    #[pymodule_export]
    use super::rating::{PyRatingConditions, iplv_from_cop, iplv_from_kw_per_ton, rating_tolerance};
    #[pymodule_export]
    use super::variable_ua::{PyVariableUa, fouled_ua, fouling_allowance, fouling_resistance};
    #[pymodule_export]
    use super::water_flow::PyWaterFlow;
    #[pymodule_export]
    use super::zones::{PyCondenserZones, PyZone};

    // Orifices and trends: their classes are exported here.
    #[pymodule_export]
    use super::orifice::{PyOrifice, PyOrificeFlow};

    #[pymodule_export]
    use super::brine::PyBrine;

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
