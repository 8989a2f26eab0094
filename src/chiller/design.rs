//! From a design sheet to a chiller that reproduces it.

use std::fmt;

use super::duty::{ChilledWater, Duty};
use super::solved::ChillerPoint;
use super::{Chiller, WateredCircuit};
use crate::compression::Stage;
use crate::cycle::{Arrangement, Circuit, Conditions, Drive, Inputs, MotorCooling, PressureLosses, Size};
use crate::error::{Error, Result, within};
use crate::exchanger::{Exchanger, HeatTransfer, WaterFlow, positive_heat};
use crate::numeric::{Bracket, Secant, newton};
use crate::refrigerant::Refrigerant;

/// Where a power is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum PowerBoundary {
    /// What the stages put into the refrigerant.
    Compression,
    /// At the compressor shaft.
    Shaft,
    /// Into the motor.
    MotorInput,
    /// Into the drive.
    DriveInput,
}

impl fmt::Display for PowerBoundary {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Compression => "compression",
            Self::Shaft => "shaft",
            Self::MotorInput => "motor input",
            Self::DriveInput => "drive input",
        })
    }
}

/// What a design sheet says of a machine of one circuit.
#[derive(Debug, Clone, PartialEq)]
pub struct DesignSheet {
    duty: Duty,
    power: f64,
    boundary: PowerBoundary,
    approaches: (f64, f64),
    suction_superheat: f64,
    subcooling: f64,
    drive: Drive,
    losses: PressureLosses,
}

/// A chiller made from a design sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct DesignedChiller {
    chiller: Chiller,
    point: ChillerPoint,
    efficiency: f64,
    ua: (f64, f64),
}

/// Highest polytropic efficiency of a centrifugal stage that a sheet may ask for. Common practice, no published source: the best
/// stages reach some 0.86 to 0.88.
const HIGHEST: f64 = 0.92;

/// Range in which an efficiency is searched, so that an impossible one can be named.
const SEARCHED: (f64, f64) = (0.05, 5.0);

/// How closely, relative to itself, the power is met.
const MET: f64 = 1e-9;

impl DesignSheet {
    /// Duty, power (W) and where it is measured, approaches (K) of evaporator (leaving chilled water less evaporating temperature) and
    /// condenser (condensing temperature less leaving condenser water).
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`] for a power or an approach that is not positive.
    pub fn new(
        duty: Duty,
        (power, boundary): (f64, PowerBoundary),
        (evaporator_approach, condenser_approach): (f64, f64),
    ) -> Result<Self> {
        within("power", power, 1e-3, 1e12, "W", "the power of a machine is positive")?;
        let reason = "leaving water does not reach the saturation temperature";
        within("evaporator approach", evaporator_approach, 1e-3, 50.0, "K", reason)?;
        within("condenser approach", condenser_approach, 1e-3, 50.0, "K", reason)?;
        Ok(Self {
            duty,
            power,
            boundary,
            approaches: (evaporator_approach, condenser_approach),
            suction_superheat: 0.0,
            subcooling: 0.0,
            drive: Drive::new(),
            losses: PressureLosses::new(),
        })
    }

    /// Superheat (K) of the vapor that leaves the evaporator.
    #[must_use]
    pub fn with_suction_superheat(self, suction_superheat: f64) -> Self {
        Self { suction_superheat, ..self }
    }

    /// Subcooling (K) of the liquid that leaves the condenser.
    #[must_use]
    pub fn with_subcooling(self, subcooling: f64) -> Self {
        Self { subcooling, ..self }
    }

    /// Efficiencies of gears, motor and drive, and where the motor's heat goes.
    #[must_use]
    pub fn with_drive(self, drive: Drive) -> Self {
        Self { drive, ..self }
    }

    /// Pressure losses of the circuit.
    #[must_use]
    pub fn with_pressure_losses(self, losses: PressureLosses) -> Self {
        Self { losses, ..self }
    }

    /// Compression power, and heat of the motor that the refrigerant takes up, W.
    fn powers(&self) -> (f64, f64) {
        let drive = &self.drive;
        let compression = self.power
            * match self.boundary {
                PowerBoundary::Compression => 1.0,
                PowerBoundary::Shaft => drive.mechanical_efficiency(),
                PowerBoundary::MotorInput => drive.mechanical_efficiency() * drive.motor_efficiency(),
                PowerBoundary::DriveInput => {
                    drive.mechanical_efficiency() * drive.motor_efficiency() * drive.drive_efficiency()
                }
            };
        let motor = compression / drive.mechanical_efficiency() * (1.0 / drive.motor_efficiency() - 1.0);
        (compression, if drive.motor_cooling() == MotorCooling::Room { 0.0 } else { motor })
    }

    /// The chiller that reproduces the sheet: one polytropic efficiency for all stages and the UA of both exchangers.
    ///
    /// Interstage pressures stand at equal ratios. Heat of the condenser is capacity plus compression power, with a motor that the
    /// refrigerant cools that and its heat.
    ///
    /// # Errors
    ///
    /// [`Error::Inconsistent`] where the power needs a polytropic efficiency above 0.92, with the number; those of [`Circuit::solve`]
    /// and of the exchangers.
    pub fn design(&self, refrigerant: Refrigerant, arrangement: &Arrangement) -> Result<DesignedChiller> {
        let duty = &self.duty;
        let evaporator = Exchanger::evaporator(HeatTransfer::Approach(self.approaches.0))?;
        let condenser = Exchanger::condenser(HeatTransfer::Approach(self.approaches.1))?;
        let chilled = duty.chilled_water();
        let evaporator = match duty.chilled_water_temperature() {
            ChilledWater::Leaving(leaving) => evaporator.at_leaving(&chilled, leaving, duty.capacity()),
            ChilledWater::Entering(entering) => evaporator.at_entering(&chilled, entering, duty.capacity()),
        }?;
        let (compression, motor) = self.powers();
        let heat = duty.capacity() + compression + motor;
        let condenser =
            condenser.at_entering(&duty.condenser_water(), duty.condenser_water_entering(), heat)?;
        let (cold, hot) = (evaporator.saturation_temperature(), condenser.saturation_temperature());
        let conditions = Conditions::new(cold, hot, Size::Capacity(duty.capacity()))
            .with_suction_superheat(self.suction_superheat)
            .with_subcooling(self.subcooling);
        conditions.check(&refrigerant)?;
        let circuit = arrangement
            .circuit(refrigerant.clone(), Stage::polytropic(1.0)?)?
            .with_pressure_losses(self.losses)
            .with_drive(self.drive)?;
        let efficiency = efficiency(&circuit, &conditions, compression)?;
        if efficiency > HIGHEST {
            return Err(Error::Inconsistent {
                arguments: "power and capacity",
                reason: format!(
                    "{compression} W of compression power between {cold:.3} K and {hot:.3} K need a polytropic efficiency of \
                     {efficiency:.4}, above {HIGHEST}"
                ),
            });
        }
        let circuit = arrangement
            .circuit(refrigerant, Stage::polytropic(efficiency)?)?
            .with_pressure_losses(self.losses)
            .with_drive(self.drive)?;
        let ua = (evaporator.ua(), condenser.ua());
        let watered = WateredCircuit::new(
            circuit,
            Exchanger::evaporator(HeatTransfer::Ua(ua.0))?,
            Exchanger::condenser(HeatTransfer::Ua(ua.1))?,
        )?
        .with_suction_superheat(self.suction_superheat)?
        .with_subcooling(self.subcooling)?;
        let chiller = Chiller::new(watered);
        let point = chiller.solve(duty)?;
        Ok(DesignedChiller { chiller, point, efficiency, ua })
    }

    /// Water flow whose temperature changes by a range (K) while it passes heat (W): a sheet often gives this.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`]; [`Error::Inconsistent`] where both temperatures are the same.
    pub fn water_of_range(heat: f64, water_entering: f64, water_leaving: f64) -> Result<WaterFlow> {
        positive_heat(heat)?;
        let one = WaterFlow::water(1.0)?;
        if water_entering == water_leaving {
            let reason =
                format!("water that passes heat changes its temperature, and both are {water_entering} K");
            return Err(Error::Inconsistent { arguments: "water entering and water leaving", reason });
        }
        WaterFlow::water(heat / one.heat(water_entering, water_leaving)?.abs())
    }
}

/// The polytropic efficiency of all stages that gives a compression power.
fn efficiency(circuit: &Circuit, conditions: &Conditions, compression: f64) -> Result<f64> {
    let inputs = Inputs::new(circuit, conditions);
    // Over the inverse of the efficiency the power is close to a straight line through zero.
    let surplus = |inverse: f64| -> Result<f64> {
        let mut inputs = inputs.clone();
        inputs.efficiencies.fill(1.0 / inverse);
        let solution = circuit.solve_over(&inputs)?;
        Ok(solution.mass_flow(conditions.size()) * solution.work() / compression - 1.0)
    };
    let start = 1.0 - surplus(1.0)?;
    let mut slope = Secant::new(1.0);
    let bracket = Bracket { lower: 1.0 / SEARCHED.1, upper: 1.0 / SEARCHED.0, rising: true };
    let inverse = newton("polytropic efficiency of a design sheet", bracket, start, 1e-14, |inverse| {
        match surplus(inverse) {
            Ok(value) => Ok((value, slope.at(inverse, value))),
            // So low that the discharge is hotter than the equation of state knows: the power is more than enough.
            Err(Error::OutOfRange { .. }) if inverse > 1.0 => Ok((f64::INFINITY, 1.0)),
            Err(error) => Err(error),
        }
    })?;
    let efficiency = 1.0 / inverse;
    // A search that ended at the hottest discharge the equation of state knows, or at an end of the efficiencies searched, has not met
    // the power.
    let end = match surplus(inverse) {
        Ok(missed) if missed.abs() <= MET => return Ok(efficiency),
        Ok(missed) if missed > 0.0 => "more power is needed",
        Ok(_) if inverse >= bracket.upper => "less power is needed",
        _ => "the discharge is as hot as the equation of state goes",
    };
    Err(Error::Inconsistent {
        arguments: "power and capacity",
        reason: format!(
            "no polytropic efficiency makes {compression} W of compression power of this capacity and these temperatures: at \
             {efficiency:.4} {end}"
        ),
    })
}

impl DesignedChiller {
    /// The chiller, its exchangers by UA.
    pub fn chiller(&self) -> &Chiller {
        &self.chiller
    }

    /// The chiller at the duty of the sheet.
    pub fn point(&self) -> &ChillerPoint {
        &self.point
    }

    /// Polytropic efficiency of all stages.
    pub fn polytropic_efficiency(&self) -> f64 {
        self.efficiency
    }

    /// UA of the evaporator, W/K.
    pub fn evaporator_ua(&self) -> f64 {
        self.ua.0
    }

    /// UA of the condenser, W/K.
    pub fn condenser_ua(&self) -> f64 {
        self.ua.1
    }
}
