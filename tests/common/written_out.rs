//! A multi-stage cycle with flash tanks, written out step by step from property calls.
//!
//! It serves two ends: a second way to the figures of a solved cycle, and the size of an effect that a
//! shifted ideal-gas part has on each of them.

use std::collections::BTreeMap;

use interstage::{Refrigerant, State};

use super::Fallible;
use super::corrections::IdealGasShift;

/// Figures of a cycle by name, SI. The part of a name after the last dot is the quantity.
pub(crate) type Figures = BTreeMap<String, f64>;

/// Pressures at the inlets of stages 2 to n.
#[derive(Debug, Clone)]
pub(crate) enum Pressures {
    EqualRatio,
    EqualTemperatureStep,
    Given(Vec<f64>),
}

/// What a case prescribes, SI.
#[derive(Debug, Clone)]
pub(crate) struct Prescribed {
    pub(crate) evaporating_temperature: f64,
    pub(crate) condensing_temperature: f64,
    pub(crate) superheat: f64,
    pub(crate) subcooling: f64,
    pub(crate) capacity: f64,
    pub(crate) efficiencies: Vec<f64>,
    pub(crate) polytropic: bool,
    pub(crate) pressures: Pressures,
    /// Stages that take the vapor of a tank at their inlet, in rising order.
    pub(crate) tank_stages: Vec<usize>,
}

/// A state as the cycle sees it.
#[derive(Debug, Clone, Copy)]
struct Seen {
    temperature: f64,
    pressure: f64,
    density: f64,
    enthalpy: f64,
    entropy: f64,
}

/// A refrigerant whose enthalpy and entropy may carry a shift that depends on temperature alone.
#[derive(Debug)]
struct Medium<'a> {
    refrigerant: &'a Refrigerant,
    shift: Option<&'a IdealGasShift<'a>>,
}

impl Medium<'_> {
    fn shift(&self, temperature: f64) -> Fallible<(f64, f64)> {
        self.shift.map_or(Ok((0.0, 0.0)), |shift| shift.at(temperature))
    }

    fn see(&self, state: &State) -> Fallible<Seen> {
        let (dh, ds) = self.shift(state.temperature())?;
        Ok(Seen {
            temperature: state.temperature(),
            pressure: state.pressure(),
            density: state.density(),
            enthalpy: state.enthalpy() + dh,
            entropy: state.entropy() + ds,
        })
    }

    /// The state with this pressure and this (shifted) enthalpy. Each pass gains four digits.
    fn at_ph(&self, pressure: f64, enthalpy: f64) -> Fallible<Seen> {
        let mut state = self.refrigerant.state_ph(pressure, enthalpy)?;
        for _ in 0..3 {
            let (dh, _) = self.shift(state.temperature())?;
            state = self.refrigerant.state_ph(pressure, enthalpy - dh)?;
        }
        self.see(&state)
    }

    fn at_ps(&self, pressure: f64, entropy: f64) -> Fallible<Seen> {
        let mut state = self.refrigerant.state_ps(pressure, entropy)?;
        for _ in 0..3 {
            let (_, ds) = self.shift(state.temperature())?;
            state = self.refrigerant.state_ps(pressure, entropy - ds)?;
        }
        self.see(&state)
    }

    /// Enthalpies of saturated liquid and vapor, and the temperature.
    fn saturated(&self, pressure: f64) -> Fallible<(f64, f64, f64)> {
        let saturation = self.refrigerant.saturation_at_pressure(pressure)?;
        let (liquid, vapor) = (self.see(&saturation.liquid())?, self.see(&saturation.vapor())?);
        Ok((liquid.enthalpy, vapor.enthalpy, saturation.temperature()))
    }

    /// Isentropic outlet enthalpy reached with an efficiency.
    fn isentropic(&self, inlet: &Seen, pressure: f64, efficiency: f64) -> Fallible<Seen> {
        let ideal = self.at_ps(pressure, inlet.entropy)?;
        self.at_ph(pressure, inlet.enthalpy + (ideal.enthalpy - inlet.enthalpy) / efficiency)
    }

    /// `dh = v dp / efficiency`, fourth-order Runge-Kutta in ln p with 64 steps.
    fn polytropic(&self, inlet: &Seen, pressure: f64, efficiency: f64) -> Fallible<Seen> {
        const STEPS: u32 = 64;
        let step = (pressure / inlet.pressure).ln() / f64::from(STEPS);
        let slope = |p: f64, h: f64| -> Fallible<f64> { Ok(p / self.at_ph(p, h)?.density / efficiency) };
        let (mut p, mut h) = (inlet.pressure, inlet.enthalpy);
        for n in 1..=STEPS {
            let middle = p * (0.5 * step).exp();
            let end = if n == STEPS { pressure } else { p * step.exp() };
            let k1 = slope(p, h)?;
            let k2 = slope(middle, h + 0.5 * step * k1)?;
            let k3 = slope(middle, h + 0.5 * step * k2)?;
            let k4 = slope(end, h + step * k3)?;
            h += step * (k1 + 2.0 * (k2 + k3) + k4) / 6.0;
            p = end;
        }
        self.at_ph(pressure, h)
    }
}

/// The figures of the cycle that `prescribed` describes.
pub(crate) fn figures(
    refrigerant: &Refrigerant,
    shift: Option<&IdealGasShift<'_>>,
    prescribed: &Prescribed,
) -> Fallible<Figures> {
    let mut figures = solve(&Medium { refrigerant, shift }, prescribed)?;
    if !prescribed.tank_stages.is_empty() {
        let without = Prescribed { tank_stages: Vec::new(), ..prescribed.clone() };
        let without = solve(&Medium { refrigerant, shift }, &without)?;
        let benefit = 1.0 - figure(&figures, "cycle.power")? / figure(&without, "cycle.power")?;
        figures.insert("cycle.economizer_benefit".to_owned(), benefit);
    }
    Ok(figures)
}

/// One figure by name.
pub(crate) fn figure(figures: &Figures, name: &str) -> Fallible<f64> {
    figures.get(name).copied().ok_or_else(|| format!("no figure {name:?}").into())
}

fn solve(medium: &Medium<'_>, prescribed: &Prescribed) -> Fallible<Figures> {
    let mut found = Figures::new();
    let mut put = |name: &str, value: f64| {
        found.insert(name.to_owned(), value);
    };
    let fluid = medium.refrigerant;
    let (t_e, t_c) = (prescribed.evaporating_temperature, prescribed.condensing_temperature);
    let evaporating = fluid.saturation_at_temperature(t_e)?;
    // Of a blend the dew pressure at that temperature, with its liquid colder.
    let condensing = fluid.saturation_at_pressure(fluid.saturation_at_temperature(t_c)?.pressure())?;
    let (p_e, p_c) = (evaporating.pressure(), condensing.pressure());
    let stages = prescribed.efficiencies.len();

    // Inlet pressures of all stages, then the condensing pressure.
    let mut pressures = vec![p_e];
    match &prescribed.pressures {
        Pressures::Given(given) => pressures.extend(given),
        Pressures::EqualRatio => {
            let shares = (1..stages).map(|k| k as f64 / stages as f64);
            pressures.extend(shares.map(|share| p_e * (p_c / p_e).powf(share)));
        }
        Pressures::EqualTemperatureStep => {
            for k in 1..stages {
                let temperature = t_e + (t_c - t_e) * k as f64 / stages as f64;
                pressures.push(fluid.saturation_at_temperature(temperature)?.pressure());
            }
        }
    }
    pressures.push(p_c);

    let suction = match prescribed.superheat {
        0.0 => evaporating.vapor(),
        superheat => fluid.state_pt(p_e, t_e + superheat)?,
    };
    let liquid = match prescribed.subcooling {
        0.0 => condensing.liquid(),
        subcooling => fluid.state_pt(p_c, condensing.liquid().temperature() - subcooling)?,
    };
    let (suction, liquid) = (medium.see(&suction)?, medium.see(&liquid)?);

    // Liquid passes the tanks from the highest pressure down; `ratios` is the flow of each stage over
    // the flow of the evaporator.
    let mut ratios = vec![1.0; stages];
    let mut vapor_enthalpy = vec![0.0; stages];
    let mut h_liquid = liquid.enthalpy;
    for &stage in prescribed.tank_stages.iter().rev() {
        let pressure = *pressures.get(stage - 1).ok_or("tank beyond the last stage")?;
        let (h_f, h_g, temperature) = medium.saturated(pressure)?;
        let fraction = (h_liquid - h_f) / (h_g - h_f);
        put(&format!("stage_{stage}_tank.pressure"), pressure);
        put(&format!("stage_{stage}_tank.temperature"), temperature);
        put(&format!("stage_{stage}_tank.flash_fraction"), fraction);
        put(&format!("stage_{stage}_tank_inlet.quality"), fraction);
        put(&format!("stage_{stage}_tank_vapor.enthalpy"), h_g);
        put(&format!("stage_{stage}_tank_liquid.enthalpy"), h_f);
        h_liquid = h_f;
        ratios.iter_mut().skip(stage - 1).for_each(|ratio| *ratio /= 1.0 - fraction);
        vapor_enthalpy.iter_mut().take(stage).skip(stage - 1).for_each(|h| *h = h_g);
    }

    let effect = suction.enthalpy - h_liquid;
    let flow = prescribed.capacity / effect;
    let (h_f, h_g, _) = medium.saturated(p_e)?;
    put("evaporating.pressure", p_e);
    put("condensing.pressure", p_c);
    put("cycle.refrigerating_effect", effect);
    put("evaporator_inlet.enthalpy", h_liquid);
    put("evaporator_inlet.quality", (h_liquid - h_f) / (h_g - h_f));
    put("evaporator.mass_flow", flow);

    let mut inlet = suction;
    let mut power = 0.0;
    let mut below = 1.0;
    for (index, &efficiency) in prescribed.efficiencies.iter().enumerate() {
        let stage = index + 1;
        let at = |list: &[f64]| list.get(index).copied().ok_or("stage out of range");
        let (ratio, p_out) = (at(&ratios)?, *pressures.get(stage).ok_or("stage out of range")?);
        if prescribed.tank_stages.contains(&stage) {
            let mixed = (below * inlet.enthalpy + (ratio - below) * at(&vapor_enthalpy)?) / ratio;
            inlet = medium.at_ph(inlet.pressure, mixed)?;
            // What the stage compresses has passed this tank: its vapor, and the liquid that went on.
            put(&format!("stage_{stage}_tank_inlet.mass_flow"), flow * ratio);
        }
        let outlet = if prescribed.polytropic {
            medium.polytropic(&inlet, p_out, efficiency)?
        } else {
            medium.isentropic(&inlet, p_out, efficiency)?
        };
        let work = outlet.enthalpy - inlet.enthalpy;
        let isentropic_head = medium.at_ps(p_out, inlet.entropy)?.enthalpy - inlet.enthalpy;
        let stage_power = flow * ratio * work;
        if stage > 1 {
            put(&format!("interstage_{index}.pressure"), inlet.pressure);
        }
        put(&format!("stage_{stage}.mass_flow"), flow * ratio);
        put(&format!("stage_{stage}.work"), work);
        put(&format!("stage_{stage}.head"), efficiency * work);
        put(&format!("stage_{stage}.isentropic_head"), isentropic_head);
        put(&format!("stage_{stage}.volume_flow"), flow * ratio / inlet.density);
        put(&format!("stage_{stage}.power"), stage_power);
        for (name, seen) in [("inlet", &inlet), ("outlet", &outlet)] {
            put_state(&mut put, &format!("stage_{stage}_{name}"), seen);
        }
        power += stage_power;
        below = ratio;
        inlet = outlet;
    }

    put_state(&mut put, "evaporator_outlet", &suction);
    put_state(&mut put, "condenser_outlet", &liquid);
    let carnot = t_e / (t_c - t_e);
    let cop = prescribed.capacity / power;
    put("discharge.temperature", inlet.temperature);
    put("condenser.mass_flow", flow * below);
    put("condenser.heat_rejected", flow * below * (inlet.enthalpy - liquid.enthalpy));
    put("cycle.power", power);
    put("cycle.cop", cop);
    put("cycle.carnot_cop", carnot);
    put("cycle.second_law_efficiency", cop / carnot);
    // 12 000 Btu/h (International Table) in kW.
    put("cycle.kw_per_ton", 3.516_852_842_066_7 / cop);
    Ok(found)
}

fn put_state(put: &mut impl FnMut(&str, f64), name: &str, seen: &Seen) {
    put(&format!("{name}.pressure"), seen.pressure);
    put(&format!("{name}.temperature"), seen.temperature);
    put(&format!("{name}.density"), seen.density);
    put(&format!("{name}.enthalpy"), seen.enthalpy);
    put(&format!("{name}.entropy"), seen.entropy);
}
