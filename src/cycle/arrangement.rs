//! An arrangement as text that reads back.

use std::fmt;
use std::str::FromStr;

use super::circuit::{Circuit, Interstage, MOST_STAGES};
use crate::compression::Stage;
use crate::economizer::{
    ClosedEconomizer, FlashTank, InjectionTakenFrom, IntercooledTank, LiquidInjection, Metering,
};
use crate::error::{Error, Result, within};
use crate::refrigerant::Refrigerant;

/// How stages and economizers are arranged: a circuit without refrigerant, efficiencies, pressures, losses and drive.
///
/// As text: the number of stages, then each economizer with the stage whose inlet it feeds, from the highest pressure down, with what
/// differs from the ideal in brackets.
///
/// ```
/// use interstage::Arrangement;
///
/// let two_tanks: Arrangement = "3 stages: tank@3, tank@2".parse()?;
/// assert_eq!(two_tanks.interstages().len(), 2);
/// for text in [
///     "1 stage",
///     "1 stage: suction exchanger (effectiveness 0.3)",
///     "2 stages: intercooled tank@2 (coil 3 K)",
///     "2 stages: tank@2 (carryover 0.02, blowthrough 0.005, expander 0.5), evaporator expander (efficiency 0.5)",
///     "3 stages: closed@3 (approach 3 K, superheat 1 K, injection after), liquid injection@2",
/// ] {
///     assert_eq!(text.parse::<Arrangement>()?.to_string(), text);
/// }
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Arrangement {
    interstages: Vec<Interstage>,
    metering: Metering,
    suction_exchanger: Option<f64>,
}

impl Arrangement {
    /// What sits between the stages, from the lowest pressure up.
    pub fn interstages(&self) -> &[Interstage] {
        &self.interstages
    }

    /// A circuit in this arrangement with the same stage everywhere and equal pressure ratios.
    ///
    /// # Errors
    ///
    /// Those of [`Circuit::new`].
    pub fn circuit(&self, refrigerant: Refrigerant, stage: Stage) -> Result<Circuit> {
        let stages = vec![stage; self.interstages.len() + 1];
        let circuit =
            Circuit::new(refrigerant, stages, self.interstages.clone())?.with_metering(self.metering);
        match self.suction_exchanger {
            Some(effectiveness) => circuit.with_suction_exchanger(effectiveness),
            None => Ok(circuit),
        }
    }
}

impl Circuit {
    /// How the circuit is arranged.
    pub fn arrangement(&self) -> Arrangement {
        Arrangement {
            interstages: self.interstages().to_vec(),
            metering: self.metering(),
            suction_exchanger: self.suction_exchanger(),
        }
    }
}

/// An item with its details in brackets.
fn item(name: &str, details: &[String]) -> String {
    if details.is_empty() { name.to_owned() } else { format!("{name} ({})", details.join(", ")) }
}

fn expander(metering: Metering) -> Option<String> {
    metering.efficiency().map(|efficiency| format!("expander {efficiency}"))
}

/// A detail that is zero in the ideal case.
fn unless_zero(name: &str, value: f64, unit: &str) -> Option<String> {
    (value != 0.0).then(|| format!("{name} {value}{unit}"))
}

fn text(interstage: &Interstage, stage: usize) -> Option<String> {
    match interstage {
        Interstage::Direct => None,
        Interstage::FlashTank(tank) => {
            let details = [
                unless_zero("carryover", tank.liquid_carryover(), ""),
                unless_zero("blowthrough", tank.vapor_blowthrough(), ""),
                expander(tank.metering()),
            ];
            Some(item(&format!("tank@{stage}"), &details.into_iter().flatten().collect::<Vec<_>>()))
        }
        Interstage::IntercooledTank(tank) => {
            let details = [
                tank.coil_approach().map(|approach| format!("coil {approach} K")),
                unless_zero("carryover", tank.liquid_carryover(), ""),
                unless_zero("blowthrough", tank.vapor_blowthrough(), ""),
                expander(tank.metering()),
            ];
            let details: Vec<String> = details.into_iter().flatten().collect();
            Some(item(&format!("intercooled tank@{stage}"), &details))
        }
        Interstage::ClosedEconomizer(exchanger) => {
            let after = exchanger.taken_from() == InjectionTakenFrom::AfterExchanger;
            let details = [
                Some(format!("approach {} K", exchanger.approach())),
                unless_zero("superheat", exchanger.injection_superheat(), " K"),
                after.then(|| "injection after".to_owned()),
                expander(exchanger.metering()),
            ];
            Some(item(&format!("closed@{stage}"), &details.into_iter().flatten().collect::<Vec<_>>()))
        }
        Interstage::LiquidInjection(injection) => {
            let details: Vec<String> =
                unless_zero("superheat", injection.superheat(), " K").into_iter().collect();
            Some(item(&format!("liquid injection@{stage}"), &details))
        }
    }
}

impl fmt::Display for Arrangement {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let stages = self.interstages.len() + 1;
        let mut items: Vec<String> = self
            .interstages
            .iter()
            .enumerate()
            .rev()
            .filter_map(|(k, between)| text(between, k + 2))
            .collect();
        if let Some(efficiency) = self.metering.efficiency() {
            items.push(format!("evaporator expander (efficiency {efficiency})"));
        }
        if let Some(effectiveness) = self.suction_exchanger {
            items.push(format!("suction exchanger (effectiveness {effectiveness})"));
        }
        write!(f, "{stages} stage{}", if stages == 1 { "" } else { "s" })?;
        if !items.is_empty() {
            write!(f, ": {}", items.join(", "))?;
        }
        Ok(())
    }
}

/// What is wrong with a text, and what would be right.
fn unreadable(value: &str) -> Error {
    let options = [
        "3 stages: tank@3, tank@2",
        "2 stages: tank@2 (carryover 0.02, blowthrough 0.005, expander 0.5)",
        "2 stages: intercooled tank@2 (coil 3 K)",
        "2 stages: closed@2 (approach 3 K, superheat 2 K, injection after)",
        "2 stages: liquid injection@2",
        "1 stage: suction exchanger (effectiveness 0.3)",
        "1 stage: evaporator expander (efficiency 0.5)",
    ];
    Error::UnknownOption {
        argument: "arrangement",
        value: value.to_owned(),
        options: options.map(str::to_owned).to_vec(),
    }
}

/// Details of an item, taken one by one.
struct Details<'a> {
    item: &'a str,
    left: Vec<(&'a str, &'a str)>,
}

impl<'a> Details<'a> {
    fn of(item: &'a str) -> Result<(&'a str, Self)> {
        let (name, details) = match item.split_once('(') {
            Some((name, rest)) => (name, rest.trim_end().strip_suffix(')').ok_or_else(|| unreadable(item))?),
            None => (item, ""),
        };
        let pairs = details.split(',').map(str::trim).filter(|detail| !detail.is_empty());
        let left: Option<Vec<_>> = pairs.map(|detail| detail.split_once(' ')).collect();
        Ok((name.trim(), Self { item, left: left.ok_or_else(|| unreadable(item))? }))
    }

    fn word(&mut self, name: &str) -> Option<&'a str> {
        let place = self.left.iter().position(|(own, _)| *own == name)?;
        Some(self.left.remove(place).1.trim())
    }

    fn number(&mut self, name: &str, unit: &str) -> Result<Option<f64>> {
        let Some(text) = self.word(name) else { return Ok(None) };
        let Some(number) = text.strip_suffix(unit) else {
            return Err(unreadable(&format!("{name} {text} without its unit, {unit}")));
        };
        let number = number.trim();
        Ok(Some(number.parse().map_err(|_| unreadable(self.item))?))
    }

    fn metering(&mut self) -> Result<Metering> {
        self.number("expander", "")?.map_or(Ok(Metering::Valve), Metering::expander)
    }

    fn done(self) -> Result<()> {
        if self.left.is_empty() { Ok(()) } else { Err(unreadable(self.item)) }
    }
}

/// What stands twice in a text.
fn twice(what: &str, text: &str) -> Error {
    Error::Inconsistent {
        arguments: "arrangement",
        reason: format!("there is one {what} at most, and {text:?} has two"),
    }
}

/// Splits at the commas that are in no brackets.
fn items(text: &str) -> Vec<&str> {
    let mut depth = 0_u32;
    let at_comma = |c: char| {
        match c {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        c == ',' && depth == 0
    };
    text.split(at_comma).map(str::trim).filter(|item| !item.is_empty()).collect()
}

impl FromStr for Arrangement {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self> {
        let (stages, rest) = text.split_once(':').unwrap_or((text, ""));
        let (number, word) = stages.trim().split_once(' ').ok_or_else(|| unreadable(text))?;
        let count: usize = number.parse().map_err(|_| unreadable(text))?;
        within("number of stages", count as f64, 1.0, MOST_STAGES as f64, "-", "stages of one circuit")?;
        if !matches!(word.trim(), "stage" | "stages") {
            return Err(unreadable(text));
        }
        let (metering, suction_exchanger) = Default::default();
        let mut arrangement =
            Self { interstages: vec![Interstage::Direct; count - 1], metering, suction_exchanger };
        for item in items(rest) {
            let (name, mut details) = Details::of(item)?;
            match name {
                "evaporator expander" if arrangement.metering != Metering::Valve => {
                    return Err(twice("evaporator expander", text));
                }
                "suction exchanger" if arrangement.suction_exchanger.is_some() => {
                    return Err(twice("suction exchanger", text));
                }
                "evaporator expander" => {
                    let efficiency = details.number("efficiency", "")?.ok_or_else(|| unreadable(item))?;
                    arrangement.metering = Metering::expander(efficiency)?;
                }
                "suction exchanger" => {
                    arrangement.suction_exchanger =
                        Some(details.number("effectiveness", "")?.ok_or_else(|| unreadable(item))?);
                }
                _ => {
                    let (kind, stage) = name.split_once('@').ok_or_else(|| unreadable(item))?;
                    let stage: usize = stage.trim().parse().map_err(|_| unreadable(item))?;
                    if !(2..=count).contains(&stage) {
                        return Err(Error::Inconsistent {
                            arguments: "arrangement and stages",
                            reason: format!(
                                "an economizer feeds the inlet of the second stage or a later one; {text:?} has {count} and \
                                 feeds stage {stage}"
                            ),
                        });
                    }
                    let interstage = interstage(kind.trim(), &mut details, item)?;
                    match arrangement.interstages.get_mut(stage - 2) {
                        Some(place @ Interstage::Direct) => *place = interstage,
                        _ => {
                            return Err(twice("economizer at a stage", text));
                        }
                    }
                }
            }
            details.done()?;
        }
        Ok(arrangement)
    }
}

/// One economizer of a text.
fn interstage(kind: &str, details: &mut Details<'_>, item: &str) -> Result<Interstage> {
    Ok(match kind {
        "tank" => FlashTank::new()
            .with_liquid_carryover(details.number("carryover", "")?.unwrap_or(0.0))?
            .with_vapor_blowthrough(details.number("blowthrough", "")?.unwrap_or(0.0))?
            .with_metering(details.metering()?)
            .into(),
        "intercooled tank" => {
            let tank = IntercooledTank::new()
                .with_liquid_carryover(details.number("carryover", "")?.unwrap_or(0.0))?
                .with_vapor_blowthrough(details.number("blowthrough", "")?.unwrap_or(0.0))?
                .with_metering(details.metering()?);
            match details.number("coil", "K")? {
                Some(approach) => tank.with_coil(approach)?.into(),
                None => tank.into(),
            }
        }
        "closed" => {
            let approach = details.number("approach", "K")?.ok_or_else(|| unreadable(item))?;
            let taken = match details.word("injection") {
                None | Some("before") => InjectionTakenFrom::BeforeExchanger,
                Some("after") => InjectionTakenFrom::AfterExchanger,
                Some(_) => return Err(unreadable(item)),
            };
            ClosedEconomizer::new(approach)?
                .with_injection_superheat(details.number("superheat", "K")?.unwrap_or(0.0))?
                .with_injection_taken(taken)
                .with_metering(details.metering()?)
                .into()
        }
        "liquid injection" => {
            LiquidInjection::new().with_superheat(details.number("superheat", "K")?.unwrap_or(0.0))?.into()
        }
        _ => return Err(unreadable(item)),
    })
}
