//! Which two properties fix a state, and the call of the core that solves for it.

use interstage::{Refrigerant, Result, State, StateSlices};
use numpy::ndarray::ArrayView1;
use pyo3::prelude::*;

use crate::errors::wrong_argument;

/// The properties a state can be asked for by, in the order of the arguments of `Refrigerant.state`.
pub(crate) const PROPERTIES: [&str; 7] = ["T", "p", "h", "s", "rho", "x", "u"];

/// Places in [`PROPERTIES`].
const T: usize = 0;
const P: usize = 1;
const H: usize = 2;
const S: usize = 3;
const RHO: usize = 4;
const X: usize = 5;
const U: usize = 6;

/// A column of numbers with any stride.
pub(crate) type View<'a> = ArrayView1<'a, f64>;

/// How the core solves for a state from two properties.
#[derive(Debug)]
pub(crate) struct Pair {
    /// Places of the two, in rising order.
    places: (usize, usize),
    pub(crate) state: fn(&Refrigerant, f64, f64) -> Result<State>,
    pub(crate) states: fn(&Refrigerant, View<'_>, View<'_>, StateSlices<'_>) -> Result<()>,
}

macro_rules! pairs {
    ($($a:ident, $b:ident: $state:ident, $states:ident, |$x:ident, $y:ident| ($first:ident, $second:ident);)*) => {
        /// Every valid pair.
        static PAIRS: &[Pair] = &[$(Pair {
            places: ($a, $b),
            state: |refrigerant, $x, $y| refrigerant.$state($first, $second),
            states: |refrigerant, $x, $y, out| refrigerant.$states($first, $second, out),
        },)*];
    };
}

pairs! {
    T, P: state_pt, states_pt, |t, p| (p, t);
    T, H: state_th, states_th, |t, h| (t, h);
    T, S: state_ts, states_ts, |t, s| (t, s);
    T, RHO: state_t_rho, states_t_rho, |t, rho| (t, rho);
    T, X: state_tx, states_tx, |t, x| (t, x);
    T, U: state_tu, states_tu, |t, u| (t, u);
    P, H: state_ph, states_ph, |p, h| (p, h);
    P, S: state_ps, states_ps, |p, s| (p, s);
    P, RHO: state_rho_p, states_rho_p, |p, rho| (rho, p);
    P, X: state_px, states_px, |p, x| (p, x);
    P, U: state_pu, states_pu, |p, u| (p, u);
    H, S: state_hs, states_hs, |h, s| (h, s);
    H, RHO: state_rho_h, states_rho_h, |h, rho| (rho, h);
    S, RHO: state_rho_s, states_rho_s, |s, rho| (rho, s);
    RHO, U: state_rho_u, states_rho_u, |rho, u| (rho, u);
}

/// The pair of two properties by their places in [`PROPERTIES`], or the refusal that lists the valid ones.
pub(crate) fn pair(py: Python<'_>, first: usize, second: usize) -> PyResult<&'static Pair> {
    match PAIRS.iter().find(|pair| pair.places == (first, second)) {
        Some(pair) => Ok(pair),
        None => Err(refused(py, &[first, second])),
    }
}

/// The same by names.
pub(crate) fn pair_named(py: Python<'_>, first: &str, second: &str) -> PyResult<&'static Pair> {
    let place = |name: &str| PROPERTIES.iter().position(|&known| known == name).unwrap_or(PROPERTIES.len());
    pair(py, place(first), place(second))
}

/// The refusal of anything but a valid pair.
pub(crate) fn refused(py: Python<'_>, given: &[usize]) -> PyErr {
    let name = |place: usize| PROPERTIES.get(place).copied().unwrap_or("an unknown property");
    let given: Vec<&str> = given.iter().map(|&place| name(place)).collect();
    let valid = PAIRS.iter().map(|pair| format!("({}, {})", name(pair.places.0), name(pair.places.1)));
    let valid: Vec<String> = valid.collect();
    let what = match given.as_slice() {
        [] => "nothing was given".to_owned(),
        [one] => format!("only {one} was given"),
        [first, second] => format!("{first} and {second} do not fix a state here"),
        more => format!("{} were given", more.join(", ")),
    };
    let message = format!("a state is fixed by two properties: {what}; valid pairs are {}", valid.join(", "));
    wrong_argument(py, &given.join(", "), &message)
}
