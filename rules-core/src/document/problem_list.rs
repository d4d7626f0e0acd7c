//! Everything that is wrong with what was given, as one error.

use std::fmt;
use std::ops::Deref;

use serde::{Deserialize, Serialize};

use super::problem::Problem;

/// Why something cannot be used: every problem found, in order. It is an error by itself, and can be
/// gone through like a list.
///
/// ```
/// use rules_core::document::{Syntax, read, source};
///
/// fn keys(text: &str) -> Result<(), Box<dyn std::error::Error>> {
///     let source = source("plan.yaml", text.into())?;
///     read(&source, Syntax::Yaml)?;
///     Ok(())
/// }
///
/// let error = keys("a: 1\na: 2\nb: 1\nb: 2\n").unwrap_err();
/// assert_eq!(error.to_string().lines().count(), 2);
/// ```
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct ProblemList {
    problems: Vec<Problem>,
}

impl ProblemList {
    /// The problems as a list to change.
    #[must_use]
    pub fn into_vec(self) -> Vec<Problem> {
        self.problems
    }
}

/// Each problem on a line.
impl fmt::Display for ProblemList {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, problem) in self.problems.iter().enumerate() {
            let before = if at > 0 { "\n" } else { "" };
            write!(f, "{before}{problem}")?;
        }
        Ok(())
    }
}

impl std::error::Error for ProblemList {}

impl Deref for ProblemList {
    type Target = [Problem];

    fn deref(&self) -> &[Problem] {
        &self.problems
    }
}

impl From<Vec<Problem>> for ProblemList {
    fn from(problems: Vec<Problem>) -> Self {
        Self { problems }
    }
}

impl From<Problem> for ProblemList {
    fn from(problem: Problem) -> Self {
        vec![problem].into()
    }
}

impl FromIterator<Problem> for ProblemList {
    fn from_iter<I: IntoIterator<Item = Problem>>(problems: I) -> Self {
        problems.into_iter().collect::<Vec<_>>().into()
    }
}

impl IntoIterator for ProblemList {
    type Item = Problem;
    type IntoIter = std::vec::IntoIter<Problem>;

    fn into_iter(self) -> Self::IntoIter {
        self.problems.into_iter()
    }
}

impl<'p> IntoIterator for &'p ProblemList {
    type Item = &'p Problem;
    type IntoIter = std::slice::Iter<'p, Problem>;

    fn into_iter(self) -> Self::IntoIter {
        self.problems.iter()
    }
}
