//! Why a row, or a figure in it, has no value.

use std::fmt;
use std::ops::{BitOr, BitOrAssign};

/// What is to be said about one row: a set of remarks, empty where all is well.
///
/// A row with a remark keeps every figure that does not depend on what the remark is about. A figure that is missing in
/// a row although its columns are there has its reason here.
///
/// ```
/// use interstage::Status;
///
/// let status = Status::SPIKE | Status::MISSING;
/// assert!(status.contains(Status::SPIKE));
/// assert_eq!(status.to_string(), "a reading is missing; a single reading jumped");
/// assert_eq!(Status::OK.to_string(), "ok");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Status(u32);

macro_rules! remarks {
    ($($(#[$doc:meta])* $name:ident = $bit:literal, $text:literal;)*) => {
        impl Status {
            $($(#[$doc])* pub const $name: Self = Self(1 << $bit);)*

            /// Every remark with its words.
            pub const ALL: &'static [(Self, &'static str)] = &[$((Self::$name, $text),)*];
        }
    };
}

remarks! {
    /// At least one reading that the trend has a column for is missing.
    MISSING = 0, "a reading is missing";
    /// A reading is outside what is physically possible for it and was left out.
    OUT_OF_RANGE = 1, "a reading is outside its physical range";
    /// A single reading jumped away from both its neighbors and was left out.
    SPIKE = 2, "a single reading jumped";
    /// The machine is off: no figures.
    OFF = 3, "the machine is off";
    /// Chilled water leaves warmer than it enters, or condenser water colder: no figure that rests on its heat.
    WATER_REVERSED = 4, "water warms in the evaporator or cools in the condenser";
    /// The refrigerant is no colder than the water it cools, or no warmer than the water it heats.
    NEGATIVE_APPROACH = 5, "an approach is negative";
    /// The condensing temperature is not above the evaporating temperature.
    NO_LIFT = 6, "condensing temperature is not above evaporating temperature";
    /// Pressure and saturation temperature of the same vessel disagree.
    SATURATION_MISMATCH = 7, "pressure and saturation temperature disagree";
    /// Discharge below saturation, suction below saturation or liquid above saturation by more than sensors err; or liquid
    /// colder than the entering condenser water or than the evaporating temperature.
    IMPOSSIBLE_STATE = 8, "a refrigerant temperature is impossible beside the others";
    /// Tank pressures do not lie between evaporator and condenser, in rising order.
    TANK_PRESSURE = 9, "a tank pressure is not between its neighbors";
    /// More cooling per power than a Carnot cycle between the two saturation temperatures.
    ABOVE_CARNOT = 10, "COP is above that of a Carnot cycle";
    /// The stage efficiency that would explain the discharge temperature is impossible.
    EFFICIENCY = 11, "the discharge temperature asks for an impossible stage efficiency";
    /// A state could not be computed from otherwise acceptable readings.
    NOT_SOLVED = 12, "a state could not be computed";
    /// The machine is on and the water takes up no heat, or gives none: no figure that rests on it.
    NO_HEAT = 13, "no heat goes to or from the water";
    /// The discharge is too close to saturation to be certainly dry: no stage efficiency.
    DISCHARGE_NOT_DRY = 14, "the discharge may be wet";
    /// The discharge temperature leaves the stage efficiency more uncertain than asked for: it is withheld.
    EFFICIENCY_UNCERTAIN = 15, "the stage efficiency is too uncertain";
    /// The readings neither show nor deny a working economizer.
    EVIDENCE_UNDECIDED = 16, "the readings cannot tell whether the economizer works";
    /// Capacity, power and heat rejected disagree by more than the limit, or the power and the work that the refrigerant
    /// shows: one of them is wrong, and no saving is told.
    HEAT_BALANCE = 17, "the heat balance does not close";
    /// The saving that the readings would show is beyond what an economizer can do: it is withheld.
    SAVING_IMPLAUSIBLE = 18, "the saving is beyond what an economizer can do";
    /// A water temperature is below the freezing point of water, and no brine is declared.
    NOT_WATER = 19, "a water temperature is below 0.01 degC and no brine is declared";
    /// The standard has no tolerance for this load: it is outside 1 to 120 % of the rated capacity.
    LOAD = 20, "the load is outside 1 to 120 % of the rated capacity";
    /// A water temperature is below the freezing point of the brine that is declared.
    FROZEN = 21, "a water temperature is below the freezing point of the declared brine";
}

impl Status {
    /// Nothing to remark.
    pub const OK: Self = Self(0);

    /// The remarks as bits.
    pub fn bits(self) -> u32 {
        self.0
    }

    /// The remarks from bits; unknown bits are dropped.
    pub fn from_bits(bits: u32) -> Self {
        Self::ALL
            .iter()
            .filter(|(remark, _)| bits & remark.0 != 0)
            .fold(Self::OK, |sum, (remark, _)| sum | *remark)
    }

    /// Whether nothing is to be remarked.
    pub fn is_ok(self) -> bool {
        self.0 == 0
    }

    /// Whether all remarks of `other` are among these.
    pub fn contains(self, other: Self) -> bool {
        self.0 & other.0 == other.0
    }
}

impl BitOr for Status {
    type Output = Self;
    fn bitor(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }
}

impl BitOrAssign for Status {
    fn bitor_assign(&mut self, other: Self) {
        self.0 |= other.0;
    }
}

impl fmt::Display for Status {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.is_ok() {
            return f.write_str("ok");
        }
        let mut first = true;
        for (remark, text) in Self::ALL {
            if self.contains(*remark) {
                f.write_str(if first { "" } else { "; " })?;
                f.write_str(text)?;
                first = false;
            }
        }
        Ok(())
    }
}
