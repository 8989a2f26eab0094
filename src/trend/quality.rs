//! Single readings that cannot be true: missing, out of range, or jumping away from both neighbors.

use super::analysis::TrendAnalysis;
use super::reading::{Kind, Reading};
use super::status::Status;
use crate::brine::Brine;
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
    /// Away from both neighbors, which agree, and by far more than the readings before it. Never one of the first five or the
    /// last reading of a column, nor one of two in a row that jump together.
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
/// from each other, further than `NOISE` times the usual distance before it (the median), and further than the floor of
/// its kind. Only what is near counts, so that a row is judged alike in the whole table, in a part of it and on arrival.
/// Common practice, no published source.
const GAP: f64 = 3.0;
const NOISE: f64 = 10.0;

/// How many rows away a neighbor may be: bad readings often come in twos and threes.
pub(super) const NEIGHBORHOOD: usize = 4;

/// Rows before a reading whose distances are the usual ones, and how few of them tell nothing. The neighbor before it is left
/// out: a spike moves its distance too.
const WINDOW: usize = 96;
const FEWEST: usize = 3;

/// Rows before and after a part of a table that decide the quality of its readings.
pub(super) const ROWS_BEFORE: usize = WINDOW + NEIGHBORHOOD;
pub(super) const ROWS_AFTER: usize = NEIGHBORHOOD;

/// Floor for temperatures (K), and for other kinds relative to the middle of the neighbors. Common practice, no
/// published source.
const FLOOR_TEMPERATURE: f64 = 2.0;
const FLOOR_RELATIVE: f64 = 0.15;

/// Highest plausible water volume flow (m3/s) and motor power (W): an order of magnitude above the largest chillers.
const HIGHEST_FLOW: f64 = 10.0;
const HIGHEST_POWER: f64 = 1e8;

/// Rows whose distances are kept: those of the window, and those that come while a reading waits for its neighbor.
const KEPT: usize = WINDOW + NEIGHBORHOOD + 1;

/// Judges the readings of one column as they come. A good reading waits for the next good one, at most four rows.
#[derive(Debug, Clone)]
pub(super) struct Screen {
    lowest: f64,
    highest: f64,
    kind: Kind,
    rows: usize,
    /// Row and value of the good reading before the one that waits, and of that.
    before: Option<(usize, f64)>,
    waiting: Option<(usize, f64)>,
    /// Bad readings after the one that waits.
    behind: [Quality; NEIGHBORHOOD],
    behind_count: usize,
    /// Distance of each good reading from the middle of its neighbors, by row; NaN where there is none.
    distances: [f64; KEPT],
}

impl Screen {
    /// A power down to `-off` is a zero that is a little off.
    pub(super) fn new(reading: Reading, analysis: &TrendAnalysis) -> Self {
        let (refrigerant, off) = (analysis.circuit().refrigerant(), analysis.off_below());
        let kind = reading.kind();
        let (lowest, highest) = match kind {
            Kind::Pressure => (refrigerant.minimum_saturation_pressure(), refrigerant.critical_pressure()),
            Kind::SaturationTemperature => {
                (refrigerant.minimum_saturation_temperature(), refrigerant.critical_temperature())
            }
            Kind::RefrigerantTemperature => {
                (refrigerant.minimum_temperature(), refrigerant.maximum_temperature())
            }
            Kind::WaterTemperature => water_range(analysis.brine(reading)),
            Kind::Flow => (0.0, HIGHEST_FLOW),
            Kind::Power => (-off, HIGHEST_POWER),
        };
        Self {
            lowest,
            highest,
            kind,
            rows: 0,
            before: None,
            waiting: None,
            behind: [Quality::Good; NEIGHBORHOOD],
            behind_count: 0,
            distances: [f64::NAN; KEPT],
        }
    }

    /// Quality of a reading without its neighbors.
    fn alone(&self, value: f64) -> Quality {
        if value.is_nan() {
            Quality::Missing
        } else if (self.lowest..=self.highest).contains(&value) {
            Quality::Good
        } else {
            Quality::OutOfRange
        }
    }

    /// Takes the reading of the next row; tells the quality of every row that is decided by it, in their order.
    pub(super) fn push(&mut self, value: f64, mut tell: impl FnMut(Quality)) {
        let row = self.rows;
        self.rows += 1;
        if let Some(distance) = self.distances.get_mut(row % KEPT) {
            *distance = f64::NAN;
        }
        let quality = self.alone(value);
        if quality == Quality::Good {
            let decided = self.waiting.map(|waiting| self.judge(waiting, value));
            self.release(decided, &mut tell);
            self.waiting = Some((row, value));
        } else if self.waiting.is_none() {
            tell(quality);
        } else {
            if let Some(place) = self.behind.get_mut(self.behind_count) {
                *place = quality;
            }
            self.behind_count += 1;
            if self.behind_count == NEIGHBORHOOD {
                self.release(Some(Quality::Good), &mut tell);
            }
        }
    }

    /// Tells the quality of the rows that still wait: nothing comes after them.
    pub(super) fn finish(&mut self, mut tell: impl FnMut(Quality)) {
        self.release(Some(Quality::Good), &mut tell);
    }

    fn release(&mut self, decided: Option<Quality>, tell: &mut impl FnMut(Quality)) {
        let Some(waiting) = self.waiting.take() else { return };
        tell(decided.unwrap_or_default());
        self.behind.iter().take(self.behind_count).for_each(|&quality| tell(quality));
        (self.before, self.behind_count) = (Some(waiting), 0);
    }

    /// Quality of the reading that waits, now that the next good one is known.
    fn judge(&mut self, (row, value): (usize, f64), after: f64) -> Quality {
        let Some((near, before)) = self.before.filter(|(near, _)| row - near <= NEIGHBORHOOD) else {
            return Quality::Good;
        };
        let middle = 0.5 * (before + after);
        let distance = (value - middle).abs();
        if let Some(place) = self.distances.get_mut(row % KEPT) {
            *place = distance;
        }
        let floor = match self.kind {
            Kind::SaturationTemperature | Kind::RefrigerantTemperature | Kind::WaterTemperature => {
                FLOOR_TEMPERATURE
            }
            Kind::Pressure | Kind::Flow | Kind::Power => FLOOR_RELATIVE * middle.abs(),
        };
        let far = distance > floor && distance > GAP * (after - before).abs();
        if far && self.usual(row, near).is_some_and(|usual| distance > NOISE * usual) {
            Quality::Spike
        } else {
            Quality::Good
        }
    }

    /// Median of the distances before a row, that of its neighbor left out; none if too few are known.
    fn usual(&self, row: usize, near: usize) -> Option<f64> {
        let mut known = [0.0; WINDOW];
        let mut count = 0;
        for earlier in (row.saturating_sub(WINDOW)..row).filter(|&earlier| earlier != near) {
            let distance = self.distances.get(earlier % KEPT).copied().filter(|distance| !distance.is_nan());
            if let (Some(distance), Some(place)) = (distance, known.get_mut(count)) {
                *place = distance;
                count += 1;
            }
        }
        let known = known.get_mut(..count).filter(|_| count >= FEWEST)?;
        Some(*known.select_nth_unstable_by((count - 1) / 2, f64::total_cmp).1)
    }
}

/// Temperatures that are possible in a water circuit, K: liquid, and no reading of a broken instrument.
pub(super) fn water_range(brine: Option<&Brine>) -> (f64, f64) {
    brine.map_or(water::RANGE, |brine| {
        let (low, high) = brine.temperature_range();
        (low.max(water::BRINE.start), high.min(water::RANGE.1))
    })
}

/// Quality of every reading of a column. Spikes are looked for in rows that `follow` one another in time.
pub(super) fn assess(column: &[f64], mut screen: Screen, follow: bool) -> Vec<Quality> {
    if !follow {
        return column.iter().map(|&value| screen.alone(value)).collect();
    }
    let mut quality = Vec::with_capacity(column.len());
    for &value in column {
        screen.push(value, |told| quality.push(told));
    }
    screen.finish(|told| quality.push(told));
    quality
}
