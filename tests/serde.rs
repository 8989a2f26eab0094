//! Stored data: everything reads back to the bit through JSON and TOML, in the form that Python's dictionaries have, and what is damaged is
//! refused with words.
#![cfg(feature = "serde")]
#![expect(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod machines;
mod states;

use std::fmt::Debug;

use interstage::{
    Arrangement, Balance, Basis, ChilledWater, Chiller, ChillerPoint, ChillerSensitivities, Circuit,
    ClosedEconomizer, Component, Conditions, Cycle, Duty, Exchanger, ExergyLedger, FlashTank, HeatTransfer,
    Input, IntercooledTank, Interstage, InterstagePressures, LiquidInjection, Location, Model, Point,
    PressureOptimum, Reference, Refrigerant, Saturation, Sensitivities, Size, Stage, State, StreamFlow,
    Surroundings, TankSeparation, VariableUa, WaterFlow, WaterPaths, WateredCircuit,
};
use machines::machines;
use proptest::test_runner::TestCaseError;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use states::random::check;

/// TOML is a table at the top.
#[derive(Debug, Serialize, Deserialize)]
struct File<T> {
    value: T,
}

/// Through JSON as text, JSON as a tree and TOML: the same to the bit, NaN for NaN.
fn reads_back<T: Serialize + DeserializeOwned + PartialEq + Debug>(value: &T) {
    let text = serde_json::to_string(value).unwrap();
    let read: T = serde_json::from_str(&text).unwrap();
    // Numbers are written with all digits, so that the same text is the same bits.
    assert_eq!(serde_json::to_string(&read).unwrap(), text);
    #[expect(clippy::eq_op, reason = "unless it holds NaN")]
    if value == value {
        assert_eq!(read, *value);
    }
    let read: T = serde_json::from_value(serde_json::to_value(value).unwrap()).unwrap();
    assert_eq!(serde_json::to_string(&read).unwrap(), text);
    let toml = toml::to_string(&File { value }).unwrap();
    let read: File<T> = toml::from_str(&toml).unwrap();
    assert_eq!(serde_json::to_string(&read.value).unwrap(), text, "{toml}");
}

fn named(name: &str) -> Refrigerant {
    Refrigerant::named(name).unwrap()
}

fn blend() -> Refrigerant {
    Refrigerant::blend(&[("R-600a", 0.1), ("R-32", 0.2), ("R-134a", 0.7)], Basis::Mole).unwrap()
}

fn arranged(refrigerant: Refrigerant, arrangement: &str) -> Circuit {
    let arrangement: Arrangement = arrangement.parse().unwrap();
    arrangement.circuit(refrigerant, Stage::polytropic(0.789).unwrap()).unwrap()
}

fn conditions() -> Conditions {
    Conditions::new(278.15, 310.15, Size::Power(3.3e5)).with_suction_superheat(1.1).with_subcooling(2.2)
}

fn variable() -> VariableUa {
    VariableUa::new(1e-7, 2e-5, 1e-3, VariableUa::CONDENSATION).unwrap()
}

fn chiller() -> Chiller {
    let watered = |ua, superheat| {
        let circuit = arranged(named("R-1233zd(E)"), "2 stages: tank@2");
        let evaporator = Exchanger::evaporator(HeatTransfer::Ua(ua)).unwrap();
        let condenser = Exchanger::condenser(HeatTransfer::Approach(1.0 / 3.0)).unwrap();
        let of = WateredCircuit::new(circuit, evaporator, condenser).unwrap();
        of.with_suction_superheat(superheat).unwrap().with_subcooling(0.5).unwrap()
    };
    let circuits = vec![watered(0.2e6, 0.0), watered(0.25e6, 0.5), watered(0.3e6, 0.0)];
    let chiller = Chiller::of_circuits(circuits, WaterPaths::SeriesCounterFlow).unwrap();
    chiller.with_capacity_shares(&[0.1, 0.7, 0.3]).unwrap()
}

fn duty() -> Duty {
    let chilled = (WaterFlow::water(48.0).unwrap(), ChilledWater::Leaving(280.15));
    Duty::new(1e6, chilled, (WaterFlow::brine(55.0, 3900.0).unwrap(), 303.15)).unwrap()
}

#[test]
fn refrigerants_read_back() {
    for name in Refrigerant::catalogue().chain(Refrigerant::blends()) {
        reads_back(&named(name));
    }
    reads_back(&named("R-718").with_extrapolation());
    reads_back(&named("R-134a").with_reference(Reference::LiquidAtMinus40C).unwrap());
    reads_back(&named("R-1234yf").with_equation("Richter et al. 2011").unwrap());
    let mixture = named("R-407C").with_model(Model::Mixture).unwrap();
    reads_back(&mixture);
    let blend = blend();
    // Components keep their order, also where tables are sorted by name.
    reads_back(&blend);
    assert_eq!(blend.composition().unwrap()[0].0, "R-600a");
    reads_back(&blend.clone().with_reference(Reference::LiquidAtNormalBoilingPoint).unwrap());
    let vapor = blend.with_composition(&[0.12345, 0.3, 0.57655]).unwrap();
    assert_eq!(vapor.reference(), Reference::OfAnotherComposition);
    reads_back(&vapor);
    let text = serde_json::to_string(&vapor).unwrap();
    let read: Refrigerant = serde_json::from_str(&text).unwrap();
    assert_eq!(read.state_pt(1e5, 300.0).unwrap(), vapor.state_pt(1e5, 300.0).unwrap());
}

#[test]
fn components_read_back() {
    reads_back(&Stage::isentropic(0.1).unwrap());
    reads_back(&Stage::polytropic(0.789).unwrap());
    reads_back(&Stage::polytropic_three_point(1.0 / 3.0).unwrap());
    reads_back(&Interstage::Direct);
    let closed = ClosedEconomizer::new(3.0).unwrap();
    let injection = LiquidInjection::new().with_superheat(2.0).unwrap();
    reads_back(&FlashTank::new());
    reads_back(&IntercooledTank::new().with_coil(3.0).unwrap());
    reads_back(&closed);
    reads_back(&injection);
    reads_back(&Interstage::from(closed));
    for text in [
        "1 stage",
        "3 stages: tank@3 (carryover 0.02, blowthrough 0.005, expander 0.5), liquid injection@2 (superheat 1 K)",
        "2 stages: closed@2 (approach 3 K, injection after), evaporator expander (efficiency 0.5)",
        "2 stages: intercooled tank@2 (coil 3 K), suction exchanger (effectiveness 0.3)",
    ] {
        let arrangement: Arrangement = text.parse().unwrap();
        reads_back(&arrangement);
        assert_eq!(serde_json::to_value(&arrangement).unwrap(), json!(text));
        reads_back(&arranged(named("R-134a"), text));
    }
}

#[test]
fn random_machines_and_their_results_read_back() {
    check("stored machines", 200, &machines(), |machine| {
        let circuit = machine.circuit()?;
        reads_back(&circuit);
        reads_back(&machine.conditions());
        if let Ok(cycle) = circuit.solve(&machine.conditions()) {
            reads_back(&cycle);
            cycle.points().iter().for_each(reads_back);
            cycle.balances().iter().for_each(reads_back);
            let ledger = cycle.exergy(&machine.surroundings()?);
            reads_back(&ledger.map_err(|error| TestCaseError::fail(error.to_string()))?);
        }
        Ok(())
    });
}

#[test]
fn circuits_with_every_rule_read_back() {
    let three = || arranged(named("R-134a"), "3 stages: tank@3, tank@2");
    for rule in [
        InterstagePressures::EqualRatio,
        InterstagePressures::EqualTemperatureStep,
        InterstagePressures::EqualHead,
        InterstagePressures::BestCop,
        InterstagePressures::Given(vec![456_789.1, 1.0e6 / 1.7]),
    ] {
        reads_back(&three().with_interstage_pressures(rule).unwrap());
    }
    let parting = arranged(named("R-448A"), "2 stages: tank@2")
        .with_tank_separation(TankSeparation::Equilibrium)
        .unwrap();
    reads_back(&parting);
    reads_back(&parting.solve(&Conditions::new(278.15, 310.15, Size::MassFlow(1.1))).unwrap());
}

#[test]
fn a_figure_that_is_missing_is_null_in_json() {
    // Liquid close to the critical point: nothing would be cooled without the economizer.
    let arrangement: Arrangement = "2 stages: tank@2".parse().unwrap();
    let circuit = arrangement.circuit(named("R-134a"), Stage::isentropic(0.5).unwrap()).unwrap();
    let cycle = circuit.solve(&Conditions::new(240.0, 374.1, Size::Capacity(1e6))).unwrap();
    assert!(cycle.economizer_benefit().is_nan());
    assert_eq!(serde_json::to_value(&cycle).unwrap()["figures"]["economizer_benefit"], Value::Null);
    reads_back(&cycle);
    let optimum = arranged(named("R-134a"), "4 stages: tank@4, tank@3, tank@2")
        .pressure_optimum(&Conditions::new(278.15, 310.15, Size::Capacity(1e6)))
        .unwrap();
    reads_back(&optimum);
    let superheated = named("R-134a").state_pt(1e5, 300.0).unwrap();
    assert_eq!(serde_json::to_value(superheated).unwrap()["x"], Value::Null);
    assert!(toml::to_string(&superheated).unwrap().contains("x = nan"));
}

#[test]
fn states_read_back() {
    for (refrigerant, temperature) in
        [(named("R-134a"), 277.7), (named("R-407C"), 270.0), (blend(), 290.0), (named("R-134a"), 374.2)]
    {
        let saturation = refrigerant.saturation_at_temperature(temperature).unwrap();
        reads_back(&saturation);
        let text = serde_json::to_string(&saturation).unwrap();
        let read: Saturation = serde_json::from_str(&text).unwrap();
        assert_eq!(read.pressure_slope().to_bits(), saturation.pressure_slope().to_bits());
        reads_back(&saturation.liquid());
        reads_back(&refrigerant.state_tx(temperature, 1.0 / 3.0).unwrap());
        reads_back(&refrigerant.state_pt(5e6, 400.0).unwrap());
    }
}

#[test]
fn chillers_read_back() {
    reads_back(&WaterFlow::water(47.123).unwrap());
    reads_back(&WaterFlow::brine(12.3, 3456.7).unwrap());
    reads_back(&variable());
    for transfer in [
        HeatTransfer::Ua(1.1e6),
        HeatTransfer::VariableUa(variable()),
        HeatTransfer::Approach(1.0 / 3.0),
        HeatTransfer::Effectiveness(0.7),
    ] {
        reads_back(&transfer);
        reads_back(&Exchanger::evaporator(transfer).unwrap());
        reads_back(&Exchanger::condenser(transfer).unwrap());
    }
    let chiller = chiller();
    // A superheat for each circuit, the same subcooling for all.
    let data = serde_json::to_value(&chiller).unwrap();
    assert_eq!(data["suction_superheat"], json!([0.0, 0.5, 0.0]));
    assert_eq!(data["subcooling"], json!(0.5));
    reads_back(&chiller);
    reads_back(&duty());
    reads_back(&chiller.solve(&duty()).unwrap());
    reads_back(&chiller.sensitivities(&duty()).unwrap());
}

#[test]
fn sensitivities_read_back() {
    let circuit = arranged(named("R-134a"), "2 stages: closed@2 (approach 3 K)");
    let found = circuit.sensitivities(&conditions()).unwrap();
    reads_back(&found);
    let text = serde_json::to_string(&found).unwrap();
    let read: Sensitivities = serde_json::from_str(&text).unwrap();
    assert_eq!(read.slope("cop", Input::Subcooling), found.slope("cop", Input::Subcooling));
}

#[test]
fn names_of_places_read_back() {
    for location in [Location::EvaporatorInlet, Location::TankLiquid(2), Location::InjectionOutlet(12)] {
        reads_back(&location);
    }
    for component in [
        Component::Evaporator,
        Component::SuctionLine,
        Component::SuctionExchanger,
        Component::Condenser,
        Component::EvaporatorMetering,
        Component::Motor,
        Component::Stage(1),
        Component::Mixing(2),
        Component::Metering(3),
        Component::Tank(12),
        Component::Exchanger(2),
    ] {
        assert_eq!(component.to_string().parse(), Ok(component));
        reads_back(&component);
    }
    for input in [Input::Subcooling, Input::StageEfficiency(2), Input::TankVaporBlowthrough(3)] {
        reads_back(&input);
    }
    for wrong in ["", "stage_", "stage_2_", "stage_x_tank", "stage_02_tank", "stage_2_tank_", "tank"] {
        assert!(wrong.parse::<Component>().is_err(), "{wrong}");
    }
    // Stages are counted from 1, and a name is read as it is written only.
    for number in ["0", "+2", "02", "-1", "18446744073709551616"] {
        let of_stage = |name: &str| format!("stage_{number}_{name}");
        assert!(of_stage("tank").parse::<Component>().is_err(), "{number}");
        assert!(of_stage("inlet").parse::<Location>().is_err(), "{number}");
        assert!(of_stage("efficiency").parse::<Input>().is_err(), "{number}");
    }
}

/// What reading says of a value.
fn refusal<T: DeserializeOwned + Debug>(value: &Value) -> String {
    match T::deserialize(value) {
        Ok(read) => panic!("{value} was read as {read:?}"),
        Err(error) => error.to_string(),
    }
}

/// Stored data of every type, as Python wrote them in version 1.
fn golden() -> Vec<Value> {
    serde_json::from_str(include_str!("data/stored_version_1.json")).unwrap()
}

/// Calls `$do::<T>($argument...)` for the type that stored data name.
macro_rules! by_type {
    ($value:expr, $do:ident) => {
        match $value["type"].as_str().unwrap() {
            "Refrigerant" => $do::<Refrigerant>($value),
            "State" => $do::<State>($value),
            "Saturation" => $do::<Saturation>($value),
            "Point" => $do::<Point>($value),
            "Stage" => $do::<Stage>($value),
            "FlashTank" => $do::<FlashTank>($value),
            "IntercooledTank" => $do::<IntercooledTank>($value),
            "ClosedEconomizer" => $do::<ClosedEconomizer>($value),
            "LiquidInjection" => $do::<LiquidInjection>($value),
            "Direct" => $do::<Interstage>($value),
            "Circuit" => $do::<Circuit>($value),
            "Cycle" => $do::<Cycle>($value),
            "WaterFlow" => $do::<WaterFlow>($value),
            "VariableUa" => $do::<VariableUa>($value),
            "Exchanger" => $do::<Exchanger>($value),
            "Chiller" => $do::<Chiller>($value),
            "ChillerPoint" => $do::<ChillerPoint>($value),
            other => panic!("{other} is not stored by Python"),
        }
    };
}

/// States of Python know their refrigerant.
fn without_refrigerants_of_states(value: &mut Value) {
    if let Value::Object(map) = value {
        if map["type"] == "State" {
            map.remove("refrigerant");
        }
        for key in ["state", "liquid", "vapor"] {
            map.get_mut(key).map(without_refrigerants_of_states);
        }
    }
}

/// The same but for rounding in figures and points, which are solved again.
fn agree(own: &Value, stored: &Value, solved: bool) -> bool {
    match (own, stored) {
        (Value::Object(own), Value::Object(stored)) => {
            own.keys().eq(stored.keys())
                && own.iter().all(|(key, own)| {
                    agree(own, &stored[key], solved || ["figures", "points"].contains(&key.as_str()))
                })
        }
        (Value::Array(own), Value::Array(stored)) => {
            own.len() == stored.len()
                && own.iter().zip(stored).all(|(own, stored)| agree(own, stored, solved))
        }
        (Value::Number(own), Value::Number(stored)) if solved => {
            let (own, stored) = (own.as_f64().unwrap(), stored.as_f64().unwrap());
            (own - stored).abs() <= 1e-9 * stored.abs() + 1e-12
        }
        (own, stored) => own == stored,
    }
}

#[test]
fn data_of_version_1_are_read_and_written_as_python_writes_them() {
    fn same<T: Serialize + DeserializeOwned>(stored: &Value) {
        let value: T =
            serde_json::from_value(stored.clone()).unwrap_or_else(|error| panic!("{error}: {stored}"));
        let mut stored = stored.clone();
        without_refrigerants_of_states(&mut stored);
        let own = serde_json::to_value(&value).unwrap();
        assert!(agree(&own, &stored, false), "{own}\n{stored}");
    }
    for value in &golden() {
        by_type!(value, same);
    }
    let mut types: Vec<String> = golden().iter().map(|of| of["type"].as_str().unwrap().to_owned()).collect();
    types.sort_unstable();
    types.dedup();
    assert_eq!(types.len(), 17, "{types:?}");
}

#[test]
fn damaged_data_are_refused() {
    fn damage<T: DeserializeOwned + Debug>(good: &Value) {
        let with = |key: &str, value: Value| {
            let mut data = good.clone();
            data[key] = value;
            data
        };
        for key in ["format_version", "type"] {
            let mut data = good.clone();
            data.as_object_mut().unwrap().remove(key);
            let said = refusal::<T>(&data);
            assert!(said.contains(&format!("missing field `{key}`")), "{said}");
        }
        let said = refusal::<T>(&with("format_version", json!(2)));
        assert!(said.contains("format version 2 is not 1"), "{said}");
        let said = refusal::<T>(&with("type", json!("Other")));
        assert!(said.contains("Other"), "{said}");
        let said = refusal::<T>(&with("superfluous", json!(1.0)));
        assert!(said.contains("unknown field `superfluous`"), "{said}");
        for wrong in [json!(null), json!([]), json!({}), json!(1.0), json!("nonsense")] {
            assert!(serde_json::from_value::<T>(wrong).is_err());
        }
        for key in good.as_object().unwrap().keys() {
            // A name is a text of any kind where components say what it is, and refrigerants of states are read over.
            let free = (key == "name" && good.get("components").is_some())
                || good["type"] == "State" && key == "refrigerant";
            for wrong in [json!([]), json!({}), json!("nonsense"), json!(true)] {
                let fits =
                    wrong == json!({}) && key == "figures" || wrong.is_boolean() && key == "extrapolate";
                if !(free || fits) {
                    refusal::<T>(&with(key, wrong));
                }
            }
        }
    }
    for value in &golden() {
        by_type!(value, damage);
    }
}

#[test]
fn what_constructors_refuse_is_refused_in_their_words() {
    fn with<T: Serialize>(value: &T, key: &str, other: Value) -> Value {
        let mut data = serde_json::to_value(value).unwrap();
        data[key] = other;
        data
    }
    fn says<T: DeserializeOwned + Debug>(value: &Value, words: &str) {
        let said = refusal::<T>(value);
        assert!(said.contains(words), "{said}");
    }
    let stage = Stage::polytropic(0.8).unwrap();
    says::<Stage>(&with(&stage, "efficiency", json!(1.5)), "polytropic efficiency 1.5 is outside 0.01 to 1");
    says::<Stage>(&with(&stage, "kind", json!("volumetric")), "unknown kind \"volumetric\"");
    says::<Stage>(&with(&stage, "kind", json!("isentropic")), "no polytropic path");
    says::<FlashTank>(
        &serde_json::to_value(LiquidInjection::new()).unwrap(),
        "it holds another component, not a FlashTank",
    );
    let text = serde_json::to_string(&chiller()).unwrap();
    let said = serde_json::from_str::<Stage>(&text).unwrap_err().to_string();
    assert!(said.starts_with("it holds a Chiller, not a Stage"), "{said}");
    let r134a = named("R-134a");
    says::<Refrigerant>(&with(&r134a, "name", json!("R-9999")), "unknown refrigerant \"R-9999\"");
    says::<Refrigerant>(&with(&r134a, "equation", json!("Nobody 1900")), "unknown equation of state");
    says::<Refrigerant>(&with(&r134a, "reference", json!("elsewhere")), "unknown reference");
    says::<Refrigerant>(&with(&r134a, "zero", json!([0.0, 0.0])), "zero belongs to a blend");
    says::<Refrigerant>(&with(&r134a, "basis", json!("mass")), "both there or both missing");
    says::<Refrigerant>(&with(&blend(), "components", json!({"R-32": 0.5, "R-125": 0.6})), "add up to 1.1");
    let circuit = arranged(r134a.clone(), "3 stages: tank@3, tank@2");
    says::<Circuit>(&with(&circuit, "stages", json!([])), "stages has 0 entries where 1 are needed");
    says::<Circuit>(&with(&circuit, "interstage_pressures", json!([4e5, 3e5])), "must rise");
    says::<Circuit>(
        &with(&circuit, "interstage_pressures", json!("guessed")),
        "unknown interstage_pressures",
    );
    says::<Circuit>(&with(&circuit, "suction_loss", json!(0.6)), "suction loss 0.6 is outside 0 to 0.5");
    says::<Circuit>(&with(&circuit, "motor_cooling", json!(7)), "motor cooling");
    says::<Circuit>(
        &with(&circuit, "tank_separation", json!("equilibrium")),
        "not described by the mixture model",
    );
    says::<Conditions>(&with(&conditions(), "capacity", json!(1e6)), "exactly one size");
    let text = toml::to_string(&conditions()).unwrap().replace("278.15", "nan");
    let said = toml::from_str::<Conditions>(&text).unwrap_err().to_string();
    assert!(said.contains("evaporating temperature must be a finite number in K, got NaN"), "{said}");
    let vapor = r134a.state_pt(1e5, 300.0).unwrap();
    says::<State>(&with(&vapor, "h", json!(1.0)), "but u + p/rho are");
    says::<State>(&with(&vapor, "p", json!(-1.0)), "p is -1 Pa, which is not positive");
    says::<State>(&with(&vapor, "phase", json!("two-phase")), "a two-phase state has a quality x");
    says::<State>(&with(&vapor, "x", json!(1.5)), "x is 1.5, not from 0 to 1");
    let saturation = named("R-407C").saturation_at_temperature(280.0).unwrap();
    says::<Saturation>(&with(&saturation, "dew_slope", Value::Null), "bubble_slope and dew_slope");
    says::<Saturation>(&with(&saturation, "liquid", json!(saturation.vapor())), "the quality 0");
    says::<VariableUa>(&with(&variable(), "wall_resistance", json!(-1.0)), "wall resistance -1 K/W");
    let exchanger = Exchanger::evaporator(HeatTransfer::VariableUa(variable())).unwrap();
    says::<Exchanger>(
        &with(&exchanger, "approach", json!(1.0)),
        "exactly one of ua, approach and effectiveness",
    );
    says::<Exchanger>(
        &with(&exchanger, "ua", with(&variable(), "exponent", json!(2.0))),
        "exponent 2 is outside -0.95 to 0.95",
    );
    says::<Chiller>(
        &with(&chiller(), "evaporator", json!([])),
        "evaporator has 0 entries where 3 are needed",
    );
    says::<Chiller>(&with(&chiller(), "subcooling", json!([1.0])), "subcooling has 1 entries where 3");
    says::<Chiller>(&with(&chiller(), "capacity_shares", json!([1.0, 0.0, 1.0])), "capacity share 0");
    says::<Duty>(
        &with(&duty(), "chilled_water_entering", json!(285.0)),
        "exactly one of chilled_water_leaving",
    );
    let cycle = circuit.solve(&conditions()).unwrap();
    let mut figures = serde_json::to_value(&cycle).unwrap();
    figures["figures"]["cop"] = json!(7.0);
    says::<Cycle>(&figures, "cop is stored as 7, but solved again it is");
    let mut points = serde_json::to_value(&cycle).unwrap();
    points["points"]["h"][2] = json!(4.0e5);
    says::<Cycle>(&points, "h of the points is stored as");
    let mut points = serde_json::to_value(&cycle).unwrap();
    points["points"]["point"][0] = json!("stage_9_inlet");
    says::<Cycle>(&points, "not those of its circuit");
    let balance = cycle.balances().remove(0);
    says::<Balance>(&with(&balance, "outlets", json!([])), "kg/s enter the evaporator and 0 leave it");
    let water = ((285.15, 280.15), (299.15, 304.15));
    let ledger = cycle.exergy(&Surroundings::new(water.0, water.1, 299.15).unwrap()).unwrap();
    says::<ExergyLedger>(&with(&ledger, "cooling", json!(0.0)), "miss the power by");
    let optimum = circuit.pressure_optimum(&conditions()).unwrap();
    says::<PressureOptimum>(&with(&optimum, "exponents", json!([])), "exponents has 0 entries where 2");
    says::<PressureOptimum>(&with(&optimum, "pressures", json!([5e5, 4e5])), "rise from stage to stage");
    let slopes = circuit.sensitivities(&conditions()).unwrap();
    says::<Sensitivities>(&with(&slopes, "values", json!([1.0])), "values has 1 entries");
    let slopes = chiller().sensitivities(&duty()).unwrap();
    says::<ChillerSensitivities>(&with(&slopes, "inputs", json!(["nonsense"])), "unknown input \"nonsense\"");
    says::<StreamFlow>(&json!({"location": "nowhere", "mass_flow": 1.0}), "unknown location \"nowhere\"");
}

#[test]
fn a_cycle_may_be_stored_without_its_figures() {
    let cycle = arranged(named("R-134a"), "2 stages: tank@2").solve(&conditions()).unwrap();
    let mut data = serde_json::to_value(&cycle).unwrap();
    data.as_object_mut().unwrap().remove("figures");
    data.as_object_mut().unwrap().remove("points");
    assert_eq!(serde_json::from_value::<Cycle>(data).unwrap(), cycle);
}
