//! Rows of any readings: figures that can be told and are possible, or NaN with a remark.
#![no_main]

mod common;

use arbitrary::Arbitrary;
use common::{Fluid, Known, Nudge, Number, Of};
use interstage::{
    Circuit, Figure, FlashTank, Interstage, InterstagePressures, Quality, Reading, Readings, Refrigerant,
    Result, Stage, Status, TrendAnalysis, TrendRow, TrendTable,
};
use libfuzzer_sys::fuzz_target;

#[derive(Arbitrary, Debug)]
struct Input {
    fluid: Fluid,
    /// One bit a stage: its kind of efficiency.
    stages: u8,
    kinds: u8,
    tanks: u8,
    equal_steps: bool,
    efficiency: Number,
    options: Vec<(u8, Number)>,
    /// Which columns there are.
    columns: u32,
    rows: Vec<Row>,
    block: u8,
}

/// A machine at work, its readings moved or replaced.
#[derive(Arbitrary, Debug, Clone, Copy)]
struct Row {
    evaporating: u16,
    lift: u16,
    load: u16,
    efficiency: u16,
    moved: [(u8, Change); 3],
}

#[derive(Arbitrary, Debug, Clone, Copy)]
enum Change {
    By(Nudge),
    To(Number),
    /// The value of another reading.
    Of(u8),
}

fn part(share: u16, low: f64, high: f64) -> f64 {
    low + f64::from(share) / 65535.0 * (high - low)
}

fuzz_target!(|input: Input| {
    let refrigerant = input.fluid.refrigerant();
    let Ok(circuit) = machine(&input, &refrigerant) else { return };
    let Some(analysis) = options(&input, circuit) else { return };
    let readings = readings_of(analysis.circuit());
    let rows: Vec<_> = input
        .rows
        .iter()
        .take(24)
        .map(|row| values(row, &readings, input.fluid.known(), analysis.circuit()))
        .collect();
    let columns: Vec<_> = readings
        .iter()
        .enumerate()
        .filter(|(k, _)| input.columns >> (k % 32) & 1 == 0)
        .map(|(k, &reading)| (reading, rows.iter().map(|row| row[k]).collect::<Vec<_>>()))
        .collect();
    let mut given = Readings::new();
    for (reading, column) in &columns {
        given = given.with(*reading, column).unwrap_or_else(|error| panic!("{reading}: {error}"));
    }
    let what = || format!("{:?} {columns:?}", analysis);
    let table = analysis.analyse(&given).unwrap_or_else(|error| panic!("{}: {error}", what()));
    assert_eq!(table.rows(), given.rows());
    table_holds(&table, &analysis, &columns, &what);

    // Block by block it is the same table.
    let mut run = analysis.begin(&given).unwrap_or_else(|error| panic!("{}: {error}", what()));
    while run.advance(usize::from(input.block % 7) + 1) > 0 {}
    let bits = |table: &TrendTable| table.values().iter().map(|value| value.to_bits()).collect::<Vec<_>>();
    let again = run.finish();
    assert!(bits(&table) == bits(&again) && table.status() == again.status(), "{}: by blocks", what());

    // Row by row as well.
    let present: Vec<Reading> = columns.iter().map(|(reading, _)| *reading).collect();
    let mut stream = analysis.stream(&present).unwrap_or_else(|error| panic!("{}: {error}", what()));
    let (mut values, mut status) = (Vec::new(), Vec::new());
    let mut tell = |row: TrendRow<'_>| {
        values.extend(row.values().iter().map(|value| value.to_bits()));
        status.push(row.status());
    };
    for row in 0..table.rows() {
        let row: Vec<f64> = columns.iter().map(|(_, column)| column[row]).collect();
        stream.push(&row, &mut tell).unwrap_or_else(|error| panic!("{}: {error}", what()));
    }
    let told = stream.figures().to_vec();
    stream.finish(&mut tell);
    assert!(told == table.figures() && status == table.status(), "{}: row by row", what());
    let width = told.len();
    for (place, figure) in told.iter().enumerate() {
        let column = table.column(*figure).unwrap_or_default();
        for (row, value) in column.iter().enumerate() {
            assert_eq!(
                values[row * width + place],
                value.to_bits(),
                "{figure} of row {row}, row by row: {}",
                what()
            );
        }
    }

    // Slopes are numbers or not told.
    let slopes =
        analysis.slopes(&given, table.figures()).unwrap_or_else(|error| panic!("{}: {error}", what()));
    assert!(slopes.values().iter().all(|slope| !slope.is_infinite()), "{}: slopes", what());
});

fn machine(input: &Input, refrigerant: &Refrigerant) -> Result<Circuit> {
    let count = usize::from(input.stages) % 9 + 1;
    let efficiency = input.efficiency.within(0.5, 1.0);
    let stages = (0..count)
        .map(|k| {
            if input.kinds >> (k % 8) & 1 == 1 {
                Stage::isentropic(efficiency)
            } else {
                Stage::polytropic(efficiency)
            }
        })
        .collect::<Result<Vec<_>>>()?;
    let separates = refrigerant.composition().is_none();
    let between = (0..count - 1)
        .map(|k| {
            let tank = separates && input.tanks >> (k % 8) & 1 == 1;
            if tank { Interstage::FlashTank(FlashTank::new()) } else { Interstage::Direct }
        })
        .collect();
    let rule = if input.equal_steps {
        InterstagePressures::EqualTemperatureStep
    } else {
        InterstagePressures::EqualRatio
    };
    Circuit::new(refrigerant.clone(), stages, between)?.with_interstage_pressures(rule)
}

/// The analysis with some of its options set; `None` where one is refused.
fn options(input: &Input, circuit: Circuit) -> Option<TrendAnalysis> {
    let tanks = circuit.tanks();
    let mut analysis = TrendAnalysis::new(circuit).ok()?.with_drive_efficiency(0.93).ok()?;
    for (which, number) in input.options.iter().take(6) {
        let share = number.within(0.0, 1.0);
        analysis = match which % 9 {
            0 => analysis.with_minimum_power(number.within(0.0, 1e5)),
            1 => analysis.with_drive_efficiency(share),
            2 => analysis.with_discharge_temperature_uncertainty(number.within(0.0, 2.0), 0.05),
            3 => analysis.with_discharge_temperature_uncertainty(0.5, share),
            4 => analysis.with_capacity_uncertainty(share),
            5 => analysis.with_tank_exponent_tolerance(share),
            6 => analysis.with_pressure_uncertainty(share),
            7 => analysis.with_heat_balance_limit(number.within(0.0, 10.0)),
            _ => analysis.with_tank_exponents(vec![share; tanks]),
        }
        .ok()?;
    }
    Some(analysis)
}

fn tank_stages(circuit: &Circuit) -> impl Iterator<Item = u8> {
    let places = circuit.interstages().iter().zip(2_u8..);
    places.filter(|(between, _)| matches!(between, Interstage::FlashTank(_))).map(|(_, stage)| stage)
}

/// Every reading that the circuit can have.
fn readings_of(circuit: &Circuit) -> Vec<Reading> {
    let tanks = tank_stages(circuit)
        .flat_map(|stage| [Reading::TankPressure(stage), Reading::TankTemperature(stage)]);
    Reading::FIXED.into_iter().chain(tanks).collect()
}

/// Readings of a machine that could be, with those changed that the input asks for.
fn values(row: &Row, readings: &[Reading], known: &Known, circuit: &Circuit) -> Vec<f64> {
    let refrigerant = circuit.refrigerant();
    let cold = part(row.evaporating, 270.0, 290.0);
    let hot = cold + part(row.lift, 0.5, 45.0);
    let capacity = part(row.load, 1e4, 5e6);
    let pressure = |t: f64| {
        refrigerant.saturation_at_temperature(t).map_or(f64::NAN, |saturation| saturation.pressure())
    };
    let (low, high) = (pressure(cold), pressure(hot));
    let stages = circuit.stages().len();
    let tank = |stage: u8| low * (high / low).powf(f64::from(stage - 1) / stages as f64);
    let work = part(row.efficiency, 0.05, 0.4);
    let mut values: Vec<_> = readings
        .iter()
        .map(|&reading| match reading {
            Reading::EvaporatorPressure => low,
            Reading::EvaporatorSaturationTemperature => cold,
            Reading::CondenserPressure => high,
            Reading::CondenserSaturationTemperature => hot,
            Reading::LiquidLineTemperature => hot - 1.0,
            Reading::SuctionTemperature => cold + 0.5,
            Reading::DischargeTemperature => hot + part(row.efficiency, 1.0, 25.0),
            Reading::ChilledWaterEntering => cold.max(274.0) + 6.0,
            Reading::ChilledWaterLeaving => cold.max(274.0) + 1.0,
            Reading::ChilledWaterFlow => capacity / (4.2e6 * 5.0),
            Reading::CondenserWaterEntering => hot - 6.0,
            Reading::CondenserWaterLeaving => hot - 1.0,
            Reading::CondenserWaterFlow => capacity * (1.0 + work) / (4.2e6 * 5.0),
            Reading::Capacity => capacity,
            Reading::Power => capacity * work,
            Reading::TankPressure(stage) => tank(stage),
            Reading::TankTemperature(stage) => refrigerant
                .saturation_at_pressure(tank(stage))
                .map_or(f64::NAN, |saturation| saturation.temperature()),
            _ => f64::NAN,
        })
        .collect();
    for (which, change) in row.moved {
        let place = usize::from(which) % (2 * readings.len());
        let Some(reading) = readings.get(place) else { continue };
        values[place] = match change {
            Change::By(nudge) => nudge.of(values[place]),
            Change::Of(other) => values[usize::from(other) % readings.len()],
            Change::To(number) => match reading.unit() {
                "K" => number.of((250.0, 400.0), &known.places(Of::Temperature)),
                "Pa" => number.of((1e4, 3e6), &known.places(Of::Pressure)),
                "W" => number.of((-1.0, 1e8), &[1.0, 1e8]),
                _ => number.of((0.0, 10.0), &[10.0]),
            },
        };
    }
    values
}

fn table_holds(
    table: &TrendTable,
    analysis: &TrendAnalysis,
    columns: &[(Reading, Vec<f64>)],
    what: &dyn Fn() -> String,
) {
    for &figure in table.figures() {
        let column = table.column(figure).unwrap_or_default();
        assert_eq!(column.len(), table.rows());
        let unavailable = table.unavailable().iter().any(|(known, _)| *known == figure);
        for (row, (&value, &status)) in column.iter().zip(table.status()).enumerate() {
            let here = || format!("{figure} is {value:?} in row {row}, status {status}: {}", what());
            assert!(!value.is_infinite(), "{}", here());
            assert!(!unavailable || value.is_nan(), "unavailable: {}", here());
            assert!(value.is_nan() || possible(figure, value), "{}", here());
            // What is missing although its readings are there has a reason.
            let read = |reading: &Reading| {
                columns.iter().any(|(known, column)| known == reading && !column[row].is_nan())
            };
            let needs = analysis.needs(figure);
            let there = needs.iter().any(|set| set.iter().all(read)) && !unavailable;
            assert!(!(there && value.is_nan() && status.is_ok()), "no reason: {}", here());
        }
    }
    for (reading, column) in columns {
        let quality = table.quality(*reading).unwrap_or_default();
        for ((value, quality), status) in column.iter().zip(quality).zip(table.status()) {
            let remark = match quality {
                Quality::Missing => Status::MISSING,
                Quality::OutOfRange => Status::OUT_OF_RANGE,
                Quality::Spike => Status::SPIKE,
                _ => Status::OK,
            };
            assert_eq!(value.is_nan(), *quality == Quality::Missing, "{reading}: {}", what());
            assert!(
                status.contains(remark) || status.contains(Status::OFF),
                "{reading} {status}: {}",
                what()
            );
            assert!(value.is_finite() || *quality != Quality::Good, "{reading}: {}", what());
        }
    }
}

/// Whether a figure can have a value at all.
fn possible(figure: Figure, value: f64) -> bool {
    match figure {
        Figure::EvaporatingTemperature | Figure::CondensingTemperature => value > 0.0,
        Figure::Capacity | Figure::CapacityFromPower | Figure::Load | Figure::HeatRejected => value > 0.0,
        Figure::Cop | Figure::KwPerTon | Figure::HeatBalanceTolerance => value > 0.0,
        Figure::EvaporatorUa | Figure::CondenserUa => value > 0.0,
        Figure::EvaporatorMassFlow | Figure::CompressionPower => value > 0.0,
        Figure::RefrigerantHeatRejected => value > 0.0,
        Figure::StageEfficiency => value > 0.1 && value <= 1.0,
        Figure::StageEfficiencyInterval => (0.0..=1.0).contains(&value),
        Figure::TankPressureExponent(_) => value > 0.0 && value < 1.0,
        Figure::FlashFraction(_) => (0.0..1.0).contains(&value),
        Figure::EconomizerPotential => value < 1.0,
        Figure::MeasuredSaving => (-0.25..=1.25).contains(&value),
        Figure::EconomizerEvidence => value == 0.0 || value == 1.0,
        _ => true,
    }
}
