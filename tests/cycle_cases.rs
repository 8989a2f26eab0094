//! Computed multi-stage cycles: every figure of the cases in `tests/data/cycle_cases.json`, with flash tanks, intercooled tanks,
//! closed economizers, losses and imperfect separation, and with the exergy destroyed in each part.
//!
//! The cases state that a library with the same equations should agree to 1e-6; their eight digits allow
//! 1e-7, which is what is asked here: of the figure itself; of the refrigerating effect for an enthalpy, and
//! of the same over the evaporating temperature for an entropy, whose zero is arbitrary; of the lift for a
//! temperature; of the power for destroyed exergy; of one for a saving. Some refrigerants need a correction first, see
//! `common/corrections.rs`.

mod common;

use common::corrections::{IdealGasShift, with_published_gas_constant};
use common::written_out::{Economizers, Figures, Losses, Prescribed, Pressures, Waters, figure, figures};
use common::{Check, Fallible, Tally, ZERO_CELSIUS, data_file, point};
use interstage::{
    Circuit, ClosedEconomizer, Component, Conditions, Cycle, Drive, FlashTank, IntercooledTank, Interstage,
    InterstagePressures, Model, Phase, PressureLosses, Refrigerant, Size, Stage, State, Surroundings,
    entropic_mean_temperature, units,
};
use serde_json::Value;

/// Relative agreement of two implementations of the same equation. The note "digits" of the case file asks
/// for 1e-6; without the corrections this one would show their effect.
const AGREEMENT: f64 = 1e-7;

/// Two ways through the same property calls differ by rounding and solver tolerances only.
const CONSISTENCY: f64 = 1e-9;

/// A polytropic path is integrated in steps that the library states to be good to this; the path written out
/// here takes finer ones. Fifty times below what the cases ask for.
const PATH_INTEGRAL: f64 = 2e-8;

/// Cases and figures that the file holds.
const CASES: usize = 36;
const FIGURES: usize = 2930;

/// The case file asks for this of blends, whose equilibrium that library solves less closely. Its components all have one gas constant,
/// ours those their authors used, which makes some 1e-6 of it.
const AGREEMENT_OF_BLENDS: f64 = 1e-4;

fn number(value: &Value, key: &str) -> Fallible<f64> {
    value[key].as_f64().ok_or_else(|| format!("no number {key:?}").into())
}

fn numbers(value: &Value, key: &str) -> Fallible<Vec<f64>> {
    let list = value[key].as_array().ok_or_else(|| format!("no list {key:?}"))?;
    list.iter().map(|x| x.as_f64().ok_or_else(|| format!("not a number in {key:?}").into())).collect()
}

fn text<'a>(value: &'a Value, key: &str) -> Fallible<&'a str> {
    value[key].as_str().ok_or_else(|| format!("no text {key:?}").into())
}

fn cases() -> Fallible<Vec<Value>> {
    let file: Value = serde_json::from_str(&data_file("cycle_cases.json")?)?;
    Ok(file["cases"].as_array().ok_or("no cases")?.clone())
}

/// Water temperatures of a case: chilled, then condenser water, each entering and leaving, and the dead state, K.
fn surroundings(case: &Value) -> Fallible<Surroundings> {
    let kelvin = |key: &str| -> Fallible<f64> { Ok(number(&case["inputs"], key)? + ZERO_CELSIUS) };
    Ok(Surroundings::new(
        (kelvin("chilled_water_entering_c")?, kelvin("chilled_water_leaving_c")?),
        (kelvin("condenser_water_entering_c")?, kelvin("condenser_water_leaving_c")?),
        kelvin("dead_state_temperature_c")?,
    )?)
}

fn prescribed(case: &Value) -> Fallible<Prescribed> {
    let inputs = &case["inputs"];
    let stages = inputs["port_stages"].as_array().map_or(&[][..], Vec::as_slice);
    let stages = stages.iter().map(|stage| Ok(usize::try_from(stage.as_u64().ok_or("stage")?)?));
    let pressures = match text(inputs, "interstage_method")? {
        "equal_pressure_ratio" => Pressures::EqualRatio,
        "equal_saturation_temperature_step" => Pressures::EqualTemperatureStep,
        "given" => {
            Pressures::Given(numbers(inputs, "interstage_pressures_kpa")?.iter().map(|p| p * 1e3).collect())
        }
        other => return Err(format!("unknown rule {other:?}").into()),
    };
    let economizers = match text(inputs, "arrangement")? {
        "none" | "flash" => Economizers::Tanks,
        "intercooled_flash" => Economizers::Intercooled,
        "closed" => Economizers::Closed {
            approach: number(inputs, "economizer_approach_k")?,
            superheat: number(inputs, "injection_superheat_k")?,
        },
        other => return Err(format!("unknown arrangement {other:?}").into()),
    };
    let mean = |entering: &str, leaving: &str| -> Fallible<f64> {
        let (a, b) = (number(inputs, entering)? + ZERO_CELSIUS, number(inputs, leaving)? + ZERO_CELSIUS);
        Ok((a - b) / (a / b).ln())
    };
    Ok(Prescribed {
        evaporating_temperature: number(inputs, "evaporating_temperature_c")? + ZERO_CELSIUS,
        condensing_temperature: number(inputs, "condensing_temperature_c")? + ZERO_CELSIUS,
        superheat: number(inputs, "suction_superheat_k")?,
        subcooling: number(inputs, "condenser_subcooling_k")?,
        capacity: number(inputs, "capacity_kw")? * 1e3,
        efficiencies: numbers(inputs, "stage_efficiencies")?,
        polytropic: text(inputs, "efficiency_kind")? == "polytropic",
        pressures,
        economizers,
        economizer_stages: stages.collect::<Fallible<_>>()?,
        carryover: number(inputs, "liquid_carryover_fraction")?,
        blowthrough: number(inputs, "vapour_blowthrough_fraction")?,
        losses: Losses {
            suction: number(inputs, "suction_pressure_loss_fraction")?,
            interstage: number(inputs, "interstage_pressure_loss_fraction")?,
            port: number(inputs, "port_pressure_loss_fraction")?,
            discharge: number(inputs, "discharge_pressure_loss_fraction")?,
        },
        drive_efficiency: number(inputs, "drive_efficiency")?,
        waters: Some(Waters {
            chilled: mean("chilled_water_entering_c", "chilled_water_leaving_c")?,
            condenser: mean("condenser_water_entering_c", "condenser_water_leaving_c")?,
            dead: number(inputs, "dead_state_temperature_c")? + ZERO_CELSIUS,
        }),
    })
}

fn economizer(prescribed: &Prescribed) -> Fallible<Interstage> {
    let (carryover, blowthrough) = (prescribed.carryover, prescribed.blowthrough);
    Ok(match prescribed.economizers {
        Economizers::Tanks => {
            FlashTank::new().with_liquid_carryover(carryover)?.with_vapor_blowthrough(blowthrough)?.into()
        }
        Economizers::Intercooled => IntercooledTank::new()
            .with_liquid_carryover(carryover)?
            .with_vapor_blowthrough(blowthrough)?
            .into(),
        Economizers::Closed { approach, superheat } => {
            ClosedEconomizer::new(approach)?.with_injection_superheat(superheat)?.into()
        }
    })
}

fn solve(refrigerant: &Refrigerant, prescribed: &Prescribed) -> Fallible<Cycle> {
    let stage = |&efficiency: &f64| {
        if prescribed.polytropic { Stage::polytropic(efficiency) } else { Stage::isentropic(efficiency) }
    };
    let stages = prescribed.efficiencies.iter().map(stage).collect::<Result<Vec<_>, _>>()?;
    let economizer = economizer(prescribed)?;
    let between = (2..=stages.len())
        .map(
            |stage| {
                if prescribed.economizer_stages.contains(&stage) { economizer } else { Interstage::Direct }
            },
        )
        .collect();
    let rule = match &prescribed.pressures {
        Pressures::EqualRatio => InterstagePressures::EqualRatio,
        Pressures::EqualTemperatureStep => InterstagePressures::EqualTemperatureStep,
        Pressures::Given(given) => InterstagePressures::Given(given.clone()),
    };
    let Losses { suction, interstage, port, discharge } = prescribed.losses;
    let losses = PressureLosses::new()
        .with_suction(suction)?
        .with_interstage(interstage)?
        .with_port(port)?
        .with_discharge(discharge)?;
    let circuit = Circuit::new(refrigerant.clone(), stages, between)?
        .with_interstage_pressures(rule)?
        .with_pressure_losses(losses)
        .with_drive(Drive::new().with_drive_efficiency(prescribed.drive_efficiency)?)?;
    let conditions = Conditions::new(
        prescribed.evaporating_temperature,
        prescribed.condensing_temperature,
        Size::Capacity(prescribed.capacity),
    );
    let conditions =
        conditions.with_suction_superheat(prescribed.superheat).with_subcooling(prescribed.subcooling);
    Ok(circuit.solve(&conditions)?)
}

/// The figures of a case as printed, in SI.
fn printed(case: &Value) -> Fallible<Figures> {
    let outputs = &case["outputs"];
    let mut found = Figures::new();
    let mut put = |name: &str, value: f64| found.insert(name.to_owned(), value);
    for (name, key, scale) in [
        ("evaporating.pressure", "evaporating_pressure_kpa", 1e3),
        ("condensing.pressure", "condensing_pressure_kpa", 1e3),
        ("cycle.refrigerating_effect", "refrigerating_effect_kj_kg", 1e3),
        ("evaporator_inlet.enthalpy", "liquid_enthalpy_to_evaporator_kj_kg", 1e3),
        ("evaporator_inlet.quality", "evaporator_inlet_quality", 1.0),
        ("evaporator.mass_flow", "evaporator_mass_flow_kg_s", 1.0),
        ("condenser.mass_flow", "condenser_mass_flow_kg_s", 1.0),
        ("condenser.heat_rejected", "condenser_heat_kw", 1e3),
        ("cycle.power", "compression_power_kw", 1e3),
        ("cycle.cop", "cop_compression", 1.0),
        ("cycle.carnot_cop", "carnot_cop", 1.0),
        ("cycle.second_law_efficiency", "second_law_efficiency_compression", 1.0),
        ("drive.power", "input_power_kw", 1e3),
        ("drive.cop", "cop_input", 1.0),
        ("drive.kw_per_ton", "kw_per_ton_input", 1.0),
        ("energy.residual", "energy_balance_residual_kw", 1e3),
    ] {
        put(name, number(outputs, key)? * scale);
    }
    put("discharge.temperature", number(outputs, "discharge_temperature_c")? + ZERO_CELSIUS);
    let saving = "compression_power_saving_vs_no_economizer_same_stages";
    if outputs.get(saving).is_some() {
        put("cycle.economizer_benefit", number(outputs, saving)?);
    }
    for (quantity, key, scale) in [
        ("mass_flow", "stage_mass_flow_kg_s", 1.0),
        ("work", "stage_work_kj_kg", 1e3),
        ("isentropic_head", "stage_isentropic_head_kj_kg", 1e3),
        ("volume_flow", "stage_inlet_volume_flow_m3_s", 1.0),
        ("power", "stage_power_kw", 1e3),
    ] {
        for (index, value) in numbers(outputs, key)?.iter().enumerate() {
            put(&format!("stage_{}.{quantity}", index + 1), value * scale);
        }
    }
    for (index, value) in numbers(outputs, "interstage_pressures_kpa")?.iter().enumerate() {
        put(&format!("interstage_{}.pressure", index + 1), value * 1e3);
    }
    for tank in outputs["economizers"].as_array().ok_or("no economizers")? {
        let stage = tank["port_stage"].as_u64().ok_or("no port stage")?;
        let name = if case["inputs"]["arrangement"] == "closed" {
            let name = format!("stage_{stage}_closed");
            put(&format!("{name}.injection_ratio"), number(tank, "injection_to_main_ratio")?);
            let leaving = number(tank, "liquid_leaving_temperature_c")? + ZERO_CELSIUS;
            put(&format!("{name}_liquid.temperature"), leaving);
            name
        } else {
            let name = format!("stage_{stage}_tank");
            put(&format!("{name}_inlet.quality"), number(tank, "inlet_quality")?);
            // Of an intercooled tank none is printed: its vapor is the whole gas.
            if case["inputs"]["arrangement"] == "flash" {
                put(&format!("{name}.flash_fraction"), number(tank, "vapour_stream_fraction")?);
            }
            name
        };
        put(&format!("{name}.pressure"), number(tank, "pressure_kpa")? * 1e3);
        put(&format!("{name}.temperature"), number(tank, "saturation_temperature_c")? + ZERO_CELSIUS);
        put(&format!("{name}_inlet.mass_flow"), number(tank, "inlet_flow_kg_s")?);
        put(&format!("{name}_vapor.enthalpy"), number(tank, "vapour_stream_enthalpy_kj_kg")? * 1e3);
        put(&format!("{name}_liquid.enthalpy"), number(tank, "liquid_stream_enthalpy_kj_kg")? * 1e3);
    }
    for (name, state) in outputs["states"].as_object().ok_or("no states")? {
        put(&format!("{name}.pressure"), number(state, "pressure_kpa")? * 1e3);
        put(&format!("{name}.temperature"), number(state, "temperature_c")? + ZERO_CELSIUS);
        put(&format!("{name}.enthalpy"), number(state, "enthalpy_kj_kg")? * 1e3);
        put(&format!("{name}.entropy"), number(state, "entropy_kj_kg_k")? * 1e3);
        put(&format!("{name}.density"), number(state, "density_kg_m3")?);
    }
    let exergy = &outputs["exergy"];
    for (name, destroyed) in exergy["destruction_kw"].as_object().ok_or("no exergy")? {
        let name = match name.as_str() {
            "interstage_mixing" => "mixing",
            "economizer_heat_exchange" => "economizer_exchange",
            other => other,
        };
        put(&format!("{name}.destruction"), destroyed.as_f64().ok_or("not a number")? * 1e3);
    }
    for (name, key, scale) in [
        ("cooling.exergy", "product_cooling_exergy_kw", 1e3),
        ("rejected.exergy", "rejected_with_condenser_water_kw", 1e3),
        ("cycle.exergetic_efficiency", "exergetic_efficiency_compression", 1.0),
        ("chilled_water.mean_temperature", "chilled_water_entropic_mean_temperature_k", 1.0),
        ("condenser_water.mean_temperature", "condenser_water_entropic_mean_temperature_k", 1.0),
        ("exergy.residual", "balance_residual_kw", 1e3),
    ] {
        put(name, number(exergy, key)? * scale);
    }
    Ok(found)
}

/// The heading of the cases under which a component's destruction is booked.
fn heading(component: Component) -> &'static str {
    match component {
        Component::Stage(_) => "compression",
        Component::SuctionLine => "suction_line",
        Component::Mixing(_) | Component::Tank(_) => "mixing",
        Component::Metering(_) | Component::EvaporatorMetering => "expansion",
        Component::Exchanger(_) => "economizer_exchange",
        Component::Condenser => "condenser",
        Component::Evaporator => "evaporator",
        _ => "none",
    }
}

/// The quality of a state as the cases count it: by the lever of enthalpies between bubble and dew point. A blend in equilibrium
/// has a little more or less vapor.
fn counted(refrigerant: &Refrigerant, state: &State, quality: f64) -> Fallible<f64> {
    if refrigerant.model() != Model::Mixture || state.phase() != Phase::TwoPhase {
        return Ok(quality);
    }
    let saturation = refrigerant.saturation_at_pressure(state.pressure())?;
    let (liquid, vapor) = (saturation.liquid().enthalpy(), saturation.vapor().enthalpy());
    let counted = (state.enthalpy() - liquid) / (vapor - liquid);
    assert!((counted - quality).abs() < 5e-3, "{counted} for {quality}");
    Ok(counted)
}

/// The same figures read from a solved cycle.
fn solved(
    refrigerant: &Refrigerant,
    prescribed: &Prescribed,
    cycle: &Cycle,
    surroundings: &Surroundings,
) -> Fallible<Figures> {
    let mut found = Figures::new();
    let mut put = |name: &str, value: f64| found.insert(name.to_owned(), value);
    put("evaporating.pressure", cycle.evaporating_pressure());
    put("condensing.pressure", cycle.condensing_pressure());
    put("cycle.refrigerating_effect", cycle.refrigerating_effect());
    put("evaporator.mass_flow", cycle.evaporator_mass_flow());
    put("condenser.mass_flow", cycle.condenser_mass_flow());
    put("condenser.heat_rejected", cycle.heat_rejected());
    put("cycle.power", cycle.power());
    put("cycle.cop", cycle.cop());
    put("cycle.carnot_cop", cycle.carnot_cop());
    put("cycle.second_law_efficiency", cycle.cop() / cycle.carnot_cop());
    put("cycle.kw_per_ton", cycle.kw_per_ton());
    put("discharge.temperature", cycle.discharge_temperature());
    let drawn = cycle.drive_input_power();
    let cop_of_drive = cycle.capacity() / drawn;
    put("drive.power", drawn);
    put("drive.cop", cop_of_drive);
    put("drive.kw_per_ton", units::kw_per_ton_from_cop(cop_of_drive));
    put("energy.residual", cycle.energy_closure() * cycle.heat_rejected());
    if !prescribed.economizer_stages.is_empty() {
        put("cycle.economizer_benefit", cycle.economizer_benefit());
    }
    let ledger = cycle.exergy(surroundings)?;
    for name in [
        "compression",
        "suction_line",
        "mixing",
        "expansion",
        "economizer_exchange",
        "condenser",
        "evaporator",
    ] {
        put(&format!("{name}.destruction"), ledger.destroyed_in(|component| heading(component) == name));
    }
    assert_eq!(ledger.destroyed_in(|component| heading(component) == "none"), 0.0);
    put("cooling.exergy", ledger.cooling());
    put("rejected.exergy", ledger.rejected());
    put("cycle.exergetic_efficiency", ledger.efficiency());
    put("chilled_water.mean_temperature", surroundings.chilled_water_mean());
    put("condenser_water.mean_temperature", surroundings.condenser_water_mean());
    put("exergy.residual", ledger.closure() * cycle.power());
    for (quantity, list) in [
        ("mass_flow", cycle.stage_mass_flow()),
        ("work", cycle.stage_work().to_vec()),
        ("head", cycle.stage_head().to_vec()),
        ("volume_flow", cycle.stage_inlet_volume_flow()),
        ("power", cycle.stage_power()),
    ] {
        for (index, value) in list.iter().enumerate() {
            put(&format!("stage_{}.{quantity}", index + 1), *value);
        }
    }
    for (index, pressure) in cycle.interstage_pressures().iter().enumerate() {
        put(&format!("interstage_{}.pressure", index + 1), *pressure);
    }
    for (stage, fraction) in prescribed.economizer_stages.iter().zip(cycle.flash_fractions()) {
        match prescribed.economizers {
            Economizers::Tanks => put(&format!("stage_{stage}_tank.flash_fraction"), *fraction),
            Economizers::Closed { .. } => {
                put(&format!("stage_{stage}_closed.injection_ratio"), fraction / (1.0 - fraction))
            }
            Economizers::Intercooled => None,
        };
    }
    for point in cycle.points() {
        let (name, state) = (point.location().to_string(), point.state());
        put(&format!("{name}.pressure"), state.pressure());
        put(&format!("{name}.temperature"), state.temperature());
        put(&format!("{name}.enthalpy"), state.enthalpy());
        put(&format!("{name}.entropy"), state.entropy());
        put(&format!("{name}.density"), state.density());
        put(&format!("{name}.mass_flow"), point.mass_flow());
        if let Some(quality) = state.quality() {
            put(&format!("{name}.quality"), counted(refrigerant, state, quality)?);
        }
        if let Some(tank) = name.strip_suffix("_vapor") {
            put(&format!("{tank}.pressure"), state.pressure());
            put(&format!("{tank}.temperature"), state.temperature());
        }
        if let Some(stage) = name.strip_suffix("_injection_outlet") {
            let saturated = refrigerant.saturation_at_pressure(state.pressure())?;
            put(&format!("{stage}_closed.pressure"), state.pressure());
            put(&format!("{stage}_closed.temperature"), saturated.temperature());
            put(&format!("{stage}_closed_vapor.enthalpy"), state.enthalpy());
            let liquid = cycle.point(format!("{stage}_cooled_liquid").parse()?).ok_or("no liquid")?;
            put(&format!("{stage}_closed_liquid.enthalpy"), liquid.state().enthalpy());
            put(&format!("{stage}_closed_liquid.temperature"), liquid.state().temperature());
            put(&format!("{stage}_closed_inlet.mass_flow"), liquid.mass_flow() + point.mass_flow());
        }
    }
    for stage in 1..=prescribed.efficiencies.len() {
        let inlet = point(cycle, &format!("stage_{stage}_inlet"))?.state();
        let outlet = point(cycle, &format!("stage_{stage}_outlet"))?.state();
        let ideal = refrigerant.state_ps(outlet.pressure(), inlet.entropy())?;
        put(&format!("stage_{stage}.isentropic_head"), ideal.enthalpy() - inlet.enthalpy());
    }
    Ok(found)
}

/// What a figure may deviate by when two implementations agree to `agreement`.
fn tolerance(name: &str, all: &Figures, prescribed: &Prescribed, agreement: f64) -> Fallible<f64> {
    let effect = figure(all, "cycle.refrigerating_effect")?;
    let scale = match quantity(name) {
        "enthalpy" => effect,
        "entropy" => effect / prescribed.evaporating_temperature,
        "temperature" => prescribed.condensing_temperature - prescribed.evaporating_temperature,
        "economizer_benefit" => 1.0,
        "destruction" | "exergy" | "residual" => figure(all, "cycle.power")?,
        _ => figure(all, name)?.abs(),
    };
    Ok(agreement * scale)
}

fn quantity(name: &str) -> &str {
    name.rsplit('.').next().unwrap_or(name)
}

/// The figures of a case for the published equation: as printed, less the known effect of a correction.
fn expected(refrigerant: &Refrigerant, case: &Value, prescribed: &Prescribed) -> Fallible<Figures> {
    let printed = printed(case)?.into_iter().map(|(name, value)| {
        let corrected = with_published_gas_constant(refrigerant.name(), quantity(&name), value)?;
        Ok((name, corrected))
    });
    let printed = printed.collect::<Fallible<Figures>>()?;
    if refrigerant.model() == Model::Mixture {
        return in_own_reference(refrigerant, printed, prescribed);
    }
    let Some(shift) = IdealGasShift::of_cases(refrigerant) else { return Ok(printed) };
    let plain = figures(refrigerant, None, prescribed)?;
    let shifted = figures(refrigerant, Some(&shift), prescribed)?;
    let corrected = |(name, value): (String, f64)| {
        // Temperatures of water, and what is left over.
        if matches!(quantity(&name), "mean_temperature" | "residual") {
            return Ok((name, value));
        }
        let effect = figure(&shifted, &name)? - figure(&plain, &name)?;
        Ok((name, value - effect))
    };
    printed.into_iter().map(corrected).collect()
}

/// Enthalpy and entropy of blends are printed from an arbitrary zero: moved to where the vapor that leaves the evaporator agrees.
fn in_own_reference(
    refrigerant: &Refrigerant,
    printed: Figures,
    prescribed: &Prescribed,
) -> Fallible<Figures> {
    let dew = refrigerant.saturation_at_temperature(prescribed.evaporating_temperature)?.vapor();
    let superheated = prescribed.evaporating_temperature + prescribed.superheat;
    let vapor =
        if prescribed.superheat > 0.0 { refrigerant.state_pt(dew.pressure(), superheated)? } else { dew };
    let shifts = [("enthalpy", vapor.enthalpy()), ("entropy", vapor.entropy())];
    let shifts = shifts.map(|(quantity, own)| {
        Ok((quantity, own - figure(&printed, &format!("evaporator_outlet.{quantity}"))?))
    });
    let shifts = shifts.into_iter().collect::<Fallible<Vec<_>>>()?;
    let shift = |name: &str| shifts.iter().find(|(of, _)| *of == quantity(name)).map_or(0.0, |(_, by)| *by);
    Ok(printed
        .into_iter()
        .map(|(name, value)| {
            let by = shift(&name);
            (name, value + by)
        })
        .collect())
}

#[test]
fn computed_cases_agree() -> Fallible<()> {
    let mut tally = Tally::default();
    let cases = cases()?;
    assert_eq!(cases.len(), CASES);
    for case in &cases {
        let id = text(case, "id")?;
        let prescribed = prescribed(case)?;
        let refrigerant = Refrigerant::named(text(&case["inputs"], "refrigerant")?)?;
        let expected = expected(&refrigerant, case, &prescribed)?;
        let cycle = solve(&refrigerant, &prescribed)?;
        let solved = solved(&refrigerant, &prescribed, &cycle, &surroundings(case)?)?;
        let agreement = match refrigerant.model() {
            Model::Mixture => AGREEMENT_OF_BLENDS,
            _ => AGREEMENT,
        };
        for (name, &value) in &expected {
            let check = Check {
                id,
                property: name,
                source: "computed with CoolProp 8.0.0",
                expected: value,
                tolerance: tolerance(name, &expected, &prescribed, agreement)?,
            };
            tally.check(&check, figure(&solved, name));
        }
    }
    tally.finish("cycle cases", FIGURES);
    Ok(())
}

/// The means of the waters are those of the formula that stands by itself.
#[test]
fn means_of_the_waters_are_the_entropic_ones() -> Fallible<()> {
    for case in &cases()? {
        let waters = prescribed(case)?.waters.ok_or("no waters")?;
        let own = surroundings(case)?;
        for (one, two) in
            [(own.chilled_water_mean(), waters.chilled), (own.condenser_water_mean(), waters.condenser)]
        {
            assert!((one / two - 1.0).abs() < 1e-12, "{one} for {two} K");
        }
        let kelvin = |key: &str| -> Fallible<f64> { Ok(number(&case["inputs"], key)? + ZERO_CELSIUS) };
        let mean = entropic_mean_temperature(
            kelvin("chilled_water_entering_c")?,
            kelvin("chilled_water_leaving_c")?,
        )?;
        assert!((mean / waters.chilled - 1.0).abs() < 1e-12, "{mean} for {} K", waters.chilled);
    }
    Ok(())
}

/// States printed with a quality are saturated; the others have none.
#[test]
fn saturated_states_of_the_cases_carry_their_quality() -> Fallible<()> {
    for case in &cases()? {
        let id = text(case, "id")?;
        let refrigerant = Refrigerant::named(text(&case["inputs"], "refrigerant")?)?;
        let cycle = solve(&refrigerant, &prescribed(case)?)?;
        for (name, state) in case["outputs"]["states"].as_object().ok_or("no states")? {
            let solved = point(&cycle, name)?.state().quality();
            let printed = state["quality"].as_f64();
            // Wet discharges are printed with eight digits.
            let agrees = match (solved, printed) {
                (Some(solved), Some(printed)) => (solved - printed).abs() < AGREEMENT,
                _ => solved == printed,
            };
            assert!(agrees, "{id} {name}: {solved:?} for {printed:?}");
        }
    }
    Ok(())
}

/// The library and a cycle written out step by step, with its own path integral, give the same figures.
#[test]
fn cases_agree_with_the_cycle_written_out() -> Fallible<()> {
    let mut tally = Tally::default();
    let mut count = 0;
    for case in &cases()? {
        let id = text(case, "id")?;
        let prescribed = prescribed(case)?;
        let refrigerant = Refrigerant::named(text(&case["inputs"], "refrigerant")?)?;
        let cycle = solve(&refrigerant, &prescribed)?;
        let solved = solved(&refrigerant, &prescribed, &cycle, &surroundings(case)?)?;
        let written_out = figures(&refrigerant, None, &prescribed)?;
        let agreement = if prescribed.polytropic { PATH_INTEGRAL } else { CONSISTENCY };
        count += written_out.len();
        for (name, &value) in &written_out {
            let check = Check {
                id,
                property: name,
                source: "the cycle written out",
                expected: value,
                tolerance: tolerance(name, &written_out, &prescribed, agreement)?,
            };
            tally.check(&check, figure(&solved, name));
        }
    }
    tally.finish("cycle written out", count);
    Ok(())
}

/// Without the corrections the cases would be missed: they are needed, and their sizes are as stated.
#[test]
fn corrections_are_needed_and_small() -> Fallible<()> {
    let refrigerant = Refrigerant::named("R-123")?;
    let shift = IdealGasShift::of_cases(&refrigerant).ok_or("R-123 needs a shift")?;
    for celsius in [-40.0, 5.0, 37.0, 100.0, 180.0] {
        let temperature = celsius + ZERO_CELSIUS;
        let (enthalpy, _) = shift.at(temperature)?;
        // Stated size of the effect: below 1e-4 R T.
        let limit = 1e-4 * refrigerant.gas_constant() * temperature;
        assert!(enthalpy.abs() < limit, "{celsius} degC: {enthalpy} J/kg, limit {limit}");
    }
    // Stated sizes: up to 2.3e-4 of cp for R-245fa, 1.2e-6 of the pressure of R-1234ze(E), 3e-7 of that of R-717.
    for (id, quantity_over, stated) in [
        ("S-01", "cycle.refrigerating_effect", 1e-6..3e-6),
        ("S-13", "cycle.refrigerating_effect", 1e-5..2.3e-4),
        ("S-16", "evaporating.pressure", 1.1e-6..1.3e-6),
        ("S-27", "evaporating.pressure", 2.5e-7..3.5e-7),
    ] {
        let cases = cases()?;
        let case = cases.iter().find(|case| case["id"] == id).ok_or("no such case")?;
        let prescribed = prescribed(case)?;
        let refrigerant = Refrigerant::named(text(&case["inputs"], "refrigerant")?)?;
        let printed = figure(&printed(case)?, quantity_over)?;
        let corrected = figure(&expected(&refrigerant, case, &prescribed)?, quantity_over)?;
        let effect = (printed / corrected - 1.0).abs();
        assert!(stated.contains(&effect), "{id} {quantity_over}: {effect:e}");
    }
    Ok(())
}
