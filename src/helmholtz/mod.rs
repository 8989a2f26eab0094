//! The fundamental equation: reduced Helmholtz energy and its derivatives, and the properties they give.

mod equation;
mod residual;

pub(crate) use equation::{Equation, Thermo};

#[cfg(test)]
mod dual_check;
