//! Why a figure is missing in every row, and what it takes for granted.

use super::analysis::TrendAnalysis;
use super::figure::Figure;
use super::reading::{Reading, Readings};

impl TrendAnalysis {
    /// Why a figure is missing in every row: what the trend lacks for it.
    pub(super) fn why_not(&self, figure: Figure, readings: &Readings<'_>) -> Option<String> {
        let is_tank =
            |reading: &Reading| matches!(reading, Reading::TankPressure(_) | Reading::TankTemperature(_));
        let tank_read = readings.columns().any(|(reading, _)| is_tank(&reading));
        let by_saving =
            figure == Figure::MeasuredSaving || (figure == Figure::EconomizerEvidence && !tank_read);
        let drive_lacks = by_saving && self.drive_efficiency().is_none();
        let lacks = |set: &[Reading]| -> Vec<Reading> {
            set.iter().copied().filter(|&reading| readings.column(reading).is_none()).collect()
        };
        let mut lacking = Vec::new();
        for needed in figure.needed(self.tank_stages()) {
            let sets: Vec<Vec<Reading>> = needed.iter().map(|set| lacks(set)).collect();
            if sets.iter().all(|set| !set.is_empty()) {
                lacking.push(sets);
            }
        }
        if lacking.is_empty() {
            return drive_lacks.then(|| {
                "needs the drive efficiency: motor input power is not compression power".to_owned()
            });
        }
        let drive = drive_lacks.then(|| "the drive efficiency".to_owned());
        let names = |set: &[Reading]| set.iter().map(ToString::to_string).collect::<Vec<_>>();
        let mut simple = true;
        let mut parts = Vec::new();
        for sets in lacking {
            let (tanks, others): (Vec<_>, Vec<_>) = sets
                .into_iter()
                .partition(|set| figure == Figure::EconomizerEvidence && set.iter().all(is_tank));
            let mut ways = Vec::new();
            if tanks.is_empty() {
                ways.extend(others.iter().map(|set| and(names(set))));
            } else {
                // What else there is shows the saving; of its ways the nearest.
                ways.push("a tank pressure or temperature".to_owned());
                let least = others.iter().map(Vec::len).min().unwrap_or(0);
                let nearest = others.iter().filter(|set| set.len() == least);
                ways.extend(nearest.map(|set| and(names(set).into_iter().chain(drive.clone()).collect())));
            }
            let short = others.iter().all(|set| set.len() == 1) && tanks.is_empty();
            simple &= short;
            parts.push(ways.join(if short { " or " } else { ", or " }));
        }
        if figure == Figure::MeasuredSaving {
            parts.extend(drive);
        }
        Some(format!("needs {}", parts.join(if simple { ", and " } else { "; and " })))
    }

    /// What a figure takes for granted because the trend has no column for it.
    pub(super) fn assumes(&self, figure: Figure, readings: &Readings<'_>) -> Option<String> {
        let has = |reading: Reading| readings.column(reading).is_some();
        let of_circuit = matches!(
            figure,
            Figure::EvaporatorMassFlow
                | Figure::StageEfficiency
                | Figure::CompressionPower
                | Figure::RefrigerantHeatRejected
                | Figure::MeasuredSaving
        );
        let of_states =
            of_circuit || matches!(figure, Figure::EconomizerPotential | Figure::FlashFraction(_));
        let mut assumed = Vec::new();
        if figure == Figure::EconomizerPotential {
            assumed.push("a working economizer");
        }
        if of_circuit && !self.tank_columns(readings) {
            assumed.push(if figure == Figure::MeasuredSaving {
                "a stage efficiency inferred as if no flash gas were taken off"
            } else {
                "working tanks at the pressures of the circuit's rule"
            });
        }
        if of_states && !has(Reading::LiquidLineTemperature) {
            assumed.push("saturated liquid from the condenser");
        }
        if of_circuit && !has(Reading::SuctionTemperature) {
            assumed.push("saturated vapor from the evaporator");
        }
        (!assumed.is_empty()).then(|| assumed.join(", "))
    }
}

/// "a, b and c".
fn and(mut names: Vec<String>) -> String {
    match names.pop() {
        Some(last) if names.is_empty() => last,
        Some(last) => format!("{} and {last}", names.join(", ")),
        None => String::new(),
    }
}
