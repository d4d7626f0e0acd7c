//! The library's figures, counted as they are worked out.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use rules_core::facts::{
    Catalogue, Clash, FactId, Facts, Figures, Unused, Worked, WorkedId, Workings,
};

/// How many figures have been asked for.
#[derive(Debug, Clone, Default)]
pub(crate) struct Asked(Arc<AtomicUsize>);

impl Asked {
    /// The number since the last time it was taken.
    pub(crate) fn take(&self) -> usize {
        self.0.swap(0, Ordering::Relaxed)
    }

    /// The catalogue of the library, with every question for a figure counted here.
    pub(crate) fn catalogue(&self) -> Catalogue {
        let mut catalogue = rulesets::catalogue();
        let counted = Counted {
            library: catalogue.clone(),
            asked: self.clone(),
        };
        catalogue.set_figures(catalogue.worked().to_vec(), Arc::new(counted));
        catalogue
    }
}

#[derive(Debug)]
struct Counted {
    library: Catalogue,
    asked: Asked,
}

struct CountedWorkings<'s> {
    workings: Box<dyn Workings + 's>,
    asked: &'s Asked,
}

impl Figures for Counted {
    fn needs(&self) -> &[FactId] {
        self.library.figures().needs()
    }

    fn open<'s>(&'s self, facts: Facts<'s>) -> Box<dyn Workings + 's> {
        Box::new(CountedWorkings {
            workings: self.library.figures().open(facts),
            asked: &self.asked,
        })
    }

    fn clashes(&self, facts: Facts<'_>) -> Vec<Clash> {
        self.library.figures().clashes(facts)
    }
}

impl Workings for CountedWorkings<'_> {
    fn work(&self, figure: WorkedId, position: usize) -> Worked {
        self.asked.0.fetch_add(1, Ordering::Relaxed);
        self.workings.work(figure, position)
    }

    fn unused(&self) -> Vec<Unused> {
        self.workings.unused()
    }
}
