use interstage::*;
use std::time::Instant;
fn main() {
    let r = Refrigerant::named("R-1233zd(E)").unwrap();
    for kind in [Stage::isentropic(0.8).unwrap(), Stage::polytropic(0.8).unwrap()] {
        for n in 1..4 {
            let c = Circuit::new(r.clone(), vec![kind; n], vec![FlashTank::new().into(); n - 1]).unwrap();
            let cond = Conditions::new(278.15, 310.15, Size::Capacity(3516850.0));
            let y = c.solve(&cond).unwrap();
            println!(
                "{n} cop {} benefit {} closures {:e} {:e} Td {} yf {:?} p {:?}",
                y.cop(),
                y.economizer_benefit(),
                y.mass_closure(),
                y.energy_closure(),
                y.discharge_temperature() - 273.15,
                y.flash_fractions(),
                y.interstage_pressures()
            );
            let s = c.sensitivities(&cond).unwrap();
            let d = 1e-4;
            let f = |a: f64, b: f64, sh: f64, sc: f64| {
                c.solve(
                    &Conditions::new(278.15 + a, 310.15 + b, Size::Capacity(3516850.0))
                        .with_suction_superheat(sh)
                        .with_subcooling(sc),
                )
                .unwrap()
            };
            println!("  {:?}", s.cop);
            println!(
                "  {} {} {} {}",
                (f(d, 0., 0., 0.).cop() - f(-d, 0., 0., 0.).cop()) / 2. / d,
                (f(0., d, 0., 0.).cop() - f(0., -d, 0., 0.).cop()) / 2. / d,
                (f(0., 0., d, 0.).cop() - y.cop()) / d,
                (f(0., 0., 0., d).cop() - y.cop()) / d
            );
            println!("  {:?}", s.discharge_temperature);
            println!(
                "  {} {} {} {}",
                (f(d, 0., 0., 0.).discharge_temperature() - f(-d, 0., 0., 0.).discharge_temperature())
                    / 2.
                    / d,
                (f(0., d, 0., 0.).discharge_temperature() - f(0., -d, 0., 0.).discharge_temperature())
                    / 2.
                    / d,
                (f(0., 0., d, 0.).discharge_temperature() - y.discharge_temperature()) / d,
                (f(0., 0., 0., d).discharge_temperature() - y.discharge_temperature()) / d
            );
            let t = Instant::now();
            let mut acc = 0.0;
            for i in 0..2000 {
                acc += c
                    .solve(&Conditions::new(278.15 + i as f64 * 1e-3, 310.15, Size::Capacity(3516850.0)))
                    .unwrap()
                    .cop();
            }
            println!("  {} ns {acc}", t.elapsed().as_nanos() / 2000);
        }
    }
}
