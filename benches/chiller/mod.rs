//! What the benches share: points as a chiller has them, and the clock.

use std::time::Duration;

use cpu_time::ThreadTime;
use criterion::Throughput;
use criterion::measurement::{Measurement, ValueFormatter, WallTime};
use interstage::{Refrigerant, State};

/// The processor time of the calling thread: what other programs take on the same machine does not count.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ThreadClock;

impl Measurement for ThreadClock {
    type Intermediate = ThreadTime;
    type Value = Duration;

    fn start(&self) -> ThreadTime {
        ThreadTime::now()
    }

    fn end(&self, start: ThreadTime) -> Duration {
        start.elapsed()
    }

    fn add(&self, first: &Duration, second: &Duration) -> Duration {
        *first + *second
    }

    fn zero(&self) -> Duration {
        Duration::ZERO
    }

    fn to_f64(&self, value: &Duration) -> f64 {
        WallTime.to_f64(value)
    }

    fn formatter(&self) -> &dyn ValueFormatter {
        WallTime.formatter()
    }
}

/// Numbers from 0 to 1, the same in every run.
pub(crate) fn numbers(mut seed: u64) -> impl FnMut() -> f64 {
    move || {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (seed >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// As many points as a bench goes through in one pass.
pub(crate) const POINTS: usize = 5120;

/// Calls of one pass.
pub(crate) fn calls(points: &[impl Sized]) -> Throughput {
    Throughput::Elements(points.len() as u64)
}

/// Points as a chiller has them: 40 % vapor 0.01 to 40 K superheated, 30 % liquid 0.01 to 15 K subcooled, 30 % two-phase;
/// saturation temperatures of -5 to 15 and 20 to 55 degC, of water from 1 degC. Deterministic and in mixed order.
pub(crate) fn points(refrigerant: &Refrigerant) -> Vec<State> {
    let mut random = numbers(0x9e37_79b9_7f4a_7c15);
    let mut points = Vec::with_capacity(POINTS);
    while points.len() < POINTS {
        let celsius = if random() < 0.5 { -5.0 + 20.0 * random() } else { 20.0 + 35.0 * random() };
        let (kind, share) = (random(), random());
        let temperature = (273.15 + celsius).max(refrigerant.minimum_saturation_temperature() + 0.99);
        let Ok(saturation) = refrigerant.saturation_at_temperature(temperature) else { continue };
        let state = if kind < 0.4 {
            let dew = saturation.vapor().temperature();
            refrigerant.state_pt(saturation.vapor().pressure(), dew + 0.01 + 39.99 * share)
        } else if kind < 0.7 {
            let liquid = saturation.liquid();
            let colder = liquid.temperature() - 0.01 - 14.99 * share;
            refrigerant
                .state_pt(liquid.pressure(), colder.max(refrigerant.minimum_saturation_temperature() + 0.04))
        } else {
            refrigerant.state_px(saturation.pressure(), share)
        };
        points.extend(state);
    }
    points
}
