//! What is filled in and not saved yet: a file beside the plan, so that no reload and no crash loses it.

use std::fs;
use std::io;
use std::path::PathBuf;

use serde::{Deserialize, Serialize};
use serde_json::Value;
use sha2::{Digest, Sha256};

use super::folder::Folder;
use crate::commands::written_file::replace;

/// A plan that is not saved yet.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct Kept {
    /// The digest of the file that it was begun from; empty for a new one.
    pub(super) digest: String,
    pub(super) plan: Value,
}

impl Kept {
    /// What is kept of a plan.
    pub(super) fn of(name: &str, folder: &Folder) -> Option<Self> {
        let bytes = fs::read(path(name, folder)?).ok()?;
        serde_json::from_slice(&bytes).ok()
    }

    pub(super) fn keep(&self, name: &str, folder: &Folder) -> io::Result<()> {
        match path(name, folder) {
            Some(path) => replace(&path, &serde_json::to_string(self)?),
            None => Err(io::ErrorKind::InvalidInput.into()),
        }
    }

    /// Forgets what is kept, if anything is.
    pub(super) fn forget(name: &str, folder: &Folder) {
        if let Some(path) = path(name, folder) {
            // What is not there needs no forgetting.
            drop(fs::remove_file(path));
        }
    }
}

/// Beside a plan that is there or may be made, and never through a link.
fn path(name: &str, folder: &Folder) -> Option<PathBuf> {
    let plan = folder.plan_path(name).ok()?;
    let path = plan.with_file_name(format!(".{name}.unsaved"));
    let is_link = path
        .symlink_metadata()
        .is_ok_and(|known| known.is_symlink());
    (!is_link).then_some(path)
}

/// What identifies the bytes of a file.
pub(super) fn digest_of(bytes: &[u8]) -> String {
    let digest = Sha256::digest(bytes);
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}
