//! The multi-fluid model: the Helmholtz energy of a mixture from those of its components at the same reduced state, from
//! reducing functions of the composition and from the departure functions of pairs.
//!
//! The form is that of O. Kunz, W. Wagner, J. Chem. Eng. Data 57 (2012) 3032-3091, doi 10.1021/je300655b, without
//! generalized parameters: each pair has published ones, or the mixture is refused. The gas constant is the mean of those
//! the components were fitted with.

use std::sync::Arc;

use multiversion::multiversion;

use super::Equation;
use super::ideal::Ideal;
use super::reducing::{OfConcentrations, Reducing};
use super::residual::{Alpha, TermLists, Terms};
use super::size::rounding_in_coldest_liquid;
use crate::error::{Error, Result};
use crate::fluid::{self, Departure, Fluid, Gaussian, IdealPower, Mixing, Oscillator, Pair, Power};
use crate::numeric::Lanes;

/// Most components of a mixture.
pub(crate) const MOST: usize = 6;

/// Molar gas constant by which potentials and energies of mixtures are divided, J/(mol K): the exact one of the SI.
pub(crate) const GAS_CONSTANT: f64 = 8.314462618;

/// Several fluids with the parameters of all their pairs. Cheap to clone.
#[derive(Debug, Clone)]
pub(crate) struct Mixture {
    model: Arc<Model>,
}

#[derive(Debug)]
struct Model {
    fluids: Vec<&'static Fluid>,
    /// Gas constants of the components over [`GAS_CONSTANT`].
    weights: Vec<f64>,
    terms: Vec<Terms>,
    temperature: Reducing,
    volume: Reducing,
    departures: Vec<Terms>,
    departing: Vec<Departing>,
}

/// A pair with a departure function.
#[derive(Debug)]
struct Departing {
    pair: [usize; 2],
    factor: f64,
    departure: &'static Departure,
    /// Place of its terms.
    terms: usize,
}

/// The residual Helmholtz energy per volume over R T, mol/m3, at temperature and concentrations, and its derivatives; R is
/// [`GAS_CONSTANT`]. Its slope by a concentration is the residual chemical potential over R T.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PerVolume {
    pub(crate) value: f64,
    pub(crate) t: f64,
    pub(crate) tt: f64,
    pub(crate) gradient: [f64; MOST],
    pub(crate) gradient_t: [f64; MOST],
    pub(crate) hessian: [[f64; MOST]; MOST],
}

impl Mixture {
    /// Finds the parameters of all pairs.
    ///
    /// # Errors
    /// [`Error::PairNotPublished`] for the first pair without; [`Error::WrongLength`] for more components than [`MOST`];
    /// [`Error::Inconsistent`] if a component stands there twice or is a blend itself.
    pub(crate) fn new(fluids: &[&'static Fluid]) -> Result<Self> {
        if fluids.is_empty() || fluids.len() > MOST {
            return Err(Error::WrongLength { argument: "components", found: fluids.len(), expected: MOST });
        }
        let inconsistent = |reason| Error::Inconsistent { arguments: "components", reason };
        let mut pairs = Vec::new();
        for (j, second) in fluids.iter().enumerate() {
            if second.blend.is_some() {
                return Err(inconsistent(format!("{} is a blend itself", second.designation)));
            }
            for (i, first) in fluids.iter().take(j).enumerate() {
                if std::ptr::eq(*first, *second) {
                    return Err(inconsistent(format!("{} stands there twice", first.designation)));
                }
                let (pair, in_order) = fluid::between(first, second).ok_or(Error::PairNotPublished {
                    first: first.designation,
                    second: second.designation,
                })?;
                pairs.push((if in_order { [i, j] } else { [j, i] }, pair));
            }
        }
        Ok(Self { model: Arc::new(Model::new(fluids, &pairs)) })
    }

    #[cfg(test)]
    pub(crate) fn len(&self) -> usize {
        self.model.fluids.len()
    }

    pub(crate) fn fluids(&self) -> &[&'static Fluid] {
        &self.model.fluids
    }

    /// Gas constants of the components over [`GAS_CONSTANT`]: the ideal-gas part of a chemical potential over R T is the weight
    /// times the logarithm of the concentration, and terms of temperature alone.
    #[cfg(test)]
    pub(crate) fn weights(&self) -> &[f64] {
        &self.model.weights
    }

    /// kg/mol
    pub(crate) fn molar_mass(&self, mole_fractions: &[f64]) -> f64 {
        mole_fractions.iter().zip(self.fluids()).map(|(x, fluid)| x * fluid.molar_mass).sum()
    }

    /// Mole fractions of a composition by mass.
    pub(crate) fn mole_fractions(&self, mass_fractions: &[f64]) -> Vec<f64> {
        shares(mass_fractions.iter().zip(self.fluids()).map(|(w, fluid)| w / fluid.molar_mass))
    }

    /// Mass fractions of a composition by amount of substance.
    pub(crate) fn mass_fractions(&self, mole_fractions: &[f64]) -> Vec<f64> {
        shares(mole_fractions.iter().zip(self.fluids()).map(|(x, fluid)| x * fluid.molar_mass))
    }

    /// The fundamental equation at a fixed composition, on a mass basis. Integration constants are those of the components, so
    /// that enthalpies and entropies of different compositions belong together.
    pub(crate) fn equation(&self, mole_fractions: &[f64]) -> Equation {
        let model = &*self.model;
        let parts =
            || mole_fractions.iter().copied().zip(model.fluids.iter().copied()).filter(|(x, _)| *x > 0.0);
        let molar_mass: f64 = parts().map(|(x, fluid)| x * fluid.molar_mass).sum();
        let gas_constant: f64 = parts().map(|(x, fluid)| x * fluid.gas_constant).sum();
        let reducing_temperature = model.temperature.over_total(mole_fractions, 2).value;
        let reducing_density = model.volume.over_total(mole_fractions, 2).value.recip();
        let mut ideal = Ideal::default();
        let mut lists = TermLists::default();
        for (x, fluid) in parts() {
            let share = x * fluid.gas_constant / gas_constant;
            let published = &fluid.ideal_gas;
            let warmth = fluid.reducing.temperature / reducing_temperature;
            let thinness = x * reducing_density / fluid.reducing.molar_density;
            ideal.constant +=
                share * (published.constant + published.logarithm * warmth.ln() + thinness.ln());
            ideal.linear += share * published.linear * warmth;
            ideal.logarithm += share * published.logarithm;
            let powers = published.power.iter();
            ideal.power.extend(powers.map(|p| IdealPower { n: share * p.n * warmth.powf(p.t), t: p.t }));
            let oscillators = published.oscillators.iter();
            ideal
                .oscillators
                .extend(oscillators.map(|o| Oscillator { n: share * o.n, theta: o.theta * warmth }));
            lists.add(&TermLists::of(&fluid.residual), x);
        }
        for Departing { pair: [i, j], factor, departure, .. } in &model.departing {
            let share = factor * mole_fractions[*i] * mole_fractions[*j];
            if share != 0.0 {
                lists.add(&terms_of(departure), share);
            }
        }
        Equation {
            components: parts().collect(),
            gas_constant: gas_constant / molar_mass,
            rounding: parts().map(|(x, fluid)| x * rounding_in_coldest_liquid(fluid)).sum(),
            reducing_temperature,
            reducing_density: reducing_density * molar_mass,
            ideal,
            terms: Terms::of(&lists),
            lowered: [0.0; 2],
        }
    }

    /// The residual Helmholtz energy per volume at temperature (K) and concentrations (mol/m3), some of which may be zero.
    pub(crate) fn at(&self, temperature: f64, concentrations: &[f64]) -> PerVolume {
        self.model.at(temperature, concentrations)
    }
}

impl Model {
    fn new(fluids: &[&'static Fluid], pairs: &[([usize; 2], &'static Pair)]) -> Self {
        let temperatures: Vec<f64> = fluids.iter().map(|fluid| fluid.reducing.temperature).collect();
        let volumes: Vec<f64> = fluids.iter().map(|fluid| fluid.reducing.molar_density.recip()).collect();
        let of_pairs = |mixing: fn(&Pair) -> Mixing, mean: fn(f64, f64) -> f64, values: &[f64]| {
            let of_pair =
                |([i, j], pair): &([usize; 2], &Pair)| ([*i, *j], mixing(pair), mean(values[*i], values[*j]));
            pairs.iter().map(of_pair).collect::<Vec<_>>().into_iter()
        };
        let crossed_temperatures = of_pairs(|pair| pair.temperature, |a, b| (a * b).sqrt(), &temperatures);
        let crossed_volumes =
            of_pairs(|pair| pair.volume, |a, b| (a.cbrt() + b.cbrt()).powi(3) / 8.0, &volumes);
        let mut known: Vec<&'static Departure> = Vec::new();
        let mut departing = Vec::new();
        for (places, pair) in pairs {
            let Some((factor, departure)) = pair.departure else { continue };
            let terms = known.iter().position(|one| std::ptr::eq(*one, departure)).unwrap_or_else(|| {
                known.push(departure);
                known.len() - 1
            });
            departing.push(Departing { pair: *places, factor, departure, terms });
        }
        Self {
            fluids: fluids.to_vec(),
            weights: fluids.iter().map(|fluid| fluid.gas_constant / GAS_CONSTANT).collect(),
            terms: fluids.iter().map(|fluid| Terms::new(&fluid.residual)).collect(),
            temperature: Reducing::new(temperatures.clone(), crossed_temperatures),
            volume: Reducing::new(volumes.clone(), crossed_volumes),
            departures: known.into_iter().map(|departure| Terms::of(&terms_of(departure))).collect(),
            departing,
        }
    }

    fn at(&self, temperature: f64, concentrations: &[f64]) -> PerVolume {
        let n = self.fluids.len();
        let total: f64 = concentrations.iter().sum();
        let delta = self.volume.over_total(concentrations, 1);
        let tau = self.temperature.over_total(concentrations, 2);
        let inverse = tau.value / temperature;

        // g = sum c_i alpha_i + sum c_i c_j f alpha_ij / c, and its slopes by the concentrations at constant delta and tau.
        let mut g = Alpha::default();
        let mut slopes = [Alpha::default(); MOST];
        let mut curvature = [[0.0; MOST]; MOST];
        for (i, terms) in self.terms.iter().enumerate() {
            let alpha = alpha_at(terms, delta.value, inverse);
            g.add(&alpha, concentrations[i]);
            slopes[i] = alpha;
        }
        let mut crossed = Alpha::default();
        for (place, terms) in self.departures.iter().enumerate() {
            let alpha = alpha_at(terms, delta.value, inverse);
            for Departing { pair: [i, j], factor, .. } in self.departing.iter().filter(|d| d.terms == place) {
                let (a, b) = (concentrations[*i], concentrations[*j]);
                crossed.add(&alpha, factor * a * b / total);
                slopes[*i].add(&alpha, factor * b / total);
                slopes[*j].add(&alpha, factor * a / total);
                curvature[*i][*j] += factor * alpha.value / total;
                curvature[*j][*i] += factor * alpha.value / total;
                // The slope of 1/c with the slopes of the product.
                for (place, other) in [(*i, b), (*j, a)] {
                    let slope = factor * other * alpha.value / (total * total);
                    curvature[place][..n].iter_mut().for_each(|entry| *entry -= slope);
                    curvature[..n].iter_mut().for_each(|row| row[place] -= slope);
                }
            }
        }
        g.add(&crossed, 1.0);
        for slope in &mut slopes[..n] {
            slope.add(&crossed, -1.0 / total);
        }
        for row in &mut curvature[..n] {
            for entry in &mut row[..n] {
                *entry += 2.0 * crossed.value / (total * total);
            }
        }
        let energy = Chained { g, slopes, curvature, delta, tau, temperature, n }.per_volume();
        self.weighted(&energy, concentrations, total)
    }

    /// The same times the mean weight, which itself depends on the concentrations.
    fn weighted(&self, energy: &PerVolume, concentrations: &[f64], total: f64) -> PerVolume {
        let n = self.fluids.len();
        let mean = concentrations.iter().zip(&self.weights).map(|(c, w)| c * w).sum::<f64>() / total;
        let mut scaled = *energy;
        scaled.value *= mean;
        scaled.t *= mean;
        scaled.tt *= mean;
        for i in 0..n {
            let slope = (self.weights[i] - mean) / total;
            scaled.gradient[i] = energy.gradient[i] * mean + slope * energy.value;
            scaled.gradient_t[i] = energy.gradient_t[i] * mean + slope * energy.t;
            for j in 0..n {
                let other = (self.weights[j] - mean) / total;
                scaled.hessian[i][j] =
                    energy.hessian[i][j] * mean + slope * energy.gradient[j] + other * energy.gradient[i]
                        - (slope + other) / total * energy.value;
            }
        }
        scaled
    }
}

/// A function of concentrations, delta and tau, with delta and tau functions of the concentrations.
struct Chained {
    g: Alpha,
    slopes: [Alpha; MOST],
    curvature: [[f64; MOST]; MOST],
    delta: OfConcentrations,
    tau: OfConcentrations,
    temperature: f64,
    n: usize,
}

impl Chained {
    /// Derivatives at constant volume and temperature, by the chain rule.
    fn per_volume(&self) -> PerVolume {
        let Self { g, slopes, curvature, delta, tau, temperature, n } = self;
        let n = *n;
        let relative = |of: &OfConcentrations| of.gradient.map(|slope| slope / of.value);
        let (d, t) = (relative(delta), relative(tau));
        let mut energy = PerVolume {
            value: g.value,
            t: -g.t / temperature,
            tt: (g.tt + 2.0 * g.t) / (temperature * temperature),
            gradient: [0.0; MOST],
            gradient_t: [0.0; MOST],
            hessian: [[0.0; MOST]; MOST],
        };
        for i in 0..n {
            energy.gradient[i] = slopes[i].value + g.d * d[i] + g.t * t[i];
            energy.gradient_t[i] = -(slopes[i].t + g.dt * d[i] + (g.tt + g.t) * t[i]) / temperature;
            for j in 0..n {
                energy.hessian[i][j] = curvature[i][j]
                    + slopes[i].d * d[j]
                    + slopes[j].d * d[i]
                    + slopes[i].t * t[j]
                    + slopes[j].t * t[i]
                    + g.dd * d[i] * d[j]
                    + g.dt * (d[i] * t[j] + d[j] * t[i])
                    + g.tt * t[i] * t[j]
                    + g.d * delta.hessian[i][j] / delta.value
                    + g.t * tau.hessian[i][j] / tau.value;
            }
        }
        energy
    }
}

/// The terms of a departure function in the forms fluids have. A bump `-eta (delta - epsilon)^2 - beta (delta - gamma)` is one
/// around another density, or without `eta` an exponential.
fn terms_of(departure: &Departure) -> TermLists {
    let mut lists = TermLists { power: departure.power.to_vec(), ..TermLists::default() };
    for bump in departure.bumps {
        let fluid::DensityBump { n, t, d, eta, epsilon, beta, gamma } = *bump;
        if eta == 0.0 {
            lists.power.push(Power { n: n * (beta * gamma).exp(), t, d, l: 1, g: beta, m: 0.0 });
        } else {
            let center = epsilon - 0.5 * beta / eta;
            let n = n * (eta * (center * center - epsilon * epsilon) + beta * gamma).exp();
            lists.gaussian.push(Gaussian { n, t, d, eta, beta: 0.0, gamma: 0.0, epsilon: center });
        }
    }
    lists
}

/// Positive parts over their sum.
fn shares(parts: impl Iterator<Item = f64>) -> Vec<f64> {
    let parts: Vec<f64> = parts.collect();
    let sum: f64 = parts.iter().sum();
    parts.into_iter().map(|part| part / sum).collect()
}

#[multiversion(targets("x86_64+avx+avx2+avx512f", "x86_64+avx+avx2"))]
fn alpha_at(terms: &Terms, delta: f64, tau: f64) -> Alpha {
    terms.evaluate(Lanes([delta]), Lanes([tau])).lane(0)
}
