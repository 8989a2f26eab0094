//! Two phases at a temperature or pressure and another property, from the two ends between which they lie.

use super::envelope::Envelope;
use super::split::Split;
use super::wanted::{Wanted, solve_split};
use super::{Blend, GAS_CONSTANT};
use crate::error::{Error, Result, finite, within};
use crate::numeric::{Bracket, Secant, newton};

/// The first and the last mixtures of liquid and vapor at a temperature or a pressure: bubble and dew point. At pressures below
/// that of the coldest liquid the first is the mixture at the coldest temperature.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ends {
    held: Wanted,
    ends: [Split; 2],
}

/// Residual that a solved (h, s) may leave, in units of R.
const ACCEPTED: f64 = 1e-9;

/// Relative change of the pressure with which Newton's method may end the search.
const NEAR: f64 = 1e-6;

/// What rounding leaves of a property at a bubble or dew point, over its natural scale: what misses it by less is met by it.
const ROUNDING: f64 = 5e-13;

/// The same where the first mixture is that at the coldest temperature: how far beyond it is looked whether that is met.
const COLD: f64 = 1e-9;

/// How often a step to another amount of vapor is halved.
const HALVINGS: u32 = 5;

/// Share of the way from end to end below which a mixture that is not found is the end.
const AT_END: f64 = 1e-10;

impl Ends {
    /// # Errors
    ///
    /// [`Error::OutOfRange`] for temperatures at which the line has no bubble or no dew point.
    pub(crate) fn at_temperature(blend: &Blend<'_>, line: &Envelope, temperature: f64) -> Result<Self> {
        let bubble = line.bubble(blend, temperature)?;
        let dew = line.dew(blend, temperature)?;
        Ok(Self {
            held: Wanted::Temperature(temperature),
            ends: [Split::of(blend, &bubble), Split::of(blend, &dew)],
        })
    }

    /// # Errors
    ///
    /// [`Error::OutOfRange`] for pressures at which the line has no bubble or no dew point.
    pub(crate) fn at_pressure(blend: &Blend<'_>, line: &Envelope, pressure: f64) -> Result<Self> {
        let dew = Split::of(blend, &line.dew_at_pressure(blend, pressure)?);
        let [coldest, _] = line.cold_ends();
        let first = if pressure < coldest.pressure {
            match Self::at_temperature(blend, line, coldest.temperature)?.with_pressure(blend, pressure)? {
                Some(split) => split,
                // At the coldest dew point but for rounding.
                None => dew,
            }
        } else {
            Split::of(blend, &line.bubble_at_pressure(blend, pressure)?)
        };
        Ok(Self { held: Wanted::LnPressure(pressure.ln()), ends: [first, dew] })
    }

    /// The end with the least vapor: the bubble point but at the lowest pressures.
    pub(crate) fn first(&self) -> &Split {
        &self.ends[0]
    }

    /// The dew point.
    pub(crate) fn last(&self) -> &Split {
        &self.ends[1]
    }

    /// The split at a pressure (Pa) where a temperature is held; `None` where there is one phase.
    pub(crate) fn with_pressure(&self, blend: &Blend<'_>, pressure: f64) -> Result<Option<Split>> {
        self.find(blend, Wanted::LnPressure(pressure.ln()), pressure.ln(), |split| split.pressure.ln())
    }

    /// The split at a temperature (K) where a pressure is held; `None` where there is one phase.
    pub(crate) fn with_temperature(&self, blend: &Blend<'_>, temperature: f64) -> Result<Option<Split>> {
        self.find(blend, Wanted::Temperature(temperature), temperature, |split| split.temperature)
    }

    /// The split with a density of both phases together, kg/m3; `None` where there is one phase.
    pub(crate) fn with_density(&self, blend: &Blend<'_>, density: f64) -> Result<Option<Split>> {
        let volume = blend.molar_mass() / density;
        self.find(blend, Wanted::Volume(volume), volume, |split| split.totals(blend)[0])
    }

    /// The split with an enthalpy, J/kg; `None` where there is one phase.
    pub(crate) fn with_enthalpy(&self, blend: &Blend<'_>, enthalpy: f64) -> Result<Option<Split>> {
        let enthalpy = enthalpy * blend.molar_mass();
        self.find(blend, Wanted::Enthalpy(enthalpy), enthalpy, |split| split.totals(blend)[1])
    }

    /// The split with an internal energy, J/kg; `None` where there is one phase.
    pub(crate) fn with_internal_energy(&self, blend: &Blend<'_>, energy: f64) -> Result<Option<Split>> {
        let energy = energy * blend.molar_mass();
        let of = |split: &Split| {
            let [volume, enthalpy, _] = split.totals(blend);
            enthalpy - split.pressure * volume
        };
        self.find(blend, Wanted::InternalEnergy(energy), energy, of)
    }

    /// The split with an entropy, J/(kg K); `None` where there is one phase.
    pub(crate) fn with_entropy(&self, blend: &Blend<'_>, entropy: f64) -> Result<Option<Split>> {
        let entropy = entropy * blend.molar_mass();
        self.find(blend, Wanted::Entropy(entropy), entropy, |split| split.totals(blend)[2])
    }

    /// The split with a mass fraction of vapor.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`] for what is no fraction, and for mixtures colder than the line.
    pub(crate) fn with_quality(&self, blend: &Blend<'_>, quality: f64) -> Result<Split> {
        within("quality", quality, 0.0, 1.0, "kg/kg", "the mass fraction of vapor")?;
        let found = self.find(blend, Wanted::Quality(quality), quality, |split| split.quality(blend))?;
        found.ok_or_else(|| Error::OutOfRange {
            argument: "quality",
            value: quality,
            minimum: self.ends[0].quality(blend),
            maximum: 1.0,
            unit: "kg/kg",
            reason: format!(
                "mixtures with less vapor are colder than the line, {} K",
                self.ends[0].temperature
            ),
        })
    }

    /// The split that has a wanted quantity, which rises or falls all the way from end to end; `None` beyond them.
    fn find(
        &self,
        blend: &Blend<'_>,
        wanted: Wanted,
        target: f64,
        of: impl Fn(&Split) -> f64,
    ) -> Result<Option<Split>> {
        finite("property", target, "SI")?;
        let [a, b] = &self.ends;
        let (at_a, at_b) = (of(a), of(b));
        for (end, at) in [(a, at_a), (b, at_b)] {
            if target == at {
                return Ok(Some(*end));
            }
        }
        if !(target > at_a.min(at_b) && target < at_a.max(at_b)) {
            let natural = match wanted {
                Wanted::Temperature(_) | Wanted::Volume(_) => target.abs(),
                Wanted::LnPressure(_) | Wanted::Quality(_) | Wanted::VaporFraction(_) => 1.0,
                Wanted::Enthalpy(_) | Wanted::InternalEnergy(_) => GAS_CONSTANT * a.temperature,
                Wanted::Entropy(_) => GAS_CONSTANT,
            };
            let near = |end: &Split, at: f64| {
                let rounding = if end.is_mixture() { COLD } else { ROUNDING };
                (target - at).abs() <= rounding * natural
            };
            let met = [(a, at_a), (b, at_b)].into_iter().find(|(end, at)| near(end, *at));
            let Some((end, _)) = met else { return Ok(None) };
            if !end.is_mixture() {
                return Ok(Some(*end));
            }
            let found = solve_split(blend, end, [self.held, wanted]).ok();
            return Ok(found.filter(|found| found.temperature >= end.temperature * (1.0 - ROUNDING)));
        }
        let share = (target - at_a) / (at_b - at_a);
        let fraction = a.vapor_fraction + share * (b.vapor_fraction - a.vapor_fraction);
        let inside = |split: &Split| {
            let [low, high] = [a, b].map(|end| end.vapor_fraction);
            split.vapor_fraction >= low - 1e-9 && split.vapor_fraction <= high + 1e-9
        };
        let start = Split::between(blend, [a, b], fraction);
        if let Ok(split) = solve_split(blend, &start, [self.held, wanted])
            && inside(&split)
        {
            return Ok(Some(split));
        }
        if share < AT_END {
            return Ok(Some(*a));
        }
        if 1.0 - share < AT_END {
            return Ok(Some(*b));
        }
        self.search(blend, fraction, target, (at_a, at_b), of).map(Some)
    }

    /// The same by amounts of vapor, of which there is one only.
    fn search(
        &self,
        blend: &Blend<'_>,
        start: f64,
        target: f64,
        (at_a, at_b): (f64, f64),
        of: impl Fn(&Split) -> f64,
    ) -> Result<Split> {
        let [a, b] = &self.ends;
        let (lower, upper) = (a.vapor_fraction, b.vapor_fraction);
        let scale = (at_b - at_a).abs();
        let mut secant = Secant::new((at_b - at_a) / (scale * (upper - lower)));
        // The nearest solved ones on either side.
        let mut around = [*a, *b];
        let mut found = *a;
        newton(
            "split by amount of vapor",
            Bracket { lower, upper, rising: at_b > at_a },
            start,
            f64::EPSILON,
            |fraction| {
                let [low, high] = &around;
                let start = Split::between(blend, [low, high], fraction);
                let wanted = [self.held, Wanted::VaporFraction(fraction)];
                found = solve_split(blend, &start, wanted)
                    .or_else(|_| self.reach(blend, low, fraction, HALVINGS))
                    .or_else(|_| self.reach(blend, high, fraction, HALVINGS))?;
                let off = (of(&found) - target) / scale;
                around[usize::from((off > 0.0) == (at_b > at_a))] = found;
                Ok((off, secant.at(fraction, off)))
            },
        )?;
        Ok(found)
    }
}

impl Ends {
    /// Least and most entropy of a mole of a mixture between the ends at a pressure, with an enthalpy (J): `dh = T ds`, and temperature
    /// rises from end to end.
    fn entropies(&self, blend: &Blend<'_>, enthalpy: f64) -> (f64, f64) {
        let [(cold, a), (hot, b)] = [0, 1].map(|i| (self.ends[i].temperature, self.ends[i].totals(blend)));
        let (up, down) = (enthalpy - a[1], b[1] - enthalpy);
        let least = (a[2] + up / hot).max(b[2] - down / cold);
        let most = (a[2] + up / cold).min(b[2] - down / hot);
        (least.min(most), most.max(least))
    }

    /// The split with an amount of vapor, from another one, by shorter and shorter steps.
    fn reach(&self, blend: &Blend<'_>, from: &Split, fraction: f64, halvings: u32) -> Result<Split> {
        let start = from.with_vapor_fraction(blend, fraction);
        let found = solve_split(blend, &start, [self.held, Wanted::VaporFraction(fraction)]);
        if found.is_ok() || halvings == 0 {
            return found;
        }
        let middle = 0.5 * (from.vapor_fraction + fraction);
        let middle = self.reach(blend, from, middle, halvings - 1)?;
        self.reach(blend, &middle, fraction, halvings - 1)
    }
}

/// The split with an enthalpy (J/kg) and an entropy (J/(kg K)); `None` where there is one phase.
///
/// At constant enthalpy entropy falls with pressure: the pressure is searched for between the ends of the line.
pub(crate) fn at_enthalpy_entropy(
    blend: &Blend<'_>,
    line: &Envelope,
    enthalpy: f64,
    entropy: f64,
) -> Result<Option<Split>> {
    finite("enthalpy", enthalpy, "J/kg")?;
    finite("entropy", entropy, "J/(kg K)")?;
    let mass = blend.molar_mass();
    let [of_bubbles, of_dews] = line.highest_pressures();
    let [_, dew] = line.cold_ends();
    let (lowest, highest) = (dew.pressure, of_bubbles.min(of_dews));
    // By how much the entropy is too high, in units of R, and its slope. In one phase it goes on from the nearer end by the heat that
    // leads from there: what lies below the first mixtures is at too high a pressure, or colder than the line.
    let at = |pressure: f64| -> Result<(f64, f64, Option<Split>)> {
        let ends = Ends::at_pressure(blend, line, pressure)?;
        let found = match ends.with_enthalpy(blend, enthalpy) {
            Err(error @ Error::NotConverged { .. }) => {
                // Next to the critical point the entropy need not be known to tell that it is another one.
                let (least, most) = ends.entropies(blend, enthalpy * mass);
                let off = (least - entropy * mass).max(0.0) + (most - entropy * mass).min(0.0);
                return if off == 0.0 { Err(error) } else { Ok((off / GAS_CONSTANT, f64::NAN, None)) };
            }
            found => found?,
        };
        let is_first = enthalpy * mass < ends.first().totals(blend)[1];
        let split = found.unwrap_or(*if is_first { ends.first() } else { ends.last() });
        let [volume, of_split, total] = split.totals(blend);
        let heat = (enthalpy * mass - of_split) / split.temperature;
        let off = total - entropy * mass;
        let off = match (found, is_first, split.is_mixture()) {
            (Some(_), ..) => off,
            (None, false, _) => off + heat,
            (None, true, false) => off.min(0.0) + heat,
            (None, true, true) => off.max(0.0) - heat,
        };
        let slope = if found.is_some() { -pressure * volume / split.temperature } else { f64::NAN };
        Ok((off / GAS_CONSTANT, slope / GAS_CONSTANT, found))
    };
    let (mut best, mut reached) = (ACCEPTED, None);
    let pressure_at = |ln_pressure: f64| ln_pressure.exp().clamp(lowest, highest);
    let mut look = |ln_pressure: f64| {
        let (off, slope, found) = at(pressure_at(ln_pressure))?;
        if found.is_some() && off.abs() < best {
            (best, reached) = (off.abs(), found);
        }
        Ok((off, slope))
    };
    let solved = newton(
        "pressure at enthalpy and entropy",
        Bracket { lower: lowest.ln(), upper: highest.ln(), rising: false },
        0.5 * (lowest.ln() + highest.ln()),
        f64::EPSILON,
        &mut look,
    )?;
    look(solved)?;
    let Some(reached) = reached else { return Ok(None) };
    // At a bubble or dew point the search comes near only.
    let wanted = [Wanted::Enthalpy(enthalpy * mass), Wanted::Entropy(entropy * mass)];
    let settled = solve_split(blend, &reached, wanted).ok();
    let settled = settled.filter(|split| (split.pressure / reached.pressure - 1.0).abs() < NEAR);
    Ok(Some(settled.unwrap_or(reached)))
}
