//! Two-phase states of a blend by the mixture model, whose phases have compositions of their own.
//!
//! The lines of bubble and dew points tell the phase as for a pure fluid; between them equilibrium is solved for both phases at once
//! instead of being read off by the lever rule.

use super::flash::Flash;
use super::limits::LOWEST_PRESSURE;
use super::phase::lever;
use super::single::Property;
use super::stream::{Lever, Slopes};
use super::{Phase, State};
use crate::error::{Error, Result, finite};
use crate::helmholtz::Thermo;
use crate::numeric::{Bracket, Secant, newton};
use crate::saturation::{Composed, Ends, MixedLine, Saturation, Split};

/// What solves for states of a blend along isochores and isotherms.
const SOLVER: &str = "two-phase state of a blend";

/// By how much a property may be missed, over its natural scale, where the search met mixtures that cannot be solved for.
const MET: f64 = 1e-9;

/// Quality nearest to an end at which slopes of a mixture are told, in place of the end itself.
const NEXT_TO_ENDS: f64 = 1e-9;

impl Flash<'_> {
    fn unsolved() -> Error {
        let (residual, lower, upper) = (f64::NAN, f64::NAN, f64::NAN);
        Error::NotConverged { solver: SOLVER, iterations: 0, residual, lower, upper }
    }

    /// The state of a split.
    fn composed(&self, mixed: &MixedLine, split: &Split) -> Result<State> {
        let blend = mixed.blend()?;
        let molar_mass = blend.molar_mass();
        let [volume, enthalpy, entropy] = split.totals(&blend).map(|of_mole| of_mole / molar_mass);
        let [enthalpy, entropy] = [enthalpy - self.equation.lowered[0], entropy - self.equation.lowered[1]];
        Ok(State {
            temperature: split.temperature,
            pressure: split.pressure,
            density: 1.0 / volume,
            enthalpy,
            entropy,
            internal_energy: enthalpy - split.pressure * volume,
            quality: Some(split.quality(&blend).clamp(0.0, 1.0)),
            phase: Phase::TwoPhase,
        })
    }

    /// The mixture between two ends that has a property; `None` beyond them.
    fn between_ends(
        &self,
        mixed: &MixedLine,
        ends: &Ends,
        property: Property,
        value: f64,
    ) -> Result<Option<State>> {
        let blend = mixed.blend()?;
        // Counted from the zero of the components.
        let [enthalpy, entropy] = self.equation.lowered;
        let split = match property {
            Property::Enthalpy => ends.with_enthalpy(&blend, value + enthalpy),
            Property::Entropy => ends.with_entropy(&blend, value + entropy),
            Property::InternalEnergy => ends.with_internal_energy(&blend, value + enthalpy),
        };
        split?.map(|split| self.composed(mixed, &split)).transpose()
    }

    /// Pressure and a property between their values at bubble and dew point.
    pub(super) fn mixed_at_pressure(
        &self,
        mixed: &MixedLine,
        saturation: &Saturation,
        (property, value): (Property, f64),
        share: f64,
    ) -> Result<State> {
        let pressure = saturation.pressure();
        let ends = mixed.ends_at_pressure(pressure)?;
        let found = self.between_ends(mixed, &ends, property, value)?;
        // Beyond the ends by rounding: at one of them.
        let state = found.unwrap_or_else(|| saturation.mixture(share.round()));
        Ok(State { pressure, ..state })
    }

    /// Wet vapor at a pressure below that of the coldest liquid.
    pub(super) fn mixed_below_coldest_liquid(
        &self,
        mixed: &MixedLine,
        pressure: f64,
        property: Property,
        value: f64,
    ) -> Result<State> {
        let ends = mixed.ends_at_pressure(pressure)?;
        if let Some(state) = self.between_ends(mixed, &ends, property, value)? {
            return Ok(property.given(value, State { pressure, ..state }));
        }
        let ends = [self.composed(mixed, ends.first())?, self.composed(mixed, ends.last())?];
        let [minimum, maximum] = ends.map(|state| property.of_state(&state));
        Err(Error::OutOfRange {
            argument: property.name(),
            value,
            minimum,
            maximum,
            unit: property.unit(),
            reason: format!(
                "at {pressure} Pa from {} K up; {}",
                self.limits.minimum_temperature, self.limits.reason
            ),
        })
    }

    /// Pressure and temperature; `None` outside the dome.
    pub(super) fn mixed_pt(
        &self,
        mixed: &MixedLine,
        pressure: f64,
        temperature: f64,
    ) -> Result<Option<State>> {
        if !(mixed.coldest_dew_pressure()..=self.line.highest_pressure()).contains(&pressure) {
            return Ok(None);
        }
        if pressure >= self.line.coldest_pressure() {
            let saturation = self.line.at_pressure(self.equation, pressure)?;
            let (bubble, dew) = (saturation.liquid.temperature, saturation.vapor.temperature);
            if !(bubble..=dew).contains(&temperature) {
                return Ok(None);
            }
            let share = lever(bubble, dew, temperature);
            if share == 0.0 || share == 1.0 {
                return Ok(Some(State { temperature, ..saturation.mixture(share) }));
            }
        }
        let found = mixed.ends_at_pressure(pressure)?.with_temperature(&mixed.blend()?, temperature)?;
        let Some(split) = found else { return Ok(None) };
        Ok(Some(State { pressure, temperature, ..self.composed(mixed, &split)? }))
    }

    /// Pressure and quality.
    pub(super) fn mixed_px(&self, mixed: &MixedLine, pressure: f64, quality: f64) -> Result<State> {
        let is_cold = pressure < self.line.coldest_pressure() && pressure >= mixed.coldest_dew_pressure();
        if !is_cold {
            let saturation = self.line.at_pressure(self.equation, pressure)?;
            if quality <= 0.0 || quality >= 1.0 {
                return Ok(saturation.mixture(quality));
            }
        }
        let split = mixed.ends_at_pressure(pressure)?.with_quality(&mixed.blend()?, quality)?;
        Ok(State { pressure, quality: Some(quality), ..self.composed(mixed, &split)? })
    }

    /// Temperature and quality.
    pub(super) fn mixed_tx(&self, mixed: &MixedLine, temperature: f64, quality: f64) -> Result<State> {
        self.line.holds(temperature)?;
        if quality <= 0.0 || quality >= 1.0 {
            return Ok(self.line.at_temperature(self.equation, temperature)?.mixture(quality));
        }
        let split = mixed.ends_at_temperature(temperature)?.with_quality(&mixed.blend()?, quality)?;
        Ok(State { temperature, quality: Some(quality), ..self.composed(mixed, &split)? })
    }

    /// Temperature and density; `None` outside the dome.
    pub(super) fn mixed_t_rho(
        &self,
        mixed: &MixedLine,
        temperature: f64,
        density: f64,
    ) -> Result<Option<State>> {
        if temperature >= self.line.critical_temperature() || temperature < self.line.coldest_temperature() {
            return Ok(None);
        }
        if temperature > self.line.hottest() {
            return self.mixed_above_hottest_bubble(mixed, temperature, density);
        }
        let saturation = self.line.at_temperature(self.equation, temperature)?;
        let (liquid, vapor) = (saturation.liquid, saturation.vapor);
        if density == liquid.density {
            return Ok(Some(liquid));
        }
        if density == vapor.density {
            return Ok(Some(vapor));
        }
        if !(density < liquid.density && density > vapor.density) {
            return Ok(None);
        }
        let split = mixed.ends_at_temperature(temperature)?.with_density(&mixed.blend()?, density)?;
        match split {
            Some(split) => Ok(Some(State { temperature, density, ..self.composed(mixed, &split)? })),
            None => Ok(None),
        }
    }

    /// The same above the hottest bubble point, where an isotherm that meets the dew line leaves through it again.
    fn mixed_above_hottest_bubble(
        &self,
        mixed: &MixedLine,
        temperature: f64,
        density: f64,
    ) -> Result<Option<State>> {
        let (thin, dense) = (mixed.thinnest(), self.line.coldest_liquid_density());
        if density <= thin || density >= dense || temperature >= mixed.leaves(density)? {
            return Ok(None);
        }
        // Along the isotherm density rises with pressure, through the dome as well.
        let highest = self.line.highest_pressure();
        let mut last = None;
        let mut secant = Secant::new(f64::NAN);
        newton(
            SOLVER,
            Bracket { lower: self.line.coldest_pressure(), upper: highest, rising: true },
            0.99 * highest,
            f64::EPSILON,
            |pressure| {
                let state = self.pt_in_range(pressure, temperature)?;
                last = Some(state);
                let off = (state.density / density).ln();
                Ok((off, secant.at(pressure, off)))
            },
        )?;
        let state = last
            .filter(|state| state.phase == Phase::TwoPhase && (state.density / density - 1.0).abs() < 1e-9);
        state.map(|state| Some(State { temperature, density, ..state })).ok_or(self.line.unsettled(highest))
    }

    /// Temperature and a property between their values at bubble and dew point.
    pub(super) fn mixed_at_temperature(
        &self,
        mixed: &MixedLine,
        saturation: &Saturation,
        property: Property,
        value: f64,
    ) -> Result<State> {
        let temperature = saturation.temperature();
        let ends = mixed.ends_at_temperature(temperature)?;
        let found = self.between_ends(mixed, &ends, property, value)?;
        let [l, v] = [saturation.liquid, saturation.vapor].map(|state| property.of_state(&state));
        let state = found.unwrap_or_else(|| saturation.mixture(lever(l, v, value).round()));
        Ok(property.given(value, State { temperature, ..state }))
    }

    /// The same above the hottest bubble point, up to the highest pressure at which something is told.
    pub(super) fn mixed_on_hot_isotherm(
        &self,
        temperature: f64,
        property: Property,
        value: f64,
    ) -> Result<State> {
        let top = self.pt_in_range(self.line.highest_pressure(), temperature)?;
        let rounding = self.rounding() * property.scale(self.equation.gas_constant, temperature);
        if value < property.of_state(&top) - rounding {
            return Err(self.line.unsettled(self.line.critical_pressure()));
        }
        let dense = top.density;
        let dilute = LOWEST_PRESSURE / (self.equation.gas_constant * temperature);
        let mut last = None;
        let mut secant = Secant::new(f64::NAN);
        newton(
            SOLVER,
            Bracket { lower: 1.0, upper: 1.0 + (dense / dilute).ln(), rising: false },
            1.0 + (0.9 * dense / dilute).ln(),
            f64::EPSILON,
            |variable| {
                let state = self.t_rho(temperature, dilute * (variable - 1.0).exp())?;
                last = Some(state);
                let off = property.of_state(&state) - value;
                Ok((off, secant.at(variable, off)))
            },
        )?;
        Ok(property.given(value, last.ok_or(Self::unsolved())?))
    }

    /// Enthalpy and entropy; `None` outside the dome.
    pub(super) fn mixed_hs(&self, mixed: &MixedLine, enthalpy: f64, entropy: f64) -> Result<Option<State>> {
        let [zero_enthalpy, zero_entropy] = self.equation.lowered;
        let found = mixed.split_hs(enthalpy + zero_enthalpy, entropy + zero_entropy)?;
        let state = found.map(|split| self.composed(mixed, &split)).transpose()?;
        Ok(state.map(|state| State { enthalpy, entropy, ..state }))
    }

    /// The pressures between which a state of one phase has an enthalpy and an entropy: on either side of those between the highest
    /// pressure of bubble or dew points and the highest one of both, at which nothing is told.
    pub(super) fn beside_top(
        &self,
        enthalpy: f64,
        entropy: f64,
        (lower, upper): (f64, f64),
    ) -> Result<(f64, f64)> {
        let (highest, critical) = (self.line.highest_pressure(), self.line.critical_pressure());
        if highest >= critical {
            return Ok((lower, upper));
        }
        let rounding = self.rounding() * self.equation.gas_constant;
        // Next to the top a mixture may not be solved for: then it is told from above alone.
        let below = match self.entropy_off(highest, enthalpy, entropy) {
            Ok((off, _)) if off <= rounding => return Ok((lower, highest)),
            Ok(_) => Err(self.line.unsettled(critical)),
            Err(Error::NotConverged { .. }) => Ok((lower, highest)),
            Err(error) => return Err(error),
        };
        match self.entropy_off(critical, enthalpy, entropy) {
            Ok((off, _)) if off < -rounding => below,
            // Above a gap the equation may have no state of one phase at that very pressure.
            Ok(_) | Err(Error::NotConverged { .. }) => Ok((critical, upper)),
            Err(error) => Err(error),
        }
    }

    /// How a two-phase state, or a saturated one on its wet side, answers to pressure and enthalpy.
    pub(crate) fn lever(&self, state: &State) -> Option<Lever> {
        let Some(mixed) = self.line.mixed() else {
            return self.line.at_pressure(self.equation, state.pressure).ok().map(Lever::Saturation);
        };
        let blend = mixed.blend().ok()?;
        // At the very ends one phase has no amount that could change.
        let quality = state.quality?.clamp(NEXT_TO_ENDS, 1.0 - NEXT_TO_ENDS);
        let split = mixed.ends_at_pressure(state.pressure).ok()?.with_quality(&blend, quality).ok()?;
        let molar_mass = blend.molar_mass();
        let [by_ln_p, by_h] = split.slopes(&blend)?;
        let by_p = by_ln_p.map(|slope| slope / state.pressure);
        // Of a kilogram: temperature as it is, volume and entropy of a mole over that of its enthalpy.
        let with = |[temperature, volume, entropy]: [f64; 3], of: [f64; 3], enthalpy| Slopes {
            temperature: temperature * of[0],
            volume: volume * of[1],
            entropy: entropy * of[2],
            enthalpy,
        };
        let per_mass = molar_mass.recip();
        Some(Lever::Equilibrium([
            with(by_p, [1.0, per_mass, per_mass], 0.0),
            with(by_h, [molar_mass, 1.0, 1.0], 1.0),
        ]))
    }

    /// Liquid and vapor of a mixture with a quality, or of a saturated state.
    pub(crate) fn phases(&self, state: &State, quality: f64) -> Result<[Composed; 2]> {
        let mixed = self.line.mixed().ok_or(Self::unsolved())?;
        let blend = mixed.blend()?;
        let split = mixed.ends_at_pressure(state.pressure)?.with_quality(&blend, quality)?;
        Ok([split.liquid(&blend), split.vapor(&blend)])
    }

    /// Density and pressure.
    pub(super) fn mixed_rho_p(&self, mixed: &MixedLine, density: f64, pressure: f64) -> Result<State> {
        let mut lower = self.limits.minimum_temperature;
        if (mixed.coldest_dew_pressure()..=self.line.highest_pressure()).contains(&pressure) {
            let ends = mixed.ends_at_pressure(pressure)?;
            let blend = mixed.blend()?;
            if let Some(split) = ends.with_density(&blend, density)? {
                return Ok(State { density, pressure, ..self.composed(mixed, &split)? });
            }
            if density < 1.0 / (ends.last().totals(&blend)[0] / blend.molar_mass()) {
                lower = ends.last().temperature;
            }
        }
        if density < self.line.coldest_liquid_density() && density > mixed.thinnest() {
            lower = lower.max(mixed.leaves(density)?);
        }
        let of = |at: &Thermo| (at.pressure, at.p_t);
        let rounding = |at: &Thermo| self.rounding() * (at.density * at.p_rho).max(at.pressure);
        let range = (lower, self.limits.maximum_temperature);
        let at = self.one_phase(density, range, ("pressure", "Pa", pressure), of, rounding)?;
        Ok(State { density, ..self.single(&Thermo { pressure, ..at }) })
    }

    /// Density and a property, all of which rise with temperature along an isochore.
    pub(super) fn mixed_at_density(
        &self,
        mixed: &MixedLine,
        density: f64,
        property: Property,
        value: f64,
    ) -> Result<State> {
        finite(property.name(), value, property.unit())?;
        let (coldest, hottest) = (self.limits.minimum_temperature, self.limits.maximum_temperature);
        let of = |thermo: &Thermo| (property.of(thermo), property.slopes(thermo).0);
        let rounding = |thermo: &Thermo| {
            self.rounding() * property.scale(self.equation.gas_constant, thermo.temperature)
        };
        let wanted = (property.name(), property.unit(), value);
        let one_phase = |from: f64| -> Result<State> {
            Ok(self.single(&self.one_phase(density, (from, hottest), wanted, of, rounding)?))
        };
        if density >= self.line.coldest_liquid_density() || density <= mixed.thinnest() {
            return one_phase(coldest);
        }
        let leaves = mixed.leaves(density)?;
        if value >= property.of(&self.equation.at(leaves, density)) {
            return one_phase(leaves);
        }
        let at = |temperature: f64| -> Result<State> {
            let state = self.mixed_t_rho(mixed, temperature, density)?;
            Ok(state.unwrap_or_else(|| self.single(&self.equation.at(temperature, density))))
        };
        let lowest = property.of_state(&at(coldest)?);
        if value < lowest {
            return Err(Error::OutOfRange {
                argument: property.name(),
                value,
                minimum: lowest,
                maximum: property.of(&self.equation.at(hottest, density)),
                unit: property.unit(),
                reason: format!(
                    "at {density} kg/m3 between {coldest} K and {hottest} K; {}",
                    self.limits.reason
                ),
            });
        }
        let mut secant = Secant::new(f64::NAN);
        let (mut last, mut unsolved) = (None, None);
        newton(
            SOLVER,
            Bracket { lower: coldest, upper: leaves, rising: true },
            0.5 * (coldest + leaves),
            2.0 * f64::EPSILON,
            |temperature| match at(temperature) {
                Ok(state) => {
                    let off = property.of_state(&state) - value;
                    last = Some((state, off));
                    Ok((off, secant.at(temperature, off)))
                }
                // Next to the critical point mixtures may not be found: they are taken for too hot.
                Err(error) => {
                    unsolved = Some(error);
                    Ok((f64::INFINITY, f64::NAN))
                }
            },
        )?;
        let (state, off) = last.ok_or(Self::unsolved())?;
        let scale = property.scale(self.equation.gas_constant, state.temperature);
        match unsolved {
            Some(error) if off.abs() > MET * scale => Err(error),
            _ => Ok(property.given(value, State { density, ..state })),
        }
    }
}
