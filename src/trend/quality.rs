//! Single readings that cannot be true: missing, out of range, or jumping away from both neighbors.

use super::reading::{Kind, Reading};
use super::status::Status;
use crate::refrigerant::Refrigerant;
use crate::water;

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
    /// Away from both neighbors, which agree. Never the first or the last reading of a column, nor one of two in a row that
    /// jump together, nor in a column of fewer than six.
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

/// A reading is a spike where it is further from the middle of its two nearest good neighbors than `GAP` times these are
/// from each other, further than `NOISE` times the column's usual distance (the median), and further than the floor of
/// its kind. The first and the last reading have no two neighbors and are never spikes, nor are two or more readings in a row
/// that jump to the same value, nor anything in a table of fewer than six rows. Common practice, no published source.
const GAP: f64 = 3.0;
const NOISE: f64 = 10.0;

/// Distances that one reading moves: its own and those of the readings before and after it.
const EACH: usize = 3;

/// How many rows away a neighbor may be: bad readings often come in twos and threes.
const NEIGHBORHOOD: usize = 4;

/// Floor for temperatures (K), and for other kinds relative to the middle of the neighbors. Common practice, no
/// published source.
const FLOOR_TEMPERATURE: f64 = 2.0;
const FLOOR_RELATIVE: f64 = 0.15;

/// Highest plausible water volume flow (m3/s) and motor power (W): an order of magnitude above the largest chillers.
const HIGHEST_FLOW: f64 = 10.0;
const HIGHEST_POWER: f64 = 1e8;

/// Quality of every reading of a column. A power down to `-off` is a zero that is a little off. Spikes are looked for in
/// rows that `follow` one another in time.
pub(crate) fn assess(
    (reading, column): (Reading, &[f64]),
    refrigerant: &Refrigerant,
    off: f64,
    follow: bool,
) -> Vec<Quality> {
    let (lowest, highest) = match reading.kind() {
        Kind::Pressure => (refrigerant.minimum_saturation_pressure(), refrigerant.critical_pressure()),
        Kind::SaturationTemperature => {
            (refrigerant.minimum_saturation_temperature(), refrigerant.critical_temperature())
        }
        Kind::RefrigerantTemperature => {
            (refrigerant.minimum_temperature(), refrigerant.maximum_temperature())
        }
        Kind::WaterTemperature => water::RANGE,
        Kind::Flow => (0.0, HIGHEST_FLOW),
        Kind::Power => (-off, HIGHEST_POWER),
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
    if !follow {
        return quality;
    }
    let apart = distances(column, &quality);
    let mut all: Vec<f64> = apart.iter().flatten().map(|&(distance, ..)| distance).collect();
    if all.is_empty() {
        return quality;
    }
    // The largest three are left out: a lone spike moves its own distance and those of its two neighbors.
    let half = all.len().saturating_sub(EACH) / 2;
    let (_, &mut usual, _) = all.select_nth_unstable_by(half, f64::total_cmp);
    for (quality, entry) in quality.iter_mut().zip(apart) {
        let Some((distance, gap, middle)) = entry else { continue };
        let floor = match reading.kind() {
            Kind::SaturationTemperature | Kind::RefrigerantTemperature | Kind::WaterTemperature => {
                FLOOR_TEMPERATURE
            }
            Kind::Pressure | Kind::Flow | Kind::Power => FLOOR_RELATIVE * middle.abs(),
        };
        if distance > floor && distance > GAP * gap && distance > NOISE * usual {
            *quality = Quality::Spike;
        }
    }
    quality
}

/// Of every good reading: its distance from the middle of its nearest good neighbors, their distance from each other,
/// and that middle.
fn distances(column: &[f64], quality: &[Quality]) -> Vec<Option<(f64, f64, f64)>> {
    let good = |i: usize| column.get(i).copied().filter(|_| quality.get(i) == Some(&Quality::Good));
    (0..column.len())
        .map(|i| {
            let value = good(i)?;
            let before = (1..=NEIGHBORHOOD).find_map(|step| good(i.checked_sub(step)?))?;
            let after = (1..=NEIGHBORHOOD).find_map(|step| good(i + step))?;
            let middle = 0.5 * (before + after);
            Some(((value - middle).abs(), (after - before).abs(), middle))
        })
        .collect()
}
