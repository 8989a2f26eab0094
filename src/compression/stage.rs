//! A stage with a constant efficiency.

use super::polytropic::{self, is_wet};
use crate::error::{Result, within};
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;
use crate::state::Stream;

/// How a stage's efficiency is defined.
///
/// At the same number an isentropic efficiency makes a stage of a high pressure ratio look better than one of
/// a low ratio; a polytropic efficiency does not depend on how a compression is divided into stages.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Efficiency {
    /// `(h(p_out, s_in) - h_in) / (h_out - h_in)`.
    Isentropic,
    /// `dh = v dp / efficiency` all along the path, which is integrated.
    Polytropic,
    /// The same by the three-point method: within 3e-6 of the integral at the conditions of chillers (4e-5 where the path crosses the dew
    /// line), with three states a stage.
    PolytropicThreePoint,
}

/// One stage of compression: an impeller with its inlet vanes and diffuser.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stage {
    kind: Efficiency,
    efficiency: f64,
}

/// What a stage does to one kilogram.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Compressed<R> {
    pub(crate) outlet: Stream<R>,
    /// Isentropic or polytropic head, J/kg.
    pub(crate) head: R,
    /// Whether a part of the path is wet, as it can be with refrigerants whose dew line leans over.
    pub(crate) wet: bool,
}

impl Stage {
    /// A stage of constant isentropic efficiency, above 0 and up to 1.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`](crate::Error::OutOfRange), [`Error::NotFinite`](crate::Error::NotFinite).
    pub fn isentropic(efficiency: f64) -> Result<Self> {
        Self::new(Efficiency::Isentropic, "isentropic efficiency", efficiency)
    }

    /// A stage of constant polytropic efficiency, above 0 and up to 1.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`](crate::Error::OutOfRange), [`Error::NotFinite`](crate::Error::NotFinite).
    pub fn polytropic(efficiency: f64) -> Result<Self> {
        Self::new(Efficiency::Polytropic, "polytropic efficiency", efficiency)
    }

    /// A stage of constant polytropic efficiency, above 0 and up to 1, by the three-point method.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`](crate::Error::OutOfRange), [`Error::NotFinite`](crate::Error::NotFinite).
    pub fn polytropic_three_point(efficiency: f64) -> Result<Self> {
        Self::new(Efficiency::PolytropicThreePoint, "polytropic efficiency", efficiency)
    }

    /// A stage of the same kind with another efficiency.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`](crate::Error::OutOfRange), [`Error::NotFinite`](crate::Error::NotFinite).
    pub fn with_efficiency(self, efficiency: f64) -> Result<Self> {
        match self.kind {
            Efficiency::Isentropic => Self::isentropic(efficiency),
            Efficiency::Polytropic => Self::polytropic(efficiency),
            Efficiency::PolytropicThreePoint => Self::polytropic_three_point(efficiency),
        }
    }

    fn new(kind: Efficiency, argument: &'static str, efficiency: f64) -> Result<Self> {
        within(
            argument,
            efficiency,
            LOWEST,
            1.0,
            "-",
            "the share of the work that a loss-free stage would need",
        )?;
        Ok(Self { kind, efficiency })
    }

    /// How the efficiency is defined.
    pub fn kind(&self) -> Efficiency {
        self.kind
    }

    /// The efficiency, 0 to 1.
    pub fn efficiency(&self) -> f64 {
        self.efficiency
    }

    /// Compresses from `inlet` to `pressure` with an efficiency that may carry derivatives.
    pub(crate) fn compress<R: Real>(
        &self,
        refrigerant: &Refrigerant,
        inlet: &Stream<R>,
        pressure: R,
        efficiency: R,
    ) -> Result<Compressed<R>> {
        let wet_inlet = is_wet(&inlet.state);
        let polytropic = |(outlet, wet): (Stream<R>, bool)| {
            let head = (outlet.enthalpy - inlet.enthalpy) * efficiency;
            Ok(Compressed { outlet, head, wet: wet_inlet || wet })
        };
        match self.kind {
            Efficiency::Isentropic => {
                let ideal = refrigerant.stream_ps(pressure, inlet.entropy)?;
                let head = ideal.enthalpy - inlet.enthalpy;
                let outlet = refrigerant.stream_ph(pressure, inlet.enthalpy + head / efficiency)?;
                Ok(Compressed { outlet, head, wet: wet_inlet || is_wet(&outlet.state) })
            }
            Efficiency::Polytropic => {
                polytropic(polytropic::outlet(refrigerant, inlet, pressure, efficiency)?)
            }
            Efficiency::PolytropicThreePoint => {
                polytropic(polytropic::outlet_three_point(refrigerant, inlet, pressure, efficiency)?)
            }
        }
    }
}

/// Lowest efficiency a stage may have: below it the discharge of any real lift leaves every equation of state.
const LOWEST: f64 = 0.01;
