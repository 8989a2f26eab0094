//! An analysis under way, and the table it fills.

use super::analysis::TrendAnalysis;
use super::economizer::Workspace;
use super::figure::Figure;
use super::quality::Quality;
use super::reading::Reading;
use super::row::Place;
use super::status::Status;

/// One column of readings with the quality of each.
#[derive(Debug)]
pub(super) struct Column<'a> {
    pub(super) place: Place,
    pub(super) values: &'a [f64],
    pub(super) quality: Vec<Quality>,
}

/// An analysis under way; made by [`TrendAnalysis::begin`].
#[derive(Debug)]
pub struct TrendRun<'a> {
    analysis: &'a TrendAnalysis,
    columns: Vec<Column<'a>>,
    /// Whether every tank has a column: a row without their readings then tells nothing that rests on them.
    tanks_expected: bool,
    done: usize,
    table: TrendTable,
}

impl<'a> TrendRun<'a> {
    pub(super) fn new(
        analysis: &'a TrendAnalysis,
        columns: Vec<Column<'a>>,
        tanks_expected: bool,
        table: TrendTable,
    ) -> Self {
        Self { analysis, columns, tanks_expected, done: 0, table }
    }

    /// Analyses up to `rows` more rows on the calling thread; returns how many are left.
    pub fn advance(&mut self, rows: usize) -> usize {
        self.carry_on(rows, false)
    }

    /// The same with the rows shared between the threads of the current rayon pool, if they are many. Without the feature
    /// `parallel` they stay on the calling thread.
    pub fn advance_shared(&mut self, rows: usize) -> usize {
        self.carry_on(rows, true)
    }

    fn carry_on(&mut self, rows: usize, shared: bool) -> usize {
        let Self { analysis, columns, tanks_expected, done, table } = self;
        let width = table.figures.len();
        let next = table.status.len().min(done.saturating_add(rows));
        let (first, figures) = (*done, &table.figures);
        let fill = |space: &mut Workspace<f64>, (row, (out, status)): (usize, (&mut [f64], &mut Status))| {
            let readings = columns.iter().map(|column| {
                let value = column.values.get(first + row).copied().unwrap_or(f64::NAN);
                (column.place, value, column.quality.get(first + row).copied().unwrap_or(Quality::Missing))
            });
            *status = analysis.row(readings, *tanks_expected, (figures, out), space);
        };
        if let (Some(values), Some(status)) =
            (table.values.get_mut(first * width..next * width), table.status.get_mut(first..next))
        {
            let space = || Workspace::new(analysis.circuit());
            for_each_row((values, status), width, shared, (space, fill));
        }
        *done = next;
        table.status.len() - next
    }

    /// The table; rows that were not reached are NaN.
    pub fn finish(self) -> TrendTable {
        let quality = self.columns.into_iter().map(|column| (column.place.reading, column.quality)).collect();
        TrendTable { quality, ..self.table }
    }
}

/// Rows from which on several threads are worth their start.
#[cfg(feature = "parallel")]
const PARALLEL_FROM: usize = 256;

fn for_each_row(
    (values, status): (&mut [f64], &mut [Status]),
    width: usize,
    shared: bool,
    (space, fill): (
        impl Fn() -> Workspace<f64> + Sync + Send,
        impl Fn(&mut Workspace<f64>, (usize, (&mut [f64], &mut Status))) + Sync + Send,
    ),
) {
    #[cfg(feature = "parallel")]
    if shared && status.len() >= PARALLEL_FROM {
        use rayon::prelude::*;
        let rows = values.par_chunks_mut(width).zip(status.par_iter_mut()).enumerate().with_min_len(64);
        rows.for_each_init(space, fill);
        return;
    }
    #[cfg(not(feature = "parallel"))]
    let _ = shared;
    let mut space = space();
    values.chunks_mut(width).zip(status.iter_mut()).enumerate().for_each(|row| fill(&mut space, row));
}

/// Figures of every row, with what is to be said about rows, readings and figures.
#[derive(Debug, Clone, PartialEq)]
pub struct TrendTable {
    pub(super) figures: Vec<Figure>,
    pub(super) values: Vec<f64>,
    pub(super) status: Vec<Status>,
    pub(super) quality: Vec<(Reading, Vec<Quality>)>,
    pub(super) unavailable: Vec<(Figure, String)>,
    pub(super) assumptions: Vec<(Figure, String)>,
}

impl TrendTable {
    /// Number of rows.
    pub fn rows(&self) -> usize {
        self.status.len()
    }

    /// Figures, in the order of the columns.
    pub fn figures(&self) -> &[Figure] {
        &self.figures
    }

    /// One figure in every row, NaN where it cannot be told; `None` if the circuit does not have that figure.
    pub fn column(&self, figure: Figure) -> Option<Vec<f64>> {
        let at = self.figures.iter().position(|&known| known == figure)?;
        Some(
            self.values
                .chunks(self.figures.len())
                .map(|row| row.get(at).copied().unwrap_or(f64::NAN))
                .collect(),
        )
    }

    /// All figures of all rows, one row after another.
    pub fn values(&self) -> &[f64] {
        &self.values
    }

    /// All figures of all rows, rows by figures.
    #[cfg(feature = "ndarray")]
    pub fn to_array(&self) -> ndarray::Array2<f64> {
        let shape = (self.rows(), self.figures.len());
        ndarray::Array2::from_shape_fn(shape, |(row, column)| {
            self.values.get(row * shape.1 + column).copied().unwrap_or(f64::NAN)
        })
    }

    /// What is to be said about each row.
    pub fn status(&self) -> &[Status] {
        &self.status
    }

    /// Quality of each reading in every row.
    pub fn quality(&self, reading: Reading) -> Option<&[Quality]> {
        self.quality.iter().find(|(known, _)| *known == reading).map(|(_, quality)| quality.as_slice())
    }

    /// Figures that rest on something no reading tells, with what that is.
    pub fn assumptions(&self) -> &[(Figure, String)] {
        &self.assumptions
    }

    /// Figures that no row can have, with the reason.
    pub fn unavailable(&self) -> &[(Figure, String)] {
        &self.unavailable
    }
}
