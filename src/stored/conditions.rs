//! What a circuit runs at.

use serde::{Deserialize, Serialize};

use super::form::{Form, Refused, Version, kind, stored};
use crate::cycle::{Conditions, Size};
use crate::error::finite;

/// Conditions by themselves, or as a part of a cycle, which has the version.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ConditionsForm {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    format_version: Option<Version>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    r#type: Option<kind::Conditions>,
    evaporating_temperature: f64,
    condensing_temperature: f64,
    #[serde(default)]
    suction_superheat: f64,
    #[serde(default)]
    subcooling: f64,
    #[serde(default)]
    liquid_carryover: f64,
    #[serde(default)]
    hot_gas_bypass: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    capacity: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    mass_flow: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    power: Option<f64>,
}

impl ConditionsForm {
    /// As a part of something that has the version.
    pub(super) fn part(conditions: &Conditions) -> Self {
        let (mut capacity, mut mass_flow, mut power) = (None, None, None);
        match conditions.size() {
            Size::Capacity(value) => capacity = Some(value),
            Size::MassFlow(value) => mass_flow = Some(value),
            Size::Power(value) => power = Some(value),
        }
        Self {
            format_version: None,
            r#type: None,
            evaporating_temperature: conditions.evaporating_temperature(),
            condensing_temperature: conditions.condensing_temperature(),
            suction_superheat: conditions.suction_superheat(),
            subcooling: conditions.subcooling(),
            liquid_carryover: conditions.liquid_carryover(),
            hot_gas_bypass: conditions.hot_gas_bypass(),
            capacity,
            mass_flow,
            power,
        }
    }

    pub(super) fn read_part(self) -> Result<Conditions, Refused> {
        let size = match (self.capacity, self.mass_flow, self.power) {
            (Some(capacity), None, None) => Size::Capacity(finite("capacity", capacity, "W")?),
            (None, Some(flow), None) => Size::MassFlow(finite("mass flow", flow, "kg/s")?),
            (None, None, Some(power)) => Size::Power(finite("power", power, "W")?),
            _ => {
                return Err(Refused::because(
                    "conditions hold exactly one size: capacity, mass_flow or power",
                ));
            }
        };
        let evaporating = finite("evaporating temperature", self.evaporating_temperature, "K")?;
        let condensing = finite("condensing temperature", self.condensing_temperature, "K")?;
        Ok(Conditions::new(evaporating, condensing, size)
            .with_suction_superheat(finite("suction superheat", self.suction_superheat, "K")?)
            .with_subcooling(finite("subcooling", self.subcooling, "K")?)
            .with_liquid_carryover(finite("liquid carryover", self.liquid_carryover, "kg/kg")?)
            .with_hot_gas_bypass(finite("hot gas bypass", self.hot_gas_bypass, "kg/kg")?))
    }
}

impl Form for ConditionsForm {
    type Value = Conditions;

    fn of(conditions: &Conditions) -> Self {
        Self { format_version: Some(Version), r#type: Some(kind::Conditions), ..Self::part(conditions) }
    }

    fn read(self) -> Result<Conditions, Refused> {
        match (&self.format_version, &self.r#type) {
            (Some(_), Some(_)) => self.read_part(),
            (None, _) => Err(Refused::because("missing field `format_version`")),
            (_, None) => Err(Refused::because("missing field `type`")),
        }
    }
}

stored!(Conditions as ConditionsForm);
