//! What the fuzz targets share: numbers and refrigerants out of bytes, and what is asked of every answer.
#![allow(
    dead_code,
    unused_imports,
    reason = "each target is a crate of its own and uses a part of this module"
)]

mod fluids;
mod number;
#[path = "../../../tests/states/mod.rs"]
mod shared;

pub(crate) use fluids::{Fluid, Known};
pub(crate) use number::{Nudge, Number};
pub(crate) use shared::random::{all_finite, is_about_input, try_random_state};
pub(crate) use shared::{Of, PAIRS, Pair, is_stable, residual, tolerance_of};

use interstage::{Error, Refrigerant, Saturation, State};

/// Asks of an error that it is typed, about the input, and true: a value within its own limits was not out of range.
pub(crate) fn error_holds(error: &Error, what: &str) {
    assert!(is_about_input(error), "{what}: {error}");
    if let Error::OutOfRange { value, minimum, maximum, .. } = error {
        assert!(minimum <= maximum && !(minimum..=maximum).contains(&value), "{what}: {error:?}");
    }
}

/// Asks of a state that it is finite, stable and satisfies the equation of state, and of its slopes that they hold.
pub(crate) fn state_holds(refrigerant: &Refrigerant, state: &State, what: &str) {
    assert!(all_finite(state), "{what}: {state:?}");
    // At the critical point itself saturated phases have no side of the line.
    let critical = state.quality().is_some() && state.temperature() == refrigerant.critical_temperature();
    assert!(critical || is_stable(refrigerant, state), "{what}: not stable: {state:?}");
    let left = residual(refrigerant, state);
    let allowed = tolerance_of(refrigerant, state);
    assert!(left <= allowed, "{what}: {left:e} left where {allowed:e} may be: {state:?}");
    slopes_hold(refrigerant, state, what);
    transport_holds(refrigerant, state, what);
}

/// Slopes are those of a stable phase, or undefined.
pub(crate) fn slopes_hold(refrigerant: &Refrigerant, state: &State, what: &str) {
    let slopes = match refrigerant.derivatives(state) {
        Ok(slopes) => slopes,
        Err(Error::Undefined { .. }) => return,
        Err(error) => panic!("{what}: no slopes of {state:?}: {error}"),
    };
    let finite =
        [slopes.cv(), slopes.speed_of_sound(), slopes.joule_thomson(), slopes.compressibility_factor()];
    let holds = finite.iter().all(|number| number.is_finite())
        && slopes.cv() > 0.0
        && slopes.cp() >= slopes.cv()
        && slopes.speed_of_sound() > 0.0
        && slopes.isentropic_exponent() > 0.0
        && slopes.isothermal_compressibility() > 0.0
        && !slopes.thermal_expansion().is_nan();
    assert!(holds, "{what}: {slopes:?} in {state:?}");
}

/// Transport properties are positive, or refused for a reason that is one.
pub(crate) fn transport_holds(refrigerant: &Refrigerant, state: &State, what: &str) {
    for (name, outcome) in [
        ("viscosity", refrigerant.viscosity(state)),
        ("thermal conductivity", refrigerant.thermal_conductivity(state)),
        ("Prandtl number", refrigerant.prandtl_number(state)),
    ] {
        match outcome {
            Ok(value) => {
                assert!(value > 0.0 && value.is_finite(), "{what}: {name} {value} of {state:?}");
            }
            Err(Error::NotPublished { .. } | Error::Undefined { .. } | Error::OutOfRange { .. }) => {}
            Err(error) => panic!("{what}: {name} of {state:?}: {error}"),
        }
    }
}

/// Both phases hold, the liquid is the denser one and the line rises.
pub(crate) fn saturation_holds(refrigerant: &Refrigerant, saturation: &Saturation, what: &str) {
    let (liquid, vapor) = (saturation.liquid(), saturation.vapor());
    let critical = refrigerant.critical_temperature();
    for state in [liquid, vapor] {
        // A blend has colder liquid at its lowest pressures than its range.
        if state.temperature() >= refrigerant.minimum_temperature() {
            state_holds(refrigerant, &state, what);
        } else {
            assert!(all_finite(&state), "{what}: {state:?}");
            slopes_hold(refrigerant, &state, what);
        }
    }
    assert!(liquid.density() >= vapor.density(), "{what}: {saturation:?}");
    assert!(saturation.latent_heat() >= 0.0 && liquid.entropy() <= vapor.entropy(), "{what}: {saturation:?}");
    assert!(saturation.temperature_glide() >= 0.0, "{what}: {saturation:?}");
    let slope = saturation.pressure_slope();
    assert!(slope > 0.0 && slope.is_finite(), "{what}: slope {slope} of {saturation:?}");
    // A smooth line: next to its end it does not turn any more.
    let close = critical * (1.0 - 1e-4);
    if refrigerant.composition().is_none() && saturation.temperature() > close {
        let before =
            refrigerant.saturation_at_temperature(close).map(|saturation| saturation.pressure_slope());
        let change = before.map(|before| (slope / before - 1.0).abs());
        assert!(change.is_ok_and(|change| change < 0.01), "{what}: slope {slope} of {saturation:?}");
    }
}
