//! Which proposals use a cell.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// So many other proposals are named beside a cell; the rest is counted.
const MOST_NAMED: usize = 3;

/// The proposals that use cells, by the text that a cell is written in, and its id.
#[derive(Debug, Default)]
pub(super) struct Uses {
    cells: BTreeMap<(Arc<str>, Arc<str>), Users>,
    /// Whether all proposals were read once, and nothing is to be added.
    is_whole: bool,
}

/// The proposals that use one cell.
#[derive(Debug, Default)]
struct Users {
    /// The first of them by name, one more than is told: a proposal is told the others.
    first: BTreeSet<Arc<str>>,
    /// How many there are besides.
    more: usize,
}

impl Users {
    fn add(&mut self, proposal: &Arc<str>) {
        self.first.insert(Arc::clone(proposal));
        if self.first.len() > MOST_NAMED + 1 {
            self.first.pop_last();
            self.more += 1;
        }
    }

    /// All of them, where there are several.
    fn shared(&self) -> Option<String> {
        let all: Vec<&str> = self.first.iter().map(|one| &**one).collect();
        match (all.len(), self.more) {
            (0 | 1, _) => None,
            (_, 0) => Some(all.join(", ")),
            (_, more) => Some(format!("{} and {more} more", all.join(", "))),
        }
    }

    /// Those that are not this one: `a.yaml, b.yaml and 2 more`.
    fn others(&self, proposal: &str) -> Option<String> {
        let others = self.first.iter().filter(|other| ***other != *proposal);
        let others: Vec<&str> = others.map(|other| &**other).collect();
        // One that is not among the first is among the rest.
        let own = usize::from(others.len() == self.first.len()).min(self.more);
        let named = others.get(..MOST_NAMED).unwrap_or(&others);
        let more = self.more - own + (others.len() - named.len());
        let named = named.join(", ");
        match (others.len(), more) {
            (0, _) => None,
            (1, 0) => Some(format!("proposal {named}")),
            (_, 0) => Some(format!("proposals {named}")),
            _ => Some(format!("proposals {named} and {more} more")),
        }
    }
}

impl Uses {
    /// Says that every proposal was read once: what others use is known, and reading it again adds
    /// nothing.
    pub(super) const fn close(&mut self) {
        self.is_whole = true;
    }

    /// Each cell that several proposals use, with these.
    pub(super) fn shared(&self) -> impl Iterator<Item = (&str, String)> {
        let all = self.cells.iter();
        all.filter_map(|((_, cell), users)| Some((&**cell, users.shared()?)))
    }

    /// Notes that a proposal uses a cell, and says which others do, as far as they are known.
    pub(super) fn add(
        &mut self,
        text: &Arc<str>,
        cell: &Arc<str>,
        proposal: &Arc<str>,
    ) -> Option<String> {
        let users = self.cells.entry((Arc::clone(text), Arc::clone(cell)));
        let users = users.or_default();
        if !self.is_whole {
            users.add(proposal);
        }
        let others = users.others(proposal)?;
        Some(format!("{cell} is in the {others} too."))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(users: usize, whom: usize) -> Option<String> {
        let name = |at: usize| Arc::from(format!("{at}.yaml"));
        let (text, cell) = (Arc::from("bench.yaml"), Arc::from("K4"));
        let mut uses = Uses::default();
        for at in 0..users {
            uses.add(&text, &cell, &name(at));
        }
        uses.close();
        uses.add(&text, &cell, &name(whom))
    }

    #[test]
    fn each_is_told_all_others() {
        assert_eq!(told(1, 0), None);
        for (users, whom, others) in [
            (2, 0, "proposal 1.yaml"),
            (2, 1, "proposal 0.yaml"),
            (4, 1, "proposals 0.yaml, 2.yaml, 3.yaml"),
            (4, 3, "proposals 0.yaml, 1.yaml, 2.yaml"),
            (5, 0, "proposals 1.yaml, 2.yaml, 3.yaml and 1 more"),
            (5, 4, "proposals 0.yaml, 1.yaml, 2.yaml and 1 more"),
            (9, 8, "proposals 0.yaml, 1.yaml, 2.yaml and 5 more"),
            (9, 2, "proposals 0.yaml, 1.yaml, 3.yaml and 5 more"),
        ] {
            let expected = format!("K4 is in the {others} too.");
            assert_eq!(told(users, whom), Some(expected), "{users}, {whom}");
        }
    }
}
