//! The analysis of many rows.

use super::figure::Figure;
use super::quality;
use super::reading::{Reading, Readings};
use super::row::Place;
use super::run::{Column, TrendRun, TrendTable};
use super::status::Status;
use super::stream::TrendStream;
use crate::brine::Brine;
use crate::cycle::{Circuit, Interstage, TankSeparation};
use crate::error::{Error, Result, within};
use crate::water;

/// How rows of readings of one circuit are analysed.
///
/// The circuit's stage efficiencies and pressure rule say what is expected of the machine; what it does is told by its
/// readings. Every arrangement of stages and economizers is known, with hot-gas bypass shut and nothing but vapor from the
/// evaporator. A suction temperature behind a liquid-suction exchanger tells what the exchanger does to saturated vapor. Chilled and condenser water are plain water unless a brine is declared
/// ([`with_chilled_brine`](Self::with_chilled_brine)): taken for water, capacity and heat rejected are wrong by the ratio of density times
/// heat capacity.
///
/// ```
/// use interstage::{Circuit, Figure, FlashTank, Reading, Readings, Refrigerant, Stage, TrendAnalysis};
///
/// let stage = Stage::polytropic(0.8)?;
/// let circuit = Circuit::new(Refrigerant::named("R-1233zd(E)")?, vec![stage; 2], vec![FlashTank::new().into()])?;
/// let (evaporator, tank, condenser) = ([60.1e3, f64::NAN], [108.6e3, 108.6e3], [196.2e3, 196.2e3]);
/// let readings = Readings::new()
///     .with(Reading::EvaporatorPressure, &evaporator)?
///     .with(Reading::TankPressure(2), &tank)?
///     .with(Reading::CondenserPressure, &condenser)?;
/// let table = TrendAnalysis::new(circuit)?.analyse(&readings)?;
/// let exponent: Vec<f64> = table.column(Figure::TankPressureExponent(2)).unwrap_or_default();
/// assert!((exponent[0] - 0.5).abs() < 1e-3 && exponent[1].is_nan());
/// assert_eq!(table.status()[1].to_string(), "a reading is missing");
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct TrendAnalysis {
    circuit: Circuit,
    tank_stages: Vec<u8>,
    flash_stages: Vec<u8>,
    minimum_power: f64,
    drive_efficiency: Option<f64>,
    discharge_temperature_uncertainty: f64,
    widest_efficiency_interval: f64,
    capacity_uncertainty: f64,
    tank_exponent_tolerance: f64,
    pressure_uncertainty: f64,
    power_uncertainty: f64,
    heat_balance_limit: f64,
    tank_exponents: Option<Vec<f64>>,
    rating: Option<Rating>,
    chilled_brine: Option<Brine>,
    condenser_brine: Option<Brine>,
}

/// What the machine is rated at: capacity, W, and range of the chilled water at full load, K.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rating {
    pub(super) capacity: f64,
    pub(super) range: f64,
}

impl TrendAnalysis {
    /// Rows before and after a part of a table that its figures depend on: with so many at hand, a part gives what the whole
    /// table gives. They tell which readings jump.
    pub const ROWS_BEFORE: usize = quality::ROWS_BEFORE;
    /// See [`ROWS_BEFORE`](Self::ROWS_BEFORE).
    pub const ROWS_AFTER: usize = quality::ROWS_AFTER;

    /// Analysis of a circuit with up to nine stages.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`] for more than nine stages; [`Error::Inconsistent`] for a circuit whose tanks part the components of a blend.
    pub fn new(circuit: Circuit) -> Result<Self> {
        let stages = circuit.stages().len() as f64;
        within("stages", stages, 1.0, 9.0, "-", "a trend knows readings of up to eight tanks")?;
        if circuit.tank_separation() == TankSeparation::Equilibrium && circuit.tanks() > 0 {
            let reason =
                "rows are analysed as if the composition of a blend were the same everywhere".to_owned();
            return Err(Error::Inconsistent { arguments: "circuit and tank separation", reason });
        }
        let stages_of = |wanted: fn(&Interstage) -> bool| -> Vec<u8> {
            let between = (2_u8..).zip(circuit.interstages());
            between.filter(|(_, between)| wanted(between)).map(|(stage, _)| stage).collect()
        };
        let tank_stages = stages_of(|between| {
            matches!(
                between,
                Interstage::FlashTank(_) | Interstage::IntercooledTank(_) | Interstage::ClosedEconomizer(_)
            )
        });
        let flash_stages = stages_of(|between| matches!(between, Interstage::FlashTank(_)));
        Ok(Self {
            circuit,
            tank_stages,
            flash_stages,
            minimum_power: 0.0,
            drive_efficiency: None,
            discharge_temperature_uncertainty: 0.5,
            widest_efficiency_interval: 0.05,
            capacity_uncertainty: 0.035,
            tank_exponent_tolerance: 0.08,
            pressure_uncertainty: 0.01,
            power_uncertainty: 0.03,
            heat_balance_limit: 0.15,
            tank_exponents: None,
            rating: None,
            chilled_brine: None,
            condenser_brine: None,
        })
    }

    /// The brine in the circuit of the chilled water.
    #[must_use]
    pub fn with_chilled_brine(self, brine: Brine) -> Self {
        Self { chilled_brine: Some(brine), ..self }
    }

    /// The brine in the circuit of the condenser water.
    #[must_use]
    pub fn with_condenser_brine(self, brine: Brine) -> Self {
        Self { condenser_brine: Some(brine), ..self }
    }

    /// Motor input power (W) up to which the machine counts as off. Up to 1 W it always does: some exports write
    /// zeros as tiny numbers.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_minimum_power(self, minimum_power: f64) -> Result<Self> {
        within("minimum power", minimum_power, 0.0, 1e9, "W", "below it the machine is off")?;
        Ok(Self { minimum_power, ..self })
    }

    /// Compression power per motor input power; needed for the measured saving and for the capacity from power. What is lost in
    /// motor, gear and bearings is its complement, even where the refrigerant takes up the heat.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_drive_efficiency(self, drive_efficiency: f64) -> Result<Self> {
        within("drive efficiency", drive_efficiency, 0.01, 1.0, "-", "motor, gear and bearing losses")?;
        Ok(Self { drive_efficiency: Some(drive_efficiency), ..self })
    }

    /// Uncertainty (K) of the discharge temperature, 0.5 unless set, and the widest half interval of a stage efficiency
    /// that is still reported, 0.05 unless set.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_discharge_temperature_uncertainty(self, kelvin: f64, widest_interval: f64) -> Result<Self> {
        within("discharge temperature uncertainty", kelvin, 0.0, 100.0, "K", "a half width")?;
        within("widest efficiency interval", widest_interval, 0.0, 1.0, "-", "a half width")?;
        Ok(Self {
            discharge_temperature_uncertainty: kelvin,
            widest_efficiency_interval: widest_interval,
            ..self
        })
    }

    /// Relative uncertainty of the water-side capacity, 0.035 unless set (2 % of flow and 0.1 K on each thermometer
    /// at a range of 5 K).
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_capacity_uncertainty(self, capacity_uncertainty: f64) -> Result<Self> {
        within("capacity uncertainty", capacity_uncertainty, 0.0, 1.0, "-", "a relative half width")?;
        Ok(Self { capacity_uncertainty, ..self })
    }

    /// How far a tank may stand from its expected pressure exponent and still count as working, 0.08 unless set (common
    /// practice, no published source).
    ///
    /// A blocked vent moves the exponent up by 0.1 to 0.4. A tank that stands too low is no evidence either way: inlet
    /// vanes on the first stage do that to a working one.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_tank_exponent_tolerance(self, tank_exponent_tolerance: f64) -> Result<Self> {
        within(
            "tank exponent tolerance",
            tank_exponent_tolerance,
            0.0,
            1.0,
            "-",
            "a difference of exponents",
        )?;
        Ok(Self { tank_exponent_tolerance, ..self })
    }

    /// Relative uncertainty of the three pressures behind a tank's exponent, 0.01 unless set. At a small lift, where it
    /// makes the exponent uncertain by more than half the tolerance, a tank is no evidence.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_pressure_uncertainty(self, pressure_uncertainty: f64) -> Result<Self> {
        within("pressure uncertainty", pressure_uncertainty, 0.0, 1.0, "-", "a relative half width")?;
        Ok(Self { pressure_uncertainty, ..self })
    }

    /// Relative uncertainty of the power that reaches the refrigerant, 0.03 unless set: 2 % of the power meter with its
    /// transformers and 1 % of the drive efficiency (common practice, no published source). With it a drive efficiency that
    /// is a little off is no evidence for or against the economizer.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_power_uncertainty(self, power_uncertainty: f64) -> Result<Self> {
        within("power uncertainty", power_uncertainty, 0.0, 1.0, "-", "a relative half width")?;
        Ok(Self { power_uncertainty, ..self })
    }

    /// How far the heat balance may be open before it is remarked, as a fraction of the heat rejected, 0.15 unless set
    /// (common practice, no published source). By the same fraction the work that the refrigerant shows may exceed the motor
    /// input power.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_heat_balance_limit(self, heat_balance_limit: f64) -> Result<Self> {
        within("heat balance limit", heat_balance_limit, 0.0, 10.0, "-", "a fraction of the heat rejected")?;
        Ok(Self { heat_balance_limit, ..self })
    }

    /// What the machine is rated at: capacity (W) and range of the chilled water at full load (K); needed for the load and for
    /// the tolerance of the heat balance ([`rating_tolerance`](crate::rating_tolerance)).
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_rating(self, capacity: f64, full_load_range: f64) -> Result<Self> {
        within("rated capacity", capacity, 1.0, 1e9, "W", "refrigerating capacity at full load")?;
        within(
            "full load range",
            full_load_range,
            0.1,
            50.0,
            "K",
            "range of the chilled water at full load",
        )?;
        Ok(Self { rating: Some(Rating { capacity, range: full_load_range }), ..self })
    }

    /// Pressure exponents of the flash tanks in good order, from the lowest tank up: the machine's own baseline. Without it the
    /// circuit's rule for the interstage pressures says where a working tank stands.
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] unless there is one for each flash tank, [`Error::OutOfRange`] outside 0 to 1.
    pub fn with_tank_exponents(self, tank_exponents: Vec<f64>) -> Result<Self> {
        if tank_exponents.len() != self.flash_stages.len() {
            return Err(Error::WrongLength {
                argument: "tank exponents",
                found: tank_exponents.len(),
                expected: self.flash_stages.len(),
            });
        }
        for &exponent in &tank_exponents {
            within("tank exponent", exponent, 0.0, 1.0, "-", "from evaporator to condenser pressure")?;
        }
        Ok(Self { tank_exponents: Some(tank_exponents), ..self })
    }

    /// The circuit.
    pub fn circuit(&self) -> &Circuit {
        &self.circuit
    }

    /// The brine in the circuit of a reading of water.
    pub(super) fn brine(&self, reading: Reading) -> Option<&Brine> {
        if reading.is_chilled_water() { self.chilled_brine.as_ref() } else { self.condenser_brine.as_ref() }
    }

    pub(super) fn off_below(&self) -> f64 {
        self.minimum_power.max(OFF)
    }

    /// Pressure exponent of a flash tank in good order, if it was given.
    pub(super) fn tank_exponent(&self, stage: u8) -> Option<f64> {
        let place = self.flash_stages.iter().position(|&known| known == stage)?;
        self.tank_exponents.as_ref()?.get(place).copied()
    }

    /// Stages fed by an economizer that has a pressure of its own: tanks of both kinds and closed economizers.
    pub(super) fn tank_stages(&self) -> &[u8] {
        &self.tank_stages
    }

    /// Those fed by a flash tank, whose pressure alone tells whether its vapor is taken off.
    pub(super) fn flash_stages(&self) -> &[u8] {
        &self.flash_stages
    }

    /// Whether what joins the gas at a stage depends on the gas.
    pub(super) fn is_intercooled(&self, stage: u8) -> bool {
        let between = self.circuit.interstages().get(usize::from(stage).wrapping_sub(2));
        matches!(between, Some(Interstage::IntercooledTank(_)))
    }

    pub(super) fn rating(&self) -> Option<Rating> {
        self.rating
    }

    pub(super) fn pressure_uncertainty(&self) -> f64 {
        self.pressure_uncertainty
    }

    pub(super) fn power_uncertainty(&self) -> f64 {
        self.power_uncertainty
    }

    pub(super) fn heat_balance_limit(&self) -> f64 {
        self.heat_balance_limit
    }

    pub(super) fn drive_efficiency(&self) -> Option<f64> {
        self.drive_efficiency
    }

    pub(super) fn discharge_temperature_uncertainty(&self) -> f64 {
        self.discharge_temperature_uncertainty
    }

    pub(super) fn widest_efficiency_interval(&self) -> f64 {
        self.widest_efficiency_interval
    }

    pub(super) fn capacity_uncertainty(&self) -> f64 {
        self.capacity_uncertainty
    }

    pub(super) fn tank_exponent_tolerance(&self) -> f64 {
        self.tank_exponent_tolerance
    }

    /// Figures of this circuit, in the order of the table's columns.
    pub fn figures(&self) -> Vec<Figure> {
        Figure::of_tanks(&self.tank_stages)
    }

    /// The sets of readings that a figure can be told from; any one of them is enough.
    pub fn needs(&self, figure: Figure) -> Vec<Vec<Reading>> {
        figure.needs(self)
    }

    /// Analyses every row; with the feature `parallel` many rows are shared between the threads of the current rayon pool.
    ///
    /// # Errors
    ///
    /// [`Error::Inconsistent`] for a reading of an economizer that the circuit does not have; an error of the refrigerant if its
    /// saturation line cannot be solved. Bad rows are no error: see [`TrendTable::status`].
    pub fn analyse(&self, readings: &Readings<'_>) -> Result<TrendTable> {
        let mut run = self.begin(readings)?;
        run.advance_shared(readings.rows());
        Ok(run.finish())
    }

    /// Begins an analysis that is carried on block by block, so that the caller can do something else in between.
    ///
    /// # Errors
    ///
    /// Those of [`TrendAnalysis::analyse`].
    pub fn begin<'a>(&'a self, readings: &Readings<'a>) -> Result<TrendRun<'a>> {
        let given: Vec<Reading> = readings.columns().map(|(reading, _)| reading).collect();
        self.prepare(&given)?;
        let columns: Vec<Column<'_>> = readings
            .columns()
            .map(|(reading, values)| Column {
                place: Place::of(reading, &given),
                values,
                quality: quality::assess(
                    values,
                    quality::Screen::new(reading, self),
                    readings.follow_in_time(),
                ),
            })
            .collect();
        let figures = self.figures();
        let rows = readings.rows();
        let (unavailable, assumptions) = self.remarks_on_figures(&figures, &given);
        let values = vec![f64::NAN; rows * figures.len()];
        let status = vec![Status::OK; rows];
        let table = TrendTable { figures, values, status, quality: Vec::new(), unavailable, assumptions };
        Ok(TrendRun::new(self, columns, self.tank_columns(&given), table))
    }

    /// Begins an analysis that takes one row at a time, with these readings in this order.
    ///
    /// # Errors
    ///
    /// Those of [`TrendAnalysis::analyse`]; [`Error::Inconsistent`] if a reading is given twice.
    ///
    /// ```
    /// use interstage::{Circuit, Figure, Reading, Refrigerant, Stage, TrendAnalysis};
    ///
    /// let circuit = Circuit::new(Refrigerant::named("R-134a")?, vec![Stage::isentropic(0.7)?], Vec::new())?;
    /// let readings = [Reading::EvaporatorPressure, Reading::ChilledWaterLeaving];
    /// let mut stream = TrendAnalysis::new(circuit)?.stream(&readings)?;
    /// let at = stream.figures().iter().position(|figure| *figure == Figure::EvaporatorApproach).unwrap_or(0);
    /// let mut approaches = Vec::new();
    /// for row in [[350e3, 280.2], [351e3, f64::NAN], [352e3, 280.3]] {
    ///     stream.push(&row, |told| approaches.push((told.row(), told.values()[at])))?;
    /// }
    /// assert_eq!(approaches.len(), 2); // the last row waits for its neighbor
    /// stream.finish(|told| approaches.push((told.row(), told.values()[at])));
    /// assert!(approaches.len() == 3 && approaches[0].1 > 1.0 && approaches[1].1.is_nan());
    /// # Ok::<(), interstage::Error>(())
    /// ```
    pub fn stream(&self, readings: &[Reading]) -> Result<TrendStream> {
        self.prepare(readings)?;
        TrendStream::new(self.clone(), readings)
    }

    /// Refuses what the circuit does not have, and completes what is shared between rows before the first of them.
    pub(super) fn prepare(&self, given: &[Reading]) -> Result<()> {
        for reading in given {
            if let Reading::TankPressure(stage) | Reading::TankTemperature(stage) = reading
                && !self.tank_stages.contains(stage)
            {
                return Err(Error::Inconsistent {
                    arguments: "readings and circuit",
                    reason: format!(
                        "{reading} is given, but no tank feeds the inlet of stage {stage}, nor does a closed economizer"
                    ),
                });
            }
        }
        self.circuit.refrigerant().prepare()?;
        water::prepare()
    }

    /// Whether there is a column for each economizer that has a pressure, of that or of its temperature.
    pub(super) fn tank_columns(&self, given: &[Reading]) -> bool {
        let has = |reading: Reading| given.contains(&reading);
        self.tank_stages.iter().all(|&k| has(Reading::TankPressure(k)) || has(Reading::TankTemperature(k)))
    }
}

/// No chiller runs on this, nor cools by it, W.
pub(super) const OFF: f64 = 1.0;
