//! What all stored data have in common.

use std::fmt;

use serde::de::{DeserializeOwned, Error as _};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::error::Error;

/// The form that is written, and the only one that is read.
const FORMAT_VERSION: i64 = 1;

/// Why stored data are refused.
#[derive(Debug)]
pub(super) struct Refused(String);

impl Refused {
    pub(super) fn because(reason: impl Into<String>) -> Self {
        Self(reason.into())
    }
}

impl From<Error> for Refused {
    fn from(error: Error) -> Self {
        Self(error.to_string())
    }
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A value as it is stored.
pub(super) trait Form: Serialize + DeserializeOwned {
    type Value;

    fn of(value: &Self::Value) -> Self;

    /// The value, through its constructors.
    fn read(self) -> Result<Self::Value, Refused>;
}

/// Stores values in their forms.
macro_rules! stored {
    ($($value:ty as $form:ty),+ $(,)?) => {
        $(
            impl serde::Serialize for $value {
                fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                    <$form as $crate::stored::form::Form>::of(self).serialize(serializer)
                }
            }

            impl<'de> serde::Deserialize<'de> for $value {
                fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                    let form = <$form>::deserialize(deserializer)?;
                    $crate::stored::form::Form::read(form).map_err(serde::de::Error::custom)
                }
            }
        )+
    };
}
pub(super) use stored;

/// The version of the form.
#[derive(Debug)]
pub(super) struct Version;

impl Serialize for Version {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_i64(FORMAT_VERSION)
    }
}

impl<'de> Deserialize<'de> for Version {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        match i64::deserialize(deserializer)? {
            FORMAT_VERSION => Ok(Self),
            other => Err(D::Error::custom(format_args!(
                "format version {other} is not {FORMAT_VERSION}, the one known here"
            ))),
        }
    }
}

/// Writes types that are stored as their own names.
macro_rules! kinds {
    ($($kind:ident)+) => {
        /// What kind of value it is.
        pub(super) mod kind {
            $(
                #[derive(Debug)]
                pub(in crate::stored) struct $kind;

                impl serde::Serialize for $kind {
                    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                        serializer.serialize_str(stringify!($kind))
                    }
                }

                impl<'de> serde::Deserialize<'de> for $kind {
                    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                        let found = String::deserialize(deserializer)?;
                        if found == stringify!($kind) {
                            return Ok(Self);
                        }
                        Err(serde::de::Error::custom(format_args!(
                            "it holds a {found}, not a {}", stringify!($kind)
                        )))
                    }
                }
            )+
        }
    };
}

kinds! {
    Balance Chiller ChillerPoint ChillerSensitivities Circuit Conditions Cycle Duty Exchanger ExergyLedger HeatTransfer Point PressureOptimum
    Refrigerant Saturation Sensitivities Stage State VariableUa WaterFlow
}

/// A number that may be missing, which is NaN.
#[derive(Debug, Clone, Copy)]
pub(super) struct Number(pub(super) f64);

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.0)
    }
}

impl<'de> Deserialize<'de> for Number {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Ok(Self(Option::deserialize(deserializer)?.unwrap_or(f64::NAN)))
    }
}

/// The value of one of the words that an argument knows.
pub(super) fn word<T: Clone>(argument: &'static str, given: &str, known: &[(&str, T)]) -> Result<T, Error> {
    known.iter().find(|(name, _)| *name == given).map(|(_, value)| value.clone()).ok_or_else(|| {
        Error::UnknownOption {
            argument,
            value: given.to_owned(),
            options: known.iter().map(|(name, _)| (*name).to_owned()).collect(),
        }
    })
}

/// The word for a value.
pub(super) fn word_for<T: PartialEq>(value: &T, known: &[(&str, T)]) -> String {
    known.iter().find(|(_, own)| own == value).map_or_else(String::new, |(name, _)| (*name).to_owned())
}
