//! How every figure of a row answers to every reading of it.

use super::analysis::TrendAnalysis;
use super::economizer::Workspace;
use super::figure::Figure;
use super::reading::{Reading, Readings};
use super::row::Place;
use super::row::{Row, SLOTS};
use crate::error::{Error, Result};
use crate::numeric::Dual;

/// Derivatives that are carried at a time, the last of them to the unknown of a root.
const CARRIED: usize = 16;
const AT_A_TIME: usize = CARRIED - 1;

/// What rows are told in, without and with derivatives.
type Workspaces = (Workspace<f64>, Workspace<Dual<CARRIED>>);

/// Derivatives of figures to readings in every row, in the SI units of both; made by [`TrendAnalysis::slopes`].
#[derive(Debug, Clone, PartialEq)]
pub struct TrendSlopes {
    figures: Vec<Figure>,
    readings: Vec<Reading>,
    values: Vec<f64>,
}

impl TrendSlopes {
    /// The figures, in the order they were asked for.
    pub fn figures(&self) -> &[Figure] {
        &self.figures
    }

    /// The readings, in the order of the columns.
    pub fn readings(&self) -> &[Reading] {
        &self.readings
    }

    /// All derivatives: rows by figures by readings, one row after another.
    pub fn values(&self) -> &[f64] {
        &self.values
    }

    /// Derivative of a figure to a reading in every row, NaN where the figure cannot be told; `None` if one of them was not
    /// asked for.
    pub fn column(&self, figure: Figure, reading: Reading) -> Option<Vec<f64>> {
        let at = self.figures.iter().position(|&known| known == figure)?;
        let to = self.readings.iter().position(|&known| known == reading)?;
        let rows = self.values.chunks(self.figures.len() * self.readings.len());
        let place = at * self.readings.len() + to;
        Some(rows.map(|row| row.get(place).copied().unwrap_or(f64::NAN)).collect())
    }
}

impl TrendAnalysis {
    /// Exact derivatives of figures to readings: each row is told over dual numbers.
    ///
    /// Readings are taken as they are, NaN where they are missing: leave out what [`TrendAnalysis::analyse`] found to be bad.
    /// Where an efficiency comes out of a search its derivative is that of the root. A superheat or subcooling that reads below
    /// zero is taken as zero, and figures do not answer to its thermometer there. [`Figure::StageEfficiencyInterval`] and
    /// [`Figure::EconomizerEvidence`] are no smooth functions of readings: their derivatives are given as zero.
    ///
    /// ```
    /// use interstage::{Circuit, Figure, Reading, Readings, Refrigerant, Stage, TrendAnalysis};
    ///
    /// let circuit = Circuit::new(Refrigerant::named("R-134a")?, vec![Stage::isentropic(0.7)?], vec![])?;
    /// let readings = Readings::new()
    ///     .with(Reading::CondenserPressure, &[9.0e5])?
    ///     .with(Reading::CondenserWaterLeaving, &[307.0])?;
    /// let figures = [Figure::CondenserApproach];
    /// let slopes = TrendAnalysis::new(circuit)?.slopes(&readings, &figures)?;
    /// let to_water = slopes.column(Figure::CondenserApproach, Reading::CondenserWaterLeaving);
    /// assert_eq!(to_water, Some(vec![-1.0]));
    /// # Ok::<(), interstage::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// [`Error::Inconsistent`] for a figure or a reading that the circuit does not have; an error of the refrigerant if its
    /// saturation line cannot be solved. Bad rows are no error.
    pub fn slopes(&self, readings: &Readings<'_>, figures: &[Figure]) -> Result<TrendSlopes> {
        self.slopes_by(readings, figures, false)
    }

    /// The same with the rows shared between the threads of the current rayon pool, if they are many. Without the feature
    /// `parallel` they stay on the calling thread.
    ///
    /// # Errors
    ///
    /// Those of [`TrendAnalysis::slopes`].
    pub fn slopes_shared(&self, readings: &Readings<'_>, figures: &[Figure]) -> Result<TrendSlopes> {
        self.slopes_by(readings, figures, true)
    }

    fn slopes_by(&self, readings: &Readings<'_>, figures: &[Figure], shared: bool) -> Result<TrendSlopes> {
        let given: Vec<Reading> = readings.columns().map(|(reading, _)| reading).collect();
        self.prepare(&given)?;
        let known = self.figures();
        if let Some(figure) = figures.iter().find(|figure| !known.contains(figure)) {
            return Err(Error::Inconsistent {
                arguments: "figures and circuit",
                reason: format!("the circuit has no {figure}"),
            });
        }
        let tanks_expected = self.tank_columns(&given);
        let columns: Vec<(usize, &[f64])> =
            readings.columns().map(|(reading, values)| (Place::of(reading, &given).slot, values)).collect();
        let width = figures.len() * columns.len();
        let mut values = vec![f64::NAN; readings.rows() * width];
        let space = || (Workspace::new(self.circuit()), Workspace::new(self.circuit()));
        let fill = |spaces: &mut Workspaces, (row, out): (usize, &mut [f64])| {
            self.slopes_of_row(row, (columns.as_slice(), tanks_expected), (figures, out), spaces);
        };
        if width > 0 {
            for_each_row(&mut values, width, shared, (space, fill));
        }
        Ok(TrendSlopes { figures: figures.to_vec(), readings: given, values })
    }

    fn slopes_of_row(
        &self,
        row: usize,
        (columns, tanks_expected): (&[(usize, &[f64])], bool),
        (figures, out): (&[Figure], &mut [f64]),
        (space, carrying_space): &mut Workspaces,
    ) {
        let mut plain = [f64::NAN; SLOTS];
        for (place, values) in columns {
            if let (Some(own), Some(value)) = (plain.get_mut(*place), values.get(row)) {
                *own = *value;
            }
        }
        let (told, _) = self.tell(Row { values: &plain, tanks_expected }, None, space);
        let known = Some(told.get(Figure::StageEfficiency)).filter(|efficiency| !efficiency.is_nan());
        for (group, first) in columns.chunks(AT_A_TIME).zip((0..).step_by(AT_A_TIME)) {
            let mut carrying = plain.map(|value| Dual { value, slope: [0.0; CARRIED] });
            for (index, (place, _)) in group.iter().enumerate() {
                if let Some(own) = carrying.get_mut(*place) {
                    *own = Dual::input(own.value, index);
                }
            }
            let (found, _) = self.tell(Row { values: &carrying, tanks_expected }, known, carrying_space);
            for (slopes, &figure) in out.chunks_mut(columns.len()).zip(figures) {
                // Told or not as without derivatives.
                if told.get(figure).is_nan() {
                    continue;
                }
                let own = found.get(figure).slope;
                for (slope, answer) in slopes.iter_mut().skip(first).zip(own.iter().take(group.len())) {
                    *slope = *answer;
                }
            }
        }
    }
}

/// Rows from which on several threads are worth their start: a row takes some ten microseconds.
#[cfg(feature = "parallel")]
const PARALLEL_FROM: usize = 64;

fn for_each_row(
    values: &mut [f64],
    width: usize,
    shared: bool,
    (space, fill): (
        impl Fn() -> Workspaces + Sync + Send,
        impl Fn(&mut Workspaces, (usize, &mut [f64])) + Sync + Send,
    ),
) {
    #[cfg(feature = "parallel")]
    if shared && values.len() >= PARALLEL_FROM * width {
        use rayon::prelude::*;
        values.par_chunks_mut(width).enumerate().with_min_len(16).for_each_init(space, fill);
        return;
    }
    #[cfg(not(feature = "parallel"))]
    let _ = shared;
    let mut space = space();
    values.chunks_mut(width).enumerate().for_each(|row| fill(&mut space, row));
}
