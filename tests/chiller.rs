//! Chillers of one or more circuits on common water, and chillers from design sheets.

use interstage::{
    Arrangement, ChilledWater, Chiller, ChillerInput, ChillerPoint, Circuit, DesignSheet, Drive, Duty, Error,
    Exchanger, HeatExchange, HeatTransfer, Input, MotorCooling, PowerBoundary, RatedFlow, RatingStandard,
    Refrigerant, Stage, WaterFlow, WaterPaths, WateredCircuit,
};

type Fallible<T> = Result<T, Box<dyn std::error::Error>>;

const PATHS: [WaterPaths; 3] =
    [WaterPaths::Parallel, WaterPaths::SeriesParallelFlow, WaterPaths::SeriesCounterFlow];

fn circuit(refrigerant: &str, arrangement: &str) -> Fallible<Circuit> {
    let arrangement: Arrangement = arrangement.parse()?;
    Ok(arrangement.circuit(Refrigerant::named(refrigerant)?, Stage::polytropic(0.80)?)?)
}

fn watered(refrigerant: &str, evaporator: HeatTransfer, condenser: HeatTransfer) -> Fallible<WateredCircuit> {
    Ok(WateredCircuit::new(
        circuit(refrigerant, "2 stages: tank@2")?,
        Exchanger::evaporator(evaporator)?,
        Exchanger::condenser(condenser)?,
    )?)
}

const CAPACITY: f64 = 3_516_850.0;

/// The duty of the reference: chilled water 12 to 7 degC, condenser water from 30 degC, ranges of 5.0 and 5.2 K.
fn duty(heat_rejected: f64) -> Fallible<Duty> {
    let chilled = DesignSheet::water_of_range(CAPACITY, 285.15, 280.15)?;
    let condenser = DesignSheet::water_of_range(heat_rejected, 303.15, 308.35)?;
    Ok(Duty::new(CAPACITY, (chilled, ChilledWater::Leaving(280.15)), (condenser, 303.15))?)
}

/// A chiller with as much condenser water as it warms by 5.2 K.
fn at_water_range(chiller: &Chiller) -> Fallible<ChillerPoint> {
    let mut point = chiller.solve(&duty(1.15 * CAPACITY)?)?;
    for _ in 0..6 {
        point = chiller.solve(&duty(point.heat_rejected())?)?;
    }
    Ok(point)
}

/// Two circuits at equal leaving approaches and with the same total UA. Figures of `DOMAIN` notes of this project, computed with
/// CoolProp 8.0.0 and not published: 8.9 % (R-123) and 9.1 % (R-134a) less power in series counter-flow, 8.8 and 9.0 % in series
/// parallel-flow at equal approach; 2.8 to 2.9 % with the same total UA; lifts of 29.5 and 29.4 K against 26.9 and 32.0 K.
#[test]
fn two_circuits_save_what_the_reference_says() -> Fallible<()> {
    for (refrigerant, counter, parallel) in [("R-123", 0.089, 0.088), ("R-134a", 0.091, 0.090)] {
        let approach = (HeatTransfer::Approach(2.0), HeatTransfer::Approach(1.8));
        let one = at_water_range(&Chiller::new(watered(refrigerant, approach.0, approach.1)?))?;
        assert!((one.cycles()[0].conditions().refrigerant_lift() - 32.0).abs() < 1e-6);
        let two = |transfer: (HeatTransfer, HeatTransfer), paths| -> Fallible<ChillerPoint> {
            let circuits = vec![watered(refrigerant, transfer.0, transfer.1)?; 2];
            at_water_range(&Chiller::of_circuits(circuits, paths)?)
        };
        let saved = |point: &ChillerPoint| 1.0 - point.power() / one.power();
        let half_digit = 6e-4;
        let found = two(approach, WaterPaths::SeriesCounterFlow)?;
        assert!((saved(&found) - counter).abs() < half_digit, "{refrigerant}: {}", saved(&found));
        let more: f64 =
            found.evaporators().iter().map(HeatExchange::ua).sum::<f64>() / one.evaporators()[0].ua();
        assert!((1.25..1.45).contains(&more), "{more} times the UA");
        let lifts: Vec<f64> = found.cycles().iter().map(|of| of.conditions().refrigerant_lift()).collect();
        assert!((lifts[0] - 29.5).abs() < 0.05 && (lifts[1] - 29.4).abs() < 0.05, "{lifts:?}");
        let found = two(approach, WaterPaths::SeriesParallelFlow)?;
        assert!((saved(&found) - parallel).abs() < half_digit, "{refrigerant}: {}", saved(&found));
        let lifts: Vec<f64> = found.cycles().iter().map(|of| of.conditions().refrigerant_lift()).collect();
        assert!((lifts[0] - 26.9).abs() < 0.05 && (lifts[1] - 32.0).abs() < 0.05, "{lifts:?}");
        // Water in parallel changes nothing.
        let found = two(approach, WaterPaths::Parallel)?;
        assert!(saved(&found).abs() < 1e-9, "{}", saved(&found));
        // The same UA, half of it in each circuit.
        let ua = (one.evaporators()[0].ua() / 2.0, one.condensers()[0].ua() / 2.0);
        let same = (HeatTransfer::Ua(ua.0), HeatTransfer::Ua(ua.1));
        let found = two(same, WaterPaths::SeriesCounterFlow)?;
        assert!((0.0275..0.0295).contains(&saved(&found)), "{refrigerant}: {}", saved(&found));
        assert!(saved(&two(same, WaterPaths::Parallel)?).abs() < 1e-9);
    }
    Ok(())
}

#[test]
fn balances_of_a_chiller_close() -> Fallible<()> {
    for paths in PATHS {
        for known in [ChilledWater::Leaving(280.15), ChilledWater::Entering(285.15)] {
            let transfer = (HeatTransfer::Ua(0.6e6), HeatTransfer::Ua(0.7e6));
            let circuits = vec![
                watered("R-134a", transfer.0, transfer.1)?.with_subcooling(2.0)?,
                watered("R-1233zd(E)", transfer.0, transfer.1)?.with_suction_superheat(1.0)?,
            ];
            let chiller = Chiller::of_circuits(circuits, paths)?.with_capacity_shares(&[2.0, 1.0])?;
            let (chilled, condenser) = (WaterFlow::water(167.0)?, WaterFlow::water(190.0)?);
            let duty = Duty::new(CAPACITY, (chilled, known), (condenser, 303.15))?;
            let point = chiller.solve(&duty)?;
            assert!(point.energy_closure().abs() < 1e-12, "{}", point.energy_closure());
            // The waters carry what the refrigerant gives and takes.
            let cooled = chilled.heat(point.chilled_water_entering(), point.chilled_water_leaving())?;
            assert!((cooled / CAPACITY - 1.0).abs() < 1e-6, "{paths}: {cooled}");
            let warmed =
                -condenser.heat(point.condenser_water_entering(), point.condenser_water_leaving())?;
            assert!((warmed / point.heat_rejected() - 1.0).abs() < 1e-6, "{paths}: {warmed}");
            for (cycle, exchange) in point.cycles().iter().zip(point.condensers()) {
                assert!((cycle.heat_rejected() / exchange.heat() - 1.0).abs() < 1e-12);
                assert_eq!(cycle.conditions().condensing_temperature(), exchange.saturation_temperature());
            }
            assert!((point.cycles()[0].capacity() / point.cycles()[1].capacity() - 2.0).abs() < 1e-12);
            assert!(point.lorenz_cop()? > point.cop());
            let zones = point.condenser_zones(0).ok_or("no circuit")??;
            assert!(zones.pinch() > 0.0 && (zones.heat() / point.condensers()[0].heat() - 1.0).abs() < 1e-9);
            assert!(point.condenser_zones(2).is_none());
        }
    }
    Ok(())
}

#[test]
fn slopes_are_those_of_differences() -> Fallible<()> {
    for paths in PATHS {
        let make = |ua: (f64, f64), efficiency: f64| -> Fallible<Chiller> {
            let of = |refrigerant: &str| -> Fallible<WateredCircuit> {
                let arrangement: Arrangement = "2 stages: closed@2 (approach 3 K)".parse()?;
                let circuit = arrangement
                    .circuit(Refrigerant::named(refrigerant)?, Stage::polytropic(efficiency)?)?
                    .with_drive(Drive::new().with_motor(0.94, MotorCooling::RefrigerantToEvaporator)?)?;
                let evaporator = Exchanger::evaporator(HeatTransfer::Ua(ua.0))?;
                Ok(WateredCircuit::new(circuit, evaporator, Exchanger::condenser(HeatTransfer::Ua(ua.1))?)?)
            };
            Ok(Chiller::of_circuits(vec![of("R-134a")?, of("R-1234ze(E)")?], paths)?)
        };
        let solve = |x: [f64; 8]| -> Fallible<ChillerPoint> {
            let water = (WaterFlow::water(x[2])?, ChilledWater::Leaving(x[1]));
            let duty = Duty::new(x[0], water, (WaterFlow::water(x[4])?, x[3]))?;
            Ok(make((x[5], x[6]), x[7])?.solve(&duty)?)
        };
        let base = [CAPACITY, 280.15, 167.0, 303.15, 190.0, 0.6e6, 0.7e6, 0.8];
        let water = (WaterFlow::water(base[2])?, ChilledWater::Leaving(base[1]));
        let duty = Duty::new(base[0], water, (WaterFlow::water(base[4])?, base[3]))?;
        let slopes = make((base[5], base[6]), base[7])?.sensitivities(&duty)?;
        let inputs = [
            (ChillerInput::Capacity, 1.0),
            (ChillerInput::ChilledWaterTemperature, 1.0),
            (ChillerInput::ChilledWaterFlow, 1.0),
            (ChillerInput::CondenserWaterEntering, 1.0),
            (ChillerInput::CondenserWaterFlow, 1.0),
            (ChillerInput::Evaporators, base[5]),
            (ChillerInput::Condensers, base[6]),
            (ChillerInput::Circuits(Input::CommonStageEfficiency), 1.0),
        ];
        for (place, (input, scale)) in inputs.into_iter().enumerate() {
            let step = 1e-4 * base[place] / if place == 1 || place == 3 { 20.0 } else { 1.0 };
            let moved = |by: f64| {
                let mut x = base;
                x[place] += by;
                solve(x)
            };
            let (below, above) = (moved(-step)?, moved(step)?);
            for (name, of) in [
                ("power", ChillerPoint::power as fn(&ChillerPoint) -> f64),
                ("cop", ChillerPoint::cop),
                ("motor_input_power", ChillerPoint::motor_input_power),
                ("heat_rejected", ChillerPoint::heat_rejected),
                ("circuit_2_condensing_temperature", |point| {
                    point.cycles()[1].conditions().condensing_temperature()
                }),
                ("circuit_1_evaporating_temperature", |point| {
                    point.cycles()[0].conditions().evaporating_temperature()
                }),
            ] {
                let difference = scale * (of(&above) - of(&below)) / (2.0 * step);
                let exact = slopes.slope(name, input).ok_or("no such slope")?;
                let rounding = scale * 1e-11 * of(&above).abs() / step;
                assert!(
                    (exact - difference).abs() <= 2e-6 * difference.abs() + rounding,
                    "{paths} {name} by {input}: {exact} for {difference}"
                );
            }
        }
    }
    Ok(())
}

#[test]
fn a_design_sheet_is_reproduced() -> Fallible<()> {
    let refrigerant = Refrigerant::named("R-1233zd(E)")?;
    let arrangement: Arrangement = "3 stages: tank@3, tank@2".parse()?;
    let drive = Drive::new()
        .with_mechanical_efficiency(0.985)?
        .with_motor(0.95, MotorCooling::RefrigerantToEvaporator)?
        .with_drive_efficiency(0.97)?;
    let duty = duty(1.2 * CAPACITY)?;
    for (boundary, power) in [
        (PowerBoundary::Compression, 560e3),
        (PowerBoundary::Shaft, 570e3),
        (PowerBoundary::MotorInput, 600e3),
        (PowerBoundary::DriveInput, 620e3),
    ] {
        let sheet =
            DesignSheet::new(duty, (power, boundary), (1.2, 1.0))?.with_drive(drive).with_subcooling(1.0);
        let designed = sheet.design(refrigerant.clone(), &arrangement)?;
        let point = designed.point();
        let found = match boundary {
            PowerBoundary::Compression => point.power(),
            PowerBoundary::Shaft => point.shaft_power(),
            PowerBoundary::MotorInput => point.motor_input_power(),
            _ => point.drive_input_power(),
        };
        assert!((found / power - 1.0).abs() < 1e-9, "{boundary}: {found}");
        assert!((point.evaporators()[0].approach() - 1.2).abs() < 1e-9);
        assert!((point.condensers()[0].approach() - 1.0).abs() < 1e-8);
        assert!((0.6..0.92).contains(&designed.polytropic_efficiency()));
        let again = designed.chiller().solve(&duty)?;
        assert_eq!(again, *point);
        assert_eq!(point.evaporators()[0].ua(), designed.evaporator_ua());
    }
    // A machine better than physics allows, and one better than any stage is.
    for power in [300e3, 425e3] {
        let sheet = DesignSheet::new(duty, (power, PowerBoundary::Compression), (1.2, 1.0))?;
        let error = sheet.design(refrigerant.clone(), &arrangement).unwrap_err();
        let Error::Inconsistent { reason, .. } = &error else { return Err(error.into()) };
        assert!(reason.contains("polytropic efficiency of") && reason.contains("0.92"), "{reason}");
    }
    // Beyond the efficiencies searched, and beyond the equation of state.
    for (power, said) in [
        (60e3, "at 5.0000 more power is needed"),
        (5e6, "the discharge is as hot as the equation of state goes"),
    ] {
        let sheet = DesignSheet::new(duty, (power, PowerBoundary::Compression), (1.2, 1.0))?;
        let error = sheet.design(refrigerant.clone(), &arrangement).unwrap_err();
        let Error::Inconsistent { reason, .. } = &error else { return Err(error.into()) };
        assert!(reason.contains(said), "{reason}");
    }
    let negative = DesignSheet::new(duty, (560e3, PowerBoundary::Compression), (-0.5, 1.0));
    assert!(matches!(negative, Err(Error::OutOfRange { argument: "evaporator approach", .. })));
    Ok(())
}

#[test]
fn an_unknown_input_is_answered_with_those_of_the_chiller_first() {
    let Err(Error::UnknownOption { argument, options, .. }) = "capacty".parse::<ChillerInput>() else {
        panic!("it was read");
    };
    assert_eq!(argument, "input");
    assert_eq!(options.first().map(String::as_str), Some("capacity"));
    assert!(options.iter().any(|option| option == "subcooling"), "{options:?}");
}

#[test]
fn a_rating_has_the_water_of_the_standard() -> Fallible<()> {
    let chiller = Chiller::new(watered("R-134a", HeatTransfer::Ua(1.1e6), HeatTransfer::Ua(1.3e6))?);
    for standard in RatingStandard::ALL {
        let conditions = standard.conditions();
        let rated = chiller.rate(&conditions, CAPACITY, PowerBoundary::Compression)?;
        let full = &rated.points()[0];
        assert_eq!(full.chilled_water_leaving(), conditions.chilled_water_leaving());
        if let RatedFlow::Temperature(warm) = conditions.condenser_water() {
            assert!((full.condenser_water_leaving() - warm).abs() < 1e-9, "{standard}");
        }
        if let RatedFlow::Temperature(entering) = conditions.chilled_water() {
            assert!((full.chilled_water_entering() - entering).abs() < 1e-9, "{standard}");
        }
        let mut weighted = 0.0;
        for (point, part) in rated.points().iter().zip(conditions.part_loads()) {
            assert_eq!(point.condenser_water_entering(), part.condenser_water_entering());
            assert!((point.capacity() / CAPACITY - part.load()).abs() < 1e-15);
            assert_eq!(point.duty().chilled_water(), full.duty().chilled_water());
            weighted += part.weight() * point.cop();
        }
        assert!((rated.iplv() / weighted - 1.0).abs() < 1e-14);
        // Falling lift makes part load the better one.
        assert!(rated.iplv() > full.cop());
    }
    Ok(())
}

#[test]
fn what_cannot_be_is_refused() -> Fallible<()> {
    let range = DesignSheet::water_of_range;
    assert!(matches!(
        range(-1.0, 285.15, 280.15),
        Err(Error::OutOfRange { argument: "heat", value: -1.0, .. })
    ));
    assert!(matches!(range(f64::NAN, 285.15, 280.15), Err(Error::NotFinite { argument: "heat", .. })));
    assert!(matches!(range(1e6, 285.15, 285.15), Err(Error::Inconsistent { .. })));
    for standard in RatingStandard::ALL {
        let chiller = Chiller::new(watered("R-134a", HeatTransfer::Ua(0.6e6), HeatTransfer::Ua(0.7e6))?);
        let rated = chiller.rate(&standard.conditions(), -1.0, PowerBoundary::Compression);
        assert!(
            matches!(rated, Err(Error::OutOfRange { argument: "capacity", value: -1.0, .. })),
            "{rated:?}"
        );
    }
    let transfer = (HeatTransfer::Ua(0.6e6), HeatTransfer::Ua(0.7e6));
    let one = || watered("R-134a", transfer.0, transfer.1);
    let wrong_length = Chiller::of_circuits(Vec::new(), WaterPaths::Parallel);
    assert!(matches!(wrong_length, Err(Error::WrongLength { argument: "circuits", .. })));
    let shares = Chiller::new(one()?).with_capacity_shares(&[1.0, 2.0]);
    assert!(matches!(shares, Err(Error::WrongLength { argument: "capacity shares", .. })));
    let shares = Chiller::new(one()?).with_capacity_shares(&[-1.0]);
    assert!(matches!(shares, Err(Error::OutOfRange { argument: "capacity share", .. })));
    let condenser = Exchanger::condenser(transfer.1)?;
    let swapped = WateredCircuit::new(circuit("R-134a", "1 stage")?, condenser, condenser);
    assert!(matches!(swapped, Err(Error::Inconsistent { arguments: "evaporator and condenser", .. })));
    let water = WaterFlow::water(150.0)?;
    let chiller = Chiller::new(one()?);
    for (capacity, leaving, entering) in [
        (f64::NAN, 280.0, 300.0),
        (1e6, f64::INFINITY, 300.0),
        (1e6, 280.0, f64::NAN),
        (-1.0, 280.0, 300.0),
        (1e6, 200.0, 300.0),
        (1e6, 280.0, 600.0),
    ] {
        assert!(Duty::new(capacity, (water, ChilledWater::Leaving(leaving)), (water, entering)).is_err());
    }
    // Condenser water colder than the chilled water: no lift is left; condenser water so hot that no cycle is left.
    for (leaving, entering, capacity) in [(300.0, 275.0, 1e6), (280.0, 390.0, 1e6), (280.0, 303.0, 1e9)] {
        let duty = Duty::new(capacity, (water, ChilledWater::Leaving(leaving)), (water, entering))?;
        assert!(chiller.solve(&duty).is_err(), "{leaving} {entering} {capacity}");
        assert!(chiller.sensitivities(&duty).is_err());
    }
    Ok(())
}
