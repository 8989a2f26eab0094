//! From a state to every pair of its properties and back.
#![expect(clippy::unwrap_used, reason = "a helper that fails is a failed test")]

mod states;

use interstage::{Phase, Refrigerant, State};
use states::{
    Of, PAIRS, Pair, Slopes, hottest_saturation, is_singular, is_stable, outside_gap, pure_refrigerants,
    refrigerants, residual, tolerance_of, wet_tolerance,
};

/// States of one phase, from the equation at temperature and density: gas, liquid and dense fluid over the whole validity
/// range, down to a deep vacuum, along both sides of the saturation line, and around the critical point.
fn one_phase_states(refrigerant: &Refrigerant) -> Vec<State> {
    let (coldest, hottest) = (refrigerant.minimum_temperature(), refrigerant.maximum_temperature());
    let (highest, critical) = (refrigerant.maximum_pressure(), refrigerant.critical_temperature());
    let mut found = Vec::new();
    let mut at = |t: f64, rho: f64| {
        if let Ok(state) = refrigerant.state_t_rho(t, rho)
            && state.phase() != Phase::TwoPhase
        {
            found.push(state);
        }
    };
    for i in 0..=30 {
        let t = (coldest + (hottest - coldest) * f64::from(i) / 30.0).min(hottest);
        // Pressures from 1 mPa to the highest.
        for j in 0..=24 {
            let p = (1e-3 * (highest / 1e-3).powf(f64::from(j) / 24.0)).min(highest);
            at(t, refrigerant.state_pt(outside_gap(refrigerant, p), t).unwrap().density());
        }
    }
    for i in 1..40 {
        let t = coldest + (hottest_saturation(refrigerant) - coldest) * f64::from(i) / 40.0;
        let saturation = refrigerant.saturation_at_temperature(t).unwrap();
        for distance in [1e-12, 1e-9, 1e-6, 1e-4, 1e-2] {
            at(t, saturation.liquid().density() * (1.0 + distance));
            at(t, saturation.vapor().density() * (1.0 - distance));
        }
    }
    for from_temperature in [1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2] {
        for from_density in [0.0, 1e-5, 1e-4, 1e-3, 1e-2, 0.05, 0.2, 0.5] {
            for (sign_t, sign_rho) in [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)] {
                let t = critical * (1.0 + sign_t * from_temperature);
                at(t, refrigerant.critical_density() * (1.0 + sign_rho * from_density));
            }
        }
    }
    found
}

/// Wet states from the triple point to within 1e-6 of the critical temperature.
fn two_phase_states(refrigerant: &Refrigerant) -> Vec<State> {
    let (triple, critical) = (refrigerant.minimum_saturation_temperature(), hottest_saturation(refrigerant));
    let mut temperatures: Vec<f64> =
        (0..40).map(|i| triple + (critical - triple) * f64::from(i) / 40.0).collect();
    temperatures.extend([1e-2, 1e-3, 1e-4, 1e-5, 2e-6].map(|distance| critical * (1.0 - distance)));
    let qualities = [1e-9, 1e-6, 1e-3, 0.02, 0.1, 0.35, 0.5, 0.8, 0.99, 1.0 - 1e-6, 1.0 - 1e-9];
    temperatures.into_iter().flat_map(|t| qualities.map(|x| refrigerant.state_tx(t, x).unwrap())).collect()
}

/// Whether a pair has another solution that is documented to come first: (T,h), (T,u) and in cold water (T,s) the one of
/// lowest pressure, (rho,p) that of highest temperature.
fn is_other_branch(pair: &Pair, original: &State, back: &State) -> bool {
    match pair.given {
        [Of::Temperature, Of::Enthalpy | Of::InternalEnergy | Of::Entropy] => {
            let wet = back.phase() == Phase::TwoPhase && original.phase() == Phase::Liquid;
            wet || back.pressure() < original.pressure() * (1.0 - 1e-9)
        }
        [Of::Enthalpy, Of::Entropy] => back.pressure() > original.pressure() * (1.0 + 1e-9),
        [Of::Density, Of::Pressure] => back.temperature() > original.temperature() * (1.0 + 1e-9),
        _ => false,
    }
}

#[test]
fn states_of_one_phase_come_back_from_every_pair() {
    for refrigerant in refrigerants() {
        let states = one_phase_states(&refrigerant);
        assert!(states.len() > 1200, "{} states", states.len());
        let mut others = 0;
        for state in &states {
            let allowed = tolerance_of(&refrigerant, state);
            for pair in &PAIRS {
                let (a, b) = pair.of(state);
                let place = || format!("{refrigerant:?} {}({a:?}, {b:?}) of {state:?}", pair.name);
                let back = (pair.make)(&refrigerant, a, b).unwrap_or_else(|e| panic!("{}: {e}", place()));
                assert_eq!(pair.of(&back), (a, b), "{}: not what was given: {back:?}", place());
                let residual = residual(&refrigerant, &back);
                assert!(residual <= allowed, "{}: residual {residual:e} of {back:?}", place());
                assert!(is_stable(&refrigerant, &back), "{}: unstable {back:?}", place());
                if is_other_branch(pair, state, &back) {
                    others += 1;
                    continue;
                }
                // What the residuals allowed leave of temperature and density, in the state and on the way back.
                let [t, rho] = pair.conditioning(&refrigerant, state).map(|k| 4.0 * allowed * k + 1e-15);
                let off_t = (back.temperature() / state.temperature() - 1.0).abs();
                let off_rho = (back.density() / state.density() - 1.0).abs();
                // On the line to rounding, pressure and temperature do not tell the phases apart.
                let on_the_line = pair.name == "state_pt" && back.phase() != state.phase();
                assert!(
                    on_the_line || (off_t <= t && off_rho <= rho),
                    "{}: off by {off_t:e} (allowed {t:e}) in temperature, {off_rho:e} ({rho:e}) in density: {back:?}",
                    place()
                );
            }
        }
        // The other branch is a matter of dense liquid at temperature and enthalpy or internal energy.
        assert!(others > 0 && others < 2 * states.len(), "{others} of {}", states.len());
    }
}

#[test]
fn wet_states_come_back_from_every_pair() {
    for refrigerant in refrigerants() {
        let r = refrigerant.gas_constant();
        for state in &two_phase_states(&refrigerant) {
            let allowed = wet_tolerance(&refrigerant, state.temperature());
            let saturation = refrigerant.saturation_at_temperature(state.temperature()).unwrap();
            for pair in PAIRS.iter().filter(|pair| pair.name != "state_pt") {
                let (a, b) = pair.of(state);
                let place = || format!("{refrigerant:?} {}({a:?}, {b:?}) of {state:?}", pair.name);
                let back = (pair.make)(&refrigerant, a, b).unwrap_or_else(|e| panic!("{}: {e}", place()));
                assert_eq!(pair.of(&back), (a, b), "{}: not what was given: {back:?}", place());
                let residual = residual(&refrigerant, &back);
                assert!(residual <= allowed, "{}: residual {residual:e} of {back:?}", place());
                if refrigerant.composition().is_some() && is_other_branch(pair, state, &back) {
                    assert_eq!(back.phase(), Phase::Liquid, "{}: {back:?}", place());
                    continue;
                }
                // At constant enthalpy entropy changes with temperature by -(v/T) dp/dT only: by next to nothing along wet
                // liquid in a vacuum, where enthalpy and entropy hardly determine the temperature.
                // By the lever rule of a blend it may change by nothing at all.
                let by_entropy = if refrigerant.composition().is_some() && pair.name == "state_hs" {
                    let at = |share: f64| refrigerant.state_ph(share * state.pressure(), state.enthalpy());
                    match (at(1.0 + 1e-4), at(1.0 - 1e-4)) {
                        (Ok(higher), Ok(lower)) => {
                            let changes =
                                [higher, lower].map(|beside| (beside.entropy() - state.entropy()).abs());
                            r * 1e-4 / changes[0].min(changes[1])
                        }
                        // At the lowest temperature there is nothing beside it.
                        _ => f64::INFINITY,
                    }
                } else {
                    r / (state.specific_volume() * saturation.pressure_slope())
                };
                let slack = if pair.name == "state_hs" { 4.0 * allowed * by_entropy } else { 0.0 };
                let off_t = (back.temperature() / state.temperature() - 1.0).abs();
                assert!(off_t <= 1e-12 + slack, "{}: temperature off by {off_t:e}: {back:?}", place());
                let given = state.quality().unwrap();
                // Next to the line the way back may end on its other side.
                let x = back.quality().unwrap_or(if back.phase() == Phase::Liquid { 0.0 } else { 1.0 });
                let span = saturation.latent_heat() / (r * state.temperature());
                // The width of the dome shrinks towards the critical point, and quality moves with temperature.
                let below = 1.0 - state.temperature() / refrigerant.critical_temperature();
                let scale = 4.0 * allowed * (1.0 + by_entropy) / span + off_t / below;
                assert!((x - given).abs() <= scale, "{}: quality {x} for {given}, {scale:e}", place());
            }
        }
    }
}

/// Neither quality nor the dome has a gap at its edges: each saturated state comes back as itself, what lies next to it on
/// either side is wet or is not.
#[test]
fn saturated_states_are_the_edges_of_the_dome() {
    for refrigerant in refrigerants() {
        let (triple, critical) =
            (refrigerant.minimum_saturation_temperature(), hottest_saturation(&refrigerant));
        for i in 0..=50 {
            let t = triple + (0.9999 * critical - triple) * f64::from(i) / 50.0;
            let at_t = refrigerant.saturation_at_temperature(t).unwrap();
            assert_eq!(refrigerant.state_tx(t, 0.0).unwrap(), at_t.liquid());
            assert_eq!(refrigerant.state_tx(t, 1.0).unwrap(), at_t.vapor());
            for edge in [at_t.liquid(), at_t.vapor()] {
                assert_eq!(refrigerant.state_t_rho(t, edge.density()).unwrap(), edge);
            }
            let p = at_t.pressure();
            let at_p = refrigerant.saturation_at_pressure(p).unwrap();
            let (liquid, vapor) = (at_p.liquid(), at_p.vapor());
            if liquid.temperature() < triple {
                continue; // The coldest vapor of a blend has liquid colder than its range.
            }
            assert_eq!((at_p.pressure(), liquid.pressure()), (p, p));
            assert_eq!(refrigerant.state_px(p, 0.0).unwrap(), liquid);
            assert_eq!(refrigerant.state_px(p, 1.0).unwrap(), vapor);
            let isobaric = |pair: &&Pair| pair.given[0] == Of::Pressure && pair.given[1] != Of::Temperature;
            for pair in PAIRS.iter().filter(isobaric) {
                let of = pair.given[1];
                let (l, v) = (of.value(&liquid), of.value(&vapor));
                let state = |value| (pair.make)(&refrigerant, p, value).unwrap();
                assert_eq!((state(l), state(v)), (liquid, vapor), "{of:?} at {p} Pa");
                // A hundred millionth of R T or R outwards.
                let scale = refrigerant.gas_constant() * if of == Of::Entropy { 1.0 } else { t } * 1e-8;
                let (wet_l, wet_v) = (state(l + scale), state(v - scale));
                assert_eq!((wet_l.phase(), wet_v.phase()), (Phase::TwoPhase, Phase::TwoPhase));
                assert!(wet_l.quality().unwrap() < 1e-4 && wet_v.quality().unwrap() > 1.0 - 1e-4);
                // The coldest liquid has none colder beside it.
                if i > 0 {
                    let subcooled = state(l - scale);
                    assert_eq!((subcooled.phase(), subcooled.quality()), (Phase::Liquid, None));
                    assert!(subcooled.temperature() < liquid.temperature());
                }
                let superheated = state(v + scale);
                assert_eq!((superheated.phase(), superheated.quality()), (Phase::Vapor, None));
                assert!(superheated.temperature() > vapor.temperature());
            }
        }
    }
}

/// At the critical point itself the phases are one, and every pair that can be asked for answers with it.
#[test]
fn critical_point_is_a_state() {
    for refrigerant in pure_refrigerants() {
        let t = refrigerant.critical_temperature();
        let saturation = refrigerant.saturation_at_temperature(t).unwrap();
        let critical = saturation.vapor();
        assert_eq!(saturation.liquid().density(), critical.density());
        assert!((critical.density() / refrigerant.critical_density() - 1.0).abs() < 1e-12);
        assert!((critical.pressure() / refrigerant.critical_pressure() - 1.0).abs() < 1e-9);
        assert_eq!(saturation.latent_heat(), 0.0);
        for pair in &PAIRS {
            let (a, b) = pair.of(&critical);
            let back = (pair.make)(&refrigerant, a, b).unwrap_or_else(|e| panic!("{} {e}", pair.name));
            assert_eq!(pair.of(&back), (a, b), "{}", pair.name);
            let residual = residual(&refrigerant, &back);
            // Next to the point where terms are singular Newton's method gains little per step: what solvers accept at all.
            let allowed = if is_singular(&refrigerant) { 1e-10 } else { tolerance_of(&refrigerant, &back) };
            assert!(residual <= allowed, "{refrigerant:?} {} {residual:e} {allowed:e} {back:?}", pair.name);
            // Density answers to the third root of a rounding error of pressure there.
            assert!((back.density() / critical.density() - 1.0).abs() < 1e-3, "{} {back:?}", pair.name);
        }
    }
}

/// Liquid water has two temperatures below 4 degC and above for a density and pressure: the warmer one is returned. Where
/// the isochore is too dense for a warmer one at that pressure, it is the density that decides.
#[test]
fn density_and_pressure_of_cold_water_give_the_warmer_state() {
    let water = Refrigerant::named("R-718").unwrap();
    for p in [1e3, 101_325.0, 1e6, 5e6] {
        // The densest water at this pressure, by the sign of its thermal expansion.
        let expansion = |t: f64| {
            let state = water.state_pt(p, t).unwrap();
            water.derivatives(&state).unwrap().thermal_expansion()
        };
        let (mut cold, mut warm) = (273.16, 280.0);
        assert!(expansion(cold) < 0.0 && expansion(warm) > 0.0);
        while warm - cold > 1e-9 {
            let middle = 0.5 * (cold + warm);
            if expansion(middle) < 0.0 { cold = middle } else { warm = middle }
        }
        for below in [0.05, 0.3, 1.0, 2.0, 3.0] {
            let Ok(colder) = water.state_pt(p, cold - below) else { continue };
            if cold - below < 273.16 {
                continue;
            }
            let back = water.state_rho_p(colder.density(), p).unwrap();
            assert!(back.temperature() > cold + 0.9 * below, "{p} Pa, {below} K below: {back:?}");
            assert!(back.temperature() < cold + 1.2 * below, "{p} Pa, {below} K below: {back:?}");
            assert_eq!((back.density(), back.pressure()), (colder.density(), p));
            assert!(residual(&water, &back) <= 1e-12);
            // Enthalpy, entropy and internal energy tell the two apart.
            for state in [
                water.state_rho_h(colder.density(), colder.enthalpy()).unwrap(),
                water.state_rho_s(colder.density(), colder.entropy()).unwrap(),
                water.state_rho_u(colder.density(), colder.internal_energy()).unwrap(),
                water.state_ph(p, colder.enthalpy()).unwrap(),
                water.state_ps(p, colder.entropy()).unwrap(),
            ] {
                assert!((state.temperature() - colder.temperature()).abs() < 1e-9, "{state:?}");
            }
        }
    }
}

/// Temperature with enthalpy or internal energy (and with entropy in cold water) has several solutions in compressed liquid.
/// None has a lower pressure than the one returned.
#[test]
fn temperature_and_enthalpy_give_the_lowest_pressure() {
    let mut moved = 0;
    for refrigerant in refrigerants() {
        let (coldest, hottest) = (refrigerant.minimum_temperature(), refrigerant.maximum_temperature());
        for i in 0..=24 {
            let t = (coldest + (hottest - coldest) * f64::from(i) / 24.0).min(hottest);
            for j in 1..=8 {
                let p = refrigerant.maximum_pressure() * f64::from(j) / 8.0;
                let dense = refrigerant.state_pt(outside_gap(&refrigerant, p), t).unwrap();
                for (of, back) in [
                    (Of::Enthalpy, refrigerant.state_th(t, dense.enthalpy())),
                    (Of::InternalEnergy, refrigerant.state_tu(t, dense.internal_energy())),
                    (Of::Entropy, refrigerant.state_ts(t, dense.entropy())),
                ] {
                    let value = of.value(&dense);
                    let back = back.unwrap_or_else(|e| panic!("{refrigerant:?} {t} {p}: {e}"));
                    // What the tolerance in the value leaves of the pressure.
                    let pair = Pair { name: "", given: [Of::Temperature, of], make: PAIRS[0].make };
                    let [_, density] = pair.conditioning(&refrigerant, &dense);
                    let stiffness = dense.density() * Slopes::new(&refrigerant, &dense).p_rho / p;
                    let slack = (4.0 * tolerance_of(&refrigerant, &dense) * density * stiffness).max(1e-9);
                    assert!(back.pressure() <= p * (1.0 + slack), "{back:?} above {p} Pa");
                    moved += usize::from(back.pressure() < 0.999 * p);
                    // At lower pressures the value is never crossed: not in gas, not in liquid, and not from one to the
                    // other, through the dome.
                    let lowest = 0.999_999 * back.pressure();
                    let first = (0.1 * lowest).min(1e-3);
                    let along = (0..200).map(|k| first * (lowest / first).powf(f64::from(k) / 199.0));
                    let sides: Vec<bool> = along
                        .map(|lower| refrigerant.state_pt(outside_gap(&refrigerant, lower), t).unwrap())
                        .map(|state| of.value(&state) > value)
                        .collect();
                    let crossings = sides.windows(2).filter(|pair| pair[0] != pair[1]).count();
                    assert_eq!(crossings, 0, "{refrigerant:?} {of:?} {t} K {p} Pa: {back:?}");
                }
            }
        }
    }
    assert!(moved > 100, "{moved}");
}
