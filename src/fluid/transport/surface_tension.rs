//! Surface tension, fluid by fluid; that of water is in its own file.
//!
//! The temperature of a correlation is the critical one its authors used; it may differ from that of the
//! equation of state by some hundredths of a kelvin.

use super::data::SurfaceTension;
use crate::fluid::Citation;

const MULERO_2012: Citation = Citation {
    authors: "A. Mulero, I. Cachadina, M. I. Parra",
    title: "Recommended Correlations for the Surface Tension of Common Fluids",
    journal: "J. Phys. Chem. Ref. Data",
    year: 2012,
    volume: Some("41"),
    pages: Some("043105"),
    doi: Some("10.1063/1.4768782"),
};

/// The title is shortened.
const MULERO_2014: Citation = Citation {
    authors: "A. Mulero, I. Cachadina",
    title: "Recommended Correlations for the Surface Tension of Several Fluids",
    journal: "J. Phys. Chem. Ref. Data",
    year: 2014,
    volume: Some("43"),
    pages: Some("023104"),
    doi: Some("10.1063/1.4878755"),
};

const KONDOU_2015: Citation = Citation {
    authors: "C. Kondou, R. Nagata, N. Nii, S. Koyama, Y. Higashi",
    title: "Surface Tension of Low GWP Refrigerants R1243zf, R1234ze(Z), and R1233zd(E)",
    journal: "Int. J. Refrig.",
    year: 2015,
    volume: Some("53"),
    pages: Some("80-89"),
    doi: Some("10.1016/j.ijrefrig.2015.01.005"),
};

/// The title is shortened.
const HUBER_2018: Citation = Citation {
    authors: "M. L. Huber",
    title: "Models for Viscosity, Thermal Conductivity, and Surface Tension of Selected Pure Fluids",
    journal: "NIST IR 8209",
    year: 2018,
    volume: None,
    pages: None,
    doi: Some("10.6028/NIST.IR.8209"),
};

/// The title is from memory.
const IWASAKI_2020: Citation = Citation {
    authors: "S. Iwasaki, C. Kondou, Y. Higashi",
    title: "Correlation Assessment and Temperature Dependence Check of Surface Tension and Parachor for New Low-GWP Pure Refrigerants",
    journal: "Trans. JSRAE",
    year: 2020,
    volume: Some("37"),
    pages: Some("73-80"),
    doi: Some("10.11322/tjsrae.19-36TG_EM_OA"),
};

/// The title is from memory.
const OKADA_1999: Citation = Citation {
    authors: "M. Okada, T. Shibata, Y. Sato, Y. Higashi",
    title: "Surface Tensions of HFC Refrigerant Mixtures",
    journal: "Int. J. Thermophys.",
    year: 1999,
    volume: Some("20"),
    pages: Some("119-127"),
    doi: Some("10.1023/A:1021482231102"),
};

///
pub(crate) static R11: SurfaceTension =
    SurfaceTension { citation: MULERO_2012, temperature: 471.11, terms: &[(0.06212, 1.247)] };

///
pub(crate) static R12: SurfaceTension = SurfaceTension {
    citation: MULERO_2012,
    temperature: 385.12,
    terms: &[(-0.000124, 0.4318), (0.05662, 1.263)],
};

///
pub(crate) static R22: SurfaceTension = SurfaceTension {
    citation: MULERO_2012,
    temperature: 369.295,
    terms: &[(3.0587, 1.41809), (-2.99856, 1.42291)],
};

///
pub(crate) static R32: SurfaceTension =
    SurfaceTension { citation: MULERO_2012, temperature: 351.255, terms: &[(0.07147, 1.246)] };

///
pub(crate) static R113: SurfaceTension =
    SurfaceTension { citation: MULERO_2012, temperature: 487.21, terms: &[(0.0556, 1.24)] };

///
pub(crate) static R114: SurfaceTension =
    SurfaceTension { citation: MULERO_2012, temperature: 418.83, terms: &[(0.05239, 1.258)] };

///
pub(crate) static R123: SurfaceTension =
    SurfaceTension { citation: MULERO_2012, temperature: 456.831, terms: &[(0.056151, 1.2367)] };

///
pub(crate) static R125: SurfaceTension =
    SurfaceTension { citation: MULERO_2012, temperature: 339.173, terms: &[(0.05252, 1.237)] };

/// R-134a.
pub(crate) static R134A: SurfaceTension =
    SurfaceTension { citation: MULERO_2012, temperature: 374.21, terms: &[(0.05801, 1.241)] };

/// R-143a.
pub(crate) static R143A: SurfaceTension =
    SurfaceTension { citation: MULERO_2014, temperature: 345.857, terms: &[(0.0537, 1.25)] };

/// R-152a.
pub(crate) static R152A: SurfaceTension =
    SurfaceTension { citation: MULERO_2012, temperature: 386.411, terms: &[(0.05808, 1.2115)] };

/// R-227ea.
pub(crate) static R227EA: SurfaceTension = SurfaceTension {
    citation: MULERO_2012,
    temperature: 374.9,
    terms: &[(0.06127, 1.192), (-0.009516, 0.9795), (-0.00192, 1.421)],
};

/// R-236fa.
pub(crate) static R236FA: SurfaceTension =
    SurfaceTension { citation: MULERO_2012, temperature: 398.07, terms: &[(0.05389, 1.249)] };

/// R-245fa.
pub(crate) static R245FA: SurfaceTension = SurfaceTension {
    citation: MULERO_2012,
    temperature: 427.16,
    terms: &[(0.073586, 1.0983), (0.0103, 0.60033), (-0.02663, 0.72765)],
};

///
pub(crate) static R290: SurfaceTension = SurfaceTension {
    citation: MULERO_2012,
    temperature: 369.89,
    terms: &[(0.05334, 1.235), (-0.01748, 4.404)],
};

/// R-404A.
pub(crate) static R404A: SurfaceTension =
    SurfaceTension { citation: OKADA_1999, temperature: 345.18, terms: &[(0.0536, 1.249)] };

/// R-407C.
pub(crate) static R407C: SurfaceTension =
    SurfaceTension { citation: OKADA_1999, temperature: 359.23, terms: &[(0.05877, 1.229)] };

/// R-410A.
pub(crate) static R410A: SurfaceTension =
    SurfaceTension { citation: OKADA_1999, temperature: 344.56, terms: &[(0.06238, 1.246)] };

/// R-507A.
pub(crate) static R507A: SurfaceTension =
    SurfaceTension { citation: OKADA_1999, temperature: 343.76, terms: &[(0.05344, 1.25)] };

/// R-600a.
pub(crate) static R600A: SurfaceTension = SurfaceTension {
    citation: MULERO_2012,
    temperature: 407.81,
    terms: &[(-0.01639, 2.102), (0.06121, 1.304)],
};

///
pub(crate) static R717: SurfaceTension = SurfaceTension {
    citation: MULERO_2012,
    temperature: 405.4,
    terms: &[(0.1028, 1.211), (-0.09453, 5.585)],
};

///
pub(crate) static R744: SurfaceTension =
    SurfaceTension { citation: MULERO_2012, temperature: 304.128, terms: &[(0.07863, 1.254)] };

/// R-1224yd(Z).
pub(crate) static R1224YDZ: SurfaceTension =
    SurfaceTension { citation: HUBER_2018, temperature: 428.69, terms: &[(0.06195, 1.277)] };

/// R-1233zd(E).
///
/// The critical temperature is that of the equation of state; the paper's own was not read.
pub(crate) static R1233ZDE: SurfaceTension =
    SurfaceTension { citation: KONDOU_2015, temperature: 438.86, terms: &[(0.06195, 1.277)] };

/// R-1234yf.
pub(crate) static R1234YF: SurfaceTension =
    SurfaceTension { citation: MULERO_2012, temperature: 367.85, terms: &[(0.06274, 1.394)] };

/// R-1234ze(E).
pub(crate) static R1234ZEE: SurfaceTension = SurfaceTension {
    citation: MULERO_2014,
    temperature: 382.51,
    terms: &[(0.06158, 1.281), (0.8247, 6.505)],
};

/// R-1336mzz(E).
pub(crate) static R1336MZZE: SurfaceTension =
    SurfaceTension { citation: IWASAKI_2020, temperature: 403.53, terms: &[(0.05371, 1.27)] };

/// R-1336mzz(Z).
pub(crate) static R1336MZZZ: SurfaceTension =
    SurfaceTension { citation: HUBER_2018, temperature: 444.5, terms: &[(0.06, 1.22)] };
