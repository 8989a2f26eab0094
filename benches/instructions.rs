//! Instructions of a call on R-134a: what a busy machine cannot disturb.
//!
//! Without arguments it runs itself under valgrind, each call in one pass over the points of a chiller and in two, and prints
//! the difference by point. `make instructions` builds it for x86-64-v3.
#![expect(clippy::print_stdout, reason = "it is a program")]

#[allow(dead_code, reason = "the clock is for the benches that tell time")]
mod chiller;

use std::hint::black_box;
use std::process::{Command, ExitCode};

use interstage::{Phase, Refrigerant, Result, State};

/// A call from a point of a chiller; `None` where it is not for such a point.
type Call = fn(&Refrigerant, &State) -> Option<Result<()>>;

fn is_wet(state: &State) -> bool {
    state.phase() == Phase::TwoPhase
}

/// Looks at what a call gave, so that all of it is worked out.
fn seen<T>(given: Result<T>) -> Result<()> {
    given.map(|given| {
        black_box(&given);
    })
}

/// Name, the goal in instructions if there is one, and the call.
const CALLS: [(&str, Option<u64>, Call); 9] = [
    // In the critical region and above there is none: vapor may be that hot.
    ("saturation at T", Some(120), |r, s| {
        Some(seen(r.saturation_at_temperature(s.temperature().min(330.0))))
    }),
    ("saturation at p", None, |r, s| Some(seen(r.saturation_at_pressure(s.pressure())))),
    ("saturation temperature at p", Some(80), |r, s| Some(seen(r.saturation_temperature(s.pressure())))),
    ("p, h", Some(900), |r, s| Some(seen(r.state_ph(s.pressure(), s.enthalpy())))),
    ("p, s", None, |r, s| Some(seen(r.state_ps(s.pressure(), s.entropy())))),
    ("T, rho: p h s cp w", Some(1100), |r, s| {
        (!is_wet(s)).then(|| seen(r.state_with_derivatives(s.temperature(), s.density())))
    }),
    ("T, p", None, |r, s| (!is_wet(s)).then(|| seen(r.state_pt(s.pressure(), s.temperature())))),
    ("h, s", None, |r, s| Some(seen(r.state_hs(s.enthalpy(), s.entropy())))),
    ("p, x", None, |r, s| s.quality().filter(|_| is_wet(s)).map(|x| seen(r.state_px(s.pressure(), x)))),
];

/// Makes a call at every point as often as asked for, and gives the number of calls of one pass.
fn run(call: Call, passes: u32) -> Result<usize> {
    let refrigerant = Refrigerant::named("R-134a")?;
    let points = chiller::points(&refrigerant);
    let mut calls = 0;
    for _ in 0..passes {
        calls = 0;
        for point in &points {
            if let Some(done) = call(&refrigerant, black_box(point)) {
                done?;
                calls += 1;
            }
        }
    }
    Ok(calls)
}

/// Instructions of this program for one of the calls.
fn counted(name: &str, passes: u32) -> std::result::Result<u64, String> {
    let program = std::env::current_exe().map_err(|error| error.to_string())?;
    let output = Command::new("valgrind")
        .args(["--tool=callgrind", "--callgrind-out-file=/dev/null"])
        .arg(program)
        .args([name, &passes.to_string()])
        .output()
        .map_err(|error| format!("valgrind does not start: {error}"))?;
    let text = String::from_utf8_lossy(&output.stderr);
    let number = text.lines().find_map(|line| line.split_once("Collected :"));
    number
        .and_then(|(_, number)| number.trim().parse().ok())
        .filter(|_| output.status.success())
        .ok_or_else(|| text.into_owned())
}

fn table() -> std::result::Result<(), String> {
    println!("| call on R-134a | instructions | goal |\n|---|---:|---:|");
    for (name, goal, call) in CALLS {
        let calls = run(call, 1).map_err(|error| error.to_string())? as u64;
        let pass = counted(name, 2)? - counted(name, 1)?;
        let goal = goal.map_or("-".to_owned(), |goal| goal.to_string());
        println!("| {name} | {} | {goal} |", pass / calls);
    }
    Ok(())
}

fn main() -> ExitCode {
    // cargo bench adds an argument of its own.
    let arguments: Vec<_> = std::env::args().skip(1).filter(|argument| argument != "--bench").collect();
    let done = match &arguments[..] {
        [] => table(),
        [name, passes] => CALLS
            .iter()
            .find(|(known, ..)| known == name)
            .ok_or_else(|| format!("{name} is no call"))
            .and_then(|(.., call)| run(*call, passes.parse().unwrap_or(1)).map_err(|error| error.to_string()))
            .map(|_| ()),
        _ => Err("arguments: none, or a call and the number of passes".to_owned()),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            println!("{error}");
            ExitCode::FAILURE
        }
    }
}
