//! Check values printed in the papers of the equations of state, in `tests/data/check_values.csv`.
//!
//! The tolerance of a row is half a unit of its last printed digit, one unit where the file says so.

mod common;

use std::collections::BTreeSet;

use common::{Check, Fallible, Row, Tally, property, read_table, refrigerant};
use interstage::{Error, Refrigerant};

/// Refrigerants for which no printed check table was found. Their coefficients are two transcriptions that agree digit by
/// digit (R-114: within the last one); what tests them are handbook tables and computed cycles, and every consistency test.
const NO_TABLE: [&str; 5] = ["R-11", "R-12", "R-22", "R-113", "R-114"];

/// A printed state of R-1336mzz(E) at 22.7 MPa, four times the highest pressure of the equation's limits and beyond the
/// range of an extrapolating handle too. `equation.rs` beside the equation tests its values.
const OUT_OF_REACH: &str = "r1336mzze-02-";

fn evaluate(row: &Row) -> Fallible<f64> {
    let refrigerant = refrigerant(row.text("fluid")?, row.text("reference")?)?;
    let given = row.given();
    let refrigerant = if given.is_beyond(&refrigerant)? {
        let refused = given.state(&refrigerant).err().ok_or("accepted beyond its limits")?;
        if !matches!(refused.downcast_ref(), Some(Error::OutOfRange { .. })) {
            return Err(format!("beyond its limits, refused with: {refused}").into());
        }
        refrigerant.with_extrapolation()
    } else {
        refrigerant
    };
    property(&refrigerant, &given.state(&refrigerant)?, row.text("property")?, row.text("unit")?)
}

fn check(name: &str, expected_rows: usize) -> Fallible<()> {
    let mut tally = Tally::default();
    let mut refused = 0;
    for row in read_table("check_values.csv")? {
        if row.text("fluid")? != name {
            continue;
        }
        if row.text("id")?.starts_with(OUT_OF_REACH) {
            let beyond = refrigerant(name, "")?.with_extrapolation();
            let error = row.given().state(&beyond).err().ok_or("within the extrapolating range now")?;
            assert!(matches!(error.downcast_ref(), Some(Error::OutOfRange { .. })), "{error}");
            refused += 1;
            continue;
        }
        let source = format!("{}, {}", row.text("source")?, row.text("table")?);
        let check = Check {
            id: row.text("id")?,
            property: row.text("property")?,
            source: &source,
            expected: row.number("expected")?,
            tolerance: row.number("tolerance")?,
        };
        tally.check(&check, evaluate(&row));
    }
    tally.finish(name, expected_rows - refused);
    Ok(())
}

/// Refrigerants in the file with the number of values printed for each, and a test of each.
macro_rules! tables {
    ($($test:ident: $name:literal, $rows:literal;)*) => {
        const ROWS: &[(&str, usize)] = &[$(($name, $rows)),*];
        $(
            #[test]
            fn $test() -> Fallible<()> {
                check($name, $rows)
            }
        )*
    };
}

tables! {
    r_13i1: "R-13I1", 12;
    r_32: "R-32", 89;
    r_123: "R-123", 150;
    r_125: "R-125", 59;
    r_134a: "R-134a", 149;
    r_143a: "R-143a", 149;
    r_152a: "R-152a", 149;
    r_227ea: "R-227ea", 12;
    r_236fa: "R-236fa", 5;
    r_245fa: "R-245fa", 50;
    r_290: "R-290", 46;
    r_404a: "R-404A", 18;
    r_407c: "R-407C", 18;
    r_410a: "R-410A", 18;
    r_507a: "R-507A", 18;
    r_600a: "R-600a", 120;
    r_717: "R-717", 101;
    r_717_of_1993: "R-717 by Tillner-Roth et al. 1993", 78;
    r_718: "R-718", 52;
    r_744: "R-744", 132;
    r_1130_e: "R-1130(E)", 30;
    r_1224yd_z: "R-1224yd(Z)", 24;
    r_1233zd_e: "R-1233zd(E)", 24;
    r_1234yf: "R-1234yf", 24;
    r_1234ze_e: "R-1234ze(E)", 24;
    r_1336mzz_e: "R-1336mzz(E)", 24;
    r_1336mzz_z: "R-1336mzz(Z)", 24;
}

/// A fluid cannot be in the catalogue without check values or a line above, nor in the file without a test here.
#[test]
fn every_refrigerant_has_check_values_and_a_test() -> Fallible<()> {
    let rows = read_table("check_values.csv")?;
    let in_file = rows.iter().map(|row| row.text("fluid")).collect::<Fallible<BTreeSet<_>>>()?;
    let tested: BTreeSet<&str> = ROWS.iter().map(|(fluid, _)| *fluid).collect();
    let catalogue: BTreeSet<&str> = Refrigerant::catalogue().collect();
    assert_eq!(in_file, tested);
    assert!(NO_TABLE.iter().all(|fluid| !in_file.contains(fluid)), "listed as having no table");
    // Older equations stand beside the catalogue; for R-1234yf by Richter et al. 2011 no printed table was found.
    let default = tested.iter().copied().filter(|name| !name.contains(" by "));
    let known: BTreeSet<&str> = default.chain(NO_TABLE).collect();
    assert_eq!(known, catalogue);
    assert_eq!(rows.len(), ROWS.iter().map(|(_, n)| n).sum::<usize>());
    Ok(())
}
