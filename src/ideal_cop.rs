//! COP of ideal machines between given temperatures: what a real one is measured against.

use crate::error::{Error, Result, within};
use crate::numeric::logarithmic_mean;

/// Highest temperature that is accepted, K. No published source: it keeps mistaken units out.
const HOTTEST: f64 = 1e4;

fn absolute(argument: &'static str, temperature: f64) -> Result<f64> {
    within(argument, temperature, f64::MIN_POSITIVE, HOTTEST, "K", "absolute temperature")
}

/// COP of a Carnot cycle, `T_e / (T_c - T_e)`: heat is taken up and given at one temperature each (K), those of the
/// refrigerant.
///
/// # Errors
///
/// [`Error::NotFinite`]; [`Error::OutOfRange`] for a temperature that is not positive; [`Error::Inconsistent`] unless
/// the condensing temperature is the higher one.
pub fn carnot_cop(evaporating_temperature: f64, condensing_temperature: f64) -> Result<f64> {
    absolute("evaporating temperature", evaporating_temperature)?;
    absolute("condensing temperature", condensing_temperature)?;
    let lift = condensing_temperature - evaporating_temperature;
    if lift <= 0.0 {
        return Err(no_lift(
            "evaporating temperature and condensing temperature",
            evaporating_temperature,
            condensing_temperature,
        ));
    }
    Ok(evaporating_temperature / lift)
}

fn no_lift(arguments: &'static str, cold: f64, warm: f64) -> Error {
    Error::Inconsistent {
        arguments,
        reason: format!("heat is lifted from {cold} K to {warm} K, and needs no work for that"),
    }
}

/// Entropic mean (K) of a stream's temperatures (K) at its two ends, `(T_a - T_b) / ln(T_a / T_b)`: heat over entropy
/// of a stream of constant heat capacity.
///
/// # Errors
///
/// [`Error::NotFinite`]; [`Error::OutOfRange`] for a temperature that is not positive.
pub fn entropic_mean_temperature(first: f64, second: f64) -> Result<f64> {
    Ok(logarithmic_mean(absolute("first", first)?, absolute("second", second)?))
}

/// COP of a Lorenz cycle between the water of a chiller, temperatures in K: that of a machine without any loss,
/// exchangers included.
///
/// `T_cold / (T_warm - T_cold)` with the entropic mean temperatures of chilled water and condenser water. COP over
/// this is the second-law efficiency of the whole machine; COP over [`carnot_cop`] of the refrigerant leaves out the
/// exchangers. With water of a constant heat capacity.
///
/// ```
/// use interstage::{carnot_cop, lorenz_cop};
///
/// // Water 12 to 7 and 30 to 35 degC, refrigerant at 5 and 37 degC.
/// let lorenz = lorenz_cop(285.15, 280.15, 303.15, 308.15)?;
/// assert!(lorenz > 12.0 && lorenz < 12.5);
/// assert!(carnot_cop(278.15, 310.15)? < lorenz);
/// # Ok::<(), interstage::Error>(())
/// ```
///
/// # Errors
///
/// [`Error::NotFinite`]; [`Error::OutOfRange`] for a temperature that is not positive; [`Error::Inconsistent`] for
/// chilled water that warms, condenser water that cools, or condenser water that is not the warmer one in the mean.
pub fn lorenz_cop(
    chilled_water_entering: f64,
    chilled_water_leaving: f64,
    condenser_water_entering: f64,
    condenser_water_leaving: f64,
) -> Result<f64> {
    absolute("chilled water entering", chilled_water_entering)?;
    absolute("chilled water leaving", chilled_water_leaving)?;
    absolute("condenser water entering", condenser_water_entering)?;
    absolute("condenser water leaving", condenser_water_leaving)?;
    for (arguments, does, from, to, wrong) in [
        (
            "chilled water entering and chilled water leaving",
            "cools",
            chilled_water_entering,
            chilled_water_leaving,
            chilled_water_leaving > chilled_water_entering,
        ),
        (
            "condenser water entering and condenser water leaving",
            "warms",
            condenser_water_entering,
            condenser_water_leaving,
            condenser_water_leaving < condenser_water_entering,
        ),
    ] {
        if wrong {
            let reason = format!("water {does} there, and goes from {from} K to {to} K");
            return Err(Error::Inconsistent { arguments, reason });
        }
    }
    let cold = logarithmic_mean(chilled_water_entering, chilled_water_leaving);
    let warm = logarithmic_mean(condenser_water_entering, condenser_water_leaving);
    if warm <= cold {
        return Err(no_lift("chilled water leaving and condenser water leaving", cold, warm));
    }
    Ok(cold / (warm - cold))
}
