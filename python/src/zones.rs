//! A condenser in zones.

use std::hash::{Hash, Hasher};

use interstage::{CondenserZones, Error, Zone};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple, PyType};

use crate::arguments::{html_of, number, object};
use crate::errors::{OrRaise, from_core};
use crate::record::record;
use crate::refrigerant::PyRefrigerant;
use crate::state::PyState;
use crate::stored::{Stored, fitted, hash_numbers, hash_of, rebuilt, shown, storage};
use crate::water_flow::PyWaterFlow;

record! {
    /// One zone of a condenser. SI units.
    ///
    /// Examples
    /// --------
    /// See `CondenserZones`.
    PyZone, "Zone" {
        /// Heat that passes, W.
        heat: " W",
        /// Conductance that the zone takes, W/K.
        ua: " W/K",
        /// Mean temperature difference, heat over UA, K.
        mean_difference: " K",
        /// Temperature of the refrigerant where it enters the zone, K.
        refrigerant_entering: " K",
        /// Temperature of the refrigerant where it leaves the zone, K.
        refrigerant_leaving: " K",
        /// Temperature of the water where it enters the zone, K.
        water_entering: " K",
        /// Temperature of the water where it leaves the zone, K.
        water_leaving: " K",
    }
}

impl PyZone {
    fn new(zone: &Zone) -> Self {
        Self {
            heat: zone.heat(),
            ua: zone.ua(),
            mean_difference: zone.mean_difference(),
            refrigerant_entering: zone.refrigerant_entering(),
            refrigerant_leaving: zone.refrigerant_leaving(),
            water_entering: zone.water_entering(),
            water_leaving: zone.water_leaving(),
        }
    }
}

/// A condenser in zones, refrigerant and water in counter-flow: superheated vapor, condensing, subcooled liquid. SI
/// units.
///
/// In a real condenser the wall is below the saturation temperature and superheated vapor condenses on it at once, so
/// that one zone at the saturation temperature is the usual model (`Exchanger`). The zones show the temperature
/// difference at the dew point (``pinch``) and what UA each zone takes.
///
/// Parameters
/// ----------
/// refrigerant : Refrigerant
/// inlet : State
///     Of the refrigerant, vapor or wet; its pressure is that of the condenser.
/// subcooling : float, optional
///     Of the leaving liquid below the bubble point, K.
/// mass_flow : float
///     Of the refrigerant, kg/s.
/// water : WaterFlow
/// water_entering : float
///     K.
///
/// Raises
/// ------
/// Inconsistent
///     If the water would be warmer than the refrigerant anywhere: at the dew point the message has the negative pinch; if the
///     inlet is liquid or a state of another handle.
/// OutOfRange, NotFinite
///     If a flow is not positive or the water would not stay liquid.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> r = interstage.Refrigerant("R-134a")
/// >>> discharge = r.state(p=r.saturation(T=310.15).p, T=322.15)
/// >>> zones = interstage.CondenserZones(
/// ...     r, discharge, mass_flow=24.0, water=interstage.WaterFlow(mass_flow=200.0), water_entering=303.15
/// ... )
/// >>> round(zones.pinch, 2), round(zones.desuperheating.heat / zones.heat, 3), zones.subcooling
/// (2.23, 0.073, None)
#[pyclass(module = "interstage", name = "CondenserZones", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyCondenserZones {
    desuperheating: Option<PyZone>,
    condensing: PyZone,
    subcooling: Option<PyZone>,
    pinch: f64,
}

impl PyCondenserZones {
    pub(crate) fn of(zones: &CondenserZones) -> Self {
        Self {
            desuperheating: zones.desuperheating().as_ref().map(PyZone::new),
            condensing: PyZone::new(&zones.condensing()),
            subcooling: zones.subcooling().as_ref().map(PyZone::new),
            pinch: zones.pinch(),
        }
    }

    fn zones(&self) -> impl Iterator<Item = &PyZone> {
        self.desuperheating.iter().chain([&self.condensing]).chain(&self.subcooling)
    }
}

#[pymethods]
impl PyCondenserZones {
    #[new]
    #[pyo3(
        signature = (refrigerant, inlet, *, subcooling=None, mass_flow, water, water_entering),
        text_signature = "(refrigerant, inlet, *, subcooling=0.0, mass_flow, water, water_entering)"
    )]
    fn new(
        refrigerant: &Bound<'_, PyAny>,
        inlet: &Bound<'_, PyAny>,
        subcooling: Option<&Bound<'_, PyAny>>,
        mass_flow: &Bound<'_, PyAny>,
        water: &Bound<'_, PyAny>,
        water_entering: &Bound<'_, PyAny>,
    ) -> PyResult<Self> {
        let py = water.py();
        let refrigerant = &object::<PyRefrigerant>("refrigerant", refrigerant)?.get().inner;
        let inlet = object::<PyState>("inlet", inlet)?.get();
        if *refrigerant != inlet.refrigerant {
            let reason = format!("{refrigerant:?} and a state of {:?}", inlet.refrigerant);
            return Err(from_core(py, &Error::Inconsistent { arguments: "refrigerant and inlet", reason }));
        }
        let zones = CondenserZones::new(
            refrigerant,
            &inlet.state,
            subcooling.map_or(Ok(0.0), |value| number("subcooling", value))?,
            number("mass_flow", mass_flow)?,
            &object::<PyWaterFlow>("water", water)?.get().inner,
            number("water_entering", water_entering)?,
        )
        .or_raise(py)?;
        Ok(Self::of(&zones))
    }

    /// Superheated vapor down to the dew point; None where the refrigerant enters saturated or wet.
    #[getter]
    fn desuperheating(&self) -> Option<PyZone> {
        self.desuperheating.clone()
    }

    /// From the dew point, or the wet inlet, to saturated liquid.
    #[getter]
    fn condensing(&self) -> PyZone {
        self.condensing.clone()
    }

    /// Saturated liquid down to the outlet; None without subcooling.
    #[getter]
    fn subcooling(&self) -> Option<PyZone> {
        self.subcooling.clone()
    }

    /// Refrigerant less water temperature where condensation begins, K: at the dew point, or at a wet inlet.
    #[getter]
    fn pinch(&self) -> f64 {
        self.pinch
    }

    /// Heat of all zones, W.
    #[getter]
    fn heat(&self) -> f64 {
        self.zones().map(|zone| zone.heat).sum()
    }

    /// Conductance of all zones, W/K.
    #[getter]
    fn ua(&self) -> f64 {
        self.zones().map(|zone| zone.ua).sum()
    }

    /// Temperature of the leaving water, K.
    #[getter]
    fn water_leaving(&self) -> f64 {
        self.desuperheating.as_ref().unwrap_or(&self.condensing).water_leaving
    }

    /// The zones as a dictionary.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "CondenserZones")?;
        for (key, zone) in [
            ("desuperheating", self.desuperheating.as_ref()),
            ("condensing", Some(&self.condensing)),
            ("subcooling", self.subcooling.as_ref()),
        ] {
            if let Some(zone) = zone {
                data.set_item(key, zone.to_dict(py)?)?;
            }
        }
        data.set_item("pinch", self.pinch)?;
        Ok(data)
    }

    /// The zones of a dictionary that `to_dict` made, to the bit.
    #[classmethod]
    fn from_dict(class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let stored = Stored::new(data, "CondenserZones")?;
        let zone = |key: &str| PyZone::from_dict(class, &stored.dict(key)?);
        let other = |key: &str| if stored.has(key) { zone(key).map(Some) } else { Ok(None) };
        Ok(Self {
            desuperheating: other("desuperheating")?,
            condensing: zone("condensing")?,
            subcooling: other("subcooling")?,
            pinch: stored.finite("pinch")?,
        })
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
        let zone = |zone: &PyZone| format!("{} W, {} W/K", shown(zone.heat), shown(zone.ua));
        let other = |found: &Option<PyZone>| found.as_ref().map_or("None".to_owned(), zone);
        fitted(&format!(
            "CondenserZones(desuperheating={}, condensing={}, subcooling={}, pinch={} K)",
            other(&self.desuperheating),
            zone(&self.condensing),
            other(&self.subcooling),
            shown(self.pinch)
        ))
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        html_of(slf)
    }
}

impl Hash for PyCondenserZones {
    fn hash<H: Hasher>(&self, state: &mut H) {
        (&self.desuperheating, &self.condensing, &self.subcooling).hash(state);
        hash_numbers(state, &[self.pinch]);
    }
}
