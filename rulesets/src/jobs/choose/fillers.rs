//! The best that cells can come to which are still to join a part of a set: caution by caution, so that
//! it need not be of the same cells.

use super::standing::{Mark, Standing};

/// So many places of the order are told apart, where few cells are to join.
const MOST_PLACES: usize = 64;
const FEWEST_PLACES: usize = 8;
const MOST_KEPT: usize = 512;

/// The best of so many cells from a place of the order on.
#[derive(Debug)]
pub(super) struct Fillers {
    /// How many places of the order are taken as one.
    width: usize,
    /// By place, and by how many cells are to join.
    best: Vec<Vec<Standing>>,
}

impl Fillers {
    /// Of cells in their order, each with what it comes to by itself, by the same cautions; at most so
    /// many are to join.
    pub(super) fn of(cells: &[Vec<Mark>], most: usize) -> Self {
        let places = (MOST_KEPT / most.max(1)).clamp(FEWEST_PLACES, MOST_PLACES);
        let width = cells.len().div_ceil(places).max(1);
        let cautions = cells.first().map_or(0, Vec::len);
        let mut kept = vec![Best::default(); cautions];
        let mut best = Vec::new();
        for (at, cell) in cells.iter().enumerate().rev() {
            for (kept, mark) in kept.iter_mut().zip(cell) {
                kept.add(mark, most);
            }
            if at.is_multiple_of(width) {
                best.push((0..=most).map(|count| together(&kept, count)).collect());
            }
        }
        best.reverse();
        Self { width, best }
    }

    /// The best of so many cells from a place on: no worse than any of them together.
    pub(super) fn best(&self, first: usize, count: usize) -> &Standing {
        static NOTHING: Standing = Standing::NONE;
        let of_place = self.best.get(first / self.width);
        let best = of_place.and_then(|counts| counts.get(count));
        best.unwrap_or(&NOTHING)
    }
}

fn together(kept: &[Best], count: usize) -> Standing {
    let marks: Vec<Mark> = kept
        .iter()
        .flat_map(|kept| kept.0.iter().take(count))
        .copied()
        .collect();
    Standing::NONE.with(marks.iter())
}

/// The best marks of one caution: each part of a mark by itself, the best first.
#[derive(Debug, Clone, Default)]
struct Best(Vec<Mark>);

impl Best {
    fn add(&mut self, mark: &Mark, most: usize) {
        let mut carried = *mark;
        for kept in &mut self.0 {
            carried = kept.keep_the_best(carried);
        }
        if self.0.len() < most {
            self.0.push(carried);
        }
    }
}

#[cfg(test)]
mod tests {
    use rules_core::check::Verdict::{self, Pass, Refuse, Warn};

    use super::*;

    fn mark(verdict: Verdict, margin: Option<i64>) -> Mark {
        Mark {
            best: verdict,
            verdict,
            open: false,
            margin,
        }
    }

    /// Two cautions, four cells: the best two of the last three by the first caution are 30 and 20, by
    /// the second a pass without a margin and 5; and one warning at the least.
    #[test]
    fn the_best_is_taken_caution_by_caution() {
        let cells = [
            vec![mark(Pass, Some(90)), mark(Pass, Some(90))],
            vec![mark(Pass, Some(20)), mark(Refuse, None)],
            vec![mark(Pass, Some(10)), mark(Pass, Some(5))],
            vec![mark(Pass, Some(30)), mark(Warn, None)],
        ];
        let fillers = Fillers::of(&cells, 2);
        let best = [
            mark(Pass, Some(30)),
            mark(Pass, Some(20)),
            mark(Pass, None),
            mark(Warn, None),
        ];
        assert_eq!(*fillers.best(1, 2), Standing::NONE.with(best.iter()));
        assert_eq!(*fillers.best(1, 0), Standing::NONE);
    }
}
