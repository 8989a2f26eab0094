//! What stands between the stages of a circuit.

use std::hash::{Hash, Hasher};

use interstage::{
    ClosedEconomizer, FlashTank, InjectionTakenFrom, IntercooledTank, Interstage, LiquidInjection, Metering,
};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple, PyType};

use crate::arguments::{number, text};
use crate::errors::{OrRaise, unknown_option, unreadable};
use crate::stored::{Stored, hash_numbers, hash_of, rebuilt, storage};

type Maybe<'a, 'py> = Option<&'a Bound<'py, PyAny>>;

/// A number, or what it is if it is not given.
fn or(argument: &str, value: Maybe<'_, '_>, default: f64) -> PyResult<f64> {
    value.map_or(Ok(default), |value| number(argument, value))
}

/// A number that may be None.
pub(crate) fn optional(argument: &str, value: Maybe<'_, '_>) -> PyResult<Option<f64>> {
    value.filter(|value| !value.is_none()).map(|value| number(argument, value)).transpose()
}

/// What throttles, by the efficiency of an expander.
pub(crate) fn metering(py: Python<'_>, efficiency: Option<f64>) -> PyResult<Metering> {
    efficiency.map_or(Ok(Metering::Valve), |efficiency| Metering::expander(efficiency).or_raise(py))
}

pub(crate) fn expander_efficiency(metering: Metering) -> Option<f64> {
    match metering {
        Metering::Expander { efficiency } => Some(efficiency),
        _ => None,
    }
}

const TAKEN: [(&str, InjectionTakenFrom); 2] = [
    ("before exchanger", InjectionTakenFrom::BeforeExchanger),
    ("after exchanger", InjectionTakenFrom::AfterExchanger),
];

/// Writes a class for a component between stages: its construction, then the names of its data with their values.
macro_rules! component_class {
    (
        $(#[$doc:meta])*
        $class:ident($inner:ty), $name:literal;
        $new:item
        $(#[$field_doc:meta] $field:ident: $kind:ty = $value:expr;)*
    ) => {
        $(#[$doc])*
        #[pyclass(module = "interstage", name = $name, frozen)]
        #[derive(Debug, PartialEq)]
        pub(crate) struct $class {
            pub(crate) inner: $inner,
        }

        #[pymethods]
        impl $class {
            #[new]
            $new

            $(
                #[$field_doc]
                #[getter]
                fn $field(&self) -> $kind {
                    let value: fn(&$inner) -> $kind = $value;
                    value(&self.inner)
                }
            )*

            /// The component as a dictionary.
            pub(crate) fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
                let data = storage(py, $name)?;
                $(
                    let value = self.$field().into_bound_py_any(py)?;
                    if !value.is_none() {
                        data.set_item(stringify!($field), value)?;
                    }
                )*
                Ok(data)
            }

            /// The component of a dictionary that `to_dict` made.
            #[classmethod]
            fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
                Self::restored(data)
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

            fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
                let of = slf.get();
                let plain = Self::restored(&Self::plain(slf.py(), of)?)?;
                let mut shown: Vec<String> = Vec::new();
                $(
                    if of.$field() != plain.$field() || Self::REQUIRED.contains(&stringify!($field)) {
                        let value = of.$field().into_bound_py_any(slf.py())?.repr()?.to_string();
                        shown.push(format!("{}={value}", stringify!($field)));
                    }
                )*
                Ok(format!("{}({})", $name, shown.join(", ")))
            }
        }

        impl $class {
            /// The stored data of a component as it is without options.
            fn plain<'py>(py: Python<'py>, of: &Self) -> PyResult<Bound<'py, PyDict>> {
                let data = storage(py, $name)?;
                for name in Self::REQUIRED {
                    data.set_item(name, of.to_dict(py)?.get_item(name)?)?;
                }
                Ok(data)
            }

            /// The component of stored data; what is not stored is as it is without options.
            pub(crate) fn restored(data: &Bound<'_, PyDict>) -> PyResult<Self> {
                let stored = Stored::new(data, $name)?;
                let arguments = PyDict::new(data.py());
                $(
                    if stored.has(stringify!($field)) {
                        arguments.set_item(stringify!($field), stored.present(stringify!($field))?)?;
                    }
                )*
                let class = data.py().get_type::<Self>();
                let made = class.call((), Some(&arguments))?;
                Ok(Self { inner: made.cast::<Self>()?.get().inner })
            }
        }

        impl Hash for $class {
            fn hash<H: Hasher>(&self, state: &mut H) {
                $name.hash(state);
                format!("{:?}", self.inner).hash(state);
                hash_numbers(state, &[]);
            }
        }
    };
}

component_class! {
    /// A flash tank (open economizer): a vessel at the pressure of a stage inlet.
    ///
    /// Liquid is throttled in, the vapor that flashes off joins the discharge on its way to that stage, the remaining liquid goes to the
    /// next lower pressure. Separation is ideal unless said.
    ///
    /// Parameters
    /// ----------
    /// liquid_carryover : float, optional
    ///     Mass fraction of liquid in the vapor stream, 0 to 0.5.
    /// vapor_blowthrough : float, optional
    ///     Mass fraction of vapor in the liquid stream, 0 to 0.5.
    /// expander_efficiency : float, optional
    ///     Isentropic efficiency of a work-recovering expander in place of the metering device that feeds the tank.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> interstage.FlashTank()
    /// FlashTank()
    /// >>> interstage.FlashTank(vapor_blowthrough=0.01)
    /// FlashTank(vapor_blowthrough=0.01)
    PyFlashTank(FlashTank), "FlashTank";
    #[pyo3(
        signature = (*, liquid_carryover=None, vapor_blowthrough=None, expander_efficiency=None),
        text_signature = "(*, liquid_carryover=0.0, vapor_blowthrough=0.0, expander_efficiency=None)"
    )]
    fn new(
        py: Python<'_>,
        liquid_carryover: Maybe<'_, '_>,
        vapor_blowthrough: Maybe<'_, '_>,
        expander_efficiency: Maybe<'_, '_>,
    ) -> PyResult<Self> {
        let tank = FlashTank::new()
            .with_liquid_carryover(or("liquid_carryover", liquid_carryover, 0.0)?)
            .or_raise(py)?
            .with_vapor_blowthrough(or("vapor_blowthrough", vapor_blowthrough, 0.0)?)
            .or_raise(py)?;
        let expander = optional("expander_efficiency", expander_efficiency)?;
        Ok(Self { inner: tank.with_metering(metering(py, expander)?) })
    }
    /// Mass fraction of liquid in the vapor stream, kg/kg.
    liquid_carryover: f64 = FlashTank::liquid_carryover;
    /// Mass fraction of vapor in the liquid stream, kg/kg.
    vapor_blowthrough: f64 = FlashTank::vapor_blowthrough;
    /// Isentropic efficiency of an expander in place of the metering device, dimensionless; None for a valve.
    expander_efficiency: Option<f64> = |tank| expander_efficiency(tank.metering());
}

component_class! {
    /// A tank through which the whole discharge of the stage below passes on its way to the next stage, cooled to saturation.
    ///
    /// Open, all liquid is throttled into it. With a coil only as much as evaporates; what goes on to the evaporator is cooled in a coil
    /// under the liquid, at the pressure it came with.
    ///
    /// Parameters
    /// ----------
    /// coil_approach : float, optional
    ///     Makes it a tank with a coil: how much warmer than saturated liquid at tank pressure the cooled liquid leaves, K.
    /// liquid_carryover : float, optional
    ///     Mass fraction of liquid in the vapor stream, 0 to 0.5.
    /// vapor_blowthrough : float, optional
    ///     Mass fraction of vapor in the liquid stream of an open tank, 0 to 0.5.
    /// expander_efficiency : float, optional
    ///     Isentropic efficiency of a work-recovering expander in place of the metering device that feeds the tank.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> interstage.IntercooledTank(coil_approach=3.0)
    /// IntercooledTank(coil_approach=3.0)
    PyIntercooledTank(IntercooledTank), "IntercooledTank";
    #[pyo3(
        signature = (*, coil_approach=None, liquid_carryover=None, vapor_blowthrough=None, expander_efficiency=None),
        text_signature = "(*, coil_approach=None, liquid_carryover=0.0, vapor_blowthrough=0.0, expander_efficiency=None)"
    )]
    fn new(
        py: Python<'_>,
        coil_approach: Maybe<'_, '_>,
        liquid_carryover: Maybe<'_, '_>,
        vapor_blowthrough: Maybe<'_, '_>,
        expander_efficiency: Maybe<'_, '_>,
    ) -> PyResult<Self> {
        let mut tank = IntercooledTank::new()
            .with_liquid_carryover(or("liquid_carryover", liquid_carryover, 0.0)?)
            .or_raise(py)?
            .with_vapor_blowthrough(or("vapor_blowthrough", vapor_blowthrough, 0.0)?)
            .or_raise(py)?;
        if let Some(approach) = optional("coil_approach", coil_approach)? {
            tank = tank.with_coil(approach).or_raise(py)?;
        }
        let expander = optional("expander_efficiency", expander_efficiency)?;
        Ok(Self { inner: tank.with_metering(metering(py, expander)?) })
    }
    /// Approach of the coil, K; None for an open tank.
    coil_approach: Option<f64> = IntercooledTank::coil_approach;
    /// Mass fraction of liquid in the vapor stream, kg/kg.
    liquid_carryover: f64 = IntercooledTank::liquid_carryover;
    /// Mass fraction of vapor in the liquid stream, kg/kg.
    vapor_blowthrough: f64 = IntercooledTank::vapor_blowthrough;
    /// Isentropic efficiency of an expander in place of the metering device, dimensionless; None for a valve.
    expander_efficiency: Option<f64> = |tank| expander_efficiency(tank.metering());
}

component_class! {
    /// A closed (surface) economizer: a part of the liquid is throttled to the pressure of a stage inlet and evaporates there, cooling
    /// the rest, which stays at the pressure it came with.
    ///
    /// Parameters
    /// ----------
    /// approach : float
    ///     How much warmer than saturated liquid at the pressure of the injection the cooled liquid leaves, K.
    /// injection_superheat : float, optional
    ///     Superheat of the injected part where it leaves the exchanger, K.
    /// injection_taken : {"before exchanger", "after exchanger"}, optional
    ///     Where the injected part is taken. The cycle is the same; duty and losses of the exchanger differ.
    /// expander_efficiency : float, optional
    ///     Isentropic efficiency of a work-recovering expander in place of the metering device of the injected part.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite, UnknownOption
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> interstage.ClosedEconomizer(approach=3.0)
    /// ClosedEconomizer(approach=3.0)
    PyClosedEconomizer(ClosedEconomizer), "ClosedEconomizer";
    #[pyo3(
        signature = (*, approach, injection_superheat=None, injection_taken=None, expander_efficiency=None),
        text_signature = "(*, approach, injection_superheat=0.0, injection_taken='before exchanger', expander_efficiency=None)"
    )]
    fn new(
        py: Python<'_>,
        approach: &Bound<'_, PyAny>,
        injection_superheat: Maybe<'_, '_>,
        injection_taken: Maybe<'_, '_>,
        expander_efficiency: Maybe<'_, '_>,
    ) -> PyResult<Self> {
        let word = injection_taken.map(|word| text("injection_taken", word)).transpose()?;
        let word = word.unwrap_or_else(|| TAKEN[0].0.to_owned());
        let Some((_, taken)) = TAKEN.into_iter().find(|(name, _)| *name == word) else {
            return Err(unknown_option(py, "injection_taken", &word, &TAKEN.map(|(name, _)| name)));
        };
        let exchanger = ClosedEconomizer::new(number("approach", approach)?)
            .or_raise(py)?
            .with_injection_superheat(or("injection_superheat", injection_superheat, 0.0)?)
            .or_raise(py)?;
        let expander = optional("expander_efficiency", expander_efficiency)?;
        Ok(Self { inner: exchanger.with_injection_taken(taken).with_metering(metering(py, expander)?) })
    }
    /// Approach of the cooled liquid, K.
    approach: f64 = ClosedEconomizer::approach;
    /// Superheat of the injected part where it leaves the exchanger, K.
    injection_superheat: f64 = ClosedEconomizer::injection_superheat;
    /// Where the injected part is taken.
    injection_taken: &'static str = |exchanger| {
        TAKEN.into_iter().find(|(_, taken)| *taken == exchanger.taken_from()).map_or("", |(name, _)| name)
    };
    /// Isentropic efficiency of an expander in place of the metering device, dimensionless; None for a valve.
    expander_efficiency: Option<f64> = |exchanger| expander_efficiency(exchanger.metering());
}

component_class! {
    /// Injection of liquid between two stages: as much as cools the discharge to dry saturated vapor, or to a superheat.
    ///
    /// Parameters
    /// ----------
    /// superheat : float, optional
    ///     Superheat at the inlet of the next stage, K.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> interstage.LiquidInjection(superheat=2.0)
    /// LiquidInjection(superheat=2.0)
    PyLiquidInjection(LiquidInjection), "LiquidInjection";
    #[pyo3(signature = (*, superheat=None), text_signature = "(*, superheat=0.0)")]
    fn new(py: Python<'_>, superheat: Maybe<'_, '_>) -> PyResult<Self> {
        let inner = LiquidInjection::new().with_superheat(or("superheat", superheat, 0.0)?).or_raise(py)?;
        Ok(Self { inner })
    }
    /// Superheat at the inlet of the next stage, K.
    superheat: f64 = LiquidInjection::superheat;
}

impl PyFlashTank {
    const REQUIRED: [&'static str; 0] = [];
}
impl PyIntercooledTank {
    const REQUIRED: [&'static str; 0] = [];
}
impl PyClosedEconomizer {
    const REQUIRED: [&'static str; 1] = ["approach"];
}
impl PyLiquidInjection {
    const REQUIRED: [&'static str; 0] = [];
}

/// Nothing between two stages: the discharge of one is the inlet of the next.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> interstage.Direct()
/// Direct()
#[pyclass(module = "interstage", name = "Direct", frozen)]
#[derive(Debug)]
pub(crate) struct PyDirect;

#[pymethods]
impl PyDirect {
    #[new]
    fn new() -> Self {
        Self
    }

    /// The component as a dictionary.
    pub(crate) fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        storage(py, "Direct")
    }

    /// The component of a dictionary that `to_dict` made.
    #[classmethod]
    fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
        Stored::new(data, "Direct").map(|_| Self)
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyTuple>> {
        rebuilt(slf, slf.get().to_dict(slf.py())?)
    }

    fn __eq__(&self, _other: &Self) -> bool {
        true
    }

    fn __hash__(&self) -> u64 {
        hash_of(&"Direct")
    }

    fn __repr__(&self) -> &'static str {
        "Direct()"
    }
}

/// The component a Python object holds, if it is one.
pub(crate) fn interstage_of(element: &Bound<'_, PyAny>) -> Option<Interstage> {
    if element.is_instance_of::<PyDirect>() {
        return Some(Interstage::Direct);
    }
    element
        .cast::<PyFlashTank>()
        .map(|tank| tank.get().inner.into())
        .or_else(|_| element.cast::<PyIntercooledTank>().map(|tank| tank.get().inner.into()))
        .or_else(|_| element.cast::<PyClosedEconomizer>().map(|exchanger| exchanger.get().inner.into()))
        .or_else(|_| element.cast::<PyLiquidInjection>().map(|injection| injection.get().inner.into()))
        .ok()
}

/// A component as a Python object.
pub(crate) fn object_of<'py>(py: Python<'py>, interstage: &Interstage) -> PyResult<Bound<'py, PyAny>> {
    match *interstage {
        Interstage::Direct => PyDirect.into_bound_py_any(py),
        Interstage::FlashTank(inner) => PyFlashTank { inner }.into_bound_py_any(py),
        Interstage::IntercooledTank(inner) => PyIntercooledTank { inner }.into_bound_py_any(py),
        Interstage::ClosedEconomizer(inner) => PyClosedEconomizer { inner }.into_bound_py_any(py),
        Interstage::LiquidInjection(inner) => PyLiquidInjection { inner }.into_bound_py_any(py),
        _ => Err(unreadable(py, "the component is of an unknown kind".to_owned())),
    }
}

/// The component of stored data, whichever it is.
pub(crate) fn restored_of<'py>(class: &str, data: &Bound<'py, PyDict>) -> PyResult<Bound<'py, PyAny>> {
    let py = data.py();
    match class {
        "FlashTank" => PyFlashTank::restored(data)?.into_bound_py_any(py),
        "IntercooledTank" => PyIntercooledTank::restored(data)?.into_bound_py_any(py),
        "ClosedEconomizer" => PyClosedEconomizer::restored(data)?.into_bound_py_any(py),
        "LiquidInjection" => PyLiquidInjection::restored(data)?.into_bound_py_any(py),
        "Direct" => Stored::new(data, "Direct").and_then(|_| PyDirect.into_bound_py_any(py)),
        other => Err(unreadable(py, format!("{other:?} is no component"))),
    }
}
