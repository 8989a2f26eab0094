//! The mixture model against printed values and against the same model written out over dual numbers.

use num_dual::{DualNum, HyperDual64};

use super::dual_check::residual_terms;
use super::mixture::{GAS_CONSTANT, MOST, Mixture};
use super::residual::Terms;
use crate::error::Error;
use crate::fluid::{self, Fluid, PAIRS};

type Dual = HyperDual64;

fn fluid(designation: &str) -> &'static Fluid {
    fluid::find(designation).expect("a name of the catalogue")
}

fn mixture(designations: &[&str]) -> Mixture {
    let fluids: Vec<_> = designations.iter().map(|name| fluid(name)).collect();
    Mixture::new(&fluids).expect("parameters of all pairs")
}

/// Residual Helmholtz energies at mole fractions (0.4, 0.6): I. H. Bell, J. Phys. Chem. Ref. Data 51 (2022) 013103, Table XI,
/// and 52 (2023) 013101, Table XIII, printed to 14 digits. The paper has R-1234yf with R-134a from an equation of R-1234yf
/// that was not yet published; ours differs by 6e-9.
#[test]
fn printed_values_of_binary_mixtures() {
    for (names, temperature, density, printed, allowed) in [
        (["R-134a", "R-1234ze(E)"], 472.0, 3639.0, -0.46245130334193, 0.5e-14),
        (["R-32", "R-1234yf"], 445.0, 4149.0, -0.47311064743911, 0.5e-14),
        (["R-32", "R-1234ze(E)"], 451.0, 4242.0, -0.48576186760231, 0.5e-14),
        (["R-125", "R-1234yf"], 445.0, 3513.0, -0.46576307479447, 0.5e-14),
        (["R-1234yf", "R-152a"], 469.0, 3930.0, -0.48967548916638, 0.5e-14),
        (["R-1234ze(E)", "R-227ea"], 470.0, 3023.0, -0.45378834770736, 0.5e-14),
        (["R-1234yf", "R-134a"], 462.0, 3698.0, -0.46550859128831, 1e-8),
    ] {
        let mixture = mixture(&names);
        let x = [0.4, 0.6];
        let weight: f64 = mixture.weights().iter().zip(x).map(|(w, x)| w * x).sum();
        let by_volume = mixture.at(temperature, &x.map(|x| x * density)).value / density / weight;
        let equation = mixture.equation(&x);
        let by_mass = equation.residual(temperature, density * mixture.molar_mass(&x)).value;
        for got in [by_volume, by_mass] {
            // Rounding of a sum of some forty terms of up to one, beside half a printed digit.
            assert!((got - printed).abs() <= allowed + 1e-15, "{names:?}: {got:.16} for {printed}");
        }
    }
}

/// The model written out: residual energy per volume over R T.
fn written_out(mixture: &Mixture, temperature: Dual, concentrations: &[Dual]) -> Dual {
    let fluids = mixture.fluids();
    let total = concentrations.iter().fold(Dual::from(0.0), |sum, c| sum + *c);
    let x: Vec<Dual> = concentrations.iter().map(|c| *c / total).collect();
    let (mut reducing_temperature, mut reducing_volume) = (Dual::from(0.0), Dual::from(0.0));
    let mut pairs = Vec::new();
    for (i, first) in fluids.iter().enumerate() {
        reducing_temperature += x[i] * x[i] * first.reducing.temperature;
        reducing_volume += x[i] * x[i] / first.reducing.molar_density;
        for (j, second) in fluids.iter().enumerate().skip(i + 1) {
            let (pair, in_order) = fluid::between(first, second).expect("a pair");
            let cross = |beta: f64, gamma: f64, value: f64| {
                let beta = if in_order { beta } else { beta.recip() };
                x[i] * x[j] * (x[i] + x[j]) / (x[i] * beta * beta + x[j]) * (2.0 * beta * gamma * value)
            };
            let temperatures = first.reducing.temperature * second.reducing.temperature;
            let roots = first.reducing.molar_density.powf(-1.0 / 3.0)
                + second.reducing.molar_density.powf(-1.0 / 3.0);
            reducing_temperature += cross(pair.temperature.beta, pair.temperature.gamma, temperatures.sqrt());
            reducing_volume += cross(pair.volume.beta, pair.volume.gamma, roots.powi(3) / 8.0);
            pairs.push((i, j, pair));
        }
    }
    let delta = total * reducing_volume;
    let tau = reducing_temperature / temperature;
    let mut alpha = Dual::from(0.0);
    let mut weight = Dual::from(0.0);
    for (x, fluid) in x.iter().zip(fluids) {
        let terms = residual_terms(fluid, delta, tau, false);
        alpha += *x * terms.iter().fold(Dual::from(0.0), |sum, term| sum + *term);
        weight += *x * (fluid.gas_constant / GAS_CONSTANT);
    }
    for (i, j, pair) in pairs {
        let Some((factor, departure)) = pair.departure else { continue };
        let mut sum = Dual::from(0.0);
        for term in departure.power {
            let damping = if term.l == 0 { Dual::from(0.0) } else { -delta.powi(i32::from(term.l)) };
            sum += delta.powi(i32::from(term.d)) * tau.powf(term.t) * damping.exp() * term.n;
        }
        for term in departure.bumps {
            let exponent = (delta - term.epsilon).powi(2) * -term.eta - (delta - term.gamma) * term.beta;
            sum += delta.powi(i32::from(term.d)) * tau.powf(term.t) * exponent.exp() * term.n;
        }
        alpha += x[i] * x[j] * sum * factor;
    }
    total * weight * alpha
}

/// A liquid, a dense and a thin gas of mixtures that have every kind of term and pair.
#[test]
fn composition_derivatives_against_dual_numbers() {
    let mixtures: [&[&str]; 6] = [
        &["R-32", "R-125", "R-134a", "R-1234yf", "R-1234ze(E)"],
        &["R-245fa", "R-134a"],
        &["R-1336mzz(Z)", "R-1130(E)"],
        &["R-744", "R-718"],
        &["R-600a", "R-290"],
        &["R-125", "R-143a", "R-134a"],
    ];
    let mut worst = 0.0_f64;
    for names in mixtures {
        let mixture = mixture(names);
        let n = mixture.len();
        for (temperature, reduced) in [(280.0, 2.6), (350.0, 0.9), (300.0, 1e-2), (500.0, 1.4)] {
            let parts: Vec<f64> = (0..n).map(|i| 1.0 + ((3 * i + 1) % 5) as f64).collect();
            let sum: f64 = parts.iter().sum();
            let density = reduced * 5000.0;
            let c: Vec<f64> = parts.iter().map(|part| part / sum * density).collect();
            let got = mixture.at(temperature, &c);
            // Variables: 0 is the temperature, i + 1 the concentration i.
            let dual = |first: usize, second: usize| {
                let variable = |value: f64, place: usize| {
                    let seed = |asked: usize| if asked == place { 1.0 } else { 0.0 };
                    Dual::new(value, seed(first), seed(second), 0.0)
                };
                let concentrations: Vec<Dual> =
                    c.iter().enumerate().map(|(i, c)| variable(*c, i + 1)).collect();
                written_out(&mixture, variable(temperature, 0), &concentrations)
            };
            // Scales: temperatures by themselves, concentrations by the density; larger values by themselves.
            let mut check = |got: f64, expected: f64, scale: f64, what: &str| {
                let off = (got - expected).abs() * scale / density.max(expected.abs() * scale);
                worst = worst.max(off);
                assert!(off < 1e-11, "{names:?} at {temperature} K, {density}: {what} {got} for {expected}");
            };
            let at = dual(0, 0);
            check(got.value, at.re, 1.0, "value");
            check(got.t, at.eps1, temperature, "t");
            check(got.tt, at.eps1eps2, temperature * temperature, "tt");
            for i in 0..n {
                let at = dual(0, i + 1);
                check(got.gradient[i], at.eps2, density, "gradient");
                check(got.gradient_t[i], at.eps1eps2, temperature * density, "gradient_t");
                for j in 0..n {
                    check(got.hessian[i][j], dual(i + 1, j + 1).eps1eps2, density * density, "hessian");
                }
            }
        }
    }
    println!("largest deviation {worst:e}");
}

/// The equation at fixed composition and the energy per volume are one model; a component nobody added changes nothing.
#[test]
fn both_forms_agree_and_absent_components_do_not_count() {
    let blend = mixture(&["R-32", "R-125", "R-134a"]);
    let pair = mixture(&["R-32", "R-134a"]);
    let (temperature, c) = (290.0, [4000.0, 0.0, 8000.0]);
    let (with, without) = (blend.at(temperature, &c), pair.at(temperature, &[c[0], c[2]]));
    assert!((with.value - without.value).abs() <= 1e-13 * without.value.abs());
    assert!((with.gradient[2] - without.gradient[1]).abs() <= 1e-13 * without.gradient[1].abs());
    let total: f64 = c.iter().sum();
    let x = c.map(|c| c / total);
    let equation = blend.equation(&x);
    let at = equation.at(temperature, total * blend.molar_mass(&x));
    let ideal: f64 = blend.weights().iter().zip(c).map(|(w, c)| w * c).sum();
    let slopes: f64 = with.gradient.iter().zip(c).map(|(slope, c)| slope * c).sum();
    let pressure = GAS_CONSTANT * temperature * (ideal + slopes - with.value);
    assert!(
        (at.pressure - pressure).abs() <= 1e-13 * GAS_CONSTANT * temperature * total,
        "{} for {pressure}",
        at.pressure
    );
}

#[test]
fn compositions_by_mass_and_by_amount_are_each_others_inverse() {
    let blend = mixture(&["R-32", "R-125", "R-134a"]);
    let x = blend.mole_fractions(&[0.23, 0.25, 0.52]);
    // R-407C: ASHRAE 34 has 86.2 g/mol.
    assert!((blend.molar_mass(&x) - 0.0862).abs() < 5e-5);
    for (got, expected) in blend.mass_fractions(&x).into_iter().zip([0.23, 0.25, 0.52]) {
        assert!((got - expected).abs() < 1e-15);
    }
}

/// A mixture of one is that fluid.
#[test]
fn a_mixture_of_one_component_is_that_fluid() {
    for fluid in fluid::FLUIDS.into_iter().filter(|fluid| fluid.blend.is_none()) {
        let alone = Mixture::new(&[fluid]).expect("one component").equation(&[1.0]);
        let constants = (fluid.ideal_gas.constant, fluid.ideal_gas.linear);
        let known = super::Equation::new(fluid, constants);
        let temperature = 0.9 * fluid.critical.temperature;
        let density = 0.3 * fluid.critical.molar_density * fluid.molar_mass;
        let (got, expected) = (alone.at(temperature, density), known.at(temperature, density));
        for (got, expected, scale) in [
            (got.pressure, expected.pressure, expected.pressure),
            (got.enthalpy, expected.enthalpy, known.gas_constant * temperature),
            (got.entropy, expected.entropy, known.gas_constant),
        ] {
            assert!((got - expected).abs() <= 1e-12 * scale, "{}: {got} for {expected}", fluid.designation);
        }
    }
}

/// Lemmon and Jacobsen print `xi` (K) and `zeta` (m3/mol): 2 gamma sqrt(T_i T_j) = T_i + T_j + xi, and alike for volumes. The
/// table of parameters has them as gamma; both must say the same to the digits printed.
#[test]
fn printed_and_stored_parameters_of_the_hfc_pairs_agree() {
    for (names, xi, zeta) in [
        (["R-134a", "R-143a"], 2.324, 6.182e-7),
        (["R-134a", "R-152a"], 4.202, 4.223e-6),
        (["R-32", "R-134a"], 7.909, -2.039e-6),
        (["R-32", "R-125"], 28.95, -6.008e-6),
        (["R-125", "R-134a"], -0.4326, -3.453e-7),
        (["R-125", "R-143a"], 5.551, -4.452e-7),
    ] {
        let [a, b] = names.map(fluid);
        let (pair, _) = fluid::between(a, b).expect("a pair");
        let temperatures = [a.reducing.temperature, b.reducing.temperature];
        let volumes = [a, b].map(|fluid| fluid.reducing.molar_density.recip());
        let sum = |of: [f64; 2]| of[0] + of[1];
        let got_xi =
            2.0 * pair.temperature.gamma * (temperatures[0] * temperatures[1]).sqrt() - sum(temperatures);
        let mean = sum(volumes.map(f64::cbrt)).powi(3) / 8.0;
        let got_zeta = 2.0 * pair.volume.gamma * mean - sum(volumes);
        assert!((got_xi - xi).abs() < 5e-3, "{names:?}: xi {got_xi} for {xi}");
        assert!((got_zeta - zeta).abs() < 5e-9, "{names:?}: zeta {got_zeta} for {zeta}");
    }
}

#[test]
fn pairs_stand_in_the_table_once() {
    for (place, pair) in PAIRS.iter().enumerate() {
        let [a, b] = pair.fluids;
        assert!(!std::ptr::eq(a, b));
        let found = fluid::between(b, a).expect("a pair").0;
        assert!(std::ptr::eq(found, pair), "pair {place}: {} and {}", a.designation, b.designation);
    }
}

#[test]
fn what_cannot_be_mixed_is_refused() {
    let refused = Mixture::new(&[fluid("R-123"), fluid("R-1234yf")]).expect_err("no parameters");
    assert_eq!(refused, Error::PairNotPublished { first: "R-123", second: "R-1234yf" });
    assert!(refused.to_string().contains("R-123 and R-1234yf"));
    let twice = Mixture::new(&[fluid("R-32"), fluid("R-32")]);
    assert!(matches!(twice, Err(Error::Inconsistent { arguments: "components", .. })));
    let blend = Mixture::new(&[fluid("R-32"), fluid("R-407C")]);
    assert!(matches!(blend, Err(Error::Inconsistent { arguments: "components", .. })));
    let many: Vec<_> = fluid::FLUIDS.into_iter().take(MOST + 1).collect();
    assert!(matches!(Mixture::new(&many), Err(Error::WrongLength { .. })));
    assert!(matches!(Mixture::new(&[]), Err(Error::WrongLength { .. })));
}

/// The terms of as many fluids as a mixture may have fit into the room there is, whichever they are.
#[test]
fn there_is_room_for_the_terms_of_every_mixture() {
    let sizes: Vec<[usize; 2]> = fluid::FLUIDS
        .into_iter()
        .filter(|fluid| fluid.blend.is_none())
        .map(|fluid| Terms::new(&fluid.residual).sizes())
        .collect();
    let departures = PAIRS.iter().filter_map(|pair| pair.departure);
    let per_pair =
        departures.map(|(_, d)| d.power.len() + d.bumps.len()).max().expect("a departure function");
    for (part, room) in [(0, 256), (1, 192)] {
        let mut counts: Vec<usize> = sizes.iter().map(|size| size[part]).collect();
        counts.sort_unstable();
        let largest: usize = counts.iter().rev().take(MOST).sum();
        println!("{largest} of {room}, and up to {per_pair} a departure function");
        assert!(largest <= room);
    }
}
