//! The trend analysis on measured readings of a real machine: a single-stage R-134a chiller of about 90 tons in a
//! laboratory (ASHRAE research project 1043-RP). The readings are not part of this project; the tests read them from the
//! folder named by `INTERSTAGE_MEASURED_DATA` and are run by `make test-measured DATA=...`.
//!
//! Expected figures come from the description that accompanies the readings in that folder.
#![cfg(feature = "trend")]
#![expect(clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]

use std::collections::BTreeMap;
use std::path::PathBuf;

use interstage::{
    Circuit, Figure, Quality, Reading, Readings, Refrigerant, Stage, Status, TrendAnalysis, TrendTable, units,
};

type Columns = BTreeMap<String, Vec<f64>>;

/// Time in seconds, reading and what is the matter with it.
type BadReading = (usize, Reading, Quality);

/// Barometric pressure the description converts gauge pressures with, Pa (14.696 psi).
const BAROMETER: f64 = 101_325.0;

/// Reads a file of the data folder; `run` keeps the rows of one run where the file has several.
fn load(file: &str, run: Option<&str>) -> Columns {
    let folder =
        std::env::var_os("INTERSTAGE_MEASURED_DATA").expect("INTERSTAGE_MEASURED_DATA names the data folder");
    let path = PathBuf::from(folder).join(file);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let mut lines = text.lines();
    let header: Vec<&str> = lines.next().expect("a header").split(',').collect();
    let mut columns: Columns = header.iter().map(|name| ((*name).to_owned(), Vec::new())).collect();
    for line in lines {
        let cells: Vec<&str> = line.split(',').collect();
        assert_eq!(cells.len(), header.len(), "{file}: {line}");
        if run.is_some_and(|run| cells[0] != run) {
            continue;
        }
        for (name, cell) in header.iter().zip(cells) {
            columns.get_mut(*name).expect("known").push(cell.parse().unwrap_or(f64::NAN));
        }
    }
    columns
}

/// Columns of the file and how they become SI.
struct Mapping(Vec<(Reading, Vec<f64>)>);

impl Mapping {
    /// `fine` takes the test stand's water thermometers, else those of the chiller's own controller.
    fn new(columns: &Columns, fine: bool) -> Self {
        let column =
            |name: &str, convert: fn(f64) -> f64| columns[name].iter().map(|&x| convert(x)).collect();
        let kelvin = units::kelvin_from_fahrenheit;
        let gauge = |psig: f64| units::pascal_from_psig(psig, BAROMETER);
        let water: [&str; 4] =
            if fine { ["TEI", "TEO", "TCI", "TCO"] } else { ["TWEI", "TWEO", "TWCI", "TWCO"] };
        let liquid = columns["TRC"].iter().zip(&columns["TRC_sub"]).map(|(t, sub)| kelvin(t - sub)).collect();
        Self(vec![
            (Reading::EvaporatorPressure, column("PRE", gauge)),
            (Reading::EvaporatorSaturationTemperature, column("TRE", kelvin)),
            (Reading::CondenserPressure, column("PRC", gauge)),
            (Reading::CondenserSaturationTemperature, column("TRC", kelvin)),
            (Reading::LiquidLineTemperature, liquid),
            (Reading::SuctionTemperature, column("T_suc", kelvin)),
            (Reading::DischargeTemperature, column("TR_dis", kelvin)),
            (Reading::ChilledWaterEntering, column(water[0], kelvin)),
            (Reading::ChilledWaterLeaving, column(water[1], kelvin)),
            (Reading::ChilledWaterFlow, column("FWE", units::cubic_meter_per_second_from_gpm)),
            (Reading::CondenserWaterEntering, column(water[2], kelvin)),
            (Reading::CondenserWaterLeaving, column(water[3], kelvin)),
            (Reading::CondenserWaterFlow, column("FWC", units::cubic_meter_per_second_from_gpm)),
            (Reading::Power, column("kW", units::watt_from_kilowatt)),
        ])
    }

    fn analyse(&self) -> TrendTable {
        let refrigerant = Refrigerant::named("R-134a").expect("in the catalogue");
        let circuit =
            Circuit::new(refrigerant, vec![Stage::isentropic(0.7).expect("valid")], vec![]).expect("valid");
        let analysis = TrendAnalysis::new(circuit).and_then(|a| a.with_minimum_power(20e3)).expect("valid");
        let readings = self
            .0
            .iter()
            .try_fold(Readings::new(), |readings, (reading, column)| readings.with(*reading, column));
        analysis.analyse(&readings.expect("columns of one length")).expect("rows never stop a trend")
    }
}

/// Mean, standard deviation and number of the finite values.
fn mean(values: impl IntoIterator<Item = f64>) -> (f64, f64, usize) {
    let values: Vec<f64> = values.into_iter().filter(|x| x.is_finite()).collect();
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let variance = values.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / (n - 1.0);
    (mean, variance.sqrt(), values.len())
}

fn column(table: &TrendTable, figure: Figure) -> Vec<f64> {
    table.column(figure).expect("a figure of every circuit")
}

#[test]
#[ignore = "needs measured readings"]
fn saturation_temperatures_agree_with_pressures() {
    // Description: -0.09 +/- 0.08 F in the evaporator, -0.08 +/- 0.1 F in the condenser once the spikes are out; the
    // pressure sensors' steps of 0.1 psi and the thermometers' of 0.1 F are in the spread.
    let table = Mapping::new(&load("rp1043_normal.csv", None), true).analyse();
    for (figure, expected) in
        [(Figure::EvaporatorSaturationDifference, -0.09), (Figure::CondenserSaturationDifference, -0.08)]
    {
        let fahrenheit =
            column(&table, figure).into_iter().map(units::fahrenheit_difference_from_kelvin_difference);
        let (mean, spread, n) = mean(fahrenheit);
        println!("{figure}: {mean:.3} +/- {spread:.3} F over {n} rows");
        assert!(n > 5000, "{n} rows");
        assert!(
            (mean - expected).abs() < 0.01 && mean.abs() < 0.15 && spread < 0.15,
            "{figure}: {mean} {spread}"
        );
    }
}

#[test]
#[ignore = "needs measured readings"]
fn balances_and_efficiencies_come_out() {
    // Steady windows of all four runs. The description gives rounded figures at 90, 57 and 30 tons without saying where the
    // bins end, so a mean may differ by half a unit of the last digit and twice its own standard error.
    let columns = load("rp1043_steady_windows.csv", None);
    let table = Mapping::new(&columns, true).analyse();
    let tons: Vec<f64> = column(&table, Figure::Capacity).into_iter().map(units::ton_from_watt).collect();
    let check = |name: &str, values: &[f64], range: std::ops::Range<f64>, expected: f64, half_digit: f64| {
        let inside = tons.iter().zip(values).filter(|(ton, _)| range.contains(ton)).map(|(_, value)| *value);
        let (mean, spread, n) = mean(inside);
        println!(
            "{name} at {range:?} tons: {mean:.4} +/- {spread:.4} over {n} windows, described as {expected}"
        );
        assert!(n >= 30, "{name}: {n} windows");
        let allowed = half_digit + 2.0 * spread / (n as f64).sqrt();
        assert!((mean - expected).abs() < allowed, "{name}: {mean}, expected {expected} within {allowed}");
    };
    let (balance, efficiency) =
        (column(&table, Figure::HeatBalance), column(&table, Figure::StageEfficiency));
    for (range, expected) in [(85.0..95.0, 0.059), (50.0..65.0, 0.063), (20.0..40.0, 0.077)] {
        check("heat balance", &balance, range, expected, 0.0005);
    }
    for (range, expected) in [(85.0..95.0, 0.72), (50.0..65.0, 0.57), (20.0..40.0, 0.38)] {
        check("isentropic efficiency", &efficiency, range, expected, 0.005);
    }
    let ratio = |figure: Figure, base: &[f64]| -> Vec<f64> {
        column(&table, figure).iter().zip(base).map(|(value, base)| value / base).collect()
    };
    let power: Vec<f64> = columns["kW"].iter().map(|&kw| units::watt_from_kilowatt(kw)).collect();
    check(
        "compression power over motor power",
        &ratio(Figure::CompressionPower, &power),
        0.0..200.0,
        0.67,
        0.005,
    );
    let rejected = column(&table, Figure::HeatRejected);
    let refrigerant_side = ratio(Figure::RefrigerantHeatRejected, &rejected);
    check("condenser heat, refrigerant over water side", &refrigerant_side, 0.0..200.0, 0.987, 0.0005);
    // A machine without economizer has no figures of one, and steady rows have nothing to remark.
    assert!(table.column(Figure::EconomizerPotential).is_none());
    assert!(table.status().iter().all(|status| status.is_ok()));
}

#[test]
#[ignore = "needs measured readings"]
fn every_known_bad_reading_gets_a_status() {
    use Reading as R;
    // The bad readings that the description lists, by file, time and reading. Jumps to 28 F are below freezing as well.
    let (trc, prc) = (R::CondenserSaturationTemperature, R::CondenserPressure);
    let known: [(&str, &[BadReading]); 4] = [
        (
            "rp1043_normal.csv",
            &[
                (24_890, R::CondenserWaterEntering, Quality::OutOfRange),
                (10_170, trc, Quality::Spike),
                (17_330, prc, Quality::Spike),
                (21_640, prc, Quality::Spike),
                (36_740, prc, Quality::Spike),
                (720, R::ChilledWaterLeaving, Quality::OutOfRange),
                (4_740, R::DischargeTemperature, Quality::Spike),
                (31_400, R::DischargeTemperature, Quality::Spike),
                (31_430, R::DischargeTemperature, Quality::Spike),
            ],
        ),
        (
            "rp1043_cf12.csv",
            &[
                (46_590, R::Power, Quality::OutOfRange),
                (37_940, R::Power, Quality::Spike),
                (39_210, R::Power, Quality::Spike),
                (8_510, prc, Quality::Spike),
                (8_540, prc, Quality::Spike),
                (13_710, prc, Quality::Spike),
                (27_240, trc, Quality::Spike),
            ],
        ),
        (
            "rp1043_fwc10.csv",
            &[
                (1_720, prc, Quality::Spike),
                (10_520, trc, Quality::Spike),
                (29_320, prc, Quality::Spike),
                (5_870, R::ChilledWaterEntering, Quality::OutOfRange),
                (10_300, R::CondenserWaterLeaving, Quality::Spike),
            ],
        ),
        (
            "rp1043_rl10.csv",
            &[
                (30_800, trc, Quality::Spike),
                (30_830, trc, Quality::Spike),
                (32_840, prc, Quality::Spike),
                (12_910, R::CondenserWaterLeaving, Quality::Spike),
            ],
        ),
    ];
    for (file, readings) in known {
        let columns = load(file, None);
        let table = Mapping::new(&columns, false).analyse();
        assert_eq!(table.rows(), 5190);
        for &(time, reading, expected) in readings {
            let row = columns["time_s"].iter().position(|&t| t == time as f64).expect("a row every 10 s");
            let quality = table.quality(reading).expect("a column")[row];
            assert_eq!(quality, expected, "{file} {time} s {reading}");
            assert!(!table.status()[row].is_ok());
        }
        // About 80 rows of each run are below 20 kW: start-up, stop and zeros written as denormal numbers.
        let off = table.status().iter().filter(|status| status.contains(Status::OFF)).count();
        assert!((60..=100).contains(&off), "{file}: {off} rows off");
        for (row, &kw) in columns["kW"].iter().enumerate().filter(|(_, kw)| **kw < 1e-30) {
            assert!(table.status()[row].contains(Status::OFF), "{file} row {row}: {kw} kW");
        }
        let spikes = table.status().iter().filter(|status| status.contains(Status::SPIKE)).count();
        println!("{file}: {off} rows off, {spikes} with a jump of a single reading");
        assert!(spikes < 40, "{file}: {spikes} rows");
    }
}

#[test]
#[ignore = "needs measured readings"]
fn a_column_of_the_test_stand_with_an_absurd_number_stops_nothing() {
    let columns = load("rp1043_cf12.csv", None);
    let stand: Vec<f64> = columns["TWI"].iter().map(|&f| units::kelvin_from_fahrenheit(f)).collect();
    let table = Mapping(vec![(Reading::CondenserWaterEntering, stand)]).analyse();
    let absurd: Vec<usize> = (0..table.rows()).filter(|&row| columns["TWI"][row].abs() > 1e6).collect();
    assert!(!absurd.is_empty());
    assert!(absurd.iter().all(|&row| table.status()[row].contains(Status::OUT_OF_RANGE)));
}
