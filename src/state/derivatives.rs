//! Properties that are slopes of the fundamental equation.

use super::Phase;
use super::flash::Flash;
use super::limits::LOWEST_DENSITY;
use crate::error::{Error, Result, finite, within};
use crate::helmholtz::Thermo;

/// Heat capacities, speed of sound and other slopes at a single-phase or saturated state. SI units.
///
/// Made by [`Refrigerant::derivatives`](crate::Refrigerant::derivatives). At a saturated state they are
/// those of the phase itself. At the critical point isobaric heat capacity, compressibility and expansion are infinite.
#[derive(Debug, Clone, Copy)]
pub struct Derivatives {
    thermo: Thermo,
    gas_constant: f64,
}

/// How far the pressure may miss that of the equation, relative to the larger of itself and `rho (dp/drho)_T`: columns may
/// come with few digits.
const SAME: f64 = 1e-4;

/// How far (dp/drho) may fall below zero, in units of R T: by what is left next to a critical point that lies a little
/// beside the printed one.
const UNSTABLE: f64 = 1e-3;

impl Flash<'_> {
    /// Refuses what cannot be a state of one phase. The numbers may come from columns, or from another refrigerant.
    pub(crate) fn may_have_slopes(
        &self,
        phase: Phase,
        temperature: f64,
        pressure: f64,
        density: f64,
    ) -> Result<()> {
        if phase == Phase::TwoPhase {
            return Err(Error::Undefined { property: SLOPES, state: "a two-phase state" });
        }
        finite("temperature", temperature, "K")?;
        finite("density", density, "kg/m3")?;
        finite("pressure", pressure, "Pa")?;
        let cold = temperature < self.limits.minimum_temperature && density > self.line.critical_density();
        if !cold || !self.may_be_coldest_liquid(temperature, pressure)? {
            self.temperature_in_range(temperature)?;
        }
        self.pressure_in_range(pressure)?;
        within("density", density, LOWEST_DENSITY, f64::INFINITY, "kg/m3", "from a vacuum on")?;
        Ok(())
    }

    /// Whether a temperature below the range may be that of saturated liquid: at its lowest pressures a blend has liquid that is
    /// colder than its vapor, which has the range.
    fn may_be_coldest_liquid(&self, temperature: f64, pressure: f64) -> Result<bool> {
        let highest =
            self.line.at_temperature(self.equation, self.line.coldest_temperature())?.liquid.pressure;
        let has_pressure = (self.line.coldest_pressure()..highest).contains(&pressure);
        Ok(has_pressure && temperature >= self.line.coldest_liquid(self.equation)?)
    }

    /// Slopes at what is said to have a pressure, given what the equation says.
    pub(crate) fn slopes(&self, pressure: f64, at: &Thermo) -> Result<Derivatives> {
        has_pressure(pressure, at)?;
        if at.cv <= 0.0 || at.p_rho < -UNSTABLE * self.equation.gas_constant * at.temperature {
            return Err(Error::Undefined { property: SLOPES, state: "a density between liquid and vapor" });
        }
        // The pressure of the state: recomputed from the density of a cold liquid it would lose digits.
        Ok(Derivatives::new(Thermo { pressure, ..*at }, self.equation.gas_constant))
    }
}

/// Refuses what is said to have a pressure that the equation does not have there: a state of another refrigerant, for instance.
pub(crate) fn has_pressure(pressure: f64, at: &Thermo) -> Result<()> {
    let Thermo { temperature, density, .. } = *at;
    let off = (at.pressure - pressure).abs();
    let scale = pressure.max(density * at.p_rho);
    if off.is_nan() || off > SAME * scale || scale.is_infinite() {
        return Err(Error::Inconsistent {
            arguments: "temperature, pressure and density",
            reason: format!(
                "at {temperature} K and {density} kg/m3 the equation of state has {} Pa, not {pressure} Pa",
                at.pressure
            ),
        });
    }
    Ok(())
}

/// What a mixture of liquid and vapor does not have.
const SLOPES: &str = "a heat capacity, speed of sound or other slope";

impl Derivatives {
    /// Next to the critical point rounding, or an equation whose own critical point lies a little beside the printed one, may
    /// leave a (dp/drho) below zero: there it is zero.
    fn new(thermo: Thermo, gas_constant: f64) -> Self {
        Self { thermo: Thermo { p_rho: thermo.p_rho.max(0.0), ..thermo }, gas_constant }
    }

    /// Isobaric heat capacity, J/(kg K).
    pub fn cp(&self) -> f64 {
        self.thermo.cp()
    }

    /// Isochoric heat capacity, J/(kg K).
    pub fn cv(&self) -> f64 {
        self.thermo.cv
    }

    /// Speed of sound, m/s.
    pub fn speed_of_sound(&self) -> f64 {
        self.isentropic_stiffness().sqrt()
    }

    /// (dp/drho) at constant entropy, J/kg: finite at the critical point too.
    fn isentropic_stiffness(&self) -> f64 {
        let t = &self.thermo;
        t.p_rho + t.temperature * t.p_t * t.p_t / (t.density * t.density * t.cv)
    }

    /// Isentropic exponent `-(v/p) (dp/dv)_s`: the k of `p v^k = const` for a small isentropic change.
    pub fn isentropic_exponent(&self) -> f64 {
        self.isentropic_stiffness() * self.thermo.density / self.thermo.pressure
    }

    /// Joule-Thomson coefficient `(dT/dp)_h`, K/Pa.
    pub fn joule_thomson(&self) -> f64 {
        let t = &self.thermo;
        (t.temperature * t.p_t / t.density - t.p_rho) / (t.density * t.cv * self.isentropic_stiffness())
    }

    /// Compressibility factor `p / (rho R T)`.
    pub fn compressibility_factor(&self) -> f64 {
        self.thermo.pressure / (self.thermo.density * self.gas_constant * self.thermo.temperature)
    }

    /// Isothermal compressibility `(1/rho) (drho/dp)_T`, 1/Pa.
    pub fn isothermal_compressibility(&self) -> f64 {
        1.0 / (self.thermo.density * self.thermo.p_rho)
    }

    /// Coefficient of thermal expansion `-(1/rho) (drho/dT)_p`, 1/K.
    pub fn thermal_expansion(&self) -> f64 {
        self.thermo.p_t / (self.thermo.density * self.thermo.p_rho)
    }
}
