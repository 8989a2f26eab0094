//! Batch calls give what scalar calls give, row by row, whatever the number of rows.

use interstage::{
    Circuit, Conditions, CycleColumns, DerivativeColumns, Error, FlashTank, Refrigerant, Result, RowStatus,
    SERIAL_ROWS, SaturationColumns, Size, Stage, State, StateColumns,
};

/// More rows than one thread takes, and not a multiple of anything.
const MANY: usize = 3 * SERIAL_ROWS + 17;

/// Pressures and enthalpies of liquid, wet and superheated R-134a, with bad rows between them.
fn inputs(rows: usize) -> (Vec<f64>, Vec<f64>) {
    let wave = |row: usize, period: f64| (row as f64 / period).sin();
    let pressure = (0..rows).map(|row| match row % 97 {
        3 => f64::NAN,
        5 => -1.0,
        7 => f64::INFINITY,
        _ => 600e3 + 400e3 * wave(row, 7.0),
    });
    let enthalpy =
        (0..rows).map(|row| if row % 101 == 11 { f64::NAN } else { 330e3 + 130e3 * wave(row, 3.0) });
    (pressure.collect(), enthalpy.collect())
}

fn status(result: &Result<State>) -> RowStatus {
    match result {
        Ok(_) => RowStatus::Ok,
        Err(Error::NotFinite { value, .. }) if value.is_nan() => RowStatus::Missing,
        Err(Error::NotFinite { .. }) => RowStatus::NotFinite,
        Err(Error::OutOfRange { .. }) => RowStatus::OutOfRange,
        Err(_) => RowStatus::Undefined,
    }
}

/// States with their slopes are to the last bit those of one call after the other.
#[test]
fn states_with_derivatives_are_those_of_two_calls() -> Result<()> {
    for name in ["R-134a", "R-454B"] {
        let refrigerant = Refrigerant::named(name)?;
        for rows in [0, 1, SERIAL_ROWS, MANY] {
            let (pressure, enthalpy) = inputs(rows);
            let density: Vec<f64> = pressure.iter().map(|p| p / 25e3).collect();
            let temperature: Vec<f64> = enthalpy.iter().map(|h| h / 1e3 - 30.0).collect();
            let (mut states, mut slopes) =
                (StateColumns::with_rows(rows), DerivativeColumns::with_rows(rows));
            let (mut first, mut then) = (states.clone(), slopes.clone());
            refrigerant.states_with_derivatives(
                &temperature,
                &density,
                states.as_slices(),
                slopes.as_slices(),
            )?;
            refrigerant.states_t_rho(&temperature, &density, first.as_slices())?;
            let (t, p, rho) = (&first.temperature, &first.pressure, &first.density);
            refrigerant.derivatives_of(t, p, rho, &first.phase, then.as_slices())?;
            // Rows without a state have no slopes for its reason.
            for (status, of_state) in then.status.iter_mut().zip(&first.status) {
                if *of_state != RowStatus::Ok.code() {
                    *status = *of_state;
                }
            }
            assert_eq!(format!("{states:?}"), format!("{first:?}"), "{name}, {rows} rows");
            assert_eq!(format!("{slopes:?}"), format!("{then:?}"), "{name}, {rows} rows");
            let count = |status: RowStatus| slopes.status.iter().filter(|of| **of == status.code()).count();
            if rows == MANY {
                let counted =
                    [RowStatus::Ok, RowStatus::Undefined, RowStatus::Missing, RowStatus::OutOfRange];
                assert!(
                    counted.map(count).into_iter().all(|count| count > 5),
                    "{name}: {:?}",
                    counted.map(count)
                );
            }
        }
    }
    let (mut states, mut slopes) = (StateColumns::with_rows(2), DerivativeColumns::with_rows(3));
    let refused = Refrigerant::named("R-134a")?.states_with_derivatives(
        300.0,
        1.0,
        states.as_slices(),
        slopes.as_slices(),
    );
    assert!(matches!(refused, Err(Error::WrongLength { argument: "slopes", found: 3, expected: 2 })));
    Ok(())
}

#[test]
fn states_are_those_of_scalar_calls() -> Result<()> {
    let refrigerant = Refrigerant::named("R-134a")?;
    for rows in [0, 1, SERIAL_ROWS, SERIAL_ROWS + 1, MANY] {
        let (pressure, enthalpy) = inputs(rows);
        let mut states = StateColumns::with_rows(rows);
        refrigerant.states_ph(&pressure, &enthalpy, states.as_slices())?;
        let mut seen = [0; 7];
        for (row, (&p, &h)) in pressure.iter().zip(&enthalpy).enumerate() {
            let expected = refrigerant.state_ph(p, h);
            let expected_status = if h.is_nan() { RowStatus::Missing } else { status(&expected) };
            assert_eq!(RowStatus::from_code(states.status[row]), Some(expected_status), "row {row}");
            assert_eq!(states.get(row), expected.ok(), "row {row}");
            assert_eq!(states.temperature[row].is_nan(), expected_status != RowStatus::Ok);
            seen[usize::from(expected_status.code())] += 1;
        }
        if rows == MANY {
            assert!(seen[..4].iter().all(|&count| count > 0), "{seen:?}");
        }
    }
    Ok(())
}

#[test]
fn a_single_value_holds_for_every_row() -> Result<()> {
    let refrigerant = Refrigerant::named("R-1233zd(E)")?;
    let mut states = StateColumns::with_rows(2);
    refrigerant.states_tx([280.0, 290.0], 0.25, states.as_slices())?;
    assert_eq!(states.get(1), Some(refrigerant.state_tx(290.0, 0.25)?));
    Ok(())
}

#[test]
fn every_pair_has_a_batch_call() -> Result<()> {
    let r = Refrigerant::named("R-134a")?;
    let state = r.state_pt(500e3, 310.0)?;
    let (t, p, rho) = (state.temperature(), state.pressure(), state.density());
    let (h, s, u) = (state.enthalpy(), state.entropy(), state.internal_energy());
    let mut out = StateColumns::with_rows(1);
    macro_rules! check {
        ($($batch:ident = $scalar:ident($a:expr, $b:expr)),*) => {$(
            r.$batch(&[$a], &[$b], out.as_slices())?;
            assert_eq!(out.get(0), Some(r.$scalar($a, $b)?), stringify!($batch));
        )*};
    }
    check!(
        states_pt = state_pt(p, t),
        states_ph = state_ph(p, h),
        states_ps = state_ps(p, s),
        states_pu = state_pu(p, u),
        states_hs = state_hs(h, s),
        states_ts = state_ts(t, s),
        states_th = state_th(t, h),
        states_tu = state_tu(t, u),
        states_t_rho = state_t_rho(t, rho),
        states_rho_p = state_rho_p(rho, p),
        states_rho_h = state_rho_h(rho, h),
        states_rho_s = state_rho_s(rho, s),
        states_rho_u = state_rho_u(rho, u),
        states_px = state_px(p, 0.5),
        states_tx = state_tx(t, 0.5)
    );
    Ok(())
}

#[test]
fn saturation_and_slopes_are_those_of_scalar_calls() -> Result<()> {
    let refrigerant = Refrigerant::named("R-123")?;
    let temperature: Vec<f64> = (0..MANY).map(|row| 250.0 + 300.0 * row as f64 / MANY as f64).collect();
    let mut lines = SaturationColumns::with_rows(MANY);
    refrigerant.saturations_at_temperature(&temperature, lines.as_slices())?;
    let mut slopes = DerivativeColumns::with_rows(MANY);
    let vapor = vec![1; MANY];
    let SaturationColumns { temperature: t, pressure: p, vapor_density: rho, .. } = &lines;
    refrigerant.derivatives_of(t, p, rho, &vapor, slopes.as_slices())?;
    let mut beyond = 0;
    for (row, &t) in temperature.iter().enumerate() {
        if let Ok(saturation) = refrigerant.saturation_at_temperature(t) {
            assert_eq!(lines.pressure[row], saturation.pressure());
            assert_eq!(lines.liquid_entropy[row], saturation.liquid().entropy());
            let expected = refrigerant.derivatives(&saturation.vapor())?;
            assert_eq!(slopes.cp[row], expected.cp());
            assert_eq!(slopes.isentropic_exponent[row], expected.isentropic_exponent());
        } else {
            beyond += 1;
            assert_eq!(lines.status[row], RowStatus::OutOfRange.code());
            assert!(lines.pressure[row].is_nan() && slopes.cp[row].is_nan());
            assert_eq!(slopes.status[row], RowStatus::Missing.code());
        }
    }
    assert!(beyond > 0);
    let mut by_pressure = SaturationColumns::with_rows(MANY);
    refrigerant.saturations_at_pressure(&lines.pressure, by_pressure.as_slices())?;
    assert_eq!(
        by_pressure.temperature[5],
        refrigerant.saturation_at_pressure(lines.pressure[5])?.temperature()
    );
    Ok(())
}

#[test]
fn cycles_are_those_of_scalar_calls() -> Result<()> {
    let refrigerant = Refrigerant::named("R-1233zd(E)")?;
    let stages = vec![Stage::polytropic(0.8)?; 3];
    let tanks = vec![FlashTank::new().into(); 2];
    let circuit = Circuit::new(refrigerant, stages, tanks)?;
    let rows = SERIAL_ROWS + 3;
    let conditions = |row: usize| {
        let condensing = match row % 50 {
            1 => f64::NAN,
            2 => 270.0,
            _ => 300.0 + 0.02 * row as f64,
        };
        Conditions::new(278.15, condensing, Size::Capacity(1e6))
    };
    let mut cycles = CycleColumns::with_rows(rows, &circuit);
    circuit.solve_rows(conditions, cycles.as_slices())?;
    for row in 0..rows {
        match circuit.solve(&conditions(row)) {
            Ok(cycle) => {
                assert_eq!(cycles.cop[row], cycle.cop());
                assert_eq!(&cycles.stage_power[3 * row..3 * row + 3], cycle.stage_power());
                assert_eq!(&cycles.flash_fractions[2 * row..2 * row + 2], cycle.flash_fractions());
            }
            Err(error) => {
                let missing = matches!(error, Error::NotFinite { .. });
                let expected = if missing { RowStatus::Missing } else { RowStatus::Inconsistent };
                assert_eq!(RowStatus::from_code(cycles.status[row]), Some(expected));
                assert!(cycles.stage_power[3 * row + 2].is_nan());
            }
        }
    }
    Ok(())
}

#[test]
fn columns_of_other_lengths_are_refused() -> Result<()> {
    let refrigerant = Refrigerant::named("R-134a")?;
    let mut states = StateColumns::with_rows(2);
    let wrong = |argument, found| Err(Error::WrongLength { argument, found, expected: 2 });
    assert_eq!(refrigerant.states_pt([1e5], [300.0, 300.0], states.as_slices()), wrong("pressure", 1));
    states.entropy.pop();
    assert_eq!(refrigerant.states_pt(1e5, [300.0, 300.0], states.as_slices()), wrong("entropy", 1));
    Ok(())
}

#[test]
fn results_of_bad_rows_are_wiped() -> Result<()> {
    let refrigerant = Refrigerant::named("R-134a")?;
    let mut states = StateColumns::with_rows(2);
    refrigerant.states_pt(1e5, [300.0, 300.0], states.as_slices())?;
    refrigerant.states_pt(1e5, [300.0, f64::NAN], states.as_slices())?;
    assert!(states.enthalpy[0].is_finite() && states.enthalpy[1].is_nan());
    assert_eq!(states.get(1), None);
    Ok(())
}

#[test]
fn every_status_has_a_code_and_a_text() {
    for status in RowStatus::ALL {
        assert_eq!(RowStatus::from_code(status.code()), Some(status));
        assert!(!status.to_string().is_empty());
    }
    assert_eq!(RowStatus::from_code(7), None);
}

#[cfg(feature = "ndarray")]
#[test]
fn strided_views_are_columns() -> Result<()> {
    use ndarray::array;

    let refrigerant = Refrigerant::named("R-134a")?;
    let readings = array![[1e5, 300.0], [2e5, 310.0], [3e5, 320.0]];
    let mut states = StateColumns::with_rows(3);
    let (pressure, temperature) = (readings.column(0), readings.column(1));
    refrigerant.states_pt(pressure, temperature, states.as_slices())?;
    assert_eq!(states.get(2), Some(refrigerant.state_pt(3e5, 320.0)?));
    Ok(())
}
