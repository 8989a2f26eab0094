//! The saturation line of a pure fluid: solved once, then read from piecewise polynomials.

mod equilibrium;
mod line;

pub(crate) use line::{SaturationLine, saturated_liquid};

use crate::state::State;

/// Saturated liquid and saturated vapor in equilibrium.
///
/// [`Saturation::temperature`] and [`Saturation::pressure`] return unchanged what the saturation was asked
/// for. SI units.
///
/// ```
/// use interstage::Refrigerant;
///
/// let refrigerant = Refrigerant::named("R-123")?;
/// let saturation = refrigerant.saturation_at_temperature(273.15 + 5.0)?;
/// assert!((saturation.pressure() - 40_821.0).abs() < 1.0); // below the atmosphere: a vacuum machine
/// assert!(saturation.latent_heat() > 175e3);
/// assert_eq!(saturation.liquid().quality(), Some(0.0));
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Saturation {
    pub(crate) liquid: State,
    pub(crate) vapor: State,
}

impl Saturation {
    /// Saturation temperature, K.
    pub fn temperature(&self) -> f64 {
        self.vapor.temperature()
    }

    /// Saturation pressure, Pa absolute.
    pub fn pressure(&self) -> f64 {
        self.vapor.pressure()
    }

    /// Saturated liquid (the bubble point).
    pub fn liquid(&self) -> State {
        self.liquid
    }

    /// Saturated vapor (the dew point).
    pub fn vapor(&self) -> State {
        self.vapor
    }

    /// Enthalpy of saturated vapor less that of saturated liquid, J/kg.
    pub fn latent_heat(&self) -> f64 {
        self.vapor.enthalpy() - self.liquid.enthalpy()
    }

    /// Slope of the saturation line by the Clausius-Clapeyron equation, Pa/K.
    pub fn pressure_slope(&self) -> f64 {
        (self.vapor.entropy() - self.liquid.entropy())
            / (self.vapor.specific_volume() - self.liquid.specific_volume())
    }

    /// The mixture with quality `x` (mass fraction of vapor) between the two.
    pub(crate) fn mixture(&self, x: f64) -> State {
        State::mixture(self, x)
    }
}
