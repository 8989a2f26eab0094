//! Flow of liquid, and of liquid that carries vapor, through a fixed orifice.
//!
//! Three models of what happens between the inlet and the narrowest section, all for flow from rest without
//! friction; what the stream does besides is left to the discharge coefficient. With the pressure at the
//! orifice `p0 = p_up + rho_up g H` under a head `H`:
//!
//! 1. metastable liquid: `G = sqrt(2 rho_up (p0 - p_dn))`, since in a thin sharp-edged orifice the liquid has
//!    no time to flash before the narrowest section (M. W. Benjamin, J. G. Miller 1941; J. F. Bailey 1951; both
//!    from memory);
//! 2. frozen mixture: the same with the density of the mixture upstream,
//!    `1 / rho_up = x v_vapor + (1 - x) v_liquid`;
//! 3. equilibrium: the largest value of `G = rho(p, s0) sqrt(2 (h0 - h(p, s0)))` over throat pressures from
//!    `p_dn` to `p0`, homogeneous and without slip. API Standard 520 Part I, Annex C, sums the same integral
//!    over pressure steps.
//!
//! The models are plain `f64`: the solution of a circuit takes its mass flow from the size of the machine and
//! never asks an orifice, and the square root has no slope at equal pressures.

use std::fmt;

use crate::error::{Error, Result, within};
use crate::refrigerant::{Model, Refrigerant};
use crate::state::{Phase, State};
use crate::units::GRAVITY;

/// Highest head that is accepted, m. No published source: no liquid line of a chiller comes near it, and
/// a pressure given by mistake for a head does.
const HIGHEST_HEAD: f64 = 100.0;

/// Largest area that is accepted, m2. No published source: orifices of the largest chillers have some 0.01 m2.
const LARGEST_AREA: f64 = 100.0;

/// Quality up to which a state counts as liquid: what rounding makes of saturated liquid.
const ROUNDING: f64 = 1e-9;

/// How the stream behaves between the inlet of an orifice and its narrowest section.
///
/// For saturated liquid of 37 degC, throttled to the geometric mean of its pressure and the saturation pressure
/// at 5 degC, metastable liquid gives 5.8 (R-123), 5.1 (R-1233zd(E)) or 3.0 (R-134a) times the flow of
/// equilibrium. Which of them a given orifice follows depends on its edge and on length over diameter. So a
/// model serves to carry a known flow over to other conditions, with the area of [`Orifice::calibrated`], and a
/// result is to be reported with the model it stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum OrificeModel {
    /// The liquid does not flash before the narrowest section, `G = sqrt(2 rho (p0 - p_dn))`: for thin
    /// sharp-edged orifices that are sealed. Never chokes.
    #[default]
    MetastableLiquid,
    /// Liquid and vapor enter together and the quality stays: the same formula with the density of the mixture.
    /// For orifices that are not sealed and draw some vapor; leaves out that the vapor expands. Never chokes.
    FrozenMixture,
    /// Liquid and vapor stay in equilibrium: the largest `rho sqrt(2 (h0 - h))` on the isentrope. The lowest of
    /// the three, for long passages. Chokes where that lies above the downstream pressure.
    Equilibrium,
}

impl fmt::Display for OrificeModel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::MetastableLiquid => "metastable liquid",
            Self::FrozenMixture => "frozen mixture",
            Self::Equilibrium => "equilibrium",
        })
    }
}

/// A fixed orifice: its flow area and the model of the flow.
///
/// The flow area (m2) is that of the bore times the discharge coefficient. Sharp-edged bores have coefficients
/// of 0.60 to 0.65 in liquid that does not flash (ISO 5167, from memory); with flashing the models differ far more
/// than that, see [`OrificeModel`].
///
/// An estimate for analysis: never a basis for sizing a protection.
///
/// ```
/// use interstage::{Orifice, OrificeModel, Refrigerant};
///
/// // At full load the liquid stands 0.3 m over the orifice and 18 kg/s pass: invented figures.
/// let refrigerant = Refrigerant::named("R-1233zd(E)")?;
/// let full = refrigerant.saturation_at_temperature(310.15)?.liquid();
/// let model = OrificeModel::MetastableLiquid;
/// let orifice = Orifice::calibrated(model, &refrigerant, &full, 108.6e3, 0.3, 18.0)?;
///
/// // What passes at part load, before vapor follows the liquid?
/// let part = refrigerant.saturation_at_temperature(295.15)?.liquid();
/// let flow = orifice.mass_flow(&refrigerant, &part, 85.5e3, 0.0)?;
/// assert!(flow.mass_flow() > 9.0 && flow.mass_flow() < 12.0);
/// assert!(!flow.choked());
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Orifice {
    flow_area: f64,
    model: OrificeModel,
}

/// What passes an orifice, with the model it stands on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OrificeFlow {
    model: OrificeModel,
    mass_flow: f64,
    throat: Throat,
}

/// The narrowest section.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Throat {
    mass_flux: f64,
    pressure: f64,
    choked: bool,
}

impl OrificeFlow {
    /// Model of the flow.
    pub fn model(&self) -> OrificeModel {
        self.model
    }

    /// Mass flow, kg/s.
    pub fn mass_flow(&self) -> f64 {
        self.mass_flow
    }

    /// Mass flow per flow area, kg/(m2 s).
    pub fn mass_flux(&self) -> f64 {
        self.throat.mass_flux
    }

    /// Pressure in the narrowest section, Pa absolute: the downstream pressure unless the flow is choked.
    pub fn throat_pressure(&self) -> f64 {
        self.throat.pressure
    }

    /// Whether a lower downstream pressure would leave the flow as it is.
    pub fn choked(&self) -> bool {
        self.throat.choked
    }
}

impl Orifice {
    /// An orifice with a flow area (m2, bore area times discharge coefficient), and the metastable liquid model.
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for an area that is not positive or beyond 100 m2.
    pub fn new(flow_area: f64) -> Result<Self> {
        let reason = "bore area times discharge coefficient";
        within("flow area", flow_area, f64::MIN_POSITIVE, LARGEST_AREA, "m2", reason)?;
        Ok(Self { flow_area, model: OrificeModel::default() })
    }

    /// The orifice of the same flow area with another model.
    ///
    /// An area found by calibration belongs to the model it was found with.
    #[must_use]
    pub fn with_model(self, model: OrificeModel) -> Self {
        Self { model, ..self }
    }

    /// The orifice that passes `mass_flow` (kg/s) from `upstream` with `liquid_head` (m) over it to
    /// `downstream_pressure` (Pa absolute).
    ///
    /// The point must be one where the orifice is known to be sealed, that is, where liquid alone enters.
    ///
    /// # Errors
    ///
    /// As [`Orifice::mass_flow`]; [`Error::OutOfRange`] for a mass flow that is not positive or needs too large an
    /// area; [`Error::Inconsistent`] if vapor enters, or if no pressure difference drives the flow.
    pub fn calibrated(
        model: OrificeModel,
        refrigerant: &Refrigerant,
        upstream: &State,
        downstream_pressure: f64,
        liquid_head: f64,
        mass_flow: f64,
    ) -> Result<Self> {
        let reason = "the flow at a point of calibration is positive";
        within("mass flow", mass_flow, f64::MIN_POSITIVE, 1e15, "kg/s", reason)?;
        if let Some(quality) = vapor(upstream) {
            return Err(not_sealed("a calibration needs a point where liquid alone enters", quality));
        }
        let throat = model.throat(refrigerant, upstream, downstream_pressure, liquid_head)?;
        if throat.mass_flux <= 0.0 {
            return Err(Error::Inconsistent {
                arguments: "mass flow and downstream pressure",
                reason: format!(
                    "{mass_flow} kg/s are said to pass, and nothing drives them to {downstream_pressure} Pa"
                ),
            });
        }
        Ok(Self::new(mass_flow / throat.mass_flux)?.with_model(model))
    }

    /// Flow area, m2: bore area times discharge coefficient.
    pub fn flow_area(&self) -> f64 {
        self.flow_area
    }

    /// Model of the flow.
    pub fn model(&self) -> OrificeModel {
        self.model
    }

    /// What passes from `upstream`, with `liquid_head` (m, of the upstream density) standing over the orifice,
    /// to `downstream_pressure` (Pa absolute).
    ///
    /// `upstream` is subcooled or saturated liquid, or a two-phase state, at the surface of the liquid. A head
    /// goes with liquid alone: liquid that stands over an orifice seals it.
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for a head below 0 or beyond 100 m, a downstream pressure
    /// below 0 or above that at the orifice, or, in the equilibrium model, a downstream pressure below the
    /// saturation line while the flow is not choked;
    /// [`Error::Undefined`] for superheated or supercritical `upstream`, and for a pseudo-pure blend in the equilibrium model, whose
    /// entropy by the lever rule gives no speed of sound (its mixture model does); [`Error::Inconsistent`] if `upstream` is not
    /// a state of this refrigerant in this reference, or holds vapor under a liquid head or in the metastable liquid
    /// model; range errors of the states between.
    pub fn mass_flow(
        &self,
        refrigerant: &Refrigerant,
        upstream: &State,
        downstream_pressure: f64,
        liquid_head: f64,
    ) -> Result<OrificeFlow> {
        let throat = self.model.throat(refrigerant, upstream, downstream_pressure, liquid_head)?;
        Ok(OrificeFlow { model: self.model, mass_flow: self.flow_area * throat.mass_flux, throat })
    }
}

impl OrificeModel {
    /// The narrowest section between `upstream` and `downstream_pressure`.
    fn throat(
        self,
        refrigerant: &Refrigerant,
        upstream: &State,
        downstream_pressure: f64,
        liquid_head: f64,
    ) -> Result<Throat> {
        self.accepts(refrigerant, upstream)?;
        let reason = "an orifice lies below the surface of the liquid that feeds it, or at it";
        within("liquid head", liquid_head, 0.0, HIGHEST_HEAD, "m", reason)?;
        if let (Some(quality), true) = (vapor(upstream), liquid_head > 0.0) {
            return Err(not_sealed("a liquid head seals an orifice", quality));
        }
        let inlet_pressure = upstream.pressure() + upstream.density() * GRAVITY * liquid_head;
        let reason = "up to the pressure at the orifice, with the liquid head";
        within("downstream pressure", downstream_pressure, 0.0, inlet_pressure, "Pa", reason)?;
        let driving = inlet_pressure - downstream_pressure;
        match self {
            Self::Equilibrium if driving > 0.0 => {
                equilibrium(refrigerant, inlet_pressure, upstream.entropy(), downstream_pressure)
            }
            _ => Ok(Throat {
                mass_flux: (2.0 * upstream.density() * driving).sqrt(),
                pressure: downstream_pressure,
                choked: false,
            }),
        }
    }

    /// Refuses an upstream state that the model does not cover, or of another refrigerant or reference.
    fn accepts(self, refrigerant: &Refrigerant, upstream: &State) -> Result<()> {
        let refuse = |state| Err(Error::Undefined { property: "the flow through an orifice", state });
        match (upstream.phase(), upstream.quality()) {
            (Phase::Supercritical, _) => return refuse("a supercritical state"),
            (Phase::Vapor, None) => return refuse("superheated vapor"),
            _ => {}
        }
        if self == Self::Equilibrium && refrigerant.model() == Model::PseudoPure {
            return refuse("a pseudo-pure blend in equilibrium, whose phases are joined by the lever rule");
        }
        if let (Self::MetastableLiquid, Some(quality)) = (self, vapor(upstream)) {
            return Err(not_sealed("the metastable liquid model needs liquid, the others do not", quality));
        }
        let contradiction = |reason: String| {
            Err(Error::Inconsistent {
                arguments: "refrigerant and upstream",
                reason: format!("not a state of {} in this reference: {reason}", refrigerant.name()),
            })
        };
        let own = match refrigerant.state_ps(upstream.pressure(), upstream.entropy()) {
            Ok(own) => own,
            Err(error @ Error::OutOfRange { .. }) => return contradiction(error.to_string()),
            Err(error) => return Err(error),
        };
        let alike = |own: f64, given: f64| (own - given).abs() <= SAME * own.abs();
        if alike(own.temperature(), upstream.temperature()) && alike(own.density(), upstream.density()) {
            return Ok(());
        }
        contradiction(format!(
            "at its pressure and entropy there are {} K and {} kg/m3, and it has {} K and {} kg/m3",
            own.temperature(),
            own.density(),
            upstream.temperature(),
            upstream.density()
        ))
    }
}

/// Relative agreement of temperature and density of one state found from two pairs of properties.
const SAME: f64 = 1e-4;

/// The quality, if it is more than rounding.
fn vapor(upstream: &State) -> Option<f64> {
    upstream.quality().filter(|&quality| quality > ROUNDING)
}

fn not_sealed(why: &str, quality: f64) -> Error {
    Error::Inconsistent {
        arguments: "upstream",
        reason: format!("{why}, and the upstream state has the quality {quality}"),
    }
}

/// Steps of the search for the throat pressure, even in ln(p).
const STEPS: usize = 64;

/// Cuts of the golden section: the last interval is 1e-14 of the first.
const CUTS: usize = 67;

/// Relative distance of the throat pressure from the downstream pressure from which the flow counts as choked.
/// The maximum is flat: rounding moves it by up to that much, and the flux by nothing.
const CHOKED: f64 = 1e-6;

/// The largest flux on the isentrope from rest at `inlet_pressure` down to `downstream_pressure`.
///
/// The flux rises from zero to one maximum and then falls, with a kink where liquid begins to flash. The steps
/// find the maximum's neighborhood, the golden section narrows it; neither needs a slope. The search ends at the
/// lower end of the saturation line.
fn equilibrium(
    refrigerant: &Refrigerant,
    inlet_pressure: f64,
    entropy: f64,
    downstream_pressure: f64,
) -> Result<Throat> {
    let coldest = refrigerant.minimum_saturation_temperature().max(refrigerant.minimum_temperature());
    let lowest = refrigerant.saturation_at_temperature(coldest)?.pressure();
    let unreached = || Error::OutOfRange {
        argument: "downstream pressure",
        value: downstream_pressure,
        minimum: lowest,
        maximum: inlet_pressure,
        unit: "Pa",
        reason: format!(
            "the saturation line of {} ends there, and the flow is not choked above",
            refrigerant.name()
        ),
    };
    let last = downstream_pressure.max(lowest);
    if last >= inlet_pressure {
        return Err(unreached());
    }
    let rest = refrigerant.state_ps(inlet_pressure, entropy)?;
    let flux = |pressure: f64| -> Result<f64> {
        let throat = refrigerant.state_ps(pressure, entropy)?;
        // h0 - h is the integral of v dp, and v grows along the expansion: its two ends bound the rounding of
        // the difference where the pressures are nearly equal.
        let driving = inlet_pressure - pressure;
        let drop = rest.enthalpy() - throat.enthalpy();
        let drop = drop.max(rest.specific_volume() * driving).min(throat.specific_volume() * driving);
        Ok(throat.density() * (2.0 * drop).sqrt())
    };
    // Positions run from 0 at the inlet to 1 at the last pressure.
    let span = (last / inlet_pressure).ln();
    let pressure = |position: f64| (inlet_pressure * (span * position).exp()).max(last);
    let step = 1.0 / STEPS as f64;
    let at_last = flux(last)?;
    let mut best = (1.0, at_last);
    for k in 1..STEPS {
        let position = k as f64 * step;
        let there = flux(pressure(position))?;
        if there > best.1 {
            best = (position, there);
        }
    }
    let (mut lower, mut upper) = ((best.0 - step).max(0.0), (best.0 + step).min(1.0));
    let golden = 0.5 * (5f64.sqrt() - 1.0);
    let (mut left, mut right) = (upper - golden * (upper - lower), lower + golden * (upper - lower));
    let (mut at_left, mut at_right) = (flux(pressure(left))?, flux(pressure(right))?);
    for _ in 0..CUTS {
        if at_left > at_right {
            (upper, right, at_right) = (right, left, at_left);
            left = upper - golden * (upper - lower);
            at_left = flux(pressure(left))?;
        } else {
            (lower, left, at_left) = (left, right, at_right);
            right = lower + golden * (upper - lower);
            at_right = flux(pressure(right))?;
        }
    }
    for found in [(left, at_left), (right, at_right)] {
        if found.1 > best.1 {
            best = found;
        }
    }
    let throat_pressure = pressure(best.0);
    if throat_pressure > last * (1.0 + CHOKED) {
        return Ok(Throat { mass_flux: best.1, pressure: throat_pressure, choked: true });
    }
    if downstream_pressure < lowest {
        return Err(unreached());
    }
    Ok(Throat { mass_flux: at_last, pressure: downstream_pressure, choked: false })
}
