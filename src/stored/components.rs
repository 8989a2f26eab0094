//! Stages and what stands between them.

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::form::{Form, Refused, Version, kind, stored, word, word_for};
use crate::compression::{Efficiency, Stage};
use crate::cycle::Interstage;
use crate::economizer::{
    ClosedEconomizer, FlashTank, InjectionTakenFrom, IntercooledTank, LiquidInjection, Metering,
};
use crate::error::Error;

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StageForm {
    format_version: Version,
    r#type: kind::Stage,
    kind: String,
    efficiency: f64,
    /// Of a polytropic efficiency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    path: Option<String>,
}

impl Form for StageForm {
    type Value = Stage;

    fn of(stage: &Stage) -> Self {
        let (kind, path) = match stage.kind() {
            Efficiency::Isentropic => ("isentropic", None),
            Efficiency::Polytropic => ("polytropic", Some("integral")),
            Efficiency::PolytropicThreePoint => ("polytropic", Some("three points")),
        };
        Self {
            format_version: Version,
            r#type: kind::Stage,
            kind: kind.to_owned(),
            efficiency: stage.efficiency(),
            path: path.map(str::to_owned),
        }
    }

    fn read(self) -> Result<Stage, Refused> {
        let polytropic = word("kind", &self.kind, &[("isentropic", false), ("polytropic", true)])?;
        let three_points = self
            .path
            .map(|path| word("path", &path, &[("integral", false), ("three points", true)]))
            .transpose()?;
        Ok(match (polytropic, three_points) {
            (false, None) => Stage::isentropic(self.efficiency)?,
            (false, Some(_)) => {
                return Err(Refused::because("an isentropic efficiency has no polytropic path"));
            }
            (true, Some(true)) => Stage::polytropic_three_point(self.efficiency)?,
            (true, _) => Stage::polytropic(self.efficiency)?,
        })
    }
}

const TAKEN: [(&str, InjectionTakenFrom); 2] = [
    ("before exchanger", InjectionTakenFrom::BeforeExchanger),
    ("after exchanger", InjectionTakenFrom::AfterExchanger),
];

/// A metering device by the efficiency of an expander.
pub(super) fn metering(expander: Option<f64>) -> Result<Metering, Error> {
    expander.map_or(Ok(Metering::Valve), Metering::expander)
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(tag = "type", deny_unknown_fields)]
enum InterstageForm {
    Direct {
        format_version: Version,
    },
    FlashTank {
        format_version: Version,
        #[serde(default)]
        liquid_carryover: f64,
        #[serde(default)]
        vapor_blowthrough: f64,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        expander_efficiency: Option<f64>,
    },
    IntercooledTank {
        format_version: Version,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        coil_approach: Option<f64>,
        #[serde(default)]
        liquid_carryover: f64,
        #[serde(default)]
        vapor_blowthrough: f64,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        expander_efficiency: Option<f64>,
    },
    ClosedEconomizer {
        format_version: Version,
        approach: f64,
        #[serde(default)]
        injection_superheat: f64,
        #[serde(default = "before_exchanger")]
        injection_taken: String,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        expander_efficiency: Option<f64>,
    },
    LiquidInjection {
        format_version: Version,
        #[serde(default)]
        superheat: f64,
    },
}

fn before_exchanger() -> String {
    word_for(&InjectionTakenFrom::BeforeExchanger, &TAKEN)
}

impl Form for InterstageForm {
    type Value = Interstage;

    fn of(interstage: &Interstage) -> Self {
        let format_version = Version;
        match interstage {
            Interstage::Direct => Self::Direct { format_version },
            Interstage::FlashTank(tank) => Self::FlashTank {
                format_version,
                liquid_carryover: tank.liquid_carryover(),
                vapor_blowthrough: tank.vapor_blowthrough(),
                expander_efficiency: tank.metering().efficiency(),
            },
            Interstage::IntercooledTank(tank) => Self::IntercooledTank {
                format_version,
                coil_approach: tank.coil_approach(),
                liquid_carryover: tank.liquid_carryover(),
                vapor_blowthrough: tank.vapor_blowthrough(),
                expander_efficiency: tank.metering().efficiency(),
            },
            Interstage::ClosedEconomizer(exchanger) => Self::ClosedEconomizer {
                format_version,
                approach: exchanger.approach(),
                injection_superheat: exchanger.injection_superheat(),
                injection_taken: word_for(&exchanger.taken_from(), &TAKEN),
                expander_efficiency: exchanger.metering().efficiency(),
            },
            Interstage::LiquidInjection(injection) => {
                Self::LiquidInjection { format_version, superheat: injection.superheat() }
            }
        }
    }

    fn read(self) -> Result<Interstage, Refused> {
        Ok(match self {
            Self::Direct { .. } => Interstage::Direct,
            Self::FlashTank { liquid_carryover, vapor_blowthrough, expander_efficiency, .. } => {
                FlashTank::new()
                    .with_liquid_carryover(liquid_carryover)?
                    .with_vapor_blowthrough(vapor_blowthrough)?
                    .with_metering(metering(expander_efficiency)?)
                    .into()
            }
            Self::IntercooledTank {
                coil_approach,
                liquid_carryover,
                vapor_blowthrough,
                expander_efficiency,
                ..
            } => {
                let tank = IntercooledTank::new()
                    .with_liquid_carryover(liquid_carryover)?
                    .with_vapor_blowthrough(vapor_blowthrough)?
                    .with_metering(metering(expander_efficiency)?);
                coil_approach.map_or(Ok(tank), |approach| tank.with_coil(approach))?.into()
            }
            Self::ClosedEconomizer {
                approach,
                injection_superheat,
                injection_taken,
                expander_efficiency,
                ..
            } => ClosedEconomizer::new(approach)?
                .with_injection_superheat(injection_superheat)?
                .with_injection_taken(word("injection_taken", &injection_taken, &TAKEN)?)
                .with_metering(metering(expander_efficiency)?)
                .into(),
            Self::LiquidInjection { superheat, .. } => {
                LiquidInjection::new().with_superheat(superheat)?.into()
            }
        })
    }
}

stored!(Stage as StageForm, Interstage as InterstageForm);

/// Each component in the form it has among the others.
macro_rules! components {
    ($($component:ident)+) => {
        $(
            impl Serialize for $component {
                fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                    Interstage::from(*self).serialize(serializer)
                }
            }

            impl<'de> Deserialize<'de> for $component {
                fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                    match Interstage::deserialize(deserializer)? {
                        Interstage::$component(component) => Ok(component),
                        _ => Err(D::Error::custom(
                            concat!("it holds another component, not a ", stringify!($component))
                        )),
                    }
                }
            }
        )+
    };
}

components! { FlashTank IntercooledTank ClosedEconomizer LiquidInjection }
