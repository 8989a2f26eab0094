//! An analysis that takes one row at a time.

use super::analysis::TrendAnalysis;
use super::economizer::Workspace;
use super::figure::Figure;
use super::quality::{NEIGHBORHOOD, Quality, Screen};
use super::reading::Reading;
use super::row::Place;
use super::status::Status;
use crate::error::{Error, Result};

/// Rows that may be under way at once: one whose reading waits, those it waits through, and the one that ends it.
const DEPTH: usize = NEIGHBORHOOD + 2;

/// One row after another; made by [`TrendAnalysis::stream`].
///
/// What it tells of a row is to the last bit what [`TrendAnalysis::analyse`] tells of the same rows as a table. A reading is judged
/// beside its neighbors, so a row is told when the next one has come, and up to four rows late where readings are missing. Memory is
/// bounded: rows that are told are forgotten, and a row allocates nothing once the first ones have made what all share. Two exceptions
/// give back at once what they take: interstage pressures at equal heads or at the best COP, and the message why a row cannot be solved.
#[derive(Debug, Clone)]
pub struct TrendStream {
    analysis: TrendAnalysis,
    space: Workspace<f64>,
    figures: Vec<Figure>,
    columns: Vec<Column>,
    tanks_expected: bool,
    pushed: u64,
    told: u64,
    values: Vec<f64>,
    unavailable: Vec<(Figure, String)>,
    assumptions: Vec<(Figure, String)>,
}

/// One reading: the values of the rows under way, and the quality of those that are decided.
#[derive(Debug, Clone)]
struct Column {
    place: Place,
    screen: Screen,
    values: [f64; DEPTH],
    quality: [Quality; DEPTH],
    decided: u64,
}

/// One row that is told.
#[derive(Debug, Clone, Copy)]
pub struct TrendRow<'a> {
    row: u64,
    figures: &'a [Figure],
    values: &'a [f64],
    status: Status,
    columns: &'a [Column],
}

impl TrendRow<'_> {
    /// Number of the row, from 0.
    pub fn row(&self) -> u64 {
        self.row
    }

    /// All figures, in the order of [`TrendStream::figures`]; NaN where one cannot be told.
    pub fn values(&self) -> &[f64] {
        self.values
    }

    /// One figure; `None` if the circuit does not have it.
    pub fn value(&self, figure: Figure) -> Option<f64> {
        let at = self.figures.iter().position(|&known| known == figure)?;
        self.values.get(at).copied()
    }

    /// What is to be said about the row.
    pub fn status(&self) -> Status {
        self.status
    }

    /// Quality of a reading; `None` if it is not given.
    pub fn quality(&self, reading: Reading) -> Option<Quality> {
        let column = self.columns.iter().find(|column| column.place.reading == reading)?;
        column.quality.get(place(self.row)).copied()
    }
}

/// Where a row stands among those under way.
fn place(row: u64) -> usize {
    (row % DEPTH as u64) as usize
}

impl Column {
    fn push(&mut self, row: u64, value: f64) {
        if let Some(at) = self.values.get_mut(place(row)) {
            *at = value;
        }
        let Self { screen, quality, decided, .. } = self;
        screen.push(value, |told| decide(quality, decided, told));
    }

    fn finish(&mut self) {
        let Self { screen, quality, decided, .. } = self;
        screen.finish(|told| decide(quality, decided, told));
    }
}

fn decide(quality: &mut [Quality; DEPTH], decided: &mut u64, told: Quality) {
    if let Some(at) = quality.get_mut(place(*decided)) {
        *at = told;
    }
    *decided += 1;
}

impl TrendStream {
    pub(super) fn new(analysis: TrendAnalysis, readings: &[Reading]) -> Result<Self> {
        let mut columns: Vec<Column> = Vec::with_capacity(readings.len());
        for &reading in readings {
            if columns.iter().any(|column| column.place.reading == reading) {
                let reason = format!("{reading} is given twice");
                return Err(Error::Inconsistent { arguments: "readings", reason });
            }
            columns.push(Column {
                place: Place::of(reading, readings),
                screen: Screen::new(reading, &analysis),
                values: [f64::NAN; DEPTH],
                quality: [Quality::Good; DEPTH],
                decided: 0,
            });
        }
        let figures = analysis.figures();
        let (unavailable, assumptions) = analysis.remarks_on_figures(&figures, readings);
        Ok(Self {
            tanks_expected: analysis.tank_columns(readings),
            values: vec![f64::NAN; figures.len()],
            space: Workspace::new(analysis.circuit()),
            analysis,
            figures,
            columns,
            pushed: 0,
            told: 0,
            unavailable,
            assumptions,
        })
    }

    /// Takes the next row, SI units, NaN where a reading is missing; tells every row that is decided by it, in their order.
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] unless there is one value for each reading; the stream then stays as it was.
    pub fn push(&mut self, readings: &[f64], tell: impl FnMut(TrendRow<'_>)) -> Result<()> {
        if readings.len() != self.columns.len() {
            return Err(Error::WrongLength {
                argument: "readings of a row",
                found: readings.len(),
                expected: self.columns.len(),
            });
        }
        for (column, &value) in self.columns.iter_mut().zip(readings) {
            column.push(self.pushed, value);
        }
        self.pushed += 1;
        self.tell_decided(tell);
        Ok(())
    }

    /// Tells the rows that still wait: nothing comes after them.
    pub fn finish(mut self, tell: impl FnMut(TrendRow<'_>)) {
        self.columns.iter_mut().for_each(Column::finish);
        self.tell_decided(tell);
    }

    fn tell_decided(&mut self, mut tell: impl FnMut(TrendRow<'_>)) {
        let Self { analysis, space, figures, columns, tanks_expected, pushed, told, values, .. } = self;
        let decided = columns.iter().map(|column| column.decided).min().unwrap_or(*pushed);
        while *told < decided {
            let at = place(*told);
            let readings = columns.iter().map(|column| {
                let value = column.values.get(at).copied().unwrap_or(f64::NAN);
                (column.place, value, column.quality.get(at).copied().unwrap_or(Quality::Missing))
            });
            let status = analysis.row(readings, *tanks_expected, (figures, values), space);
            tell(TrendRow { row: *told, figures, values, status, columns });
            *told += 1;
        }
    }

    /// Figures, in the order of [`TrendRow::values`].
    pub fn figures(&self) -> &[Figure] {
        &self.figures
    }

    /// Rows that were pushed and are not told yet.
    pub fn waiting(&self) -> u64 {
        self.pushed - self.told
    }

    /// Figures that no row can have, with the reason.
    pub fn unavailable(&self) -> &[(Figure, String)] {
        &self.unavailable
    }

    /// Figures that rest on something no reading tells, with what that is.
    pub fn assumptions(&self) -> &[(Figure, String)] {
        &self.assumptions
    }
}
