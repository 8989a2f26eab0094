//! The fundamental equation: reduced Helmholtz energy and its derivatives, and the properties they give.

mod equation;
mod residual;
mod size;

pub(crate) use equation::{Equation, Thermo};
pub(crate) use size::rounding;

#[cfg(test)]
mod dual_check;
