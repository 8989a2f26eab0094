//! The conditions a circuit runs at, as they are passed.

use interstage::{Conditions, Size};
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
    /// Evaporating and condensing temperature, superheat, subcooling.
    pub(crate) conditions: [(&'static str, Maybe<'a, 'py>); 4],
    pub(crate) size: (&'static str, &'a Bound<'py, PyAny>),
}

impl<'a, 'py> Asked<'a, 'py> {
    pub(crate) fn new(
        py: Python<'py>,
        temperatures: (&'a Bound<'py, PyAny>, &'a Bound<'py, PyAny>),
        differences: (Maybe<'a, 'py>, Maybe<'a, 'py>),
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
            ("suction_superheat", differences.0),
            ("subcooling", differences.1),
        ];
        Ok(Self { conditions, size })
    }

    /// The conditions, or none if one of them is a column.
    pub(crate) fn single(&self) -> PyResult<Option<Conditions>> {
        let mut numbers = [0.0; 4];
        for ((name, value), place) in self.conditions.iter().zip(&mut numbers) {
            let Some(value) = value else { continue };
            match given(name, value)? {
                Given::Number(number) => *place = number,
                Given::Column => return Ok(None),
            }
        }
        let (name, value) = self.size;
        let Given::Number(value) = given(name, value)? else { return Ok(None) };
        let [evaporating, condensing, superheat, subcooling] = numbers;
        let conditions = Conditions::new(evaporating, condensing, size(name, value));
        Ok(Some(conditions.with_suction_superheat(superheat).with_subcooling(subcooling)))
    }
}
