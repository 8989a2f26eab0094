//! What an exchanger does at one point of operation.

use super::Vessel;
use crate::error::{Error, Result, finite, within};
use crate::numeric::logarithmic_mean;

/// Heat, water temperatures and saturation temperature of an exchanger, and what follows from them.
///
/// The refrigerant has its saturation temperature all along the tubes. With `NTU = UA/(m cp)` the water comes closer
/// to it by the factor `exp(-NTU)`: effectiveness `1 - exp(-NTU)`, approach `range/(exp(NTU) - 1)`, UA `heat/LMTD`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatExchange {
    vessel: Vessel,
    inner: Exchange<f64>,
}

/// The same over any number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Exchange<R> {
    pub(crate) heat: R,
    pub(crate) water_entering: R,
    pub(crate) water_leaving: R,
    pub(crate) saturation_temperature: R,
    /// Change of the water temperature; positive in both vessels.
    pub(crate) range: R,
    pub(crate) approach: R,
    pub(crate) transfer_units: R,
}

impl HeatExchange {
    pub(super) fn new(vessel: Vessel, inner: Exchange<f64>) -> Self {
        Self { vessel, inner }
    }

    /// From measured temperatures (K) and heat (W).
    ///
    /// At constant water flow and UA range and approach are both proportional to load: compare UA between loads, not
    /// approaches.
    ///
    /// ```
    /// use interstage::{HeatExchange, Vessel};
    ///
    /// let exchange = HeatExchange::measured(Vessel::Evaporator, 3.5e6, 285.15, 280.15, 278.95)?;
    /// assert!((exchange.approach() - 1.2).abs() < 1e-12);
    /// assert!((exchange.ua() / 1.149e6 - 1.0).abs() < 1e-3);
    /// # Ok::<(), interstage::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for heat outside 1e-9 to 1e15 W or a temperature that is not
    /// positive; [`Error::Inconsistent`] for water that warms in an evaporator or cools in a condenser, and for a
    /// leaving temperature that reaches the saturation temperature.
    pub fn measured(
        vessel: Vessel,
        heat: f64,
        water_entering: f64,
        water_leaving: f64,
        saturation_temperature: f64,
    ) -> Result<Self> {
        super::positive_heat(heat)?;
        for (argument, temperature) in [
            ("water entering", water_entering),
            ("water leaving", water_leaving),
            ("saturation temperature", saturation_temperature),
        ] {
            within(argument, temperature, f64::MIN_POSITIVE, 1e4, "K", "absolute temperature")?;
        }
        let range = vessel.sign() * (water_entering - water_leaving);
        if range <= 0.0 {
            let does = match vessel {
                Vessel::Evaporator => "cools in an evaporator",
                Vessel::Condenser => "warms in a condenser",
            };
            return Err(Error::Inconsistent {
                arguments: "water entering and water leaving",
                reason: format!("water {does}, and goes from {water_entering} K to {water_leaving} K"),
            });
        }
        let approach = vessel.sign() * (water_leaving - saturation_temperature);
        if approach <= 0.0 {
            return Err(Error::Inconsistent {
                arguments: "water leaving and saturation temperature",
                reason: format!(
                    "the approach of an exchanger is positive, and {water_leaving} K and {saturation_temperature} K \
                     make it {approach} K"
                ),
            });
        }
        let transfer_units = (range / approach).ln_1p();
        let inner = Exchange {
            heat,
            water_entering,
            water_leaving,
            saturation_temperature,
            range,
            approach,
            transfer_units,
        };
        Ok(Self { vessel, inner })
    }

    /// Whether the refrigerant evaporates or condenses.
    pub fn vessel(&self) -> Vessel {
        self.vessel
    }

    /// Heat that passes, positive, W.
    pub fn heat(&self) -> f64 {
        self.inner.heat
    }

    /// Temperature of the entering water, K.
    pub fn water_entering(&self) -> f64 {
        self.inner.water_entering
    }

    /// Temperature of the leaving water, K.
    pub fn water_leaving(&self) -> f64 {
        self.inner.water_leaving
    }

    /// Saturation temperature of the refrigerant, K.
    pub fn saturation_temperature(&self) -> f64 {
        self.inner.saturation_temperature
    }

    /// Difference between entering and leaving water, positive in both vessels, K.
    pub fn water_range(&self) -> f64 {
        self.inner.range
    }

    /// Difference between leaving water and saturation temperature, positive in both vessels, K.
    pub fn approach(&self) -> f64 {
        self.inner.approach
    }

    /// Number of transfer units, `UA/(m cp)`.
    pub fn transfer_units(&self) -> f64 {
        self.inner.transfer_units
    }

    /// Water range over the largest possible one: `1 - exp(-NTU)`.
    pub fn effectiveness(&self) -> f64 {
        -(-self.inner.transfer_units).exp_m1()
    }

    /// Logarithmic mean temperature difference, K.
    pub fn logarithmic_mean_difference(&self) -> f64 {
        self.inner.range / self.inner.transfer_units
    }

    /// Conductance, W/K.
    pub fn ua(&self) -> f64 {
        self.inner.heat / self.inner.range * self.inner.transfer_units
    }
}

/// Logarithmic mean (K) of the temperature differences (K) at the two ends of an exchanger; the difference itself
/// where both are the same.
///
/// # Errors
///
/// [`Error::NotFinite`]; [`Error::OutOfRange`] for a difference that is not positive or beyond 10,000 K.
pub fn logarithmic_mean_difference(first: f64, second: f64) -> Result<f64> {
    let reason = "heat passes from the warmer to the colder all along";
    within("first", first, f64::MIN_POSITIVE, 1e4, "K", reason)?;
    within("second", second, f64::MIN_POSITIVE, 1e4, "K", reason)?;
    Ok(logarithmic_mean(first, second))
}

/// Conductance UA (W/K) from heat (W), entering and leaving water and saturation temperature (K).
///
/// Serves both vessels: the water comes closer to the saturation temperature and does not reach it.
/// [`HeatExchange::measured`] checks in which way the heat goes.
///
/// # Errors
///
/// [`Error::NotFinite`]; [`Error::OutOfRange`] for heat outside 1e-9 to 1e15 W; [`Error::Inconsistent`] for water
/// that does not come closer to the saturation temperature, or reaches it.
pub fn ua_from_temperatures(
    heat: f64,
    water_entering: f64,
    water_leaving: f64,
    saturation_temperature: f64,
) -> Result<f64> {
    finite("water entering", water_entering, "K")?;
    let vessel = if water_entering > saturation_temperature { Vessel::Evaporator } else { Vessel::Condenser };
    HeatExchange::measured(vessel, heat, water_entering, water_leaving, saturation_temperature)
        .map(|exchange| exchange.ua())
}
