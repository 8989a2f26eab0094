//! One row: from readings to figures.

use super::analysis::TrendAnalysis;
use super::economizer::{Model, Vessel, Workspace};
use super::figure::Figure;
use super::number::Number;
use super::quality::{Quality, water_range};
use super::reading::{Kind, Reading};
use super::status::Status;
use super::told::Told;
use super::water_side::{conductance, tell_water};
use crate::cycle::Interstage;
use crate::error::Result;
use crate::rating::{rating_tolerance, rating_tolerance_slope};
use crate::state::{State, Stream};
use crate::water;

/// Most economizers a trend knows readings of.
pub(super) const TANKS: usize = 8;

/// Usable readings of one row; NaN where there is none.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row<'a, R> {
    pub(super) values: &'a [R],
    /// Whether every tank has a column.
    pub(super) tanks_expected: bool,
}

/// Place of a reading in a row.
pub(super) fn slot(reading: Reading) -> usize {
    let fixed = Reading::FIXED.len();
    match reading {
        Reading::TankPressure(stage) => fixed + 2 * (usize::from(stage).saturating_sub(2)),
        Reading::TankTemperature(stage) => fixed + 2 * (usize::from(stage).saturating_sub(2)) + 1,
        other => Reading::FIXED.iter().position(|&known| known == other).unwrap_or(usize::MAX),
    }
}

/// A reading and its place in a row.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    pub(super) reading: Reading,
    pub(super) slot: usize,
}

impl Place {
    /// Among the readings that are given. One source of capacity for the whole table: the water where it is read.
    pub(super) fn of(reading: Reading, given: &[Reading]) -> Self {
        let water = [Reading::ChilledWaterEntering, Reading::ChilledWaterLeaving, Reading::ChilledWaterFlow];
        let metered = reading == Reading::Capacity && water.iter().all(|water| given.contains(water));
        Self { reading, slot: if metered { usize::MAX } else { slot(reading) } }
    }
}

/// Places in a row.
pub(super) const SLOTS: usize = Reading::FIXED.len() + 2 * TANKS;

impl<R: Number> Row<'_, R> {
    pub(super) fn get(&self, reading: Reading) -> Option<R> {
        self.values.get(slot(reading)).copied().filter(|value| !value.value().is_nan())
    }
}

/// Beyond this a temperature on the wrong side of saturation is no sensor error any more, K. Common practice, no
/// published source.
const WRONG_SIDE: f64 = 1.0;

/// Largest disagreement of pressure and saturation temperature of one vessel before it is remarked, K. Common practice, no
/// published source.
pub(super) const MISMATCH: f64 = 1.0;

/// Motor and drive take no more than this share of the motor input power, even at low load. Common practice, no published
/// source.
const MOST_LOST: f64 = 0.5;

/// How far a saving may be below zero or above the potential and still be an uncertain reading rather than a wrong one.
/// Common practice, no published source.
const IMPLAUSIBLE: f64 = 0.25;

/// Least discharge superheat from which a stage efficiency is told, K: nearer to saturation the discharge may be wet.
const DRY: f64 = 0.5;

impl TrendAnalysis {
    /// All figures of one row from its readings, each with its place and quality.
    pub(super) fn row(
        &self,
        readings: impl Iterator<Item = (Place, f64, Quality)>,
        tanks_expected: bool,
        (figures, out): (&[Figure], &mut [f64]),
        space: &mut Workspace<f64>,
    ) -> Status {
        let mut usable = [f64::NAN; SLOTS];
        let mut remarks = Status::OK;
        for (Place { reading, slot }, value, quality) in readings {
            remarks |= quality.remark();
            if quality == Quality::OutOfRange
                && reading.kind() == Kind::WaterTemperature
                && (water::BRINE.start..water_range(self.brine(reading)).0).contains(&value)
            {
                remarks |= if self.brine(reading).is_some() { Status::FROZEN } else { Status::NOT_WATER };
            }
            if quality == Quality::Good
                && let Some(place) = usable.get_mut(slot)
            {
                *place = value;
            }
        }
        let (told, found) = self.tell(Row { values: &usable, tanks_expected }, None, space);
        for (value, &figure) in out.iter_mut().zip(figures) {
            *value = told.get(figure);
        }
        remarks | found
    }

    /// All that one row tells. The stage efficiency may be known already, from the same row without derivatives.
    pub(super) fn tell<R: Number>(
        &self,
        row: Row<'_, R>,
        guess: Option<f64>,
        space: &mut Workspace<R>,
    ) -> (Told<R>, Status) {
        let mut told = Told::nothing();
        let mut status = Status::OK;
        if row.get(Reading::Power).is_some_and(|power| power.value() <= self.off_below()) {
            return (told, Status::OFF);
        }
        told.power = row.get(Reading::Power).unwrap_or(R::constant(f64::NAN));
        tell_water(self, row, &mut told, &mut status);
        told.cop = told.capacity / told.power;
        self.tell_load(&mut told, &mut status);
        if told.get(Figure::HeatBalance).value().abs() > self.heat_balance_limit() {
            status |= Status::HEAT_BALANCE;
        }

        let evaporator = self.vessel(
            row,
            Reading::EvaporatorPressure,
            Reading::EvaporatorSaturationTemperature,
            &mut told.evaporator_saturation_difference,
            &mut status,
        );
        let condenser = self.vessel(
            row,
            Reading::CondenserPressure,
            Reading::CondenserSaturationTemperature,
            &mut told.condenser_saturation_difference,
            &mut status,
        );
        if let Some(evaporator) = evaporator {
            self.tell_evaporator(row, evaporator.dew, &mut told, &mut status);
        }
        if let Some(condenser) = condenser {
            self.tell_condenser(row, &condenser, &mut told, &mut status);
        }
        if let (Some(evaporator), Some(condenser)) = (evaporator, condenser) {
            let (cold, hot) = (evaporator.dew.value(), condenser.dew.value());
            if hot <= cold {
                status |= Status::NO_LIFT;
            } else {
                if told.cop.value() > cold / (hot - cold) {
                    status |= Status::ABOVE_CARNOT;
                    told.cop = R::constant(f64::NAN);
                }
                let vessels = (&evaporator, &condenser);
                if self.tell_circuit(row, vessels, (guess, space), &mut told, &mut status).is_err() {
                    status |= Status::NOT_SOLVED;
                }
            }
        }
        (told, status)
    }

    /// Load and tolerance of the heat balance, where the rating is known.
    fn tell_load<R: Number>(&self, told: &mut Told<R>, status: &mut Status) {
        let Some(rating) = self.rating() else { return };
        told.load = told.capacity / rating.capacity;
        let load = told.load.value();
        match rating_tolerance(load, rating.range) {
            Ok(tolerance) => {
                let slopes = || [rating_tolerance_slope(load, rating.range), 0.0];
                told.heat_balance_tolerance = R::chain(tolerance, [told.load, told.load], slopes);
            }
            Err(_) if load.is_nan() => {}
            Err(_) => *status |= Status::LOAD,
        }
    }

    /// Saturation in a vessel, from its pressure or else its saturation temperature.
    fn vessel<R: Number>(
        &self,
        row: Row<'_, R>,
        pressure: Reading,
        temperature: Reading,
        difference: &mut R,
        status: &mut Status,
    ) -> Option<Vessel<R>> {
        let refrigerant = self.circuit().refrigerant();
        let (pressure, temperature) = (row.get(pressure), row.get(temperature));
        let saturated = match (pressure, temperature) {
            (Some(pressure), _) => refrigerant.saturated_at_pressure(pressure),
            (None, Some(temperature)) => refrigerant.saturated_at_temperature(temperature),
            (None, None) => return None,
        };
        let Ok(saturated) = saturated else {
            *status |= Status::NOT_SOLVED;
            return None;
        };
        let vessel = Vessel {
            pressure: saturated.pressure,
            dew: saturated.vapor.temperature,
            bubble: saturated.liquid.temperature,
        };
        if let (Some(_), Some(temperature)) = (pressure, temperature) {
            *difference = temperature - vessel.dew;
            if difference.value().abs() > MISMATCH {
                *status |= Status::SATURATION_MISMATCH;
            }
        }
        Some(vessel)
    }

    fn tell_evaporator<R: Number>(
        &self,
        row: Row<'_, R>,
        evaporating: R,
        told: &mut Told<R>,
        status: &mut Status,
    ) {
        told.evaporating_temperature = evaporating;
        if let Some(leaving) = row.get(Reading::ChilledWaterLeaving) {
            told.evaporator_approach = leaving - evaporating;
            if told.evaporator_approach.value() <= 0.0 {
                *status |= Status::NEGATIVE_APPROACH;
            }
            if let Some(entering) = row.get(Reading::ChilledWaterEntering) {
                told.evaporator_ua =
                    conductance(told.capacity, entering - evaporating, leaving - evaporating);
            }
        }
        if let Some(suction) = row.get(Reading::SuctionTemperature) {
            told.suction_superheat = suction - evaporating;
            if told.suction_superheat.value() < -WRONG_SIDE {
                *status |= Status::IMPOSSIBLE_STATE;
            }
        }
    }

    fn tell_condenser<R: Number>(
        &self,
        row: Row<'_, R>,
        condenser: &Vessel<R>,
        told: &mut Told<R>,
        status: &mut Status,
    ) {
        let (condensing, bubble) = (condenser.dew, condenser.bubble);
        told.condensing_temperature = condensing;
        if let Some(leaving) = row.get(Reading::CondenserWaterLeaving) {
            told.condenser_approach = condensing - leaving;
            if told.condenser_approach.value() <= 0.0 {
                *status |= Status::NEGATIVE_APPROACH;
            }
            if let Some(entering) = row.get(Reading::CondenserWaterEntering) {
                told.condenser_ua =
                    conductance(told.heat_rejected, condensing - entering, condensing - leaving);
            }
        }
        if let Some(liquid) = row.get(Reading::LiquidLineTemperature) {
            told.subcooling = bubble - liquid;
            // Nor can it be colder than the water that cools it, nor than the evaporator.
            let water = row.get(Reading::CondenserWaterEntering).map_or(f64::NAN, R::value);
            let coldest = water.max(told.evaporating_temperature.value()) - WRONG_SIDE;
            if told.subcooling.value() < -WRONG_SIDE || liquid.value() < coldest {
                *status |= Status::IMPOSSIBLE_STATE;
            }
        }
        if let Some(discharge) = row.get(Reading::DischargeTemperature) {
            told.discharge_superheat = discharge - condensing;
            if told.discharge_superheat.value() < -WRONG_SIDE {
                *status |= Status::IMPOSSIBLE_STATE;
            }
        }
    }

    /// What needs the refrigerant circuit between both vessels.
    fn tell_circuit<R: Number>(
        &self,
        row: Row<'_, R>,
        (evaporator, condenser): (&Vessel<R>, &Vessel<R>),
        (guess, space): (Option<f64>, &mut Workspace<R>),
        told: &mut Told<R>,
        status: &mut Status,
    ) -> Result<()> {
        let impossible = status.contains(Status::IMPOSSIBLE_STATE);
        let (superheat, subcooling) = if impossible {
            (R::constant(0.0), R::constant(0.0))
        } else {
            (told.suction_superheat, told.subcooling)
        };
        let mut model = Model::new(self.circuit(), space, (evaporator, superheat), (condenser, subcooling))?;
        let tanks = model.read_tanks(row, (self.tank_stages(), self.flash_stages()), told, status)?;
        self.tell_economizer(&mut model, told, status)?;
        // What rests on a state or a tank that cannot be as read, or on a tank that should have been read, is not told.
        let certain = tanks.usable(row.tanks_expected) && !impossible;
        if certain {
            told.evaporator_mass_flow = told.capacity / model.refrigerating_effect()?;
            self.tell_compression(row, condenser, (&mut model, guess), told, status)?;
        }
        if !self.tank_stages().is_empty() {
            self.tell_evidence(&model, &tanks, told, status);
            if certain {
                self.tell_saving(row, condenser, &mut model, told, status)?;
            }
            self.tell_evidence_by_saving(&tanks, told, status);
        }
        Ok(())
    }

    /// What the discharge temperature tells.
    fn tell_compression<R: Number>(
        &self,
        row: Row<'_, R>,
        condenser: &Vessel<R>,
        (model, guess): (&mut Model<'_, R>, Option<f64>),
        told: &mut Told<R>,
        status: &mut Status,
    ) -> Result<()> {
        let Some(outlet) = self.dry_discharge(row, condenser, told, status)? else { return Ok(()) };
        let Some(found) = model.efficiency(&outlet, true, guess)? else {
            *status |= Status::EFFICIENCY;
            return Ok(());
        };
        let work = found.work.value() / found.condenser_flow.value();
        let interval = self.efficiency_interval(&outlet.state, found.efficiency.value(), work)?;
        if interval > self.widest_efficiency_interval() {
            *status |= Status::EFFICIENCY_UNCERTAIN;
            return Ok(());
        }
        told.evaporator_mass_flow = told.capacity / found.effect;
        told.stage_efficiency = found.efficiency;
        told.stage_efficiency_interval = R::constant(interval);
        told.compression_power = told.evaporator_mass_flow * found.work;
        told.refrigerant_heat_rejected = told.evaporator_mass_flow
            * found.condenser_flow
            * (outlet.enthalpy - model.condenser_outlet().enthalpy);
        if let Some(drive) = self.drive_efficiency() {
            told.capacity_from_power = told.power * drive * found.effect / found.work;
        }
        model.tell_intercooled(found.efficiency, told)?;
        let share = told.compression_power.value() / told.power.value();
        if share > 1.0 + self.heat_balance_limit() || share < 1.0 - MOST_LOST {
            *status |= Status::HEAT_BALANCE;
        }
        Ok(())
    }

    /// The discharge state, if it is certainly dry: only then does its temperature tell an enthalpy.
    fn dry_discharge<R: Number>(
        &self,
        row: Row<'_, R>,
        condenser: &Vessel<R>,
        told: &Told<R>,
        status: &mut Status,
    ) -> Result<Option<Stream<R>>> {
        let Some(discharge) = row.get(Reading::DischargeTemperature) else { return Ok(None) };
        let refrigerant = self.circuit().refrigerant();
        let pressure = self.delivered(condenser);
        let raised = pressure.value() > condenser.pressure.value();
        let wet = raised && {
            let dew = refrigerant.saturation_at_pressure(pressure.value())?.temperature();
            discharge.value() < dew + DRY
        };
        if told.discharge_superheat.value() < DRY || wet {
            *status |= Status::DISCHARGE_NOT_DRY;
            return Ok(None);
        }
        refrigerant.stream_pt(pressure, discharge).map(Some)
    }

    /// Pressure that the last stage delivers at, where the discharge temperature is read.
    fn delivered<R: Number>(&self, condenser: &Vessel<R>) -> R {
        condenser.pressure * (1.0 + self.circuit().pressure_losses().discharge())
    }

    /// The saving that power, capacity and stage efficiency show.
    ///
    /// The efficiency behind it is told with the tanks as read where they are read and work. Else it is told as if no flash
    /// gas were taken off: a dead economizer then shows no saving, a working one somewhat less than it is worth. Where the
    /// heat balance does not close there is none.
    fn tell_saving<R: Number>(
        &self,
        row: Row<'_, R>,
        condenser: &Vessel<R>,
        model: &mut Model<'_, R>,
        told: &mut Told<R>,
        status: &mut Status,
    ) -> Result<()> {
        let (Some(drive), Some(discharge)) =
            (self.drive_efficiency(), row.get(Reading::DischargeTemperature))
        else {
            return Ok(());
        };
        if told.stage_efficiency.value().is_nan()
            || told.cop.value().is_nan()
            || status.contains(Status::HEAT_BALANCE)
        {
            return Ok(());
        }
        // What a machine would take without a tank that all gas passes is not told by its discharge.
        let passed = |between: &Interstage| {
            matches!(between, Interstage::IntercooledTank(_) | Interstage::LiquidInjection(_))
        };
        if self.circuit().interstages().iter().any(passed) {
            return Ok(());
        }
        let cop = told.cop;
        let saving = |per_cooling: R| -(R::constant(drive) / (cop * per_cooling)) + 1.0;
        let if_working = saving(model.work_without_economizers(told.stage_efficiency)?);
        let measured = if told.economizer_evidence.value() == 1.0 {
            if_working
        } else {
            let outlet = self.circuit().refrigerant().stream_pt(self.delivered(condenser), discharge)?;
            match model.efficiency(&outlet, false, Some(told.stage_efficiency.value()))? {
                Some(found) => saving(found.work / found.effect),
                None => {
                    *status |= Status::EFFICIENCY;
                    return Ok(());
                }
            }
        };
        if !(-IMPLAUSIBLE..=told.economizer_potential.value() + IMPLAUSIBLE).contains(&measured.value()) {
            *status |= Status::SAVING_IMPLAUSIBLE;
            return Ok(());
        }
        (told.saving_if_working, told.measured_saving) = (if_working, measured);
        Ok(())
    }

    /// Half interval of the efficiency from the uncertainty of the discharge temperature, to first order: the work per
    /// kilogram moves by cp dT, the efficiency in inverse proportion.
    fn efficiency_interval(&self, outlet: &State, efficiency: f64, work: f64) -> Result<f64> {
        let cp = self.circuit().refrigerant().derivatives(outlet)?.cp();
        Ok(efficiency * cp * self.discharge_temperature_uncertainty() / work)
    }
}
