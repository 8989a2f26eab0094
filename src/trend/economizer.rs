//! The circuit of a trend row: economizers at their pressures where read, one common stage efficiency, what the economizer is worth.

use super::analysis::TrendAnalysis;
use super::number::Number;
use super::reading::Reading;
use super::row::{MISMATCH, Row, TANKS};
use super::status::Status;
use super::told::Told;
use crate::cycle::{
    Circuit, Conditions, Descent, Ends, Flow, Inputs, Lists, MotorCooling, NOTHING, Passages, PerStage, Size,
    descend,
};
use crate::economizer::{Metering, Passage};
use crate::error::{Error, Result};
use crate::numeric::{Bracket, newton};
use crate::refrigerant::Refrigerant;
use crate::state::Stream;

/// Range in which a stage efficiency is looked for. Above 1 it is impossible, but read often enough (liquid in the
/// suction, a discharge sensor that reads low).
const EFFICIENCIES: (f64, f64) = (0.1, 1.3);

/// Saturation in a vessel.
#[derive(Debug, Clone, Copy)]
pub(super) struct Vessel<R> {
    pub(super) pressure: R,
    pub(super) dew: R,
    pub(super) bubble: R,
}

/// The numbers of a circuit, and lists that one row after the other fills: after the first of them no row takes memory of its own.
#[derive(Debug, Clone)]
pub(super) struct Workspace<R> {
    inputs: Inputs<R>,
    expected: Passages<R>,
    read: Passages<R>,
    lists: Lists<R>,
}

impl<R: Number> Workspace<R> {
    pub(super) fn new(circuit: &Circuit) -> Self {
        let unknown = Conditions::new(f64::NAN, f64::NAN, Size::MassFlow(1.0));
        Self {
            inputs: Inputs::lifted(circuit, &unknown, |_, value| R::constant(value)),
            expected: Passages::new(),
            read: Passages::new(),
            lists: Lists::new(),
        }
    }
}

/// The circuit at the saturation states of one row.
#[derive(Debug)]
pub(super) struct Model<'a, R> {
    circuit: &'a Circuit,
    space: &'a mut Workspace<R>,
    ends: Ends<R>,
    /// Interstage pressures by the circuit's rule, with the liquid that goes on to the evaporator.
    expected: (PerStage<R>, Stream<R>),
    /// The same as read where there is a reading.
    read: (PerStage<R>, Stream<R>),
    /// Suction temperature above the evaporating temperature behind a liquid-suction exchanger, K, where it is read.
    exchanged_superheat: Option<R>,
}

/// What the tanks of a row say.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct TanksRead {
    read: usize,
    missing: usize,
    /// A reading that cannot be true: not between its neighbors.
    refused: bool,
    /// Those of them that are flash tanks.
    flash_read: usize,
    flash_missing: usize,
}

impl TanksRead {
    /// Whether what rests on the tanks can be told: they are read, or nobody expects that they are.
    pub(super) fn usable(&self, expected: bool) -> bool {
        !self.refused && (self.missing == 0 || !expected)
    }
}

/// A stage efficiency with work, cooling and condenser flow, all per kilogram of liquid sent to the evaporator.
#[derive(Debug, Clone, Copy)]
pub(super) struct Compression<R> {
    pub(super) efficiency: R,
    pub(super) work: R,
    /// Cooling.
    pub(super) effect: R,
    pub(super) condenser_flow: R,
    enthalpy: R,
}

impl<'a, R: Number> Model<'a, R> {
    /// Tanks at the pressures of the circuit's rule; superheat at the first stage and subcooling (K) as read, NaN where they are not.
    ///
    /// Behind a liquid-suction exchanger the superheat is the exchanger's: saturated vapor enters it.
    pub(super) fn new(
        circuit: &'a Circuit,
        space: &'a mut Workspace<R>,
        (evaporator, superheat): (&Vessel<R>, R),
        (condenser, subcooling): (&Vessel<R>, R),
    ) -> Result<Self> {
        let refrigerant = circuit.refrigerant();
        let (cold, hot) = (evaporator.dew, condenser.dew);
        let (low, high) = (evaporator.pressure, condenser.pressure);
        // A sensor at saturation reads a little to either side of it: no superheat and no subcooling below zero.
        let positive = |kelvin: R| if kelvin.value() > NOTHING { kelvin } else { R::constant(0.0) };
        let read = !superheat.value().is_nan();
        let lost = circuit.pressure_losses().suction();
        let superheat = if read && lost > 0.0 {
            before_loss(refrigerant, evaporator, low * (1.0 - lost), cold + superheat)? - cold
        } else {
            superheat
        };
        let (superheat, subcooling) = (positive(superheat), positive(subcooling));
        let (exchanged_superheat, superheat) = match circuit.suction_exchanger() {
            Some(_) => (read.then_some(superheat), R::constant(0.0)),
            None => (None, superheat),
        };
        let evaporating = refrigerant.saturated_at_pressure(low)?;
        let condensing = refrigerant.saturated_at_pressure(high)?;
        let inputs = &mut space.inputs;
        (inputs.evaporating_temperature, inputs.condensing_temperature) = (cold, hot);
        (inputs.suction_superheat, inputs.subcooling) = (superheat, subcooling);
        let ends = Ends::new(refrigerant, inputs, &evaporating, &condensing)?;
        let between = circuit.pressures_between(inputs, &ends)?;
        let liquid = descend(refrigerant, inputs, &between, &ends, &mut space.expected)?.liquid;
        space.read.clone_from(&space.expected);
        let expected = (between, liquid);
        Ok(Self { circuit, space, ends, read: expected.clone(), expected, exchanged_superheat })
    }

    /// Moves the interstage pressures to those read; tells exponents and flash fractions of the tanks read.
    pub(super) fn read_tanks(
        &mut self,
        row: Row<'_, R>,
        (stages, flash_stages): (&[u8], &[u8]),
        told: &mut Told<R>,
        status: &mut Status,
    ) -> Result<TanksRead> {
        let refrigerant = self.circuit.refrigerant();
        let mut found = TanksRead::default();
        let mut read = [None; TANKS];
        for &stage in stages {
            let saturation = row.get(Reading::TankTemperature(stage));
            let by_temperature = saturation.and_then(|t| {
                let there = refrigerant.saturation_at_temperature(t.value()).ok()?;
                Some(R::chain(there.pressure(), [t, t], || [there.slopes().1, 0.0]))
            });
            let pressure = row.get(Reading::TankPressure(stage)).or(by_temperature);
            if let (Some(temperature), Some(pressure)) = (saturation, pressure) {
                let there = refrigerant.saturation_at_pressure(pressure.value())?.temperature();
                if (temperature.value() - there).abs() > MISMATCH {
                    *status |= Status::SATURATION_MISMATCH;
                }
            }
            let flash = usize::from(flash_stages.contains(&stage));
            match pressure {
                Some(_) => (found.read, found.flash_read) = (found.read + 1, found.flash_read + flash),
                None => {
                    (found.missing, found.flash_missing) = (found.missing + 1, found.flash_missing + flash);
                }
            }
            if let Some(place) = read.get_mut(usize::from(stage) - 2) {
                *place = pressure;
            }
        }
        if found.read == 0 {
            return Ok(found);
        }
        // An economizer stands above the inlet it feeds by the loss on the way.
        let port = 1.0 + self.space.inputs.losses.port.value();
        let mut standing: PerStage<R> = self.expected.0.iter().map(|&inlet| inlet * port).collect();
        for (pressure, known) in standing.iter_mut().zip(read) {
            *pressure = known.unwrap_or(*pressure);
        }
        let (low, high) = (self.ends.evaporating_pressure, self.ends.condensing_pressure);
        let mut last = low.value();
        for pressure in standing.iter().chain([&high]).map(|pressure| pressure.value()) {
            if pressure <= last {
                *status |= Status::TANK_PRESSURE;
                return Ok(TanksRead { refused: true, ..found });
            }
            last = pressure;
        }
        let between: PerStage<R> = standing.into_iter().map(|pressure| pressure / port).collect();
        let Workspace { inputs, read: passages, .. } = &mut *self.space;
        let liquid = descend(refrigerant, inputs, &between, &self.ends, passages)?.liquid;
        self.read = (between, liquid);
        let figures = told.tank_pressure_exponents.iter_mut().zip(&mut told.flash_fractions);
        for ((exponent, fraction), (known, tank)) in figures.zip(read.iter().zip(&self.space.read)) {
            if let (Some(pressure), Some(tank)) = (known, tank) {
                *exponent = (*pressure / low).ln() / (high / low).ln();
                *fraction = tank.fraction().unwrap_or(R::constant(f64::NAN));
            }
        }
        Ok(found)
    }

    /// Cooling per kilogram of liquid sent to the evaporator, J/kg, with the circuit's own stage efficiencies where it depends on
    /// them.
    pub(super) fn refrigerating_effect(&mut self) -> Result<R> {
        let circuit = self.circuit;
        let plain = circuit.suction_exchanger().is_none()
            && circuit.metering() == Metering::Valve
            && circuit.drive().motor_cooling() != MotorCooling::RefrigerantToEvaporator;
        if plain {
            return Ok(self.ends.evaporator_outlet.enthalpy - self.read.1.enthalpy);
        }
        self.circulate(None, true, Flow::refrigerating_effect)
    }

    pub(super) fn condenser_outlet(&self) -> Stream<R> {
        self.ends.condenser_outlet
    }

    /// What circulates at the pressures read, with what the economizers add or without; with one efficiency in all stages, or with
    /// their own.
    fn circulate<T>(
        &mut self,
        efficiency: Option<R>,
        with_tanks: bool,
        tell: impl FnOnce(&Flow<R>, &Ends<R>) -> T,
    ) -> Result<T> {
        let Workspace { inputs, read, lists, .. } = &mut *self.space;
        let ends = &self.ends;
        let descent =
            if with_tanks { Descent { passages: read, liquid: self.read.1 } } else { Descent::direct(ends) };
        let (own, effectiveness) = (inputs.efficiencies.clone(), inputs.effectiveness);
        if let Some(efficiency) = efficiency {
            inputs.efficiencies.fill(efficiency);
        }
        if let Some(superheat) = self.exchanged_superheat {
            let difference = descent.liquid.temperature - ends.evaporator_outlet.temperature;
            let read = superheat / difference;
            let possible = difference.value() > 0.0 && read.value() <= 1.0;
            let most = R::constant(if difference.value() > 0.0 { 1.0 } else { 0.0 });
            inputs.effectiveness = Some(if possible { read } else { most });
        }
        let flow = self.circuit.ascend(inputs, ends, &self.read.0, descent, lists);
        (inputs.efficiencies, inputs.effectiveness) = (own, effectiveness);
        let flow = flow?;
        let told = tell(&flow, ends);
        *lists = flow.into_lists();
        Ok(told)
    }

    /// Work per cooling of the circuit's own stages at the pressures of its rule, with what the economizers add or without.
    fn expected_work(&mut self, with_tanks: bool) -> Result<R> {
        let Workspace { inputs, expected, lists, .. } = &mut *self.space;
        let (ends, (between, liquid)) = (&self.ends, &self.expected);
        let descent =
            if with_tanks { Descent { passages: expected, liquid: *liquid } } else { Descent::direct(ends) };
        let flow = self.circuit.ascend(inputs, ends, between, descent, lists)?;
        let told = flow.work() / flow.refrigerating_effect(ends);
        *lists = flow.into_lists();
        Ok(told)
    }

    /// The stages with one efficiency in all of them.
    fn compress(&mut self, efficiency: R, with_tanks: bool) -> Result<Compression<R>> {
        self.circulate(Some(efficiency), with_tanks, |flow, ends| Compression {
            efficiency,
            work: flow.work(),
            effect: flow.refrigerating_effect(ends),
            condenser_flow: flow.discharge_flow(),
            enthalpy: flow.discharge().enthalpy,
        })
    }

    /// Flash fractions of the intercooled tanks that are read, which depend on the gas.
    pub(super) fn tell_intercooled(&mut self, efficiency: R, told: &mut Told<R>) -> Result<()> {
        let depends = |(passage, exponent): (&Option<Passage<R>>, &R)| {
            passage.is_some_and(|passage| passage.fraction().is_none()) && !exponent.value().is_nan()
        };
        if !self.space.read.iter().zip(&told.tank_pressure_exponents).any(depends) {
            return Ok(());
        }
        let Told { tank_pressure_exponents, flash_fractions, .. } = told;
        self.circulate(Some(efficiency), true, |flow, _| {
            let places = flow.economizers.iter().zip(tank_pressure_exponents.iter()).zip(flash_fractions);
            for ((economized, exponent), fraction) in places {
                if let Some(at) = economized
                    && depends((&Some(at.passage), exponent))
                {
                    *fraction = at.fraction();
                }
            }
        })
    }

    /// Work per cooling with every economizer off, of stages of this efficiency.
    pub(super) fn work_without_economizers(&mut self, efficiency: R) -> Result<R> {
        let compression = self.compress(efficiency, false)?;
        Ok(compression.work / compression.effect)
    }

    /// The efficiency in all stages that gives a discharge state, from a first guess (that of the circuit if there is none);
    /// `None` if only an impossible one would.
    pub(super) fn efficiency(
        &mut self,
        outlet: &Stream<R>,
        with_tanks: bool,
        guess: Option<f64>,
    ) -> Result<Option<Compression<R>>> {
        let (lowest, highest) = EFFICIENCIES;
        let own = &self.space.inputs.efficiencies;
        let mean = own.iter().map(|efficiency| efficiency.value()).sum::<f64>() / own.len() as f64;
        let mut last: Option<Compression<R>> = None;
        // Over the inverse of the efficiency the enthalpy is close to a straight line with the slope of the work; from the
        // second step on a secant.
        let found = newton(
            "stage efficiency from the discharge temperature",
            Bracket { lower: 1.0 / highest, upper: 1.0 / lowest, rising: true },
            1.0 / guess.unwrap_or(mean),
            1e-9,
            |inverse| {
                let here = match self.compress(R::unknown(1.0 / inverse), with_tanks) {
                    // A trial so low that its discharge is hotter than the equation of state knows: the root is above it.
                    Err(Error::OutOfRange { .. }) if inverse > 1.0 => return Ok((f64::INFINITY, 1.0)),
                    other => other?,
                };
                let slope = match last {
                    Some(before) if before.efficiency.value() != here.efficiency.value() => {
                        (here.enthalpy.value() - before.enthalpy.value())
                            / (inverse - 1.0 / before.efficiency.value())
                    }
                    _ => here.work.value() / here.condenser_flow.value() / inverse,
                };
                last = Some(here);
                Ok((here.enthalpy.value() - outlet.enthalpy.value(), slope))
            },
        )?;
        let efficiency = 1.0 / found;
        let possible = efficiency > lowest * 1.001 && efficiency <= 1.0;
        // The last evaluation is within the tolerance of the search, unless a search ended where nothing could be evaluated;
        // what is left of the work is a straight line in the inverse.
        let near = |last: &Compression<R>| (last.efficiency.value() / efficiency - 1.0).abs() < 1e-6;
        Ok(last.filter(|last| possible && near(last)).map(|last| {
            let left = last.enthalpy - outlet.enthalpy;
            Compression {
                efficiency: R::unknown(efficiency).settled(left),
                work: (last.work * last.efficiency.value() / efficiency).settled(left),
                effect: last.effect.settled(left),
                condenser_flow: last.condenser_flow.settled(left),
                enthalpy: outlet.enthalpy,
            }
        }))
    }
}

/// Temperature of vapor at the evaporator where it is read behind a loss of pressure; that of saturation if it is not certainly dry.
fn before_loss<R: Number>(
    refrigerant: &Refrigerant,
    evaporator: &Vessel<R>,
    behind: R,
    temperature: R,
) -> Result<R> {
    if temperature.value() <= refrigerant.saturation_at_pressure(behind.value())?.temperature() + NOTHING {
        return Ok(evaporator.dew);
    }
    let read = refrigerant.stream_pt(behind, temperature)?;
    Ok(refrigerant.stream_ph(evaporator.pressure, read.enthalpy)?.temperature)
}

impl TrendAnalysis {
    /// The potential: what a working economizer saves between these two temperatures with the circuit's own stages.
    pub(super) fn tell_economizer<R: Number>(
        &self,
        model: &mut Model<'_, R>,
        told: &mut Told<R>,
        status: &mut Status,
    ) -> Result<()> {
        if self.circuit().economizers() == 0 {
            return Ok(());
        }
        let with = model.expected_work(true)?;
        let without = model.expected_work(false)?;
        // Without its economizers a machine near the critical point may not cool at all.
        if without.value() > 0.0 {
            told.economizer_potential = -(with / without) + 1.0;
        } else {
            *status |= Status::NOT_SOLVED;
        }
        Ok(())
    }

    /// Whether the tanks show a working economizer.
    ///
    /// Flash tanks alone can: all must be read and stand no higher than their baseline allows. A tank that stands too high (a blocked vent
    /// does that) speaks against it, one that stands too low (inlet vanes do that) cannot tell. Nor can the pressures at a
    /// lift so small that they leave the exponent uncertain by more than half the tolerance.
    pub(super) fn tell_evidence<R: Number>(
        &self,
        model: &Model<'_, R>,
        tanks: &TanksRead,
        told: &mut Told<R>,
        status: &mut Status,
    ) {
        if tanks.flash_read == 0 || tanks.refused {
            return;
        }
        let (low, high) = (model.ends.evaporating_pressure.value(), model.ends.condensing_pressure.value());
        let span = (high / low).ln();
        let tolerance = self.tank_exponent_tolerance();
        // The pressure of another economizer tells nothing about what it does.
        let others = self.tank_stages().len() > self.flash_stages().len();
        let port = 1.0 + model.space.inputs.losses.port.value();
        let (mut denied, mut undecided) = (false, tanks.flash_missing > 0 || others);
        let exponents = told.tank_pressure_exponents.iter().map(|exponent| exponent.value());
        let places = exponents.zip(&model.expected.0).zip(2_u8..);
        let read = |&((exponent, _), stage): &((f64, &R), u8)| {
            !exponent.is_nan() && self.flash_stages().contains(&stage)
        };
        for ((exponent, pressure), stage) in places.filter(read) {
            // To first order in three independent relative errors of the same size.
            let relative = (1.0 + exponent * exponent + (1.0 - exponent) * (1.0 - exponent)).sqrt();
            let uncertain = relative * self.pressure_uncertainty() / span > 0.5 * tolerance;
            let excess =
                exponent - self.tank_exponent(stage).unwrap_or((pressure.value() * port / low).ln() / span);
            denied |= !uncertain && excess > tolerance;
            undecided |= uncertain || excess < -tolerance;
        }
        if denied || !undecided {
            told.economizer_evidence = R::constant(f64::from(u8::from(!denied)));
        } else {
            *status |= Status::EVIDENCE_UNDECIDED;
        }
    }

    /// The same from the measured saving where no flash tank is read.
    ///
    /// It works if the saving told as if it were dead is certainly above zero, and does not if the saving told as if it
    /// worked is certainly below its potential. The interval has the uncertainties of capacity, stage efficiency and power
    /// (with the drive efficiency), one added to the other.
    pub(super) fn tell_evidence_by_saving<R: Number>(
        &self,
        tanks: &TanksRead,
        told: &mut Told<R>,
        status: &mut Status,
    ) {
        if tanks.flash_read > 0 || told.measured_saving.value().is_nan() {
            return;
        }
        let relative = self.capacity_uncertainty()
            + self.power_uncertainty()
            + told.stage_efficiency_interval.value() / told.stage_efficiency.value();
        let half = |saving: f64| (1.0 - saving) * relative;
        let (measured, if_working) = (told.measured_saving.value(), told.saving_if_working.value());
        let shown = measured - half(measured) > 0.0;
        let denied = if_working + half(if_working) < told.economizer_potential.value();
        if shown == denied {
            *status |= Status::EVIDENCE_UNDECIDED;
        } else {
            told.economizer_evidence = R::constant(f64::from(u8::from(shown)));
        }
    }
}
