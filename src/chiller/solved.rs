//! A chiller at a duty.

use super::duty::Duty;
use super::{Chiller, WaterPaths};
use crate::cycle::{Cycle, Location};
use crate::error::Result;
use crate::exchanger::{CondenserZones, HeatExchange, WaterFlow};
use crate::ideal_cop::lorenz_cop;
use crate::units;

/// A chiller at a duty: the cycles and exchangers of its circuits and the figures of the whole. SI units.
#[derive(Debug, Clone, PartialEq)]
pub struct ChillerPoint {
    chiller: Chiller,
    duty: Duty,
    cycles: Vec<Cycle>,
    evaporators: Vec<HeatExchange>,
    condensers: Vec<HeatExchange>,
}

impl Chiller {
    /// Solves the chiller.
    ///
    /// # Errors
    ///
    /// Those of [`Circuit::solve`](crate::Circuit::solve) and of [`Exchanger::at_entering`](crate::Exchanger::at_entering);
    /// [`Error::Inconsistent`](crate::Error::Inconsistent) where a condenser does not pass the heat at any condensing temperature.
    pub fn solve(&self, duty: &Duty) -> Result<ChillerPoint> {
        let numbers = self.numbers(duty);
        let mut cycles = Vec::with_capacity(self.circuits.len());
        let (mut evaporators, mut condensers) = (Vec::new(), Vec::new());
        for (of, solved) in self.circuits.iter().zip(self.solve_over(duty, &numbers)?) {
            let temperatures =
                (solved.evaporator.saturation_temperature, solved.condenser.saturation_temperature);
            let conditions = of.conditions(temperatures.0, temperatures.1, solved.capacity);
            cycles.push(of.circuit.solve(&conditions)?);
            evaporators.push(of.evaporator.exchange(solved.evaporator));
            condensers.push(of.condenser.exchange(solved.condenser));
        }
        Ok(ChillerPoint { chiller: self.clone(), duty: *duty, cycles, evaporators, condensers })
    }
}

impl ChillerPoint {
    /// The chiller that was solved.
    pub fn chiller(&self) -> &Chiller {
        &self.chiller
    }

    /// The duty.
    pub fn duty(&self) -> &Duty {
        &self.duty
    }

    /// Cycle of each circuit, along the chilled water.
    pub fn cycles(&self) -> &[Cycle] {
        &self.cycles
    }

    /// Evaporator of each circuit, along the chilled water.
    pub fn evaporators(&self) -> &[HeatExchange] {
        &self.evaporators
    }

    /// Condenser of each circuit, along the chilled water.
    pub fn condensers(&self) -> &[HeatExchange] {
        &self.condensers
    }

    fn sum(&self, figure: impl Fn(&Cycle) -> f64) -> f64 {
        self.cycles.iter().map(figure).sum()
    }

    /// Evaporating temperature of each circuit, K.
    pub fn evaporating_temperatures(&self) -> Vec<f64> {
        self.evaporators.iter().map(HeatExchange::saturation_temperature).collect()
    }

    /// Condensing temperature of each circuit, K.
    pub fn condensing_temperatures(&self) -> Vec<f64> {
        self.condensers.iter().map(HeatExchange::saturation_temperature).collect()
    }

    /// Discharge temperature of each circuit, K.
    pub fn discharge_temperatures(&self) -> Vec<f64> {
        self.cycles.iter().map(Cycle::discharge_temperature).collect()
    }

    /// What the economizers of each circuit save, as in [`Cycle::economizer_benefit`].
    pub fn economizer_benefits(&self) -> Vec<f64> {
        self.cycles.iter().map(Cycle::economizer_benefit).collect()
    }

    /// Refrigerating capacity, W.
    pub fn capacity(&self) -> f64 {
        self.duty.capacity()
    }

    /// Compression power of all circuits, W.
    pub fn power(&self) -> f64 {
        self.sum(Cycle::power)
    }

    /// Power at all compressor shafts, W.
    pub fn shaft_power(&self) -> f64 {
        self.sum(Cycle::shaft_power)
    }

    /// Power into all motors, W.
    pub fn motor_input_power(&self) -> f64 {
        self.sum(Cycle::motor_input_power)
    }

    /// Power into all drives, W.
    pub fn drive_input_power(&self) -> f64 {
        self.sum(Cycle::drive_input_power)
    }

    /// Heat given up in all condensers, W.
    pub fn heat_rejected(&self) -> f64 {
        self.sum(Cycle::heat_rejected)
    }

    /// Capacity per compression power.
    pub fn cop(&self) -> f64 {
        self.capacity() / self.power()
    }

    /// Compression power per capacity, kW per ton of refrigeration.
    pub fn kw_per_ton(&self) -> f64 {
        units::kw_per_ton_from_cop(self.cop())
    }

    /// Mean over streams in parallel; of streams in series one of the ends.
    fn water(&self, exchanges: &[HeatExchange], entering: bool, along: bool) -> f64 {
        let at = |exchange: &HeatExchange| {
            if entering { exchange.water_entering() } else { exchange.water_leaving() }
        };
        match self.chiller.paths {
            WaterPaths::Parallel => {
                exchanges.iter().zip(&self.chiller.shares).map(|(of, share)| share * at(of)).sum()
            }
            WaterPaths::SeriesParallelFlow | WaterPaths::SeriesCounterFlow => {
                let end = if entering == along { exchanges.first() } else { exchanges.last() };
                end.map_or(f64::NAN, at)
            }
        }
    }

    /// Temperature of the chilled water that enters, K.
    pub fn chilled_water_entering(&self) -> f64 {
        self.water(&self.evaporators, true, true)
    }

    /// Temperature of the chilled water that leaves, K; of streams in parallel the mean by flow.
    pub fn chilled_water_leaving(&self) -> f64 {
        self.water(&self.evaporators, false, true)
    }

    /// Temperature of the condenser water that enters, K.
    pub fn condenser_water_entering(&self) -> f64 {
        self.duty.condenser_water_entering()
    }

    /// Temperature of the condenser water that leaves, K; of streams in parallel the mean by flow.
    pub fn condenser_water_leaving(&self) -> f64 {
        self.water(&self.condensers, false, self.chiller.paths != WaterPaths::SeriesCounterFlow)
    }

    /// Leaving condenser water less leaving chilled water, K.
    pub fn water_lift(&self) -> f64 {
        self.condenser_water_leaving() - self.chilled_water_leaving()
    }

    /// COP of the loss-free machine between these waters (Lorenz).
    ///
    /// # Errors
    ///
    /// [`Error::Inconsistent`](crate::Error::Inconsistent) where the condenser water is not the warmer one in the mean.
    pub fn lorenz_cop(&self) -> Result<f64> {
        lorenz_cop(
            self.chilled_water_entering(),
            self.chilled_water_leaving(),
            self.condenser_water_entering(),
            self.condenser_water_leaving(),
        )
    }

    /// Zones of the condenser of a circuit: the pinch at the dew point, which the single zone of the solution leaves out. `None` if there
    /// is no such circuit.
    ///
    /// # Errors
    ///
    /// Those of [`CondenserZones::new`]: [`Error::Inconsistent`](crate::Error::Inconsistent) where the water would be warmer than the
    /// refrigerant at the dew point.
    pub fn condenser_zones(&self, circuit: usize) -> Option<Result<CondenserZones>> {
        let (cycle, exchange, share) =
            (self.cycles.get(circuit)?, self.condensers.get(circuit)?, self.chiller.shares.get(circuit)?);
        let refrigerant = cycle.circuit().refrigerant();
        let discharge = Location::StageOutlet(cycle.stage_work().len());
        let inlet = cycle.point(discharge)?.state();
        let water = self.duty.condenser_water();
        let flow = if self.chiller.paths == WaterPaths::Parallel { water.scaled(*share) } else { Ok(water) };
        Some(flow.and_then(|water: WaterFlow| {
            // The line from the discharge belongs to the condenser: at its pressure.
            let inlet = refrigerant.state_ph(cycle.condensing_pressure(), inlet.enthalpy())?;
            let subcooling = cycle.conditions().subcooling();
            let entering = exchange.water_entering();
            CondenserZones::new(
                refrigerant,
                &inlet,
                subcooling,
                cycle.condenser_mass_flow(),
                &water,
                entering,
            )
        }))
    }

    /// Capacity plus power plus motor heat less heat rejected, per heat rejected. Zero but for rounding.
    pub fn energy_closure(&self) -> f64 {
        let condensers: f64 = self.condensers.iter().map(HeatExchange::heat).sum();
        (self.sum(Cycle::capacity) + self.power() + self.sum(Cycle::motor_heat) - condensers) / condensers
    }
}
