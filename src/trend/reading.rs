//! What can be read on a machine.

use std::fmt;
use std::str::FromStr;

use crate::error::{Error, Result};

/// A quantity that a trend may hold. SI units: K, Pa absolute, m3/s, W.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Reading {
    /// Refrigerant pressure in the evaporator, Pa absolute.
    EvaporatorPressure,
    /// Saturation temperature in the evaporator, K.
    EvaporatorSaturationTemperature,
    /// Refrigerant pressure in the condenser, Pa absolute.
    CondenserPressure,
    /// Saturation temperature in the condenser, K.
    CondenserSaturationTemperature,
    /// Temperature of the liquid that leaves the condenser, K.
    LiquidLineTemperature,
    /// Temperature at the inlet of the first stage, behind a liquid-suction exchanger if there is one, K.
    SuctionTemperature,
    /// Temperature at the discharge of the last stage, K.
    DischargeTemperature,
    /// Chilled water entering the evaporator, K.
    ChilledWaterEntering,
    /// Chilled water leaving the evaporator, K.
    ChilledWaterLeaving,
    /// Chilled water volume flow, metered at the entering temperature, m3/s.
    ChilledWaterFlow,
    /// Condenser water entering, K.
    CondenserWaterEntering,
    /// Condenser water leaving, K.
    CondenserWaterLeaving,
    /// Condenser water volume flow, metered at the entering temperature, m3/s.
    CondenserWaterFlow,
    /// Refrigerating capacity as somebody else's meter has it, W; used where the chilled water is not read.
    Capacity,
    /// Motor input power, W.
    Power,
    /// Pressure in the tank, or on the boiling side of the closed economizer, that feeds the inlet of this stage (2, 3 ...), Pa
    /// absolute.
    TankPressure(u8),
    /// Saturation temperature there, K.
    TankTemperature(u8),
}

/// What kind of quantity a reading is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    SaturationTemperature,
    RefrigerantTemperature,
    WaterTemperature,
    Pressure,
    Flow,
    Power,
}

impl Reading {
    /// Readings that do not belong to a tank.
    pub const FIXED: [Self; 15] = [
        Self::EvaporatorPressure,
        Self::EvaporatorSaturationTemperature,
        Self::CondenserPressure,
        Self::CondenserSaturationTemperature,
        Self::LiquidLineTemperature,
        Self::SuctionTemperature,
        Self::DischargeTemperature,
        Self::ChilledWaterEntering,
        Self::ChilledWaterLeaving,
        Self::ChilledWaterFlow,
        Self::CondenserWaterEntering,
        Self::CondenserWaterLeaving,
        Self::CondenserWaterFlow,
        Self::Capacity,
        Self::Power,
    ];

    /// SI unit of the column.
    pub fn unit(self) -> &'static str {
        match self.kind() {
            Kind::SaturationTemperature | Kind::RefrigerantTemperature | Kind::WaterTemperature => "K",
            Kind::Pressure => "Pa",
            Kind::Flow => "m3/s",
            Kind::Power => "W",
        }
    }

    pub(crate) fn kind(self) -> Kind {
        match self {
            Self::EvaporatorPressure | Self::CondenserPressure | Self::TankPressure(_) => Kind::Pressure,
            Self::EvaporatorSaturationTemperature
            | Self::CondenserSaturationTemperature
            | Self::TankTemperature(_) => Kind::SaturationTemperature,
            Self::LiquidLineTemperature | Self::SuctionTemperature | Self::DischargeTemperature => {
                Kind::RefrigerantTemperature
            }
            Self::ChilledWaterEntering
            | Self::ChilledWaterLeaving
            | Self::CondenserWaterEntering
            | Self::CondenserWaterLeaving => Kind::WaterTemperature,
            Self::ChilledWaterFlow | Self::CondenserWaterFlow => Kind::Flow,
            Self::Power | Self::Capacity => Kind::Power,
        }
    }

    /// Whether it is read in the circuit of the chilled water.
    pub(super) fn is_chilled_water(self) -> bool {
        matches!(self, Self::ChilledWaterEntering | Self::ChilledWaterLeaving | Self::ChilledWaterFlow)
    }

    fn plain_name(self) -> &'static str {
        match self {
            Self::EvaporatorPressure => "evaporator_pressure",
            Self::EvaporatorSaturationTemperature => "evaporator_saturation_temperature",
            Self::CondenserPressure => "condenser_pressure",
            Self::CondenserSaturationTemperature => "condenser_saturation_temperature",
            Self::LiquidLineTemperature => "liquid_line_temperature",
            Self::SuctionTemperature => "suction_temperature",
            Self::DischargeTemperature => "discharge_temperature",
            Self::ChilledWaterEntering => "chilled_water_entering",
            Self::ChilledWaterLeaving => "chilled_water_leaving",
            Self::ChilledWaterFlow => "chilled_water_flow",
            Self::CondenserWaterEntering => "condenser_water_entering",
            Self::CondenserWaterLeaving => "condenser_water_leaving",
            Self::CondenserWaterFlow => "condenser_water_flow",
            Self::Capacity => "capacity",
            Self::Power => "power",
            Self::TankPressure(_) => "tank_pressure",
            Self::TankTemperature(_) => "tank_temperature",
        }
    }
}

impl fmt::Display for Reading {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TankPressure(stage) | Self::TankTemperature(stage) => {
                write!(f, "stage_{stage}_{}", self.plain_name())
            }
            _ => f.write_str(self.plain_name()),
        }
    }
}

/// Reads the names that [`Display`](fmt::Display) writes; `tank_pressure` and `tank_temperature` without a stage
/// mean the tank that feeds the second stage.
impl FromStr for Reading {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self> {
        let (stage, plain) = match text.strip_prefix("stage_").and_then(|rest| rest.split_once('_')) {
            Some((number, rest)) => (number.parse().ok().filter(|&k: &u8| k >= 2), rest),
            None => (Some(2), text),
        };
        let tanks = [Self::TankPressure(stage.unwrap_or(2)), Self::TankTemperature(stage.unwrap_or(2))];
        tanks
            .into_iter()
            .chain(Self::FIXED.into_iter().filter(|_| plain == text))
            .find(|reading| stage.is_some() && reading.plain_name() == plain)
            .ok_or_else(|| Error::UnknownOption {
                argument: "reading",
                value: text.to_owned(),
                options: Self::FIXED
                    .iter()
                    .map(ToString::to_string)
                    .chain(["stage_k_tank_pressure", "stage_k_tank_temperature"].map(String::from))
                    .collect(),
            })
    }
}

/// Columns of readings, all of the same length.
///
/// ```
/// use interstage::{Reading, Readings};
///
/// let pressure = [350e3, 352e3];
/// let water = [280.2, f64::NAN]; // NaN is a missing reading
/// let readings = Readings::new()
///     .with(Reading::EvaporatorPressure, &pressure)?
///     .with(Reading::ChilledWaterLeaving, &water)?;
/// assert_eq!(readings.rows(), 2);
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, Default)]
pub struct Readings<'a> {
    columns: Vec<(Reading, &'a [f64])>,
    /// Whether rows are not in the order of time.
    unordered: bool,
}

impl<'a> Readings<'a> {
    /// No columns yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a column.
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] unless it is as long as those before, [`Error::Inconsistent`] if that reading has
    /// a column already.
    pub fn with(mut self, reading: Reading, column: &'a [f64]) -> Result<Self> {
        if let Some((_, first)) = self.columns.first()
            && first.len() != column.len()
        {
            return Err(Error::WrongLength {
                argument: reading.plain_name(),
                found: column.len(),
                expected: first.len(),
            });
        }
        if self.column(reading).is_some() {
            return Err(Error::Inconsistent {
                arguments: "readings",
                reason: format!("{reading} is given twice"),
            });
        }
        self.columns.push((reading, column));
        Ok(self)
    }

    /// The same columns with rows that do not follow one another in time: no spike is looked for.
    #[must_use]
    pub fn in_no_order(self) -> Self {
        Self { unordered: true, ..self }
    }

    /// Whether the rows follow one another in time.
    pub(super) fn follow_in_time(&self) -> bool {
        !self.unordered
    }

    /// Number of rows.
    pub fn rows(&self) -> usize {
        self.columns.first().map_or(0, |(_, column)| column.len())
    }

    /// The column of a reading.
    pub fn column(&self, reading: Reading) -> Option<&'a [f64]> {
        self.columns.iter().find(|(known, _)| *known == reading).map(|(_, column)| *column)
    }

    /// All columns, in the order they were added.
    pub fn columns(&self) -> impl Iterator<Item = (Reading, &'a [f64])> {
        self.columns.iter().copied()
    }
}
