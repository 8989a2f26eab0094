//! Rows one at a time: what the table of them tells, to the last bit, and how much memory that takes.
#![cfg(feature = "trend")]
#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use allocation_counter::AllocationInfo;
use interstage::{
    Arrangement, Brine, Circuit, Drive, Error, Figure, InterstagePressures, MotorCooling, Quality, Reading,
    Readings, Refrigerant, Stage, Status, TrendAnalysis, TrendRow, TrendStream, TrendTable,
};

const GIVEN: [Reading; 13] = [
    Reading::EvaporatorPressure,
    Reading::CondenserPressure,
    Reading::CondenserSaturationTemperature,
    Reading::LiquidLineTemperature,
    Reading::DischargeTemperature,
    Reading::ChilledWaterEntering,
    Reading::ChilledWaterLeaving,
    Reading::ChilledWaterFlow,
    Reading::CondenserWaterEntering,
    Reading::CondenserWaterLeaving,
    Reading::CondenserWaterFlow,
    Reading::Power,
    Reading::TankPressure(2),
];

/// A machine at work, R-134a, SI units, as `GIVEN`.
const AT_WORK: [f64; 13] =
    [350e3, 900e3, 308.6, 306.0, 320.0, 285.2, 280.2, 0.07, 299.2, 304.6, 0.075, 245e3, 560e3];

fn analysis() -> TrendAnalysis {
    let arrangement: Arrangement = "2 stages: tank@2".parse().unwrap();
    let stage = Stage::polytropic(0.8).unwrap();
    let circuit: Circuit = arrangement.circuit(Refrigerant::named("R-134a").unwrap(), stage).unwrap();
    TrendAnalysis::new(circuit).unwrap().with_drive_efficiency(0.93).unwrap().with_rating(2e6, 5.5).unwrap()
}

/// Numbers from 0 to 1 that are the same in every run.
struct Random(u64);

impl Random {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// Rows that drift, with gaps of one to ten rows, spikes, impossible readings and times off.
fn rows(count: usize, seed: u64) -> Vec<[f64; 13]> {
    let mut random = Random(seed);
    let mut rows = Vec::with_capacity(count);
    let (mut gone, mut off) = ([0_u32; 13], 0_u32);
    for i in 0..count {
        let mut row = AT_WORK;
        let load = 1.0 + 0.1 * (i as f64 / 50.0).sin();
        for (at, value) in row.iter_mut().enumerate() {
            *value *= if at == 7 { load } else { 1.0 + 2e-4 * (random.next() - 0.5) };
            match random.next() {
                _ if gone[at] > 0 => (*value, gone[at]) = (f64::NAN, gone[at] - 1),
                x if x < 0.006 => *value *= 1.3,
                x if x < 0.009 => *value = -40.0,
                x if x < 0.011 => gone[at] = 1 + (random.next() * 10.0) as u32,
                _ => {}
            }
        }
        if off > 0 {
            (row[11], off) = (0.0, off - 1);
        } else if random.next() < 0.002 {
            off = (random.next() * 40.0) as u32;
        }
        rows.push(row);
    }
    rows
}

fn table(analysis: &TrendAnalysis, rows: &[[f64; 13]]) -> TrendTable {
    let columns: Vec<Vec<f64>> = (0..13).map(|at| rows.iter().map(|row| row[at]).collect()).collect();
    let mut readings = GIVEN.iter().zip(&columns);
    let readings = readings.try_fold(Readings::new(), |all, (name, column)| all.with(*name, column));
    analysis.analyse(&readings.unwrap()).unwrap()
}

/// Everything a row tells, as bits.
type Row = (Vec<u64>, Status, Vec<Quality>);

fn bits(values: &[f64]) -> Vec<u64> {
    values.iter().map(|value| value.to_bits()).collect()
}

fn of_table(table: &TrendTable) -> Vec<Row> {
    let width = table.figures().len();
    let quality = |row: usize| GIVEN.iter().map(|&reading| table.quality(reading).unwrap()[row]).collect();
    let rows = table.values().chunks(width).zip(table.status()).enumerate();
    rows.map(|(row, (values, status))| (bits(values), *status, quality(row))).collect()
}

#[test]
fn rows_one_by_one_tell_what_the_table_tells() {
    let brine = Brine::ethylene_glycol(0.3).unwrap();
    let brines = analysis().with_chilled_brine(brine).with_condenser_brine(brine);
    let water = analysis();
    for (seed, count, analysis) in [
        (1, 2000, &water),
        (2, 700, &water),
        (3, 7, &water),
        (4, 3, &water),
        (5, 1, &water),
        (6, 0, &water),
        (7, 600, &brines),
    ] {
        let rows = rows(count, seed);
        let expected = of_table(&table(analysis, &rows));
        let mut told: Vec<Row> = Vec::new();
        let mut stream = analysis.stream(&GIVEN).unwrap();
        assert_eq!(stream.figures(), analysis.figures());
        let mut latest = 0;
        for row in &rows {
            stream
                .push(row, |row| {
                    assert_eq!(row.row(), told.len() as u64);
                    let quality = GIVEN.iter().map(|&reading| row.quality(reading).unwrap()).collect();
                    told.push((bits(row.values()), row.status(), quality));
                })
                .unwrap();
            latest = latest.max(stream.waiting());
        }
        assert!(latest <= 5, "{latest} rows waited");
        stream.finish(|row| {
            let quality = GIVEN.iter().map(|&reading| row.quality(reading).unwrap()).collect();
            told.push((bits(row.values()), row.status(), quality));
        });
        assert_eq!(told, expected, "seed {seed}");
        if count > 500 {
            // The rows are those that the comment promises.
            let with = |wanted: Status| told.iter().filter(|row| row.1.contains(wanted)).count();
            assert!(with(Status::SPIKE) > 20 && with(Status::OFF) > 5, "{}", with(Status::SPIKE));
            assert!(with(Status::MISSING) > 50 && with(Status::OUT_OF_RANGE) > 10);
            assert!(told.iter().filter(|row| row.1.is_ok()).count() > count / 10);
        }
    }
}

#[test]
fn parts_of_a_table_tell_what_the_table_tells() {
    let analysis = analysis();
    let rows = rows(1200, 11);
    let whole = of_table(&table(&analysis, &rows));
    let (before, after) = (TrendAnalysis::ROWS_BEFORE, TrendAnalysis::ROWS_AFTER);
    let part = |from: usize, to: usize, before: usize, after: usize| {
        let (start, end) = (from.saturating_sub(before), (to + after).min(rows.len()));
        let told = of_table(&table(&analysis, &rows[start..end]));
        told[from - start..to - start].to_vec()
    };
    let mut random = Random(5);
    let (mut cuts, mut differ) = (vec![0, rows.len()], 0);
    cuts.extend((0..60).map(|_| (random.next() * rows.len() as f64) as usize));
    cuts.sort_unstable();
    for cut in cuts.windows(2) {
        let (from, to) = (cut[0], cut[1]);
        assert_eq!(part(from, to, before, after), whole[from..to], "rows {from} to {to}");
        differ += usize::from(part(from, to, 0, 0) != whole[from..to]);
    }
    // Without the rows around them some parts would tell something else.
    assert!(differ > 5, "{differ}");
}

#[test]
fn a_row_is_told_when_the_next_has_come() {
    let mut stream = analysis().stream(&GIVEN).unwrap();
    let mut told = Vec::new();
    for row in 0..20_u64 {
        stream.push(&AT_WORK, |row| told.push((row.row(), row.value(Figure::Cop)))).unwrap();
        assert_eq!((told.len() as u64, stream.waiting()), (row, 1));
    }
    // A reading that waits for its neighbor holds the row, four rows at most.
    let mut gap = AT_WORK;
    gap[4] = f64::NAN;
    for waiting in [2, 3, 4, 0, 0] {
        stream.push(&gap, |_| {}).unwrap();
        // The other readings of the last row wait as well.
        assert_eq!(stream.waiting(), waiting.max(1));
    }
    assert!(told.iter().all(|(_, cop)| cop.unwrap() > 3.0));
    let wrong = stream.push(&[1.0], |_| {}).unwrap_err();
    assert_eq!(wrong, Error::WrongLength { argument: "readings of a row", found: 1, expected: 13 });
    let twice = analysis().stream(&[Reading::Power, Reading::Power]).unwrap_err();
    assert_eq!(twice.to_string(), "readings contradict each other: power is given twice");
    assert!(analysis().stream(&[Reading::TankPressure(3)]).is_err());
    // Nothing is read: rows all the same.
    let mut nothing = analysis().stream(&[]).unwrap();
    nothing.push(&[], |row| assert!(row.values().iter().all(|value| value.is_nan()))).unwrap();
    assert_eq!(nothing.waiting(), 0);
}

/// Stages fed by a tank or closed economizer.
fn tanks(analysis: &TrendAnalysis) -> Vec<u8> {
    let of = |figure| if let Figure::TankPressureExponent(stage) = figure { Some(stage) } else { None };
    analysis.figures().into_iter().filter_map(of).collect()
}

/// A machine of these stages and what stands between them, read as `GIVEN` and at every tank.
fn machine(arrangement: &str, refrigerant: &str, rule: InterstagePressures) -> (TrendAnalysis, Vec<Reading>) {
    let arrangement: Arrangement = arrangement.parse().unwrap();
    let stage = Stage::polytropic(0.8).unwrap();
    let circuit = arrangement.circuit(Refrigerant::named(refrigerant).unwrap(), stage).unwrap();
    let cooled = Drive::new().with_motor(0.94, MotorCooling::RefrigerantToEvaporator).unwrap();
    let circuit = circuit.with_drive(cooled).unwrap().with_interstage_pressures(rule).unwrap();
    let analysis = TrendAnalysis::new(circuit).unwrap().with_drive_efficiency(0.93).unwrap();
    let mut given = GIVEN[..12].to_vec();
    given.extend(tanks(&analysis).into_iter().map(Reading::TankPressure));
    (analysis, given)
}

/// Allocations of rows pushed after others, and the count of rows with a stage efficiency.
fn allocations(stream: &mut TrendStream, rows: &[Vec<f64>]) -> (AllocationInfo, usize) {
    let mut solved = 0;
    let counted = allocation_counter::measure(|| {
        for row in rows {
            let told = |row: TrendRow<'_>| {
                solved += usize::from(row.value(Figure::StageEfficiency).is_some_and(f64::is_finite));
            };
            stream.push(row, told).unwrap();
        }
    });
    (counted, solved)
}

/// What `rows` does to a row of that machine, the pressures moved to those of its refrigerant, the tanks between them.
fn rows_of(analysis: &TrendAnalysis, count: usize, seed: u64) -> Vec<Vec<f64>> {
    let circuit = analysis.circuit();
    let saturated = |at: f64| circuit.refrigerant().saturation_at_temperature(at).unwrap().pressure();
    let moved = [saturated(278.0) / AT_WORK[0], saturated(308.6) / AT_WORK[1]];
    let stages = circuit.stages().len() as f64;
    let mut all = Vec::new();
    for row in rows(count, seed) {
        let mut row = row[..12].to_vec();
        (row[0], row[1]) = (row[0] * moved[0], row[1] * moved[1]);
        // Refrigerants of small molecules leave the last stage hotter.
        row[4] += if circuit.refrigerant().composition().is_some() { 15.0 } else { 0.0 };
        for stage in tanks(analysis) {
            row.push(row[0] * (row[1] / row[0]).powf(f64::from(stage - 1) / stages));
        }
        all.push(row);
    }
    all
}

#[test]
fn rows_after_the_first_take_no_memory() {
    for (arrangement, refrigerant) in [
        ("1 stage", "R-134a"),
        ("2 stages: tank@2", "R-134a"),
        ("2 stages: closed@2 (approach 3 K)", "R-134a"),
        ("3 stages: tank@3, intercooled tank@2", "R-1233zd(E)"),
        ("9 stages: tank@9, tank@2", "R-134a"),
        ("2 stages: closed@2 (approach 3 K)", "R-410A"),
        ("2 stages: closed@2 (approach 3 K)", "R-454B"),
    ] {
        let (analysis, given) = machine(arrangement, refrigerant, InterstagePressures::EqualRatio);
        let mut stream = analysis.stream(&given).unwrap();
        let (first, _) = allocations(&mut stream, &rows_of(&analysis, 300, 4));
        assert!(first.count_total > 0, "{arrangement}: nothing is counted");
        let (counted, solved) = allocations(&mut stream, &rows_of(&analysis, 1000, 5));
        assert!(solved > 800, "{arrangement}, {refrigerant}: {solved} rows solved");
        assert_eq!(counted.count_total, 0, "{arrangement}, {refrigerant}");
    }
}

#[test]
fn rows_that_cannot_be_solved_do_not_make_the_others_take_memory() {
    let arrangement: Arrangement = "2 stages: tank@2".parse().unwrap();
    let circuit = arrangement.circuit(Refrigerant::named("R-134a").unwrap(), Stage::polytropic(0.2).unwrap());
    let analysis = TrendAnalysis::new(circuit.unwrap()).unwrap();
    let mut stream = analysis.stream(&GIVEN).unwrap();
    let good = rows_of(&analysis, 200, 6);
    // Stages as poor as these would bring gas to this pressure hotter than the equation of state knows.
    let mut bad = good.clone();
    bad.iter_mut().for_each(|row| row[1] = 2.5e6);
    let mut not_solved = 0_u64;
    let mut push = |rows: &[Vec<f64>]| {
        let mut told = |row: TrendRow<'_>| {
            not_solved += u64::from(row.status().contains(Status::NOT_SOLVED));
        };
        rows.iter().for_each(|row| stream.push(row, &mut told).unwrap());
    };
    push(&good);
    push(&bad);
    // One of each in turn: the message of the bad one, and no lists for the good one after it.
    let turns: Vec<Vec<f64>> = bad.into_iter().zip(good).flat_map(|(bad, good)| [bad, good]).collect();
    let counted = allocation_counter::measure(|| push(&turns));
    assert!(not_solved > 300, "{not_solved}");
    // A message is put together in some four steps; two lists would come on top.
    assert!(counted.count_total < 5 * not_solved / 2, "{} of {not_solved}", counted.count_total);
}

#[test]
fn a_search_for_interstage_pressures_gives_its_memory_back() {
    let (analysis, given) = machine("3 stages: tank@3, tank@2", "R-134a", InterstagePressures::EqualHead);
    let mut stream = analysis.stream(&given).unwrap();
    let _ = allocations(&mut stream, &rows_of(&analysis, 100, 4));
    let (counted, solved) = allocations(&mut stream, &rows_of(&analysis, 200, 5));
    assert!(solved > 150, "{solved}");
    assert_eq!((counted.count_current, counted.bytes_current), (0, 0));
    assert!(counted.bytes_max < 16 << 10, "{} bytes", counted.bytes_max);
}
