//! Machines, conditions and results as stored data, by `serde`.
//!
//! The form is that of the dictionaries in Python: `format_version`, `type`, then the names of the arguments that make the value.
//! What is read passes the constructors, so that nothing gets in that they would refuse. Keys that are not known are refused too, lest a
//! misspelled option is lost.
//!
//! JSON knows no NaN and TOML no null: a figure that is missing is null in JSON and nan in TOML.

mod chiller;
mod circuit;
mod components;
mod conditions;
mod cycle;
mod exchanger;
mod form;
mod ledger;
mod refrigerant;
mod sensitivities;
mod state;
mod texts;
