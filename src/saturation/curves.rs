//! Saturation of a blend that is described as a pseudo-pure fluid, from its published bubble and dew curves.
//!
//! The equation of state describes the blend at its fixed composition and knows no equilibrium between liquid and
//! vapor of different compositions. Beside it stand two curves, of the pressure of saturated liquid and of saturated
//! vapor; density, enthalpy and entropy of a phase are the equation's at that pressure. Between the two phases, at one
//! pressure, properties and temperature follow the lever rule.
//!
//! Next to the critical point equation and curves contradict each other: the bubble curve of R-407C runs above the
//! critical pressure from 0.999 of the critical temperature on, that of R-410A leaves the liquid of the equation at
//! 0.9998. So the curves are used up to 0.998 of it ([`HOTTEST`]), and nothing is said about pressures between there and the
//! critical one.

use super::equilibrium;
use super::{Glide, Saturation};
use crate::error::Result;
use crate::fluid::{Blend, Expansion, Fluid};
use crate::helmholtz::{Equation, Thermo};
use crate::numeric::{Bracket, newton};
use crate::state::State;

/// Newton steps for a density: each squares the miss, from a start good to a few per cent.
const DENSITY_STEPS: usize = 60;

/// Highest temperature of the bubble curve that is used, over the critical one. Ours, not the source's.
const HOTTEST: f64 = 0.998;

/// The published curves of one blend.
#[derive(Debug)]
pub(crate) struct Curves {
    fluid: &'static Fluid,
    blend: &'static Blend,
    /// Bubble temperature at the lowest dew pressure, K: the line is entered there.
    coldest: f64,
    /// The end of the bubble curve, as far as it is used: K and Pa.
    end: (f64, f64),
}

impl Curves {
    pub(super) fn new(fluid: &'static Fluid, blend: &'static Blend) -> Result<Self> {
        let lowest = curve(&blend.dew, fluid.coldest.temperature).0;
        let hottest = HOTTEST * fluid.critical.temperature;
        let end = (hottest, curve(&blend.bubble, hottest).0);
        let half = Self { fluid, blend, coldest: 0.5 * fluid.coldest.temperature, end };
        // A hair colder, lest rounding leave the lowest pressure outside.
        Ok(Self { coldest: half.temperature(&blend.bubble, lowest)? * (1.0 - 1e-12), ..half })
    }

    /// Highest temperature of saturated liquid, K.
    pub(crate) fn hottest(&self) -> f64 {
        self.end.0
    }

    /// Highest pressure at which two phases are told apart, Pa.
    pub(crate) fn highest_pressure(&self) -> f64 {
        self.end.1
    }

    /// Both phases at a temperature, each at its own pressure; the liquid has a meaning up to [`Self::hottest`] only.
    pub(super) fn at_temperature(&self, equation: &Equation, temperature: f64) -> Result<Saturation> {
        let (bubble_pressure, bubble_slope) = curve(&self.blend.bubble, temperature);
        let (dew_pressure, dew_slope) = curve(&self.blend.dew, temperature);
        let bubble = self.temperature(&self.blend.bubble, dew_pressure)?;
        let glide = Glide { bubble_slope, dew_slope, temperature: temperature - bubble };
        Ok(self.phases(equation, (temperature, bubble_pressure), (temperature, dew_pressure), glide))
    }

    /// Both phases at a pressure, each at its own temperature.
    pub(super) fn at_pressure(&self, equation: &Equation, pressure: f64) -> Result<Saturation> {
        let (bubble, dew) = self.temperatures(pressure)?;
        let (bubble_slope, dew_slope) = (curve(&self.blend.bubble, bubble).1, curve(&self.blend.dew, dew).1);
        let glide = Glide { bubble_slope, dew_slope, temperature: dew - bubble };
        Ok(self.phases(equation, (bubble, pressure), (dew, pressure), glide))
    }

    /// Pressure at which the mixture with a quality has a temperature, Pa.
    pub(crate) fn pressure_of_mixture(&self, temperature: f64, quality: f64) -> Result<f64> {
        let (bubble, dew) = (curve(&self.blend.bubble, temperature), curve(&self.blend.dew, temperature));
        let highest = bubble.0.min(self.end.1);
        if quality <= 0.0 || highest <= dew.0 {
            return Ok(highest);
        }
        if quality >= 1.0 {
            return Ok(dew.0);
        }
        newton(
            "pressure of a mixture of a blend at a temperature",
            Bracket { lower: dew.0, upper: highest, rising: true },
            quality * dew.0 + (1.0 - quality) * highest,
            f64::EPSILON,
            |pressure| {
                let (cold, hot) = self.temperatures(pressure)?;
                let mixed = cold + quality * (hot - cold);
                let slopes = (curve(&self.blend.bubble, cold).1, curve(&self.blend.dew, hot).1);
                Ok((mixed - temperature, (1.0 - quality) / slopes.0 + quality / slopes.1))
            },
        )
    }

    /// Lowest quality a mixture has at a temperature: above zero beyond the hottest saturated liquid, above one, so that there
    /// is none, beyond the dew point at the highest pressure. A hair lower: where the glide is small, rounding of the
    /// temperature is more of it.
    pub(crate) fn lowest_quality(&self, temperature: f64) -> Result<f64> {
        let (bubble, dew) = self.temperatures(self.end.1)?;
        Ok(((temperature * (1.0 - 4.0 * f64::EPSILON) - bubble) / (dew - bubble)).max(0.0))
    }

    /// Bubble and dew temperature at a pressure, K.
    fn temperatures(&self, pressure: f64) -> Result<(f64, f64)> {
        Ok((self.temperature(&self.blend.bubble, pressure)?, self.temperature(&self.blend.dew, pressure)?))
    }

    /// The temperature at which a curve first reaches a pressure, up to the critical one.
    fn temperature(&self, of: &Expansion, pressure: f64) -> Result<f64> {
        let critical = of.temperature;
        // A line of ln(p) against 1/T through the critical point, with the slope most fluids have.
        let start = critical / (1.0 + (of.scale / pressure).ln() / 7.0);
        newton(
            "saturation temperature of a blend",
            Bracket { lower: self.coldest, upper: critical, rising: true },
            start,
            f64::EPSILON,
            |temperature| {
                let (here, slope) = curve(of, temperature);
                Ok(((here / pressure).ln(), slope / here))
            },
        )
    }

    fn phases(&self, equation: &Equation, bubble: (f64, f64), dew: (f64, f64), glide: Glide) -> Saturation {
        let l = self.phase(equation, bubble, true);
        let v = self.phase(equation, dew, false);
        let liquid = State::saturated_liquid(bubble.0, bubble.1, l.density, l.enthalpy, l.entropy);
        let vapor = State::saturated_vapor(dew.0, dew.1, v.density, v.enthalpy, v.entropy);
        Saturation { liquid, vapor, glide: Some(glide), critical_slope: None }
    }

    /// Densest or thinnest state of the equation at temperature and pressure.
    ///
    /// Along an isotherm pressure bends upwards in a liquid and downwards in a vapor: Newton's method comes to the root
    /// from the outside and meets no other first. Next to the critical point, where liquid may have no root of its own,
    /// the steps end where the equation is least stiff and go on from there to the one root there is.
    fn phase(&self, equation: &Equation, (temperature, pressure): (f64, f64), liquid: bool) -> Thermo {
        let start = equilibrium::guess(self.fluid, temperature);
        let critical = self.fluid.critical.molar_density * self.fluid.molar_mass;
        let mut density = if liquid { start.liquid.max(critical) } else { start.vapor.min(critical) };
        for _ in 0..DENSITY_STEPS {
            let at = equation.at(temperature, density);
            let stiffness = at.p_rho.max(1e-6 * equation.gas_constant * temperature);
            let step = ((pressure - at.pressure) / stiffness).clamp(-0.1 * density, 0.1 * density);
            density += step;
            if step.abs() <= 2.0 * f64::EPSILON * density {
                break;
            }
        }
        equation.at(temperature, density)
    }
}

/// Pressure (Pa) on a curve at a temperature (K), and its slope (Pa/K).
fn curve(of: &Expansion, temperature: f64) -> (f64, f64) {
    // Slopes of some curves grow without bound towards the critical point.
    let theta = (1.0 - temperature / of.temperature).max(f64::EPSILON);
    let inverse = of.temperature / temperature;
    let (mut sum, mut slope) = (0.0, 0.0);
    for &(n, t) in of.terms {
        let power = n * theta.powf(t);
        sum += power;
        slope += t * power;
    }
    let pressure = of.scale * (inverse * sum).exp();
    (pressure, -pressure * (inverse * sum + slope / theta) / temperature)
}
