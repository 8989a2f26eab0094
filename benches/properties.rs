//! Saturation and states from every pair, on mixed chiller conditions of every refrigerant.

use std::hint::black_box;

use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
use interstage::{Refrigerant, Result, State};

/// Points as a chiller has them: 40 % vapor up to 40 K superheated, 30 % liquid up to 15 K subcooled, 30 % two-phase,
/// saturation temperatures of -5 to 15 and 20 to 55 degC; deterministic and in mixed order.
fn points(refrigerant: &Refrigerant) -> Vec<State> {
    let mut seed = 0x9e37_79b9_7f4a_7c15_u64;
    let mut random = move || {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (seed >> 11) as f64 / (1_u64 << 53) as f64
    };
    let mut points = Vec::new();
    while points.len() < 1000 {
        let celsius = if random() < 0.5 { -5.0 + 20.0 * random() } else { 20.0 + 35.0 * random() };
        let temperature = (273.15 + celsius).max(refrigerant.minimum_saturation_temperature() + 0.5);
        let Ok(saturation) = refrigerant.saturation_at_temperature(temperature) else { continue };
        let kind = random();
        let state = if kind < 0.4 {
            refrigerant.state_pt(saturation.pressure(), temperature + 0.01 + 40.0 * random())
        } else if kind < 0.7 {
            let colder = (temperature - 15.0 * random()).max(refrigerant.minimum_saturation_temperature());
            refrigerant.state_pt(saturation.pressure() * 1.001, colder)
        } else {
            refrigerant.state_px(saturation.pressure(), random())
        };
        points.extend(state);
    }
    points
}

/// Name of a pair, and the state found from it.
type Pair = (&'static str, fn(&Refrigerant, &State) -> Result<State>);

const PAIRS: [Pair; 13] = [
    ("p, h", |r, s| r.state_ph(s.pressure(), s.enthalpy())),
    ("p, s", |r, s| r.state_ps(s.pressure(), s.entropy())),
    ("p, u", |r, s| r.state_pu(s.pressure(), s.internal_energy())),
    ("p, T", |r, s| r.state_pt(s.pressure(), s.temperature())),
    ("h, s", |r, s| r.state_hs(s.enthalpy(), s.entropy())),
    ("T, s", |r, s| r.state_ts(s.temperature(), s.entropy())),
    ("T, h", |r, s| r.state_th(s.temperature(), s.enthalpy())),
    ("T, u", |r, s| r.state_tu(s.temperature(), s.internal_energy())),
    ("T, rho", |r, s| r.state_t_rho(s.temperature(), s.density())),
    ("rho, p", |r, s| r.state_rho_p(s.density(), s.pressure())),
    ("rho, h", |r, s| r.state_rho_h(s.density(), s.enthalpy())),
    ("p, x", |r, s| r.state_px(s.pressure(), s.quality().unwrap_or(0.5))),
    ("T, x", |r, s| r.state_tx(s.temperature(), s.quality().unwrap_or(0.5))),
];

fn properties(c: &mut Criterion) {
    for name in Refrigerant::catalogue() {
        let Ok(refrigerant) = Refrigerant::named(name) else { continue };
        let points = points(&refrigerant);
        let mut group = c.benchmark_group(name);
        group.sample_size(20);
        let mut bench = |label: &str, call: &dyn Fn(&State)| {
            let mut next = points.iter().cycle();
            group.bench_function(label, |b| {
                b.iter_batched(|| next.next(), |point| point.map(call), BatchSize::SmallInput);
            });
        };
        bench("saturation at T", &|s| {
            let _ = black_box(refrigerant.saturation_at_temperature(s.temperature().min(340.0)));
        });
        bench("saturation at p", &|s| {
            let _ = black_box(refrigerant.saturation_at_pressure(s.pressure()));
        });
        for (label, pair) in PAIRS {
            bench(label, &|s| {
                let _ = black_box(pair(&refrigerant, s));
            });
        }
        group.finish();
    }
}

criterion_group!(benches, properties);
criterion_main!(benches);
