//! A circuit.

use serde::{Deserialize, Serialize};

use super::components::metering;
use super::form::{Form, Refused, Version, kind, stored, word, word_for};
use crate::compression::Stage;
use crate::cycle::{
    Circuit, Drive, Interstage, InterstagePressures, MotorCooling, PressureLosses, TankSeparation,
};
use crate::refrigerant::Refrigerant;

/// A circuit; numbers that are as they are without options are not written.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CircuitForm {
    format_version: Version,
    r#type: kind::Circuit,
    refrigerant: Refrigerant,
    stages: Vec<Stage>,
    interstages: Vec<Interstage>,
    interstage_pressures: Pressures,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    tank_separation: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    suction_loss: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    interstage_loss: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    port_loss: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    discharge_loss: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    mechanical_efficiency: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    motor_efficiency: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    drive_efficiency: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    expander_efficiency: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    suction_exchanger_effectiveness: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    motor_cooling: Option<Cooling>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(untagged, expecting = "interstage_pressures are a rule in words or a list of pressures")]
enum Pressures {
    Rule(String),
    Given(Vec<f64>),
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(untagged, expecting = "motor_cooling is \"room\", \"evaporator\" or the number of a stage")]
enum Cooling {
    Stage(usize),
    Word(String),
}

const EVAPORATOR: &str = "evaporator";

const SEPARATIONS: [(&str, TankSeparation); 2] =
    [("fixed composition", TankSeparation::FixedComposition), ("equilibrium", TankSeparation::Equilibrium)];

/// The rule of given pressures has no word.
const RULES: [(&str, InterstagePressures); 4] = [
    ("equal ratio", InterstagePressures::EqualRatio),
    ("equal temperature step", InterstagePressures::EqualTemperatureStep),
    ("equal head", InterstagePressures::EqualHead),
    ("best COP", InterstagePressures::BestCop),
];

/// A number that is not as it is without options.
fn unless(value: f64, default: f64) -> Option<f64> {
    (value != default).then_some(value)
}

impl Form for CircuitForm {
    type Value = Circuit;

    fn of(circuit: &Circuit) -> Self {
        let (losses, drive) = (circuit.pressure_losses(), circuit.drive());
        let pressures = match circuit.interstage_pressures() {
            InterstagePressures::Given(pressures) => Pressures::Given(pressures.clone()),
            rule => Pressures::Rule(word_for(rule, &RULES)),
        };
        Self {
            format_version: Version,
            r#type: kind::Circuit,
            refrigerant: circuit.refrigerant().clone(),
            stages: circuit.stages().to_vec(),
            interstages: circuit.interstages().to_vec(),
            interstage_pressures: pressures,
            tank_separation: Some(word_for(&circuit.tank_separation(), &SEPARATIONS)),
            suction_loss: unless(losses.suction(), 0.0),
            interstage_loss: unless(losses.interstage(), 0.0),
            port_loss: unless(losses.port(), 0.0),
            discharge_loss: unless(losses.discharge(), 0.0),
            mechanical_efficiency: unless(drive.mechanical_efficiency(), 1.0),
            motor_efficiency: unless(drive.motor_efficiency(), 1.0),
            drive_efficiency: unless(drive.drive_efficiency(), 1.0),
            expander_efficiency: circuit.metering().efficiency(),
            suction_exchanger_effectiveness: circuit.suction_exchanger(),
            motor_cooling: match drive.motor_cooling() {
                MotorCooling::Room => None,
                MotorCooling::RefrigerantToEvaporator => Some(Cooling::Word(EVAPORATOR.to_owned())),
                MotorCooling::RefrigerantToStage(stage) => Some(Cooling::Stage(stage)),
            },
        }
    }

    fn read(self) -> Result<Circuit, Refused> {
        let pressures = match self.interstage_pressures {
            Pressures::Rule(rule) => word("interstage_pressures", &rule, &RULES)?,
            Pressures::Given(pressures) => InterstagePressures::Given(pressures),
        };
        let losses = PressureLosses::new()
            .with_suction(self.suction_loss.unwrap_or(0.0))?
            .with_interstage(self.interstage_loss.unwrap_or(0.0))?
            .with_port(self.port_loss.unwrap_or(0.0))?
            .with_discharge(self.discharge_loss.unwrap_or(0.0))?;
        let cooling = match self.motor_cooling {
            None => MotorCooling::Room,
            Some(Cooling::Stage(stage)) => MotorCooling::RefrigerantToStage(stage),
            Some(Cooling::Word(given)) => {
                let known =
                    [("room", MotorCooling::Room), (EVAPORATOR, MotorCooling::RefrigerantToEvaporator)];
                word("motor_cooling", &given, &known)?
            }
        };
        let drive = Drive::new()
            .with_mechanical_efficiency(self.mechanical_efficiency.unwrap_or(1.0))?
            .with_drive_efficiency(self.drive_efficiency.unwrap_or(1.0))?
            .with_motor(self.motor_efficiency.unwrap_or(1.0), cooling)?;
        let separation =
            self.tank_separation.map(|given| word("tank_separation", &given, &SEPARATIONS)).transpose()?;
        let mut circuit = Circuit::new(self.refrigerant, self.stages, self.interstages)?
            .with_interstage_pressures(pressures)?
            .with_tank_separation(separation.unwrap_or_default())?
            .with_pressure_losses(losses)
            .with_metering(metering(self.expander_efficiency)?)
            .with_drive(drive)?;
        if let Some(effectiveness) = self.suction_exchanger_effectiveness {
            circuit = circuit.with_suction_exchanger(effectiveness)?;
        }
        Ok(circuit)
    }
}

stored!(Circuit as CircuitForm);
