//! Blends as pseudo-pure fluids: glide, mixtures, circuits, and what is refused because composition is not known.

mod common;

use common::{Fallible, ZERO_CELSIUS};
use interstage::{
    Circuit, Conditions, FlashTank, Interstage, Location, Orifice, Phase, Refrigerant, Size, Stage,
};

const BLENDS: [&str; 4] = ["R-404A", "R-407C", "R-410A", "R-507A"];

fn blends() -> Fallible<Vec<Refrigerant>> {
    Ok(BLENDS.into_iter().map(Refrigerant::named).collect::<Result<_, _>>()?)
}

/// Mass fractions of ASHRAE 34, from memory.
#[test]
fn composition_is_that_of_the_designation() -> Fallible<()> {
    let found: Vec<_> = blends()?.iter().map(|blend| blend.composition().map(<[_]>::to_vec)).collect();
    assert_eq!(
        found,
        [
            Some(vec![("R-125", 0.44), ("R-143a", 0.52), ("R-134a", 0.04)]),
            Some(vec![("R-32", 0.23), ("R-125", 0.25), ("R-134a", 0.52)]),
            Some(vec![("R-32", 0.5), ("R-125", 0.5)]),
            Some(vec![("R-125", 0.5), ("R-143a", 0.5)]),
        ]
    );
    for blend in blends()? {
        let parts = blend.composition().ok_or("no composition")?;
        assert!((parts.iter().map(|(_, part)| part).sum::<f64>() - 1.0).abs() < 1e-15);
        // Mass fractions over molar masses add up to one over that of the blend.
        let moles: f64 = parts
            .iter()
            .map(|(name, part)| Ok(part / Refrigerant::named(name)?.molar_mass()))
            .sum::<Fallible<f64>>()?;
        assert!((moles * blend.molar_mass() - 1.0).abs() < 2e-4, "{blend:?}: {}", 1.0 / moles);
        assert_eq!((blend.formula(), blend.cas()), (None, None));
        let components = Refrigerant::catalogue().filter(|name| parts.iter().any(|(part, _)| part == name));
        assert_eq!(components.count(), parts.len());
    }
    Ok(())
}

/// Normal bubble and dew points, degC: ASHRAE Handbook - Fundamentals, from memory, to the tenth.
#[test]
fn boils_between_bubble_and_dew_point() -> Fallible<()> {
    for (name, bubble, dew) in [
        ("R-404A", -46.2, -45.5),
        ("R-407C", -43.6, -36.6),
        ("R-410A", -51.4, -51.4),
        ("R-507A", -46.7, -46.7),
    ] {
        let saturation = Refrigerant::named(name)?.saturation_at_pressure(101_325.0)?;
        let found =
            (saturation.liquid().temperature() - ZERO_CELSIUS, saturation.temperature() - ZERO_CELSIUS);
        assert!((found.0 - bubble).abs() < 0.1 && (found.1 - dew).abs() < 0.1, "{name} {found:?}");
        assert_eq!(
            saturation.temperature_glide(),
            saturation.temperature() - saturation.liquid().temperature()
        );
    }
    Ok(())
}

/// At one pressure temperature goes from bubble to dew point in proportion to quality, from any pair of properties.
#[test]
fn temperature_glides_with_quality() -> Fallible<()> {
    for blend in blends()? {
        for pressure in [2e5, 8e5, 2.5e6] {
            let saturation = blend.saturation_at_pressure(pressure)?;
            let (liquid, vapor) = (saturation.liquid(), saturation.vapor());
            assert_eq!((liquid.pressure(), vapor.pressure()), (pressure, pressure));
            for quality in [0.1, 0.5, 0.9] {
                let state = blend.state_px(pressure, quality)?;
                let between = liquid.temperature() + quality * saturation.temperature_glide();
                assert!((state.temperature() / between - 1.0).abs() < 1e-14);
                assert_eq!((state.phase(), state.quality()), (Phase::TwoPhase, Some(quality)));
                let at = blend.state_pt(pressure, state.temperature())?;
                // R-507A glides by hundredths of a kelvin: rounding of temperature counts.
                let rounding = 1e-13 * state.temperature() / saturation.temperature_glide();
                assert!((at.quality().ok_or("not wet")? - quality).abs() < rounding.max(1e-12), "{blend:?}");
                for back in [
                    blend.state_ph(pressure, state.enthalpy())?,
                    blend.state_ps(pressure, state.entropy())?,
                    blend.state_tx(state.temperature(), quality)?,
                    blend.state_t_rho(state.temperature(), state.density())?,
                ] {
                    assert!((back.pressure() / pressure - 1.0).abs() < 1e-11, "{back:?}");
                    assert!((back.temperature() / state.temperature() - 1.0).abs() < 1e-12, "{back:?}");
                    assert!((back.quality().ok_or("not wet")? - quality).abs() < 1e-10, "{back:?}");
                }
            }
        }
    }
    Ok(())
}

#[test]
fn saturation_at_a_temperature_has_two_pressures() -> Fallible<()> {
    for blend in blends()? {
        let saturation = blend.saturation_at_temperature(280.0)?;
        let (bubble, dew) = (saturation.liquid(), saturation.vapor());
        assert_eq!(
            (bubble.temperature(), dew.temperature(), saturation.pressure()),
            (280.0, 280.0, dew.pressure())
        );
        assert!(bubble.pressure() > dew.pressure());
        let at_dew = blend.saturation_at_pressure(dew.pressure())?;
        assert!((at_dew.temperature_glide() / saturation.temperature_glide() - 1.0).abs() < 1e-9);
        let slope = (blend.saturation_at_temperature(280.01)?.pressure()
            - blend.saturation_at_temperature(279.99)?.pressure())
            / 0.02;
        assert!((slope / saturation.pressure_slope() - 1.0).abs() < 1e-6);
    }
    Ok(())
}

/// Evaporating and condensing temperatures are dew temperatures; liquid is subcooled from the bubble point.
#[test]
fn circuits_without_tanks_take_blends() -> Fallible<()> {
    for blend in blends()? {
        let stages = vec![Stage::polytropic(0.8)?; 2];
        let circuit = Circuit::new(blend.clone(), stages, vec![Interstage::Direct])?;
        let conditions = Conditions::new(276.0, 312.0, Size::Capacity(1e6)).with_subcooling(3.0);
        let cycle = circuit.solve(&conditions)?;
        let at = |location| cycle.point(location).map(|point| *point.state()).ok_or("no such point");
        let condenser = blend.saturation_at_temperature(312.0)?;
        let liquid = at(Location::CondenserOutlet)?;
        assert!((liquid.pressure() / condenser.pressure() - 1.0).abs() < 1e-12);
        let bubble = blend.saturation_at_pressure(liquid.pressure())?.liquid().temperature();
        assert!((bubble - liquid.temperature() - 3.0).abs() < 1e-9);
        let (inlet, outlet) = (at(Location::EvaporatorInlet)?, at(Location::EvaporatorOutlet)?);
        assert!((outlet.temperature() - 276.0).abs() < 1e-9 && inlet.temperature() < 276.0);
        assert!((inlet.enthalpy() - liquid.enthalpy()).abs() < 1e-6);
        assert!(cycle.cop() > 4.0 && cycle.cop() < cycle.carnot_cop());
    }
    Ok(())
}

#[test]
fn what_needs_a_composition_is_refused() -> Fallible<()> {
    for blend in blends()? {
        let stages = vec![Stage::polytropic(0.8)?; 2];
        let tank = Circuit::new(blend.clone(), stages, vec![FlashTank::new().into()]);
        assert_eq!(
            tank.map(|_| ()).map_err(|error| error.to_string()),
            Err(format!(
                "flash tank and refrigerant contradict each other: {} is a blend described at one composition; in a flash \
                 tank its liquid and vapor part with different ones: choose its mixture model",
                blend.name()
            ))
        );
        let liquid = blend.saturation_at_temperature(300.0)?.liquid();
        assert!(Orifice::new(1e-4)?.mass_flow(&blend, &liquid, 2e5, 0.0).is_ok());
    }
    Ok(())
}

/// Entropy by the lever rule falls below that of the bubble point as cold R-407C begins to flash at constant enthalpy: three
/// pressures then have one enthalpy and one entropy, and the liquid is taken. A pure fluid's entropy only rises.
#[test]
fn of_several_states_with_an_enthalpy_and_entropy_the_liquid_is_taken() -> Fallible<()> {
    let blend = Refrigerant::named("R-407C")?;
    let bubble = blend.saturation_at_temperature(240.0)?.liquid();
    let flashed = |share: f64| blend.state_ph(share * bubble.pressure(), bubble.enthalpy());
    assert!(flashed(0.95)?.entropy() < bubble.entropy() && flashed(0.5)?.entropy() > bubble.entropy());
    let taken = blend.state_hs(bubble.enthalpy(), flashed(0.95)?.entropy())?;
    assert_eq!(taken.phase(), Phase::Liquid);
    assert!(taken.pressure() > bubble.pressure());
    let alone = blend.state_hs(bubble.enthalpy(), flashed(0.5)?.entropy())?;
    assert!((alone.pressure() / bubble.pressure() - 0.5).abs() < 1e-9);
    Ok(())
}

/// Next to the critical point equation and curves contradict each other; the errors say so.
#[test]
fn there_is_nothing_just_below_the_critical_point() -> Fallible<()> {
    for blend in blends()? {
        let (critical, pressure) = (blend.critical_temperature(), blend.critical_pressure());
        let end = blend.saturation_at_temperature(0.998 * critical)?;
        assert!(end.liquid().pressure() < pressure && end.liquid().density() > end.vapor().density());
        for refused in [
            blend.saturation_at_temperature(0.9981 * critical).map(|_| ()),
            blend.saturation_at_pressure(0.999 * pressure).map(|_| ()),
            blend.state_pt(0.999 * pressure, critical).map(|_| ()),
            blend.state_ph(0.999 * pressure, end.vapor().enthalpy()).map(|_| ()),
            blend.state_t_rho(0.9999 * critical, blend.critical_density()).map(|_| ()),
        ] {
            let message =
                refused.map_err(|error| error.to_string()).expect_err("a state next to the critical point");
            assert!(message.contains("just short of the critical point"), "{message}");
        }
        // Gas at the same temperatures, and fluid above the critical pressure, are no trouble.
        assert_eq!(blend.state_pt(0.5 * pressure, 0.9999 * critical)?.phase(), Phase::Vapor);
        assert_eq!(blend.state_pt(1.01 * pressure, 0.9999 * critical)?.phase(), Phase::Liquid);
        assert_eq!(blend.state_pt(1.01 * pressure, 1.01 * critical)?.phase(), Phase::Supercritical);
    }
    Ok(())
}
