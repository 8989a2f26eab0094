//! What is stored as its text.

use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::chiller::ChillerInput;
use crate::cycle::{Arrangement, Component, Input, Location};

macro_rules! texts {
    ($($type:ty),+) => {
        $(
            impl Serialize for $type {
                fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                    serializer.collect_str(self)
                }
            }

            impl<'de> Deserialize<'de> for $type {
                fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                    String::deserialize(deserializer)?.parse().map_err(D::Error::custom)
                }
            }
        )+
    };
}

texts!(Arrangement, ChillerInput, Component, Input, Location);
