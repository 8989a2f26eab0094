//! How the figures of a chiller answer to water, exchangers and circuits.

use std::fmt;
use std::str::FromStr;

use super::Chiller;
use super::duty::Duty;
use super::solve::{CircuitNumbers, Numbers, Solved};
use crate::cycle::{Input, Inputs};
use crate::error::{Error, Result};
use crate::numeric::{Dual, Real};

/// A number that a duty or a chiller holds. Circuits are counted along the chilled water from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum ChillerInput {
    /// Capacity, W.
    Capacity,
    /// The chilled water temperature that is known, K.
    ChilledWaterTemperature,
    /// Mass flow of the chilled water, kg/s.
    ChilledWaterFlow,
    /// Temperature of the entering condenser water, K.
    CondenserWaterEntering,
    /// Mass flow of the condenser water, kg/s.
    CondenserWaterFlow,
    /// Relative change of what describes the evaporators (UA, approach, effectiveness), all together.
    Evaporators,
    /// The same of the condensers.
    Condensers,
    /// A number of all circuits together.
    Circuits(Input),
}

impl fmt::Display for ChillerInput {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Capacity => f.write_str("capacity"),
            Self::ChilledWaterTemperature => f.write_str("chilled_water_temperature"),
            Self::ChilledWaterFlow => f.write_str("chilled_water_flow"),
            Self::CondenserWaterEntering => f.write_str("condenser_water_entering"),
            Self::CondenserWaterFlow => f.write_str("condenser_water_flow"),
            Self::Evaporators => f.write_str("evaporators"),
            Self::Condensers => f.write_str("condensers"),
            Self::Circuits(input) => write!(f, "{input}"),
        }
    }
}

/// Those that are of the chiller and not of its circuits.
const OWN: [ChillerInput; 7] = [
    ChillerInput::Capacity,
    ChillerInput::ChilledWaterTemperature,
    ChillerInput::ChilledWaterFlow,
    ChillerInput::CondenserWaterEntering,
    ChillerInput::CondenserWaterFlow,
    ChillerInput::Evaporators,
    ChillerInput::Condensers,
];

impl FromStr for ChillerInput {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self> {
        if let Some(own) = OWN.into_iter().find(|input| input.to_string() == text) {
            return Ok(own);
        }
        text.parse().map(Self::Circuits).map_err(|error| match error {
            Error::UnknownOption { argument, value, options } => {
                let options = OWN.iter().map(Self::to_string).chain(options).collect();
                Error::UnknownOption { argument, value, options }
            }
            other => other,
        })
    }
}

/// Derivatives of the figures of a chiller, exact to rounding.
#[derive(Debug, Clone, PartialEq)]
pub struct ChillerSensitivities {
    pub(crate) inputs: Vec<ChillerInput>,
    pub(crate) figures: Vec<(String, f64)>,
    pub(crate) slopes: Vec<Vec<f64>>,
}

impl ChillerSensitivities {
    /// The inputs.
    pub fn inputs(&self) -> &[ChillerInput] {
        &self.inputs
    }

    /// The figures, SI units; those of a circuit are `circuit_1_evaporating_temperature` and so on.
    pub fn figures(&self) -> impl Iterator<Item = (&str, f64)> {
        self.figures.iter().map(|(name, value)| (name.as_str(), *value))
    }

    /// Derivative of a figure to an input, in the SI units of both; `None` if there is no such figure or input.
    pub fn slope(&self, figure: &str, input: ChillerInput) -> Option<f64> {
        let column = self.figures.iter().position(|(name, _)| name == figure)?;
        let row = self.inputs.iter().position(|own| *own == input)?;
        self.slopes.get(row)?.get(column).copied()
    }
}

/// Numbers of circuits that a chiller is differentiated to; the temperatures of a circuit are figures here.
const OF_CIRCUITS: [Input; 11] = [
    Input::CommonStageEfficiency,
    Input::SuctionSuperheat,
    Input::Subcooling,
    Input::HotGasBypass,
    Input::SuctionLoss,
    Input::InterstageLoss,
    Input::PortLoss,
    Input::DischargeLoss,
    Input::MechanicalEfficiency,
    Input::MotorEfficiency,
    Input::DriveEfficiency,
];

impl Chiller {
    /// Exact derivatives of power, COP, saturation and leaving water temperatures to water, exchangers and circuits.
    ///
    /// The condensing temperatures are roots; their derivatives are those of the root, by the implicit function theorem.
    ///
    /// # Errors
    ///
    /// Those of [`Chiller::solve`]; [`Error::Undefined`] where tanks part the components of a blend.
    pub fn sensitivities(&self, duty: &Duty) -> Result<ChillerSensitivities> {
        if self.circuits.iter().any(|of| of.circuit.parts_blend()) {
            let state = "a cycle whose tanks part the components of a blend";
            return Err(Error::Undefined { property: "a sensitivity", state });
        }
        let inputs: Vec<ChillerInput> =
            OWN.into_iter().chain(OF_CIRCUITS.map(ChillerInput::Circuits)).collect();
        let mut figures = Vec::new();
        let mut slopes = Vec::with_capacity(inputs.len());
        for &input in &inputs {
            let solved = self.solve_over(duty, &self.numbers_along(duty, input))?;
            let found = named(&solved);
            slopes.push(found.iter().map(|(_, figure)| figure.slope[0]).collect());
            if figures.is_empty() {
                figures = found.into_iter().map(|(name, figure)| (name, figure.value)).collect();
            }
        }
        Ok(ChillerSensitivities { inputs, figures, slopes })
    }

    fn numbers_along(&self, duty: &Duty, along: ChillerInput) -> Numbers<Dual<1>> {
        let plain = self.numbers(duty);
        let lift = |input, value| if input == along { Dual::input(value, 0) } else { Dual::constant(value) };
        Numbers {
            capacity: lift(ChillerInput::Capacity, plain.capacity),
            chilled_temperature: lift(ChillerInput::ChilledWaterTemperature, plain.chilled_temperature),
            chilled_flow: lift(ChillerInput::ChilledWaterFlow, plain.chilled_flow),
            condenser_temperature: lift(ChillerInput::CondenserWaterEntering, plain.condenser_temperature),
            condenser_flow: lift(ChillerInput::CondenserWaterFlow, plain.condenser_flow),
            circuits: self
                .circuits
                .iter()
                .map(|of| CircuitNumbers {
                    evaporator: lift(ChillerInput::Evaporators, 1.0),
                    condenser: lift(ChillerInput::Condensers, 1.0),
                    inputs: Inputs::lifted(&of.circuit, &of.conditions(1.0, 2.0, 1.0), |input, value| {
                        let common = along == ChillerInput::Circuits(Input::CommonStageEfficiency)
                            && matches!(input, Input::StageEfficiency(_));
                        if common || along == ChillerInput::Circuits(input) {
                            Dual::input(value, 0)
                        } else {
                            Dual::constant(value)
                        }
                    }),
                })
                .collect(),
        }
    }
}

/// Figures of solved circuits and of the whole.
fn named<R: Real>(solved: &[Solved<R>]) -> Vec<(String, R)> {
    let zero = R::constant(0.0);
    let (mut capacity, mut power, mut shaft, mut motor, mut drive, mut rejected) =
        (zero, zero, zero, zero, zero, zero);
    let mut of_circuits = Vec::new();
    for (of, k) in solved.iter().zip(1..) {
        let compression = of.capacity / of.solution.cop();
        let at_shaft = compression / of.inputs.mechanical;
        let at_motor = at_shaft / of.inputs.motor;
        capacity = capacity + of.capacity;
        power = power + compression;
        shaft = shaft + at_shaft;
        motor = motor + at_motor;
        drive = drive + at_motor / of.inputs.drive;
        rejected = rejected + of.condenser.heat;
        for (name, figure) in [
            ("evaporating_temperature", of.evaporator.saturation_temperature),
            ("condensing_temperature", of.condenser.saturation_temperature),
            ("chilled_water_leaving", of.evaporator.water_leaving),
            ("condenser_water_leaving", of.condenser.water_leaving),
            ("cop", of.solution.cop()),
            ("discharge_temperature", of.solution.discharge().temperature),
        ] {
            of_circuits.push((format!("circuit_{k}_{name}"), figure));
        }
    }
    let mut figures: Vec<(String, R)> = [
        ("capacity", capacity),
        ("power", power),
        ("shaft_power", shaft),
        ("motor_input_power", motor),
        ("drive_input_power", drive),
        ("heat_rejected", rejected),
        ("cop", capacity / power),
    ]
    .map(|(name, figure)| (name.to_owned(), figure))
    .to_vec();
    figures.append(&mut of_circuits);
    figures
}
