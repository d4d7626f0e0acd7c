//! The rulesets that come with this crate.

use rules_core::document::Problem;
use rules_core::facts::ShippedVersion;
use rules_core::ruleset::{Files, Library, Text, unknown_ruleset};

use crate::prepared::{kept, prepared};

/// Every version that was ever shipped. The same table stands in section 7 of the language.
static VERSIONS: [ShippedVersion; 2] = [
    ShippedVersion {
        ruleset: "rescued-cells",
        version: "1.0.0",
        digest: "sha256:135470aa58baf3ece9c0e99eb11b3b77690945b7da7e2de27ede9e3c0e1f6411",
        text: Some(prepared!("rescued-cells")),
        rules: Some(kept!("rescued-cells")),
    },
    ShippedVersion {
        ruleset: "rescued-cells-measured",
        version: "1.0.0",
        digest: "sha256:fcafb3d1c177d5638d819cd3339e061eb0f2175023de4573b7c945fdc881deb4",
        text: Some(prepared!("rescued-cells-measured")),
        rules: Some(kept!("rescued-cells-measured")),
    },
];

/// The shipped rulesets, by name. It reads no files.
#[derive(Debug, Clone, Copy, Default)]
pub struct Shipped;

/// Shipped rulesets by name, and files by path.
pub const FILES: Files<Shipped> = Files(Shipped);

impl Shipped {
    /// Every version that was ever shipped of any of them.
    #[must_use]
    pub fn versions() -> &'static [ShippedVersion] {
        &VERSIONS
    }

    /// The names of the shipped rulesets.
    pub fn names() -> impl Iterator<Item = &'static str> {
        VERSIONS
            .iter()
            .filter(|version| version.text.is_some())
            .map(|version| version.ruleset)
    }
}

impl Library for Shipped {
    fn find(&self, name: &str, _: Option<&str>) -> Result<Text, Problem> {
        let of_name = |version: &&ShippedVersion| version.ruleset == name;
        match VERSIONS
            .iter()
            .filter(of_name)
            .find_map(|version| version.text)
        {
            Some(text) => Ok(Text {
                name: name.to_owned(),
                bytes: text.text.as_bytes().into(),
            }),
            None => {
                let known: Vec<&str> = Self::names().collect();
                Err(unknown_ruleset(name, &known))
            }
        }
    }
}
