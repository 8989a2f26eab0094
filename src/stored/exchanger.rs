//! Water flows and exchangers.

use std::fmt;

use serde::de::value::MapAccessDeserializer;
use serde::de::{MapAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::form::{Form, Refused, Version, kind, stored, word};
use crate::exchanger::{Exchanger, HeatTransfer, VariableUa, Vessel, WaterFlow};

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WaterFlowForm {
    format_version: Version,
    r#type: kind::WaterFlow,
    mass_flow: f64,
    /// Of a brine.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    heat_capacity: Option<f64>,
}

impl Form for WaterFlowForm {
    type Value = WaterFlow;

    fn of(water: &WaterFlow) -> Self {
        Self {
            format_version: Version,
            r#type: kind::WaterFlow,
            mass_flow: water.mass_flow(),
            heat_capacity: water.heat_capacity(),
        }
    }

    fn read(self) -> Result<WaterFlow, Refused> {
        Ok(match self.heat_capacity {
            Some(heat_capacity) => WaterFlow::brine(self.mass_flow, heat_capacity)?,
            None => WaterFlow::water(self.mass_flow)?,
        })
    }
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct VariableUaForm {
    format_version: Version,
    r#type: kind::VariableUa,
    wall_resistance: f64,
    water_resistance: f64,
    refrigerant_resistance: f64,
    exponent: f64,
}

impl Form for VariableUaForm {
    type Value = VariableUa;

    fn of(ua: &VariableUa) -> Self {
        Self {
            format_version: Version,
            r#type: kind::VariableUa,
            wall_resistance: ua.wall_resistance(),
            water_resistance: ua.water_resistance(),
            refrigerant_resistance: ua.refrigerant_resistance(),
            exponent: ua.exponent(),
        }
    }

    fn read(self) -> Result<VariableUa, Refused> {
        let Self { wall_resistance, water_resistance, refrigerant_resistance, exponent, .. } = self;
        Ok(VariableUa::new(wall_resistance, water_resistance, refrigerant_resistance, exponent)?)
    }
}

/// A conductance: a number, or one that varies.
#[derive(Debug)]
enum Ua {
    Constant(f64),
    Variable(VariableUa),
}

impl Serialize for Ua {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Constant(ua) => serializer.serialize_f64(*ua),
            Self::Variable(ua) => ua.serialize(serializer),
        }
    }
}

impl<'de> Deserialize<'de> for Ua {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Either;

        impl<'de> Visitor<'de> for Either {
            type Value = Ua;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a conductance or a VariableUa")
            }

            fn visit_f64<E>(self, ua: f64) -> Result<Ua, E> {
                Ok(Ua::Constant(ua))
            }

            fn visit_i64<E>(self, ua: i64) -> Result<Ua, E> {
                Ok(Ua::Constant(ua as f64))
            }

            fn visit_u64<E>(self, ua: u64) -> Result<Ua, E> {
                Ok(Ua::Constant(ua as f64))
            }

            fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<Ua, A::Error> {
                VariableUa::deserialize(MapAccessDeserializer::new(map)).map(Ua::Variable)
            }
        }

        deserializer.deserialize_any(Either)
    }
}

/// What is known of a heat transfer, by one of three names.
fn named(transfer: HeatTransfer) -> (Option<Ua>, Option<f64>, Option<f64>) {
    match transfer {
        HeatTransfer::Ua(ua) => (Some(Ua::Constant(ua)), None, None),
        HeatTransfer::VariableUa(ua) => (Some(Ua::Variable(ua)), None, None),
        HeatTransfer::Approach(approach) => (None, Some(approach), None),
        HeatTransfer::Effectiveness(effectiveness) => (None, None, Some(effectiveness)),
    }
}

fn transfer(
    ua: Option<Ua>,
    approach: Option<f64>,
    effectiveness: Option<f64>,
) -> Result<HeatTransfer, Refused> {
    match (ua, approach, effectiveness) {
        (Some(Ua::Constant(ua)), None, None) => Ok(HeatTransfer::Ua(ua)),
        (Some(Ua::Variable(ua)), None, None) => Ok(HeatTransfer::VariableUa(ua)),
        (None, Some(approach), None) => Ok(HeatTransfer::Approach(approach)),
        (None, None, Some(effectiveness)) => Ok(HeatTransfer::Effectiveness(effectiveness)),
        _ => Err(Refused::because("an exchanger has exactly one of ua, approach and effectiveness")),
    }
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct HeatTransferForm {
    format_version: Version,
    r#type: kind::HeatTransfer,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    ua: Option<Ua>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    approach: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    effectiveness: Option<f64>,
}

impl Form for HeatTransferForm {
    type Value = HeatTransfer;

    fn of(transfer: &HeatTransfer) -> Self {
        let (ua, approach, effectiveness) = named(*transfer);
        Self { format_version: Version, r#type: kind::HeatTransfer, ua, approach, effectiveness }
    }

    fn read(self) -> Result<HeatTransfer, Refused> {
        // The limits are those of an exchanger, whichever it is.
        let transfer = transfer(self.ua, self.approach, self.effectiveness)?;
        Ok(Exchanger::evaporator(transfer)?.heat_transfer())
    }
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ExchangerForm {
    format_version: Version,
    r#type: kind::Exchanger,
    vessel: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    ua: Option<Ua>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    approach: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    effectiveness: Option<f64>,
}

impl Form for ExchangerForm {
    type Value = Exchanger;

    fn of(exchanger: &Exchanger) -> Self {
        let (ua, approach, effectiveness) = named(exchanger.heat_transfer());
        let vessel = exchanger.vessel().to_string();
        Self { format_version: Version, r#type: kind::Exchanger, vessel, ua, approach, effectiveness }
    }

    fn read(self) -> Result<Exchanger, Refused> {
        let transfer = transfer(self.ua, self.approach, self.effectiveness)?;
        let known = [("evaporator", Vessel::Evaporator), ("condenser", Vessel::Condenser)];
        Ok(match word("vessel", &self.vessel, &known)? {
            Vessel::Evaporator => Exchanger::evaporator(transfer)?,
            Vessel::Condenser => Exchanger::condenser(transfer)?,
        })
    }
}

stored!(
    WaterFlow as WaterFlowForm,
    VariableUa as VariableUaForm,
    HeatTransfer as HeatTransferForm,
    Exchanger as ExchangerForm
);
