//! The trend analysis on readings made from solved cycles: what went in must come out.
#![cfg(feature = "trend")]
#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use interstage::{
    Arrangement, Circuit, Conditions, Cycle, Drive, Error, Figure, FlashTank, Interstage, Location,
    MotorCooling, PressureLosses, Quality, Reading, Readings, Refrigerant, Size, Stage, Status,
    TrendAnalysis, TrendTable, rating_tolerance, water_density, water_enthalpy,
};

const DRIVE: f64 = 0.93;

fn circuit(refrigerant: &str, stages: usize, stage: Stage) -> Circuit {
    let refrigerant = Refrigerant::named(refrigerant).unwrap();
    let tanks = vec![Interstage::FlashTank(FlashTank::new()); stages - 1];
    Circuit::new(refrigerant, vec![stage; stages], tanks).unwrap()
}

/// A machine at some conditions with the water sides that fit.
struct Machine {
    cycle: Cycle,
    columns: Vec<(Reading, f64)>,
}

impl Machine {
    fn new(circuit: &Circuit, conditions: Conditions) -> Self {
        let cycle = circuit.solve(&conditions).unwrap();
        let state = |location| *cycle.point(location).unwrap().state();
        let (cold, hot) = (conditions.evaporating_temperature(), conditions.condensing_temperature());
        // Chilled water 5 K range and 2 K approach; condenser water likewise.
        let (chilled_in, chilled_out) = (cold + 7.0, cold + 2.0);
        let (warm_in, warm_out) = (hot - 7.0, hot - 2.0);
        let flow = |heat: f64, entering: f64, leaving: f64| {
            let rise = water_enthalpy(leaving).unwrap() - water_enthalpy(entering).unwrap();
            heat / rise.abs() / water_density(entering).unwrap()
        };
        let mut columns = vec![
            (Reading::EvaporatorPressure, cycle.evaporating_pressure()),
            (Reading::CondenserPressure, cycle.condensing_pressure()),
            (Reading::LiquidLineTemperature, state(Location::CondenserOutlet).temperature()),
            (Reading::SuctionTemperature, state(Location::StageInlet(1)).temperature()),
            (Reading::DischargeTemperature, cycle.discharge_temperature()),
            (Reading::ChilledWaterEntering, chilled_in),
            (Reading::ChilledWaterLeaving, chilled_out),
            (Reading::ChilledWaterFlow, flow(cycle.capacity(), chilled_in, chilled_out)),
            (Reading::CondenserWaterEntering, warm_in),
            (Reading::CondenserWaterLeaving, warm_out),
            (Reading::CondenserWaterFlow, flow(cycle.heat_rejected(), warm_in, warm_out)),
            (Reading::Power, cycle.power() / DRIVE),
        ];
        let port = 1.0 + circuit.pressure_losses().port();
        let places = (2_u8..).zip(cycle.interstage_pressures()).zip(circuit.interstages());
        for ((stage, &pressure), between) in places {
            if !matches!(between, Interstage::Direct | Interstage::LiquidInjection(_)) {
                columns.push((Reading::TankPressure(stage), pressure * port));
            }
        }
        Self { cycle, columns }
    }

    fn set(mut self, reading: Reading, value: f64) -> Self {
        self.columns.retain(|(known, _)| *known != reading);
        self.columns.push((reading, value));
        self
    }

    fn without(mut self, reading: Reading) -> Self {
        self.columns.retain(|(known, _)| *known != reading);
        self
    }

    fn analyse(&self, analysis: &TrendAnalysis) -> TrendTable {
        let readings = self.columns.iter().try_fold(Readings::new(), |readings, (reading, value)| {
            readings.with(*reading, std::slice::from_ref(value))
        });
        analysis.analyse(&readings.unwrap()).unwrap()
    }
}

fn analysis(circuit: &Circuit) -> TrendAnalysis {
    TrendAnalysis::new(circuit.clone()).unwrap().with_drive_efficiency(DRIVE).unwrap()
}

fn only(table: &TrendTable, figure: Figure) -> f64 {
    table.column(figure).unwrap()[0]
}

fn close(what: &str, got: f64, expected: f64, relative: f64) {
    assert!(
        (got - expected).abs() <= relative * expected.abs().max(1e-3),
        "{what}: {got}, expected {expected}"
    );
}

#[test]
fn what_a_cycle_puts_in_comes_out() {
    // Consistency: the readings are those of a solved cycle, without noise.
    for name in ["R-134a", "R-123", "R-1233zd(E)", "R-1234ze(E)"] {
        for stages in 1..=3 {
            for stage in [Stage::isentropic(0.78).unwrap(), Stage::polytropic(0.81).unwrap()] {
                let circuit = circuit(name, stages, stage);
                let conditions = Conditions::new(279.0, 309.0, Size::Capacity(2.0e6))
                    .with_suction_superheat(1.5)
                    .with_subcooling(2.5);
                let machine = Machine::new(&circuit, conditions);
                let table = machine.analyse(&analysis(&circuit));
                let cycle = &machine.cycle;
                assert!(table.status()[0].is_ok(), "{name}: {}", table.status()[0]);
                let tell = |figure| only(&table, figure);
                close("evaporating", tell(Figure::EvaporatingTemperature), 279.0, 1e-12);
                close("condensing", tell(Figure::CondensingTemperature), 309.0, 1e-12);
                close("refrigerant lift", tell(Figure::RefrigerantLift), 30.0, 1e-11);
                close("water lift", tell(Figure::WaterLift), 26.0, 1e-11);
                close("evaporator approach", tell(Figure::EvaporatorApproach), 2.0, 1e-10);
                close("condenser approach", tell(Figure::CondenserApproach), 2.0, 1e-10);
                close("subcooling", tell(Figure::Subcooling), 2.5, 1e-10);
                close("superheat", tell(Figure::SuctionSuperheat), 1.5, 1e-10);
                close("capacity", tell(Figure::Capacity), 2.0e6, 1e-11);
                close("heat rejected", tell(Figure::HeatRejected), cycle.heat_rejected(), 1e-11);
                close("flow", tell(Figure::EvaporatorMassFlow), cycle.evaporator_mass_flow(), 1e-9);
                close("efficiency", tell(Figure::StageEfficiency), stage.efficiency(), 1e-8);
                close("compression power", tell(Figure::CompressionPower), cycle.power(), 1e-8);
                close("lost power", tell(Figure::LostPower), cycle.power() * (1.0 / DRIVE - 1.0), 1e-6);
                close("capacity from power", tell(Figure::CapacityFromPower), 2.0e6, 1e-8);
                close("condenser heat", tell(Figure::RefrigerantHeatRejected), cycle.heat_rejected(), 1e-8);
                close("cop", tell(Figure::Cop), cycle.cop() * DRIVE, 1e-9);
                close("kw per ton", tell(Figure::KwPerTon), cycle.kw_per_ton() / DRIVE, 1e-9);
                let balance = (cycle.capacity() + cycle.power() / DRIVE) / cycle.heat_rejected() - 1.0;
                close("heat balance", tell(Figure::HeatBalance), balance, 1e-9);
                let ua = cycle.capacity() / (5.0 / (7.0_f64 / 2.0).ln());
                close("evaporator UA", tell(Figure::EvaporatorUa), ua, 1e-9);
                if stages > 1 {
                    close("potential", tell(Figure::EconomizerPotential), cycle.economizer_benefit(), 1e-8);
                    close("measured saving", tell(Figure::MeasuredSaving), cycle.economizer_benefit(), 1e-7);
                    close("evidence", tell(Figure::EconomizerEvidence), 1.0, 0.0);
                    for (k, &fraction) in (2_u8..).zip(cycle.flash_fractions()) {
                        close("flash fraction", tell(Figure::FlashFraction(k)), fraction, 1e-9);
                        let exponent = f64::from(k - 1) / stages as f64;
                        close("exponent", tell(Figure::TankPressureExponent(k)), exponent, 1e-11);
                    }
                }
            }
        }
    }
}

/// Every arrangement, with everything that makes the cooling per kilogram of liquid more than a difference of two enthalpies.
#[test]
fn what_any_arrangement_puts_in_comes_out() {
    let cooled = |cooling| Drive::new().with_motor(0.9, cooling).unwrap();
    let losses = PressureLosses::new().with_port(0.03).unwrap().with_interstage(0.02).unwrap();
    let losses = losses.with_suction(0.02).unwrap().with_discharge(0.02).unwrap();
    for text in [
        "1 stage: suction exchanger (effectiveness 0.3)",
        "2 stages: tank@2 (carryover 0.02, blowthrough 0.01, expander 0.5), evaporator expander (efficiency 0.5)",
        "2 stages: intercooled tank@2",
        "2 stages: intercooled tank@2 (coil 3 K)",
        "2 stages: closed@2 (approach 3 K, superheat 2 K)",
        "2 stages: closed@2 (approach 3 K, injection after), suction exchanger (effectiveness 0.2)",
        "2 stages: liquid injection@2",
        "3 stages: tank@3, intercooled tank@2",
        "3 stages: closed@3 (approach 2 K), tank@2, suction exchanger (effectiveness 0.25)",
    ] {
        let arrangement: Arrangement = text.parse().unwrap();
        for (drive, losses) in [
            (Drive::new(), PressureLosses::new()),
            (cooled(MotorCooling::RefrigerantToEvaporator), PressureLosses::new()),
            (cooled(MotorCooling::RefrigerantToEvaporator), losses),
        ] {
            let refrigerant = Refrigerant::named("R-134a").unwrap();
            let stage = Stage::polytropic(0.78).unwrap();
            let circuit = arrangement.circuit(refrigerant, stage).unwrap();
            let circuit = circuit.with_drive(drive).unwrap().with_pressure_losses(losses);
            let exchanger = circuit.suction_exchanger().is_some();
            let superheat = if exchanger { 0.0 } else { 1.5 };
            let conditions = Conditions::new(279.0, 309.0, Size::Capacity(2.0e6))
                .with_suction_superheat(superheat)
                .with_subcooling(2.5);
            let machine = Machine::new(&circuit, conditions);
            let cycle = &machine.cycle;
            // Stages as they are, and a circuit whose own are taken otherwise: the discharge tells.
            let other = arrangement.circuit(circuit.refrigerant().clone(), Stage::polytropic(0.7).unwrap());
            let other = other.unwrap().with_drive(drive).unwrap().with_pressure_losses(losses);
            for known in [&circuit, &other] {
                let table = machine.analyse(&analysis(known).with_rating(2.5e6, 6.0).unwrap());
                let tell = |figure| only(&table, figure);
                let what =
                    |name: &str| format!("{text}, {drive:?}, own {}: {name}", known.stages()[0].efficiency());
                assert!(!table.status()[0].contains(Status::NOT_SOLVED), "{}", what("status"));
                let within = 2e-7;
                close(&what("efficiency"), tell(Figure::StageEfficiency), 0.78, within);
                close(&what("flow"), tell(Figure::EvaporatorMassFlow), cycle.evaporator_mass_flow(), within);
                close(&what("power"), tell(Figure::CompressionPower), cycle.power(), within);
                close(&what("heat"), tell(Figure::RefrigerantHeatRejected), cycle.heat_rejected(), within);
                close(&what("capacity from power"), tell(Figure::CapacityFromPower), 2.0e6, within);
                close(&what("lost"), tell(Figure::LostPower), cycle.power() * (1.0 / DRIVE - 1.0), 1e-5);
                close(&what("load"), tell(Figure::Load), 0.8, 1e-11);
                let tolerance = rating_tolerance(0.8, 6.0).unwrap();
                close(&what("tolerance"), tell(Figure::HeatBalanceTolerance), tolerance, 1e-9);
                for (stage, &fraction) in (2_u8..).zip(cycle.flash_fractions()) {
                    if machine.columns.iter().any(|(known, _)| *known == Reading::TankPressure(stage)) {
                        close(&what("fraction"), tell(Figure::FlashFraction(stage)), fraction, 1e-6);
                    }
                }
            }
        }
    }
}

#[test]
fn only_the_pressure_of_a_flash_tank_is_evidence() {
    let machine = |text: &str| {
        let arrangement: Arrangement = text.parse().unwrap();
        let refrigerant = Refrigerant::named("R-1233zd(E)").unwrap();
        let circuit = arrangement.circuit(refrigerant, Stage::polytropic(0.8).unwrap()).unwrap();
        let machine = Machine::new(&circuit, Conditions::new(278.15, 310.15, Size::Capacity(3.5e6)));
        (circuit, machine)
    };
    for text in ["2 stages: closed@2 (approach 3 K)", "2 stages: intercooled tank@2"] {
        let (circuit, machine) = machine(text);
        // Without the drive efficiency there is no saving either: nothing tells.
        let table = machine.analyse(&TrendAnalysis::new(circuit.clone()).unwrap());
        assert!(only(&table, Figure::EconomizerEvidence).is_nan(), "{text}");
        let why = table.unavailable().iter().find(|(figure, _)| *figure == Figure::EconomizerEvidence);
        assert_eq!(why.unwrap().1, "needs the drive efficiency: motor input power is not compression power");
        assert!(only(&table, Figure::TankPressureExponent(2)) > 0.4, "{text}");
        assert!(TrendAnalysis::new(circuit).unwrap().with_tank_exponents(vec![0.5]).is_err());
    }
    // Of two economizers the tank may speak against both, not for both.
    let (circuit, two) = machine("3 stages: closed@3 (approach 3 K), tank@2");
    let table = two.analyse(&analysis(&circuit));
    assert!(only(&table, Figure::EconomizerEvidence).is_nan());
    assert!(table.status()[0].contains(Status::EVIDENCE_UNDECIDED));
    let (low, high) = (two.cycle.evaporating_pressure(), two.cycle.interstage_pressures()[1]);
    let blocked = two.set(Reading::TankPressure(2), low * (high / low).powf(0.9));
    assert_eq!(only(&blocked.analyse(&analysis(&circuit)), Figure::EconomizerEvidence), 0.0);
}

#[test]
fn a_rating_gives_load_and_tolerance() {
    let circuit = circuit("R-134a", 2, Stage::polytropic(0.8).unwrap());
    let machine = || Machine::new(&circuit, Conditions::new(278.15, 310.15, Size::Capacity(1.0e6)));
    let table = machine().analyse(&analysis(&circuit));
    for figure in [Figure::Load, Figure::HeatBalanceTolerance] {
        let why = table.unavailable().iter().find(|(known, _)| *known == figure).unwrap();
        assert_eq!(why.1, "needs the rated capacity and the range of the chilled water at full load");
    }
    // Full load and 10 degF: 5 % (AHRI 550/590, as `rating_tolerance`).
    let rated = |capacity: f64| analysis(&circuit).with_rating(capacity, 10.0 / 1.8).unwrap();
    let table = machine().analyse(&rated(1.0e6));
    close("tolerance", only(&table, Figure::HeatBalanceTolerance), 0.05, 1e-9);
    // No tolerance is defined above 120 %.
    let table = machine().analyse(&rated(0.8e6));
    close("load", only(&table, Figure::Load), 1.25, 1e-9);
    assert!(only(&table, Figure::HeatBalanceTolerance).is_nan());
    assert_eq!(table.status()[0], Status::LOAD);
    for (argument, wrong) in [
        ("rated capacity", analysis(&circuit).with_rating(0.0, 5.0)),
        ("full load range", analysis(&circuit).with_rating(1e6, f64::NAN)),
    ] {
        let message = wrong.unwrap_err().to_string();
        assert!(message.starts_with(argument), "{message}");
    }
}

#[test]
fn a_potential_is_no_evidence() {
    let circuit = circuit("R-1233zd(E)", 2, Stage::polytropic(0.8).unwrap());
    let machine = || Machine::new(&circuit, Conditions::new(278.15, 310.15, Size::Capacity(3.5e6)));
    // Two saturation temperatures alone: the potential, and nothing else.
    let mut bare = machine();
    bare.columns.retain(|(r, _)| matches!(r, Reading::EvaporatorPressure | Reading::CondenserPressure));
    let table = bare.analyse(&analysis(&circuit));
    assert!((only(&table, Figure::EconomizerPotential) - 0.0584).abs() < 5e-5); // computed, chiller_numbers.csv
    assert!(
        only(&table, Figure::EconomizerEvidence).is_nan() && only(&table, Figure::FlashFraction(2)).is_nan()
    );
    let why =
        |figure| table.unavailable().iter().find(|(known, _)| *known == figure).map(|(_, why)| why.as_str());
    assert_eq!(
        why(Figure::EconomizerEvidence).unwrap(),
        "needs a tank pressure or temperature, or capacity, discharge_temperature and power"
    );
    assert_eq!(
        why(Figure::FlashFraction(2)),
        Some("needs stage_2_tank_pressure or stage_2_tank_temperature")
    );
    assert_eq!(why(Figure::EconomizerPotential), None);

    // A tank far above its place (a blocked vent): the potential stays, the evidence speaks against it.
    let (low, high) = (machine().cycle.evaporating_pressure(), machine().cycle.condensing_pressure());
    let blocked = machine().set(Reading::TankPressure(2), low * (high / low).powf(0.75));
    let table = blocked.analyse(&analysis(&circuit));
    close("exponent", only(&table, Figure::TankPressureExponent(2)), 0.75, 1e-12);
    assert_eq!(only(&table, Figure::EconomizerEvidence), 0.0);
    assert!(only(&table, Figure::EconomizerPotential) > 0.058);

    // A tank that stands low is no evidence either way: first-stage inlet vanes do that (a healthy machine at 75 % load on
    // vanes, evaporating at 5.42, condensing at 29.56 degC, has 83.3 kPa in its tank; computed, no published source).
    let vanes = Machine::new(&circuit, Conditions::new(278.57, 302.71, Size::Capacity(2.6e6)));
    let vanes = vanes.set(Reading::TankPressure(2), 83.3e3);
    let table = vanes.analyse(&analysis(&circuit));
    assert!((only(&table, Figure::TankPressureExponent(2)) - 0.337).abs() < 1e-3);
    assert!(only(&table, Figure::EconomizerEvidence).is_nan());
    assert!(table.status()[0].contains(Status::EVIDENCE_UNDECIDED));
    let baseline = analysis(&circuit).with_tank_exponents(vec![0.34]).unwrap();
    assert_eq!(only(&vanes.analyse(&baseline), Figure::EconomizerEvidence), 1.0);
    assert!(analysis(&circuit).with_tank_exponents(vec![0.3, 0.6]).is_err());

    // At a small lift the pressures cannot tell the exponent: no evidence either way.
    let small = Machine::new(&circuit, Conditions::new(278.15, 283.15, Size::Capacity(3.5e6)));
    let small = small.set(Reading::ChilledWaterLeaving, 279.0);
    assert!(only(&small.analyse(&analysis(&circuit)), Figure::EconomizerEvidence).is_nan());
    let exact = analysis(&circuit).with_pressure_uncertainty(1e-3).unwrap();
    assert_eq!(only(&small.analyse(&exact), Figure::EconomizerEvidence), 1.0);

    // Without a tank reading, power and discharge temperature tell, if they are sharp enough.
    let no_tank = || machine().without(Reading::TankPressure(2));
    let sharp = || analysis(&circuit).with_capacity_uncertainty(0.005).unwrap();
    let sharp = || sharp().with_discharge_temperature_uncertainty(0.1, 0.05).unwrap();
    let sharp = || sharp().with_power_uncertainty(0.005).unwrap();
    assert_eq!(only(&no_tank().analyse(&sharp()), Figure::EconomizerEvidence), 1.0);
    // A machine whose economizer is dead, without a tank reading: the potential in full, a measured saving of nothing.
    let off = circuit.clone().without_economizers();
    let dead = Machine::new(&off, Conditions::new(278.15, 310.15, Size::Capacity(3.5e6)));
    let dead = dead.without(Reading::TankPressure(2)).analyse(&sharp());
    assert!((only(&dead, Figure::EconomizerPotential) - 0.0584).abs() < 5e-5);
    assert!(only(&dead, Figure::MeasuredSaving).abs() < 1e-7);
    assert_eq!(only(&dead, Figure::EconomizerEvidence), 0.0);
    let assumed =
        |figure| dead.assumptions().iter().find(|(known, _)| *known == figure).map(|(_, what)| what.as_str());
    let tanks = "working tanks at the pressures of the circuit's rule";
    assert_eq!(assumed(Figure::EvaporatorMassFlow), Some(tanks));
    let saving = "a stage efficiency inferred as if no flash gas were taken off";
    assert_eq!(assumed(Figure::MeasuredSaving), Some(saving));
    assert_eq!(assumed(Figure::EconomizerPotential), Some("a working economizer"));
    assert_eq!(assumed(Figure::Cop), None);
    // With a water flow known to 5 % they cannot tell, and say so.
    let blunt = analysis(&circuit).with_capacity_uncertainty(0.05).unwrap();
    let table = no_tank().analyse(&blunt);
    assert!(only(&table, Figure::EconomizerEvidence).is_nan());
    assert_eq!(table.status()[0], Status::EVIDENCE_UNDECIDED);
    // Nor can they with a drive efficiency that is taken 5 % too high, unless it is believed.
    let wrong = || sharp().with_drive_efficiency(1.05 * DRIVE).unwrap();
    assert_eq!(only(&no_tank().analyse(&wrong()), Figure::EconomizerEvidence), 0.0);
    let doubted = wrong().with_power_uncertainty(0.05).unwrap();
    assert!(only(&no_tank().analyse(&doubted), Figure::EconomizerEvidence).is_nan());
    // Motor input is not compression power: without the drive efficiency there is no measured saving.
    let table = no_tank().analyse(&TrendAnalysis::new(circuit.clone()).unwrap());
    let why = table.unavailable().iter().find(|(figure, _)| *figure == Figure::MeasuredSaving).unwrap();
    assert_eq!(why.1, "needs the drive efficiency: motor input power is not compression power");
}

#[test]
fn a_metered_capacity_stands_in_for_the_chilled_water() {
    let circuit = circuit("R-123", 2, Stage::polytropic(0.8).unwrap());
    let machine = || Machine::new(&circuit, Conditions::new(278.15, 310.15, Size::Capacity(3.5e6)));
    let metered = machine().without(Reading::ChilledWaterFlow).set(Reading::Capacity, 3.5e6);
    let table = metered.analyse(&analysis(&circuit));
    close("cop", only(&table, Figure::Cop), machine().cycle.cop() * DRIVE, 1e-9);
    // Where both are read the water decides.
    let table = machine().set(Reading::Capacity, 9.9e6).analyse(&analysis(&circuit));
    close("capacity", only(&table, Figure::Capacity), 3.5e6, 1e-9);
}

#[test]
fn impossible_rows_are_remarked_and_keep_what_can_be_told() {
    let circuit = circuit("R-134a", 2, Stage::polytropic(0.8).unwrap());
    let machine = || Machine::new(&circuit, Conditions::new(278.15, 310.15, Size::Capacity(1.0e6)));
    let no_water = || machine().without(Reading::CondenserWaterEntering);
    let no_approach = machine().without(Reading::EvaporatorPressure);
    let no_approach = no_approach.set(Reading::EvaporatorSaturationTemperature, 278.15);
    let no_approach = no_approach.set(Reading::ChilledWaterLeaving, 278.15);
    let cases = [
        (machine().set(Reading::ChilledWaterEntering, 279.0), Status::WATER_REVERSED),
        (machine().set(Reading::ChilledWaterLeaving, 277.0), Status::NEGATIVE_APPROACH),
        (machine().set(Reading::CondenserWaterLeaving, 311.0), Status::NEGATIVE_APPROACH),
        (machine().set(Reading::CondenserPressure, 300e3), Status::NO_LIFT),
        (machine().set(Reading::EvaporatorSaturationTemperature, 281.0), Status::SATURATION_MISMATCH),
        (machine().set(Reading::DischargeTemperature, 305.0), Status::IMPOSSIBLE_STATE),
        (machine().set(Reading::SuctionTemperature, 275.0), Status::IMPOSSIBLE_STATE),
        (machine().set(Reading::LiquidLineTemperature, 315.0), Status::IMPOSSIBLE_STATE),
        (machine().set(Reading::TankPressure(2), 1.0e6), Status::TANK_PRESSURE),
        (machine().set(Reading::Power, 1.0e4), Status::ABOVE_CARNOT),
        (machine().set(Reading::DischargeTemperature, 311.0), Status::EFFICIENCY),
        (machine().set(Reading::Power, 0.0), Status::OFF),
        (machine().set(Reading::Power, 1e-45), Status::OFF),
        (machine().set(Reading::Power, -0.5), Status::OFF),
        (machine().set(Reading::Power, -5.0), Status::OUT_OF_RANGE),
        (machine().set(Reading::ChilledWaterFlow, 0.0), Status::NO_HEAT),
        (machine().set(Reading::ChilledWaterEntering, 280.15), Status::NO_HEAT),
        (no_approach, Status::NEGATIVE_APPROACH),
        (machine().set(Reading::ChilledWaterLeaving, 270.0), Status::NOT_WATER),
        (machine().set(Reading::CondenserWaterEntering, 272.0), Status::NOT_WATER),
        (machine().set(Reading::CondenserWaterFlow, 0.0), Status::NO_HEAT),
        (machine().set(Reading::CondenserWaterFlow, 7e-322), Status::NO_HEAT),
        (machine().set(Reading::LiquidLineTemperature, 200.0), Status::IMPOSSIBLE_STATE),
        (machine().set(Reading::LiquidLineTemperature, 301.5), Status::IMPOSSIBLE_STATE),
        // 20 degF beside an evaporator at 5 degC, where no condenser water is read.
        (no_water().set(Reading::LiquidLineTemperature, 266.48), Status::IMPOSSIBLE_STATE),
        (machine().set(Reading::DischargeTemperature, 310.3), Status::DISCHARGE_NOT_DRY),
        (machine().set(Reading::TankTemperature(2), 310.0), Status::SATURATION_MISMATCH),
        (machine().set(Reading::TankTemperature(2), 445.0), Status::OUT_OF_RANGE),
        (machine().set(Reading::ChilledWaterLeaving, 270.0), Status::OUT_OF_RANGE),
        (machine().set(Reading::EvaporatorPressure, -20e3), Status::OUT_OF_RANGE),
        (machine().set(Reading::CondenserPressure, 5.0e6), Status::OUT_OF_RANGE),
        (machine().set(Reading::ChilledWaterEntering, f64::INFINITY), Status::OUT_OF_RANGE),
        (machine().set(Reading::ChilledWaterFlow, f64::NAN), Status::MISSING),
    ];
    for (machine, expected) in cases {
        let table = machine.analyse(&analysis(&circuit));
        let status = table.status()[0];
        assert!(status.contains(expected), "expected {expected}, got {status}");
        assert!(!status.contains(Status::NOT_SOLVED), "{status}");
        // What cannot be true is no evidence, and leads to no figure that rests on it.
        if matches!(expected, Status::TANK_PRESSURE | Status::IMPOSSIBLE_STATE) {
            for figure in [Figure::EvaporatorMassFlow, Figure::StageEfficiency, Figure::MeasuredSaving] {
                assert!(only(&table, figure).is_nan(), "{figure} with {status}");
            }
        }
        if expected == Status::TANK_PRESSURE {
            assert!(only(&table, Figure::EconomizerEvidence).is_nan());
        }
        for figure in [Figure::Cop, Figure::KwPerTon, Figure::Capacity, Figure::EvaporatorMassFlow] {
            let value = only(&table, figure);
            assert!(value.is_nan() || value > 0.0, "{figure} {value} with {status}");
        }
        if expected == Status::ABOVE_CARNOT {
            assert!(only(&table, Figure::Cop).is_nan() && only(&table, Figure::MeasuredSaving).is_nan());
        }
        // Every figure whose columns are there is told, or the status says why not.
        let missing = table.figures().iter().zip(table.values()).filter(|(_, value)| value.is_nan());
        let unexplained = missing
            .filter(|(figure, _)| table.unavailable().iter().all(|(known, _)| known != *figure))
            .count();
        assert!(unexplained == 0 || !status.is_ok(), "{unexplained} figures without a reason");
        if expected == Status::OFF {
            assert!(table.values().iter().all(|value| value.is_nan()));
        } else if !matches!(expected, Status::OUT_OF_RANGE | Status::NO_LIFT) {
            assert!(only(&table, Figure::EvaporatingTemperature) > 278.0);
        }
        assert!(table.values().iter().all(|value| !value.is_infinite()), "{status}");
    }
    // The saturation temperature stands in for a pressure that cannot be true.
    let machine = machine()
        .set(Reading::EvaporatorPressure, -20e3)
        .set(Reading::EvaporatorSaturationTemperature, 278.15);
    assert_eq!(only(&machine.analyse(&analysis(&circuit)), Figure::EvaporatingTemperature), 278.15);
}

#[test]
fn reversed_water_has_no_capacity() {
    let circuit = circuit("R-134a", 2, Stage::polytropic(0.8).unwrap());
    let machine = Machine::new(&circuit, Conditions::new(278.15, 310.15, Size::Capacity(1.0e6)));
    let swapped = || Machine { cycle: machine.cycle.clone(), columns: machine.columns.clone() };
    let swapped = || swapped().set(Reading::ChilledWaterEntering, 280.15);
    let swapped = || swapped().set(Reading::ChilledWaterLeaving, 285.15);
    // A meter does not make up for thermometers that contradict it.
    let metered = swapped().without(Reading::ChilledWaterFlow).set(Reading::Capacity, 1.0e6);
    for machine in [swapped(), metered] {
        let table = machine.analyse(&analysis(&circuit));
        assert!(table.status()[0].contains(Status::WATER_REVERSED));
        for figure in [
            Figure::Capacity,
            Figure::Cop,
            Figure::KwPerTon,
            Figure::HeatBalance,
            Figure::EvaporatorUa,
            Figure::EvaporatorMassFlow,
            Figure::CompressionPower,
            Figure::RefrigerantHeatRejected,
            Figure::MeasuredSaving,
        ] {
            assert!(only(&table, figure).is_nan(), "{figure}");
        }
        assert!(only(&table, Figure::StageEfficiency) > 0.79);
    }
}

#[test]
fn power_and_heat_that_disagree_are_remarked_and_show_no_saving() {
    let circuit = circuit("R-134a", 2, Stage::polytropic(0.8).unwrap());
    let machine = || Machine::new(&circuit, Conditions::new(278.15, 310.15, Size::Capacity(1.0e6)));
    let power = machine().cycle.power() / DRIVE;
    let flow = machine().columns.iter().find(|(known, _)| *known == Reading::CondenserWaterFlow).unwrap().1;
    let open = || machine().set(Reading::CondenserWaterFlow, flow / 1.1);
    let (balance, implausible) = (Status::HEAT_BALANCE, Status::SAVING_IMPLAUSIBLE);
    for (what, machine, expected) in [
        // Nearly as much as a power reading may be: by the condenser water, and by the work of the refrigerant alone.
        ("far too much", machine().set(Reading::Power, 9e7), balance),
        ("no flow", machine().set(Reading::Power, 9e7).without(Reading::CondenserWaterFlow), balance),
        ("less than the work", machine().set(Reading::Power, 0.75 * power), balance),
        ("discharge at 300 degF", machine().set(Reading::DischargeTemperature, 422.04), balance),
        ("condenser water", machine().set(Reading::CondenserWaterFlow, flow / 1.3), balance),
        // 1 - 1.45 (1 - saving), of a saving of some 7 %: -0.35.
        ("half as much again", machine().set(Reading::Power, 1.45 * power), implausible),
    ] {
        let table = machine.analyse(&analysis(&circuit));
        assert_eq!(
            table.status()[0],
            expected,
            "{what}: {} {}",
            table.status()[0],
            only(&table, Figure::StageEfficiency)
        );
        assert!(only(&table, Figure::MeasuredSaving).is_nan(), "{what}");
        assert!(only(&table, Figure::Capacity) > 0.0 && only(&table, Figure::Cop) > 0.0, "{what}");
    }
    // The limit is the user's. The balance counts what the drive loses as well: 0.1 and a little.
    let tell = |limit: f64| open().analyse(&analysis(&circuit).with_heat_balance_limit(limit).unwrap());
    assert!((0.1..0.12).contains(&only(&tell(0.15), Figure::HeatBalance)));
    assert!(tell(0.15).status()[0].is_ok() && only(&tell(0.15), Figure::MeasuredSaving) > 0.05);
    assert_eq!(tell(0.05).status()[0], balance);
    assert!(only(&tell(0.05), Figure::MeasuredSaving).is_nan());
    for (argument, wrong) in [
        ("heat balance limit", analysis(&circuit).with_heat_balance_limit(-0.1)),
        ("power uncertainty", analysis(&circuit).with_power_uncertainty(1.5)),
    ] {
        let message = wrong.unwrap_err().to_string();
        assert!(message.starts_with(argument), "{message}");
    }
}

#[test]
fn what_a_figure_lacks_is_said_in_few_words() {
    let circuit = circuit("R-134a", 3, Stage::polytropic(0.8).unwrap());
    let one = [1.0];
    let with = |names: &[Reading]| {
        names.iter().fold(Readings::new(), |readings, name| readings.with(*name, &one).unwrap())
    };
    let why = |analysis: &TrendAnalysis, names: &[Reading], figure: Figure| {
        let table = analysis.analyse(&with(names)).unwrap();
        table.unavailable().iter().find(|(known, _)| *known == figure).map(|(_, why)| why.clone()).unwrap()
    };
    let vessels = [Reading::EvaporatorPressure, Reading::CondenserPressure];
    let known = analysis(&circuit);
    assert_eq!(
        why(&known, &vessels, Figure::EconomizerEvidence),
        "needs a tank pressure or temperature, or capacity, discharge_temperature and power"
    );
    assert_eq!(
        why(&TrendAnalysis::new(circuit.clone()).unwrap(), &vessels, Figure::EconomizerEvidence),
        "needs a tank pressure or temperature, or capacity, discharge_temperature, power and the drive efficiency"
    );
    let metered = [vessels.as_slice(), &[Reading::Capacity, Reading::Power]].concat();
    assert_eq!(
        why(&known, &metered, Figure::EconomizerEvidence),
        "needs a tank pressure or temperature, or discharge_temperature"
    );
    assert_eq!(
        why(&known, &[], Figure::EconomizerEvidence),
        "needs evaporator_pressure or evaporator_saturation_temperature; and condenser_pressure or \
         condenser_saturation_temperature; and a tank pressure or temperature, or capacity, discharge_temperature and power"
    );
    let water = [Reading::ChilledWaterEntering, Reading::ChilledWaterLeaving];
    assert_eq!(why(&known, &water, Figure::Cop), "needs chilled_water_flow or capacity, and power");
    assert_eq!(
        why(&known, &vessels, Figure::MeasuredSaving),
        "needs chilled_water_entering, chilled_water_leaving and chilled_water_flow, or capacity; and \
         discharge_temperature and power"
    );
    // Any one of the sets is enough, and none of its readings can be spared.
    let known = known.with_rating(1e6, 5.5).unwrap();
    for figure in known.figures() {
        for set in known.needs(figure) {
            let names = |skip: Option<Reading>| {
                let kept = set.iter().copied().filter(|&reading| Some(reading) != skip);
                kept.collect::<Vec<_>>()
            };
            let lacks = |names: &[Reading]| {
                let table = known.analyse(&with(names)).unwrap();
                table.unavailable().iter().any(|(missing, _)| *missing == figure)
            };
            assert!(!lacks(&names(None)), "{figure} from {set:?}");
            for &reading in &set {
                assert!(lacks(&names(Some(reading))), "{figure} without {reading}");
            }
        }
    }
}

#[test]
fn a_jump_in_a_short_table_is_found() {
    let circuit = circuit("R-134a", 1, Stage::isentropic(0.7).unwrap());
    let analysis = TrendAnalysis::new(circuit).unwrap();
    let spikes = |power: &[f64]| -> Vec<usize> {
        let readings = Readings::new().with(Reading::Power, power).unwrap();
        let table = analysis.analyse(&readings).unwrap();
        let quality = table.quality(Reading::Power).unwrap();
        (0..power.len()).filter(|&row| quality[row] == Quality::Spike).collect()
    };
    // The first five have too few before them to tell what is usual.
    for rows in 7..40 {
        for at in 1..rows - 1 {
            let mut power = vec![2e5; rows];
            power[at] = 5e5;
            let expected = if at < 5 { Vec::new() } else { vec![at] };
            assert_eq!(spikes(&power), expected, "row {at} of {rows}");
        }
    }
    // What the neighbors do not tell: the ends, two rows that jump together, and steps.
    assert!(spikes(&[5e5, 2e5, 2e5, 2e5, 2e5, 2e5, 5e5]).is_empty());
    let after = |rest: &[f64]| spikes(&[&[2e5; 8], rest].concat());
    assert_eq!(after(&[5e5, 2e5, 2e5]), [8]);
    assert!(after(&[5e5, 5e5, 2e5, 2e5, 2e5]).is_empty());
    assert!(after(&[5e5, 5e5, 5e5, 5e5]).is_empty());
    assert!(after(&[5e5]).is_empty());
    // Ordinary unrest is none: the largest of these distances is below ten times the usual one.
    assert!(spikes(&[2.0e5, 2.3e5, 2.1e5, 2.5e5, 2.2e5, 2.1e5, 2.8e5, 2.0e5, 2.4e5, 2.2e5]).is_empty());
}

#[test]
fn single_jumps_are_found_and_steps_are_not() {
    let circuit = circuit("R-134a", 1, Stage::isentropic(0.7).unwrap());
    let mut temperature: Vec<f64> = (0..400).map(|i| 300.0 + 3.0 * (f64::from(i) / 40.0).sin()).collect();
    temperature[100] -= 14.0; // a jump of one row
    temperature.iter_mut().skip(200).for_each(|t| *t += 6.0); // a step that stays
    temperature[300] = f64::NAN;
    let readings = Readings::new().with(Reading::CondenserSaturationTemperature, &temperature).unwrap();
    let table = TrendAnalysis::new(circuit).unwrap().analyse(&readings).unwrap();
    let quality = table.quality(Reading::CondenserSaturationTemperature).unwrap();
    let odd: Vec<(usize, Quality)> =
        quality.iter().copied().enumerate().filter(|(_, quality)| *quality != Quality::Good).collect();
    assert_eq!(odd, [(100, Quality::Spike), (300, Quality::Missing)]);
    let condensing = table.column(Figure::CondensingTemperature).unwrap();
    assert!(
        condensing[100].is_nan()
            && condensing[300].is_nan()
            && condensing.iter().filter(|t| t.is_nan()).count() == 2
    );
}

#[test]
fn rows_of_good_readings_do_not_depend_on_their_number() {
    let circuit = circuit("R-1233zd(E)", 2, Stage::polytropic(0.8).unwrap());
    let machines: Vec<Machine> = (0..600)
        .map(|i| {
            let hot = 300.0 + 12.0 * f64::from(i % 37) / 37.0;
            Machine::new(&circuit, Conditions::new(278.0, hot, Size::Capacity(2e6)))
        })
        .collect();
    let names: Vec<Reading> = machines[0].columns.iter().map(|(reading, _)| *reading).collect();
    let columns: Vec<Vec<f64>> =
        (0..names.len()).map(|k| machines.iter().map(|machine| machine.columns[k].1).collect()).collect();
    let readings =
        names.iter().zip(&columns).try_fold(Readings::new(), |all, (name, column)| all.with(*name, column));
    let together = analysis(&circuit).analyse(&readings.unwrap()).unwrap();
    for (row, machine) in machines.iter().enumerate().step_by(7) {
        let alone = machine.analyse(&analysis(&circuit));
        let width = alone.figures().len();
        let bits = |values: &[f64]| values.iter().map(|value| value.to_bits()).collect::<Vec<_>>();
        assert_eq!(bits(alone.values()), bits(&together.values()[row * width..(row + 1) * width]));
    }
}

/// Three stages: evidence for the economizers needs both tanks, evidence against them one.
#[test]
fn one_of_two_tanks_is_half_an_answer() {
    let circuit = circuit("R-1233zd(E)", 3, Stage::polytropic(0.8).unwrap());
    let machine = || Machine::new(&circuit, Conditions::new(278.15, 310.15, Size::Capacity(3.5e6)));
    assert_eq!(only(&machine().analyse(&analysis(&circuit)), Figure::EconomizerEvidence), 1.0);
    let upper = machine().without(Reading::TankPressure(2));
    let table = upper.analyse(&analysis(&circuit));
    assert!(only(&table, Figure::EconomizerEvidence).is_nan());
    assert!(table.status()[0].contains(Status::EVIDENCE_UNDECIDED));
    let (low, high) = (machine().cycle.evaporating_pressure(), machine().cycle.condensing_pressure());
    let stuck = upper.set(Reading::TankPressure(3), low * (high / low).powf(0.85));
    assert_eq!(only(&stuck.analyse(&analysis(&circuit)), Figure::EconomizerEvidence), 0.0);
}

#[test]
fn jumps_next_to_gaps_are_found() {
    let circuit = circuit("R-134a", 1, Stage::isentropic(0.7).unwrap());
    let mut power: Vec<f64> = (0..100).map(|i| 2e5 + 1e3 * f64::from(i % 7)).collect();
    (power[50], power[51], power[52]) = (f64::NAN, 5e7, f64::NAN);
    let readings = Readings::new().with(Reading::Power, &power).unwrap();
    let table = TrendAnalysis::new(circuit).unwrap().analyse(&readings).unwrap();
    assert_eq!(table.quality(Reading::Power).unwrap()[51], Quality::Spike);
}

#[test]
fn bad_tables_are_refused_with_names() {
    let (short, long) = ([1.0], [1.0, 2.0]);
    let readings = Readings::new().with(Reading::Power, &long).unwrap();
    let wrong = readings.clone().with(Reading::ChilledWaterFlow, &short).unwrap_err();
    assert_eq!(wrong, Error::WrongLength { argument: "chilled_water_flow", found: 1, expected: 2 });
    let twice = readings.clone().with(Reading::Power, &long).unwrap_err();
    assert_eq!(twice.to_string(), "readings contradict each other: power is given twice");
    let circuit = circuit("R-134a", 1, Stage::isentropic(0.7).unwrap());
    let analysis = TrendAnalysis::new(circuit).unwrap();
    let tank = analysis.analyse(&readings.with(Reading::TankPressure(2), &long).unwrap()).unwrap_err();
    assert!(
        tank.to_string().contains("stage_2_tank_pressure is given, but no tank feeds the inlet of stage 2"),
        "{tank}"
    );
    let unknown = "tank pressure".parse::<Reading>().unwrap_err().to_string();
    assert!(
        unknown.starts_with("unknown reading \"tank pressure\"; it is one of evaporator_pressure, "),
        "{unknown}"
    );
    for text in ["stage_1_tank_pressure", "stage_x_tank_pressure", "stage_2_power", "stage_2_", ""] {
        assert!(text.parse::<Reading>().is_err(), "{text}");
    }
    for reading in Reading::FIXED.into_iter().chain([Reading::TankPressure(3), Reading::TankTemperature(2)]) {
        assert_eq!(reading.to_string().parse(), Ok(reading));
    }
    assert_eq!("tank_pressure".parse(), Ok(Reading::TankPressure(2)));
    // No rows are a table too.
    let empty = analysis.analyse(&Readings::new().with(Reading::Power, &[]).unwrap()).unwrap();
    assert_eq!((empty.rows(), empty.values().len()), (0, 0));
    assert_eq!(analysis.analyse(&Readings::new()).unwrap().rows(), 0);
}
