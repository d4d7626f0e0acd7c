//! Reads what was kept.

use std::sync::Arc;

use super::Snapshot;

/// Levels of lists and boxes in one another. Formulas need the most: what `bounds` allows them, and
/// a few round them.
const MOST_LEVELS: usize = 256;

/// What is left to be read.
#[derive(Clone)]
pub(crate) struct Reader {
    bytes: &'static [u8],
    levels: usize,
    setting: Arc<Setting>,
}

/// What all parts of a snapshot are read with.
#[derive(Clone)]
struct Setting {
    texts: &'static str,
    /// The names of the files that places are in.
    files: Vec<Arc<str>>,
    /// By which number each limit is known now; none, if by that which was kept.
    limits: Option<Vec<usize>>,
}

impl Reader {
    pub(crate) fn of(snapshot: Snapshot) -> Self {
        Self {
            bytes: snapshot.bytes,
            levels: MOST_LEVELS,
            setting: Arc::new(Setting {
                texts: snapshot.texts,
                files: Vec::new(),
                limits: None,
            }),
        }
    }

    /// Sets the names of the files that places are in.
    pub(crate) fn set_files(&mut self, files: Vec<Arc<str>>) {
        Arc::make_mut(&mut self.setting).files = files;
    }

    /// The name of a file that a place is in.
    pub(crate) fn file(&mut self) -> Option<Arc<str>> {
        let at = self.number()?;
        self.setting.files.get(at).map(Arc::clone)
    }

    /// Sets by which number each limit is known now.
    pub(crate) fn set_limits(&mut self, limits: Vec<usize>) {
        Arc::make_mut(&mut self.setting).limits = Some(limits);
    }

    /// The number of a limit.
    pub(crate) fn limit(&mut self) -> Option<usize> {
        let kept = self.number()?;
        match &self.setting.limits {
            Some(limits) => limits.get(kept).copied(),
            None => Some(kept),
        }
    }

    /// What comes next, after the number of its bytes; it is not read now.
    pub(crate) fn part(&mut self) -> Option<Self> {
        let many = self.number()?;
        let (bytes, rest) = self.bytes.split_at_checked(many)?;
        self.bytes = rest;
        Some(Self {
            bytes,
            levels: self.levels,
            setting: Arc::clone(&self.setting),
        })
    }

    pub(crate) fn byte(&mut self) -> Option<u8> {
        let (first, rest) = self.bytes.split_first()?;
        self.bytes = rest;
        Some(*first)
    }

    pub(crate) fn eight(&mut self) -> Option<[u8; 8]> {
        let (first, rest) = self.bytes.split_first_chunk::<8>()?;
        self.bytes = rest;
        Some(*first)
    }

    /// A number: seven bits a byte, the lowest first, and the highest bit where more follow.
    pub(crate) fn number(&mut self) -> Option<usize> {
        let first = usize::from(self.byte()?);
        if first < 0x80 {
            return Some(first);
        }
        let mut number = first & 0x7f;
        for shift in (7..usize::BITS).step_by(7) {
            let next = usize::from(self.byte()?);
            number |= (next & 0x7f).checked_shl(shift)?;
            if next < 0x80 {
                return Some(number);
            }
        }
        None
    }

    /// A text: where it begins, and its length.
    pub(crate) fn text(&mut self) -> Option<&'static str> {
        let start = self.number()?;
        let end = start.checked_add(self.number()?)?;
        self.setting.texts.get(start..end)
    }

    /// What is a level further down.
    pub(crate) fn below<T>(&mut self, read: impl FnOnce(&mut Self) -> Option<T>) -> Option<T> {
        self.levels = self.levels.checked_sub(1)?;
        let found = read(self)?;
        self.levels += 1;
        Some(found)
    }

    /// Room for so many values: each takes a byte or more, so that no number asks for more than there
    /// are.
    pub(crate) fn room(&self, many: usize) -> usize {
        many.min(self.bytes.len())
    }

    /// Whether everything was read.
    pub(crate) const fn is_done(&self) -> bool {
        self.bytes.is_empty()
    }
}
