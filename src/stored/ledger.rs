//! Results that are figures alone: balances, the ledger of exergy, the best pressures.

use serde::{Deserialize, Serialize};

use super::form::{Form, Number, Refused, Version, kind, stored};
use crate::cycle::{Balance, Component, ExergyLedger, Location, PressureOptimum, StreamFlow};
use crate::error::{Error, finite};

/// By how much sums may be off, relative to the largest number.
const CLOSED: f64 = 1e-6;

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StreamForm {
    location: Location,
    mass_flow: f64,
}

impl Form for StreamForm {
    type Value = StreamFlow;

    fn of(stream: &StreamFlow) -> Self {
        Self { location: stream.location, mass_flow: stream.mass_flow }
    }

    fn read(self) -> Result<StreamFlow, Refused> {
        let mass_flow = finite("mass flow", self.mass_flow, "kg/s")?;
        Ok(StreamFlow { location: self.location, mass_flow })
    }
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct BalanceForm {
    format_version: Version,
    r#type: kind::Balance,
    component: Component,
    inlets: Vec<StreamFlow>,
    outlets: Vec<StreamFlow>,
    heat: f64,
    work: f64,
}

impl Form for BalanceForm {
    type Value = Balance;

    fn of(balance: &Balance) -> Self {
        Self {
            format_version: Version,
            r#type: kind::Balance,
            component: balance.component,
            inlets: balance.inlets.clone(),
            outlets: balance.outlets.clone(),
            heat: balance.heat,
            work: balance.work,
        }
    }

    fn read(self) -> Result<Balance, Refused> {
        let Self { component, inlets, outlets, .. } = self;
        let sum = |streams: &[StreamFlow]| streams.iter().fold(0.0, |sum, stream| sum + stream.mass_flow);
        let (enters, leaves) = (sum(&inlets), sum(&outlets));
        if (enters - leaves).abs() > CLOSED * enters.abs().max(leaves.abs()) {
            return Err(Refused::because(format!(
                "{enters} kg/s enter the {component} and {leaves} leave it"
            )));
        }
        let (heat, work) = (finite("heat", self.heat, "W")?, finite("work", self.work, "W")?);
        Ok(Balance { component, inlets, outlets, heat, work })
    }
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ExergyLedgerForm {
    format_version: Version,
    r#type: kind::ExergyLedger,
    destroyed: Vec<Destroyed>,
    power: f64,
    cooling: f64,
    rejected: f64,
    lorenz_cop: Number,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Destroyed {
    component: Component,
    exergy: f64,
}

impl Form for ExergyLedgerForm {
    type Value = ExergyLedger;

    fn of(ledger: &ExergyLedger) -> Self {
        let each = ledger.destroyed.iter();
        Self {
            format_version: Version,
            r#type: kind::ExergyLedger,
            destroyed: each.map(|&(component, exergy)| Destroyed { component, exergy }).collect(),
            power: ledger.power,
            cooling: ledger.cooling,
            rejected: ledger.rejected,
            lorenz_cop: Number(ledger.lorenz),
        }
    }

    fn read(self) -> Result<ExergyLedger, Refused> {
        for (argument, value) in
            [("power", self.power), ("cooling", self.cooling), ("rejected", self.rejected)]
        {
            finite(argument, value, "W")?;
        }
        let mut destroyed = Vec::with_capacity(self.destroyed.len());
        for of in self.destroyed {
            destroyed.push((of.component, finite("exergy", of.exergy, "W")?));
        }
        // Waters of one temperature: JSON knows no infinity.
        let lorenz = if self.lorenz_cop.0.is_nan() { f64::INFINITY } else { self.lorenz_cop.0 };
        let (power, cooling, rejected) = (self.power, self.cooling, self.rejected);
        let ledger = ExergyLedger { destroyed, power, cooling, rejected, lorenz };
        let closure = ledger.closure();
        if closure.is_nan() || closure.abs() > CLOSED {
            let reason =
                format!("cooling, rejected and destroyed exergy miss the power by {closure:e} of it");
            return Err(Refused::because(reason));
        }
        Ok(ledger)
    }
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PressureOptimumForm {
    format_version: Version,
    r#type: kind::PressureOptimum,
    pressures: Vec<f64>,
    exponents: Vec<f64>,
    cop: f64,
    cop_lost_off_by_a_tenth: Vec<Number>,
}

impl Form for PressureOptimumForm {
    type Value = PressureOptimum;

    fn of(optimum: &PressureOptimum) -> Self {
        Self {
            format_version: Version,
            r#type: kind::PressureOptimum,
            pressures: optimum.pressures.clone(),
            exponents: optimum.exponents.clone(),
            cop: optimum.cop,
            cop_lost_off_by_a_tenth: optimum.cop_lost.iter().copied().map(Number).collect(),
        }
    }

    fn read(self) -> Result<PressureOptimum, Refused> {
        let Self { pressures, exponents, cop, cop_lost_off_by_a_tenth: lost, .. } = self;
        let expected = pressures.len();
        for (argument, found) in [("exponents", exponents.len()), ("cop_lost_off_by_a_tenth", lost.len())] {
            if found != expected {
                return Err(Error::WrongLength { argument, found, expected }.into());
            }
        }
        finite("cop", cop, "-")?;
        for (pressure, exponent) in pressures.iter().zip(&exponents) {
            finite("pressure", *pressure, "Pa")?;
            finite("exponent", *exponent, "-")?;
        }
        if pressures.first().is_some_and(|lowest| *lowest <= 0.0) || !pressures.is_sorted() {
            return Err(Refused::because("pressures are positive and rise from stage to stage"));
        }
        Ok(PressureOptimum { pressures, exponents, cop, cop_lost: lost.into_iter().map(|of| of.0).collect() })
    }
}

stored!(
    StreamFlow as StreamForm,
    Balance as BalanceForm,
    ExergyLedger as ExergyLedgerForm,
    PressureOptimum as PressureOptimumForm
);
