//! Writes the rules of a shipped ruleset in the form that [`kept`](super::kept) reads.

use std::collections::BTreeMap;

use super::kept_layer;
use super::rules::Rules;
use super::stack::Stack;
use crate::snapshot::{Stored, Writer};

impl Rules {
    /// The rules of one shipped ruleset, to be kept in a program; nothing, if it declares facts of
    /// its own or changes what it extends.
    #[must_use]
    pub fn to_keep(&self) -> Option<(Vec<u8>, String)> {
        let stack = &self.made_of.parts().stack;
        let own = stack.layers.last()?;
        if !stack.layers.iter().all(kept_layer::can_be_kept) {
            return None;
        }
        let mut to = Writer::default();
        to.measured(|to| kept_layer::write(own, to));
        self.write_what_it_is_for(&mut to);
        let names = names(stack);
        names.write(&mut to);
        to.set_files(names.into_iter().map(|(name, _)| name).collect());
        let limits: Vec<String> = self.limits.iter().map(|one| one.name.to_string()).collect();
        limits.write(&mut to);
        self.write_what_is_compiled(&mut to);
        self.write_the_rest(&mut to);
        Some(to.finish())
    }

    /// The facts and figures that formulas name by number.
    fn write_what_it_is_for(&self, to: &mut Writer) {
        self.catalogue.digest().to_owned().write(to);
        to.number(self.catalogue.facts().len());
        to.number(self.catalogue.worked().len());
        for def in self.catalogue.worked() {
            def.subject.write(to);
            def.name.write(to);
            def.kind.write(to);
        }
    }

    fn write_what_is_compiled(&self, to: &mut Writer) {
        self.program.write(to);
        self.cautions.write(to);
        self.relations.write(to);
        self.limits.write(to);
        self.figures.write(to);
        self.levels().write(to);
    }

    fn write_the_rest(&self, to: &mut Writer) {
        self.stages.write(to);
        self.meters.write(to);
        self.layers.write(to);
        self.loosened.write(to);
        self.notice.write(to);
        self.acceptance.write(to);
        self.sources.write(to);
        self.digests.write(to);
    }

    /// Of each figure on how many levels of others it rests. Each comes after those.
    fn levels(&self) -> Vec<usize> {
        let layers = self.made_of.parts().stack.layers.iter();
        let texts = layers.flat_map(|layer| &layer.figures).map(|figure| {
            let about = figure.body.about.as_ref();
            let subject = about.map_or("", |about| &about.subject);
            let is = figure.body.is.as_ref();
            let names = is.map(|is| is.tree.names()).unwrap_or_default();
            (format!("{subject}.{}", figure.name), names)
        });
        let texts: BTreeMap<String, Vec<(&str, &str)>> = texts.collect();
        let mut levels: BTreeMap<String, usize> = BTreeMap::new();
        for figure in self.figures() {
            let names = texts.get(&*figure.name).into_iter().flatten();
            let below =
                names.filter_map(|(subject, word)| levels.get(&format!("{subject}.{word}")));
            let level = below.max().copied().unwrap_or(0) + 1;
            levels.insert(figure.name.to_string(), level);
        }
        let level = |name: &str| levels.get(name).copied().unwrap_or(0);
        self.figures
            .iter()
            .map(|figure| level(&figure.name))
            .collect()
    }
}

/// The name of each layer, with the name of one that extends it.
fn names(stack: &Stack) -> Vec<(String, Option<String>)> {
    let extending = |at: usize| {
        let mut all = stack.layers.iter().zip(&stack.extends);
        let found = all.find(|(_, extends)| extends.contains(&at));
        found.map(|(layer, _)| layer.name.clone())
    };
    let layers = stack.layers.iter().enumerate();
    layers
        .map(|(at, layer)| (layer.name.clone(), extending(at)))
        .collect()
}
