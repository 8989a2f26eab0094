//! What bad input to arrangements is told: typed errors with argument, value and limits; and that no number at all leads to a panic.
#![expect(clippy::panic, reason = "a test fails by panicking")]

mod machines;
mod states;

use interstage::{
    Arrangement, Circuit, ClosedEconomizer, Conditions, Cycle, Drive, Error, FlashTank, Input,
    IntercooledTank, Interstage, InterstagePressures, LiquidInjection, Metering, MotorCooling,
    PressureLosses, Refrigerant, Result, Size, Stage, Surroundings, TankSeparation,
};
use machines::{Between, Machine, machines};
use proptest::prelude::*;
use states::random::{anything, check, is_about_input};

const TANK: Between = Between::Tank { carryover: 0.0, blowthrough: 0.0, expander: None };

fn tanks(count: usize) -> Machine {
    Machine::plain("R-134a", vec![TANK; count])
}

/// Refused as out of range, with argument, value and unit.
#[track_caller]
fn out_of_range<T: std::fmt::Debug>(outcome: Result<T>, argument: &str, value: f64, unit: &str) {
    match outcome {
        Err(Error::OutOfRange { argument: a, value: v, minimum, maximum, unit: u, reason }) => {
            assert_eq!((a, v, u), (argument, value, unit), "{reason}");
            assert!(minimum < maximum && !(minimum..=maximum).contains(&v), "{v} in {minimum}..{maximum}");
            assert!(!reason.is_empty());
        }
        other => panic!("expected a range error of {argument}, got {other:?}"),
    }
}

/// Refused as a contradiction, whose reason has these words.
#[track_caller]
fn inconsistent<T: std::fmt::Debug>(outcome: Result<T>, arguments: &str, about: &[&str]) {
    match outcome {
        Err(Error::Inconsistent { arguments: a, reason }) => {
            assert_eq!(a, arguments, "{reason}");
            assert!(about.iter().all(|word| reason.contains(word)), "{reason:?} has not all of {about:?}");
        }
        other => panic!("expected a contradiction of {arguments}, got {other:?}"),
    }
}

/// A setter that takes one number.
type Setter = (&'static str, fn(f64) -> Result<()>, f64, f64, &'static str);

/// Every number of a component, with its limits.
const NUMBERS: [Setter; 21] = [
    ("liquid carryover", |x| FlashTank::new().with_liquid_carryover(x).map(drop), 0.0, 0.5, "kg/kg"),
    ("vapor blowthrough", |x| FlashTank::new().with_vapor_blowthrough(x).map(drop), 0.0, 0.5, "kg/kg"),
    ("liquid carryover", |x| IntercooledTank::new().with_liquid_carryover(x).map(drop), 0.0, 0.5, "kg/kg"),
    ("vapor blowthrough", |x| IntercooledTank::new().with_vapor_blowthrough(x).map(drop), 0.0, 0.5, "kg/kg"),
    ("coil approach", |x| IntercooledTank::new().with_coil(x).map(drop), 0.0, 200.0, "K"),
    ("approach", |x| ClosedEconomizer::new(x).map(drop), 0.0, 200.0, "K"),
    (
        "injection superheat",
        |x| ClosedEconomizer::new(1.0)?.with_injection_superheat(x).map(drop),
        0.0,
        200.0,
        "K",
    ),
    ("superheat", |x| LiquidInjection::new().with_superheat(x).map(drop), 0.0, 200.0, "K"),
    ("expander efficiency", |x| Metering::expander(x).map(drop), 0.0, 1.0, "-"),
    ("suction loss", |x| PressureLosses::new().with_suction(x).map(drop), 0.0, 0.5, "-"),
    ("interstage loss", |x| PressureLosses::new().with_interstage(x).map(drop), 0.0, 0.5, "-"),
    ("port loss", |x| PressureLosses::new().with_port(x).map(drop), 0.0, 0.5, "-"),
    ("discharge loss", |x| PressureLosses::new().with_discharge(x).map(drop), 0.0, 0.5, "-"),
    ("mechanical efficiency", |x| Drive::new().with_mechanical_efficiency(x).map(drop), 0.1, 1.0, "-"),
    ("motor efficiency", |x| Drive::new().with_motor(x, MotorCooling::Room).map(drop), 0.1, 1.0, "-"),
    ("drive efficiency", |x| Drive::new().with_drive_efficiency(x).map(drop), 0.1, 1.0, "-"),
    ("isentropic efficiency", |x| Stage::isentropic(x).map(drop), 0.01, 1.0, "-"),
    ("polytropic efficiency", |x| Stage::polytropic(x).map(drop), 0.01, 1.0, "-"),
    ("polytropic efficiency", |x| Stage::polytropic_three_point(x).map(drop), 0.01, 1.0, "-"),
    (
        "polytropic efficiency",
        |x| Stage::polytropic_three_point(0.8)?.with_efficiency(x).map(drop),
        0.01,
        1.0,
        "-",
    ),
    (
        "suction exchanger effectiveness",
        |x| tanks(1).circuit()?.with_suction_exchanger(x).map(drop),
        0.0,
        1.0,
        "-",
    ),
];

#[test]
fn numbers_of_components_have_limits() {
    for (argument, set, lowest, highest, unit) in NUMBERS {
        for inside in [lowest, 0.5 * (lowest + highest), highest] {
            assert!(set(inside).is_ok(), "{argument} {inside}");
        }
        for outside in [lowest - 1e-9, highest + 1e-9, -1.0, 1e9, -f64::MAX, f64::MAX] {
            out_of_range(set(outside), argument, outside, unit);
        }
        for what in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            match set(what) {
                Err(Error::NotFinite { argument: a, value, unit: u }) => {
                    assert_eq!((a, u), (argument, unit));
                    assert!(!value.is_finite());
                }
                other => panic!("{argument} {what}: {other:?}"),
            }
        }
    }
    // An expander may be made without its constructor; then the circuit refuses it.
    let solve = |efficiency| {
        let metering = Metering::Expander { efficiency };
        let tank = vec![FlashTank::new().with_metering(metering).into()];
        let stages = vec![Stage::isentropic(0.8)?; 2];
        let in_tank = Circuit::new(Refrigerant::named("R-134a")?, stages, tank)?;
        let in_evaporator = tanks(1).circuit()?.with_metering(metering);
        let conditions = tanks(1).conditions();
        Ok::<_, Error>([in_tank.solve(&conditions), in_evaporator.solve(&conditions)])
    };
    for efficiency in [-1.0, 2.0] {
        for outcome in solve(efficiency).unwrap() {
            out_of_range(outcome, "expander efficiency", efficiency, "-");
        }
    }
    for outcome in solve(f64::NAN).unwrap() {
        assert!(matches!(outcome, Err(Error::NotFinite { argument: "expander efficiency", .. })));
    }
}

#[test]
fn counts_that_do_not_fit_are_refused() {
    let stage = Stage::polytropic(0.8).unwrap();
    let kinds: [Interstage; 5] = [
        FlashTank::new().into(),
        IntercooledTank::new().into(),
        ClosedEconomizer::new(3.0).unwrap().into(),
        LiquidInjection::new().into(),
        Interstage::Direct,
    ];
    let refrigerant = Refrigerant::named("R-134a").unwrap();
    for kind in kinds {
        for (stages, interstages) in [(1, 1), (2, 0), (2, 2), (5, 3)] {
            let made = Circuit::new(refrigerant.clone(), vec![stage; stages], vec![kind; interstages]);
            let expected =
                Error::WrongLength { argument: "interstages", found: interstages, expected: stages - 1 };
            assert_eq!(made.unwrap_err(), expected);
        }
    }
    let given = InterstagePressures::Given(vec![4e5]);
    let expected = Error::WrongLength { argument: "interstage pressures", found: 1, expected: 2 };
    assert_eq!(tanks(2).circuit().unwrap().with_interstage_pressures(given).unwrap_err(), expected);
}

/// Vapor of the motor joins at a stage that is there, and not at the first.
#[test]
fn motor_vapor_goes_to_a_stage_that_is_there() {
    for stage in [0, 1, 3, 7, usize::MAX] {
        let drive = Drive::new().with_motor(0.95, MotorCooling::RefrigerantToStage(stage)).unwrap();
        let made = tanks(1).circuit().unwrap().with_drive(drive);
        match made {
            Err(Error::OutOfRange { argument, value, maximum, .. }) => {
                assert_eq!(argument, "motor cooling");
                assert_eq!((value, maximum), (stage as f64, 2.0));
            }
            other => panic!("{stage}: {other:?}"),
        }
    }
    // A circuit of one stage has none between stages.
    let drive = Drive::new().with_motor(0.95, MotorCooling::RefrigerantToStage(2)).unwrap();
    let made = tanks(0).circuit().unwrap().with_drive(drive);
    inconsistent(made, "motor cooling and stages", &["stage 2", "one stage"]);
    let drive = Drive::new().with_motor(0.95, MotorCooling::RefrigerantToEvaporator).unwrap();
    assert!(tanks(0).circuit().unwrap().with_drive(drive).is_ok());
    // A motor so poor that its heat needs more and more refrigerant.
    let mut poor = tanks(1);
    (poor.drive[1], poor.cooling) = (0.1, MotorCooling::RefrigerantToEvaporator);
    (poor.evaporating, poor.condensing) = (250.0, 330.0);
    let arguments = "motor efficiency and refrigerant that cools the motor";
    inconsistent(poor.solve(), arguments, &["0.1", "heat"]);
    inconsistent(poor.circuit().unwrap().sensitivities(&poor.conditions()), arguments, &["0.1"]);
}

#[test]
fn conditions_that_contradict_are_refused() {
    let mut wet = tanks(1);
    (wet.superheat, wet.carryover) = (2.0, 0.01);
    inconsistent(wet.solve(), "suction superheat and liquid carryover", &["2 K", "0.01 kg/kg"]);
    for (carryover, bypass, argument, value) in [
        (0.6, 0.0, "liquid carryover", 0.6),
        (-0.1, 0.0, "liquid carryover", -0.1),
        (0.0, 0.95, "hot gas bypass", 0.95),
        (0.0, -1.0, "hot gas bypass", -1.0),
    ] {
        let mut machine = tanks(1);
        (machine.carryover, machine.bypass) = (carryover, bypass);
        out_of_range(machine.solve(), argument, value, "kg/kg");
        out_of_range(
            machine.circuit().unwrap().sensitivities(&machine.conditions()),
            argument,
            value,
            "kg/kg",
        );
        out_of_range(
            machine.circuit().unwrap().pressure_optimum(&machine.conditions()),
            argument,
            value,
            "kg/kg",
        );
    }
    let mut reversed = tanks(1);
    (reversed.evaporating, reversed.condensing) = (310.0, 280.0);
    let arguments = "evaporating temperature and condensing temperature";
    inconsistent(reversed.solve(), arguments, &["280 K", "310 K"]);
    // So much hot gas that nothing is left to cool with: the evaporator would heat.
    let mut hot = tanks(1);
    hot.bypass = 0.9;
    inconsistent(hot.solve(), arguments, &["no cooling is left"]);
}

#[test]
fn economizers_that_cannot_work_are_refused() {
    // 32 K between the ends, some 16 K between condenser and economizer.
    for kind in [
        Between::Closed { approach: 20.0, superheat: 0.0, after: false, expander: None },
        Between::Intercooled { carryover: 0.0, blowthrough: 0.0, coil: Some(20.0), expander: None },
    ] {
        inconsistent(
            Machine::plain("R-134a", vec![kind]).solve(),
            "approach and temperatures of the economizer",
            &["20 K", "more than"],
        );
    }
    let superheated = Between::Closed { approach: 1.0, superheat: 30.0, after: false, expander: None };
    inconsistent(
        Machine::plain("R-134a", vec![superheated]).solve(),
        "injection superheat and economizer",
        &["hotter", "310.15 K"],
    );
    // A tank just below the condenser, and a port loss that lifts it above.
    let mut lossy = tanks(1);
    let high = lossy.solve().unwrap().condensing_pressure();
    lossy.rule = InterstagePressures::Given(vec![0.99 * high]);
    lossy.losses[2] = 0.05;
    inconsistent(lossy.solve(), "port loss and interstage pressures", &["cannot be fed", "Pa"]);
    // The upper of two tanks below the lower one, once losses are counted.
    let mut crowded = tanks(2);
    crowded.rule = InterstagePressures::Given(vec![5e5, 5.05e5]);
    crowded.losses[2] = 0.0;
    assert!(crowded.solve().is_ok());
    // Pressures out of order, and beyond the ends.
    let given = |pressures: &[f64]| {
        tanks(2).circuit().unwrap().with_interstage_pressures(InterstagePressures::Given(pressures.to_vec()))
    };
    inconsistent(given(&[6e5, 5e5]), "interstage pressures", &["rise", "500000", "600000"]);
    for outside in [[1e5, 5e5], [5e5, 5e6]] {
        let circuit = given(&outside).unwrap();
        let conditions = tanks(2).conditions();
        inconsistent(circuit.solve(&conditions), "interstage pressures", &["is not between", "Pa"]);
        inconsistent(circuit.sensitivities(&conditions), "interstage pressures", &["is not between"]);
    }
    // Liquid that would leave the suction exchanger colder than the vapor that cools it.
    let mut cold = tanks(1);
    (cold.exchanger, cold.bypass) = (Some(1.0), 0.7);
    assert!(matches!(cold.solve(), Err(Error::Inconsistent { .. })), "{:?}", cold.solve());
}

#[test]
fn waters_that_cannot_be_are_refused() {
    let waters = Surroundings::new;
    out_of_range(waters((100.0, 90.0), (303.0, 308.0), 303.0), "chilled water", 100.0, "K");
    out_of_range(waters((285.0, 280.0), (303.0, 308.0), 1e4), "dead state temperature", 1e4, "K");
    inconsistent(
        waters((280.0, 285.0), (303.0, 308.0), 303.0),
        "chilled water",
        &["280 K", "285 K", "warmer"],
    );
    inconsistent(
        waters((285.0, 280.0), (308.0, 303.0), 303.0),
        "condenser water",
        &["308 K", "303 K", "colder"],
    );
    for bad in [f64::NAN, f64::INFINITY] {
        for place in 0..5 {
            let mut all = [285.0, 280.0, 303.0, 308.0, 303.0];
            all[place] = bad;
            let made = waters((all[0], all[1]), (all[2], all[3]), all[4]);
            assert!(matches!(made, Err(Error::NotFinite { .. })), "{place}: {made:?}");
        }
    }
    // Chilled water colder than the refrigerant that is to cool it; condenser water hotter than the refrigerant.
    let cycle = tanks(1).solve().unwrap();
    for (chilled, condenser, arguments, says) in [
        ((285.0, 270.0), (303.0, 308.0), "chilled water and evaporating temperature", "270.000 K, colder"),
        ((285.0, 280.0), (303.0, 330.0), "condenser water and condensing temperature", "330.000 K, warmer"),
    ] {
        let ledger = cycle.exergy(&waters(chilled, condenser, 303.0).unwrap());
        inconsistent(ledger, arguments, &[says]);
    }
    // Vapor hotter than the water that superheats it, liquid colder than the water that subcools it.
    let mut machine = tanks(1);
    (machine.evaporating, machine.condensing, machine.superheat, machine.subcooling) =
        (278.15, 310.15, 2.0, 3.0);
    let cycle = machine.solve().unwrap();
    for (chilled, condenser, arguments, says) in [
        ((279.0, 278.5), (303.0, 308.0), "suction superheat and chilled water", "280.150 K, heated"),
        ((285.0, 280.0), (309.0, 309.5), "subcooling and condenser water", "307.150 K, cooled"),
    ] {
        inconsistent(cycle.exergy(&waters(chilled, condenser, 303.0).unwrap()), arguments, &[says]);
    }
}

#[test]
fn blends_and_rules_that_do_not_fit_are_refused() {
    // One equation at one composition knows no tank; an exchanger parts nothing.
    let pseudo_pure = Refrigerant::named("R-410A").unwrap();
    let stages = || vec![Stage::isentropic(0.8).unwrap(); 2];
    for tank in [Interstage::from(FlashTank::new()), IntercooledTank::new().into()] {
        inconsistent(
            Circuit::new(pseudo_pure.clone(), stages(), vec![tank]),
            "flash tank and refrigerant",
            &["R-410A", "mixture model"],
        );
    }
    let closed = vec![ClosedEconomizer::new(3.0).unwrap().into()];
    assert!(Circuit::new(pseudo_pure, stages(), closed).is_ok());
    // Equilibrium in the tanks is solved for ideal tanks alone.
    let blend = Refrigerant::named("R-513A").unwrap();
    let conditions = Conditions::new(278.15, 310.15, Size::Capacity(1e6));
    let parting = |between: Interstage| {
        Circuit::new(blend.clone(), stages(), vec![between])
            .unwrap()
            .with_tank_separation(TankSeparation::Equilibrium)
            .unwrap()
    };
    assert!(parting(FlashTank::new().into()).solve(&conditions).is_ok());
    let lossy = FlashTank::new().with_liquid_carryover(0.01).unwrap();
    let refused: Vec<Result<Cycle>> = vec![
        parting(lossy.into()).solve(&conditions),
        parting(IntercooledTank::new().into()).solve(&conditions),
        parting(FlashTank::new().into()).with_suction_exchanger(0.3).unwrap().solve(&conditions),
        parting(FlashTank::new().into()).solve(&conditions.with_hot_gas_bypass(0.1)),
        parting(FlashTank::new().into())
            .with_interstage_pressures(InterstagePressures::BestCop)
            .unwrap()
            .solve(&conditions),
    ];
    for outcome in refused {
        inconsistent(outcome, "tank separation and arrangement", &["ideal flash tanks"]);
    }
    inconsistent(
        parting(FlashTank::new().into()).pressure_optimum(&conditions),
        "interstage pressures and tank separation",
        &["fixed composition"],
    );
    // Too many pressures to solve for.
    for rule in [InterstagePressures::EqualHead, InterstagePressures::BestCop] {
        let mut many = tanks(20);
        many.rule = rule;
        inconsistent(many.solve(), "interstage pressures and stages", &["20", "15"]);
    }
}

#[test]
fn texts_that_are_no_arrangement_are_refused() {
    for text in [
        "",
        "2",
        "stages",
        "two stages",
        "2 tanks",
        "-1 stages",
        "2 stages: tank",
        "2 stages: tank@",
        "2 stages: tank@two",
        "2 stages: vessel@2",
        "2 stages: tank@2 (carryover)",
        "2 stages: tank@2 (carryover much)",
        "2 stages: tank@2 (beauty 3)",
        "2 stages: tank@2 (carryover 0.1",
        "2 stages: tank@2 (carryover 0.1, carryover 0.2)",
        "2 stages: closed@2",
        "2 stages: closed@2 (approach 3 K, injection sideways)",
        "1 stage: suction exchanger",
        "1 stage: evaporator expander (expander 0.5)",
        "2 stages: tank@2 (carryover 0.1) extra",
    ] {
        match text.parse::<Arrangement>() {
            Err(Error::UnknownOption { argument: "arrangement", options, .. }) => {
                // What is offered instead reads.
                assert!(options.iter().all(|option| option.parse::<Arrangement>().is_ok()), "{options:?}");
            }
            other => panic!("{text:?}: {other:?}"),
        }
    }
    let read = |text: &str| text.parse::<Arrangement>();
    out_of_range(read("0 stages"), "number of stages", 0.0, "-");
    out_of_range(read("101 stages"), "number of stages", 101.0, "-");
    inconsistent(read("3 stages: tank@1"), "arrangement and stages", &["second stage", "feeds stage 1"]);
    inconsistent(read("3 stages: tank@4"), "arrangement and stages", &["has 3", "feeds stage 4"]);
    inconsistent(
        read("1 stage: evaporator expander (efficiency 0.5), evaporator expander (efficiency 0.6)"),
        "arrangement",
        &["one evaporator expander at most"],
    );
    let no_unit = read("2 stages: closed@2 (approach 3)").unwrap_err().to_string();
    assert!(no_unit.contains("approach 3 without its unit, K"), "{no_unit}");
    out_of_range(read("2 stages: tank@2 (carryover 0.7)"), "liquid carryover", 0.7, "kg/kg");
    out_of_range(read("2 stages: closed@2 (approach -3 K)"), "approach", -3.0, "K");
    assert!(matches!(read("2 stages: closed@2 (approach NaN K)"), Err(Error::NotFinite { .. })));
    inconsistent(
        read("2 stages: tank@2, closed@2 (approach 3 K)"),
        "arrangement",
        &["one economizer at a stage", "two"],
    );
    // An exchanger's effectiveness is the circuit's to refuse.
    let odd = read("1 stage: suction exchanger (effectiveness 7)");
    let made = odd
        .and_then(|odd| odd.circuit(Refrigerant::named("R-134a").unwrap(), Stage::isentropic(0.8).unwrap()));
    out_of_range(made, "suction exchanger effectiveness", 7.0, "-");
}

#[test]
fn any_text_gives_an_error_or_an_arrangement() {
    let word = prop::sample::select(vec![
        "2 stages",
        "1 stage",
        ":",
        ",",
        "tank",
        "@2",
        "@3",
        "(",
        ")",
        "carryover 0.1",
        "closed",
        "approach 3 K",
        "intercooled tank",
        "coil 2 K",
        "liquid injection",
        "expander 0.5",
        " ",
        "é",
        "9999999999999999999999",
        "suction exchanger",
        "effectiveness 0.3",
        "NaN",
        "-1",
    ]);
    let text =
        prop_oneof![prop::collection::vec(word, 0..12).prop_map(|words| words.concat()), any::<String>(),];
    check("text", 4000, &text, |text| {
        if let Ok(arrangement) = text.parse::<Arrangement>() {
            prop_assert_eq!(arrangement.to_string().parse::<Arrangement>()?, arrangement);
        }
        if let Ok(input) = text.parse::<Input>() {
            prop_assert_eq!(input.to_string().parse::<Input>()?, input);
        }
        Ok(())
    });
}

/// Any number at all in place of one of a machine's: an error about the input, or figures that are finite.
#[test]
fn any_number_in_any_place_gives_an_error_or_a_cycle() {
    let inputs = vec![
        Input::EvaporatingTemperature,
        Input::CondensingTemperature,
        Input::SuctionSuperheat,
        Input::Subcooling,
        Input::EvaporatorLiquidCarryover,
        Input::HotGasBypass,
        Input::CommonStageEfficiency,
        Input::StageEfficiency(1),
        Input::SuctionLoss,
        Input::InterstageLoss,
        Input::PortLoss,
        Input::DischargeLoss,
        Input::SuctionExchangerEffectiveness,
        Input::EvaporatorExpanderEfficiency,
        Input::ExpanderEfficiency(2),
        Input::TankLiquidCarryover(2),
        Input::TankVaporBlowthrough(2),
        Input::EconomizerApproach(2),
        Input::InjectionSuperheat(2),
        Input::MechanicalEfficiency,
        Input::MotorEfficiency,
        Input::DriveEfficiency,
    ];
    let number = prop_oneof![2 => anything(), 2 => 0.0..1.0_f64, 1 => 0.0..60.0_f64];
    let strategy = (machines(), prop::sample::select(inputs), number);
    check("any number", 4000, &strategy, |(machine, input, number)| {
        let Some(machine) = machine.with(input, |_| number) else { return Ok(()) };
        match machine.solve() {
            Ok(cycle) => {
                let figures = [
                    cycle.cop(),
                    cycle.power(),
                    cycle.capacity(),
                    cycle.heat_rejected(),
                    cycle.evaporator_mass_flow(),
                    cycle.condenser_mass_flow(),
                    cycle.discharge_temperature(),
                    cycle.expander_power(),
                    cycle.motor_heat(),
                ];
                prop_assert!(figures.iter().all(|figure| figure.is_finite()), "{figures:?}");
                prop_assert!(cycle.cop() > 0.0 && cycle.energy_closure().abs() < 1e-9);
                prop_assert!(cycle.mass_closure().abs() < 1e-9);
            }
            Err(error) => prop_assert!(is_about_input(&error), "{input} {number}: {error}"),
        }
        Ok(())
    });
}
