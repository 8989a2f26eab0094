//! Duties of a chiller, as they are passed.

use interstage::{ChilledWater, Duty, PowerBoundary};
use pyo3::prelude::*;

use crate::arguments::{Given, given, object, text};
use crate::errors::{unknown_option, wrong_argument};
use crate::water_flow::PyWaterFlow;

pub(crate) type Maybe<'a, 'py> = Option<&'a Bound<'py, PyAny>>;

pub(crate) const BOUNDARIES: [(&str, PowerBoundary); 4] = [
    ("compression", PowerBoundary::Compression),
    ("shaft", PowerBoundary::Shaft),
    ("motor input", PowerBoundary::MotorInput),
    ("drive input", PowerBoundary::DriveInput),
];

/// A word among known ones.
pub(crate) fn word<T: Copy>(argument: &str, value: &Bound<'_, PyAny>, known: &[(&str, T)]) -> PyResult<T> {
    let word = text(argument, value)?;
    let names: Vec<&str> = known.iter().map(|(name, _)| *name).collect();
    let found = known.iter().find(|(name, _)| *name == word).map(|(_, of)| *of);
    found.ok_or_else(|| unknown_option(value.py(), argument, &word, &names))
}

/// The waters of a duty and which temperature of the chilled water is known.
pub(crate) struct Waters<'a, 'py> {
    pub(crate) chilled: &'a PyWaterFlow,
    pub(crate) condenser: &'a PyWaterFlow,
    pub(crate) leaving: bool,
    /// Capacity, chilled water temperature, temperature of the entering condenser water.
    pub(crate) asked: [(&'static str, &'a Bound<'py, PyAny>); 3],
}

impl Waters<'_, '_> {
    pub(crate) fn known(&self, temperature: f64) -> ChilledWater {
        if self.leaving { ChilledWater::Leaving(temperature) } else { ChilledWater::Entering(temperature) }
    }

    pub(crate) fn duty(&self, [capacity, chilled, condenser]: [f64; 3]) -> interstage::Result<Duty> {
        Duty::new(capacity, (self.chilled.inner, self.known(chilled)), (self.condenser.inner, condenser))
    }

    /// The numbers, or none if one of them is a column.
    pub(crate) fn single(&self) -> PyResult<Option<[f64; 3]>> {
        let mut numbers = [0.0; 3];
        for ((name, value), place) in self.asked.iter().zip(&mut numbers) {
            match given(name, value)? {
                Given::Number(number) => *place = number,
                Given::Column => return Ok(None),
            }
        }
        Ok(Some(numbers))
    }
}

pub(crate) fn waters<'a, 'py>(
    capacity: &'a Bound<'py, PyAny>,
    (chilled_water, leaving, entering): (&'a Bound<'py, PyAny>, Maybe<'a, 'py>, Maybe<'a, 'py>),
    (condenser_water, condenser_water_entering): (&'a Bound<'py, PyAny>, &'a Bound<'py, PyAny>),
) -> PyResult<Waters<'a, 'py>> {
    let (name, temperature) = match (leaving, entering) {
        (Some(leaving), None) => ("chilled_water_leaving", leaving),
        (None, Some(entering)) => ("chilled_water_entering", entering),
        _ => {
            let arguments = "chilled_water_leaving, chilled_water_entering";
            let message = "exactly one of chilled_water_leaving and chilled_water_entering is given";
            return Err(wrong_argument(capacity.py(), arguments, message));
        }
    };
    Ok(Waters {
        chilled: object::<PyWaterFlow>("chilled_water", chilled_water)?.get(),
        condenser: object::<PyWaterFlow>("condenser_water", condenser_water)?.get(),
        leaving: leaving.is_some(),
        asked: [
            ("capacity", capacity),
            (name, temperature),
            ("condenser_water_entering", condenser_water_entering),
        ],
    })
}
