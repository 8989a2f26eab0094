//! Published data of the fluids, one file each, and how they are found by name.

mod blends;
mod data;
mod departures;
mod pairs;
mod r11;
mod r113;
mod r1130e;
mod r114;
mod r12;
mod r1224ydz;
mod r123;
mod r1233zde;
mod r1234yf;
mod r1234yf_2011;
mod r1234zee;
mod r125;
mod r1336mzze;
mod r1336mzzz;
mod r134a;
mod r13i1;
mod r143a;
mod r152a;
mod r22;
mod r227ea;
mod r236fa;
mod r245fa;
mod r290;
mod r32;
mod r404a;
mod r407c;
mod r410a;
mod r507a;
mod r600a;
mod r717;
mod r717_1993;
mod r718;
mod r744;
pub(crate) mod transport;

pub(crate) use blends::{BLENDS, NamedBlend};
pub(crate) use data::{
    Blend, DefaultReference, Expansion, Fluid, Gao, Gaussian, IdealGas, IdealPower, Nonanalytic, Oscillator,
    Power, Residual,
};
pub use data::{Citation, Environment, Gwp};
pub(crate) use departures::{DensityBump, Departure};
#[cfg(test)]
pub(crate) use pairs::PAIRS;
pub(crate) use pairs::{KUNZ_WAGNER_2012 as MODEL, Mixing, Pair, between, citations as pair_citations};
pub(crate) use r134a::R134A;

use crate::error::{Error, Result};

/// Every fluid there is, in the order of its designation.
pub(crate) static FLUIDS: [&Fluid; 31] = [
    &r11::R11,
    &r12::R12,
    &r13i1::R13I1,
    &r22::R22,
    &r32::R32,
    &r113::R113,
    &r114::R114,
    &r123::R123,
    &r125::R125,
    &R134A,
    &r143a::R143A,
    &r152a::R152A,
    &r227ea::R227EA,
    &r236fa::R236FA,
    &r245fa::R245FA,
    &r290::R290,
    &r404a::R404A,
    &r407c::R407C,
    &r410a::R410A,
    &r507a::R507A,
    &r600a::R600A,
    &r717::R717,
    &r718::R718,
    &r744::R744,
    &r1130e::R1130E,
    &r1224ydz::R1224YDZ,
    &r1233zde::R1233ZDE,
    &r1234yf::R1234YF,
    &r1234zee::R1234ZEE,
    &r1336mzze::R1336MZZE,
    &r1336mzzz::R1336MZZZ,
];

/// Older equations of state, behind printed tables; each is chosen by its name.
pub(crate) static OLDER: [&Fluid; 2] = [&r717_1993::R717_1993, &r1234yf_2011::R1234YF_2011];

/// The equations of state of a refrigerant, the default one first.
pub(crate) fn equations(designation: &str) -> impl Iterator<Item = &'static Fluid> {
    FLUIDS.iter().chain(&OLDER).copied().filter(move |fluid| fluid.designation == designation)
}

/// The equation of a refrigerant with a name, or the only one whose name has that in it.
pub(crate) fn equation(designation: &str, name: &str) -> Option<&'static Fluid> {
    let wanted = simplified(name);
    let mut alike = equations(designation).filter(|fluid| simplified(fluid.equation).contains(&wanted));
    let exact = equations(designation).find(|fluid| simplified(fluid.equation) == wanted);
    match (exact, alike.next(), alike.next()) {
        (Some(fluid), ..) => Some(fluid),
        (None, Some(fluid), None) if !wanted.is_empty() => Some(fluid),
        _ => None,
    }
}

/// Most edits between a name and one that is suggested for it; a short name allows one for every two of its letters.
const MOST_EDITS: usize = 3;

/// What a suggestion may be off at most: twice the edits less the letters that agree from the first on.
const MOST_OFF: i64 = 2;

/// Fewest letters of a name for which those that go on from it are suggested.
const FEWEST: usize = 3;

/// What a name stands for.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Named {
    /// Something with an equation of state of its own.
    Fluid(&'static Fluid),
    /// A blend by the mixture model.
    Blend(&'static NamedBlend),
}

/// Finds a fluid or blend by designation or another of its names, whatever the case, dashes, spaces and brackets; the R of a
/// designation may be missing.
pub(crate) fn named(name: &str) -> Result<Named> {
    let given = simplified(name);
    let bare = given.starts_with(|c: char| c.is_ascii_digit());
    let wanted = if bare { format!("r{given}") } else { given.clone() };
    let meant = |known: String| known == given || known == wanted;
    everything()
        .find(|one| names(*one).any(meant))
        .ok_or_else(|| Error::UnknownRefrigerant { name: name.to_owned(), nearest: nearest(&wanted) })
}

/// The same, where only something with an equation of its own is meant.
#[cfg(test)]
pub(crate) fn find(name: &str) -> Result<&'static Fluid> {
    match named(name)? {
        Named::Fluid(fluid) => Ok(fluid),
        Named::Blend(_) => Err(Error::UnknownRefrigerant { name: name.to_owned(), nearest: Vec::new() }),
    }
}

/// Everything that has a name.
fn everything() -> impl Iterator<Item = Named> {
    FLUIDS.into_iter().map(Named::Fluid).chain(BLENDS.iter().map(Named::Blend))
}

/// Every name, simplified, the designation first.
fn names(of: Named) -> impl Iterator<Item = String> {
    let (designation, others): (_, &[&str]) = match of {
        Named::Fluid(fluid) => (fluid.designation, fluid.aliases),
        Named::Blend(blend) => (blend.designation, &[]),
    };
    let chemical = if let Named::Fluid(fluid) = of { Some(fluid.name) } else { None };
    [designation].into_iter().chain(chemical).chain(others.iter().copied()).map(simplified)
}

/// Lower case letters and digits only.
fn simplified(name: &str) -> String {
    name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Up to three designations: those that go on from what is wanted, else those few edits away from it, best first. The first
/// figures of a designation tell most.
fn nearest(wanted: &str) -> Vec<&'static str> {
    let length = wanted.chars().count();
    let mut ranked: Vec<(bool, i64, usize, &'static str)> = everything()
        .filter_map(|one| {
            let designation = match one {
                Named::Fluid(fluid) => fluid.designation,
                Named::Blend(blend) => blend.designation,
            };
            names(one)
                .filter_map(|known| {
                    let goes_on = length >= FEWEST && known.starts_with(wanted);
                    let most = (length / 2).clamp(1, MOST_EDITS);
                    // A difference in length alone takes as many edits.
                    let alike = known.chars().count().abs_diff(length) <= most;
                    let distance = if goes_on || alike { edits(wanted, &known) } else { usize::MAX };
                    let agree = wanted.chars().zip(known.chars()).take_while(|(a, b)| a == b).count();
                    let off = 2 * distance.min(length) as i64 - agree as i64;
                    (goes_on || distance <= most && off <= MOST_OFF).then_some((
                        !goes_on,
                        off,
                        distance,
                        designation,
                    ))
                })
                .min()
        })
        .collect();
    ranked.sort_unstable();
    let goes_on = ranked.first().is_some_and(|&(differs, ..)| !differs);
    ranked.retain(|&(differs, ..)| !(goes_on && differs));
    ranked.into_iter().take(3).map(|(.., designation)| designation).collect()
}

/// Levenshtein distance.
fn edits(from: &str, to: &str) -> usize {
    let to: Vec<char> = to.chars().collect();
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (i, a) in from.chars().enumerate() {
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
