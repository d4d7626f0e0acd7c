//! A label decoded: what the pack is, every arrangement that the label allows, and where it
//! contradicts itself.

use super::contradiction::{self, Contradiction};
use super::fault::LabelFault;
use super::pack::Pack;
use super::pack_reading::{PackReading, Plausible};
use super::printed::Label;
use super::search::Search;

/// A label decoded.
#[derive(Debug, Clone, PartialEq)]
pub struct Decoded {
    /// What the pack is as a whole.
    pub pack: Pack,
    /// Every arrangement that the label allows, the likeliest first. None only if something
    /// contradicts each of them.
    pub readings: Vec<PackReading>,
    /// Where the label contradicts itself or the count, in any rounding.
    pub contradictions: Vec<Contradiction>,
}

impl Decoded {
    /// Whether the label can be believed: it contradicts neither itself nor the count, and leaves a
    /// reading whose cells can exist.
    #[must_use]
    pub fn is_believable(&self) -> bool {
        let can_be = self
            .readings
            .iter()
            .any(|reading| reading.plausible() != Plausible::Implausible);
        can_be && self.contradictions.is_empty()
    }
}

/// Decodes a label.
///
/// # Errors
///
/// Every fault of the label: impossible numbers, a code that cannot be read, or too little
/// information.
pub fn decode(label: &Label<'_>) -> Result<Decoded, Vec<LabelFault>> {
    let search = Search::of(label)?;
    let readings = search.readings().map_err(|fault| vec![fault])?;
    let contradictions = contradiction::all(&search);
    Ok(Decoded {
        pack: search.pack,
        readings,
        contradictions,
    })
}
