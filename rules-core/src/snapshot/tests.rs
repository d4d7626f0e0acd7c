use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::{Reader, Snapshot, Stored, Writer};

fn kept<T: Stored>(value: &T) -> Snapshot {
    let mut to = Writer::default();
    value.write(&mut to);
    let (bytes, texts) = to.finish();
    Snapshot {
        bytes: bytes.leak(),
        texts: texts.leak(),
    }
}

fn back<T: Stored>(snapshot: Snapshot) -> Option<T> {
    let mut from = Reader::of(snapshot);
    T::read(&mut from).filter(|_| from.is_done())
}

#[derive(Debug, PartialEq)]
struct Lamp {
    name: Cow<'static, str>,
    shade: Shade,
}

#[derive(Debug, PartialEq)]
enum Shade {
    None,
    Of(Arc<str>, Option<Box<Shade>>),
    Wide { width: f64 },
}

super::stored!(struct Lamp { name, shade });
super::stored!(enum Shade { None, Of(what, over), Wide { width } });

fn lamp() -> Lamp {
    let wide = Shade::Wide { width: -0.0 };
    Lamp {
        name: "Lampe Ü".into(),
        shade: Shade::Of("glass".into(), Some(Box::new(wide))),
    }
}

#[test]
fn what_was_kept_comes_back() {
    assert_eq!(back(kept(&lamp())), Some(lamp()));
    assert_eq!(back(kept(&Shade::None)), Some(Shade::None));
    let numbers = vec![0, 0x7f, 0x80, 0x3fff, 0x4000, usize::MAX];
    assert_eq!(back(kept(&numbers)), Some(numbers));
    let map: BTreeMap<String, (bool, i8)> = [("b".to_owned(), (true, -1))].into();
    assert_eq!(back(kept(&map)), Some(map));
    assert_eq!(back(kept(&(3..5_usize))), Some(3..5_usize));
}

/// A text that stands in several places is kept once.
#[test]
fn texts_are_shared() {
    let twice = vec!["glass".to_owned(), "glass".to_owned()];
    assert_eq!(kept(&twice).texts, "glass");
}

#[test]
fn bytes_that_end_too_early_or_go_on_are_nothing() {
    let whole = kept(&lamp());
    for length in 0..whole.bytes.len() {
        let bytes = &whole.bytes[..length];
        assert_eq!(back::<Lamp>(Snapshot { bytes, ..whole }), None);
    }
    let longer = [whole.bytes, &[0]].concat().leak();
    let longer = Snapshot {
        bytes: longer,
        ..whole
    };
    assert_eq!(back::<Lamp>(longer), None);
}

#[test]
fn bytes_that_mean_nothing_are_nothing() {
    let of = |bytes: &'static [u8]| Snapshot { bytes, texts: "é" };
    assert_eq!(back::<bool>(of(&[2])), None);
    assert_eq!(back::<Shade>(of(&[3])), None);
    // In the middle of a letter, and past the end.
    assert_eq!(back::<&str>(of(&[1, 1])), None);
    assert_eq!(back::<&str>(of(&[0, 3])), None);
    // More than any number has, and more values than there are bytes.
    assert_eq!(back::<usize>(of(&[0xff; 11])), None);
    assert_eq!(back::<Vec<u8>>(of(&[0xff, 0xff, 0xff, 0xff, 0x7f])), None);
    assert_eq!(back::<std::ops::Range<usize>>(of(&[1, 0xff])), None);
}

/// No bytes lead so deep that the stack is used up.
#[test]
fn levels_are_bounded() {
    let deep = vec![[1_u8, 1]; 100_000].concat().leak();
    let deep = Snapshot {
        bytes: deep,
        texts: "é",
    };
    assert_eq!(back::<Option<Box<Nested>>>(deep).map(|_| ()), None);
}

struct Nested(#[allow(dead_code, reason = "it is only read")] Option<Box<Nested>>);

super::stored!(struct Nested(inner));
