//! Opening files by names that others gave.
//!
//! Nothing is opened that could block for ever: a pipe that nobody writes to blocks its reader, and
//! a device may never have anything to read. So a name must be that of a regular file. A pipe that
//! this process has open already (`/dev/stdin`, or what a shell writes for `<(...)`) was given to
//! it by its caller, as standard input is, and may be named too; but not by a ruleset, which may
//! come from elsewhere.

use std::fs::{File, FileType};
use std::path::Path;

use crate::document::{Fault, Problem};

/// Opens a file, or a pipe that is open already, by the name that a caller gave.
///
/// # Errors
///
/// There is no such file, there is no permission to read it, or it is a folder, a pipe with a name,
/// a socket or a device.
pub fn open_file(path: &Path) -> Result<File, Problem> {
    open(path, is_open_already)
}

/// Opens a file by the name that a ruleset gave.
pub(super) fn open_regular(path: &Path) -> Result<File, Problem> {
    open(path, |_| false)
}

fn open(path: &Path, may_be_pipe: impl Fn(&Path) -> bool) -> Result<File, Problem> {
    let found = std::fs::metadata(path).map_err(|error| unreadable(path, &error))?;
    match Other::than_file(found.file_type()) {
        Some(Other::Pipe) if may_be_pipe(path) => {}
        Some(other) => return Err(other.refused(path)),
        None => {}
    }
    File::open(path).map_err(|error| unreadable(path, &error))
}

/// A file that could not be opened or read.
pub(super) fn unreadable(path: &Path, error: &std::io::Error) -> Problem {
    // In words that do not depend on the system.
    let why = match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such file",
        std::io::ErrorKind::PermissionDenied => "there is no permission to read it",
        _ => "the system does not let it be opened",
    };
    let message = format!("`{}` cannot be read: {why}", path.display());
    Problem::of_file(Fault::Unreadable, message, "check the path")
}

/// Other things than regular files that can have a name.
enum Other {
    Folder,
    Pipe,
    Socket,
    Device,
}

impl Other {
    #[cfg(unix)]
    fn than_file(found: FileType) -> Option<Self> {
        use std::os::unix::fs::FileTypeExt;
        match () {
            () if found.is_file() => None,
            () if found.is_dir() => Some(Self::Folder),
            () if found.is_fifo() => Some(Self::Pipe),
            () if found.is_socket() => Some(Self::Socket),
            () => Some(Self::Device),
        }
    }

    #[cfg(not(unix))]
    fn than_file(found: FileType) -> Option<Self> {
        match () {
            () if found.is_file() => None,
            () if found.is_dir() => Some(Self::Folder),
            () => Some(Self::Device),
        }
    }

    fn refused(&self, path: &Path) -> Problem {
        let (what, help) = match self {
            Self::Folder => ("a folder", "name a file in it"),
            Self::Pipe => ("a named pipe", WAITS),
            Self::Socket => ("a socket", WAITS),
            Self::Device => ("a device", WAITS),
        };
        let message = format!("`{}` is {what}", path.display());
        Problem::of_file(Fault::Unreadable, message, help)
    }
}

const WAITS: &str = "only ordinary files are read by name, because reading anything else could wait for ever; save its content to a file";

/// Whether a pipe is named by its descriptor. It has no place of its own among the folders then, or
/// one among the descriptors.
fn is_open_already(pipe: &Path) -> bool {
    std::fs::canonicalize(pipe).map_or(true, |place| place.starts_with("/dev/fd"))
}
