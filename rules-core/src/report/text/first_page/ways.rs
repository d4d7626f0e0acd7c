//! How to get at what a first page leaves out.

/// How somebody who reads a first page gets at what it leaves out, in the words of whoever shows it.
#[derive(Debug, Clone, Copy)]
pub struct Ways<'w> {
    /// At the questions that found no room: `--questions`.
    pub questions: &'w str,
    /// At everything: `All reasons, values and sources: --full`. The last line of the page.
    pub all: &'w str,
}

impl Ways<'static> {
    /// None: what is left out is counted alone.
    pub const NONE: Self = Self {
        questions: "",
        all: "",
    };
}
