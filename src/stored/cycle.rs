//! A solved cycle: its circuit and conditions, with figures and points for those who read them.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::conditions::ConditionsForm;
use super::form::{Form, Number, Refused, Version, kind, stored, word_for};
use super::state::PHASES;
use crate::cycle::{Circuit, Cycle, Point};

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CycleForm {
    format_version: Version,
    r#type: kind::Cycle,
    circuit: Circuit,
    conditions: ConditionsForm,
    #[serde(default)]
    figures: Figures,
    #[serde(default)]
    points: Option<Points>,
}

/// Figures by the names of the methods.
pub(super) type Figures = BTreeMap<String, Figure>;

#[derive(Debug, Serialize, Deserialize)]
#[serde(untagged, expecting = "a figure is a number, null or a list of numbers")]
pub(super) enum Figure {
    One(Number),
    Several(Vec<Number>),
}

impl Figure {
    pub(super) fn one(value: f64) -> Self {
        Self::One(Number(value))
    }

    pub(super) fn several(values: impl AsRef<[f64]>) -> Self {
        Self::Several(values.as_ref().iter().copied().map(Number).collect())
    }

    fn values(&self) -> &[Number] {
        match self {
            Self::One(value) => std::slice::from_ref(value),
            Self::Several(values) => values,
        }
    }
}

macro_rules! figures {
    ($of:expr; $($number:ident)*; $($list:ident)*) => {
        Figures::from([
            $((stringify!($number).to_owned(), Figure::one($of.$number())),)*
            $((stringify!($list).to_owned(), Figure::several($of.$list())),)*
        ])
    };
}
pub(super) use figures;

/// By how much a stored figure may differ from the one that comes of the same circuit and conditions, relative and absolute: releases
/// differ by rounding.
const AGREE: (f64, f64) = (1e-6, 1e-9);

/// Refuses figures that are not those of the value they were stored with.
pub(super) fn compare(stored: &Figures, solved: &Figures) -> Result<(), Refused> {
    let agree = |(a, b): (&Number, &Number)| {
        a.0.is_nan() && b.0.is_nan() || (a.0 - b.0).abs() <= AGREE.0 * a.0.abs().max(b.0.abs()) + AGREE.1
    };
    for (name, figure) in stored {
        let Some(own) = solved.get(name) else { continue };
        let (stored, solved) = (figure.values(), own.values());
        if stored.len() != solved.len() || !stored.iter().zip(solved).all(agree) {
            let shown = |of: &[Number]| of.iter().map(|of| of.0.to_string()).collect::<Vec<_>>().join(", ");
            return Err(Refused::because(format!(
                "{name} is stored as {}, but solved again it is {}",
                shown(stored),
                shown(solved)
            )));
        }
    }
    Ok(())
}

/// The points as columns.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Points {
    point: Vec<String>,
    #[serde(rename = "T")]
    temperature: Vec<f64>,
    p: Vec<f64>,
    rho: Vec<f64>,
    h: Vec<f64>,
    s: Vec<f64>,
    u: Vec<f64>,
    x: Vec<Number>,
    phase: Vec<String>,
    mass_flow: Vec<f64>,
}

impl Points {
    fn of(points: &[Point]) -> Self {
        let column = |of: fn(&Point) -> f64| points.iter().map(of).collect::<Vec<_>>();
        Self {
            point: points.iter().map(|point| point.location.to_string()).collect(),
            temperature: column(|point| point.state.temperature()),
            p: column(|point| point.state.pressure()),
            rho: column(|point| point.state.density()),
            h: column(|point| point.state.enthalpy()),
            s: column(|point| point.state.entropy()),
            u: column(|point| point.state.internal_energy()),
            x: points.iter().map(|point| Number(point.state.quality().unwrap_or(f64::NAN))).collect(),
            phase: points.iter().map(|point| word_for(&point.state.phase(), &PHASES)).collect(),
            mass_flow: column(Point::mass_flow),
        }
    }

    /// The numbers as figures.
    fn figures(&self) -> Figures {
        let columns = [
            ("T", &self.temperature),
            ("p", &self.p),
            ("rho", &self.rho),
            ("h", &self.h),
            ("s", &self.s),
            ("u", &self.u),
            ("mass_flow", &self.mass_flow),
        ];
        let named = |name: &str| format!("{name} of the points");
        let mut figures: Figures =
            columns.into_iter().map(|(name, of)| (named(name), Figure::several(of))).collect();
        figures.insert(named("x"), Figure::Several(self.x.clone()));
        figures
    }
}

fn figures_of(cycle: &Cycle) -> Figures {
    figures!(
        cycle;
        cop kw_per_ton carnot_cop capacity eer power expander_power shaft_power motor_input_power drive_input_power motor_heat
        heat_rejected refrigerating_effect economizer_benefit evaporator_inlet_quality discharge_temperature evaporating_pressure
        condensing_pressure evaporator_mass_flow condenser_mass_flow mass_closure energy_closure;
        interstage_pressures flash_fractions stage_work stage_head head_split stage_power stage_mass_flow stage_inlet_volume_flow
    )
}

impl Form for CycleForm {
    type Value = Cycle;

    fn of(cycle: &Cycle) -> Self {
        Self {
            format_version: Version,
            r#type: kind::Cycle,
            circuit: cycle.circuit().clone(),
            conditions: ConditionsForm::part(cycle.conditions()),
            figures: figures_of(cycle),
            points: Some(Points::of(cycle.points())),
        }
    }

    fn read(self) -> Result<Cycle, Refused> {
        let cycle = self.circuit.solve(&self.conditions.read_part()?)?;
        compare(&self.figures, &figures_of(&cycle))?;
        if let Some(points) = self.points {
            let solved = Points::of(cycle.points());
            if (&points.point, &points.phase) != (&solved.point, &solved.phase) {
                return Err(Refused::because("its points are not those of its circuit"));
            }
            compare(&points.figures(), &solved.figures())?;
        }
        Ok(cycle)
    }
}

stored!(Cycle as CycleForm);
