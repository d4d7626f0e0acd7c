//! Readings of one thing that may be given several times: a map, or a list of maps.
//!
//! The table of facts has a numbered place for each: the first entry of `capacity` is at `capacity`,
//! the second at `capacity_2`, where it may also be written. One that is set aside takes no place,
//! so that no figure and no rule sees it; why stands at `set_aside` of the first place.

use super::sections::SectionReader;
use rules_core::document::{Content, Entry, Fault, Node, Problems};
use rules_core::facts::{Given, InnerKeys, Instance, Key, SubjectId, Value};

/// The key of a reading that says why it is left out.
const SET_ASIDE: &str = "set_aside";

impl SectionReader<'_, '_> {
    /// Whether a key is a numbered place beside a list that fills those places.
    pub(super) fn is_listed(&self, subject: SubjectId, key: &str, beside: &[Entry<'_>]) -> bool {
        if !key.ends_with(|last: char| last.is_ascii_digit()) {
            return false;
        }
        let base = key
            .rsplit_once('_')
            .filter(|(_, number)| number.parse::<usize>().is_ok());
        let Some((base, _)) = base else {
            return false;
        };
        let is_list = beside
            .iter()
            .any(|entry| entry.key == base && matches!(entry.node.content, Content::List(_)));
        is_list
            && match self.catalogue.key(subject, base) {
                Some(Key::Map(keys)) => keys.get(SET_ASIDE).is_some(),
                _ => false,
            }
    }

    /// Reads the readings under a key, if it is one that may be given several times.
    pub(super) fn repeated(
        &self,
        (key, node): (&str, &Node<'_>),
        subject: SubjectId,
        first: &InnerKeys,
        instance: &mut Instance,
        problems: &mut Problems<'_>,
    ) -> bool {
        let Some(set_aside) = first.get(SET_ASIDE) else {
            return false;
        };
        let readings = match &node.content {
            Content::List(readings) => readings.as_slice(),
            _ => std::slice::from_ref(node),
        };
        if readings.is_empty() {
            let message = format!("`{key}` is a list of nothing");
            problems.add(
                Fault::WrongShape,
                node.span,
                message,
                "write one, or leave the key out",
            );
        }
        let mut place = 0;
        let mut left_out: Option<Given> = None;
        for reading in readings {
            if is_set_aside(reading) {
                let mut apart = Instance::default();
                self.nested((key, reading), subject, first, &mut apart, problems);
                let why = apart.given(self.catalogue.slot(set_aside)).cloned();
                left_out = joined(left_out, why);
                continue;
            }
            place += 1;
            self.placed((key, reading), place, subject, instance, problems);
        }
        if let Some(why) = left_out {
            instance.set(self.catalogue.slot(set_aside), why);
        }
        true
    }

    fn placed(
        &self,
        (key, reading): (&str, &Node<'_>),
        place: usize,
        subject: SubjectId,
        instance: &mut Instance,
        problems: &mut Problems<'_>,
    ) {
        let name = if place == 1 {
            key.to_owned()
        } else {
            format!("{key}_{place}")
        };
        match self.catalogue.key(subject, &name) {
            Some(Key::Map(keys)) => {
                self.nested((key, reading), subject, keys, instance, problems);
            }
            _ => problems.add(
                Fault::TooLarge,
                reading.span,
                format!("`{key}` has more entries than {}", place - 1),
                "keep those that are nearest to the use, and leave the others out",
            ),
        }
    }
}

fn is_set_aside(reading: &Node<'_>) -> bool {
    match &reading.content {
        Content::Map(entries) => entries.iter().any(|entry| entry.key == SET_ASIDE),
        _ => false,
    }
}

/// Why several were set aside, together; it stands at the first.
fn joined(so_far: Option<Given>, more: Option<Given>) -> Option<Given> {
    match (so_far, more) {
        (Some(one), Some(other)) => {
            let text = |given: &Given| match &given.value {
                Value::Text(text) => text.to_string(),
                _ => String::new(),
            };
            let value = Value::Text(format!("{}; {}", text(&one), text(&other)).into());
            Some(Given { value, ..one })
        }
        (one, other) => one.or(other),
    }
}
