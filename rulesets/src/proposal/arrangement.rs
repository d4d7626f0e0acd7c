//! How cells are joined: `2S1P`.

use std::fmt;

use crate::bounds::MOST_CELLS;
use rules_core::characters::trimmed;

/// Groups in series and cells in parallel in each.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Arrangement {
    /// Groups in series.
    pub series: usize,
    /// Cells in parallel in each group.
    pub parallel: usize,
}

impl Arrangement {
    /// Reads `2S1P`, `2S` or `3P`, in capitals or not. None if it is something else, or more cells
    /// than a proposal may have.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let text = trimmed(text);
        let (series, rest) = match text.split_once(['S', 's']) {
            Some((series, rest)) => (count(series)?, rest),
            None => (1, text),
        };
        let parallel = match rest.strip_suffix(['P', 'p']) {
            Some(parallel) => count(parallel)?,
            None if rest.is_empty() => 1,
            None => return None,
        };
        let cells = series.checked_mul(parallel)?;
        (cells <= MOST_CELLS && !text.is_empty()).then_some(Self { series, parallel })
    }

    /// How many cells it takes.
    #[must_use]
    pub const fn cells(self) -> usize {
        self.series.saturating_mul(self.parallel)
    }
}

fn count(digits: &str) -> Option<usize> {
    let plain = !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit());
    let count = if plain { digits.parse().ok() } else { None };
    count.filter(|count| *count > 0)
}

impl fmt::Display for Arrangement {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}S{}P", self.series, self.parallel)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arrangements() {
        let read = |text| Arrangement::parse(text).map(|a| (a.series, a.parallel));
        assert_eq!(read("2S1P"), Some((2, 1)));
        assert_eq!(read("3s2p"), Some((3, 2)));
        assert_eq!(read("2S"), Some((2, 1)));
        assert_eq!(read("4P"), Some((1, 4)));
        assert_eq!(read("100S100P"), Some((100, 100)));
        for wrong in [
            "",
            "2",
            "S",
            "P",
            "0S1P",
            "2S0P",
            "-1S",
            "2P2S",
            "2S1",
            "100S101P",
            "99999999999999999999S",
            "2 S",
        ] {
            assert_eq!(read(wrong), None, "{wrong}");
        }
    }
}
