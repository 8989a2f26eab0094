//! States over any [`Real`]: what components exchange.

use super::State;
use crate::helmholtz::{Equation, Thermo};
use crate::numeric::Real;
use crate::saturation::Saturation;

/// A state whose properties carry derivatives to the inputs of a calculation.
///
/// The values are those of `state`; the derivatives are exact partials of the equation of state there.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stream<R> {
    pub(crate) state: State,
    pub(crate) temperature: R,
    pub(crate) pressure: R,
    pub(crate) volume: R,
    pub(crate) enthalpy: R,
    pub(crate) entropy: R,
}

/// Saturated liquid and vapor over a [`Real`].
#[derive(Debug, Clone, Copy)]
pub(crate) struct SaturatedStreams<R> {
    pub(crate) pressure: R,
    pub(crate) liquid: Stream<R>,
    pub(crate) vapor: Stream<R>,
}

/// How a mixture of liquid and vapor answers to pressure and enthalpy.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Lever {
    /// Along the lever between the two phases.
    Saturation(Saturation),
    /// By equilibrium of a mixture: with pressure at constant enthalpy, and with enthalpy at constant pressure.
    Equilibrium([Slopes; 2]),
}

impl Lever {
    /// Whether properties follow the lever rule between phases of different temperatures, which is not quite dh = T ds + v dp.
    fn is_gliding(&self) -> bool {
        matches!(self, Self::Saturation(saturation) if saturation.glide.is_some())
    }
}

/// Slopes of temperature, volume, enthalpy and entropy with one of two independent variables.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Slopes {
    pub(super) temperature: f64,
    pub(super) volume: f64,
    pub(super) enthalpy: f64,
    pub(super) entropy: f64,
}

impl<R: Real> Stream<R> {
    /// The state found from pressure and enthalpy.
    pub(crate) fn from_ph(equation: &Equation, lever: Option<Lever>, state: State, p: R, h: R) -> Self {
        let slopes = || with_ph(equation, lever.as_ref(), &state);
        let of = |value: f64, pick: fn(&Slopes) -> f64| {
            R::chain(value, [p, h], || {
                let (by_p, by_h) = slopes();
                [pick(&by_p), pick(&by_h)]
            })
        };
        Self {
            state,
            temperature: of(state.temperature, |s| s.temperature),
            pressure: p,
            volume: of(state.specific_volume(), |s| s.volume),
            enthalpy: h,
            entropy: of(state.entropy, |s| s.entropy),
        }
    }

    /// The state found from pressure and entropy: its enthalpy by dh = T ds + v dp.
    pub(crate) fn from_ps(equation: &Equation, lever: Option<Lever>, state: State, p: R, s: R) -> Self {
        let gliding = lever.filter(Lever::is_gliding);
        let h = R::chain(state.enthalpy, [p, s], || match gliding {
            // Between the phases of a pseudo-pure blend properties follow the lever rule, which is not quite dh = T ds + v dp.
            Some(_) => {
                let (by_p, by_h) = with_ph(equation, gliding.as_ref(), &state);
                [-by_p.entropy / by_h.entropy, 1.0 / by_h.entropy]
            }
            None => [state.specific_volume(), state.temperature],
        });
        Self { entropy: s, ..Self::from_ph(equation, lever, state, p, h) }
    }

    /// The state found from pressure and temperature, in one phase.
    pub(crate) fn from_pt(equation: &Equation, state: State, p: R, t: R) -> Self {
        let h = R::chain(state.enthalpy, [p, t], || {
            let at = equation.at(state.temperature, state.density);
            let expansion = at.p_t / (at.density * at.density * at.p_rho);
            [1.0 / at.density - at.temperature * expansion, at.cp()]
        });
        Self { temperature: t, ..Self::from_ph(equation, None, state, p, h) }
    }
}

impl<R: Real> SaturatedStreams<R> {
    /// Both phases at one pressure, given by the (dew) temperature (`by_temperature`) or itself as `along`.
    pub(crate) fn new(equation: &Equation, saturation: &Saturation, along: R, by_temperature: bool) -> Self {
        let dew = || saturation.slopes().1;
        let pressure = if by_temperature {
            R::chain(saturation.pressure(), [along, along], || [dew(), 0.0])
        } else {
            along
        };
        let phase = |state: State, pick_slope: fn((f64, f64)) -> f64| {
            let slope = || pick_slope(saturation.slopes());
            let temperature = if by_temperature && saturation.glide.is_none() {
                along
            } else {
                R::chain(state.temperature, [pressure, pressure], || [1.0 / slope(), 0.0])
            };
            let of = |value: f64, pick: fn(&Slopes) -> f64| {
                R::chain(value, [temperature, temperature], || {
                    let at = equation.at(state.temperature, state.density);
                    [pick(&along_saturation(&at, slope())), 0.0]
                })
            };
            Stream {
                state,
                temperature,
                pressure,
                volume: of(state.specific_volume(), |s| s.volume),
                enthalpy: of(state.enthalpy, |s| s.enthalpy),
                entropy: of(state.entropy, |s| s.entropy),
            }
        };
        Self {
            pressure,
            liquid: phase(saturation.liquid, |(bubble, _)| bubble),
            vapor: phase(saturation.vapor, |(_, dew)| dew),
        }
    }
}

/// Slopes with pressure at constant enthalpy, and with enthalpy at constant pressure.
fn with_ph(equation: &Equation, lever: Option<&Lever>, state: &State) -> (Slopes, Slopes) {
    if let Some(Lever::Equilibrium([by_p, by_h])) = lever {
        return (*by_p, *by_h);
    }
    let entropy_by_p = -state.specific_volume() / state.temperature;
    let entropy_by_h = 1.0 / state.temperature;
    if let (Some(Lever::Saturation(saturation)), Some(x)) = (lever, state.quality) {
        let (liquid, vapor) = (saturation.liquid, saturation.vapor);
        let (bubble, dew) = saturation.slopes();
        let l = along_saturation(&equation.at(liquid.temperature, liquid.density), bubble);
        let v = along_saturation(&equation.at(vapor.temperature, vapor.density), dew);
        let volume_by_h = (vapor.specific_volume() - liquid.specific_volume()) / saturation.latent_heat();
        // At constant quality, then back to constant enthalpy along the lever.
        let mixed = |l: f64, v: f64| l / bubble + x * (v / dew - l / bubble);
        let enthalpy_by_p = mixed(l.enthalpy, v.enthalpy);
        let volume_by_p = mixed(l.volume, v.volume) - volume_by_h * enthalpy_by_p;
        let temperature_by_h = (vapor.temperature - liquid.temperature) / saturation.latent_heat();
        let temperature_by_p = mixed(1.0, 1.0) - temperature_by_h * enthalpy_by_p;
        let (entropy_by_p, entropy_by_h) = if saturation.glide.is_some() {
            let by_h = (vapor.entropy - liquid.entropy) / saturation.latent_heat();
            (mixed(l.entropy, v.entropy) - by_h * enthalpy_by_p, by_h)
        } else {
            (entropy_by_p, entropy_by_h)
        };
        return (
            Slopes {
                temperature: temperature_by_p,
                volume: volume_by_p,
                enthalpy: 0.0,
                entropy: entropy_by_p,
            },
            Slopes {
                temperature: temperature_by_h,
                volume: volume_by_h,
                enthalpy: 1.0,
                entropy: entropy_by_h,
            },
        );
    }
    let at = equation.at(state.temperature, state.density);
    let cp = at.cp();
    let volume = 1.0 / at.density;
    let (volume_by_t, volume_by_p) = volume_slopes(&at);
    let temperature_by_p = (at.temperature * volume_by_t - volume) / cp;
    (
        Slopes {
            temperature: temperature_by_p,
            volume: volume_by_p + volume_by_t * temperature_by_p,
            enthalpy: 0.0,
            entropy: entropy_by_p,
        },
        Slopes { temperature: 1.0 / cp, volume: volume_by_t / cp, enthalpy: 1.0, entropy: entropy_by_h },
    )
}

/// (dv/dT) at constant pressure and (dv/dp) at constant temperature.
fn volume_slopes(at: &Thermo) -> (f64, f64) {
    let square = at.density * at.density;
    (at.p_t / (square * at.p_rho), -1.0 / (square * at.p_rho))
}

/// Slopes with temperature along the saturation line, where pressure rises by `slope`.
pub(super) fn along_saturation(at: &Thermo, slope: f64) -> Slopes {
    let (volume_by_t, volume_by_p) = volume_slopes(at);
    let cp = at.cp();
    Slopes {
        temperature: 1.0,
        volume: volume_by_t + volume_by_p * slope,
        enthalpy: cp + (1.0 / at.density - at.temperature * volume_by_t) * slope,
        entropy: cp / at.temperature - volume_by_t * slope,
    }
}
