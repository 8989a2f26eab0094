//! What the test files share: the data files, the properties by name, and a count of what was checked.
#![allow(dead_code, reason = "each test file is a crate of its own and uses a part of this module")]

use std::collections::BTreeMap;
use std::error::Error;
use std::path::Path;

use interstage::{Cycle, Point, Reference, Refrigerant, State};

pub(crate) mod corrections;
pub(crate) mod medium;
pub(crate) mod written_out;

/// A failed look-up or calculation ends a test with its message.
pub(crate) type Fallible<T> = Result<T, Box<dyn Error>>;

/// 0 degC in kelvin.
pub(crate) const ZERO_CELSIUS: f64 = 273.15;

/// The text of a file in `tests/data`.
pub(crate) fn data_file(name: &str) -> Fallible<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(name);
    std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()).into())
}

/// One line of a table, by the names in its header.
#[derive(Debug, Clone)]
pub(crate) struct Row(BTreeMap<String, String>);

impl Row {
    /// The text in a column.
    pub(crate) fn text(&self, column: &str) -> Fallible<&str> {
        Ok(self.0.get(column).ok_or_else(|| format!("no column {column:?}"))?)
    }

    /// The number in a column.
    pub(crate) fn number(&self, column: &str) -> Fallible<f64> {
        let text = self.text(column)?;
        text.parse().map_err(|e| format!("{column} {text:?}: {e}").into())
    }

    /// What fixes the state: the pairs in the columns `given1`, `value1`, `given2` and so on.
    pub(crate) fn given(&self) -> Given {
        let column = |name: &str, n: usize| self.0.get(&format!("{name}{n}")).cloned().unwrap_or_default();
        Given((1..=3).map(|n| (column("given", n), column("value", n))).collect())
    }
}

/// Reads a table whose fields are separated by semicolons and whose first line names the columns.
pub(crate) fn read_table(name: &str) -> Fallible<Vec<Row>> {
    let text = data_file(name)?;
    let mut lines = text.lines();
    let header: Vec<&str> = lines.next().unwrap_or_default().split(';').collect();
    lines
        .map(|line| {
            let fields: Vec<&str> = line.split(';').collect();
            if fields.len() != header.len() {
                return Err(format!("{name}: {} fields in {line:?}", fields.len()).into());
            }
            let named = header.iter().zip(fields).map(|(k, v)| ((*k).to_owned(), v.to_owned()));
            Ok(Row(named.collect()))
        })
        .collect()
}

/// The quantities that fix a state, as named in the tables.
#[derive(Debug, Clone)]
pub(crate) struct Given(Vec<(String, String)>);

impl Given {
    /// The number that belongs to a name, if it is given.
    pub(crate) fn number(&self, name: &str) -> Fallible<Option<f64>> {
        let found = self.0.iter().find(|(given, _)| given == name);
        found.map(|(_, value)| value.parse().map_err(|e| format!("{name} {value:?}: {e}").into())).transpose()
    }

    /// Temperature in K, given in K or in degC.
    pub(crate) fn temperature(&self) -> Fallible<Option<f64>> {
        let celsius = self.number("temperature_degc")?.map(|t| t + ZERO_CELSIUS);
        Ok(self.number("temperature_k")?.or(celsius))
    }

    /// Pressure in Pa.
    pub(crate) fn pressure(&self) -> Fallible<Option<f64>> {
        self.number("pressure_pa")
    }

    /// Density in kg/m3, given by mass or by amount of substance.
    ///
    /// A density of 0 stands for the ideal-gas limit, evaluated at 1e-8 mol/m3.
    pub(crate) fn density(&self, refrigerant: &Refrigerant) -> Fallible<Option<f64>> {
        let molar = self.number("molar_density_mol_m3")?;
        let from_molar = molar.map(|rho| if rho == 0.0 { 1e-8 } else { rho } * refrigerant.molar_mass());
        Ok(self.number("density_kg_m3")?.or(from_molar))
    }

    /// The phase, for a saturated state.
    pub(crate) fn phase(&self) -> Option<&str> {
        self.0.iter().find(|(given, _)| given == "phase").map(|(_, value)| value.as_str())
    }

    /// The state that the given quantities fix.
    pub(crate) fn state(&self, refrigerant: &Refrigerant) -> Fallible<State> {
        let density = self.density(refrigerant)?;
        match (self.temperature()?, self.pressure()?, density, self.phase()) {
            (Some(t), None, None, Some(phase)) => {
                saturated(phase, &refrigerant.saturation_at_temperature(t)?)
            }
            (None, Some(p), None, Some(phase)) => saturated(phase, &refrigerant.saturation_at_pressure(p)?),
            (Some(t), Some(p), None, None) => Ok(refrigerant.state_pt(p, t)?),
            (Some(t), None, Some(rho), None) => Ok(refrigerant.state_t_rho(t, rho)?),
            _ => Err(format!("no state from {self:?}").into()),
        }
    }

    /// Whether the state lies beyond the highest temperature or pressure the equation is valid for.
    pub(crate) fn is_beyond(&self, refrigerant: &Refrigerant) -> Fallible<bool> {
        let hot = self.temperature()?.is_some_and(|t| t > refrigerant.maximum_temperature());
        let pressure = match (self.temperature()?, self.density(refrigerant)?) {
            (Some(t), Some(rho)) => {
                Some(refrigerant.clone().with_extrapolation().state_t_rho(t, rho)?.pressure())
            }
            _ => self.pressure()?,
        };
        Ok(hot || pressure.is_some_and(|p| p > refrigerant.maximum_pressure()))
    }
}

fn saturated(phase: &str, saturation: &interstage::Saturation) -> Fallible<State> {
    match phase {
        "saturated liquid" => Ok(saturation.liquid()),
        "saturated vapor" => Ok(saturation.vapor()),
        other => Err(format!("unknown phase {other:?}").into()),
    }
}

/// A property of a state by its name and unit in the tables.
pub(crate) fn property(refrigerant: &Refrigerant, state: &State, name: &str, unit: &str) -> Fallible<f64> {
    let line = || refrigerant.saturation_at_temperature(state.temperature());
    let value = match name {
        "temperature" => state.temperature(),
        "pressure" => state.pressure(),
        "density" => state.density(),
        "specific_volume" => 1.0 / state.density(),
        "enthalpy" => state.enthalpy(),
        "entropy" => state.entropy(),
        "internal_energy" => state.internal_energy(),
        "quality" => state.quality().ok_or("the state has no quality")?,
        "cv" => refrigerant.derivatives(state)?.cv(),
        "cp" => refrigerant.derivatives(state)?.cp(),
        "speed_of_sound" => refrigerant.derivatives(state)?.speed_of_sound(),
        "joule_thomson" => refrigerant.derivatives(state)?.joule_thomson(),
        "enthalpy_of_vaporization" => line()?.latent_heat(),
        "entropy_of_vaporization" => line()?.latent_heat() / state.temperature(),
        other => return Err(format!("unknown property {other:?}").into()),
    };
    Ok(match unit {
        "degC" => value - ZERO_CELSIUS,
        "J/(mol K)" | "J/mol" => value * refrigerant.molar_mass(),
        "mol/m3" => value / refrigerant.molar_mass(),
        _ => value,
    })
}

/// The reference for enthalpy and entropy named in a table; `None` where it does not matter.
pub(crate) fn reference(words: &str) -> Fallible<Option<Reference>> {
    match words {
        "" => Ok(None),
        "liquid at 0 degC" => Ok(Some(Reference::LiquidAt0C)),
        "liquid at -40 degC" => Ok(Some(Reference::LiquidAtMinus40C)),
        "as published" => Ok(Some(Reference::AsPublished)),
        other => Err(format!("unknown reference {other:?}").into()),
    }
}

/// A refrigerant with the reference a table asks for.
pub(crate) fn refrigerant(name: &str, reference_words: &str) -> Fallible<Refrigerant> {
    // "R-717 by Tillner-Roth et al. 1993" is an older equation.
    let refrigerant = match name.split_once(" by ") {
        Some((name, equation)) => Refrigerant::named(name)?.with_equation(equation)?,
        None => Refrigerant::named(name)?,
    };
    Ok(match reference(reference_words)? {
        Some(reference) => refrigerant.with_reference(reference)?,
        None => refrigerant,
    })
}

/// A point of a solved cycle by its name.
pub(crate) fn point<'a>(cycle: &'a Cycle, name: &str) -> Fallible<&'a Point> {
    cycle.point(name.parse()?).ok_or_else(|| format!("no point {name}").into())
}

/// One number to check.
#[derive(Debug)]
pub(crate) struct Check<'a> {
    pub(crate) id: &'a str,
    pub(crate) property: &'a str,
    pub(crate) source: &'a str,
    pub(crate) expected: f64,
    pub(crate) tolerance: f64,
}

/// Counts what was checked, source by source, and collects what failed.
#[derive(Debug, Default)]
pub(crate) struct Tally {
    sources: BTreeMap<String, Counted>,
    failures: Vec<String>,
}

#[derive(Debug, Default)]
struct Counted {
    checked: usize,
    largest_share: f64,
    largest_at: String,
}

impl Tally {
    /// Compares one number; a failed calculation counts as a failed check.
    pub(crate) fn check(&mut self, check: &Check<'_>, got: Fallible<f64>) {
        let Check { id, property, source, expected, tolerance } = check;
        let counted = self.sources.entry((*source).to_owned()).or_default();
        counted.checked += 1;
        match got {
            Ok(got) => {
                let deviation = (got - expected).abs();
                let share = deviation / tolerance;
                if share > counted.largest_share {
                    counted.largest_share = share;
                    counted.largest_at = format!("{id} {property}");
                }
                if deviation > *tolerance || !deviation.is_finite() {
                    self.failures.push(format!(
                        "{id} {property}: expected {expected}, got {got}, off by {deviation:.3e}, tolerance {tolerance:.3e} [{source}]"
                    ));
                }
            }
            Err(error) => {
                self.failures
                    .push(format!("{id} {property}: expected {expected}, got error: {error} [{source}]"));
            }
        }
    }

    /// Prints the count per source, then fails unless all passed and as many were checked as there should be.
    #[expect(clippy::print_stdout, reason = "the summary of a validation run is read by people")]
    pub(crate) fn finish(self, title: &str, rows: usize) {
        for (source, counted) in &self.sources {
            println!(
                "{title}: {} checked against {source}; largest deviation {:.3} of its tolerance ({})",
                counted.checked, counted.largest_share, counted.largest_at
            );
        }
        let checked: usize = self.sources.values().map(|counted| counted.checked).sum();
        assert!(
            self.failures.is_empty(),
            "{title}: {} of {checked} failed\n{}",
            self.failures.len(),
            self.failures.join("\n")
        );
        assert_eq!(checked, rows, "{title}: number of values checked");
    }
}
