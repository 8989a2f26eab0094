//! Single readings that cannot be true: missing, out of range, or jumping away from both neighbors.

use super::reading::{Kind, Reading};
use super::status::Status;
use crate::refrigerant::Refrigerant;

/// What is the matter with one reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum Quality {
    /// Used as it is.
    #[default]
    Good,
    /// NaN.
    Missing,
    /// Not possible for a quantity of its kind.
    OutOfRange,
    /// Away from both neighbors, which agree.
    Spike,
}

impl Quality {
    pub(crate) fn remark(self) -> Status {
        match self {
            Self::Good => Status::OK,
            Self::Missing => Status::MISSING,
            Self::OutOfRange => Status::OUT_OF_RANGE,
            Self::Spike => Status::SPIKE,
        }
    }
}

/// A reading is a spike where it is further from the middle of its two neighbors than `GAP` times the neighbors are from
/// each other, further than `NOISE` times the column's usual distance (the median), and further than the floor of its kind.
/// Common practice, no published source; tuned on nothing.
const GAP: f64 = 3.0;
const NOISE: f64 = 10.0;

/// Floor for temperatures (K), and for other kinds relative to the middle of the neighbors.
const FLOOR_TEMPERATURE: f64 = 2.0;
const FLOOR_RELATIVE: f64 = 0.15;

/// Highest plausible water volume flow (m3/s) and motor power (W): an order of magnitude above the largest chillers.
const HIGHEST_FLOW: f64 = 10.0;
const HIGHEST_POWER: f64 = 1e8;

/// Range of temperatures in water circuits, K: frozen brine to a boiler.
const WATER: (f64, f64) = (233.15, 393.15);

/// Quality of every reading of a column.
pub(crate) fn assess(reading: Reading, column: &[f64], refrigerant: &Refrigerant) -> Vec<Quality> {
    let (lowest, highest) = match reading.kind() {
        Kind::Pressure => (0.1 * refrigerant.triple_pressure(), refrigerant.critical_pressure()),
        Kind::RefrigerantTemperature => {
            (refrigerant.minimum_temperature(), refrigerant.maximum_temperature())
        }
        Kind::WaterTemperature => WATER,
        Kind::Flow => (0.0, HIGHEST_FLOW),
        Kind::Power => (0.0, HIGHEST_POWER),
    };
    let mut quality: Vec<Quality> = column
        .iter()
        .map(|&value| {
            if value.is_nan() {
                Quality::Missing
            } else if (lowest..=highest).contains(&value) {
                Quality::Good
            } else {
                Quality::OutOfRange
            }
        })
        .collect();
    // Distance from the middle of both neighbors and of the neighbors from each other, where all three are good.
    let good = |i: usize, quality: &[Quality]| quality.get(i) == Some(&Quality::Good);
    let apart: Vec<Option<(f64, f64, f64)>> = column
        .windows(3)
        .enumerate()
        .map(|(i, window)| match *window {
            [before, value, after] if (i..i + 3).all(|k| good(k, &quality)) => {
                let middle = 0.5 * (before + after);
                Some(((value - middle).abs(), (after - before).abs(), middle))
            }
            _ => None,
        })
        .collect();
    let mut distances: Vec<f64> = apart.iter().flatten().map(|&(distance, ..)| distance).collect();
    if distances.is_empty() {
        return quality;
    }
    let half = distances.len() / 2;
    let (_, &mut usual, _) = distances.select_nth_unstable_by(half, f64::total_cmp);
    for (i, entry) in apart.iter().enumerate() {
        let Some((distance, gap, middle)) = *entry else { continue };
        let floor = match reading.kind() {
            Kind::RefrigerantTemperature | Kind::WaterTemperature => FLOOR_TEMPERATURE,
            Kind::Pressure | Kind::Flow | Kind::Power => FLOOR_RELATIVE * middle.abs(),
        };
        if distance > floor
            && distance > GAP * gap
            && distance > NOISE * usual
            && let Some(q) = quality.get_mut(i + 1)
        {
            *q = Quality::Spike;
        }
    }
    quality
}
