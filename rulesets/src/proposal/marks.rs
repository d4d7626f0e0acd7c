//! What is marked on cells and packs: designations, classes and codes of the size.

use crate::designation::{CodedSize, Designation};
use crate::facts::NamedFact;
use crate::span::both;
use rules_core::characters::is_blank;
use rules_core::document::{Content, Fault, Node, Problems, text};
use rules_core::facts::{Given, Instance, OptionSet, Value};
use rules_core::quantity::{Interval, Measure};

/// The marks of a cell while its entry is read.
pub(super) struct Marks<'m, 'p> {
    pub cell: &'m mut Instance,
    pub problems: &'m mut Problems<'p>,
}

impl Marks<'_, '_> {
    /// Works out class and size from the designation and the code of the size. The facts that are
    /// written by themselves have been read before.
    pub(super) fn read(mut self, node: &Node<'_>) {
        let size = entry(node, "size").and_then(|size| entry(size, "code"));
        if let Some(size) = size {
            self.size_code(size);
        }
        if let Some(designation) = entry(node, "designation") {
            self.designation(designation);
        }
    }

    /// The size by its code. If it could not be read as a text, that is reported already.
    fn size_code(&mut self, node: &Node<'_>) {
        let Some(Value::Text(code)) = self
            .given(NamedFact::CellSizeCode)
            .map(|given| given.value.clone())
        else {
            return;
        };
        match CodedSize::parse(&code) {
            Ok(size) => self.size(size, &code, node),
            Err(why) => {
                let help = "write it as `18650`, or `19/66` by IEC 61960; leave it out if it is not \
                            known";
                self.problems.add(
                    Fault::BadCode,
                    node.span,
                    format!("`{code}` is no size of a cell: {why}"),
                    help,
                );
            }
        }
    }

    fn designation(&mut self, node: &Node<'_>) {
        let Some(text) = text(node, self.problems) else {
            return;
        };
        match of_one_cell(text) {
            Ok(designation) => {
                let text = text.trim();
                let at = node.span.start;
                let written = Value::Text(text.into());
                fill(self.cell, NamedFact::CellDesignation, written, text, at);
                self.class(designation, text, node);
                self.size(designation.size, text, node);
            }
            Err(why) => {
                let help = "write a designation as `ICR18650` or `INR19/66`. Put what else is printed \
                            on the sleeve under `mark`, and the size under `size: { code: 18650 }`; \
                            where the class is not marked, leave it out";
                self.problems.add(
                    Fault::BadCode,
                    node.span,
                    format!("`{text}` is no designation of a cell: {why}"),
                    help,
                );
            }
        }
    }

    /// The class by the designation, which a stated class has to agree with.
    fn class(&mut self, designation: Designation, text: &str, node: &Node<'_>) {
        let class = OptionSet::one(designation.class_position());
        match self
            .given(NamedFact::CellClass)
            .map(|given| given.value.clone())
        {
            Some(Value::Choice(stated)) if stated != class => {
                self.disagree("class", text, node);
            }
            Some(_) => {}
            None => fill(
                self.cell,
                NamedFact::CellClass,
                Value::Choice(class),
                text.get(..3).unwrap_or(text),
                node.span.start,
            ),
        }
    }

    /// The size by a code; with two codes, what both allow.
    fn size(&mut self, size: CodedSize, text: &str, node: &Node<'_>) {
        let (from, to) = size.diameter;
        let sides = [
            (NamedFact::CellCodeDiameter, (10 * from, 10 * to)),
            (NamedFact::CellCodeLength, size.length),
        ];
        for (fact, tenths) in sides {
            let coded = millimetres(tenths);
            let before = match self.given(fact).map(|given| &given.value) {
                Some(Value::Number(before)) => before.range(),
                _ => Interval::WHOLE,
            };
            match both(before, coded) {
                Some(size) => fill(
                    self.cell,
                    fact,
                    Value::Number(Measure::of(size)),
                    text,
                    node.span.start,
                ),
                None => return self.disagree("size", text, node),
            }
        }
    }

    fn given(&self, fact: NamedFact) -> Option<&Given> {
        self.cell.given(fact.slot()?)
    }

    fn disagree(&mut self, what: &str, text: &str, node: &Node<'_>) {
        let message = format!("the {what} that is stated is not that of `{text}`");
        let help = format!("read the cell again, and leave out the {what} or the designation");
        self.problems
            .add(Fault::Contradiction, node.span, message, help);
    }
}

fn of_one_cell(text: &str) -> Result<Designation, String> {
    let designation = Designation::parse(text).map_err(|fault| fault.to_string())?;
    if designation.is_single() {
        Ok(designation)
    } else {
        Err("it designates several cells".to_owned())
    }
}

fn millimetres(tenths: (u32, u32)) -> Interval {
    let (from, to) = (f64::from(tenths.0) / 10.0, f64::from(tenths.1) / 10.0);
    Interval::new(from, to).unwrap_or(Interval::WHOLE)
}

/// A designation on a pack's label, which may be of several cells. What is no text is reported as
/// that of any fact.
pub(super) fn of_pack(node: &Node<'_>, problems: &mut Problems<'_>) {
    let Some(code) = node
        .scalar()
        .filter(|text| !is_blank(text) && !node.is_split())
    else {
        return;
    };
    if let Err(why) = Designation::parse(code) {
        let help = "write it as `3INR19/66-2`; leave it out if the label has none";
        problems.add(
            Fault::BadCode,
            node.span,
            format!("`{code}` is no designation of a pack: {why}"),
            help,
        );
    }
}

/// Gives one of a subject a fact that is worked out of what is at a place.
pub(super) fn fill(
    instance: &mut Instance,
    fact: NamedFact,
    value: Value,
    written: &str,
    at: usize,
) {
    if let Some(slot) = fact.slot() {
        instance.set(slot, Given::worked_out(value, written, at));
    }
}

/// What is under a key of a map.
pub(super) fn entry<'n>(node: &'n Node<'n>, key: &str) -> Option<&'n Node<'n>> {
    match &node.content {
        Content::Map(entries) => entries
            .iter()
            .find(|entry| entry.key == key)
            .map(|entry| &entry.node),
        _ => None,
    }
}
