//! What turns the stages, and what is lost on the way.

use crate::error::{Result, within};

/// Where the heat of the motor goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum MotorCooling {
    /// To the room (open drive), or to whatever is no refrigerant.
    #[default]
    Room,
    /// To liquid from the condenser that evaporates and returns to the evaporator as saturated vapor (hermetic).
    RefrigerantToEvaporator,
    /// To liquid from the condenser that evaporates and joins the gas at the inlet of this stage (2 or higher; hermetic).
    RefrigerantToStage(usize),
}

/// Efficiencies between the power line and the refrigerant, each 1 unless said.
///
/// ```
/// use interstage::{Drive, MotorCooling};
///
/// let drive = Drive::new().with_motor(0.95, MotorCooling::RefrigerantToEvaporator)?.with_drive_efficiency(0.97)?;
/// assert_eq!(drive.motor_efficiency(), 0.95);
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drive {
    mechanical: f64,
    motor: f64,
    drive: f64,
    cooling: MotorCooling,
}

impl Default for Drive {
    fn default() -> Self {
        Self { mechanical: 1.0, motor: 1.0, drive: 1.0, cooling: MotorCooling::Room }
    }
}

/// Lowest efficiency of a part of the drive.
const LOWEST: f64 = 0.1;

impl Drive {
    /// A drive without losses.
    pub fn new() -> Self {
        Self::default()
    }

    /// Efficiency of bearings and gears: compression power per shaft power. Their heat goes to the room.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`](crate::Error::OutOfRange), [`Error::NotFinite`](crate::Error::NotFinite).
    pub fn with_mechanical_efficiency(self, efficiency: f64) -> Result<Self> {
        let reason = "compression power per shaft power";
        Ok(Self {
            mechanical: within("mechanical efficiency", efficiency, LOWEST, 1.0, "-", reason)?,
            ..self
        })
    }

    /// Efficiency of the motor (shaft power per motor input) and where its heat goes.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`](crate::Error::OutOfRange), [`Error::NotFinite`](crate::Error::NotFinite).
    pub fn with_motor(self, efficiency: f64, cooling: MotorCooling) -> Result<Self> {
        let reason = "shaft power per motor input power";
        let motor = within("motor efficiency", efficiency, LOWEST, 1.0, "-", reason)?;
        Ok(Self { motor, cooling, ..self })
    }

    /// Efficiency of a variable-speed drive: motor input per drive input. Its heat goes to the room.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`](crate::Error::OutOfRange), [`Error::NotFinite`](crate::Error::NotFinite).
    pub fn with_drive_efficiency(self, efficiency: f64) -> Result<Self> {
        let reason = "motor input power per drive input power";
        Ok(Self { drive: within("drive efficiency", efficiency, LOWEST, 1.0, "-", reason)?, ..self })
    }

    /// Efficiency of bearings and gears.
    pub fn mechanical_efficiency(&self) -> f64 {
        self.mechanical
    }

    /// Efficiency of the motor.
    pub fn motor_efficiency(&self) -> f64 {
        self.motor
    }

    /// Efficiency of the drive.
    pub fn drive_efficiency(&self) -> f64 {
        self.drive
    }

    /// Where the heat of the motor goes.
    pub fn motor_cooling(&self) -> MotorCooling {
        self.cooling
    }
}

/// Pressure losses of a circuit, each 0 unless said.
///
/// Stage inlet pressures are those of the rule; what delivers into them stands higher by the loss: `p (1 + loss)`. The first stage
/// draws at `p_e (1 - suction loss)`, the last delivers at `p_c (1 + discharge loss)`. An economizer stands at `p (1 + port loss)`; a stage
/// whose gas passes a tank delivers into that, at `p (1 + port loss) (1 + interstage loss)`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PressureLosses {
    suction: f64,
    interstage: f64,
    port: f64,
    discharge: f64,
}

fn loss(argument: &'static str, fraction: f64) -> Result<f64> {
    within(argument, fraction, 0.0, 0.5, "-", "a fraction of the pressure")
}

impl PressureLosses {
    /// No losses.
    pub fn new() -> Self {
        Self::default()
    }

    /// Between evaporator and first stage, per evaporating pressure, 0 to 0.5.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`](crate::Error::OutOfRange), [`Error::NotFinite`](crate::Error::NotFinite), as all of these.
    pub fn with_suction(self, fraction: f64) -> Result<Self> {
        Ok(Self { suction: loss("suction loss", fraction)?, ..self })
    }

    /// Between a stage and the inlet of the next, per pressure at that inlet.
    ///
    /// # Errors
    ///
    /// As [`with_suction`](Self::with_suction).
    pub fn with_interstage(self, fraction: f64) -> Result<Self> {
        Ok(Self { interstage: loss("interstage loss", fraction)?, ..self })
    }

    /// Between an economizer and the inlet of its stage, per pressure at that inlet.
    ///
    /// # Errors
    ///
    /// As [`with_suction`](Self::with_suction).
    pub fn with_port(self, fraction: f64) -> Result<Self> {
        Ok(Self { port: loss("port loss", fraction)?, ..self })
    }

    /// Between the last stage and the condenser, per condensing pressure.
    ///
    /// # Errors
    ///
    /// As [`with_suction`](Self::with_suction).
    pub fn with_discharge(self, fraction: f64) -> Result<Self> {
        Ok(Self { discharge: loss("discharge loss", fraction)?, ..self })
    }

    /// Between evaporator and first stage, per evaporating pressure.
    pub fn suction(&self) -> f64 {
        self.suction
    }

    /// Between a stage and the inlet of the next, per pressure there.
    pub fn interstage(&self) -> f64 {
        self.interstage
    }

    /// Between an economizer and the inlet of its stage, per pressure there.
    pub fn port(&self) -> f64 {
        self.port
    }

    /// Between the last stage and the condenser, per condensing pressure.
    pub fn discharge(&self) -> f64 {
        self.discharge
    }
}
