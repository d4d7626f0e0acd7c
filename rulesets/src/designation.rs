//! The designation code of IEC 61960 and the trade's size code.
//!
//! The standard's form is `N1 A1A2A3 N2/N4-N5`: cells in series, negative electrode (`I`: carbon,
//! lithium ion), basis of the positive electrode, shape (`R`: round), largest diameter and height
//! in millimetres rounded up, cells in parallel. (IEC 61960, clause 5.1, second-hand.) The trade
//! writes the size as two digits of diameter and three of length in tenths of a millimetre:
//! `ICR18650`.

use rules_core::characters::trimmed;

/// A designation, read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Designation {
    /// Cells in series; 1 where the code says nothing.
    pub series: u32,
    /// The letter of the positive electrode: C, N, M, F, V or T.
    pub electrode: char,
    /// The size of a cell.
    pub size: CodedSize,
    /// Cells in parallel; 1 where the code says nothing.
    pub parallel: u32,
}

/// The size of a round cell by its code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CodedSize {
    /// Diameter in millimetres, from and to.
    pub diameter: (u32, u32),
    /// Length in tenths of a millimetre, from and to.
    pub length: (u32, u32),
}

impl CodedSize {
    /// Reads `18650`, the trade's code, or `19/66`, that of IEC 61960.
    ///
    /// # Errors
    ///
    /// Why the text is not the size of a round cell.
    pub fn parse(text: &str) -> Result<Self, DesignationFault> {
        let text = trimmed(text);
        match text.split_once('/') {
            Some((diameter, height)) => Self::standard(diameter, height),
            None => Self::trade(text),
        }
    }

    /// Largest diameter and height in millimetres, rounded up.
    fn standard(diameter: &str, height: &str) -> Result<Self, DesignationFault> {
        let diameter = whole(diameter)
            .filter(|mm| (5..=99).contains(mm))
            .ok_or(DesignationFault::Size)?;
        let height = whole(height)
            .filter(|mm| (5..=250).contains(mm))
            .ok_or(DesignationFault::Size)?;
        Ok(Self {
            diameter: (diameter - 1, diameter),
            length: (10 * (height - 1), 10 * height),
        })
    }

    /// Two digits of diameter in millimetres, and two of length in millimetres or three in tenths.
    fn trade(size: &str) -> Result<Self, DesignationFault> {
        let (digits, ending) = leading_count(size);
        if !matches!(digits.len(), 4 | 5) || digits.starts_with('0') {
            return Err(DesignationFault::Size);
        }
        if !ending.is_empty() {
            return Err(DesignationFault::Ending);
        }
        let (diameter, length) = digits.split_at_checked(2).ok_or(DesignationFault::Size)?;
        let read = |digits: &str| {
            digits
                .parse::<u32>()
                .ok()
                .filter(|number| *number > 0)
                .ok_or(DesignationFault::Size)
        };
        let diameter = read(diameter)?;
        let tenths = if length.len() == 2 { 10 } else { 1 };
        let length = tenths * read(length)?;
        Ok(Self {
            diameter: (diameter, diameter + 1),
            length: (length, length),
        })
    }
}

/// Why a text is no designation of a round lithium-ion cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum DesignationFault {
    /// The letters are not those of a lithium-ion cell.
    #[error("the letters are not those of a round lithium-ion cell")]
    Letters,
    /// A flat cell.
    #[error("`P` marks a flat cell; this is about round ones")]
    Flat,
    /// The size cannot be read.
    #[error("the size cannot be read")]
    Size,
    /// Something follows the size.
    #[error("something follows the size")]
    Ending,
}

/// Letters of the positive electrode, and the class each gives, in the order of the catalogue's
/// options.
const ELECTRODES: [char; 6] = ['C', 'N', 'M', 'F', 'V', 'T'];

impl Designation {
    /// Reads `ICR18650`, `INR19/66` or `3INR19/66-2`.
    ///
    /// # Errors
    ///
    /// Why the text is not a designation of a round lithium-ion cell.
    pub fn parse(text: &str) -> Result<Self, DesignationFault> {
        let (series, rest) = leading_count(trimmed(text));
        let (electrode, rest) = letters(rest)?;
        let series = if series.is_empty() {
            1
        } else {
            whole(series).ok_or(DesignationFault::Letters)?
        };
        match rest.split_once('/') {
            Some((diameter, rest)) => standard_size(series, electrode, diameter, rest),
            None => Ok(Self {
                series,
                electrode,
                size: CodedSize::trade(rest)?,
                parallel: 1,
            }),
        }
    }

    /// The position of the class among `ICR`, `INR`, `IMR`, `IFR`, `IVR`, `ITR`.
    #[must_use]
    pub fn class_position(self) -> usize {
        ELECTRODES
            .iter()
            .position(|letter| *letter == self.electrode)
            .unwrap_or(0)
    }

    /// Whether it designates a single cell.
    #[must_use]
    pub const fn is_single(self) -> bool {
        self.series == 1 && self.parallel == 1
    }
}

fn leading_count(text: &str) -> (&str, &str) {
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    text.split_at_checked(digits).unwrap_or(("", text))
}

/// A whole number above zero, without leading zeros.
fn whole(digits: &str) -> Option<u32> {
    let plain = !digits.is_empty()
        && !digits.starts_with('0')
        && digits.len() <= 4
        && digits.bytes().all(|byte| byte.is_ascii_digit());
    if plain { digits.parse().ok() } else { None }
}

fn letters(text: &str) -> Result<(char, &str), DesignationFault> {
    let rest = text.strip_prefix('I').ok_or(DesignationFault::Letters)?;
    let electrode = rest
        .chars()
        .next()
        .filter(|letter| ELECTRODES.contains(letter))
        .ok_or(DesignationFault::Letters)?;
    let rest = rest.get(1..).unwrap_or("");
    // Later editions write iron phosphate as `Fp`; a trade label leaves the `p` out.
    let rest = if electrode == 'F' {
        rest.strip_prefix('p').unwrap_or(rest)
    } else {
        rest
    };
    match rest.strip_prefix('R') {
        Some(size) => Ok((electrode, size)),
        None if rest.starts_with('P') => Err(DesignationFault::Flat),
        None => Err(DesignationFault::Letters),
    }
}

fn standard_size(
    series: u32,
    electrode: char,
    diameter: &str,
    rest: &str,
) -> Result<Designation, DesignationFault> {
    let (height, parallel) = rest
        .split_once('-')
        .map_or((rest, None), |(height, parallel)| (height, Some(parallel)));
    let size = CodedSize::standard(diameter, height)?;
    // The code leaves out a single one: `-1` is not written.
    let parallel = match parallel {
        None => 1,
        Some(digits) => whole(digits)
            .filter(|count| *count >= 2)
            .ok_or(DesignationFault::Ending)?,
    };
    let counts_fit = series <= 1000 && parallel <= 1000;
    let designation = Designation {
        series,
        electrode,
        size,
        parallel,
    };
    if counts_fit {
        Ok(designation)
    } else {
        Err(DesignationFault::Size)
    }
}
