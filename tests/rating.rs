//! Ratings, ideal machines and impellers: printed formulas and conditions in `tests/data/rating_checks.json`,
//! computed impellers in `tests/data/impeller_numbers.csv`, limits and refusals.
#![expect(clippy::panic, reason = "a test fails by panicking")]

mod common;

use std::collections::BTreeSet;

use common::{Check, Fallible, Tally, ZERO_CELSIUS, data_file, point, read_table};
use interstage::{
    Circuit, Conditions, Error, FlashTank, Impeller, Interstage, PartLoad, RatedFlow, RatingConditions,
    RatingStandard, Refrigerant, Result, Size, Stage, StageDuty, Vessel, carnot_cop,
    entropic_mean_temperature, fouling_allowance, iplv_from_cop, iplv_from_kw_per_ton, lorenz_cop,
    rating_tolerance, units,
};
use proptest::prelude::*;
use serde_json::Value;

fn numbers<const N: usize>(entry: &Value, names: [&str; N]) -> Fallible<[f64; N]> {
    let number = |name: &str| entry["inputs"][name]["value"].as_f64().ok_or(format!("no {name}"));
    let mut found = [0.0; N];
    for (found, name) in found.iter_mut().zip(names) {
        *found = number(name)?;
    }
    Ok(found)
}

/// Flow per capacity in gpm/ton.
fn gpm_per_ton(flow: RatedFlow) -> Fallible<f64> {
    match flow {
        RatedFlow::PerCapacity(flow) => {
            Ok(units::gpm_from_cubic_meter_per_second(flow) / units::ton_from_watt(1.0))
        }
        other => Err(format!("fixed by {other:?}").into()),
    }
}

fn degf(flow: RatedFlow) -> Fallible<f64> {
    match flow {
        RatedFlow::Temperature(other) => Ok(units::fahrenheit_from_kelvin(other)),
        other => Err(format!("fixed by {other:?}").into()),
    }
}

/// What the library says of an expected figure of an entry.
fn figure(entry: &Value, id: &str, name: &str) -> Fallible<f64> {
    let four = || numbers(entry, ["A", "B", "C", "D"]);
    let range = || -> Fallible<f64> {
        let [range] = numbers(entry, ["dT_FL"])?;
        Ok(units::kelvin_difference_from_fahrenheit_difference(range))
    };
    let (old, new) =
        (RatingStandard::Ahri550_590_2003.conditions(), RatingStandard::Ahri550_590_2015.conditions());
    let fouling = |vessel| fouling_allowance(vessel);
    Ok(match (id, name) {
        (_, "ton_Btu_h") => units::btu_per_hour_from_watt(units::watt_from_ton(1.0)),
        (_, "ton_kW") => units::watt_from_ton(1.0) / 1e3,
        (_, "kW_per_ton") => units::kw_per_ton_from_cop(numbers(entry, ["COP"])?[0]),
        (_, "EER") => units::eer_from_cop(numbers(entry, ["COP"])?[0]),
        ("pc-rate-gen-003", "IPLV") => iplv_from_cop(four()?)?,
        ("pc-rate-gen-004", "IPLV") => iplv_from_kw_per_ton(four()?)?,
        (_, "Tol1_at_100_percent") => rating_tolerance(1.0, range()?)?,
        (_, "Tol1_at_75_percent") => rating_tolerance(0.75, range()?)?,
        (_, "Tol1_at_50_percent") => rating_tolerance(0.5, range()?)?,
        (_, "Tol1_at_25_percent") => rating_tolerance(0.25, range()?)?,
        (_, "tolerance_percent_IP") => 100.0 * rating_tolerance(1.0, range()?)?,
        (_, "tolerance_percent_SI") => {
            let [range, load] = numbers(entry, ["dT_FL_SI", "load"])?;
            100.0 * rating_tolerance(load / 100.0, range)?
        }
        (_, "p_int") => {
            let [low, high] = numbers(entry, ["p_evap", "p_cond"])?;
            let refrigerant = Refrigerant::named("R-134a")?;
            let at = |pressure: f64| refrigerant.saturation_temperature(pressure * 1e6);
            let stages = vec![Stage::polytropic(0.8)?; 2];
            let circuit = Circuit::new(refrigerant.clone(), stages, vec![FlashTank::new().into()])?;
            let cycle = circuit.solve(&Conditions::new(at(low)?, at(high)?, Size::MassFlow(1.0)))?;
            cycle.interstage_pressures()[0] / 1e6
        }
        (_, "evap_leaving") => units::fahrenheit_from_kelvin(new.chilled_water_leaving()),
        (_, "evap_entering") => degf(new.chilled_water())?,
        (_, "evap_flow") => gpm_per_ton(old.chilled_water())?,
        (_, "cond_entering") => units::fahrenheit_from_kelvin(new.condenser_water_entering()),
        (_, "cond_leaving_2015") => degf(new.condenser_water())?,
        (_, "cond_flow_2003_2011") => gpm_per_ton(old.condenser_water())?,
        // 1 Btu/(h ft2 degF) = 5.678263 W/(m2 K), NIST SP 811, appendix B.9.
        (_, "evaporator_IP") => fouling(Vessel::Evaporator) * 5.678_263,
        (_, "condenser_IP") => fouling(Vessel::Condenser) * 5.678_263,
        (_, "evaporator_SI") => fouling(Vessel::Evaporator) * 1e3,
        (_, "condenser_SI") => fouling(Vessel::Condenser) * 1e3,
        _ => return Err(format!("{id} {name} is not known").into()),
    })
}

#[test]
fn printed_formulas_and_conditions() -> Fallible<()> {
    let file: Value = serde_json::from_str(&data_file("rating_checks.json")?)?;
    let mut tally = Tally::default();
    for entry in file["entries"].as_array().ok_or("no entries")? {
        let id = entry["id"].as_str().ok_or("no id")?;
        let source = entry["source"]["title"].as_str().ok_or("no source")?;
        for (name, expected) in entry["expected"].as_object().ok_or("nothing expected")? {
            let value = expected["value"].as_f64().ok_or("no value")?;
            let given = expected["tol_abs"].as_f64().ok_or("no tolerance")?;
            // A tolerance of 0 means exact: rounding of the conversions there and back, 1e-7 of the printed factor.
            let rounding = if name.ends_with("_IP") && given == 0.0 { 1e-7 } else { 1e-13 };
            let tolerance = given.max(rounding * value);
            let check = Check { id, property: name, source, expected: value, tolerance };
            tally.check(&check, figure(entry, id, name));
        }
    }
    tally.finish("rating formulas", 23);
    Ok(())
}

/// Figures that were rounded twice on their way into the table, with half a unit of the digit dropped in between:
/// 0.74454 to 0.7445 to 0.745 to 0.75, and 191.486 to 191.49 to 191.5 to 192. The longer figures are of the same
/// library.
const ROUNDED_TWICE: [(&str, &str, f64); 2] =
    [("R-1233zd(E) 2", "diameter_m", 0.0005), ("R-1234ze(E) 1", "tip_speed_m_s", 0.05)];

/// Computed with CoolProp 8.0.0, not published: polytropic efficiency 0.80, 5/37 degC, 3516.85 kW, equal pressure
/// ratios, saturated suction, a tank between any two stages; head coefficient 0.52, flow coefficient 0.07 of the
/// first stage, one speed.
#[test]
fn impellers_of_worked_chillers() -> Fallible<()> {
    let mut tally = Tally::default();
    for row in read_table("impeller_numbers.csv")? {
        let refrigerant = Refrigerant::named(row.text("fluid")?)?;
        let stages = row.number("stages")? as usize;
        let between = vec![Interstage::FlashTank(FlashTank::new()); stages - 1];
        let circuit = Circuit::new(refrigerant.clone(), vec![Stage::polytropic(0.8)?; stages], between)?;
        let size = Size::Capacity(3_516_850.0);
        let cycle = circuit.solve(&Conditions::new(5.0 + ZERO_CELSIUS, 37.0 + ZERO_CELSIUS, size))?;
        let duties = (1..=stages)
            .map(|stage| {
                let inlet = point(&cycle, &format!("stage_{stage}_inlet"))?;
                let head = cycle.stage_head()[stage - 1];
                Ok(StageDuty::at_inlet(&refrigerant, inlet.state(), inlet.mass_flow(), head)?)
            })
            .collect::<Fallible<Vec<_>>>()?;
        let impellers = Impeller::on_one_shaft(&duties, 0.52, 0.07)?;
        assert_eq!(impellers.len(), stages);
        let first = impellers[0];
        for (column, half_unit, found) in [
            ("tip_speed_m_s", 0.5, first.tip_speed()),
            ("tip_mach", 0.005, first.tip_mach()),
            ("diameter_m", 0.005, first.diameter()),
            ("speed_rpm", 5.0, 60.0 * first.speed()),
        ] {
            let id = format!("{} {stages}", row.text("fluid")?);
            let twice = ROUNDED_TWICE.iter().find(|(of, figure, _)| *of == id && *figure == column);
            let check = Check {
                id: &id,
                property: column,
                source: "worked impellers computed with CoolProp 8.0.0",
                expected: row.number(column)?,
                tolerance: half_unit + twice.map_or(0.0, |(_, _, dropped)| *dropped),
            };
            tally.check(&check, Ok(found));
        }
        for impeller in &impellers {
            assert!((impeller.speed() / first.speed() - 1.0).abs() < 1e-14);
            assert!((impeller.head_coefficient() / 0.52 - 1.0).abs() < 1e-14);
            assert!(impeller.flow_coefficient() <= 0.07 * (1.0 + 1e-14), "later stages take less volume");
        }
    }
    tally.finish("impellers", 48);
    Ok(())
}

#[test]
fn weights_are_a_whole_and_loads_fall() {
    for standard in RatingStandard::ALL {
        let points = standard.conditions().part_loads();
        let whole: f64 = points.iter().map(PartLoad::weight).sum();
        assert!((whole - 1.0).abs() < 1e-15);
        assert_eq!(points.map(|point| point.load()), [1.0, 0.75, 0.5, 0.25]);
        assert_eq!(standard.to_string().parse::<RatingStandard>().unwrap(), standard);
    }
    let names: BTreeSet<String> = RatingStandard::ALL.iter().map(RatingStandard::to_string).collect();
    assert_eq!(names.len(), 3);
}

#[test]
fn entering_condenser_water_of_the_standards() {
    // AHRI 550/590 (I-P): 85, 75, 65, 65 degF. AHRI 551/591 (SI): 30, 24.5, 19, 19 degC, from memory.
    for (standard, to, expected) in [
        (
            RatingStandard::Ahri550_590_2003,
            units::fahrenheit_from_kelvin as fn(f64) -> f64,
            [85.0, 75.0, 65.0, 65.0],
        ),
        (RatingStandard::Ahri550_590_2015, units::fahrenheit_from_kelvin, [85.0, 75.0, 65.0, 65.0]),
        (RatingStandard::Ahri551_591_2015, units::celsius_from_kelvin, [30.0, 24.5, 19.0, 19.0]),
    ] {
        let conditions = standard.conditions();
        for (point, expected) in conditions.part_loads().iter().zip(expected) {
            assert!((to(point.condenser_water_entering()) - expected).abs() < 1e-10);
            let at = conditions.condenser_water_entering_at(point.load()).unwrap();
            assert_eq!(at, point.condenser_water_entering());
        }
    }
    let metric = RatingStandard::Ahri551_591_2015.conditions();
    assert_eq!(metric.chilled_water_leaving(), 280.15);
    assert_eq!(metric.chilled_water(), RatedFlow::Temperature(285.15));
    assert_eq!(metric.condenser_water(), RatedFlow::Temperature(308.15));
}

#[test]
fn chosen_conditions_follow_the_rule_of_the_standard() {
    let standard = RatingStandard::Ahri551_591_2015;
    let chosen = |entering| {
        let flows = (RatedFlow::Temperature(284.15), RatedFlow::PerCapacity(5e-8));
        RatingConditions::non_standard(standard, 279.15, flows.0, entering, flows.1).unwrap()
    };
    let warm = chosen(305.15);
    let entering = warm.part_loads().map(|point| point.condenser_water_entering());
    assert!((entering[0] - 305.15).abs() < 1e-12 && (entering[1] - 298.65).abs() < 1e-12);
    assert_eq!((entering[2], entering[3]), (292.15, 292.15));
    assert_eq!((warm.chilled_water_leaving(), warm.standard()), (279.15, standard));
    assert_eq!(warm.condenser_water(), RatedFlow::PerCapacity(5e-8));
    // Water that is cold already stays as it is.
    assert_eq!(chosen(288.15).part_loads().map(|point| point.condenser_water_entering()), [288.15; 4]);
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn part_load_values_lie_between_their_figures(cop in prop::array::uniform4(1.0..15.0)) {
        let (least, most) = cop.iter().fold((f64::INFINITY, 0.0f64), |(a, b), &c| (a.min(c), b.max(c)));
        let iplv = iplv_from_cop(cop).unwrap();
        prop_assert!(iplv >= least * (1.0 - 1e-15) && iplv <= most * (1.0 + 1e-15));
        // The harmonic form is the same figure in the other unit.
        let kw_per_ton = iplv_from_kw_per_ton(cop.map(units::kw_per_ton_from_cop)).unwrap();
        prop_assert!((units::cop_from_kw_per_ton(kw_per_ton) / iplv - 1.0).abs() < 1e-14);
        let eer = iplv_from_cop(cop.map(units::eer_from_cop)).unwrap();
        prop_assert!((units::cop_from_eer(eer) / iplv - 1.0).abs() < 1e-14);
    }

    #[test]
    fn tolerances_widen_at_part_load_and_small_ranges(load in 0.1..0.99, range in 2.0..10.0) {
        let at = |load, range| rating_tolerance(load, range).unwrap();
        prop_assert!(at(load, range) > at(1.0, range));
        prop_assert!(at(load, range) > at(load, range + 0.1));
    }

    /// A Lorenz machine is better than a Carnot machine between the leaving temperatures, and worse than one between
    /// the entering.
    #[test]
    fn lorenz_lies_between_two_carnot_machines(
        leaving in 275.0..285.0, chilled in 0.0..10.0, entering in 296.0..308.0, condenser in 0.0..10.0,
    ) {
        let lorenz = lorenz_cop(leaving + chilled, leaving, entering, entering + condenser).unwrap();
        prop_assert!(lorenz >= carnot_cop(leaving, entering + condenser).unwrap() * (1.0 - 1e-12));
        prop_assert!(lorenz <= carnot_cop(leaving + chilled, entering).unwrap() * (1.0 + 1e-12));
        let mean = entropic_mean_temperature(leaving, leaving + chilled).unwrap();
        prop_assert!(mean <= leaving + 0.5 * chilled + 1e-12 && mean >= leaving);
    }

    #[test]
    fn impellers_give_back_their_coefficients(
        head in 1e3..5e4, flow in 0.1..20.0, psi in 0.3..0.7, phi in 0.02..0.12,
    ) {
        let duty = StageDuty::new(head, flow, 140.0).unwrap();
        let impeller = Impeller::sized(&duty, psi, phi).unwrap();
        prop_assert!((impeller.head_coefficient() / psi - 1.0).abs() < 1e-14);
        prop_assert!((impeller.flow_coefficient() / phi - 1.0).abs() < 1e-14);
        let same = Impeller::at_speed(&duty, psi, impeller.speed()).unwrap();
        prop_assert!((same.diameter() / impeller.diameter() - 1.0).abs() < 1e-14);
        prop_assert!((same.flow_coefficient() / phi - 1.0).abs() < 1e-13);
        // Similarity: the same flow coefficient at twice the head and root-two times the flow.
        let larger = StageDuty::new(2.0 * head, 2f64.sqrt() * flow, 140.0).unwrap();
        let larger = Impeller::sized(&larger, psi, phi).unwrap();
        prop_assert!((larger.diameter() / impeller.diameter() - 1.0).abs() < 1e-14);
    }

    #[test]
    fn any_numbers_give_an_error_or_a_figure(numbers in prop::array::uniform5(prop_oneof![
        any::<f64>(), -1e3..1e3f64, 250.0..350.0f64, 0.0..1.0f64,
        prop::sample::select(vec![0.0, f64::NAN, f64::INFINITY, -f64::INFINITY, f64::MIN_POSITIVE, f64::MAX]),
    ])) {
        let [a, b, c, d, e] = numbers;
        let holds = |outcome: Result<f64>| match outcome {
            Ok(value) => value.is_finite(),
            Err(error) => matches!(
                error,
                Error::OutOfRange { .. } | Error::NotFinite { .. } | Error::Inconsistent { .. }
            ),
        };
        prop_assert!(holds(iplv_from_cop([a, b, c, d])) && holds(iplv_from_kw_per_ton([a, b, c, d])));
        prop_assert!(holds(rating_tolerance(a, b)) && holds(entropic_mean_temperature(a, b)));
        prop_assert!(holds(carnot_cop(a, b)) && holds(lorenz_cop(a, b, c, d)));
        if let Ok(duty) = StageDuty::new(a, b, c) {
            for impeller in [Impeller::sized(&duty, d, e), Impeller::at_speed(&duty, d, e)] {
                prop_assert!(holds(impeller.as_ref().map(Impeller::flow_coefficient).map_err(Error::clone)));
                prop_assert!(holds(impeller.map(|i| i.speed() + i.diameter() + i.tip_mach())));
            }
        }
        for flow in [RatedFlow::PerCapacity(b), RatedFlow::Temperature(b)] {
            let standard = RatingStandard::Ahri550_590_2015;
            if let Ok(chosen) = RatingConditions::non_standard(standard, a, flow, c, RatedFlow::Temperature(d)) {
                prop_assert!(holds(chosen.condenser_water_entering_at(e)));
            }
        }
    }
}

#[track_caller]
fn out_of_range<T: std::fmt::Debug>(outcome: Result<T>, named: &str, given: f64, in_unit: &str) {
    match outcome {
        Err(Error::OutOfRange { argument, value, minimum, maximum, unit, .. }) => {
            assert_eq!((argument, value, unit), (named, given, in_unit));
            assert!(!(minimum..=maximum).contains(&value));
        }
        other => panic!("{other:?}"),
    }
}

#[track_caller]
fn contradicts<T: std::fmt::Debug>(outcome: Result<T>, named: &str) {
    match outcome {
        Err(Error::Inconsistent { arguments, .. }) => assert_eq!(arguments, named),
        other => panic!("{other:?}"),
    }
}

#[test]
fn bad_input_is_named() {
    out_of_range(iplv_from_cop([6.0, 6.0, 0.0, 6.0]), "at 50", 0.0, "-");
    out_of_range(iplv_from_kw_per_ton([0.6, 0.5, 0.4, -1.0]), "at 25", -1.0, "-");
    assert!(matches!(
        iplv_from_cop([f64::NAN, 6.0, 6.0, 6.0]),
        Err(Error::NotFinite { argument: "at 100", .. })
    ));
    out_of_range(rating_tolerance(0.0, 5.0), "load", 0.0, "-");
    out_of_range(rating_tolerance(0.5, 0.0), "full load range", 0.0, "K");
    out_of_range(carnot_cop(0.0, 300.0), "evaporating temperature", 0.0, "K");
    contradicts(carnot_cop(300.0, 300.0), "evaporating temperature and condensing temperature");
    contradicts(lorenz_cop(280.0, 285.0, 303.0, 308.0), "chilled water entering and chilled water leaving");
    contradicts(
        lorenz_cop(285.0, 280.0, 308.0, 303.0),
        "condenser water entering and condenser water leaving",
    );
    contradicts(lorenz_cop(285.0, 280.0, 280.0, 284.0), "chilled water leaving and condenser water leaving");
    let duty = StageDuty::new(1e4, 5.0, 130.0).unwrap();
    out_of_range(StageDuty::new(-1e4, 5.0, 130.0), "head", -1e4, "J/kg");
    out_of_range(StageDuty::new(1e4, 0.0, 130.0), "volume flow", 0.0, "m3/s");
    out_of_range(StageDuty::new(1e4, 5.0, 0.0), "speed of sound", 0.0, "m/s");
    out_of_range(Impeller::sized(&duty, 0.0, 0.07), "head coefficient", 0.0, "-");
    out_of_range(Impeller::sized(&duty, 0.5, 7.0), "flow coefficient", 7.0, "-");
    out_of_range(Impeller::at_speed(&duty, 0.5, 0.0), "speed", 0.0, "1/s");
    assert_eq!(
        Impeller::on_one_shaft(&[], 0.5, 0.07),
        Err(Error::WrongLength { argument: "duties", found: 0, expected: 1 })
    );
    let refrigerant = Refrigerant::named("R-134a").unwrap();
    let wet = refrigerant.state_tx(278.15, 0.9).unwrap();
    assert!(matches!(StageDuty::at_inlet(&refrigerant, &wet, 1.0, 1e4), Err(Error::Undefined { .. })));
    let chosen = |leaving, entering, flow| {
        let standard = RatingStandard::Ahri550_590_2015;
        RatingConditions::non_standard(standard, leaving, RatedFlow::Temperature(285.0), entering, flow)
    };
    out_of_range(chosen(44.0, 303.0, RatedFlow::Temperature(308.0)), "chilled water leaving", 44.0, "K");
    out_of_range(chosen(280.0, 303.0, RatedFlow::PerCapacity(3.0)), "condenser water flow", 3.0, "m3/(s W)");
    contradicts(
        chosen(286.0, 303.0, RatedFlow::Temperature(308.0)),
        "chilled water entering and chilled water leaving",
    );
    contradicts(
        chosen(280.0, 303.0, RatedFlow::Temperature(300.0)),
        "condenser water entering and condenser water leaving",
    );
    assert!(matches!(
        "AHRI 550".parse::<RatingStandard>(),
        Err(Error::UnknownOption { argument: "standard", options, .. }) if options.len() == 3
    ));
}
