//! A multi-stage cycle with economizers, written out step by step from property calls, with its exergy ledger.
//!
//! It serves two ends: a second way to the figures of a solved cycle, and the size of an effect that a
//! shifted ideal-gas part has on each of them.

use std::collections::BTreeMap;

use interstage::Refrigerant;

use super::Fallible;
use super::corrections::IdealGasShift;
use super::medium::{Medium, Seen};

/// Figures of a cycle by name, SI. The part of a name after the last dot is the quantity.
pub(crate) type Figures = BTreeMap<String, f64>;

/// Pressures at the inlets of stages 2 to n.
#[derive(Debug, Clone, Default)]
pub(crate) enum Pressures {
    #[default]
    EqualRatio,
    EqualTemperatureStep,
    Given(Vec<f64>),
}

/// What feeds the inlets of stages.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) enum Economizers {
    /// Flash tanks.
    #[default]
    Tanks,
    /// Tanks through which all gas passes.
    Intercooled,
    /// Exchangers, the injection taken before each.
    Closed { approach: f64, superheat: f64 },
}

/// Pressure losses, as fractions of the pressure they lead to (of the suction: come from).
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Losses {
    pub(crate) suction: f64,
    pub(crate) interstage: f64,
    pub(crate) port: f64,
    pub(crate) discharge: f64,
}

/// Entropic mean temperatures of the waters, and the temperature of the dead state, K.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Waters {
    pub(crate) chilled: f64,
    pub(crate) condenser: f64,
    pub(crate) dead: f64,
}

/// What a case prescribes, SI.
#[derive(Debug, Clone, Default)]
pub(crate) struct Prescribed {
    pub(crate) evaporating_temperature: f64,
    pub(crate) condensing_temperature: f64,
    pub(crate) superheat: f64,
    pub(crate) subcooling: f64,
    pub(crate) capacity: f64,
    pub(crate) efficiencies: Vec<f64>,
    pub(crate) polytropic: bool,
    pub(crate) pressures: Pressures,
    pub(crate) economizers: Economizers,
    /// Stages that are fed by an economizer at their inlet, in rising order.
    pub(crate) economizer_stages: Vec<usize>,
    /// Liquid in the vapor of tanks, vapor in their liquid.
    pub(crate) carryover: f64,
    pub(crate) blowthrough: f64,
    pub(crate) losses: Losses,
    /// Compression power per power drawn; 1 if zero.
    pub(crate) drive_efficiency: f64,
    pub(crate) waters: Option<Waters>,
}

/// 12 000 Btu/h (International Table) in kW.
const TON: f64 = 3.516_852_842_066_7;

/// The figures of the cycle that `prescribed` describes.
pub(crate) fn figures(
    refrigerant: &Refrigerant,
    shift: Option<&IdealGasShift<'_>>,
    prescribed: &Prescribed,
) -> Fallible<Figures> {
    let medium = match shift {
        Some(shift) => Medium::shifted(refrigerant, shift),
        None => Medium::plain(refrigerant),
    };
    let mut figures = solve(&medium, prescribed)?;
    if !prescribed.economizer_stages.is_empty() {
        let without = Prescribed { economizer_stages: Vec::new(), ..prescribed.clone() };
        let without = solve(&medium, &without)?;
        let benefit = 1.0 - figure(&figures, "cycle.power")? / figure(&without, "cycle.power")?;
        figures.insert("cycle.economizer_benefit".to_owned(), benefit);
    }
    Ok(figures)
}

/// One figure by name.
pub(crate) fn figure(figures: &Figures, name: &str) -> Fallible<f64> {
    figures.get(name).copied().ok_or_else(|| format!("no figure {name:?}").into())
}

/// An economizer on the way down.
struct Economizer {
    stage: usize,
    pressure: f64,
    /// Liquid that comes, what its metering device makes of it, what goes to the stage, what goes on.
    incoming: Seen,
    inlet: Seen,
    vapor: Seen,
    liquid: Seen,
}

impl Economizer {
    /// What joins the gas per liquid that goes on, where the gas from below has this enthalpy.
    fn joins(&self, kind: Economizers, below: f64) -> f64 {
        let (inlet, vapor, liquid) = (self.inlet.enthalpy, self.vapor.enthalpy, self.liquid.enthalpy);
        match kind {
            Economizers::Tanks => {
                let fraction = (inlet - liquid) / (vapor - liquid);
                fraction / (1.0 - fraction)
            }
            Economizers::Closed { .. } => {
                (self.incoming.enthalpy - liquid) / (vapor - self.incoming.enthalpy)
            }
            Economizers::Intercooled => (below - liquid) / (vapor - self.incoming.enthalpy) - 1.0,
        }
    }
}

/// Inlet pressures of all stages, then the condensing pressure.
fn stage_pressures(
    fluid: &Refrigerant,
    prescribed: &Prescribed,
    (p_e, p_c): (f64, f64),
) -> Fallible<Vec<f64>> {
    let (t_e, t_c) = (prescribed.evaporating_temperature, prescribed.condensing_temperature);
    let stages = prescribed.efficiencies.len();
    let mut pressures = vec![p_e * (1.0 - prescribed.losses.suction)];
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
    Ok(pressures)
}

/// Liquid through the economizers, from the highest pressure down.
fn descend(
    medium: &Medium<'_>,
    prescribed: &Prescribed,
    pressures: &[f64],
    mut incoming: Seen,
) -> Fallible<(Vec<Economizer>, Seen)> {
    let mut passed = Vec::new();
    for &stage in prescribed.economizer_stages.iter().rev() {
        let at_stage = pressures.get(stage - 1).ok_or("economizer beyond the last stage")?;
        let pressure = at_stage * (1.0 + prescribed.losses.port);
        let (f, g, temperature) = medium.saturated(pressure)?;
        let between = |from: &Seen, to: &Seen, share: f64| {
            let enthalpy = (1.0 - share) * from.enthalpy + share * to.enthalpy;
            if share == 0.0 { Ok(*from) } else { medium.at_ph(pressure, enthalpy) }
        };
        let (vapor, liquid) = match prescribed.economizers {
            Economizers::Tanks | Economizers::Intercooled => {
                (between(&g, &f, prescribed.carryover)?, between(&f, &g, prescribed.blowthrough)?)
            }
            Economizers::Closed { approach, superheat } => {
                let vapor =
                    if superheat > 0.0 { medium.at_pt(pressure, temperature + superheat)? } else { g };
                (vapor, medium.at_pt(incoming.pressure, f.temperature + approach)?)
            }
        };
        let inlet = medium.at_ph(pressure, incoming.enthalpy)?;
        passed.push(Economizer { stage, pressure, incoming, inlet, vapor, liquid });
        incoming = liquid;
    }
    Ok((passed, incoming))
}

fn solve(medium: &Medium<'_>, prescribed: &Prescribed) -> Fallible<Figures> {
    let mut found = Figures::new();
    let mut put = |name: &str, value: f64| {
        found.insert(name.to_owned(), value);
    };
    let fluid = medium.refrigerant();
    let (t_e, t_c) = (prescribed.evaporating_temperature, prescribed.condensing_temperature);
    let evaporating = fluid.saturation_at_temperature(t_e)?;
    // Of a blend the dew pressure at that temperature, with its liquid colder.
    let condensing = fluid.saturation_at_pressure(fluid.saturation_at_temperature(t_c)?.pressure())?;
    let (p_e, p_c) = (evaporating.pressure(), condensing.pressure());
    let pressures = stage_pressures(fluid, prescribed, (p_e, p_c))?;
    let evaporated = match prescribed.superheat {
        0.0 => evaporating.vapor(),
        superheat => fluid.state_pt(p_e, t_e + superheat)?,
    };
    let condensed = match prescribed.subcooling {
        0.0 => condensing.liquid(),
        subcooling => fluid.state_pt(p_c, condensing.liquid().temperature() - subcooling)?,
    };
    let (evaporated, condensed) = (medium.see(&evaporated)?, medium.see(&condensed)?);
    let (economizers, to_evaporator) = descend(medium, prescribed, &pressures, condensed)?;

    let effect = evaporated.enthalpy - to_evaporator.enthalpy;
    let flow = prescribed.capacity / effect;
    let wet = medium.at_ph(p_e, to_evaporator.enthalpy)?;
    let (f, g, _) = medium.saturated(p_e)?;
    put("evaporating.pressure", p_e);
    put("condensing.pressure", p_c);
    put("cycle.refrigerating_effect", effect);
    put("evaporator_inlet.enthalpy", to_evaporator.enthalpy);
    put("evaporator_inlet.quality", (to_evaporator.enthalpy - f.enthalpy) / (g.enthalpy - f.enthalpy));
    put("evaporator.mass_flow", flow);

    // Entropy generated per kilogram through the evaporator.
    let mut compression = 0.0;
    let (mut mixing, mut exchange) = (0.0, 0.0);
    let mut expansion = wet.entropy - to_evaporator.entropy;
    let mut inlet = match prescribed.losses.suction {
        0.0 => evaporated,
        loss => medium.at_ph(p_e * (1.0 - loss), evaporated.enthalpy)?,
    };
    let suction_line = inlet.entropy - evaporated.entropy;
    let stages = prescribed.efficiencies.len();
    let (mut power, mut ratio) = (0.0, 1.0);
    for (index, &efficiency) in prescribed.efficiencies.iter().enumerate() {
        let stage = index + 1;
        let delivered_to = *pressures.get(stage).ok_or("stage out of range")?;
        let loss = if stage == stages { prescribed.losses.discharge } else { prescribed.losses.interstage };
        // Gas that passes a tank arrives at its pressure.
        let passed = economizers
            .iter()
            .find(|at| at.stage == stage + 1 && prescribed.economizers == Economizers::Intercooled);
        let p_out = passed.map_or(delivered_to, |at| at.pressure) * (1.0 + loss);
        let outlet = if prescribed.polytropic {
            medium.polytropic(&inlet, p_out, efficiency)?
        } else {
            medium.isentropic(&inlet, p_out, efficiency)?
        };
        let work = outlet.enthalpy - inlet.enthalpy;
        let isentropic_head = medium.at_ps(p_out, inlet.entropy)?.enthalpy - inlet.enthalpy;
        let stage_power = flow * ratio * work;
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
        compression += ratio * (outlet.entropy - inlet.entropy);
        if stage == stages {
            inlet = outlet;
            break;
        }
        put(&format!("interstage_{stage}.pressure"), delivered_to);
        let Some(at) = economizers.iter().find(|at| at.stage == stage + 1) else {
            inlet = if loss == 0.0 { outlet } else { medium.at_ph(delivered_to, outlet.enthalpy)? };
            mixing += ratio * (inlet.entropy - outlet.entropy);
            continue;
        };
        let joins = ratio * at.joins(prescribed.economizers, outlet.enthalpy);
        let above = ratio + joins;
        let passing = ratio;
        let enthalpy = match prescribed.economizers {
            Economizers::Intercooled => at.vapor.enthalpy,
            _ => (ratio * outlet.enthalpy + joins * at.vapor.enthalpy) / above,
        };
        inlet = medium.at_ph(delivered_to, enthalpy)?;
        let name = match prescribed.economizers {
            Economizers::Closed { .. } => {
                // Only what is injected is throttled.
                expansion += joins * (at.inlet.entropy - at.incoming.entropy);
                exchange += joins * (at.vapor.entropy - at.inlet.entropy)
                    + passing * (at.liquid.entropy - at.incoming.entropy);
                mixing += above * inlet.entropy - ratio * outlet.entropy - joins * at.vapor.entropy;
                put(&format!("stage_{}_closed.injection_ratio", at.stage), joins / passing);
                put(&format!("stage_{}_closed_liquid.temperature", at.stage), at.liquid.temperature);
                "closed"
            }
            kind => {
                expansion += above * (at.inlet.entropy - at.incoming.entropy);
                mixing += above * inlet.entropy + passing * at.liquid.entropy
                    - ratio * outlet.entropy
                    - above * at.inlet.entropy;
                let (f, g, _) = medium.saturated(at.pressure)?;
                let quality = (at.inlet.enthalpy - f.enthalpy) / (g.enthalpy - f.enthalpy);
                put(&format!("stage_{}_tank_inlet.quality", at.stage), quality);
                if kind == Economizers::Tanks {
                    put(&format!("stage_{}_tank.flash_fraction", at.stage), joins / above);
                }
                "tank"
            }
        };
        let name = format!("stage_{}_{name}", at.stage);
        put(&format!("{name}.pressure"), at.pressure);
        put(&format!("{name}.temperature"), medium.saturated(at.pressure)?.2);
        put(&format!("{name}_vapor.enthalpy"), at.vapor.enthalpy);
        put(&format!("{name}_liquid.enthalpy"), at.liquid.enthalpy);
        put(&format!("{name}_inlet.mass_flow"), flow * above);
        ratio = above;
    }

    put_state(&mut put, "evaporator_outlet", &evaporated);
    put_state(&mut put, "condenser_outlet", &condensed);
    let carnot = t_e / (t_c - t_e);
    let cop = prescribed.capacity / power;
    let drive = if prescribed.drive_efficiency > 0.0 { prescribed.drive_efficiency } else { 1.0 };
    let heat = flow * ratio * (inlet.enthalpy - condensed.enthalpy);
    put("discharge.temperature", inlet.temperature);
    put("condenser.mass_flow", flow * ratio);
    put("condenser.heat_rejected", heat);
    put("cycle.power", power);
    put("cycle.cop", cop);
    put("cycle.carnot_cop", carnot);
    put("cycle.second_law_efficiency", cop / carnot);
    put("cycle.kw_per_ton", TON / cop);
    put("drive.power", power / drive);
    put("drive.cop", cop * drive);
    put("drive.kw_per_ton", TON / (cop * drive));
    let Some(Waters { chilled, condenser, dead }) = prescribed.waters else { return Ok(found) };
    let in_condenser = ratio * (condensed.entropy - inlet.entropy) + heat / flow / condenser;
    let in_evaporator = evaporated.entropy - wet.entropy - effect / chilled;
    for (name, generated) in [
        ("compression", compression),
        ("suction_line", suction_line),
        ("mixing", mixing),
        ("expansion", expansion),
        ("economizer_exchange", exchange),
        ("condenser", in_condenser),
        ("evaporator", in_evaporator),
    ] {
        put(&format!("{name}.destruction"), dead * flow * generated);
    }
    let product = prescribed.capacity * (dead / chilled - 1.0);
    put("cooling.exergy", product);
    put("rejected.exergy", heat * (1.0 - dead / condenser));
    put("cycle.exergetic_efficiency", product / power);
    Ok(found)
}

fn put_state(put: &mut impl FnMut(&str, f64), name: &str, seen: &Seen) {
    put(&format!("{name}.pressure"), seen.pressure);
    put(&format!("{name}.temperature"), seen.temperature);
    put(&format!("{name}.density"), seen.density);
    put(&format!("{name}.enthalpy"), seen.enthalpy);
    put(&format!("{name}.entropy"), seen.entropy);
}
