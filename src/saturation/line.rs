//! The saturation line of a fluid from end to end, whatever it comes from.

use std::sync::Arc;

use super::Saturation;
use super::blend::{Components, Envelope, Point};
use super::curves::Curves;
use super::equilibrium;
use super::fit::Fit;
use super::mixed::MixedLine;
use crate::error::{Error, Result, within};
use crate::fluid::Fluid;
use crate::helmholtz::{Equation, Thermo};
use crate::numeric::{Bracket, newton};
use crate::state::State;

/// Saturated liquid at one temperature, without building the line.
pub(crate) fn saturated_liquid(
    equation: &Equation,
    fluid: &'static Fluid,
    temperature: f64,
) -> Result<Thermo> {
    if let Some(blend) = &fluid.blend {
        let liquid = Curves::new(fluid, blend)?.at_temperature(equation, temperature)?.liquid;
        return Ok(equation.at(temperature, liquid.density));
    }
    let densities = equilibrium::solve(equation, fluid, temperature, equilibrium::guess(fluid, temperature))?;
    Ok(equation.at(temperature, densities.liquid))
}

/// Saturation states from the triple point, or the lowest temperature of a blend, to the critical point.
#[derive(Debug)]
pub(crate) struct SaturationLine {
    critical_temperature: f64,
    critical_pressure: f64,
    critical_density: f64,
    coldest_temperature: f64,
    coldest_pressure: f64,
    coldest_liquid_density: f64,
    is_triple: bool,
    course: Course,
}

/// Where the states between the ends come from.
#[derive(Debug)]
enum Course {
    /// Phase equilibrium of the equation of state.
    Equilibrium(Box<Fit>),
    /// Bubble and dew pressures published beside the equation of a blend.
    Published(Curves),
    /// Bubble and dew points of a mixture.
    Mixed(Box<MixedLine>),
}

impl SaturationLine {
    /// Solves the equation of state along the line and fits it, which takes milliseconds; a blend has its published
    /// curves.
    pub(crate) fn new(equation: &Equation, fluid: &'static Fluid) -> Result<Self> {
        let critical_temperature = fluid.critical.temperature;
        let coldest_temperature = fluid.coldest.temperature;
        let (course, critical_pressure, critical_density, coldest_pressure) = match &fluid.blend {
            Some(blend) => {
                let curves = Curves::new(fluid, blend)?;
                let coldest = curves.at_temperature(equation, coldest_temperature)?.pressure();
                // The state of the equation where the curves meet, not the rounded density printed beside them.
                let density = curves.at_temperature(equation, critical_temperature)?.vapor.density;
                (Course::Published(curves), fluid.critical.pressure, density, coldest)
            }
            None => {
                let fit = Fit::new(equation, fluid)?;
                let (triple, critical) = fit.ends();
                let density = fluid.critical.molar_density * fluid.molar_mass;
                (Course::Equilibrium(Box::new(fit)), critical, density, triple)
            }
        };
        let mut line = Self {
            critical_temperature,
            critical_pressure,
            critical_density,
            coldest_temperature,
            coldest_pressure,
            coldest_liquid_density: f64::NAN,
            is_triple: fluid.coldest.is_triple,
            course,
        };
        line.coldest_liquid_density = line.at(equation, coldest_temperature)?.liquid.density;
        Ok(line)
    }

    /// The bubble and dew lines of a mixture. What counts as critical here is their highest temperature and pressure, beyond which
    /// there is one phase.
    pub(crate) fn of_mixture(
        equation: &Equation,
        components: &Arc<Components>,
        mole_fractions: &[f64],
        envelope: &Arc<Envelope>,
        tables: bool,
    ) -> Result<Self> {
        let mixed = MixedLine::new(equation, components, mole_fractions, envelope, tables)?;
        let molar_mass = mixed.blend()?.molar_mass();
        let [bubble, _] = envelope.cold_ends();
        let highest = |of: fn(&Point) -> f64| envelope.points().iter().map(of).fold(0.0, f64::max);
        Ok(Self {
            critical_temperature: highest(|point| point.temperature),
            critical_pressure: highest(|point| point.pressure),
            critical_density: envelope.top_density() * molar_mass,
            coldest_temperature: envelope.coldest(),
            coldest_pressure: bubble.pressure,
            coldest_liquid_density: bubble.molar_density() * molar_mass,
            is_triple: false,
            course: Course::Mixed(Box::new(mixed)),
        })
    }

    /// Critical temperature of the equation, K.
    pub(crate) fn critical_temperature(&self) -> f64 {
        self.critical_temperature
    }

    /// Pressure of the equation at its critical point, Pa.
    pub(crate) fn critical_pressure(&self) -> f64 {
        self.critical_pressure
    }

    /// Density at the critical point of the equation, kg/m3.
    pub(crate) fn critical_density(&self) -> f64 {
        self.critical_density
    }

    /// Saturation pressure at the triple point, Pa.
    pub(crate) fn coldest_pressure(&self) -> f64 {
        self.coldest_pressure
    }

    /// Density of the coldest saturated liquid, kg/m3.
    pub(crate) fn coldest_liquid_density(&self) -> f64 {
        self.coldest_liquid_density
    }

    /// Whether a point below the critical temperature lies beside the dome for certain: what need not be asked twice.
    #[inline]
    pub(crate) fn is_beside_dome(&self, temperature: f64, density: f64) -> bool {
        match &self.course {
            Course::Equilibrium(fit) => {
                fit.densities(temperature).is_some_and(|[liquid, vapor]| density > liquid || density < vapor)
            }
            Course::Published(_) | Course::Mixed(_) => false,
        }
    }

    /// Triple-point temperature, K.
    pub(crate) fn coldest_temperature(&self) -> f64 {
        self.coldest_temperature
    }

    /// Temperature of the coldest saturated liquid, K: that of a blend at its coldest dew pressure.
    pub(crate) fn coldest_liquid(&self, equation: &Equation) -> Result<f64> {
        match self.course {
            Course::Equilibrium(_) | Course::Mixed(_) => Ok(self.coldest_temperature),
            Course::Published(_) => Ok(self.at_pressure(equation, self.coldest_pressure)?.liquid.temperature),
        }
    }

    /// Both phases at a temperature between the ends. Those of a blend have different pressures, and beyond
    /// [`Self::hottest`] only the vapor has a meaning.
    #[inline]
    pub(crate) fn at_temperature(&self, equation: &Equation, temperature: f64) -> Result<Saturation> {
        match self.read_at_temperature(temperature) {
            Some(saturation) => Ok(saturation),
            None => self.at_any_temperature(equation, temperature),
        }
    }

    /// The same of a pure fluid, where it is read off. Inlined, as what calls it should be: a saturation takes longer to copy
    /// than to read off.
    #[inline(always)]
    pub(crate) fn read_at_temperature(&self, temperature: f64) -> Option<Saturation> {
        match &self.course {
            Course::Equilibrium(fit) if temperature >= self.coldest_temperature => {
                fit.read_at_temperature(temperature)
            }
            _ => None,
        }
    }

    #[inline(never)]
    fn at_any_temperature(&self, equation: &Equation, temperature: f64) -> Result<Saturation> {
        let (coldest, hottest) = (self.coldest_temperature, self.critical_temperature);
        within("temperature", temperature, coldest, hottest, "K", self.reason())?;
        self.at(equation, temperature)
    }

    /// Refuses a temperature beyond those of saturated liquid.
    pub(crate) fn holds(&self, temperature: f64) -> Result<f64> {
        within("temperature", temperature, self.coldest_temperature, self.hottest(), "K", self.reason())
    }

    /// Highest temperature of saturated liquid, K: the critical one, for a blend a little less.
    pub(crate) fn hottest(&self) -> f64 {
        match &self.course {
            Course::Equilibrium(_) => self.critical_temperature,
            Course::Published(curves) => curves.hottest(),
            Course::Mixed(mixed) => mixed.hottest_bubble(),
        }
    }

    /// Highest pressure of saturated liquid, Pa: the critical one, for a blend a little less.
    pub(crate) fn highest_pressure(&self) -> f64 {
        match &self.course {
            Course::Equilibrium(_) => self.critical_pressure,
            Course::Published(curves) => curves.highest_pressure(),
            Course::Mixed(mixed) => mixed.highest_pressure(),
        }
    }

    /// Whether there is one phase at any temperature: from the critical pressure on. That of a blend comes out of its
    /// equation to rounding only.
    pub(crate) fn is_above_dome(&self, pressure: f64) -> bool {
        let rounding = if self.curves().is_some() { 1e-9 } else { 0.0 };
        pressure >= self.critical_pressure * (1.0 - rounding)
    }

    /// Refuses a pressure between the highest of saturated liquid and the critical one.
    pub(crate) fn settled(&self, pressure: f64) -> Result<f64> {
        if pressure > self.highest_pressure() && !self.is_above_dome(pressure) {
            return Err(self.unsettled(pressure));
        }
        Ok(pressure)
    }

    /// The error for states between the highest pressure of saturated liquid and the critical pressure.
    pub(crate) fn unsettled(&self, pressure: f64) -> Error {
        Error::OutOfRange {
            argument: "pressure",
            value: pressure.max(self.highest_pressure().next_up()),
            minimum: self.coldest_pressure,
            maximum: self.highest_pressure(),
            unit: "Pa",
            reason: self.reason().to_owned(),
        }
    }

    fn at(&self, equation: &Equation, temperature: f64) -> Result<Saturation> {
        match &self.course {
            Course::Equilibrium(fit) => Ok(fit.at_temperature(equation, temperature)),
            Course::Published(curves) => curves.at_temperature(equation, temperature),
            Course::Mixed(mixed) => mixed.at_temperature(equation, temperature),
        }
    }

    /// Both phases at a pressure between the ends. Those of a blend have different temperatures; below the bubble
    /// pressure at the lowest temperature its liquid is colder than that.
    #[inline]
    pub(crate) fn at_pressure(&self, equation: &Equation, pressure: f64) -> Result<Saturation> {
        match self.read_at_pressure(pressure) {
            Some(saturation) => Ok(saturation),
            None => self.at_any_pressure(equation, pressure),
        }
    }

    /// The same of a pure fluid, where it is read off.
    #[inline(always)]
    pub(crate) fn read_at_pressure(&self, pressure: f64) -> Option<Saturation> {
        match &self.course {
            Course::Equilibrium(fit) => fit.read_at_pressure(pressure),
            Course::Published(_) | Course::Mixed(_) => None,
        }
    }

    /// Saturation temperature at a pressure, of a blend that of its dew point: what [`Self::at_pressure`] says, in less time.
    #[inline]
    pub(crate) fn temperature_at_pressure(&self, equation: &Equation, pressure: f64) -> Result<f64> {
        let read = match &self.course {
            Course::Equilibrium(fit) => fit.read_temperature(pressure),
            Course::Published(_) | Course::Mixed(_) => None,
        };
        match read {
            Some(temperature) => Ok(temperature),
            None => Ok(self.at_any_pressure(equation, pressure)?.temperature()),
        }
    }

    #[inline(never)]
    fn at_any_pressure(&self, equation: &Equation, pressure: f64) -> Result<Saturation> {
        within("pressure", pressure, self.coldest_pressure, self.highest_pressure(), "Pa", self.reason())?;
        match &self.course {
            Course::Equilibrium(fit) => Ok(fit.at_pressure(equation, pressure)),
            Course::Published(curves) => curves.at_pressure(equation, pressure),
            Course::Mixed(mixed) => mixed.at_pressure(equation, pressure),
        }
    }

    /// The dew point of a mixture at a pressure below that of its coldest liquid, with that liquid; `None` for another fluid and at pressures
    /// below that of the coldest vapor.
    pub(crate) fn cold_dew(&self, equation: &Equation, pressure: f64) -> Result<Option<Saturation>> {
        match &self.course {
            Course::Mixed(mixed) if pressure < self.coldest_pressure => mixed.cold_dew(equation, pressure),
            _ => Ok(None),
        }
    }

    /// The curves of a blend; `None` for a pure fluid, whose two phases have one pressure at one temperature.
    pub(crate) fn curves(&self) -> Option<&Curves> {
        match &self.course {
            Course::Equilibrium(_) | Course::Mixed(_) => None,
            Course::Published(curves) => Some(curves),
        }
    }

    /// The lines of a mixture, whose phases have compositions of their own.
    pub(crate) fn mixed(&self) -> Option<&MixedLine> {
        match &self.course {
            Course::Mixed(mixed) => Some(mixed),
            Course::Equilibrium(_) | Course::Published(_) => None,
        }
    }

    /// Densities of a blend's vapor and liquid at the highest pressure of two phases; `None` for a pure fluid, whose
    /// phases meet.
    pub(crate) fn gap(&self, equation: &Equation) -> Result<Option<(f64, f64)>> {
        let Some(curves) = self.curves() else { return Ok(None) };
        let end = self.at_pressure(equation, curves.highest_pressure())?;
        Ok(Some((end.vapor.density, end.liquid.density)))
    }

    fn reason(&self) -> &'static str {
        match self.course {
            Course::Equilibrium(_) if self.is_triple => {
                "the saturation line runs from the triple point to the critical point"
            }
            Course::Equilibrium(_) => {
                "the saturation line runs from where the equation begins to the critical point"
            }
            Course::Published(_) => {
                "range in which equation and published curves of the blend agree, just short of the critical point"
            }
            Course::Mixed(_) => "bubble and dew lines of the blend, up to where one of them turns back",
        }
    }

    /// Temperatures between which the isochore of `density` runs through the dome; `None` where it never does.
    ///
    /// The lower one is the triple-point temperature but for a liquid that is densest above it, as water is: an
    /// isochore that is denser than the liquid at the triple point then enters and leaves the dome. The dome of a blend
    /// is left at [`Self::hottest`] by isochores between its two densities there.
    pub(crate) fn dome_at_density(&self, equation: &Equation, density: f64) -> Result<Option<(f64, f64)>> {
        let (coldest, hottest) = (self.coldest_temperature, self.hottest());
        let triple = self.at(equation, coldest)?;
        if density <= triple.vapor.density {
            return Ok(None);
        }
        if let Some(gap) = self.gap(equation)? {
            if density < gap.0 {
                let hottest = self.at_pressure(equation, self.highest_pressure())?.vapor.temperature;
                let leaves = self.temperature_at_density(equation, density, (coldest, hottest), true)?;
                return Ok(Some((coldest, leaves)));
            }
            if density <= gap.1 {
                return Ok(Some((coldest, hottest)));
            }
        }
        if density <= triple.liquid.density {
            let leaves = self.temperature_at_density(equation, density, (coldest, hottest), true)?;
            return Ok(Some((coldest, leaves)));
        }
        let contracts = |temperature: f64| -> Result<f64> {
            let saturation = self.at(equation, temperature)?;
            Ok(density_slope(equation, &saturation.liquid, saturation.slopes().0))
        };
        if contracts(coldest)? <= 0.0 {
            return Ok(None);
        }
        let densest = newton(
            "densest saturated liquid",
            Bracket { lower: coldest, upper: hottest, rising: false },
            coldest,
            f64::EPSILON,
            |temperature| Ok((contracts(temperature)?, f64::NAN)),
        )?;
        if density >= self.at(equation, densest)?.liquid.density {
            return Ok(None);
        }
        let enters = self.temperature_at_density(equation, density, (coldest, densest), false)?;
        let leaves = self.temperature_at_density(equation, density, (densest, hottest), true)?;
        Ok(Some((enters, leaves)))
    }

    /// Temperature at which the saturated phase on the same side of the critical density has `density`. Between the
    /// two temperatures the phases must draw together (`towards_critical`) or, for a liquid, apart.
    fn temperature_at_density(
        &self,
        equation: &Equation,
        density: f64,
        (coldest, hottest): (f64, f64),
        towards_critical: bool,
    ) -> Result<f64> {
        // In the square root of the distance from the critical temperature densities are almost straight there.
        let critical = self.critical_temperature;
        let root = |temperature: f64| (1.0 - temperature / critical).max(0.0).sqrt();
        let temperature_at = |root: f64| (critical * (1.0 - root * root)).clamp(coldest, hottest);
        let liquid = density > self.critical_density;
        let (lower, upper) = (root(hottest), root(coldest));
        let found = newton(
            "saturation temperature at density",
            Bracket { lower, upper, rising: liquid == towards_critical },
            0.5 * (lower + upper),
            f64::EPSILON,
            |root| {
                let saturation = self.at(equation, temperature_at(root))?;
                let (bubble, dew) = saturation.slopes();
                let (phase, along) =
                    if liquid { (saturation.liquid, bubble) } else { (saturation.vapor, dew) };
                let slope = density_slope(equation, &phase, along) / phase.density;
                Ok(((phase.density / density).ln(), -2.0 * critical * root * slope))
            },
        )?;
        Ok(temperature_at(found))
    }
}

/// Slope of a saturated phase's density with temperature along the line, kg/(m3 K).
fn density_slope(equation: &Equation, phase: &State, pressure_slope: f64) -> f64 {
    let at = equation.at(phase.temperature, phase.density);
    (pressure_slope - at.p_t) / at.p_rho
}
