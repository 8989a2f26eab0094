//! Published correlations for viscosity, thermal conductivity and surface tension, beside the fluids' equations.
//!
//! The coefficients were read from the data of general-purpose property libraries. The check values of the papers
//! confirm them where the tests have any; the viscosity of R-32, R-1234yf and R-1234ze(E), both properties of R-245fa
//! and of the four blends and the thermal conductivity of R-717, R-1233zd(E) and R-1336mzz(Z) stand on one transcription alone.

mod data;
mod r123;
mod r1233zde;
mod r1234yf;
mod r1234zee;
mod r125;
mod r1336mzzz;
mod r134a;
mod r152a;
mod r245fa;
mod r290;
mod r32;
mod r404a;
mod r407c;
mod r410a;
mod r507a;
mod r600a;
mod r717;
mod r718;
mod rainwater_friend;
mod surface_tension;

use crate::fluid::Citation;
pub(crate) use data::{
    BOLTZMANN, Collision, ConductivityEnhancement, CorrelationLength, Dense, Dilute, FreeVolume,
    InitialDensity, Quotient, Range, SurfaceTension, ThermalConductivity, Transport, Viscosity,
    ViscosityEnhancement,
};
pub(crate) use r134a::VISCOSITY as R134A_VISCOSITY;

/// The title is from memory.
const GELLER_2000: Citation = Citation {
    authors: "V. Z. Geller, D. Bivens, A. Yokozeki",
    title: "Viscosity of Mixed Refrigerants R404A, R407C, R410A, and R507A",
    journal: "8th Int. Refrig. Conf. at Purdue, paper 508",
    year: 2000,
    volume: None,
    pages: None,
    doi: None,
};

/// The title is from memory.
const GELLER_2001: Citation = Citation {
    authors: "V. Z. Geller, B. V. Nemzer, U. V. Cheremnykh",
    title: "Thermal Conductivity of the Refrigerant Mixtures R404A, R407C, R410A, and R507A",
    journal: "Int. J. Thermophys.",
    year: 2001,
    volume: Some("22"),
    pages: Some("1034-1043"),
    doi: Some("10.1023/A:1010691504352"),
};

/// What is published about the fluid with this designation.
pub(crate) fn of(designation: &'static str) -> Transport {
    let known = TRANSPORT.iter().find(|entry| entry.designation == designation);
    known.copied().unwrap_or(entry(designation, None, None, None))
}

/// Every fluid with a correlation, in the order of the catalogue.
pub(crate) static TRANSPORT: [Transport; 29] = [
    entry("R-11", None, None, Some(&surface_tension::R11)),
    entry("R-12", None, None, Some(&surface_tension::R12)),
    entry("R-22", None, None, Some(&surface_tension::R22)),
    entry("R-32", Some(&r32::VISCOSITY), None, Some(&surface_tension::R32)),
    entry("R-113", None, None, Some(&surface_tension::R113)),
    entry("R-114", None, None, Some(&surface_tension::R114)),
    entry("R-123", Some(&r123::VISCOSITY), Some(&r123::THERMAL_CONDUCTIVITY), Some(&surface_tension::R123)),
    entry("R-125", Some(&r125::VISCOSITY), Some(&r125::THERMAL_CONDUCTIVITY), Some(&surface_tension::R125)),
    entry(
        "R-134a",
        Some(&r134a::VISCOSITY),
        Some(&r134a::THERMAL_CONDUCTIVITY),
        Some(&surface_tension::R134A),
    ),
    entry("R-143a", None, None, Some(&surface_tension::R143A)),
    entry(
        "R-152a",
        Some(&r152a::VISCOSITY),
        Some(&r152a::THERMAL_CONDUCTIVITY),
        Some(&surface_tension::R152A),
    ),
    entry("R-227ea", None, None, Some(&surface_tension::R227EA)),
    entry("R-236fa", None, None, Some(&surface_tension::R236FA)),
    entry(
        "R-245fa",
        Some(&r245fa::VISCOSITY),
        Some(&r245fa::THERMAL_CONDUCTIVITY),
        Some(&surface_tension::R245FA),
    ),
    entry("R-290", Some(&r290::VISCOSITY), Some(&r290::THERMAL_CONDUCTIVITY), Some(&surface_tension::R290)),
    entry(
        "R-404A",
        Some(&r404a::VISCOSITY),
        Some(&r404a::THERMAL_CONDUCTIVITY),
        Some(&surface_tension::R404A),
    ),
    entry(
        "R-407C",
        Some(&r407c::VISCOSITY),
        Some(&r407c::THERMAL_CONDUCTIVITY),
        Some(&surface_tension::R407C),
    ),
    entry(
        "R-410A",
        Some(&r410a::VISCOSITY),
        Some(&r410a::THERMAL_CONDUCTIVITY),
        Some(&surface_tension::R410A),
    ),
    entry(
        "R-507A",
        Some(&r507a::VISCOSITY),
        Some(&r507a::THERMAL_CONDUCTIVITY),
        Some(&surface_tension::R507A),
    ),
    entry(
        "R-600a",
        Some(&r600a::VISCOSITY),
        Some(&r600a::THERMAL_CONDUCTIVITY),
        Some(&surface_tension::R600A),
    ),
    entry("R-717", Some(&r717::VISCOSITY), Some(&r717::THERMAL_CONDUCTIVITY), Some(&surface_tension::R717)),
    entry("R-718", Some(&r718::VISCOSITY), Some(&r718::THERMAL_CONDUCTIVITY), Some(&r718::SURFACE_TENSION)),
    entry("R-744", None, None, Some(&surface_tension::R744)),
    entry("R-1224yd(Z)", None, None, Some(&surface_tension::R1224YDZ)),
    entry("R-1233zd(E)", None, Some(&r1233zde::THERMAL_CONDUCTIVITY), Some(&surface_tension::R1233ZDE)),
    entry(
        "R-1234yf",
        Some(&r1234yf::VISCOSITY),
        Some(&r1234yf::THERMAL_CONDUCTIVITY),
        Some(&surface_tension::R1234YF),
    ),
    entry(
        "R-1234ze(E)",
        Some(&r1234zee::VISCOSITY),
        Some(&r1234zee::THERMAL_CONDUCTIVITY),
        Some(&surface_tension::R1234ZEE),
    ),
    entry("R-1336mzz(E)", None, None, Some(&surface_tension::R1336MZZE)),
    entry("R-1336mzz(Z)", None, Some(&r1336mzzz::THERMAL_CONDUCTIVITY), Some(&surface_tension::R1336MZZZ)),
];

const fn entry(
    designation: &'static str,
    viscosity: Option<&'static Viscosity>,
    thermal_conductivity: Option<&'static ThermalConductivity>,
    surface_tension: Option<&'static SurfaceTension>,
) -> Transport {
    Transport { designation, viscosity, thermal_conductivity, surface_tension }
}
