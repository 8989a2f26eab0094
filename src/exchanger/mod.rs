//! Flooded evaporators and condensers: water in tubes, refrigerant at its saturation temperature around them.
//!
//! One zone at constant refrigerant temperature is the standard reduction for both vessels. In a condenser vapor
//! arrives superheated, but the wall of the tubes is below the saturation temperature, so that vapor condenses on it
//! from the start and gives its superheat to the condensate film: the driving difference is that to saturation.
//! [`CondenserZones`] parts the superheat off, for those who want to see the temperature difference where
//! condensation begins.
//!
//! Blends with glide are taken at their dew temperature, as everywhere in this crate.

mod conductance;
mod exchange;
mod water_flow;
mod zones;

pub use conductance::{VariableUa, fouled_ua, fouling_allowance, fouling_resistance};
pub use exchange::{HeatExchange, logarithmic_mean_difference, ua_from_temperatures};
pub use water_flow::WaterFlow;
pub use zones::{CondenserZones, Zone};

pub(crate) use exchange::Exchange;

use std::fmt;

use crate::error::{Error, Result, within};
use crate::numeric::{Bracket, Real, Secant, newton};

/// Whether the refrigerant takes heat from the water or gives it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Vessel {
    /// Refrigerant evaporates, water is cooled.
    Evaporator,
    /// Refrigerant condenses, water is warmed.
    Condenser,
}

impl Vessel {
    /// Sign of water less refrigerant temperature.
    pub(crate) fn sign(self) -> f64 {
        match self {
            Self::Evaporator => 1.0,
            Self::Condenser => -1.0,
        }
    }
}

impl fmt::Display for Vessel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Evaporator => "evaporator",
            Self::Condenser => "condenser",
        })
    }
}

/// What is known of an exchanger's heat transfer.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum HeatTransfer {
    /// Conductance, W/K.
    Ua(f64),
    /// Conductance that depends on water flow and heat.
    VariableUa(VariableUa),
    /// Difference between leaving water and saturation temperature, K, whatever the load: a machine compared with
    /// others, not one exchanger at several loads.
    Approach(f64),
    /// Water range over the largest possible one, above 0 and below 1.
    Effectiveness(f64),
}

/// A flooded evaporator or condenser at constant refrigerant temperature.
///
/// ```
/// use interstage::{Exchanger, HeatTransfer, WaterFlow};
///
/// let evaporator = Exchanger::evaporator(HeatTransfer::Ua(1.1e6))?;
/// let water = WaterFlow::water(167.0)?;
/// let full = evaporator.at_leaving(&water, 280.15, 3.5e6)?;
/// assert!((full.approach() - 1.3).abs() < 0.05);
///
/// // At half load and the same flow and UA, range and approach halve.
/// let half = evaporator.at_leaving(&water, 280.15, 1.75e6)?;
/// assert!((half.approach() / full.approach() - 0.5).abs() < 1e-3);
///
/// // The same exchanger by its approach.
/// let same = Exchanger::evaporator(HeatTransfer::Approach(full.approach()))?;
/// assert!((same.at_leaving(&water, 280.15, 3.5e6)?.ua() / 1.1e6 - 1.0).abs() < 1e-12);
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exchanger {
    vessel: Vessel,
    transfer: HeatTransfer,
}

/// Which of the two water temperatures is known.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Known<R> {
    Entering(R),
    Leaving(R),
}

/// What an exchanger and its water may carry derivatives to.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Terms<R> {
    /// UA, approach or effectiveness, whichever describes the exchanger; a factor on a variable UA.
    pub(crate) transfer: R,
    /// Of the water, kg/s.
    pub(crate) mass_flow: R,
}

/// Largest approach that is accepted, K. No published source: exchangers of chillers have 0.3 to 5 K.
const LARGEST_APPROACH: f64 = 100.0;

/// Refuses heat that does not pass in the vessel's own direction. No published source for the limits: they keep
/// quotients finite.
pub(crate) fn positive_heat(heat: f64) -> Result<f64> {
    within("heat", heat, 1e-9, 1e15, "W", "heat of an exchanger is positive in either vessel")
}

/// Refuses what is no flow. No published source for the limits: they keep quotients finite.
fn flow(argument: &'static str, mass_flow: f64) -> Result<f64> {
    within(argument, mass_flow, 1e-9, 1e9, "kg/s", "both streams of an exchanger flow")
}

/// Transfer units beyond which nothing is left of a temperature difference.
const ALL: f64 = 700.0;

impl Exchanger {
    /// An evaporator.
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for a UA outside 1e-6 to 1e12 W/K, an approach outside 1e-9 K to
    /// 100 K, or an effectiveness that is not above 0 and below 1.
    pub fn evaporator(transfer: HeatTransfer) -> Result<Self> {
        Self::new(Vessel::Evaporator, transfer)
    }

    /// A condenser.
    ///
    /// # Errors
    ///
    /// As [`Exchanger::evaporator`].
    pub fn condenser(transfer: HeatTransfer) -> Result<Self> {
        Self::new(Vessel::Condenser, transfer)
    }

    fn new(vessel: Vessel, transfer: HeatTransfer) -> Result<Self> {
        match transfer {
            HeatTransfer::Ua(ua) => {
                conductance::conductance("ua", ua)?;
            }
            HeatTransfer::Approach(approach) => {
                let reason = "leaving water does not reach the saturation temperature";
                within("approach", approach, 1e-9, LARGEST_APPROACH, "K", reason)?;
            }
            HeatTransfer::Effectiveness(effectiveness) => {
                let (below_one, reason) = (1.0 - 0.5 * f64::EPSILON, "an exchanger of finite size");
                within("effectiveness", effectiveness, f64::MIN_POSITIVE, below_one, "-", reason)?;
            }
            HeatTransfer::VariableUa(_) => {}
        }
        Ok(Self { vessel, transfer })
    }

    /// Whether the refrigerant evaporates or condenses.
    pub fn vessel(&self) -> Vessel {
        self.vessel
    }

    /// What is known of the heat transfer.
    pub fn heat_transfer(&self) -> HeatTransfer {
        self.transfer
    }

    /// What the exchanger does with water that enters at a temperature (K), with heat (W, positive) to pass.
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for heat outside 1e-9 to 1e15 W or more than the water can give or
    /// take up as a liquid, and for a water temperature outside the range of [`WaterFlow::heat`];
    /// [`Error::Inconsistent`] if the refrigerant would have to be below absolute zero.
    pub fn at_entering(&self, water: &WaterFlow, water_entering: f64, heat: f64) -> Result<HeatExchange> {
        let known = Known::Entering(water_entering);
        self.over(water, self.terms(water), known, heat).map(|inner| HeatExchange::new(self.vessel, inner))
    }

    /// What the exchanger does with water that leaves at a temperature (K), with heat (W, positive) to pass.
    ///
    /// # Errors
    ///
    /// As [`Exchanger::at_entering`].
    pub fn at_leaving(&self, water: &WaterFlow, water_leaving: f64, heat: f64) -> Result<HeatExchange> {
        let known = Known::Leaving(water_leaving);
        self.over(water, self.terms(water), known, heat).map(|inner| HeatExchange::new(self.vessel, inner))
    }

    /// What the exchanger does between water that enters at a temperature and refrigerant at a saturation temperature
    /// (K): the heat is found.
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for temperatures outside the range of [`WaterFlow::heat`];
    /// [`Error::Inconsistent`] if no heat passes in the direction of this vessel, or less than the approach is
    /// between the two; [`Error::NotConverged`].
    pub fn at_saturation(
        &self,
        water: &WaterFlow,
        water_entering: f64,
        saturation_temperature: f64,
    ) -> Result<HeatExchange> {
        water.accepts("water entering", water_entering)?;
        let name = "saturation temperature";
        within(name, saturation_temperature, f64::MIN_POSITIVE, 1e4, "K", "absolute temperature")?;
        let sign = self.vessel.sign();
        let difference = sign * (water_entering - saturation_temperature);
        let needed = if let HeatTransfer::Approach(approach) = self.transfer { approach } else { 0.0 };
        if difference <= needed {
            return Err(Error::Inconsistent {
                arguments: "water entering and saturation temperature",
                reason: format!(
                    "the {} needs more than {needed} K between them, and {water_entering} K and \
                     {saturation_temperature} K leave {difference} K",
                    self.vessel
                ),
            });
        }
        let transfer_units = match self.transfer {
            HeatTransfer::Approach(approach) => ((difference - approach) / approach).ln_1p(),
            HeatTransfer::Effectiveness(effectiveness) => -(-effectiveness).ln_1p(),
            HeatTransfer::Ua(_) | HeatTransfer::VariableUa(_) => {
                self.transfer_units(water, water_entering, difference)?
            }
        };
        let range = -(-transfer_units).exp_m1() * difference;
        let water_leaving = water_entering - sign * range;
        Ok(HeatExchange::new(
            self.vessel,
            Exchange {
                heat: water.capacity_rate(water_entering, water_leaving)? * range,
                water_entering,
                water_leaving,
                saturation_temperature,
                range,
                approach: difference * (-transfer_units).exp(),
                transfer_units,
            },
        ))
    }

    /// Transfer units of a conductance between entering water and a refrigerant that is `difference` away: they
    /// depend on the heat capacity of the water, and a variable conductance on the heat.
    fn transfer_units(&self, water: &WaterFlow, entering: f64, difference: f64) -> Result<f64> {
        let surplus = |units: f64| -> Result<f64> {
            let range = -(-units).exp_m1() * difference;
            let rate = water.capacity_rate_of_trial(entering, entering - self.vessel.sign() * range)?;
            let ua = match self.transfer {
                HeatTransfer::VariableUa(variable) => variable.over(water.mass_flow(), rate * range),
                HeatTransfer::Ua(ua) => ua,
                _ => f64::NAN,
            };
            Ok(units - ua / rate)
        };
        if surplus(ALL)? <= 0.0 {
            return Ok(ALL);
        }
        let mut slope = Secant::new(1.0);
        let start = (1.0 - surplus(1.0)?).clamp(0.0, ALL);
        let bracket = Bracket { lower: 0.0, upper: ALL, rising: true };
        newton("heat between water and refrigerant", bracket, start, f64::EPSILON, |units| {
            let value = surplus(units)?;
            Ok((value, slope.at(units, value)))
        })
    }

    /// A solved exchange of this exchanger.
    pub(crate) fn exchange(&self, found: Exchange<f64>) -> HeatExchange {
        HeatExchange::new(self.vessel, found)
    }

    /// The exchanger as it is described, without derivatives.
    pub(crate) fn terms<R: Real>(&self, water: &WaterFlow) -> Terms<R> {
        let transfer = match self.transfer {
            HeatTransfer::Ua(value) | HeatTransfer::Approach(value) | HeatTransfer::Effectiveness(value) => {
                value
            }
            HeatTransfer::VariableUa(_) => 1.0,
        };
        Terms { transfer: R::constant(transfer), mass_flow: R::constant(water.mass_flow()) }
    }

    /// What the exchanger does with heat to pass, over any [`Real`].
    pub(crate) fn over<R: Real>(
        &self,
        water: &WaterFlow,
        terms: Terms<R>,
        known: Known<R>,
        heat: R,
    ) -> Result<Exchange<R>> {
        positive_heat(heat.value())?;
        let sign = self.vessel.sign();
        let (water_entering, water_leaving, range) = match known {
            Known::Entering(entering) => {
                water.accepts("water entering", entering.value())?;
                let fall = water.fall(terms.mass_flow, entering, heat * sign)?;
                (entering, entering - fall, fall * sign)
            }
            Known::Leaving(leaving) => {
                water.accepts("water leaving", leaving.value())?;
                let fall = water.fall(terms.mass_flow, leaving, heat * -sign)?;
                (leaving - fall, leaving, fall * -sign)
            }
        };
        let (approach, transfer_units) = self.approach(terms, heat, range);
        let saturation_temperature = water_leaving - approach * sign;
        let found = saturation_temperature.value();
        if !(found > 0.0 && found.is_finite()) {
            return Err(Error::Inconsistent {
                arguments: match known {
                    Known::Entering(_) => "heat and water entering",
                    Known::Leaving(_) => "heat and water leaving",
                },
                reason: format!(
                    "{} W need an approach of {} K in this {}, the refrigerant at {found} K",
                    heat.value(),
                    approach.value(),
                    self.vessel
                ),
            });
        }
        Ok(Exchange {
            heat,
            water_entering,
            water_leaving,
            saturation_temperature,
            range,
            approach,
            transfer_units,
        })
    }

    /// Approach and transfer units, given heat and water range.
    fn approach<R: Real>(&self, terms: Terms<R>, heat: R, range: R) -> (R, R) {
        let by_ua = |ua: R| {
            let units = ua * range / heat;
            // Of exp(-NTU), since exp(NTU) has no bound.
            let left = (-units).exp();
            (range * left / -(-units).exp_m1(), units)
        };
        match self.transfer {
            HeatTransfer::Ua(_) => by_ua(terms.transfer),
            HeatTransfer::VariableUa(variable) => {
                by_ua(variable.over(terms.mass_flow, heat) * terms.transfer)
            }
            HeatTransfer::Approach(_) => (terms.transfer, (range / terms.transfer).ln_1p()),
            HeatTransfer::Effectiveness(_) => {
                let left = -terms.transfer + 1.0;
                (range * left / terms.transfer, -(-terms.transfer).ln_1p())
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::Dual;

    /// Slopes of the saturation temperature to water temperature, heat, the exchanger's own number and the water flow
    /// are those of differences.
    #[test]
    fn slopes_are_those_of_differences() {
        let variable = VariableUa::at_design(1.1e6, 150.0, 3.5e6, 0.5, 0.35, VariableUa::BOILING).unwrap();
        for transfer in [
            HeatTransfer::Ua(1.1e6),
            HeatTransfer::VariableUa(variable),
            HeatTransfer::Approach(1.3),
            HeatTransfer::Effectiveness(0.8),
        ] {
            for exchanger in
                [Exchanger::evaporator(transfer).unwrap(), Exchanger::condenser(transfer).unwrap()]
            {
                for known in [Known::Entering, Known::Leaving] {
                    let water = WaterFlow::water(167.0).unwrap();
                    let terms = exchanger.terms::<f64>(&water);
                    let inputs = [290.15, 3.5e6, terms.transfer, terms.mass_flow];
                    let at = |[temperature, heat, transfer, mass_flow]: [f64; 4]| {
                        let terms = Terms { transfer, mass_flow };
                        let known = match known(0.0) {
                            Known::Entering(_) => Known::Entering(temperature),
                            Known::Leaving(_) => Known::Leaving(temperature),
                        };
                        exchanger.over(&water, terms, known, heat).unwrap().saturation_temperature
                    };
                    let [temperature, heat, transfer, mass_flow]: [Dual<4>; 4] =
                        std::array::from_fn(|i| Dual::input(inputs[i], i));
                    let known = match known(0.0) {
                        Known::Entering(_) => Known::Entering(temperature),
                        Known::Leaving(_) => Known::Leaving(temperature),
                    };
                    let found = exchanger.over(&water, Terms { transfer, mass_flow }, known, heat).unwrap();
                    for (i, &slope) in found.saturation_temperature.slope.iter().enumerate() {
                        let step = 1e-4 * inputs[i];
                        let moved = |step: f64| {
                            let mut inputs = inputs;
                            inputs[i] += step;
                            at(inputs)
                        };
                        let expected = (moved(step) - moved(-step)) / (2.0 * step);
                        let tolerance = 1e-6 * expected.abs() + 1e-9 / inputs[i].abs();
                        assert!(
                            (slope - expected).abs() < tolerance,
                            "{exchanger:?} {i}: {slope} {expected}"
                        );
                    }
                }
            }
        }
    }
}
