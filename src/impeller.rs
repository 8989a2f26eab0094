//! First sizes of centrifugal impellers from head, volume flow and two coefficients.

use crate::error::{Error, Result, within};
use crate::refrigerant::Refrigerant;
use crate::state::State;

/// What an impeller has to do: polytropic head, volume flow and speed of sound at its inlet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StageDuty {
    head: f64,
    volume_flow: f64,
    speed_of_sound: f64,
}

impl StageDuty {
    /// From polytropic head (J/kg), volume flow (m3/s) and speed of sound (m/s) at the inlet.
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for a head outside 1 J/kg to 1 MJ/kg, a flow outside 1e-9 to 1e6
    /// m3/s, or a speed of sound outside 10 to 2000 m/s.
    pub fn new(head: f64, volume_flow: f64, speed_of_sound: f64) -> Result<Self> {
        within("head", head, 1.0, 1e6, "J/kg", "stages of chillers have 5 to 100 kJ/kg")?;
        within("volume flow", volume_flow, 1e-9, 1e6, "m3/s", "an impeller has a flow")?;
        within("speed of sound", speed_of_sound, 10.0, 2000.0, "m/s", "refrigerants have 100 to 450 m/s")?;
        Ok(Self { head, volume_flow, speed_of_sound })
    }

    /// From a state of the refrigerant at the inlet, mass flow (kg/s) and polytropic head (J/kg).
    ///
    /// # Errors
    ///
    /// As [`StageDuty::new`] and [`Refrigerant::derivatives`]: a wet inlet has no speed of sound here.
    pub fn at_inlet(refrigerant: &Refrigerant, inlet: &State, mass_flow: f64, head: f64) -> Result<Self> {
        within("mass flow", mass_flow, 1e-9, 1e9, "kg/s", "an impeller has a flow")?;
        let speed_of_sound = refrigerant.derivatives(inlet)?.speed_of_sound();
        Self::new(head, mass_flow * inlet.specific_volume(), speed_of_sound)
    }

    /// Polytropic head, J/kg.
    pub fn head(&self) -> f64 {
        self.head
    }

    /// Volume flow at the inlet, m3/s.
    pub fn volume_flow(&self) -> f64 {
        self.volume_flow
    }

    /// Speed of sound at the inlet, m/s.
    pub fn speed_of_sound(&self) -> f64 {
        self.speed_of_sound
    }
}

/// An impeller sized by head coefficient and flow coefficient.
///
/// Head coefficient: polytropic head over the square of the tip speed, `H / u^2`. Flow coefficient: volume flow at
/// the inlet over tip speed and the square of the diameter, `V / (D^2 u)`. Other texts have `2 H / u^2` and `4 V /
/// (pi D^2 u)`: half and 0.785 of their numbers are meant here. Head coefficients of 0.45 to 0.55 at design are
/// common practice (no published source).
///
/// A first size for studies: losses, choking of the inlet and the strength of the wheel are not looked at.
///
/// ```
/// use interstage::{Impeller, StageDuty};
///
/// // 10 kJ/kg and 5 m3/s of a low-pressure refrigerant.
/// let duty = StageDuty::new(10e3, 5.0, 130.0)?;
/// let impeller = Impeller::sized(&duty, 0.52, 0.07)?;
/// assert!((impeller.tip_speed() - 138.7).abs() < 0.05 && (impeller.tip_mach() - 1.067).abs() < 0.001);
/// assert!((impeller.diameter() - 0.718).abs() < 0.001 && (60.0 * impeller.speed() - 3690.0).abs() < 5.0);
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Impeller {
    duty: StageDuty,
    tip_speed: f64,
    diameter: f64,
}

fn head_coefficient_in_range(value: f64) -> Result<f64> {
    within("head coefficient", value, 0.01, 2.0, "-", "polytropic head over the square of the tip speed")
}

impl Impeller {
    /// The impeller with these coefficients.
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for a head coefficient outside 0.01 to 2 or a flow coefficient
    /// outside 1e-4 to 1.
    pub fn sized(duty: &StageDuty, head_coefficient: f64, flow_coefficient: f64) -> Result<Self> {
        head_coefficient_in_range(head_coefficient)?;
        let reason = "volume flow over tip speed and the square of the diameter";
        within("flow coefficient", flow_coefficient, 1e-4, 1.0, "-", reason)?;
        let tip_speed = (duty.head / head_coefficient).sqrt();
        Ok(Self {
            duty: *duty,
            tip_speed,
            diameter: (duty.volume_flow / (flow_coefficient * tip_speed)).sqrt(),
        })
    }

    /// The impeller with this head coefficient on a shaft that turns at a rotational speed (1/s).
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for a head coefficient outside 0.01 to 2 or a speed outside 0.1 to
    /// 10,000 1/s.
    pub fn at_speed(duty: &StageDuty, head_coefficient: f64, speed: f64) -> Result<Self> {
        head_coefficient_in_range(head_coefficient)?;
        within("speed", speed, 0.1, 1e4, "1/s", "rotational speed of a shaft")?;
        Ok(Self::turning(duty, head_coefficient, speed))
    }

    fn turning(duty: &StageDuty, head_coefficient: f64, speed: f64) -> Self {
        let tip_speed = (duty.head / head_coefficient).sqrt();
        Self { duty: *duty, tip_speed, diameter: tip_speed / (std::f64::consts::PI * speed) }
    }

    /// Impellers of all stages on one shaft, from the first stage on: all with one head coefficient, the first with
    /// this flow coefficient. It sets the speed; the flow coefficients of the others follow.
    ///
    /// # Errors
    ///
    /// As [`Impeller::sized`]; [`Error::WrongLength`] if there is no stage.
    pub fn on_one_shaft(
        duties: &[StageDuty],
        head_coefficient: f64,
        flow_coefficient: f64,
    ) -> Result<Vec<Self>> {
        let Some(first) = duties.first() else {
            return Err(Error::WrongLength { argument: "duties", found: 0, expected: 1 });
        };
        let speed = Self::sized(first, head_coefficient, flow_coefficient)?.speed();
        Ok(duties.iter().map(|duty| Self::turning(duty, head_coefficient, speed)).collect())
    }

    /// What it has to do.
    pub fn duty(&self) -> StageDuty {
        self.duty
    }

    /// Tip speed, m/s.
    pub fn tip_speed(&self) -> f64 {
        self.tip_speed
    }

    /// Tip speed over the speed of sound at the inlet.
    pub fn tip_mach(&self) -> f64 {
        self.tip_speed / self.duty.speed_of_sound
    }

    /// Diameter at the outlet, m.
    pub fn diameter(&self) -> f64 {
        self.diameter
    }

    /// Rotational speed, 1/s; times 60 in revolutions per minute.
    pub fn speed(&self) -> f64 {
        self.tip_speed / (std::f64::consts::PI * self.diameter)
    }

    /// Polytropic head over the square of the tip speed.
    pub fn head_coefficient(&self) -> f64 {
        self.duty.head / (self.tip_speed * self.tip_speed)
    }

    /// Volume flow at the inlet over tip speed and the square of the diameter.
    pub fn flow_coefficient(&self) -> f64 {
        self.duty.volume_flow / (self.diameter * self.diameter * self.tip_speed)
    }
}
