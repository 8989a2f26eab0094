//! Tools that know no thermodynamics: numbers in lanes, dual numbers, a safeguarded Newton iteration, linear equations,
//! piecewise polynomials, means.

mod lanes;
mod linear;
mod mean;
mod patch;
mod piecewise;
mod quadrature;
mod real;
mod root;

pub(crate) use lanes::{Exponentials, Lanes};
pub(crate) use linear::solve;
pub(crate) use mean::logarithmic_mean;
pub(crate) use patch::Patch;
pub(crate) use piecewise::Piecewise;
pub(crate) use quadrature::gauss_legendre;
pub(crate) use real::{Dual, Real};
pub(crate) use root::{Bracket, Secant, newton};
