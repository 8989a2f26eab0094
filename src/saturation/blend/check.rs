//! The blends of the trade along their whole lines, and all pairs.

use super::incipient::largest_residual;
use super::side::Side;
use super::*;
use crate::fluid;

/// Compositions in mass per cent, of ASHRAE 34 from memory.
const BLENDS: [(&str, &[(&str, f64)]); 17] = [
    ("R-404A", &[("R-125", 44.0), ("R-143a", 52.0), ("R-134a", 4.0)]),
    ("R-407C", &[("R-32", 23.0), ("R-125", 25.0), ("R-134a", 52.0)]),
    ("R-410A", &[("R-32", 50.0), ("R-125", 50.0)]),
    (
        "R-448A",
        &[("R-32", 26.0), ("R-125", 26.0), ("R-1234yf", 20.0), ("R-134a", 21.0), ("R-1234ze(E)", 7.0)],
    ),
    ("R-449A", &[("R-32", 24.3), ("R-125", 24.7), ("R-1234yf", 25.3), ("R-134a", 25.7)]),
    ("R-450A", &[("R-134a", 42.0), ("R-1234ze(E)", 58.0)]),
    ("R-452B", &[("R-32", 67.0), ("R-125", 7.0), ("R-1234yf", 26.0)]),
    ("R-454B", &[("R-32", 68.9), ("R-1234yf", 31.1)]),
    ("R-454C", &[("R-32", 21.5), ("R-1234yf", 78.5)]),
    ("R-466A", &[("R-32", 49.0), ("R-125", 11.5), ("R-13I1", 39.5)]),
    ("R-500", &[("R-12", 73.8), ("R-152a", 26.2)]),
    ("R-507A", &[("R-125", 50.0), ("R-143a", 50.0)]),
    ("R-513A", &[("R-1234yf", 56.0), ("R-134a", 44.0)]),
    ("R-514A", &[("R-1336mzz(Z)", 74.7), ("R-1130(E)", 25.3)]),
    ("R-515A", &[("R-1234ze(E)", 88.0), ("R-227ea", 12.0)]),
    ("R-515B", &[("R-1234ze(E)", 91.1), ("R-227ea", 8.9)]),
    ("R-516A", &[("R-1234yf", 77.5), ("R-134a", 8.5), ("R-152a", 14.0)]),
];

fn components(names: &[&str]) -> Components {
    let fluids: Vec<_> = names.iter().map(|name| fluid::find(name).unwrap()).collect();
    Components::new(&fluids).unwrap()
}

/// Does something with a blend and its line.
fn with<T>(name: &str, act: impl FnOnce(&Blend<'_>, &Envelope) -> T) -> T {
    let (_, parts) = BLENDS.into_iter().find(|(known, _)| *known == name).unwrap();
    let (names, masses): (Vec<_>, Vec<_>) = parts.iter().copied().unzip();
    let components = components(&names);
    let fractions = components.mixture().mole_fractions(&masses);
    let blend = components.blend(&fractions).unwrap();
    act(&blend, &Envelope::new(&blend).unwrap())
}

#[test]
fn lines_are_in_equilibrium_from_end_to_end() {
    for (name, _) in BLENDS {
        with(name, |blend, line| {
            for bubble in [true, false] {
                let at = |t: f64| if bubble { line.bubble(blend, t) } else { line.dew(blend, t) };
                let at_pressure = |p: f64| {
                    if bubble { line.bubble_at_pressure(blend, p) } else { line.dew_at_pressure(blend, p) }
                };
                let hottest = line.hottest(bubble);
                let densest = at_pressure(line.highest_pressures()[usize::from(!bubble)]).unwrap();
                let mut before = 0.0;
                // Where phases become alike, and the line turns back, too.
                let near_top = (1..30).map(|i| 1.0 - 0.3_f64.powi(i));
                for share in
                    (0..=300).map(|i| f64::from(i) / 300.0).filter(|share| *share < 0.7).chain(near_top)
                {
                    let t = (line.coldest() + share * (hottest - line.coldest())).min(hottest);
                    let point = at(t).unwrap();
                    assert_eq!(point.temperature, t);
                    let residual = largest_residual(blend, &point);
                    assert!(residual < 1e-11, "{name} {t} K: {residual:e}");
                    assert!(bubble == point.is_bubble(blend) || point.contrast() < 1e-6, "{name} {t} K");
                    // Beyond the highest pressure the bubble point at a pressure is the colder one.
                    if bubble && t > densest.temperature {
                        continue;
                    }
                    // Where it turns back, rounding of the temperature leaves its root of the pressure.
                    assert!(point.pressure > before || share > 0.9999, "{name} {t} K");
                    before = point.pressure;
                    let back = at_pressure(point.pressure).unwrap();
                    assert_eq!(back.pressure, point.pressure);
                    let trip = (back.temperature / t - 1.0).abs();
                    assert!(trip < 1e-11, "{name} {t} K: {trip:e}");
                }
            }
        });
    }
}

/// By how much two splits differ: temperature, pressure, and quality where that follows.
fn differ(a: &Split, b: &Split) -> f64 {
    (a.temperature / b.temperature - 1.0).abs().max((a.pressure / b.pressure - 1.0).abs())
}

#[test]
fn every_pair_of_properties_leads_back_to_the_mixture() {
    for (name, _) in BLENDS {
        with(name, |blend, line| {
            let mass = blend.molar_mass();
            let dew_top = line.dew_at_pressure(blend, line.highest_pressures()[1]).unwrap().temperature;
            let hottest = line.hottest(true).min(dew_top);
            for i in 0..=40 {
                let t = line.coldest() + f64::from(i) / 41.0 * (hottest - line.coldest());
                let at_temperature = Ends::at_temperature(blend, line, t).unwrap();
                for x in [0.0, 1e-6, 0.01, 0.2, 0.5, 0.8, 0.99, 1.0 - 1e-6, 1.0] {
                    let split = at_temperature.with_quality(blend, x).unwrap();
                    let (p, [volume, h, s]) = (split.pressure, split.totals(blend));
                    let (density, h, s) = (mass / volume, h / mass, s / mass);
                    let residual = split.largest_residual(blend);
                    assert!(residual < 1e-11, "{name} {t} K {x}: {residual:e}");
                    assert!((split.quality(blend) - x).abs() < 1e-13);
                    let at_pressure = Ends::at_pressure(blend, line, p).unwrap();
                    for (pair, found) in [
                        ("p, h", at_pressure.with_enthalpy(blend, h).unwrap()),
                        ("p, s", at_pressure.with_entropy(blend, s).unwrap()),
                        ("p, x", Some(at_pressure.with_quality(blend, x).unwrap())),
                        ("T, rho", at_temperature.with_density(blend, density).unwrap()),
                    ] {
                        // The very ends may be missed by rounding.
                        let Some(found) = found else {
                            assert!(x == 0.0 || x == 1.0, "{name} {t} K {x}: {pair}");
                            continue;
                        };
                        let off = differ(&found, &split);
                        assert!(off < 1e-11, "{name} {t} K {x}: {pair} {off:e}");
                        let off = (found.quality(blend) - x).abs();
                        assert!(off < 1e-11, "{name} {t} K {x}: {pair} quality {off:e}");
                    }
                    // A quality that follows from temperature and pressure is as sharp as bubble and dew points are apart.
                    if split.is_mixture() {
                        let [first, last] = [at_temperature.first(), at_temperature.last()];
                        let found = at_temperature.with_pressure(blend, p).unwrap();
                        let off = found.map_or(x.min(1.0 - x), |found| (found.quality(blend) - x).abs());
                        let off = off * (first.pressure / last.pressure).ln();
                        assert!(off < 1e-11, "{name} {t} K {x}: T, p {off:e}");
                        let glide = at_pressure.last().temperature / at_pressure.first().temperature - 1.0;
                        let found = at_pressure.with_temperature(blend, t).unwrap();
                        let off = found.map_or(x.min(1.0 - x), |found| (found.quality(blend) - x).abs());
                        assert!(off * glide < 1e-11, "{name} {t} K {x}: p, T {:e}", off * glide);
                    }
                    // Pressure as sharp as the work of that much pressure is beside R T.
                    let found = at_enthalpy_entropy(blend, line, h, s).unwrap();
                    let Some(found) = found else {
                        assert!(x == 0.0 || x == 1.0, "{name} {t} K {x}: h, s");
                        continue;
                    };
                    let work = (found.pressure - p).abs() * volume / (GAS_CONSTANT * t);
                    let [_, h_found, s_found] = found.totals(blend);
                    let off_h = (h_found / mass - h).abs() * mass / (GAS_CONSTANT * t);
                    let off_s = (s_found / mass - s).abs() * mass / GAS_CONSTANT;
                    let off = work.max(off_h).max(off_s);
                    // A bubble or dew point itself is met from one side only.
                    let limit = if split.is_mixture() { 1e-11 } else { 1e-9 };
                    assert!(off < limit, "{name} {t} K {x}: h, s {off:e}");
                }
            }
        });
    }
}

/// Bubble (0) and dew (1) points computed with CoolProp 8.0.0 (`HEOS`, quality and temperature given, gas constants not
/// normalized), whose parameters for these pairs are those of Lemmon and Jacobsen 2004 too: K, Pa, and the density of the blend,
/// kg/m3.
const COMPUTED: [(&str, f64, u8, f64, f64); 32] = [
    ("R-410A", 200.0, 0, 29162.96217811831, 1416.1510466645277),
    ("R-410A", 200.0, 1, 29007.886536394235, 1.291583954517766),
    ("R-410A", 250.0, 0, 355287.7963886196, 1256.215216298536),
    ("R-410A", 250.0, 1, 354069.27121113153, 13.721256106216538),
    ("R-410A", 300.0, 0, 1740589.4514520399, 1049.2205178786376),
    ("R-410A", 300.0, 1, 1735158.9352479426, 69.70731628601062),
    ("R-410A", 330.0, 0, 3583923.1941915285, 848.2500322049699),
    ("R-410A", 330.0, 1, 3576189.6333710197, 178.32107466356135),
    ("R-407C", 200.0, 0, 19157.865567940673, 1468.5722191322484),
    ("R-407C", 200.0, 1, 11312.620282989656, 0.5918318339185548),
    ("R-407C", 250.0, 0, 247545.65483402272, 1315.9019177543767),
    ("R-407C", 250.0, 1, 187915.7444894435, 8.305797443447299),
    ("R-407C", 300.0, 0, 1250846.8208838978, 1129.422353860897),
    ("R-407C", 300.0, 1, 1075742.8431784578, 46.271321922754815),
    ("R-407C", 340.0, 0, 3203245.8849845044, 899.5135011280865),
    ("R-407C", 340.0, 1, 2962824.4423628603, 152.18220856775037),
    ("R-404A", 200.0, 0, 22648.747792226386, 1386.7911662648544),
    ("R-404A", 200.0, 1, 21265.791300238885, 1.2695178552165844),
    ("R-404A", 250.0, 0, 272573.20845893037, 1232.4272833870561),
    ("R-404A", 250.0, 1, 266105.19980838004, 13.718924802102176),
    ("R-404A", 300.0, 0, 1316907.2998878805, 1035.111409926377),
    ("R-404A", 300.0, 1, 1303309.0687375322, 68.92438405432898),
    ("R-404A", 335.0, 0, 3002665.7473146943, 792.8996013520303),
    ("R-404A", 335.0, 1, 2989337.6967713553, 209.16203443669718),
    ("R-507A", 200.0, 0, 23233.833170303846, 1396.7811329335273),
    ("R-507A", 200.0, 1, 23223.62633472896, 1.4059131655403412),
    ("R-507A", 250.0, 0, 279197.60501872253, 1240.207655406061),
    ("R-507A", 250.0, 1, 279100.251667957, 14.6274020944995),
    ("R-507A", 300.0, 0, 1346228.82407931, 1038.7133382980887),
    ("R-507A", 300.0, 1, 1345060.5344324675, 72.73937599788933),
    ("R-507A", 335.0, 0, 3069328.886390031, 784.0798918477406),
    ("R-507A", 335.0, 1, 3067431.930166968, 224.97049952530926),
];

#[test]
fn bubble_and_dew_points_are_those_of_another_implementation() {
    for (name, temperature, is_dew, pressure, density) in COMPUTED {
        with(name, |blend, line| {
            let bubble = is_dew == 0;
            let point = if bubble { line.bubble(blend, temperature) } else { line.dew(blend, temperature) };
            let point = point.unwrap();
            let split = Split::of(blend, &point);
            let phase = if bubble { split.liquid(blend) } else { split.vapor(blend) };
            for (got, expected) in [(point.pressure, pressure), (phase.density, density)] {
                let off = (got / expected - 1.0).abs();
                assert!(off < 3e-8, "{name} {temperature} K: {got} for {expected}, {off:e}");
            }
        });
    }
}

/// The same library's critical points, K and Pa, from its search along the spinodal.
#[test]
fn critical_points_are_those_of_another_implementation() {
    for (name, temperature, pressure) in [
        ("R-410A", 344.4941010347292, 4901235.925391091),
        ("R-407C", 359.2878752319564, 4639309.282258739),
        ("R-404A", 345.2701904509743, 3734891.980260937),
        ("R-507A", 343.76578893096917, 3704882.9698259034),
    ] {
        with(name, |_, line| {
            let critical = line.critical().unwrap();
            let off = (critical.temperature / temperature - 1.0).abs();
            assert!(off < 1e-8, "{name}: {} K, {off:e}", critical.temperature);
            let off = (critical.pressure / pressure - 1.0).abs();
            assert!(off < 1e-8, "{name}: {} Pa, {off:e}", critical.pressure);
        });
    }
}

/// States of two chillers computed with a general-purpose property library (figures of eight digits, stated limit 1e-4): dew
/// temperatures in degC and their pressures in kPa, then the bubble temperature at the condensing pressure and the difference of
/// enthalpy between saturated vapor of the evaporator and that liquid, kJ/kg.
#[test]
fn chillers_computed_elsewhere_have_these_saturated_states() {
    with("R-514A", |blend, line| {
        let evaporator = line.dew(blend, 278.15).unwrap();
        let condenser = line.dew(blend, 310.15).unwrap();
        assert!((evaporator.pressure / 37426.689 - 1.0).abs() < 1e-4, "{}", evaporator.pressure);
        assert!((condenser.pressure / 132793.94 - 1.0).abs() < 1e-4, "{}", condenser.pressure);
        let bubble = line.bubble_at_pressure(blend, condenser.pressure).unwrap();
        assert!((bubble.temperature - 273.15 - 36.993237).abs() < 1e-4, "{}", bubble.temperature);
        let vapor = Split::of(blend, &evaporator).vapor(blend);
        let liquid = Split::of(blend, &bubble).liquid(blend);
        let effect = vapor.enthalpy - liquid.enthalpy;
        assert!((effect / (416_396.86 - 252_561.54) - 1.0).abs() < 1e-4, "{effect}");
        let difference = vapor.entropy - liquid.entropy;
        assert!((difference / (1795.8141 - 1199.0608) - 1.0).abs() < 1e-4, "{difference}");
        assert!((vapor.density / 2.3129562 - 1.0).abs() < 1e-4, "{}", vapor.density);
        assert!((liquid.density / 1359.3102 - 1.0).abs() < 1e-4, "{}", liquid.density);
    });
    with("R-513A", |blend, line| {
        for (celsius, kilopascals) in [(5.0, 383.03172), (37.0, 986.48919)] {
            let pressure = line.dew(blend, 273.15 + celsius).unwrap().pressure;
            assert!((pressure / 1e3 / kilopascals - 1.0).abs() < 1e-4, "{pressure}");
        }
        let bubble = line.bubble_at_pressure(blend, 614_700.46).unwrap();
        let dew = line.dew_at_pressure(blend, 614_700.46).unwrap();
        let [liquid, vapor] = [Split::of(blend, &bubble).liquid(blend), Split::of(blend, &dew).vapor(blend)];
        let latent = vapor.enthalpy - liquid.enthalpy;
        assert!((latent / (390_510.34 - 229_560.76) - 1.0).abs() < 1e-4, "{latent}");
    });
}

/// Bubble and dew pressures (kPa) and densities (kg/m3) of R-513A computed with CoolProp 8.0.0, with the tolerances that were stated
/// with them.
#[test]
fn r513a_is_nearly_azeotropic() {
    with("R-513A", |blend, line| {
        for (celsius, [bubble_pressure, dew_pressure], [bubble_density, dew_density], latent) in [
            (-20.0, [152.073, 151.632], [1283.54, 8.298], 189.39),
            (10.0, [451.086, 450.941], [1188.05, 23.696], 168.91),
        ] {
            let temperature = 273.15 + celsius;
            let (bubble, dew) =
                (line.bubble(blend, temperature).unwrap(), line.dew(blend, temperature).unwrap());
            assert!((bubble.pressure / 1e3 - bubble_pressure).abs() < 0.005 * bubble_pressure);
            assert!((dew.pressure / 1e3 - dew_pressure).abs() < 0.005 * dew_pressure);
            let [liquid, vapor] =
                [Split::of(blend, &bubble).liquid(blend), Split::of(blend, &dew).vapor(blend)];
            assert!((liquid.density - bubble_density).abs() < 0.003 * bubble_density);
            assert!((vapor.density - dew_density).abs() < 0.01 * dew_density);
            assert!(((vapor.enthalpy - liquid.enthalpy) / 1e3 - latent).abs() < 1.0);
        }
    });
    for (name, temperature, apart) in
        [("R-513A", 300.0, 2e-3), ("R-507A", 300.0, 2e-3), ("R-500", 290.0, 1e-2)]
    {
        with(name, |blend, line| {
            let bubble = line.bubble(blend, temperature).unwrap().pressure;
            let dew = line.dew(blend, temperature).unwrap().pressure;
            assert!(bubble >= dew && bubble / dew - 1.0 < apart, "{name}: {bubble} {dew}");
        });
    }
}

#[test]
fn phases_have_enthalpy_and_entropy_of_their_own_equations() {
    for name in ["R-407C", "R-448A", "R-514A"] {
        with(name, |blend, line| {
            let split = Ends::at_temperature(blend, line, 290.0).unwrap().with_quality(blend, 0.3).unwrap();
            for phase in [split.liquid(blend), split.vapor(blend)] {
                let equation = blend.components.mixture.equation(&phase.mole_fractions[..blend.n]);
                let at = equation.at(split.temperature, phase.density);
                let rt = equation.gas_constant * split.temperature;
                assert!((at.enthalpy - phase.enthalpy).abs() < 1e-12 * rt, "{name}");
                assert!((at.entropy - phase.entropy).abs() < 1e-12 * equation.gas_constant, "{name}");
                assert!((at.pressure - split.pressure).abs() < 1e-12 * phase.density * at.p_rho, "{name}");
            }
        });
    }
}

/// With a trace of another component a blend has the saturation of the pure fluid.
#[test]
fn traces_leave_the_saturation_of_the_main_component() {
    let components = components(&["R-134a", "R-125"]);
    let pure = fluid::find("R-134a").unwrap();
    let equation = Equation::new(pure, (pure.ideal_gas.constant, pure.ideal_gas.linear));
    let blend = components.blend(&[1.0 - 1e-9, 1e-9]).unwrap();
    assert_eq!(blend.z[..2], [1.0 - 1e-9, 1e-9]);
    let line = Envelope::new(&blend).unwrap();
    for temperature in [180.0, 250.0, 300.0, 370.0] {
        let guess = crate::saturation::equilibrium::guess(pure, temperature);
        let solved = crate::saturation::equilibrium::solve(&equation, pure, temperature, guess).unwrap();
        let pressure = equation.at(temperature, solved.vapor).pressure;
        for point in [line.bubble(&blend, temperature), line.dew(&blend, temperature)] {
            let off = point.unwrap().pressure / pressure - 1.0;
            assert!(off.abs() < 1e-7, "{temperature} K: {off:e}");
        }
    }
    let off = line.critical().unwrap().temperature / pure.critical.temperature - 1.0;
    assert!(off.abs() < 1e-5, "{off:e}");
}

#[test]
fn every_pair_has_a_line_or_says_why_not() {
    let (mut lines, mut refused) = (0, Vec::new());
    for pair in &fluid::PAIRS {
        let components = Components::new(&pair.fluids).unwrap();
        for x in [0.1, 0.35, 0.65, 0.9] {
            let blend = components.blend(&[x, 1.0 - x]).unwrap();
            match Envelope::new(&blend) {
                Ok(line) => {
                    lines += 1;
                    assert!(line.coldest() >= blend.coldest());
                    // Cold leave the most rounding.
                    let limit = 1e-11_f64.max(4.0 * blend.rounding());
                    for point in line.points() {
                        let residual = largest_residual(&blend, point);
                        assert!(
                            residual < limit,
                            "{} {x} {} K: {residual:e}",
                            blend.names(),
                            point.temperature
                        );
                    }
                    let middle = 0.5 * (line.coldest() + line.hottest(true).min(line.hottest(false)));
                    let ends = Ends::at_temperature(&blend, &line, middle).unwrap();
                    // Between liquids rich and poor in water there is no way from the bubble to the dew point.
                    let Ok(split) = ends.with_quality(&blend, 0.4) else {
                        assert!(blend.names().contains("R-718"), "{} {x} {middle} K", blend.names());
                        continue;
                    };
                    let residual = split.largest_residual(&blend);
                    assert!(residual < limit, "{} {x} {middle} K: {residual:e}", blend.names());
                }
                Err(Error::Inconsistent { .. }) => refused.push(blend.names()),
                Err(other) => panic!("{} {x}: {other}", blend.names()),
            }
        }
    }
    // Nothing but water keeps its liquid apart at every temperature.
    assert!(refused.iter().all(|names| names.contains("R-718")), "{refused:?}");
    // All but what the four pairs with water can be.
    assert!(lines >= 4 * (fluid::PAIRS.len() - 4), "{lines}");
}

/// A liquid that falls apart, by the model: propane with R-134a in the cold.
#[test]
fn liquids_that_do_not_mix_are_seen() {
    let components = components(&["R-290", "R-134a"]);
    let blend = components.blend(&[0.5, 0.5]).unwrap();
    let line = Envelope::new(&blend).unwrap();
    assert!(line.coldest() > 225.0 && line.coldest() < 245.0, "{}", line.coldest());
    let cold = start::bubble(&blend, 200.0).unwrap();
    let [liquid, _] = cold.concentrations(&blend);
    let better = stability::better_phase(&blend, 200.0, liquid).unwrap().unwrap();
    // A liquid of other composition with the same potentials.
    let sides = [liquid, better].map(|of| Side::new(&blend, 200.0, of));
    assert!(sides[1].molar_density() > 0.5 * sides[0].molar_density());
    for i in 0..2 {
        assert!((sides[0].potential(i) - sides[1].potential(i)).abs() < 1e-3);
    }
    let error = line.bubble(&blend, 200.0).unwrap_err();
    assert!(error.to_string().contains("two liquids"), "{error}");
    // One phase inside the dome is no better; one outside is stable.
    let split = Ends::at_temperature(&blend, &line, 280.0).unwrap().with_quality(&blend, 0.5).unwrap();
    let between = blend.at_density(1.0 / split.totals(&blend)[0]);
    assert!(stability::better_phase(&blend, 280.0, between).unwrap().is_some());
    for (phase, scale) in [(split.liquid, 1.01), (split.vapor, 0.9)] {
        let bulk = phase.map(|c| c * scale);
        assert!(stability::better_phase(&blend, 280.0, bulk).unwrap().is_none());
        assert!(stability::better_phase(&blend, 280.0, phase).unwrap().is_none());
    }
}

#[test]
fn what_cannot_be_told_is_refused() {
    with("R-407C", |blend, line| {
        let critical = line.critical().unwrap();
        for temperature in [f64::NAN, -1.0, 0.0, 100.0, critical.temperature + 1e-6, 1e3, f64::INFINITY] {
            assert!(line.bubble(blend, temperature).is_err(), "{temperature}");
            assert!(Ends::at_temperature(blend, line, temperature).is_err(), "{temperature}");
        }
        // Between the critical temperature and the highest dew point there are two dew points: that of lower pressure is given.
        let hottest = line.hottest(false);
        assert!(hottest > critical.temperature);
        let dew = line.dew(blend, 0.5 * (hottest + critical.temperature)).unwrap();
        assert!(dew.pressure < critical.pressure && dew.ln_density < critical.ln_density);
        assert!(line.dew(blend, hottest + 1e-3).is_err());
        for pressure in [f64::NAN, -1.0, 0.0, 1.0, 1e7, f64::INFINITY] {
            assert!(line.bubble_at_pressure(blend, pressure).is_err(), "{pressure}");
            assert!(line.dew_at_pressure(blend, pressure).is_err(), "{pressure}");
            assert!(Ends::at_pressure(blend, line, pressure).is_err(), "{pressure}");
        }
        let ends = Ends::at_pressure(blend, line, 1e6).unwrap();
        for value in [f64::NAN, f64::INFINITY] {
            assert!(ends.with_enthalpy(blend, value).is_err());
            assert!(at_enthalpy_entropy(blend, line, value, 1e3).is_err());
            assert!(at_enthalpy_entropy(blend, line, 1e5, value).is_err());
        }
        for value in [-1e9, 1e9] {
            assert!(ends.with_enthalpy(blend, value).unwrap().is_none());
            assert!(at_enthalpy_entropy(blend, line, value, 1e3).unwrap().is_none());
            assert!(at_enthalpy_entropy(blend, line, 1e5, value).unwrap().is_none());
        }
        assert!(matches!(ends.with_quality(blend, 1.5), Err(Error::OutOfRange { argument: "quality", .. })));
        for fractions in [&[0.5, 0.5][..], &[0.5, 0.5, 0.0], &[0.5, 0.5, -0.1], &[0.5, f64::NAN, 0.1]] {
            assert!(blend.components.blend(fractions).is_err(), "{fractions:?}");
        }
    });
}

#[test]
fn mixtures_of_the_trade_hold_together() {
    for (name, _) in BLENDS {
        with(name, |blend, line| {
            let dew_top = line.dew_at_pressure(blend, line.highest_pressures()[1]).unwrap().temperature;
            let hottest = line.hottest(true).min(dew_top);
            for i in 0..20 {
                let t = line.coldest() + f64::from(i) / 20.0 * (hottest - line.coldest());
                let ends = Ends::at_temperature(blend, line, t).unwrap();
                for x in [0.1, 0.5, 0.9] {
                    let split = ends.with_quality(blend, x).unwrap();
                    assert!(split.is_stable(blend).unwrap(), "{name} {t} K {x}");
                }
                // One phase does beside the dome, not inside it.
                let liquid = ends.first().liquid(blend).density;
                let vapor = ends.last().vapor(blend).density;
                assert!(blend.is_stable(t, 1.01 * liquid).unwrap(), "{name} {t} K");
                assert!(blend.is_stable(t, 0.98 * vapor).unwrap(), "{name} {t} K");
                assert!(!blend.is_stable(t, (liquid * vapor).sqrt()).unwrap(), "{name} {t} K");
            }
        });
    }
}
