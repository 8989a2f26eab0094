//! Vessels that part flash gas from liquid.

use super::metering::Metering;
use super::passage::{Joining, Metered, Passage};
use crate::error::{Error, Result, within};
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;
use crate::state::{SaturatedStreams, Stream};

/// A flash tank (open economizer): a vessel at the pressure of a stage inlet. Liquid is throttled in, the vapor that flashes off
/// joins the discharge on its way to that stage, the remaining liquid goes on to the next lower pressure.
///
/// Separation is ideal unless said: dry saturated vapor and saturated liquid leave. Liquid that arrives colder than saturation at the
/// tank's pressure does not flash and goes on as it came.
///
/// ```
/// use interstage::{FlashTank, Metering};
///
/// let tank = FlashTank::new().with_liquid_carryover(0.02)?.with_metering(Metering::expander(0.5)?);
/// assert_eq!(tank.liquid_carryover(), 0.02);
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FlashTank {
    separation: Separation<f64>,
    metering: Metering,
}

/// A tank through which the whole discharge of the stage below passes on its way to the next: it is cooled to saturation, and what
/// evaporates in doing so is added to the flash gas.
///
/// Open, all liquid is throttled into it. With a coil only as much as evaporates; what goes on to the evaporator is cooled in a coil
/// under the liquid at the pressure it came with, to within an approach of the tank's temperature.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct IntercooledTank {
    separation: Separation<f64>,
    metering: Metering,
    coil_approach: Option<f64>,
}

/// How well a vessel parts vapor from liquid, over any [`Real`].
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Separation<R> {
    /// Mass fraction of liquid in the vapor stream.
    pub(crate) carryover: R,
    /// Mass fraction of vapor in the liquid stream.
    pub(crate) blowthrough: R,
}

/// Most liquid in a vapor stream, and most vapor in a liquid stream.
const MOST: f64 = 0.5;

fn carryover(value: f64) -> Result<f64> {
    within("liquid carryover", value, 0.0, MOST, "kg/kg", "mass fraction of liquid in the vapor stream")
}

fn blowthrough(value: f64) -> Result<f64> {
    within("vapor blowthrough", value, 0.0, MOST, "kg/kg", "mass fraction of vapor in the liquid stream")
}

/// Largest approach of an exchanger, K.
pub(super) const WIDEST: f64 = 200.0;

impl FlashTank {
    /// A tank with ideal separation.
    pub fn new() -> Self {
        Self::default()
    }

    /// Mass fraction of liquid in the vapor stream, 0 to 0.5.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_liquid_carryover(self, fraction: f64) -> Result<Self> {
        Ok(Self { separation: Separation { carryover: carryover(fraction)?, ..self.separation }, ..self })
    }

    /// Mass fraction of vapor in the liquid stream, 0 to 0.5.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_vapor_blowthrough(self, fraction: f64) -> Result<Self> {
        Ok(Self { separation: Separation { blowthrough: blowthrough(fraction)?, ..self.separation }, ..self })
    }

    /// What throttles the liquid into the tank.
    #[must_use]
    pub fn with_metering(self, metering: Metering) -> Self {
        Self { metering, ..self }
    }

    /// Mass fraction of liquid in the vapor stream.
    pub fn liquid_carryover(&self) -> f64 {
        self.separation.carryover
    }

    /// Mass fraction of vapor in the liquid stream.
    pub fn vapor_blowthrough(&self) -> f64 {
        self.separation.blowthrough
    }

    /// What throttles the liquid into the tank.
    pub fn metering(&self) -> Metering {
        self.metering
    }

    pub(crate) fn separation(&self) -> Separation<f64> {
        self.separation
    }
}

impl IntercooledTank {
    /// An open tank with ideal separation.
    pub fn new() -> Self {
        Self::default()
    }

    /// A tank with a coil: what goes on to the evaporator leaves it this much warmer (K) than saturated liquid at tank pressure.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_coil(self, approach: f64) -> Result<Self> {
        within("coil approach", approach, 0.0, WIDEST, "K", "heat flows to what is colder")?;
        Self { coil_approach: Some(approach), ..self }.without_contradiction()
    }

    /// Mass fraction of liquid in the vapor stream, 0 to 0.5.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_liquid_carryover(self, fraction: f64) -> Result<Self> {
        Ok(Self { separation: Separation { carryover: carryover(fraction)?, ..self.separation }, ..self })
    }

    /// Mass fraction of vapor in the liquid stream of an open tank, 0 to 0.5.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`]; [`Error::Inconsistent`] with a coil.
    pub fn with_vapor_blowthrough(self, fraction: f64) -> Result<Self> {
        let separation = Separation { blowthrough: blowthrough(fraction)?, ..self.separation };
        Self { separation, ..self }.without_contradiction()
    }

    /// Refuses vapor in the liquid of a tank whose liquid does not go on.
    fn without_contradiction(self) -> Result<Self> {
        if self.coil_approach.is_none() || self.separation.blowthrough == 0.0 {
            return Ok(self);
        }
        Err(Error::Inconsistent {
            arguments: "coil approach and vapor blowthrough",
            reason: format!(
                "what goes on passes a coil and meets no vapor of the tank, but {} kg/kg of it were asked for",
                self.separation.blowthrough
            ),
        })
    }

    /// What throttles the liquid into the tank.
    #[must_use]
    pub fn with_metering(self, metering: Metering) -> Self {
        Self { metering, ..self }
    }

    /// Approach of the coil, K; `None` for an open tank.
    pub fn coil_approach(&self) -> Option<f64> {
        self.coil_approach
    }

    /// Mass fraction of liquid in the vapor stream.
    pub fn liquid_carryover(&self) -> f64 {
        self.separation.carryover
    }

    /// Mass fraction of vapor in the liquid stream.
    pub fn vapor_blowthrough(&self) -> f64 {
        self.separation.blowthrough
    }

    /// What throttles the liquid into the tank.
    pub fn metering(&self) -> Metering {
        self.metering
    }

    pub(crate) fn separation(&self) -> Separation<f64> {
        self.separation
    }
}

impl<R: Real> Separation<R> {
    /// The vapor stream and the liquid stream at saturation.
    fn part(
        &self,
        refrigerant: &Refrigerant,
        saturated: &SaturatedStreams<R>,
    ) -> Result<(Stream<R>, Stream<R>)> {
        let (liquid, vapor) = (&saturated.liquid, &saturated.vapor);
        let out = |from: &Stream<R>, to: &Stream<R>, share: R| {
            if share.is_nothing() {
                return Ok(*from);
            }
            let enthalpy = from.enthalpy + (to.enthalpy - from.enthalpy) * share;
            if share.value() == 0.0 {
                return Ok(refrigerant.wet_stream_of(from.state, saturated.pressure, enthalpy));
            }
            refrigerant.stream_ph(saturated.pressure, enthalpy)
        };
        Ok((out(vapor, liquid, self.carryover)?, out(liquid, vapor, self.blowthrough)?))
    }

    /// What an open tank makes of the liquid throttled into it: flash gas.
    pub(crate) fn flash(
        &self,
        refrigerant: &Refrigerant,
        pressure: R,
        incoming: &Stream<R>,
        enthalpy: R,
    ) -> Result<Passage<R>> {
        let metered = Metered::All;
        let inlet = refrigerant.stream_ph(pressure, enthalpy)?;
        let saturated = refrigerant.saturated_at_pressure(pressure)?;
        let (vapor, liquid) = self.part(refrigerant, &saturated)?;
        let recovered = incoming.enthalpy - enthalpy;
        if enthalpy.value() <= liquid.enthalpy.value() {
            let joining = Joining::WithLiquid(R::constant(0.0));
            return Ok(Passage { metered, inlet, vapor, liquid: inlet, joining, recovered });
        }
        refuse_vapor(enthalpy, pressure, vapor.enthalpy)?;
        let fraction = (enthalpy - liquid.enthalpy) / (vapor.enthalpy - liquid.enthalpy);
        let joining = Joining::WithLiquid(fraction / (-fraction + 1.0));
        Ok(Passage { metered, inlet, vapor, liquid, joining, recovered })
    }

    /// What an open tank that the discharge of a stage passes makes of the liquid.
    pub(crate) fn intercool(
        &self,
        refrigerant: &Refrigerant,
        pressure: R,
        incoming: &Stream<R>,
        enthalpy: R,
    ) -> Result<Passage<R>> {
        let metered = Metered::All;
        let inlet = refrigerant.stream_ph(pressure, enthalpy)?;
        let saturated = refrigerant.saturated_at_pressure(pressure)?;
        let (vapor, mut liquid) = self.part(refrigerant, &saturated)?;
        refuse_vapor(enthalpy, pressure, vapor.enthalpy)?;
        if enthalpy.value() <= liquid.enthalpy.value() {
            liquid = saturated.liquid;
        }
        let heat = enthalpy - liquid.enthalpy;
        let recovered = incoming.enthalpy - enthalpy;
        Ok(Passage { metered, inlet, vapor, liquid, joining: Joining::WithGas(heat), recovered })
    }

    /// What a tank with a coil makes of the liquid.
    pub(crate) fn intercool_with_coil(
        &self,
        refrigerant: &Refrigerant,
        pressure: R,
        incoming: &Stream<R>,
        enthalpy: R,
        approach: R,
    ) -> Result<Passage<R>> {
        let metered = Metered::Joining;
        let inlet = refrigerant.stream_ph(pressure, enthalpy)?;
        let saturated = refrigerant.saturated_at_pressure(pressure)?;
        let (vapor, _) = self.part(refrigerant, &saturated)?;
        refuse_vapor(enthalpy, pressure, vapor.enthalpy)?;
        let liquid =
            super::closed::subcool(refrigerant, incoming, saturated.liquid.temperature, approach, "coil")?;
        let heat = incoming.enthalpy - liquid.enthalpy;
        let recovered = incoming.enthalpy - enthalpy;
        Ok(Passage { metered, inlet, vapor, liquid, joining: Joining::WithGas(heat), recovered })
    }
}

/// Refuses what arrives as vapor: nothing is left to go on.
fn refuse_vapor<R: Real>(enthalpy: R, pressure: R, vapor: R) -> Result<()> {
    if enthalpy.value() < vapor.value() {
        return Ok(());
    }
    Err(Error::Inconsistent {
        arguments: "condenser outlet and tank pressure",
        reason: format!(
            "throttled to {} Pa the liquid of the condenser ({} J/kg) is vapor: nothing is left for the evaporator",
            pressure.value(),
            enthalpy.value()
        ),
    })
}
