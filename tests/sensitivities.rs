//! Derivatives of every figure to every input against differences of the solve, for random machines.

mod machines;
mod states;

use std::cell::Cell;

use interstage::{Cycle, Efficiency, Input, InterstagePressures, Sensitivities};
use machines::{Between, Machine, machines};
use proptest::prelude::*;
use proptest::test_runner::TestCaseResult;
use states::random::check;

/// Machines that are tried; each is solved some thousand times.
const MACHINES: u32 = if cfg!(debug_assertions) { 120 } else { 1000 };

/// Relative agreement of a derivative with a difference.
const AGREEMENT: f64 = 1e-5;

/// Rounding of the solve in a difference, of the figure.
const ROUNDING: f64 = 1e-11;

/// A figure by its name.
fn figure(cycle: &Cycle, name: &str) -> Option<f64> {
    let of_stage = |rest: &str| -> Option<f64> {
        let (stage, quantity) = rest.split_once('_')?;
        let place = stage.parse::<usize>().ok()?.checked_sub(1)?;
        match quantity {
            "work" => cycle.stage_work().get(place).copied(),
            "head" => cycle.stage_head().get(place).copied(),
            "mass_flow" => cycle.stage_mass_flow().get(place).copied(),
            "inlet_volume_flow" => cycle.stage_inlet_volume_flow().get(place).copied(),
            "inlet_pressure" => cycle.interstage_pressures().get(place.checked_sub(1)?).copied(),
            _ => None,
        }
    };
    Some(match name {
        "cop" => cycle.cop(),
        "refrigerating_effect" => cycle.refrigerating_effect(),
        "work" => cycle.power() / cycle.evaporator_mass_flow(),
        "discharge_temperature" => cycle.discharge_temperature(),
        "economizer_benefit" => cycle.economizer_benefit(),
        "capacity" => cycle.capacity(),
        "power" => cycle.power(),
        "shaft_power" => cycle.shaft_power(),
        "motor_input_power" => cycle.motor_input_power(),
        "drive_input_power" => cycle.drive_input_power(),
        "heat_rejected" => cycle.heat_rejected(),
        "evaporator_mass_flow" => cycle.evaporator_mass_flow(),
        "condenser_mass_flow" => cycle.condenser_mass_flow(),
        "evaporating_pressure" => cycle.evaporating_pressure(),
        "condensing_pressure" => cycle.condensing_pressure(),
        _ => return of_stage(name.strip_prefix("stage_")?),
    })
}

/// Every figure of a cycle, in the order of the names; flash fractions are counted through.
fn figures(machine: &Machine, names: &[String]) -> Option<Vec<f64>> {
    let cycle = machine.solve().ok()?;
    let mut fractions = cycle.flash_fractions().iter();
    names
        .iter()
        .map(
            |name| {
                if name.ends_with("flash_fraction") {
                    fractions.next().copied()
                } else {
                    figure(&cycle, name)
                }
            },
        )
        .collect()
}

/// A step of a number that is large enough for the rounding and small enough for the bends.
fn step(input: Input, value: f64) -> f64 {
    match input {
        Input::EvaporatingTemperature | Input::CondensingTemperature => 0.1,
        Input::SuctionSuperheat
        | Input::Subcooling
        | Input::EconomizerApproach(_)
        | Input::InjectionSuperheat(_) => 0.05,
        Input::StageInletPressure(_) => 1e-3 * value,
        _ => 2e-3,
    }
}

/// The value of an input, and whether it may fall and rise by two steps.
fn room(machine: &mut Machine, input: Input, step: f64) -> Option<(f64, bool, bool)> {
    let value = match input {
        Input::CommonStageEfficiency => machine.stages.iter().map(|(_, value)| *value).fold(0.0, f64::max),
        input => *machine.number(input)?,
    };
    let share = !matches!(
        input,
        Input::EvaporatingTemperature
            | Input::CondensingTemperature
            | Input::SuctionSuperheat
            | Input::Subcooling
            | Input::EconomizerApproach(_)
            | Input::InjectionSuperheat(_)
            | Input::StageInletPressure(_)
    );
    Some((value, value >= 2.0 * step, !share || value + 2.0 * step <= 1.0))
}

/// Derivatives of all figures by differences over a step and half of it, extrapolated to none. One-sided at the end of a range.
fn differences(machine: &Machine, input: Input, step: f64, names: &[String]) -> Option<Vec<f64>> {
    let (_, falls, rises) = room(&mut machine.clone(), input, step)?;
    let at = |by: f64| figures(&machine.with(input, |value| value + by)?, names);
    let side = if rises { 1.0 } else { -1.0 };
    let over = |h: f64| -> Option<Vec<f64>> {
        if falls && rises {
            let (above, below) = (at(h)?, at(-h)?);
            return Some(above.iter().zip(&below).map(|(a, b)| (a - b) / (2.0 * h)).collect());
        }
        let (here, one, two) = (at(0.0)?, at(side * h)?, at(2.0 * side * h)?);
        let slope = |((f, g), k): ((&f64, &f64), &f64)| side * (4.0 * g - 3.0 * f - k) / (2.0 * h);
        Some(here.iter().zip(&one).zip(&two).map(slope).collect())
    };
    let (wide, narrow) = (over(step)?, over(0.5 * step)?);
    Some(wide.iter().zip(&narrow).map(|(wide, narrow)| (4.0 * narrow - wide) / 3.0).collect())
}

/// Compares all derivatives to one input; steps are shortened where a bend lies between.
fn slopes_agree(
    machine: &Machine,
    found: &Sensitivities,
    input: Input,
    compared: &Cell<u64>,
) -> TestCaseResult {
    let figures: Vec<(&str, f64)> = found.figures().collect();
    let names: Vec<String> = figures.iter().map(|(name, _)| (*name).to_owned()).collect();
    let value = room(&mut machine.clone(), input, 0.0).map_or(f64::NAN, |(value, ..)| value);
    prop_assert!(value.is_finite(), "no number for {input}");
    let mut open: Vec<usize> = (0..names.len()).collect();
    let mut last = String::new();
    for shorter in [1.0, 0.1, 0.01, 1e-3, 1e-4] {
        let step = shorter * step(input, value);
        let Some(slopes) = differences(machine, input, step, &names) else { continue };
        open.retain(|&place| {
            let ((name, figure), by_difference) = (figures[place], slopes[place]);
            let slope = found.slope(name, input).unwrap_or(f64::NAN);
            if figure.is_nan() {
                // Not to be told, as the benefit where nothing would be cooled without economizers.
                return !slope.is_nan();
            }
            let size =
                if name.ends_with("fraction") || name.ends_with("benefit") { 1.0 } else { figure.abs() };
            let off = (slope - by_difference).abs();
            let holds = off <= AGREEMENT * slope.abs() + ROUNDING * size / step;
            if !holds {
                last =
                    format!("{name} to {input} (step {step}): {slope} for {by_difference}, figure {figure}");
            }
            !holds
        });
        if open.is_empty() {
            compared.set(compared.get() + names.len() as u64);
            return Ok(());
        }
    }
    // No room for a step at all where the machine is at the edge of what can be solved.
    prop_assert!(last.is_empty(), "{last}");
    Ok(())
}

fn all_slopes_agree(machine: &Machine, compared: &Cell<u64>) -> TestCaseResult {
    let (Ok(cycle), Ok(circuit)) = (machine.solve(), machine.circuit()) else { return Ok(()) };
    let found = circuit.sensitivities(&machine.conditions())?;
    // The figures are those of the cycle.
    for (name, value) in found.figures().filter(|(name, _)| !name.ends_with("flash_fraction")) {
        let own = figure(&cycle, name).unwrap_or(f64::INFINITY);
        let size = if name == "economizer_benefit" { 1.0 } else { own.abs() };
        let same = (own.is_nan() && value.is_nan()) || (own - value).abs() <= 1e-12 * size;
        prop_assert!(same, "{name}: {value} for {own}");
    }
    for &input in found.inputs() {
        slopes_agree(machine, &found, input, compared)?;
    }
    Ok(())
}

/// The rules for the interstage pressures; those that are given stand where those of the machine's own rule do, each a little off.
fn with_rules() -> impl Strategy<Value = Machine> {
    (machines(), 0..4_usize, -0.02..0.02_f64).prop_map(|(mut machine, rule, off)| {
        machine.rule = match rule {
            0 => machine.rule,
            1 => InterstagePressures::EqualTemperatureStep,
            2 => InterstagePressures::EqualHead,
            _ => match machine.solve() {
                Ok(cycle) => {
                    let moved = cycle.interstage_pressures().iter().map(|pressure| pressure * (1.0 + off));
                    InterstagePressures::Given(moved.collect())
                }
                Err(_) => machine.rule,
            },
        };
        machine
    })
}

#[test]
fn every_figure_answers_to_every_input_as_differences_say() {
    let compared = Cell::new(0_u64);
    check("sensitivities", MACHINES, &with_rules(), |machine| all_slopes_agree(&machine, &compared));
    println!("{} derivatives compared", compared.get());
    assert!(compared.get() > u64::from(MACHINES) * 300, "{} compared", compared.get());
}

/// Everything at the lower or upper end of its range: one-sided differences throughout.
#[test]
fn derivatives_at_the_ends_of_ranges() {
    let none = || Between::Tank { carryover: 0.0, blowthrough: 0.0, expander: Some(0.0) };
    let coil = Between::Intercooled { carryover: 0.0, blowthrough: 0.0, coil: Some(0.0), expander: None };
    let closed = |expander| Between::Closed { approach: 0.0, superheat: 0.0, after: false, expander };
    let compared = Cell::new(0_u64);
    for refrigerant in ["R-134a", "R-1233zd(E)", "R-1336mzz(Z)", "R-717"] {
        for between in
            [vec![none(), coil], vec![closed(Some(1.0)), Between::Injection { superheat: 0.0 }], vec![]]
        {
            let mut machine = Machine::plain(refrigerant, between);
            machine.expander = Some(1.0);
            for kind in [Efficiency::Isentropic, Efficiency::Polytropic, Efficiency::PolytropicThreePoint] {
                machine.stages.iter_mut().for_each(|stage| *stage = (kind, 1.0));
                if let Err(error) = all_slopes_agree(&machine, &compared) {
                    panic!("{error}: {machine:?}");
                }
            }
        }
    }
    assert!(compared.get() > 15_000, "{} compared", compared.get());
}

/// With the pressures of the best COP the figures' derivatives are those of a machine whose pressures follow.
#[test]
fn derivatives_at_the_best_pressures() -> Result<(), Box<dyn std::error::Error>> {
    let tank = || Between::Tank { carryover: 0.0, blowthrough: 0.0, expander: None };
    for (refrigerant, isentropic) in [
        ("R-134a", false),
        ("R-1233zd(E)", false),
        ("R-245fa", false),
        ("R-134a", true),
        ("R-1233zd(E)", true),
    ] {
        let mut machine = Machine::plain(refrigerant, vec![tank(), tank()]);
        if isentropic {
            machine.stages.iter_mut().for_each(|stage| stage.0 = Efficiency::Isentropic);
        }
        machine.superheat = 2.0;
        machine.subcooling = 3.0;
        machine.rule = InterstagePressures::BestCop;
        let best = machine.circuit()?.sensitivities(&machine.conditions())?;
        let names: Vec<String> = best.figures().map(|(name, _)| name.to_owned()).collect();
        for &input in best.inputs() {
            let value = room(&mut machine.clone(), input, 0.0).ok_or("no value")?.0;
            let by = step(input, value);
            let moving = differences(&machine, input, by, &names).ok_or("no difference")?;
            for ((name, value), moving) in best.figures().zip(moving) {
                let slope = best.slope(name, input).ok_or("no slope")?;
                let off = (slope - moving).abs();
                // The COP's own slopes are exact. Other figures move with the optimum, which jumps by up to 1e-4 of a pressure where the
                // number of steps along a polytropic path changes.
                // There are no steps along an isentropic one.
                let jump = if isentropic { 1e-6 } else { 2e-4 } * value.abs() / by;
                let limit = if name == "cop" { 1e-5 * slope.abs() + 1e-8 } else { 1e-2 * slope.abs() + jump };
                assert!(off <= limit, "{name} to {input}: {slope} for {moving}");
            }
        }
    }
    Ok(())
}

/// Where a step of the optimum leaves the saturation line.
#[test]
fn derivatives_at_the_best_pressures_beside_the_triple_point() -> Result<(), Box<dyn std::error::Error>> {
    let tank = Between::Tank { carryover: 0.0, blowthrough: 0.0, expander: None };
    let mut machine = Machine::plain("R-718", vec![tank]);
    machine.rule = InterstagePressures::BestCop;
    machine.evaporating = 273.2;
    let best = machine.circuit()?.sensitivities(&machine.conditions())?;
    machine.evaporating = 273.2 + 0.5;
    let inside = machine.circuit()?.sensitivities(&machine.conditions())?;
    for name in ["cop", "discharge_temperature"] {
        let (at, beside) = (
            best.slope(name, Input::EvaporatingTemperature).ok_or("no slope")?,
            inside.slope(name, Input::EvaporatingTemperature).ok_or("no slope")?,
        );
        // Half a kelvin further in they are alike.
        assert!((at / beside - 1.0).abs() < 0.05, "{name}: {at} beside {beside}");
    }
    Ok(())
}

/// Asked for what it does not have.
#[test]
fn other_names_have_no_slope() -> Result<(), Box<dyn std::error::Error>> {
    let machine = Machine::plain("R-134a", Vec::new());
    let found = machine.circuit()?.sensitivities(&machine.conditions())?;
    assert_eq!(found.slope("beauty", Input::Subcooling), None);
    assert_eq!(found.slope("cop", Input::TankLiquidCarryover(2)), None);
    assert_eq!(found.slope("cop", Input::StageEfficiency(2)), None);
    assert!(found.slope("cop", Input::StageEfficiency(1)).is_some_and(|slope| slope > 0.0));
    Ok(())
}
