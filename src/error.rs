//! The one error type of the crate.
//!
//! Every variant names the argument at fault and carries the value, the limits and the unit, so that a
//! caller can act on it without reading the message.

use std::fmt;

/// Result of a calculation of this crate.
pub type Result<T, E = Error> = std::result::Result<T, E>;

/// What went wrong.
///
/// `OutOfRange`, `NotFinite` and `Inconsistent` say that the input is at fault; `NotConverged` says that
/// the input looked fine and the solver did not finish.
///
/// ```
/// use interstage::{Error, Refrigerant};
///
/// let refrigerant = Refrigerant::named("R-134a")?;
/// match refrigerant.saturation_at_temperature(500.0) {
///     Err(Error::OutOfRange { argument, value, maximum, unit, .. }) => {
///         assert_eq!((argument, value, unit), ("temperature", 500.0, "K"));
///         assert!(maximum < 374.3);
///     }
///     other => panic!("expected a range error, got {other:?}"),
/// }
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// An argument lies outside the range in which the calculation is valid.
    #[error("{argument} {}", Outside { value: *value, minimum: *minimum, maximum: *maximum, unit, reason })]
    OutOfRange {
        /// Name of the argument.
        argument: &'static str,
        /// Value that was given, in `unit`.
        value: f64,
        /// Lowest allowed value.
        minimum: f64,
        /// Highest allowed value.
        maximum: f64,
        /// SI unit of the three numbers; `-` for plain numbers, in messages left out.
        unit: &'static str,
        /// Where the limit comes from.
        reason: String,
    },
    /// An argument is NaN or infinite.
    #[error("{argument} must be a finite number{}, got {value}", Unit(" in ", unit))]
    NotFinite {
        /// Name of the argument.
        argument: &'static str,
        /// Value that was given.
        value: f64,
        /// SI unit expected; `-` for a plain number, in messages left out.
        unit: &'static str,
    },
    /// Arguments are fine one by one and contradict each other.
    #[error("{arguments} {}: {reason}", contradict(arguments))]
    Inconsistent {
        /// Names of the arguments.
        arguments: &'static str,
        /// How they contradict each other, with values and units.
        reason: String,
    },
    /// A solver stopped without reaching its tolerance.
    #[error(
        "{solver} did not converge{}; nothing is known to be wrong with the input: please report it",
        Stopped { iterations: *iterations, residual: *residual, lower: *lower, upper: *upper }
    )]
    NotConverged {
        /// Which solver.
        solver: &'static str,
        /// Iterations spent.
        iterations: usize,
        /// Residual at the end, in the solver's own scale.
        residual: f64,
        /// Lower end of the last bracket.
        lower: f64,
        /// Upper end of the last bracket.
        upper: f64,
    },
    /// No refrigerant has that name.
    #[error("unknown refrigerant {}; {}", Given(name), Nearest(nearest))]
    UnknownRefrigerant {
        /// Name that was asked for.
        name: String,
        /// Designations that come close, best first; empty where none does.
        nearest: Vec<&'static str>,
    },
    /// A word is none of those that an argument knows.
    #[error("unknown {argument} {}; it is one of {}", Given(value), options.join(between(options)))]
    UnknownOption {
        /// Name of the argument.
        argument: &'static str,
        /// The word that was given.
        value: String,
        /// The words there are.
        options: Vec<String>,
    },
    /// The refrigerant cannot have that reference for enthalpy and entropy.
    #[error("{refrigerant} cannot have the reference {reference}: {reason}")]
    ReferenceUnavailable {
        /// Name of the refrigerant.
        refrigerant: String,
        /// Name of the reference.
        reference: &'static str,
        /// Why not.
        reason: String,
    },
    /// A property has no meaning in that state.
    #[error("{property} has no value for {state}")]
    Undefined {
        /// Name of the property.
        property: &'static str,
        /// The kind of state, for instance "a two-phase state".
        state: &'static str,
    },
    /// The library has no published correlation for that property of the refrigerant.
    #[error(
        "this library has no correlation for the {property} of {refrigerant}; it has one for {}",
        available.join(", ")
    )]
    NotPublished {
        /// Name of the property.
        property: &'static str,
        /// Name of the refrigerant.
        refrigerant: String,
        /// Designations of the refrigerants that have it.
        available: Vec<&'static str>,
    },
    /// The library has no published parameters for how two refrigerants mix.
    #[error("this library has no published parameters for mixtures of {first} and {second}")]
    PairNotPublished {
        /// Designation of one.
        first: &'static str,
        /// Designation of the other.
        second: &'static str,
    },
    /// Columns, or the parts of a circuit, do not fit each other in number.
    #[error("{argument} has {found} entries where {expected} are needed")]
    WrongLength {
        /// Name of the column or the list.
        argument: &'static str,
        /// Entries it has.
        found: usize,
        /// Entries it should have.
        expected: usize,
    },
}

/// A number in a message: with an exponent where it is very large or very small.
pub(crate) struct Number(pub(crate) f64);

impl fmt::Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(value) = *self;
        if value == 0.0 || (1e-4..1e15).contains(&value.abs()) || !value.is_finite() {
            write!(f, "{value}")
        } else {
            write!(f, "{value:e}")
        }
    }
}

/// A unit with what stands before it; nothing for a plain number.
struct Unit<'a>(&'a str, &'a str);

impl fmt::Display for Unit<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.1 == "-" { Ok(()) } else { write!(f, "{}{}", self.0, self.1) }
    }
}

/// A value and the limits it does not keep to.
struct Outside<'a> {
    value: f64,
    minimum: f64,
    maximum: f64,
    unit: &'a str,
    reason: &'a str,
}

impl fmt::Display for Outside<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let &Self { value, minimum, maximum, unit, reason } = self;
        let given = Number(value);
        let unit = Unit(" ", unit);
        if minimum == f64::MIN_POSITIVE && value <= 0.0 {
            return write!(f, "must be positive, got {given}{unit}");
        }
        if maximum == f64::INFINITY {
            return write!(f, "{given}{unit} is below {}{unit} ({reason})", Number(rounded(minimum)));
        }
        if minimum == -f64::INFINITY {
            return write!(f, "{given}{unit} is above {}{unit} ({reason})", Number(rounded(maximum)));
        }
        // Six digits are enough, unless the value would then seem to lie inside.
        let (low, high) = (rounded(minimum), rounded(maximum));
        let (low, high) = if (low..=high).contains(&value) { (minimum, maximum) } else { (low, high) };
        write!(f, "{given}{unit} is outside {} to {}{unit} ({reason})", Number(low), Number(high))
    }
}

/// Where a solver stopped, as far as it is known.
struct Stopped {
    iterations: usize,
    residual: f64,
    lower: f64,
    upper: f64,
}

impl fmt::Display for Stopped {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let &Self { iterations, residual, lower, upper } = self;
        if iterations > 0 {
            write!(f, " after {iterations} iterations")?;
        }
        match (residual.is_finite(), lower.is_finite() && upper.is_finite()) {
            (true, true) => write!(f, " (residual {residual:e}, last value between {lower} and {upper})"),
            (true, false) => write!(f, " (residual {residual:e})"),
            (false, true) => write!(f, " (last value between {lower} and {upper})"),
            (false, false) => Ok(()),
        }
    }
}

/// A number to six significant digits.
pub(crate) fn rounded(value: f64) -> f64 {
    format!("{value:.5e}").parse().unwrap_or(value)
}

/// A text that was given, in quotes; of a long one its beginning.
struct Given<'a>(&'a str);

impl fmt::Display for Given<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0.char_indices().nth(40) {
            Some((end, _)) => write!(f, "{:?}...", self.0.get(..end).unwrap_or_default()),
            None => write!(f, "{:?}", self.0),
        }
    }
}

/// What is said of one argument that contradicts itself, or of several that contradict each other.
fn contradict(arguments: &str) -> &'static str {
    if arguments.contains(" and ") || arguments.ends_with('s') {
        "contradict each other"
    } else {
        "is contradictory"
    }
}

/// What parts options: they may have commas themselves.
fn between(options: &[String]) -> &'static str {
    if options.iter().any(|option| option.contains(", ")) { "; " } else { ", " }
}

/// Prints near names as a sentence.
struct Nearest<'a>(&'a [&'static str]);

impl fmt::Display for Nearest<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            [] => write!(f, "Refrigerant::catalogue() and Refrigerant::blends() list the names there are"),
            names => write!(f, "did you mean {}?", names.join(" or ")),
        }
    }
}

impl Error {
    /// Names the refrigerant before the reason, where it is not named in it.
    #[cold]
    pub(crate) fn name(&mut self, refrigerant: &str) {
        if let Self::OutOfRange { reason, .. } | Self::Inconsistent { reason, .. } = self
            && !reason.contains(refrigerant)
        {
            *reason = format!("{refrigerant}: {reason}");
        }
    }

    /// The same error with the refrigerant named.
    pub(crate) fn of(mut self, refrigerant: &str) -> Self {
        self.name(refrigerant);
        self
    }
}

/// Refuses NaN and infinities.
pub(crate) fn finite(argument: &'static str, value: f64, unit: &'static str) -> Result<f64> {
    if value.is_finite() { Ok(value) } else { Err(Error::NotFinite { argument, value, unit }) }
}

/// Refuses what is not finite or not inside the closed range.
pub(crate) fn within(
    argument: &'static str,
    value: f64,
    minimum: f64,
    maximum: f64,
    unit: &'static str,
    reason: &str,
) -> Result<f64> {
    finite(argument, value, unit)?;
    if (minimum..=maximum).contains(&value) {
        Ok(value)
    } else {
        Err(Error::OutOfRange { argument, value, minimum, maximum, unit, reason: reason.to_owned() })
    }
}
