//! How the plane of enthalpy and entropy is divided into patches.
//!
//! Columns of equal width in entropy; in each, rows of enthalpy. On the left, just short of the critical entropy, enthalpy counts
//! from saturated liquid, so that no patch runs across its line.

use std::sync::OnceLock;

use super::State;
use crate::error::Result;
use crate::helmholtz::Equation;
use crate::numeric::{Bracket, Patch, Piecewise, newton};
use crate::saturation::{Saturation, SaturationLine};

/// About the width of a patch in entropy, in units of R.
const WIDTH: f64 = 0.08;

/// Its height: a change of temperature at constant pressure in units of the critical temperature, about, with the heat
/// capacity of saturated vapor at [`TYPICAL`] times that, or [`HEAT`] R where that is less.
const HEIGHT: f64 = 1.0 / 160.0;
const TYPICAL: f64 = 0.7;
const HEAT: f64 = 12.0;

/// The height of wet patches on the left: in the square root of enthalpy, in which their temperature is
/// almost straight, in units of the square root of R and the critical temperature.
const ROOT_HEIGHT: f64 = 0.0625;

/// Change of temperature above the critical enthalpy, in units of the critical temperature, up to which there are patches.
const ABOVE: f64 = 0.5;

/// Patches end at the entropy of gas at the first share of the critical temperature, as thin as saturated vapor at the second,
/// or R beyond that of the coldest vapor.
const HOTTEST: f64 = 0.75;
const THINNEST: f64 = 0.55;

/// Relative distance from the critical temperature up to which saturated liquid is fitted, and bits that name a cell.
const NEAREST: f64 = 1e-4;
const BITS: u32 = 3;

/// Room for patches; each is made when first asked for.
type Sheet<T> = Box<[OnceLock<Option<Box<T>>>]>;

/// The plane of enthalpy and entropy of one refrigerant.
#[derive(Debug)]
pub(super) struct Plane {
    /// Enthalpy of saturated liquid against critical entropy less entropy.
    liquid: Piecewise<1>,
    critical_enthalpy: f64,
    critical_entropy: f64,
    /// Entropy of the coldest saturated liquid.
    first: f64,
    width: f64,
    height: f64,
    root_height: f64,
    /// For each column, on the left, how far above saturated liquid the two-phase isotherms have their
    /// envelope.
    turns: Vec<Option<f64>>,
    /// Rows of patches of one phase below the base of a column, and all.
    pub(super) below: usize,
    rows: usize,
    /// The saturated vapor of least entropy, of those looked at.
    pub(super) driest: State,
    pub(super) one_phase: Sheet<OnePhase>,
    pub(super) wet: Sheet<Patch<1>>,
}

/// Temperature, density and pressure, and whether they meet the equation of state all over.
#[derive(Debug)]
pub(super) struct OnePhase {
    pub(super) patch: Patch<4>,
    pub(super) exact: bool,
}

/// A column of patches and the coordinate along it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Column {
    number: usize,
    turn: Option<f64>,
}

impl Column {
    /// Whether its enthalpies count from saturated liquid.
    pub(super) fn is_left(self) -> bool {
        self.turn.is_some()
    }
}

impl Plane {
    /// Room for the patches of a pure fluid; none is made yet.
    pub(super) fn new(equation: &Equation, line: &SaturationLine) -> Result<Self> {
        let (r, critical_temperature) = (equation.gas_constant, line.critical_temperature());
        let critical = equation.at(critical_temperature, line.critical_density());
        let coldest = line.at_temperature(equation, line.coldest_temperature())?;
        let hottest = line.at_temperature(equation, critical_temperature * (1.0 - NEAREST))?.liquid.entropy;
        let span = hottest - coldest.liquid.entropy;
        let liquid = Piecewise::fit(
            critical.entropy - hottest,
            critical.entropy - coldest.liquid.entropy,
            |_, _| Ok(BITS),
            |below| Ok([liquid_at_entropy(equation, line, critical.entropy - below)?.liquid.enthalpy]),
        )?;
        let typical = |share: f64| {
            let temperature = (share * critical_temperature).max(line.coldest_temperature());
            line.at_temperature(equation, temperature).map(|saturation| saturation.vapor)
        };
        let (vapor, thin) = (typical(TYPICAL)?, typical(THINNEST)?);
        let heat = equation.at(vapor.temperature, vapor.density).cp().min(HEAT * r);
        let height = HEIGHT * critical_temperature * heat;
        // A dry vapor may have less entropy when it is coldest than later.
        let superheated = equation.at(HOTTEST * critical_temperature, thin.density).entropy;
        let last = superheated.max(coldest.vapor.entropy + r);
        let left = (span / (WIDTH * r)).ceil();
        let width = span / left;
        let right = ((last - hottest) / width).ceil();
        let mut turns = vec![None; (left + right) as usize];
        for (column, place) in turns.iter_mut().enumerate().take(left as usize) {
            let entropy = coldest.liquid.entropy + (column as f64 + 0.5) * width;
            *place = Some(turn(equation, line, entropy)?);
        }
        let lowest = coldest.liquid.enthalpy + coldest.liquid.temperature * span;
        let below = ((critical.enthalpy - lowest) / height).ceil() as usize + 1;
        let rows = below + (ABOVE / HEIGHT) as usize;
        let mut driest = coldest.vapor;
        for share in 0..8 {
            let vapor = typical(0.5 + 0.05 * f64::from(share))?;
            if vapor.entropy < driest.entropy {
                driest = vapor;
            }
        }
        let places = rows * turns.len();
        Ok(Self {
            liquid,
            critical_enthalpy: critical.enthalpy,
            critical_entropy: critical.entropy,
            first: coldest.liquid.entropy,
            width,
            height,
            root_height: ROOT_HEIGHT * (r * critical_temperature).sqrt(),
            turns,
            below,
            rows,
            driest,
            one_phase: (0..places).map(|_| OnceLock::new()).collect(),
            wet: (0..places).map(|_| OnceLock::new()).collect(),
        })
    }

    /// The column of an entropy; `None` beyond the plane.
    #[inline]
    pub(super) fn column(&self, entropy: f64) -> Option<Column> {
        let across = (entropy - self.first) / self.width;
        if across < 0.0 {
            return None;
        }
        let number = across as usize;
        Some(Column { number, turn: *self.turns.get(number)? })
    }

    /// Enthalpy from which rows are counted upwards and downwards: of saturated liquid, or the critical one.
    #[inline]
    pub(super) fn base(&self, column: Column, entropy: f64) -> f64 {
        match column.turn {
            Some(_) => {
                let below = (self.critical_entropy - entropy).max(self.liquid.lower());
                self.liquid.evaluate(below).map_or(f64::NAN, |[enthalpy]| enthalpy)
            }
            None => self.critical_enthalpy,
        }
    }

    /// The coordinate of patches of one phase along a column, `up` above its base, and the inverse.
    #[inline]
    pub(super) fn coordinate(&self, up: f64) -> f64 {
        up / self.height + self.below as f64
    }

    pub(super) fn up(&self, coordinate: f64) -> f64 {
        (coordinate - self.below as f64) * self.height
    }

    /// The same of wet patches.
    #[inline]
    pub(super) fn wet_coordinate(&self, column: Column, up: f64) -> f64 {
        match column.turn {
            Some(turn) => ((turn - up.min(0.0)).sqrt() - turn.sqrt()) / self.root_height,
            None => self.coordinate(up),
        }
    }

    pub(super) fn wet_up(&self, column: Column, coordinate: f64) -> f64 {
        match column.turn {
            Some(turn) => turn - (coordinate * self.root_height + turn.sqrt()).powi(2),
            None => self.up(coordinate),
        }
    }

    /// Edges of a column.
    pub(super) fn edges(&self, column: Column) -> (f64, f64) {
        let edge = |number: usize| self.first + number as f64 * self.width;
        (edge(column.number), edge(column.number + 1))
    }

    /// The patch of a sheet at a coordinate of a column, which `make` is asked for first with its row; `None` where there
    /// is none.
    #[inline]
    pub(super) fn patch<'a, T>(
        &self,
        sheet: &'a Sheet<T>,
        column: Column,
        coordinate: f64,
        make: impl FnOnce(usize) -> Option<Box<T>>,
    ) -> Option<&'a T> {
        let row = coordinate as usize;
        if coordinate < 0.0 || row >= self.rows {
            return None;
        }
        let cell = sheet.get(column.number * self.rows + row)?;
        // Made outside the cell: nobody waits for another's patch, a forked child least of all.
        let made = match cell.get() {
            Some(made) => made,
            None => {
                let made = make(row);
                cell.get_or_init(|| made)
            }
        };
        made.as_deref()
    }
}

/// The saturation with liquid of an entropy.
pub(super) fn liquid_at_entropy(
    equation: &Equation,
    line: &SaturationLine,
    entropy: f64,
) -> Result<Saturation> {
    let (lower, upper) = (line.coldest_temperature(), line.critical_temperature());
    let bracket = Bracket { lower, upper, rising: true };
    let temperature =
        newton("saturated liquid at an entropy", bracket, 0.5 * (lower + upper), f64::EPSILON, |t| {
            let saturation = line.at_temperature(equation, t)?;
            let at = equation.at(t, saturation.liquid.density);
            let slope = (saturation.slopes().0 - at.p_t) / at.p_rho;
            Ok((saturation.liquid.entropy - entropy, at.s_t() + at.s_rho() * slope))
        })?;
    line.at_temperature(equation, temperature)
}

/// How far above saturated liquid of an entropy, in enthalpy, the two-phase isotherms have their envelope.
///
/// Down an isentrope from saturated liquid the enthalpy falls by `v' dp/dT` and half of `ds'/dT` times the square of what
/// the temperature falls by: a parabola that turns above saturated liquid.
fn turn(equation: &Equation, line: &SaturationLine, entropy: f64) -> Result<f64> {
    let saturation = liquid_at_entropy(equation, line, entropy)?;
    let at = equation.at(saturation.liquid.temperature, saturation.liquid.density);
    let pressure_slope = saturation.slopes().0;
    let falls = pressure_slope / at.density;
    let bends = at.s_t() + at.s_rho() * (pressure_slope - at.p_t) / at.p_rho;
    Ok(0.5 * falls * falls / bends)
}
