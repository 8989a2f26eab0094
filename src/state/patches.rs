//! States of one phase at a pressure, read off patches instead of solved for.
//!
//! A patch holds temperature, density, enthalpy and entropy over a small rectangle of pressure and of the distance of
//! enthalpy (entropy, temperature) from saturation. It is fitted to this library's own solutions of the equation of state
//! when a state in it is first asked for, and tried against the equation of state at points between its nodes: where it
//! does not reach [`ACCURACY`], Newton's method finishes. So patches change how fast an answer comes, not the answer.

use std::sync::OnceLock;

use super::flash::Flash;
use super::phase::Region;
use super::plane::Plane;
use super::single::{self, Branch, Property};
use super::{Phase, State};
use crate::error::Result;
use crate::helmholtz::{Equation, Thermo};
use crate::numeric::Patch;
use crate::saturation::{Saturation, SaturationLine};

/// Largest residual of a patch in both given properties, scaled as everywhere: pressure by the larger of itself and
/// `rho (dp/drho)_T`, energies by R T, entropy by R. The same holds for the other properties. Where rounding of the terms of
/// the equation of state leaves more, half of that.
pub(super) const ACCURACY: f64 = 4e-13;

/// Rounding of an equation in saturated liquid from which on a patch is never exact (R-22, cold R-123): the saturation that
/// distances are counted from is then not smooth enough, beside liquid and vapor alike.
const NOISIEST: f64 = 5e-12;

/// Bits of the mantissa of the pressure that name a patch: eight to an octave.
const BITS: u32 = 3;
const SHIFT: u32 = f64::MANTISSA_DIGITS - 1 - BITS;

/// Patches side by side from saturation on, and the change of temperature over one at constant pressure, in units of the
/// critical temperature: about, with the heat capacity that saturated liquid or vapor has at [`TYPICAL`] times that.
const PATCHES: usize = 48;
const WIDTH: f64 = 1.0 / 160.0;
const TYPICAL: f64 = 0.7;

/// Share of the critical pressure up to which patches are tried.
const HIGHEST: f64 = 0.95;

/// The patches of one refrigerant for one property beside pressure, in one phase.
#[derive(Debug, Default)]
struct Sheet {
    width: f64,
    cells: Box<[OnceLock<Option<Box<Tried>>>]>,
}

/// A patch, and whether it meets the equation of state all over; else it is a start for Newton's method.
#[derive(Debug)]
struct Tried {
    patch: Patch<4>,
    exact: bool,
}

/// What is given beside pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Given {
    Enthalpy,
    Entropy,
    Temperature,
}

/// What a patch tells.
#[derive(Debug)]
pub(super) enum Found {
    /// The state.
    State(State),
    /// Temperature and density close to it.
    Start(f64, f64),
}

/// All patches of one refrigerant; by default there is no place for any.
#[derive(Debug, Default)]
pub(crate) struct Patches {
    /// The key of the first column, and the highest pressure.
    first: u64,
    highest: f64,
    /// Liquid, then vapor, each by enthalpy, entropy and temperature.
    sheets: [[Sheet; 3]; 2],
    /// Those by enthalpy and entropy, of a pure fluid.
    pub(super) plane: Option<Plane>,
}

impl Patches {
    /// Room for the patches beside a saturation line; none is made yet.
    pub(crate) fn new(equation: &Equation, line: &SaturationLine) -> Result<Self> {
        let first = (line.coldest_pressure().to_bits() >> SHIFT) + 1;
        let highest = HIGHEST * line.highest_pressure();
        let columns = (highest.to_bits() >> SHIFT).saturating_sub(first) as usize;
        let critical = line.critical_temperature();
        let typical = line.at_temperature(equation, (TYPICAL * critical).max(line.coldest_temperature()))?;
        let sheet =
            |width: f64| Sheet { width, cells: (0..columns * PATCHES).map(|_| OnceLock::new()).collect() };
        let sheets = [typical.liquid, typical.vapor].map(|state| {
            let heat = WIDTH * equation.at(state.temperature, state.density).cp();
            [sheet(heat * critical), sheet(heat), sheet(WIDTH * critical)]
        });
        let is_pure = line.curves().is_none() && line.mixed().is_none();
        let plane = if is_pure { Some(Plane::new(equation, line)?) } else { None };
        Ok(Self { first, highest, sheets, plane })
    }
}

impl Flash<'_> {
    /// The state of one phase at a pressure, `distance` from saturation in what is given; `None` where there is no patch.
    pub(super) fn patched(&self, pressure: f64, given: Given, phase: Phase, distance: f64) -> Option<Found> {
        let sheet = &self.patches.sheets[usize::from(phase != Phase::Liquid)][given as usize];
        let across = (distance / sheet.width) as usize;
        let key = pressure.to_bits() >> SHIFT;
        let column = key.checked_sub(self.patches.first)? as usize;
        if across >= PATCHES {
            return None;
        }
        let cell = sheet.cells.get(column * PATCHES + across)?;
        // Made outside the cell: nobody waits for another's patch, a forked child least of all.
        let made = match cell.get() {
            Some(made) => made,
            None => {
                let edges = (f64::from_bits(key << SHIFT), f64::from_bits((key + 1) << SHIFT));
                let sides = (across as f64 * sheet.width, (across + 1) as f64 * sheet.width);
                let made = self.patch(edges, sides, given, phase);
                cell.get_or_init(|| made)
            }
        };
        let Tried { patch, exact } = made.as_deref()?;
        let [temperature, density, enthalpy, entropy] = patch.evaluate(pressure, distance);
        if !exact {
            return Some(Found::Start(temperature, density));
        }
        Some(Found::State(State {
            temperature,
            pressure,
            density,
            enthalpy,
            entropy,
            internal_energy: enthalpy - pressure / density,
            quality: None,
            phase,
        }))
    }

    /// A new patch; `None` where the equation of state cannot be solved all over it.
    fn patch(&self, edges: (f64, f64), sides: (f64, f64), given: Given, phase: Phase) -> Option<Box<Tried>> {
        if edges.1 > self.patches.highest {
            return None;
        }
        let patch = Patch::fit(edges, sides, |pressure, distance| {
            let saturation = self.line.at_pressure(self.equation, pressure)?;
            let at = self.solved(&saturation, given, phase, given.beside(&saturation, phase, distance))?;
            Ok([at.temperature, at.density, at.enthalpy, at.entropy])
        })
        .ok()?;
        let is_met = |pressure: f64, distance: f64| {
            let Ok(saturation) = self.line.at_pressure(self.equation, pressure) else { return false };
            let [temperature, density, enthalpy, entropy] = patch.evaluate(pressure, distance);
            let value = given.beside(&saturation, phase, distance);
            let (enthalpy, entropy, temperature) = match given {
                Given::Enthalpy => (value, entropy, temperature),
                Given::Entropy => (enthalpy, value, temperature),
                Given::Temperature => (enthalpy, entropy, value),
            };
            let at = self.equation.at(temperature, density);
            let (r, rt) = (self.equation.gas_constant, self.equation.gas_constant * temperature);
            let off = [
                (at.pressure - pressure) / pressure.max(at.density * at.p_rho),
                (at.enthalpy - enthalpy) / rt,
                (at.entropy - entropy) / r,
            ];
            let allowed = ACCURACY.max(0.5 * self.equation.rounding_at(at.temperature, density));
            off.into_iter().all(|off| off.abs() <= allowed)
        };
        let shares = [0.0, 0.09, 0.5, 0.91, 1.0];
        let between = |(from, to): (f64, f64), share: f64| from + share * (to - from);
        let coldest = self.line.at_pressure(self.equation, edges.0).ok()?.liquid;
        let exact = self.equation.rounding_at(coldest.temperature, coldest.density) < NOISIEST
            && shares
                .into_iter()
                .all(|x| shares.into_iter().all(|y| is_met(between(edges, x), between(sides, y))));
        Some(Box::new(Tried { patch, exact }))
    }

    /// The equation of state solved without a patch, whatever the limits of the handle that asks.
    fn solved(&self, saturation: &Saturation, given: Given, phase: Phase, value: f64) -> Result<Thermo> {
        let (equation, line, pressure) = (self.equation, self.line, saturation.pressure());
        let search = (0.85 * line.coldest_temperature(), 3.0 * line.critical_temperature());
        let (region, branch) = match phase {
            Phase::Liquid => (Region::Liquid(*saturation), Branch::Liquid),
            _ => (Region::Vapor(*saturation), Branch::Vapor),
        };
        let property = match given {
            Given::Enthalpy => Property::Enthalpy,
            Given::Entropy => Property::Entropy,
            Given::Temperature => {
                let branch = if value < line.critical_temperature() { branch } else { Branch::Whole };
                let density = single::density(equation, line, value, pressure, branch)?;
                return Ok(equation.at(value, density));
            }
        };
        single::at_pressure(equation, line, pressure, (property, value), &region, None, search)
    }
}

impl Given {
    /// The property, but for internal energy, which has no patches.
    pub(super) fn of(property: Property) -> Option<Self> {
        match property {
            Property::Enthalpy => Some(Self::Enthalpy),
            Property::Entropy => Some(Self::Entropy),
            Property::InternalEnergy => None,
        }
    }

    fn saturated(self, saturation: &Saturation, phase: Phase) -> f64 {
        let state = if phase == Phase::Liquid { &saturation.liquid } else { &saturation.vapor };
        match self {
            Self::Enthalpy => state.enthalpy,
            Self::Entropy => state.entropy,
            Self::Temperature => state.temperature,
        }
    }

    /// How far a value lies outside the dome, at one pressure.
    pub(super) fn distance(self, saturation: &Saturation, phase: Phase, value: f64) -> f64 {
        let outwards = value - self.saturated(saturation, phase);
        if phase == Phase::Liquid { -outwards } else { outwards }
    }

    /// The value at a distance.
    fn beside(self, saturation: &Saturation, phase: Phase, distance: f64) -> f64 {
        let outwards = if phase == Phase::Liquid { -distance } else { distance };
        self.saturated(saturation, phase) + outwards
    }
}
