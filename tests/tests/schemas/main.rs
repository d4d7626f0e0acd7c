//! The JSON Schemas: fresh, valid, true of every file that comes with the project, and of one mind
//! with the loaders.

#![cfg(test)]

mod agreement;
mod beyond;
mod bounds;
mod changes;
mod characters;
mod files;
mod fresh;
mod in_force;
mod quantities;
mod reports;
mod setting;
mod simple;
