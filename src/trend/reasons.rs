//! Why a figure is missing in every row, and what it takes for granted.

use super::analysis::TrendAnalysis;
use super::figure::Figure;
use super::reading::Reading;

impl TrendAnalysis {
    /// Figures that no row can have with these readings, and what the others take for granted.
    pub(super) fn remarks_on_figures(&self, figures: &[Figure], given: &[Reading]) -> (Remarks, Remarks) {
        let (mut unavailable, mut assumptions) = (Vec::new(), Vec::new());
        for &figure in figures {
            if let Some(why) = self.why_not(figure, given) {
                unavailable.push((figure, why));
            } else if let Some(what) = self.assumes(figure, given) {
                assumptions.push((figure, what));
            }
        }
        (unavailable, assumptions)
    }

    /// Why a figure is missing in every row: what the trend lacks for it.
    fn why_not(&self, figure: Figure, given: &[Reading]) -> Option<String> {
        if matches!(figure, Figure::Load | Figure::HeatBalanceTolerance) && self.rating().is_none() {
            return Some(
                "needs the rated capacity and the range of the chilled water at full load".to_owned(),
            );
        }
        let is_tank = |reading: &Reading| match reading {
            Reading::TankPressure(stage) | Reading::TankTemperature(stage) => {
                self.flash_stages().contains(stage)
            }
            _ => false,
        };
        let tank_read = given.iter().any(is_tank);
        let by_saving = matches!(figure, Figure::MeasuredSaving | Figure::CapacityFromPower)
            || (figure == Figure::EconomizerEvidence && !tank_read);
        let drive_lacks = by_saving && self.drive_efficiency().is_none();
        let lacks = |set: &[Reading]| -> Vec<Reading> {
            set.iter().copied().filter(|reading| !given.contains(reading)).collect()
        };
        let mut lacking = Vec::new();
        for needed in figure.needed(self) {
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
        if matches!(figure, Figure::MeasuredSaving | Figure::CapacityFromPower) {
            parts.extend(drive);
        }
        Some(format!("needs {}", parts.join(if simple { ", and " } else { "; and " })))
    }

    /// What a figure takes for granted because the trend has no column for it.
    fn assumes(&self, figure: Figure, given: &[Reading]) -> Option<String> {
        let has = |reading: Reading| given.contains(&reading);
        let of_circuit = matches!(
            figure,
            Figure::EvaporatorMassFlow
                | Figure::StageEfficiency
                | Figure::CompressionPower
                | Figure::RefrigerantHeatRejected
                | Figure::LostPower
                | Figure::CapacityFromPower
                | Figure::MeasuredSaving
        );
        let of_states =
            of_circuit || matches!(figure, Figure::EconomizerPotential | Figure::FlashFraction(_));
        let mut assumed = Vec::new();
        if figure == Figure::EconomizerPotential {
            assumed.push("a working economizer");
        }
        let tanks_read = self.tank_columns(given);
        let all_flash = self.flash_stages() == self.tank_stages();
        if figure == Figure::MeasuredSaving && !(tanks_read && all_flash) {
            assumed.push("a stage efficiency inferred as if no flash gas were taken off");
        } else if of_circuit && !tanks_read {
            assumed.push("working tanks at the pressures of the circuit's rule");
        }
        if of_states && !has(Reading::LiquidLineTemperature) {
            assumed.push("saturated liquid from the condenser");
        }
        let behind_exchanger = self.circuit().suction_exchanger().is_some();
        if of_circuit && (behind_exchanger || !has(Reading::SuctionTemperature)) {
            assumed.push("saturated vapor from the evaporator");
        }
        (!assumed.is_empty()).then(|| assumed.join(", "))
    }
}

/// Texts about figures.
type Remarks = Vec<(Figure, String)>;

/// "a, b and c".
fn and(mut names: Vec<String>) -> String {
    match names.pop() {
        Some(last) if names.is_empty() => last,
        Some(last) => format!("{} and {last}", names.join(", ")),
        None => String::new(),
    }
}
