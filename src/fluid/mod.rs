//! Published data of the fluids, one file each, and how they are found by name.

mod data;
mod r123;
mod r1233zde;
mod r1234zee;
mod r134a;
mod r718;

pub use data::Citation;
pub(crate) use data::{DefaultReference, Fluid, Gaussian, IdealGas, Nonanalytic, Power, Residual};

use crate::error::{Error, Result};

/// Every fluid there is, in the order of its designation.
pub(crate) static FLUIDS: [&Fluid; 5] =
    [&r123::R123, &r134a::R134A, &r718::R718, &r1233zde::R1233ZDE, &r1234zee::R1234ZEE];

/// Finds a fluid by designation or another of its names, whatever the case, dashes, spaces and brackets.
pub(crate) fn find(name: &str) -> Result<&'static Fluid> {
    let wanted = simplified(name);
    let names = |fluid: &'static Fluid| {
        [fluid.designation, fluid.name].into_iter().chain(fluid.aliases.iter().copied())
    };
    FLUIDS
        .iter()
        .copied()
        .find(|&fluid| names(fluid).any(|known| simplified(known) == wanted))
        .ok_or_else(|| Error::UnknownRefrigerant { name: name.to_owned(), nearest: nearest(&wanted) })
}

/// Lower case letters and digits only.
fn simplified(name: &str) -> String {
    name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Up to three designations that need the fewest edits, best first.
fn nearest(wanted: &str) -> Vec<&'static str> {
    let mut ranked: Vec<(usize, &'static str)> = FLUIDS
        .iter()
        .map(|fluid| {
            let distance = std::iter::once(&fluid.designation)
                .chain(fluid.aliases)
                .map(|known| edits(wanted, &simplified(known)))
                .min();
            (distance.unwrap_or(usize::MAX), fluid.designation)
        })
        .filter(|&(distance, _)| distance <= 3)
        .collect();
    ranked.sort_unstable();
    ranked.into_iter().take(3).map(|(_, name)| name).collect()
}

/// Levenshtein distance.
fn edits(from: &str, to: &str) -> usize {
    let to: Vec<char> = to.chars().collect();
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (i, a) in from.chars().take(64).enumerate() {
        let mut diagonal = i;
        let mut left = i + 1;
        if let Some(first) = row.first_mut() {
            *first = left;
        }
        for (cell, &b) in row.iter_mut().skip(1).zip(&to) {
            let substituted = diagonal + usize::from(a != b);
            diagonal = *cell;
            left = substituted.min(diagonal + 1).min(left + 1);
            *cell = left;
        }
    }
    row.last().copied().unwrap_or(0)
}
