use interstage::*;
use std::time::Instant;
fn main() {
    for name in Refrigerant::catalogue() {
        let t = Instant::now();
        let r = match Refrigerant::named(name) {
            Ok(r) => r,
            Err(e) => {
                println!("{name} {e}");
                continue;
            }
        };
        if let Err(e) = r.prepare() {
            println!("{name} prepare {e:?}");
            continue;
        }
        println!("{name} built {:?}", t.elapsed());
        let s = r.saturation_at_temperature(278.15).unwrap();
        println!(
            " p {} rhol {} rhov {} hl {} hv {} sl {} sv {}",
            s.pressure(),
            s.liquid().density(),
            s.vapor().density(),
            s.liquid().enthalpy(),
            s.vapor().enthalpy(),
            s.liquid().entropy(),
            s.vapor().entropy()
        );
        // residual on line
        let tc = r.critical_temperature();
        for theta in [1e-10, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 5e-4, 9e-4, 1.1e-3, 2e-3, 1e-2, 0.1, 0.3] {
            let t = tc * (1.0 - theta);
            if t < r.triple_temperature() {
                continue;
            }
            let s = r.saturation_at_temperature(t).unwrap();
            let l = r.state_t_rho(t, s.liquid().density() * (1.0 + 1e-15));
            let b = r.saturation_at_pressure(s.pressure()).unwrap();
            println!(
                "  theta {theta:e} p {} rl {} rv {} roundtripT {:e} L {}",
                s.pressure(),
                s.liquid().density(),
                s.vapor().density(),
                b.temperature() / t - 1.0,
                s.latent_heat()
            );
            let _ = l;
        }
        let n = 200000;
        let t0 = Instant::now();
        let mut acc = 0.0;
        for i in 0..n {
            let t = 270.0 + (i % 1000) as f64 * 0.05;
            if t < r.triple_temperature() {
                continue;
            };
            acc += r.saturation_at_temperature(t.max(274.0)).unwrap().pressure();
        }
        println!("  sat(T) {:?} ns {acc}", t0.elapsed().as_nanos() / n as u128);
        let p0 = r.saturation_at_temperature(280.0).unwrap().pressure();
        let t0 = Instant::now();
        let mut acc = 0.0;
        for i in 0..n {
            acc += r.saturation_at_pressure(p0 * (1.0 + (i % 1000) as f64 * 0.001)).unwrap().temperature();
        }
        println!("  sat(p) {:?} ns {acc}", t0.elapsed().as_nanos() / n as u128);
        let h = r.saturation_at_pressure(p0).unwrap().vapor().enthalpy();
        let hl = r.saturation_at_pressure(p0).unwrap().liquid().enthalpy();
        let sv = r.saturation_at_pressure(p0).unwrap().vapor().entropy();
        for (nm, f) in [
            (
                "ph vap",
                &(|i: usize| r.state_ph(p0, h + (i % 1000) as f64 * 20.0).unwrap().temperature())
                    as &dyn Fn(usize) -> f64,
            ),
            ("ph liq", &|i: usize| {
                r.state_ph(p0 * 3.0, hl - (i % 1000) as f64 * 10.0).unwrap().temperature()
            }),
            ("ph two", &|i: usize| r.state_ph(p0, hl + (i % 1000) as f64 * 10.0).unwrap().temperature()),
            ("ps vap", &|i: usize| {
                r.state_ps(p0 * 1.5, sv + (i % 1000) as f64 * 0.01).unwrap().temperature()
            }),
            ("pt vap", &|i: usize| r.state_pt(p0, 281.0 + (i % 1000) as f64 * 0.01).unwrap().enthalpy()),
            ("pt liq", &|i: usize| {
                r.state_pt(p0 * 2.0, 279.0 - (i % 1000) as f64 * 0.001).unwrap().enthalpy()
            }),
            ("hs vap", &|i: usize| r.state_hs(h + 5000.0, sv + (i % 1000) as f64 * 0.01).unwrap().enthalpy()),
            ("t rho", &|i: usize| r.state_t_rho(300.0, 1.0 + (i % 1000) as f64 * 0.001).unwrap().enthalpy()),
        ] {
            let t0 = Instant::now();
            let mut acc = 0.0;
            for i in 0..n / 10 {
                acc += f(i);
            }
            println!("  {nm} {:?} ns {acc}", t0.elapsed().as_nanos() / (n / 10) as u128);
        }
    }
}
