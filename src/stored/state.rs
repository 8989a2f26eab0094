//! States, saturation and the points of a cycle.

use serde::de::IgnoredAny;
use serde::{Deserialize, Serialize};

use super::form::{Form, Number, Refused, Version, kind, stored, word, word_for};
use crate::cycle::{Location, Point};
use crate::error::finite;
use crate::saturation::{Glide, Saturation};
use crate::state::{Phase, State};

pub(super) const PHASES: [(&str, Phase); 4] = [
    ("liquid", Phase::Liquid),
    ("vapor", Phase::Vapor),
    ("two-phase", Phase::TwoPhase),
    ("supercritical", Phase::Supercritical),
];

/// How well enthalpy and internal energy must agree, relative to their size.
const AGREE: f64 = 1e-9;

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StateForm {
    format_version: Version,
    r#type: kind::State,
    /// A state of Python knows its refrigerant, one of this crate does not.
    #[serde(default, skip_serializing)]
    #[expect(dead_code, reason = "read over")]
    refrigerant: Option<IgnoredAny>,
    #[serde(rename = "T")]
    temperature: f64,
    p: f64,
    rho: f64,
    h: f64,
    s: f64,
    u: f64,
    x: Number,
    phase: String,
}

impl Form for StateForm {
    type Value = State;

    fn of(state: &State) -> Self {
        Self {
            format_version: Version,
            r#type: kind::State,
            refrigerant: None,
            temperature: state.temperature(),
            p: state.pressure(),
            rho: state.density(),
            h: state.enthalpy(),
            s: state.entropy(),
            u: state.internal_energy(),
            x: Number(state.quality().unwrap_or(f64::NAN)),
            phase: word_for(&state.phase(), &PHASES),
        }
    }

    /// Whether the numbers are those of an equation of state is not calculated again, but they must be of one state.
    fn read(self) -> Result<State, Refused> {
        let refused = |reason: String| Err(Refused::because(reason));
        let Self { temperature, p, rho, h, s, u, .. } = self;
        for (key, value, unit) in [
            ("T", temperature, "K"),
            ("p", p, "Pa"),
            ("rho", rho, "kg/m3"),
            ("h", h, "J/kg"),
            ("s", s, "J/(kg K)"),
            ("u", u, "J/kg"),
        ] {
            finite(key, value, unit)?;
            if value <= 0.0 && matches!(key, "T" | "p" | "rho") {
                return refused(format!("{key} is {value} {unit}, which is not positive"));
            }
        }
        let flow_work = p / rho;
        if (h - u - flow_work).abs() > AGREE * (h.abs() + u.abs() + flow_work) {
            return refused(format!("h is {h} J/kg, but u + p/rho are {}", u + flow_work));
        }
        let quality = (!self.x.0.is_nan()).then_some(self.x.0);
        let phase = word("phase", &self.phase, &PHASES)?;
        match quality {
            Some(x) if !(0.0..=1.0).contains(&x) => return refused(format!("x is {x}, not from 0 to 1")),
            None if phase == Phase::TwoPhase => {
                return refused("a two-phase state has a quality x from 0 to 1".to_owned());
            }
            _ => {}
        }
        Ok(State {
            temperature,
            pressure: p,
            density: rho,
            enthalpy: h,
            entropy: s,
            internal_energy: u,
            quality,
            phase,
        })
    }
}

/// Slopes are there where they are not those of a pure fluid by the equation of Clausius and Clapeyron.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SaturationForm {
    format_version: Version,
    r#type: kind::Saturation,
    liquid: State,
    vapor: State,
    temperature_glide: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    bubble_slope: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    dew_slope: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    critical_slope: Option<f64>,
}

impl Form for SaturationForm {
    type Value = Saturation;

    fn of(saturation: &Saturation) -> Self {
        Self {
            format_version: Version,
            r#type: kind::Saturation,
            liquid: saturation.liquid,
            vapor: saturation.vapor,
            temperature_glide: saturation.temperature_glide(),
            bubble_slope: saturation.glide.map(|glide| glide.bubble_slope),
            dew_slope: saturation.glide.map(|glide| glide.dew_slope),
            critical_slope: saturation.critical_slope,
        }
    }

    fn read(self) -> Result<Saturation, Refused> {
        let temperature = finite("temperature glide", self.temperature_glide, "K")?;
        let glide = match (self.bubble_slope, self.dew_slope) {
            (Some(bubble), Some(dew)) => Some(Glide {
                bubble_slope: finite("bubble slope", bubble, "Pa/K")?,
                dew_slope: finite("dew slope", dew, "Pa/K")?,
                temperature,
            }),
            (None, None) if temperature == 0.0 => None,
            _ => {
                return Err(Refused::because("a saturation with glide has bubble_slope and dew_slope"));
            }
        };
        if let Some(slope) = self.critical_slope {
            finite("critical slope", slope, "Pa/K")?;
        }
        let Self { liquid, vapor, critical_slope, .. } = self;
        if liquid.quality() != Some(0.0) || vapor.quality() != Some(1.0) {
            return Err(Refused::because("saturated liquid has the quality 0 and saturated vapor 1"));
        }
        Ok(Saturation { liquid, vapor, glide, critical_slope })
    }
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PointForm {
    format_version: Version,
    r#type: kind::Point,
    name: Location,
    mass_flow: f64,
    state: State,
}

impl Form for PointForm {
    type Value = Point;

    fn of(point: &Point) -> Self {
        Self {
            format_version: Version,
            r#type: kind::Point,
            name: point.location,
            mass_flow: point.mass_flow,
            state: point.state,
        }
    }

    fn read(self) -> Result<Point, Refused> {
        let mass_flow = finite("mass flow", self.mass_flow, "kg/s")?;
        Ok(Point { location: self.name, state: self.state, mass_flow })
    }
}

stored!(State as StateForm, Saturation as SaturationForm, Point as PointForm);
