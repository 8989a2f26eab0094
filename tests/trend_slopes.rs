//! Derivatives of the figures of a trend row to its readings against differences of the analysis itself.
#![cfg(feature = "trend")]
#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use interstage::{
    Arrangement, Brine, Circuit, Conditions, Drive, Error, Figure, FlashTank, Interstage, Location,
    MotorCooling, PressureLosses, Reading, Readings, Refrigerant, Size, Stage, TrendAnalysis, water_density,
    water_enthalpy,
};

/// Readings of a machine in order; the power is somewhat off so that the heat balance is open.
fn machine(name: &str, stages: usize, stage: Stage) -> (TrendAnalysis, Vec<(Reading, f64)>) {
    let refrigerant = Refrigerant::named(name).unwrap();
    let tanks = vec![Interstage::FlashTank(FlashTank::new()); stages - 1];
    of_circuit(Circuit::new(refrigerant, vec![stage; stages], tanks).unwrap())
}

fn of_circuit(circuit: Circuit) -> (TrendAnalysis, Vec<(Reading, f64)>) {
    let (cold, hot) = (279.0, 309.0);
    let conditions =
        Conditions::new(cold, hot, Size::Capacity(2.0e6)).with_suction_superheat(1.5).with_subcooling(2.5);
    let cycle = circuit.solve(&conditions).unwrap();
    let flow = |heat: f64, entering: f64, leaving: f64| {
        let rise = water_enthalpy(leaving).unwrap() - water_enthalpy(entering).unwrap();
        heat / rise.abs() / water_density(entering).unwrap()
    };
    let liquid = cycle.point(Location::CondenserOutlet).unwrap().state().temperature();
    let mut readings = vec![
        (Reading::EvaporatorPressure, cycle.evaporating_pressure()),
        (Reading::EvaporatorSaturationTemperature, cold + 0.1),
        (Reading::CondenserPressure, cycle.condensing_pressure()),
        (Reading::CondenserSaturationTemperature, hot - 0.1),
        (Reading::LiquidLineTemperature, liquid),
        (Reading::SuctionTemperature, cold + 1.5),
        (Reading::DischargeTemperature, cycle.discharge_temperature()),
        (Reading::ChilledWaterEntering, cold + 7.0),
        (Reading::ChilledWaterLeaving, cold + 2.0),
        (Reading::ChilledWaterFlow, flow(cycle.capacity(), cold + 7.0, cold + 2.0)),
        (Reading::CondenserWaterEntering, hot - 7.0),
        (Reading::CondenserWaterLeaving, hot - 2.0),
        (Reading::CondenserWaterFlow, flow(cycle.heat_rejected(), hot - 7.0, hot - 2.0)),
        (Reading::Power, cycle.power() / 0.92),
    ];
    let places = (2_u8..).zip(cycle.interstage_pressures()).zip(circuit.interstages());
    let with_pressure = places.filter(|(_, between)| !matches!(between, Interstage::LiquidInjection(_)));
    for ((stage, &pressure), _) in with_pressure {
        // Somewhat off its rule, so that what is told from the reading is.
        readings.push((Reading::TankPressure(stage), 1.01 * pressure));
    }
    let analysis = TrendAnalysis::new(circuit).unwrap().with_drive_efficiency(0.93).unwrap();
    (analysis.with_rating(2.5e6, 6.0).unwrap(), readings)
}

fn with_columns<T>(columns: &[(Reading, Vec<f64>)], run: impl FnOnce(Readings<'_>) -> T) -> T {
    let readings =
        columns.iter().try_fold(Readings::new(), |all, (reading, values)| all.with(*reading, values));
    run(readings.unwrap())
}

fn smooth(analysis: &TrendAnalysis) -> Vec<Figure> {
    let stepped = [Figure::StageEfficiencyInterval, Figure::EconomizerEvidence];
    analysis.figures().into_iter().filter(|figure| !stepped.contains(figure)).collect()
}

fn compare(analysis: &TrendAnalysis, readings: &[(Reading, f64)], label: &str) {
    let figures = smooth(analysis);
    let plain: Vec<(Reading, Vec<f64>)> = readings.iter().map(|(r, value)| (*r, vec![*value])).collect();
    let (slopes, table) = with_columns(&plain, |readings| {
        (analysis.slopes(&readings, &figures).unwrap(), analysis.analyse(&readings).unwrap())
    });
    let mut compared = 0;
    for &(reading, value) in readings {
        // Central differences at a step and at half of it: what they differ by is the error of the first.
        let step = value * 2e-5;
        let shifted: Vec<(Reading, Vec<f64>)> = readings
            .iter()
            .map(|&(other, value)| {
                let by = |share: f64| if other == reading { value + share * step } else { value };
                (other, [1.0, -1.0, 0.5, -0.5].map(by).to_vec())
            })
            .collect();
        let moved = with_columns(&shifted, |readings| analysis.analyse(&readings.in_no_order()).unwrap());
        for &figure in &figures {
            let value = table.column(figure).unwrap()[0];
            let slope = slopes.column(figure, reading).unwrap()[0];
            assert_eq!(value.is_nan(), slope.is_nan(), "{label}: {figure} to {reading}");
            if value.is_nan() {
                continue;
            }
            let at = moved.column(figure).unwrap();
            let (wide, narrow) = ((at[0] - at[1]) / (2.0 * step), (at[2] - at[3]) / step);
            // Rounding of a root to 1e-9, and what is left of the curvature.
            let allowed =
                2e-8 * value.abs().max(1.0) / step + 2.0 * (wide - narrow).abs() + 1e-7 * narrow.abs();
            assert!(
                (slope - narrow).abs() <= allowed,
                "{label}: {figure} to {reading}: {slope}, differences {wide} and {narrow}"
            );
            compared += 1;
        }
    }
    assert!(compared >= 20 * readings.len(), "{label}: {compared}");
}

#[test]
fn slopes_are_those_of_differences() {
    for name in ["R-134a", "R-1233zd(E)", "R-1234ze(E)"] {
        for stages in 1..=3 {
            for stage in [Stage::isentropic(0.78).unwrap(), Stage::polytropic(0.81).unwrap()] {
                let (analysis, readings) = machine(name, stages, stage);
                compare(&analysis, &readings, &format!("{name}, {stages} stages"));
                let brines = analysis.with_chilled_brine(Brine::ethylene_glycol(0.3).unwrap());
                let brines = brines.with_condenser_brine(Brine::propylene_glycol(0.2).unwrap());
                compare(&brines, &readings, &format!("{name}, {stages} stages, brines"));
            }
        }
    }
    // Blends: dew and bubble temperature part.
    let (analysis, readings) = machine("R-407C", 1, Stage::isentropic(0.75).unwrap());
    compare(&analysis, &readings, "R-407C");
}

/// With everything that makes the cooling per kilogram of liquid more than a difference of two enthalpies.
#[test]
fn slopes_of_any_arrangement_are_those_of_differences() {
    let drive = Drive::new().with_motor(0.9, MotorCooling::RefrigerantToEvaporator).unwrap();
    let losses = PressureLosses::new().with_suction(0.01).unwrap().with_port(0.02).unwrap();
    let losses = losses.with_discharge(0.02).unwrap();
    for text in [
        "2 stages: intercooled tank@2",
        "2 stages: closed@2 (approach 3 K), suction exchanger (effectiveness 0.2)",
        "2 stages: tank@2, evaporator expander (efficiency 0.5)",
    ] {
        let arrangement: Arrangement = text.parse().unwrap();
        let refrigerant = Refrigerant::named("R-134a").unwrap();
        let circuit = arrangement.circuit(refrigerant, Stage::polytropic(0.78).unwrap()).unwrap();
        let circuit = circuit.with_drive(drive).unwrap().with_pressure_losses(losses);
        let (analysis, readings) = of_circuit(circuit);
        compare(&analysis, &readings, text);
    }
}

#[test]
fn without_pressures_saturation_temperatures_answer() {
    let (analysis, mut readings) = machine("R-134a", 2, Stage::polytropic(0.8).unwrap());
    readings.retain(|(reading, _)| {
        !matches!(
            reading,
            Reading::EvaporatorPressure | Reading::CondenserPressure | Reading::TankPressure(_)
        )
    });
    readings.push((Reading::TankTemperature(2), 293.4));
    compare(&analysis, &readings, "by temperatures");
    // More readings than are carried at a time: two tanks by pressure and temperature.
    let (analysis, mut readings) = machine("R-1233zd(E)", 3, Stage::polytropic(0.8).unwrap());
    readings.push((Reading::Capacity, 1.9e6));
    readings.push((Reading::TankTemperature(2), 288.0));
    assert!(readings.len() > 15);
    compare(&analysis, &readings, "all readings");
}

#[test]
fn one_kelvin_of_discharge_temperature_is_3_2_percent_of_work() {
    // R-1233zd(E), 5/37 degC, one stage without superheat: 3.2 %, computed with another implementation to two digits.
    let (evaporating, condensing) = (278.15, 310.15);
    let refrigerant = Refrigerant::named("R-1233zd(E)").unwrap();
    let circuit = Circuit::new(refrigerant, vec![Stage::polytropic(0.8).unwrap()], vec![]).unwrap();
    let cycle = circuit.solve(&Conditions::new(evaporating, condensing, Size::Capacity(3.5e6))).unwrap();
    let columns = [
        (Reading::EvaporatorSaturationTemperature, vec![evaporating]),
        (Reading::CondenserSaturationTemperature, vec![condensing]),
        (Reading::DischargeTemperature, vec![cycle.discharge_temperature()]),
        (Reading::Capacity, vec![3.5e6]),
    ];
    let analysis = TrendAnalysis::new(circuit).unwrap();
    let slope_of = |figure| {
        let slopes = with_columns(&columns, |readings| analysis.slopes(&readings, &[figure])).unwrap();
        slopes.column(figure, Reading::DischargeTemperature).unwrap()[0]
    };
    let relative = slope_of(Figure::CompressionPower) / cycle.power();
    assert!((relative - 0.032).abs() < 0.0005, "{relative}");
    // Less efficiency for more work of the same head; a polytropic one falls by somewhat less than in proportion.
    let of_efficiency = slope_of(Figure::StageEfficiency) / 0.8;
    assert!((-relative..-0.9 * relative).contains(&of_efficiency), "{of_efficiency}");
}

#[test]
fn rows_do_not_depend_on_one_another_or_on_threads() {
    let (analysis, readings) = machine("R-134a", 2, Stage::polytropic(0.8).unwrap());
    let rows = 200;
    let columns: Vec<(Reading, Vec<f64>)> = readings
        .iter()
        .map(|&(reading, value)| {
            (reading, (0..rows).map(|i| value * (1.0 + 1e-5 * f64::from(i % 7))).collect())
        })
        .collect();
    let figures = smooth(&analysis);
    let (one, shared) = with_columns(&columns, |readings| {
        (analysis.slopes(&readings, &figures).unwrap(), analysis.slopes_shared(&readings, &figures).unwrap())
    });
    let bits = |values: &[f64]| values.iter().map(|value| value.to_bits()).collect::<Vec<_>>();
    assert_eq!(bits(one.values()), bits(shared.values()));
    let width = figures.len() * readings.len();
    assert_eq!(bits(&one.values()[..width]), bits(&one.values()[7 * width..8 * width]));
}

#[test]
fn bad_rows_are_nan_and_bad_requests_errors() {
    let (analysis, readings) = machine("R-134a", 1, Stage::polytropic(0.8).unwrap());
    let bad = [f64::NAN, f64::INFINITY, -1.0, 0.0, 1e300];
    for place in 0..readings.len() {
        let columns: Vec<(Reading, Vec<f64>)> = readings
            .iter()
            .enumerate()
            .map(|(i, &(reading, value))| {
                (reading, bad.map(|bad| if i == place { bad } else { value }).to_vec())
            })
            .collect();
        let slopes = with_columns(&columns, |readings| analysis.slopes(&readings, &smooth(&analysis)));
        assert_eq!(slopes.unwrap().values().len(), 5 * smooth(&analysis).len() * readings.len());
    }
    let columns = [(Reading::CondenserPressure, vec![9e5])];
    let refused = with_columns(&columns, |readings| analysis.slopes(&readings, &[Figure::FlashFraction(2)]));
    assert!(matches!(refused, Err(Error::Inconsistent { .. })));
    let columns = [(Reading::TankPressure(2), vec![5e5])];
    let refused = with_columns(&columns, |readings| analysis.slopes(&readings, &[]));
    assert!(matches!(refused, Err(Error::Inconsistent { .. })));
    let columns = [(Reading::CondenserPressure, vec![])];
    let empty = with_columns(&columns, |readings| analysis.slopes(&readings, &smooth(&analysis)).unwrap());
    assert!(empty.values().is_empty());
}
