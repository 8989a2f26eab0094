//! Saturated liquid and vapor: of a pure fluid solved once, then read from piecewise polynomials; of a blend from its
//! published curves, or by the mixture model.

mod blend;
mod curves;
mod equilibrium;
mod fit;
mod line;
mod mixed;
mod residual;

pub(crate) use blend::{Components, Composed, Ends, Envelope, Split};
pub(crate) use curves::Curves;
pub(crate) use line::{SaturationLine, saturated_liquid};
pub(crate) use mixed::MixedLine;
pub(crate) use residual::largest_residual;

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
    /// What sets a blend apart from a pure fluid.
    pub(crate) glide: Option<Glide>,
    /// Slope of the line where the phases of a pure fluid are too much alike to tell it, Pa/K.
    pub(crate) critical_slope: Option<f64>,
}

/// How the two phases of a blend differ in temperature or pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Glide {
    /// Slope of the bubble curve at the liquid, Pa/K.
    pub(crate) bubble_slope: f64,
    /// Slope of the dew curve at the vapor, Pa/K.
    pub(crate) dew_slope: f64,
    /// Dew less bubble temperature at the dew pressure, K.
    pub(crate) temperature: f64,
}

impl Saturation {
    /// Saturation temperature, K: of a blend the dew temperature.
    #[inline]
    pub fn temperature(&self) -> f64 {
        self.vapor.temperature()
    }

    /// Saturation pressure, Pa absolute: of a blend the dew pressure.
    #[inline]
    pub fn pressure(&self) -> f64 {
        self.vapor.pressure()
    }

    /// Saturated liquid (the bubble point).
    #[inline]
    pub fn liquid(&self) -> State {
        self.liquid
    }

    /// Saturated vapor (the dew point).
    #[inline]
    pub fn vapor(&self) -> State {
        self.vapor
    }

    /// Dew less bubble temperature at the pressure of the vapor, K: the temperature glide of a blend, zero for a pure
    /// fluid.
    ///
    /// ```
    /// use interstage::Refrigerant;
    ///
    /// let saturation = Refrigerant::named("R-407C")?.saturation_at_pressure(0.5e6)?;
    /// let (bubble, dew) = (saturation.liquid().temperature(), saturation.vapor().temperature());
    /// assert_eq!(saturation.temperature(), dew);
    /// assert_eq!(saturation.temperature_glide(), dew - bubble);
    /// assert!(dew - bubble > 6.0 && dew - bubble < 7.0);
    /// # Ok::<(), interstage::Error>(())
    /// ```
    #[inline]
    pub fn temperature_glide(&self) -> f64 {
        self.glide.map_or(0.0, |glide| glide.temperature)
    }

    /// Enthalpy of saturated vapor less that of saturated liquid, J/kg.
    #[inline]
    pub fn latent_heat(&self) -> f64 {
        self.vapor.enthalpy() - self.liquid.enthalpy()
    }

    /// Slope of the saturation line by the Clausius-Clapeyron equation, Pa/K; of a blend that of its dew curve. At the
    /// critical point that of the critical isochore, into which the line runs.
    #[inline]
    pub fn pressure_slope(&self) -> f64 {
        self.slopes().1
    }

    /// Slopes of pressure with temperature along saturated liquid and saturated vapor, Pa/K.
    pub(crate) fn slopes(&self) -> (f64, f64) {
        match (self.glide, self.critical_slope) {
            (Some(Glide { bubble_slope, dew_slope, .. }), _) => (bubble_slope, dew_slope),
            (None, Some(slope)) => (slope, slope),
            (None, None) => {
                let slope = (self.vapor.entropy() - self.liquid.entropy())
                    / (self.vapor.specific_volume() - self.liquid.specific_volume());
                (slope, slope)
            }
        }
    }

    /// The mixture with quality `x` (mass fraction of vapor) between the two.
    pub(crate) fn mixture(&self, x: f64) -> State {
        State::mixture(self, x)
    }
}
