//! Ratings of water chillers: conditions, part-load values and tolerances of the standards.
//!
//! | figure | source |
//! |---|---|
//! | weights 0.01, 0.42, 0.45, 0.12 at 100, 75, 50, 25 % load; 44 degF leaving, 2.4 and 3.0 gpm/ton; 85, 75, 65, 65 degF entering | AHRI 550/590 (I-P), 2003, Table 3, read from pages that quote it |
//! | 54 to 44 degF, 85 to 94.30 degF at full load | ANSI/AHRI 550/590 (I-P)-2015, Table 1, read |
//! | tolerance | ANSI/AHRI 550/590 (I-P)-2011 with Addendum 3, Table 10, read |
//! | 12 to 7 degC, 30 to 35 degC; 30, 24.5, 19, 19 degC entering | AHRI 551/591 (SI)-2015, from memory |
//! | entering water between 100 and 50 % load of an NPLV: straight from the chosen temperature to 65 degF or 19 degC | the same standards, from memory; it gives the 75 and 24.5 of the standard conditions |

use std::fmt;
use std::str::FromStr;

use crate::error::{Error, Result, within};
use crate::units;

/// Loads and weights of the four points.
const POINTS: [(f64, f64); 4] = [(1.0, 0.01), (0.75, 0.42), (0.5, 0.45), (0.25, 0.12)];

/// Names of the figures at the four points.
const LOADS: [&str; 4] = ["at 100", "at 75", "at 50", "at 25"];

fn weighed(figures: [f64; 4], figure: impl Fn(f64) -> f64, reason: &str) -> Result<f64> {
    let mut sum = 0.0;
    for ((value, load), (_, weight)) in figures.into_iter().zip(LOADS).zip(POINTS) {
        within(load, value, f64::MIN_POSITIVE, 1e6, "-", reason)?;
        sum += weight * figure(value);
    }
    Ok(sum)
}

/// Integrated part-load value from the COP at 100, 75, 50 and 25 % load: `0.01 A + 0.42 B + 0.45 C + 0.12 D`.
///
/// Serves EER too, and NPLV, which is the same formula at other conditions ([`RatingConditions::non_standard`]).
///
/// ```
/// use interstage::iplv_from_cop;
///
/// assert!((iplv_from_cop([5.5, 6.4, 7.6, 6.9])? - 6.991).abs() < 1e-12);
/// # Ok::<(), interstage::Error>(())
/// ```
///
/// # Errors
///
/// [`Error::NotFinite`]; [`Error::OutOfRange`] for a COP that is not positive.
pub fn iplv_from_cop(cop: [f64; 4]) -> Result<f64> {
    weighed(cop, |cop| cop, "COP or EER at one of the four loads")
}

/// Integrated part-load value in kW/ton from the kW/ton at 100, 75, 50 and 25 % load:
/// `1 / (0.01/A + 0.42/B + 0.45/C + 0.12/D)`.
///
/// # Errors
///
/// [`Error::NotFinite`]; [`Error::OutOfRange`] for a figure that is not positive.
pub fn iplv_from_kw_per_ton(kw_per_ton: [f64; 4]) -> Result<f64> {
    // The COP of all but nothing has no bound.
    for (value, load) in kw_per_ton.into_iter().zip(LOADS) {
        within(load, value, 1e-6, 1e6, "-", "kW/ton at one of the four loads")?;
    }
    weighed(kw_per_ton, |figure| 1.0 / figure, "kW/ton at one of the four loads").map(|sum| 1.0 / sum)
}

/// Tolerance of capacity, efficiency and heat balance in a test at part load, as a fraction: `0.105 - 0.07 L + 0.15 /
/// (dT L)`, with the load `L` as a fraction and the range of the chilled water at full load `dT` in degF.
///
/// ANSI/AHRI 550/590 (I-P)-2011 with Addendum 3, Table 10; the editions of 1998 and 2003 have the same in percent.
/// The heat balance of a water-cooled machine lies within plus or minus this, full-load capacity is at least 1 less
/// this.
///
/// `full_load_range` is given in K here.
///
/// ```
/// use interstage::rating_tolerance;
///
/// // 10 degF at full load.
/// assert!((rating_tolerance(1.0, 10.0 / 1.8)? - 0.05).abs() < 1e-12);
/// assert!((rating_tolerance(0.25, 10.0 / 1.8)? - 0.1475).abs() < 1e-12);
/// # Ok::<(), interstage::Error>(())
/// ```
///
/// # Errors
///
/// [`Error::NotFinite`]; [`Error::OutOfRange`] for a load outside 0.01 to 1.2 or a range outside 0.1 K to 50 K.
pub fn rating_tolerance(load: f64, full_load_range: f64) -> Result<f64> {
    within("load", load, 0.01, 1.2, "-", "fraction of the full-load capacity")?;
    within("full load range", full_load_range, 0.1, 50.0, "K", "range of the chilled water at full load")?;
    let range = units::fahrenheit_difference_from_kelvin_difference(full_load_range);
    Ok(0.105 - 0.07 * load + 0.15 / (range * load))
}

/// How that tolerance answers to the load.
#[cfg(feature = "trend")]
pub(crate) fn rating_tolerance_slope(load: f64, full_load_range: f64) -> f64 {
    let range = units::fahrenheit_difference_from_kelvin_difference(full_load_range);
    -0.07 - 0.15 / (range * load * load)
}

/// A standard for the rating of water-cooled chillers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
#[allow(non_camel_case_types, reason = "numbers of a standard and a year")]
pub enum RatingStandard {
    /// AHRI 550/590 (I-P), 2003 and 2011 editions: water flows of 2.4 and 3.0 gpm/ton.
    Ahri550_590_2003,
    /// ANSI/AHRI 550/590 (I-P)-2015: leaving condenser water of 94.30 degF instead of a flow.
    Ahri550_590_2015,
    /// AHRI 551/591 (SI)-2015, from memory.
    Ahri551_591_2015,
}

impl RatingStandard {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Ahri550_590_2003, Self::Ahri550_590_2015, Self::Ahri551_591_2015];

    /// Its conditions for a water-cooled chiller.
    ///
    /// ```
    /// use interstage::{RatingStandard, units};
    ///
    /// let conditions = RatingStandard::Ahri550_590_2015.conditions();
    /// let entering = conditions.part_loads().map(|point| point.condenser_water_entering());
    /// let degf = entering.map(|t| units::fahrenheit_from_kelvin(t).round());
    /// assert_eq!(degf, [85.0, 75.0, 65.0, 65.0]);
    /// ```
    pub fn conditions(self) -> RatingConditions {
        let fahrenheit = units::kelvin_from_fahrenheit;
        let celsius = units::kelvin_from_celsius;
        let per_ton = |gpm| {
            RatedFlow::PerCapacity(units::cubic_meter_per_second_from_gpm(gpm) / units::watt_from_ton(1.0))
        };
        let (chilled_water_leaving, chilled_water, condenser_water_entering, condenser_water, relief) =
            match self {
                Self::Ahri550_590_2003 => {
                    (fahrenheit(44.0), per_ton(2.4), fahrenheit(85.0), per_ton(3.0), fahrenheit(65.0))
                }
                Self::Ahri550_590_2015 => (
                    fahrenheit(44.0),
                    RatedFlow::Temperature(fahrenheit(54.0)),
                    fahrenheit(85.0),
                    RatedFlow::Temperature(fahrenheit(94.3)),
                    fahrenheit(65.0),
                ),
                Self::Ahri551_591_2015 => (
                    celsius(7.0),
                    RatedFlow::Temperature(celsius(12.0)),
                    celsius(30.0),
                    RatedFlow::Temperature(celsius(35.0)),
                    celsius(19.0),
                ),
            };
        RatingConditions {
            standard: self,
            chilled_water_leaving,
            chilled_water,
            condenser_water_entering,
            condenser_water,
            relief,
        }
    }
}

impl fmt::Display for RatingStandard {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Ahri550_590_2003 => "AHRI 550/590 (I-P)-2003",
            Self::Ahri550_590_2015 => "AHRI 550/590 (I-P)-2015",
            Self::Ahri551_591_2015 => "AHRI 551/591 (SI)-2015",
        })
    }
}

impl FromStr for RatingStandard {
    type Err = Error;

    /// From the text that is shown.
    fn from_str(text: &str) -> Result<Self> {
        Self::ALL.into_iter().find(|standard| standard.to_string() == text).ok_or_else(|| {
            Error::UnknownOption {
                argument: "standard",
                value: text.to_owned(),
                options: Self::ALL.iter().map(Self::to_string).collect(),
            }
        })
    }
}

/// What fixes a water flow at full load; at part load it stays as it is.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum RatedFlow {
    /// Volume flow per refrigerating capacity, m3/s per W.
    PerCapacity(f64),
    /// The other water temperature at full load, K: entering chilled water, leaving condenser water.
    Temperature(f64),
}

/// One of the four loads of a rating.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PartLoad {
    load: f64,
    weight: f64,
    condenser_water_entering: f64,
}

impl PartLoad {
    /// Capacity over full-load capacity.
    pub fn load(&self) -> f64 {
        self.load
    }

    /// Weight of the point in the integrated part-load value.
    pub fn weight(&self) -> f64 {
        self.weight
    }

    /// Temperature of the entering condenser water, K.
    pub fn condenser_water_entering(&self) -> f64 {
        self.condenser_water_entering
    }
}

/// Water temperatures and flows that a chiller is rated at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatingConditions {
    standard: RatingStandard,
    chilled_water_leaving: f64,
    chilled_water: RatedFlow,
    condenser_water_entering: f64,
    condenser_water: RatedFlow,
    /// Entering condenser water at half load and below, K.
    relief: f64,
}

impl RatingConditions {
    /// Conditions of an NPLV: other full-load temperatures (K) and flows by the rules of a standard. Entering
    /// condenser water falls in a straight line to that of the standard at half load, and stays there; water that is
    /// colder than that at full load stays as it is (not from a standard).
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for a temperature outside 230 K to 400 K or a flow that is not
    /// positive; [`Error::Inconsistent`] for chilled water that warms or condenser water that cools.
    pub fn non_standard(
        standard: RatingStandard,
        chilled_water_leaving: f64,
        chilled_water: RatedFlow,
        condenser_water_entering: f64,
        condenser_water: RatedFlow,
    ) -> Result<Self> {
        let temperature =
            |argument, value| within(argument, value, 230.0, 400.0, "K", "water or brine of a chiller");
        temperature("chilled water leaving", chilled_water_leaving)?;
        temperature("condenser water entering", condenser_water_entering)?;
        for (flow, arguments, flow_name, temperature_name) in [
            (
                chilled_water,
                "chilled water entering and chilled water leaving",
                "chilled water flow",
                "chilled water entering",
            ),
            (
                condenser_water,
                "condenser water entering and condenser water leaving",
                "condenser water flow",
                "condenser water leaving",
            ),
        ] {
            match flow {
                RatedFlow::PerCapacity(flow) => {
                    let reason = "volume flow per capacity: 5e-8 are 2.8 gpm/ton";
                    within(flow_name, flow, 1e-10, 1e-5, "m3/(s W)", reason)?;
                }
                RatedFlow::Temperature(other) => {
                    temperature(temperature_name, other)?;
                    let start = if flow_name == "chilled water flow" {
                        chilled_water_leaving
                    } else {
                        condenser_water_entering
                    };
                    if other <= start {
                        let reason = format!("{other} K is not above {start} K");
                        return Err(Error::Inconsistent { arguments, reason });
                    }
                }
            }
        }
        Ok(Self {
            chilled_water_leaving,
            chilled_water,
            condenser_water_entering,
            condenser_water,
            ..standard.conditions()
        })
    }

    /// The standard whose rules they follow.
    pub fn standard(&self) -> RatingStandard {
        self.standard
    }

    /// Temperature of the leaving chilled water, K, at all loads.
    pub fn chilled_water_leaving(&self) -> f64 {
        self.chilled_water_leaving
    }

    /// What fixes the flow of the chilled water.
    pub fn chilled_water(&self) -> RatedFlow {
        self.chilled_water
    }

    /// Temperature of the entering condenser water at full load, K.
    pub fn condenser_water_entering(&self) -> f64 {
        self.condenser_water_entering
    }

    /// What fixes the flow of the condenser water.
    pub fn condenser_water(&self) -> RatedFlow {
        self.condenser_water
    }

    /// Temperature of the entering condenser water at a load (fraction), K.
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for a load outside 0 to 1.
    pub fn condenser_water_entering_at(&self, load: f64) -> Result<f64> {
        within("load", load, 0.0, 1.0, "-", "fraction of the full-load capacity")?;
        Ok(self.entering(load))
    }

    fn entering(&self, load: f64) -> f64 {
        let above_half = (2.0 * load - 1.0).max(0.0);
        let relief = self.relief.min(self.condenser_water_entering);
        relief + above_half * (self.condenser_water_entering - relief)
    }

    /// The four loads, from full load down.
    pub fn part_loads(&self) -> [PartLoad; 4] {
        POINTS.map(|(load, weight)| PartLoad { load, weight, condenser_water_entering: self.entering(load) })
    }
}
