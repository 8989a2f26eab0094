//! Two corrections of the published equations that the library behind the computed cycle cases does not
//! have, and what they do to a cycle.
//!
//! The cases were computed with CoolProp 8.0.0. Where that library departs from the paper, the expected
//! figures are carried over to the paper's equation here, so that no tolerance has to grow.

use interstage::Refrigerant;

use super::{Fallible, ZERO_CELSIUS};

/// Gas constant used for R-1234ze(E) by the library behind the cases, J/(mol K).
///
/// Thol & Lemmon 2016 use [`R1234ZEE_GAS_CONSTANT_PUBLISHED`]: all 24 values of their check table agree
/// with that one, and with this one the pressures of the table are off by 1.2e-6.
pub(crate) const R1234ZEE_GAS_CONSTANT_OF_CASES: f64 = 8.314472;

/// Gas constant of the equation of Thol & Lemmon 2016, J/(mol K).
pub(crate) const R1234ZEE_GAS_CONSTANT_PUBLISHED: f64 = 8.3144621;

/// The library behind the cases evaluates the ideal-gas heat capacity of R-123 at this fraction of the
/// temperature: 456.82 K where Younglove & McLinden 1994 have 456.831 K.
pub(crate) const R123_IDEAL_GAS_TEMPERATURE_FRACTION: f64 = 456.82 / 456.831;

/// Enthalpy and entropy of saturated liquid at 0 degC in the cases, J/kg and J/(kg K).
const REFERENCE_ENTHALPY: f64 = 200_000.0;
const REFERENCE_ENTROPY: f64 = 1000.0;

/// Ratio of the two gas constants of R-1234ze(E).
fn gas_constant_ratio() -> f64 {
    R1234ZEE_GAS_CONSTANT_OF_CASES / R1234ZEE_GAS_CONSTANT_PUBLISHED
}

/// Carries a figure of a computed R-1234ze(E) case over to the gas constant of the paper.
///
/// The reduced Helmholtz energy is the same function of temperature and density with either constant,
/// so a whole cycle scales: at equal temperatures and densities every pressure and every difference of
/// enthalpy or entropy is proportional to the gas constant. Ratios, temperatures, densities and, at given
/// capacity, powers stay; mass and volume flows are inversely proportional to it. `quantity` is the last
/// part of the figure's name.
pub(crate) fn r1234zee_as_published(quantity: &str, computed: f64) -> Fallible<f64> {
    let ratio = gas_constant_ratio();
    Ok(match quantity {
        "pressure" | "work" | "head" | "isentropic_head" | "refrigerating_effect" => computed / ratio,
        "enthalpy" => REFERENCE_ENTHALPY + (computed - REFERENCE_ENTHALPY) / ratio,
        "entropy" => REFERENCE_ENTROPY + (computed - REFERENCE_ENTROPY) / ratio,
        "mass_flow" | "volume_flow" => computed * ratio,
        "temperature"
        | "density"
        | "quality"
        | "flow_ratio"
        | "flash_fraction"
        | "power"
        | "heat_rejected"
        | "cop"
        | "carnot_cop"
        | "second_law_efficiency"
        | "kw_per_ton"
        | "economizer_benefit" => computed,
        other => return Err(format!("no rule for {other:?}").into()),
    })
}

/// What a wrong temperature in the ideal-gas heat capacity adds to enthalpy and entropy.
///
/// With `cp0(f T)` in place of `cp0(T)` and the same values for saturated liquid at 0 degC, a state at the
/// same temperature and density has the same pressure and `integral of cp0(f T) - cp0(T)` from 0 degC more
/// enthalpy; the same over `T` gives entropy. The integrals are differences of ideal-gas enthalpy and
/// entropy between `f T` and `T`, which the refrigerant itself supplies at vanishing density.
#[derive(Debug)]
pub(crate) struct IdealGasShift<'a> {
    refrigerant: &'a Refrigerant,
    fraction: f64,
}

impl<'a> IdealGasShift<'a> {
    /// The shift of the R-123 cases.
    pub(crate) fn of_r123_cases(refrigerant: &'a Refrigerant) -> Self {
        Self { refrigerant, fraction: R123_IDEAL_GAS_TEMPERATURE_FRACTION }
    }

    /// Enthalpy and entropy of the ideal gas at a density so low that nothing is left of the residual part.
    fn ideal(&self, temperature: f64) -> Fallible<(f64, f64)> {
        const VANISHING: f64 = 1e-7;
        let state = self.refrigerant.state_t_rho(temperature, VANISHING)?;
        Ok((state.enthalpy(), state.entropy()))
    }

    /// What is added to enthalpy (J/kg) and to entropy (J/(kg K)) at this temperature.
    pub(crate) fn at(&self, temperature: f64) -> Fallible<(f64, f64)> {
        let fraction = self.fraction;
        let (h, s) = self.ideal(temperature)?;
        let (h_start, s_start) = self.ideal(ZERO_CELSIUS)?;
        let (h_scaled, s_scaled) = self.ideal(fraction * temperature)?;
        let (h_scaled_start, s_scaled_start) = self.ideal(fraction * ZERO_CELSIUS)?;
        let enthalpy = (h_scaled - h_scaled_start) / fraction - (h - h_start);
        let entropy = (s_scaled - s_scaled_start) - (s - s_start);
        Ok((enthalpy, entropy))
    }
}
