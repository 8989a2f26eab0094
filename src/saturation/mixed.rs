//! Bubble and dew lines of a blend by the mixture model, as polynomials.

use std::sync::Arc;

use super::blend::{Blend, Components, Ends, Envelope, Point, Split, at_enthalpy_entropy};
use super::{Glide, Saturation};
use crate::error::Result;
use crate::helmholtz::Equation;
use crate::numeric::Piecewise;
use crate::state::State;

/// Distance from the highest temperature and the highest pressure, relative to them, at which the fits end; closer points are
/// solved for.
const NEAREST: f64 = 1e-4;

/// Bits of the mantissa that name a cell.
const BITS: u32 = 3;

/// The saturated states of a blend of fixed composition.
#[derive(Debug)]
pub(crate) struct MixedLine {
    components: Arc<Components>,
    mole_fractions: Vec<f64>,
    envelope: Arc<Envelope>,
    molar_mass: f64,
    /// Polynomials of the bubble line and of the dew line, if there are any.
    lines: [Option<Line>; 2],
    /// Ends of the ordinary branches of bubble and dew line: temperatures and pressures.
    hottest: [f64; 2],
    highest_pressures: [f64; 2],
}

/// Polynomials of one of the two lines.
#[derive(Debug)]
struct Line {
    is_bubble: bool,
    /// Above all its temperatures and pressures: it is counted from there.
    end: (f64, f64),
    /// Against the distance from the highest temperature: logarithm of pressure, and the rest.
    by_temperature: Piecewise<5>,
    /// Against pressure up to half the highest one, and against the distance from the highest one: temperature, and the rest.
    low: Piecewise<5>,
    high: Piecewise<5>,
}

/// A saturated state, and the slope of the line there.
#[derive(Debug, Clone, Copy)]
struct Saturated {
    temperature: f64,
    pressure: f64,
    density: f64,
    enthalpy: f64,
    entropy: f64,
    /// Pressure with temperature, Pa/K
    slope: f64,
}

impl MixedLine {
    /// Solves for the points of both lines and fits them: some tenths of a second.
    pub(super) fn new(
        equation: &Equation,
        components: &Arc<Components>,
        mole_fractions: &[f64],
        envelope: &Arc<Envelope>,
        tables: bool,
    ) -> Result<Self> {
        let blend = components.blend(mole_fractions)?;
        let molar_mass = blend.molar_mass();
        let line = |is_bubble| tables.then(|| Line::new(equation, &blend, envelope, is_bubble)).transpose();
        let lines = [line(true)?, line(false)?];
        Ok(Self {
            components: Arc::clone(components),
            mole_fractions: mole_fractions.to_vec(),
            envelope: Arc::clone(envelope),
            molar_mass,
            lines,
            hottest: [true, false].map(|bubble| envelope.hottest(bubble)),
            highest_pressures: envelope.highest_pressures(),
        })
    }

    /// The composition.
    pub(crate) fn blend(&self) -> Result<Blend<'_>> {
        self.components.blend(&self.mole_fractions)
    }

    /// Highest temperature of the ordinary branch of the bubble line, K.
    pub(super) fn hottest_bubble(&self) -> f64 {
        self.hottest[0]
    }

    /// Highest pressure up to which there is a bubble and a dew point, Pa.
    pub(super) fn highest_pressure(&self) -> f64 {
        let [bubble, dew] = self.highest_pressures;
        bubble.min(dew)
    }

    /// Density of the coldest saturated vapor, kg/m3.
    pub(crate) fn thinnest(&self) -> f64 {
        self.envelope.cold_ends()[1].molar_density() * self.molar_mass
    }

    /// Temperature (K) at which an isochore (kg/m3) leaves the dome.
    pub(crate) fn leaves(&self, density: f64) -> Result<f64> {
        Ok(self.envelope.at_molar_density(&self.blend()?, density / self.molar_mass)?.temperature)
    }

    /// Pressure of the coldest saturated vapor, Pa.
    pub(crate) fn coldest_dew_pressure(&self) -> f64 {
        self.envelope.cold_ends()[1].pressure
    }

    /// First and last mixture of liquid and vapor at a pressure.
    pub(crate) fn ends_at_pressure(&self, pressure: f64) -> Result<Ends> {
        Ends::at_pressure(&self.blend()?, &self.envelope, pressure)
    }

    /// The mixture of liquid and vapor with an enthalpy and an entropy, counted from the zero of the components; `None` where there is
    /// one phase.
    pub(crate) fn split_hs(&self, enthalpy: f64, entropy: f64) -> Result<Option<Split>> {
        at_enthalpy_entropy(&self.blend()?, &self.envelope, enthalpy, entropy)
    }

    /// The same at a temperature.
    pub(crate) fn ends_at_temperature(&self, temperature: f64) -> Result<Ends> {
        Ends::at_temperature(&self.blend()?, &self.envelope, temperature)
    }

    /// Both phases at a pressure, each at its own temperature.
    pub(super) fn at_pressure(&self, equation: &Equation, pressure: f64) -> Result<Saturation> {
        let bubble = self.at(equation, Which::Bubble, Given::Pressure(pressure))?;
        let dew = self.at(equation, Which::Dew, Given::Pressure(pressure))?;
        Ok(saturation(bubble, dew, dew.temperature - bubble.temperature))
    }

    /// The dew point at a pressure below that of the coldest liquid, with that liquid; `None` below the coldest dew point.
    pub(super) fn cold_dew(&self, equation: &Equation, pressure: f64) -> Result<Option<Saturation>> {
        let [bubble, dew] = self.envelope.cold_ends();
        if pressure < dew.pressure {
            return Ok(None);
        }
        let liquid = self.at(equation, Which::Bubble, Given::Temperature(bubble.temperature))?;
        let vapor = self.at(equation, Which::Dew, Given::Pressure(pressure))?;
        Ok(Some(saturation(liquid, vapor, vapor.temperature - liquid.temperature)))
    }

    /// Both phases at a temperature, each at its own pressure. Beyond the hottest bubble point the liquid is that one.
    pub(super) fn at_temperature(&self, equation: &Equation, temperature: f64) -> Result<Saturation> {
        let [hottest, _] = self.hottest;
        let bubble = self.at(equation, Which::Bubble, Given::Temperature(temperature.min(hottest)))?;
        let dew = self.at(equation, Which::Dew, Given::Temperature(temperature))?;
        // Not told where the liquid would be colder than the line, or beyond it.
        let bubble_pressures = self.envelope.cold_ends()[0].pressure..=self.highest_pressures[0];
        let glide = if bubble_pressures.contains(&dew.pressure) {
            temperature - self.at(equation, Which::Bubble, Given::Pressure(dew.pressure))?.temperature
        } else {
            f64::NAN
        };
        Ok(saturation(bubble, dew, glide))
    }

    fn at(&self, equation: &Equation, which: Which, given: Given) -> Result<Saturated> {
        let line = self.lines[usize::from(which == Which::Dew)].as_ref();
        match line.and_then(|line| line.read(equation, given)) {
            Some(found) => Ok(found),
            None => {
                let blend = self.blend()?;
                let point = given.point(&self.envelope, &blend, which == Which::Bubble)?;
                let found = solved(equation, &blend, &point, self.molar_mass);
                Ok(match given {
                    Given::Temperature(temperature) => Saturated { temperature, ..found },
                    Given::Pressure(pressure) => Saturated { pressure, ..found },
                })
            }
        }
    }
}

/// One of the two lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Which {
    Bubble,
    Dew,
}

/// What a saturated state is asked for by.
#[derive(Debug, Clone, Copy)]
enum Given {
    Temperature(f64),
    Pressure(f64),
}

impl Given {
    fn point(self, envelope: &Envelope, blend: &Blend<'_>, is_bubble: bool) -> Result<Point> {
        match (self, is_bubble) {
            (Self::Temperature(temperature), true) => envelope.bubble(blend, temperature),
            (Self::Temperature(temperature), false) => envelope.dew(blend, temperature),
            (Self::Pressure(pressure), true) => envelope.bubble_at_pressure(blend, pressure),
            (Self::Pressure(pressure), false) => envelope.dew_at_pressure(blend, pressure),
        }
    }
}

/// A point of a line with the equation's properties.
fn solved(equation: &Equation, blend: &Blend<'_>, point: &Point, molar_mass: f64) -> Saturated {
    let at = equation.at(point.temperature, point.molar_density() * molar_mass);
    Saturated {
        temperature: point.temperature,
        pressure: point.pressure,
        density: at.density,
        enthalpy: at.enthalpy,
        entropy: at.entropy,
        slope: point.slope(blend),
    }
}

fn saturation(bubble: Saturated, dew: Saturated, glide: f64) -> Saturation {
    let Saturated { temperature, pressure, density, enthalpy, entropy, slope: bubble_slope } = bubble;
    let liquid = State::saturated_liquid(temperature, pressure, density, enthalpy, entropy);
    let Saturated { temperature, pressure, density, enthalpy, entropy, slope: dew_slope } = dew;
    let vapor = State::saturated_vapor(temperature, pressure, density, enthalpy, entropy);
    let glide = Some(Glide { bubble_slope, dew_slope, temperature: glide });
    Saturation { liquid, vapor, glide, critical_slope: None }
}

impl Line {
    fn new(equation: &Equation, blend: &Blend<'_>, envelope: &Envelope, is_bubble: bool) -> Result<Self> {
        let molar_mass = blend.molar_mass();
        let cold = envelope.cold_ends()[usize::from(!is_bubble)];
        let hottest = [true, false].map(|bubble| envelope.hottest(bubble));
        let highest = envelope.highest_pressures();
        let end = (hottest[0].max(hottest[1]), highest[0].max(highest[1]));
        let (hottest, highest) = (hottest[usize::from(!is_bubble)], highest[usize::from(!is_bubble)]);
        let at = |given: Given| -> Result<Saturated> {
            let point = given.point(envelope, blend, is_bubble)?;
            Ok(solved(equation, blend, &point, molar_mass))
        };
        // Of a vapor the compressibility factor is fitted, of which nothing spans decades; the slope as that of ln(p) against ln(T).
        let thickness = |of: &Saturated| {
            if is_bubble {
                of.density
            } else {
                of.pressure / (of.density * equation.gas_constant * of.temperature)
            }
        };
        let steepness = |of: &Saturated| of.pressure / (of.slope * of.temperature);
        let bits = |_, _| Ok(BITS);
        let nearest = end.0 - hottest + NEAREST * end.0;
        let by_temperature = Piecewise::fit(nearest, end.0 - cold.temperature, bits, |below| {
            let of = at(Given::Temperature((end.0 - below).max(cold.temperature)))?;
            Ok([of.pressure.ln(), thickness(&of), of.enthalpy, of.entropy, steepness(&of)])
        })?;
        let by_pressure = |pressure: f64| {
            let of = at(Given::Pressure(pressure))?;
            Ok([of.temperature, thickness(&of), of.enthalpy, of.entropy, steepness(&of)])
        };
        let middle = 0.5 * end.1;
        let low =
            Piecewise::fit(cold.pressure, middle, bits, |pressure| by_pressure(pressure.max(cold.pressure)))?;
        let nearest = end.1 - highest + NEAREST * end.1;
        let high = Piecewise::fit(nearest, middle, bits, |below| by_pressure(end.1 - below))?;
        Ok(Self { is_bubble, end, by_temperature, low, high })
    }

    /// What the polynomials say, if they reach there.
    fn read(&self, equation: &Equation, given: Given) -> Option<Saturated> {
        let (temperature, pressure, [thickness, enthalpy, entropy, steepness]) = match given {
            Given::Temperature(temperature) => {
                let [ln_pressure, rest @ ..] = self.by_temperature.evaluate(self.end.0 - temperature)?;
                (temperature, ln_pressure.exp(), rest)
            }
            Given::Pressure(pressure) => {
                let found = self.low.evaluate(pressure).or_else(|| self.high.evaluate(self.end.1 - pressure));
                let [temperature, rest @ ..] = found?;
                (temperature, pressure, rest)
            }
        };
        let density = if self.is_bubble {
            thickness
        } else {
            pressure / (thickness * equation.gas_constant * temperature)
        };
        let slope = pressure / (steepness * temperature);
        Some(Saturated { temperature, pressure, density, enthalpy, entropy, slope })
    }
}
