//! Columns of any numbers: every row as the scalar call has it, bit for bit, or NaN with a status.
#![no_main]

mod common;

use arbitrary::Arbitrary;
use common::{Fluid, Nudge, Number, Of, PAIRS, try_random_state};
use interstage::{
    Circuit, Conditions, CycleColumns, DerivativeColumns, Error, FlashTank, Interstage, Phase, Refrigerant,
    Result, RowStatus, Saturation, SaturationColumns, Size, Stage, State, StateColumns, StateSlices,
};
use libfuzzer_sys::fuzz_target;

#[derive(Arbitrary, Debug)]
struct Input {
    fluid: Fluid,
    /// How often the rows are repeated: beyond some hundreds they are shared between threads.
    repeats: u8,
    /// The second column is one number.
    constant: bool,
    question: Question,
}

#[derive(Arbitrary, Debug)]
enum Question {
    Pair { pair: u8, rows: Vec<Row> },
    Saturation { at_pressure: bool, rows: Vec<Number> },
    Slopes { rows: Vec<([u16; 3], u8)> },
    Cycles { stages: u8, tanks: u8, rows: Vec<[Number; 5]> },
    WrongLength { pair: u8, first: u8, second: u8, out: u8 },
}

#[derive(Arbitrary, Debug, Clone, Copy)]
enum Row {
    Numbers(Number, Number),
    Around([u16; 3], [Nudge; 2]),
}

type Call = fn(&Refrigerant, &[f64], &[f64], StateSlices<'_>) -> Result<()>;
type CallWithOne = fn(&Refrigerant, &[f64], f64, StateSlices<'_>) -> Result<()>;

macro_rules! calls {
    ($($name:ident),*) => {
        /// The batch calls in the order of [`PAIRS`].
        const CALLS: [(&str, Call, CallWithOne); 13] = [$((
            stringify!($name),
            |r, a, b, out| r.$name(a, b, out),
            |r, a, b, out| r.$name(a, b, out),
        )),*];
    };
}

calls!(
    states_pt,
    states_ph,
    states_ps,
    states_pu,
    states_hs,
    states_ts,
    states_th,
    states_tu,
    states_t_rho,
    states_rho_p,
    states_rho_h,
    states_rho_s,
    states_rho_u
);

/// Any pool will do: what is shared is divided, and that may not change a bit.
static POOL: std::sync::LazyLock<rayon::ThreadPool> = std::sync::LazyLock::new(|| {
    rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap_or_else(|error| panic!("{error}"))
});

fuzz_target!(|input: Input| {
    let Input { fluid, repeats, constant, question } = input;
    let refrigerant = &fluid.refrigerant();
    let known = fluid.known();
    let times = if repeats < 200 { 1 } else { usize::from(repeats) };
    POOL.install(|| match question {
        Question::Pair { pair, rows } => {
            let index = usize::from(pair) % PAIRS.len();
            let pair = &PAIRS[index];
            let number = |number: Number, of: Of| number.of(known.span(of), &known.places(of));
            let numbers: Vec<_> = rows
                .iter()
                .take(40)
                .filter_map(|row| match row {
                    Row::Numbers(a, b) => Some((number(*a, pair.given[0]), number(*b, pair.given[1]))),
                    Row::Around(draw, nudges) => {
                        let (a, b) = pair.of(&drawn(refrigerant, *draw)?);
                        Some((nudges[0].of(a), nudges[1].of(b)))
                    }
                })
                .collect();
            let (first, mut second): (Vec<_>, Vec<_>) = numbers.repeat(times).into_iter().unzip();
            let mut columns = StateColumns::with_rows(first.len());
            let (name, call, with_one) = CALLS[index];
            assert_eq!(name.replace("states", "state"), pair.name);
            let outcome = if constant {
                let one = second.first().copied().unwrap_or(f64::NAN);
                second.fill(one);
                with_one(refrigerant, &first, one, columns.as_slices())
            } else {
                call(refrigerant, &first, &second, columns.as_slices())
            };
            assert!(outcome.is_ok(), "{refrigerant:?} {name}: {outcome:?}");
            for (row, (&a, &b)) in first.iter().zip(&second).enumerate() {
                let what = format!("{refrigerant:?} {name} row {row} of {}: {a:?} {b:?}", first.len());
                state_row(&columns, row, (pair.make)(refrigerant, a, b), a.is_nan() || b.is_nan(), &what);
            }
        }
        Question::Saturation { at_pressure, rows } => {
            let of = if at_pressure { Of::Pressure } else { Of::Temperature };
            let numbers: Vec<_> =
                rows.iter().take(40).map(|row| row.of(known.span(of), &known.places(of))).collect();
            let column = numbers.repeat(times);
            let mut columns = SaturationColumns::with_rows(column.len());
            let out = columns.as_slices();
            let outcome = if at_pressure {
                refrigerant.saturations_at_pressure(&column, out)
            } else {
                refrigerant.saturations_at_temperature(&column, out)
            };
            assert!(outcome.is_ok(), "{refrigerant:?}: {outcome:?}");
            for (row, &value) in column.iter().enumerate() {
                let what = format!("{refrigerant:?} saturation at {of:?} {value:?}");
                let scalar = if at_pressure {
                    refrigerant.saturation_at_pressure(value)
                } else {
                    refrigerant.saturation_at_temperature(value)
                };
                saturation_row(&columns, row, scalar, &what);
            }
        }
        Question::Slopes { rows } => {
            let states: Vec<_> = rows
                .iter()
                .take(40)
                .filter_map(|(draw, code)| Some((drawn(refrigerant, *draw)?, *code)))
                .collect();
            slope_rows(refrigerant, &states.repeat(times));
        }
        Question::Cycles { stages, tanks, rows } => cycle_rows(refrigerant, stages, tanks, &rows, times),
        Question::WrongLength { pair, first, second, out } => {
            let (name, call, _) = CALLS[usize::from(pair) % CALLS.len()];
            let (a, b) = (vec![3e5; usize::from(first)], vec![3e5; usize::from(second)]);
            let mut columns = StateColumns::with_rows(usize::from(out));
            let outcome = call(refrigerant, &a, &b, columns.as_slices());
            let fits = first == out && second == out;
            assert!(
                fits || matches!(outcome, Err(Error::WrongLength { .. })),
                "{name} {first} {second} {out}"
            );
        }
    });
});

fn drawn(refrigerant: &Refrigerant, draw: [u16; 3]) -> Option<State> {
    let [a, b, c] = draw.map(|part| f64::from(part) / 65536.0);
    try_random_state(refrigerant, (a, b, c)).ok()
}

/// The status that belongs to an error; a missing input comes before anything else.
fn status_of(error: &Error, missing: bool) -> RowStatus {
    match error {
        _ if missing => RowStatus::Missing,
        Error::NotFinite { value, .. } if value.is_nan() => RowStatus::Missing,
        Error::NotFinite { .. } => RowStatus::NotFinite,
        Error::OutOfRange { .. } => RowStatus::OutOfRange,
        Error::Inconsistent { .. } => RowStatus::Inconsistent,
        Error::Undefined { .. } => RowStatus::Undefined,
        error => panic!("no error of a row: {error}"),
    }
}

/// The numbers of a row are these, or all NaN with a status that fits the error.
fn row_is(row: &[f64], status: u8, scalar: Result<Vec<f64>>, missing: bool, what: &str) {
    let status = RowStatus::from_code(status);
    match scalar {
        Ok(numbers) => {
            assert_eq!(status, Some(RowStatus::Ok), "{what}");
            let bits = |numbers: &[f64]| -> Vec<_> {
                numbers.iter().map(|x| if x.is_nan() { u64::MAX } else { x.to_bits() }).collect()
            };
            assert_eq!(bits(row), bits(&numbers), "{what}: {row:?} in the batch, {numbers:?} alone");
        }
        Err(error) => {
            assert_eq!(status, Some(status_of(&error, missing)), "{what}: {error}");
            assert!(row.iter().all(|number| number.is_nan()), "{what}: {row:?} in spite of {error}");
        }
    }
}

fn state_row(columns: &StateColumns, row: usize, scalar: Result<State>, missing: bool, what: &str) {
    let c = columns;
    assert_eq!(c.get(row), scalar.as_ref().ok().copied(), "{what}");
    let code = scalar.as_ref().map_or(u8::MAX, |state| state.phase().code());
    assert_eq!(c.phase[row], code, "{what}");
    let numbers =
        [&c.temperature, &c.pressure, &c.density, &c.enthalpy, &c.entropy, &c.internal_energy, &c.quality]
            .map(|column| column[row]);
    let scalar = scalar.map(|state| {
        vec![
            state.temperature(),
            state.pressure(),
            state.density(),
            state.enthalpy(),
            state.entropy(),
            state.internal_energy(),
            state.quality().unwrap_or(f64::NAN),
        ]
    });
    row_is(&numbers, c.status[row], scalar, missing, what);
}

fn saturation_row(columns: &SaturationColumns, row: usize, scalar: Result<Saturation>, what: &str) {
    let c = columns;
    let numbers = [
        &c.temperature,
        &c.pressure,
        &c.temperature_glide,
        &c.liquid_temperature,
        &c.liquid_pressure,
        &c.liquid_density,
        &c.liquid_enthalpy,
        &c.liquid_entropy,
        &c.liquid_internal_energy,
        &c.vapor_density,
        &c.vapor_enthalpy,
        &c.vapor_entropy,
        &c.vapor_internal_energy,
        &c.latent_heat,
    ]
    .map(|column| column[row]);
    let scalar = scalar.map(|saturation| {
        let (liquid, vapor) = (saturation.liquid(), saturation.vapor());
        vec![
            saturation.temperature(),
            saturation.pressure(),
            saturation.temperature_glide(),
            liquid.temperature(),
            liquid.pressure(),
            liquid.density(),
            liquid.enthalpy(),
            liquid.entropy(),
            liquid.internal_energy(),
            vapor.density(),
            vapor.enthalpy(),
            vapor.entropy(),
            vapor.internal_energy(),
            saturation.latent_heat(),
        ]
    });
    row_is(&numbers, c.status[row], scalar, false, what);
}

fn slope_rows(refrigerant: &Refrigerant, states: &[(State, u8)]) {
    let column = |of: fn(&State) -> f64| states.iter().map(|(state, _)| of(state)).collect::<Vec<_>>();
    // Mostly the phase of the state, else any code.
    let code = |state: &State, code: u8| if code < 200 { state.phase().code() } else { code };
    let phases: Vec<_> = states.iter().map(|(state, other)| code(state, *other)).collect();
    let mut columns = DerivativeColumns::with_rows(states.len());
    let (t, p, rho) = (column(State::temperature), column(State::pressure), column(State::density));
    let outcome = refrigerant.derivatives_of(&t, &p, &rho, &phases, columns.as_slices());
    assert!(outcome.is_ok(), "{refrigerant:?}: {outcome:?}");
    let c = &columns;
    for (row, (state, _)) in states.iter().enumerate() {
        let what = format!("{refrigerant:?} slopes of {state:?}, phase {}", phases[row]);
        let numbers = [
            &c.cp,
            &c.cv,
            &c.speed_of_sound,
            &c.isentropic_exponent,
            &c.joule_thomson,
            &c.compressibility_factor,
            &c.isothermal_compressibility,
            &c.thermal_expansion,
        ]
        .map(|column| column[row]);
        let scalar = match Phase::from_code(phases[row]) {
            None => Err(Error::NotFinite { argument: "phase", value: f64::NAN, unit: "-" }),
            Some(Phase::TwoPhase) => Err(Error::Undefined { property: "a slope", state: "two phases" }),
            Some(_) if state.phase() == Phase::TwoPhase => continue,
            Some(_) => refrigerant.derivatives(state).map(|slopes| {
                vec![
                    slopes.cp(),
                    slopes.cv(),
                    slopes.speed_of_sound(),
                    slopes.isentropic_exponent(),
                    slopes.joule_thomson(),
                    slopes.compressibility_factor(),
                    slopes.isothermal_compressibility(),
                    slopes.thermal_expansion(),
                ]
            }),
        };
        row_is(&numbers, c.status[row], scalar, false, &what);
    }
}

fn cycle_rows(refrigerant: &Refrigerant, stages: u8, tanks: u8, rows: &[[Number; 5]], times: usize) {
    let count = usize::from(stages) % 4 + 1;
    let Ok(stage) = Stage::polytropic(0.8) else { return };
    let separates = refrigerant.composition().is_none();
    let between = (0..count - 1)
        .map(|k| {
            let tank = separates && tanks >> k & 1 == 1;
            if tank { Interstage::FlashTank(FlashTank::new()) } else { Interstage::Direct }
        })
        .collect();
    let Ok(circuit) = Circuit::new(refrigerant.clone(), vec![stage; count], between) else { return };
    let (coldest, critical) =
        (refrigerant.minimum_saturation_temperature(), refrigerant.critical_temperature());
    let conditions: Vec<_> = rows
        .iter()
        .take(20)
        .map(|[cold, lift, superheat, subcooling, size]| {
            let cold = cold.within(coldest, critical);
            Conditions::new(cold, cold + lift.within(1.0, 60.0), Size::Capacity(size.within(1e3, 1e7)))
                .with_suction_superheat(superheat.within(0.0, 20.0))
                .with_subcooling(subcooling.within(0.0, 10.0))
        })
        .collect();
    let all = conditions.repeat(if times > 1 { 3 } else { 1 });
    let mut columns = CycleColumns::with_rows(all.len(), &circuit);
    let outcome = circuit.solve_rows(|row| all[row], columns.as_slices());
    assert!(outcome.is_ok(), "{refrigerant:?}: {outcome:?}");
    let c = &columns;
    for (row, conditions) in all.iter().enumerate() {
        let mut numbers = [
            &c.cop,
            &c.kw_per_ton,
            &c.carnot_cop,
            &c.capacity,
            &c.power,
            &c.heat_rejected,
            &c.refrigerating_effect,
            &c.economizer_benefit,
            &c.evaporator_inlet_quality,
            &c.discharge_temperature,
            &c.evaporating_pressure,
            &c.condensing_pressure,
            &c.evaporator_mass_flow,
            &c.condenser_mass_flow,
            &c.mass_closure,
            &c.energy_closure,
        ]
        .map(|column| column[row])
        .to_vec();
        let width = |column: &[f64]| column.len() / all.len();
        for column in [
            &c.interstage_pressures,
            &c.flash_fractions,
            &c.stage_work,
            &c.stage_head,
            &c.stage_power,
            &c.stage_mass_flow,
            &c.stage_inlet_volume_flow,
        ] {
            numbers.extend(&column[row * width(column)..(row + 1) * width(column)]);
        }
        let scalar = circuit.solve(conditions).map(|cycle| {
            let mut numbers = vec![
                cycle.cop(),
                cycle.kw_per_ton(),
                cycle.carnot_cop(),
                cycle.capacity(),
                cycle.power(),
                cycle.heat_rejected(),
                cycle.refrigerating_effect(),
                cycle.economizer_benefit(),
                cycle.evaporator_inlet_quality(),
                cycle.discharge_temperature(),
                cycle.evaporating_pressure(),
                cycle.condensing_pressure(),
                cycle.evaporator_mass_flow(),
                cycle.condenser_mass_flow(),
                cycle.mass_closure(),
                cycle.energy_closure(),
            ];
            numbers.extend(cycle.interstage_pressures());
            numbers.extend(cycle.flash_fractions());
            numbers.extend(cycle.stage_work());
            numbers.extend(cycle.stage_head());
            numbers.extend(cycle.stage_power());
            numbers.extend(cycle.stage_mass_flow());
            numbers.extend(cycle.stage_inlet_volume_flow());
            numbers
        });
        let (Size::Capacity(size) | Size::MassFlow(size) | Size::Power(size)) = conditions.size() else {
            continue;
        };
        let inputs = [
            conditions.evaporating_temperature(),
            conditions.condensing_temperature(),
            conditions.suction_superheat(),
            conditions.subcooling(),
            size,
        ];
        let missing = inputs.iter().any(|input| input.is_nan());
        row_is(&numbers, c.status[row], scalar, missing, &format!("{circuit:?} {conditions:?}"));
    }
}
