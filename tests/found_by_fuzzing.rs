//! What the fuzz targets found (`make fuzz`), and the property behind it where it is one: a state that was answered is never
//! refused when it is given.

mod states;

use interstage::{DerivativeColumns, Error, Phase, Refrigerant, RowStatus, State};
use states::random::all_finite;
use states::{
    PAIRS, hottest_saturation, is_stable, outside_gap, pure_refrigerants, refrigerants, residual,
    tolerance_of,
};

/// Asks of a state that it holds, and that every pair of its properties has a state.
fn holds(refrigerant: &Refrigerant, state: &State, what: &str) {
    assert!(all_finite(state), "{what}: {state:?}");
    let critical = state.quality().is_some() && state.temperature() == refrigerant.critical_temperature();
    assert!(critical || is_stable(refrigerant, state), "{what}: not stable: {state:?}");
    let (left, allowed) = (residual(refrigerant, state), tolerance_of(refrigerant, state));
    assert!(left <= allowed, "{what}: {left:e} left where {allowed:e} may be: {state:?}");
    for pair in &PAIRS {
        let (a, b) = pair.of(state);
        let again = (pair.make)(refrigerant, a, b);
        assert!(again.is_ok(), "{what}: {}({a:?}, {b:?}) of {state:?}: {again:?}", pair.name);
    }
}

#[test]
fn states_at_the_ends_of_the_range_are_accepted_again() {
    for refrigerant in refrigerants().into_iter().flat_map(|r| [r.clone(), r.with_extrapolation()]) {
        let r = &refrigerant;
        let (coldest, hottest) = (r.minimum_temperature(), r.maximum_temperature());
        let (triple, critical) = (r.minimum_saturation_temperature(), r.critical_temperature());
        let what = format!("{refrigerant:?}");
        for p in [1e-9, 1e5, outside_gap(r, r.critical_pressure()), r.maximum_pressure()] {
            for t in [coldest, critical, hottest] {
                if let Ok(state) = r.state_pt(p, t) {
                    holds(r, &state, &format!("{what} at {p} Pa, {t} K"));
                }
            }
        }
        for t in [triple, 0.5 * (triple + critical), hottest_saturation(r)] {
            let saturation = r.saturation_at_temperature(t).unwrap();
            for state in [saturation.liquid(), saturation.vapor()] {
                holds(r, &state, &format!("{what} saturated at {t} K"));
            }
        }
    }
}

/// States that were refused when given again, or left more than rounding: next to saturated liquid of a blend, whose pressure
/// was taken from the equation; at the ends of its curves and next to the critical pressure.
#[test]
fn states_once_lost_in_rounding() {
    for (name, pair, a, b) in [
        ("R-407C", "state_rho_u", 1462.9353996574164, 104895.69735148968),
        ("R-1336mzz(Z)", "state_pt", 9.999999999999994e-10, 400.0),
        ("R-125", "state_ph", 3618276.0556193367, 363206.1004009351),
        ("R-404A", "state_ph", 3734799.999999998, 167083.94081734077),
        ("R-404A", "state_tu", 345.26999999999975, 336676.82679231744),
        ("R-404A", "state_t_rho", 345.2699999999998, 1267.8665249041326),
        ("R-404A", "state_rho_p", 1232.6020217181049, 72696775.77370237),
        ("R-410A", "state_ps", 4830360.257734425, 564.7884383957054),
        ("R-507A", "state_rho_u", 602.8682211926631, 321855.004314),
        ("R-744", "state_rho_s", 467.6000012817402, 1433.625337504019),
        ("R-744", "state_rho_p", 467.6000012817467, 7377298.372938743),
        ("R-744", "state_pt", 7376966.806479708, 304.12625605647014),
        ("R-22", "state_pt", 0.3794696733364767, 115.73),
        ("R-123", "state_pt", 4.218831721510162, 166.02662620045348),
        ("R-290", "state_ps", 136474.4148854276, -1396.1788593981391),
        ("R-11", "state_rho_u", 1.0155815411097917e-6, 327034.83012166416),
        ("R-114", "state_tu", 420.60772506339976, 377998.0157111107),
    ] {
        let r = Refrigerant::named(name).unwrap().with_extrapolation();
        let pair = PAIRS.iter().find(|known| known.name == pair).unwrap();
        let what = format!("{name} {}({a:?}, {b:?})", pair.name);
        let state = (pair.make)(&r, a, b).unwrap_or_else(|error| panic!("{what}: {error}"));
        holds(&r, &state, &what);
        assert_eq!(pair.of(&state), (a, b), "{what}: given back otherwise");
    }
    for (name, t, x) in
        [("R-407C", 358.6263100000002, 3.5e-323), ("R-1234ze(E)", 382.51300260459993, 2.2e-322)]
    {
        let r = Refrigerant::named(name).unwrap();
        holds(&r, &r.state_tx(t, x).unwrap(), &format!("{name} at {t:?} K with {x}"));
    }
    let r = Refrigerant::named("R-507A").unwrap();
    let state = r.state_px(3650388.542588527, 0.6484248637334501).unwrap();
    holds(&r, &state, "R-507A at the end of its curves");
}

/// At the highest temperature, next to the critical point, rounding of the entropy is a temperature that takes up enthalpy on the isobar:
/// the state was refused.
#[test]
fn enthalpy_and_entropy_at_the_highest_temperature_beside_the_critical_point() {
    let r = Refrigerant::named("R-236fa").unwrap();
    let state = r.state_hs(395448.0471210757, 1563.7907305570006).unwrap();
    assert_eq!(state.temperature(), r.maximum_temperature());
    holds(&r, &state, "R-236fa at its highest temperature");
}

/// Saturation just below the critical temperature had up to 2.4e-13 more than the critical pressure, and its pressure
/// no saturation.
#[test]
fn no_saturation_pressure_is_above_the_critical() {
    for r in pure_refrigerants() {
        let mut temperature = r.critical_temperature();
        for _ in 0..200 {
            let pressure = r.saturation_at_temperature(temperature).unwrap().pressure();
            assert!(pressure <= r.critical_pressure(), "{r:?} {temperature:?} K: {pressure:?} Pa");
            temperature = temperature.next_down();
        }
    }
}

/// A density a unit in the last place above the coldest liquid had any pressure between zero and that of saturation.
#[test]
fn no_liquid_has_a_lower_pressure_than_the_coldest_saturated_one() {
    let r = Refrigerant::named("R-22").unwrap();
    let answer = r.state_rho_p(1721.2781871734578, 9.619651328590494e-9);
    assert!(matches!(answer, Err(Error::OutOfRange { argument: "pressure", .. })), "{answer:?}");
    let liquid = r.saturation_at_temperature(r.minimum_saturation_temperature()).unwrap().liquid();
    let lowest = r.minimum_saturation_pressure();
    let mut density = liquid.density();
    for _ in 0..50 {
        let state = r.state_t_rho(liquid.temperature(), density).unwrap();
        assert!(state.phase() == Phase::Liquid && state.pressure() >= lowest, "{state:?}");
        density = density.next_up();
    }
}

/// Dew points at pressures of which nothing is stated were answered.
#[test]
fn blends_have_no_vapor_between_the_end_of_their_curves_and_the_critical_pressure() {
    let r = Refrigerant::named("R-407C").unwrap();
    let answer = r.state_tx(359.3395168304444, 1.0);
    assert!(matches!(answer, Err(Error::OutOfRange { argument: "temperature", .. })), "{answer:?}");
    let vapor = r.state_th(359.3395168304444, 384773.54325746594);
    assert!(vapor.is_err(), "{vapor:?}");
}

/// The density at the highest pressure and the lowest temperature is not always the highest: ammonia of 1993, extrapolated.
#[test]
fn the_densest_state_need_not_be_the_coldest() {
    let newest = Refrigerant::named("R-717").unwrap();
    let r = newest.with_equation("Tillner-Roth et al. 1993").unwrap().with_extrapolation();
    let at = |temperature| r.state_pt(r.maximum_pressure(), temperature).unwrap();
    let state = at(204.0);
    assert!(state.density() > 1.0001 * at(r.minimum_temperature()).density());
    holds(&r, &state, "R-717 of 1993 at 204 K");
}

/// Rounding of the cold liquid of R-22 (1e-10) was granted to its vapor.
#[test]
fn the_coldest_vapor_is_met_to_its_own_rounding() {
    let r = Refrigerant::named("R-22").unwrap();
    let (pressure, enthalpy) = (0.009995169388376713, 332709.81659205677);
    assert!(r.state_ph(pressure, enthalpy).is_err() && r.state_hs(enthalpy, 3044.9125412083126).is_err());
    assert!(r.state_rho_p(9.838856432172556e-7, 0.010948933089541332).is_err());
    let coldest = r.state_pt(pressure, r.minimum_temperature()).unwrap();
    holds(&r, &coldest, "R-22 at its triple point temperature");
}

/// Between the end of the bubble curve and the critical temperature the equation has liquid at lower pressures: inside the dome.
#[test]
fn no_liquid_of_a_blend_is_hotter_than_the_end_of_its_curves() {
    let r = Refrigerant::named("R-410A").unwrap();
    for (temperature, density) in
        [(343.8224874373471, 497.7977314268875), (343.81326861026895, 511.35997946908236)]
    {
        let answer = r.state_t_rho(temperature, density);
        assert!(matches!(answer, Err(Error::OutOfRange { argument: "pressure", .. })), "{answer:?}");
    }
    let answer = r.state_rho_h(511.35997946908236, 359427.28445969766);
    assert!(answer.is_err(), "{answer:?}");
}

/// Saturated liquid that is too hot by rounding is met by the hottest; nothing else is.
#[test]
fn the_hottest_liquid_of_a_blend_is_met_by_its_own_values_alone() {
    let r = Refrigerant::named("R-507A").unwrap();
    let hottest = 343.0774700000003;
    let liquid = r.state_px(3650388.542588527, 0.0).unwrap();
    assert!(r.state_tu(hottest, liquid.internal_energy()).is_ok());
    for energy in [0.0, 0.9 * liquid.internal_energy()] {
        let answer = r.state_tu(hottest, energy);
        assert!(!answer.is_ok_and(|state| (state.density() / liquid.density() - 1.0).abs() < 0.01));
    }
}

/// The exception for cold saturated liquid of a blend let its vapor and compressed liquid through as well.
#[test]
fn slopes_end_with_the_range_but_for_saturated_liquid() {
    let status = |name, temperature: f64, pressure: f64, density: f64, phase: Phase| {
        let r = Refrigerant::named(name).unwrap();
        let mut columns = DerivativeColumns::with_rows(1);
        r.derivatives_of(temperature, pressure, density, &[phase.code()], columns.as_slices()).unwrap();
        RowStatus::from_code(columns.status[0])
    };
    let vapor = (199.99998807907104, 0.7840253029848105, 4.601849213067124e-5);
    assert_eq!(status("R-404A", vapor.0, vapor.1, vapor.2, Phase::Vapor), Some(RowStatus::OutOfRange));
    let liquid = (199.951171875, 4742766.697403189, 1424.4657044356159);
    assert_eq!(status("R-410A", liquid.0, liquid.1, liquid.2, Phase::Liquid), Some(RowStatus::OutOfRange));
    // An infinite slope allowed for any pressure.
    let absurd =
        status("R-404A", 219.13453347960825, 1.0002534959947991e-9, 7.600908265722852e34, Phase::Vapor);
    assert_eq!(absurd, Some(RowStatus::Inconsistent));
    let r = Refrigerant::named("R-407C").unwrap();
    let coldest = r.saturation_at_pressure(r.minimum_saturation_pressure()).unwrap().liquid();
    assert!(coldest.temperature() < r.minimum_temperature() && r.derivatives(&coldest).is_ok());
}
