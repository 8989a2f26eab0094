//! The threads of batch calls: a pool of our own, made at the first use and made again after a fork.

use std::mem;
use std::process;
use std::sync::{Arc, LazyLock, Mutex, PoisonError};
use std::thread::available_parallelism;

use interstage::Error;
use pyo3::prelude::*;
use pyo3::types::PyInt;
use rayon::{ThreadPool, ThreadPoolBuilder};

use crate::errors::{from_core, unknown_option, wrong_argument};

/// More threads than any machine has cores.
const MOST: usize = 4096;

/// Environment variable with the number of threads.
const VARIABLE: &str = "INTERSTAGE_THREADS";

struct Threads {
    chosen: Option<usize>,
    pool: Option<Pool>,
}

struct Pool {
    process: u32,
    threads: usize,
    pool: Arc<ThreadPool>,
}

/// Locked only while attached to the interpreter and never across a call into it, so no fork from Python can leave it
/// locked.
static THREADS: Mutex<Threads> = Mutex::new(Threads { chosen: None, pool: None });

/// The number of processors at hand.
static PROCESSORS: LazyLock<usize> = LazyLock::new(|| available_parallelism().map_or(1, usize::from));

/// Where a batch call runs.
pub(crate) enum Runner {
    /// On the calling thread.
    Serial,
    /// On the threads of a pool.
    Pool(Arc<ThreadPool>),
}

impl Runner {
    /// The runner of a call: `threads` as passed, or what was set before. A `small` call stays on its thread.
    pub(crate) fn new(py: Python<'_>, threads: Option<&Bound<'_, PyAny>>, small: bool) -> PyResult<Self> {
        let asked = threads.map(count).transpose()?;
        if small {
            return Ok(Self::Serial);
        }
        let usual = get_threads(py)?;
        let wanted = asked.unwrap_or(usual);
        if wanted == 1 {
            return Ok(Self::Serial);
        }
        if wanted != usual {
            return Ok(built(wanted).map_or(Self::Serial, Self::Pool));
        }
        let mut known = THREADS.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(Pool { process, threads, pool }) = &known.pool
            && *process == process::id()
            && *threads == wanted
        {
            return Ok(Self::Pool(Arc::clone(pool)));
        }
        let Some(pool) = built(wanted) else { return Ok(Self::Serial) };
        let new = Pool { process: process::id(), threads: wanted, pool: Arc::clone(&pool) };
        match known.pool.replace(new) {
            // The threads of a pool made before a fork do not exist here: it must not be asked to end them.
            Some(old) if old.process != process::id() => mem::forget(old),
            _ => {}
        }
        Ok(Self::Pool(pool))
    }

    /// Whether several threads share the work.
    pub(crate) fn shares(&self) -> bool {
        matches!(self, Self::Pool(_))
    }

    /// Runs a function there.
    pub(crate) fn run<T: Send>(&self, function: impl FnOnce() -> T + Send) -> T {
        match self {
            Self::Serial => function(),
            Self::Pool(pool) => pool.install(function),
        }
    }
}

/// A new pool, or none where the system grants no threads: the work is then done on the calling thread.
fn built(threads: usize) -> Option<Arc<ThreadPool>> {
    ThreadPoolBuilder::new().num_threads(threads).build().ok().map(Arc::new)
}

fn count(threads: &Bound<'_, PyAny>) -> PyResult<usize> {
    let py = threads.py();
    if !threads.is_exact_instance_of::<PyInt>() {
        let message = format!("threads must be a whole number, got {}", threads.get_type().name()?);
        return Err(wrong_argument(py, "threads", &message));
    }
    match threads.extract::<usize>() {
        Ok(count) if (1..=MOST).contains(&count) => Ok(count),
        _ => {
            let value = threads.extract().unwrap_or(f64::INFINITY);
            let reason = "the number of threads of a call".to_owned();
            let (minimum, maximum, unit) = (1.0, MOST as f64, "-");
            let error = Error::OutOfRange { argument: "threads", value, minimum, maximum, unit, reason };
            Err(from_core(py, &error))
        }
    }
}

/// Set the number of threads of batch calls.
///
/// Results do not depend on it. Without it the environment variable ``INTERSTAGE_THREADS`` holds, and without that the
/// number of processors at hand.
///
/// Parameters
/// ----------
/// threads : int or None
///     Number of threads, 1 to 4096; 1 stays on the calling thread. None returns to the default.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> interstage.set_threads(1)
/// >>> interstage.get_threads()
/// 1
/// >>> interstage.set_threads(None)
#[pyfunction]
pub(crate) fn set_threads(threads: Option<&Bound<'_, PyAny>>) -> PyResult<()> {
    let chosen = threads.map(count).transpose()?;
    THREADS.lock().unwrap_or_else(PoisonError::into_inner).chosen = chosen;
    Ok(())
}

/// The number of threads of batch calls.
///
/// Returns
/// -------
/// int
///     What ``set_threads`` set, else the environment variable ``INTERSTAGE_THREADS``, else the number of processors.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> interstage.get_threads() >= 1
/// True
#[pyfunction]
pub(crate) fn get_threads(py: Python<'_>) -> PyResult<usize> {
    if let Some(chosen) = THREADS.lock().unwrap_or_else(PoisonError::into_inner).chosen {
        return Ok(chosen);
    }
    match std::env::var(VARIABLE) {
        Ok(text) if !text.trim().is_empty() => match text.trim().parse() {
            Ok(count) if (1..=MOST).contains(&count) => Ok(count),
            _ => Err(unknown_option(py, VARIABLE, &text, &["a whole number from 1 to 4096"])),
        },
        _ => Ok(*PROCESSORS),
    }
}
