//! The JSON Schemas: fresh, valid, true of every file that comes with the project, and of one mind
//! with the loaders.

#[cfg(test)]
#[path = "schemas/agreement.rs"]
mod agreement;
#[cfg(test)]
#[path = "schemas/beyond.rs"]
mod beyond;
#[cfg(test)]
#[path = "schemas/bounds.rs"]
mod bounds;
#[cfg(test)]
#[path = "schemas/changes.rs"]
mod changes;
#[cfg(test)]
#[path = "schemas/characters.rs"]
mod characters;
#[cfg(test)]
#[path = "schemas/files.rs"]
mod files;
#[cfg(test)]
#[path = "schemas/fresh.rs"]
mod fresh;
#[cfg(test)]
#[path = "schemas/quantities.rs"]
mod quantities;
#[cfg(test)]
#[path = "schemas/reports.rs"]
mod reports;
#[cfg(test)]
#[path = "schemas/setting.rs"]
mod setting;
