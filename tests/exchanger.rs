//! Evaporators and condensers: round trips between the descriptions of an exchanger, limits where the answer is
//! known, fouling allowances, zones of a condenser, refusals.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

use interstage::{
    CondenserZones, Error, Exchanger, HeatExchange, HeatTransfer, Refrigerant, Result, VariableUa, Vessel,
    WaterFlow, fouled_ua, fouling_allowance, fouling_resistance, logarithmic_mean_difference,
    ua_from_temperatures, water_enthalpy,
};
use proptest::prelude::*;

/// Two ways through the same formulas. Temperatures of 280 K are rounded at 6e-14 K.
const CONSISTENCY: f64 = 1e-9;

fn exchanger(vessel: Vessel, transfer: HeatTransfer) -> Exchanger {
    match vessel {
        Vessel::Evaporator => Exchanger::evaporator(transfer).unwrap(),
        Vessel::Condenser => Exchanger::condenser(transfer).unwrap(),
    }
}

fn sign(vessel: Vessel) -> f64 {
    if vessel == Vessel::Evaporator { 1.0 } else { -1.0 }
}

fn vessels() -> impl Strategy<Value = Vessel> {
    prop_oneof![Just(Vessel::Evaporator), Just(Vessel::Condenser)]
}

/// Water, or a brine, with 0.1 to 10 K of range at the heat.
fn flows(heat: f64) -> impl Strategy<Value = WaterFlow> {
    (0.1..10.0, 3000.0..4300.0, any::<bool>()).prop_map(
        move |(range, heat_capacity, brine): (f64, f64, bool)| {
            if brine {
                WaterFlow::brine(heat / (heat_capacity * range), heat_capacity).unwrap()
            } else {
                WaterFlow::water(heat / (4190.0 * range)).unwrap()
            }
        },
    )
}

fn close(found: f64, expected: f64) -> bool {
    (found / expected - 1.0).abs() < CONSISTENCY
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    /// UA, approach and effectiveness describe the same exchanger, from either water temperature and from the
    /// saturation temperature.
    #[test]
    fn descriptions_of_one_exchanger_agree(
        vessel in vessels(),
        heat in 1e4..2e7,
        entering in 288.0..345.0,
        units in -3.0..1.3,
        flow in 0.0..1.0,
        water in flows(1.0),
    ) {
        // The strategy gives the flow of 1 W.
        let mass_flow = water.mass_flow() * heat * (1.0 + flow);
        let water = match water.heat_capacity() {
            Some(heat_capacity) => WaterFlow::brine(mass_flow, heat_capacity).unwrap(),
            None => WaterFlow::water(mass_flow).unwrap(),
        };
        // 10 to the power: 0.001 to 20 transfer units.
        let leaving = water.leaving_temperature(entering, sign(vessel) * heat).unwrap();
        let ua = 10f64.powf(units) * water.capacity_rate(entering, leaving).unwrap();
        // So few transfer units would need a refrigerant further from the water than is accepted.
        if heat / ua > 80.0 {
            return Ok(());
        }
        let known = exchanger(vessel, HeatTransfer::Ua(ua)).at_entering(&water, entering, heat).unwrap();
        prop_assert!(close(known.ua(), ua) && close(known.heat(), heat));
        prop_assert!((known.water_leaving() - leaving).abs() < 1e-11);
        // exp(-NTU) by itself: water comes closer to the refrigerant by that factor.
        let closer = (-known.transfer_units()).exp();
        let whole = sign(vessel) * (entering - known.saturation_temperature());
        prop_assert!((known.approach() - whole * closer).abs() < 1e-12 * whole + 1e-12);
        prop_assert!((known.effectiveness() - known.water_range() / whole).abs() < 1e-9);
        // 1 - effectiveness and an approach of less than 1e-9 K have lost their digits.
        for other in [HeatTransfer::Approach(known.approach()), HeatTransfer::Effectiveness(known.effectiveness())] {
            let (digits, other) = match other {
                HeatTransfer::Effectiveness(value) => (1e-14 / (1.0 - value), other),
                _ if known.approach() < 1e-9 => continue,
                _ => (0.0, other),
            };
            let other = exchanger(vessel, other).at_entering(&water, entering, heat).unwrap();
            prop_assert!((other.ua() / ua - 1.0).abs() < CONSISTENCY + digits, "{other:?}");
            prop_assert!((other.saturation_temperature() - known.saturation_temperature()).abs() < 1e-9);
        }
        let by_ua = exchanger(vessel, HeatTransfer::Ua(ua));
        let back = by_ua.at_leaving(&water, known.water_leaving(), heat).unwrap();
        prop_assert!((back.water_entering() - entering).abs() < 1e-10);
        prop_assert!((back.saturation_temperature() - known.saturation_temperature()).abs() < 1e-9);
        for transfer in [HeatTransfer::Ua(ua), HeatTransfer::Effectiveness(known.effectiveness())] {
            let found = exchanger(vessel, transfer)
                .at_saturation(&water, entering, known.saturation_temperature())
                .unwrap();
            prop_assert!((found.heat() / heat - 1.0).abs() < 1e-9, "{} {heat}", found.heat());
            prop_assert!((found.water_leaving() - known.water_leaving()).abs() < 1e-9);
        }
        // From the temperatures alone, which are rounded.
        let measured = HeatExchange::measured(
            vessel, heat, entering, known.water_leaving(), known.saturation_temperature());
        if known.approach() > 1e-6 {
            let measured = measured.unwrap();
            let rounding = 1e-12 / known.approach() + 1e-12 / known.water_range();
            prop_assert!((measured.ua() / ua - 1.0).abs() < CONSISTENCY + rounding);
            let again = ua_from_temperatures(
                heat, entering, known.water_leaving(), known.saturation_temperature()).unwrap();
            prop_assert_eq!(again, measured.ua());
            let mean = logarithmic_mean_difference(measured.approach(), measured.approach() + measured.water_range());
            prop_assert!((mean.unwrap() / measured.logarithmic_mean_difference() - 1.0).abs() < CONSISTENCY + rounding);
        }
    }

    /// A better exchanger, and less heat, bring the refrigerant closer to the water.
    #[test]
    fn the_refrigerant_comes_closer_with_conductance_and_away_with_heat(
        vessel in vessels(),
        heat in 1e5..5e6,
        share in 0.1..0.5,
        more in 1.01..3.0,
        exponent in prop_oneof![Just(VariableUa::BOILING), Just(VariableUa::CONDENSATION)],
    ) {
        let water = WaterFlow::water(heat / (4190.0 * 5.0)).unwrap();
        let ua = heat / 5.0;
        let variable = VariableUa::at_design(ua, water.mass_flow(), heat, share, share, exponent).unwrap();
        let better = VariableUa::at_design(ua * more, water.mass_flow(), heat, share, share, exponent).unwrap();
        for (known, better) in [
            (HeatTransfer::Ua(ua), HeatTransfer::Ua(ua * more)),
            (HeatTransfer::VariableUa(variable), HeatTransfer::VariableUa(better)),
            (HeatTransfer::Approach(5.0), HeatTransfer::Approach(5.0 / more)),
            (HeatTransfer::Effectiveness(0.9 / more), HeatTransfer::Effectiveness(0.9)),
        ] {
            let at = |transfer, heat| {
                let exchange = exchanger(vessel, transfer).at_leaving(&water, 300.0, heat).unwrap();
                sign(vessel) * (300.0 - exchange.saturation_temperature())
            };
            prop_assert!(at(better, heat) < at(known, heat));
            if !matches!(known, HeatTransfer::Approach(_)) {
                prop_assert!(at(known, heat * more) > at(known, heat));
            }
            let at = |saturation| exchanger(vessel, known).at_saturation(&water, 300.0, saturation).unwrap().heat();
            let (near, far) = (300.0 - sign(vessel) * 8.0, 300.0 - sign(vessel) * 9.0);
            prop_assert!(at(far) > at(near));
        }
    }

    /// The heat found between water and refrigerant is the heat that puts the refrigerant there.
    #[test]
    fn heat_of_a_variable_conductance_is_found(
        vessel in vessels(),
        difference in 0.5..20.0,
        shares in (0.0..0.5, 0.0..0.5),
        exponent in -0.9..0.9,
        size in -1.0..1.0,
    ) {
        let water = WaterFlow::water(100.0).unwrap();
        let ua = 4.2e5 * 10f64.powf(size);
        let variable = VariableUa::at_design(ua, 90.0, 2e6, shares.0, shares.1, exponent).unwrap();
        let exchanger = exchanger(vessel, HeatTransfer::VariableUa(variable));
        let entering = 303.0;
        let saturation = entering - sign(vessel) * difference;
        let found = exchanger.at_saturation(&water, entering, saturation).unwrap();
        prop_assert!(close(found.ua(), variable.ua(100.0, found.heat()).unwrap()));
        let back = exchanger.at_entering(&water, entering, found.heat()).unwrap();
        prop_assert!((back.saturation_temperature() - saturation).abs() < 1e-8, "{back:?}");
    }

    /// Any numbers give an error about the input or finite figures.
    #[test]
    fn any_numbers_give_an_error_or_figures(numbers in prop::array::uniform8(prop_oneof![
        any::<f64>(), -1e3..1e3f64, 250.0..350.0f64, -1.0..1.0, 1e2..1e8,
        prop::sample::select(vec![0.0, -0.0, f64::NAN, f64::INFINITY, -f64::INFINITY, f64::MIN_POSITIVE, f64::MAX]),
    ]), vessel in vessels()) {
        let [a, b, c, d, e, f, g, h] = numbers;
        let about_input = |error: &Error| {
            matches!(error, Error::OutOfRange { .. } | Error::NotFinite { .. } | Error::Inconsistent { .. })
        };
        let number = |outcome: Result<f64>| match outcome {
            Ok(value) => value.is_finite(),
            Err(error) => about_input(&error),
        };
        let exchange = |outcome: Result<HeatExchange>| match outcome {
            Ok(exchange) => {
                [exchange.ua(), exchange.approach(), exchange.effectiveness(), exchange.heat(),
                 exchange.saturation_temperature(), exchange.water_leaving(), exchange.water_entering()]
                    .iter()
                    .all(|value| value.is_finite() && *value >= 0.0)
            }
            Err(error) => about_input(&error),
        };
        prop_assert!(number(logarithmic_mean_difference(a, b)));
        prop_assert!(number(ua_from_temperatures(a, b, c, d)));
        prop_assert!(number(fouled_ua(a, b, c)));
        prop_assert!(number(fouling_resistance(a, b, c)));
        prop_assert!(exchange(HeatExchange::measured(vessel, a, b, c, d)));
        let mut transfers = vec![HeatTransfer::Ua(e), HeatTransfer::Approach(e), HeatTransfer::Effectiveness(e)];
        for variable in [VariableUa::new(a, b, c, d), VariableUa::at_design(a, b, c, d, e, f)] {
            match variable {
                Ok(variable) => {
                    prop_assert!(number(variable.ua(g, h)), "{variable:?} {g} {h}");
                    transfers.push(HeatTransfer::VariableUa(variable));
                }
                Err(error) => prop_assert!(about_input(&error)),
            }
        }
        let flows = [
            WaterFlow::water(a), WaterFlow::brine(a, b), WaterFlow::water_by_volume(a, f),
            WaterFlow::brine_by_volume(a, b, c),
        ];
        for flow in flows {
            let Ok(flow) = flow else { continue };
            prop_assert!(number(flow.heat(f, g)) && number(flow.leaving_temperature(f, h)));
            for &transfer in &transfers {
                let exchanger = match vessel {
                    Vessel::Evaporator => Exchanger::evaporator(transfer),
                    Vessel::Condenser => Exchanger::condenser(transfer),
                };
                let Ok(exchanger) = exchanger else { continue };
                prop_assert!(exchange(exchanger.at_entering(&flow, f, h)), "{exchanger:?} {flow:?} {f} {h}");
                prop_assert!(exchange(exchanger.at_leaving(&flow, g, h)), "{exchanger:?} {flow:?} {g} {h}");
                prop_assert!(exchange(exchanger.at_saturation(&flow, f, g)), "{exchanger:?} {flow:?} {f} {g}");
            }
        }
    }
}

#[test]
fn logarithmic_means_have_all_digits() {
    // Computed with mpmath at 40 digits.
    for (first, second, expected) in [
        (6.2, 1.2, 3.044_644_718_058_698),
        (5.0, 3.0, 3.915_230_377_942_436),
        (1.0 + 2f64.powi(-30), 1.0, 1.000_000_000_465_661_3),
        (1.0 + 2f64.powi(-45), 1.0, 1.000_000_000_000_014_2),
        (4.0, 4.0, 4.0),
    ] {
        let found = logarithmic_mean_difference(first, second).unwrap();
        assert!((found / expected - 1.0).abs() < 1e-15 * 4.0, "{first} {second} {found}");
        assert_eq!(logarithmic_mean_difference(second, first).unwrap(), found);
    }
}

#[test]
fn few_transfer_units_leave_the_whole_difference() {
    // NTU -> 0: approach and mean difference tend to heat over UA.
    let water = WaterFlow::water(200.0).unwrap();
    let condenser = Exchanger::condenser(HeatTransfer::Ua(10.0)).unwrap();
    let exchange = condenser.at_entering(&water, 300.0, 1e-3).unwrap();
    assert!((exchange.logarithmic_mean_difference() / 1e-4 - 1.0).abs() < 1e-14);
    assert!((exchange.effectiveness() / exchange.transfer_units() - 1.0).abs() < 1e-5);
    assert!((exchange.ua() / 10.0 - 1.0).abs() < 1e-14);
}

#[test]
fn many_transfer_units_leave_nothing() {
    let water = WaterFlow::water(200.0).unwrap();
    let evaporator = Exchanger::evaporator(HeatTransfer::Ua(1e10)).unwrap();
    let exchange = evaporator.at_leaving(&water, 280.0, 4e6).unwrap();
    assert_eq!((exchange.approach(), exchange.saturation_temperature()), (0.0, 280.0));
    assert!((exchange.ua() / 1e10 - 1.0).abs() < 1e-14);
    assert_eq!(exchange.effectiveness(), 1.0);
    let found = evaporator.at_saturation(&water, 285.0, 280.0).unwrap();
    assert_eq!(found.water_leaving(), 280.0);
    // A small approach keeps its digits: it is no difference of temperatures.
    let approach = 1e-7;
    let near = Exchanger::evaporator(HeatTransfer::Approach(approach)).unwrap();
    let exchange = near.at_leaving(&water, 280.0, 4e6).unwrap();
    let same = Exchanger::evaporator(HeatTransfer::Ua(exchange.ua())).unwrap();
    let again = same.at_leaving(&water, 280.0, 4e6).unwrap();
    assert!((again.approach() / approach - 1.0).abs() < 1e-13, "{}", again.approach());
}

#[test]
fn range_and_approach_are_proportional_to_load() {
    let water = WaterFlow::brine(150.0, 3800.0).unwrap();
    let evaporator = Exchanger::evaporator(HeatTransfer::Ua(8e5)).unwrap();
    let full = evaporator.at_leaving(&water, 270.0, 3e6).unwrap();
    for load in [0.1, 0.25, 0.5, 0.75] {
        let part = evaporator.at_leaving(&water, 270.0, load * 3e6).unwrap();
        assert!(close(part.approach(), load * full.approach()));
        assert!(close(part.water_range(), load * full.water_range()));
    }
}

#[test]
fn heat_of_water_is_that_of_its_enthalpies() {
    let water = WaterFlow::water(150.0).unwrap();
    let evaporator = Exchanger::evaporator(HeatTransfer::Approach(1.0)).unwrap();
    let exchange = evaporator.at_entering(&water, 285.15, 3e6).unwrap();
    let drop = water_enthalpy(285.15).unwrap() - water_enthalpy(exchange.water_leaving()).unwrap();
    assert!(close(150.0 * drop, 3e6));
    let found = evaporator.at_saturation(&water, 285.15, 279.0).unwrap();
    assert!((found.water_leaving() - 280.0).abs() < 1e-12);
}

#[test]
fn conductance_rises_with_load_in_an_evaporator_and_falls_in_a_condenser() {
    let at = |exponent| {
        let variable = VariableUa::at_design(1e6, 200.0, 4e6, 0.4, 0.5, exponent).unwrap();
        move |mass_flow, heat| variable.ua(mass_flow, heat).unwrap()
    };
    let (boiling, condensing) = (at(VariableUa::BOILING), at(VariableUa::CONDENSATION));
    for ua in [boiling(200.0, 4e6), condensing(200.0, 4e6)] {
        assert!((ua / 1e6 - 1.0).abs() < 1e-14);
    }
    // Half of the load: 1/(0.1 + 0.4 + 0.5 2^0.67) and 1/(0.1 + 0.4 + 0.5 2^(-1/3)), computed by hand.
    assert!((boiling(200.0, 2e6) / 1e6 - 0.771_9).abs() < 5e-5);
    assert!((condensing(200.0, 2e6) / 1e6 - 1.115_0).abs() < 5e-5);
    // Half of the flow: 1/(0.1 + 0.4 2^0.8 + 0.5).
    assert!((boiling(100.0, 4e6) / 1e6 - 0.771_35).abs() < 5e-5);
}

#[test]
fn fouling_allowances_are_those_of_the_standard() {
    // AHRI 550/590 (2003 to 2018): 0.0001 and 0.00025 h ft2 degF/Btu; 0.0176 and 0.044 m2 K/kW within 0.0005.
    // The entry of the collection is from memory.
    for (vessel, imperial, metric) in
        [(Vessel::Evaporator, 0.0001, 0.0176), (Vessel::Condenser, 0.00025, 0.044)]
    {
        let fouling = fouling_allowance(vessel);
        assert!((fouling * 1e3 - metric).abs() < 0.0005);
        // 1 Btu/(h ft2 degF) = 5.678263 W/(m2 K), NIST SP 811, appendix B.9.
        assert!((fouling * 5.678_263 / imperial - 1.0).abs() < 1e-7);
        let fouled = fouled_ua(4e5, fouling, 250.0).unwrap();
        assert!(close(fouling_resistance(4e5, fouled, 250.0).unwrap(), fouling));
        assert!(close(1.0 / fouled - 1.0 / 4e5, fouling / 250.0));
        let variable = VariableUa::at_design(4e5, 100.0, 1e6, 0.5, 0.3, VariableUa::BOILING).unwrap();
        let with = variable.with_fouling(fouling, 250.0).unwrap();
        assert!(close(with.ua(100.0, 1e6).unwrap(), fouled));
    }
    assert_eq!(fouled_ua(4e5, 0.0, 250.0).unwrap(), 4e5);
}

/// A condenser at 37 degC that superheated vapor of R-134a enters.
fn zones(subcooling: f64, superheat: f64, water: f64) -> Result<CondenserZones> {
    let refrigerant = Refrigerant::named("R-134a").unwrap();
    let saturation = refrigerant.saturation_at_temperature(310.15).unwrap();
    let inlet = if superheat == 0.0 {
        saturation.vapor()
    } else {
        refrigerant.state_pt(saturation.pressure(), 310.15 + superheat).unwrap()
    };
    CondenserZones::new(&refrigerant, &inlet, subcooling, 24.0, &WaterFlow::water(water)?, 303.15)
}

#[test]
fn zones_of_saturated_vapor_are_one_zone() {
    let one = zones(0.0, 0.0, 200.0).unwrap();
    let condensing = one.condensing();
    assert_eq!((one.desuperheating(), one.subcooling()), (None, None));
    assert_eq!((one.heat(), one.ua()), (condensing.heat(), condensing.ua()));
    let exchanger = Exchanger::condenser(HeatTransfer::Ua(one.ua())).unwrap();
    let exchange = exchanger.at_entering(&WaterFlow::water(200.0).unwrap(), 303.15, one.heat()).unwrap();
    assert!((exchange.saturation_temperature() - 310.15).abs() < 1e-10);
    assert!((exchange.approach() - one.pinch()).abs() < 1e-10);
    assert_eq!(one.pinch(), 310.15 - one.water_leaving());
}

#[test]
fn zones_join_and_close() {
    let all = zones(4.0, 12.0, 220.0).unwrap();
    let (hot, middle, cold) = (all.desuperheating().unwrap(), all.condensing(), all.subcooling().unwrap());
    assert_eq!(cold.water_entering(), 303.15);
    assert_eq!(
        (cold.water_leaving(), middle.water_leaving()),
        (middle.water_entering(), hot.water_entering())
    );
    assert_eq!(hot.refrigerant_leaving(), middle.refrigerant_entering());
    assert_eq!(middle.refrigerant_leaving(), cold.refrigerant_entering());
    assert!((middle.refrigerant_entering() - 310.15).abs() < 1e-10);
    assert!((cold.refrigerant_leaving() - 306.15).abs() < 1e-9);
    assert!((hot.refrigerant_entering() - 322.15).abs() < 1e-9);
    assert!((all.pinch() - (310.15 - middle.water_leaving())).abs() < 1e-9);
    let heat = WaterFlow::water(220.0).unwrap().heat(all.water_leaving(), 303.15).unwrap();
    assert!(close(heat, all.heat()));
    for zone in [hot, middle, cold] {
        assert!(close(zone.heat() / zone.ua(), zone.mean_difference()));
    }
    // The mean of zones of one constant difference each lies between the differences at their ends.
    let ends = (306.15f64 - 303.15, 310.15 - cold.water_leaving());
    assert!(cold.mean_difference() > ends.0.min(ends.1) && cold.mean_difference() < ends.0.max(ends.1));
    // Superheat parted off leaves less heat below the dew point, so that the water is colder there than the single
    // zone says.
    let one = Exchanger::condenser(HeatTransfer::Ua(all.ua())).unwrap();
    let approach = 310.15 - all.water_leaving();
    assert!(all.pinch() > approach);
    assert!(one.at_entering(&WaterFlow::water(220.0).unwrap(), 303.15, all.heat()).is_ok());
}

#[test]
fn the_heat_capacity_of_vapor_is_followed() {
    // A zone cut into three by hand has the UA of the whole but for the steps.
    let refrigerant = Refrigerant::named("R-134a").unwrap();
    let pressure = refrigerant.saturation_at_temperature(310.15).unwrap().pressure();
    let whole = zones(0.0, 40.0, 200.0).unwrap().desuperheating().unwrap();
    let (hot, cold) = (
        refrigerant.state_pt(pressure, 350.15).unwrap(),
        refrigerant.saturation_at_pressure(pressure).unwrap().vapor(),
    );
    let steps = 4000;
    let mut ua = 0.0;
    let temperature = |share: f64| {
        let enthalpy = cold.enthalpy() + share * (hot.enthalpy() - cold.enthalpy());
        refrigerant.state_ph(pressure, enthalpy).unwrap().temperature()
    };
    for step in 0..steps {
        let share = (f64::from(step) + 0.5) / f64::from(steps);
        let water = whole.water_entering() + share * (whole.water_leaving() - whole.water_entering());
        ua += whole.heat() / f64::from(steps) / (temperature(share) - water);
    }
    assert!((whole.ua() / ua - 1.0).abs() < 1e-4, "{} {ua}", whole.ua());
}

#[test]
fn a_blend_condenses_along_its_glide() {
    let refrigerant = Refrigerant::named("R-407C").unwrap();
    let saturation = refrigerant.saturation_at_pressure(1.5e6).unwrap();
    let zones = CondenserZones::new(
        &refrigerant,
        &saturation.vapor(),
        0.0,
        5.0,
        &WaterFlow::water(60.0).unwrap(),
        300.15,
    )
    .unwrap();
    let condensing = zones.condensing();
    assert_eq!(condensing.refrigerant_entering(), saturation.vapor().temperature());
    assert_eq!(condensing.refrigerant_leaving(), saturation.liquid().temperature());
    let flat = logarithmic_mean_difference(
        saturation.vapor().temperature() - 300.15,
        saturation.vapor().temperature() - zones.water_leaving(),
    );
    // Counter-flow along the glide has a smaller mean difference than the dew temperature all along.
    assert!(condensing.mean_difference() < flat.unwrap());
}

#[test]
fn a_negative_pinch_is_refused_with_its_number() {
    let water = |flow| zones(0.0, 12.0, flow);
    assert!(water(160.0).is_ok());
    let Err(Error::Inconsistent { arguments, reason }) = water(130.0) else { panic!("no pinch") };
    assert_eq!(arguments, "inlet and water entering");
    let pinch: f64 = reason.split("a pinch of ").nth(1).unwrap().split(" K").next().unwrap().parse().unwrap();
    // All that condenses warms the water by latent heat times 24/130 over its heat capacity.
    let refrigerant = Refrigerant::named("R-134a").unwrap();
    let latent = refrigerant.saturation_at_temperature(310.15).unwrap().latent_heat();
    assert!((pinch - (7.0 - latent * 24.0 / (130.0 * 4179.0))).abs() < 0.01, "{pinch}");
}

#[track_caller]
fn out_of_range<T: std::fmt::Debug>(outcome: Result<T>, named: &str, given: f64, in_unit: &str) {
    match outcome {
        Err(Error::OutOfRange { argument, value, minimum, maximum, unit, reason }) => {
            assert_eq!((argument, value, unit), (named, given, in_unit));
            assert!(!(minimum..=maximum).contains(&value) && !reason.is_empty());
        }
        other => panic!("{other:?}"),
    }
}

#[track_caller]
fn contradicts<T: std::fmt::Debug>(outcome: Result<T>, named: &str, word: &str) {
    match outcome {
        Err(Error::Inconsistent { arguments, reason }) => {
            assert_eq!(arguments, named);
            assert!(reason.contains(word), "{reason}");
        }
        other => panic!("{other:?}"),
    }
}

#[track_caller]
fn not_finite<T: std::fmt::Debug>(outcome: Result<T>, named: &str) {
    match outcome {
        Err(Error::NotFinite { argument, .. }) => assert_eq!(argument, named),
        other => panic!("{other:?}"),
    }
}

#[test]
fn bad_input_is_named() {
    let water = WaterFlow::water(100.0).unwrap();
    let evaporator = Exchanger::evaporator(HeatTransfer::Ua(1e6)).unwrap();
    out_of_range(WaterFlow::water(0.0), "mass flow", 0.0, "kg/s");
    out_of_range(WaterFlow::water_by_volume(-0.1, 280.0), "volume flow", -0.1, "m3/s");
    out_of_range(WaterFlow::water_by_volume(0.1, 270.0), "temperature", 270.0, "K");
    out_of_range(WaterFlow::brine(10.0, 4.2), "heat capacity", 4.2, "J/(kg K)");
    out_of_range(WaterFlow::brine_by_volume(0.1, 1.05, 3800.0), "density", 1.05, "kg/m3");
    not_finite(WaterFlow::water(f64::NAN), "mass flow");
    out_of_range(Exchanger::evaporator(HeatTransfer::Ua(0.0)), "ua", 0.0, "W/K");
    out_of_range(Exchanger::condenser(HeatTransfer::Approach(-1.0)), "approach", -1.0, "K");
    out_of_range(Exchanger::condenser(HeatTransfer::Effectiveness(1.0)), "effectiveness", 1.0, "-");
    not_finite(Exchanger::condenser(HeatTransfer::Ua(f64::INFINITY)), "ua");
    out_of_range(evaporator.at_entering(&water, 285.0, -1e6), "heat", -1e6, "W");
    out_of_range(evaporator.at_entering(&water, 285.0, 1e8), "heat", 1e8, "W");
    out_of_range(evaporator.at_entering(&water, 12.0, 1e6), "water entering", 12.0, "K");
    out_of_range(evaporator.at_leaving(&water, 273.0, 1e6), "water leaving", 273.0, "K");
    not_finite(evaporator.at_leaving(&water, 280.0, f64::NAN), "heat");
    not_finite(evaporator.at_saturation(&water, 280.0, f64::NAN), "saturation temperature");
    let both = "water entering and saturation temperature";
    contradicts(evaporator.at_saturation(&water, 280.0, 281.0), both, "leave -1 K");
    let approach = Exchanger::condenser(HeatTransfer::Approach(2.0)).unwrap();
    contradicts(approach.at_saturation(&water, 303.0, 304.5), both, "more than 2 K");
    let small = Exchanger::evaporator(HeatTransfer::Ua(100.0)).unwrap();
    contradicts(small.at_entering(&water, 285.0, 1e6), "heat and water entering", "K");
    let measured = |vessel, entering, leaving, saturation| {
        HeatExchange::measured(vessel, 1e6, entering, leaving, saturation)
    };
    let temperatures = "water entering and water leaving";
    contradicts(measured(Vessel::Evaporator, 280.0, 285.0, 278.0), temperatures, "cools in an evaporator");
    contradicts(measured(Vessel::Condenser, 308.0, 303.0, 310.0), temperatures, "warms in a condenser");
    let approach = "water leaving and saturation temperature";
    contradicts(measured(Vessel::Evaporator, 285.0, 280.0, 280.5), approach, "-0.5 K");
    contradicts(measured(Vessel::Condenser, 303.0, 308.0, 308.0), approach, "0 K");
    contradicts(ua_from_temperatures(1e6, 280.0, 285.0, 278.0), temperatures, "cools");
    out_of_range(ua_from_temperatures(0.0, 285.0, 280.0, 278.0), "heat", 0.0, "W");
    not_finite(ua_from_temperatures(1e6, f64::NAN, 280.0, 278.0), "water entering");
    out_of_range(logarithmic_mean_difference(1.0, -1.0), "second", -1.0, "K");
    out_of_range(fouled_ua(4e5, -1e-5, 200.0), "resistance", -1e-5, "m2 K/W");
    out_of_range(fouled_ua(4e5, 1e-5, 0.0), "tube area", 0.0, "m2");
    contradicts(fouling_resistance(4e5, 5e5, 200.0), "clean ua and fouled ua", "more than");
    out_of_range(VariableUa::new(-1e-6, 0.0, 1e-6, 0.5), "wall resistance", -1e-6, "K/W");
    out_of_range(VariableUa::new(1e-6, 0.0, 1e-6, 1.0), "exponent", 1.0, "-");
    let resistances = "wall resistance and water resistance and refrigerant resistance";
    contradicts(VariableUa::new(0.0, 0.0, 0.0, 0.5), resistances, "infinite");
    contradicts(
        VariableUa::at_design(1e6, 100.0, 1e6, 0.7, 0.4, 0.5),
        "water share and refrigerant share",
        "more than the whole",
    );
    let refrigerant = Refrigerant::named("R-134a").unwrap();
    let liquid = refrigerant.saturation_at_temperature(310.15).unwrap().liquid();
    contradicts(CondenserZones::new(&refrigerant, &liquid, 0.0, 24.0, &water, 303.15), "inlet", "no vapor");
    let vapor = refrigerant.saturation_at_temperature(310.15).unwrap().vapor();
    out_of_range(
        CondenserZones::new(&refrigerant, &vapor, -1.0, 24.0, &water, 303.15),
        "subcooling",
        -1.0,
        "K",
    );
    let other = Refrigerant::named("R-123").unwrap();
    contradicts(
        CondenserZones::new(&other, &vapor, 0.0, 24.0, &water, 303.15),
        "refrigerant and inlet",
        "not a state of R-123",
    );
}
