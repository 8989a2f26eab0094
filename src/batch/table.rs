//! Columns of results, which can be divided between threads.

use super::status::{NO_PHASE, RowStatus};
use super::{SERIAL_CYCLES, SERIAL_ROWS};
use crate::chiller::{Chiller, ChillerPoint};
use crate::cycle::{Circuit, Cycle};
use crate::error::{Error, Result};
use crate::saturation::Saturation;
use crate::state::{Derivatives, Phase, State};

/// How many values of each kind a row has, and how many rows stay on one thread.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shape {
    one: usize,
    stages: usize,
    interstages: usize,
    economizers: usize,
    pub(super) serial: usize,
}

impl Shape {
    pub(super) const SINGLE: Self =
        Self { one: 1, stages: 0, interstages: 0, economizers: 0, serial: SERIAL_ROWS };

    pub(super) fn of(circuit: &Circuit) -> Self {
        Self {
            stages: circuit.stages().len(),
            interstages: circuit.interstages().len(),
            economizers: circuit.economizers(),
            serial: SERIAL_CYCLES,
            ..Self::SINGLE
        }
    }
}

impl Shape {
    pub(super) fn of_chiller(chiller: &Chiller) -> Self {
        Self { stages: chiller.circuits().len(), serial: SERIAL_CYCLES, ..Self::SINGLE }
    }
}

/// Output columns of one length that can be divided between threads.
pub(super) trait Table: Sized + Send {
    /// What a row is made of.
    type Item;
    /// Number of rows, once every column has been checked.
    fn checked(&self, shape: Shape) -> Result<usize>;
    /// The rows before `row` and the others.
    fn divided(self, row: usize) -> (Self, Self);
    /// Writes one row: its values, or blanks and the reason.
    fn write(&mut self, row: usize, result: Result<Self::Item>);
}

/// States and their slopes, row by row; without a state there are no slopes.
impl Table for (StateSlices<'_>, DerivativeSlices<'_>) {
    type Item = (State, Result<Derivatives>);

    fn checked(&self, shape: Shape) -> Result<usize> {
        let (expected, found) = (self.0.checked(shape)?, self.1.checked(shape)?);
        if found != expected {
            return Err(Error::WrongLength { argument: "slopes", found, expected });
        }
        Ok(expected)
    }

    fn divided(self, row: usize) -> (Self, Self) {
        let (states, slopes) = (self.0.divided(row), self.1.divided(row));
        ((states.0, slopes.0), (states.1, slopes.1))
    }

    fn write(&mut self, row: usize, result: Result<Self::Item>) {
        let (state, slopes) = match result {
            Ok((state, slopes)) => (Ok(state), slopes),
            Err(error) => (Err(error.clone()), Err(error)),
        };
        self.0.write(row, state);
        self.1.write(row, slopes);
    }
}

macro_rules! table {
    ($(#[$doc:meta])* $owned:ident, $slices:ident of $item:ty as $name:ident:
     $($(#[$column_doc:meta])* $column:ident: $type:ty [$width:ident] = $blank:expr, $values:expr;)*) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq)]
        pub struct $owned {
            $($(#[$column_doc])* pub $column: Vec<$type>,)*
            /// [`RowStatus::code`] of each row.
            pub status: Vec<u8>,
        }

        #[doc = concat!("Slices to write to, in the layout of [`", stringify!($owned), "`].")]
        #[derive(Debug)]
        pub struct $slices<'a> {
            $($(#[$column_doc])* pub $column: &'a mut [$type],)*
            /// [`RowStatus::code`] of each row.
            pub status: &'a mut [u8],
        }

        impl $owned {
            fn blank(rows: usize, shape: Shape) -> Self {
                Self {
                    $($column: vec![$blank; rows * shape.$width],)*
                    status: vec![RowStatus::Missing.code(); rows],
                }
            }

            /// The columns as slices, for a batch call to write to.
            pub fn as_slices(&mut self) -> $slices<'_> {
                $slices { $($column: &mut self.$column,)* status: &mut self.status }
            }
        }

        impl $slices<'_> {
            /// The rows before `row` and the others.
            #[must_use]
            pub fn split_at(self, row: usize) -> (Self, Self) {
                self.divided(row)
            }
        }

        impl Table for $slices<'_> {
            type Item = $item;

            fn checked(&self, shape: Shape) -> Result<usize> {
                let rows = self.status.len();
                $(
                    let (found, expected) = (self.$column.len(), rows * shape.$width);
                    if found != expected {
                        return Err(Error::WrongLength { argument: stringify!($column), found, expected });
                    }
                )*
                Ok(rows)
            }

            fn divided(self, row: usize) -> (Self, Self) {
                let rows = self.status.len();
                let at = |values: usize| row.min(rows) * (values / rows.max(1));
                $(let $column = { let at = at(self.$column.len()); self.$column.split_at_mut(at) };)*
                let status = self.status.split_at_mut(row.min(rows));
                (
                    Self { $($column: $column.0,)* status: status.0 },
                    Self { $($column: $column.1,)* status: status.1 },
                )
            }

            fn write(&mut self, row: usize, result: Result<$item>) {
                let status = match &result {
                    Ok($name) => {
                        $(put(self.$column, row, $values.as_ref());)*
                        RowStatus::Ok
                    }
                    Err(error) => {
                        let rows = self.status.len().max(1);
                        $(
                            let width = self.$column.len() / rows;
                            self.$column.iter_mut().skip(row * width).take(width).for_each(|cell| *cell = $blank);
                        )*
                        RowStatus::of(error)
                    }
                };
                put(self.status, row, &[status.code()]);
            }
        }
    };
}

/// Writes the values of a row into their place in a column.
fn put<T: Copy>(column: &mut [T], row: usize, values: &[T]) {
    let start = row * values.len();
    if let Some(cells) = column.get_mut(start..start + values.len()) {
        cells.copy_from_slice(values);
    }
}

table! {
    /// States in columns. SI units; NaN where a row has no result.
    StateColumns, StateSlices of State as state:
    /// Temperature, K.
    temperature: f64 [one] = f64::NAN, [state.temperature];
    /// Pressure, Pa absolute.
    pressure: f64 [one] = f64::NAN, [state.pressure];
    /// Density, kg/m3.
    density: f64 [one] = f64::NAN, [state.density];
    /// Specific enthalpy, J/kg.
    enthalpy: f64 [one] = f64::NAN, [state.enthalpy];
    /// Specific entropy, J/(kg K).
    entropy: f64 [one] = f64::NAN, [state.entropy];
    /// Specific internal energy, J/kg.
    internal_energy: f64 [one] = f64::NAN, [state.internal_energy];
    /// Mass fraction of vapor; NaN outside the saturation line.
    quality: f64 [one] = f64::NAN, [state.quality.unwrap_or(f64::NAN)];
    /// [`Phase::code`]; 255 where a row has no result.
    phase: u8 [one] = NO_PHASE, [state.phase.code()];
}

table! {
    /// Saturation in columns. SI units; NaN where a row has no result.
    SaturationColumns, SaturationSlices of Saturation as saturation:
    /// Temperature, K: of a blend the dew temperature.
    temperature: f64 [one] = f64::NAN, [saturation.temperature()];
    /// Pressure, Pa absolute: of a blend the dew pressure.
    pressure: f64 [one] = f64::NAN, [saturation.pressure()];
    /// Dew less bubble temperature, K ([`Saturation::temperature_glide`]); zero for a pure fluid.
    temperature_glide: f64 [one] = f64::NAN, [saturation.temperature_glide()];
    /// Temperature of saturated liquid, K: of a blend at a given pressure the bubble temperature.
    liquid_temperature: f64 [one] = f64::NAN, [saturation.liquid.temperature];
    /// Pressure of saturated liquid, Pa absolute: of a blend at a given temperature the bubble pressure.
    liquid_pressure: f64 [one] = f64::NAN, [saturation.liquid.pressure];
    /// Density of saturated liquid, kg/m3.
    liquid_density: f64 [one] = f64::NAN, [saturation.liquid.density];
    /// Enthalpy of saturated liquid, J/kg.
    liquid_enthalpy: f64 [one] = f64::NAN, [saturation.liquid.enthalpy];
    /// Entropy of saturated liquid, J/(kg K).
    liquid_entropy: f64 [one] = f64::NAN, [saturation.liquid.entropy];
    /// Internal energy of saturated liquid, J/kg.
    liquid_internal_energy: f64 [one] = f64::NAN, [saturation.liquid.internal_energy];
    /// Density of saturated vapor, kg/m3.
    vapor_density: f64 [one] = f64::NAN, [saturation.vapor.density];
    /// Enthalpy of saturated vapor, J/kg.
    vapor_enthalpy: f64 [one] = f64::NAN, [saturation.vapor.enthalpy];
    /// Entropy of saturated vapor, J/(kg K).
    vapor_entropy: f64 [one] = f64::NAN, [saturation.vapor.entropy];
    /// Internal energy of saturated vapor, J/kg.
    vapor_internal_energy: f64 [one] = f64::NAN, [saturation.vapor.internal_energy];
    /// Enthalpy of saturated vapor less that of saturated liquid, J/kg.
    latent_heat: f64 [one] = f64::NAN, [saturation.latent_heat()];
}

table! {
    /// Slopes of the equation of state in columns. SI units; NaN where a row is no single phase.
    DerivativeColumns, DerivativeSlices of Derivatives as slopes:
    /// Isobaric heat capacity, J/(kg K).
    cp: f64 [one] = f64::NAN, [slopes.cp()];
    /// Isochoric heat capacity, J/(kg K).
    cv: f64 [one] = f64::NAN, [slopes.cv()];
    /// Speed of sound, m/s.
    speed_of_sound: f64 [one] = f64::NAN, [slopes.speed_of_sound()];
    /// Isentropic exponent, dimensionless.
    isentropic_exponent: f64 [one] = f64::NAN, [slopes.isentropic_exponent()];
    /// Joule-Thomson coefficient, K/Pa.
    joule_thomson: f64 [one] = f64::NAN, [slopes.joule_thomson()];
    /// Compressibility factor, dimensionless.
    compressibility_factor: f64 [one] = f64::NAN, [slopes.compressibility_factor()];
    /// Isothermal compressibility, 1/Pa.
    isothermal_compressibility: f64 [one] = f64::NAN, [slopes.isothermal_compressibility()];
    /// Coefficient of thermal expansion, 1/K.
    thermal_expansion: f64 [one] = f64::NAN, [slopes.thermal_expansion()];
}

table! {
    /// Solved cycles in columns. SI units; NaN where a row has no result. Where a cycle has several values (one a stage,
    /// interstage or tank), those of a row stand side by side.
    CycleColumns, CycleSlices of Cycle as cycle:
    /// Capacity per compression power.
    cop: f64 [one] = f64::NAN, [cycle.cop()];
    /// Compression power per capacity, kW per ton of refrigeration.
    kw_per_ton: f64 [one] = f64::NAN, [cycle.kw_per_ton()];
    /// Cooling in Btu/h per watt of compression power.
    eer: f64 [one] = f64::NAN, [cycle.eer()];
    /// COP of a Carnot cycle between the two saturation temperatures.
    carnot_cop: f64 [one] = f64::NAN, [cycle.carnot_cop()];
    /// Refrigerating capacity, W.
    capacity: f64 [one] = f64::NAN, [cycle.capacity()];
    /// Compression power, W.
    power: f64 [one] = f64::NAN, [cycle.power()];
    /// Power that expanders recover, W.
    expander_power: f64 [one] = f64::NAN, [cycle.expander_power()];
    /// Power at the compressor shaft, W.
    shaft_power: f64 [one] = f64::NAN, [cycle.shaft_power()];
    /// Power that goes into the motor, W.
    motor_input_power: f64 [one] = f64::NAN, [cycle.motor_input_power()];
    /// Power that goes into the drive, W.
    drive_input_power: f64 [one] = f64::NAN, [cycle.drive_input_power()];
    /// Heat of the motor that the refrigerant takes up, W.
    motor_heat: f64 [one] = f64::NAN, [cycle.motor_heat()];
    /// Heat given up in the condenser, W.
    heat_rejected: f64 [one] = f64::NAN, [cycle.heat_rejected()];
    /// Cooling per kilogram through the evaporator, J/kg.
    refrigerating_effect: f64 [one] = f64::NAN, [cycle.refrigerating_effect()];
    /// Power saved by the economizers as a fraction.
    economizer_benefit: f64 [one] = f64::NAN, [cycle.economizer_benefit()];
    /// Mass fraction of vapor after the last expansion.
    evaporator_inlet_quality: f64 [one] = f64::NAN, [cycle.evaporator_inlet_quality()];
    /// Temperature at the discharge of the last stage, K.
    discharge_temperature: f64 [one] = f64::NAN, [cycle.discharge_temperature()];
    /// Evaporating pressure, Pa.
    evaporating_pressure: f64 [one] = f64::NAN, [cycle.evaporating_pressure()];
    /// Condensing pressure, Pa.
    condensing_pressure: f64 [one] = f64::NAN, [cycle.condensing_pressure()];
    /// Mass flow through the evaporator, kg/s.
    evaporator_mass_flow: f64 [one] = f64::NAN, [cycle.evaporator_mass_flow()];
    /// Mass flow through the condenser, kg/s.
    condenser_mass_flow: f64 [one] = f64::NAN, [cycle.condenser_mass_flow()];
    /// Relative closure of the mass balance.
    mass_closure: f64 [one] = f64::NAN, [cycle.mass_closure()];
    /// Relative closure of the energy balance.
    energy_closure: f64 [one] = f64::NAN, [cycle.energy_closure()];
    /// Inlet pressures of the second to the last stage, Pa.
    interstage_pressures: f64 [interstages] = f64::NAN, cycle.interstage_pressures();
    /// What joins the gas in each economizer per flow of liquid that reaches it.
    flash_fractions: f64 [economizers] = f64::NAN, cycle.flash_fractions();
    /// Work of each stage per kilogram through it, J/kg.
    stage_work: f64 [stages] = f64::NAN, cycle.stage_work();
    /// Isentropic or polytropic head of each stage, J/kg.
    stage_head: f64 [stages] = f64::NAN, cycle.stage_head();
    /// Share of each stage in the sum of the heads.
    head_split: f64 [stages] = f64::NAN, cycle.head_split();
    /// Power of each stage, W.
    stage_power: f64 [stages] = f64::NAN, cycle.stage_power();
    /// Mass flow through each stage, kg/s.
    stage_mass_flow: f64 [stages] = f64::NAN, cycle.stage_mass_flow();
    /// Volume flow into each stage, m3/s.
    stage_inlet_volume_flow: f64 [stages] = f64::NAN, cycle.stage_inlet_volume_flow();
    /// Whether compression in a stage passes through wet vapor; `false` where a row has no result.
    stage_wet: bool [stages] = false, cycle.stage_wet();
}

table! {
    /// Chillers at duties in columns. SI units; NaN where a row has no result. Where there is one value a circuit, those of a row stand side
    /// by side, along the chilled water.
    ChillerColumns, ChillerSlices of ChillerPoint as point:
    /// Capacity per compression power.
    cop: f64 [one] = f64::NAN, [point.cop()];
    /// Compression power per capacity, kW per ton of refrigeration.
    kw_per_ton: f64 [one] = f64::NAN, [point.kw_per_ton()];
    /// Compression power of all circuits, W.
    power: f64 [one] = f64::NAN, [point.power()];
    /// Power at all compressor shafts, W.
    shaft_power: f64 [one] = f64::NAN, [point.shaft_power()];
    /// Power into all motors, W.
    motor_input_power: f64 [one] = f64::NAN, [point.motor_input_power()];
    /// Power into all drives, W.
    drive_input_power: f64 [one] = f64::NAN, [point.drive_input_power()];
    /// Heat given up in all condensers, W.
    heat_rejected: f64 [one] = f64::NAN, [point.heat_rejected()];
    /// Temperature of the chilled water that enters, K.
    chilled_water_entering: f64 [one] = f64::NAN, [point.chilled_water_entering()];
    /// Temperature of the chilled water that leaves, K.
    chilled_water_leaving: f64 [one] = f64::NAN, [point.chilled_water_leaving()];
    /// Temperature of the condenser water that leaves, K.
    condenser_water_leaving: f64 [one] = f64::NAN, [point.condenser_water_leaving()];
    /// Relative closure of the energy balance.
    energy_closure: f64 [one] = f64::NAN, [point.energy_closure()];
    /// Evaporating temperature of each circuit, K.
    evaporating_temperatures: f64 [stages] = f64::NAN, point.evaporating_temperatures();
    /// Condensing temperature of each circuit, K.
    condensing_temperatures: f64 [stages] = f64::NAN, point.condensing_temperatures();
    /// Discharge temperature of each circuit, K.
    discharge_temperatures: f64 [stages] = f64::NAN, point.discharge_temperatures();
    /// What the economizers of each circuit save.
    economizer_benefits: f64 [stages] = f64::NAN, point.economizer_benefits();
}

impl ChillerColumns {
    /// Blank columns for duties of a chiller, every row missing. Panics as [`Vec`] does where there is no memory for so many.
    pub fn with_rows(rows: usize, chiller: &Chiller) -> Self {
        Self::blank(rows, Shape::of_chiller(chiller))
    }
}

impl StateColumns {
    /// Blank columns, every row missing. Panics as [`Vec`] does where there is no memory for so many.
    pub fn with_rows(rows: usize) -> Self {
        Self::blank(rows, Shape::SINGLE)
    }

    /// One row as it was calculated, or `None` if it has no result.
    pub fn get(&self, row: usize) -> Option<State> {
        let at = |column: &[f64]| column.get(row).copied();
        let status = self.status.get(row).copied()?;
        let state = State {
            temperature: at(&self.temperature)?,
            pressure: at(&self.pressure)?,
            density: at(&self.density)?,
            enthalpy: at(&self.enthalpy)?,
            entropy: at(&self.entropy)?,
            internal_energy: at(&self.internal_energy)?,
            quality: at(&self.quality).filter(|quality| !quality.is_nan()),
            phase: Phase::from_code(self.phase.get(row).copied()?)?,
        };
        (status == RowStatus::Ok.code()).then_some(state)
    }
}

impl SaturationColumns {
    /// Blank columns, every row missing. Panics as [`Vec`] does where there is no memory for so many.
    pub fn with_rows(rows: usize) -> Self {
        Self::blank(rows, Shape::SINGLE)
    }
}

impl DerivativeColumns {
    /// Blank columns, every row missing. Panics as [`Vec`] does where there is no memory for so many.
    pub fn with_rows(rows: usize) -> Self {
        Self::blank(rows, Shape::SINGLE)
    }
}

impl CycleColumns {
    /// Blank columns for cycles of a circuit, every row missing. Panics as [`Vec`] does where there is no memory for so many.
    pub fn with_rows(rows: usize, circuit: &Circuit) -> Self {
        Self::blank(rows, Shape::of(circuit))
    }
}
