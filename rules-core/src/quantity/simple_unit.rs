//! Units that are no quotients: their spellings, and what they are in base units.

use super::Kind;

/// A unit that is no quotient: times 10^`shift`, times `times`, over `over` gives the base unit of
/// its kind.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Simple {
    pub(super) spelling: &'static str,
    /// The bytes of the spelling as one number, which is faster to compare.
    bytes: Option<u32>,
    pub(super) kind: Kind,
    pub(super) shift: i32,
    pub(super) times: u32,
    pub(super) over: u32,
}

const fn decimal(spelling: &'static str, kind: Kind, shift: i32) -> Simple {
    Simple {
        kind,
        shift,
        ..timed(spelling, 1, 1)
    }
}

const fn timed(spelling: &'static str, times: u32, over: u32) -> Simple {
    Simple {
        spelling,
        bytes: as_number(spelling),
        kind: Kind::Time,
        shift: 0,
        times,
        over,
    }
}

/// The bytes of a text as one number, if it is as short as the spellings are. What it has not is a
/// byte that no text has, so that two texts never share a number.
const fn as_number(text: &str) -> Option<u32> {
    const END: u8 = u8::MAX;
    Some(u32::from_le_bytes(match *text.as_bytes() {
        [one] => [one, END, END, END],
        [one, two] => [one, two, END, END],
        [one, two, three] => [one, two, three, END],
        [one, two, three, four] => [one, two, three, four],
        _ => return None,
    }))
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

/// By the first byte of a text, which of the units may begin it, a bit each: every number of every
/// proposal is looked up here.
static MAY_BEGIN: [u64; 256] = may_begin();

#[allow(
    clippy::indexing_slicing,
    reason = "the compiler runs it, and every spelling has a byte"
)]
const fn may_begin() -> [u64; 256] {
    let mut units = [0; 256];
    let mut at = 0;
    while at < SIMPLE.len() {
        units[SIMPLE[at].spelling.as_bytes()[0] as usize] |= 1 << at;
        at += 1;
    }
    units
}

/// The simple units that begin with the first byte of a text.
fn alike(text: &str) -> impl Iterator<Item = &'static Simple> {
    let first = text.as_bytes().first();
    let begun = first.and_then(|first| MAY_BEGIN.get(usize::from(*first)));
    let mut left = begun.copied().unwrap_or(0);
    std::iter::from_fn(move || {
        let next = SIMPLE.get(left.trailing_zeros() as usize)?;
        left &= left - 1;
        Some(next)
    })
}

/// The simple unit that makes up the whole text.
pub(super) fn simple_unit(text: &str) -> Option<&'static Simple> {
    let bytes = Some(as_number(text)?);
    alike(text).find(|simple| simple.bytes == bytes)
}

/// The simple unit at the start of the text, with the bytes it takes. There is one at most: what
/// another spelling has more never ends a word.
pub(super) fn simple_prefix(text: &str) -> Option<(&'static Simple, usize)> {
    let begins = |simple: &&Simple| text.strip_prefix(simple.spelling).is_some_and(ends_word);
    let simple = alike(text).find(begins)?;
    Some((simple, simple.spelling.len()))
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_unit_at_most_begins_a_text() {
        for (unit, longer) in SIMPLE
            .iter()
            .flat_map(|unit| SIMPLE.iter().map(move |longer| (unit, longer)))
        {
            let more = longer.spelling.strip_prefix(unit.spelling);
            let ends = more.is_some_and(ends_word);
            assert_eq!(
                ends,
                unit == longer,
                "{} {}",
                unit.spelling,
                longer.spelling
            );
        }
    }

    #[test]
    fn each_unit_is_found() {
        for unit in &SIMPLE {
            let text = format!("{} of", unit.spelling);
            assert_eq!(simple_prefix(&text), Some((unit, unit.spelling.len())));
            assert_eq!(simple_prefix(&format!("{}x", unit.spelling)), None);
        }
        assert_eq!(simple_prefix(""), None);
        assert_eq!(simple_prefix("\u{e9}"), None);
    }
}
