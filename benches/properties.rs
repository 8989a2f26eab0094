//! Saturation and states from every pair, at the points of a chiller, for every refrigerant.
//!
//! A name that begins with a goal (`G1` ...) is a row of the comparison by `make bench-reference`. Each time is that of one
//! pass over all points, results stored; the throughput is that of one call.

mod chiller;

use std::hint::black_box;

use chiller::{ThreadClock, calls, points};
use criterion::measurement::Measurement;
use criterion::{BenchmarkGroup, Criterion, criterion_group, criterion_main};
use interstage::{
    DerivativeColumns, Derivatives, Phase, Refrigerant, Result, SERIAL_ROWS, Saturation, State, StateColumns,
};

/// Name of a pair, and the state found from it.
type Pair = (&'static str, fn(&Refrigerant, &State) -> Result<State>);

/// Pairs for points of every phase.
const PAIRS: [Pair; 10] = [
    ("G4a p, h", |r, s| r.state_ph(s.pressure(), s.enthalpy())),
    ("G4a p, s", |r, s| r.state_ps(s.pressure(), s.entropy())),
    ("G4d h, s", |r, s| r.state_hs(s.enthalpy(), s.entropy())),
    ("p, u", |r, s| r.state_pu(s.pressure(), s.internal_energy())),
    ("T, s", |r, s| r.state_ts(s.temperature(), s.entropy())),
    ("T, h", |r, s| r.state_th(s.temperature(), s.enthalpy())),
    ("T, u", |r, s| r.state_tu(s.temperature(), s.internal_energy())),
    ("T, rho", |r, s| r.state_t_rho(s.temperature(), s.density())),
    ("rho, p", |r, s| r.state_rho_p(s.density(), s.pressure())),
    ("rho, h", |r, s| r.state_rho_h(s.density(), s.enthalpy())),
];

/// Pairs for two-phase points.
const WET_PAIRS: [Pair; 2] = [
    ("G4e p, x", |r, s| r.state_px(s.pressure(), s.quality().unwrap_or(0.5))),
    ("G4e T, x", |r, s| r.state_tx(s.temperature(), s.quality().unwrap_or(0.5))),
];

/// The same call at every point, one after the other.
fn bench<M: Measurement, P, T>(
    group: &mut BenchmarkGroup<'_, M>,
    name: &str,
    points: &[P],
    call: impl Fn(&P) -> Result<T>,
) {
    let mut results = Vec::with_capacity(points.len());
    group.throughput(calls(points)).bench_function(name, |b| {
        b.iter(|| {
            results.clear();
            results.extend(points.iter().filter_map(|point| call(point).ok()));
            black_box(&mut results);
        });
        assert_eq!(results.len(), points.len(), "{name}: some calls failed");
    });
}

/// The state at temperature and density, heat capacity and speed of sound.
fn from_density(refrigerant: &Refrigerant, point: &State) -> Result<(State, Option<Derivatives>)> {
    refrigerant.state_with_derivatives(point.temperature(), point.density())
}

/// The same in columns of as many rows as stay on one thread.
fn columns_from_density<M: Measurement>(
    group: &mut BenchmarkGroup<'_, M>,
    refrigerant: &Refrigerant,
    points: &[State],
) -> Result<()> {
    let temperature: Vec<_> = points.iter().map(State::temperature).collect();
    let density: Vec<_> = points.iter().map(State::density).collect();
    let mut made = Ok(());
    let mut chunks: Vec<_> = points
        .chunks(SERIAL_ROWS)
        .map(|chunk| (StateColumns::with_rows(chunk.len()), DerivativeColumns::with_rows(chunk.len())))
        .collect();
    group.throughput(calls(points)).bench_function("G3 T, rho, columns", |b| {
        b.iter(|| {
            let inputs = temperature.chunks(SERIAL_ROWS).zip(density.chunks(SERIAL_ROWS));
            made = inputs.zip(&mut chunks).try_for_each(|((temperature, density), (states, slopes))| {
                let (states, slopes) = (states.as_slices(), slopes.as_slices());
                refrigerant.states_with_derivatives(temperature, density, states, slopes)
            });
            black_box(&mut chunks);
        });
        let finite = |(_, slopes): &(_, DerivativeColumns)| slopes.cp.iter().all(|cp| cp.is_finite());
        assert!(chunks.iter().all(finite), "some rows failed");
    });
    made
}

fn every_call(c: &mut Criterion<ThreadClock>, refrigerant: &Refrigerant) -> Result<()> {
    let points = points(refrigerant);
    let is_wet = |state: &State| state.phase() == Phase::TwoPhase;
    let (wet, single): (Vec<State>, Vec<State>) = points.iter().copied().partition(is_wet);
    let saturations = points
        .iter()
        .map(|point| refrigerant.saturation_at_pressure(point.pressure()))
        .collect::<Result<Vec<_>>>()?;

    let mut group = c.benchmark_group(refrigerant.name());
    bench(&mut group, "G1 saturation at T", &saturations, |saturation| {
        refrigerant.saturation_at_temperature(saturation.temperature())
    });
    bench(&mut group, "G2 saturation temperature at p", &saturations, |saturation: &Saturation| {
        refrigerant.saturation_temperature(saturation.pressure())
    });
    bench(&mut group, "G3 T, rho", &single, |point| from_density(refrigerant, point));
    columns_from_density(&mut group, refrigerant, &single)?;
    bench(&mut group, "G4c p, T", &single, |point| {
        refrigerant.state_pt(point.pressure(), point.temperature())
    });
    for (name, pair) in PAIRS {
        bench(&mut group, name, &points, |point| pair(refrigerant, point));
    }
    for (name, pair) in WET_PAIRS {
        bench(&mut group, name, &wet, |point| pair(refrigerant, point));
    }
    group.finish();
    Ok(())
}

fn properties(c: &mut Criterion<ThreadClock>) {
    for name in Refrigerant::catalogue() {
        let made = Refrigerant::named(name).and_then(|refrigerant| every_call(c, &refrigerant));
        assert_eq!(made, Ok(()), "{name}");
    }
}

fn criterion() -> Criterion<ThreadClock> {
    use std::time::Duration;
    Criterion::default()
        .with_measurement(ThreadClock)
        .sample_size(20)
        .warm_up_time(Duration::from_millis(300))
        .measurement_time(Duration::from_millis(1200))
}

criterion_group! { name = benches; config = criterion(); targets = properties }
criterion_main!(benches);
