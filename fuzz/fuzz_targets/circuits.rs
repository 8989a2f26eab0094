//! Circuits of any stages and tanks at any conditions: an error about the input, or a cycle that obeys both laws.
#![no_main]

mod common;

use arbitrary::Arbitrary;
use common::{Fluid, Known, Nudge, Number, Of, error_holds, state_holds, try_random_state};
use interstage::{
    Circuit, Conditions, Cycle, Efficiency, Error, FlashTank, Input, Interstage, InterstagePressures,
    Location, Orifice, OrificeModel, Refrigerant, Sensitivities, Size, Stage, State, isentropic_efficiency,
    polytropic_efficiency,
};
use libfuzzer_sys::fuzz_target;

#[derive(Arbitrary, Debug)]
struct Case {
    fluid: Fluid,
    question: Question,
}

#[derive(Arbitrary, Debug)]
enum Question {
    Machine {
        stages: Vec<(bool, Number)>,
        tanks: u8,
        fit: bool,
        rule: Rule,
        run: Run,
    },
    Orifice {
        model: u8,
        area: Number,
        upstream: Draw,
        downstream: Number,
        head: Number,
        flow: Option<Number>,
    },
    Reduction {
        inlet: Draw,
        outlet: Draw,
    },
}

#[derive(Arbitrary, Debug)]
enum Rule {
    EqualRatio,
    EqualTemperatureStep,
    Given(Vec<Number>),
    /// Shares of the way from the lower to the upper pressure, as often as there are interstages.
    Between(Vec<Nudge>),
}

#[derive(Arbitrary, Debug)]
struct Run {
    evaporating: Number,
    condensing: Condensing,
    superheat: Number,
    subcooling: Number,
    size: u8,
    amount: Number,
    bare: bool,
}

#[derive(Arbitrary, Debug)]
enum Condensing {
    At(Number),
    /// A lift above the evaporating temperature.
    Lift(Number),
    /// Hardly above it.
    Beside(Nudge),
}

/// A state: a random one, moved to a saturated phase now and then.
#[derive(Arbitrary, Debug)]
struct Draw {
    parts: [u16; 3],
    saturated: u8,
}

impl Draw {
    fn state(&self, refrigerant: &Refrigerant) -> Option<State> {
        let [a, b, c] = self.parts.map(|part| f64::from(part) / 65536.0);
        let state = try_random_state(refrigerant, (a, b, c)).ok()?;
        match (self.saturated, refrigerant.saturation_at_temperature(state.temperature())) {
            (0..64, Ok(saturation)) => Some(saturation.liquid()),
            (64..96, Ok(saturation)) => Some(saturation.vapor()),
            _ => Some(state),
        }
    }
}

fuzz_target!(|case: Case| {
    let Case { fluid, question } = case;
    let refrigerant = fluid.refrigerant();
    match question {
        Question::Machine { stages, tanks, fit, rule, run } => {
            machine(fluid.known(), &refrigerant, &stages, tanks, fit, rule, &run);
        }
        Question::Orifice { model, area, upstream, downstream, head, flow } => {
            let Some(upstream) = upstream.state(&refrigerant) else { return };
            let models =
                [OrificeModel::MetastableLiquid, OrificeModel::FrozenMixture, OrificeModel::Equilibrium];
            let model = models[usize::from(model) % 3];
            let downstream = downstream.of((0.0, upstream.pressure()), &[upstream.pressure()]);
            let numbers = (area.within(1e-6, 1e-2), downstream, head.within(0.0, 10.0));
            orifice(&refrigerant, model, &upstream, numbers, flow.map(|flow| flow.within(0.1, 50.0)));
        }
        Question::Reduction { inlet, outlet } => {
            let (Some(inlet), Some(outlet)) = (inlet.state(&refrigerant), outlet.state(&refrigerant)) else {
                return;
            };
            for outcome in [
                isentropic_efficiency(&refrigerant, &inlet, &outlet),
                polytropic_efficiency(&refrigerant, &inlet, &outlet),
            ] {
                if let Ok(efficiency) = outcome {
                    assert!(
                        efficiency.is_finite(),
                        "{refrigerant:?}: {efficiency} from {inlet:?} to {outlet:?}"
                    );
                }
            }
        }
    }
});

fn machine(
    known: &Known,
    refrigerant: &Refrigerant,
    stages: &[(bool, Number)],
    tanks: u8,
    fit: bool,
    rule: Rule,
    run: &Run,
) {
    let mut made = Vec::new();
    for &(isentropic, efficiency) in stages.iter().take(9) {
        let efficiency = efficiency.within(0.3, 1.0);
        let stage = if isentropic { Stage::isentropic(efficiency) } else { Stage::polytropic(efficiency) };
        match stage {
            Ok(stage) => made.push(stage),
            Err(error) => return error_holds(&error, &format!("efficiency {efficiency:?}")),
        }
    }
    let places = if fit { made.len().saturating_sub(1) } else { usize::from(tanks) % 10 };
    let separates = refrigerant.composition().is_none() || tanks > 250;
    let between: Vec<_> = (0..places)
        .map(|k| {
            let tank = separates && tanks >> (k % 8) & 1 == 1;
            if tank { Interstage::FlashTank(FlashTank::new()) } else { Interstage::Direct }
        })
        .collect();

    let cold = run.evaporating.of(saturated(known), &known.places(Of::Temperature));
    let hot = match run.condensing {
        Condensing::At(number) => number.of(saturated(known), &known.places(Of::Temperature)),
        Condensing::Lift(lift) => cold + lift.within(1.0, 80.0),
        Condensing::Beside(nudge) => nudge.of(cold),
    };
    let amount = run.amount.within(1.0, 1e7);
    let size = match run.size % 3 {
        0 => Size::Capacity(amount),
        1 => Size::MassFlow(amount),
        _ => Size::Power(amount),
    };
    let mut conditions = Conditions::new(cold, hot, size);
    if !run.bare {
        conditions = conditions
            .with_suction_superheat(run.superheat.within(0.0, 30.0))
            .with_subcooling(run.subcooling.within(0.0, 20.0));
    }
    let pressures = rule.pressures(refrigerant, (cold, hot), places);
    let what = format!("{refrigerant:?} {made:?} {between:?} {pressures:?} {conditions:?}");
    let circuit = Circuit::new(refrigerant.clone(), made, between)
        .and_then(|circuit| circuit.with_interstage_pressures(pressures));
    let circuit = match circuit {
        Ok(circuit) => circuit,
        Err(Error::WrongLength { .. }) => return,
        Err(error) => return error_holds(&error, &what),
    };
    match circuit.solve(&conditions) {
        Ok(cycle) => {
            cycle_holds(&circuit, &conditions, &cycle, &what);
            match circuit.sensitivities(&conditions) {
                Ok(sensitivities) => {
                    sensitivities_hold(&sensitivities, &what);
                    slopes_are_differences(&circuit, &conditions, &cycle, &sensitivities, &what);
                }
                Err(Error::Undefined { .. }) => {}
                Err(error) => panic!("{what}: solved, but no sensitivities: {error}"),
            }
        }
        Err(error) => {
            error_holds(&error, &what);
            assert!(circuit.sensitivities(&conditions).is_err(), "{what}: sensitivities of nothing");
        }
    }
}

fn saturated(known: &Known) -> (f64, f64) {
    let r = &known.refrigerant;
    (r.minimum_saturation_temperature(), r.critical_temperature())
}

impl Rule {
    fn pressures(
        self,
        refrigerant: &Refrigerant,
        (cold, hot): (f64, f64),
        count: usize,
    ) -> InterstagePressures {
        let pressure = |t| refrigerant.saturation_at_temperature(t).map(|saturation| saturation.pressure());
        match self {
            Self::EqualRatio => InterstagePressures::EqualRatio,
            Self::EqualTemperatureStep => InterstagePressures::EqualTemperatureStep,
            Self::Given(numbers) => {
                InterstagePressures::Given(numbers.iter().map(|number| number.within(1e4, 3e6)).collect())
            }
            Self::Between(nudges) => {
                let (Ok(low), Ok(high)) = (pressure(cold), pressure(hot)) else {
                    return InterstagePressures::EqualRatio;
                };
                let at = |k: usize| low * (high / low).powf((k + 1) as f64 / (count + 1) as f64);
                let nudged = |k: usize| nudges.get(k).map_or(at(k), |nudge| nudge.of(at(k)));
                InterstagePressures::Given((0..count).map(nudged).collect())
            }
        }
    }
}

fn cycle_holds(circuit: &Circuit, conditions: &Conditions, cycle: &Cycle, what: &str) {
    let figures = [
        cycle.cop(),
        cycle.power(),
        cycle.capacity(),
        cycle.heat_rejected(),
        cycle.refrigerating_effect(),
        cycle.kw_per_ton(),
        cycle.carnot_cop(),
        cycle.discharge_temperature(),
        cycle.evaporator_mass_flow(),
        cycle.condenser_mass_flow(),
    ];
    assert!(figures.iter().all(|figure| figure.is_finite() && *figure > 0.0), "{what}: {figures:?}");
    benefit_holds(circuit, conditions, cycle, what);
    // Work of a stage between equal pressures is nothing but rounding.
    let nothing = -1e-11 * circuit.refrigerant().gas_constant() * conditions.condensing_temperature();
    let several = [cycle.stage_work().to_vec(), cycle.stage_head().to_vec()];
    let holds = several.iter().flatten().all(|figure| figure.is_finite() && *figure >= nothing);
    assert!(holds && cycle.stage_power().iter().all(|power| power.is_finite()), "{what}: {several:?}");
    let flows = [cycle.stage_mass_flow(), cycle.stage_inlet_volume_flow()];
    assert!(flows.iter().flatten().all(|flow| flow.is_finite() && *flow > 0.0), "{what}: {flows:?}");
    let fractions = cycle.flash_fractions();
    assert!(fractions.iter().all(|fraction| (0.0..1.0).contains(fraction)), "{what}: {fractions:?}");
    assert!(cycle.mass_closure().abs() < 1e-9 && cycle.energy_closure().abs() < 1e-9, "{what}: closures");
    assert!(cycle.interstage_pressures().is_sorted(), "{what}: {:?}", cycle.interstage_pressures());
    let refrigerant = circuit.refrigerant();
    for point in cycle.points() {
        state_holds(refrigerant, point.state(), &format!("{what} {}", point.location()));
        assert!(point.mass_flow() >= 0.0 && point.mass_flow().is_finite(), "{what}: {point:?}");
    }
    // The first law and the direction of entropy, stage by stage; what rounding leaves of a small rise is allowed for.
    let r = refrigerant.gas_constant();
    for k in 1..=circuit.stages().len() {
        let at = |location| cycle.point(location).map(|point| *point.state());
        let (Some(inlet), Some(outlet)) = (at(Location::StageInlet(k)), at(Location::StageOutlet(k))) else {
            panic!("{what}: stage {k} is missing");
        };
        assert!(
            outlet.entropy() >= inlet.entropy() - 1e-9 * r,
            "{what}: stage {k} from {inlet:?} to {outlet:?}"
        );
        let stage = circuit.stages()[k - 1];
        let (work, head) = (cycle.stage_work()[k - 1], cycle.stage_head()[k - 1]);
        let scale = 1e-9 * r * inlet.temperature();
        assert!((head - work * stage.efficiency()).abs() <= scale, "{what}: stage {k}: {work} {head}");
        assert!(matches!(stage.kind(), Efficiency::Isentropic | Efficiency::Polytropic));
    }
    let plain = conditions.suction_superheat() == 0.0 && conditions.subcooling() == 0.0;
    if plain && refrigerant.composition().is_none() {
        // The rounding of the work counts at a small lift.
        let work: f64 = cycle.refrigerating_effect() / cycle.cop();
        let uncertain = 1e-9 * r * conditions.condensing_temperature() / work;
        assert!(
            cycle.cop() <= cycle.carnot_cop() * (1.0 + 1e-9 + uncertain),
            "{what}: {} above Carnot",
            cycle.cop()
        );
    }
}

fn sensitivities_hold(sensitivities: &Sensitivities, what: &str) {
    for (figure, value) in sensitivities.figures() {
        for &input in sensitivities.inputs() {
            let slope = sensitivities.slope(figure, input);
            // The benefit is missing where the machine without its economizers has no cycle.
            let told = slope.is_some_and(f64::is_finite) || value.is_nan();
            assert!(told, "{what}: {figure} by {input}: {slope:?}");
        }
    }
}

/// The benefit is that of the same machine with its economizers off, and missing where that one has no cycle.
fn benefit_holds(circuit: &Circuit, conditions: &Conditions, cycle: &Cycle, what: &str) {
    let benefit = cycle.economizer_benefit();
    let pressures = InterstagePressures::Given(cycle.interstage_pressures().to_vec());
    let Ok(without) = circuit.clone().without_economizers().with_interstage_pressures(pressures) else {
        return;
    };
    let size = Size::Capacity(1.0);
    let conditions =
        Conditions::new(conditions.evaporating_temperature(), conditions.condensing_temperature(), size)
            .with_suction_superheat(conditions.suction_superheat())
            .with_subcooling(conditions.subcooling());
    match without.solve(&conditions) {
        Ok(without) => {
            let ratio = without.cop() / cycle.cop();
            let (expected, scale) = (1.0 - ratio, 1.0 + ratio);
            assert!((benefit - expected).abs() <= 1e-9 * scale, "{what}: benefit {benefit}, not {expected}");
        }
        // Pressures that rounding put beside the two of the machine are refused where they are given.
        Err(error @ Error::Inconsistent { arguments: "interstage pressures", .. }) => {
            assert!(benefit.is_finite(), "{what}: {error}");
        }
        Err(error) => {
            assert!(benefit.is_nan() || circuit.tanks() == 0, "{what}: benefit {benefit}, but {error}")
        }
    }
}

/// Each slope lies between the differences to both sides, which may differ where a phase begins.
fn slopes_are_differences(
    circuit: &Circuit,
    conditions: &Conditions,
    cycle: &Cycle,
    sensitivities: &Sensitivities,
    what: &str,
) {
    // The steps of a polytropic path change in number along the way.
    if circuit.stages().iter().any(|stage| stage.kind() == Efficiency::Polytropic) {
        return;
    }
    let refrigerant = circuit.refrigerant();
    let (cold, hot) = (conditions.evaporating_temperature(), conditions.condensing_temperature());
    let figures = |cycle: &Cycle| {
        let work = cycle.refrigerating_effect() / cycle.cop();
        [cycle.refrigerating_effect(), work, cycle.discharge_temperature()]
    };
    let room = (refrigerant.critical_temperature() - hot).min(hot - cold);
    for (by_condensing, at) in [(true, hot), (false, cold)] {
        let step = 1e-4 * room.min(10.0);
        if step < 1e-7 * at {
            continue;
        }
        let moved = |step: f64| {
            let (cold, hot) = if by_condensing { (cold, hot + step) } else { (cold + step, hot) };
            let conditions = Conditions::new(cold, hot, conditions.size())
                .with_suction_superheat(conditions.suction_superheat())
                .with_subcooling(conditions.subcooling());
            circuit.solve(&conditions).map(|cycle| figures(&cycle))
        };
        let (Ok(before), Ok(after)) = (moved(-step), moved(step)) else { continue };
        let here = figures(cycle);
        let input = if by_condensing { Input::CondensingTemperature } else { Input::EvaporatingTemperature };
        let slopes = ["refrigerating_effect", "work", "discharge_temperature"]
            .map(|figure| sensitivities.slope(figure, input).unwrap_or(f64::NAN));
        let r = refrigerant.gas_constant();
        // Rounding of what is subtracted; a temperature next to the critical point is told by its enthalpy less well.
        let noise = [1e-9 * r * hot / step, 1e-9 * r * hot / step, 1e-7 * hot / step];
        for k in 0..3 {
            let (left, right) = ((here[k] - before[k]) / step, (after[k] - here[k]) / step);
            let slack = 0.05 * left.abs().max(right.abs()) + noise[k];
            let (low, high) = (left.min(right) - slack, left.max(right) + slack);
            assert!(
                (low..=high).contains(&slopes[k]),
                "{what}: slope {k} (by condensing {by_condensing}) {} is not {left} to {right}",
                slopes[k]
            );
        }
    }
}

fn orifice(
    refrigerant: &Refrigerant,
    model: OrificeModel,
    upstream: &State,
    (area, downstream, head): (f64, f64, f64),
    flow: Option<f64>,
) {
    let what = format!(
        "{refrigerant:?} {model} {area:?} m2, {upstream:?} to {downstream:?} Pa, {head:?} m, {flow:?}"
    );
    let orifice = match flow {
        None => Orifice::new(area).map(|orifice| orifice.with_model(model)),
        Some(flow) => Orifice::calibrated(model, refrigerant, upstream, downstream, head, flow),
    };
    let refused = |error: &Error| {
        if !matches!(error, Error::Undefined { .. }) {
            error_holds(error, &what);
        }
    };
    let orifice = match orifice {
        Ok(orifice) => orifice,
        Err(error) => return refused(&error),
    };
    match orifice.mass_flow(refrigerant, upstream, downstream, head) {
        Ok(passed) => {
            let numbers = [passed.mass_flow(), passed.mass_flux(), passed.throat_pressure()];
            assert!(numbers.iter().all(|number| number.is_finite() && *number >= 0.0), "{what}: {passed:?}");
            assert!(passed.throat_pressure() >= downstream, "{what}: {passed:?}");
            if let Some(flow) = flow {
                assert!((passed.mass_flow() / flow - 1.0).abs() < 1e-9, "{what}: {passed:?}");
            }
        }
        Err(error) => {
            refused(&error);
            assert!(flow.is_none(), "{what}: calibrated, but nothing passes: {error}");
        }
    }
}
