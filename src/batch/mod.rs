//! Whole columns at once: columns in, columns out and a status for every row.
//!
//! One bad row stops nothing: its results are NaN and its status says why. Every row is calculated alone, so results do
//! not depend on how the rows are divided. With the feature `parallel` more than [`SERIAL_ROWS`] states, or
//! [`SERIAL_CYCLES`] cycles, are shared between the threads of the current rayon pool.

mod rows;
mod status;
mod table;

pub use rows::Rows;
pub use status::RowStatus;
pub use table::{
    ChillerColumns, ChillerSlices, CycleColumns, CycleSlices, DerivativeColumns, DerivativeSlices,
    SaturationColumns, SaturationSlices, StateColumns, StateSlices,
};

use crate::chiller::{Chiller, Duty};
use crate::cycle::{Circuit, Conditions, Size};
use crate::error::{Error, Result};
use crate::helmholtz::{TOGETHER, Thermo};
use crate::refrigerant::Refrigerant;
use crate::state::Phase;
use status::NO_PHASE;
use table::{Shape, Table};

/// Up to this many states stay on the calling thread: two threads took 0.6 to 0.9 of the time of one at 256 rows and
/// longer than one at 64 (saturation of R-134a, two cores).
pub const SERIAL_ROWS: usize = 256;

/// Up to this many cycles stay on the calling thread.
pub const SERIAL_CYCLES: usize = 16;

/// Fills every row of a table; `calculate` is given the row.
fn fill<T: Table>(table: T, shape: Shape, calculate: impl Fn(usize) -> Result<T::Item> + Sync) -> Result<()> {
    let rows = table.checked(shape)?;
    share(table, 0, rows, shape.serial, &|table: &mut T, first, rows| {
        (0..rows).for_each(|row| table.write(row, calculate(first + row)));
    });
    Ok(())
}

/// What is known of a row before the equation of state is asked.
enum Begun<Item> {
    Finished(Item),
    /// To be finished with what the equation says at temperature and density.
    Waiting(f64, f64),
}

/// The same where most rows need the equation of state at a known temperature and density: rows that wait for it are
/// worked out side by side, and get the figures they would have alone.
fn fill_from_equation<T: Table>(
    table: T,
    shape: Shape,
    refrigerant: &Refrigerant,
    begin: impl Fn(usize) -> Result<Begun<T::Item>> + Sync,
    finish: impl Fn(usize, Thermo) -> Result<T::Item> + Sync,
) -> Result<()> {
    let rows = table.checked(shape)?;
    share(table, 0, rows, shape.serial, &|table: &mut T, first, rows| {
        let mut waiting = [0; TOGETHER];
        let (mut temperatures, mut densities) = ([1.0; TOGETHER], [1.0; TOGETHER]);
        let mut count = 0;
        for row in 0..rows {
            match begin(first + row) {
                Ok(Begun::Finished(item)) => table.write(row, Ok(item)),
                Err(error) => table.write(row, Err(error)),
                Ok(Begun::Waiting(temperature, density)) => {
                    (waiting[count], temperatures[count], densities[count]) = (row, temperature, density);
                    count += 1;
                }
            }
            if count == TOGETHER || (count > 0 && row + 1 == rows) {
                // What stands in the lanes behind the last row is worked out and left.
                let at = refrigerant.equation().at_each(&temperatures, &densities);
                for (lane, row) in waiting.into_iter().take(count).enumerate() {
                    table.write(row, finish(first + row, at.lane(lane)));
                }
                count = 0;
            }
        }
    });
    Ok(())
}

/// Halves the rows until at most `serial` are left for one thread; `work` is given them and how many come before.
fn share<T: Table>(
    mut table: T,
    first: usize,
    rows: usize,
    serial: usize,
    work: &(impl Fn(&mut T, usize, usize) + Sync),
) {
    if rows <= serial {
        work(&mut table, first, rows);
    } else {
        let half = rows / 2;
        let (lower, upper) = table.divided(half);
        both(
            || share(lower, first, half, serial, work),
            || share(upper, first + half, rows - half, serial, work),
        );
    }
}

#[cfg(feature = "parallel")]
fn both(lower: impl FnOnce() + Send, upper: impl FnOnce() + Send) {
    rayon::join(lower, upper);
}

#[cfg(not(feature = "parallel"))]
fn both(lower: impl FnOnce() + Send, upper: impl FnOnce() + Send) {
    lower();
    upper();
}

/// Checks that a column of inputs has a value for every row.
fn same_length(argument: &'static str, column: &impl Rows, expected: usize) -> Result<()> {
    match column.rows() {
        Some(found) if found != expected => Err(Error::WrongLength { argument, found, expected }),
        _ => Ok(()),
    }
}

/// A missing input comes before anything else that is wrong with a row.
fn present(argument: &'static str, value: f64, unit: &'static str) -> Result<f64> {
    if value.is_nan() { Err(Error::NotFinite { argument, value, unit }) } else { Ok(value) }
}

macro_rules! pairs {
    ($($(#[$doc:meta])* $name:ident = $scalar:ident($first:ident, $second:ident);)*) => {
        /// States of whole columns from two of their properties.
        ///
        /// Rows are those of the slices to write to; a row without result gets a status.
        ///
        /// ```
        /// use interstage::{Refrigerant, RowStatus, StateColumns};
        ///
        /// let refrigerant = Refrigerant::named("R-134a")?;
        /// let mut states = StateColumns::with_rows(3);
        /// refrigerant.states_ph([300e3, f64::NAN, -5.0], 250e3, states.as_slices())?;
        /// assert_eq!(states.get(0), Some(refrigerant.state_ph(300e3, 250e3)?));
        /// assert_eq!(RowStatus::from_code(states.status[1]), Some(RowStatus::Missing));
        /// assert_eq!(RowStatus::from_code(states.status[2]), Some(RowStatus::OutOfRange));
        /// # Ok::<(), interstage::Error>(())
        /// ```
        impl Refrigerant {
            $(
                $(#[$doc])*
                ///
                /// # Errors
                ///
                /// [`Error::WrongLength`] if a column has another number of rows; [`Error::NotConverged`] if the saturation
                /// line cannot be solved.
                pub fn $name(
                    &self,
                    $first: impl Rows,
                    $second: impl Rows,
                    out: StateSlices<'_>,
                ) -> Result<()> {
                    same_length(stringify!($first), &$first, out.status.len())?;
                    same_length(stringify!($second), &$second, out.status.len())?;
                    self.prepare()?;
                    fill(out, Shape::SINGLE, |row| {
                        let (first, second) = ($first.row(row), $second.row(row));
                        present(stringify!($first), first, "SI units")?;
                        present(stringify!($second), second, "SI units")?;
                        self.$scalar(first, second)
                    })
                }
            )*
        }
    };
}

pairs! {
    /// States at pressure (Pa) and temperature (K).
    states_pt = state_pt(pressure, temperature);
    /// States at pressure (Pa) and specific enthalpy (J/kg).
    states_ph = state_ph(pressure, enthalpy);
    /// States at pressure (Pa) and specific entropy (J/(kg K)).
    states_ps = state_ps(pressure, entropy);
    /// States at pressure (Pa) and specific internal energy (J/kg).
    states_pu = state_pu(pressure, internal_energy);
    /// States at specific enthalpy (J/kg) and specific entropy (J/(kg K)).
    states_hs = state_hs(enthalpy, entropy);
    /// States at temperature (K) and specific entropy (J/(kg K)).
    states_ts = state_ts(temperature, entropy);
    /// States at temperature (K) and specific enthalpy (J/kg).
    states_th = state_th(temperature, enthalpy);
    /// States at temperature (K) and specific internal energy (J/kg).
    states_tu = state_tu(temperature, internal_energy);
    /// States at density (kg/m3) and pressure (Pa).
    states_rho_p = state_rho_p(density, pressure);
    /// States at density (kg/m3) and specific enthalpy (J/kg).
    states_rho_h = state_rho_h(density, enthalpy);
    /// States at density (kg/m3) and specific entropy (J/(kg K)).
    states_rho_s = state_rho_s(density, entropy);
    /// States at density (kg/m3) and specific internal energy (J/kg).
    states_rho_u = state_rho_u(density, internal_energy);
    /// States at pressure (Pa) and quality.
    states_px = state_px(pressure, quality);
    /// States at temperature (K) and quality.
    states_tx = state_tx(temperature, quality);
}

impl Refrigerant {
    /// States at temperature (K) and density (kg/m3).
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] if a column has another number of rows; [`Error::NotConverged`] if the saturation
    /// line cannot be solved.
    pub fn states_t_rho(
        &self,
        temperature: impl Rows,
        density: impl Rows,
        out: StateSlices<'_>,
    ) -> Result<()> {
        same_length("temperature", &temperature, out.status.len())?;
        same_length("density", &density, out.status.len())?;
        self.prepare()?;
        let flash = self.flash()?;
        let begin = |row| {
            let temperature = present("temperature", temperature.row(row), "SI units")?;
            let density = present("density", density.row(row), "SI units")?;
            Ok(match flash.t_rho_from_line(temperature, density)? {
                Some(state) => Begun::Finished(state),
                None => Begun::Waiting(temperature, density),
            })
        };
        fill_from_equation(out, Shape::SINGLE, self, begin, |_, at| flash.t_rho_from_equation(&at))
    }

    /// States at temperature (K) and density (kg/m3) with their slopes: the figures of [`states_t_rho`](Self::states_t_rho) and then
    /// [`derivatives_of`](Self::derivatives_of), from one look at the equation of state.
    ///
    /// Slopes of two-phase rows are [`RowStatus::Undefined`]; those of rows without a state have the status of the state.
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] if a column has another number of rows; [`Error::NotConverged`] if the saturation
    /// line cannot be solved.
    pub fn states_with_derivatives(
        &self,
        temperature: impl Rows,
        density: impl Rows,
        states: StateSlices<'_>,
        slopes: DerivativeSlices<'_>,
    ) -> Result<()> {
        same_length("temperature", &temperature, states.status.len())?;
        same_length("density", &density, states.status.len())?;
        self.prepare()?;
        let flash = self.flash()?;
        let begin = |row| {
            let temperature = present("temperature", temperature.row(row), "SI units")?;
            let density = present("density", density.row(row), "SI units")?;
            Ok(match flash.t_rho_from_line(temperature, density)? {
                Some(state) => Begun::Finished((state, self.derivatives(&state))),
                None => Begun::Waiting(temperature, density),
            })
        };
        fill_from_equation((states, slopes), Shape::SINGLE, self, begin, |_, at| {
            let state = flash.t_rho_from_equation(&at)?;
            Ok((state, flash.slopes(state.pressure(), &at)))
        })
    }

    /// Saturation at a column of temperatures (K).
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] if a column has another number of rows; [`Error::NotConverged`] if the saturation
    /// line cannot be solved.
    pub fn saturations_at_temperature(
        &self,
        temperature: impl Rows,
        out: SaturationSlices<'_>,
    ) -> Result<()> {
        same_length("temperature", &temperature, out.status.len())?;
        self.prepare()?;
        fill(out, Shape::SINGLE, |row| self.saturation_at_temperature(temperature.row(row)))
    }

    /// Saturation at a column of pressures (Pa absolute).
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] if a column has another number of rows; [`Error::NotConverged`] if the saturation
    /// line cannot be solved.
    pub fn saturations_at_pressure(&self, pressure: impl Rows, out: SaturationSlices<'_>) -> Result<()> {
        same_length("pressure", &pressure, out.status.len())?;
        self.prepare()?;
        fill(out, Shape::SINGLE, |row| self.saturation_at_pressure(pressure.row(row)))
    }

    /// Slopes at states in columns: temperatures (K), pressures (Pa), densities (kg/m3) and phases ([`Phase::code`]).
    ///
    /// Two-phase rows are [`RowStatus::Undefined`], rows without a phase [`RowStatus::Missing`].
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] if a column has another number of rows.
    pub fn derivatives_of(
        &self,
        temperature: impl Rows,
        pressure: impl Rows,
        density: impl Rows,
        phase: &[u8],
        out: DerivativeSlices<'_>,
    ) -> Result<()> {
        let (found, expected) = (phase.len(), out.status.len());
        if found != expected {
            return Err(Error::WrongLength { argument: "phase", found, expected });
        }
        same_length("temperature", &temperature, expected)?;
        same_length("pressure", &pressure, expected)?;
        same_length("density", &density, expected)?;
        let flash = self.flash()?;
        let begin = |row| {
            let code = phase.get(row).copied().unwrap_or(NO_PHASE);
            let missing = Error::NotFinite { argument: "phase", value: f64::NAN, unit: "-" };
            let phase = Phase::from_code(code).ok_or(missing)?;
            let temperature = present("temperature", temperature.row(row), "K")?;
            let density = present("density", density.row(row), "kg/m3")?;
            let pressure = present("pressure", pressure.row(row), "Pa")?;
            flash.may_have_slopes(phase, temperature, pressure, density)?;
            Ok(Begun::Waiting(temperature, density))
        };
        let finish = |row, at: Thermo| flash.slopes(pressure.row(row), &at);
        fill_from_equation(out, Shape::SINGLE, self, begin, finish)
    }
}

impl Circuit {
    /// Solves the circuit at the conditions of every row; `conditions` is given the row.
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] if the columns do not fit the circuit.
    pub fn solve_rows(
        &self,
        conditions: impl Fn(usize) -> Conditions + Sync,
        out: CycleSlices<'_>,
    ) -> Result<()> {
        let shape = Shape::of(self);
        let rows = out.checked(shape)?;
        let solve = |circuit: &Self, row: usize| {
            let conditions = conditions(row);
            let (Size::Capacity(size) | Size::MassFlow(size) | Size::Power(size)) = conditions.size();
            for value in [
                conditions.evaporating_temperature(),
                conditions.condensing_temperature(),
                conditions.suction_superheat(),
                conditions.subcooling(),
                conditions.liquid_carryover(),
                conditions.hot_gas_bypass(),
                size,
            ] {
                present("conditions", value, "SI units")?;
            }
            circuit.solve(&conditions)
        };
        share(out, 0, rows, shape.serial, &|table: &mut CycleSlices<'_>, first, rows| {
            // Every cycle holds its circuit: threads that count the same clones would wait for each other.
            let own = self.apart();
            (0..rows).for_each(|row| table.write(row, solve(&own, first + row)));
        });
        Ok(())
    }
}

impl Chiller {
    /// Solves the chiller at a duty for every row of `out`; `duty` is given the row, and says why a row has none.
    ///
    /// Rows that cannot be solved are blank, with the reason as status.
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] if the slices of `out` do not fit each other.
    pub fn solve_rows(
        &self,
        duty: impl Fn(usize) -> Result<Duty> + Sync,
        out: ChillerSlices<'_>,
    ) -> Result<()> {
        fill(out, Shape::of_chiller(self), |row| self.solve(&duty(row)?))
    }
}
