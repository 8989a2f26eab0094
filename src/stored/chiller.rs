//! Chillers, their duties, and chillers solved at one.

use serde::{Deserialize, Serialize};

use super::cycle::{Figure, Figures, compare, figures};
use super::form::{Form, Refused, Version, kind, stored, word, word_for};
use crate::chiller::{ChilledWater, Chiller, ChillerPoint, Duty, WaterPaths, WateredCircuit};
use crate::cycle::Circuit;
use crate::error::Error;
use crate::exchanger::{Exchanger, WaterFlow};

const PATHS: [(&str, WaterPaths); 3] = [
    ("parallel", WaterPaths::Parallel),
    ("series parallel-flow", WaterPaths::SeriesParallelFlow),
    ("series counter-flow", WaterPaths::SeriesCounterFlow),
];

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ChillerForm {
    format_version: Version,
    r#type: kind::Chiller,
    circuits: Vec<Circuit>,
    evaporator: Vec<Exchanger>,
    condenser: Vec<Exchanger>,
    water_paths: String,
    capacity_shares: Vec<f64>,
    suction_superheat: PerCircuit,
    subcooling: PerCircuit,
    #[serde(default, skip_serializing_if = "PerCircuit::is_nothing")]
    liquid_carryover: PerCircuit,
    #[serde(default, skip_serializing_if = "PerCircuit::is_nothing")]
    hot_gas_bypass: PerCircuit,
}

/// The same for every circuit, or one for each.
#[derive(Debug, Serialize, Deserialize)]
#[serde(
    untagged,
    expecting = "superheat, subcooling, carryover and bypass are a number, or a list with one for each circuit"
)]
enum PerCircuit {
    Same(f64),
    Each(Vec<f64>),
}

impl Default for PerCircuit {
    fn default() -> Self {
        Self::Same(0.0)
    }
}

impl PerCircuit {
    fn of(each: Vec<f64>) -> Self {
        match each.as_slice() {
            [first, rest @ ..] if rest.iter().all(|other| other.to_bits() == first.to_bits()) => {
                Self::Same(*first)
            }
            _ => Self::Each(each),
        }
    }

    fn is_nothing(&self) -> bool {
        matches!(self, Self::Same(value) if *value == 0.0)
    }

    fn each(self, argument: &'static str, circuits: usize) -> Result<Vec<f64>, Error> {
        match self {
            Self::Same(kelvin) => Ok(vec![kelvin; circuits]),
            Self::Each(each) => fits(argument, &each, circuits).map(|()| each),
        }
    }
}

fn fits<T>(argument: &'static str, parts: &[T], expected: usize) -> Result<(), Error> {
    let found = parts.len();
    if found == expected { Ok(()) } else { Err(Error::WrongLength { argument, found, expected }) }
}

impl Form for ChillerForm {
    type Value = Chiller;

    fn of(chiller: &Chiller) -> Self {
        let circuits = chiller.circuits();
        Self {
            format_version: Version,
            r#type: kind::Chiller,
            circuits: circuits.iter().map(|of| of.circuit().clone()).collect(),
            evaporator: circuits.iter().map(WateredCircuit::evaporator).collect(),
            condenser: circuits.iter().map(WateredCircuit::condenser).collect(),
            water_paths: word_for(&chiller.water_paths(), &PATHS),
            capacity_shares: chiller.capacity_shares().to_vec(),
            suction_superheat: PerCircuit::of(
                circuits.iter().map(WateredCircuit::suction_superheat).collect(),
            ),
            subcooling: PerCircuit::of(circuits.iter().map(WateredCircuit::subcooling).collect()),
            liquid_carryover: PerCircuit::of(circuits.iter().map(WateredCircuit::liquid_carryover).collect()),
            hot_gas_bypass: PerCircuit::of(circuits.iter().map(WateredCircuit::hot_gas_bypass).collect()),
        }
    }

    fn read(self) -> Result<Chiller, Refused> {
        let count = self.circuits.len();
        fits("evaporator", &self.evaporator, count)?;
        fits("condenser", &self.condenser, count)?;
        let superheats = self.suction_superheat.each("suction_superheat", count)?;
        let subcoolings = self.subcooling.each("subcooling", count)?;
        let carryovers = self.liquid_carryover.each("liquid_carryover", count)?;
        let bypasses = self.hot_gas_bypass.each("hot_gas_bypass", count)?;
        let exchangers = self.evaporator.into_iter().zip(self.condenser);
        let kelvins = superheats.into_iter().zip(subcoolings);
        let fractions = carryovers.into_iter().zip(bypasses);
        let mut circuits = Vec::with_capacity(count);
        for (((circuit, (evaporator, condenser)), (superheat, subcooling)), (carryover, bypass)) in
            self.circuits.into_iter().zip(exchangers).zip(kelvins).zip(fractions)
        {
            circuits.push(
                WateredCircuit::new(circuit, evaporator, condenser)?
                    .with_suction_superheat(superheat)?
                    .with_subcooling(subcooling)?
                    .with_liquid_carryover(carryover)?
                    .with_hot_gas_bypass(bypass)?,
            );
        }
        let paths = word("water_paths", &self.water_paths, &PATHS)?;
        Ok(Chiller::of_circuits(circuits, paths)?.with_capacity_shares(&self.capacity_shares)?)
    }
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct DutyForm {
    format_version: Version,
    r#type: kind::Duty,
    capacity: f64,
    chilled_water: WaterFlow,
    condenser_water: WaterFlow,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    chilled_water_leaving: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    chilled_water_entering: Option<f64>,
    condenser_water_entering: f64,
}

/// Leaving and entering temperature of chilled water, one of which is known.
fn temperatures(chilled: ChilledWater) -> (Option<f64>, Option<f64>) {
    match chilled {
        ChilledWater::Leaving(temperature) => (Some(temperature), None),
        ChilledWater::Entering(temperature) => (None, Some(temperature)),
    }
}

fn known(leaving: Option<f64>, entering: Option<f64>) -> Result<ChilledWater, Refused> {
    match (leaving, entering) {
        (Some(leaving), None) => Ok(ChilledWater::Leaving(leaving)),
        (None, Some(entering)) => Ok(ChilledWater::Entering(entering)),
        _ => {
            Err(Refused::because("exactly one of chilled_water_leaving and chilled_water_entering is given"))
        }
    }
}

impl Form for DutyForm {
    type Value = Duty;

    fn of(duty: &Duty) -> Self {
        let (chilled_water_leaving, chilled_water_entering) = temperatures(duty.chilled_water_temperature());
        Self {
            format_version: Version,
            r#type: kind::Duty,
            capacity: duty.capacity(),
            chilled_water: duty.chilled_water(),
            condenser_water: duty.condenser_water(),
            chilled_water_leaving,
            chilled_water_entering,
            condenser_water_entering: duty.condenser_water_entering(),
        }
    }

    fn read(self) -> Result<Duty, Refused> {
        let chilled = known(self.chilled_water_leaving, self.chilled_water_entering)?;
        let condenser = (self.condenser_water, self.condenser_water_entering);
        Ok(Duty::new(self.capacity, (self.chilled_water, chilled), condenser)?)
    }
}

/// A chiller and its duty, with figures for those who read them.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ChillerPointForm {
    format_version: Version,
    r#type: kind::ChillerPoint,
    chiller: Chiller,
    capacity: f64,
    chilled_water: WaterFlow,
    condenser_water: WaterFlow,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    chilled_water_leaving: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    chilled_water_entering: Option<f64>,
    condenser_water_entering: f64,
    #[serde(default)]
    figures: Figures,
}

fn figures_of(point: &ChillerPoint) -> Figures {
    figures!(
        point;
        capacity power shaft_power motor_input_power drive_input_power heat_rejected cop kw_per_ton chilled_water_entering
        chilled_water_leaving condenser_water_entering condenser_water_leaving water_lift energy_closure;
        evaporating_temperatures condensing_temperatures discharge_temperatures economizer_benefits
    )
}

impl Form for ChillerPointForm {
    type Value = ChillerPoint;

    fn of(point: &ChillerPoint) -> Self {
        let duty = DutyForm::of(point.duty());
        Self {
            format_version: Version,
            r#type: kind::ChillerPoint,
            chiller: point.chiller().clone(),
            capacity: duty.capacity,
            chilled_water: duty.chilled_water,
            condenser_water: duty.condenser_water,
            chilled_water_leaving: duty.chilled_water_leaving,
            chilled_water_entering: duty.chilled_water_entering,
            condenser_water_entering: duty.condenser_water_entering,
            figures: figures_of(point),
        }
    }

    fn read(self) -> Result<ChillerPoint, Refused> {
        let chilled = known(self.chilled_water_leaving, self.chilled_water_entering)?;
        let condenser = (self.condenser_water, self.condenser_water_entering);
        let duty = Duty::new(self.capacity, (self.chilled_water, chilled), condenser)?;
        let point = self.chiller.solve(&duty)?;
        compare(&self.figures, &figures_of(&point))?;
        Ok(point)
    }
}

stored!(Chiller as ChillerForm, Duty as DutyForm, ChillerPoint as ChillerPointForm);
