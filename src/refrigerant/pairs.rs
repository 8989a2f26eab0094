//! States of a refrigerant from two of their properties.

use super::Refrigerant;
use crate::error::{Error, Result};
use crate::state::{Flash, Property, State};

macro_rules! pairs {
    ($($(#[$doc:meta])* $name:ident($first:ident, $second:ident) = $flash:expr;)*) => {
        /// A state from two of its properties; the arguments stand in the order of the name.
        ///
        /// Every method checks its arguments ([`Error::NotFinite`], [`Error::OutOfRange`]), decides the phase and
        /// solves the equation of state to a few units in the last place. What was given is returned unchanged.
        impl Refrigerant {
            $(
                $(#[$doc])*
                ///
                /// # Errors
                ///
                /// [`Error::NotFinite`], [`Error::OutOfRange`], [`Error::Inconsistent`] if no state has both, and
                /// [`Error::NotConverged`] if the solver fails.
                pub fn $name(&self, $first: f64, $second: f64) -> Result<State> {
                    let flash = self.flash()?;
                    let mut result: Result<State, Error> = $flash(&flash, $first, $second);
                    if let Err(error) = &mut result {
                        error.name(self.name());
                    }
                    result
                }
            )*
        }
    };
}

pairs! {
    /// State at pressure (Pa) and temperature (K). On the saturation line itself: saturated vapor.
    state_pt(pressure, temperature) = |f: &Flash<'_>, p, t| f.pt(p, t);
    /// State at pressure (Pa) and specific enthalpy (J/kg).
    state_ph(pressure, enthalpy) = |f: &Flash<'_>, p, h| f.at_pressure(p, Property::Enthalpy, h);
    /// State at pressure (Pa) and specific entropy (J/(kg K)).
    state_ps(pressure, entropy) = |f: &Flash<'_>, p, s| f.at_pressure(p, Property::Entropy, s);
    /// State at pressure (Pa) and specific internal energy (J/kg).
    state_pu(pressure, internal_energy) = |f: &Flash<'_>, p, u| f.at_pressure(p, Property::InternalEnergy, u);
    /// State at specific enthalpy (J/kg) and specific entropy (J/(kg K)). Of several solutions (cold blends next to
    /// the bubble curve) the liquid.
    state_hs(enthalpy, entropy) = |f: &Flash<'_>, h, s| f.hs(h, s);
    /// State at temperature (K) and specific entropy (J/(kg K)). Of several solutions that of lowest pressure.
    state_ts(temperature, entropy) = |f: &Flash<'_>, t, s| f.at_temperature(t, Property::Entropy, s);
    /// State at temperature (K) and specific enthalpy (J/kg). Of several solutions that of lowest pressure.
    state_th(temperature, enthalpy) = |f: &Flash<'_>, t, h| f.at_temperature(t, Property::Enthalpy, h);
    /// State at temperature (K) and specific internal energy (J/kg). Of several solutions that of lowest pressure.
    state_tu(temperature, internal_energy) = |f: &Flash<'_>, t, u| f.at_temperature(t, Property::InternalEnergy, u);
    /// State at temperature (K) and density (kg/m3).
    state_t_rho(temperature, density) = |f: &Flash<'_>, t, rho| f.t_rho(t, rho);
    /// State at density (kg/m3) and pressure (Pa). Of two solutions (liquid water near 4 degC) the warmer one.
    state_rho_p(density, pressure) = |f: &Flash<'_>, rho, p| f.rho_p(rho, p);
    /// State at density (kg/m3) and specific enthalpy (J/kg).
    state_rho_h(density, enthalpy) = |f: &Flash<'_>, rho, h| f.at_density(rho, Property::Enthalpy, h);
    /// State at density (kg/m3) and specific entropy (J/(kg K)).
    state_rho_s(density, entropy) = |f: &Flash<'_>, rho, s| f.at_density(rho, Property::Entropy, s);
    /// State at density (kg/m3) and specific internal energy (J/kg).
    state_rho_u(density, internal_energy) = |f: &Flash<'_>, rho, u| f.at_density(rho, Property::InternalEnergy, u);
    /// State at pressure (Pa) and quality (mass fraction of vapor, 0 to 1).
    state_px(pressure, quality) = |f: &Flash<'_>, p, x| f.px(p, x);
    /// State at temperature (K) and quality (mass fraction of vapor, 0 to 1).
    state_tx(temperature, quality) = |f: &Flash<'_>, t, x| f.tx(t, x);
}
