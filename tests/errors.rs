//! What bad input is told: the kind of error, its fields and its message.
#![expect(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]

use std::error::Error as StandardError;

use interstage::{
    Arrangement, Basis, Chiller, ChillerPoint, Circuit, Citation, Conditions, Cycle, Derivatives,
    DesignSheet, Duty, Error, Exchanger, FlashTank, Interstage, InterstagePressures, Location, Phase, Point,
    Reference, Refrigerant, Result, Saturation, Sensitivities, Size, Stage, State, WaterFlow,
};

/// Handles, machines and results can be shared between threads and kept for as long as needed. Checked by the compiler.
const _: () = {
    const fn is_shared<T: Send + Sync + 'static>() {}
    is_shared::<Refrigerant>();
    is_shared::<Circuit>();
    is_shared::<Conditions>();
    is_shared::<Cycle>();
    is_shared::<Chiller>();
    is_shared::<ChillerPoint>();
    is_shared::<DesignSheet>();
    is_shared::<Duty>();
    is_shared::<Exchanger>();
    is_shared::<WaterFlow>();
    is_shared::<Sensitivities>();
    #[cfg(feature = "trend")]
    is_shared::<interstage::TrendAnalysis>();
    #[cfg(feature = "trend")]
    is_shared::<interstage::TrendTable>();
    is_shared::<Stage>();
    is_shared::<State>();
    is_shared::<Saturation>();
    is_shared::<Derivatives>();
    is_shared::<Error>();
    is_shared::<Result<State>>();
    const fn is_error<T: StandardError + Clone + PartialEq>() {}
    is_error::<Error>();
    const fn is_plain<T: Copy + PartialEq>() {}
    is_plain::<State>();
    is_plain::<Saturation>();
    is_plain::<Phase>();
    is_plain::<Point>();
    is_plain::<Citation>();
    // Handles are pointers to what they share.
    assert!(size_of::<Refrigerant>() <= 2 * size_of::<usize>());
    assert!(size_of::<Circuit>() == size_of::<usize>());
};

#[test]
fn clones_share_what_they_are_made_of() {
    let blend = Refrigerant::blend(&[("R-32", 0.5), ("R-125", 0.5)], Basis::Mass).unwrap();
    assert_eq!(blend.clone().name().as_ptr(), blend.name().as_ptr());
    let machine = circuit();
    assert_eq!(machine.clone().stages().as_ptr(), machine.stages().as_ptr());
    let cycle = machine.solve(&conditions()).unwrap();
    assert_eq!(cycle.circuit().stages().as_ptr(), machine.stages().as_ptr());
    // Another machine made of a clone leaves the first as it was.
    let other = machine.clone().without_economizers();
    assert_eq!((machine.tanks(), other.tanks()), (1, 0));
}

fn refrigerant(name: &str) -> Refrigerant {
    Refrigerant::named(name).unwrap()
}

fn r134a() -> Refrigerant {
    refrigerant("R-134a")
}

/// A two-stage machine with one tank.
fn circuit() -> Circuit {
    let stage = Stage::polytropic(0.8).unwrap();
    Circuit::new(r134a(), vec![stage; 2], vec![FlashTank::new().into()]).unwrap()
}

fn conditions() -> Conditions {
    Conditions::new(278.15, 310.15, Size::Capacity(1e6))
}

/// The message of what must fail.
#[track_caller]
fn message<T: std::fmt::Debug>(outcome: Result<T>) -> String {
    outcome.expect_err("an error").to_string()
}

#[track_caller]
fn says<T: std::fmt::Debug>(outcome: Result<T>, expected: &str) {
    assert_eq!(message(outcome), expected);
}

/// Argument, value and unit of a range error; the value must indeed lie outside the limits it names.
#[track_caller]
fn out_of_range<T: std::fmt::Debug>(
    outcome: Result<T>,
    argument: &str,
    value: f64,
    unit: &str,
) -> (f64, f64) {
    match outcome {
        Err(Error::OutOfRange { argument: a, value: v, minimum, maximum, unit: u, reason }) => {
            assert_eq!((a, v, u), (argument, value, unit), "{reason}");
            assert!(minimum < maximum && !(minimum..=maximum).contains(&v), "{v} in {minimum}..{maximum}");
            assert!(!reason.is_empty());
            (minimum, maximum)
        }
        other => panic!("expected a range error of {argument}, got {other:?}"),
    }
}

#[track_caller]
fn not_finite<T: std::fmt::Debug>(outcome: Result<T>, argument: &str) {
    match outcome {
        Err(Error::NotFinite { argument: a, value, .. }) => {
            assert_eq!(a, argument);
            assert!(!value.is_finite());
        }
        other => panic!("expected {argument} to be refused, got {other:?}"),
    }
}

#[track_caller]
fn inconsistent<T: std::fmt::Debug>(outcome: Result<T>, arguments: &str, about: &[&str]) {
    match outcome {
        Err(Error::Inconsistent { arguments: a, reason }) => {
            assert_eq!(a, arguments);
            assert!(about.iter().all(|word| reason.contains(word)), "{reason:?} has not all of {about:?}");
        }
        other => panic!("expected a contradiction of {arguments}, got {other:?}"),
    }
}

/// Examples of each kind, with their messages. A kind that is missing here is found by its name in the source.
#[test]
fn every_kind_has_a_message() {
    let limits = "(R-134a: the saturation line runs from the triple point to the critical point)";
    let table: Vec<(&str, Error, String)> = vec![
        (
            "OutOfRange",
            r134a().saturation_at_temperature(400.0).unwrap_err(),
            format!("temperature 400 K is outside 169.85 to 374.212 K {limits}"),
        ),
        (
            "NotFinite",
            r134a().state_pt(f64::NAN, 300.0).unwrap_err(),
            "pressure must be a finite number in Pa, got NaN".to_owned(),
        ),
        (
            "Inconsistent",
            circuit().solve(&Conditions::new(310.15, 278.15, Size::Capacity(1e6))).unwrap_err(),
            "evaporating temperature and condensing temperature contradict each other: condensing at 278.15 K must be above \
             evaporating at 310.15 K"
                .to_owned(),
        ),
        (
            "Inconsistent",
            "2 stages: tank@2, tank@2".parse::<Arrangement>().unwrap_err(),
            "arrangement is contradictory: there is one economizer at a stage at most, and \"2 stages: tank@2, tank@2\" has two"
                .to_owned(),
        ),
        (
            "NotConverged",
            Error::NotConverged {
                solver: "saturation",
                iterations: 60,
                residual: 2.5e-7,
                lower: 1.0,
                upper: 2.0,
            },
            "saturation did not converge after 60 iterations (residual 2.5e-7, last value between 1 and 2); nothing is known to \
             be wrong with the input: please report it"
                .to_owned(),
        ),
        (
            "NotConverged",
            Error::NotConverged {
                solver: "equilibrium",
                iterations: 0,
                residual: f64::NAN,
                lower: f64::NAN,
                upper: 2.0,
            },
            "equilibrium did not converge; nothing is known to be wrong with the input: please report it".to_owned(),
        ),
        (
            "UnknownRefrigerant",
            Refrigerant::named("watr").unwrap_err(),
            "unknown refrigerant \"watr\"; did you mean R-718?".to_owned(),
        ),
        (
            "UnknownOption",
            "stage_1".parse::<Location>().unwrap_err(),
            "unknown location \"stage_1\"; it is one of evaporator_inlet, evaporator_outlet, condenser_outlet, suction_exchanger_vapor, \
             suction_exchanger_liquid, hot_gas_bypass, motor_liquid, motor_vapor, stage_k_inlet, stage_k_outlet, stage_k_tank_inlet, \
             stage_k_tank_vapor, stage_k_tank_liquid, stage_k_cooled_liquid, stage_k_injection_inlet, stage_k_injection_outlet"
                .to_owned(),
        ),
        (
            "UnknownOption",
            "tanks".parse::<Arrangement>().unwrap_err(),
            // Semicolons between what has commas itself.
            "unknown arrangement \"tanks\"; it is one of 3 stages: tank@3, tank@2; 2 stages: tank@2 (carryover 0.02, blowthrough \
             0.005, expander 0.5); 2 stages: intercooled tank@2 (coil 3 K); 2 stages: closed@2 (approach 3 K, superheat 2 K, \
             injection after); 2 stages: liquid injection@2; 1 stage: suction exchanger (effectiveness 0.3); 1 stage: evaporator \
             expander (efficiency 0.5)"
                .to_owned(),
        ),
        (
            "ReferenceUnavailable",
            refrigerant("water").with_reference(Reference::LiquidAt0C).unwrap_err(),
            "R-718 cannot have the reference liquid at 0 degC: it freezes at 273.16 K".to_owned(),
        ),
        (
            "Undefined",
            r134a().derivatives(&r134a().state_px(4e5, 0.3).unwrap()).unwrap_err(),
            "a heat capacity, speed of sound or other slope has no value for a two-phase state".to_owned(),
        ),
        (
            "NotPublished",
            refrigerant("R-22").viscosity(&refrigerant("R-22").state_pt(1e5, 300.0).unwrap()).unwrap_err(),
            "this library has no correlation for the viscosity of R-22; it has one for R-32, R-123, R-125, R-134a, R-152a, \
             R-245fa, R-290, R-404A, R-407C, R-410A, R-507A, R-600a, R-717, R-718, R-1234yf, R-1234ze(E)"
                .to_owned(),
        ),
        (
            "PairNotPublished",
            Refrigerant::blend(&[("R-123", 0.5), ("R-1234yf", 0.5)], Basis::Mass).unwrap_err(),
            "this library has no published parameters for mixtures of R-123 and R-1234yf".to_owned(),
        ),
        (
            "WrongLength",
            Circuit::new(r134a(), vec![Stage::polytropic(0.8).unwrap(); 3], vec![Interstage::Direct]).unwrap_err(),
            "interstages has 1 entries where 2 are needed".to_owned(),
        ),
    ];
    for (kind, error, expected) in &table {
        assert_eq!(&error.to_string(), expected);
        let debug = format!("{error:?}");
        assert!(debug.starts_with(kind), "{debug} is no {kind}");
        assert!(error.source().is_none());
        assert_eq!(debug, format!("{:?}", error.clone()));
    }
    // The variants as the source declares them: four spaces, a name, an opening brace.
    let source = include_str!("../src/error.rs");
    let declared: Vec<&str> = source
        .lines()
        .skip_while(|line| !line.starts_with("pub enum Error"))
        .take_while(|line| !line.starts_with('}'))
        .filter_map(|line| line.strip_prefix("    "))
        .filter(|line| line.starts_with(|c: char| c.is_ascii_uppercase()))
        .map(|line| line.split([' ', '{', '(', ',']).next().unwrap_or_default())
        .collect();
    let mut listed: Vec<&str> = table.iter().map(|(kind, ..)| *kind).collect();
    listed.dedup(); // a kind may have several examples
    assert_eq!(listed, declared);
}

/// NaN and infinities are refused by the name of the argument, in every pair.
#[test]
fn what_is_not_finite_is_refused_by_name() {
    let r = r134a();
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        not_finite(r.saturation_at_temperature(bad), "temperature");
        not_finite(r.saturation_at_pressure(bad), "pressure");
        not_finite(r.state_pt(bad, 300.0), "pressure");
        not_finite(r.state_pt(1e5, bad), "temperature");
        not_finite(r.state_ph(bad, 4e5), "pressure");
        not_finite(r.state_ph(1e5, bad), "enthalpy");
        not_finite(r.state_ps(bad, 1.7e3), "pressure");
        not_finite(r.state_ps(1e5, bad), "entropy");
        not_finite(r.state_pu(1e5, bad), "internal energy");
        not_finite(r.state_hs(bad, 1.7e3), "enthalpy");
        not_finite(r.state_hs(4e5, bad), "entropy");
        not_finite(r.state_ts(bad, 1.7e3), "temperature");
        not_finite(r.state_ts(300.0, bad), "entropy");
        not_finite(r.state_th(300.0, bad), "enthalpy");
        not_finite(r.state_tu(300.0, bad), "internal energy");
        not_finite(r.state_t_rho(bad, 5.0), "temperature");
        not_finite(r.state_t_rho(300.0, bad), "density");
        not_finite(r.state_rho_p(bad, 1e5), "density");
        not_finite(r.state_rho_p(5.0, bad), "pressure");
        not_finite(r.state_rho_h(bad, 4e5), "density");
        not_finite(r.state_rho_h(5.0, bad), "enthalpy");
        not_finite(r.state_rho_s(5.0, bad), "entropy");
        not_finite(r.state_rho_u(5.0, bad), "internal energy");
        not_finite(r.state_px(bad, 0.5), "pressure");
        not_finite(r.state_px(1e5, bad), "quality");
        not_finite(r.state_tx(bad, 0.5), "temperature");
        not_finite(r.state_tx(280.0, bad), "quality");
        not_finite(Stage::isentropic(bad), "isentropic efficiency");
        not_finite(Stage::polytropic(bad), "polytropic efficiency");
        let solve = |conditions: Conditions| circuit().solve(&conditions);
        not_finite(solve(Conditions::new(bad, 310.15, Size::Capacity(1e6))), "evaporating temperature");
        not_finite(solve(Conditions::new(278.15, bad, Size::Capacity(1e6))), "condensing temperature");
        not_finite(solve(conditions().with_suction_superheat(bad)), "suction superheat");
        not_finite(solve(conditions().with_subcooling(bad)), "subcooling");
        not_finite(solve(Conditions::new(278.15, 310.15, Size::Capacity(bad))), "capacity");
        not_finite(solve(Conditions::new(278.15, 310.15, Size::MassFlow(bad))), "mass flow");
        not_finite(solve(Conditions::new(278.15, 310.15, Size::Power(bad))), "power");
        let given = InterstagePressures::Given(vec![bad]);
        not_finite(circuit().with_interstage_pressures(given), "interstage pressure");
    }
}

/// Limits have six digits unless the value would then seem to be inside; plain numbers have no unit.
#[test]
fn limits_are_short_and_never_seem_to_hold_the_value() {
    says(
        Stage::isentropic(80.0),
        "isentropic efficiency 80 is outside 0.01 to 1 (the share of the work that a loss-free stage would need)",
    );
    says(Stage::isentropic(f64::NAN), "isentropic efficiency must be a finite number, got NaN");
    let r = r134a();
    let above = r.critical_temperature() + 1e-6;
    assert!(
        message(r.saturation_at_temperature(above))
            .contains(&format!("{above} K is outside 169.85 to 374.2119665849"))
    );
    says(
        circuit().solve(&Conditions::new(278.15, 310.15, Size::Capacity(0.0))),
        "capacity must be positive, got 0 W",
    );
}

/// The slips of the trade: gauge for absolute pressure, degC for K, kPa for Pa, kJ for J, per cent for a share.
#[test]
fn realistic_slips_are_range_errors() {
    let r = r134a();
    // A vacuum reading in gauge pressure, and a pressure of nothing.
    says(
        r.state_pt(-30e3, 280.0),
        "pressure -30000 Pa is outside 1e-9 to 70000000 Pa (R-134a: validity range of the equation of state)",
    );
    let (lowest, highest) = out_of_range(r.state_ph(0.0, 4e5), "pressure", 0.0, "Pa");
    assert!(lowest > 0.0 && highest == 70e6);
    out_of_range(r.state_rho_p(5.0, -1e5), "pressure", -1e5, "Pa");
    out_of_range(r.saturation_at_pressure(-30e3), "pressure", -30e3, "Pa");
    // Degrees Celsius.
    assert_eq!(out_of_range(r.state_pt(1e5, 7.0), "temperature", 7.0, "K"), (169.85, 455.0));
    out_of_range(r.state_tx(7.0, 1.0), "temperature", 7.0, "K");
    let celsius = Conditions::new(5.0, 37.0, Size::Capacity(1e6));
    out_of_range(circuit().solve(&celsius), "evaporating temperature", 5.0, "K");
    // Kilopascal: below the triple point.
    out_of_range(r.saturation_at_pressure(350.0), "pressure", 350.0, "Pa");
    // Kilojoule.
    let (lowest, _) = out_of_range(r.state_ph(4e5, 400.0), "enthalpy", 400.0, "J/kg");
    assert!(lowest > 50e3);
    out_of_range(r.state_ps(4e5, 1.7), "entropy", 1.7, "J/(kg K)");
    out_of_range(r.state_pu(4e5, 400.0), "internal energy", 400.0, "J/kg");
    out_of_range(r.state_ts(300.0, 1.7), "entropy", 1.7, "J/(kg K)");
    out_of_range(r.state_th(300.0, 400.0), "enthalpy", 400.0, "J/kg");
    out_of_range(r.state_tu(300.0, 400.0), "internal energy", 400.0, "J/kg");
    out_of_range(r.state_rho_h(5.0, 4.0), "enthalpy", 4.0, "J/kg");
    out_of_range(r.state_rho_s(5.0, 1.7), "entropy", 1.7, "J/(kg K)");
    out_of_range(r.state_rho_u(5.0, 1e9), "internal energy", 1e9, "J/kg");
    // Per cent.
    out_of_range(r.state_px(4e5, 20.0), "quality", 20.0, "kg/kg");
    out_of_range(r.state_tx(280.0, -0.01), "quality", -0.01, "kg/kg");
    assert_eq!(out_of_range(Stage::polytropic(80.0), "polytropic efficiency", 80.0, "-"), (0.01, 1.0));
    out_of_range(Stage::isentropic(0.0), "isentropic efficiency", 0.0, "-");
    out_of_range(Stage::isentropic(-0.8), "isentropic efficiency", -0.8, "-");
    // Densities that no state has.
    out_of_range(r.state_t_rho(300.0, 0.0), "density", 0.0, "kg/m3");
    out_of_range(r.state_t_rho(300.0, -5.0), "density", -5.0, "kg/m3");
    let (_, highest) = out_of_range(r.state_t_rho(300.0, 1e5), "density", 1e5, "kg/m3");
    assert!(highest > 1600.0 && highest < 1700.0, "{highest}");
    // Temperature and density are fine alone; the pressure they make is not.
    let pressed = r.state_t_rho(440.0, 1500.0);
    assert!(
        matches!(pressed, Err(Error::OutOfRange { argument: "pressure", value, .. }) if value > 70e6),
        "{pressed:?}"
    );
}

/// Every range error names the refrigerant, the argument, the value, the limits and the unit.
#[test]
fn range_errors_name_the_refrigerant() {
    for name in Refrigerant::catalogue() {
        let r = refrigerant(name);
        let saturated = r.saturation_at_temperature(0.8 * r.critical_temperature()).unwrap();
        let (liquid, vapor) = (saturated.liquid(), saturated.vapor());
        let hot = r.maximum_temperature() + 1.0;
        for (error, argument, unit) in [
            (r.state_pt(1e5, hot).map(|_| ()), "temperature", "K"),
            (r.state_pt(2.0 * r.maximum_pressure(), 300.0).map(|_| ()), "pressure", "Pa"),
            (r.state_ph(1e5, 1e9).map(|_| ()), "enthalpy", "J/kg"),
            (r.state_ps(1e5, -1e9).map(|_| ()), "entropy", "J/(kg K)"),
            (r.state_t_rho(300.0, 1e6).map(|_| ()), "density", "kg/m3"),
            (r.state_th(300.0, 1e9).map(|_| ()), "enthalpy", "J/kg"),
            (r.state_rho_u(vapor.density(), 1e9).map(|_| ()), "internal energy", "J/kg"),
            (r.state_rho_p(liquid.density(), 1e-6).map(|_| ()), "pressure", "Pa"),
            (r.saturation_at_temperature(hot).map(|_| ()), "temperature", "K"),
            (r.saturation_at_pressure(1e9).map(|_| ()), "pressure", "Pa"),
        ] {
            let text = error.as_ref().unwrap_err().to_string();
            let Err(Error::OutOfRange { argument: named, unit: counted, .. }) = error else {
                panic!("{text}");
            };
            assert_eq!((named, counted), (argument, unit), "{text}");
            assert!(text.contains(name) && text.contains(argument) && text.contains(unit), "{text}");
        }
        if let Err(error) = r.surface_tension(hot)
            && !matches!(error, Error::NotPublished { .. })
        {
            assert!(error.to_string().contains(name), "{error}");
        }
    }
}

/// Saturation ends at the critical point; the message names it.
#[test]
fn there_is_no_saturation_above_the_critical_point() {
    for name in Refrigerant::catalogue() {
        let r = refrigerant(name);
        let (t, p) = (r.critical_temperature(), r.critical_pressure());
        for hotter in [t.next_up(), t + 0.01, 2.0 * t] {
            let (_, highest) = out_of_range(r.saturation_at_temperature(hotter), "temperature", hotter, "K");
            assert_eq!(highest, r.composition().map_or(t, |_| 0.998 * t));
            out_of_range(r.state_tx(hotter, 0.5), "temperature", hotter, "K");
            let conditions =
                Conditions::new(0.5 * (t + r.minimum_saturation_temperature()), hotter, Size::Capacity(1e6));
            let stage = Stage::polytropic(0.8).unwrap();
            let solved = Circuit::new(r.clone(), vec![stage], vec![]).unwrap().solve(&conditions);
            out_of_range(
                solved.as_ref().map(Cycle::cop).map_err(Clone::clone),
                "condensing temperature",
                hotter,
                "K",
            );
            assert!(message(solved).contains("critical point"));
        }
        let (_, highest) = out_of_range(r.saturation_at_pressure(1.001 * p), "pressure", 1.001 * p, "Pa");
        let below = if r.composition().is_some() { 0.02 } else { 1e-9 };
        assert!((highest / p - 1.0).abs() < below);
        out_of_range(r.state_px(2.0 * p, 0.5), "pressure", 2.0 * p, "Pa");
        assert!(message(r.saturation_at_pressure(2.0 * p)).contains("critical point"));
        let colder = r.minimum_saturation_temperature() - 1.0;
        let (lowest, _) = out_of_range(r.saturation_at_temperature(colder), "temperature", colder, "K");
        assert_eq!(lowest, r.minimum_saturation_temperature());
    }
}

/// Beyond the published range only a handle that was asked to extrapolate answers, and it has limits as well.
#[test]
fn extrapolation_has_to_be_asked_for() {
    let r = r134a();
    out_of_range(r.state_pt(1e5, 460.0), "temperature", 460.0, "K");
    out_of_range(r.state_pt(80e6, 300.0), "pressure", 80e6, "Pa");
    let beyond = r.with_extrapolation();
    assert!(beyond.extrapolates());
    assert!(beyond.state_pt(1e5, 460.0).is_ok() && beyond.state_pt(80e6, 300.0).is_ok());
    out_of_range(beyond.state_pt(1e5, 1000.0), "temperature", 1000.0, "K");
    assert!(message(beyond.state_pt(1e5, 1000.0)).contains("extrapolating"));
    out_of_range(beyond.state_pt(1e5, 100.0), "temperature", 100.0, "K");
}

#[test]
fn unknown_names_get_suggestions() {
    let nearest = |name: &str| match Refrigerant::named(name) {
        Err(Error::UnknownRefrigerant { name: given, nearest }) => {
            assert_eq!(given, name);
            nearest
        }
        other => panic!("{other:?}"),
    };
    assert_eq!(nearest("R-1234zf(E)")[0], "R-1234ze(E)");
    assert!(nearest("R 132").contains(&"R-32"));
    let near = nearest("R-135");
    assert!(near[0] == "R-125" && near.len() > 1, "{near:?}");
    assert_eq!(nearest("watr"), ["R-718"]);
    assert_eq!(nearest("amonia"), ["R-717"]);
    // What goes on from the name comes alone, with the R or without.
    assert_eq!(nearest("r134"), ["R-134a"]);
    assert_eq!(nearest("134"), ["R-134a"]);
    assert_eq!(nearest("R-1336mzz"), ["R-1336mzz(E)", "R-1336mzz(Z)"]);
    assert_eq!(nearest("R-1234"), ["R-1234yf", "R-1234ze(E)"]);
    let long = "9".repeat(100_000);
    let nonsense = [
        "",
        "  ",
        "-",
        "r",
        "foo",
        "xyz",
        "oil",
        "a refrigerant that nobody has heard of",
        "\u{1F9CA}",
        "R-\0",
        &long,
    ];
    for nonsense in nonsense {
        assert_eq!(nearest(nonsense), Vec::<&str>::new(), "{nonsense:?}");
    }
    says(
        Refrigerant::named("steam engine"),
        "unknown refrigerant \"steam engine\"; Refrigerant::catalogue() and Refrigerant::blends() list the names there are",
    );
    says(
        Refrigerant::named(&long),
        &format!(
            "unknown refrigerant \"{}\"...; Refrigerant::catalogue() and Refrigerant::blends() list the names there are",
            "9".repeat(40)
        ),
    );
    // The same names in other dress.
    for same in
        ["R-134a", "r134a", " R 134A ", "R134-a", "hfc-134A", "134a", "134 A", "1,1,1,2-Tetrafluoroethane"]
    {
        assert_eq!(Refrigerant::named(same).unwrap().name(), "R-134a");
    }
}

/// Enthalpy and entropy that no state joins.
#[test]
fn contradictory_pairs_are_refused() {
    let r = r134a();
    // Twice the entropy of any state of that enthalpy, or far less.
    inconsistent(r.state_hs(400e3, 6e3), "enthalpy and entropy", &["400000", "6000", "J/kg"]);
    inconsistent(r.state_hs(400e3, 100.0), "enthalpy and entropy", &["400000", "100"]);
    inconsistent(r.state_hs(1e9, 1.7e3), "enthalpy and entropy", &["1000000000"]);
    inconsistent(r.state_hs(-1e9, 1.7e3), "enthalpy and entropy", &["-1000000000"]);
    for extreme in [f64::MAX, f64::MIN_POSITIVE] {
        let message = r.state_hs(extreme, extreme).unwrap_err().to_string();
        assert!(message.contains(&format!("{extreme:e}")) && message.len() < 250, "{message}");
    }
    // Denser than any saturated liquid, at less than the pressure that takes; wet at less than the lowest saturation
    // pressure; a gas that no temperature brings to that pressure.
    out_of_range(r.state_rho_p(1600.0, 1e3), "pressure", 1e3, "Pa");
    out_of_range(r.state_rho_p(500.0, 100.0), "pressure", 100.0, "Pa");
    out_of_range(r.state_rho_p(1.0, 60e6), "pressure", 60e6, "Pa");
}

#[test]
fn machines_that_cannot_be_are_refused() {
    let stage = Stage::polytropic(0.8).unwrap();
    let tank: Interstage = FlashTank::new().into();
    let wrong = |stages: usize, interstages: usize| match Circuit::new(
        r134a(),
        vec![stage; stages],
        vec![tank; interstages],
    ) {
        Err(Error::WrongLength { argument, found, expected }) => (argument, found, expected),
        other => panic!("{stages} stages, {interstages} interstages: {other:?}"),
    };
    assert_eq!(wrong(0, 0), ("stages", 0, 1));
    assert_eq!(wrong(1, 1), ("interstages", 1, 0));
    assert_eq!(wrong(2, 0), ("interstages", 0, 1));
    assert_eq!(wrong(3, 3), ("interstages", 3, 2));
    let with = |stages: usize| Circuit::new(r134a(), vec![stage; stages], vec![tank; stages - 1]);
    out_of_range(with(101), "stages", 101.0, "-");
    let largest = with(100).unwrap().arrangement();
    assert_eq!(largest.to_string().parse(), Ok(largest));

    let three = || Circuit::new(r134a(), vec![stage; 3], vec![tank; 2]).unwrap();
    let given =
        |pressures: &[f64]| three().with_interstage_pressures(InterstagePressures::Given(pressures.to_vec()));
    for (pressures, found) in [(&[][..], 0), (&[5e5], 1), (&[4e5, 5e5, 6e5], 3)] {
        let outcome = given(pressures);
        let expected = Error::WrongLength { argument: "interstage pressures", found, expected: 2 };
        assert_eq!(outcome.unwrap_err(), expected);
    }
    inconsistent(given(&[6e5, 5e5]), "interstage pressures", &["600000", "500000", "rise"]);
    inconsistent(given(&[5e5, 5e5]), "interstage pressures", &["500000", "rise"]);
    out_of_range(given(&[-5e5, 5e5]), "interstage pressure", -5e5, "Pa");
    out_of_range(given(&[0.0, 5e5]), "interstage pressure", 0.0, "Pa");
    // Fine by themselves, outside what the machine runs between (350 kPa and 938 kPa).
    for outside in [[2e5, 5e5], [5e5, 2e6]] {
        let circuit = given(&outside).unwrap();
        inconsistent(
            circuit.solve(&conditions()),
            "interstage pressures",
            &["evaporating", "condensing", "Pa"],
        );
        inconsistent(circuit.sensitivities(&conditions()), "interstage pressures", &["evaporating"]);
    }
}

#[test]
fn conditions_that_cannot_be_are_refused() {
    let solve = |conditions: Conditions| circuit().solve(&conditions);
    out_of_range(solve(conditions().with_suction_superheat(-5.0)), "suction superheat", -5.0, "K");
    out_of_range(solve(conditions().with_suction_superheat(1e4)), "suction superheat", 1e4, "K");
    out_of_range(solve(conditions().with_subcooling(-2.0)), "subcooling", -2.0, "K");
    out_of_range(solve(conditions().with_subcooling(300.0)), "subcooling", 300.0, "K");
    out_of_range(solve(Conditions::new(278.15, 310.15, Size::Capacity(0.0))), "capacity", 0.0, "W");
    out_of_range(solve(Conditions::new(278.15, 310.15, Size::Capacity(-1e6))), "capacity", -1e6, "W");
    out_of_range(solve(Conditions::new(278.15, 310.15, Size::MassFlow(-1.0))), "mass flow", -1.0, "kg/s");
    out_of_range(solve(Conditions::new(278.15, 310.15, Size::Power(1e300))), "power", 1e300, "W");
    for (evaporating, condensing) in [(310.15, 278.15), (290.0, 290.0)] {
        let conditions = Conditions::new(evaporating, condensing, Size::Capacity(1e6));
        let arguments = "evaporating temperature and condensing temperature";
        inconsistent(solve(conditions), arguments, &[&evaporating.to_string(), &condensing.to_string(), "K"]);
        inconsistent(circuit().sensitivities(&conditions), arguments, &["above"]);
    }
    // Liquid colder than anything in the machine that could cool it.
    let arguments = "subcooling and evaporating temperature";
    inconsistent(solve(conditions().with_subcooling(50.0)), arguments, &["50 K", "260.15 K", "278.15 K"]);
    let coldest = Conditions::new(278.0, 310.0, Size::Capacity(1e6)).with_subcooling(32.0);
    assert!(solve(coldest).is_ok());
    inconsistent(circuit().sensitivities(&coldest.with_subcooling(32.5)), arguments, &["colder"]);
    // Compression that does not compress.
    let r = r134a();
    let (low, high) = (r.state_px(3e5, 1.0).unwrap(), r.state_pt(9e5, 330.0).unwrap());
    assert!(interstage::isentropic_efficiency(&r, &low, &high).is_ok());
    for (inlet, outlet) in [(&high, &low), (&low, &low)] {
        inconsistent(
            interstage::isentropic_efficiency(&r, inlet, outlet),
            "inlet and outlet",
            &["pressure", "Pa"],
        );
        inconsistent(interstage::polytropic_efficiency(&r, inlet, outlet), "inlet and outlet", &["rise"]);
    }
}

#[test]
fn points_are_found_by_their_names_only() {
    for name in ["evaporator_outlet", "stage_1_inlet", "stage_12_tank_vapor", "condenser_outlet"] {
        assert_eq!(name.parse::<Location>().unwrap().to_string(), name);
    }
    for name in [
        "",
        "1",
        "stage_inlet",
        "stage_-1_inlet",
        "stage_99999999999999999999_inlet",
        "Stage_1_Inlet",
        "stage_1_",
    ] {
        let Err(error) = name.parse::<Location>() else { panic!("{name:?} is a point") };
        assert!(error.to_string().contains(&format!("{name:?}")), "{error}");
    }
}
