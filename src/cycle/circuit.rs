//! One refrigerant circuit: the machine without the conditions it runs at.

use super::pressures::InterstagePressures;
use crate::compression::Stage;
use crate::economizer::FlashTank;
use crate::error::{Error, Result};
use crate::refrigerant::Refrigerant;

/// What sits between two stages.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Interstage {
    /// Nothing: the discharge of one stage is the inlet of the next.
    Direct,
    /// A flash tank whose vapor joins the discharge on its way to the next stage.
    FlashTank(FlashTank),
}

impl From<FlashTank> for Interstage {
    fn from(tank: FlashTank) -> Self {
        Self::FlashTank(tank)
    }
}

/// One refrigerant circuit: refrigerant, `n` stages from suction to discharge, the `n - 1` interstages between
/// them and the rule for the pressures there.
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
    refrigerant: Refrigerant,
    stages: Vec<Stage>,
    interstages: Vec<Interstage>,
    pressures: InterstagePressures,
}

impl Circuit {
    /// A circuit with equal pressure ratios; `interstages[0]` sits between the first and the second stage.
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] unless there is at least one stage and exactly one interstage fewer than stages;
    /// [`Error::Inconsistent`] for a flash tank with a blend.
    pub fn new(refrigerant: Refrigerant, stages: Vec<Stage>, interstages: Vec<Interstage>) -> Result<Self> {
        if stages.is_empty() {
            return Err(Error::WrongLength { argument: "stages", found: 0, expected: 1 });
        }
        if interstages.len() + 1 != stages.len() {
            return Err(Error::WrongLength {
                argument: "interstages",
                found: interstages.len(),
                expected: stages.len() - 1,
            });
        }
        separable(&refrigerant, &interstages)?;
        Ok(Self { refrigerant, stages, interstages, pressures: InterstagePressures::EqualRatio })
    }

    /// The same circuit with another rule for its interstage pressures.
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] if pressures are given and not one for every interstage, [`Error::NotFinite`],
    /// [`Error::OutOfRange`] or [`Error::Inconsistent`] unless they are positive and rise.
    pub fn with_interstage_pressures(self, pressures: InterstagePressures) -> Result<Self> {
        pressures.check(self.interstages.len())?;
        Ok(Self { pressures, ..self })
    }

    /// The same machine with another refrigerant.
    ///
    /// # Errors
    ///
    /// [`Error::Inconsistent`] for a flash tank with a blend.
    pub fn with_refrigerant(self, refrigerant: Refrigerant) -> Result<Self> {
        separable(&refrigerant, &self.interstages)?;
        Ok(Self { refrigerant, ..self })
    }

    /// The same machine with every economizer off: the base its benefit is counted from.
    #[must_use]
    pub fn without_economizers(self) -> Self {
        let interstages = vec![Interstage::Direct; self.interstages.len()];
        Self { interstages, ..self }
    }

    /// The refrigerant.
    pub fn refrigerant(&self) -> &Refrigerant {
        &self.refrigerant
    }

    /// The stages, from suction to discharge.
    pub fn stages(&self) -> &[Stage] {
        &self.stages
    }

    /// What sits between the stages, from the lowest pressure up.
    pub fn interstages(&self) -> &[Interstage] {
        &self.interstages
    }

    /// The rule for the interstage pressures.
    pub fn interstage_pressures(&self) -> &InterstagePressures {
        &self.pressures
    }

    /// Number of flash tanks.
    pub fn tanks(&self) -> usize {
        self.interstages.iter().filter(|between| matches!(between, Interstage::FlashTank(_))).count()
    }
}

/// Refuses tanks for a blend: one equation for its fixed composition knows nothing of the two others that part in a tank.
fn separable(refrigerant: &Refrigerant, interstages: &[Interstage]) -> Result<()> {
    let tank = interstages.iter().any(|between| matches!(between, Interstage::FlashTank(_)));
    if tank && refrigerant.composition().is_some() {
        let reason = format!(
            "{} is a blend described at one composition; in a flash tank its liquid and vapor part with different ones",
            refrigerant.name()
        );
        return Err(Error::Inconsistent { arguments: "flash tank and refrigerant", reason });
    }
    Ok(())
}
