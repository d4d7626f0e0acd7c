//! The layers of a check.

use super::layer::{Examples, Layer};
use super::reserved::Reserved;

/// The layers of a check: bases before what extends them, and which ones were asked for.
#[derive(Debug, Clone)]
pub(crate) struct Stack {
    pub layers: Vec<Layer>,
    /// For each layer, the positions of those it extends.
    pub extends: Vec<Vec<usize>>,
    /// The positions of those asked for.
    pub asked: Vec<usize>,
    /// The names that only shipped rulesets may have.
    pub reserved: Reserved,
}

impl Stack {
    /// Whether the formulas and texts of every layer were read.
    pub(super) fn is_whole(&self) -> bool {
        let mut layers = self.layers.iter();
        layers.all(|layer| layer.examples != Examples::Compiled)
    }
}
