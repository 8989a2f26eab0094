//! Random machines of one to five stages with whatever a chiller may have: both laws hold in every part, nothing depends on where enthalpy
//! is zero, the text of an arrangement reads back.
//!
//! Seed as in `properties.rs`.

mod machines;
mod states;

use std::cell::Cell;

use interstage::{Arrangement, Component, Cycle, Error, Reference, Size, Stage};
use machines::{Between, Machine, betweens, handle, machines};
use proptest::prelude::*;
use proptest::test_runner::TestCaseResult;
use states::random::check;

/// Machines that are tried.
const MACHINES: u32 = if cfg!(debug_assertions) { 2500 } else { 20_000 };

/// What is left over of a balance, per power of the machine.
const CLOSURE: f64 = 1e-9;

/// What parting R-513A in a tank would take, per power.
const PARTING: f64 = 1e-4;

/// A solved machine, or the reason why it cannot be; that a solver fails is none.
fn solved(machine: &Machine) -> Result<Option<Cycle>, TestCaseError> {
    match machine.solve() {
        Ok(cycle) => Ok(Some(cycle)),
        Err(Error::Inconsistent { .. } | Error::OutOfRange { .. }) => Ok(None),
        Err(error) => Err(TestCaseError::fail(format!("{error}"))),
    }
}

fn laws_hold(machine: &Machine, cycle: &Cycle) -> TestCaseResult {
    let power = cycle.power();
    prop_assert!(power > 0.0 && cycle.capacity() > 0.0 && cycle.evaporator_mass_flow() > 0.0);
    for balance in cycle.balances() {
        let component = balance.component();
        let mass = balance.mass_residual(cycle);
        prop_assert!(mass.abs() <= CLOSURE * cycle.condenser_mass_flow(), "{component}: {mass} kg/s left");
        let energy = balance.energy_residual(cycle);
        prop_assert!(energy.abs() <= CLOSURE * power, "{component}: {energy} W left of {power}");
    }
    prop_assert!(cycle.mass_closure().abs() <= CLOSURE, "{}", cycle.mass_closure());
    let left = cycle.energy_closure() * cycle.heat_rejected();
    prop_assert!(left.abs() <= CLOSURE * power, "{left} W left");
    let stages: f64 = cycle.stage_power().iter().sum();
    let recovered = cycle.expander_power();
    prop_assert!(recovered >= -CLOSURE * power && (stages - recovered - power).abs() <= CLOSURE * power);
    let ledger = cycle.exergy(&machine.surroundings()?)?;
    for &(component, destroyed) in ledger.destroyed() {
        // At fixed composition a tank parts a blend into its own bubble and dew point, which takes exergy that is not counted.
        let parting = matches!(component, Component::Tank(_) | Component::Exchanger(_));
        let allowed = if machine.refrigerant == "R-513A" && parting { PARTING } else { CLOSURE };
        prop_assert!(destroyed >= -allowed * power, "{component} would destroy {destroyed} W");
    }
    prop_assert!(ledger.closure().abs() <= CLOSURE, "ledger: {:e}", ledger.closure());
    // A refrigerant that cools the motor takes up its heat, and no other does.
    let lost = cycle.motor_input_power() - cycle.shaft_power();
    let hermetic = machine.cooling != interstage::MotorCooling::Room;
    let taken = if hermetic { lost } else { 0.0 };
    prop_assert!((cycle.motor_heat() - taken).abs() <= CLOSURE * power, "{} W", cycle.motor_heat());
    prop_assert!((ledger.power() - power - taken).abs() <= CLOSURE * power);
    let economizers = machine.between.iter().filter(|between| **between != Between::Direct);
    for (between, fraction) in economizers.zip(cycle.flash_fractions()) {
        // Open, an intercooled tank may take liquid out of a wet gas.
        let open = matches!(between, Between::Intercooled { coil: None, .. });
        let lowest = if open { f64::NEG_INFINITY } else { 0.0 };
        prop_assert!((lowest..1.0).contains(fraction), "{between:?}: {fraction}");
    }
    let carnot = cycle.carnot_cop();
    prop_assert!(machine.size != Size::MassFlow(10.0) || cycle.evaporator_mass_flow() == 10.0);
    // Superheat counts as cooling above the evaporating temperature, subcooling below the condensing one.
    if machine.superheat == 0.0 && machine.subcooling == 0.0 {
        prop_assert!(cycle.cop() < carnot, "{} for {carnot}", cycle.cop());
    }
    Ok(())
}

#[test]
fn both_laws_hold_in_every_component() {
    let (found, wet) = (Cell::new(0_u32), Cell::new(0_u32));
    check("random machines", MACHINES, &machines(), |machine| {
        let Some(cycle) = solved(&machine)? else { return Ok(()) };
        found.set(found.get() + 1);
        wet.set(wet.get() + u32::from(cycle.stage_wet().contains(&true)));
        laws_hold(&machine, &cycle)
    });
    println!("{} of {MACHINES} solved, {} with a wet stage", found.get(), wet.get());
    assert!(found.get() > MACHINES * 7 / 10, "{} of {MACHINES} solved", found.get());
    assert!(wet.get() > MACHINES / 10, "{} wet", wet.get());
}

/// Every kind of component is met among them.
#[test]
fn random_machines_have_every_component() {
    let seen = std::cell::RefCell::new(std::collections::BTreeSet::new());
    check("random machines", 300, &machines(), |machine| {
        if let Some(cycle) = solved(&machine)? {
            let names = cycle.balances().into_iter().map(|balance| {
                let name = balance.component().to_string();
                name.chars().filter(|c| !c.is_ascii_digit()).collect::<String>()
            });
            seen.borrow_mut().extend(names);
        }
        Ok(())
    });
    let all = [
        Component::Evaporator,
        Component::SuctionLine,
        Component::SuctionExchanger,
        Component::Stage(1),
        Component::Mixing(2),
        Component::Condenser,
        Component::Metering(2),
        Component::EvaporatorMetering,
        Component::Tank(2),
        Component::Exchanger(2),
        Component::Motor,
    ];
    for component in all {
        let name: String = component.to_string().chars().filter(|c| !c.is_ascii_digit()).collect();
        assert!(seen.borrow().contains(&name), "no {name}");
    }
}

/// Where enthalpy and entropy are zero is a convention.
#[test]
fn nothing_depends_on_the_reference() {
    let machines = machines().prop_filter("a fixed one", |machine| machine.refrigerant != "R-513A");
    check("references", MACHINES / 5, &machines, |machine| {
        let Some(base) = solved(&machine)? else { return Ok(()) };
        for reference in [Reference::LiquidAtMinus40C, Reference::LiquidAtNormalBoilingPoint] {
            let other = machine.solve_in(reference)?;
            let shift = |cycle: &Cycle| cycle.points().first().map_or(0.0, |at| at.state().enthalpy());
            prop_assert!((shift(&base) - shift(&other)).abs() > 1e3);
            let destroyed = |cycle: &Cycle| -> Result<f64, TestCaseError> {
                Ok(cycle.exergy(&machine.surroundings()?)?.destruction())
            };
            for (one, two) in [
                (base.cop(), other.cop()),
                (base.power(), other.power()),
                (base.capacity(), other.capacity()),
                (base.evaporator_mass_flow(), other.evaporator_mass_flow()),
                (base.condenser_mass_flow(), other.condenser_mass_flow()),
                (base.heat_rejected(), other.heat_rejected()),
                (base.discharge_temperature(), other.discharge_temperature()),
                (destroyed(&base)?, destroyed(&other)?),
            ] {
                prop_assert!((one / two - 1.0).abs() < CLOSURE, "{one} and {two}");
            }
            let benefit = base.economizer_benefit() - other.economizer_benefit();
            prop_assert!(base.economizer_benefit().is_nan() || benefit.abs() < CLOSURE, "{benefit}");
        }
        Ok(())
    });
}

/// Text of an arrangement reads back to the same arrangement, and that to the same text and the same circuit.
#[test]
fn the_text_of_an_arrangement_reads_back() {
    check("text", 2000, &machines(), |machine| {
        let circuit = machine.circuit()?;
        let arrangement = circuit.arrangement();
        let text = arrangement.to_string();
        let back: Arrangement = text.parse()?;
        prop_assert_eq!(&back, &arrangement, "{}", text);
        prop_assert_eq!(back.to_string(), text);
        prop_assert_eq!(back.interstages(), circuit.interstages());
        let made = back.circuit(handle("R-134a")?, Stage::isentropic(0.8)?)?;
        prop_assert_eq!(made.metering(), circuit.metering());
        prop_assert_eq!(made.suction_exchanger(), circuit.suction_exchanger());
        prop_assert_eq!(made.interstages(), circuit.interstages());
        Ok(())
    });
}

/// Spaces more or less do not matter; nor does the order of what is named.
#[test]
fn the_text_of_an_arrangement_may_be_written_loosely() {
    check("text", 500, &prop::collection::vec(betweens(), 1..4), |between| {
        let arrangement = Machine::plain("R-134a", between).circuit()?.arrangement();
        let text = arrangement.to_string();
        let loose = text.replace(", ", " ,  ").replace(": ", " :  ").replace(" (", "(");
        prop_assert_eq!(loose.parse::<Arrangement>()?, arrangement.clone(), "{}", loose);
        let Some((stages, items)) = text.split_once(": ") else { return Ok(()) };
        // Between brackets there are no items.
        let mut parts: Vec<&str> = items.split("), ").collect();
        if parts.len() == 2 && parts.iter().all(|part| part.matches('(').count() == 1) {
            parts.reverse();
            let turned = format!("{stages}: {}), {}", parts[0].trim_end_matches(')'), parts[1]);
            let turned = if turned.ends_with(')') { turned } else { format!("{turned})") };
            prop_assert_eq!(turned.parse::<Arrangement>()?, arrangement, "{}", turned);
        }
        Ok(())
    });
}

/// Where injected liquid is taken does not matter to the cycle, only to what the exchanger and its metering device destroy.
#[test]
fn injection_before_and_after_the_exchanger_is_the_same_cycle() {
    let split = Cell::new(0_u32);
    let machines = (machines(), 0.2..5.0_f64, 0.0..3.0_f64).prop_map(|(mut machine, approach, superheat)| {
        if let Some(first) = machine.between.first_mut() {
            *first = Between::Closed { approach, superheat, after: false, expander: None };
        }
        machine
    });
    check("injection", MACHINES / 5, &machines, |machine| {
        if machine.between.is_empty() {
            return Ok(());
        }
        let mut other = machine.clone();
        if let Some(Between::Closed { after, .. }) = other.between.first_mut() {
            *after = true;
        }
        let (Some(before), Some(after)) = (solved(&machine)?, solved(&other)?) else { return Ok(()) };
        for (one, two) in [
            (before.cop(), after.cop()),
            (before.condenser_mass_flow(), after.condenser_mass_flow()),
            (before.discharge_temperature(), after.discharge_temperature()),
        ] {
            prop_assert!((one / two - 1.0).abs() < CLOSURE, "{one} and {two}");
        }
        let waters = machine.surroundings()?;
        let (one, two) = (before.exergy(&waters)?, after.exergy(&waters)?);
        let both = |component| matches!(component, Component::Exchanger(2) | Component::Metering(2));
        let difference = one.destroyed_in(both) - two.destroyed_in(both);
        prop_assert!(difference.abs() < CLOSURE * before.power(), "{difference} W");
        let of = |component| component == Component::Exchanger(2);
        let moved = (one.destroyed_in(of) - two.destroyed_in(of)).abs();
        split.set(split.get() + u32::from(moved > 1e-5 * before.power()));
        Ok(())
    });
    assert!(split.get() > MACHINES / 15, "{} differ in the exchanger", split.get());
}
