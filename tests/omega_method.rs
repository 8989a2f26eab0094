//! The omega method of flashing flow, written out from properties of the library: every figure of it in
//! `tests/data/orifice_cases.json`.
//!
//! The library itself has the equilibrium model that the method stands in for; its fluxes are tested in `orifice.rs`. Here the method tests
//! what it is made of: heat capacity of saturated liquid, latent heat, and volume along a flashing isentrope.

mod common;

use common::corrections::{IdealGasShift, gas_constant_ratio};
use common::medium::Medium;
use common::written_out::{Figures, figure};
use common::{Check, Fallible, Tally, ZERO_CELSIUS, data_file};
use interstage::Refrigerant;
use serde_json::Value;

/// Relative agreement of two implementations of the same equation: the eight digits of the cases. They ask for 1e-6.
const AGREEMENT: f64 = 1e-7;

/// The critical ratio of pressures, by bisection of the equation of Leung, AIChE J. 32 (1986) 1743-1746 (from memory; the case file has it).
fn critical_ratio(omega: f64) -> f64 {
    let off = |r: f64| {
        r * r
            + (omega * omega - 2.0 * omega) * (1.0 - r) * (1.0 - r)
            + 2.0 * omega * omega * (r.ln() + 1.0 - r)
    };
    let (mut low, mut high) = (1e-6, 1.0);
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if off(middle) < 0.0 { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

fn choked_flux(pressure: f64, volume: f64, omega: f64) -> f64 {
    (pressure / volume).sqrt() * critical_ratio(omega) / omega.sqrt()
}

/// Every figure of the method for saturated liquid at a temperature.
fn figures(medium: &Medium<'_>, cp: f64, temperature: f64, downstream: f64) -> Fallible<Figures> {
    let line = |temperature: f64| -> Fallible<_> {
        let saturation = medium.refrigerant().saturation_at_temperature(temperature)?;
        Ok((medium.see(&saturation.liquid())?, medium.see(&saturation.vapor())?))
    };
    let (liquid, vapor) = line(temperature)?;
    let (v_f, v_fg) = (1.0 / liquid.density, 1.0 / vapor.density - 1.0 / liquid.density);
    let latent = vapor.enthalpy - liquid.enthalpy;
    let local = cp * temperature * liquid.pressure / v_f * (v_fg / latent).powi(2);
    let flashed = medium.at_ps(0.9 * liquid.pressure, liquid.entropy)?;
    let two_point = 9.0 * (liquid.density / flashed.density - 1.0);
    Ok([
        ("liquid_cp", cp),
        ("local_omega", local),
        ("two_point_omega", two_point),
        ("local_omega_pressure_ratio", critical_ratio(local)),
        ("two_point_omega_pressure_ratio", critical_ratio(two_point)),
        ("local_omega_flux", choked_flux(liquid.pressure, v_f, local)),
        ("two_point_omega_flux", choked_flux(liquid.pressure, v_f, two_point)),
        ("downstream_pressure", (liquid.pressure * line(downstream)?.0.pressure).sqrt()),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .into())
}

#[test]
fn computed_cases_agree() -> Fallible<()> {
    let mut tally = Tally::default();
    let file: Value = serde_json::from_str(&data_file("orifice_cases.json")?)?;
    for case in file["saturated_inlet"]["cases"].as_array().ok_or("no cases")? {
        let text = |key: &str| case[key].as_str().ok_or_else(|| format!("no {key}"));
        let number = |key: &str| -> Fallible<f64> { Ok(text(key)?.parse()?) };
        let refrigerant = Refrigerant::named(text("refrigerant")?)?;
        let temperature = number("inlet_temperature_degc")? + ZERO_CELSIUS;
        let downstream = number("downstream_saturation_degc")? + ZERO_CELSIUS;
        let liquid = refrigerant.saturation_at_temperature(temperature)?.liquid();
        let cp = refrigerant.derivatives(&liquid)?.cp();
        let plain = figures(&Medium::plain(&refrigerant), cp, temperature, downstream)?;
        let departed = match IdealGasShift::of_cases(&refrigerant) {
            Some(shift) => {
                let slope = (shift.at(temperature + 0.5)?.0 - shift.at(temperature - 0.5)?.0) / 1.0;
                figures(&Medium::shifted(&refrigerant, &shift), cp + slope, temperature, downstream)?
            }
            None => {
                let cp = cp * gas_constant_ratio(refrigerant.name());
                figures(&Medium::with_constant_of_cases(&refrigerant), cp, temperature, downstream)?
            }
        };
        for (name, own) in &plain {
            let printed = match name.as_str() {
                "liquid_cp" => number("liquid_cp_kj_kg_k")? * 1e3,
                "downstream_pressure" => number("downstream_pressure_kpa")? * 1e3,
                name => number(name)?,
            };
            let expected = printed - (figure(&departed, name)? - own);
            let check = Check {
                id: text("id")?,
                property: name,
                source: "computed with CoolProp 8.0.0",
                expected,
                tolerance: AGREEMENT * expected,
            };
            tally.check(&check, Ok(*own));
        }
    }
    tally.finish("omega method", 6 * 8);
    Ok(())
}

/// API Standard 520 Part I, Annex C, example C.2.2.2, page 136: specific volumes and pressures are printed, the critical ratio is read from a
/// chart there (0.66), which 1 % allows for.
#[test]
fn the_method_gives_the_worked_example_of_the_standard() {
    let omega = 9.0 * (0.02265_f64 / 0.01945 - 1.0);
    assert!((omega - 1.4807).abs() < 5e-5, "{omega}");
    let critical = critical_ratio(omega) * 5.564;
    assert!((critical / 3.6721 - 1.0).abs() < 0.01, "{critical} bar");
    // 216 560 kg/h through 24 400 mm2 with a coefficient of discharge of 0.85.
    let area = 216_560.0 / 3600.0 / (0.85 * choked_flux(5.564e5, 0.01945, omega)) * 1e6;
    assert!((area / 24_400.0 - 1.0).abs() < 0.01, "{area} mm2");
}
