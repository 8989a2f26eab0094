//! A chiller at the four loads of a rating.

use super::Chiller;
use super::design::PowerBoundary;
use super::duty::{ChilledWater, Duty, possible_capacity};
use super::solved::ChillerPoint;
use crate::error::{Error, Result};
use crate::exchanger::WaterFlow;
use crate::rating::{RatedFlow, RatingConditions, iplv_from_cop};

/// A chiller at the four loads of a rating, and its integrated part-load value.
///
/// Stage efficiencies and what describes the exchangers stay what they are at every load: a real machine is rated by test. The value is called
/// IPLV at the standard's own conditions, NPLV at others.
#[derive(Debug, Clone, PartialEq)]
pub struct RatedChiller {
    points: Vec<ChillerPoint>,
    boundary: PowerBoundary,
    iplv: f64,
}

/// Rounds until the flow of condenser water gives its temperature, and the relative change that ends them.
const LIMIT: usize = 100;
const SETTLED: f64 = 1e-13;

impl Chiller {
    /// The chiller at the four loads of a rating, full load first, for a full-load capacity (W); COP counts the power at a boundary.
    ///
    /// # Errors
    ///
    /// Those of [`Chiller::solve`].
    pub fn rate(
        &self,
        conditions: &RatingConditions,
        capacity: f64,
        boundary: PowerBoundary,
    ) -> Result<RatedChiller> {
        possible_capacity(capacity)?;
        let leaving = conditions.chilled_water_leaving();
        let chilled = match conditions.chilled_water() {
            RatedFlow::PerCapacity(flow) => WaterFlow::water_by_volume(flow * capacity, leaving)?,
            RatedFlow::Temperature(entering) => flow_for(capacity, entering, leaving)?,
        };
        let entering = conditions.condenser_water_entering();
        let full = |condenser: WaterFlow| -> Result<ChillerPoint> {
            let chilled = (chilled, ChilledWater::Leaving(leaving));
            self.solve(&Duty::new(capacity, chilled, (condenser, entering))?)
        };
        let condenser = match conditions.condenser_water() {
            RatedFlow::PerCapacity(flow) => WaterFlow::water_by_volume(flow * capacity, entering)?,
            RatedFlow::Temperature(warm) => {
                // Some heat of compression to begin with.
                let mut flow = flow_for(1.2 * capacity, entering, warm)?;
                let mut settled = false;
                for _ in 0..LIMIT {
                    let next = flow_for(full(flow)?.heat_rejected(), entering, warm)?;
                    settled = (next.mass_flow() / flow.mass_flow() - 1.0).abs() <= SETTLED;
                    flow = next;
                    if settled {
                        break;
                    }
                }
                if !settled {
                    return Err(Error::NotConverged {
                        solver: "flow of condenser water at full load",
                        iterations: LIMIT,
                        residual: f64::NAN,
                        lower: flow.mass_flow(),
                        upper: flow.mass_flow(),
                    });
                }
                flow
            }
        };
        let points = conditions
            .part_loads()
            .iter()
            .map(|part| {
                let chilled = (chilled, ChilledWater::Leaving(leaving));
                let condenser = (condenser, part.condenser_water_entering());
                self.solve(&Duty::new(part.load() * capacity, chilled, condenser)?)
            })
            .collect::<Result<Vec<_>>>()?;
        let mut cop = [f64::NAN; 4];
        for (cop, point) in cop.iter_mut().zip(&points) {
            *cop = point.capacity() / boundary.power_of(point);
        }
        Ok(RatedChiller { points, boundary, iplv: iplv_from_cop(cop)? })
    }
}

/// Flow of plain water between two temperatures that carries heat.
fn flow_for(heat: f64, from: f64, to: f64) -> Result<WaterFlow> {
    WaterFlow::water(heat / WaterFlow::water(1.0)?.heat(from, to)?.abs())
}

impl PowerBoundary {
    /// The power of a chiller at this boundary, W.
    pub fn power_of(self, point: &ChillerPoint) -> f64 {
        match self {
            Self::Compression => point.power(),
            Self::Shaft => point.shaft_power(),
            Self::MotorInput => point.motor_input_power(),
            Self::DriveInput => point.drive_input_power(),
        }
    }
}

impl RatedChiller {
    /// The chiller at 100, 75, 50 and 25 % of the capacity.
    pub fn points(&self) -> &[ChillerPoint] {
        &self.points
    }

    /// Where the power is counted.
    pub fn power_boundary(&self) -> PowerBoundary {
        self.boundary
    }

    /// Integrated part-load value as a COP: the IPLV at the standard's own conditions, the NPLV at others.
    pub fn iplv(&self) -> f64 {
        self.iplv
    }
}
