//! Numbers above or below another, digit by digit, as regular expressions.

/// How many digits are compared, one by one; then a number counts as inside.
const MOST_COMPARED: usize = 4;

const REST: &str = r"(\.[0-9]+)?";

/// Numbers without a sign that are above one, which is written in digits, perhaps with a point. What
/// is above by less than a hundred-thousandth part is left out.
pub(super) fn above(bound: &str) -> String {
    let (whole, part) = split(bound);
    let mut ways = vec![format!("0*[1-9][0-9]{{{},}}{REST}", whole.len())];
    for (before, digit, after) in each_digit(whole) {
        if digit < 9 {
            let more = digit + 1;
            ways.push(format!("0*{before}[{more}-9]{}{REST}", any(after)));
        }
    }
    let whole_written = written(whole);
    for (before, digit, _) in each_digit(part) {
        if digit < 9 {
            let more = digit + 1;
            ways.push(format!(r"{whole_written}\.{before}[{more}-9][0-9]*"));
        }
    }
    if whole.len() <= MOST_COMPARED {
        ways.push(format!(r"{whole_written}\.{part}0{{0,3}}[1-9][0-9]*"));
    }
    ways.join("|")
}

/// Numbers without a sign that are below one.
pub(super) fn below(bound: &str) -> String {
    let (whole, part) = split(bound);
    let mut ways = Vec::new();
    if whole.len() > 1 {
        ways.push(format!("0*[0-9]{{1,{}}}{REST}", whole.len() - 1));
    }
    for (before, digit, after) in each_digit(whole) {
        if digit > 0 {
            let less = digit - 1;
            ways.push(format!("0*{before}[0-{less}]{}{REST}", any(after)));
        }
    }
    let whole_written = written(whole);
    if !part.is_empty() {
        ways.push(format!(r"{whole_written}(\.0+)?"));
    }
    for (before, digit, _) in each_digit(part) {
        if digit > 0 {
            let less = digit - 1;
            ways.push(format!(r"{whole_written}\.{before}[0-{less}][0-9]*"));
        }
    }
    ways.join("|")
}

/// The digits before the point, without zeros in front, and those behind.
fn split(bound: &str) -> (&str, &str) {
    let (whole, part) = bound.split_once('.').unwrap_or((bound, ""));
    (whole.trim_start_matches('0'), part)
}

/// A whole part as it can be written: nothing is at least one zero.
fn written(whole: &str) -> String {
    if whole.is_empty() {
        "0+".to_owned()
    } else {
        format!("0*{whole}")
    }
}

/// So many digits.
pub(super) fn any(count: usize) -> String {
    match count {
        0 => String::new(),
        1 => "[0-9]".to_owned(),
        count => format!("[0-9]{{{count}}}"),
    }
}

/// Each of the first digits with those before it and the number of those after it.
fn each_digit(digits: &str) -> impl Iterator<Item = (&str, u32, usize)> {
    let first = digits.char_indices().take(MOST_COMPARED);
    first.filter_map(|(at, digit)| {
        Some((
            digits.get(..at)?,
            digit.to_digit(10)?,
            digits.len() - at - 1,
        ))
    })
}
