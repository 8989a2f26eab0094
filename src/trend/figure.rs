//! What can be told from readings.

use std::fmt;
use std::str::FromStr;

use super::analysis::TrendAnalysis;
use super::reading::Reading;
use crate::error::{Error, Result};

/// A figure of a trend row. SI units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Figure {
    /// Saturation temperature in the evaporator, from the pressure where there is one, K.
    EvaporatingTemperature,
    /// Saturation temperature in the condenser, from the pressure where there is one, K.
    CondensingTemperature,
    /// Saturation-temperature reading less saturation temperature at the pressure reading, evaporator, K.
    EvaporatorSaturationDifference,
    /// The same for the condenser, K.
    CondenserSaturationDifference,
    /// Condensing less evaporating temperature, K.
    RefrigerantLift,
    /// Leaving condenser water less leaving chilled water, K.
    WaterLift,
    /// Leaving chilled water less evaporating temperature, K.
    EvaporatorApproach,
    /// Condensing temperature less leaving condenser water, K.
    CondenserApproach,
    /// Condensing temperature less liquid-line temperature, K.
    Subcooling,
    /// Suction temperature less evaporating temperature, K.
    SuctionSuperheat,
    /// Discharge temperature less condensing temperature, K.
    DischargeSuperheat,
    /// Heat taken from the chilled water, or the capacity reading where the water is not read, W.
    Capacity,
    /// Capacity per rated capacity.
    Load,
    /// Heat given to the condenser water, W.
    HeatRejected,
    /// `(capacity + power - heat rejected) / heat rejected`, with motor input power and without known losses.
    HeatBalance,
    /// Half width within which the heat balance lies by the standard at this load ([`rating_tolerance`](crate::rating_tolerance)).
    HeatBalanceTolerance,
    /// Water-side capacity per motor input power.
    Cop,
    /// Motor input power per water-side capacity, kW per ton of refrigeration.
    KwPerTon,
    /// UA of the evaporator by logarithmic mean temperature difference, W/K.
    EvaporatorUa,
    /// UA of the condenser by logarithmic mean temperature difference, W/K.
    CondenserUa,
    /// Liquid sent to the evaporator: water-side capacity over what the whole circuit cools per kilogram of it, kg/s.
    EvaporatorMassFlow,
    /// The one efficiency, of the kind the circuit's stages have, that explains the discharge temperature.
    StageEfficiency,
    /// Half width of the interval of the stage efficiency from the uncertainty of the discharge temperature.
    StageEfficiencyInterval,
    /// Work of all stages at that efficiency times refrigerant flow, W: what reaches the refrigerant.
    CompressionPower,
    /// Condenser refrigerant flow times the enthalpy it loses there, W.
    RefrigerantHeatRejected,
    /// Motor input power less compression power, W: what motor, gear and bearings lose. With the errors of both.
    LostPower,
    /// Compression power by power meter and drive efficiency over work per cooling, W: a capacity that no water reading tells.
    CapacityFromPower,
    /// `ln(p_tank / p_evaporator) / ln(p_condenser / p_evaporator)` of the tank (closed economizer: of its boiling side) that
    /// feeds this stage.
    TankPressureExponent(u8),
    /// What joins the gas per liquid that comes into the economizer that feeds this stage.
    FlashFraction(u8),
    /// Power that a *working* economizer saves at these two temperatures, as a fraction: a potential, never a measurement.
    EconomizerPotential,
    /// Saving that power, water-side capacity and discharge temperature show, as a fraction. Exact where the evidence is 1; elsewhere
    /// a lower bound: it is told as if the economizer were dead, and a working one saves up to twice as much. Missing where the heat
    /// balance does not close, the saving is more than 0.25 outside zero to the potential, or all gas passes a tank or injection.
    MeasuredSaving,
    /// Whether the readings show a working economizer: 1 yes, 0 no, missing if they cannot tell.
    EconomizerEvidence,
}

impl Figure {
    /// Every figure of a circuit whose tanks and closed economizers feed the given stages.
    pub fn of_tanks(stages: &[u8]) -> Vec<Self> {
        let mut figures = vec![
            Self::EvaporatingTemperature,
            Self::CondensingTemperature,
            Self::EvaporatorSaturationDifference,
            Self::CondenserSaturationDifference,
            Self::RefrigerantLift,
            Self::WaterLift,
            Self::EvaporatorApproach,
            Self::CondenserApproach,
            Self::Subcooling,
            Self::SuctionSuperheat,
            Self::DischargeSuperheat,
            Self::Capacity,
            Self::Load,
            Self::HeatRejected,
            Self::HeatBalance,
            Self::HeatBalanceTolerance,
            Self::Cop,
            Self::KwPerTon,
            Self::EvaporatorUa,
            Self::CondenserUa,
            Self::EvaporatorMassFlow,
            Self::StageEfficiency,
            Self::StageEfficiencyInterval,
            Self::CompressionPower,
            Self::RefrigerantHeatRejected,
            Self::LostPower,
            Self::CapacityFromPower,
        ];
        figures.extend(stages.iter().map(|&stage| Self::TankPressureExponent(stage)));
        figures.extend(stages.iter().map(|&stage| Self::FlashFraction(stage)));
        if !stages.is_empty() {
            figures.extend([Self::EconomizerPotential, Self::MeasuredSaving, Self::EconomizerEvidence]);
        }
        figures
    }

    /// SI unit; `-` for a plain number.
    pub fn unit(self) -> &'static str {
        match self {
            Self::EvaporatingTemperature
            | Self::CondensingTemperature
            | Self::EvaporatorSaturationDifference
            | Self::CondenserSaturationDifference
            | Self::RefrigerantLift
            | Self::WaterLift
            | Self::EvaporatorApproach
            | Self::CondenserApproach
            | Self::Subcooling
            | Self::SuctionSuperheat
            | Self::DischargeSuperheat => "K",
            Self::Capacity
            | Self::HeatRejected
            | Self::CompressionPower
            | Self::RefrigerantHeatRejected
            | Self::LostPower
            | Self::CapacityFromPower => "W",
            Self::EvaporatorUa | Self::CondenserUa => "W/K",
            Self::EvaporatorMassFlow => "kg/s",
            Self::KwPerTon => "kW/ton",
            Self::Load
            | Self::HeatBalance
            | Self::HeatBalanceTolerance
            | Self::Cop
            | Self::StageEfficiency
            | Self::StageEfficiencyInterval
            | Self::TankPressureExponent(_)
            | Self::FlashFraction(_)
            | Self::EconomizerPotential
            | Self::MeasuredSaving
            | Self::EconomizerEvidence => "-",
        }
    }

    /// Whether the figure is a difference of two temperatures, which converts without an offset.
    pub fn is_temperature_difference(self) -> bool {
        self.unit() == "K" && !matches!(self, Self::EvaporatingTemperature | Self::CondensingTemperature)
    }

    /// The sets of readings that it can be told from; any one of them is enough.
    pub(super) fn needs(self, analysis: &TrendAnalysis) -> Vec<Vec<Reading>> {
        self.needed(analysis).into_iter().fold(vec![Vec::new()], |sets, needed| {
            let with = |set: &Vec<Reading>, more: &Vec<Reading>| {
                let more = more.iter().filter(|reading| !set.contains(reading));
                set.iter().chain(more).copied().collect::<Vec<_>>()
            };
            sets.iter().flat_map(|set| needed.iter().map(move |more| with(set, more))).collect()
        })
    }

    /// The same factored: every entry is needed, of an entry any one of its sets.
    pub(super) fn needed(self, analysis: &TrendAnalysis) -> Vec<Vec<Vec<Reading>>> {
        use Reading as R;
        let one = |reading: R| vec![vec![reading]];
        let all = |readings: &[R]| vec![readings.to_vec()];
        let evaporating = || vec![vec![R::EvaporatorPressure], vec![R::EvaporatorSaturationTemperature]];
        let condensing = || vec![vec![R::CondenserPressure], vec![R::CondenserSaturationTemperature]];
        let chilled = [R::ChilledWaterEntering, R::ChilledWaterLeaving, R::ChilledWaterFlow];
        let capacity = || vec![chilled.to_vec(), vec![R::Capacity]];
        let rejected = || all(&[R::CondenserWaterEntering, R::CondenserWaterLeaving, R::CondenserWaterFlow]);
        let tank = |stage: u8| vec![vec![R::TankPressure(stage)], vec![R::TankTemperature(stage)]];
        match self {
            Self::EvaporatingTemperature => vec![evaporating()],
            Self::CondensingTemperature => vec![condensing()],
            Self::EvaporatorSaturationDifference => {
                vec![all(&[R::EvaporatorPressure, R::EvaporatorSaturationTemperature])]
            }
            Self::CondenserSaturationDifference => {
                vec![all(&[R::CondenserPressure, R::CondenserSaturationTemperature])]
            }
            Self::RefrigerantLift | Self::EconomizerPotential => vec![evaporating(), condensing()],
            Self::WaterLift => vec![all(&[R::ChilledWaterLeaving, R::CondenserWaterLeaving])],
            Self::EvaporatorApproach => vec![evaporating(), one(R::ChilledWaterLeaving)],
            Self::CondenserApproach => vec![condensing(), one(R::CondenserWaterLeaving)],
            Self::Subcooling => vec![condensing(), one(R::LiquidLineTemperature)],
            Self::SuctionSuperheat => vec![evaporating(), one(R::SuctionTemperature)],
            Self::DischargeSuperheat => vec![condensing(), one(R::DischargeTemperature)],
            Self::Capacity | Self::Load | Self::HeatBalanceTolerance => vec![capacity()],
            Self::HeatRejected => vec![rejected()],
            Self::HeatBalance => vec![capacity(), rejected(), one(R::Power)],
            Self::Cop | Self::KwPerTon => vec![capacity(), one(R::Power)],
            Self::EvaporatorUa => {
                vec![capacity(), evaporating(), all(&[R::ChilledWaterEntering, R::ChilledWaterLeaving])]
            }
            Self::CondenserUa => vec![rejected(), condensing()],
            Self::EvaporatorMassFlow => vec![capacity(), evaporating(), condensing()],
            Self::StageEfficiency | Self::StageEfficiencyInterval => {
                vec![evaporating(), condensing(), one(R::DischargeTemperature)]
            }
            Self::CompressionPower | Self::RefrigerantHeatRejected => {
                vec![capacity(), evaporating(), condensing(), one(R::DischargeTemperature)]
            }
            Self::CapacityFromPower => {
                vec![evaporating(), condensing(), all(&[R::DischargeTemperature, R::Power])]
            }
            Self::FlashFraction(stage) if analysis.is_intercooled(stage) => {
                vec![evaporating(), condensing(), tank(stage), one(R::DischargeTemperature)]
            }
            Self::TankPressureExponent(stage) | Self::FlashFraction(stage) => {
                vec![evaporating(), condensing(), tank(stage)]
            }
            Self::MeasuredSaving | Self::LostPower => {
                let others = all(&[R::DischargeTemperature, R::Power]);
                vec![capacity(), evaporating(), condensing(), others]
            }
            Self::EconomizerEvidence => {
                // A tank reading, or else everything that the measured saving needs.
                let with_others = |mut set: Vec<R>| {
                    set.extend([R::DischargeTemperature, R::Power]);
                    set
                };
                let tanks = analysis.flash_stages().iter().flat_map(|&stage| tank(stage));
                let ways = tanks.chain(capacity().into_iter().map(with_others)).collect();
                vec![evaporating(), condensing(), ways]
            }
        }
    }
}

impl fmt::Display for Figure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::EvaporatingTemperature => "evaporating_temperature",
            Self::CondensingTemperature => "condensing_temperature",
            Self::EvaporatorSaturationDifference => "evaporator_saturation_difference",
            Self::CondenserSaturationDifference => "condenser_saturation_difference",
            Self::RefrigerantLift => "refrigerant_lift",
            Self::WaterLift => "water_lift",
            Self::EvaporatorApproach => "evaporator_approach",
            Self::CondenserApproach => "condenser_approach",
            Self::Subcooling => "subcooling",
            Self::SuctionSuperheat => "suction_superheat",
            Self::DischargeSuperheat => "discharge_superheat",
            Self::Capacity => "capacity",
            Self::Load => "load",
            Self::HeatRejected => "heat_rejected",
            Self::HeatBalance => "heat_balance",
            Self::HeatBalanceTolerance => "heat_balance_tolerance",
            Self::Cop => "cop",
            Self::KwPerTon => "kw_per_ton",
            Self::EvaporatorUa => "evaporator_ua",
            Self::CondenserUa => "condenser_ua",
            Self::EvaporatorMassFlow => "evaporator_mass_flow",
            Self::StageEfficiency => "stage_efficiency",
            Self::StageEfficiencyInterval => "stage_efficiency_interval",
            Self::CompressionPower => "compression_power",
            Self::RefrigerantHeatRejected => "refrigerant_heat_rejected",
            Self::LostPower => "lost_power",
            Self::CapacityFromPower => "capacity_from_power",
            Self::TankPressureExponent(stage) => return write!(f, "stage_{stage}_tank_pressure_exponent"),
            Self::FlashFraction(stage) => return write!(f, "stage_{stage}_flash_fraction"),
            Self::EconomizerPotential => "economizer_potential",
            Self::MeasuredSaving => "measured_saving",
            Self::EconomizerEvidence => "economizer_evidence",
        })
    }
}

/// Reads the names that [`Display`](fmt::Display) writes.
impl FromStr for Figure {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self> {
        let stages: Vec<u8> = (2..=9).collect();
        Self::of_tanks(&stages).into_iter().find(|figure| figure.to_string() == text).ok_or_else(|| {
            Error::UnknownOption {
                argument: "figure",
                value: text.to_owned(),
                options: Self::of_tanks(&[2]).iter().map(ToString::to_string).collect(),
            }
        })
    }
}
