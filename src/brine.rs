//! Brines of the water circuits: glycols in water by published polynomials, or what a data sheet says.
//!
//! The glycols are those of Å. Melinder, Properties of Secondary Working Fluids for Indirect Systems, International
//! Institute of Refrigeration, Paris 2010: f = sum of a_ij (x - x_m)^i (t - t_m)^j with x in mass percent and t in degC,
//! from 0 to 60 % and from the freezing point to 100 degC. Read second-hand, from transcriptions that agree but for two
//! digits: a_41 of the density of ethylene glycol is -7.211e-8 in two and -7.221e-8 in one (at most 3e-6 of a density),
//! t_m of propylene glycol 32.7083 in two and 32.7089 in one (at most 4e-7 of a density).

use crate::error::{Result, within};

const ZERO: f64 = 273.15;

/// Highest mass fraction of the polynomials.
const STRONGEST: f64 = 0.6;

/// Temperatures of a brine by its data sheet, K; those of a water flow.
const RANGE: (f64, f64) = (173.15, 473.15);

/// A liquid in a water circuit that is not plain water.
///
/// Glycols are plain glycol in water. Inhibited ones, as they are sold for chillers, differ: at 10 to 60 % and 0 to 35 degC the
/// handbook's tables of them (ASHRAE Fundamentals, second-hand) have up to 2.6 % less heat capacity and 1 % more density for
/// ethylene glycol, 0.5 and 0.7 % for propylene glycol. Where the data sheet of the brine is at hand, take its values.
///
/// ```
/// use interstage::Brine;
///
/// let brine = Brine::ethylene_glycol(0.25)?;
/// assert!((brine.freezing_temperature().unwrap_or(0.0) - 262.2).abs() < 0.1);
/// assert!((brine.density(280.0)? - 1035.3).abs() < 0.1);
/// assert!(brine.density(260.0).is_err());
/// let heat = brine.cooling_heat(272.15, 268.15)?;
/// assert!((heat - 4.0 * brine.heat_capacity(270.15)?).abs() < 0.1);
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Brine {
    /// Polynomials of temperature less `middle`.
    density: [f64; 4],
    heat_capacity: [f64; 4],
    middle: f64,
    freezing: Option<f64>,
    range: (f64, f64),
}

impl Brine {
    /// Ethylene glycol in water, by its mass fraction up to 0.6.
    ///
    /// # Errors
    ///
    /// [`crate::Error::OutOfRange`], [`crate::Error::NotFinite`].
    pub fn ethylene_glycol(strength: f64) -> Result<Self> {
        ETHYLENE.at(strength)
    }

    /// Propylene glycol in water, by its mass fraction up to 0.6.
    ///
    /// # Errors
    ///
    /// [`crate::Error::OutOfRange`], [`crate::Error::NotFinite`].
    pub fn propylene_glycol(strength: f64) -> Result<Self> {
        PROPYLENE.at(strength)
    }

    /// Any brine, by density (kg/m3) at the flow meter and heat capacity (J/(kg K)) at the mean temperature, from its data
    /// sheet; both then are the same at every temperature, and its freezing point is not known.
    ///
    /// # Errors
    ///
    /// [`crate::Error::OutOfRange`], [`crate::Error::NotFinite`].
    pub fn from_data_sheet(density: f64, heat_capacity: f64) -> Result<Self> {
        within("density", density, 100.0, 10_000.0, "kg/m3", "a liquid brine")?;
        within("heat capacity", heat_capacity, 500.0, 10_000.0, "J/(kg K)", "a liquid brine")?;
        Ok(Self {
            density: [density, 0.0, 0.0, 0.0],
            heat_capacity: [heat_capacity, 0.0, 0.0, 0.0],
            middle: ZERO,
            freezing: None,
            range: RANGE,
        })
    }

    /// Freezing point, K; none for a brine by its data sheet.
    pub fn freezing_temperature(&self) -> Option<f64> {
        self.freezing
    }

    /// Lowest and highest temperature, K.
    pub fn temperature_range(&self) -> (f64, f64) {
        self.range
    }

    /// Density at a temperature (K), kg/m3.
    ///
    /// # Errors
    ///
    /// [`crate::Error::OutOfRange`] outside its range: of a glycol from its freezing point to 373.15 K, of a data sheet from 173.15 to
    /// 473.15 K; [`crate::Error::NotFinite`].
    pub fn density(&self, temperature: f64) -> Result<f64> {
        Ok(polynomial(self.density, self.off_middle(temperature)?))
    }

    /// Heat capacity at a temperature (K), J/(kg K).
    ///
    /// # Errors
    ///
    /// Those of [`Brine::density`].
    pub fn heat_capacity(&self, temperature: f64) -> Result<f64> {
        Ok(polynomial(self.heat_capacity, self.off_middle(temperature)?))
    }

    /// Heat that it gives between two temperatures (K), J/kg: positive where it is cooled.
    ///
    /// # Errors
    ///
    /// Those of [`Brine::density`].
    pub fn cooling_heat(&self, entering: f64, leaving: f64) -> Result<f64> {
        let (from, to) = (self.off_middle(entering)?, self.off_middle(leaving)?);
        let [a, b, c, d] = self.heat_capacity;
        let integral = |t: f64| t * polynomial([a, b / 2.0, c / 3.0, d / 4.0], t);
        Ok(integral(from) - integral(to))
    }

    /// Slope of the density, kg/(m3 K).
    #[cfg(feature = "trend")]
    pub(crate) fn density_slope(&self, temperature: f64) -> Result<f64> {
        let [_, b, c, d] = self.density;
        Ok(polynomial([b, 2.0 * c, 3.0 * d, 0.0], self.off_middle(temperature)?))
    }

    fn off_middle(&self, temperature: f64) -> Result<f64> {
        let (low, high) = self.range;
        let reason = if self.freezing.is_some() {
            "from the freezing point of the brine to 100 degC"
        } else {
            "liquid brine"
        };
        Ok(within("temperature", temperature, low, high, "K", reason)? - self.middle)
    }
}

fn polynomial(coefficients: [f64; 4], at: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, coefficient| sum * at + coefficient)
}

/// Coefficients of one glycol: rows go with powers of the mass percent, columns with those of degC.
struct Glycol {
    percent: f64,
    celsius: f64,
    density: [[f64; 4]; 6],
    heat_capacity: [[f64; 4]; 6],
    /// At the middle temperature: the polynomial's terms of temperature are rounding, up to 2 mK.
    freezing: [f64; 6],
}

impl Glycol {
    fn at(&self, strength: f64) -> Result<Brine> {
        within("strength", strength, 0.0, STRONGEST, "kg/kg", "the published polynomials end there")?;
        let x = 100.0 * strength - self.percent;
        let of = |rows: &[[f64; 4]; 6]| {
            rows.iter().rev().fold([0.0; 4], |sum, row| {
                let mut next = *row;
                for (own, higher) in next.iter_mut().zip(sum) {
                    *own += higher * x;
                }
                next
            })
        };
        // Melinder's curve passes 0.06 K beside the freezing point of water.
        let celsius = self.freezing.iter().rev().fold(0.0, |sum, row| sum * x + row).min(0.0);
        let freezing = celsius + ZERO;
        Ok(Brine {
            density: of(&self.density),
            heat_capacity: of(&self.heat_capacity),
            middle: self.celsius + ZERO,
            freezing: Some(freezing),
            range: (freezing, 373.15),
        })
    }
}

const ETHYLENE: Glycol = Glycol {
    percent: 30.8462,
    celsius: 31.728,
    density: [
        [1.034e3, -4.781e-1, -2.692e-3, 4.725e-6],
        [1.311, -6.876e-3, 4.805e-5, 1.690e-8],
        [7.490e-5, 7.855e-5, -3.995e-7, 4.982e-9],
        [-1.062e-4, 1.229e-6, -1.153e-8, 0.0],
        [-9.623e-7, -7.211e-8, 0.0, 0.0],
        [4.891e-8, 0.0, 0.0, 0.0],
    ],
    heat_capacity: [
        [3.737e3, 2.930, -4.675e-3, -1.389e-5],
        [-1.799e1, 1.046e-1, -4.147e-4, 1.847e-7],
        [-9.933e-2, 3.516e-4, 5.109e-6, -7.138e-8],
        [2.610e-3, -1.189e-6, -1.643e-7, 0.0],
        [1.537e-5, -4.272e-7, 0.0, 0.0],
        [-1.618e-6, 0.0, 0.0, 0.0],
    ],
    freezing: [-1.525e1, -8.080e-1, -1.334e-2, -7.293e-5, 1.006e-6, 1.140e-9],
};

const PROPYLENE: Glycol = Glycol {
    percent: 30.7031,
    celsius: 32.7083,
    density: [
        [1.018e3, -5.406e-1, -2.666e-3, 1.347e-5],
        [7.604e-1, -9.450e-3, 5.541e-5, -1.343e-7],
        [-2.498e-3, 2.700e-5, -4.018e-7, 3.376e-9],
        [-1.550e-4, 2.829e-6, -7.175e-9, 0.0],
        [-1.131e-6, -2.221e-8, 0.0, 0.0],
        [2.342e-8, 0.0, 0.0, 0.0],
    ],
    heat_capacity: [
        [3.882e3, 2.699, -1.659e-3, -1.032e-5],
        [-1.304e1, 5.070e-2, -4.752e-5, 1.522e-6],
        [-1.598e-1, 9.534e-5, 1.167e-5, -4.870e-8],
        [3.539e-4, 3.102e-5, -2.950e-7, 0.0],
        [5.000e-5, -7.135e-7, 0.0, 0.0],
        [-4.959e-7, 0.0, 0.0, 0.0],
    ],
    freezing: [-1.325e1, -6.631e-1, -1.094e-2, -2.283e-4, -3.409e-6, 1.465e-8],
};

#[cfg(test)]
#[path = "brine_tests.rs"]
mod tests;
