//! A catalogue as it is kept in a program: what was read of its table, without the figures of a
//! library.

use std::sync::Arc;

use super::catalogue::Catalogue;
#[cfg(feature = "snapshot")]
use super::figures::NoFigures;
use super::relation::RelationDef;
#[cfg(feature = "snapshot")]
use super::worked::{AsMoreJoin, Needs, WorkedDef};
use crate::document::{Content, Node, Prepared, ProblemList, Quotes, Scalar, Source, Span};
#[cfg(feature = "snapshot")]
use crate::quantity::Kind;
use crate::snapshot::{Reader, Snapshot, Stored, stored};

stored!(
    enum Quotes {
        None,
        Single,
        Double,
    }
);

impl Catalogue {
    /// The catalogue of a table that comes with the program, as it was kept when that was built; read
    /// from its text, if it was not.
    ///
    /// # Errors
    ///
    /// Every problem of the text, if that is read.
    pub fn kept(name: &str, table: Prepared, kept: Snapshot) -> Result<Self, ProblemList> {
        let source = Arc::new(table.source_without_lines(name));
        read(&mut Reader::of(kept), &source)
            .filter(|catalogue| Some(&*catalogue.digest) == table.digest())
            .map_or_else(|| Self::read_prepared(name, table), Ok)
    }

    /// Sets the names and kinds of the figures of a library, and not how they are worked out: so much
    /// is needed to compile rules.
    #[cfg(feature = "snapshot")]
    pub fn name_figures(&mut self, named: &[(&'static str, Kind)]) {
        let def = |(full, kind): &(&'static str, Kind)| {
            let (subject, name) = full.split_once('.')?;
            Some(WorkedDef {
                subject: self.subject_named(subject)?,
                name,
                kind: *kind,
                meaning: "",
                needs: Needs::NONE,
                as_more_join: AsMoreJoin::Unknown,
                never_negative: false,
            })
        };
        let defs = named.iter().filter_map(def).collect();
        self.set_figures(defs, Arc::new(NoFigures));
    }

    /// The same, to be kept.
    #[cfg(any(test, feature = "snapshot"))]
    #[must_use]
    pub fn to_keep(&self) -> (Vec<u8>, String) {
        let mut to = crate::snapshot::Writer::default();
        self.subjects.write(&mut to);
        self.facts.write(&mut to);
        self.full_names.write(&mut to);
        self.places.write(&mut to);
        self.sections.write(&mut to);
        self.metered.write(&mut to);
        self.belonging.write(&mut to);
        self.ids.write(&mut to);
        self.names.write(&mut to);
        self.summaries.write(&mut to);
        self.notice.write(&mut to);
        self.digest.write(&mut to);
        to.number(self.relations.len());
        for relation in &*self.relations {
            relation.id.write(&mut to);
            relation.about.write(&mut to);
            relation.says.write(&mut to);
            if let Content::Scalar(Scalar { text, quotes, .. }) = &relation.holds.content {
                text.clone().into_owned().write(&mut to);
                quotes.write(&mut to);
            }
            relation.holds.span.write(&mut to);
        }
        to.finish()
    }
}

fn read(from: &mut Reader, source: &Arc<Source>) -> Option<Catalogue> {
    let mut catalogue = Catalogue::of_subjects(&[]);
    catalogue.subjects = Stored::read(from)?;
    catalogue.facts = Stored::read(from)?;
    catalogue.full_names = Stored::read(from)?;
    catalogue.places = Stored::read(from)?;
    catalogue.sections = Stored::read(from)?;
    catalogue.metered = Stored::read(from)?;
    catalogue.belonging = Stored::read(from)?;
    catalogue.ids = Stored::read(from)?;
    catalogue.names = Stored::read(from)?;
    catalogue.summaries = Stored::read(from)?;
    catalogue.notice = Stored::read(from)?;
    catalogue.digest = Stored::read(from)?;
    let many = from.number()?;
    let relations: Option<Vec<_>> = (0..many).map(|_| relation(from, source)).collect();
    catalogue.set_relations(relations?);
    from.is_done().then_some(catalogue)
}

fn relation(from: &mut Reader, source: &Arc<Source>) -> Option<RelationDef> {
    Some(RelationDef {
        id: Stored::read(from)?,
        about: Stored::read(from)?,
        says: Stored::read(from)?,
        holds: formula(from)?,
        source: Arc::clone(source),
    })
}

fn formula(from: &mut Reader) -> Option<Node<'static>> {
    let scalar = Scalar {
        text: Stored::read(from)?,
        quotes: Quotes::read(from)?,
        split: false,
    };
    Some(Node {
        content: Content::Scalar(scalar),
        span: Span::read(from)?,
    })
}
