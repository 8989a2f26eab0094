//! The fundamental equation: reduced Helmholtz energy and its derivatives, and the properties they give.

mod equation;
mod ideal;
#[allow(dead_code, reason = "blends by the mixture model come next")]
mod mixture;
mod nonanalytic;
mod reducing;
mod residual;
mod size;

pub(crate) use equation::{Equation, TOGETHER, Thermo};
#[allow(unused_imports, reason = "blends by the mixture model come next")]
pub(crate) use mixture::{MOST, Mixture, PerVolume};
pub(crate) use size::rounding;

#[cfg(test)]
mod dual_check;
#[cfg(test)]
mod mixture_check;
