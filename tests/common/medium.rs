//! A refrigerant as a cycle that is written out sees it: states by value, and the two compression paths.

use interstage::{Refrigerant, State};

use super::Fallible;
use super::corrections::{IdealGasShift, gas_constant_ratio};

/// A state as the cycle sees it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Seen {
    pub(crate) temperature: f64,
    pub(crate) pressure: f64,
    pub(crate) density: f64,
    pub(crate) enthalpy: f64,
    pub(crate) entropy: f64,
}

/// A refrigerant, or what another implementation makes of it: enthalpy and entropy may carry a shift that depends on temperature
/// alone, and pressure, enthalpy and entropy may scale with another gas constant.
#[derive(Debug)]
pub(crate) struct Medium<'a> {
    refrigerant: &'a Refrigerant,
    shift: Option<&'a IdealGasShift<'a>>,
    scale: f64,
}

impl<'a> Medium<'a> {
    pub(crate) fn plain(refrigerant: &'a Refrigerant) -> Self {
        Self { refrigerant, shift: None, scale: 1.0 }
    }

    pub(crate) fn shifted(refrigerant: &'a Refrigerant, shift: &'a IdealGasShift<'a>) -> Self {
        Self { refrigerant, shift: Some(shift), scale: 1.0 }
    }

    /// With the gas constant of the computed cases.
    pub(crate) fn with_constant_of_cases(refrigerant: &'a Refrigerant) -> Self {
        Self { refrigerant, shift: None, scale: gas_constant_ratio(refrigerant.name()) }
    }

    pub(crate) fn refrigerant(&self) -> &Refrigerant {
        self.refrigerant
    }

    fn shift(&self, temperature: f64) -> Fallible<(f64, f64)> {
        self.shift.map_or(Ok((0.0, 0.0)), |shift| shift.at(temperature))
    }

    pub(crate) fn see(&self, state: &State) -> Fallible<Seen> {
        let (dh, ds) = self.shift(state.temperature())?;
        Ok(Seen {
            temperature: state.temperature(),
            pressure: state.pressure() * self.scale,
            density: state.density(),
            enthalpy: (state.enthalpy() + dh) * self.scale,
            entropy: (state.entropy() + ds) * self.scale,
        })
    }

    /// The state with this pressure and this (shifted) enthalpy. Each pass gains four digits.
    pub(crate) fn at_ph(&self, pressure: f64, enthalpy: f64) -> Fallible<Seen> {
        let (pressure, enthalpy) = (pressure / self.scale, enthalpy / self.scale);
        let mut state = self.refrigerant.state_ph(pressure, enthalpy)?;
        for _ in 0..3 {
            let (dh, _) = self.shift(state.temperature())?;
            state = self.refrigerant.state_ph(pressure, enthalpy - dh)?;
        }
        self.see(&state)
    }

    pub(crate) fn at_ps(&self, pressure: f64, entropy: f64) -> Fallible<Seen> {
        let (pressure, entropy) = (pressure / self.scale, entropy / self.scale);
        let mut state = self.refrigerant.state_ps(pressure, entropy)?;
        for _ in 0..3 {
            let (_, ds) = self.shift(state.temperature())?;
            state = self.refrigerant.state_ps(pressure, entropy - ds)?;
        }
        self.see(&state)
    }

    /// Subcooled liquid or superheated vapor.
    pub(crate) fn at_pt(&self, pressure: f64, temperature: f64) -> Fallible<Seen> {
        self.see(&self.refrigerant.state_pt(pressure / self.scale, temperature)?)
    }

    /// Saturated liquid and vapor, and the dew temperature.
    pub(crate) fn saturated(&self, pressure: f64) -> Fallible<(Seen, Seen, f64)> {
        let saturation = self.refrigerant.saturation_at_pressure(pressure / self.scale)?;
        Ok((self.see(&saturation.liquid())?, self.see(&saturation.vapor())?, saturation.temperature()))
    }

    /// Isentropic outlet enthalpy reached with an efficiency.
    pub(crate) fn isentropic(&self, inlet: &Seen, pressure: f64, efficiency: f64) -> Fallible<Seen> {
        let ideal = self.at_ps(pressure, inlet.entropy)?;
        self.at_ph(pressure, inlet.enthalpy + (ideal.enthalpy - inlet.enthalpy) / efficiency)
    }

    /// `dh = v dp / efficiency`, fourth-order Runge-Kutta in ln p with 64 steps.
    pub(crate) fn polytropic(&self, inlet: &Seen, pressure: f64, efficiency: f64) -> Fallible<Seen> {
        const STEPS: u32 = 64;
        let step = (pressure / inlet.pressure).ln() / f64::from(STEPS);
        let slope = |p: f64, h: f64| -> Fallible<f64> { Ok(p / self.at_ph(p, h)?.density / efficiency) };
        let (mut p, mut h) = (inlet.pressure, inlet.enthalpy);
        for n in 1..=STEPS {
            let middle = p * (0.5 * step).exp();
            let end = if n == STEPS { pressure } else { p * step.exp() };
            let k1 = slope(p, h)?;
            let k2 = slope(middle, h + 0.5 * step * k1)?;
            let k3 = slope(middle, h + 0.5 * step * k2)?;
            let k4 = slope(end, h + step * k3)?;
            h += step * (k1 + 2.0 * (k2 + k3) + k4) / 6.0;
            p = end;
        }
        self.at_ph(pressure, h)
    }
}
