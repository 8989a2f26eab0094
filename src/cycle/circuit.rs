//! One refrigerant circuit: the machine without the conditions it runs at.

use std::sync::Arc;

use super::drive::{Drive, MotorCooling, PressureLosses};
use super::pressures::InterstagePressures;
use super::separation::TankSeparation;
use crate::compression::Stage;
use crate::economizer::{ClosedEconomizer, FlashTank, IntercooledTank, LiquidInjection, Metering};
use crate::error::{Error, Result, within};
use crate::refrigerant::{Model, Refrigerant};

/// Most stages of a circuit: far more than any machine has, and few enough for every figure of a circuit to come at once.
pub(super) const MOST_STAGES: usize = 100;

/// What sits between two stages.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Interstage {
    /// Nothing: the discharge of one stage is the inlet of the next.
    Direct,
    /// A flash tank whose vapor joins the discharge on its way to the next stage.
    FlashTank(FlashTank),
    /// A tank through which the whole discharge passes.
    IntercooledTank(IntercooledTank),
    /// An exchanger in which a part of the liquid evaporates and cools the rest.
    ClosedEconomizer(ClosedEconomizer),
    /// Liquid injected into the discharge.
    LiquidInjection(LiquidInjection),
}

impl Interstage {
    /// Whether liquid and vapor part in it.
    pub(super) fn is_tank(&self) -> bool {
        matches!(self, Self::FlashTank(_) | Self::IntercooledTank(_))
    }

    /// Whether it does anything.
    pub(super) fn is_direct(&self) -> bool {
        matches!(self, Self::Direct)
    }
}

/// Every component between stages is an interstage.
macro_rules! interstages {
    ($($component:ident)*) => {
        $(
            impl From<$component> for Interstage {
                fn from(component: $component) -> Self {
                    Self::$component(component)
                }
            }
        )*
    };
}

interstages! { FlashTank IntercooledTank ClosedEconomizer LiquidInjection }

/// One refrigerant circuit: refrigerant, `n` stages from suction to discharge, the `n - 1` interstages between
/// them and the rule for the pressures there. Cheap to clone: clones share what they are made of.
///
/// ```
/// use interstage::{Circuit, Conditions, FlashTank, Refrigerant, Size, Stage};
///
/// let refrigerant = Refrigerant::named("R-1233zd(E)")?;
/// let stage = Stage::polytropic(0.80)?;
/// let circuit = Circuit::new(refrigerant, vec![stage; 2], vec![FlashTank::new().into()])?;
/// let conditions = Conditions::new(278.15, 310.15, Size::Capacity(3_516_850.0));
/// let cycle = circuit.solve(&conditions)?;
/// assert!((cycle.cop() - 6.463).abs() < 5e-4);
/// assert!((cycle.economizer_benefit() - 0.0584).abs() < 5e-5);
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Circuit {
    machine: Arc<Machine>,
}

/// What a circuit is made of.
#[derive(Debug, Clone, PartialEq)]
struct Machine {
    refrigerant: Refrigerant,
    stages: Vec<Stage>,
    interstages: Vec<Interstage>,
    pressures: InterstagePressures,
    separation: TankSeparation,
    losses: PressureLosses,
    drive: Drive,
    metering: Metering,
    suction_exchanger: Option<f64>,
}

impl Circuit {
    /// A circuit with equal pressure ratios; `interstages[0]` sits between the first and the second stage.
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] unless there is at least one stage and exactly one interstage fewer than stages;
    /// [`Error::OutOfRange`] for more than 100 stages; [`Error::Inconsistent`] for a flash tank with a blend that is described by one equation.
    pub fn new(refrigerant: Refrigerant, stages: Vec<Stage>, interstages: Vec<Interstage>) -> Result<Self> {
        if stages.is_empty() {
            return Err(Error::WrongLength { argument: "stages", found: 0, expected: 1 });
        }
        within("stages", stages.len() as f64, 1.0, MOST_STAGES as f64, "-", "stages of one circuit")?;
        if interstages.len() + 1 != stages.len() {
            return Err(Error::WrongLength {
                argument: "interstages",
                found: interstages.len(),
                expected: stages.len() - 1,
            });
        }
        separable(&refrigerant, &interstages, TankSeparation::default())?;
        let pressures = InterstagePressures::EqualRatio;
        let separation = TankSeparation::default();
        let (losses, drive, metering, suction_exchanger) = Default::default();
        let machine = Machine {
            refrigerant,
            stages,
            interstages,
            pressures,
            separation,
            losses,
            drive,
            metering,
            suction_exchanger,
        };
        Ok(Self { machine: Arc::new(machine) })
    }

    fn with(mut self, change: impl FnOnce(&mut Machine)) -> Self {
        change(Arc::make_mut(&mut self.machine));
        self
    }

    /// The same circuit sharing nothing with this one: for a thread that clones it often.
    pub(crate) fn apart(&self) -> Self {
        Self { machine: Arc::new(Machine::clone(&self.machine)) }
    }

    /// The same circuit with pressure losses.
    #[must_use]
    pub fn with_pressure_losses(self, losses: PressureLosses) -> Self {
        self.with(|machine| machine.losses = losses)
    }

    /// The same circuit with another drive.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`] if the motor's heat is to join the gas at a stage that the circuit does not have, or at the first.
    pub fn with_drive(self, drive: Drive) -> Result<Self> {
        if let MotorCooling::RefrigerantToStage(stage) = drive.motor_cooling() {
            let stages = self.machine.stages.len();
            if stages == 1 {
                return Err(Error::Inconsistent {
                    arguments: "motor cooling and stages",
                    reason: format!(
                        "vapor from the motor is to join the gas before stage {stage}; there is one stage"
                    ),
                });
            }
            let reason = "vapor from the motor joins the gas between two stages";
            within("motor cooling", stage as f64, 2.0, stages as f64, "-", reason)?;
        }
        Ok(self.with(|machine| machine.drive = drive))
    }

    /// The same circuit with another device that throttles the liquid into the evaporator. Those of the economizers are their own.
    #[must_use]
    pub fn with_metering(self, metering: Metering) -> Self {
        self.with(|machine| machine.metering = metering)
    }

    /// The same circuit with an exchanger between the liquid on its way to the evaporator and the vapor on its way to the first stage.
    ///
    /// Its effectiveness is the vapor's rise of temperature as a share of the difference between liquid and vapor that enter. The pressure
    /// loss of its vapor side belongs to the suction loss.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`] unless the effectiveness is from 0 to 1.
    pub fn with_suction_exchanger(self, effectiveness: f64) -> Result<Self> {
        let reason = "rise of the vapor's temperature as a share of the largest possible one";
        within("suction exchanger effectiveness", effectiveness, 0.0, 1.0, "-", reason)?;
        Ok(self.with(|machine| machine.suction_exchanger = Some(effectiveness)))
    }

    /// Pressure losses.
    pub fn pressure_losses(&self) -> PressureLosses {
        self.machine.losses
    }

    /// What turns the stages.
    pub fn drive(&self) -> Drive {
        self.machine.drive
    }

    /// What throttles the liquid into the evaporator.
    pub fn metering(&self) -> Metering {
        self.machine.metering
    }

    /// Effectiveness of the liquid-suction exchanger, if there is one.
    pub fn suction_exchanger(&self) -> Option<f64> {
        self.machine.suction_exchanger
    }

    /// The same circuit with another rule for its interstage pressures.
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] if pressures are given and not one for every interstage, [`Error::NotFinite`],
    /// [`Error::OutOfRange`] or [`Error::Inconsistent`] unless they are positive and rise.
    pub fn with_interstage_pressures(self, pressures: InterstagePressures) -> Result<Self> {
        pressures.check(self.machine.interstages.len())?;
        Ok(self.with(|machine| machine.pressures = pressures))
    }

    /// The same circuit with another assumption on what its tanks do to the composition of a blend.
    ///
    /// Conditions keep their meaning: the evaporating temperature is the dew temperature of what reaches the evaporator, the condensing
    /// temperature that of the blend itself, which is what circulates through the condenser.
    ///
    /// ```
    /// use interstage::{Circuit, Conditions, FlashTank, Model, Refrigerant, Size, Stage, TankSeparation};
    ///
    /// let blend = Refrigerant::named("R-407C")?.with_model(Model::Mixture)?;
    /// let stages = vec![Stage::isentropic(0.8)?; 3];
    /// let circuit = Circuit::new(blend, stages, vec![FlashTank::new().into(); 2])?
    ///     .with_tank_separation(TankSeparation::Equilibrium)?;
    /// let cycle = circuit.solve(&Conditions::new(278.15, 310.15, Size::Capacity(1e6)))?;
    /// // What boils last gathers in the evaporator.
    /// let evaporator = cycle.composition("evaporator_inlet".parse()?).unwrap_or_default();
    /// assert!(evaporator[2] > 0.54);
    /// assert!(cycle.species_closure().iter().all(|off| off.abs() < 1e-12));
    /// # Ok::<(), interstage::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// [`Error::Inconsistent`] for equilibrium with a refrigerant that is not described by the mixture model.
    pub fn with_tank_separation(self, separation: TankSeparation) -> Result<Self> {
        separable(&self.machine.refrigerant, &self.machine.interstages, separation)?;
        Ok(self.with(|machine| machine.separation = separation))
    }

    /// What the tanks are taken to do to the composition of a blend.
    pub fn tank_separation(&self) -> TankSeparation {
        self.machine.separation
    }

    /// The same machine with another refrigerant.
    ///
    /// # Errors
    ///
    /// [`Error::Inconsistent`] for a flash tank with a blend that is described by one equation, and where tanks are to separate what is
    /// not described by the mixture model.
    pub fn with_refrigerant(self, refrigerant: Refrigerant) -> Result<Self> {
        separable(&refrigerant, &self.machine.interstages, self.machine.separation)?;
        Ok(self.with(|machine| machine.refrigerant = refrigerant))
    }

    /// The same machine with every economizer off: the base its benefit is counted from.
    #[must_use]
    pub fn without_economizers(self) -> Self {
        self.with(|machine| machine.interstages.fill(Interstage::Direct))
    }

    /// The refrigerant.
    pub fn refrigerant(&self) -> &Refrigerant {
        &self.machine.refrigerant
    }

    /// The stages, from suction to discharge.
    pub fn stages(&self) -> &[Stage] {
        &self.machine.stages
    }

    /// What sits between the stages, from the lowest pressure up.
    pub fn interstages(&self) -> &[Interstage] {
        &self.machine.interstages
    }

    /// The rule for the interstage pressures.
    pub fn interstage_pressures(&self) -> &InterstagePressures {
        &self.machine.pressures
    }

    /// Number of flash tanks and intercooled tanks.
    pub fn tanks(&self) -> usize {
        self.machine.interstages.iter().filter(|between| between.is_tank()).count()
    }

    /// Number of interstages that are not direct.
    pub fn economizers(&self) -> usize {
        self.machine.interstages.iter().filter(|between| !between.is_direct()).count()
    }

    /// Whether its tanks part the components of a blend.
    pub(crate) fn parts_blend(&self) -> bool {
        self.machine.separation == TankSeparation::Equilibrium && self.tanks() > 0
    }
}

/// Refuses what cannot be told of a blend: one equation for its fixed composition knows nothing of the two others that part in a tank.
fn separable(
    refrigerant: &Refrigerant,
    interstages: &[Interstage],
    separation: TankSeparation,
) -> Result<()> {
    let tank = interstages.iter().any(Interstage::is_tank);
    let name = refrigerant.name();
    let refused = |reason| Err(Error::Inconsistent { arguments: "flash tank and refrigerant", reason });
    match refrigerant.model() {
        Model::PseudoPure if tank => refused(format!(
            "{name} is a blend described at one composition; in a flash tank its liquid and vapor part with different ones: \
             choose its mixture model"
        )),
        Model::Pure | Model::PseudoPure if separation == TankSeparation::Equilibrium => {
            refused(format!("{name} is not described by the mixture model: nothing can part in a tank"))
        }
        _ => Ok(()),
    }
}
