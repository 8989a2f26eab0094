//! States and saturation over any [`Real`]: what components and cycles ask for.

use super::Refrigerant;
use crate::error::{Error, Result, within};
use crate::helmholtz::Equation;
use crate::numeric::Real;
use crate::saturation::Saturation;
use crate::state::{Lever, Phase, SaturatedStreams, State, Stream};

impl Refrigerant {
    /// How a state that mixes liquid and vapor answers to pressure and enthalpy.
    fn lever(&self, state: &State) -> Option<Lever> {
        (state.phase() == Phase::TwoPhase).then(|| self.flash().ok()?.lever(state)).flatten()
    }

    fn lift<R: Real>(
        &self,
        state: State,
        pair: (R, R),
        lift: fn(&Equation, Option<Lever>, State, R, R) -> Stream<R>,
    ) -> Stream<R> {
        let lever = if R::CARRIES_DERIVATIVES { self.lever(&state) } else { None };
        lift(&self.inner.equation, lever, state, pair.0, pair.1)
    }

    pub(crate) fn stream_ph<R: Real>(&self, pressure: R, enthalpy: R) -> Result<Stream<R>> {
        let state = self.state_ph(pressure.value(), enthalpy.value())?;
        Ok(self.lift(state, (pressure, enthalpy), Stream::from_ph))
    }

    /// A state that is known already, as a function of its pressure and enthalpy. Not for two-phase states.
    pub(crate) fn stream_of<R: Real>(&self, state: State, pressure: R, enthalpy: R) -> Stream<R> {
        Stream::from_ph(&self.inner.equation, None, state, pressure, enthalpy)
    }

    /// A saturated state as the end of those that mix liquid and vapor, as a function of its pressure and enthalpy.
    pub(crate) fn wet_stream_of<R: Real>(&self, state: State, pressure: R, enthalpy: R) -> Stream<R> {
        let lever =
            if R::CARRIES_DERIVATIVES { self.flash().ok().and_then(|of| of.lever(&state)) } else { None };
        Stream::from_ph(&self.inner.equation, lever, state, pressure, enthalpy)
    }

    pub(crate) fn stream_ps<R: Real>(&self, pressure: R, entropy: R) -> Result<Stream<R>> {
        let state = self.state_ps(pressure.value(), entropy.value())?;
        Ok(self.lift(state, (pressure, entropy), Stream::from_ps))
    }

    pub(crate) fn stream_pt<R: Real>(&self, pressure: R, temperature: R) -> Result<Stream<R>> {
        let state = self.state_pt(pressure.value(), temperature.value())?;
        Ok(Stream::from_pt(&self.inner.equation, state, pressure, temperature))
    }

    /// Both phases at the pressure at which vapor is saturated at a temperature (K).
    ///
    /// Evaporating and condensing temperature of a blend are dew temperatures; its liquid is colder.
    pub(crate) fn saturation_at_dew_temperature(&self, temperature: f64) -> Result<Saturation> {
        let mut saturation = self.saturation_at_temperature(temperature)?;
        if saturation.glide.is_some() {
            saturation = self.saturation_at_pressure(saturation.pressure())?;
            saturation.vapor.temperature = temperature;
        }
        Ok(saturation)
    }

    pub(crate) fn saturated_at_temperature<R: Real>(&self, temperature: R) -> Result<SaturatedStreams<R>> {
        let saturation = self.saturation_at_dew_temperature(temperature.value())?;
        Ok(SaturatedStreams::new(&self.inner.equation, &saturation, temperature, true))
    }

    pub(crate) fn saturated_at_pressure<R: Real>(&self, pressure: R) -> Result<SaturatedStreams<R>> {
        let saturation = self.saturation_at_pressure(pressure.value())?;
        Ok(SaturatedStreams::new(&self.inner.equation, &saturation, pressure, false))
    }

    /// Highest saturation temperature, K.
    pub(crate) fn hottest_saturation_temperature(&self) -> Result<f64> {
        Ok(self.line()?.hottest())
    }

    /// Refuses a saturation temperature outside the saturation line, under the argument's own name.
    pub(crate) fn saturation_temperature_in_range(
        &self,
        argument: &'static str,
        temperature: f64,
    ) -> Result<f64> {
        let (minimum, maximum) = (self.minimum_saturation_temperature(), self.line()?.hottest());
        let mut checked = within(argument, temperature, minimum, maximum, "K", "");
        if let Err(Error::OutOfRange { reason, .. }) = &mut checked {
            *reason = match self.fluid() {
                Some(fluid) if fluid.blend.is_none() => {
                    format!("{} to critical point of {}", fluid.coldest.name(), self.name())
                }
                Some(_) => {
                    format!("published dew points of {}, just short of the critical point", self.name())
                }
                None => format!("bubble line of {}", self.name()),
            };
        }
        checked
    }
}
