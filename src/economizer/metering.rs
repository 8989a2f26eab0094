//! What throttles liquid from one vessel to the next.

use crate::error::{Result, within};
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;
use crate::state::Stream;

/// A metering device.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[non_exhaustive]
pub enum Metering {
    /// Throttles at constant enthalpy and passes what comes: a float valve or a controlled valve.
    #[default]
    Valve,
    /// Recovers work: `h_out = h_in - efficiency (h_in - h(p_out, s_in))`. The work is credited to the compression power.
    Expander {
        /// Isentropic efficiency, 0 to 1.
        efficiency: f64,
    },
}

impl Metering {
    /// A work-recovering expander of an isentropic efficiency from 0 to 1.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`](crate::Error::OutOfRange), [`Error::NotFinite`](crate::Error::NotFinite).
    pub fn expander(efficiency: f64) -> Result<Self> {
        share(efficiency)?;
        Ok(Self::Expander { efficiency })
    }

    /// Efficiency of an expander, `None` for a valve.
    pub(crate) fn efficiency(self) -> Option<f64> {
        match self {
            Self::Valve => None,
            Self::Expander { efficiency } => Some(efficiency),
        }
    }
}

fn share(efficiency: f64) -> Result<f64> {
    let reason = "the share of the isentropic work that is recovered";
    within("expander efficiency", efficiency, 0.0, 1.0, "-", reason)
}

/// Enthalpy behind a metering device, an expander if it has an efficiency.
pub(crate) fn expand<R: Real>(
    refrigerant: &Refrigerant,
    liquid: &Stream<R>,
    pressure: R,
    efficiency: Option<R>,
) -> Result<R> {
    let Some(efficiency) = efficiency else { return Ok(liquid.enthalpy) };
    // The variant may have been made without its constructor.
    share(efficiency.value())?;
    let ideal = refrigerant.stream_ps(pressure, liquid.entropy)?.enthalpy;
    Ok(liquid.enthalpy - efficiency * (liquid.enthalpy - ideal))
}
