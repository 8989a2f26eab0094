//! Two phases that together have the blend's composition.

#[cfg(test)]
use super::GAS_CONSTANT;
use super::caloric::{self, IdealGases};
use super::incipient::Point;
use super::side::Side;
use super::{Blend, PerComponent, stability, wanted};
use crate::error::Result;
use crate::helmholtz::MOST;

/// Liquid and vapor in equilibrium.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Split {
    /// K
    pub(crate) temperature: f64,
    /// Pa
    pub(crate) pressure: f64,
    /// Amount of vapor over all, mol/mol: zero at a bubble point, one at a dew point.
    pub(crate) vapor_fraction: f64,
    /// Concentrations, mol/m3.
    pub(super) liquid: PerComponent,
    pub(super) vapor: PerComponent,
}

/// One phase of a split.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Composed {
    pub(crate) mole_fractions: PerComponent,
    /// kg/m3
    pub(crate) density: f64,
    /// J/kg, with the integration constants of the components.
    pub(crate) enthalpy: f64,
    /// J/(kg K)
    pub(crate) entropy: f64,
}

impl Split {
    /// The split of a bubble or dew point.
    pub(crate) fn of(blend: &Blend<'_>, point: &Point) -> Self {
        let [bulk, incipient] = point.concentrations(blend);
        let bubble = point.is_bubble(blend);
        let (liquid, vapor) = if bubble { (bulk, incipient) } else { (incipient, bulk) };
        let vapor_fraction = if bubble { 0.0 } else { 1.0 };
        Self { temperature: point.temperature, pressure: point.pressure, vapor_fraction, liquid, vapor }
    }

    /// Start for a split between two others, or a little beyond.
    pub(super) fn between(blend: &Blend<'_>, [a, b]: [&Self; 2], vapor_fraction: f64) -> Self {
        let share = (vapor_fraction - a.vapor_fraction) / (b.vapor_fraction - a.vapor_fraction);
        let mix = |a: f64, b: f64| a + share * (b - a);
        let log = |a: f64, b: f64| mix(a.ln(), b.ln()).exp();
        let (mut liquid, mut vapor) = ([0.0; MOST], [0.0; MOST]);
        for i in 0..blend.n {
            liquid[i] = log(a.liquid[i], b.liquid[i]);
            vapor[i] = log(a.vapor[i], b.vapor[i]);
        }
        // Liquids are about equally dense beside their reducing densities.
        let [of_a, of_b, of_mean] = [&a.liquid, &b.liquid, &liquid].map(|of| compactness(blend, of));
        let scale = mix(of_a, of_b) / of_mean;
        let liquid = liquid.map(|c| c * scale);
        let (temperature, pressure) = (mix(a.temperature, b.temperature), log(a.pressure, b.pressure));
        Self { temperature, pressure, vapor_fraction, liquid, vapor }
            .with_vapor_fraction(blend, vapor_fraction)
    }

    /// Start for a split near this one: K of the mole fractions is kept, and the density of the vapor, and that of the liquid beside
    /// its reducing density; amounts are balanced.
    ///
    /// An equation may have a second, looser liquid: the volume has to follow the composition.
    pub(super) fn with_vapor_fraction(&self, blend: &Blend<'_>, vapor_fraction: f64) -> Self {
        let (dense, thin) = (total(&self.liquid), total(&self.vapor));
        let (mut x, mut y) = ([0.0; MOST], [0.0; MOST]);
        for i in 0..blend.n {
            let k = (self.vapor[i] / self.liquid[i]) * (dense / thin);
            x[i] = blend.z[i] / (1.0 + vapor_fraction * (k - 1.0));
            y[i] = k * x[i];
        }
        let scale = compactness(blend, &self.liquid) / compactness(blend, &x);
        let thinness = thin / total(&y);
        Self { vapor_fraction, liquid: x.map(|x| x * scale), vapor: y.map(|y| y * thinness), ..*self }
    }

    /// Whether there is some of both phases.
    pub(super) fn is_mixture(&self) -> bool {
        self.vapor_fraction > 0.0 && self.vapor_fraction < 1.0
    }

    /// Whether the two phases hold together against falling apart into others; both lie on one tangent plane.
    ///
    /// # Errors
    ///
    /// What the saturation of the components says, from which phases to try are made.
    pub(crate) fn is_stable(&self, blend: &Blend<'_>) -> Result<bool> {
        Ok(stability::better_phase(blend, self.temperature, self.liquid)?.is_none())
    }

    /// Slopes of temperature, volume and entropy of a mole of the blend with the logarithm of pressure at constant enthalpy, and with enthalpy
    /// at constant pressure; `None` where they are not determined.
    pub(crate) fn slopes(&self, blend: &Blend<'_>) -> Option<[[f64; 3]; 2]> {
        wanted::slopes(blend, self)
    }

    /// Mass of vapor over all.
    pub(crate) fn quality(&self, blend: &Blend<'_>) -> f64 {
        if self.vapor_fraction >= 1.0 {
            return 1.0;
        }
        self.vapor_fraction * molar_mass(blend, &self.vapor) / blend.molar_mass()
    }

    pub(crate) fn liquid(&self, blend: &Blend<'_>) -> Composed {
        composed(blend, self.temperature, &self.liquid)
    }

    pub(crate) fn vapor(&self, blend: &Blend<'_>) -> Composed {
        composed(blend, self.temperature, &self.vapor)
    }

    /// Both phases together: volume, enthalpy and entropy of a mole of the blend.
    pub(crate) fn totals(&self, blend: &Blend<'_>) -> [f64; 3] {
        let gases = IdealGases::new(blend.components, self.temperature);
        let of = |concentrations: &PerComponent, amount: f64| {
            let side = Side::new(blend, self.temperature, *concentrations);
            let volume = amount / side.molar_density();
            let (h, s) = (caloric::enthalpy(&side, &gases), caloric::entropy(&side, &gases));
            [volume, volume * h.value, volume * s.value]
        };
        let liquid = of(&self.liquid, 1.0 - self.vapor_fraction);
        let vapor = of(&self.vapor, self.vapor_fraction);
        std::array::from_fn(|i| liquid[i] + vapor[i])
    }

    /// By how much equilibrium is missed: potentials over R T, pressures over the larger of stiffness and pressure, and amounts
    /// over those of the blend.
    #[cfg(test)]
    pub(super) fn largest_residual(&self, blend: &Blend<'_>) -> f64 {
        let l = Side::new(blend, self.temperature, self.liquid);
        let v = Side::new(blend, self.temperature, self.vapor);
        let pressure = self.pressure / (GAS_CONSTANT * self.temperature);
        let of_pressure =
            |side: &Side| (side.pressure() - pressure).abs() / side.stiffness().abs().max(pressure);
        let of_component = |i: usize| {
            let liquid = (1.0 - self.vapor_fraction) * self.liquid[i] / l.molar_density();
            let vapor = self.vapor_fraction * self.vapor[i] / v.molar_density();
            let amounts = (liquid + vapor) / blend.z[i] - 1.0;
            (l.potential(i) - v.potential(i)).abs().max(amounts.abs())
        };
        (0..blend.n).map(of_component).fold(of_pressure(&l).max(of_pressure(&v)), f64::max)
    }
}

/// Molar density, mol/m3.
pub(super) fn total(concentrations: &PerComponent) -> f64 {
    concentrations.iter().sum()
}

/// Density over the reducing densities of the components.
fn compactness(blend: &Blend<'_>, concentrations: &PerComponent) -> f64 {
    let fluids = blend.components.fluids().iter();
    fluids.zip(concentrations).map(|(fluid, c)| c / fluid.reducing.molar_density).sum()
}

fn molar_mass(blend: &Blend<'_>, concentrations: &PerComponent) -> f64 {
    let mass: f64 = concentrations.iter().zip(&blend.components.molar_masses).map(|(c, m)| c * m).sum();
    mass / total(concentrations)
}

fn composed(blend: &Blend<'_>, temperature: f64, concentrations: &PerComponent) -> Composed {
    let side = Side::new(blend, temperature, *concentrations);
    let gases = IdealGases::new(blend.components, temperature);
    let total = side.molar_density();
    let density = total * molar_mass(blend, concentrations);
    Composed {
        mole_fractions: concentrations.map(|c| c / total),
        density,
        enthalpy: caloric::enthalpy(&side, &gases).value / density,
        entropy: caloric::entropy(&side, &gases).value / density,
    }
}
