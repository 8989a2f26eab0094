//! The table of refrigerants in the documentation is what the handles say.

mod common;

use common::{Fallible, ZERO_CELSIUS};
use interstage::{Error, Refrigerant};

/// One row for each equation of state.
fn table() -> Fallible<String> {
    let mut text = String::from(
        "| refrigerant | name | class | boils at, degC | valid from, K | to, K | to, MPa | equation of state |\n\
         |---|---|---|---|---|---|---|---|\n",
    );
    for designation in Refrigerant::catalogue() {
        let default = Refrigerant::named(designation)?;
        for equation in default.equations() {
            let refrigerant = default.clone().with_equation(equation)?;
            let shown = if refrigerant == default {
                designation.to_owned()
            } else {
                format!("{designation}, `{equation}`")
            };
            let boils = match refrigerant.saturation_at_pressure(101_325.0) {
                Ok(saturation) if refrigerant.composition().is_some() => format!(
                    "{:.1} to {:.1}",
                    saturation.liquid().temperature() - ZERO_CELSIUS,
                    saturation.vapor().temperature() - ZERO_CELSIUS
                ),
                Ok(saturation) => format!("{:.1}", saturation.temperature() - ZERO_CELSIUS),
                Err(Error::OutOfRange { .. }) => "-".to_owned(),
                Err(error) => return Err(error.into()),
            };
            let citation = refrigerant.citation().to_string();
            let cited = match refrigerant.citation().doi {
                Some(doi) => {
                    citation.replace(&format!("doi:{doi}"), &format!("[doi:{doi}](https://doi.org/{doi})"))
                }
                None => citation,
            };
            text += &format!(
                "| {shown} | {} | {} | {boils} | {} | {} | {} | {cited} |\n",
                refrigerant.chemical_name(),
                refrigerant.safety_class().unwrap_or("-"),
                refrigerant.minimum_temperature(),
                refrigerant.maximum_temperature(),
                refrigerant.maximum_pressure() / 1e6,
            );
        }
    }
    Ok(text)
}

/// `INTERSTAGE_WRITE=1 cargo test --test refrigerants` writes the table anew.
#[test]
fn the_documentation_lists_every_refrigerant() -> Fallible<()> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/src/fluid/refrigerants.md");
    let table = table()?;
    if std::env::var_os("INTERSTAGE_WRITE").is_some() {
        std::fs::write(path, &table)?;
    }
    assert_eq!(std::fs::read_to_string(path)?, table);
    assert_eq!(table.lines().count(), 2 + Refrigerant::catalogue().count() + 2);
    Ok(())
}
