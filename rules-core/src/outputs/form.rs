//! The forms.

/// A form in which other tools show findings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Form {
    /// SARIF 2.1.0, the OASIS standard for results of static analysis.
    Sarif,
    /// XML as servers of continuous integration read the results of tests.
    Junit,
    /// A table of RFC 4180 for spreadsheets, a row a finding.
    Csv,
    /// Markdown with tables, as code hosts show it.
    Markdown,
    /// Workflow commands, which mark lines of files on a code host: `::error file=...::...`.
    Annotations,
}
