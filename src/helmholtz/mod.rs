//! The fundamental equation: reduced Helmholtz energy and its derivatives, and the properties they give.

mod equation;
mod ideal;
mod nonanalytic;
mod residual;
mod size;

pub(crate) use equation::{Equation, TOGETHER, Thermo};
pub(crate) use size::rounding;

#[cfg(test)]
mod dual_check;
