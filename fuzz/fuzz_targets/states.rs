//! Every pair of properties, saturation, slopes and transport properties of any refrigerant over all doubles.
#![no_main]

mod common;

use arbitrary::Arbitrary;
use common::{
    Fluid, Known, Nudge, Number, Of, PAIRS, Pair, all_finite, error_holds, saturation_holds, slopes_hold,
    state_holds, try_random_state,
};
use interstage::{DerivativeColumns, Error, Phase, Refrigerant, RowStatus, State};
use libfuzzer_sys::fuzz_target;

#[derive(Arbitrary, Debug)]
struct Input {
    fluid: Fluid,
    question: Question,
    /// The pair through which an answer is asked for again.
    again: u8,
}

#[derive(Arbitrary, Debug)]
enum Question {
    /// Two numbers that need not belong together.
    Pair {
        pair: u8,
        first: Number,
        second: Number,
    },
    /// Those of a state, or almost.
    Around {
        pair: u8,
        draw: [u16; 3],
        nudges: [Nudge; 2],
    },
    Quality {
        at_pressure: bool,
        value: Number,
        quality: Number,
    },
    Saturation {
        at_pressure: bool,
        value: Number,
    },
    /// The two ends of the saturation line.
    Ends,
    SurfaceTension(Number),
    /// Slopes at numbers that somebody calls a state.
    Slopes {
        draw: [u16; 3],
        nudges: [Nudge; 3],
        phase: u8,
    },
    SlopesAnywhere {
        numbers: [Number; 3],
        phase: u8,
    },
    /// Slopes and transport properties of a state of another refrigerant.
    Foreign {
        other: Fluid,
        draw: [u16; 3],
    },
}

fuzz_target!(|input: Input| {
    let Input { fluid, question, again } = input;
    let refrigerant = &fluid.refrigerant();
    let known = fluid.known();
    match question {
        Question::Pair { pair, first, second } => {
            let pair = &PAIRS[usize::from(pair) % PAIRS.len()];
            let number = |number: Number, of: Of| number.of(known.span(of), &known.places(of));
            asked(refrigerant, pair, number(first, pair.given[0]), number(second, pair.given[1]), again);
        }
        Question::Around { pair, draw, nudges } => {
            let pair = &PAIRS[usize::from(pair) % PAIRS.len()];
            let Some(state) = drawn(refrigerant, draw) else { return };
            let (a, b) = pair.of(&state);
            asked(refrigerant, pair, nudges[0].of(a), nudges[1].of(b), again);
        }
        Question::Quality { at_pressure, value, quality } => {
            quality_asked(refrigerant, known, at_pressure, value, quality, again)
        }
        Question::Saturation { at_pressure, value } => {
            let of = if at_pressure { Of::Pressure } else { Of::Temperature };
            let value = value.of(known.span(of), &known.places(of));
            let what = format!("{refrigerant:?} saturation at {of:?} {value:?}");
            let outcome = if at_pressure {
                refrigerant.saturation_at_pressure(value)
            } else {
                refrigerant.saturation_at_temperature(value)
            };
            match outcome {
                Ok(saturation) => saturation_holds(refrigerant, &saturation, &what),
                Err(error) => error_holds(&error, &what),
            }
        }
        Question::Ends => {
            let mut ends = vec![(
                refrigerant.minimum_saturation_pressure(),
                refrigerant.minimum_saturation_temperature(),
            )];
            // The curves of a blend end before.
            if refrigerant.composition().is_none() {
                ends.push((refrigerant.critical_pressure(), refrigerant.critical_temperature()));
            }
            for (pressure, temperature) in ends {
                let there =
                    refrigerant.saturation_at_pressure(pressure).map(|saturation| saturation.temperature());
                let off = there.map(|there| (there / temperature - 1.0).abs());
                assert!(
                    off.as_ref().is_ok_and(|off| *off < 1e-12),
                    "{refrigerant:?} {pressure:?} Pa: {off:?}"
                );
            }
        }
        Question::SurfaceTension(value) => {
            let value = value.of(known.span(Of::Temperature), &known.places(Of::Temperature));
            match refrigerant.surface_tension(value) {
                Ok(tension) => {
                    assert!(tension >= 0.0 && tension.is_finite(), "{refrigerant:?} {value:?} {tension}")
                }
                Err(Error::NotPublished { .. }) => {}
                Err(error) => error_holds(&error, &format!("{refrigerant:?} surface tension at {value:?}")),
            }
        }
        Question::Slopes { draw, nudges, phase } => {
            let Some(state) = drawn(refrigerant, draw) else { return };
            let numbers = [state.temperature(), state.pressure(), state.density()];
            let moved = [0, 1, 2].map(|k| nudges[k].of(numbers[k]));
            slopes_asked(refrigerant, moved, phase);
        }
        Question::SlopesAnywhere { numbers, phase } => {
            let of = [Of::Temperature, Of::Pressure, Of::Density];
            let numbers = [0, 1, 2].map(|k| numbers[k].of(known.span(of[k]), &known.places(of[k])));
            slopes_asked(refrigerant, numbers, phase);
        }
        Question::Foreign { other, draw } => {
            let Some(state) = drawn(&other.refrigerant(), draw) else { return };
            let _ = refrigerant.viscosity(&state);
            let _ = refrigerant.thermal_conductivity(&state);
            let _ = refrigerant.prandtl_number(&state);
            if refrigerant.derivatives(&state).is_ok() {
                slopes_hold(refrigerant, &state, &format!("{refrigerant:?}, a state of {other:?}"));
            }
        }
    }
});

fn drawn(refrigerant: &Refrigerant, draw: [u16; 3]) -> Option<State> {
    let [a, b, c] = draw.map(|part| f64::from(part) / 65536.0);
    match try_random_state(refrigerant, (a, b, c)) {
        Ok(state) => Some(state),
        Err(error) => {
            error_holds(&error, &format!("{refrigerant:?} drawn {draw:?}"));
            None
        }
    }
}

fn asked(refrigerant: &Refrigerant, pair: &Pair, a: f64, b: f64, again: u8) {
    let what = format!("{refrigerant:?} {}({a:?}, {b:?})", pair.name);
    match (pair.make)(refrigerant, a, b) {
        Ok(state) => {
            assert_eq!(pair.of(&state), (a, b), "{what}: given back otherwise");
            state_holds(refrigerant, &state, &what);
            let (low, high) = (refrigerant.minimum_temperature(), refrigerant.maximum_temperature());
            assert!((low..=high).contains(&state.temperature()), "{what}: {state:?}");
            assert!(state.pressure() <= refrigerant.maximum_pressure() * (1.0 + 1e-9), "{what}: {state:?}");
            asked_again(refrigerant, &state, again, &what);
        }
        Err(error) => {
            error_holds(&error, &what);
            let contradiction = matches!(error, Error::Inconsistent { .. });
            assert!(!contradiction || pair.name == "state_hs", "{what}: {error}");
        }
    }
}

/// What was answered is never refused when it is given.
fn asked_again(refrigerant: &Refrigerant, state: &State, again: u8, what: &str) {
    let pair = &PAIRS[usize::from(again) % PAIRS.len()];
    // Next to the coldest bubble points of a blend enthalpy and entropy have several answers, the first of them too cold.
    if pair.name == "state_hs" && refrigerant.composition().is_some() {
        return;
    }
    let (a, b) = pair.of(state);
    match (pair.make)(refrigerant, a, b) {
        Ok(state) => assert!(all_finite(&state), "{what}: {}({a:?}, {b:?}) has {state:?}", pair.name),
        // Liquid met at an end of temperature by rounding of its pressure misses that end by more in entropy and enthalpy: they
        // change with density many times faster than their scales.
        Err(Error::OutOfRange { value, minimum, maximum, .. })
            if state.phase() == Phase::Liquid
                && [refrigerant.minimum_temperature(), refrigerant.maximum_temperature()]
                    .contains(&state.temperature())
                && (minimum - 1e-10 * minimum.abs()..=maximum + 1e-10 * maximum.abs()).contains(&value) => {}
        Err(error) => panic!("{what}: {}({a:?}, {b:?}) of {state:?}: {error}", pair.name),
    }
}

fn quality_asked(
    refrigerant: &Refrigerant,
    known: &Known,
    at_pressure: bool,
    value: Number,
    quality: Number,
    again: u8,
) {
    let of = if at_pressure { Of::Pressure } else { Of::Temperature };
    let value = value.of(known.span(of), &known.places(of));
    let quality = quality.within(0.0, 1.0);
    let what = format!("{refrigerant:?} {of:?} {value:?} with quality {quality:?}");
    let outcome =
        if at_pressure { refrigerant.state_px(value, quality) } else { refrigerant.state_tx(value, quality) };
    match outcome {
        Ok(state) => {
            assert_eq!(of.value(&state), value, "{what}: {state:?}");
            assert!(state.quality() == Some(quality), "{what}: {state:?}");
            state_holds(refrigerant, &state, &what);
            asked_again(refrigerant, &state, again, &what);
        }
        Err(error) => error_holds(&error, &what),
    }
}

/// A row of slopes is finite and that of a stable phase, or it has a reason.
fn slopes_asked(refrigerant: &Refrigerant, [temperature, pressure, density]: [f64; 3], phase: u8) {
    let code = if phase < 250 { phase % 4 } else { phase };
    let what = format!(
        "{refrigerant:?} slopes at {temperature:?} K, {pressure:?} Pa, {density:?} kg/m3, phase {code}"
    );
    let mut columns = DerivativeColumns::with_rows(1);
    refrigerant
        .derivatives_of(temperature, pressure, density, &[code], columns.as_slices())
        .unwrap_or_else(|error| panic!("{what}: {error}"));
    let numbers = [
        columns.cp[0],
        columns.cv[0],
        columns.speed_of_sound[0],
        columns.isentropic_exponent[0],
        columns.joule_thomson[0],
        columns.compressibility_factor[0],
        columns.isothermal_compressibility[0],
        columns.thermal_expansion[0],
    ];
    if RowStatus::from_code(columns.status[0]) != Some(RowStatus::Ok) {
        assert!(numbers.iter().all(|number| number.is_nan()), "{what}: {columns:?}");
        return;
    }
    let [cp, cv, sound, exponent, throttling, factor, compressibility, expansion] = numbers;
    assert!(
        cv > 0.0 && cv.is_finite() && cp >= cv && sound > 0.0 && sound.is_finite() && compressibility > 0.0,
        "{what}: {columns:?}"
    );
    assert!(
        exponent > 0.0 && throttling.is_finite() && factor > 0.0 && factor.is_finite() && !expansion.is_nan(),
        "{what}: {columns:?}"
    );
    // What has slopes is a state: of one phase, within the range, and the equation has that pressure there.
    assert!(Phase::from_code(code).is_some_and(|phase| phase != Phase::TwoPhase), "{what}");
    assert!(
        [temperature, pressure, density].iter().all(|number| number.is_finite() && *number > 0.0),
        "{what}"
    );
    match refrigerant.state_t_rho(temperature, density) {
        Ok(at) if at.phase() == Phase::TwoPhase => {}
        Ok(at) => assert!(
            (at.pressure() - pressure).abs() <= 1.1e-4 * pressure.max(1.0 / compressibility),
            "{what}: the equation has {} Pa",
            at.pressure()
        ),
        // Saturated liquid of a blend may be colder than its range.
        Err(Error::OutOfRange { argument: "temperature", value, minimum, .. })
            if refrigerant.composition().is_some()
                && value < minimum
                && refrigerant
                    .saturation_at_pressure(pressure)
                    .is_ok_and(|saturation| saturation.liquid().temperature() <= minimum) => {}
        // A rounding error beyond the range; pressure and density may miss one another by as much as above.
        Err(Error::OutOfRange { argument, value, minimum, maximum, .. }) => {
            let slack = match argument {
                "pressure" => 1.1e-4 * pressure.max(1.0 / compressibility),
                "density" => 1.1e-4 * density,
                _ => 1e-8 * value,
            };
            assert!((minimum - slack..=maximum + slack).contains(&value), "{what}: {argument} not in range");
        }
        Err(error) => panic!("{what}: {error}"),
    }
}
