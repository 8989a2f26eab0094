//! Blends by the mixture model: against another implementation, against the published pseudo-pure equations, and against themselves.

mod common;

use common::{Fallible, ZERO_CELSIUS, read_table};
use interstage::{
    Basis, Circuit, Conditions, Error, FlashTank, Input, InterstagePressures, Location, Model, Orifice,
    OrificeModel, Phase, Reference, Refrigerant, Size, Stage, State, TankSeparation,
};

/// The blends that have a designation.
fn blends() -> Fallible<Vec<Refrigerant>> {
    let pseudo_pure = ["R-404A", "R-407C", "R-410A", "R-507A"];
    Refrigerant::blends()
        .chain(pseudo_pure)
        .map(|name| Ok(Refrigerant::named(name)?.with_model(Model::Mixture)?))
        .collect()
}

/// Bubble and dew points computed with CoolProp 8.0.0 for the same mass fractions. That library gives all components the gas constant
/// 8.314462618 J/(mol K); ours have those their authors used, up to 1.1e-6 more, by which pressures and energies at the same
/// reduced state are larger. What is left is asked to agree within 3e-7.
#[test]
fn bubble_and_dew_points_agree_with_another_implementation() -> Fallible<()> {
    let rows = read_table("mixture_saturation.csv")?;
    assert_eq!(rows.len(), 51);
    let mut worst = (0.0, String::new());
    for row in &rows {
        let name = row.text("designation")?;
        let blend = Refrigerant::named(name)?.with_model(Model::Mixture)?;
        let larger = blend.gas_constant() * blend.molar_mass() / 8.314462618;
        let saturation = blend.saturation_at_temperature(row.number("temperature_k")?)?;
        let (liquid, vapor) = (saturation.liquid(), saturation.vapor());
        for (column, got, factor) in [
            ("bubble_pressure_pa", liquid.pressure(), larger),
            ("dew_pressure_pa", vapor.pressure(), larger),
            ("liquid_density_kg_m3", liquid.density(), 1.0),
            ("vapor_density_kg_m3", vapor.density(), 1.0),
            ("latent_heat_j_kg", vapor.enthalpy() - liquid.enthalpy(), larger),
            ("latent_entropy_j_kg_k", vapor.entropy() - liquid.entropy(), larger),
        ] {
            let off = (got / (row.number(column)? * factor) - 1.0).abs();
            if off > worst.0 {
                worst = (off, format!("{name} {column}"));
            }
        }
    }
    println!("largest deviation {:.1e}, {}", worst.0, worst.1);
    assert!(worst.0 < 1e-6, "{worst:?}");
    Ok(())
}

/// R-513A: bubble and dew point computed with CoolProp 8.0.0, printed in a collection of checks with six digits.
#[test]
fn printed_points_of_r513a() -> Fallible<()> {
    let blend = Refrigerant::named("R-513A")?;
    assert!((blend.molar_mass() - 0.10843).abs() < 5e-6);
    for (celsius, bubble, dew, liquid, vapor, latent) in [
        (-20.0, 152.073, 151.632, 1283.54, 8.298, 189.39),
        (0.0, 323.435, 323.176, 1221.37, 17.115, 176.21),
        (10.0, 451.086, 450.941, 1188.05, 23.696, 168.91),
        (30.0, 816.877, 816.876, 1115.12, 43.137, 152.34),
        (45.0, 1211.181, 1211.104, 1052.48, 65.656, 137.52),
    ] {
        let saturation = blend.saturation_at_temperature(celsius + ZERO_CELSIUS)?;
        let (l, v) = (saturation.liquid(), saturation.vapor());
        for (got, printed) in [
            (l.pressure() / 1e3, bubble),
            (v.pressure() / 1e3, dew),
            (l.density(), liquid),
            (v.density(), vapor),
            ((v.enthalpy() - l.enthalpy()) / 1e3, latent),
        ] {
            assert!((got / printed - 1.0).abs() < 1e-4, "{celsius} degC: {got} for {printed}");
        }
    }
    Ok(())
}

/// The pseudo-pure equations were fitted to the same mixture model (Lemmon, Int. J. Thermophys. 24 (2003) 991): bubble pressures at
/// 0 degC, kPa, pseudo-pure and mixture, from a collection of checks.
#[test]
fn pseudo_pure_and_mixture_bubble_pressures_at_0_degc() -> Fallible<()> {
    for (name, pseudo_pure, mixture) in [
        ("R-410A", 800.71, 800.70),
        ("R-407C", 567.89, 567.87),
        ("R-404A", 610.18, 610.19),
        ("R-507A", 624.39, 624.38),
    ] {
        let default = Refrigerant::named(name)?;
        assert_eq!(default.model(), Model::PseudoPure);
        assert_eq!(default.model().to_string(), "pseudo-pure");
        for (blend, expected) in
            [(default.clone(), pseudo_pure), (default.with_model(Model::Mixture)?, mixture)]
        {
            let pressure = blend.saturation_at_temperature(ZERO_CELSIUS)?.liquid().pressure() / 1e3;
            assert!((pressure - expected).abs() < 6e-3, "{blend:?}: {pressure} for {expected}");
        }
    }
    Ok(())
}

/// A generator of numbers from 0 to 1 that gives the same ones everywhere (D. E. Knuth's constants of MMIX).
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, lower: f64, upper: f64) -> f64 {
        lower + self.next() * (upper - lower)
    }
}

/// A random state: half of them at pressure and temperature all over the range, half wet.
fn random_state(blend: &Refrigerant, numbers: &mut Numbers) -> interstage::Result<State> {
    let lowest = 1.01 * blend.saturation_at_temperature(blend.minimum_temperature())?.liquid().pressure();
    if numbers.next() < 0.5 {
        let highest = blend.maximum_pressure();
        let pressure = numbers.between(lowest.ln(), highest.ln()).exp();
        blend.state_pt(pressure, numbers.between(blend.minimum_temperature(), blend.maximum_temperature()))
    } else {
        let critical = blend.critical_pressure();
        let highest = if critical.is_finite() { 0.99 * critical } else { 20.0 * 101_325.0 };
        let pressure = numbers.between(lowest.ln(), highest.ln()).exp();
        blend.state_px(pressure, numbers.next())
    }
}

/// Scaled distance of two states: energies by R T, entropy by R, temperature and density by themselves.
fn distance(blend: &Refrigerant, a: &State, b: &State) -> f64 {
    let r = blend.gas_constant();
    [
        (a.enthalpy() - b.enthalpy()) / (r * b.temperature()),
        (a.entropy() - b.entropy()) / r,
        a.temperature() / b.temperature() - 1.0,
        a.density() / b.density() - 1.0,
    ]
    .into_iter()
    .fold(0.0, |largest: f64, off| largest.max(off.abs()))
}

/// Enthalpy and entropy, or temperature and entropy, of single states beside the tops of the lines, where mixtures cannot be solved for
/// or nothing is told: met by random runs.
#[test]
fn states_beside_the_tops_are_found() -> Fallible<()> {
    for (name, pressure, temperature) in [
        ("R-448A", 44_913_260.49828316, 389.7790035908789),
        ("R-448A", 15_590_683.500120768, 385.7281814900109),
        ("R-449A", 8_969_700.283868812, 378.2130806868193),
        ("R-450A", 67_101_893.25569038, 402.79515056526964),
        ("R-450A", 25_420.702605067636, 270.9376865278727),
        ("R-452B", 9_024_610.686235437, 370.70460475259483),
        ("R-454C", 5_718_961.388549051, 371.2059737022943),
        ("R-466A", 11_863_778.450383436, 379.29000052439756),
        ("R-507A", 7_545_554.631791958, 363.4058724954002),
        ("R-407C", 13_461.536529923751, 214.55102537751003),
        // A gap stands for the critical point.
        ("R-514A", 573_541.6285989244, 307.8262155410588),
        ("R-514A", 10_495_128.515195994, 447.0288427770769),
        ("R-514A", 116_055.10251644097, 362.42528267292107),
    ] {
        let blend = Refrigerant::named(name)?.with_model(Model::Mixture)?;
        let state = blend.state_pt(pressure, temperature)?;
        for again in
            [blend.state_hs(state.enthalpy(), state.entropy()), blend.state_ts(temperature, state.entropy())]
        {
            let off = again.map(|again| distance(&blend, &again, &state));
            assert!(
                matches!(off, Ok(off) if off < 1e-8),
                "{name} at {pressure} Pa, {temperature} K: {off:?}"
            );
        }
    }
    Ok(())
}

/// Density and another property of a mixture below its critical point: on the way to it the search meets others next to the critical
/// point that cannot be solved for. Met by random runs.
#[test]
fn isochores_that_pass_the_critical_point_are_searched() -> Fallible<()> {
    for (name, pressure, quality) in [
        ("R-454C", 4_073_491.6213624594, 0.3687967532628562),
        ("R-454C", 4_359_535.521382309, 0.4583333333333333),
        ("R-454C", 4_359_535.521382309, 0.5916666666666667),
        ("R-448A", 4_547_620.236915257, 0.4583333333333333),
        ("R-407C", 4_627_711.026879691, 0.5583333333333333),
    ] {
        let blend = Refrigerant::named(name)?.with_model(Model::Mixture)?;
        let state = blend.state_px(pressure, quality)?;
        let rho = state.density();
        for (pair, again) in [
            ("rho, u", blend.state_rho_u(rho, state.internal_energy())),
            ("rho, h", blend.state_rho_h(rho, state.enthalpy())),
            ("rho, s", blend.state_rho_s(rho, state.entropy())),
        ] {
            let off = again.map(|again| distance(&blend, &again, &state));
            assert!(matches!(off, Ok(off) if off < 1e-8), "{name} ({pair}): {off:?}");
        }
    }
    Ok(())
}

/// Pressure and density of mixtures next to the critical point: Newton's method may settle there with the phases in each other's place, or
/// without the density.
#[test]
fn mixtures_next_to_the_critical_point_have_the_density() -> Fallible<()> {
    let blend = Refrigerant::named("R-454C")?;
    for (density, pressure) in [
        (458.7349497533402, 4_367_000.0),
        (458.7349497533402, 4_368_851.150621306),
        (456.2447291604856, 4_368_500.0),
        (456.2447291604856, 4_369_200.0),
        (456.2447291604856, 4_369_600.0),
    ] {
        let state = blend.state_rho_p(density, pressure)?;
        let again = blend.state_px(pressure, state.quality().ok_or("it is wet")?)?;
        let off = distance(&blend, &again, &state);
        assert!(off < 1e-8, "{density} kg/m3, {pressure} Pa: {off:e}");
    }
    Ok(())
}

/// Blends nobody sells: very different components, singular terms of R-744, traces, a gap for a critical point. Random states come back
/// from every pair.
#[test]
fn unusual_blends_have_lines_and_states() -> Fallible<()> {
    let unusual: [(&[(&str, f64)], Basis); 9] = [
        (&[("R-744", 0.3), ("R-600a", 0.7)], Basis::Mole),
        (&[("R-744", 0.05), ("R-290", 0.95)], Basis::Mass),
        (&[("R-744", 0.5), ("R-134a", 0.5)], Basis::Mole),
        (&[("R-744", 1e-6), ("R-134a", 1.0 - 1e-6)], Basis::Mass),
        (&[("R-32", 1.0 - 1e-6), ("R-125", 1e-6)], Basis::Mass),
        (&[("R-32", 0.5), ("R-125", 0.5 - 1e-6), ("R-134a", 1e-6)], Basis::Mass),
        (&[("R-134a", 1.0 - 1e-12), ("R-1234ze(E)", 1e-12)], Basis::Mass),
        (&[("R-1336mzz(Z)", 0.5), ("R-1130(E)", 0.5)], Basis::Mass),
        (
            &[
                ("R-32", 0.1),
                ("R-125", 0.2),
                ("R-134a", 0.2),
                ("R-143a", 0.2),
                ("R-152a", 0.2),
                ("R-1234yf", 0.1),
            ],
            Basis::Mass,
        ),
    ];
    let blends = unusual.map(|(components, basis)| Refrigerant::blend(components, basis));
    let (report, wrong) = round_trips(blends.into_iter().collect::<Result<Vec<_>, _>>()?, 40, 77)?;
    assert_eq!(report.len(), 9);
    assert!(wrong.is_empty(), "{wrong:#?}");
    // A trace leaves the saturation of the main component.
    let trace = Refrigerant::blend(&[("R-32", 1.0 - 1e-6), ("R-125", 1e-6)], Basis::Mass)?;
    let pure = Refrigerant::named("R-32")?;
    for temperature in [200.0, 273.15, 340.0] {
        let pressure =
            |of: &Refrigerant| of.saturation_at_temperature(temperature).map(|s| s.liquid().pressure());
        assert!((pressure(&trace)? / pressure(&pure)? - 1.0).abs() < 1e-5, "{temperature} K");
    }
    Ok(())
}

#[test]
fn fractions_of_another_composition_add_up() -> Fallible<()> {
    let blend = Refrigerant::named("R-407C")?.with_model(Model::Mixture)?;
    for wrong in
        [[0.5, 0.5, 0.5], [23.0, 25.0, 52.0], [0.0, 0.5, 0.5], [f64::NAN, 0.5, 0.5], [1.5, -0.25, -0.25]]
    {
        let refused = blend.with_composition(&wrong);
        let named = match &refused {
            Err(Error::OutOfRange { argument, .. } | Error::NotFinite { argument, .. }) => {
                argument == &"mass fraction"
            }
            Err(Error::Inconsistent { arguments, .. }) => arguments == &"mass_fractions",
            _ => false,
        };
        assert!(named, "{wrong:?}: {refused:?}");
    }
    let near = blend.with_composition(&[0.23, 0.25, 0.52 + 1e-7])?;
    let sum: f64 = near.composition().ok_or("a blend")?.iter().map(|(_, fraction)| fraction).sum();
    assert!((sum - 1.0).abs() < 1e-15, "{sum}");
    Ok(())
}

/// What is said of a blend tells its two models apart.
#[test]
fn messages_name_the_model() -> Fallible<()> {
    let blend = Refrigerant::named("R-407C")?.with_model(Model::Mixture)?;
    let missing = blend.surface_tension(280.0).err().ok_or("nothing is published")?.to_string();
    assert!(missing.contains("R-407C by the mixture model"), "{missing}");
    let equations: Vec<_> = blend.equations().collect();
    assert_eq!(equations, [blend.equation_of_state()]);
    assert_eq!(blend.clone().with_equation(equations[0])?, blend);
    let unknown = blend.with_equation("Lemmon 2003");
    assert!(matches!(unknown, Err(Error::UnknownOption { options, .. }) if options == equations));
    // Where the line begins above the standard atmosphere.
    let cold = Refrigerant::blend(&[("R-744", 0.9), ("R-32", 0.1)], Basis::Mass)?;
    let reference = cold.with_reference(Reference::LiquidAtNormalBoilingPoint);
    assert!(matches!(reference, Err(Error::ReferenceUnavailable { .. })), "{reference:?}");
    Ok(())
}

/// The vapor above a tank's subcooled liquid is what would flash first, although none does.
#[test]
fn a_tank_that_gets_subcooled_liquid() -> Fallible<()> {
    let blend = Refrigerant::named("R-407C")?.with_model(Model::Mixture)?;
    let pressure =
        |temperature: f64| blend.saturation_at_temperature(temperature).map(|s| s.vapor().pressure());
    let given = vec![0.5 * (pressure(278.15)? + pressure(310.15)?), 0.99 * pressure(310.15)?];
    let circuit = Circuit::new(blend, vec![Stage::polytropic(0.8)?; 3], vec![FlashTank::new().into(); 2])?
        .with_interstage_pressures(InterstagePressures::Given(given))?
        .with_tank_separation(TankSeparation::Equilibrium)?;
    let cycle = circuit.solve(&Conditions::new(278.15, 310.15, Size::Capacity(1e6)).with_subcooling(6.0))?;
    assert_eq!(cycle.flash_fractions()[1], 0.0);
    let of = |location| cycle.composition(location).map(|of| of[0]).ok_or("a composition");
    assert_eq!(of(Location::TankLiquid(3))?, 0.23);
    assert!(of(Location::TankVapor(3))? > 0.3);
    for off in [cycle.mass_closure(), cycle.energy_closure()].into_iter().chain(cycle.species_closure()) {
        assert!(off.abs() < 1e-12, "{off:e}");
    }
    Ok(())
}

/// Flow through an orifice in equilibrium: an azeotrope passes about what its pseudo-pure relatives of the same pressure would, no more than
/// frozen, and chokes where flux is largest.
#[test]
fn orifices_take_the_mixture_model_in_equilibrium() -> Fallible<()> {
    for name in ["R-407C", "R-513A", "R-410A"] {
        let blend = Refrigerant::named(name)?.with_model(Model::Mixture)?;
        let liquid = blend.saturation_at_temperature(310.15)?.liquid();
        let down = 0.4 * liquid.pressure();
        let flow = |model| Orifice::new(1e-4)?.with_model(model).mass_flow(&blend, &liquid, down, 0.0);
        let equilibrium = flow(OrificeModel::Equilibrium)?;
        assert!(equilibrium.choked() && equilibrium.throat_pressure() > down, "{name}: {equilibrium:?}");
        assert!(equilibrium.mass_flow() < flow(OrificeModel::FrozenMixture)?.mass_flow(), "{name}");
        // At the throat of choked flow the flux is the largest on the isentrope.
        let flux = |pressure: f64| -> interstage::Result<f64> {
            let throat = blend.state_ps(pressure, liquid.entropy())?;
            Ok(throat.density() * (2.0 * (liquid.enthalpy() - throat.enthalpy())).sqrt())
        };
        let at = equilibrium.throat_pressure();
        assert!((flux(at)? / equilibrium.mass_flux() - 1.0).abs() < 1e-9, "{name}");
        assert!(flux(0.97 * at)? < flux(at)? && flux(1.03 * at)? < flux(at)?, "{name}");
    }
    let pseudo_pure = Refrigerant::named("R-407C")?;
    let liquid = pseudo_pure.saturation_at_temperature(310.15)?.liquid();
    let refused =
        Orifice::new(1e-4)?.with_model(OrificeModel::Equilibrium).mass_flow(&pseudo_pure, &liquid, 5e5, 0.0);
    assert!(matches!(refused, Err(Error::Undefined { .. })));
    Ok(())
}

/// Every pair of properties of random states leads back to them. Pairs that hardly determine a state there are held to the
/// residual alone, which is that of what they were given.
fn round_trips(blends: Vec<Refrigerant>, count: usize, seed: u64) -> Fallible<(Vec<String>, Vec<String>)> {
    let (mut report, mut wrong) = (Vec::new(), Vec::new());
    for blend in blends {
        let mut numbers = Numbers(seed);
        let (mut wet, mut worst) = (0, (0.0, String::new()));
        for _ in 0..count {
            let state = match random_state(&blend, &mut numbers) {
                Ok(state) => state,
                // Between the tops of the two lines and the highest pressure nothing is said.
                Err(Error::OutOfRange { argument: "pressure", .. }) => continue,
                Err(error) => {
                    wrong.push(format!("{}: {error}", blend.name()));
                    continue;
                }
            };
            wet += usize::from(state.phase() == Phase::TwoPhase);
            let (t, p, h) = (state.temperature(), state.pressure(), state.enthalpy());
            let (s, u, rho) = (state.entropy(), state.internal_energy(), state.density());
            let mut tried = vec![
                ("p, h", blend.state_ph(p, h)),
                ("p, s", blend.state_ps(p, s)),
                ("p, u", blend.state_pu(p, u)),
                ("T, rho", blend.state_t_rho(t, rho)),
                ("rho, p", blend.state_rho_p(rho, p)),
                ("rho, h", blend.state_rho_h(rho, h)),
                ("rho, s", blend.state_rho_s(rho, s)),
                ("rho, u", blend.state_rho_u(rho, u)),
                ("T, s", blend.state_ts(t, s)),
                ("h, s", blend.state_hs(h, s)),
            ];
            match state.quality() {
                Some(x) => {
                    tried.push(("p, x", blend.state_px(p, x)));
                    // Above the hottest bubble point quality and temperature may have two mixtures: none is given.
                    if blend.saturation_at_temperature(t).is_ok() {
                        tried.push(("T, x", blend.state_tx(t, x)));
                    }
                }
                None => tried.push(("p, T", blend.state_pt(p, t))),
            }
            for (pair, got) in tried {
                match got {
                    Ok(got) => {
                        let off = distance(&blend, &got, &state);
                        if off > worst.0 {
                            worst = (
                                off,
                                format!("({pair}) at {t} K, {p} Pa, {rho} kg/m3, {:?}", state.quality()),
                            );
                        }
                        if off > 1e-8 || got.phase() != state.phase() {
                            wrong.push(format!("{}: ({pair}) {got:?} for {state:?}", blend.name()));
                        }
                    }
                    Err(error) => wrong.push(format!("{}: ({pair}) of {state:?}: {error}", blend.name())),
                }
            }
        }
        report.push(format!(
            "{}: {count} states, {wet} wet, largest {:.1e} {}",
            blend.name(),
            worst.0,
            worst.1
        ));
    }
    Ok((report, wrong))
}

#[test]
fn every_pair_leads_back_to_the_state() -> Fallible<()> {
    let (_, wrong) = round_trips(blends()?, 60, 12_345)?;
    assert!(wrong.is_empty(), "{wrong:#?}");
    Ok(())
}

/// `INTERSTAGE_CASES=10000 cargo test --test mixtures -- --ignored --nocapture`
#[test]
#[ignore = "takes minutes"]
fn every_pair_leads_back_to_many_states() -> Fallible<()> {
    let given = |name: &str, default: u64| std::env::var(name).map_or(Ok(default), |text| text.parse());
    let (count, seed) = (given("INTERSTAGE_CASES", 10_000)?, given("INTERSTAGE_SEED", 2_026)?);
    let (report, wrong) = round_trips(blends()?, count as usize, seed)?;
    println!("seed {seed}: {} wrong\n{}", wrong.len(), report.join("\n"));
    assert!(wrong.is_empty(), "{:#?}", wrong.iter().take(20).collect::<Vec<_>>());
    Ok(())
}

/// Both phases of a mixture are in equilibrium with each other: of one pressure, their mass adds up, and each on the edge of falling apart
/// into the other.
#[test]
fn phases_are_saturated_and_add_up() -> Fallible<()> {
    for blend in blends()? {
        for quality in [0.1, 0.6] {
            let wet = blend.state_px(4e5, quality)?;
            let phases = blend.phases(&wet)?;
            let (x, y) = (phases.liquid_composition(), phases.vapor_composition());
            for ((liquid, vapor), (name, all)) in x.iter().zip(y).zip(blend.composition().unwrap_or_default())
            {
                let off = (1.0 - quality) * liquid + quality * vapor - all;
                assert!(off.abs() < 1e-12, "{} {name}: {off:e}", blend.name());
            }
            let enthalpy = (1.0 - quality) * phases.liquid().enthalpy() + quality * phases.vapor().enthalpy();
            assert!((enthalpy - wet.enthalpy()).abs() < 1e-6, "{}", blend.name());
            // The liquid alone has its bubble point there, and the vapor its dew point.
            let liquid = blend.with_composition(x)?.saturation_at_pressure(4e5)?.liquid();
            let vapor = blend.with_composition(y)?.saturation_at_pressure(4e5)?.vapor();
            for (own, of_wet) in [(liquid, phases.liquid()), (vapor, phases.vapor())] {
                assert!((own.temperature() - wet.temperature()).abs() < 1e-8, "{}: {own:?}", blend.name());
                assert!(
                    (own.enthalpy() - of_wet.enthalpy()).abs() < 1e-4,
                    "{}: {own:?} {of_wet:?}",
                    blend.name()
                );
            }
        }
    }
    Ok(())
}

#[test]
fn compositions_may_be_given_by_mass_or_by_amount() -> Fallible<()> {
    let by_mass = Refrigerant::blend(&[("R-32", 0.5), ("R-125", 0.5)], Basis::Mass)?;
    let mole_fractions = by_mass.mole_fractions().ok_or("a blend")?.to_vec();
    let by_mole =
        Refrigerant::blend(&[("r32", mole_fractions[0]), ("R 125", mole_fractions[1])], Basis::Mole)?;
    let named = Refrigerant::named("R-410A")?.with_model(Model::Mixture)?;
    assert_eq!(by_mole.given_composition().map(|(basis, _)| basis), Some(Basis::Mole));
    for blend in [&by_mole, &named] {
        let (a, b) = (by_mass.saturation_at_temperature(280.0)?, blend.saturation_at_temperature(280.0)?);
        assert!((a.pressure() / b.pressure() - 1.0).abs() < 1e-12);
    }
    assert_ne!(by_mass, by_mole);
    assert_eq!(by_mass, Refrigerant::blend(&[("R-32", 0.5), ("R-125", 0.5)], Basis::Mass)?);
    Ok(())
}

#[test]
fn what_is_no_blend_is_refused() {
    let blend = |components: &[(&str, f64)]| Refrigerant::blend(components, Basis::Mass);
    let pair = blend(&[("R-123", 0.5), ("R-1234yf", 0.5)]);
    assert!(matches!(pair, Err(Error::PairNotPublished { first: "R-123", second: "R-1234yf" })));
    for components in [&[][..], &[("R-32", 1.0 / 7.0); 7]] {
        let refused = blend(components).unwrap_err();
        let count = components.len() as f64;
        assert!(
            matches!(refused, Error::OutOfRange { argument: "components", value, maximum: 6.0, .. } if value == count),
            "{refused}"
        );
    }
    assert!(matches!(blend(&[("R-32", 0.5), ("R-125", 0.4)]), Err(Error::Inconsistent { .. })));
    assert!(matches!(blend(&[("R-32", 0.5), ("R-32", 0.5)]), Err(Error::Inconsistent { .. })));
    assert!(matches!(blend(&[("R-32", 0.5), ("R-407C", 0.5)]), Err(Error::Inconsistent { .. })));
    assert!(matches!(blend(&[("R-32", 0.5), ("R-513A", 0.5)]), Err(Error::Inconsistent { .. })));
    assert!(matches!(blend(&[("R-32", 1.5), ("R-125", -0.5)]), Err(Error::OutOfRange { .. })));
    assert!(matches!(blend(&[("R-32", f64::NAN), ("R-125", 0.5)]), Err(Error::NotFinite { .. })));
    assert!(matches!(blend(&[("R-32", 0.5), ("R-9999", 0.5)]), Err(Error::UnknownRefrigerant { .. })));
    let pure = Refrigerant::named("R-134a").expect("a refrigerant");
    assert!(matches!(pure.clone().with_model(Model::Mixture), Err(Error::UnknownOption { .. })));
    assert!(matches!(pure.with_composition(&[1.0]), Err(Error::Undefined { .. })));
}

/// Temperature, condensing and the tanks of a circuit with a zeotropic blend, parted and not.
#[test]
fn tanks_part_a_zeotropic_blend_and_balances_close() -> Fallible<()> {
    for name in ["R-407C", "R-454C", "R-513A", "R-514A"] {
        let blend = Refrigerant::named(name)?.with_model(Model::Mixture)?;
        let circuit =
            Circuit::new(blend.clone(), vec![Stage::polytropic(0.8)?; 3], vec![FlashTank::new().into(); 2])?;
        let conditions = Conditions::new(278.15, 310.15, Size::Capacity(1e6)).with_subcooling(2.0);
        let fixed = circuit.solve(&conditions)?;
        let own = fixed.composition(Location::CondenserOutlet).ok_or("a blend has a composition")?.to_vec();
        assert!(fixed.points().iter().all(|point| fixed.composition(point.location()) == Some(&own[..])));
        let parted = circuit.clone().with_tank_separation(TankSeparation::Equilibrium)?.solve(&conditions)?;
        for off in
            [parted.mass_closure(), parted.energy_closure()].into_iter().chain(parted.species_closure())
        {
            assert!(off.abs() < 1e-12, "{name}: {off:e}");
        }
        // The evaporator is at the dew temperature of what reaches it.
        let evaporator = parted.composition(Location::EvaporatorInlet).ok_or("a composition")?;
        let dew = blend.with_composition(evaporator)?.saturation_at_temperature(278.15)?.pressure();
        assert!((parted.evaporating_pressure() / dew - 1.0).abs() < 1e-9, "{name}");
        // Vapor of the tanks is richer in one component than what it comes from, and the liquid poorer.
        for stage in [2, 3] {
            let at = |location| parted.composition(location).map(|of: &[f64]| of[0]).ok_or("a composition");
            let inlet = at(Location::TankInlet(stage))?;
            let sides =
                (at(Location::TankVapor(stage))? - inlet) * (at(Location::TankLiquid(stage))? - inlet);
            assert!(sides < 0.0, "{name}");
        }
        let last = parted.composition(Location::StageOutlet(3)).ok_or("a composition")?;
        assert!(last.iter().zip(&own).all(|(last, own)| (last - own).abs() < 1e-12), "{name}");
        let shift = evaporator.iter().zip(&own).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        println!("{name}: COP {} and {} parted, shift {shift:.4}", fixed.cop(), parted.cop());
        assert!(matches!(
            circuit.with_tank_separation(TankSeparation::Equilibrium)?.sensitivities(&conditions),
            Err(Error::Undefined { .. })
        ));
    }
    Ok(())
}

/// Derivatives of a cycle through wet states of a blend against differences.
#[test]
fn sensitivities_of_a_blend_against_differences() -> Fallible<()> {
    let blend = Refrigerant::named("R-454C")?;
    let circuit = Circuit::new(blend, vec![Stage::polytropic(0.8)?; 2], vec![FlashTank::new().into()])?;
    let at = |evaporating: f64, condensing: f64| {
        circuit
            .solve(&Conditions::new(evaporating, condensing, Size::Capacity(1e6)).with_suction_superheat(1.0))
    };
    let conditions = Conditions::new(278.15, 310.15, Size::Capacity(1e6)).with_suction_superheat(1.0);
    let exact = circuit.sensitivities(&conditions)?;
    let step = 1e-2;
    let by_evaporating = (at(278.15 + step, 310.15)?.cop() - at(278.15 - step, 310.15)?.cop()) / (2.0 * step);
    let by_condensing = (at(278.15, 310.15 + step)?.cop() - at(278.15, 310.15 - step)?.cop()) / (2.0 * step);
    for (exact_input, by_difference) in
        [(Input::EvaporatingTemperature, by_evaporating), (Input::CondensingTemperature, by_condensing)]
    {
        let exact = exact.slope("cop", exact_input).ok_or("no such slope")?;
        assert!((exact / by_difference - 1.0).abs() < 1e-5, "{exact} {by_difference}");
    }
    Ok(())
}
