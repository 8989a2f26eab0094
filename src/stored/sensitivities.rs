//! Derivatives: one row of slopes for each input, one entry for each figure.

use serde::{Deserialize, Serialize};

use super::form::{Form, Number, Refused, Version, kind, stored};
use crate::chiller::{ChillerInput, ChillerSensitivities};
use crate::cycle::{Input, Sensitivities};
use crate::error::Error;

macro_rules! sensitivities {
    ($($form:ident of $type:ident to $input:ty;)+) => {
        $(
            #[derive(Debug, Serialize, Deserialize)]
            #[serde(deny_unknown_fields)]
            struct $form {
                format_version: Version,
                r#type: kind::$type,
                inputs: Vec<$input>,
                figures: Vec<String>,
                values: Vec<Number>,
                slopes: Vec<Vec<Number>>,
            }

            impl Form for $form {
                type Value = $type;

                fn of(of: &$type) -> Self {
                    let numbers = |row: &Vec<f64>| row.iter().copied().map(Number).collect();
                    Self {
                        format_version: Version,
                        r#type: kind::$type,
                        inputs: of.inputs.clone(),
                        figures: of.figures.iter().map(|(name, _)| name.clone()).collect(),
                        values: of.figures.iter().map(|(_, value)| Number(*value)).collect(),
                        slopes: of.slopes.iter().map(numbers).collect(),
                    }
                }

                fn read(self) -> Result<$type, Refused> {
                    fits("slopes", self.slopes.len(), self.inputs.len())?;
                    fits("values", self.values.len(), self.figures.len())?;
                    for row in &self.slopes {
                        fits("a row of slopes", row.len(), self.figures.len())?;
                    }
                    let values = self.values.into_iter().map(|value| value.0);
                    Ok($type {
                        inputs: self.inputs,
                        figures: self.figures.into_iter().zip(values).collect(),
                        slopes: self.slopes.into_iter().map(|row| row.into_iter().map(|of| of.0).collect()).collect(),
                    })
                }
            }

            stored!($type as $form);
        )+
    };
}

fn fits(argument: &'static str, found: usize, expected: usize) -> Result<(), Error> {
    if found == expected { Ok(()) } else { Err(Error::WrongLength { argument, found, expected }) }
}

sensitivities! {
    SensitivitiesForm of Sensitivities to Input;
    ChillerSensitivitiesForm of ChillerSensitivities to ChillerInput;
}
