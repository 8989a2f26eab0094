//! Viscosity, thermal conductivity, Prandtl number and surface tension: printed values, ranges, continuity, refusals.

mod common;

use std::collections::BTreeMap;

use approx::assert_relative_eq;
use common::{Check, Fallible, Row, Tally, read_table};
use interstage::{Error, Phase, Refrigerant, Result, State};

type Property = fn(&Refrigerant, &State) -> Result<f64>;

/// The properties of a state, by name.
const PROPERTIES: [(&str, Property); 3] = [
    ("viscosity", Refrigerant::viscosity),
    ("thermal conductivity", Refrigerant::thermal_conductivity),
    ("Prandtl number", Refrigerant::prandtl_number),
];

const VISCOSITY: [&str; 16] = [
    "R-32",
    "R-123",
    "R-125",
    "R-134a",
    "R-152a",
    "R-245fa",
    "R-290",
    "R-404A",
    "R-407C",
    "R-410A",
    "R-507A",
    "R-600a",
    "R-717",
    "R-718",
    "R-1234yf",
    "R-1234ze(E)",
];

const THERMAL_CONDUCTIVITY: [&str; 17] = [
    "R-123",
    "R-125",
    "R-134a",
    "R-152a",
    "R-245fa",
    "R-290",
    "R-404A",
    "R-407C",
    "R-410A",
    "R-507A",
    "R-600a",
    "R-717",
    "R-718",
    "R-1233zd(E)",
    "R-1234yf",
    "R-1234ze(E)",
    "R-1336mzz(Z)",
];

const NO_SURFACE_TENSION: [&str; 2] = ["R-13I1", "R-1130(E)"];

/// Refrigerant, property, lowest temperature, and up to a temperature the highest pressure.
type Range = (&'static str, &'static str, f64, &'static [(f64, f64)]);

/// Where a correlation has a range of its own.
const RANGES: [Range; 14] = [
    ("R-32", "viscosity", 136.34, &[(425.0, 70e6)]),
    ("R-125", "thermal conductivity", 190.0, &[(512.0, 70e6)]),
    ("R-152a", "viscosity", 240.0, &[(440.0, 20e6)]),
    ("R-152a", "thermal conductivity", 240.0, &[(440.0, 20e6)]),
    ("R-290", "viscosity", 90.0, &[(600.0, 100e6)]),
    ("R-290", "thermal conductivity", 86.0, &[(600.0, 70e6)]),
    ("R-600a", "thermal conductivity", 114.0, &[(600.0, 70e6)]),
    ("R-717", "viscosity", 195.49, &[(725.0, 50e6)]),
    ("R-717", "thermal conductivity", 195.49, &[(680.0, 80e6)]),
    ("R-718", "viscosity", 273.16, &[(373.15, 1e9), (433.15, 500e6), (873.15, 350e6), (1173.15, 300e6)]),
    ("R-1234yf", "viscosity", 220.0, &[(410.0, 30e6)]),
    ("R-1234yf", "thermal conductivity", 220.0, &[(410.0, 30e6)]),
    ("R-1233zd(E)", "thermal conductivity", 204.0, &[(453.0, 67e6)]),
    (
        "R-718",
        "thermal conductivity",
        273.16,
        &[(348.0, 1e9), (403.0, 785e6), (573.0, 687e6), (874.0, 250e6), (1173.15, 100e6)],
    ),
];

/// Whether the correlation is published for a state.
fn in_range(name: &str, property: &str, state: &State) -> bool {
    RANGES.iter().filter(|(fluid, of, ..)| *fluid == name && *of == property).all(|(_, _, minimum, steps)| {
        state.temperature() >= *minimum
            && steps
                .iter()
                .find(|(t, _)| state.temperature() <= *t)
                .is_some_and(|(_, p)| state.pressure() <= *p)
    })
}

/// The value of a row nearest to the expected one, for densities within half a unit of the last digit given.
fn evaluate(row: &Row, expected: f64) -> Fallible<f64> {
    let refrigerant = Refrigerant::named(row.text("fluid")?)?.with_extrapolation();
    let name = row.text("property")?;
    let temperature = row.number("value1")?;
    if name == "surface tension" {
        return Ok(refrigerant.surface_tension(temperature)?);
    }
    let (_, property) = PROPERTIES.iter().find(|(known, _)| *known == name).ok_or("unknown property")?;
    let density = row.given().density(&refrigerant)?.ok_or("no density")?;
    let relative = row.number("half_unit2")? / row.number("value2")?.max(f64::MIN_POSITIVE);
    let mut values = Vec::new();
    for density in [density * (1.0 - relative), density, density * (1.0 + relative)] {
        let state = refrigerant.state_t_rho(temperature, density)?;
        if state.phase() != Phase::TwoPhase {
            values.push(property(&refrigerant, &state)?);
        }
    }
    let lowest = values.iter().copied().reduce(f64::min).ok_or("inside the dome")?;
    let highest = values.iter().copied().fold(lowest, f64::max);
    Ok(expected.clamp(lowest, highest))
}

#[test]
fn printed_and_computed_values() -> Fallible<()> {
    let mut tally = Tally::default();
    for row in read_table("transport_values.csv")? {
        let expected = row.number("expected")?;
        let check = Check {
            id: row.text("id")?,
            property: row.text("property")?,
            source: row.text("source")?,
            expected,
            tolerance: row.number("tolerance")?,
        };
        tally.check(&check, evaluate(&row, expected));
    }
    tally.finish("transport", 139);
    Ok(())
}

/// States over the whole range of the equation of state, saturated ones among them.
fn states(refrigerant: &Refrigerant) -> Fallible<Vec<State>> {
    let (coldest, hottest) = (refrigerant.minimum_temperature(), refrigerant.maximum_temperature());
    let highest = refrigerant.maximum_pressure();
    let mut states = Vec::new();
    for i in 0..=40 {
        let temperature = coldest + (hottest - coldest) * f64::from(i) / 40.0;
        for j in 0..=40 {
            let pressure = 1e3 * (highest / 1e3).powf(f64::from(j) / 40.0);
            match refrigerant.state_pt(pressure.min(highest), temperature.min(hottest)) {
                Ok(state) => states.push(state),
                Err(Error::OutOfRange { .. }) => {}
                Err(other) => return Err(other.into()),
            }
        }
        let end = if refrigerant.composition().is_some() { 0.998 } else { 1.0 };
        let reach = end * refrigerant.critical_temperature() - 0.1 - coldest;
        let saturation = refrigerant.saturation_at_temperature(coldest + reach * f64::from(i) / 40.0)?;
        states.extend([saturation.liquid(), saturation.vapor()]);
    }
    Ok(states)
}

#[test]
fn positive_and_finite_where_published() -> Fallible<()> {
    for name in Refrigerant::catalogue() {
        let refrigerant = Refrigerant::named(name)?;
        for (property, value) in &PROPERTIES[..2] {
            let fluids = if *property == "viscosity" { &VISCOSITY[..] } else { &THERMAL_CONDUCTIVITY[..] };
            if !fluids.contains(&name) {
                continue;
            }
            let mut answered = 0;
            for state in states(&refrigerant)?.into_iter().filter(|state| state.phase() != Phase::TwoPhase) {
                match value(&refrigerant, &state) {
                    Ok(value) => {
                        assert!(in_range(name, property, &state), "{name} {property} answered at {state:?}");
                        let thick = if *property == "viscosity" { 1.0 } else { 10.0 };
                        assert!(value > 1e-6 && value < thick, "{name} {property} {value} at {state:?}");
                        answered += 1;
                    }
                    Err(Error::OutOfRange { .. }) => {
                        assert!(!in_range(name, property, &state), "{name} {property} refused at {state:?}");
                    }
                    // The free volume of R-134a is used up in the cold corner of the equation of state.
                    Err(Error::Undefined { property: "viscosity", .. }) => {
                        let corner = state.temperature() < 175.0 && state.pressure() > 50e6;
                        assert!(name == "R-134a" && corner, "{name} {property} undefined at {state:?}");
                    }
                    Err(other) => return Err(format!("{name} {property}: {other} at {state:?}").into()),
                }
            }
            assert!(answered > 500, "{name} {property}: {answered} states");
        }
    }
    Ok(())
}

/// Neighbors of a state in temperature and pressure have nearly its value: no step at the critical pressure or
/// temperature, where the enhancement begins, or between the parts of a correlation.
#[test]
fn continuous() -> Fallible<()> {
    for name in Refrigerant::catalogue() {
        let refrigerant = Refrigerant::named(name)?;
        let (tc, pc) = (refrigerant.critical_temperature(), refrigerant.critical_pressure());
        for (property, value) in &PROPERTIES[..2] {
            let coldest = (0.6 * tc).max(refrigerant.minimum_saturation_temperature() + 1.0);
            let at = |t: f64, p: f64| value(&refrigerant, &refrigerant.state_pt(p, t)?);
            if matches!(at(0.9 * tc, 2.0 * pc), Err(Error::NotPublished { .. })) {
                continue;
            }
            let (mut t, hottest) = (coldest, (1.2 * tc).min(refrigerant.maximum_temperature() - 0.01));
            while t < hottest {
                for reduced in [0.05, 0.999_999_9, 1.5, 2.0, 5.0] {
                    let p = reduced * pc;
                    // Not across the saturation line or near the critical point.
                    let boiling = refrigerant
                        .saturation_at_pressure(p)
                        .map_or((tc, tc), |s| (s.liquid().temperature(), s.vapor().temperature()));
                    if t > boiling.0 - 0.01 * tc && t < boiling.1 + 0.01 * tc && reduced < 1.5 {
                        continue;
                    }
                    let neighbors =
                        [(t, p), (t + 1e-6 * tc, p), (t, p * (1.0 + 1e-6))].map(|(t, p)| at(t, p));
                    let [here, warmer, higher] = match neighbors {
                        [Ok(here), Ok(warmer), Ok(higher)] => [here, warmer, higher],
                        [Err(Error::OutOfRange { .. }), ..] => continue,
                        other => return Err(format!("{name} {property} at {t} K, {p} Pa: {other:?}").into()),
                    };
                    assert_relative_eq!(here, warmer, max_relative = 1e-4);
                    assert_relative_eq!(here, higher, max_relative = 1e-4);
                }
                t += 0.0037 * tc;
            }
            // The names of the phases change at the critical temperature and pressure; nothing else does.
            for (t, p) in [(tc, 1.5 * pc), (1.005 * tc, pc)] {
                if p == pc && refrigerant.composition().is_some() {
                    continue; // It has no states just below the critical pressure.
                }
                let (below, above) =
                    (at(t * (1.0 - 1e-9), p * (1.0 - 1e-9))?, at(t * (1.0 + 1e-9), p * (1.0 + 1e-9))?);
                assert_relative_eq!(below, above, max_relative = 1e-6);
            }
        }
    }
    Ok(())
}

/// Liquid thins on warming and gas thickens; both meet at the critical point.
#[test]
fn liquid_and_vapor_approach_each_other() -> Fallible<()> {
    for name in VISCOSITY {
        let refrigerant = Refrigerant::named(name)?;
        let (triple, tc) = (refrigerant.minimum_saturation_temperature(), refrigerant.critical_temperature());
        let cold = RANGES.iter().find(|(fluid, property, ..)| *fluid == name && *property == "viscosity");
        let lowest = cold.map_or(triple, |&(_, _, minimum, _)| minimum).max(0.4 * tc);
        let mut last = (f64::INFINITY, 0.0);
        for i in 0..40 {
            let t = lowest + (0.99 * tc - lowest) * f64::from(i) / 39.0;
            let saturation = refrigerant.saturation_at_temperature(t)?;
            let liquid = refrigerant.viscosity(&saturation.liquid())?;
            let vapor = refrigerant.viscosity(&saturation.vapor())?;
            assert!(liquid < last.0 && vapor > last.1 && vapor < liquid, "{name} at {t} K: {liquid} {vapor}");
            last = (liquid, vapor);
        }
        if refrigerant.composition().is_some() {
            continue; // Its curves end before the phases meet.
        }
        let saturation = refrigerant.saturation_at_temperature(tc - 1e-3)?;
        let liquid = refrigerant.viscosity(&saturation.liquid())?;
        let vapor = refrigerant.viscosity(&saturation.vapor())?;
        assert!(liquid / vapor < 1.3, "{name}: {liquid} {vapor}");
    }
    Ok(())
}

#[test]
fn conductivity_grows_towards_the_critical_point() -> Fallible<()> {
    for name in THERMAL_CONDUCTIVITY {
        let refrigerant = Refrigerant::named(name)?;
        let tc = refrigerant.critical_temperature();
        let at = |above: f64| {
            let state = refrigerant.state_t_rho(tc + above, refrigerant.critical_density())?;
            refrigerant.thermal_conductivity(&state)
        };
        let growth = at(0.01)? / at(1.0)?;
        // R-123 has a peak of finite height, the blends have no enhancement published; the others diverge.
        if name == "R-123" || refrigerant.composition().is_some() {
            assert!(growth > 0.99 && growth < 1.01, "{growth}");
        } else {
            assert!(growth > 1.5, "{name}: {growth}");
        }
        match at(0.0) {
            // A blend has no states just below the critical pressure.
            Err(Error::OutOfRange { .. }) if refrigerant.composition().is_some() => {}
            Ok(value) => assert!(value > 0.0 && value.is_finite()),
            Err(error) => assert_eq!(
                error,
                Error::Undefined { property: "thermal conductivity", state: "the critical point" }
            ),
        }
    }
    Ok(())
}

#[test]
fn prandtl_number_is_its_definition() -> Fallible<()> {
    let water = Refrigerant::named("R-718")?;
    let state = water.state_pt(101_325.0, 298.15)?;
    let cp = water.derivatives(&state)?.cp();
    let expected = cp * water.viscosity(&state)? / water.thermal_conductivity(&state)?;
    assert_relative_eq!(water.prandtl_number(&state)?, expected, max_relative = 1e-14);
    // 4181.3 J/(kg K) 890.0e-6 Pa s / 0.6065 W/(m K): rounded values of the three IAPWS formulations, from memory.
    assert_relative_eq!(expected, 6.136, max_relative = 2e-3);
    Ok(())
}

#[test]
fn surface_tension_falls_to_zero() -> Fallible<()> {
    for name in Refrigerant::catalogue().filter(|name| !NO_SURFACE_TENSION.contains(name)) {
        let refrigerant = Refrigerant::named(name)?;
        let (triple, tc) = (refrigerant.minimum_saturation_temperature(), refrigerant.critical_temperature());
        let mut last = f64::INFINITY;
        // The correlation of R-114 ends 1.8 K below the critical point of the equation of state.
        let end = 0.998 * if name == "R-114" { 418.83 } else { tc };
        for i in 0..200 {
            let t = triple + (end - triple) * f64::from(i) / 199.0;
            let sigma = refrigerant.surface_tension(t)?;
            assert!(sigma > 0.0 && sigma < last && sigma < 0.1, "{name}: {sigma} at {t} K");
            last = sigma;
        }
        let near = refrigerant.surface_tension(tc - 0.01)?;
        assert!((0.0..5e-5).contains(&near), "{name}: {near}");
        // The correlation of R-245fa ends 0.15 K above the critical point of the equation of state.
        assert_eq!(refrigerant.surface_tension(tc + 0.2)?.to_bits(), 0.0_f64.to_bits(), "{name}");
        let beyond = [triple - 0.1, refrigerant.maximum_temperature() + 0.1, 0.0];
        for t in beyond {
            assert!(matches!(
                refrigerant.surface_tension(t),
                Err(Error::OutOfRange { argument: "temperature", unit: "K", .. })
            ));
        }
        assert!(matches!(refrigerant.surface_tension(f64::NAN), Err(Error::NotFinite { .. })));
    }
    Ok(())
}

#[test]
fn mixtures_of_liquid_and_vapor_are_refused() -> Fallible<()> {
    let refrigerant = Refrigerant::named("R-134a")?;
    let state = refrigerant.state_tx(280.0, 0.3)?;
    for (property, value) in PROPERTIES {
        assert_eq!(
            value(&refrigerant, &state),
            Err(Error::Undefined { property, state: "a two-phase state" })
        );
    }
    Ok(())
}

/// Temperature and density of one refrigerant would have a viscosity of another too.
#[test]
fn states_of_another_refrigerant_are_refused() -> Fallible<()> {
    let vapor = Refrigerant::named("R-134a")?.state_pt(1e5, 300.0)?;
    let other = Refrigerant::named("R-125")?;
    for (property, value) in PROPERTIES {
        match value(&other, &vapor) {
            Err(Error::Inconsistent { arguments, reason }) => {
                assert_eq!(arguments, "temperature, pressure and density", "{property}");
                assert!(reason.starts_with("R-125"), "{reason}");
            }
            other => return Err(format!("{property}: {other:?}").into()),
        }
    }
    Ok(())
}

#[test]
fn what_is_not_published_names_who_has_it() -> Fallible<()> {
    let both: Vec<&str> = VISCOSITY.into_iter().filter(|name| THERMAL_CONDUCTIVITY.contains(name)).collect();
    let published: BTreeMap<&str, Vec<&str>> = BTreeMap::from([
        ("viscosity", VISCOSITY.to_vec()),
        ("thermal conductivity", THERMAL_CONDUCTIVITY.to_vec()),
        ("Prandtl number", both),
    ]);
    for name in Refrigerant::catalogue() {
        let refrigerant = Refrigerant::named(name)?;
        let state = refrigerant.saturation_at_temperature(0.8 * refrigerant.critical_temperature())?.liquid();
        for (property, value) in PROPERTIES {
            let available = &published[property];
            match value(&refrigerant, &state) {
                Ok(_) => assert!(available.contains(&name), "{name} {property}"),
                Err(error) => assert_eq!(
                    error,
                    Error::NotPublished {
                        property,
                        refrigerant: name.to_owned(),
                        available: available.clone()
                    }
                ),
            }
        }
        let cited = refrigerant.transport_citations();
        assert_eq!(cited.viscosity.is_some(), VISCOSITY.contains(&name), "{name}");
        assert_eq!(cited.thermal_conductivity.is_some(), THERMAL_CONDUCTIVITY.contains(&name), "{name}");
        assert_eq!(cited.surface_tension.is_none(), NO_SURFACE_TENSION.contains(&name), "{name}");
        for citation in
            [cited.viscosity, cited.thermal_conductivity, cited.surface_tension].into_iter().flatten()
        {
            assert!(!citation.authors.is_empty() && !citation.title.is_empty() && citation.year > 1990);
        }
    }
    let error = Refrigerant::named("R-13I1")?.surface_tension(280.0);
    let Err(Error::NotPublished { property: "surface tension", available, .. }) = &error else {
        return Err(format!("{error:?}").into());
    };
    assert_eq!(available.len(), Refrigerant::catalogue().count() - NO_SURFACE_TENSION.len());
    let message = Refrigerant::named("R-32")?
        .thermal_conductivity(&Refrigerant::named("R-32")?.state_pt(1e5, 300.0)?)
        .err()
        .map(|error| error.to_string());
    let message = message.ok_or("answered")?;
    assert!(message.contains("thermal conductivity of R-32") && message.contains("R-1234ze(E)"), "{message}");
    Ok(())
}

#[test]
fn beyond_the_range_only_with_extrapolation() -> Fallible<()> {
    let refrigerant = Refrigerant::named("R-152a")?;
    let cold = refrigerant.saturation_at_temperature(235.0)?;
    let hot = refrigerant.state_pt(25e6, 400.0)?;
    let beyond = refrigerant.clone().with_extrapolation();
    for (_, value) in PROPERTIES {
        assert!(matches!(
            value(&refrigerant, &cold.vapor()),
            Err(Error::OutOfRange { argument: "temperature", minimum: 240.0, maximum: 440.0, unit: "K", .. })
        ));
        assert!(matches!(
            value(&refrigerant, &hot),
            Err(Error::OutOfRange { argument: "pressure", maximum: 20e6, unit: "Pa", .. })
        ));
        assert!(value(&beyond, &cold.vapor())? > 0.0);
        assert!(value(&beyond, &hot)? > 0.0);
    }
    // Colder still the liquid is denser than the closest packing of its viscosity correlation.
    let frozen = refrigerant.saturation_at_temperature(200.0)?.liquid();
    let expected =
        Error::Undefined { property: "viscosity", state: "a state at which its correlation breaks down" };
    assert_eq!(beyond.viscosity(&frozen), Err(expected.clone()));
    assert_eq!(beyond.prandtl_number(&frozen), Err(expected));
    Ok(())
}
