//! States, and how one is found from any two of its properties.

mod derivatives;
mod flash;
mod glide;
mod isochore;
mod isotherm;
mod limits;
mod mixed;
mod mollier;
mod patches;
mod phase;
mod plane;
mod single;
mod stream;

pub use derivatives::Derivatives;
pub(crate) use derivatives::has_pressure;
pub(crate) use flash::Flash;
pub(crate) use limits::Limits;
pub(crate) use patches::Patches;
pub(crate) use single::Property;
pub(crate) use stream::{Lever, SaturatedStreams, Stream};

use crate::helmholtz::Thermo;
use crate::saturation::Saturation;
use std::fmt;

/// Which phase a state is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Phase {
    /// Liquid; saturated liquid has quality 0.
    Liquid,
    /// Vapor or gas; saturated vapor has quality 1.
    Vapor,
    /// Liquid and vapor in equilibrium.
    TwoPhase,
    /// Above the critical temperature and the critical pressure.
    Supercritical,
}

impl fmt::Display for Phase {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Liquid => "liquid",
            Self::Vapor => "vapor",
            Self::TwoPhase => "two-phase",
            Self::Supercritical => "supercritical",
        })
    }
}

/// A thermodynamic state: plain data in SI units, without a handle on its refrigerant.
///
/// A state returns unchanged the properties it was made from. Properties that are slopes, such as heat
/// capacities, come from [`Refrigerant::derivatives`](crate::Refrigerant::derivatives).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct State {
    pub(crate) temperature: f64,
    pub(crate) pressure: f64,
    pub(crate) density: f64,
    pub(crate) enthalpy: f64,
    pub(crate) entropy: f64,
    pub(crate) internal_energy: f64,
    pub(crate) quality: Option<f64>,
    pub(crate) phase: Phase,
}

impl State {
    /// Temperature, K.
    #[inline]
    pub fn temperature(&self) -> f64 {
        self.temperature
    }

    /// Pressure, Pa absolute.
    #[inline]
    pub fn pressure(&self) -> f64 {
        self.pressure
    }

    /// Density, kg/m3.
    #[inline]
    pub fn density(&self) -> f64 {
        self.density
    }

    /// Specific volume, m3/kg.
    #[inline]
    pub fn specific_volume(&self) -> f64 {
        1.0 / self.density
    }

    /// Specific enthalpy, J/kg, in the refrigerant's reference.
    #[inline]
    pub fn enthalpy(&self) -> f64 {
        self.enthalpy
    }

    /// Specific entropy, J/(kg K), in the refrigerant's reference.
    #[inline]
    pub fn entropy(&self) -> f64 {
        self.entropy
    }

    /// Specific internal energy, J/kg, in the refrigerant's reference.
    #[inline]
    pub fn internal_energy(&self) -> f64 {
        self.internal_energy
    }

    /// Mass fraction of vapor: 0 to 1 on and inside the saturation line, `None` elsewhere.
    #[inline]
    pub fn quality(&self) -> Option<f64> {
        self.quality
    }

    /// Phase.
    #[inline]
    pub fn phase(&self) -> Phase {
        self.phase
    }

    pub(crate) fn single(thermo: &Thermo, phase: Phase) -> Self {
        Self {
            temperature: thermo.temperature,
            pressure: thermo.pressure,
            density: thermo.density,
            enthalpy: thermo.enthalpy,
            entropy: thermo.entropy,
            internal_energy: thermo.internal_energy,
            quality: None,
            phase,
        }
    }

    #[inline(always)]
    pub(crate) fn saturated_liquid(
        temperature: f64,
        pressure: f64,
        density: f64,
        enthalpy: f64,
        entropy: f64,
    ) -> Self {
        Self {
            temperature,
            pressure,
            density,
            enthalpy,
            entropy,
            internal_energy: enthalpy - pressure / density,
            quality: Some(0.0),
            phase: Phase::Liquid,
        }
    }

    #[inline(always)]
    pub(crate) fn saturated_vapor(
        temperature: f64,
        pressure: f64,
        density: f64,
        enthalpy: f64,
        entropy: f64,
    ) -> Self {
        Self {
            quality: Some(1.0),
            phase: Phase::Vapor,
            ..Self::saturated_liquid(temperature, pressure, density, enthalpy, entropy)
        }
    }

    /// The state with quality `x` from 0 to 1 between two saturated states of one pressure.
    pub(crate) fn mixture(saturation: &Saturation, x: f64) -> Self {
        let Saturation { liquid, vapor, .. } = saturation;
        if x <= 0.0 {
            return *liquid;
        }
        if x >= 1.0 {
            return *vapor;
        }
        let between = |l: f64, v: f64| l + x * (v - l);
        Self {
            temperature: between(liquid.temperature, vapor.temperature),
            pressure: vapor.pressure,
            density: 1.0 / between(liquid.specific_volume(), vapor.specific_volume()),
            enthalpy: between(liquid.enthalpy, vapor.enthalpy),
            entropy: between(liquid.entropy, vapor.entropy),
            internal_energy: between(liquid.internal_energy, vapor.internal_energy),
            quality: Some(x),
            phase: Phase::TwoPhase,
        }
    }
}
