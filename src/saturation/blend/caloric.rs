//! Enthalpy and entropy of a phase per volume, and their slopes, with the integration constants of the components.

use super::side::Side;
use super::{Components, GAS_CONSTANT, PerComponent};
use crate::helmholtz::MOST;

/// Density at which a gas is ideal to the last bit, kg/m3.
const IDEAL: f64 = 1e-20;

/// Ideal gases of the components at a temperature, per mole.
#[derive(Debug, Clone, Copy)]
pub(super) struct IdealGases {
    energy: PerComponent,
    heat_capacity: PerComponent,
    /// At 1 mol/m3.
    entropy: PerComponent,
    gas_constants: PerComponent,
}

impl IdealGases {
    pub(super) fn new(components: &Components, temperature: f64) -> Self {
        let nothing = [0.0; MOST];
        let mut gases =
            Self { energy: nothing, heat_capacity: nothing, entropy: nothing, gas_constants: nothing };
        for (i, equation) in components.pure.iter().enumerate() {
            let at = equation.at(temperature, IDEAL);
            let mass = components.molar_masses[i];
            let gas_constant = components.weights[i] * GAS_CONSTANT;
            gases.energy[i] = at.internal_energy * mass;
            gases.heat_capacity[i] = at.cv * mass;
            gases.entropy[i] = at.entropy * mass + gas_constant * (IDEAL / mass).ln();
            gases.gas_constants[i] = gas_constant;
        }
        gases
    }
}

/// Something per volume, with its slopes with temperature and with the logarithms of the concentrations.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sloped {
    pub(super) value: f64,
    pub(super) t: f64,
    pub(super) log: PerComponent,
}

/// Enthalpy, J/m3.
pub(super) fn enthalpy(side: &Side, gases: &IdealGases) -> Sloped {
    let Side { n, temperature, concentrations, model, .. } = side;
    let rt = GAS_CONSTANT * temperature;
    let sum = |of: &PerComponent| -> f64 { (0..*n).map(|i| concentrations[i] * of[i]).sum() };
    let (pressure, pressure_t) = (side.pressure(), side.pressure_t());
    let mut log = [0.0; MOST];
    for j in 0..*n {
        let energy = gases.energy[j] - rt * temperature * model.gradient_t[j];
        log[j] = concentrations[j] * energy + rt * side.pressure_log(j);
    }
    Sloped {
        value: sum(&gases.energy) + rt * (pressure - temperature * model.t),
        t: sum(&gases.heat_capacity)
            + GAS_CONSTANT * (pressure - 2.0 * temperature * model.t)
            + rt * (pressure_t - temperature * model.tt),
        log,
    }
}

/// Internal energy, J/m3.
pub(super) fn internal_energy(side: &Side, gases: &IdealGases) -> Sloped {
    let Side { n, temperature, concentrations, model, .. } = side;
    let rt = GAS_CONSTANT * temperature;
    let sum = |of: &PerComponent| -> f64 { (0..*n).map(|i| concentrations[i] * of[i]).sum() };
    let mut log = [0.0; MOST];
    for j in 0..*n {
        log[j] = concentrations[j] * (gases.energy[j] - rt * temperature * model.gradient_t[j]);
    }
    Sloped {
        value: sum(&gases.energy) - rt * temperature * model.t,
        t: sum(&gases.heat_capacity) - rt * (2.0 * model.t + temperature * model.tt),
        log,
    }
}

/// Entropy, J/(m3 K).
pub(super) fn entropy(side: &Side, gases: &IdealGases) -> Sloped {
    let Side { n, temperature, concentrations, model, .. } = side;
    let partial = |i: usize| gases.entropy[i] - gases.gas_constants[i] * concentrations[i].ln();
    let ideal: f64 = (0..*n).map(|i| concentrations[i] * partial(i)).sum();
    let heat_capacity: f64 = (0..*n).map(|i| concentrations[i] * gases.heat_capacity[i]).sum();
    let mut log = [0.0; MOST];
    for j in 0..*n {
        let residual = GAS_CONSTANT * (model.gradient[j] + temperature * model.gradient_t[j]);
        log[j] = concentrations[j] * (partial(j) - gases.gas_constants[j] - residual);
    }
    Sloped {
        value: ideal - GAS_CONSTANT * (model.value + temperature * model.t),
        t: heat_capacity / temperature - GAS_CONSTANT * (2.0 * model.t + temperature * model.tt),
        log,
    }
}
