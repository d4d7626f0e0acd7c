//! How a document is written: YAML or JSON.

/// How a document is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Syntax {
    /// YAML 1.2, of which JSON is a part; that part alone in a build without the feature `yaml`.
    Yaml,
    /// JSON and nothing more.
    Json,
}

impl Syntax {
    /// JSON for names that end in `.json`, YAML for all others.
    #[must_use]
    pub fn of_name(name: &str) -> Self {
        let json = name
            .rsplit_once('.')
            .is_some_and(|(_, ending)| ending.eq_ignore_ascii_case("json"));
        if json { Self::Json } else { Self::Yaml }
    }
}
