//! The way of the liquid down, through the economizers.

use super::ends::Ends;
use super::inputs::{Between, Inputs};
use crate::economizer::{Passage, expand, inject};
use crate::error::{Error, Result};
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;
use crate::state::Stream;

/// What each economizer makes of the liquid, one entry an interstage.
pub(crate) type Passages<R> = Vec<Option<Passage<R>>>;

/// The way of the liquid down: what each economizer makes of it, none of them where the list is empty, and what goes on to the
/// evaporator.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Descent<'a, R> {
    pub(crate) passages: &'a [Option<Passage<R>>],
    pub(crate) liquid: Stream<R>,
}

impl<R: Real> Descent<'_, R> {
    /// Past every economizer.
    pub(crate) fn direct(ends: &Ends<R>) -> Self {
        Self { passages: &[], liquid: ends.condenser_outlet }
    }
}

/// Liquid through the economizers, from the highest pressure down; what they make of it is told in a list that may have served before.
pub(crate) fn descend<'a, R: Real>(
    refrigerant: &Refrigerant,
    inputs: &Inputs<R>,
    between: &[R],
    ends: &Ends<R>,
    passages: &'a mut Passages<R>,
) -> Result<Descent<'a, R>> {
    let mut liquid = ends.condenser_outlet;
    passages.clear();
    for (interstage, &inlet) in inputs.interstages.iter().zip(between).rev() {
        if matches!(interstage, Between::Direct) {
            passages.push(None);
            continue;
        }
        let pressure = raised(inlet, inputs.losses.port);
        if pressure.value() > liquid.pressure.value() {
            return Err(Error::Inconsistent {
                arguments: "port loss and interstage pressures",
                reason: format!(
                    "an economizer at {} Pa cannot be fed with liquid at {} Pa",
                    pressure.value(),
                    liquid.pressure.value()
                ),
            });
        }
        let metered = |expander| expand(refrigerant, &liquid, pressure, expander);
        let passage = match *interstage {
            Between::Direct => continue,
            Between::FlashTank { separation, expander } => {
                separation.flash(refrigerant, pressure, &liquid, metered(expander)?)?
            }
            Between::IntercooledTank { separation, expander, coil: None } => {
                separation.intercool(refrigerant, pressure, &liquid, metered(expander)?)?
            }
            Between::IntercooledTank { separation, expander, coil: Some(approach) } => separation
                .intercool_with_coil(refrigerant, pressure, &liquid, metered(expander)?, approach)?,
            Between::ClosedEconomizer(exchange) => exchange.exchange(refrigerant, pressure, &liquid)?,
            Between::LiquidInjection { superheat } => inject(refrigerant, inlet, &liquid, superheat)?,
        };
        passages.push(Some(passage));
        liquid = passage.liquid;
    }
    passages.reverse();
    Ok(Descent { passages, liquid })
}

/// A pressure and a loss on the way to it.
pub(super) fn raised<R: Real>(pressure: R, loss: R) -> R {
    if loss.is_nothing() { pressure } else { pressure * (loss + 1.0) }
}
