//! States of one phase at a pressure, read off patches instead of solved for.
//!
//! A patch holds temperature, density and a third property over a small rectangle of pressure and of the distance of
//! enthalpy (entropy, temperature) from saturation. It is fitted to this library's own solutions of the equation of state
//! when a state in it is first asked for, and tried against the equation of state at points between its nodes: where it
//! does not reach [`ACCURACY`] it is not used. So patches change how fast an answer comes, not the answer.

use std::sync::OnceLock;

use super::flash::Flash;
use super::phase::Region;
use super::single::{self, Property};
use super::{Phase, State};
use crate::error::Result;
use crate::helmholtz::{Equation, Thermo};
use crate::numeric::Patch;
use crate::saturation::{Saturation, SaturationLine};

/// Largest residual of a patch in both given properties, scaled as everywhere: pressure by the larger of itself and
/// `rho (dp/drho)_T`, energies by R T, entropy by R. The same holds for the third property. Where rounding of the terms of
/// the equation of state leaves more, half of that.
const ACCURACY: f64 = 2e-13;

/// Bits of the mantissa of the pressure that name a patch: eight to an octave.
const BITS: u32 = 3;
const SHIFT: u32 = f64::MANTISSA_DIGITS - 1 - BITS;

/// Patches side by side from saturation on, and the change of temperature over one at constant pressure, in units of the
/// critical temperature: about, with the heat capacity that saturated liquid or vapor has at [`TYPICAL`] times that.
const PATCHES: usize = 40;
const WIDTH: f64 = 1.0 / 80.0;
const TYPICAL: f64 = 0.7;

/// Share of the critical pressure up to which patches are tried.
const HIGHEST: f64 = 0.95;

/// The patches of one refrigerant for one property beside pressure, in one phase.
#[derive(Debug)]
struct Sheet {
    width: f64,
    cells: Box<[OnceLock<Option<Box<Patch>>>]>,
}

/// All patches of one refrigerant.
#[derive(Debug)]
pub(crate) struct Patches {
    /// The key of the first column, and the highest pressure.
    first: u64,
    highest: f64,
    /// Liquid and vapor, each by enthalpy and by entropy.
    sheets: [Sheet; 4],
}

impl Patches {
    /// Room for the patches beside a saturation line; none is made yet.
    pub(crate) fn new(equation: &Equation, line: &SaturationLine) -> Result<Self> {
        let first = (line.triple_pressure().to_bits() >> SHIFT) + 1;
        let highest = HIGHEST * line.highest_pressure();
        let columns = (highest.to_bits() >> SHIFT).saturating_sub(first) as usize;
        let critical = line.critical_temperature();
        let typical = line.at_temperature(equation, (TYPICAL * critical).max(line.triple_temperature()))?;
        let sheet =
            |width: f64| Sheet { width, cells: (0..columns * PATCHES).map(|_| OnceLock::new()).collect() };
        let heat = |state: &State| WIDTH * equation.at(state.temperature, state.density).cp();
        let (liquid, vapor) = (heat(&typical.liquid), heat(&typical.vapor));
        let sheets = [sheet(liquid * critical), sheet(liquid), sheet(vapor * critical), sheet(vapor)];
        Ok(Self { first, highest, sheets })
    }
}

impl Flash<'_> {
    /// The state of one phase at pressure and enthalpy or entropy; `None` where there is no patch that is good enough.
    pub(super) fn patched(
        &self,
        pressure: f64,
        property: Property,
        value: f64,
        region: &Region,
    ) -> Option<State> {
        let (saturation, phase) = match region {
            Region::Liquid(saturation) => (saturation, Phase::Liquid),
            Region::Vapor(saturation) => (saturation, Phase::Vapor),
            _ => return None,
        };
        let sheet = match (phase, property) {
            (Phase::Liquid, Property::Enthalpy) => 0,
            (Phase::Liquid, Property::Entropy) => 1,
            (_, Property::Enthalpy) => 2,
            (_, Property::Entropy) => 3,
            (_, Property::InternalEnergy) => return None,
        };
        let sheet = &self.patches.sheets[sheet];
        let distance = property.distance(saturation, phase, value);
        let width = sheet.width;
        let across = (distance / width) as usize;
        let key = pressure.to_bits() >> SHIFT;
        let column = key.checked_sub(self.patches.first)? as usize;
        if across >= PATCHES {
            return None;
        }
        let cell = sheet.cells.get(column * PATCHES + across)?;
        let patch = cell
            .get_or_init(|| {
                let edges = (f64::from_bits(key << SHIFT), f64::from_bits((key + 1) << SHIFT));
                let sides = (across as f64 * width, (across + 1) as f64 * width);
                self.patch(edges, sides, property, phase)
            })
            .as_deref()?;
        let [temperature, density, third, _] = patch.evaluate(pressure, distance);
        let (enthalpy, entropy) = match property {
            Property::Entropy => (third, value),
            _ => (value, third),
        };
        Some(State {
            temperature,
            pressure,
            density,
            enthalpy,
            entropy,
            internal_energy: enthalpy - pressure / density,
            quality: None,
            phase,
        })
    }

    /// A new patch; `None` where the equation of state cannot be solved all over it or is not met.
    fn patch(
        &self,
        edges: (f64, f64),
        sides: (f64, f64),
        property: Property,
        phase: Phase,
    ) -> Option<Box<Patch>> {
        if edges.1 > self.patches.highest {
            return None;
        }
        let third = |at: &Thermo| match property {
            Property::Entropy => at.enthalpy,
            _ => at.entropy,
        };
        let patch = Patch::fit(edges, sides, |pressure, distance| {
            let at = self.solved(pressure, property, phase, distance)?;
            Ok([at.temperature, at.density, third(&at), 0.0])
        })
        .ok()?;
        let r = self.equation.gas_constant;
        let is_met = |pressure: f64, distance: f64| {
            let Ok(saturation) = self.line.at_pressure(self.equation, pressure) else { return false };
            let [temperature, density, other, _] = patch.evaluate(pressure, distance);
            let at = self.equation.at(temperature, density);
            let value = property.beside(&saturation, phase, distance);
            let scale = property.scale(r, temperature);
            let other_scale = r * r * temperature / scale;
            let off = [
                (at.pressure - pressure) / pressure.max(at.density * at.p_rho),
                (property.of(&at) - value) / scale,
                (third(&at) - other) / other_scale,
            ];
            let allowed = ACCURACY.max(0.5 * self.equation.rounding_at(temperature, density));
            off.into_iter().all(|off| off.abs() <= allowed)
        };
        let shares = [0.0, 0.09, 0.5, 0.91, 1.0];
        let between = |(from, to): (f64, f64), share: f64| from + share * (to - from);
        shares
            .into_iter()
            .all(|x| shares.into_iter().all(|y| is_met(between(edges, x), between(sides, y))))
            .then(|| Box::new(patch))
    }

    /// The equation of state solved at a distance from saturation.
    fn solved(&self, pressure: f64, property: Property, phase: Phase, distance: f64) -> Result<Thermo> {
        let saturation = self.line.at_pressure(self.equation, pressure)?;
        let value = property.beside(&saturation, phase, distance);
        let region =
            if phase == Phase::Liquid { Region::Liquid(saturation) } else { Region::Vapor(saturation) };
        single::at_pressure(self.equation, self.line, pressure, property, value, &region, self.search_range())
    }
}

impl Property {
    /// How far a value lies outside the dome, at one pressure.
    fn distance(self, saturation: &Saturation, phase: Phase, value: f64) -> f64 {
        match phase {
            Phase::Liquid => self.of_state(&saturation.liquid) - value,
            _ => value - self.of_state(&saturation.vapor),
        }
    }

    /// The value at a distance.
    fn beside(self, saturation: &Saturation, phase: Phase, distance: f64) -> f64 {
        match phase {
            Phase::Liquid => self.of_state(&saturation.liquid) - distance,
            _ => self.of_state(&saturation.vapor) + distance,
        }
    }
}
