//! Exchangers that cool liquid with a part of it, and injection of liquid.

use super::metering::{Metering, expand};
use super::passage::{Joining, Metered, Passage};
use super::tank::WIDEST;
use crate::error::{Error, Result, within};
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;
use crate::state::Stream;

/// Where the injected part of the liquid is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum InjectionTakenFrom {
    /// Upstream of the exchanger.
    #[default]
    BeforeExchanger,
    /// Downstream: all liquid is cooled, then a part is throttled. The cycle is the same; duty and losses of the exchanger differ.
    AfterExchanger,
}

/// A closed (surface) economizer: a part of the liquid is throttled to the pressure of a stage inlet and evaporates there, cooling the
/// rest, which stays at the pressure it came with.
///
/// ```
/// use interstage::{ClosedEconomizer, InjectionTakenFrom};
///
/// let exchanger = ClosedEconomizer::new(3.0)?.with_injection_superheat(2.0)?;
/// assert_eq!(exchanger.taken_from(), InjectionTakenFrom::BeforeExchanger);
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClosedEconomizer {
    approach: f64,
    injection_superheat: f64,
    taken_from: InjectionTakenFrom,
    metering: Metering,
}

/// Injection of liquid between two stages: as much as cools the discharge to dry saturated vapor, or to a superheat.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LiquidInjection {
    superheat: f64,
}

impl ClosedEconomizer {
    /// An exchanger whose cooled liquid leaves this much warmer (K) than saturated liquid at the pressure of the injection.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn new(approach: f64) -> Result<Self> {
        within("approach", approach, 0.0, WIDEST, "K", "heat flows to what is colder")?;
        let (taken_from, metering) = Default::default();
        Ok(Self { approach, injection_superheat: 0.0, taken_from, metering })
    }

    /// Superheat (K) of the injected part where it leaves the exchanger.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_injection_superheat(self, superheat: f64) -> Result<Self> {
        let reason = "the injected part leaves as vapor";
        within("injection superheat", superheat, 0.0, WIDEST, "K", reason)?;
        Ok(Self { injection_superheat: superheat, ..self })
    }

    /// Where the injected part is taken.
    #[must_use]
    pub fn with_injection_taken(self, taken_from: InjectionTakenFrom) -> Self {
        Self { taken_from, ..self }
    }

    /// What throttles the injected part.
    #[must_use]
    pub fn with_metering(self, metering: Metering) -> Self {
        Self { metering, ..self }
    }

    /// Approach of the cooled liquid, K.
    pub fn approach(&self) -> f64 {
        self.approach
    }

    /// Superheat of the injected part, K.
    pub fn injection_superheat(&self) -> f64 {
        self.injection_superheat
    }

    /// Where the injected part is taken.
    pub fn taken_from(&self) -> InjectionTakenFrom {
        self.taken_from
    }

    /// What throttles the injected part.
    pub fn metering(&self) -> Metering {
        self.metering
    }
}

impl LiquidInjection {
    /// Injection that leaves dry saturated vapor.
    pub fn new() -> Self {
        Self::default()
    }

    /// Injection that leaves a superheat (K).
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`].
    pub fn with_superheat(self, superheat: f64) -> Result<Self> {
        let reason = "superheat at the inlet of the next stage";
        within("superheat", superheat, 0.0, WIDEST, "K", reason)?;
        Ok(Self { superheat })
    }

    /// Superheat at the inlet of the next stage, K.
    pub fn superheat(&self) -> f64 {
        self.superheat
    }
}

/// A closed economizer's numbers over any [`Real`].
#[derive(Debug, Clone, Copy)]
pub(crate) struct Exchange<R> {
    pub(crate) approach: R,
    pub(crate) superheat: R,
    pub(crate) expander: Option<R>,
    pub(crate) taken_from: InjectionTakenFrom,
}

impl<R: Real> Exchange<R> {
    /// What the exchanger makes of the liquid.
    pub(crate) fn exchange(
        &self,
        refrigerant: &Refrigerant,
        pressure: R,
        incoming: &Stream<R>,
    ) -> Result<Passage<R>> {
        let saturated = refrigerant.saturated_at_pressure(pressure)?;
        let liquid =
            subcool(refrigerant, incoming, saturated.liquid.temperature, self.approach, "economizer")?;
        let vapor = superheated(refrigerant, &saturated.vapor, self.superheat)?;
        let taken = match self.taken_from {
            InjectionTakenFrom::BeforeExchanger => incoming,
            InjectionTakenFrom::AfterExchanger => &liquid,
        };
        if vapor.temperature.value() > incoming.temperature.value() {
            return Err(Error::Inconsistent {
                arguments: "injection superheat and economizer",
                reason: format!(
                    "the injected part cannot leave at {} K, hotter than the liquid at {} K that heats it",
                    vapor.temperature.value(),
                    incoming.temperature.value()
                ),
            });
        }
        let enthalpy = expand(refrigerant, taken, pressure, self.expander)?;
        let inlet = refrigerant.stream_ph(pressure, enthalpy)?;
        let (given, taken_up) = (incoming.enthalpy - liquid.enthalpy, vapor.enthalpy - enthalpy);
        let ratio = match self.taken_from {
            InjectionTakenFrom::BeforeExchanger => given / taken_up,
            InjectionTakenFrom::AfterExchanger => given / (taken_up - given),
        };
        let recovered = taken.enthalpy - enthalpy;
        let metered = Metered::Joining;
        Ok(Passage { metered, inlet, vapor, liquid, joining: Joining::WithLiquid(ratio), recovered })
    }
}

/// What injection of liquid makes of the liquid: nothing but that a part of it joins the gas.
pub(crate) fn inject<R: Real>(
    refrigerant: &Refrigerant,
    pressure: R,
    incoming: &Stream<R>,
    superheat: R,
) -> Result<Passage<R>> {
    let saturated = refrigerant.saturated_at_pressure(pressure)?;
    let vapor = superheated(refrigerant, &saturated.vapor, superheat)?;
    let inlet = refrigerant.stream_ph(pressure, incoming.enthalpy)?;
    let (joining, recovered) = (Joining::WithGas(R::constant(0.0)), R::constant(0.0));
    let metered = Metered::Joining;
    Ok(Passage { metered, inlet, vapor, liquid: *incoming, joining, recovered })
}

/// Liquid cooled at its own pressure to within an approach of a temperature.
pub(super) fn subcool<R: Real>(
    refrigerant: &Refrigerant,
    incoming: &Stream<R>,
    coldest: R,
    approach: R,
    what: &str,
) -> Result<Stream<R>> {
    let temperature = coldest + approach;
    if temperature.value() > incoming.temperature.value() {
        return Err(Error::Inconsistent {
            arguments: "approach and temperatures of the economizer",
            reason: format!(
                "an approach of {} K is more than the {} K between the liquid ({} K) and saturation in the {what} ({} K)",
                approach.value(),
                incoming.temperature.value() - coldest.value(),
                incoming.temperature.value(),
                coldest.value()
            ),
        });
    }
    if temperature.value() == incoming.temperature.value() {
        return Ok(*incoming);
    }
    refrigerant.stream_pt(incoming.pressure, temperature)
}

/// Saturated vapor heated by a superheat (K).
fn superheated<R: Real>(refrigerant: &Refrigerant, vapor: &Stream<R>, superheat: R) -> Result<Stream<R>> {
    if superheat.value() > 0.0 {
        return refrigerant.stream_pt(vapor.pressure, vapor.temperature + superheat);
    }
    if !R::CARRIES_DERIVATIVES {
        return Ok(*vapor);
    }
    let cp = refrigerant.derivatives(&vapor.state)?.cp();
    Ok(refrigerant.stream_of(vapor.state, vapor.pressure, vapor.enthalpy + superheat * cp))
}
