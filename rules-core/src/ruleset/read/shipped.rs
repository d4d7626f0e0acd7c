//! A text that comes with the library to a layer, from what was read of it when that was built.

use std::borrow::Cow;
use std::sync::Arc;

use super::layer::layer;
use crate::document::{Problems, SetAside, Syntax};
use crate::ruleset::layer::{Examples, Layer};
use crate::ruleset::reserved::Reserved;

/// Reads a text that comes with the library. Nothing, if it does not, or if something is wrong with
/// it: then its text has to be read.
pub(super) fn read_shipped(
    name: &str,
    text: &[u8],
    examples: Examples,
    reserved: Reserved,
) -> Option<(Layer, SetAside)> {
    // It was prepared as YAML, and may be no JSON.
    let is_yaml = Syntax::of_name(name) == Syntax::Yaml;
    let prepared = reserved.prepared(text).filter(|_| is_yaml)?;
    let examples = match examples {
        Examples::Compiled => match reserved.kept_layer(name) {
            Some(kept) => return Some((kept, SetAside::default())),
            None => Examples::LeftOut,
        },
        other => other,
    };
    let source = Arc::new(prepared.source(name));
    let left_out = (examples == Examples::LeftOut).then_some("cases");
    let tree = prepared.tree(&source, left_out)?;
    let mut problems = Problems::new(&source);
    let digest = prepared.digest()?.to_owned();
    let read = layer(
        Arc::clone(&source),
        (&tree, digest),
        reserved,
        &mut problems,
    )?;
    let layer = Layer { examples, ..read };
    problems.is_empty().then(|| (layer, problems.set_aside()))
}

/// A layer with its examples, which are read now if they were left out.
pub(in crate::ruleset) fn with_examples(layer: &Layer, reserved: Reserved) -> Cow<'_, Layer> {
    let read = match layer.examples {
        Examples::Read => None,
        Examples::LeftOut | Examples::Compiled => {
            let (name, text) = (layer.source.name(), layer.source.text().as_bytes());
            read_shipped(name, text, Examples::Read, reserved)
        }
    };
    read.map_or(Cow::Borrowed(layer), |(whole, _)| Cow::Owned(whole))
}
