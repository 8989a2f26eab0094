//! Corrections of the published equations that the library behind the computed cycle cases does not have, and what
//! they do to a cycle.
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

/// The same for R-717: with the constant of Gao et al. 2023 all 101 values of their check table agree, with that of
/// the library the pressures of the table are off by 3e-7. J/(mol K).
const R717_GAS_CONSTANTS: (f64, f64) = (8.3144598, 8.314462618);

/// The library behind the cases evaluates the ideal-gas heat capacity of R-123 at this fraction of the
/// temperature: 456.82 K where Younglove & McLinden 1994 have 456.831 K.
pub(crate) const R123_IDEAL_GAS_TEMPERATURE_FRACTION: f64 = 456.82 / 456.831;

/// The same for R-245fa: the library divides the characteristic temperatures of Akasaka, Zhou & Lemmon 2015 by an
/// older critical temperature, 427.16 K, and multiplies by the reducing temperature of the paper, 427.01 K.
const R245FA_IDEAL_GAS_TEMPERATURE_FRACTION: f64 = 427.16 / 427.01;

/// Enthalpy and entropy of saturated liquid at 0 degC in the cases, J/kg and J/(kg K).
const REFERENCE_ENTHALPY: f64 = 200_000.0;
const REFERENCE_ENTROPY: f64 = 1000.0;

/// The gas constant of the cases over that of the paper.
pub(crate) fn gas_constant_ratio(fluid: &str) -> f64 {
    match fluid {
        "R-1234ze(E)" => R1234ZEE_GAS_CONSTANT_OF_CASES / R1234ZEE_GAS_CONSTANT_PUBLISHED,
        "R-717" => R717_GAS_CONSTANTS.0 / R717_GAS_CONSTANTS.1,
        _ => 1.0,
    }
}

/// Carries a figure of a computed case over to the gas constant of the paper; most fluids have that already.
///
/// The reduced Helmholtz energy is the same function of temperature and density with either constant,
/// so a whole cycle scales: at equal temperatures and densities every pressure and every difference of
/// enthalpy or entropy is proportional to the gas constant. Ratios, temperatures, densities and, at given
/// capacity, powers and destroyed exergy stay; mass and volume flows are inversely proportional to it. `quantity` is the last
/// part of the figure's name.
pub(crate) fn with_published_gas_constant(fluid: &str, quantity: &str, computed: f64) -> Fallible<f64> {
    let ratio = gas_constant_ratio(fluid);
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
        | "economizer_benefit"
        | "injection_ratio"
        | "destruction"
        | "exergy"
        | "exergetic_efficiency"
        | "mean_temperature"
        | "residual" => computed,
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
    /// The shift of the cases of a fluid, if they need one. (R-290, whose characteristic temperatures are rounded to six
    /// decimals there, is met without.)
    pub(crate) fn of_cases(refrigerant: &'a Refrigerant) -> Option<Self> {
        let fraction = match refrigerant.name() {
            "R-123" => R123_IDEAL_GAS_TEMPERATURE_FRACTION,
            "R-245fa" => R245FA_IDEAL_GAS_TEMPERATURE_FRACTION,
            _ => return None,
        };
        Some(Self { refrigerant, fraction })
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
