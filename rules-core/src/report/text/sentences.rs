//! Texts in sentences.

/// The sentences of a text.
pub(super) fn sentences(text: &str) -> Vec<&str> {
    text.split_inclusive(". ")
        .map(str::trim)
        .filter(|sentence| !sentence.is_empty())
        .collect()
}

/// How many sentences all end with.
pub(super) fn alike_at_the_end(all: &[Vec<&str>]) -> usize {
    let Some((first, others)) = all.split_first() else {
        return 0;
    };
    let with_first = |other: &Vec<&str>| {
        first
            .iter()
            .rev()
            .zip(other.iter().rev())
            .take_while(|(a, b)| a == b)
            .count()
    };
    let alike = others.iter().map(with_first).min().unwrap_or(0);
    // Something of its own is left to each.
    alike.min(
        all.iter()
            .map(|one| one.len().saturating_sub(1))
            .min()
            .unwrap_or(0),
    )
}
