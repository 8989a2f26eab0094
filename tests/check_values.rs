//! Check values printed in the papers of the equations of state, in `tests/data/check_values.csv`.
//!
//! The tolerance of a row is half a unit of its last printed digit, one unit where the file says so.

mod common;

use std::collections::BTreeSet;

use common::{Check, Fallible, Row, Tally, property, read_table, refrigerant};
use interstage::{Error, Refrigerant};

/// Refrigerants in the file with the number of values printed for each.
const ROWS: [(&str, usize); 5] =
    [("R-123", 150), ("R-134a", 149), ("R-718", 52), ("R-1233zd(E)", 24), ("R-1234ze(E)", 24)];

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

fn check(name: &str) -> Fallible<()> {
    let expected_rows = ROWS.iter().find(|(fluid, _)| *fluid == name).ok_or("not in the list")?.1;
    let mut tally = Tally::default();
    for row in read_table("check_values.csv")? {
        if row.text("fluid")? != name {
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
    tally.finish(name, expected_rows);
    Ok(())
}

#[test]
fn r_123() -> Fallible<()> {
    check("R-123")
}

#[test]
fn r_134a() -> Fallible<()> {
    check("R-134a")
}

#[test]
fn r_718() -> Fallible<()> {
    check("R-718")
}

#[test]
fn r_1233zd_e() -> Fallible<()> {
    check("R-1233zd(E)")
}

#[test]
fn r_1234ze_e() -> Fallible<()> {
    check("R-1234ze(E)")
}

/// A fluid cannot be in the catalogue without check values, nor in the file without a test here.
#[test]
fn every_refrigerant_has_check_values_and_a_test() -> Fallible<()> {
    let rows = read_table("check_values.csv")?;
    let in_file = rows.iter().map(|row| row.text("fluid")).collect::<Fallible<BTreeSet<_>>>()?;
    let tested: BTreeSet<&str> = ROWS.iter().map(|(fluid, _)| *fluid).collect();
    let catalogue: BTreeSet<&str> = Refrigerant::catalogue().collect();
    assert_eq!(in_file, tested);
    assert_eq!(in_file, catalogue);
    assert_eq!(rows.len(), ROWS.iter().map(|(_, n)| n).sum::<usize>());
    Ok(())
}
