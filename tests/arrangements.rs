//! What every economizer arrangement must do, limits whose answer is known, the flow ratios of each written out, and the figures that were
//! computed for them.
//!
//! Figures marked "computed with CoolProp 8.0.0" come from another implementation of the same equations, printed with few digits; half a unit
//! of the last one is allowed. They are not published.

mod common;
mod machines;
mod states;

use common::medium::Medium;
use common::{Check, Fallible, Tally};
use interstage::{
    Component, Cycle, Efficiency, Error, InterstagePressures, Location, MotorCooling, Size, State,
    Surroundings, polytropic_efficiency,
};
use machines::{Between, Machine, REFRIGERANTS, betweens, handle, machines};
use proptest::prelude::*;
use states::random::check;

const CONSISTENCY: f64 = 1e-9;

const TANK: Between = Between::Tank { carryover: 0.0, blowthrough: 0.0, expander: None };
const INTERCOOLED: Between =
    Between::Intercooled { carryover: 0.0, blowthrough: 0.0, coil: None, expander: None };

fn closed(approach: f64) -> Between {
    Between::Closed { approach, superheat: 0.0, after: false, expander: None }
}

fn coil(approach: f64) -> Between {
    Between::Intercooled { carryover: 0.0, blowthrough: 0.0, coil: Some(approach), expander: None }
}

/// Temperatures in degC and one efficiency for all stages.
fn at(mut machine: Machine, evaporating: f64, condensing: f64, efficiency: f64) -> Machine {
    machine.evaporating = evaporating + common::ZERO_CELSIUS;
    machine.condensing = condensing + common::ZERO_CELSIUS;
    machine.stages.iter_mut().for_each(|(_, own)| *own = efficiency);
    machine
}

fn state(cycle: &Cycle, location: Location) -> Fallible<State> {
    Ok(*cycle.point(location).ok_or_else(|| format!("no {location}"))?.state())
}

fn flow(cycle: &Cycle, location: Location) -> Fallible<f64> {
    Ok(cycle.point(location).ok_or_else(|| format!("no {location}"))?.mass_flow())
}

/// At a constant polytropic efficiency the path does not know of stages, wet or dry.
#[test]
fn cop_without_economizer_does_not_depend_on_the_number_of_stages() -> Fallible<()> {
    for refrigerant in REFRIGERANTS {
        for superheat in [0.0, 4.0] {
            for kind in [Efficiency::Polytropic, Efficiency::PolytropicThreePoint] {
                let cop = |stages: usize| -> Fallible<f64> {
                    let mut machine = Machine::plain(refrigerant, vec![Between::Direct; stages - 1]);
                    machine.superheat = superheat;
                    machine.stages.iter_mut().for_each(|stage| stage.0 = kind);
                    Ok(machine.solve()?.cop())
                };
                let single = cop(1)?;
                for stages in 2..=5 {
                    let off = (cop(stages)? / single - 1.0).abs();
                    // Where the path leaves the dew line the integrand has a bend, which steps of either method meet elsewhere.
                    let allowed = match (superheat, kind) {
                        (0.0, Efficiency::PolytropicThreePoint) => 4e-5,
                        (0.0, _) => 3e-6,
                        (_, Efficiency::PolytropicThreePoint) => 4e-6,
                        _ => 2e-8,
                    };
                    assert!(
                        off < allowed,
                        "{refrigerant}, {stages} stages, {kind:?}, {superheat} K: {off:e}"
                    );
                }
            }
        }
    }
    Ok(())
}

/// Common practice, no published source: every kind of economizer saves power, and more of them save more.
#[test]
fn more_economizers_save_more() -> Fallible<()> {
    for refrigerant in REFRIGERANTS {
        for (evaporating, condensing) in [(5.0, 37.0), (-6.0, 40.0), (6.0, 25.0)] {
            for kind in [TANK, closed(1.0), INTERCOOLED, coil(1.0)] {
                let mut before = 0.0;
                for count in 1..=4 {
                    // Gas that is desuperheated again and again is no longer hot enough to pay for it.
                    if count > 2 && matches!(kind, Between::Intercooled { .. }) {
                        continue;
                    }
                    let machine =
                        at(Machine::plain(refrigerant, vec![kind; count]), evaporating, condensing, 0.8);
                    let benefit = machine.solve()?.economizer_benefit();
                    assert!(
                        benefit > before,
                        "{refrigerant} {evaporating}/{condensing}, {count} of {kind:?}: {benefit} after {before}"
                    );
                    before = benefit;
                }
            }
        }
    }
    Ok(())
}

/// An exchanger that cools the liquid down to the saturation temperature does what a tank does, but for the liquid's higher pressure; and an
/// intercooled tank with a perfect coil what an open one does. On the way there the benefit falls with the approach.
#[test]
fn closed_economizers_tend_to_open_ones() -> Fallible<()> {
    for refrigerant in REFRIGERANTS {
        let benefit = |kind| -> Fallible<f64> {
            Ok(Machine::plain(refrigerant, vec![kind]).solve()?.economizer_benefit())
        };
        type Closed = fn(f64) -> Between;
        for (open, closed) in [(TANK, closed as Closed), (INTERCOOLED, coil as Closed)] {
            let (open, perfect) = (benefit(open)?, benefit(closed(0.0))?);
            assert!((open - perfect).abs() < 1.5e-3, "{refrigerant}: {perfect} for {open}");
            let mut before = perfect;
            for approach in [1e-3, 0.1, 1.0, 3.0, 6.0, 12.0] {
                let now = benefit(closed(approach))?;
                assert!(now < before, "{refrigerant} at {approach} K: {now} after {before}");
                before = now;
            }
            // Straight into the limit.
            let (near, nearer) = (perfect - benefit(closed(0.1))?, perfect - benefit(closed(0.01))?);
            assert!((9.9..10.1).contains(&(near / nearer)), "{refrigerant}: {near} and {nearer}");
        }
    }
    Ok(())
}

/// An economizer at the pressure of the evaporator or of the condenser saves nothing, and next to it in proportion to the distance.
#[test]
fn the_benefit_vanishes_at_either_end() -> Fallible<()> {
    for refrigerant in REFRIGERANTS {
        for kind in [TANK, closed(0.0), INTERCOOLED, coil(0.0)] {
            let base = Machine::plain(refrigerant, vec![kind]).solve()?;
            let (low, high) = (base.evaporating_pressure(), base.condensing_pressure());
            let benefit = |exponent: f64| -> Fallible<f64> {
                let mut machine = Machine::plain(refrigerant, vec![kind]);
                machine.rule = InterstagePressures::Given(vec![low * (high / low).powf(exponent)]);
                Ok(machine.solve()?.economizer_benefit())
            };
            for towards in [|distance: f64| distance, |distance: f64| 1.0 - distance] {
                let (far, near) = (benefit(towards(1e-2))?, benefit(towards(1e-3))?);
                assert!(near.abs() < 1e-3 && far.abs() < 1e-2, "{refrigerant} {kind:?}: {near}, {far}");
                assert!((8.0..12.0).contains(&(far / near)), "{refrigerant} {kind:?}: {far} over {near}");
            }
        }
    }
    Ok(())
}

/// Flow ratios of the arrangements, each by the formula of its own balance.
#[test]
fn flow_ratios_are_those_of_the_balances() -> Fallible<()> {
    for refrigerant in REFRIGERANTS {
        let solve = |kind| Machine::plain(refrigerant, vec![kind]).solve();
        let check = |cycle: &Cycle, expected: f64, what: &str| -> Fallible<()> {
            let flows = cycle.stage_mass_flow();
            let found = flows[1] / cycle.evaporator_mass_flow();
            assert!((found / expected - 1.0).abs() < 1e-11, "{refrigerant}, {what}: {found} for {expected}");
            Ok(())
        };
        let h = |cycle: &Cycle, location| -> Fallible<f64> { Ok(state(cycle, location)?.enthalpy()) };
        let (hot, liquid) = (Location::StageOutlet(1), Location::CondenserOutlet);

        let cycle = solve(TANK)?;
        let (vapor, left) = (h(&cycle, Location::TankVapor(2))?, h(&cycle, Location::TankLiquid(2))?);
        let y = (h(&cycle, liquid)? - left) / (vapor - left);
        check(&cycle, 1.0 / (1.0 - y), "tank")?;

        let cycle = solve(INTERCOOLED)?;
        let (vapor, left) = (h(&cycle, Location::TankVapor(2))?, h(&cycle, Location::TankLiquid(2))?);
        check(&cycle, (h(&cycle, hot)? - left) / (vapor - h(&cycle, liquid)?), "intercooled tank")?;

        let cycle = solve(coil(3.0))?;
        let (vapor, cooled) = (h(&cycle, Location::TankVapor(2))?, h(&cycle, Location::CooledLiquid(2))?);
        check(&cycle, (h(&cycle, hot)? - cooled) / (vapor - h(&cycle, liquid)?), "coil")?;

        let cycle = solve(closed(3.0))?;
        let (out, cooled) = (h(&cycle, Location::InjectionOutlet(2))?, h(&cycle, Location::CooledLiquid(2))?);
        let z = (h(&cycle, liquid)? - cooled) / (out - h(&cycle, liquid)?);
        check(&cycle, 1.0 + z, "closed")?;

        let mut machine = Machine::plain(refrigerant, vec![Between::Injection { superheat: 0.0 }]);
        // So inefficient that the discharge of every one of them is superheated.
        machine.stages = vec![(Efficiency::Isentropic, 0.5); 2];
        let cycle = machine.solve()?;
        let inlet = h(&cycle, Location::StageInlet(2))?;
        check(&cycle, (h(&cycle, hot)? - h(&cycle, liquid)?) / (inlet - h(&cycle, liquid)?), "injection")?;
        let dry = state(&cycle, Location::StageInlet(2))?;
        assert_eq!(dry.quality(), Some(1.0), "{refrigerant}");
    }
    Ok(())
}

/// Hot gas, a motor cooled by refrigerant, and heat from liquid to suction, each by the formula of its own balance.
#[test]
fn parasitic_streams_are_those_of_the_balances() -> Fallible<()> {
    for refrigerant in REFRIGERANTS {
        let h = |cycle: &Cycle, location| -> Fallible<f64> { Ok(state(cycle, location)?.enthalpy()) };
        let same = |found: f64, expected: f64, what: &str| {
            assert!((found / expected - 1.0).abs() < 1e-10, "{refrigerant}, {what}: {found} for {expected}");
        };

        let mut machine = Machine::plain(refrigerant, vec![TANK]);
        machine.bypass = 0.2;
        let cycle = machine.solve()?;
        let (suction, hot) = (flow(&cycle, Location::StageInlet(1))?, flow(&cycle, Location::HotGasBypass)?);
        same(hot / suction, 0.2, "bypass");
        let cooling = suction * h(&cycle, Location::EvaporatorOutlet)?
            - (suction - hot) * h(&cycle, Location::EvaporatorInlet)?
            - hot * h(&cycle, Location::StageOutlet(2))?;
        same(cycle.capacity(), cooling, "cooling beside hot gas");

        let mut machine = Machine::plain(refrigerant, vec![TANK]);
        machine.drive = [0.98, 0.95, 0.97];
        machine.cooling = MotorCooling::RefrigerantToEvaporator;
        let cycle = machine.solve()?;
        let heat = cycle.motor_input_power() * 0.05;
        same(cycle.motor_heat(), heat, "heat of the motor");
        same(cycle.shaft_power(), cycle.power() / 0.98, "shaft");
        same(cycle.drive_input_power(), cycle.power() / (0.98 * 0.95 * 0.97), "drive");
        let taken_up = h(&cycle, Location::EvaporatorOutlet)? - h(&cycle, Location::MotorLiquid)?;
        let joined = flow(&cycle, Location::StageInlet(1))? - flow(&cycle, Location::EvaporatorInlet)?;
        same(joined, heat / taken_up, "refrigerant of the motor");
        same(cycle.heat_rejected(), cycle.capacity() + cycle.power() + heat, "heat rejected");
        // To the tank's stage it adds only there.
        machine.cooling = MotorCooling::RefrigerantToStage(2);
        let cycle = machine.solve()?;
        same(flow(&cycle, Location::StageInlet(1))?, cycle.evaporator_mass_flow(), "first stage");
        same(cycle.motor_heat(), cycle.motor_input_power() * 0.05, "heat of the motor at a stage");

        let mut machine = Machine::plain(refrigerant, Vec::new());
        machine.exchanger = Some(0.4);
        let cycle = machine.solve()?;
        let (cold, warm) =
            (state(&cycle, Location::EvaporatorOutlet)?, state(&cycle, Location::SuctionExchangerVapor)?);
        let liquid = state(&cycle, Location::CondenserOutlet)?;
        let rise = warm.temperature() - cold.temperature();
        same(rise / (liquid.temperature() - cold.temperature()), 0.4, "effectiveness");
        let to_evaporator = liquid.enthalpy() - (warm.enthalpy() - cold.enthalpy());
        same(h(&cycle, Location::EvaporatorInlet)?, to_evaporator, "cooled liquid");

        let mut machine = Machine::plain(refrigerant, Vec::new());
        machine.expander = Some(0.5);
        let cycle = machine.solve()?;
        let ideal = handle(refrigerant)?.state_ps(cycle.evaporating_pressure(), liquid.entropy())?;
        let out = liquid.enthalpy() - 0.5 * (liquid.enthalpy() - ideal.enthalpy());
        same(h(&cycle, Location::EvaporatorInlet)?, out, "expander");
        let recovered = cycle.evaporator_mass_flow() * (liquid.enthalpy() - out);
        same(cycle.expander_power(), recovered, "power of the expander");
        same(cycle.power(), cycle.stage_power()[0] - recovered, "credited");
    }
    Ok(())
}

/// Counts figures that are printed with few digits.
struct Printed(Tally);

impl Printed {
    /// Printed in percent, or whatever unit the value has, with so many decimals.
    fn check(&mut self, id: &str, property: &str, (expected, decimals): (f64, i32), found: f64) {
        let tolerance = 0.5 * 0.1_f64.powi(decimals) * (1.0 + 1e-9);
        let source = "computed with CoolProp 8.0.0";
        self.0.check(&Check { id, property, source, expected, tolerance }, Ok(found));
    }
}

/// R-1233zd(E) with one tank at 5/37 degC and polytropic efficiency 0.80, and what takes from its 5.84 %: computed with CoolProp 8.0.0.
#[test]
fn imperfections_take_what_was_computed() -> Fallible<()> {
    let mut printed = Printed(Tally::default());
    let machine = |between: Vec<Between>| Machine::plain("R-1233zd(E)", between);
    let percent = |machine: &Machine| -> Fallible<f64> { Ok(100.0 * machine.solve()?.economizer_benefit()) };
    let parting =
        |carryover, blowthrough| machine(vec![Between::Tank { carryover, blowthrough, expander: None }]);
    let with_losses = |[interstage, port]: [f64; 2]| {
        let mut lossy = machine(vec![TANK]);
        lossy.losses = [0.0, interstage, port, 0.0];
        lossy
    };
    for (what, expected, machine) in [
        ("ideal tank", 5.84, machine(vec![TANK])),
        ("carryover 5 %", 5.79, parting(0.05, 0.0)),
        ("blowthrough 1 %", 5.34, parting(0.0, 0.01)),
        ("blowthrough 5 %", 3.23, parting(0.0, 0.05)),
        ("port loss 5 %", 5.44, with_losses([0.0, 0.05])),
        ("interstage loss 2 %", 5.93, with_losses([0.02, 0.0])),
        ("intercooled tank", 5.74, machine(vec![INTERCOOLED])),
        ("closed, 3 K", 4.91, machine(vec![closed(3.0)])),
        ("closed, 5 K", 4.27, machine(vec![closed(5.0)])),
        ("closed, 0 K", 5.83, machine(vec![closed(0.0)])),
        ("coil, 3 K", 4.81, machine(vec![coil(3.0)])),
        ("three stages, tank at stage 3", 5.43, machine(vec![Between::Direct, TANK])),
        ("three stages, tank at stage 2", 4.97, machine(vec![TANK, Between::Direct])),
        ("two closed, 3 K", 6.37, machine(vec![closed(3.0); 2])),
    ] {
        printed.check(what, "economizer benefit, %", (expected, 2), percent(&machine)?);
    }
    // An interstage loss costs as much with a tank as without; against a base that does not have it the benefit would be 4.24 %.
    let power = |machine: &Machine| -> Fallible<f64> { Ok(machine.solve()?.power()) };
    let without = machine(vec![Between::Direct]);
    let mut lossy = without.clone();
    lossy.losses = [0.0, 0.02, 0.0, 0.0];
    let cost = |with: f64, without: f64| 100.0 * (with / without - 1.0);
    let none = power(&without)?;
    printed.check("interstage loss 2 %", "power without tank, %", (1.8, 1), cost(power(&lossy)?, none));
    let tank = power(&with_losses([0.02, 0.0]))?;
    // With a tank "as much" is said; what is printed beside it, 4.24 and 5.84 %, makes 1.70 %, give or take 0.01.
    let with_tank = cost(tank, power(&machine(vec![TANK]))?);
    assert!((with_tank - 100.0 * (0.9576 / 0.9416 - 1.0)).abs() < 0.011, "{with_tank}");
    printed.check(
        "interstage loss 2 %",
        "against a loss-free base, %",
        (4.24, 2),
        100.0 * (1.0 - tank / none),
    );
    printed.0.finish("imperfections", 14 + 2);
    Ok(())
}

/// Where discharge is hot an intercooled tank pays: plain tank and intercooled tank at polytropic efficiency 0.78. And what expanders save.
/// Computed with CoolProp 8.0.0.
#[test]
fn kinds_of_tanks_and_expanders_save_what_was_computed() -> Fallible<()> {
    let mut printed = Printed(Tally::default());
    for (refrigerant, evaporating, condensing, intercooled, plain) in [
        ("R-717", -10.0, 35.0, 9.5, 5.3),
        ("R-22", -12.0, 40.0, 11.2, 10.6),
        ("R-134a", -10.0, 42.0, 12.9, 13.1),
        ("R-123", 5.0, 37.0, 5.5, 5.6),
    ] {
        for (kind, expected) in [(INTERCOOLED, intercooled), (TANK, plain)] {
            let machine = at(Machine::plain(refrigerant, vec![kind]), evaporating, condensing, 0.78);
            let benefit = 100.0 * machine.solve()?.economizer_benefit();
            printed.check(refrigerant, "economizer benefit, %", (expected, 1), benefit);
        }
    }
    for (kind, expected) in [(coil(3.0), 8.95), (INTERCOOLED, 9.50)] {
        let machine = at(Machine::plain("R-717", vec![kind]), -10.0, 35.0, 0.78);
        printed.check("R-717", "benefit, %", (expected, 2), 100.0 * machine.solve()?.economizer_benefit());
    }
    for (refrigerant, expected) in [("R-1233zd(E)", 4.6), ("R-134a", 6.5)] {
        let plain = Machine::plain(refrigerant, Vec::new());
        let mut expanding = plain.clone();
        expanding.expander = Some(0.5);
        let saved = 100.0 * (1.0 - expanding.solve()?.power() / plain.solve()?.power());
        printed.check(refrigerant, "saved by an expander, %", (expected, 1), saved);
    }
    printed.0.finish("kinds of tanks", 12);
    Ok(())
}

/// Shares of compression power with R-1233zd(E) at 5/37 degC, waters 12 to 7 and 30 to 35 degC, dead state 30 degC, with no, one and two
/// tanks. Computed with CoolProp 8.0.0.
#[test]
fn the_power_goes_where_was_computed() -> Fallible<()> {
    let mut printed = Printed(Tally::default());
    let kelvin = |celsius: f64| celsius + common::ZERO_CELSIUS;
    let waters = Surroundings::new((kelvin(12.0), kelvin(7.0)), (kelvin(30.0), kelvin(35.0)), kelvin(30.0))?;
    for (tanks, shares) in [
        (0, [20.4, 8.7, 10.4, 10.5, 44.2, 5.8]),
        (1, [20.4, 4.5, 10.9, 11.2, 46.9, 6.1]),
        (2, [20.4, 3.1, 11.1, 11.4, 47.8, 6.2]),
    ] {
        let cycle = Machine::plain("R-1233zd(E)", vec![TANK; tanks]).solve()?;
        let ledger = cycle.exergy(&waters)?;
        let share = |exergy: f64| 100.0 * exergy / cycle.power();
        let of = |pick: fn(Component) -> bool| share(ledger.destroyed_in(pick));
        let found = [
            of(|component| matches!(component, Component::Stage(_))),
            of(|component| matches!(component, Component::Metering(_) | Component::EvaporatorMetering)),
            of(|component| component == Component::Condenser),
            of(|component| component == Component::Evaporator),
            share(ledger.cooling()),
            share(ledger.rejected()),
        ];
        let names = ["compression", "expansion", "condenser", "evaporator", "cooling", "rejected"];
        for ((name, expected), found) in names.iter().zip(shares).zip(found) {
            printed.check(&format!("{tanks} tanks"), name, (expected, 1), found);
        }
        let mixing = of(|component| matches!(component, Component::Mixing(_) | Component::Tank(_)));
        assert!((0.0..=0.02).contains(&(mixing + 1e-12)), "{tanks} tanks: mixing {mixing} %");
        assert!((ledger.efficiency() * 100.0 - found[4]).abs() < 1e-9);
    }
    printed.0.finish("shares of the power", 18);
    Ok(())
}

/// What liquid in the suction and an unseen pressure loss do to an apparent efficiency. Computed with CoolProp 8.0.0.
#[test]
fn disturbances_read_as_was_computed() -> Fallible<()> {
    let mut printed = Printed(Tally::default());
    let apparent = |cycle: &Cycle, refrigerant| -> Fallible<f64> {
        // What somebody sees who takes the evaporator's dry vapor for the inlet.
        let fluid = handle(refrigerant)?;
        let inlet = fluid.saturation_at_pressure(cycle.evaporating_pressure())?.vapor();
        let outlet = state(cycle, Location::StageOutlet(1))?;
        Ok(polytropic_efficiency(&fluid, &inlet, &outlet)?)
    };
    let machine = Machine::plain("R-1233zd(E)", vec![TANK]);
    let mut wet = machine.clone();
    wet.carryover = 0.01;
    let (dry, wet) = (machine.solve()?, wet.solve()?);
    printed.check("1 % liquid", "COP, %", (-0.11, 2), 100.0 * (wet.cop() / dry.cop() - 1.0));
    let cooler = wet.discharge_temperature() - dry.discharge_temperature();
    printed.check("1 % liquid", "discharge, K", (-2.4, 1), cooler);
    // The apparent efficiency of 0.865 is 0.80 and 2.4 K at 0.027 a kelvin, which is what its digits allow for; solved for it is 0.866.
    let (mut low, mut high) = (0.8, 0.9);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        let mut guess = machine.clone();
        guess.stages.iter_mut().for_each(|stage| stage.1 = middle);
        let hot = guess.solve()?.discharge_temperature() > wet.discharge_temperature();
        if hot { low = middle } else { high = middle }
    }
    assert!((low - 0.865).abs() < 0.05 * 0.027 + 2.4 * 0.0005, "{low}");
    for (refrigerant, expected) in [("R-123", 0.784), ("R-1233zd(E)", 0.789), ("R-134a", 0.798)] {
        let mut lossy = Machine::plain(refrigerant, Vec::new());
        lossy.losses[0] = 1e3 / lossy.solve()?.evaporating_pressure();
        printed.check(
            "1 kPa of suction loss",
            refrigerant,
            (expected, 3),
            apparent(&lossy.solve()?, refrigerant)?,
        );
    }
    printed.0.finish("disturbances", 5);
    Ok(())
}

/// The pressure of one tank: best at an exponent of 0.53 to 0.55, flat there, and met by an equal step of saturation temperature within 0.01 % of
/// the COP. The geometric mean loses 0.02 to 0.06 % at 5/37 degC and up to 0.16 % at -6/40 degC. An exponent off by 0.2 costs 0.7 to 1.3 % at 5/37 degC
/// (R-1233zd(E), off from the mean) and 1.4 to 2.2 % at -6/40 degC (off from the optimum, without R-1234ze(E)). Computed with CoolProp 8.0.0; that it lies a little above the mean and is flat is in W. F. Stoecker, Industrial Refrigeration
/// Handbook (1998).
#[test]
fn the_best_pressure_is_flat() -> Fallible<()> {
    for refrigerant in ["R-123", "R-1233zd(E)", "R-134a", "R-1234ze(E)"] {
        for (evaporating, condensing, mean_loses) in
            [(5.0, 37.0, 0.000_15..0.000_65), (-6.0, 40.0, 0.000_15..0.001_65)]
        {
            let machine = at(Machine::plain(refrigerant, vec![TANK]), evaporating, condensing, 0.8);
            let cop = |rule: InterstagePressures| -> Fallible<f64> {
                let mut machine = machine.clone();
                machine.rule = rule;
                Ok(machine.solve()?.cop())
            };
            let optimum = machine.circuit()?.pressure_optimum(&machine.conditions())?;
            let best = optimum.cop();
            let (exponent, pressure) = (optimum.exponents()[0], optimum.pressures()[0]);
            let place = format!("{refrigerant} {evaporating}/{condensing}");
            assert!((0.525..0.555).contains(&exponent), "{place}: {exponent}");
            let base = machine.solve()?;
            let (low, high) = (base.evaporating_pressure(), base.condensing_pressure());
            let at = |exponent: f64| cop(InterstagePressures::Given(vec![low * (high / low).powf(exponent)]));
            assert!((at(exponent)? / best - 1.0).abs() < 1e-12 && (low..high).contains(&pressure));
            assert!((cop(InterstagePressures::BestCop)? / best - 1.0).abs() < 1e-12, "{place}");
            let lost = |cop: f64| 1.0 - cop / best;
            let step = lost(cop(InterstagePressures::EqualTemperatureStep)?);
            assert!((-1e-12..0.000_15).contains(&step), "{place}: equal temperature step loses {step}");
            let mean = lost(cop(InterstagePressures::EqualRatio)?);
            assert!(mean_loses.contains(&mean), "{place}: the mean loses {mean}");
            for off in [-0.2, 0.2] {
                let (from_mean, from_best) = (lost(at(0.5 + off)?), lost(at(exponent + off)?));
                let costs = match (refrigerant, evaporating) {
                    ("R-1233zd(E)", 5.0) => (from_mean, 0.006_5..0.013_5),
                    ("R-1234ze(E)", _) | (_, 5.0) => (from_best, 0.008..0.025),
                    _ => (from_best, 0.013_5..0.022_5),
                };
                assert!(costs.1.contains(&costs.0), "{place}: off by {off} costs {}", costs.0);
            }
            let tenth = lost(at(exponent - 0.1)?).max(lost(at(exponent + 0.1)?));
            let told = optimum.cop_lost_off_by_a_tenth()[0];
            assert!((told - tenth).abs() < 1e-10, "{place}: {told} for {tenth}");
        }
    }
    Ok(())
}

/// Economizers at every port.
fn economized() -> impl Strategy<Value = Machine> {
    let kinds = prop::collection::vec(
        betweens().prop_filter("an economizer", |between| {
            !matches!(between, Between::Direct | Between::Injection { .. })
        }),
        1..4,
    );
    (machines(), kinds).prop_map(|(mut machine, between)| {
        let (kind, efficiency) = machine.stages[0];
        machine.stages = vec![(kind, efficiency); between.len() + 1];
        machine.between = between;
        if let MotorCooling::RefrigerantToStage(_) = machine.cooling {
            machine.cooling = MotorCooling::RefrigerantToStage(2);
        }
        machine
    })
}

#[test]
fn no_rule_beats_the_best_cop() {
    let solved = std::cell::Cell::new(0_u32);
    check("best COP", 150, &economized(), |machine| {
        let cop = |rule| {
            let mut machine = machine.clone();
            machine.rule = rule;
            machine.solve().map(|cycle| cycle.cop())
        };
        let others: Vec<f64> = [
            InterstagePressures::EqualRatio,
            InterstagePressures::EqualTemperatureStep,
            InterstagePressures::EqualHead,
        ]
        .into_iter()
        .filter_map(|rule| cop(rule).ok())
        .collect();
        if others.len() < 3 {
            return Ok(());
        }
        let best = cop(InterstagePressures::BestCop)?;
        solved.set(solved.get() + 1);
        for other in others {
            prop_assert!(best >= other * (1.0 - CONSISTENCY), "{best} below {other}");
        }
        Ok(())
    });
    assert!(solved.get() > 100, "{}", solved.get());
}

/// Small lift and wide approach: at a third and two thirds of the lift the exchanger cannot work, elsewhere it can.
#[test]
fn the_best_cop_is_found_from_a_start_that_cannot_work() -> Fallible<()> {
    let mut machine = Machine::plain("R-134a", vec![closed(5.0), TANK]);
    (machine.evaporating, machine.condensing) = (280.0, 290.0);
    let refrigerant = handle("R-134a")?;
    let cop = |rule| -> Result<f64, Error> {
        let mut machine = machine.clone();
        machine.rule = rule;
        machine.solve().map(|cycle| cycle.cop())
    };
    assert!(cop(InterstagePressures::EqualTemperatureStep).is_err());
    let best = cop(InterstagePressures::BestCop)?;
    for temperatures in [[280.5, 286.0], [282.0, 288.5], [281.0, 289.0]] {
        let mut pressures = Vec::new();
        for temperature in temperatures {
            pressures.push(refrigerant.saturation_at_temperature(temperature)?.pressure());
        }
        let given = cop(InterstagePressures::Given(pressures))?;
        assert!(best >= given * (1.0 - CONSISTENCY), "{best} below {given} at {temperatures:?}");
    }
    Ok(())
}

#[test]
fn equal_heads_are_equal() {
    let solved = std::cell::Cell::new(0_u32);
    check("equal heads", 500, &machines(), |mut machine| {
        machine.rule = InterstagePressures::EqualHead;
        let cycle = match machine.solve() {
            Ok(cycle) => cycle,
            Err(Error::Inconsistent { .. } | Error::OutOfRange { .. }) => return Ok(()),
            Err(error) => return Err(TestCaseError::fail(error.to_string())),
        };
        solved.set(solved.get() + 1);
        let heads = cycle.stage_head();
        for head in heads {
            prop_assert!((head / heads[0] - 1.0).abs() < CONSISTENCY, "{heads:?}");
        }
        let pressures = [&[cycle.evaporating_pressure()], cycle.interstage_pressures()].concat();
        prop_assert!(pressures.is_sorted() && pressures.last() < Some(&cycle.condensing_pressure()));
        prop_assert!(
            cycle.head_split().iter().all(|share| (share * heads.len() as f64 - 1.0).abs() < CONSISTENCY)
        );
        Ok(())
    });
    assert!(solved.get() > 350, "{}", solved.get());
}

/// In dry vapor the three-point method is within 3e-6 of the path integral at the conditions of chillers, within 1.2e-5 at those of ice
/// making; the integral's few steps are within 2e-8 of fine ones.
#[test]
fn three_points_follow_the_path() -> Fallible<()> {
    for refrigerant in REFRIGERANTS {
        let medium = handle(refrigerant)?;
        let medium = Medium::plain(&medium);
        for (evaporating, condensing) in [(5.0, 37.0), (6.0, 25.0), (-6.0, 40.0)] {
            for efficiency in [0.6, 0.8, 0.95] {
                let work = |kind| -> Fallible<(f64, Cycle)> {
                    let mut machine =
                        at(Machine::plain(refrigerant, Vec::new()), evaporating, condensing, efficiency);
                    machine.superheat = 8.0;
                    machine.stages[0].0 = kind;
                    let cycle = machine.solve()?;
                    Ok((cycle.stage_work()[0], cycle))
                };
                let (path, cycle) = work(Efficiency::Polytropic)?;
                if cycle.stage_wet()[0] {
                    continue;
                }
                let (three, _) = work(Efficiency::PolytropicThreePoint)?;
                let place = format!("{refrigerant} {evaporating}/{condensing} {efficiency}");
                let allowed = if evaporating < 0.0 { 1.2e-5 } else { 3e-6 };
                assert!((three / path - 1.0).abs() * efficiency < allowed, "{place}: {three} for {path}");
                let inlet = medium.see(&state(&cycle, Location::StageInlet(1))?)?;
                let fine = medium.polytropic(&inlet, cycle.condensing_pressure(), efficiency)?;
                let fine = fine.enthalpy - inlet.enthalpy;
                assert!((path / fine - 1.0).abs() < 2e-8, "{place}: {path} for {fine}");
            }
        }
    }
    Ok(())
}

/// Nothing but the size depends on the size.
#[test]
fn size_scales_flows_and_nothing_else() {
    check("size", 300, &machines(), |machine| {
        let Ok(one) = machine.solve() else { return Ok(()) };
        let mut other = machine.clone();
        other.size = Size::MassFlow(3.0 * one.evaporator_mass_flow());
        let three = other.solve()?;
        for (a, b) in [
            (one.cop(), three.cop()),
            (3.0 * one.power(), three.power()),
            (3.0 * one.capacity(), three.capacity()),
            (3.0 * one.condenser_mass_flow(), three.condenser_mass_flow()),
            (one.discharge_temperature(), three.discharge_temperature()),
        ] {
            prop_assert!((a / b - 1.0).abs() < 1e-12, "{a} and {b}");
        }
        Ok(())
    });
}
