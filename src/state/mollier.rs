//! States from enthalpy and entropy, read off patches of their plane.
//!
//! Left of the critical entropy the phase is decided by the enthalpy of saturated liquid at the entropy. Close to it and on the
//! right, where an isentrope may cross the line of saturated vapor more than once, patches of one phase run on into the dome:
//! what they say is taken where it lies beside the dome, else the state is wet. A state of one phase beside the dome, or a
//! mixture with a quality between 0 and 1, that has both properties is the only one.
//!
//! Patches are made and tried as those beside pressure ([`super::patches`]).

use super::flash::{ACCEPTED, Flash};
use super::limits::{LOWEST_PRESSURE, Limits};
use super::patches::ACCURACY;
use super::plane::{Column, OnePhase, Plane, liquid_at_entropy};
use super::{Phase, State};
use crate::error::Error;
use crate::helmholtz::{Equation, Thermo};
use crate::numeric::{Bracket, Patch, newton};
use crate::saturation::Saturation;

/// Residual, in the scale of the properties, at which a solver may stop: their own rounding.
const ROUNDING: f64 = 1e-14;

/// Share of the step before from which on small steps are taken for rounding.
const STALLED: f64 = 0.8;

impl Flash<'_> {
    /// The state of enthalpy and entropy within the limits; `None` where there is no patch, or nothing is found by it.
    pub(super) fn on_plane(&self, enthalpy: f64, entropy: f64) -> Option<State> {
        let plane = self.patches.plane.as_ref()?;
        let column = plane.column(entropy)?;
        let up = enthalpy - plane.base(column, entropy);
        let given = (enthalpy, entropy);
        let one_phase = |up: f64| self.one_phase_on_plane(plane, column, up, given);
        let beside_dome = |state: &State| self.is_for_certain_beside_dome(state.temperature, state.density);
        let wet = || self.wet_on_plane(plane, column, up, given);
        // Next to saturated liquid rounding of the line decides, most of all next to the critical point.
        let scale = self.equation.gas_constant * self.line.critical_temperature();
        let state = match column.is_left() {
            true if up > self.rounding() * scale => one_phase(up),
            true => wet().or_else(|| one_phase(up).filter(beside_dome)),
            false => one_phase(up).filter(beside_dome).or_else(wet),
        }?;
        let Limits { minimum_temperature, maximum_temperature, maximum_pressure, .. } = self.limits;
        let in_range = (minimum_temperature..=maximum_temperature).contains(&state.temperature)
            && (LOWEST_PRESSURE..=maximum_pressure).contains(&state.pressure);
        in_range.then_some(state)
    }

    fn is_for_certain_beside_dome(&self, temperature: f64, density: f64) -> bool {
        temperature >= self.line.critical_temperature() || self.line.is_beside_dome(temperature, density)
    }

    fn one_phase_on_plane(
        &self,
        plane: &Plane,
        column: Column,
        up: f64,
        (h, s): (f64, f64),
    ) -> Option<State> {
        let coordinate = plane.coordinate(up);
        let OnePhase { patch, exact } = plane
            .patch(&plane.one_phase, column, coordinate, |row| self.one_phase_patch(plane, column, row))?;
        let [temperature, density, pressure, _] = patch.evaluate(s, coordinate);
        let state = if *exact {
            State {
                temperature,
                pressure,
                density,
                enthalpy: h,
                entropy: s,
                internal_energy: h - pressure / density,
                quality: None,
                phase: Phase::Vapor,
            }
        } else {
            let at = by_newton(self.equation, (h, s), (temperature, density))?;
            State { enthalpy: h, entropy: s, ..State::single(&at, Phase::Vapor) }
        };
        Some(self.with_phase(state))
    }

    fn wet_on_plane(&self, plane: &Plane, column: Column, up: f64, (h, s): (f64, f64)) -> Option<State> {
        let coordinate = plane.wet_coordinate(column, up);
        let patch = plane.patch(&plane.wet, column, coordinate, |row| self.wet_patch(plane, column, row))?;
        let [mut temperature] = patch.evaluate(s, coordinate);
        temperature = temperature.clamp(self.line.coldest_temperature(), self.line.critical_temperature());
        let scale = self.equation.gas_constant * temperature;
        for _ in 0..8 {
            let mixture = self.mixture_near(temperature, (h, s))?;
            if mixture.off.abs() <= 2.0 * ROUNDING * scale {
                let inside = -16.0 * f64::EPSILON..=1.0 + 16.0 * f64::EPSILON;
                return inside.contains(&mixture.quality).then(|| State {
                    enthalpy: h,
                    entropy: s,
                    ..mixture.saturation.mixture(mixture.quality)
                });
            }
            temperature += mixture.step;
        }
        None
    }

    fn mixture_near(&self, temperature: f64, (h, s): (f64, f64)) -> Option<Mixture> {
        let saturation = self.line.at_temperature(self.equation, temperature).ok()?;
        let (liquid, vapor) = (&saturation.liquid, &saturation.vapor);
        let quality = (s - liquid.entropy) / (vapor.entropy - liquid.entropy);
        let volumes = (liquid.specific_volume(), vapor.specific_volume());
        let volume = volumes.0 + quality * (volumes.1 - volumes.0);
        // Along the isotherm `dh = T ds`; that of another temperature lies higher by `v dp`.
        let off = h - liquid.enthalpy - temperature * (s - liquid.entropy);
        let step = off / (volume * saturation.slopes().0);
        Some(Mixture { saturation, quality, off, step })
    }

    /// A new patch of one phase; `None` where there is no such state, or the equation of state cannot be solved all over it.
    fn one_phase_patch(&self, plane: &Plane, column: Column, row: usize) -> Option<Box<OnePhase>> {
        let edges = plane.edges(column);
        let sides = (row as f64, (row + 1) as f64);
        let is_above_liquid = column.is_left() && row >= plane.below;
        // Up along the middle, or where there is vapor.
        let left = if is_above_liquid { edges.0 } else { edges.0.max(plane.driest.entropy) };
        let middle = 0.5 * (left + edges.1);
        let given =
            |entropy: f64, coordinate: f64| (plane.base(column, entropy) + plane.up(coordinate), entropy);
        let middle_of = |row: usize| given(middle, row as f64 + 0.5);
        let (mut at_row, mut last) = self.start(plane, column, row, middle)?;
        // From row to row to the middle of the patch.
        loop {
            let at = by_newton(self.equation, middle_of(at_row), last)?;
            last = (at.temperature, at.density);
            match at_row.cmp(&row) {
                std::cmp::Ordering::Less => at_row += 1,
                std::cmp::Ordering::Greater => at_row -= 1,
                std::cmp::Ordering::Equal => break,
            }
        }
        let center = last;
        let mut solve = |entropy: f64, coordinate: f64| {
            let at = by_newton(self.equation, given(entropy, coordinate), last)?;
            last = (at.temperature, at.density);
            Some(at)
        };
        let shares = [0.0, 0.09, 0.5, 0.91, 1.0];
        let between = |(from, to): (f64, f64), share: f64| from + share * (to - from);
        let is_outside = |at: Thermo| self.is_for_certain_beside_dome(at.temperature, at.density);
        let reaches_out = is_above_liquid
            || [0.5, 0.0, 1.0].into_iter().any(|x| {
                [0.5, 0.0, 1.0]
                    .into_iter()
                    .any(|y| solve(between(edges, x), between(sides, y)).is_some_and(is_outside))
            });
        if !reaches_out {
            return None;
        }
        last = center;
        let patch = Patch::fit(edges, sides, |entropy, coordinate| {
            let at = by_newton(self.equation, given(entropy, coordinate), last).ok_or_else(unsolved)?;
            last = (at.temperature, at.density);
            Ok([at.temperature, at.density, at.pressure, 0.0])
        })
        .ok()?;
        let is_met = |entropy: f64, coordinate: f64| {
            let (enthalpy, entropy) = given(entropy, coordinate);
            let [temperature, density, pressure, _] = patch.evaluate(entropy, coordinate);
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
        let exact = shares
            .into_iter()
            .all(|x| shares.into_iter().all(|y| is_met(between(edges, x), between(sides, y))));
        Some(Box::new(OnePhase { patch, exact }))
    }

    /// A row of a column, and temperature and density of a state of one phase in it: saturated liquid, or gas on the
    /// critical isotherm or that of the saturated vapor of least entropy, whichever is closer.
    fn start(&self, plane: &Plane, column: Column, row: usize, entropy: f64) -> Option<(usize, (f64, f64))> {
        if column.is_left() && row >= plane.below {
            let liquid = liquid_at_entropy(self.equation, self.line, entropy).ok()?.liquid;
            return Some((plane.below, (liquid.temperature, liquid.density)));
        }
        let critical = (self.line.critical_temperature(), self.line.critical_density());
        [(plane.driest.temperature, plane.driest.density), critical]
            .into_iter()
            .filter_map(|(temperature, densest)| on_isotherm(self.equation, temperature, densest, entropy))
            .map(|at| {
                let up = at.enthalpy - plane.base(column, entropy);
                (plane.coordinate(up) as usize, (at.temperature, at.density))
            })
            .min_by_key(|(at_row, _)| at_row.abs_diff(row))
    }

    /// A new patch of the temperature of wet states.
    fn wet_patch(&self, plane: &Plane, column: Column, row: usize) -> Option<Box<Patch<1>>> {
        let mut temperature = self.line.coldest_temperature();
        let patch = Patch::fit(plane.edges(column), (row as f64, (row + 1) as f64), |entropy, coordinate| {
            let enthalpy = plane.base(column, entropy) + plane.wet_up(column, coordinate);
            temperature = self.wet_temperature((enthalpy, entropy), temperature).ok_or_else(unsolved)?;
            Ok([temperature])
        });
        patch.ok().map(Box::new)
    }

    /// Temperature of a wet state by Newton's method. The isotherms beyond the coldest end are taken to be as far apart as
    /// there.
    fn wet_temperature(&self, given: (f64, f64), start: f64) -> Option<f64> {
        let coldest = self.line.coldest_temperature();
        let mut temperature = start.max(coldest);
        for _ in 0..40 {
            let Mixture { step, .. } = self.mixture_near(temperature, given)?;
            let next = temperature + step;
            let beyond = next < coldest && temperature == coldest;
            if beyond || step.abs() <= 1e-11 * temperature {
                return Some(next);
            }
            temperature = next.max(coldest);
        }
        None
    }
}

/// A mixture that has the entropy it is asked for, and about the enthalpy.
#[derive(Debug)]
struct Mixture {
    saturation: Saturation,
    quality: f64,
    /// Enthalpy that is lacking, and the step of temperature that should bring it.
    off: f64,
    step: f64,
}

/// The state of an entropy at a temperature and no more than a density, if there is one.
fn on_isotherm(equation: &Equation, temperature: f64, densest: f64, entropy: f64) -> Option<Thermo> {
    // One more than the logarithm of the expansion, lest a relative tolerance meets zero.
    let at = |variable: f64| equation.at(temperature, densest * (1.0 - variable).exp());
    if entropy < at(1.0).entropy {
        return None;
    }
    let bracket = Bracket { lower: 1.0, upper: 60.0, rising: true };
    let variable = newton("vapor of an entropy", bracket, 2.0, 1e-12, |variable| {
        let at = at(variable);
        Ok((at.entropy - entropy, -at.density * at.s_rho()))
    });
    variable.ok().map(at)
}

/// Temperature and density of one phase by Newton's method in both; `None` where it does not settle.
fn by_newton(
    equation: &Equation,
    (enthalpy, entropy): (f64, f64),
    (mut temperature, mut density): (f64, f64),
) -> Option<Thermo> {
    let mut last: Option<(f64, Thermo)> = None;
    for _ in 0..25 {
        let at = equation.at(temperature, density);
        let (miss_h, miss_s) = (enthalpy - at.enthalpy, entropy - at.entropy);
        let r = equation.gas_constant;
        let residual = miss_h.abs() / (r * temperature) + miss_s.abs() / r;
        if residual <= ROUNDING {
            return Some(at);
        }
        // Where rounding is all that moves them, the last step may have led away.
        if let Some((before, there)) = &last
            && *before <= ACCEPTED
            && residual >= STALLED * before
        {
            return Some(if residual < *before { at } else { *there });
        }
        last = Some((residual, at));
        // The pressure that is lacking follows from `dh = T ds + v dp`. The determinant is the speed of sound squared
        // times `cv / T`: never zero.
        let miss_p = density * (miss_h - temperature * miss_s);
        let (s_t, s_rho) = (at.s_t(), at.s_rho());
        let determinant = s_t * at.p_rho - s_rho * at.p_t;
        let step_t = (miss_s * at.p_rho - miss_p * s_rho) / determinant;
        let step_rho = (s_t * miss_p - at.p_t * miss_s) / determinant;
        let change = (step_t / temperature).abs().max((step_rho / density).abs());
        if !change.is_finite() || determinant <= 0.0 {
            return None;
        }
        let shortened = (0.4 / change).min(1.0);
        temperature += shortened * step_t;
        density += shortened * step_rho;
    }
    None
}

fn unsolved() -> Error {
    Error::NotConverged {
        solver: "patch of enthalpy and entropy",
        iterations: 0,
        residual: f64::NAN,
        lower: f64::NAN,
        upper: f64::NAN,
    }
}

#[cfg(test)]
mod tests {
    use crate::{Phase, Refrigerant};

    /// States of chillers are read off, also those of vapor that has less than the critical entropy (R-113,
    /// R-1336mzz(Z)), and are those found by pressure.
    #[test]
    fn states_of_chillers_are_on_the_plane() {
        for name in ["R-134a", "R-123", "R-1233zd(E)", "R-1234ze(E)", "R-113", "R-1336mzz(Z)", "R-718"] {
            let refrigerant = Refrigerant::named(name).unwrap();
            let (flash, r) = (refrigerant.flash().unwrap(), refrigerant.gas_constant());
            let (mut found, mut all) = ([0; 3], [0; 3]);
            for i in 0..150_u32 {
                let temperature = 274.5 + 53.5 * (0.618_034 * f64::from(i)).fract();
                let share = 0.01 + 0.98 * (0.414_214 * f64::from(i)).fract();
                let pressure = refrigerant.saturation_at_temperature(temperature).unwrap().pressure();
                let states = [
                    refrigerant.state_pt(pressure, temperature - 1.2 * share),
                    refrigerant.state_px(pressure, share),
                    refrigerant.state_pt(pressure, temperature + 0.01 + 40.0 * share),
                ];
                for (kind, state) in states.into_iter().enumerate() {
                    let from = state.unwrap();
                    all[kind] += 1;
                    let Some(state) = flash.on_plane(from.enthalpy, from.entropy) else { continue };
                    found[kind] += 1;
                    let searched = flash.hs_by_pressure(from.enthalpy, from.entropy).unwrap();
                    let rounding = refrigerant.rounding(from.temperature, from.density).max(1e-12);
                    // The pressure of a liquid is told by its enthalpy to within its stiffness.
                    let stiffness = match from.phase {
                        Phase::Liquid => from.density * r * temperature,
                        _ => from.pressure,
                    };
                    for other in [&from, &searched] {
                        let off = (state.pressure - other.pressure).abs() / stiffness;
                        assert!(off <= 20.0 * rounding, "{name} {from:?} {state:?}: {off:e}");
                        assert_eq!(state.phase, other.phase, "{name} {from:?} {state:?}");
                    }
                }
            }
            for (found, all) in found.into_iter().zip(all) {
                assert!(f64::from(found) >= 0.95 * f64::from(all), "{name}: {found} of {all}");
            }
        }
    }
}
