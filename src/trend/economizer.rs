//! The circuit of a trend row: tanks where they are read, one common stage efficiency, what the economizer is worth.

use super::analysis::TrendAnalysis;
use super::reading::Reading;
use super::row::{Row, TANKS, Told};
use super::status::Status;
use crate::compression::Stage;
use crate::cycle::{Circuit, Inputs, Interstage, NOTHING, flash};
use crate::economizer::Flashed;
use crate::error::Result;
use crate::numeric::{Bracket, newton};
use crate::saturation::Saturation;
use crate::state::{State, Stream};

/// Range in which a stage efficiency is looked for. Above 1 it is impossible, but read often enough (liquid in the
/// suction, a discharge sensor that reads low).
const EFFICIENCIES: (f64, f64) = (0.1, 1.3);

/// The circuit at the saturation states of one row.
#[derive(Debug)]
pub(super) struct Model<'a> {
    circuit: &'a Circuit,
    inputs: Inputs<f64>,
    evaporator_outlet: Stream<f64>,
    condenser_outlet: Stream<f64>,
    pressures: (f64, f64),
    /// Interstage pressures by the circuit's rule, and as read where there is a reading.
    expected: Vec<f64>,
    between: Vec<f64>,
    tanks: Tanks,
    liquid: f64,
    any_tank_read: bool,
}

/// One entry an interstage.
type Tanks = Vec<Option<Flashed<f64>>>;

impl<'a> Model<'a> {
    /// Tanks at the pressures of the circuit's rule.
    pub(super) fn new(
        circuit: &'a Circuit,
        evaporator: &Saturation,
        condenser: &Saturation,
        told: &Told,
    ) -> Result<Self> {
        let refrigerant = circuit.refrigerant();
        let (cold, hot) = (evaporator.temperature(), condenser.temperature());
        let (low, high) = (evaporator.pressure(), condenser.pressure());
        // A sensor at saturation reads a little to either side of it: no superheat and no subcooling below zero.
        let positive = |kelvin: f64| if kelvin > NOTHING { kelvin } else { 0.0 };
        let (superheat, subcooling) = (positive(told.suction_superheat), positive(told.subcooling));
        let evaporator_outlet = if superheat > 0.0 {
            refrigerant.stream_pt(low, cold + superheat)?
        } else {
            refrigerant.saturated_at_pressure(low)?.vapor
        };
        let condenser_outlet = if subcooling > 0.0 {
            refrigerant.stream_pt(high, hot - subcooling)?
        } else {
            refrigerant.saturated_at_pressure(high)?.liquid
        };
        let stages = circuit.stages().len();
        let expected =
            circuit.interstage_pressures().between(refrigerant, stages, (cold, low), (hot, high))?;
        let inputs = Inputs {
            evaporating_temperature: cold,
            condensing_temperature: hot,
            suction_superheat: superheat,
            subcooling,
            efficiencies: circuit.stages().iter().map(Stage::efficiency).collect(),
        };
        let (tanks, liquid) = flash(circuit, &expected, condenser_outlet.enthalpy)?;
        Ok(Self {
            circuit,
            inputs,
            evaporator_outlet,
            condenser_outlet,
            pressures: (low, high),
            between: expected.clone(),
            expected,
            tanks,
            liquid,
            any_tank_read: false,
        })
    }

    /// Moves the interstage pressures to those read; tells exponents and flash fractions of the tanks read.
    pub(super) fn read_tanks(&mut self, row: Row<'_>, told: &mut Told, status: &mut Status) -> Result<()> {
        let refrigerant = self.circuit.refrigerant();
        let mut read = [None; TANKS];
        let places = read.iter_mut().zip(self.circuit.interstages()).zip(2_u8..);
        for ((place, interstage), stage) in places {
            if !matches!(interstage, Interstage::FlashTank(_)) {
                continue;
            }
            let pressure = row.get(Reading::TankPressure(stage)).map(Ok).or_else(|| {
                let temperature = row.get(Reading::TankTemperature(stage))?;
                Some(refrigerant.saturation_at_temperature(temperature).map(|s| s.pressure()))
            });
            *place = pressure.transpose()?;
        }
        if read.iter().all(Option::is_none) {
            return Ok(());
        }
        let mut between = self.expected.clone();
        for (pressure, known) in between.iter_mut().zip(read) {
            *pressure = known.unwrap_or(*pressure);
        }
        let (low, high) = self.pressures;
        let mut last = low;
        for &pressure in between.iter().chain([&high]) {
            if pressure <= last {
                *status |= Status::TANK_PRESSURE;
                return Ok(());
            }
            last = pressure;
        }
        self.between = between;
        self.any_tank_read = true;
        (self.tanks, self.liquid) = flash(self.circuit, &self.between, self.condenser_outlet.enthalpy)?;
        let figures = told.tank_pressure_exponents.iter_mut().zip(&mut told.flash_fractions);
        for ((exponent, fraction), (known, tank)) in figures.zip(read.iter().zip(&self.tanks)) {
            if let (Some(pressure), Some(tank)) = (known, tank) {
                *exponent = (pressure / low).ln() / (high / low).ln();
                *fraction = tank.fraction;
            }
        }
        Ok(())
    }

    /// Cooling per kilogram through the evaporator, J/kg.
    pub(super) fn refrigerating_effect(&self) -> f64 {
        self.evaporator_outlet.enthalpy - self.liquid
    }

    pub(super) fn condenser_outlet(&self) -> State {
        self.condenser_outlet.state
    }

    /// Enthalpy at the last discharge, work and condenser flow per evaporator flow with one efficiency in all stages.
    fn compress(&self, efficiency: f64, tanks: &[Option<Flashed<f64>>]) -> Result<(f64, f64, f64)> {
        let mut inputs = self.inputs.clone();
        inputs.efficiencies.fill(efficiency);
        let solved =
            self.circuit.compress(&inputs, self.evaporator_outlet, &self.between, self.pressures.1, tanks)?;
        let work = solved.iter().map(|stage| stage.flow * stage.work()).sum();
        let last = solved.last();
        let enthalpy = last.map_or(f64::NAN, |stage| stage.compressed.outlet.enthalpy);
        Ok((enthalpy, work, last.map_or(1.0, |stage| stage.flow)))
    }

    /// Work of all stages and condenser flow, both per kilogram through the evaporator.
    pub(super) fn work(&self, efficiency: f64) -> Result<(f64, f64)> {
        self.compress(efficiency, &self.tanks).map(|(_, work, flow)| (work, flow))
    }

    /// Work per cooling with every economizer off.
    pub(super) fn work_without_economizers(&self, efficiency: f64) -> Result<f64> {
        let none = vec![None; self.tanks.len()];
        let (_, work, _) = self.compress(efficiency, &none)?;
        Ok(work / (self.evaporator_outlet.enthalpy - self.condenser_outlet.enthalpy))
    }

    /// The efficiency in all stages that gives a discharge state, or `None` if only an impossible one would.
    pub(super) fn efficiency(&self, outlet: &State) -> Result<Option<f64>> {
        let (lower, upper) = EFFICIENCIES;
        // The work of the path is close to inversely proportional to the efficiency; from the second step on a secant.
        let rise = outlet.enthalpy() - self.evaporator_outlet.enthalpy;
        let mut last: Option<(f64, f64)> = None;
        let found = newton(
            "stage efficiency from the discharge temperature",
            Bracket { lower, upper, rising: false },
            self.inputs.efficiencies.iter().sum::<f64>() / self.inputs.efficiencies.len() as f64,
            1e-9,
            |efficiency| {
                let (enthalpy, ..) = self.compress(efficiency, &self.tanks)?;
                let miss = enthalpy - outlet.enthalpy();
                let slope = match last {
                    Some((before, missed)) if before != efficiency => (miss - missed) / (efficiency - before),
                    _ => -rise / efficiency,
                };
                last = Some((efficiency, miss));
                Ok((miss, slope))
            },
        )?;
        Ok((found > lower * 1.001 && found <= 1.0).then_some(found))
    }
}

impl TrendAnalysis {
    /// The potential: what a working economizer saves between these two temperatures with the circuit's own stages.
    pub(super) fn tell_economizer(&self, model: &Model<'_>, told: &mut Told) -> Result<()> {
        if self.circuit().tanks() == 0 {
            return Ok(());
        }
        let Model { circuit, inputs, evaporator_outlet, condenser_outlet, pressures, expected, .. } = model;
        let work = |tanks: &[Option<Flashed<f64>>]| -> Result<f64> {
            let solved = circuit.compress(inputs, *evaporator_outlet, expected, pressures.1, tanks)?;
            Ok(solved.iter().map(|stage| stage.flow * stage.work()).sum())
        };
        let (tanks, liquid) = flash(circuit, expected, condenser_outlet.enthalpy)?;
        let with = work(&tanks)? / (evaporator_outlet.enthalpy - liquid);
        let without =
            work(&vec![None; tanks.len()])? / (evaporator_outlet.enthalpy - condenser_outlet.enthalpy);
        told.economizer_potential = 1.0 - with / without;
        Ok(())
    }

    /// Whether the readings show a working economizer.
    ///
    /// A tank that is read decides: it works where it stands at the pressure exponent that the circuit's rule gives, within a
    /// tolerance, unless the lift is so small that the pressures cannot tell the exponent. Without a tank reading the measured saving decides, if its interval leaves out either zero or the potential.
    pub(super) fn tell_evidence(&self, model: &Model<'_>, told: &mut Told) {
        let (low, high) = model.pressures;
        if model.any_tank_read {
            let span = (high / low).ln();
            let mut works = true;
            for (exponent, pressure) in told.tank_pressure_exponents.iter().zip(&model.expected) {
                if exponent.is_nan() {
                    continue;
                }
                // To first order in three independent relative errors of the same size.
                let relative = (1.0 + exponent * exponent + (1.0 - exponent) * (1.0 - exponent)).sqrt();
                if relative * self.pressure_uncertainty() / span > 0.5 * self.tank_exponent_tolerance() {
                    return;
                }
                works &= (exponent - (pressure / low).ln() / span).abs() <= self.tank_exponent_tolerance();
            }
            told.economizer_evidence = f64::from(u8::from(works));
            return;
        }
        let saving = told.measured_saving;
        let relative = self.capacity_uncertainty() + told.stage_efficiency_interval / told.stage_efficiency;
        let half = (1.0 - saving) * relative;
        let shown = saving - half > 0.0;
        let denied = saving + half < told.economizer_potential;
        if shown != denied {
            told.economizer_evidence = f64::from(u8::from(shown));
        }
    }
}
