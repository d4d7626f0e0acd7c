//! Units that are no quotients: their spellings, and what they are in base units.

use std::cmp::Reverse;
use std::sync::LazyLock;

use super::Kind;

/// A unit that is no quotient: times 10^`shift`, times `times`, over `over` gives the base unit of
/// its kind.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Simple {
    pub(super) spelling: &'static str,
    pub(super) kind: Kind,
    pub(super) shift: i32,
    pub(super) times: u32,
    pub(super) over: u32,
}

const fn decimal(spelling: &'static str, kind: Kind, shift: i32) -> Simple {
    Simple {
        spelling,
        kind,
        shift,
        times: 1,
        over: 1,
    }
}

const fn timed(spelling: &'static str, times: u32, over: u32) -> Simple {
    Simple {
        spelling,
        kind: Kind::Time,
        shift: 0,
        times,
        over,
    }
}

/// Every spelling of every simple unit. Micro is U+00B5, U+03BC or `u`; ohm is U+03A9 or U+2126.
/// Many keyboards have U+00BA instead of the degree sign. U+2103 is a degree Celsius in one
/// character. U+212A is the kelvin sign, which Unicode's normal forms turn into the letter K.
pub(super) static SIMPLE: [Simple; 41] = [
    decimal("V", Kind::Voltage, 0),
    decimal("mV", Kind::Voltage, -3),
    decimal("µV", Kind::Voltage, -6),
    decimal("\u{3bc}V", Kind::Voltage, -6),
    decimal("uV", Kind::Voltage, -6),
    decimal("kV", Kind::Voltage, 3),
    decimal("A", Kind::Current, 0),
    decimal("mA", Kind::Current, -3),
    decimal("µA", Kind::Current, -6),
    decimal("\u{3bc}A", Kind::Current, -6),
    decimal("uA", Kind::Current, -6),
    decimal("Ah", Kind::Charge, 0),
    decimal("mAh", Kind::Charge, -3),
    decimal("ohm", Kind::Resistance, 0),
    decimal("Ω", Kind::Resistance, 0),
    decimal("\u{2126}", Kind::Resistance, 0),
    decimal("mohm", Kind::Resistance, -3),
    decimal("mΩ", Kind::Resistance, -3),
    decimal("m\u{2126}", Kind::Resistance, -3),
    decimal("W", Kind::Power, 0),
    decimal("mW", Kind::Power, -3),
    decimal("kW", Kind::Power, 3),
    decimal("Wh", Kind::Energy, 0),
    decimal("mWh", Kind::Energy, -3),
    decimal("kWh", Kind::Energy, 3),
    decimal("degC", Kind::Temperature, 0),
    decimal("°C", Kind::Temperature, 0),
    decimal("\u{2103}", Kind::Temperature, 0),
    decimal("\u{ba}C", Kind::Temperature, 0),
    decimal("K", Kind::TemperatureDifference, 0),
    decimal("\u{212a}", Kind::TemperatureDifference, 0),
    timed("s", 1, 3600),
    timed("min", 1, 60),
    timed("h", 1, 1),
    timed("d", 24, 1),
    decimal("mm", Kind::Length, 0),
    decimal("cm", Kind::Length, 1),
    decimal("m", Kind::Length, 3),
    decimal("%", Kind::Ratio, -2),
    decimal("C", Kind::Rate, 0),
    decimal("1/h", Kind::Rate, 0),
];

impl Simple {
    /// Whether the unit may be in a quotient of units.
    pub(super) fn divides(&self) -> bool {
        self.kind != Kind::Temperature && self.kind != Kind::Ratio && self.spelling != "1/h"
    }
}

/// Simple units by the first byte of their spelling, the longest first: every number of every
/// proposal is looked up here.
static BY_FIRST_BYTE: LazyLock<Vec<Vec<&'static Simple>>> = LazyLock::new(|| {
    let begins = |byte: u8| {
        let mut alike: Vec<_> = SIMPLE
            .iter()
            .filter(|simple| simple.spelling.as_bytes().first() == Some(&byte))
            .collect();
        alike.sort_by_key(|simple| Reverse(simple.spelling.len()));
        alike
    };
    (0..=u8::MAX).map(begins).collect()
});

/// The longest simple unit at the start of the text, with the bytes it takes.
pub(super) fn simple_prefix(text: &str) -> Option<(&'static Simple, usize)> {
    let mut alike = BY_FIRST_BYTE
        .get(usize::from(*text.as_bytes().first()?))?
        .iter();
    alike
        .find(|simple| text.strip_prefix(simple.spelling).is_some_and(ends_word))
        .map(|simple| (*simple, simple.spelling.len()))
}

/// Whether a word ends before this text. `-` and `.` go on with a word or name if a letter or digit
/// follows.
fn ends_word(rest: &str) -> bool {
    let continues = |c: char| c.is_alphanumeric() || c == '_';
    let mut chars = rest.chars();
    match chars.next() {
        Some('-' | '.') => !chars.next().is_some_and(continues),
        Some(c) => !continues(c),
        None => true,
    }
}
