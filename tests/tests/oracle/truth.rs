//! Yes, no, and what is undecided.

/// What a condition comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Truth {
    Yes,
    No,
    /// Undecided: whether doubt about given values alone could make it yes, and no. What doubt
    /// could not, only a missing fact could.
    Open {
        doubt_yes: bool,
        doubt_no: bool,
    },
}

impl Truth {
    pub(crate) const UNMEASURED: Self = Self::Open {
        doubt_yes: false,
        doubt_no: false,
    };

    pub(crate) const fn sure(yes: bool) -> Self {
        if yes { Self::Yes } else { Self::No }
    }

    /// A comparison's answer: what is open is so for a missing fact if one takes part.
    pub(crate) const fn compared(answer: Option<bool>, missing: bool) -> Self {
        match answer {
            Some(yes) => Self::sure(yes),
            None => Self::Open {
                doubt_yes: !missing,
                doubt_no: !missing,
            },
        }
    }

    pub(crate) const fn not(self) -> Self {
        match self {
            Self::Yes => Self::No,
            Self::No => Self::Yes,
            Self::Open {
                doubt_yes,
                doubt_no,
            } => Self::Open {
                doubt_yes: doubt_no,
                doubt_no: doubt_yes,
            },
        }
    }

    pub(crate) fn and(parts: impl IntoIterator<Item = Self>) -> Self {
        let parts: Vec<Self> = parts.into_iter().collect();
        if parts.contains(&Self::No) {
            return Self::No;
        }
        let open: Vec<(bool, bool)> = parts.iter().filter_map(|part| part.doubts()).collect();
        match open.as_slice() {
            [] => Self::Yes,
            open => Self::Open {
                doubt_yes: open.iter().all(|(yes, _)| *yes),
                doubt_no: open.iter().any(|(_, no)| *no),
            },
        }
    }

    pub(crate) fn or(parts: impl IntoIterator<Item = Self>) -> Self {
        Self::and(parts.into_iter().map(Self::not)).not()
    }

    /// Of what is undecided, what doubt could make of it: yes, and no.
    pub(crate) const fn doubts(self) -> Option<(bool, bool)> {
        match self {
            Self::Open {
                doubt_yes,
                doubt_no,
            } => Some((doubt_yes, doubt_no)),
            _ => None,
        }
    }
}
