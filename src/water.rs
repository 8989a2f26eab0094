//! Liquid water of the chilled-water and condenser-water circuits. Plain water: glycol and brine have another density
//! and heat capacity.
//!
//! Density, enthalpy and heat capacity of IAPWS-95 at 0.3 MPa, a usual gauge pressure of a few bar in a closed
//! circuit. Between 0.1 and 1 MPa density changes by less than 0.05 % and the enthalpy difference of a 5 K range by
//! less than 0.1 %.

use std::sync::OnceLock;

use crate::error::{Error, Result, within};
use crate::numeric::Piecewise;
use crate::refrigerant::Refrigerant;

/// Pressure the properties are taken at, Pa.
const PRESSURE: f64 = 0.3e6;

/// Range of temperature, K: from just above freezing to well below boiling at that pressure.
pub(crate) const RANGE: (f64, f64) = (273.16, 393.15);

/// Temperatures that water does not have but the brine of a chiller may, K: down to -35 degC. At -40 degrees stand
/// the readings of broken instruments. Common practice, no published source.
#[cfg(feature = "trend")]
pub(crate) const BRINE: std::ops::Range<f64> = 238.15..RANGE.0;

fn fitted() -> Result<&'static Piecewise<4>> {
    static FIT: OnceLock<Result<Piecewise<4>>> = OnceLock::new();
    FIT.get_or_init(|| {
        let water = Refrigerant::named("R-718")?;
        Piecewise::fit(
            RANGE.0,
            RANGE.1,
            |_, _| Ok(4),
            |temperature| {
                let state = water.state_pt(PRESSURE, temperature)?;
                let slopes = water.derivatives(&state)?;
                let by_temperature = -state.density() * slopes.thermal_expansion();
                Ok([state.density(), state.enthalpy(), slopes.cp(), by_temperature])
            },
        )
    })
    .as_ref()
    .map_err(Error::clone)
}

/// Fits the properties if that is not done yet.
#[cfg(feature = "trend")]
pub(crate) fn prepare() -> Result<()> {
    fitted().map(|_| ())
}

fn at(temperature: f64, which: usize) -> Result<f64> {
    let reason = "liquid water in the water circuits";
    within("water temperature", temperature, RANGE.0, RANGE.1, "K", reason)?;
    Ok(fitted()?.evaluate_one(temperature, which).unwrap_or(f64::NAN))
}

/// Density of liquid water at a temperature (K) and 0.3 MPa, kg/m3.
///
/// # Errors
///
/// [`Error::OutOfRange`] outside 273.16 K to 393.15 K, [`Error::NotFinite`].
pub fn water_density(temperature: f64) -> Result<f64> {
    at(temperature, 0)
}

/// Specific enthalpy of liquid water at a temperature (K) and 0.3 MPa, J/kg (zero convention of IAPWS-95).
///
/// The heat a water flow takes up is its mass flow times the difference of this function.
///
/// # Errors
///
/// [`Error::OutOfRange`] outside 273.16 K to 393.15 K, [`Error::NotFinite`].
pub fn water_enthalpy(temperature: f64) -> Result<f64> {
    at(temperature, 1)
}

/// Isobaric heat capacity of liquid water at a temperature (K) and 0.3 MPa, J/(kg K).
///
/// # Errors
///
/// [`Error::OutOfRange`] outside 273.16 K to 393.15 K, [`Error::NotFinite`].
pub fn water_heat_capacity(temperature: f64) -> Result<f64> {
    at(temperature, 2)
}

/// Slope of the density of liquid water with temperature (K) at 0.3 MPa, kg/(m3 K).
#[cfg(feature = "trend")]
pub(crate) fn density_slope(temperature: f64) -> Result<f64> {
    at(temperature, 3)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_fit_is_the_equation_of_state() {
        let water = Refrigerant::named("water").unwrap();
        for i in 0..1200 {
            let temperature = RANGE.0 + 0.1 * f64::from(i) * 0.999;
            let state = water.state_pt(PRESSURE, temperature).unwrap();
            assert!((water_density(temperature).unwrap() / state.density() - 1.0).abs() < 1e-13);
            let slopes = water.derivatives(&state).unwrap();
            let heat_capacity = slopes.cp();
            let by_temperature = -state.density() * slopes.thermal_expansion();
            assert!((at(temperature, 3).unwrap() - by_temperature).abs() < 1e-11);
            assert!((water_heat_capacity(temperature).unwrap() / heat_capacity - 1.0).abs() < 1e-11);
            // Some units in the last place of an enthalpy of up to 500 kJ/kg.
            assert!((water_enthalpy(temperature).unwrap() - state.enthalpy()).abs() < 1e-7);
        }
    }

    #[test]
    fn pressure_matters_as_little_as_the_documentation_says() {
        let water = Refrigerant::named("water").unwrap();
        for temperature in [276.0, 280.0, 300.0, 310.0] {
            let at = |pressure, temperature| water.state_pt(pressure, temperature).unwrap();
            for pressure in [0.1e6, 1e6] {
                let density = at(pressure, temperature).density();
                assert!((density / water_density(temperature).unwrap() - 1.0).abs() < 5e-4);
                let range = at(pressure, temperature + 5.0).enthalpy() - at(pressure, temperature).enthalpy();
                let fitted =
                    water_enthalpy(temperature + 5.0).unwrap() - water_enthalpy(temperature).unwrap();
                assert!(
                    (range / fitted - 1.0).abs() < 1e-3,
                    "{temperature} {pressure} {}",
                    range / fitted - 1.0
                );
            }
        }
    }
}
