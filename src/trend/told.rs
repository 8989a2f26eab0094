//! What a row tells.

use super::figure::Figure;
use super::number::Number;
use super::row::TANKS;
use crate::units;

/// What a row tells; NaN where it does not.
#[derive(Debug, Clone, Copy)]
pub(super) struct Told<R> {
    pub(super) evaporating_temperature: R,
    pub(super) condensing_temperature: R,
    pub(super) evaporator_saturation_difference: R,
    pub(super) condenser_saturation_difference: R,
    pub(super) water_lift: R,
    pub(super) evaporator_approach: R,
    pub(super) condenser_approach: R,
    pub(super) subcooling: R,
    pub(super) suction_superheat: R,
    pub(super) discharge_superheat: R,
    pub(super) capacity: R,
    pub(super) load: R,
    pub(super) heat_rejected: R,
    pub(super) heat_balance_tolerance: R,
    pub(super) power: R,
    pub(super) cop: R,
    pub(super) evaporator_ua: R,
    pub(super) condenser_ua: R,
    pub(super) evaporator_mass_flow: R,
    pub(super) stage_efficiency: R,
    pub(super) stage_efficiency_interval: R,
    pub(super) compression_power: R,
    pub(super) refrigerant_heat_rejected: R,
    pub(super) capacity_from_power: R,
    pub(super) tank_pressure_exponents: [R; TANKS],
    pub(super) flash_fractions: [R; TANKS],
    pub(super) economizer_potential: R,
    pub(super) measured_saving: R,
    /// The same with a stage efficiency inferred as if the economizer worked.
    pub(super) saving_if_working: R,
    pub(super) economizer_evidence: R,
}

impl<R: Number> Told<R> {
    pub(super) fn nothing() -> Self {
        let none = R::constant(f64::NAN);
        Self {
            evaporating_temperature: none,
            condensing_temperature: none,
            evaporator_saturation_difference: none,
            condenser_saturation_difference: none,
            water_lift: none,
            evaporator_approach: none,
            condenser_approach: none,
            subcooling: none,
            suction_superheat: none,
            discharge_superheat: none,
            capacity: none,
            load: none,
            heat_rejected: none,
            heat_balance_tolerance: none,
            power: none,
            cop: none,
            evaporator_ua: none,
            condenser_ua: none,
            evaporator_mass_flow: none,
            stage_efficiency: none,
            stage_efficiency_interval: none,
            compression_power: none,
            refrigerant_heat_rejected: none,
            capacity_from_power: none,
            tank_pressure_exponents: [none; TANKS],
            flash_fractions: [none; TANKS],
            economizer_potential: none,
            measured_saving: none,
            saving_if_working: none,
            economizer_evidence: none,
        }
    }

    pub(super) fn get(&self, figure: Figure) -> R {
        let none = R::constant(f64::NAN);
        let of_tank =
            |values: &[R], stage: u8| values.get(usize::from(stage).wrapping_sub(2)).copied().unwrap_or(none);
        match figure {
            Figure::EvaporatingTemperature => self.evaporating_temperature,
            Figure::CondensingTemperature => self.condensing_temperature,
            Figure::EvaporatorSaturationDifference => self.evaporator_saturation_difference,
            Figure::CondenserSaturationDifference => self.condenser_saturation_difference,
            Figure::RefrigerantLift => self.condensing_temperature - self.evaporating_temperature,
            Figure::WaterLift => self.water_lift,
            Figure::EvaporatorApproach => self.evaporator_approach,
            Figure::CondenserApproach => self.condenser_approach,
            Figure::Subcooling => self.subcooling,
            Figure::SuctionSuperheat => self.suction_superheat,
            Figure::DischargeSuperheat => self.discharge_superheat,
            Figure::Capacity => self.capacity,
            Figure::Load => self.load,
            Figure::HeatRejected => self.heat_rejected,
            Figure::HeatBalance => (self.capacity + self.power - self.heat_rejected) / self.heat_rejected,
            Figure::HeatBalanceTolerance => self.heat_balance_tolerance,
            Figure::Cop => self.cop,
            Figure::KwPerTon => {
                let (cop, per_ton) = (self.cop.value(), units::kw_per_ton_from_cop(self.cop.value()));
                R::chain(per_ton, [self.cop, self.cop], || [-per_ton / cop, 0.0])
            }
            Figure::EvaporatorUa => self.evaporator_ua,
            Figure::CondenserUa => self.condenser_ua,
            Figure::EvaporatorMassFlow => self.evaporator_mass_flow,
            Figure::StageEfficiency => self.stage_efficiency,
            Figure::StageEfficiencyInterval => self.stage_efficiency_interval,
            Figure::CompressionPower => self.compression_power,
            Figure::RefrigerantHeatRejected => self.refrigerant_heat_rejected,
            Figure::LostPower => self.power - self.compression_power,
            Figure::CapacityFromPower => self.capacity_from_power,
            Figure::TankPressureExponent(stage) => of_tank(&self.tank_pressure_exponents, stage),
            Figure::FlashFraction(stage) => of_tank(&self.flash_fractions, stage),
            Figure::EconomizerPotential => self.economizer_potential,
            Figure::MeasuredSaving => self.measured_saving,
            Figure::EconomizerEvidence => self.economizer_evidence,
        }
    }
}
