//! Flows of water and brine.

use crate::error::{Result, within};
use crate::numeric::{Bracket, Real, newton};
use crate::water::{RANGE, water_density, water_enthalpy, water_heat_capacity};

/// Temperatures that are accepted of a brine, K. No published source: brines of chillers and heat pumps stay well
/// inside.
const BRINE_RANGE: (f64, f64) = (173.15, 473.15);

/// Changes of temperature below which the mean heat capacity is integrated instead of taken from two enthalpies, K:
/// their difference has lost its digits there.
const SMALL: f64 = 1.0;

/// A flow of water or brine through an exchanger.
///
/// Plain water has the properties of [`water_density`] and [`water_enthalpy`]; a brine has the heat capacity and the
/// density that are given for it, the same at all temperatures.
///
/// ```
/// use interstage::WaterFlow;
///
/// // 1000 tons between 54 and 44 degF take about 2.4 gpm a ton.
/// let water = WaterFlow::water_by_volume(0.1514, 285.37)?;
/// let capacity = water.heat(285.37, 279.82)?;
/// assert!((capacity / 3.517e6 - 1.0).abs() < 0.01);
///
/// let glycol = WaterFlow::brine(100.0, 3600.0)?;
/// assert!((glycol.heat(270.0, 265.0)? - 1.8e6).abs() < 1e-6);
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterFlow {
    mass_flow: f64,
    /// Of a brine; none for plain water.
    heat_capacity: Option<f64>,
}

impl WaterFlow {
    /// Plain water, by mass flow (kg/s).
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`](crate::Error::NotFinite); [`Error::OutOfRange`](crate::Error::OutOfRange) for a flow
    /// outside 1e-9 to 1e9 kg/s.
    pub fn water(mass_flow: f64) -> Result<Self> {
        super::flow("mass flow", mass_flow)?;
        Ok(Self { mass_flow, heat_capacity: None })
    }

    /// Plain water, by volume flow (m3/s) and the temperature (K) at the meter.
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`](crate::Error::NotFinite); [`Error::OutOfRange`](crate::Error::OutOfRange) for a flow
    /// outside 1e-9 to 1e6 m3/s, and for a temperature outside 273.16 K to 393.15 K.
    pub fn water_by_volume(volume_flow: f64, temperature: f64) -> Result<Self> {
        let reason = "liquid water in the water circuits";
        within("temperature", temperature, RANGE.0, RANGE.1, "K", reason)?;
        Self::water(volume(volume_flow)? * water_density(temperature)?)
    }

    /// A brine, by mass flow (kg/s) and heat capacity (J/(kg K)).
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`](crate::Error::NotFinite); [`Error::OutOfRange`](crate::Error::OutOfRange) for a flow
    /// outside 1e-9 to 1e9 kg/s, and for a heat capacity outside 500 to 10,000 J/(kg K).
    pub fn brine(mass_flow: f64, heat_capacity: f64) -> Result<Self> {
        let reason = "liquids that carry heat have 1500 to 4300 J/(kg K)";
        within("heat capacity", heat_capacity, 500.0, 10_000.0, "J/(kg K)", reason)?;
        Ok(Self { heat_capacity: Some(heat_capacity), ..Self::water(mass_flow)? })
    }

    /// A brine, by volume flow (m3/s), density (kg/m3) at the meter and heat capacity (J/(kg K)).
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`](crate::Error::NotFinite); [`Error::OutOfRange`](crate::Error::OutOfRange) for a flow
    /// outside 1e-9 to 1e6 m3/s, a density outside 300 to 3000 kg/m3, and a heat capacity outside 500 to 10,000 J/(kg
    /// K).
    pub fn brine_by_volume(volume_flow: f64, density: f64, heat_capacity: f64) -> Result<Self> {
        let reason = "liquids that carry heat have 700 to 1500 kg/m3";
        within("density", density, 300.0, 3000.0, "kg/m3", reason)?;
        Self::brine(volume(volume_flow)? * density, heat_capacity)
    }

    /// Mass flow, kg/s.
    pub fn mass_flow(&self) -> f64 {
        self.mass_flow
    }

    /// Heat capacity of a brine, J/(kg K); none for plain water, which has its own at each temperature.
    pub fn heat_capacity(&self) -> Option<f64> {
        self.heat_capacity
    }

    /// Heat that is given between two temperatures (K), W: positive where the water is cooled.
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`](crate::Error::NotFinite); [`Error::OutOfRange`](crate::Error::OutOfRange) for water
    /// outside 273.16 K to 393.15 K or brine outside 173.15 K to 473.15 K.
    pub fn heat(&self, water_entering: f64, water_leaving: f64) -> Result<f64> {
        self.accepts("water entering", water_entering)?;
        self.accepts("water leaving", water_leaving)?;
        Ok(self.capacity_rate_unchecked(water_entering, water_leaving)? * (water_entering - water_leaving))
    }

    /// Heat per kelvin between two temperatures (K), W/K: mass flow times the mean heat capacity.
    ///
    /// # Errors
    ///
    /// As [`WaterFlow::heat`].
    pub fn capacity_rate(&self, water_entering: f64, water_leaving: f64) -> Result<f64> {
        self.accepts("water entering", water_entering)?;
        self.accepts("water leaving", water_leaving)?;
        self.capacity_rate_unchecked(water_entering, water_leaving)
    }

    fn capacity_rate_unchecked(&self, from: f64, to: f64) -> Result<f64> {
        let mean = match self.heat_capacity {
            Some(heat_capacity) => heat_capacity,
            None => mean_heat_capacity(from, to)?,
        };
        Ok(self.mass_flow * mean)
    }

    /// The same with temperatures beyond the range of water taken for its ends, for trial values of a solver.
    pub(super) fn capacity_rate_of_trial(&self, from: f64, to: f64) -> Result<f64> {
        let (lowest, highest) = self.range();
        self.capacity_rate_unchecked(from, to.clamp(lowest, highest))
    }

    /// Temperature (K) of the water once it has given heat (W; negative: taken up).
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`](crate::Error::NotFinite); [`Error::OutOfRange`](crate::Error::OutOfRange) for
    /// temperatures as in [`WaterFlow::heat`], and for more heat than brings the water to the end of that range: it
    /// would freeze, for instance.
    pub fn leaving_temperature(&self, water_entering: f64, heat: f64) -> Result<f64> {
        self.accepts("water entering", water_entering)?;
        Ok(water_entering - self.fall(self.mass_flow, water_entering, heat)?)
    }

    /// A share of the flow.
    pub(crate) fn scaled(&self, share: f64) -> Result<Self> {
        Ok(Self { mass_flow: super::flow("mass flow", self.mass_flow * share)?, ..*self })
    }

    fn range(&self) -> (f64, f64) {
        if self.heat_capacity.is_some() { BRINE_RANGE } else { RANGE }
    }

    /// Refuses temperatures that the liquid does not have.
    pub(crate) fn accepts(&self, argument: &'static str, temperature: f64) -> Result<()> {
        let reason = match self.heat_capacity {
            Some(_) => "liquid brine",
            None => "liquid water; a brine has its own heat capacity",
        };
        let (lowest, highest) = self.range();
        within(argument, temperature, lowest, highest, "K", reason).map(|_| ())
    }

    /// Fall of temperature from `temperature` on while the water gives `heat`. Its mass flow is given beside it, so
    /// that it may carry derivatives.
    pub(crate) fn fall<R: Real>(&self, mass_flow: R, temperature: R, heat: R) -> Result<R> {
        let (lowest, highest) = self.range();
        let from = temperature.value();
        // The most and the least heat per mass.
        let (most, least) = match self.heat_capacity {
            Some(cp) => (cp * (from - lowest), cp * (from - highest)),
            None => {
                let there = water_enthalpy(from)?;
                (there - water_enthalpy(lowest)?, there - water_enthalpy(highest)?)
            }
        };
        let flow = mass_flow.value();
        let reason = format!("{flow} kg/s at {from} K stay between {lowest} K and {highest} K");
        within("heat", heat.value(), least * flow, most * flow, "W", &reason)?;
        let given = heat / mass_flow;
        match self.heat_capacity {
            Some(heat_capacity) => Ok(given / heat_capacity),
            None => {
                let fall = fall_of_water(from, given.value())?;
                let end = water_heat_capacity((from - fall).clamp(RANGE.0, RANGE.1))?;
                let start = water_heat_capacity(from)?;
                Ok(R::chain(fall, [temperature, given], || [1.0 - start / end, 1.0 / end]))
            }
        }
    }
}

fn volume(volume_flow: f64) -> Result<f64> {
    within("volume flow", volume_flow, 1e-9, 1e6, "m3/s", "both streams of an exchanger flow")
}

/// Mean heat capacity of plain water between two temperatures (K).
fn mean_heat_capacity(from: f64, to: f64) -> Result<f64> {
    if (from - to).abs() >= SMALL {
        return Ok((water_enthalpy(from)? - water_enthalpy(to)?) / (from - to));
    }
    // Gauss-Legendre with three points: their places are the root of 3/5 off the middle, their weights 5, 8 and 5 of
    // 18.
    let (middle, off) = (0.5 * (from + to), 0.5 * (to - from) * 0.6f64.sqrt());
    let ends = water_heat_capacity(middle - off)? + water_heat_capacity(middle + off)?;
    Ok((5.0 * ends + 8.0 * water_heat_capacity(middle)?) / 18.0)
}

/// Fall of temperature of plain water from `from` (K) on while it gives `heat` (J/kg).
fn fall_of_water(from: f64, heat: f64) -> Result<f64> {
    let first = heat / water_heat_capacity(from)?;
    if first.abs() < 0.9 * SMALL {
        let mut fall = first;
        // Each step leaves less than a thousandth of the error.
        for _ in 0..5 {
            fall = heat / mean_heat_capacity(from, (from - fall).clamp(RANGE.0, RANGE.1))?;
        }
        return Ok(fall);
    }
    let target = water_enthalpy(from)? - heat;
    let bracket = Bracket { lower: RANGE.0, upper: RANGE.1, rising: true };
    let solver = "water temperature from enthalpy";
    let to = newton(solver, bracket, from - first, f64::EPSILON, |temperature| {
        Ok((water_enthalpy(temperature)? - target, water_heat_capacity(temperature)?))
    })?;
    Ok(from - to)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::error::Error;
    use crate::numeric::Dual;

    #[test]
    fn heat_and_temperature_belong_together() {
        let water = WaterFlow::water(151.0).unwrap();
        for entering in [274.0, 285.0, 303.0, 350.0] {
            for change in [-20.0, -5.0, -0.02, -0.005, 1e-9, 0.5, 0.8, 5.0] {
                let leaving: f64 = entering - change;
                if leaving < RANGE.0 {
                    continue;
                }
                let heat = water.heat(entering, leaving).unwrap();
                let fall = water.fall(151.0, entering, heat).unwrap();
                // Rounding of the temperatures, and of enthalpies by some 1e-8 J/kg.
                assert!(
                    (fall - (entering - leaving)).abs() < 2e-13 + 1e-11 * change.abs(),
                    "{entering} {change}"
                );
            }
        }
    }

    #[test]
    fn small_and_large_changes_meet() {
        for from in [275.0, 280.0, 310.0, 350.0] {
            let mean = |change: f64| mean_heat_capacity(from, from - change).unwrap();
            let (below, above) = (mean(0.999_999 * SMALL), mean(1.000_001 * SMALL));
            // Enthalpies are good to some 1e-8 J/kg.
            assert!((below / above - 1.0).abs() < 1e-9, "{from} {below} {above}");
            let heat = 0.9 * water_heat_capacity(from).unwrap();
            let fall = [0.999_999, 1.000_001].map(|near| fall_of_water(from, near * heat).unwrap() / near);
            assert!((fall[0] / fall[1] - 1.0).abs() < 1e-8, "{from} {fall:?}");
        }
    }

    #[test]
    fn slopes_are_those_of_differences() {
        let input = Dual::<3>::input;
        for liquid in [WaterFlow::water(151.0).unwrap(), WaterFlow::brine(151.0, 3800.0).unwrap()] {
            let at = |flow: f64, temperature: f64, heat: f64| liquid.fall(flow, temperature, heat).unwrap();
            let (flow, temperature, heat) = (151.0, 285.0, 3.5e6);
            let found = liquid.fall(input(flow, 0), input(temperature, 1), input(heat, 2)).unwrap();
            let difference = |step: f64, low: f64, high: f64| (high - low) / (2.0 * step);
            let expected = [
                difference(0.1, at(flow - 0.1, temperature, heat), at(flow + 0.1, temperature, heat)),
                difference(0.1, at(flow, temperature - 0.1, heat), at(flow, temperature + 0.1, heat)),
                difference(1e3, at(flow, temperature, heat - 1e3), at(flow, temperature, heat + 1e3)),
            ];
            for (slope, expected) in found.slope.iter().zip(expected) {
                assert!((slope - expected).abs() < 1e-5 * expected.abs() + 1e-9, "{slope} {expected}");
            }
        }
    }

    #[test]
    fn water_that_would_freeze_is_refused() {
        let water = WaterFlow::water(10.0).unwrap();
        let error = water.leaving_temperature(278.15, 1e6).unwrap_err();
        let Error::OutOfRange { argument: "heat", value: 1e6, maximum, unit: "W", .. } = error else {
            panic!("{error}")
        };
        assert!((maximum / (10.0 * 4211.0 * 4.99) - 1.0).abs() < 1e-3, "{maximum}");
        let end = water.leaving_temperature(278.15, maximum).unwrap();
        assert!((end - RANGE.0).abs() < 1e-9);
    }
}
