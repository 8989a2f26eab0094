//! The second-law ledger of a solved cycle: where the power goes.

use super::balance::Component;
use super::location::Location;
use super::solved::Cycle;
use crate::error::{Error, Result, within};
use crate::numeric::logarithmic_mean;

/// Water temperatures at evaporator and condenser, and the temperature of the surroundings, K.
///
/// ```
/// use interstage::Surroundings;
///
/// let surroundings = Surroundings::new((285.15, 280.15), (303.15, 308.15), 303.15)?;
/// assert!((surroundings.chilled_water_mean() - 282.6426).abs() < 1e-4);
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surroundings {
    chilled_water: (f64, f64),
    condenser_water: (f64, f64),
    dead_state: f64,
}

impl Surroundings {
    /// Chilled water and condenser water, each entering and leaving, and the temperature of the dead state.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`] for temperatures that are none of water or brine; [`Error::Inconsistent`] unless
    /// chilled water cools and condenser water warms.
    pub fn new(chilled_water: (f64, f64), condenser_water: (f64, f64), dead_state: f64) -> Result<Self> {
        for (argument, value) in [
            ("chilled water", chilled_water.0),
            ("chilled water", chilled_water.1),
            ("condenser water", condenser_water.0),
            ("condenser water", condenser_water.1),
            ("dead state temperature", dead_state),
        ] {
            within(argument, value, 150.0, 600.0, "K", "a temperature of water, brine or surroundings")?;
        }
        let wrong = |arguments, reason: String| Err(Error::Inconsistent { arguments, reason });
        if chilled_water.1 > chilled_water.0 {
            return wrong(
                "chilled water",
                format!(
                    "it enters at {} K and would leave warmer, at {} K",
                    chilled_water.0, chilled_water.1
                ),
            );
        }
        if condenser_water.1 < condenser_water.0 {
            return wrong(
                "condenser water",
                format!(
                    "it enters at {} K and would leave colder, at {} K",
                    condenser_water.0, condenser_water.1
                ),
            );
        }
        Ok(Self { chilled_water, condenser_water, dead_state })
    }

    /// Entropic mean temperature of the chilled water, K.
    pub fn chilled_water_mean(&self) -> f64 {
        logarithmic_mean(self.chilled_water.0, self.chilled_water.1)
    }

    /// Entropic mean temperature of the condenser water, K.
    pub fn condenser_water_mean(&self) -> f64 {
        logarithmic_mean(self.condenser_water.0, self.condenser_water.1)
    }

    /// Temperature of the dead state, K.
    pub fn dead_state(&self) -> f64 {
        self.dead_state
    }
}

/// Exergy destroyed in each component, and where the rest of the power goes.
///
/// `P = Q_e (T_0 / T_e - 1) + Q_c (1 - T_0 / T_c) + sum of destructions`, with the entropic mean temperatures of the waters (T. J. Kotas,
/// The Exergy Method of Thermal Plant Analysis, 1985; from memory). P is the compression power, with a motor that the refrigerant
/// cools that and the heat of the motor. Each destruction is `T_0` times the entropy generated. Where tanks are taken to leave the
/// composition of a blend alone, theirs can be negative by what it would take to mix what a real tank parts: 0.9 % of the power for R-407C in
/// one tank, nothing worth speaking of for blends of little glide. With
/// [`TankSeparation::Equilibrium`](crate::TankSeparation) none is negative.
#[derive(Debug, Clone, PartialEq)]
pub struct ExergyLedger {
    pub(crate) destroyed: Vec<(Component, f64)>,
    pub(crate) power: f64,
    pub(crate) cooling: f64,
    pub(crate) rejected: f64,
    pub(crate) lorenz: f64,
}

impl ExergyLedger {
    /// Components with the exergy destroyed in each, W, in the order of [`Cycle::balances`].
    pub fn destroyed(&self) -> &[(Component, f64)] {
        &self.destroyed
    }

    /// Exergy destroyed in all components, W.
    pub fn destruction(&self) -> f64 {
        self.destroyed.iter().map(|(_, exergy)| exergy).sum()
    }

    /// The same in the components that a test picks, W.
    pub fn destroyed_in(&self, pick: impl Fn(Component) -> bool) -> f64 {
        self.destroyed.iter().filter(|(component, _)| pick(*component)).map(|(_, exergy)| exergy).sum()
    }

    /// Power that is accounted for, W.
    pub fn power(&self) -> f64 {
        self.power
    }

    /// Exergy of the cooling: the product, W.
    pub fn cooling(&self) -> f64 {
        self.cooling
    }

    /// Exergy that leaves with the condenser water, W; negative where the water is colder than the dead state.
    pub fn rejected(&self) -> f64 {
        self.rejected
    }

    /// Exergy of the cooling per power.
    pub fn efficiency(&self) -> f64 {
        self.cooling / self.power
    }

    /// COP of the loss-free machine between the entropic mean temperatures of the waters (Lorenz).
    pub fn lorenz_cop(&self) -> f64 {
        self.lorenz
    }

    /// Power less everything it is accounted for with, per power. Zero but for rounding.
    pub fn closure(&self) -> f64 {
        (self.power - self.cooling - self.rejected - self.destruction()) / self.power
    }
}

impl Cycle {
    /// Refuses water that would pass the temperature of the refrigerant at either end of an exchanger.
    fn refuse_crossing(&self, surroundings: &Surroundings) -> Result<()> {
        let at = |location| self.point(location).map_or(f64::NAN, |point| point.state().temperature());
        let coldest = at(Location::EvaporatorInlet).min(at(Location::EvaporatorOutlet));
        let hottest = at(Location::StageOutlet(self.stage_work().len())).max(at(Location::CondenserOutlet));
        let (chilled, warmed) = (surroundings.chilled_water.1, surroundings.condenser_water.1);
        if chilled < coldest {
            return Err(Error::Inconsistent {
                arguments: "chilled water and evaporating temperature",
                reason: format!(
                    "water cannot leave at {chilled:.3} K, colder than the refrigerant ({coldest:.3} K)"
                ),
            });
        }
        if warmed > hottest {
            return Err(Error::Inconsistent {
                arguments: "condenser water and condensing temperature",
                reason: format!(
                    "water cannot leave at {warmed:.3} K, warmer than the refrigerant ({hottest:.3} K)"
                ),
            });
        }
        let (vapor, liquid) = (at(Location::EvaporatorOutlet), at(Location::CondenserOutlet));
        let (heating, cooling) = (surroundings.chilled_water.0, surroundings.condenser_water.0);
        if vapor > heating {
            return Err(Error::Inconsistent {
                arguments: "suction superheat and chilled water",
                reason: format!("vapor cannot leave at {vapor:.3} K, heated by water at {heating:.3} K"),
            });
        }
        if liquid < cooling {
            return Err(Error::Inconsistent {
                arguments: "subcooling and condenser water",
                reason: format!("liquid cannot leave at {liquid:.3} K, cooled by water at {cooling:.3} K"),
            });
        }
        Ok(())
    }

    /// Where the power goes, component by component.
    ///
    /// # Errors
    ///
    /// [`Error::Inconsistent`] if heat would flow from colder water to warmer refrigerant or the other way round: on the average, where
    /// water leaves, or where it meets superheated vapor or subcooled liquid.
    pub fn exergy(&self, surroundings: &Surroundings) -> Result<ExergyLedger> {
        let (cold, hot) = (surroundings.chilled_water_mean(), surroundings.condenser_water_mean());
        self.refuse_crossing(surroundings)?;
        let dead = surroundings.dead_state;
        let mut destroyed = Vec::new();
        for balance in self.balances() {
            let component = balance.component();
            let brought = match component {
                Component::Evaporator => balance.heat() / cold,
                Component::Condenser => balance.heat() / hot,
                _ => 0.0,
            };
            let generated = balance.entropy_rise(self) - brought;
            let (water, what) = match component {
                Component::Evaporator => (cold, "chilled water"),
                _ => (hot, "condenser water"),
            };
            if matches!(component, Component::Evaporator | Component::Condenser)
                && generated * dead < -1e-9 * self.power()
            {
                return Err(Error::Inconsistent {
                    arguments: "water temperatures and saturation temperatures",
                    reason: format!(
                        "at its mean temperature of {water:.2} K the {what} would take heat the wrong way: the {component} would \
                         destroy {:.3e} W of exergy",
                        generated * dead
                    ),
                });
            }
            destroyed.push((component, dead * generated));
        }
        let capacity = self.evaporator_mass_flow() * self.refrigerating_effect();
        Ok(ExergyLedger {
            destroyed,
            power: self.heat_rejected() - capacity,
            cooling: capacity * (dead / cold - 1.0),
            rejected: self.heat_rejected() * (1.0 - dead / hot),
            lorenz: cold / (hot - cold),
        })
    }
}
