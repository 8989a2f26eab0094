//! Values from property tables, handbooks and textbooks: saturation, single-phase states, isenthalpic
//! flash, IAPWS-IF97 points, and worked cycle examples.
//!
//! `tolerance` in the table is what the printed digits allow. `relative` is given where the source stands
//! on an older equation or another formulation, and says what to allow for that.

mod common;

use common::corrections::with_published_gas_constant;
use common::{
    Check, Fallible, Row, Tally, ZERO_CELSIUS, data_file, point, property, read_table, refrigerant,
};
use interstage::{
    Circuit, Component, Conditions, Cycle, FlashTank, Interstage, InterstagePressures, Refrigerant, Size,
    Stage, Surroundings,
};
use serde_json::Value;

/// Kinds of row with the number of values in `published_checks.csv`.
const ROWS: [(&str, usize); 4] =
    [("saturation", 638), ("single phase", 426), ("isenthalpic flash", 6), ("IF97", 15)];

/// Values to check in `cycle_examples.json`: results of worked examples, results of computed references,
/// and for each of the latter four figures per stage, five but for the first, of two and of three stages.
const EXAMPLE_RESULTS: usize = 96 + 4 * (2 * 4 + 1 + 3 * 4 + 2);

/// `relative` times the scale on which it counts: enthalpies, entropies and Celsius temperatures have an
/// arbitrary zero, so they count at least as 100 kJ/kg, 0.5 kJ/(kg K) and 50 K.
fn allowance(relative: f64, property: &str, unit: &str, value: f64) -> f64 {
    let least = match (property, unit) {
        ("enthalpy" | "internal_energy" | "enthalpy_of_vaporization", _) => 100e3,
        ("entropy" | "entropy_of_vaporization", _) => 500.0,
        ("temperature", "degC") => 50.0,
        _ => 0.0,
    };
    relative * value.abs().max(least)
}

fn tolerance(row: &Row) -> Fallible<f64> {
    let rounding = row.number("tolerance")?;
    if row.text("relative")?.is_empty() {
        return Ok(rounding);
    }
    let relative = row.number("relative")?;
    let allowed = allowance(relative, row.text("property")?, row.text("unit")?, row.number("expected")?);
    Ok(allowed.max(rounding))
}

fn evaluate(row: &Row) -> Fallible<f64> {
    let refrigerant = refrigerant(row.text("fluid")?, row.text("reference")?)?;
    let given = row.given();
    let refrigerant =
        if given.is_beyond(&refrigerant)? { refrigerant.with_extrapolation() } else { refrigerant };
    let state = match given.number("outlet_pressure_pa")? {
        None => given.state(&refrigerant)?,
        // Throttling: enthalpy stays.
        Some(outlet) => {
            let saturated = given.number("inlet_saturated_liquid_pressure_pa")?;
            let pressure = given.number("inlet_pressure_pa")?;
            let temperature = given.number("inlet_temperature_degc")?;
            let inlet = match (saturated, pressure, temperature) {
                (Some(p), None, None) => refrigerant.saturation_at_pressure(p)?.liquid(),
                (None, Some(p), Some(t)) => refrigerant.state_pt(p, t + ZERO_CELSIUS)?,
                _ => return Err("no inlet state".into()),
            };
            refrigerant.state_ph(outlet, inlet.enthalpy())?
        }
    };
    property(&refrigerant, &state, row.text("property")?, row.text("unit")?)
}

fn check(kind: &str) -> Fallible<()> {
    let expected_rows = ROWS.iter().find(|(known, _)| *known == kind).ok_or("not in the list")?.1;
    let mut tally = Tally::default();
    for row in read_table("published_checks.csv")? {
        if row.text("kind")? != kind {
            continue;
        }
        let source = format!("{}, {}", row.text("source")?, row.text("table")?);
        let check = Check {
            id: row.text("id")?,
            property: row.text("property")?,
            source: &source,
            expected: row.number("expected")?,
            tolerance: tolerance(&row)?,
        };
        tally.check(&check, evaluate(&row));
    }
    tally.finish(kind, expected_rows);
    Ok(())
}

#[test]
fn saturation() -> Fallible<()> {
    check("saturation")
}

#[test]
fn single_phase_states() -> Fallible<()> {
    check("single phase")
}

#[test]
fn isenthalpic_flash() -> Fallible<()> {
    check("isenthalpic flash")
}

/// IAPWS-IF97 is another formulation of the same fluid: the difference stays within what is published.
#[test]
fn water_stays_close_to_the_industrial_formulation() -> Fallible<()> {
    check("IF97")
}

#[test]
fn every_row_is_of_a_kind_that_is_tested() -> Fallible<()> {
    let rows = read_table("published_checks.csv")?;
    for row in &rows {
        let kind = row.text("kind")?;
        assert!(ROWS.iter().any(|(known, _)| *known == kind), "{kind}");
    }
    assert_eq!(rows.len(), ROWS.iter().map(|(_, n)| n).sum::<usize>());
    Ok(())
}

/// A quantity with its unit from the file of examples.
fn si(quantity: &Value) -> Fallible<f64> {
    let value = quantity["value"].as_f64().ok_or_else(|| format!("no value in {quantity}"))?;
    Ok(match quantity["unit"].as_str().ok_or("no unit")? {
        "MPa" => value * 1e6,
        "bar" => value * 1e5,
        "kPa" | "kW" | "kJ/kg" => value * 1e3,
        "degC" => value + ZERO_CELSIUS,
        "degF" => (value - 32.0) / 1.8 + ZERO_CELSIUS,
        "K" | "-" | "kg/s" | "m3/s" => value,
        "Btu/h" => value * 1_055.055_852_62 / 3600.0,
        "ft3/min" => value * 0.3048_f64.powi(3) / 60.0,
        // The ton of these textbooks is 211 kJ/min.
        "ton (211 kJ/min)" => value * 211e3 / 60.0,
        other => return Err(format!("unknown unit {other:?}").into()),
    })
}

/// How many SI units one unit of a quantity is; a temperature difference of 1 degC is 1 K.
fn size_of_unit(quantity: &Value) -> Fallible<f64> {
    let unit = |value: f64| serde_json::json!({"value": value, "unit": quantity["unit"]});
    Ok(si(&unit(1.0))? - si(&unit(0.0))?)
}

/// An example from the file.
struct Example<'a>(&'a Value);

impl Example<'_> {
    fn id(&self) -> &str {
        self.0["id"].as_str().unwrap_or_default()
    }

    fn input(&self, name: &str) -> Fallible<f64> {
        si(&self.0["inputs"][name]).map_err(|e| format!("{} {name}: {e}", self.id()).into())
    }

    fn refrigerant(&self) -> Fallible<Refrigerant> {
        Ok(Refrigerant::named(self.0["fluid"].as_str().ok_or("no fluid")?)?)
    }

    fn source(&self) -> String {
        let text = |name: &str| self.0["source"][name].as_str().unwrap_or_default();
        format!("{}, {} {}", text("authors"), text("title"), text("example"))
    }

    /// Checks every expected result against the one of the same name in `got`.
    fn check(&self, tally: &mut Tally, got: &[(&str, f64)]) -> Fallible<()> {
        let computed = self.0["kind"] == "cycle reference (computed)";
        let source = self.source();
        for (name, quantity) in self.0["expected"].as_object().ok_or("nothing expected")? {
            let expected = si(quantity)?;
            let rounding = quantity["tol_abs"].as_f64().ok_or("no tolerance")? * size_of_unit(quantity)?;
            // Celsius temperatures count at least as 50 K.
            let scale = match quantity["unit"].as_str() {
                Some("degC") => (expected - ZERO_CELSIUS).abs().max(50.0),
                // A difference of two enthalpies, which count at least as 100 kJ/kg, over the latent heat of the book.
                _ if name == "flash_fraction" && self.0["table_values"]["hfg"].is_object() => {
                    100e3 / si(&self.0["table_values"]["hfg"])?
                }
                _ => expected.abs(),
            };
            // A reference computed from the same equation has to be met to its digits.
            let relative = self.0["tol_rel_recommended"].as_f64().filter(|_| !computed).unwrap_or(0.0);
            let check = Check {
                id: self.id(),
                property: name,
                source: &source,
                expected,
                tolerance: rounding.max(relative * scale),
            };
            let found = got.iter().find(|(known, _)| known == name).map(|(_, value)| *value);
            tally.check(&check, found.ok_or_else(|| "not computed".into()));
        }
        Ok(())
    }
}

/// A machine with equal stages and a tank at every port, or none.
fn machine(refrigerant: &Refrigerant, stages: usize, efficiency: f64, tanks: bool) -> Fallible<Circuit> {
    let between = |_| if tanks { Interstage::FlashTank(FlashTank::new()) } else { Interstage::Direct };
    Ok(Circuit::new(
        refrigerant.clone(),
        vec![Stage::isentropic(efficiency)?; stages],
        (1..stages).map(between).collect(),
    )?)
}

/// Temperature of saturation at a pressure.
fn boiling(refrigerant: &Refrigerant, pressure: f64) -> Fallible<f64> {
    Ok(refrigerant.saturation_at_pressure(pressure)?.temperature())
}

fn worked_example(example: &Example<'_>, tally: &mut Tally) -> Fallible<()> {
    let refrigerant = example.refrigerant()?;
    let single = |efficiency, conditions: &Conditions| -> Fallible<Cycle> {
        Ok(machine(&refrigerant, 1, efficiency, false)?.solve(conditions)?)
    };
    match example.id() {
        "pc-cyc-r134a-001" => {
            let (p_e, p_c) = (example.input("p_evap")?, example.input("p_cond")?);
            let size = Size::MassFlow(example.input("m_dot")?);
            let conditions = Conditions::new(boiling(&refrigerant, p_e)?, boiling(&refrigerant, p_c)?, size);
            let cycle = single(1.0, &conditions)?;
            example.check(
                tally,
                &[
                    ("Q_L", cycle.capacity()),
                    ("W_in", cycle.power()),
                    ("Q_H", cycle.heat_rejected()),
                    ("COP", cycle.cop()),
                ],
            )
        }
        "pc-cyc-r134a-002" => {
            // Pressures differ between compressor outlet and condenser outlet: states one by one.
            let p_2 = example.input("p2")?;
            let inlet = refrigerant.state_pt(example.input("p1")?, example.input("t1")?)?;
            let outlet = refrigerant.state_pt(p_2, example.input("t2")?)?;
            let ideal = refrigerant.state_ps(p_2, inlet.entropy())?;
            let liquid = refrigerant.saturation_at_temperature(example.input("t3")?)?.liquid();
            let flow = example.input("m_dot")?;
            let work = outlet.enthalpy() - inlet.enthalpy();
            let effect = inlet.enthalpy() - liquid.enthalpy();
            example.check(
                tally,
                &[
                    ("Q_L", flow * effect),
                    ("W_in", flow * work),
                    ("eta_isentropic", (ideal.enthalpy() - inlet.enthalpy()) / work),
                    ("COP", effect / work),
                ],
            )
        }
        "pc-cyc-r134a-003" => {
            let (p_e, p_c) = (example.input("p_evap")?, example.input("p_cond")?);
            let cycle = machine(&refrigerant, 2, 1.0, true)?
                .with_interstage_pressures(InterstagePressures::Given(vec![example.input("p_int")?]))?
                .solve(&Conditions::new(
                    boiling(&refrigerant, p_e)?,
                    boiling(&refrigerant, p_c)?,
                    Size::MassFlow(1.0),
                ))?;
            let condenser = cycle.condenser_mass_flow();
            example.check(
                tally,
                &[
                    ("flash_fraction", cycle.flash_fractions().iter().sum()),
                    ("q_L_per_kg_condenser", cycle.capacity() / condenser),
                    ("w_in_per_kg_condenser", cycle.power() / condenser),
                    ("COP", cycle.cop()),
                ],
            )
        }
        "pc-cyc-r134a-004" | "pc-cyc-r134a-007" => {
            let (t_e, t_c) = (example.input("t_evap")?, example.input("t_cond")?);
            let cycle = single(1.0, &Conditions::new(t_e, t_c, Size::MassFlow(example.input("m_dot")?)))?;
            example.check(
                tally,
                &[
                    ("W_c", cycle.power()),
                    ("Q_in", cycle.capacity()),
                    ("Q_L", cycle.capacity()),
                    ("COP", cycle.cop()),
                    ("COP_carnot", cycle.carnot_cop()),
                    ("p_cond", cycle.condensing_pressure()),
                ],
            )
        }
        "pc-cyc-r134a-005" => {
            let t_c = boiling(&refrigerant, example.input("p_cond")?)?;
            let size = Size::MassFlow(example.input("m_dot")?);
            let conditions = Conditions::new(example.input("t_evap")?, t_c, size)
                .with_subcooling(t_c - example.input("t3")?);
            let cycle = single(example.input("eta_isentropic")?, &conditions)?;
            // Waters as they may be: neither compressor nor valve knows them.
            let waters = Surroundings::new((278.0, 274.0), (t_c - 20.0, t_c - 15.0), example.input("T0")?)?;
            let ledger = cycle.exergy(&waters)?;
            let lost = |component| ledger.destroyed_in(|other| other == component);
            example.check(
                tally,
                &[
                    ("W_c", cycle.power()),
                    ("Q_in", cycle.capacity()),
                    ("COP", cycle.cop()),
                    ("exergy_destruction_compressor", lost(Component::Stage(1))),
                    ("exergy_destruction_valve", lost(Component::EvaporatorMetering)),
                ],
            )
        }
        "pc-cyc-r134a-006" => {
            let t_c = boiling(&refrigerant, example.input("p_cond")?)?;
            let power = Size::Power(example.input("W_total")?);
            let cycle = machine(&refrigerant, 2, 1.0, true)?
                .with_interstage_pressures(InterstagePressures::Given(vec![example.input("p_int")?]))?
                .solve(&Conditions::new(example.input("t_evap")?, t_c, power))?;
            example.check(tally, &[("COP", cycle.cop()), ("m_dot_evaporator", cycle.evaporator_mass_flow())])
        }
        "pc-cyc-r12-001" => {
            // The book rounds the geometric mean to 389 kPa and goes on with that.
            let (t_e, p_c) = (boiling(&refrigerant, example.input("p_evap")?)?, example.input("p_cond")?);
            let size = Size::MassFlow(example.input("m_dot_low")?);
            let conditions = Conditions::new(t_e, boiling(&refrigerant, p_c)?, size);
            let circuit = machine(&refrigerant, 2, 1.0, true)?;
            let mean = circuit.solve(&conditions)?.interstage_pressures()[0];
            let cycle = circuit
                .with_interstage_pressures(InterstagePressures::Given(vec![example.input("p_int")?]))?
                .solve(&conditions)?;
            example.check(
                tally,
                &[
                    ("p_int", mean),
                    ("Q_E", cycle.capacity()),
                    ("m_dot_high", cycle.condenser_mass_flow()),
                    ("W_in", cycle.power()),
                    ("COP", cycle.cop()),
                ],
            )
        }
        "pc-cyc-r12-002" => {
            let (t_e, t_c) = (example.input("t_evap")?, example.input("t_cond")?);
            let cycle = single(1.0, &Conditions::new(t_e, t_c, Size::Capacity(example.input("capacity")?)))?;
            let (p_e, p_c) = (cycle.evaporating_pressure(), cycle.condensing_pressure());
            example.check(
                tally,
                &[
                    ("m_dot", cycle.evaporator_mass_flow()),
                    ("V_dot", cycle.stage_inlet_volume_flow()[0]),
                    ("t_discharge", cycle.discharge_temperature()),
                    ("p_evap", p_e),
                    ("p_cond", p_c),
                    ("pressure_ratio", p_c / p_e),
                    ("Q_H", cycle.heat_rejected()),
                    ("flash_fraction", cycle.evaporator_inlet_quality()),
                    ("COP", cycle.cop()),
                    ("W", cycle.power()),
                ],
            )
        }
        "pc-cyc-r717-001" => {
            let (t_e, t_c) = (example.input("t_evap")?, example.input("t_cond")?);
            let cycle = single(1.0, &Conditions::new(t_e, t_c, Size::Capacity(example.input("Q_L")?)))?;
            let swept = cycle.stage_inlet_volume_flow()[0] / 0.70;
            example.check(
                tally,
                &[
                    ("COP", cycle.cop()),
                    ("COP_carnot", cycle.carnot_cop()),
                    ("piston_displacement_at_70_percent", swept),
                ],
            )
        }
        other => Err(format!("no calculation for {other}").into()),
    }
}

fn computed_reference(example: &Example<'_>, tally: &mut Tally) -> Fallible<()> {
    let refrigerant = example.refrigerant()?;
    let conditions = Conditions::new(example.input("t_evap")?, example.input("t_cond")?, Size::MassFlow(1.0));
    let efficiency = example.input("eta_isentropic")?;
    let solve = |stages| -> Fallible<Cycle> {
        Ok(machine(&refrigerant, stages, efficiency, true)?.solve(&conditions)?)
    };
    let (one, two, three) = (solve(1)?, solve(2)?, solve(3)?);
    let saving = |cycle: &Cycle| 1.0 - one.cop() / cycle.cop();
    let pressure = |cycle: &Cycle, index: usize| {
        cycle.interstage_pressures().get(index).copied().ok_or("no such interstage pressure")
    };
    example.check(
        tally,
        &[
            ("COP_1", one.cop()),
            ("COP_2_flash", two.cop()),
            ("COP_3_flash", three.cop()),
            ("p_int_2", pressure(&two, 0)?),
            ("p_int_3_low", pressure(&three, 0)?),
            ("p_int_3_high", pressure(&three, 1)?),
            ("condenser_flow_per_evaporator_flow_2", two.condenser_mass_flow()),
            ("condenser_flow_per_evaporator_flow_3", three.condenser_mass_flow()),
            ("w_1", one.power()),
            ("w_2_per_evaporator_kg", two.power()),
            ("w_3_per_evaporator_kg", three.power()),
            ("power_saving_2_vs_1", saving(&two)),
            ("power_saving_3_vs_1", saving(&three)),
        ],
    )?;
    for (name, cycle) in [("two_stage", &two), ("three_stage", &three)] {
        check_stages(example, &example.0["stages"][name], cycle, tally)?;
    }
    Ok(())
}

/// The stages are listed with fixed decimals: 6 for the flow, 3 for kJ/kg and degC, 4 for kPa.
///
/// The list names no reference for enthalpy, so differences are compared: the work of each stage, and the
/// inlet of each but the first against the inlet of the first. A difference of two rounded figures may be
/// off by a whole unit.
fn check_stages(example: &Example<'_>, listed: &Value, cycle: &Cycle, tally: &mut Tally) -> Fallible<()> {
    let listed = listed.as_array().ok_or("no stages")?;
    let number = |stage: &Value, key: &str| stage[key].as_f64().ok_or_else(|| format!("no number {key}"));
    let state = |stage: usize, end: &str| point(cycle, &format!("stage_{stage}_{end}"));
    let first = listed.first().ok_or("empty list")?;
    let first_inlet = state(1, "inlet")?.state().enthalpy();
    let source = example.source();
    for (index, listed) in listed.iter().enumerate() {
        let stage = index + 1;
        let (inlet, outlet) = (state(stage, "inlet")?, state(stage, "outlet")?);
        let (h_in, h_out) = (inlet.state().enthalpy(), outlet.state().enthalpy());
        let flow_ratio = inlet.mass_flow() / cycle.evaporator_mass_flow();
        let work = (number(listed, "h_out")? - number(listed, "h_in")?) * 1e3;
        let rise = (number(listed, "h_in")? - number(first, "h_in")?) * 1e3;
        let pressure = number(listed, "p_out_kPa")? * 1e3;
        let temperature = number(listed, "t_out_degC")? + ZERO_CELSIUS;
        let mut figures = vec![
            ("flow over evaporator flow", "flow_ratio", number(listed, "m_rel")?, 0.5e-6, flow_ratio),
            ("work", "work", work, 1.0, h_out - h_in),
            ("outlet pressure", "pressure", pressure, 0.05, outlet.state().pressure()),
            ("outlet temperature", "temperature", temperature, 0.5e-3, outlet.state().temperature()),
        ];
        if stage > 1 {
            figures.push(("inlet enthalpy rise", "work", rise, 1.0, h_in - first_inlet));
        }
        for (name, quantity, printed, tolerance, got) in figures {
            let expected = with_published_gas_constant(example.refrigerant()?.name(), quantity, printed)?;
            let property = format!("stage {stage} of {}: {name}", cycle.stage_work().len());
            let check = Check { id: example.id(), property: &property, source: &source, expected, tolerance };
            tally.check(&check, Ok(got));
        }
    }
    Ok(())
}

#[test]
fn cycle_examples() -> Fallible<()> {
    let file: Value = serde_json::from_str(&data_file("cycle_examples.json")?)?;
    let mut tally = Tally::default();
    for entry in file["entries"].as_array().ok_or("no entries")? {
        let example = Example(entry);
        if entry["kind"] == "cycle reference (computed)" {
            computed_reference(&example, &mut tally)?;
        } else {
            worked_example(&example, &mut tally)?;
        }
    }
    tally.finish("cycle examples", EXAMPLE_RESULTS);
    Ok(())
}
