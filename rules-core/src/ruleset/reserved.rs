//! The names of shipped rulesets, which nothing else may carry.

use super::layer::Layer;
use super::library::Shipped;
use crate::document::{Fault, Problems, Span};

/// A version of a shipped ruleset, by what tells it from any other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ShippedVersion {
    /// The ruleset's name.
    pub ruleset: &'static str,
    /// Its version.
    pub version: &'static str,
    /// The digest of its document: `sha256:` and 64 hexadecimal digits.
    pub digest: &'static str,
}

/// Every version that was ever shipped. The same table stands in section 7 of the language.
pub(super) static VERSIONS: [ShippedVersion; 1] = [ShippedVersion {
    ruleset: "rescued-cells",
    version: "1.0.0",
    digest: "sha256:9b958fe5fced6b650aa695e0238ddb915bd6c99b033c5c05ebae06718297fe92",
}];

/// What a ruleset is, by its name and its digest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Standing {
    /// A shipped one.
    Shipped,
    /// It has the name of a shipped one and says something else.
    EditedCopy,
    /// Its name looks like that of a shipped one.
    LooksLike(&'static str),
    /// Somebody's own.
    Own,
}

/// What a ruleset is.
pub(super) fn standing(layer: &Layer) -> Standing {
    let likeness = likeness(&layer.name);
    let Some(name) = names().find(|name| self::likeness(name) == likeness) else {
        return Standing::Own;
    };
    if name != layer.name {
        Standing::LooksLike(name)
    } else if is_shipped(layer) {
        Standing::Shipped
    } else {
        Standing::EditedCopy
    }
}

/// Whether a ruleset is one of the table. The text that is shipped with this library is so by
/// itself: that it stands in the table too is for a test to see.
fn is_shipped(layer: &Layer) -> bool {
    VERSIONS
        .iter()
        .any(|shipped| shipped.ruleset == layer.name && shipped.digest == layer.digest)
        || Shipped::text(&layer.name) == Some(layer.source.text())
}

fn names() -> impl Iterator<Item = &'static str> {
    VERSIONS
        .iter()
        .map(|shipped| shipped.ruleset)
        .chain(Shipped::names())
}

/// Whether a name is that of a shipped ruleset, or looks like it.
pub(super) fn is_reserved(name: &str) -> bool {
    let likeness = likeness(name);
    names().any(|shipped| self::likeness(shipped) == likeness)
}

/// What two names have in common that look alike: letters count without case, `0` as `o`, `1` and
/// `i` as `l`, and several hyphens as one, those at the end not at all.
pub(super) fn likeness(name: &str) -> String {
    let letters = name
        .chars()
        .map(|letter| match letter.to_ascii_lowercase() {
            '0' => 'o',
            '1' | 'i' => 'l',
            other => other,
        });
    let letters: String = letters.collect();
    letters
        .split('-')
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join("-")
}

/// Tells a ruleset that carries a name which is not its own. Whoever vets an edited copy may do so
/// under its name.
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

/// Tells a merged file that has a shipped ruleset loosen something.
pub(super) fn check_loosening(by: &str, span: Span, problems: &mut Problems<'_>) {
    if is_reserved(by) {
        let message = format!("`{by}` is a shipped ruleset, and these loosen nothing");
        let help = "name the ruleset that loosened it";
        problems.add(Fault::ReservedName, span, message, help);
    }
}
