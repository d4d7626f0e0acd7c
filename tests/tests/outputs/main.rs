//! Findings written for other tools. SARIF is compared with the JSON Schema that the technical
//! committee of the standard publishes, which is kept in `tests/reference`. Of JUnit XML there is no
//! standard, and no schema that all servers agree on: what the command's tests expect is written by
//! hand.
#![cfg(test)]

mod sarif;
