//! Conductance of an exchanger: how it changes with flow and heat, and what fouling takes off it.

use super::Vessel;
use crate::error::{Error, Result, within};
use crate::numeric::Real;

/// Refuses what is no conductance. No published source for the limits: exchangers of the largest machines have some
/// 1e7 W/K, a single test tube 100 W/K.
pub(super) fn conductance(argument: &'static str, ua: f64) -> Result<f64> {
    within(argument, ua, 1e-6, 1e12, "W/K", "conductance of an exchanger")
}

/// Exponent of the water flow in the resistance of the water side: heat transfer rises with the flow to the power 0.8
/// (the turbulent flow of V. Gnielinski 1976 between Re of 1e4 and 1e6; from memory).
const WATER_EXPONENT: f64 = -0.8;

/// Conductance that depends on water flow and heat, in the form of a Wilson plot:
/// `1/UA = r_wall + r_water m^-0.8 + r_refrigerant q^-n`, with the water flow `m` in kg/s and the heat `q` in W.
///
/// Heat transfer of nucleate boiling rises with the heat flux to the power 0.67 (M. G. Cooper 1984), that of film
/// condensation on tubes falls with the power 1/3 (W. Nusselt 1916); both from memory. So the conductance of an
/// evaporator rises with load and that of a condenser falls: [`VariableUa::BOILING`] and [`VariableUa::CONDENSATION`]
/// are the `n` for them. In readings of one machine the shares of wall, water and refrigerant are what a fit is to
/// find.
///
/// ```
/// use interstage::VariableUa;
///
/// // Known at design: 1100 kW/K at 167 kg/s and 3.5 MW, with half of the resistance on the water side.
/// let variable = VariableUa::at_design(1.1e6, 167.0, 3.5e6, 0.5, 0.35, VariableUa::BOILING)?;
/// assert!((variable.ua(167.0, 3.5e6)? / 1.1e6 - 1.0).abs() < 1e-14);
/// assert!(variable.ua(167.0, 1.7e6)? < 1.1e6 && variable.ua(200.0, 3.5e6)? > 1.1e6);
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VariableUa {
    wall: f64,
    water: f64,
    refrigerant: f64,
    exponent: f64,
}

impl VariableUa {
    /// Exponent of nucleate boiling, 0.67: for evaporators (M. G. Cooper 1984; from memory).
    pub const BOILING: f64 = 0.67;

    /// Exponent of film condensation on tubes, -1/3: for condensers (W. Nusselt 1916; from memory).
    pub const CONDENSATION: f64 = -1.0 / 3.0;

    /// The three resistances and the exponent `n` of the heat: `wall` in K/W, `water` in K/W at 1 kg/s, `refrigerant`
    /// in K/W at 1 W.
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for a resistance below 0 or beyond 1e12 K/W, or an exponent
    /// outside -0.95 to 0.95; [`Error::Inconsistent`] if all three resistances are zero.
    pub fn new(wall: f64, water: f64, refrigerant: f64, exponent: f64) -> Result<Self> {
        let reason = "a resistance is not negative";
        for (argument, value) in
            [("wall resistance", wall), ("water resistance", water), ("refrigerant resistance", refrigerant)]
        {
            within(argument, value, 0.0, 1e12, "K/W", reason)?;
        }
        let reason = "at 1 and beyond, less heat would need more difference of temperature";
        within("exponent", exponent, -0.95, 0.95, "-", reason)?;
        if wall + water + refrigerant < 1e-30 {
            return Err(Error::Inconsistent {
                arguments: "wall resistance and water resistance and refrigerant resistance",
                reason: "together they are zero, and the conductance would be infinite".to_owned(),
            });
        }
        Ok(Self { wall, water, refrigerant, exponent })
    }

    /// The conductance that is `ua` (W/K) at a water flow (kg/s) and heat (W), with the shares of the resistance that
    /// water side and refrigerant side have there; the rest is that of the wall, fouling included.
    ///
    /// # Errors
    ///
    /// As [`VariableUa::new`] and [`VariableUa::ua`]; [`Error::Inconsistent`] if the shares add up to more than 1.
    pub fn at_design(
        ua: f64,
        mass_flow: f64,
        heat: f64,
        water_share: f64,
        refrigerant_share: f64,
        exponent: f64,
    ) -> Result<Self> {
        conductance("ua", ua)?;
        accepts(mass_flow, heat)?;
        let reason = "a share of the resistance";
        within("water share", water_share, 0.0, 1.0, "-", reason)?;
        within("refrigerant share", refrigerant_share, 0.0, 1.0, "-", reason)?;
        let rest = 1.0 - water_share - refrigerant_share;
        // Shares such as 0.7 and 0.3 add up to 1 but for rounding.
        if rest < -4.0 * f64::EPSILON {
            return Err(Error::Inconsistent {
                arguments: "water share and refrigerant share",
                reason: format!("{water_share} and {refrigerant_share} are more than the whole"),
            });
        }
        Self::new(
            rest.max(0.0) / ua,
            water_share / ua * mass_flow.powf(-WATER_EXPONENT),
            refrigerant_share / ua * heat.powf(exponent),
            exponent,
        )
    }

    /// The same exchanger with a fouling resistance (m2 K/W) on a tube area (m2, the side that fouls), which joins
    /// that of the wall.
    ///
    /// # Errors
    ///
    /// As [`fouled_ua`].
    pub fn with_fouling(self, resistance: f64, tube_area: f64) -> Result<Self> {
        Ok(Self { wall: self.wall + on_area(resistance, tube_area)?, ..self })
    }

    /// Conductance at a water flow (kg/s) and heat (W), W/K.
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`]; [`Error::OutOfRange`] for a flow outside 1e-9 to 1e9 kg/s or heat outside 1e-9 to 1e15
    /// W.
    pub fn ua(&self, mass_flow: f64, heat: f64) -> Result<f64> {
        accepts(mass_flow, heat)?;
        Ok(self.over(mass_flow, heat))
    }

    pub(super) fn over<R: Real>(&self, mass_flow: R, heat: R) -> R {
        let water = mass_flow.powf(WATER_EXPONENT) * self.water;
        let refrigerant = heat.powf(-self.exponent) * self.refrigerant;
        R::constant(1.0) / (water + refrigerant + self.wall)
    }

    /// Resistance of the wall, fouling included, K/W.
    pub fn wall_resistance(&self) -> f64 {
        self.wall
    }

    /// Resistance of the water side at 1 kg/s, K/W.
    pub fn water_resistance(&self) -> f64 {
        self.water
    }

    /// Resistance of the refrigerant side at 1 W, K/W.
    pub fn refrigerant_resistance(&self) -> f64 {
        self.refrigerant
    }

    /// Exponent of the heat.
    pub fn exponent(&self) -> f64 {
        self.exponent
    }
}

fn accepts(mass_flow: f64, heat: f64) -> Result<()> {
    super::flow("mass flow", mass_flow)?;
    super::positive_heat(heat).map(|_| ())
}

/// m2 K/W per h ft2 degF/Btu: 3600 s 0.3048^2 m2 / (1.8 1055.055 852 62 J).
const RESISTANCE: f64 = 3600.0 * 0.3048 * 0.3048 / (1.8 * 1_055.055_852_62);

/// Field fouling allowance on the water side of tubes in AHRI 550/590 (I-P), m2 K/W: 0.0001 h ft2 degF/Btu (1.761e-5 m2 K/W)
/// in an evaporator, 0.00025 h ft2 degF/Btu (4.403e-5 m2 K/W) in a condenser.
///
/// Editions 2003 to 2018, from memory. AHRI 551/591 (SI) rounds the same to 0.018 and 0.044 m2 K/kW.
///
/// ```
/// use interstage::{Vessel, fouled_ua, fouling_allowance};
///
/// // What the allowance takes off 1000 kW/K with 200 m2 of tubes.
/// let fouled = fouled_ua(1e6, fouling_allowance(Vessel::Condenser), 200.0)?;
/// assert!((fouled / 8.196e5 - 1.0).abs() < 1e-3);
/// # Ok::<(), interstage::Error>(())
/// ```
pub fn fouling_allowance(vessel: Vessel) -> f64 {
    match vessel {
        Vessel::Evaporator => 0.0001 * RESISTANCE,
        Vessel::Condenser => 0.00025 * RESISTANCE,
    }
}

/// Resistance of a fouled area, K/W.
fn on_area(resistance: f64, tube_area: f64) -> Result<f64> {
    let reason = "the thickest scale has some 0.01 m2 K/W";
    within("resistance", resistance, 0.0, 1.0, "m2 K/W", reason)?;
    within("tube area", tube_area, 1e-6, 1e9, "m2", "area of the tubes that foul")?;
    Ok(resistance / tube_area)
}

/// Conductance (W/K) of an exchanger of `clean_ua` (W/K) with a fouling resistance (m2 K/W) on a tube area (m2, the
/// side that fouls): `1/UA = 1/UA_clean + R/A`.
///
/// # Errors
///
/// [`Error::NotFinite`]; [`Error::OutOfRange`] for a conductance outside 1e-6 to 1e12 W/K, an area outside 1e-6 to
/// 1e9 m2, or a resistance below 0 or beyond 1 m2 K/W.
pub fn fouled_ua(clean_ua: f64, resistance: f64, tube_area: f64) -> Result<f64> {
    conductance("clean ua", clean_ua)?;
    Ok(clean_ua / (1.0 + clean_ua * on_area(resistance, tube_area)?))
}

/// Fouling resistance (m2 K/W) behind a conductance that has fallen from `clean_ua` to `fouled_ua` (W/K), on a tube
/// area (m2).
///
/// # Errors
///
/// [`Error::NotFinite`]; [`Error::OutOfRange`] for a conductance or area as in [`fouled_ua`](fn@fouled_ua);
/// [`Error::Inconsistent`] if the fouled conductance is the higher one.
pub fn fouling_resistance(clean_ua: f64, fouled_ua: f64, tube_area: f64) -> Result<f64> {
    conductance("clean ua", clean_ua)?;
    conductance("fouled ua", fouled_ua)?;
    on_area(0.0, tube_area)?;
    if fouled_ua > clean_ua {
        return Err(Error::Inconsistent {
            arguments: "clean ua and fouled ua",
            reason: format!("{fouled_ua} W/K fouled is more than {clean_ua} W/K clean"),
        });
    }
    Ok((clean_ua - fouled_ua) / clean_ua / fouled_ua * tube_area)
}
