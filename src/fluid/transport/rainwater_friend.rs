//! The second viscosity virial coefficient of the Lennard-Jones fluid, common to all gases.
//!
//! J. C. Rainwater, D. G. Friend: Second viscosity and thermal-conductivity virial coefficients of gases:
//! Extension to low reduced temperature. Phys. Rev. A 36 (1987) 4062-4066, doi 10.1103/PhysRevA.36.4062; as the
//! series of E. Vogel, C. Kuechenmeister, E. Bich, A. Laesecke, J. Phys. Chem. Ref. Data 27 (1998) 947-970,
//! doi 10.1063/1.556025.

use super::data::Pairs;

/// As printed in 1998.
pub(crate) const VOGEL_1998: Pairs = &[
    (-19.572881, 0.0),
    (219.73999, -0.25),
    (-1015.3226, -0.5),
    (2471.01251, -0.75),
    (-3375.1717, -1.0),
    (2491.6597, -1.25),
    (-787.26086, -1.5),
    (14.085455, -2.5),
    (-0.34664158, -5.5),
];

/// As later papers print it, one coefficient a digit shorter.
pub(crate) const ROUNDED: Pairs = &[
    (-19.572881, 0.0),
    (219.73999, -0.25),
    (-1015.3226, -0.5),
    (2471.0125, -0.75),
    (-3375.1717, -1.0),
    (2491.6597, -1.25),
    (-787.26086, -1.5),
    (14.085455, -2.5),
    (-0.34664158, -5.5),
];
