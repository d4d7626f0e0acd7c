//! Places of bytes in a text, and bytes of places.

use super::*;

#[test]
fn places_count_from_one_in_characters() {
    let source = Source::new("a.yaml", "mΩ: 1\nb: 2\n".into());
    assert_eq!(source.place(0).to_string(), "a.yaml:1:1");
    assert_eq!(source.place(3).to_string(), "a.yaml:1:3"); // `Ω` takes two bytes
    assert_eq!(source.place(7).to_string(), "a.yaml:2:1");
    assert_eq!(source.byte_at(1, 3), 3);
    assert_eq!(source.line(2), "b: 2");
    assert_eq!(source.line(9), "");
}

#[test]
fn a_place_is_in_the_text_that_its_byte_is_in() {
    let other = |name, text: &str| Arc::new(Source::new(name, text.to_owned()));
    let source = Source::new("plan", "a\nb".into())
        .with_others(vec![other("first", "c\nµd"), other("second", "e")]);
    let (first, second) = (Source::start_of(0), Source::start_of(1));
    let all = [
        (2, "plan:2:1"),
        (first + 4, "first:2:2"),
        (second, "second:1:1"),
    ];
    for (byte, place) in all {
        assert_eq!(source.place(byte).to_string(), place);
    }
    let span = |start| Span {
        start,
        end: start + 1,
    };
    assert_eq!(source.slice(span(first + 4)), "d");
    assert_eq!(source.line_round(first + 4), ("µd", 1));
    assert_eq!((source.line_of(first + 4), source.line_of(second)), (2, 1));
    assert_eq!(source.place(Source::start_of(2)).file.as_ref(), "plan");
}

/// Counting by blocks gives what counting from the start of the line does, for letters of one
/// to four bytes on either side of each block's end.
#[test]
fn columns_of_long_lines_are_counted() {
    let text = format!("{}\n{}", "aΩ電🔋".repeat(400), "é".repeat(700));
    let source = Source::new("a.yaml", text.clone());
    let mut places = (1, 1);
    for (at, letter) in text.char_indices() {
        let place = source.place(at);
        assert_eq!((place.line, place.column), places, "byte {at}");
        assert_eq!(source.byte_at(places.0, places.1), at);
        places = if letter == '\n' {
            (places.0 + 1, 1)
        } else {
            (places.0, places.1 + 1)
        };
    }
    assert_eq!(source.byte_at(1, 100_000), "aΩ電🔋".len() * 400);
    assert_eq!(source.byte_at(2, 100_000), text.len());
}

/// YAML 1.2.2, production 28: a line break is CR LF, CR or LF.
#[test]
fn lines_end_in_three_ways() {
    let source = Source::new("a.yaml", "a\rb\r\nc\n\r\rd\n\ne\r".into());
    let lines = ["a", "b", "c", "", "", "d", "", "e", ""];
    let found: Vec<&str> = (1..=lines.len()).map(|line| source.line(line)).collect();
    assert_eq!(found, lines);
    let places: Vec<_> = source
        .text()
        .char_indices()
        .filter(|(_, letter)| letter.is_ascii_alphabetic())
        .map(|(at, _)| (source.place(at).line, source.place(at).column))
        .collect();
    assert_eq!(places, [(1, 1), (2, 1), (3, 1), (6, 1), (8, 1)]);
    // The two bytes of one line end belong to the line they end.
    assert_eq!(
        (source.line_of(3), source.line_of(4), source.line_of(5)),
        (2, 2, 3)
    );
    assert_eq!(source.byte_at(6, 1), 9);
}

#[test]
fn of_long_lines_only_what_is_near_is_given() {
    let short = Source::new("a.yaml", format!("{}\nb", "a".repeat(2 * REACH)));
    assert_eq!(short.line_round(5), (short.line(1), 1));
    let long = Source::new(
        "a.yaml",
        format!("{}x{}", "Ω".repeat(1000), "a".repeat(1000)),
    );
    let (line, column) = long.line_round(2000);
    assert_eq!((line.len(), column), (2 * REACH, 1000 - REACH / 2 + 1));
    assert_eq!(line.chars().nth(1001 - column), Some('x'));
    assert_eq!(long.line_round(0), ("Ω".repeat(REACH / 2).as_str(), 1));
}
