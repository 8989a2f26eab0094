//! One cycle, its sensitivities, and 100,000 trend rows.

use std::hint::black_box;

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

fn one_cycle(c: &mut Criterion) {
    let mut group = c.benchmark_group("cycle");
    let conditions = Conditions::new(278.15, 310.15, Size::Capacity(3.5e6));
    for refrigerant in ["R-134a", "R-123", "R-1233zd(E)", "R-1234ze(E)"] {
        for (kind, stage) in [("isentropic", Stage::isentropic(0.8)), ("polytropic", Stage::polytropic(0.8))]
        {
            let Some(circuit) = stage.ok().and_then(|stage| circuit(refrigerant, 2, stage)) else { continue };
            group.bench_function(format!("{refrigerant}, two stages, one tank, {kind}"), |b| {
                b.iter(|| circuit.solve(black_box(&conditions)));
            });
        }
    }
    if let Some(circuit) = Stage::isentropic(0.8).ok().and_then(|stage| circuit("R-134a", 2, stage)) {
        group.bench_function("R-134a, sensitivities", |b| {
            b.iter(|| circuit.sensitivities(black_box(&conditions)));
        });
    }
    group.finish();
}

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

criterion_group!(benches, one_cycle, trend);
criterion_main!(benches);
