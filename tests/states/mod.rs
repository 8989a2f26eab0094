//! What the tests of states share: how residuals are counted, what rounding may leave, and the pairs of properties.
#![allow(dead_code, reason = "each test file is a crate of its own and uses a part of this module")]
#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that fails is a failed test")]

pub(crate) mod random;

use interstage::{Phase, Refrigerant, Result, State};

/// Every refrigerant there is, by each of its equations.
pub(crate) fn refrigerants() -> Vec<Refrigerant> {
    let all: Vec<_> = Refrigerant::catalogue()
        .map(|name| Refrigerant::named(name).unwrap())
        .flat_map(|newest| {
            newest.equations().map(|name| newest.clone().with_equation(name).unwrap()).collect::<Vec<_>>()
        })
        .collect();
    assert!(all.len() >= 33);
    all
}

/// Those whose saturation is an equilibrium of their equation: all but the blends.
pub(crate) fn pure_refrigerants() -> Vec<Refrigerant> {
    refrigerants().into_iter().filter(|refrigerant| refrigerant.composition().is_none()).collect()
}

/// Highest temperature of saturated liquid: short of the critical point where the curves of a blend end.
pub(crate) fn hottest_saturation(refrigerant: &Refrigerant) -> f64 {
    refrigerant.critical_temperature() * if refrigerant.composition().is_some() { 0.998 } else { 1.0 }
}

/// The pressure itself, or one just above the critical where a blend has no states: between the end of its curves and that.
pub(crate) fn outside_gap(refrigerant: &Refrigerant, pressure: f64) -> f64 {
    let end =
        refrigerant.saturation_at_temperature(hottest_saturation(refrigerant)).unwrap().liquid().pressure();
    let critical = refrigerant.critical_pressure();
    if pressure > end && pressure < critical { 1.001 * critical } else { pressure }
}

/// Scaled residual that a solved state of this temperature and density may leave: 1e-12, or what the rounding of the
/// equation's terms leaves where they are large and cancel (most of all in cold liquid R-22).
pub(crate) fn tolerance(refrigerant: &Refrigerant, temperature: f64, density: f64) -> f64 {
    refrigerant.rounding(temperature, density).max(1e-12)
}

/// The same for a state that may be a mixture of saturated phases, of which the liquid has the larger terms.
pub(crate) fn tolerance_of(refrigerant: &Refrigerant, state: &State) -> f64 {
    match state.phase() {
        // Newton's method takes the slow steps that singular terms leave there for rounding.
        _ if is_singular(refrigerant)
            && (state.temperature() / refrigerant.critical_temperature() - 1.0).abs() < NEAR_SINGULAR =>
        {
            1e-8
        }
        Phase::TwoPhase if is_at_an_end(refrigerant, state) => {
            wet_tolerance(refrigerant, state.temperature()).max(end_of_range(refrigerant, state))
        }
        Phase::TwoPhase => wet_tolerance(refrigerant, state.temperature()),
        _ if state.temperature() == refrigerant.critical_temperature() => {
            // Sixteen units in the last place of the temperature are taken off, where some equations let cv grow without bound.
            let cv = refrigerant.derivatives(state).map_or(0.0, |slopes| slopes.cv());
            end_of_range(refrigerant, state) + 16.0 * f64::EPSILON * cv / refrigerant.gas_constant()
        }
        _ if is_at_an_end(refrigerant, state) => end_of_range(refrigerant, state),
        Phase::Liquid if is_met_by_saturated_liquid(refrigerant, state) => end_of_range(refrigerant, state),
        _ => match inside_dome(refrigerant, state) {
            None => tolerance(refrigerant, state.temperature(), state.density()),
            // Then it is held against the wet state of that density.
            Some(share) => {
                let line = wet_tolerance(refrigerant, state.temperature());
                line.max(end_of_range(refrigerant, state)) + share
            }
        },
    }
}

/// Whether a state lies at an end of the range, which values that miss it by rounding are met by.
fn is_at_an_end(refrigerant: &Refrigerant, state: &State) -> bool {
    let (p, t) = (state.pressure(), state.temperature());
    let meets = |end: f64| (p / end - 1.0).abs() <= BESIDE;
    t == refrigerant.minimum_temperature()
        || t == refrigerant.maximum_temperature()
        || meets(1e-9)
        || meets(refrigerant.maximum_pressure())
        // Short of its critical pressure a blend has no states.
        || (refrigerant.composition().is_some() && meets(refrigerant.critical_pressure()))
}

/// How far beside the saturation line a state may lie by rounding, relative to density, pressure, temperature or quality.
const BESIDE: f64 = 1e-9;

/// By what share of the density of the saturated phase a state of one phase lies inside the dome: by rounding, if at all, and
/// next to the critical point rounding of the pressure is much of the density. `None` outside, and where it is more than that.
fn inside_dome(refrigerant: &Refrigerant, state: &State) -> Option<f64> {
    let saturation = refrigerant.saturation_at_temperature(state.temperature()).ok()?;
    let (liquid, vapor) = (saturation.liquid().density(), saturation.vapor().density());
    let inside = (1.0 - state.density() / liquid).min(state.density() / vapor - 1.0);
    (0.0..=BESIDE).contains(&inside).then_some(inside)
}

/// The same for saturated and wet states at a temperature.
pub(crate) fn wet_tolerance(refrigerant: &Refrigerant, temperature: f64) -> f64 {
    // Wet states of a blend begin with colder liquid than its range has, and end with hotter vapor.
    let range = (refrigerant.minimum_saturation_temperature(), hottest_saturation(refrigerant));
    let temperature = temperature.clamp(range.0, range.1);
    let at = |temperature| refrigerant.saturation_at_temperature(temperature).unwrap();
    let (here, beside) = (at(temperature), at(temperature.next_up().min(range.1)));
    // A temperature is known to half the distance of two numbers, which moves both phases next to the critical point.
    let (r, rt) = (refrigerant.gas_constant(), refrigerant.gas_constant() * temperature);
    let moved = [(here.liquid(), beside.liquid()), (here.vapor(), beside.vapor())].map(|(a, b)| {
        let (h, s) = ((a.enthalpy() - b.enthalpy()) / rt, (a.entropy() - b.entropy()) / r);
        h.abs().max(s.abs()).max((a.density() / b.density() - 1.0).abs())
    });
    tolerance(refrigerant, temperature, here.liquid().density()) + 0.5 * moved[0].max(moved[1])
}

/// Distance from the critical temperature, relative to it, within which water and carbon dioxide are not good to rounding
/// (1.4e-9 was met, which is 7e-8 K): some terms of their equations are singular at the critical point.
pub(crate) const NEAR_SINGULAR: f64 = 1e-6;

/// Refrigerants with such terms (`nonanalytic` in their files).
pub(crate) fn is_singular(refrigerant: &Refrigerant) -> bool {
    ["R-718", "R-744"].contains(&refrigerant.name())
}

/// Slopes of a state of one phase.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Slopes {
    pub(crate) cv: f64,
    pub(crate) p_t: f64,
    pub(crate) p_rho: f64,
}

impl Slopes {
    pub(crate) fn new(refrigerant: &Refrigerant, state: &State) -> Self {
        let derivatives = refrigerant.derivatives(state).unwrap();
        let compressibility = derivatives.isothermal_compressibility();
        Self {
            cv: derivatives.cv(),
            p_t: derivatives.thermal_expansion() / compressibility,
            p_rho: 1.0 / (state.density() * compressibility),
        }
    }
}

/// The handle that evaluates the equation a rounding error beyond its limits as well.
pub(crate) fn evaluator(refrigerant: &Refrigerant) -> Refrigerant {
    refrigerant.clone().with_extrapolation()
}

/// The largest scaled residual of a state: pressure, enthalpy, entropy and internal energy of the equation of state at
/// its temperature and density, or of the mixture of the saturated phases, less those of the state.
///
/// Pressure is scaled by the larger of itself and `rho (dp/drho)_T`, energies by R T, entropy by R, density by itself.
pub(crate) fn residual(refrigerant: &Refrigerant, state: &State) -> f64 {
    let (r, t) = (refrigerant.gas_constant(), state.temperature());
    let inside = |x: &f64| *x > 0.0 && *x < 1.0;
    let parts = if let Some(x) = state.quality().filter(inside) {
        // The phases of a blend have one pressure and two temperatures, between which that of the mixture glides.
        let saturation = match refrigerant.composition() {
            None => refrigerant.saturation_at_temperature(t).unwrap(),
            Some(_) => refrigerant.saturation_at_pressure(state.pressure()).unwrap(),
        };
        let (liquid, vapor) = (saturation.liquid(), saturation.vapor());
        let mixed = |of: fn(&State) -> f64| of(&liquid) + x * (of(&vapor) - of(&liquid));
        [
            saturation.pressure() / state.pressure() - 1.0 + (mixed(State::temperature) / t - 1.0),
            (mixed(State::enthalpy) - state.enthalpy()) / (r * t),
            (mixed(State::entropy) - state.entropy()) / r,
            (mixed(State::internal_energy) - state.internal_energy()) / (r * t),
            1.0 / mixed(State::specific_volume) / state.density() - 1.0,
        ]
    } else {
        let at = evaluator(refrigerant).state_t_rho(t, state.density()).unwrap();
        let stiffness = state.density() * Slopes::new(refrigerant, state).p_rho;
        [
            (at.pressure() - state.pressure()) / state.pressure().max(stiffness),
            (at.enthalpy() - state.enthalpy()) / (r * t),
            (at.entropy() - state.entropy()) / r,
            (at.internal_energy() - state.internal_energy()) / (r * t),
            0.0,
        ]
    };
    parts
        .into_iter()
        .fold(0.0, |worst: f64, part| if part.is_nan() { f64::NAN } else { worst.max(part.abs()) })
}

/// Whether a state lies where its phase says, by its temperature and that of saturation at its pressure, and by its
/// density and those of the saturated phases at its temperature. Rounding at the line itself is allowed for.
pub(crate) fn is_stable(refrigerant: &Refrigerant, state: &State) -> bool {
    const ROUNDING: f64 = BESIDE;
    let (p, t, rho) = (state.pressure(), state.temperature(), state.density());
    // A given temperature that misses the critical one by rounding is returned as given and may count as the critical one.
    let critical = refrigerant.critical_temperature();
    let (cool, hot) = (t < critical, t >= critical * (1.0 - 16.0 * f64::EPSILON));
    // That of a blend comes out of its equation to rounding only.
    let rounding = if refrigerant.composition().is_some() { ROUNDING } else { 0.0 };
    let dense = p >= refrigerant.critical_pressure() * (1.0 - rounding);
    if let Ok(saturation) = refrigerant.saturation_at_temperature(t) {
        let (liquid, vapor) = (saturation.liquid().density(), saturation.vapor().density());
        let holds = if state.phase() == Phase::TwoPhase {
            (vapor * (1.0 - ROUNDING)..=liquid * (1.0 + ROUNDING)).contains(&rho)
        } else {
            rho >= liquid * (1.0 - ROUNDING) || rho <= vapor * (1.0 + ROUNDING)
        };
        // Next to the critical point the two densities of a pressure differ by more than rounding.
        let close = 1.0 - t / refrigerant.critical_temperature() < NEAR_SINGULAR;
        if !close && !holds && vapor * (1.0 + ROUNDING) < liquid {
            return false;
        }
    }
    let saturation = refrigerant.saturation_at_pressure(p);
    let ends = saturation.map(|s| (s.liquid().temperature(), s.vapor().temperature()));
    let warm = ends.as_ref().is_ok_and(|&(_, dew)| t >= dew * (1.0 - ROUNDING));
    let cold = ends.as_ref().is_ok_and(|&(bubble, _)| t <= bubble * (1.0 + ROUNDING));
    let between = ends
        .as_ref()
        .is_ok_and(|&(bubble, dew)| (bubble * (1.0 - ROUNDING)..=dew * (1.0 + ROUNDING)).contains(&t));
    match state.phase() {
        Phase::Supercritical => hot && dense,
        Phase::Liquid => cool && (dense || cold || is_met_by_saturated_liquid(refrigerant, state)),
        Phase::Vapor => {
            (hot && !dense) || warm || p < refrigerant.minimum_saturation_pressure() * (1.0 + ROUNDING)
        }
        Phase::TwoPhase => between,
        _ => false,
    }
}

/// By how much a value may miss the end of a range that is still taken to meet it (`ROUNDING` beside the solvers).
fn end_of_range(refrigerant: &Refrigerant, state: &State) -> f64 {
    tolerance(refrigerant, state.temperature(), state.density()).max(4e-12)
}

/// Whether a pressure below that of saturation is met by saturated liquid but for rounding, in units of the liquid's stiffness.
fn is_met_by_saturated_liquid(refrigerant: &Refrigerant, state: &State) -> bool {
    let rounding = end_of_range(refrigerant, state);
    // A liquid inside the dome has no slopes.
    let Ok(slopes) = refrigerant.derivatives(state) else { return false };
    let stiffness = 1.0 / slopes.isothermal_compressibility();
    refrigerant.saturation_at_temperature(state.temperature()).is_ok_and(|saturation| {
        let off = (state.density() / saturation.liquid().density() - 1.0).abs();
        let short = saturation.pressure() - state.pressure();
        off <= rounding && short > 0.0 && short <= rounding * stiffness
    })
}

/// A property that pairs are made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Of {
    Temperature,
    Pressure,
    Density,
    Enthalpy,
    Entropy,
    InternalEnergy,
}

impl Of {
    pub(crate) fn value(self, state: &State) -> f64 {
        match self {
            Self::Temperature => state.temperature(),
            Self::Pressure => state.pressure(),
            Self::Density => state.density(),
            Self::Enthalpy => state.enthalpy(),
            Self::Entropy => state.entropy(),
            Self::InternalEnergy => state.internal_energy(),
        }
    }

    /// Slopes with the logarithms of temperature and density, over the scale of the property's residual.
    fn slopes(self, r: f64, state: &State, slopes: &Slopes) -> [f64; 2] {
        let (t, rho, p) = (state.temperature(), state.density(), state.pressure());
        let Slopes { cv, p_t, p_rho } = *slopes;
        let pressure_scale = p.max(rho * p_rho);
        match self {
            Self::Temperature => [1.0, 0.0],
            Self::Density => [0.0, 1.0],
            Self::Pressure => [t * p_t / pressure_scale, rho * p_rho / pressure_scale],
            Self::Enthalpy => [(cv + p_t / rho) / r, (p_rho - t * p_t / rho) / (r * t)],
            Self::Entropy => [cv / r, -p_t / (rho * r)],
            Self::InternalEnergy => [cv / r, (p - t * p_t) / (rho * r * t)],
        }
    }

    /// Whether the property is returned as given and enters the equation as it is.
    fn is_exact(self) -> bool {
        matches!(self, Self::Temperature | Self::Density)
    }
}

/// A method that makes a state from two properties.
pub(crate) struct Pair {
    pub(crate) name: &'static str,
    pub(crate) given: [Of; 2],
    pub(crate) make: fn(&Refrigerant, f64, f64) -> Result<State>,
}

/// Every method of two properties but those with quality.
pub(crate) const PAIRS: [Pair; 13] = {
    use Of::{Density, Enthalpy, Entropy, InternalEnergy, Pressure, Temperature};
    macro_rules! pair {
        ($name:ident, $first:expr, $second:expr) => {
            Pair { name: stringify!($name), given: [$first, $second], make: |r, a, b| r.$name(a, b) }
        };
    }
    [
        pair!(state_pt, Pressure, Temperature),
        pair!(state_ph, Pressure, Enthalpy),
        pair!(state_ps, Pressure, Entropy),
        pair!(state_pu, Pressure, InternalEnergy),
        pair!(state_hs, Enthalpy, Entropy),
        pair!(state_ts, Temperature, Entropy),
        pair!(state_th, Temperature, Enthalpy),
        pair!(state_tu, Temperature, InternalEnergy),
        pair!(state_t_rho, Temperature, Density),
        pair!(state_rho_p, Density, Pressure),
        pair!(state_rho_h, Density, Enthalpy),
        pair!(state_rho_s, Density, Entropy),
        pair!(state_rho_u, Density, InternalEnergy),
    ]
};

impl Pair {
    /// The values of the two properties in a state.
    pub(crate) fn of(&self, state: &State) -> (f64, f64) {
        (self.given[0].value(state), self.given[1].value(state))
    }

    /// Relative changes of temperature and density that residuals of size 1 in both properties stand for: how well the
    /// pair determines a state of one phase. Large next to the critical point (density at pressure and temperature) and in
    /// a thin gas (density at temperature and enthalpy).
    pub(crate) fn conditioning(&self, refrigerant: &Refrigerant, state: &State) -> [f64; 2] {
        let slopes = Slopes::new(refrigerant, state);
        let row = |of: Of| of.slopes(refrigerant.gas_constant(), state, &slopes);
        let [[a, b], [c, d]] = [row(self.given[0]), row(self.given[1])];
        let determinant = (a * d - b * c).abs();
        let size = |of: Of| if of.is_exact() { 0.0 } else { 1.0 };
        let (first, second) = (size(self.given[0]), size(self.given[1]));
        [
            (d.abs() * first + b.abs() * second) / determinant,
            (c.abs() * first + a.abs() * second) / determinant,
        ]
    }
}
