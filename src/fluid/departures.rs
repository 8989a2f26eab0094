//! Departure functions of pairs: what a mixture deviates from the corresponding states of its components.
//!
//! Every digit as published; each names its source.

use super::Citation;
use super::data::Power;
use super::pairs::{
    BELL_2022, BELL_2023, GERNERT_2013, KUNZ_WAGNER_2012, LEMMON_JACOBSEN_2004, MCLINDEN_2025,
};

/// The departure function of one pair, or of several that share it: the sum of its terms.
#[derive(Debug)]
pub(crate) struct Departure {
    /// As [`Power`] of a fluid.
    pub(crate) power: &'static [Power],
    pub(crate) bumps: &'static [DensityBump],
    pub(crate) citation: &'static Citation,
}

/// `n delta^d tau^t exp(-eta (delta - epsilon)^2 - beta (delta - gamma))`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct DensityBump {
    pub(crate) n: f64,
    pub(crate) t: f64,
    pub(crate) d: u8,
    pub(crate) eta: f64,
    pub(crate) epsilon: f64,
    pub(crate) beta: f64,
    pub(crate) gamma: f64,
}

/// Of R-32 with R-125.
pub(crate) static R32_R125: Departure = Departure {
    power: &[
        Power { n: -0.0072955, t: 4.5, d: 2, l: 1, g: 1.0, m: 0.0 },
        Power { n: 0.078035, t: 0.57, d: 5, l: 1, g: 1.0, m: 0.0 },
        Power { n: 0.61007, t: 1.9, d: 1, l: 2, g: 1.0, m: 0.0 },
        Power { n: 0.64246, t: 1.2, d: 3, l: 2, g: 1.0, m: 0.0 },
        Power { n: 0.014965, t: 0.5, d: 9, l: 2, g: 1.0, m: 0.0 },
        Power { n: -0.34049, t: 2.6, d: 2, l: 3, g: 1.0, m: 0.0 },
        Power { n: 0.085658, t: 11.4, d: 3, l: 3, g: 1.0, m: 0.0 },
        Power { n: -0.064429, t: 4.5, d: 6, l: 3, g: 1.0, m: 0.0 },
    ],
    bumps: &[],
    citation: &LEMMON_JACOBSEN_2004,
};

/// Of R-32 with R-134a.
pub(crate) static R32_R134A: Departure = Departure {
    power: &[
        Power { n: 0.22909, t: 1.9, d: 1, l: 1, g: 1.0, m: 0.0 },
        Power { n: 0.094074, t: 0.25, d: 3, l: 1, g: 1.0, m: 0.0 },
        Power { n: 0.00039876, t: 0.07, d: 8, l: 1, g: 1.0, m: 0.0 },
        Power { n: 0.021113, t: 2.0, d: 1, l: 2, g: 1.0, m: 0.0 },
    ],
    bumps: &[],
    citation: &LEMMON_JACOBSEN_2004,
};

/// Shared by pairs of R-125, R-134a, R-143a and R-152a, each with a factor of its own.
pub(crate) static HFC_GENERAL: Departure = Departure {
    power: &[
        Power { n: -0.013073, t: 7.4, d: 1, l: 1, g: 1.0, m: 0.0 },
        Power { n: 0.018259, t: 0.35, d: 3, l: 1, g: 1.0, m: 0.0 },
        Power { n: 8.1299e-06, t: 10.0, d: 11, l: 2, g: 1.0, m: 0.0 },
        Power { n: 0.0078496, t: 5.3, d: 2, l: 3, g: 1.0, m: 0.0 },
    ],
    bumps: &[],
    citation: &LEMMON_JACOBSEN_2004,
};

/// Of R-744 with R-718.
pub(crate) static R744_R718: Departure = Departure {
    power: &[
        Power { n: 0.39440467, t: 0.88, d: 1, l: 0, g: 1.0, m: 0.0 },
        Power { n: -1.7634732, t: 2.932, d: 1, l: 0, g: 1.0, m: 0.0 },
        Power { n: 0.14620755, t: 2.433, d: 3, l: 0, g: 1.0, m: 0.0 },
        Power { n: 0.008752232, t: 1.33, d: 0, l: 1, g: 1.0, m: 0.0 },
        Power { n: 2.0349398, t: 4.416, d: 2, l: 1, g: 1.0, m: 0.0 },
        Power { n: -0.09035025, t: 5.514, d: 3, l: 1, g: 1.0, m: 0.0 },
        Power { n: -0.21638854, t: 5.203, d: 1, l: 2, g: 1.0, m: 0.0 },
        Power { n: 0.03961217, t: 1.0, d: 5, l: 2, g: 1.0, m: 0.0 },
    ],
    bumps: &[],
    citation: &GERNERT_2013,
};

/// Shared by pairs of alkanes, each with a factor of its own.
pub(crate) static ALKANE_GENERAL: Departure = Departure {
    power: &[
        Power { n: 2.5574776844118, t: 1.0, d: 1, l: 0, g: 1.0, m: 0.0 },
        Power { n: -7.9846357136353, t: 1.55, d: 1, l: 0, g: 1.0, m: 0.0 },
        Power { n: 4.7859131465806, t: 1.7, d: 1, l: 0, g: 1.0, m: 0.0 },
        Power { n: -0.73265392369587, t: 0.25, d: 2, l: 0, g: 1.0, m: 0.0 },
        Power { n: 1.3805471345312, t: 1.35, d: 2, l: 0, g: 1.0, m: 0.0 },
        Power { n: 0.28349603476365, t: 0.0, d: 3, l: 0, g: 1.0, m: 0.0 },
        Power { n: -0.49087385940425, t: 1.25, d: 3, l: 0, g: 1.0, m: 0.0 },
        Power { n: -0.10291888921447, t: 0.0, d: 4, l: 0, g: 1.0, m: 0.0 },
        Power { n: 0.11836314681968, t: 0.7, d: 4, l: 0, g: 1.0, m: 0.0 },
        Power { n: 5.5527385721943e-05, t: 5.4, d: 4, l: 0, g: 1.0, m: 0.0 },
    ],
    bumps: &[],
    citation: &KUNZ_WAGNER_2012,
};

/// That of methane and ethane, which R-134a with R-245fa has with a factor of its own.
pub(crate) static METHANE_ETHANE: Departure = Departure {
    power: &[
        Power { n: -0.00080926050298746, t: 0.65, d: 3, l: 0, g: 1.0, m: 0.0 },
        Power { n: -0.00075381925080059, t: 1.55, d: 4, l: 0, g: 1.0, m: 0.0 },
    ],
    bumps: &[
        DensityBump { n: -0.041618768891219, t: 3.1, d: 1, eta: 1.0, epsilon: 0.5, beta: 1.0, gamma: 0.5 },
        DensityBump { n: -0.23452173681569, t: 5.9, d: 2, eta: 1.0, epsilon: 0.5, beta: 1.0, gamma: 0.5 },
        DensityBump { n: 0.14003840584586, t: 7.05, d: 2, eta: 1.0, epsilon: 0.5, beta: 1.0, gamma: 0.5 },
        DensityBump { n: 0.063281744807738, t: 3.35, d: 2, eta: 0.875, epsilon: 0.5, beta: 1.25, gamma: 0.5 },
        DensityBump { n: -0.034660425848809, t: 1.2, d: 2, eta: 0.75, epsilon: 0.5, beta: 1.5, gamma: 0.5 },
        DensityBump { n: -0.23918747334251, t: 5.8, d: 2, eta: 0.5, epsilon: 0.5, beta: 2.0, gamma: 0.5 },
        DensityBump { n: 0.0019855255066891, t: 2.7, d: 2, eta: 0.0, epsilon: 0.5, beta: 3.0, gamma: 0.5 },
        DensityBump { n: 6.1777746171555, t: 0.45, d: 3, eta: 0.0, epsilon: 0.5, beta: 3.0, gamma: 0.5 },
        DensityBump { n: -6.9575358271105, t: 0.55, d: 3, eta: 0.0, epsilon: 0.5, beta: 3.0, gamma: 0.5 },
        DensityBump { n: 1.0630185306388, t: 1.95, d: 3, eta: 0.0, epsilon: 0.5, beta: 3.0, gamma: 0.5 },
    ],
    citation: &KUNZ_WAGNER_2012,
};

/// Of R-32 with R-1234yf.
pub(crate) static R32_R1234YF: Departure = Departure {
    power: &[
        Power { n: 0.449487, t: 2.538296, d: 1, l: 1, g: 1.0, m: 0.0 },
        Power { n: -0.099708, t: 3.208604, d: 2, l: 1, g: 1.0, m: 0.0 },
        Power { n: 0.098897, t: 0.456509, d: 3, l: 1, g: 1.0, m: 0.0 },
    ],
    bumps: &[],
    citation: &BELL_2023,
};

/// Of R-32 with R-1234ze(E).
pub(crate) static R32_R1234ZEE: Departure = Departure {
    power: &[
        Power { n: 0.295192, t: 0.500457, d: 1, l: 1, g: 1.0, m: 0.0 },
        Power { n: -0.737904, t: 3.104735, d: 2, l: 1, g: 1.0, m: 0.0 },
        Power { n: 0.542962, t: 3.20172, d: 3, l: 1, g: 1.0, m: 0.0 },
        Power { n: -0.201951, t: 2.567118, d: 4, l: 1, g: 1.0, m: 0.0 },
    ],
    bumps: &[],
    citation: &BELL_2023,
};

/// Of R-1336mzz(Z) with R-1130(E).
pub(crate) static R1336MZZZ_R1130E: Departure = Departure {
    power: &[Power { n: -0.277036, t: 2.956973, d: 1, l: 1, g: 1.0, m: 0.0 }],
    bumps: &[],
    citation: &MCLINDEN_2025,
};

/// Of R-125 with R-1234yf.
pub(crate) static R125_R1234YF: Departure = Departure {
    power: &[Power { n: -0.032013, t: 0.00803, d: 1, l: 1, g: 1.0, m: 0.0 }],
    bumps: &[],
    citation: &BELL_2023,
};

/// Of R-1234yf with R-134a.
pub(crate) static R1234YF_R134A: Departure = Departure {
    power: &[
        Power { n: 0.0519, t: 2.477314, d: 1, l: 1, g: 1.0, m: 0.0 },
        Power { n: -0.011472, t: 0.070541, d: 2, l: 2, g: 1.0, m: 0.0 },
    ],
    bumps: &[],
    citation: &BELL_2022,
};

/// Of R-1234yf with R-152a.
pub(crate) static R1234YF_R152A: Departure = Departure {
    power: &[
        Power { n: 0.009165, t: 3.221227, d: 1, l: 1, g: 1.0, m: 0.0 },
        Power { n: 0.014392, t: 1.007082, d: 2, l: 1, g: 1.0, m: 0.0 },
        Power { n: -0.014246, t: 3.790953, d: 3, l: 1, g: 1.0, m: 0.0 },
    ],
    bumps: &[],
    citation: &BELL_2023,
};

/// Of R-1234yf with R-1234ze(E).
pub(crate) static R1234YF_R1234ZEE: Departure = Departure {
    power: &[
        Power { n: 0.07264, t: 0.012645, d: 1, l: 1, g: 1.0, m: 0.0 },
        Power { n: -0.024746, t: 3.992829, d: 2, l: 2, g: 1.0, m: 0.0 },
    ],
    bumps: &[],
    citation: &BELL_2022,
};

/// Of R-134a with R-1234ze(E).
pub(crate) static R134A_R1234ZEE: Departure = Departure {
    power: &[
        Power { n: 0.068889, t: 3.184446, d: 1, l: 1, g: 1.0, m: 0.0 },
        Power { n: -0.004831, t: 2.034344, d: 2, l: 2, g: 1.0, m: 0.0 },
    ],
    bumps: &[],
    citation: &BELL_2022,
};

/// Of R-1234ze(E) with R-227ea.
pub(crate) static R1234ZEE_R227EA: Departure = Departure {
    power: &[
        Power { n: -0.057178, t: 1.290298, d: 1, l: 1, g: 1.0, m: 0.0 },
        Power { n: 0.031318, t: 0.038796, d: 2, l: 1, g: 1.0, m: 0.0 },
        Power { n: -0.027496, t: 2.640532, d: 3, l: 1, g: 1.0, m: 0.0 },
    ],
    bumps: &[],
    citation: &BELL_2023,
};
