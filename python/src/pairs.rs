//! Which two properties fix a state, and the call of the core that solves for it.

use interstage::{Refrigerant, Result, State, StateSlices};
use numpy::ndarray::ArrayView1;
use pyo3::prelude::*;

use crate::errors::wrong_argument;

/// The properties a state can be asked for by, in the order of the arguments of `Refrigerant.state`.
pub(crate) const PROPERTIES: [&str; 7] = ["T", "p", "h", "s", "rho", "x", "u"];

/// A column of numbers with any stride.
pub(crate) type View<'a> = ArrayView1<'a, f64>;

/// How the core solves for a state from two properties.
#[derive(Debug)]
pub(crate) struct Pair {
    names: (&'static str, &'static str),
    pub(crate) state: fn(&Refrigerant, f64, f64) -> Result<State>,
    pub(crate) states: fn(&Refrigerant, View<'_>, View<'_>, StateSlices<'_>) -> Result<()>,
}

macro_rules! pairs {
    ($($a:literal, $b:literal: $state:ident, $states:ident, |$x:ident, $y:ident| ($first:ident, $second:ident);)*) => {
        /// Every valid pair; the names stand in the order of [`PROPERTIES`].
        static PAIRS: &[Pair] = &[$(Pair {
            names: ($a, $b),
            state: |refrigerant, $x, $y| refrigerant.$state($first, $second),
            states: |refrigerant, $x, $y, out| refrigerant.$states($first, $second, out),
        },)*];
    };
}

pairs! {
    "T", "p": state_pt, states_pt, |t, p| (p, t);
    "T", "h": state_th, states_th, |t, h| (t, h);
    "T", "s": state_ts, states_ts, |t, s| (t, s);
    "T", "rho": state_t_rho, states_t_rho, |t, rho| (t, rho);
    "T", "x": state_tx, states_tx, |t, x| (t, x);
    "T", "u": state_tu, states_tu, |t, u| (t, u);
    "p", "h": state_ph, states_ph, |p, h| (p, h);
    "p", "s": state_ps, states_ps, |p, s| (p, s);
    "p", "rho": state_rho_p, states_rho_p, |p, rho| (rho, p);
    "p", "x": state_px, states_px, |p, x| (p, x);
    "p", "u": state_pu, states_pu, |p, u| (p, u);
    "h", "s": state_hs, states_hs, |h, s| (h, s);
    "h", "rho": state_rho_h, states_rho_h, |h, rho| (rho, h);
    "s", "rho": state_rho_s, states_rho_s, |s, rho| (rho, s);
    "rho", "u": state_rho_u, states_rho_u, |rho, u| (rho, u);
}

/// The pair of two properties, or the refusal that lists the valid ones.
pub(crate) fn pair(py: Python<'_>, first: &str, second: &str) -> PyResult<&'static Pair> {
    match PAIRS.iter().find(|pair| pair.names == (first, second)) {
        Some(pair) => Ok(pair),
        None => Err(refused(py, &[first, second])),
    }
}

/// The refusal of anything but a valid pair.
pub(crate) fn refused(py: Python<'_>, given: &[&str]) -> PyErr {
    let valid: Vec<String> = PAIRS.iter().map(|Pair { names: (a, b), .. }| format!("({a}, {b})")).collect();
    let what = match given {
        [] => "nothing was given".to_owned(),
        [one] => format!("only {one} was given"),
        [first, second] => format!("{first} and {second} do not fix a state here"),
        more => format!("{} were given", more.join(", ")),
    };
    let message = format!("a state is fixed by two properties: {what}; valid pairs are {}", valid.join(", "));
    wrong_argument(py, &given.join(", "), &message)
}
