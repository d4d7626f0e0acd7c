//! Splits a range, or a box of two, until each piece is decided or as narrow as asked for.

use std::collections::{HashMap, VecDeque};
use std::ops::Range;
use std::rc::Rc;

use rules_core::check::Verdict;
use rules_core::document::ProblemList;
use rules_core::facts::Given;

use super::axis::Axis;
use super::named::Varied;
use super::probe::{Came, Judged, Probe, Supposed};
use super::report::Class;

/// A box: so many steps of each axis. Where there is only one axis the other has a single step.
pub(super) type Steps = [Range<usize>; 2];

/// A piece that is not split any more.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    pub steps: Steps,
    /// By all that was asked for.
    pub class: Class,
    /// By the cautions that the varied facts bear on.
    pub alone: Class,
    pub why: Why,
}

/// A corner of a piece, and what came of it.
pub(super) type Corner = ([usize; 2], Rc<Supposed>);

/// What a piece was judged by.
#[derive(Debug, Clone)]
pub(super) enum Why {
    /// A check of all of it, and of its corners where it is as narrow as asked for.
    Judged {
        within: Judged,
        corners: Vec<Corner>,
    },
    /// It contradicts what else the plan says.
    CannotBe(String),
    /// There was no check left for it.
    NotSearched,
}

/// Searches all of the axes, coarse before fine.
pub(super) fn search<'r>(
    axes: &[Axis<'r>],
    probe: &mut Probe<'r>,
) -> Result<Vec<Piece>, ProblemList> {
    let whole = [0, 1].map(|at| 0..axes.get(at).map_or(1, Axis::steps));
    let mut search = Search {
        axes,
        probe,
        points: HashMap::new(),
        queue: VecDeque::from([whole]),
        pieces: Vec::new(),
    };
    while let Some(steps) = search.queue.pop_front() {
        search.look_at(steps)?;
    }
    let mut pieces = search.pieces;
    pieces.sort_by_key(|piece| piece.steps.clone().map(|steps| (steps.start, steps.end)));
    Ok(pieces)
}

struct Search<'s, 'r> {
    axes: &'s [Axis<'r>],
    probe: &'s mut Probe<'r>,
    /// What came of single points: each is a corner of several pieces.
    points: HashMap<[usize; 2], Rc<Supposed>>,
    queue: VecDeque<Steps>,
    pieces: Vec<Piece>,
}

impl<'r> Search<'_, 'r> {
    fn look_at(&mut self, steps: Steps) -> Result<(), ProblemList> {
        if !self.probe.may_check() {
            self.add(
                steps,
                (Class::NotSearched, Class::NotSearched),
                Why::NotSearched,
            );
            return Ok(());
        }
        let values = values(self.axes, |at, axis| axis.value(steps.get(at)?));
        let within = match self.probe.suppose(&values)? {
            Supposed::CannotBe(why) => {
                self.add(
                    steps,
                    (Class::CannotBe, Class::CannotBe),
                    Why::CannotBe(why),
                );
                return Ok(());
            }
            Supposed::Judged(judged) => judged,
        };
        if within.alone.is_settled() {
            self.settled(steps, within)
        } else if let Some(halves) = halves(&steps) {
            self.queue.extend(halves);
            Ok(())
        } else {
            self.as_narrow_as_asked(steps, within)
        }
    }

    /// A piece that came to one verdict. Where a corner contradicts what else the plan says, the piece
    /// is split all the same: a part of it cannot be.
    fn settled(&mut self, steps: Steps, within: Judged) -> Result<(), ProblemList> {
        let corners = self.corners(&steps)?.unwrap_or_default();
        let cannot_be = |(_, came): &Corner| matches!(**came, Supposed::CannotBe(_));
        let is_part_of_it = corners.iter().any(cannot_be);
        match halves(&steps).filter(|_| is_part_of_it) {
            Some(halves) => self.queue.extend(halves),
            None if is_part_of_it => {
                let why = Why::Judged { within, corners };
                self.add(steps, (Class::Boundary, Class::Boundary), why);
            }
            None => {
                let classes = (class(within.whole), class(within.alone));
                let corners = Vec::new();
                self.add(steps, classes, Why::Judged { within, corners });
            }
        }
        Ok(())
    }

    /// A piece that is not split any more: its corners tell whether a limit lies in it, or whether
    /// something else leaves it open.
    fn as_narrow_as_asked(&mut self, steps: Steps, within: Judged) -> Result<(), ProblemList> {
        let corners = self.corners(&steps)?;
        let Some(corners) = corners else {
            self.add(
                steps,
                (Class::NotSearched, Class::NotSearched),
                Why::NotSearched,
            );
            return Ok(());
        };
        let is_open = |of: fn(&Judged) -> Came| {
            let mut judged = corners.iter().filter_map(|(_, corner)| match &**corner {
                Supposed::Judged(judged) => Some(of(judged)),
                Supposed::CannotBe(_) => None,
            });
            judged.any(|came| !came.is_settled())
        };
        let narrow = |of: fn(&Judged) -> Came| match of(&within) {
            came if came.is_settled() => class(came),
            _ if corners.is_empty() || is_open(of) => Class::Open,
            _ => Class::Boundary,
        };
        let classes = (narrow(|judged| judged.whole), narrow(|judged| judged.alone));
        self.add(steps, classes, Why::Judged { within, corners });
        Ok(())
    }

    /// What came of the corners of a piece; none if there is no check left for them. A single value has
    /// none.
    fn corners(&mut self, steps: &Steps) -> Result<Option<Vec<Corner>>, ProblemList> {
        let ends = |at: usize| match (self.axes.get(at), steps.get(at)) {
            (Some(axis), Some(steps)) if axis.is_continuous() => vec![steps.start, steps.end],
            (Some(_), Some(steps)) if steps.len() > 1 => vec![steps.start, steps.end - 1],
            (_, Some(steps)) => vec![steps.start],
            (_, None) => Vec::new(),
        };
        let (across, up) = (ends(0), ends(1));
        if across.len() * up.len() < 2 {
            return Ok(Some(Vec::new()));
        }
        let mut all = Vec::new();
        for point in across.iter().flat_map(|x| up.iter().map(move |y| [*x, *y])) {
            match self.point(point)? {
                Some(came) => all.push((point, came)),
                None => return Ok(None),
            }
        }
        Ok(Some(all))
    }

    fn point(&mut self, point: [usize; 2]) -> Result<Option<Rc<Supposed>>, ProblemList> {
        if let Some(known) = self.points.get(&point) {
            return Ok(Some(Rc::clone(known)));
        }
        if !self.probe.may_check() {
            return Ok(None);
        }
        let values = values(self.axes, |at, axis| axis.value_at(*point.get(at)?));
        let came = Rc::new(self.probe.suppose(&values)?);
        self.points.insert(point, Rc::clone(&came));
        Ok(Some(came))
    }

    fn add(&mut self, steps: Steps, (class, alone): (Class, Class), why: Why) {
        self.pieces.push(Piece {
            steps,
            class,
            alone,
            why,
        });
    }
}

/// The values of all axes.
pub(super) fn values<'a, 'r>(
    axes: &'a [Axis<'r>],
    value: impl Fn(usize, &Axis<'r>) -> Option<Given>,
) -> Vec<(&'a Varied<'r>, Given)> {
    let each = axes.iter().enumerate();
    each.filter_map(|(at, axis)| Some((&axis.varied, value(at, axis)?)))
        .collect()
}

/// What is proved of a piece that came to this in all of it.
pub(super) const fn class(came: Came) -> Class {
    match (came.verdict, came.best) {
        (Verdict::Pass, _) => Class::Pass,
        (Verdict::Warn, Verdict::Warn) => Class::Warn,
        (Verdict::Refuse, Verdict::Refuse) => Class::Refuse,
        _ => Class::Open,
    }
}

/// The two halves of a box, across its longer side; none if it is a single step.
fn halves(steps: &Steps) -> Option<[Steps; 2]> {
    let [across, up] = steps;
    if across.len().max(up.len()) < 2 {
        return None;
    }
    let halved = |side: &Range<usize>| {
        let middle = side.start + side.len() / 2;
        (side.start..middle, middle..side.end)
    };
    Some(if across.len() >= up.len() {
        let (low, high) = halved(across);
        [[low, up.clone()], [high, up.clone()]]
    } else {
        let (low, high) = halved(up);
        [[across.clone(), low], [across.clone(), high]]
    })
}
