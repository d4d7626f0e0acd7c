//! Writing a file whole: beside its place first, and then in one step to it.

use std::ffi::OsString;
use std::fs::{self, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use rules_core::document::{Fault, Problem};

/// Writes a file that must not be there yet.
pub(super) fn write_new(path: &Path, text: &str) -> io::Result<()> {
    if fs::symlink_metadata(path).is_ok() {
        return Err(ErrorKind::AlreadyExists.into());
    }
    replace(path, text)
}

/// Writes a file, or another text in place of the one that is there. Whatever happens meanwhile,
/// there is the whole of the one or of the other.
pub(super) fn replace(path: &Path, text: &str) -> io::Result<()> {
    // What a link leads to is replaced, and not the link.
    let known = fs::canonicalize(path);
    let path = known.as_deref().unwrap_or(path);
    let beside = beside(path)?;
    let written = write_at(&beside, path, text).and_then(|()| fs::rename(&beside, path));
    if written.is_err() {
        drop(fs::remove_file(&beside));
    }
    written
}

/// Why a file was not written.
pub(super) fn not_written(path: &Path, error: &io::Error) -> Problem {
    let name = path.display();
    match error.kind() {
        ErrorKind::AlreadyExists => Problem::of_file(
            Fault::Unreadable,
            format!("`{name}` is there already, and is not written over"),
            "name a file that does not exist yet",
        ),
        _ => Problem::of_file(
            Fault::Unreadable,
            format!("`{name}` cannot be written: {error}"),
            "name a file in a folder where you may write",
        ),
    }
}

fn write_at(beside: &Path, path: &Path, text: &str) -> io::Result<()> {
    let mut file = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(beside)?;
    if let Ok(known) = fs::metadata(path) {
        file.set_permissions(known.permissions())?;
    }
    file.write_all(text.as_bytes())?;
    file.sync_all()
}

/// A name in the same folder that nothing else has.
fn beside(path: &Path) -> io::Result<PathBuf> {
    let name = path.file_name().ok_or(ErrorKind::InvalidInput)?;
    let mut own = OsString::from(".");
    own.push(name);
    own.push(format!(".{}.part", std::process::id()));
    Ok(path.with_file_name(own))
}
