//! The outlines of the shipped rulesets are made from their texts and must not fall behind them: a stale one is left aside, and loading is slower.
#![cfg(test)]

use std::path::PathBuf;

use rules_core::document::{Syntax, outline, read, source};
use rules_core::ruleset::{Library, Shipped};

#[test]
fn the_outlines_of_the_shipped_rulesets_are_fresh() {
    for name in Shipped::names() {
        let text = Shipped.find(name, None).expect("it is shipped");
        let source = source(name, text.bytes).expect("it is text");
        let made = outline(&source, &read(&source, Syntax::Yaml).expect("it is well formed"));
        let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(format!("../rules-core/data/{name}.outline"));
        if std::env::var_os("UPDATE_OUTLINES").is_some() {
            std::fs::write(&path, &made).expect("the outline can be written");
        }
        let kept = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(kept == made, "the outline of `{name}` is stale; run `UPDATE_OUTLINES=1 cargo test -p rules-tests --test outlines`");
    }
}
