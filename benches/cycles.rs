//! Cycles over the conditions of a chiller, sensitivities, and 100,000 trend rows.
//!
//! A name that begins with a goal (`G5a`) is a row of the comparison by `make bench-reference`.

#[allow(dead_code, reason = "points are for the benches of properties")]
mod chiller;

use std::hint::black_box;

use chiller::{ThreadClock, calls, numbers};
use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use interstage::{
    Circuit, Conditions, FlashTank, Interstage, Reading, Readings, Refrigerant, Size, Stage, TrendAnalysis,
};

fn circuit(refrigerant: &str, stages: usize, stage: Stage) -> Option<Circuit> {
    let refrigerant = Refrigerant::named(refrigerant).ok()?;
    refrigerant.prepare().ok()?;
    let tanks = vec![Interstage::FlashTank(FlashTank::new()); stages - 1];
    Circuit::new(refrigerant, vec![stage; stages], tanks).ok()
}

fn cycles(c: &mut Criterion<ThreadClock>) {
    let mut random = numbers(0x2545_f491_4f6c_dd1d);
    // Evaporating at 1 to 15 degC, condensing at 25 to 55 degC.
    let conditions: Vec<_> = (0..1000)
        .map(|_| Conditions::new(274.15 + 14.0 * random(), 298.15 + 30.0 * random(), Size::Capacity(3.5e6)))
        .collect();
    for refrigerant in ["R-134a", "R-123", "R-1233zd(E)", "R-1234ze(E)", "R-718"] {
        let mut group = c.benchmark_group(refrigerant);
        group.throughput(calls(&conditions));
        for (name, stage) in [
            ("G5a two stages, one tank, isentropic", Stage::isentropic(0.8)),
            ("two stages, one tank, polytropic", Stage::polytropic(0.8)),
        ] {
            let Some(circuit) = stage.ok().and_then(|stage| circuit(refrigerant, 2, stage)) else { continue };
            let mut results = Vec::with_capacity(conditions.len());
            group.bench_function(name, |b| {
                b.iter(|| {
                    results.clear();
                    results.extend(conditions.iter().filter_map(|conditions| circuit.solve(conditions).ok()));
                    black_box(&mut results);
                });
                assert_eq!(results.len(), conditions.len(), "{name}: some cycles failed");
            });
        }
        group.finish();
    }
    let design = Conditions::new(278.15, 310.15, Size::Capacity(3.5e6));
    if let Some(circuit) = Stage::isentropic(0.8).ok().and_then(|stage| circuit("R-134a", 2, stage)) {
        c.bench_function("R-134a, sensitivities", |b| b.iter(|| circuit.sensitivities(black_box(&design))));
    }
}

/// On all threads, and therefore by the clock on the wall.
fn trend(c: &mut Criterion) {
    const ROWS: usize = 100_000;
    let wave = |low: f64, high: f64, period: f64| -> Vec<f64> {
        (0..ROWS).map(|i| low + (high - low) * (0.5 + 0.5 * (i as f64 / period).sin())).collect()
    };
    let columns = [
        (Reading::EvaporatorPressure, wave(58e3, 62e3, 300.0)),
        (Reading::TankPressure(2), wave(95e3, 110e3, 500.0)),
        (Reading::CondenserPressure, wave(150e3, 200e3, 500.0)),
        (Reading::DischargeTemperature, wave(307.0, 317.0, 500.0)),
        (Reading::ChilledWaterEntering, wave(284.0, 286.0, 300.0)),
        (Reading::ChilledWaterLeaving, wave(279.5, 280.5, 300.0)),
        (Reading::ChilledWaterFlow, wave(0.14, 0.15, 1000.0)),
        (Reading::CondenserWaterEntering, wave(293.0, 303.0, 500.0)),
        (Reading::CondenserWaterLeaving, wave(298.0, 308.0, 500.0)),
        (Reading::CondenserWaterFlow, wave(0.17, 0.18, 1000.0)),
        (Reading::Power, wave(3.0e5, 5.0e5, 500.0)),
    ];
    let readings =
        columns.iter().try_fold(Readings::new(), |all, (reading, column)| all.with(*reading, column));
    let Ok(readings) = readings else { return };
    let mut group = c.benchmark_group("trend");
    group.sample_size(10).throughput(Throughput::Elements(ROWS as u64));
    for (kind, stage) in [("isentropic", Stage::isentropic(0.8)), ("polytropic", Stage::polytropic(0.8))] {
        let circuit = stage.ok().and_then(|stage| circuit("R-1233zd(E)", 2, stage));
        let Some(analysis) = circuit.and_then(|circuit| TrendAnalysis::new(circuit).ok()) else { continue };
        group.bench_function(format!("100,000 rows, two stages, one tank, {kind}"), |b| {
            b.iter(|| analysis.analyse(black_box(&readings)));
        });
    }
    group.finish();
}

fn criterion() -> Criterion<ThreadClock> {
    Criterion::default().with_measurement(ThreadClock).sample_size(20)
}

criterion_group! { name = by_thread; config = criterion(); targets = cycles }
criterion_group!(by_wall, trend);
criterion_main!(by_thread, by_wall);
