//! A condenser in counter-flow, with the superheat of the vapor parted off.

use super::WaterFlow;
use crate::error::{Error, Result, within};
use crate::numeric::logarithmic_mean;
use crate::refrigerant::Refrigerant;
use crate::state::State;

/// Steps of even heat that a zone is divided into where the refrigerant changes its temperature. The conductance is
/// then within 1e-4 of that of many steps.
const STEPS: usize = 64;

/// Relative agreement of the temperature of a state with that at its pressure and enthalpy.
const SAME: f64 = 1e-4;

/// A condenser in zones, refrigerant and water in counter-flow: superheated vapor, condensing, and subcooling of the
/// liquid where there is some.
///
/// In a real condenser the wall is below the saturation temperature and superheated vapor condenses on it at once, so
/// that one zone at the saturation temperature is the usual model ([`Exchanger`](crate::Exchanger)). The zones answer
/// what that leaves open: whether water leaves warmer than it could while vapor condenses, which shows as the
/// temperature difference at the dew point ([`CondenserZones::pinch`]), and what UA each zone takes.
///
/// ```
/// use interstage::{CondenserZones, Refrigerant, WaterFlow};
///
/// let refrigerant = Refrigerant::named("R-134a")?;
/// let pressure = refrigerant.saturation_at_temperature(310.15)?.pressure();
/// let discharge = refrigerant.state_pt(pressure, 320.15)?;
/// let water = WaterFlow::water(200.0)?;
/// let zones = CondenserZones::new(&refrigerant, &discharge, 0.0, 24.0, &water, 303.15)?;
/// assert!(zones.pinch() > 2.0 && zones.pinch() < 3.0);
/// assert!(zones.heat() > 4.2e6 && zones.heat() < 4.4e6);
/// assert!(zones.subcooling().is_none());
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CondenserZones {
    desuperheating: Option<Zone>,
    condensing: Zone,
    subcooling: Option<Zone>,
    pinch: f64,
}

/// One zone of a condenser.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Zone {
    heat: f64,
    ua: f64,
    refrigerant: (f64, f64),
    water: (f64, f64),
}

impl Zone {
    /// Heat that passes, W.
    pub fn heat(&self) -> f64 {
        self.heat
    }

    /// Conductance that the zone takes, W/K.
    pub fn ua(&self) -> f64 {
        self.ua
    }

    /// Temperature of the refrigerant where it enters the zone, K.
    pub fn refrigerant_entering(&self) -> f64 {
        self.refrigerant.0
    }

    /// Temperature of the refrigerant where it leaves the zone, K.
    pub fn refrigerant_leaving(&self) -> f64 {
        self.refrigerant.1
    }

    /// Temperature of the water where it enters the zone, K.
    pub fn water_entering(&self) -> f64 {
        self.water.0
    }

    /// Temperature of the water where it leaves the zone, K.
    pub fn water_leaving(&self) -> f64 {
        self.water.1
    }

    /// Mean temperature difference, heat over UA, K.
    pub fn mean_difference(&self) -> f64 {
        self.heat / self.ua
    }
}

/// The two streams of a condenser.
struct Streams<'a> {
    refrigerant: &'a Refrigerant,
    pressure: f64,
    mass_flow: f64,
    water: &'a WaterFlow,
}

/// A place along the condenser: temperature and enthalpy of the refrigerant.
type Place = (f64, f64);

impl CondenserZones {
    /// The zones of a condenser that a mass flow (kg/s) of refrigerant enters in the state `inlet` and leaves as
    /// liquid with subcooling (K), at the pressure of the inlet, with water that enters at a temperature (K).
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for a flow outside 1e-9 to 1e9 kg/s, negative subcooling, an inlet
    /// outside the saturation line, or more heat than the water takes up as a liquid; [`Error::Inconsistent`] if the
    /// water would be warmer than the refrigerant anywhere: at the dew point the message has the negative pinch; if
    /// `inlet` is liquid, or no state of this refrigerant in this reference.
    pub fn new(
        refrigerant: &Refrigerant,
        inlet: &State,
        subcooling: f64,
        mass_flow: f64,
        water: &WaterFlow,
        water_entering: f64,
    ) -> Result<Self> {
        super::flow("mass flow", mass_flow)?;
        within("subcooling", subcooling, 0.0, 1e3, "K", "below the bubble point")?;
        water.accepts("water entering", water_entering)?;
        let own = refrigerant.state_ph(inlet.pressure(), inlet.enthalpy())?;
        if (own.temperature() - inlet.temperature()).abs() > SAME * inlet.temperature() {
            return Err(Error::Inconsistent {
                arguments: "refrigerant and inlet",
                reason: format!(
                    "not a state of {} in this reference: {} K at its pressure and enthalpy, and it has {} K",
                    refrigerant.name(),
                    own.temperature(),
                    inlet.temperature()
                ),
            });
        }
        let saturation = refrigerant.saturation_at_pressure(inlet.pressure())?;
        let (liquid, vapor) = (saturation.liquid(), saturation.vapor());
        if inlet.enthalpy() <= liquid.enthalpy() {
            return Err(Error::Inconsistent {
                arguments: "inlet",
                reason: format!(
                    "no vapor to condense: {} J/kg, and saturated liquid has {} J/kg",
                    inlet.enthalpy(),
                    liquid.enthalpy()
                ),
            });
        }
        let streams = Streams { refrigerant, pressure: inlet.pressure(), mass_flow, water };
        let place = |state: &State| (state.temperature(), state.enthalpy());
        // From the cold end, with the water.
        let mut reached = water_entering;
        let mut below = None;
        if subcooling > 0.0 {
            let outlet = refrigerant.state_pt(inlet.pressure(), liquid.temperature() - subcooling)?;
            let zone = streams.zone(reached, place(&outlet), place(&liquid), STEPS)?;
            reached = zone.water.1;
            below = Some(zone);
        }
        let superheated = inlet.enthalpy() > vapor.enthalpy();
        let start = if superheated { place(&vapor) } else { place(inlet) };
        let steps = if saturation.temperature_glide() > 0.0 { STEPS } else { 1 };
        let condensing = streams.zone(reached, place(&liquid), start, steps)?;
        reached = condensing.water.1;
        let desuperheating =
            if superheated { Some(streams.zone(reached, start, place(inlet), STEPS)?) } else { None };
        Ok(Self { desuperheating, condensing, subcooling: below, pinch: start.0 - reached })
    }

    /// Superheated vapor down to the dew point; none where the refrigerant enters saturated or wet.
    pub fn desuperheating(&self) -> Option<Zone> {
        self.desuperheating
    }

    /// From the dew point, or the wet inlet, to saturated liquid.
    pub fn condensing(&self) -> Zone {
        self.condensing
    }

    /// Saturated liquid down to the outlet; none without subcooling.
    pub fn subcooling(&self) -> Option<Zone> {
        self.subcooling
    }

    /// Refrigerant less water temperature where condensation begins, K: at the dew point, or at a wet inlet.
    pub fn pinch(&self) -> f64 {
        self.pinch
    }

    /// Heat of all zones, W.
    pub fn heat(&self) -> f64 {
        self.sum(Zone::heat)
    }

    /// Conductance of all zones, W/K. It takes another tube area in each: vapor that is cooled without condensing
    /// transfers heat less well by an order of magnitude.
    pub fn ua(&self) -> f64 {
        self.sum(Zone::ua)
    }

    /// Temperature of the leaving water, K.
    pub fn water_leaving(&self) -> f64 {
        self.desuperheating.unwrap_or(self.condensing).water.1
    }

    fn sum(&self, figure: fn(&Zone) -> f64) -> f64 {
        figure(&self.condensing)
            + [self.desuperheating, self.subcooling].iter().flatten().map(figure).sum::<f64>()
    }
}

impl Streams<'_> {
    /// The zone between two places, `cold` where the water enters it at a temperature.
    fn zone(&self, water_entering: f64, cold: Place, hot: Place, steps: usize) -> Result<Zone> {
        let heat = self.mass_flow * (hot.1 - cold.1) / steps as f64;
        let mut ua = 0.0;
        let (mut water, mut refrigerant) = (water_entering, cold.0);
        let mut difference = self.difference(refrigerant, water)?;
        for step in 1..=steps {
            let share = step as f64 / steps as f64;
            refrigerant = if step == steps {
                hot.0
            } else {
                let enthalpy = cold.1 + share * (hot.1 - cold.1);
                self.refrigerant.state_ph(self.pressure, enthalpy)?.temperature()
            };
            water -= self.water.fall(self.water.mass_flow(), water, -heat)?;
            let next = self.difference(refrigerant, water)?;
            ua += heat / logarithmic_mean(difference, next);
            difference = next;
        }
        let total = self.mass_flow * (hot.1 - cold.1);
        Ok(Zone { heat: total, ua, refrigerant: (refrigerant, cold.0), water: (water_entering, water) })
    }

    fn difference(&self, refrigerant: f64, water: f64) -> Result<f64> {
        let difference = refrigerant - water;
        if difference > 0.0 {
            return Ok(difference);
        }
        Err(Error::Inconsistent {
            arguments: "inlet and water entering",
            reason: format!(
                "the water would reach {water} K where the refrigerant has {refrigerant} K, a pinch of {difference} K"
            ),
        })
    }
}
