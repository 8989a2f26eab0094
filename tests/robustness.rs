//! The long run: a hundred thousand random states of every refrigerant through each of the main pairs of properties, a tenth
//! of that through every other pair, and a table of what failed.
//!
//! `make robust` runs it. `INTERSTAGE_SEED=<number>` and `INTERSTAGE_CASES=<number>` set seed and cases,
//! `INTERSTAGE_PAIR=state_hs` leaves all pairs but one out. What `properties.rs`
//! asks of a few thousand states is asked here of millions, and counted instead of stopped at.

mod states;

use std::fmt;

use interstage::{Error, Phase, Refrigerant, State};
use proptest::prelude::Rng;
use proptest::test_runner::{RngAlgorithm, TestRng};
use states::random::{all_finite, between, seed, try_random_state};
use states::{
    NEAR_SINGULAR, Of, PAIRS, Pair, hottest_saturation, is_stable, refrigerants, residual, tolerance_of,
};

/// The pairs that chiller work is made of.
const MAIN: [&str; 4] = ["state_ph", "state_ps", "state_hs", "state_pt"];

/// Pairs of which every state of a pure fluid has its own numbers.
const UNIQUE: [&str; 5] = ["state_pt", "state_ph", "state_ps", "state_pu", "state_hs"];

/// Relative error of density that is no rounding, where the pair tells the density at all.
const ELSEWHERE: f64 = 1e-9;

/// What became of one case.
enum Outcome {
    Right,
    /// The numbers of a state were refused as outside of some range.
    Refused(String),
    /// Any other error.
    Raised(String),
    /// A state that does not hold.
    Wrong(String),
}

#[derive(Debug, Clone, Default)]
struct Count {
    cases: u32,
    refused: u32,
    raised: u32,
    wrong: u32,
    /// The first failure.
    first: Option<String>,
}

impl Count {
    fn add(&mut self, outcome: Outcome) {
        self.cases += 1;
        let (count, text) = match outcome {
            Outcome::Right => return,
            Outcome::Refused(text) => (&mut self.refused, text),
            Outcome::Raised(text) => (&mut self.raised, text),
            Outcome::Wrong(text) => (&mut self.wrong, text),
        };
        *count += 1;
        self.first.get_or_insert(text);
    }

    fn join(&mut self, other: &Self) {
        self.cases += other.cases;
        self.refused += other.refused;
        self.raised += other.raised;
        self.wrong += other.wrong;
    }
}

/// Refused, raised and wrong.
impl fmt::Display for Count {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} / {} / {}", self.refused, self.raised, self.wrong)
    }
}

fn cases() -> u32 {
    std::env::var("INTERSTAGE_CASES").ok().and_then(|text| text.parse().ok()).unwrap_or(100_000)
}

/// Numbers that depend on the seed, the refrigerant and the pair alone.
fn numbers(refrigerant: &Refrigerant, pair: &str) -> impl FnMut() -> f64 {
    let mut bytes = [0; 32];
    bytes[..8].copy_from_slice(&seed().to_le_bytes());
    for (place, byte) in refrigerant.name().bytes().chain(pair.bytes()).enumerate() {
        bytes[8 + place % 24] ^= byte.rotate_left((place / 24) as u32);
    }
    let mut random = TestRng::from_seed(RngAlgorithm::ChaCha, &bytes);
    move || (random.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
}

fn failed(error: &Error, what: &str) -> Outcome {
    let text = format!("{what}: {error}");
    if matches!(error, Error::OutOfRange { .. }) { Outcome::Refused(text) } else { Outcome::Raised(text) }
}

/// Whether a state of a pair with one solution is another one than that its numbers came from.
fn is_elsewhere(refrigerant: &Refrigerant, pair: &Pair, from: &State, back: &State) -> bool {
    let blend = refrigerant.composition().is_some();
    let wet = |state: &State| state.phase() == Phase::TwoPhase || state.quality().is_some();
    if !UNIQUE.contains(&pair.name) || (blend && pair.name == "state_hs") || wet(from) || wet(back) {
        return false;
    }
    let [_, conditioning] = pair.conditioning(refrigerant, from);
    let allowed = ELSEWHERE.max(4.0 * conditioning * tolerance_of(refrigerant, from));
    // As in `is_stable`: next to the critical point of a pure fluid a density is hardly told by anything.
    let close = (from.temperature() / refrigerant.critical_temperature() - 1.0).abs() < 10.0 * NEAR_SINGULAR;
    !close && (back.density() / from.density() - 1.0).abs() > allowed
}

/// One state through one pair.
fn tried(refrigerant: &Refrigerant, pair: &Pair, from: &State) -> Outcome {
    let (a, b) = pair.of(from);
    let what = || format!("{}({a:?}, {b:?}) of {from:?}", pair.name);
    let back = match (pair.make)(refrigerant, a, b) {
        Ok(back) => back,
        Err(error) => return failed(&error, &what()),
    };
    let wrong = |why: &str| Outcome::Wrong(format!("{}: {why}: {back:?}", what()));
    if !all_finite(&back) {
        return wrong("not finite");
    }
    if pair.of(&back) != (a, b) {
        return wrong("does not return what it was given");
    }
    if !is_stable(refrigerant, &back) {
        return wrong("not the stable phase");
    }
    let left = residual(refrigerant, &back);
    if left.is_nan() || left > tolerance_of(refrigerant, &back) {
        return wrong(&format!("residual {left:e}"));
    }
    if is_elsewhere(refrigerant, pair, from, &back) {
        return wrong("another state");
    }
    Outcome::Right
}

fn through_a_pair(refrigerant: &Refrigerant, pair: &Pair, cases: u32) -> Count {
    let mut random = numbers(refrigerant, pair.name);
    let mut count = Count::default();
    while count.cases < cases {
        let draw = (random(), random(), random());
        match try_random_state(refrigerant, draw) {
            // Pressure and temperature do not tell the quality.
            Ok(from) if pair.name == "state_pt" && from.quality().is_some() => {}
            Ok(from) => count.add(tried(refrigerant, pair, &from)),
            Err(error) => count.add(failed(&error, &format!("random state {draw:?}"))),
        }
    }
    count
}

/// Two-phase states at temperature or pressure and quality.
fn through_quality(refrigerant: &Refrigerant, at_pressure: bool, cases: u32) -> Count {
    let name = if at_pressure { "state_px" } else { "state_tx" };
    let mut random = numbers(refrigerant, name);
    let mut count = Count::default();
    let coldest = refrigerant.minimum_saturation_temperature();
    for _ in 0..cases {
        let temperature = between(random(), coldest, hottest_saturation(refrigerant) * (1.0 - 1e-9));
        let quality = random();
        let made = if at_pressure {
            // The coldest wet states of a blend at a pressure are colder than its range.
            let warm = refrigerant.composition().map_or(0.0, |_| 10.0);
            refrigerant
                .saturation_at_temperature((temperature + warm).min(hottest_saturation(refrigerant)))
                .and_then(|saturation| refrigerant.state_px(saturation.pressure(), quality))
        } else {
            refrigerant.state_tx(temperature, quality)
        };
        let what = format!("{name} at {temperature:?} K, {quality:?}");
        count.add(match made {
            Err(error) => failed(&error, &what),
            Ok(state) => {
                let left = residual(refrigerant, &state);
                let right = state.quality() == Some(quality)
                    && all_finite(&state)
                    && is_stable(refrigerant, &state)
                    && left <= tolerance_of(refrigerant, &state);
                if right { Outcome::Right } else { Outcome::Wrong(format!("{what}: {left:e}, {state:?}")) }
            }
        });
    }
    count
}

/// Every refrigerant by its newest equation, then those by the older ones.
fn with_older_equations() -> Vec<Refrigerant> {
    let mut all = refrigerants();
    let older: Vec<_> = all
        .iter()
        .flat_map(|refrigerant| {
            refrigerant.equations().skip(1).map(|equation| (refrigerant.clone(), equation))
        })
        .filter_map(|(refrigerant, equation)| refrigerant.with_equation(equation).ok())
        .collect();
    all.extend(older);
    all
}

#[test]
#[ignore = "millions of states: make robust"]
fn long_run() {
    let cases = cases();
    let asked = std::env::var("INTERSTAGE_PAIR").ok();
    println!(
        "seed {}, {cases} cases a main pair, {} every other; refused / raised / wrong",
        seed(),
        cases / 10
    );
    println!("| refrigerant | p, h | p, s | h, s | T, p | other pairs |\n|---|---|---|---|---|---|");
    let mut all = Count::default();
    let mut failures = Vec::new();
    for refrigerant in with_older_equations() {
        let older = Refrigerant::named(refrigerant.name()) != Ok(refrigerant.clone());
        let name = if older {
            format!("{}, {}", refrigerant.name(), refrigerant.equation_of_state())
        } else {
            refrigerant.name().to_owned()
        };
        let mut take = |count: Count, pair: &str| {
            all.join(&count);
            if let Some(first) = &count.first {
                failures.push(format!("{name} {pair}: {count}: {first}"));
            }
            count
        };
        let is_asked = |name: &str| asked.as_deref().is_none_or(|asked| asked == name);
        let main = MAIN.map(|name| {
            if !is_asked(name) {
                return Count::default().to_string();
            }
            let pair = PAIRS.iter().find(|pair| pair.name == name).expect("every main pair is a pair");
            take(through_a_pair(&refrigerant, pair, cases), name).to_string()
        });
        let mut others = Count::default();
        for pair in PAIRS.iter().filter(|pair| !MAIN.contains(&pair.name) && is_asked(pair.name)) {
            others.join(&take(through_a_pair(&refrigerant, pair, cases / 10), pair.name));
        }
        for (at_pressure, pair) in [(true, "state_px"), (false, "state_tx")] {
            if is_asked(pair) {
                others.join(&take(through_quality(&refrigerant, at_pressure, cases / 10), pair));
            }
        }
        println!("| {name} | {} | {others} |", main.join(" | "));
    }
    println!("{} cases: {all}", all.cases);
    for failure in &failures {
        println!("{failure}");
    }
    assert!(failures.is_empty(), "{all} of {} cases", all.cases);
}

/// The count itself sees what is wrong: a state of another phase, of another density, and an error.
#[test]
fn failures_are_counted() {
    let refrigerant = Refrigerant::named("R-134a").expect("it is in the catalogue");
    let from = refrigerant.state_pt(1e6, 350.0).expect("a vapor");
    let denser = refrigerant.state_pt(1.1e6, 350.0).expect("a vapor");
    let of = |make| Pair { name: "state_ph", given: [Of::Pressure, Of::Enthalpy], make };
    let right = of(Refrigerant::state_ph);
    let other = of(|r, p, h| r.state_ph(1.0001 * p, h));
    let none = of(|r, p, _| r.state_ph(p, f64::NAN));
    let far = of(|r, p, _| r.state_ph(p, 1e9));
    assert!(matches!(tried(&refrigerant, &right, &from), Outcome::Right));
    assert!(matches!(tried(&refrigerant, &other, &from), Outcome::Wrong(_)));
    assert!(matches!(tried(&refrigerant, &none, &from), Outcome::Raised(_)));
    assert!(matches!(tried(&refrigerant, &far, &from), Outcome::Refused(_)));
    assert!(
        is_elsewhere(&refrigerant, &right, &from, &denser)
            && !is_elsewhere(&refrigerant, &right, &from, &from)
    );
}
