//! Numbers out of bytes: any double, and those at which something happens.

use arbitrary::{Arbitrary, Result, Unstructured};

/// One number of an input.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Number {
    /// All bit patterns.
    Any(f64),
    /// One of those that are awkward anywhere.
    Awkward(u8),
    /// A power of ten, of either sign.
    Power { negative: bool, exponent: i16 },
    /// A share of the range.
    Share(u32),
    /// A share of the logarithm of the range.
    ShareOfLogarithm(u32),
    /// At or beside a place where something ends or begins.
    Beside(u8, Nudge),
}

/// A small step from a number.
#[derive(Arbitrary, Debug, Clone, Copy)]
pub(crate) struct Nudge {
    up: bool,
    size: u8,
}

const AWKWARD: [f64; 24] = [
    0.0,
    -0.0,
    1.0,
    -1.0,
    f64::NAN,
    -f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
    f64::MAX,
    f64::MIN,
    f64::MIN_POSITIVE,
    5e-324,
    -5e-324,
    1e-310,
    1e-300,
    1e300,
    f64::EPSILON,
    0.5,
    0.999_999_999_999_999_9,
    1.000_000_000_000_000_2,
    273.15,
    273.16,
    101_325.0,
    1e-9,
];

/// Three in four are ordinary: an input has several, and one that is refused hides the others.
impl<'a> Arbitrary<'a> for Number {
    fn arbitrary(bytes: &mut Unstructured<'a>) -> Result<Self> {
        Ok(match bytes.int_in_range(0..=15_u8)? {
            0 => Self::Any(bytes.arbitrary()?),
            1 => Self::Awkward(bytes.arbitrary()?),
            2 => Self::Power { negative: bytes.arbitrary()?, exponent: bytes.arbitrary()? },
            3..=5 => Self::Beside(bytes.arbitrary()?, bytes.arbitrary()?),
            6..=8 => Self::ShareOfLogarithm(bytes.arbitrary()?),
            _ => Self::Share(bytes.arbitrary()?),
        })
    }
}

impl Nudge {
    /// None, up to seven units in the last place, or a share of 2^-1 to 2^-60.
    pub(crate) fn of(self, value: f64) -> f64 {
        let steps = self.size % 8;
        if self.size < 128 {
            let step = if self.up { f64::next_up } else { f64::next_down };
            return (0..steps).fold(value, |value, _| step(value));
        }
        let share = f64::from(self.size % 60 + 1).exp2().recip();
        value * if self.up { 1.0 + share } else { 1.0 - share }
    }
}

impl Number {
    /// The number, with the range it mostly comes from and the places where something happens.
    pub(crate) fn of(self, (low, high): (f64, f64), places: &[f64]) -> f64 {
        let part = |share: u32| f64::from(share) / f64::from(u32::MAX);
        match self {
            Self::Any(value) => value,
            Self::Awkward(which) => pick(&AWKWARD, which),
            Self::Power { negative, exponent } => {
                let value = 10_f64.powf(f64::from(exponent) / 100.0);
                if negative { -value } else { value }
            }
            Self::Share(share) => low + part(share) * (high - low),
            Self::ShareOfLogarithm(share) if low > 0.0 => low * (high / low).powf(part(share)),
            Self::ShareOfLogarithm(share) => low + part(share) * (high - low),
            Self::Beside(which, nudge) => nudge.of(if places.is_empty() { low } else { pick(places, which) }),
        }
    }

    /// The number where an ordinary one lies from `low` to `high`.
    pub(crate) fn within(self, low: f64, high: f64) -> f64 {
        self.of((low, high), &[low, high])
    }
}

/// An entry of a list that is not empty.
pub(crate) fn pick<T: Copy>(list: &[T], which: u8) -> T {
    list[usize::from(which) % list.len()]
}
