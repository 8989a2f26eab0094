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

/// Slopes of temperature, volume, enthalpy and entropy with one of two independent variables.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Slopes {
    temperature: f64,
    pub(super) volume: f64,
    pub(super) enthalpy: f64,
    pub(super) entropy: f64,
}

impl<R: Real> Stream<R> {
    /// The state found from pressure and enthalpy.
    pub(crate) fn from_ph(
        equation: &Equation,
        saturation: Option<Saturation>,
        state: State,
        p: R,
        h: R,
    ) -> Self {
        let slopes = || with_ph(equation, saturation.as_ref(), &state);
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
    pub(crate) fn from_ps(
        equation: &Equation,
        saturation: Option<Saturation>,
        state: State,
        p: R,
        s: R,
    ) -> Self {
        let h = R::chain(state.enthalpy, [p, s], || [state.specific_volume(), state.temperature]);
        Self { entropy: s, ..Self::from_ph(equation, saturation, state, p, h) }
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
    /// Both phases at a temperature (`by_temperature`) or at a pressure, given as `along`.
    pub(crate) fn new(equation: &Equation, saturation: &Saturation, along: R, by_temperature: bool) -> Self {
        let slope = || saturation.pressure_slope();
        let (temperature, pressure) = if by_temperature {
            (along, R::chain(saturation.pressure(), [along, along], || [slope(), 0.0]))
        } else {
            (R::chain(saturation.temperature(), [along, along], || [1.0 / slope(), 0.0]), along)
        };
        let phase = |state: State| {
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
        Self { pressure, liquid: phase(saturation.liquid), vapor: phase(saturation.vapor) }
    }
}

/// Slopes with pressure at constant enthalpy, and with enthalpy at constant pressure.
fn with_ph(equation: &Equation, saturation: Option<&Saturation>, state: &State) -> (Slopes, Slopes) {
    let entropy_by_p = -state.specific_volume() / state.temperature;
    let entropy_by_h = 1.0 / state.temperature;
    if let (Some(saturation), Some(x)) = (saturation, state.quality) {
        let (liquid, vapor) = (saturation.liquid, saturation.vapor);
        let slope = saturation.pressure_slope();
        let l = along_saturation(&equation.at(liquid.temperature, liquid.density), slope);
        let v = along_saturation(&equation.at(vapor.temperature, vapor.density), slope);
        let volume_by_h = (vapor.specific_volume() - liquid.specific_volume()) / saturation.latent_heat();
        // At constant quality, then back to constant enthalpy along the lever.
        let mixed = |l: f64, v: f64| (l + x * (v - l)) / slope;
        let volume_by_p = mixed(l.volume, v.volume) - volume_by_h * mixed(l.enthalpy, v.enthalpy);
        return (
            Slopes { temperature: 1.0 / slope, volume: volume_by_p, enthalpy: 0.0, entropy: entropy_by_p },
            Slopes { temperature: 0.0, volume: volume_by_h, enthalpy: 1.0, entropy: entropy_by_h },
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
