//! Viscosity, thermal conductivity, Prandtl number and surface tension from published correlations.

mod correlation;
mod critical;
mod series;

use crate::error::{Error, Result, within};
use crate::fluid::transport::{self, Range, Transport};
use crate::fluid::{Citation, FLUIDS, Fluid};
use crate::helmholtz::Thermo;
use crate::refrigerant::{Model, Refrigerant};
use crate::state::{Phase, State, has_pressure};

const VISCOSITY: &str = "viscosity";
const THERMAL_CONDUCTIVITY: &str = "thermal conductivity";
const PRANDTL_NUMBER: &str = "Prandtl number";
const SURFACE_TENSION: &str = "surface tension";

/// Where the transport properties and the surface tension of a refrigerant come from.
///
/// Made by [`Refrigerant::transport_citations`]; `None` where the library has no published correlation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct TransportCitations {
    /// Paper of the viscosity.
    pub viscosity: Option<&'static Citation>,
    /// Paper of the thermal conductivity.
    pub thermal_conductivity: Option<&'static Citation>,
    /// Paper of the surface tension.
    pub surface_tension: Option<&'static Citation>,
}

/// Transport properties and surface tension, from correlations published beside the equations of state.
///
/// They have a value for liquid, vapor and saturated states, none for a mixture of liquid and vapor. Some were fitted
/// with an older equation of state than the one in use here; the check values of R-1234yf and R-1234ze(E), for which
/// that is so, are met within 1e-4 of themselves.
impl Refrigerant {
    /// Viscosity at a state of this refrigerant, Pa s.
    ///
    /// `eta0(T) (1 + N_A sigma^3 B(T k / epsilon) rho) + residual(T, rho)`: dilute gas, initial density dependence
    /// (second viscosity virial coefficient of Rainwater and Friend, where the paper has it) and dense fluid, for which
    /// many papers have a free-volume term. Water: `eta0(T) exp(f(T, rho))` times its critical enhancement.
    ///
    /// | refrigerant | source | range, where not that of the equation of state |
    /// |---|---|---|
    /// | R-32 | Velliadou et al. 2022 | up to 425 K, 70 MPa |
    /// | R-123 | Tanaka, Sotani 1996 | |
    /// | R-125 | Huber, Laesecke 2006 | |
    /// | R-134a | Huber, Laesecke, Perkins 2003 | |
    /// | R-152a | Krauss et al. 1996 | 240 K to 440 K, up to 20 MPa |
    /// | R-245fa | Perkins, Huber, Assael 2016 | |
    /// | R-290 | Vogel et al. 1998 | 90 K to 600 K, up to 100 MPa |
    /// | R-404A, R-407C, R-410A, R-507A | Geller et al. 2000 | |
    /// | R-600a | Vogel et al. 2000 | |
    /// | R-717 | Monogenidou et al. 2018 | up to 725 K, 50 MPa |
    /// | R-718 | IAPWS R12-08 | up to 1173.15 K, 300 MPa; 1000 MPa up to 373.15 K |
    /// | R-1234yf | Huber, Assael 2016 | 220 K to 410 K, up to 30 MPa |
    /// | R-1234ze(E) | Huber, Assael 2016 | |
    ///
    /// A handle [with extrapolation](Self::with_extrapolation) answers beyond the range too.
    ///
    /// # Errors
    ///
    /// [`Error::NotPublished`] with the refrigerants that have it, [`Error::Undefined`] for a mixture of liquid and
    /// vapor and where the correlation breaks down (cold liquid at the closest packing), [`Error::OutOfRange`],
    /// [`Error::Inconsistent`] for a state of another refrigerant.
    ///
    /// ```
    /// use interstage::Refrigerant;
    ///
    /// let refrigerant = Refrigerant::named("R-134a")?;
    /// let evaporating = refrigerant.saturation_at_temperature(280.0)?;
    /// let liquid = refrigerant.viscosity(&evaporating.liquid())?;
    /// let vapor = refrigerant.viscosity(&evaporating.vapor())?;
    /// assert!(liquid > 20.0 * vapor);
    /// # Ok::<(), interstage::Error>(())
    /// ```
    pub fn viscosity(&self, state: &State) -> Result<f64> {
        let (fluid, correlation) = self.published(VISCOSITY, |known| known.viscosity)?;
        let thermo = self.valid(VISCOSITY, state, &[&correlation.range])?;
        sound(VISCOSITY, correlation.at(fluid, self.equation(), &thermo))
    }

    /// Thermal conductivity at a state of this refrigerant, W/(m K).
    ///
    /// `lambda0(T) + residual(T, rho) + critical enhancement`; water: `lambda0(T) exp(f(T, rho)) + critical
    /// enhancement`. The enhancement is the crossover form of Olchowy and Sengers, which grows without bound towards
    /// the critical point; R-123 has a peak of finite height. It takes the viscosity; for R-1233zd(E) and R-1336mzz(Z),
    /// of which none is published here, that of corresponding states with R-134a stands in. It is good to some 20 % of
    /// an enhancement that is below 0.5 % of the saturated conductivities up to 0.75 of the critical temperature.
    ///
    /// | refrigerant | source | range, where not that of the equation of state |
    /// |---|---|---|
    /// | R-123 | Laesecke, Perkins, Howley 1996 | |
    /// | R-125 | Perkins, Huber 2006 | 190 K to 512 K, up to 70 MPa |
    /// | R-134a | McLinden, Klein, Perkins 2000 | |
    /// | R-152a | Krauss et al. 1996 | 240 K to 440 K, up to 20 MPa |
    /// | R-245fa | Perkins, Huber, Assael 2016 | |
    /// | R-290 | Marsh, Perkins, Ramires 2002 | 86 K to 600 K, up to 70 MPa |
    /// | R-404A, R-407C, R-410A, R-507A | Geller et al. 2001, without critical enhancement | |
    /// | R-600a | Perkins 2002 | 114 K to 600 K, up to 70 MPa |
    /// | R-717 | Monogenidou, Assael, Huber 2018 | up to 680 K, 80 MPa |
    /// | R-718 | IAPWS R15-11 | up to 1173.15 K, 100 MPa; 1000 MPa up to 348 K |
    /// | R-1233zd(E) | Perkins, Huber 2017 | 204 K to 453 K, up to 67 MPa |
    /// | R-1234yf | Perkins, Huber 2011 | 220 K to 410 K, up to 30 MPa |
    /// | R-1234ze(E) | Perkins, Huber 2011 | |
    /// | R-1336mzz(Z) | Perkins, Huber 2020 | |
    ///
    /// # Errors
    ///
    /// As for [`viscosity`](Self::viscosity); [`Error::Undefined`] at the critical point too.
    pub fn thermal_conductivity(&self, state: &State) -> Result<f64> {
        let (fluid, correlation) =
            self.published(THERMAL_CONDUCTIVITY, |known| known.thermal_conductivity)?;
        let thermo = self
            .valid(THERMAL_CONDUCTIVITY, state, &[&correlation.range])
            .map_err(|error| error.of(self.name()))?;
        not_critical(THERMAL_CONDUCTIVITY, &thermo)?;
        sound(THERMAL_CONDUCTIVITY, correlation.at(fluid, self.equation(), &thermo))
    }

    /// Prandtl number `cp eta / lambda` at a state of this refrigerant, for those with both correlations.
    ///
    /// # Errors
    ///
    /// As for [`viscosity`](Self::viscosity) and [`thermal_conductivity`](Self::thermal_conductivity).
    pub fn prandtl_number(&self, state: &State) -> Result<f64> {
        let both = |known: &Transport| known.viscosity.zip(known.thermal_conductivity);
        let (fluid, (viscosity, conductivity)) = self.published(PRANDTL_NUMBER, both)?;
        let thermo = self.valid(PRANDTL_NUMBER, state, &[&viscosity.range, &conductivity.range])?;
        not_critical(PRANDTL_NUMBER, &thermo)?;
        let equation = self.equation();
        let viscosity = sound(VISCOSITY, viscosity.at(fluid, equation, &thermo))?;
        let conductivity = sound(THERMAL_CONDUCTIVITY, conductivity.at(fluid, equation, &thermo))?;
        sound(PRANDTL_NUMBER, thermo.cp() * viscosity / conductivity)
    }

    /// Surface tension of the liquid against its own vapor at a temperature (K), N/m.
    ///
    /// `sum a (1 - T / T_c)^n` with the critical temperature of the correlation, which may differ from that of the
    /// equation of state by some hundredths of a kelvin (R-114: 1.8 K); zero from there on. For most refrigerants from the
    /// compilations of Mulero et al. (2012, 2014), for water from IAPWS R1-76; every refrigerant but R-13I1 and
    /// R-1130(E) has one.
    ///
    /// # Errors
    ///
    /// [`Error::NotPublished`] with the refrigerants that have it; [`Error::OutOfRange`] below the triple point and
    /// above [`maximum_temperature`](Self::maximum_temperature).
    pub fn surface_tension(&self, temperature: f64) -> Result<f64> {
        let (_, correlation) = self.published(SURFACE_TENSION, |known| known.surface_tension)?;
        let (minimum, maximum) = (self.minimum_saturation_temperature(), self.maximum_temperature());
        let reason = "triple point to the end of the equation of state";
        within("temperature", temperature, minimum, maximum, "K", reason)
            .map_err(|error| error.of(self.name()))?;
        Ok(correlation.at(temperature))
    }

    /// The papers the transport properties and the surface tension come from.
    pub fn transport_citations(&self) -> TransportCitations {
        let known = self.fluid().map(|fluid| transport::of(fluid.designation));
        TransportCitations {
            viscosity: known.and_then(|known| known.viscosity).map(|correlation| &correlation.citation),
            thermal_conductivity: known
                .and_then(|known| known.thermal_conductivity)
                .map(|correlation| &correlation.citation),
            surface_tension: known
                .and_then(|known| known.surface_tension)
                .map(|correlation| &correlation.citation),
        }
    }

    /// The fluid and its correlation.
    fn published<T>(
        &self,
        property: &'static str,
        pick: impl Fn(&Transport) -> Option<T>,
    ) -> Result<(&'static Fluid, T)> {
        let own = self.fluid().and_then(|fluid| Some((fluid, pick(&transport::of(fluid.designation))?)));
        own.ok_or_else(|| Error::NotPublished {
            property,
            refrigerant: match self.model() {
                Model::Mixture => format!("{} by the mixture model", self.name()),
                _ => self.name().to_owned(),
            },
            available: FLUIDS
                .iter()
                .map(|fluid| fluid.designation)
                .filter(|designation| pick(&transport::of(designation)).is_some())
                .collect(),
        })
    }

    /// Refuses mixtures of liquid and vapor, and what the authors do not vouch for.
    fn valid(&self, property: &'static str, state: &State, ranges: &[&Option<Range>]) -> Result<Thermo> {
        if state.phase() == Phase::TwoPhase {
            return Err(Error::Undefined { property, state: "a two-phase state" });
        }
        if !self.extrapolates() {
            for range in ranges.iter().copied().flatten() {
                range
                    .check(property, state.temperature(), state.pressure())
                    .map_err(|error| error.of(self.name()))?;
            }
        }
        let thermo = self.equation().at(state.temperature(), state.density());
        has_pressure(state.pressure(), &thermo).map_err(|error| error.of(self.name()))?;
        Ok(thermo)
    }
}

/// Refuses states without a finite heat capacity at constant pressure.
fn not_critical(property: &'static str, thermo: &Thermo) -> Result<()> {
    if thermo.p_rho > 0.0 { Ok(()) } else { Err(Error::Undefined { property, state: "the critical point" }) }
}

/// Refuses what a correlation gives where it breaks down.
fn sound(property: &'static str, value: f64) -> Result<f64> {
    if value > 0.0 && value.is_finite() {
        Ok(value)
    } else {
        Err(Error::Undefined { property, state: "a state at which its correlation breaks down" })
    }
}
