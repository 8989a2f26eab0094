//! The conditions a circuit runs at, as they are passed.

use interstage::{Conditions, Size};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;

use crate::arguments::{Given, given};
use crate::errors::wrong_argument;

/// What fixes the mass flow, by the name of its argument.
pub(crate) fn size(name: &str, value: f64) -> Size {
    match name {
        "mass_flow" => Size::MassFlow(value),
        "power" => Size::Power(value),
        _ => Size::Capacity(value),
    }
}

type Maybe<'a, 'py> = Option<&'a Bound<'py, PyAny>>;

/// What a circuit is asked to run at, as passed.
#[derive(Debug)]
pub(crate) struct Asked<'a, 'py> {
    /// Evaporating and condensing temperature, superheat, subcooling, carryover, bypass.
    pub(crate) conditions: [(&'static str, Maybe<'a, 'py>); 6],
    pub(crate) size: (&'static str, &'a Bound<'py, PyAny>),
}

impl<'a, 'py> Asked<'a, 'py> {
    pub(crate) fn new(
        py: Python<'py>,
        temperatures: (&'a Bound<'py, PyAny>, &'a Bound<'py, PyAny>),
        others: [Maybe<'a, 'py>; 4],
        sizes: [Maybe<'a, 'py>; 3],
    ) -> PyResult<Self> {
        let mut sizes = ["capacity", "mass_flow", "power"]
            .into_iter()
            .zip(sizes)
            .filter_map(|(name, size)| Some((name, size?)));
        let (Some(size), None) = (sizes.next(), sizes.next()) else {
            let message = "the size is given by exactly one of capacity, mass_flow and power";
            return Err(wrong_argument(py, "capacity, mass_flow, power", message));
        };
        let conditions = [
            ("evaporating_temperature", Some(temperatures.0)),
            ("condensing_temperature", Some(temperatures.1)),
            ("suction_superheat", others[0]),
            ("subcooling", others[1]),
            ("liquid_carryover", others[2]),
            ("hot_gas_bypass", others[3]),
        ];
        Ok(Self { conditions, size })
    }

    /// The conditions, or none if one of them is a column.
    pub(crate) fn single(&self) -> PyResult<Option<Conditions>> {
        let mut numbers = [0.0; 6];
        for ((name, value), place) in self.conditions.iter().zip(&mut numbers) {
            let Some(value) = value else { continue };
            match given(name, value)? {
                Given::Number(number) => *place = number,
                Given::Column => return Ok(None),
            }
        }
        let (name, value) = self.size;
        let Given::Number(value) = given(name, value)? else { return Ok(None) };
        Ok(Some(conditions(numbers, size(name, value))))
    }
}

/// Conditions from their numbers, in the order of [`Asked`].
pub(crate) fn conditions(numbers: [f64; 6], size: Size) -> Conditions {
    let [evaporating, condensing, superheat, subcooling, carryover, bypass] = numbers;
    Conditions::new(evaporating, condensing, size)
        .with_suction_superheat(superheat)
        .with_subcooling(subcooling)
        .with_liquid_carryover(carryover)
        .with_hot_gas_bypass(bypass)
}

/// Conditions that are single numbers; a kilogram per second unless a size is given.
pub(crate) fn single_conditions<'py>(
    py: Python<'py>,
    temperatures: (&Bound<'py, PyAny>, &Bound<'py, PyAny>),
    others: [Maybe<'_, 'py>; 4],
    sizes: [Maybe<'_, 'py>; 3],
) -> PyResult<Conditions> {
    let one = 1.0.into_bound_py_any(py)?;
    let sizes = if sizes.iter().all(Option::is_none) { [None, Some(&one), None] } else { sizes };
    let asked = Asked::new(py, temperatures, others, sizes)?;
    if let Some(conditions) = asked.single()? {
        return Ok(conditions);
    }
    let message = "the conditions must be single numbers, not columns";
    Err(wrong_argument(py, "evaporating_temperature, condensing_temperature", message))
}
