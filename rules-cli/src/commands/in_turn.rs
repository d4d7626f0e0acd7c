//! Many proposals, worked on by all cores: what came of each is taken as soon as its turn comes.

use std::io;
use std::thread;

use rules_core::document::ProblemList;

use crate::crew::Crew;
use crate::folder::Asked;
use crate::input;
use crate::plans::{Plans, ReadPlan};
use crate::terminal::Terminal;

/// A file whose turn comes.
struct Turn<'l> {
    name: String,
    given: Given<'l>,
}

/// What was read of a file.
enum Given<'l> {
    Plan(Box<ReadPlan<'l>>),
    /// What stands in a folder beside proposals.
    Other(&'static str),
    Unusable(ProblemList),
}

/// What came of a file, by its name.
pub(super) struct Came<A> {
    pub(super) name: String,
    pub(super) of: CameOf<A>,
}

/// What came of what was read of a file.
pub(super) enum CameOf<A> {
    Answer(A),
    /// It is no proposal, but what stands in a folder beside them.
    Other(&'static str),
    Unusable(ProblemList),
}

/// Where what came of files goes, one after the other.
pub(super) trait Taker {
    /// What is answered of a proposal.
    type Answer: Send;

    /// Where messages go.
    fn terminal(&mut self) -> &mut Terminal;

    /// Takes what came of the next file.
    fn take(&mut self, came: Came<Self::Answer>) -> io::Result<()>;
}

/// Works on each file, and gives what came of it in the order of the files. Each proposal is told
/// which others use its cells.
pub(super) fn each_in_turn<T: Taker>(
    plans: &mut Plans<'_>,
    files: Vec<Asked>,
    taker: &mut T,
    work: impl Fn(&ReadPlan<'_>) -> Result<T::Answer, ProblemList> + Sync,
) -> io::Result<()> {
    plans.look_over(files.iter().map(Asked::path), taker.terminal());
    let came = |turn: Turn<'_>| turn.came(&work);
    thread::scope(|scope| {
        let mut crew = Crew::of(scope, &came);
        for file in files {
            let turn = read(file, plans, taker.terminal());
            let bytes = turn.bytes();
            while !crew.has_room(bytes) {
                crew.wait()
                    .into_iter()
                    .try_for_each(|came| taker.take(came?))?;
            }
            crew.give(turn, bytes);
            while let Some(came) = crew.ready() {
                taker.take(came?)?;
            }
        }
        while let Some(came) = crew.wait() {
            taker.take(came?)?;
        }
        Ok(())
    })
}

/// Reads a file. Only one thread does: benches and rules are read once for all.
fn read<'l>(file: Asked, plans: &mut Plans<'l>, terminal: &mut Terminal) -> Turn<'l> {
    let name = input::name_of(file.path()).into_owned();
    let is_of_folder = matches!(file, Asked::OfFolder(_));
    let read = match file {
        Asked::File(path) | Asked::OfFolder(path) => plans.read(&path, terminal),
        Asked::Nothing(_, problem) => Err(problem.into()),
    };
    let given = match read {
        Ok(read) => match read.plan.other_than_proposal().filter(|_| is_of_folder) {
            Some(what) => Given::Other(what),
            None => Given::Plan(Box::new(read)),
        },
        Err(problems) => Given::Unusable(problems),
    };
    Turn { name, given }
}

impl Turn<'_> {
    fn came<A>(self, work: impl Fn(&ReadPlan<'_>) -> Result<A, ProblemList>) -> Came<A> {
        let of = match self.given {
            Given::Other(what) => CameOf::Other(what),
            Given::Unusable(problems) => CameOf::Unusable(problems),
            Given::Plan(plan) => work(&plan).map_or_else(CameOf::Unusable, CameOf::Answer),
        };
        let name = self.name;
        Came { name, of }
    }

    fn bytes(&self) -> usize {
        match &self.given {
            Given::Plan(read) => read.plan.bytes(),
            Given::Other(_) | Given::Unusable(_) => 0,
        }
    }
}
