//! Where flow maps and lists of YAML and JSON end, and which comments a text has.

/// A sign of a text that stands in no quotes and no comment, or a comment as a whole.
enum Met<'t> {
    Sign(usize, u8),
    Comment(&'t str),
}

/// The byte behind the bracket that closes the one at `start`.
pub(super) fn flow_end(text: &str, start: usize) -> Option<usize> {
    let mut open = 0_usize;
    for met in signs(text, start) {
        let Met::Sign(at, sign) = met else { continue };
        match sign {
            b'{' | b'[' => open += 1,
            b'}' | b']' => open = open.checked_sub(1)?,
            _ => {}
        }
        if open == 0 {
            return Some(at + 1);
        }
    }
    None
}

/// All comments, in their order. Within lines of a block scalar a `#` may be taken for one: that only
/// makes what follows more careful.
pub(super) fn comments(text: &str) -> Vec<&str> {
    let all = signs(text, 0);
    let comments = all.filter_map(|met| match met {
        Met::Comment(comment) => Some(comment.trim_end()),
        Met::Sign(..) => None,
    });
    comments.collect()
}

fn signs(text: &str, start: usize) -> impl Iterator<Item = Met<'_>> {
    let bytes = text.as_bytes();
    let byte = move |at: usize| bytes.get(at).copied();
    let mut at = start;
    std::iter::from_fn(move || {
        let here = at;
        let sign = byte(here)?;
        let before = here.checked_sub(1).and_then(byte);
        let begins = before.is_none_or(|before| b" \t\n\r,[{:-?".contains(&before));
        match sign {
            b'#' if before.is_none_or(|before| before.is_ascii_whitespace()) => {
                let rest = text.get(here..).unwrap_or_default();
                let length = rest.find('\n').unwrap_or(rest.len());
                at = here + length.max(1);
                Some(Met::Comment(rest.get(..length).unwrap_or_default()))
            }
            b'"' | b'\'' if begins => {
                at = quoted_end(bytes, here, sign);
                Some(Met::Sign(here, sign))
            }
            _ => {
                at = here + 1;
                Some(Met::Sign(here, sign))
            }
        }
    })
}

/// The byte behind the quote that closes the one at `start`.
fn quoted_end(bytes: &[u8], start: usize, quote: u8) -> usize {
    let mut at = start + 1;
    while let Some(sign) = bytes.get(at) {
        let is_doubled = quote == b'\'' && bytes.get(at + 1) == Some(&quote);
        match *sign {
            b'\\' if quote == b'"' => at += 1,
            sign if sign == quote && is_doubled => at += 1,
            sign if sign == quote => return at + 1,
            _ => {}
        }
        at += 1;
    }
    at
}
