//! Numbers: intervals, with the core that readings of one meter share, as LANGUAGE.md sections 2
//! and 5 describe them.

use rules_core::quantity::Kind;

use super::end::{Close, End, above, equal, holds_zero};

/// An interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Span {
    pub(crate) low: End,
    pub(crate) high: End,
}

/// What readings of one meter share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Core {
    pub(crate) meter: Kind,
    pub(crate) span: Span,
    pub(crate) gain: f64,
}

/// A number as a formula sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Number {
    pub(crate) span: Span,
    pub(crate) core: Option<Core>,
    /// Whether a missing fact takes part in it.
    pub(crate) missing: bool,
}

impl Span {
    pub(crate) const WHOLE: Self = Self {
        low: End::exact(f64::NEG_INFINITY),
        high: End::exact(f64::INFINITY),
    };

    pub(crate) const fn exact(value: f64) -> Self {
        Self {
            low: End::exact(value),
            high: End::exact(value),
        }
    }

    pub(crate) const fn point(end: End) -> Self {
        Self {
            low: end,
            high: end,
        }
    }

    pub(crate) fn middle(self) -> Self {
        Self::point(self.low.plus_low(self.high).times(End::exact(0.5)))
    }

    pub(crate) fn cut(self, to: Self) -> Self {
        Self {
            low: self.low.greatest(to.low),
            high: self.high.least(to.high),
        }
    }

    /// Both ends moved into another span, to the nearer of its ends.
    pub(crate) fn within(self, to: Self) -> Self {
        Self {
            low: self.low.greatest(to.low).least(to.high),
            high: self.high.least(to.high).greatest(to.low),
        }
    }

    pub(crate) fn plus(self, other: Self) -> Self {
        Self {
            low: self.low.plus_low(other.low),
            high: self.high.plus_high(other.high),
        }
    }

    pub(crate) fn negative(self) -> Self {
        Self {
            low: self.high.negative(),
            high: self.low.negative(),
        }
    }

    fn corners(self, other: Self, with: fn(End, End) -> End) -> Self {
        let all = [
            with(self.low, other.low),
            with(self.low, other.high),
            with(self.high, other.low),
            with(self.high, other.high),
        ];
        let [first, rest @ ..] = all;
        Self {
            low: rest.iter().fold(first, |a, b| a.least(*b)),
            high: rest.iter().fold(first, |a, b| a.greatest(*b)),
        }
    }

    pub(crate) fn times(self, other: Self) -> Self {
        self.corners(other, End::times)
    }

    pub(crate) fn over(self, other: Self, close: &Close) -> Self {
        if holds_zero(other.low, other.high, close) {
            Self::WHOLE
        } else {
            self.corners(other, End::over)
        }
    }

    pub(crate) fn least(self, other: Self) -> Self {
        Self {
            low: self.low.least(other.low),
            high: self.high.least(other.high),
        }
    }

    pub(crate) fn greatest(self, other: Self) -> Self {
        Self {
            low: self.low.greatest(other.low),
            high: self.high.greatest(other.high),
        }
    }

    fn abs(self) -> Self {
        let (low, high) = (
            self.low.greatest(self.high.negative()),
            self.high.greatest(self.low.negative()),
        );
        Self {
            low: low.greatest(End::ZERO),
            high,
        }
    }

    /// The largest less the smallest.
    fn spread(all: &[Self]) -> Self {
        if all.len() == 1 {
            return Self::exact(0.0);
        }
        let (most_low, least_low) = (
            largest(all.iter().map(|span| span.low)),
            smallest(all.iter().map(|span| span.low)),
        );
        let (most_high, least_high) = (
            largest(all.iter().map(|span| span.high)),
            smallest(all.iter().map(|span| span.high)),
        );
        let low = most_low.plus_low(least_high.negative());
        Self {
            low: low.greatest(End::ZERO),
            high: most_high.plus_high(least_low.negative()),
        }
    }
}

fn largest(ends: impl Iterator<Item = End>) -> End {
    ends.reduce(End::greatest).unwrap()
}

fn smallest(ends: impl Iterator<Item = End>) -> End {
    ends.reduce(End::least).unwrap()
}

/// What joins many numbers into one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Joining {
    Sum,
    Least,
    Greatest,
    Mean,
    Spread,
}

impl Joining {
    fn spans(self, all: &[Span]) -> Span {
        let joined = |with: fn(Span, Span) -> Span| all.iter().copied().reduce(with).unwrap();
        match self {
            Self::Sum => joined(Span::plus),
            Self::Least => joined(Span::least),
            Self::Greatest => joined(Span::greatest),
            Self::Mean => joined(Span::plus).corners(Span::exact(all.len() as f64), End::over),
            Self::Spread => Span::spread(all),
        }
    }
}

impl Number {
    pub(crate) const fn plain(span: Span) -> Self {
        Self {
            span,
            core: None,
            missing: false,
        }
    }

    pub(crate) const fn missing(span: Span) -> Self {
        Self {
            span,
            core: None,
            missing: true,
        }
    }

    /// A result with a core is cut to it.
    fn with_core(self, core: Option<Core>) -> Self {
        let Some(found) = core else { return self };
        let gains = Span {
            low: End::near(1.0 - found.gain),
            high: End::near(1.0 + found.gain),
        };
        Self {
            span: self.span.cut(found.span.times(gains)),
            core,
            ..self
        }
    }

    /// One step that joins: the core goes on where all have the same meter.
    pub(crate) fn joined(joining: Joining, all: &[Self]) -> Self {
        let spans =
            |of: &dyn Fn(&Self) -> Option<Span>| all.iter().map(of).collect::<Option<Vec<Span>>>();
        let plain = Self {
            span: joining.spans(&spans(&|number| Some(number.span)).unwrap()),
            core: None,
            missing: all.iter().any(|number| number.missing),
        };
        let meter = all.first().and_then(|number| number.core);
        let cores = meter.and_then(|first| {
            spans(&|number| {
                number
                    .core
                    .filter(|core| core.meter == first.meter)
                    .map(|core| core.span)
            })
        });
        plain.with_core(meter.zip(cores).map(|(first, cores)| Core {
            span: joining.spans(&cores),
            ..first
        }))
    }

    pub(crate) fn negative(self) -> Self {
        let core = self.core.map(|core| Core {
            span: core.span.negative(),
            ..core
        });
        Self {
            span: self.span.negative(),
            core,
            ..self
        }
    }

    pub(crate) fn abs(self) -> Self {
        Self {
            span: self.span.abs(),
            core: None,
            ..self
        }
    }

    pub(crate) fn plus(self, other: Self) -> Self {
        Self::joined(Joining::Sum, &[self, other])
    }

    pub(crate) fn minus(self, other: Self) -> Self {
        self.plus(other.negative())
    }

    pub(crate) fn times(self, other: Self) -> Self {
        let plain = Self {
            span: self.span.times(other.span),
            core: None,
            missing: self.missing || other.missing,
        };
        let scaled = |core: Core, by: Span| Core {
            span: core.span.times(by),
            ..core
        };
        plain.with_core(match (self.core, other.core) {
            (Some(core), None) => Some(scaled(core, other.span)),
            (None, Some(core)) => Some(scaled(core, self.span)),
            _ => None,
        })
    }

    pub(crate) fn over(self, other: Self, close: &Close) -> Self {
        let plain = Self {
            span: self.span.over(other.span, close),
            core: None,
            missing: self.missing || other.missing,
        };
        match (self.core, other.core) {
            (Some(core), None) => plain.with_core(Some(Core {
                span: core.span.over(other.span, close),
                ..core
            })),
            // The gain cancels, and the result has no meter.
            (Some(a), Some(b)) if a.meter == b.meter => Self {
                span: plain.span.cut(a.span.over(b.span, close)),
                ..plain
            },
            _ => plain,
        }
    }

    /// Whether every pair of values has the first at most the second, or none has; none where it is
    /// open.
    pub(crate) fn at_most(self, other: Self, close: &Close) -> Option<bool> {
        if !above(self.span.high, other.span.low, close) {
            Some(true)
        } else if above(self.span.low, other.span.high, close) {
            Some(false)
        } else {
            None
        }
    }

    /// Single values are those whose ends are equal.
    pub(crate) fn equals(self, other: Self, close: &Close) -> Option<bool> {
        let (a, b) = (self.span, other.span);
        let single = |span: Span| equal(span.low, span.high, close);
        if above(a.low, b.high, close) || above(b.low, a.high, close) {
            Some(false)
        } else if single(a)
            && single(b)
            && equal(a.low, b.high, close)
            && equal(a.high, b.low, close)
        {
            Some(true)
        } else {
            None
        }
    }
}
