//! From a circuit and its conditions to every state and flow.
//!
//! Per kilogram through the evaporator: liquid passes the tanks from the condenser down; where the fraction
//! `y` flashes off, the flow above the tank is `1 / (1 - y)` times that below. Vapor mixes adiabatically with the
//! discharge it meets. Written once over [`Real`], so that the same lines give figures and their derivatives.

use super::circuit::{Circuit, Interstage};
use super::conditions::{Conditions, Size};
use crate::compression::{Compressed, Stage};
use crate::economizer::Flashed;
use crate::error::{Error, Result};
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;
use crate::state::{SaturatedStreams, Stream};

/// A superheat or subcooling up to this, K, is none: rounding could put the state on the other side of saturation.
pub(crate) const NOTHING: f64 = 1e-9;

/// Work up to this share of R T is lost in the rounding of the enthalpies it is the difference of: that of a lift of some
/// 1e-10 K.
const LOST: f64 = 1e-11;

/// Conditions over a [`Real`]; one efficiency for each stage.
#[derive(Debug, Clone)]
pub(crate) struct Inputs<R> {
    pub(crate) evaporating_temperature: R,
    pub(crate) condensing_temperature: R,
    pub(crate) suction_superheat: R,
    pub(crate) subcooling: R,
    pub(crate) efficiencies: Vec<R>,
}

impl Inputs<f64> {
    pub(crate) fn new(circuit: &Circuit, conditions: &Conditions) -> Self {
        Self {
            evaporating_temperature: conditions.evaporating_temperature,
            condensing_temperature: conditions.condensing_temperature,
            suction_superheat: conditions.suction_superheat,
            subcooling: conditions.subcooling,
            efficiencies: circuit.stages().iter().map(Stage::efficiency).collect(),
        }
    }
}

/// Everything per kilogram through the evaporator.
#[derive(Debug, Clone)]
pub(crate) struct Solution<R> {
    pub(crate) evaporating_pressure: R,
    pub(crate) condensing_pressure: R,
    pub(crate) interstage_pressures: Vec<R>,
    pub(crate) evaporator_inlet: Stream<R>,
    pub(crate) evaporator_outlet: Stream<R>,
    pub(crate) condenser_outlet: Stream<R>,
    /// One entry an interstage, `None` where there is no tank.
    pub(crate) tanks: Vec<Option<Flashed<R>>>,
    pub(crate) stages: Vec<StageSolution<R>>,
}

/// One stage of a solution.
#[derive(Debug, Clone, Copy)]
pub(crate) struct StageSolution<R> {
    pub(crate) inlet: Stream<R>,
    pub(crate) compressed: Compressed<R>,
    /// Flow through the stage per flow through the evaporator.
    pub(crate) flow: R,
}

impl<R: Real> StageSolution<R> {
    /// Work per kilogram through the stage, J/kg.
    pub(crate) fn work(&self) -> R {
        self.compressed.outlet.enthalpy - self.inlet.enthalpy
    }
}

impl<R: Real> Solution<R> {
    /// Cooling per kilogram through the evaporator, J/kg.
    pub(crate) fn refrigerating_effect(&self) -> R {
        self.evaporator_outlet.enthalpy - self.evaporator_inlet.enthalpy
    }

    /// Work of all stages per kilogram through the evaporator, J/kg.
    pub(crate) fn work(&self) -> R {
        self.stages.iter().fold(R::constant(0.0), |sum, stage| sum + stage.flow * stage.work())
    }

    pub(crate) fn cop(&self) -> R {
        self.refrigerating_effect() / self.work()
    }

    /// Flow through the last stage and the condenser per flow through the evaporator.
    pub(crate) fn condenser_flow(&self) -> R {
        self.stages.last().map_or(R::constant(1.0), |stage| stage.flow)
    }

    /// State at the discharge of the last stage.
    pub(crate) fn discharge(&self) -> Stream<R> {
        self.stages.last().map_or(self.evaporator_outlet, |stage| stage.compressed.outlet)
    }

    /// Refuses work that is lost in the rounding of the enthalpies it is the difference of.
    pub(super) fn refuse_lost_work(&self, refrigerant: &Refrigerant, inputs: &Inputs<R>) -> Result<()> {
        let (cold, hot) = (inputs.evaporating_temperature.value(), inputs.condensing_temperature.value());
        if self.work().value() <= LOST * refrigerant.gas_constant() * hot {
            return Err(Error::Inconsistent {
                arguments: "evaporating temperature and condensing temperature",
                reason: format!(
                    "the work between {cold} K and {hot} K is lost in rounding: no COP can be told"
                ),
            });
        }
        Ok(())
    }

    /// Mass flow through the evaporator that gives a size.
    pub(crate) fn mass_flow(&self, size: Size) -> R {
        match size {
            Size::MassFlow(flow) => R::constant(flow),
            Size::Capacity(capacity) => R::constant(capacity) / self.refrigerating_effect(),
            Size::Power(power) => R::constant(power) / self.work(),
        }
    }
}

impl Circuit {
    /// Solves the circuit per kilogram through the evaporator; conditions must have been checked.
    pub(crate) fn solve_over<R: Real>(&self, inputs: &Inputs<R>) -> Result<Solution<R>> {
        let refrigerant = self.refrigerant();
        let (cold, hot) = (inputs.evaporating_temperature, inputs.condensing_temperature);
        let evaporating = refrigerant.saturated_at_temperature(cold)?;
        let condensing = refrigerant.saturated_at_temperature(hot)?;
        let (low, high) = (evaporating.pressure, condensing.pressure);
        let between = self.interstage_pressures().between(
            refrigerant,
            self.stages().len(),
            (cold, low),
            (hot, high),
        )?;
        self.solve_between(inputs, &evaporating, &condensing, between)
    }

    /// The same with the saturation states in evaporator and condenser and the interstage pressures known.
    pub(crate) fn solve_between<R: Real>(
        &self,
        inputs: &Inputs<R>,
        evaporating: &SaturatedStreams<R>,
        condensing: &SaturatedStreams<R>,
        between: Vec<R>,
    ) -> Result<Solution<R>> {
        let refrigerant = self.refrigerant();
        let (low, high) = (evaporating.pressure, condensing.pressure);
        let (superheat, subcooling) = (inputs.suction_superheat, inputs.subcooling);
        let evaporator_outlet = if superheat.value() > NOTHING {
            refrigerant.stream_pt(low, inputs.evaporating_temperature + superheat)?
        } else {
            shifted_saturation(refrigerant, evaporating.vapor, superheat)?
        };
        let condenser_outlet = if subcooling.value() > NOTHING {
            refrigerant.stream_pt(high, condensing.liquid.temperature - subcooling)?
        } else {
            shifted_saturation(refrigerant, condensing.liquid, -subcooling)?
        };

        let (tanks, liquid) = flash(self, &between, condenser_outlet.enthalpy)?;
        refuse_no_cooling(liquid.value(), evaporator_outlet.enthalpy.value())?;
        let stages = self.compress(&inputs.efficiencies, evaporator_outlet, &between, high, &tanks)?;
        let solution = Solution {
            evaporating_pressure: low,
            condensing_pressure: high,
            interstage_pressures: between,
            evaporator_inlet: refrigerant.stream_ph(low, liquid)?,
            evaporator_outlet,
            condenser_outlet,
            tanks,
            stages,
        };
        solution.refuse_lost_work(refrigerant, inputs)?;
        Ok(solution)
    }

    /// The stages one after another, with the vapor of the tanks mixed in between.
    pub(crate) fn compress<R: Real>(
        &self,
        efficiencies: &[R],
        evaporator_outlet: Stream<R>,
        between: &[R],
        high: R,
        tanks: &[Option<Flashed<R>>],
    ) -> Result<Vec<StageSolution<R>>> {
        let refrigerant = self.refrigerant();
        let mut solved = Vec::with_capacity(self.stages().len());
        let mut inlet = evaporator_outlet;
        let mut flow = R::constant(1.0);
        for (k, (stage, &efficiency)) in self.stages().iter().zip(efficiencies).enumerate() {
            let pressure = between.get(k).copied().unwrap_or(high);
            let compressed = stage.compress(refrigerant, &inlet, pressure, efficiency)?;
            solved.push(StageSolution { inlet, compressed, flow });
            inlet = compressed.outlet;
            if let Some(Some(tank)) = tanks.get(k) {
                let vapor = flow * tank.fraction / (-tank.fraction + 1.0);
                let above = flow + vapor;
                let enthalpy = (flow * compressed.outlet.enthalpy + vapor * tank.vapor.enthalpy) / above;
                inlet = refrigerant.stream_ph(pressure, enthalpy)?;
                flow = above;
            }
        }
        Ok(solved)
    }
}

/// Refuses liquid that has no less enthalpy than what leaves the evaporator.
pub(super) fn refuse_no_cooling(liquid: f64, outlet: f64) -> Result<()> {
    if liquid < outlet {
        return Ok(());
    }
    Err(Error::Inconsistent {
        arguments: "evaporating temperature and condensing temperature",
        reason: format!(
            "the liquid sent to the evaporator ({liquid} J/kg) has no less enthalpy than what leaves it ({outlet} J/kg): no \
             cooling is left"
        ),
    })
}

/// Liquid of an enthalpy through the tanks, from the highest pressure down: what each makes of it, one entry an
/// interstage, and the enthalpy of the liquid that goes on to the evaporator.
pub(crate) fn flash<R: Real>(
    circuit: &Circuit,
    between: &[R],
    enthalpy: R,
) -> Result<(Vec<Option<Flashed<R>>>, R)> {
    let mut liquid = enthalpy;
    let mut tanks = Vec::with_capacity(between.len());
    for (interstage, &pressure) in circuit.interstages().iter().zip(between).rev() {
        tanks.push(match interstage {
            Interstage::Direct => None,
            Interstage::FlashTank(tank) => {
                let flashed = tank.separate(circuit.refrigerant(), pressure, liquid)?;
                liquid = flashed.liquid.enthalpy;
                Some(flashed)
            }
        });
    }
    tanks.reverse();
    Ok((tanks, liquid))
}

/// A saturated stream moved by a temperature change whose value is zero but whose derivative may not be.
fn shifted_saturation<R: Real>(refrigerant: &Refrigerant, stream: Stream<R>, change: R) -> Result<Stream<R>> {
    if !R::CARRIES_DERIVATIVES {
        return Ok(stream);
    }
    let cp = refrigerant.derivatives(&stream.state)?.cp();
    let enthalpy = stream.enthalpy + change * cp;
    let moved = refrigerant.stream_of(stream.state, stream.pressure, enthalpy);
    Ok(moved)
}

/// Compression power with every economizer off, as a multiple of that with them, at the same capacity.
///
/// Same refrigerant, stages, efficiencies and interstage pressures. NaN where nothing would be cooled without them, or where
/// the discharge, which their vapor cools no more, would be hotter than the equation of state knows.
pub(crate) fn without_economizers<R: Real>(
    circuit: &Circuit,
    inputs: &Inputs<R>,
    with: &Solution<R>,
) -> Result<R> {
    let none = vec![None; with.tanks.len()];
    let stages = circuit.compress(
        &inputs.efficiencies,
        with.evaporator_outlet,
        &with.interstage_pressures,
        with.condensing_pressure,
        &none,
    );
    let stages = match stages {
        Err(Error::OutOfRange { .. }) => return Ok(R::constant(f64::NAN)),
        stages => stages?,
    };
    let work = stages.iter().fold(R::constant(0.0), |sum, stage| sum + stage.work());
    let effect = with.evaporator_outlet.enthalpy - with.condenser_outlet.enthalpy;
    if effect.value() <= 0.0 {
        return Ok(R::constant(f64::NAN));
    }
    Ok(work / effect * with.cop())
}
