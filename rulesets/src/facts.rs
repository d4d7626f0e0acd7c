//! The facts of the trade: what a proposal can state, and what is worked out from its keys.
//!
//! The table is `facts.yaml` beside this crate's rulesets; the loader, the schema, the list of
//! facts and the formulas all use it. The code knows its subjects by number.

mod named;

use std::sync::LazyLock;

use rules_core::document::Prepared;
use rules_core::facts::{Catalogue, SubjectId};

use crate::formerly;
use crate::prepared::{kept, prepared};

pub(crate) use self::named::NamedFact;

/// The light.
pub const LIGHT: SubjectId = SubjectId::new(0);
/// All cells of the light as one battery.
pub const BUILD: SubjectId = SubjectId::new(1);
/// The protection circuit, or its absence.
pub const PROTECTION: SubjectId = SubjectId::new(2);
/// How the cells are charged.
pub const CHARGING: SubjectId = SubjectId::new(3);
/// Where and how long the light is used.
pub const CONDITIONS: SubjectId = SubjectId::new(4);
/// Cells in parallel.
pub const GROUP: SubjectId = SubjectId::new(5);
/// One cell.
pub const CELL: SubjectId = SubjectId::new(6);
/// A pack that cells were taken out of.
pub const PACK: SubjectId = SubjectId::new(7);

/// The table as it is shipped.
pub const TABLE: &str = PREPARED.text;

pub(crate) const PREPARED: Prepared = prepared!("facts");

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(|| {
    // The tests read the table too, so the fallback is never used.
    let read = Catalogue::kept("facts.yaml", PREPARED, kept!("facts"));
    let mut catalogue = read.unwrap_or_else(|_| Catalogue::of_subjects(&[]));
    catalogue.set_former_names(formerly::names().unwrap_or_default());
    catalogue
});

/// The facts that proposals can state, by subject.
#[must_use]
pub fn catalogue() -> &'static Catalogue {
    &CATALOGUE
}

#[cfg(test)]
mod tests {
    use rules_core::document::Syntax;

    use super::*;

    #[test]
    fn the_table_can_be_read() {
        let text = TABLE.as_bytes().to_vec();
        let read = Catalogue::read("facts.yaml", text, Syntax::Yaml);
        assert_eq!(
            read.map(|_| ()).map_err(|problems| format!("{problems:?}")),
            Ok(())
        );
    }

    #[test]
    fn subjects_stand_in_the_order_in_which_the_code_numbers_them() {
        let names = [
            ("light", LIGHT),
            ("build", BUILD),
            ("protection", PROTECTION),
            ("charging", CHARGING),
            ("conditions", CONDITIONS),
            ("group", GROUP),
            ("cell", CELL),
            ("pack", PACK),
        ];
        for (name, id) in names {
            assert_eq!(catalogue().subject_named(name), Some(id), "{name}");
        }
        assert_eq!(catalogue().subjects().len(), names.len());
        assert_eq!(catalogue().container(CELL), Some(GROUP));
    }

    /// The name joins the place with underscores and drops a last `value`.
    #[test]
    fn names_follow_places() {
        for (id, fact) in catalogue().facts() {
            let Some(place) = &fact.key else {
                assert!(
                    fact.from.is_some(),
                    "{} comes from nowhere",
                    catalogue().fact_name(id)
                );
                continue;
            };
            let name = place.replace('.', "_");
            assert_eq!(fact.name, name.strip_suffix("_value").unwrap_or(&name));
        }
    }

    #[test]
    fn every_name_is_taken_once() {
        assert_eq!(catalogue().names().count(), catalogue().facts().count());
    }
}
