//! The fundamental equation: reduced Helmholtz energy and its derivatives, and the properties they give.

mod equation;
mod ideal;
mod mixture;
mod nonanalytic;
mod reducing;
mod residual;
mod size;

pub(crate) use equation::{Equation, TOGETHER, Thermo};
pub(crate) use mixture::{MOST, Mixture, PerVolume};
#[cfg(test)]
pub(crate) use size::rounding;

#[cfg(test)]
mod dual_check;
#[cfg(test)]
mod mixture_check;
