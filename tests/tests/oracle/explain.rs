//! Which facts decide a finding, by "Deciding facts" of section 6 of LANGUAGE.md.

use std::collections::BTreeMap;

use super::evaluate::{Seat, Walk, fold_subject};
use super::grammar::Tree;
use super::truth::Truth;

/// Facts by name, with whether they are missing.
pub(crate) type Named = BTreeMap<String, bool>;

/// A condition seen from a seat.
type Part<'w> = (&'w Tree, Seat<'w>);

/// Finds facts.
pub(crate) struct Search<'s, 'w> {
    pub(crate) walk: &'s Walk<'w>,
    pub(crate) found: Named,
    /// Whether a part of an `and` or `or` is looked into.
    inside: bool,
    /// Whether only comparisons that are undecided count, as of a condition that is.
    open_only: bool,
}

impl<'s, 'w> Search<'s, 'w> {
    pub(crate) const fn new(walk: &'s Walk<'w>) -> Self {
        Self {
            walk,
            found: Named::new(),
            inside: false,
            open_only: false,
        }
    }

    /// What keeps a rung from being surely met.
    pub(crate) fn rung(&mut self, tree: &'w Tree, seat: Seat<'w>) {
        self.deciding((tree, seat), true);
    }

    /// What leaves a condition open.
    pub(crate) fn condition(&mut self, tree: &'w Tree, seat: Seat<'w>) {
        self.open_only = true;
        self.deciding((tree, seat), true);
    }

    fn add(&mut self, name: &str, missing: bool) {
        *self.found.entry(name.to_owned()).or_default() |= missing;
    }

    /// In place of what hangs on an unknown grouping.
    fn grouping(&mut self) {
        self.add("cell.group", true);
    }

    /// In place of a fold where it is not known what it goes over.
    fn unknown(&mut self, subject: &str) {
        match subject {
            "pack" => self.add("cell.pack", true),
            _ => self.grouping(),
        }
    }

    /// The facts that keep a condition from being surely as wanted.
    fn deciding(&mut self, (tree, seat): Part<'w>, wanted: bool) {
        if self.walk.truth(tree, seat) == Truth::sure(wanted) {
            return;
        }
        match tree {
            Tree::YesNo(_) => {}
            Tree::Not(inner) => self.deciding((inner, seat), !wanted),
            Tree::And(parts) => self.joined(&all(parts, seat), true, wanted),
            Tree::Or(parts) => self.joined(&all(parts, seat), false, wanted),
            Tree::Every(subject, body) => self.each(subject, body, seat, true, wanted),
            Tree::Any(subject, body) => self.each(subject, body, seat, false, wanted),
            Tree::Name(subject, word) => {
                match self.walk.rules.figures.get(&format!("{subject}.{word}")) {
                    Some(_) if subject == "group" && seat.group.is_none() => self.grouping(),
                    Some(figure) => self.deciding(
                        (
                            &figure.is,
                            Seat {
                                about: &figure.about,
                                ..seat
                            },
                        ),
                        wanted,
                    ),
                    None => self.leaf(tree, seat),
                }
            }
            Tree::Compare(_, a, b) => match (a.as_ref(), b.as_ref()) {
                // A yes-no compared with a word is that yes-no, or its opposite.
                (inner, Tree::YesNo(_)) | (Tree::YesNo(_), inner) => {
                    self.yes_no(tree, inner, seat, wanted)
                }
                _ => self.leaf(tree, seat),
            },
            _ => self.leaf(tree, seat),
        }
    }

    fn leaf(&mut self, tree: &'w Tree, seat: Seat<'w>) {
        if !self.open_only || self.walk.truth(tree, seat).doubts().is_some() {
            self.names(tree, seat);
        }
    }

    fn yes_no(&mut self, tree: &'w Tree, inner: &'w Tree, seat: Seat<'w>, wanted: bool) {
        // What the comparison says of the part is seen by asking it with the part turned.
        let same = matches!(tree, Tree::Compare(sign, a, b) if (*sign == super::grammar::Sign::Equal) == matches!((a.as_ref(), b.as_ref()), (Tree::YesNo(true), _) | (_, Tree::YesNo(true))));
        self.deciding((inner, seat), wanted == same);
    }

    fn each(&mut self, subject: &str, body: &'w Tree, seat: Seat<'w>, every: bool, wanted: bool) {
        match self.walk.over(subject, seat) {
            Some(seats) => self.joined(
                &seats.iter().map(|seat| (body, *seat)).collect::<Vec<_>>(),
                every,
                wanted,
            ),
            None => self.unknown(subject),
        }
    }

    /// Of an `and` wanted yes the parts that are not so; wanted no, all. Of an `or` the mirror
    /// image. Of one that is itself a part, and settled, what settles it.
    fn joined(&mut self, parts: &[Part<'w>], every: bool, wanted: bool) {
        let truths: Vec<Truth> = parts
            .iter()
            .map(|(tree, seat)| self.walk.truth(tree, *seat))
            .collect();
        let settles = Truth::sure(!every);
        let settled = self.inside && truths.contains(&settles);
        let held = Truth::sure(every);
        let inside = std::mem::replace(&mut self.inside, true);
        for (part, truth) in parts.iter().zip(&truths) {
            let counts = if settled {
                *truth == settles
            } else {
                wanted != every || *truth != held
            };
            if counts {
                self.deciding(*part, wanted);
            }
        }
        self.inside = inside;
    }

    /// Every fact that a formula names.
    fn names(&mut self, tree: &'w Tree, seat: Seat<'w>) {
        match tree {
            Tree::Number(_) | Tree::Word(_) | Tree::YesNo(_) => {}
            Tree::Name(subject, word) => self.name(subject, word, seat),
            Tree::Compare(_, a, b)
            | Tree::Plus(a, b)
            | Tree::Minus(a, b)
            | Tree::Times(a, b)
            | Tree::Over(a, b) => {
                self.names(a, seat);
                self.names(b, seat);
            }
            Tree::And(parts) | Tree::Or(parts) | Tree::Joined(_, parts) => {
                parts.iter().for_each(|part| self.names(part, seat))
            }
            Tree::Not(inner)
            | Tree::Negative(inner)
            | Tree::Abs(inner)
            | Tree::In(inner, _)
            | Tree::Known(inner) => self.names(inner, seat),
            Tree::Fold(_, body) | Tree::Distinct(body) => {
                self.names_over(fold_subject(body), body, seat)
            }
            Tree::Count(subject, body) | Tree::Every(subject, body) | Tree::Any(subject, body) => {
                self.names_over(subject, body, seat)
            }
        }
    }

    fn names_over(&mut self, subject: &str, body: &'w Tree, seat: Seat<'w>) {
        match self.walk.over(subject, seat) {
            Some(seats) => seats.iter().for_each(|seat| self.names(body, *seat)),
            None => self.unknown(subject),
        }
    }

    fn name(&mut self, subject: &'w str, word: &str, seat: Seat<'w>) {
        let name = format!("{subject}.{word}");
        match self.walk.rules.figures.get(&name) {
            _ if subject == "limit" => {}
            _ if subject == "group" && seat.group.is_none() => self.grouping(),
            Some(figure) => self.names(
                &figure.is,
                Seat {
                    about: &figure.about,
                    ..seat
                },
            ),
            None if name == "build.current" => self.current(),
            None if subject == "pack" && self.walk.is_nameless_pack(seat) => self.unknown("pack"),
            None => self.add(&name, self.walk.given(subject, &name, seat).is_none()),
        }
    }

    /// What `build.current` was worked out from.
    fn current(&mut self) {
        let given = |name: &str| self.walk.proposal.singles.contains_key(name);
        let used: &[&str] = match (given("light.draw_current"), given("light.draw_power")) {
            (true, _) => &["light.draw_current"],
            (false, true) => &["light.draw_power", "light.cut_off", "light.input_min"],
            (false, false) => &["light.draw_current", "light.draw_power"],
        };
        let missing: Vec<bool> = used.iter().map(|name| !given(name)).collect();
        used.iter()
            .zip(missing)
            .for_each(|(name, missing)| self.add(name, missing));
    }
}

fn all<'w>(parts: &'w [Tree], seat: Seat<'w>) -> Vec<Part<'w>> {
    parts.iter().map(|part| (part, seat)).collect()
}
