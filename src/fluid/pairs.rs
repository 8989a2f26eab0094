//! Published parameters of pairs of fluids in the multi-fluid mixture model.
//!
//! Each pair scales the reducing temperature (`_t`) and the reducing volume (`_v`), and may have a departure function with a
//! factor. `beta` belongs to the order of the pair: swapped it is its inverse. Lemmon and Jacobsen print other parameters for
//! reducing temperature and volume; theirs stand beside the pair and give the ones used here to the digits shown.

use super::departures::{self, Departure};
use super::{Citation, Fluid};

use super::{
    R134A, r11::R11, r12::R12, r13i1::R13I1, r22::R22, r32::R32, r113::R113, r114::R114, r123::R123,
    r125::R125, r143a::R143A, r152a::R152A, r227ea::R227EA, r236fa::R236FA, r245fa::R245FA, r290::R290,
    r600a::R600A, r717::R717, r718::R718, r744::R744, r1130e::R1130E, r1233zde::R1233ZDE, r1234yf::R1234YF,
    r1234zee::R1234ZEE, r1336mzze::R1336MZZE, r1336mzzz::R1336MZZZ,
};

/// How two fluids mix.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pair {
    pub(crate) fluids: [&'static Fluid; 2],
    pub(crate) temperature: Mixing,
    pub(crate) volume: Mixing,
    /// The departure function and its factor.
    pub(crate) departure: Option<(f64, &'static Departure)>,
    pub(crate) source: &'static Citation,
    /// What kind of fit it is.
    pub(crate) quality: &'static str,
}

/// Asymmetry and size of the cross term in a reducing quantity.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Mixing {
    pub(crate) beta: f64,
    pub(crate) gamma: f64,
}

pub(crate) static BELL_2025: Citation = Citation {
    authors: "I. H. Bell",
    title: "Modeling Mixtures Containing Refrigerants: Updated Interaction Parameters",
    journal: "J. Chem. Eng. Data",
    year: 2025,
    volume: None,
    pages: None,
    doi: Some("10.1021/acs.jced.4c00699"),
};

pub(crate) static BELL_2022: Citation = Citation {
    authors: "I. H. Bell",
    title: "Mixture Models for Refrigerants R-1234yf/134a, R-1234yf/1234ze(E), and R-134a/1234ze(E) and Interim Models for R-125/1234yf, R-1234ze(E)/227ea, and R-1234yf/152a",
    journal: "J. Phys. Chem. Ref. Data",
    year: 2022,
    volume: Some("51"),
    pages: Some("013103"),
    doi: Some("10.1063/5.0086060"),
};

pub(crate) static BELL_LEMMON_2016: Citation = Citation {
    authors: "I. H. Bell, E. W. Lemmon",
    title: "Automatic Fitting of Binary Interaction Parameters for Multi-fluid Helmholtz-Energy-Explicit Mixture Models",
    journal: "J. Chem. Eng. Data",
    year: 2016,
    volume: Some("61"),
    pages: Some("3752-3760"),
    doi: Some("10.1021/acs.jced.6b00257"),
};

pub(crate) static AKASAKA_2014: Citation = Citation {
    authors: "R. Akasaka",
    title: "A Thermodynamic Property Model for the R-134a/245fa Mixtures",
    journal: "15th Int. Refrig. Air Cond. Conf. at Purdue",
    year: 2014,
    volume: None,
    pages: None,
    doi: None,
};

pub(crate) static LEMMON_JACOBSEN_2004: Citation = Citation {
    authors: "E. W. Lemmon, R. T. Jacobsen",
    title: "Equations of State for Mixtures of R-32, R-125, R-134a, R-143a, and R-152a",
    journal: "J. Phys. Chem. Ref. Data",
    year: 2004,
    volume: Some("33"),
    pages: Some("593-620"),
    doi: Some("10.1063/1.1649997"),
};

pub(crate) static BELL_2023: Citation = Citation {
    authors: "I. H. Bell",
    title: "Mixture Model for Refrigerant Pairs R-32/1234yf, R-32/1234ze(E), R-1234ze(E)/227ea, R-1234yf/152a, and R-125/1234yf",
    journal: "J. Phys. Chem. Ref. Data",
    year: 2023,
    volume: Some("52"),
    pages: Some("013101"),
    doi: Some("10.1063/5.0135368"),
};

pub(crate) static MCLINDEN_2025: Citation = Citation {
    authors: "M. O. McLinden et al.",
    title: "Refrigerant Properties Development R&D - Final Report, Tables 4-3 and 4-4",
    journal: "NIST IR 8570",
    year: 2025,
    volume: None,
    pages: None,
    doi: Some("10.6028/NIST.IR.8570"),
};

pub(crate) static GERNERT_2013: Citation = Citation {
    authors: "G. J. Gernert",
    title: "A New Helmholtz Energy Model for Humid Gases and CCS Mixtures",
    journal: "PhD thesis, Ruhr-Universitaet Bochum",
    year: 2013,
    volume: None,
    pages: None,
    doi: None,
};

pub(crate) static KUNZ_WAGNER_2012: Citation = Citation {
    authors: "O. Kunz, W. Wagner",
    title: "The GERG-2008 Wide-Range Equation of State for Natural Gases and Other Mixtures",
    journal: "J. Chem. Eng. Data",
    year: 2012,
    volume: Some("57"),
    pages: Some("3032-3091"),
    doi: Some("10.1021/je300655b"),
};

pub(crate) static BELL_MCLINDEN_2020: Citation = Citation {
    authors: "I. H. Bell, M. O. McLinden",
    title: "The Status of Thermodynamic Data and Models for CF3I and its Mixtures",
    journal: "Int. J. Thermophys.",
    year: 2020,
    volume: Some("41"),
    pages: Some("125"),
    doi: Some("10.1007/s10765-020-02700-4"),
};

/// A pair without a departure function.
const fn pair(
    fluids: [&'static Fluid; 2],
    [beta_t, gamma_t, beta_v, gamma_v]: [f64; 4],
    source: &'static Citation,
    quality: &'static str,
) -> Pair {
    let temperature = Mixing { beta: beta_t, gamma: gamma_t };
    let volume = Mixing { beta: beta_v, gamma: gamma_v };
    Pair { fluids, temperature, volume, departure: None, source, quality }
}

/// The same with one.
const fn departing(pair: Pair, factor: f64, departure: &'static Departure) -> Pair {
    Pair { departure: Some((factor, departure)), ..pair }
}

const AUTOMATIC: &str = "automatic fit of two parameters to phase equilibrium alone";
const REFERENCE: &str = "fitted reference model";
const ONE_PARAMETER: &str = "fit of one parameter to few data";
const FOUR_PARAMETERS: &str = "fit of four parameters without a departure function";
const OLDER_COMPONENT: &str = "fitted with an older equation of state of R-245fa";
const TWO_PARAMETERS: &str = "fit of two parameters";

/// Every pair there are parameters for.
pub(crate) static PAIRS: [Pair; 120] = [
    pair([&R134A, &R1233ZDE], [1.0, 0.97102, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    departing(
        pair([&R134A, &R1234ZEE], [0.998593, 0.992009, 0.998995, 0.998621], &BELL_2022, REFERENCE),
        1.0,
        &departures::R134A_R1234ZEE,
    ),
    pair([&R134A, &R22], [0.99975, 0.99196, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    departing(
        pair([&R134A, &R245FA], [1.0, 1.00643, 0.992025, 1.0], &AKASAKA_2014, OLDER_COMPONENT),
        0.107754,
        &departures::METHANE_ETHANE,
    ),
    // Printed: xi = 2.324 K, zeta = 6.182e-07 m3/mol.
    departing(
        pair([&R134A, &R143A], [1.0, 1.0040046507, 1.0, 1.00163490608], &LEMMON_JACOBSEN_2004, REFERENCE),
        0.5557,
        &departures::HFC_GENERAL,
    ),
    // Printed: xi = 4.202 K, zeta = 4.223e-06 m3/mol.
    departing(
        pair([&R134A, &R152A], [1.0, 1.0056546887, 1.0, 1.01216871203], &LEMMON_JACOBSEN_2004, REFERENCE),
        2.0,
        &departures::HFC_GENERAL,
    ),
    pair([&R134A, &R227EA], [1.00135, 0.98915, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R134A, &R1336MZZE], [1.0, 0.980372, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R134A, &R236FA], [0.99958, 1.00198, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R123, &R134A], [0.99393, 0.98277, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R123, &R22], [0.99482, 1.01277, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R123, &R718], [1.09996, 0.95847, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R123, &R32], [0.98824, 0.98194, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R1234ZEE, &R245FA], [0.978878, 1.00424, 1.183949, 0.992729], &BELL_2025, FOUR_PARAMETERS),
    pair([&R1234ZEE, &R600A], [0.975553, 0.921592, 1.169554, 1.076561], &BELL_2025, FOUR_PARAMETERS),
    departing(
        pair([&R1234ZEE, &R227EA], [1.001247, 0.98918, 0.99929, 1.001581], &BELL_2023, REFERENCE),
        1.0,
        &departures::R1234ZEE_R227EA,
    ),
    pair([&R1234ZEE, &R1336MZZE], [1.0, 0.99623, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R11, &R22], [0.9996, 0.97759, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R11, &R12], [1.00726, 1.00102, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R245FA, &R1233ZDE], [1.0, 0.977334, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    departing(
        pair([&R1234YF, &R134A], [1.000026, 0.987057, 1.000272, 1.003747], &BELL_2022, REFERENCE),
        1.0,
        &departures::R1234YF_R134A,
    ),
    pair([&R1234YF, &R1233ZDE], [1.0, 0.988723, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    departing(
        pair([&R1234YF, &R1234ZEE], [0.998886, 0.999309, 0.999302, 0.99859], &BELL_2022, REFERENCE),
        1.0,
        &departures::R1234YF_R1234ZEE,
    ),
    pair([&R1234YF, &R143A], [1.00024, 0.99523, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    departing(
        pair([&R1234YF, &R152A], [0.995987, 0.978058, 0.99971, 1.008608], &BELL_2023, REFERENCE),
        1.0,
        &departures::R1234YF_R152A,
    ),
    pair([&R1234YF, &R227EA], [0.99938, 0.99916, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    departing(
        pair([&R1336MZZZ, &R1130E], [0.974, 0.9195, 1.148, 0.9251], &MCLINDEN_2025, REFERENCE),
        1.0,
        &departures::R1336MZZZ_R1130E,
    ),
    pair([&R717, &R134A], [1.0, 0.912635, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R717, &R1234YF], [1.0, 0.859614, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R717, &R290], [1.04145, 0.79017, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R717, &R125], [1.04548, 0.96866, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R744, &R134A], [1.01036, 1.01129, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R744, &R123], [0.98639, 1.05886, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R744, &R1233ZDE], [1.0, 1.029404, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R744, &R1234ZEE], [1.008025, 0.973804, 1.142918, 1.076023], &BELL_2025, FOUR_PARAMETERS),
    pair([&R744, &R22], [1.00394, 1.01254, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R744, &R1234YF], [1.025281, 0.972965, 1.051991, 1.029336], &BELL_2025, FOUR_PARAMETERS),
    departing(
        pair([&R744, &R718], [1.030538, 0.828472, 1.021392, 0.895156], &GERNERT_2013, REFERENCE),
        1.0,
        &departures::R744_R718,
    ),
    pair([&R744, &R290], [1.033620538, 0.908772477, 0.996898004, 1.047596298], &KUNZ_WAGNER_2012, REFERENCE),
    pair([&R744, &R600A], [1.023339824, 0.929982936, 1.076551882, 1.081909003], &KUNZ_WAGNER_2012, REFERENCE),
    pair([&R744, &R32], [1.00312, 0.99971, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R744, &R125], [1.0115, 0.96741, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R744, &R143A], [1.02027, 0.98474, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R744, &R152A], [1.00224, 1.00646, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R744, &R12], [1.01811, 0.9576, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R744, &R227EA], [1.00608, 1.00235, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R744, &R13I1], [1.01377, 0.963166, 1.0, 1.0], &BELL_MCLINDEN_2020, TWO_PARAMETERS),
    pair([&R290, &R134A], [1.01148, 0.89674, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R290, &R1234ZEE], [1.01347, 0.932901, 0.997417, 1.014015], &BELL_2025, FOUR_PARAMETERS),
    pair([&R290, &R22], [1.0, 0.942193, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R290, &R245FA], [1.02121, 0.92286, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R290, &R1234YF], [1.006037, 0.937793, 1.013434, 1.013195], &BELL_2025, FOUR_PARAMETERS),
    pair([&R290, &R718], [1.0, 0.600340961, 1.0, 1.011759763], &KUNZ_WAGNER_2012, REFERENCE),
    departing(
        pair(
            [&R290, &R600A],
            [0.998012298, 1.005250774, 0.999243146, 1.001156119],
            &KUNZ_WAGNER_2012,
            REFERENCE,
        ),
        -0.0551609771024,
        &departures::ALKANE_GENERAL,
    ),
    pair([&R290, &R32], [1.00067, 0.86421, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R290, &R125], [1.00883, 0.89892, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R290, &R143A], [1.00987, 0.91581, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R290, &R152A], [1.01223, 0.92009, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R290, &R113], [1.0047, 1.01447, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R290, &R114], [1.00332, 0.98055, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R290, &R227EA], [1.02125, 0.91449, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R290, &R1336MZZE], [1.0, 0.941255, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R290, &R236FA], [1.02204, 0.91493, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R600A, &R134A], [1.00145, 0.89668, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R600A, &R245FA], [1.01357, 0.90803, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R600A, &R1234YF], [1.0073, 0.93536, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R600A, &R718], [1.0, 1.0, 1.0, 1.0], &KUNZ_WAGNER_2012, REFERENCE),
    pair([&R600A, &R32], [0.9765, 0.86238, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R600A, &R125], [0.98858, 0.90644, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R600A, &R143A], [1.00047, 0.9195, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R600A, &R152A], [0.99318, 0.91845, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R600A, &R227EA], [1.01326, 0.90916, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    // Printed: xi = 7.909 K, zeta = -2.039e-06 m3/mol.
    departing(
        pair([&R32, &R134A], [1.0, 1.01140758104, 1.0, 1.01372072588], &LEMMON_JACOBSEN_2004, REFERENCE),
        1.0,
        &departures::R32_R134A,
    ),
    departing(
        pair([&R32, &R1234ZEE], [1.005148, 0.946105, 0.999032, 1.029821], &BELL_2023, REFERENCE),
        1.0,
        &departures::R32_R1234ZEE,
    ),
    pair([&R32, &R22], [1.0, 0.993276, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    departing(
        pair([&R32, &R1234YF], [1.011011, 0.966965, 1.007852, 1.037663], &BELL_2023, REFERENCE),
        1.0,
        &departures::R32_R1234YF,
    ),
    // Printed: xi = 28.95 K, zeta = -6.008e-06 m3/mol.
    departing(
        pair([&R32, &R125], [1.0, 1.04209008199, 1.0, 1.00509341281], &LEMMON_JACOBSEN_2004, REFERENCE),
        1.0,
        &departures::R32_R125,
    ),
    pair([&R32, &R12], [1.0, 0.906355, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R32, &R13I1], [0.993026, 0.934839, 1.013481, 0.858023], &BELL_2025, FOUR_PARAMETERS),
    pair([&R32, &R1336MZZE], [1.0, 0.993183, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    // Printed: xi = -0.4326 K, zeta = -3.453e-07 m3/mol.
    departing(
        pair([&R125, &R134A], [1.0, 1.00059913871, 1.0, 0.999297721471], &LEMMON_JACOBSEN_2004, REFERENCE),
        1.0,
        &departures::HFC_GENERAL,
    ),
    pair([&R125, &R1234ZEE], [0.994388, 1.00124, 1.028287, 0.999334], &BELL_2025, FOUR_PARAMETERS),
    pair([&R125, &R245FA], [0.99836, 1.01325, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    departing(
        pair([&R125, &R1234YF], [0.999969, 0.998028, 0.998226, 1.006068], &BELL_2023, REFERENCE),
        1.0,
        &departures::R125_R1234YF,
    ),
    // Printed: xi = 5.551 K, zeta = -4.452e-07 m3/mol.
    departing(
        pair([&R125, &R143A], [1.0, 1.00815128574, 1.0, 0.999313213023], &LEMMON_JACOBSEN_2004, REFERENCE),
        1.1697,
        &departures::HFC_GENERAL,
    ),
    pair([&R125, &R152A], [0.99429, 1.00282, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R125, &R227EA], [1.00101, 1.00302, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R125, &R13I1], [0.989972, 0.955147, 1.009413, 1.004957], &BELL_2025, FOUR_PARAMETERS),
    pair([&R125, &R236FA], [0.9996, 1.01028, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R143A, &R1234ZEE], [0.975352, 0.997695, 1.249976, 1.03652], &BELL_2025, FOUR_PARAMETERS),
    pair([&R143A, &R22], [1.0, 1.000486, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R143A, &R32], [0.99734, 0.97488, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R143A, &R152A], [0.99955, 0.99038, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R143A, &R236FA], [0.99911, 1.01834, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R152A, &R1233ZDE], [1.0, 0.979525, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R152A, &R1234ZEE], [1.011543, 1.00236, 0.896336, 0.932409], &BELL_2025, FOUR_PARAMETERS),
    pair([&R152A, &R22], [1.00239, 1.01169, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R152A, &R245FA], [1.008563, 0.959794, 1.046161, 1.001461], &BELL_2025, FOUR_PARAMETERS),
    pair([&R152A, &R717], [1.0, 0.915213, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R152A, &R32], [0.99966, 0.99709, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R152A, &R114], [1.0, 0.935196, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R152A, &R227EA], [1.0088, 0.99527, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R152A, &R1336MZZE], [1.0, 0.974439, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R12, &R134A], [1.0075, 0.941, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R12, &R22], [0.99654, 0.96477, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R12, &R143A], [0.9859, 0.95199, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R12, &R152A], [1.01876, 0.94387, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R113, &R22], [0.98836, 0.99757, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R113, &R152A], [0.98806, 0.95473, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R113, &R114], [0.99859, 1.00476, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R114, &R22], [1.003, 0.9658, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R114, &R12], [1.00164, 0.99126, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R227EA, &R32], [0.98611, 0.97064, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R227EA, &R1336MZZE], [1.0, 0.99773, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R13I1, &R1234ZEE], [1.00346, 0.96604, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R13I1, &R290], [0.99452, 0.98807, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R13I1, &R600A], [1.002, 0.98459, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R13I1, &R152A], [0.99875, 0.96404, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
    pair([&R236FA, &R600A], [1.0, 0.906586, 1.0, 1.0], &BELL_2025, ONE_PARAMETER),
    pair([&R236FA, &R32], [0.99365, 0.99661, 1.0, 1.0], &BELL_LEMMON_2016, AUTOMATIC),
];

/// The papers behind all pairs and their departure functions, each once.
pub(crate) fn citations() -> impl Iterator<Item = &'static Citation> {
    [
        &BELL_2025,
        &BELL_2022,
        &BELL_LEMMON_2016,
        &AKASAKA_2014,
        &LEMMON_JACOBSEN_2004,
        &BELL_2023,
        &MCLINDEN_2025,
        &GERNERT_2013,
        &KUNZ_WAGNER_2012,
        &BELL_MCLINDEN_2020,
    ]
    .into_iter()
}

/// The parameters of two fluids, in whichever order, if there are any; whether the order is that of the pair.
pub(crate) fn between(first: &Fluid, second: &Fluid) -> Option<(&'static Pair, bool)> {
    let is = |a: &Fluid, b: &Fluid| std::ptr::eq(a, b);
    PAIRS.iter().find_map(|pair| {
        let [a, b] = pair.fluids;
        if is(a, first) && is(b, second) {
            Some((pair, true))
        } else if is(a, second) && is(b, first) {
            Some((pair, false))
        } else {
            None
        }
    })
}
