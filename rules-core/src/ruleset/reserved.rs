//! The names of shipped rulesets, which no other ruleset may have.

use super::kept_layer;
use super::layer::Layer;
use super::library::Text;
use super::standing::Standing;
use crate::document::{Fault, Prepared, Problems, Span};
use crate::facts::ShippedVersion;
use crate::facts::names::likeness;
use crate::snapshot::Snapshot;

/// The shipped rulesets of a trade.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Reserved(pub &'static [ShippedVersion]);

impl Reserved {
    /// What a ruleset is.
    pub(super) fn standing(self, layer: &Layer) -> Standing {
        match self.alike(&layer.name) {
            None => Standing::Own,
            Some(name) if name != layer.name => Standing::LooksLike(name),
            Some(_) if self.is_shipped(layer) => Standing::Shipped,
            Some(_) => Standing::EditedCopy,
        }
    }

    /// Whether a name is that of a shipped ruleset, or looks like it.
    pub(super) fn holds(self, name: &str) -> bool {
        self.alike(name).is_some()
    }

    /// The shipped name that a name looks like.
    fn alike(self, name: &str) -> Option<&'static str> {
        let likeness = ruleset_likeness(name);
        let mut names = self.0.iter().map(|shipped| shipped.ruleset);
        names.find(|shipped| ruleset_likeness(shipped) == likeness)
    }

    /// Whether a ruleset is one of the table. The text that comes with this library needs no look
    /// at the table; a test checks that it is in the table too.
    fn is_shipped(self, layer: &Layer) -> bool {
        let text = layer.source.text().as_bytes();
        self.0.iter().any(|shipped| {
            shipped.ruleset == layer.name
                && (shipped.digest == layer.digest
                    || shipped.text.is_some_and(|prepared| prepared.is_of(text)))
        })
    }

    /// What was read of a text when the program was built, if it comes with the library.
    pub(super) fn prepared(self, text: &[u8]) -> Option<Prepared> {
        let mut prepared = self.0.iter().filter_map(|shipped| shipped.text);
        prepared.find(|prepared| prepared.is_of(text))
    }

    /// The version of a name of which the rules are kept.
    pub(super) fn kept(self, name: &str) -> Option<(&'static ShippedVersion, Snapshot)> {
        let mut versions = self.0.iter().filter(|one| one.ruleset == name);
        versions.find_map(|one| Some((one, one.rules?)))
    }

    /// What is kept of the shipped ruleset of a name, without its formulas and texts.
    pub(super) fn kept_layer(self, name: &str) -> Option<Layer> {
        let (version, snapshot) = self.kept(name)?;
        kept_layer::read(name, version.text?, snapshot)
    }

    /// The text of the shipped ruleset of a name.
    pub(super) fn text_of(self, name: &str) -> Option<Text> {
        let shipped = self.0.iter().filter(|shipped| shipped.ruleset == name);
        let text = shipped.filter_map(|shipped| shipped.text).next()?;
        Some(Text {
            name: name.to_owned(),
            bytes: text.text.as_bytes().into(),
        })
    }

    /// Reports a merged file that has a shipped ruleset loosen something.
    pub(super) fn check_loosening(self, by: &str, span: Span, problems: &mut Problems<'_>) {
        if self.holds(by) {
            let message = format!("`{by}` is a shipped ruleset, and these loosen nothing");
            let help = "name the ruleset that loosened it";
            problems.add(Fault::ReservedName, span, message, help);
        }
    }
}

/// What two names of rulesets have in common that are easily taken for each other: their
/// [likeness], where several hyphens are one, and those at the ends none.
pub(super) fn ruleset_likeness(name: &str) -> String {
    let alike = likeness(name);
    let parts: Vec<&str> = alike.split('-').filter(|part| !part.is_empty()).collect();
    parts.join("-")
}

/// Reports a ruleset that has a reserved name. Vetting accepts an edited copy under that name.
pub(super) fn check(layer: &Layer, vetted: bool, problems: &mut Problems<'_>) {
    let Some(span) = layer.name_span else { return };
    match layer.standing {
        Standing::EditedCopy if !vetted => {
            let message = format!(
                "this is not the shipped `{}`, though it has its name",
                layer.name
            );
            problems.add(Fault::ReservedName, span, message, instead(&layer.name));
        }
        Standing::LooksLike(name) => {
            let message = format!(
                "`{}` looks like `{name}`, the name of a shipped ruleset",
                layer.name
            );
            problems.add(Fault::ReservedName, span, message, instead(name));
        }
        _ => {}
    }
}

fn instead(name: &str) -> String {
    format!(
        "give it a name of its own; what it changes goes under `adjust`, with `extends: [{name}]`"
    )
}
