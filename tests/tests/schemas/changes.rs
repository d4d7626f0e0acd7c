//! Changes to documents, as slips of the hand and of programs make them.

use proptest::prelude::*;
use serde_json::{Map, Value, json};

/// One change: where, what, and with what. The numbers are taken round the number of choices there
/// are.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Change {
    place: usize,
    what: usize,
    with: usize,
}

/// A few changes, mostly one.
pub(crate) fn changes() -> impl Strategy<Value = Vec<Change>> {
    let number = || 0..100_000_usize;
    let change =
        (number(), number(), number()).prop_map(|(place, what, with)| Change { place, what, with });
    prop_oneof![4 => prop::collection::vec(change.clone(), 1), 1 => prop::collection::vec(change, 2..4)]
}

/// What documents are changed with: the keys and values that occur in them, and others that do not
/// belong there.
pub(crate) struct Stock {
    keys: Vec<String>,
    values: Vec<Value>,
}

impl Stock {
    pub(crate) fn of(documents: &[Value]) -> Self {
        let mut stock = Self {
            keys: Vec::new(),
            values: odd_values(),
        };
        documents
            .iter()
            .for_each(|document| stock.collect(document));
        stock.keys.extend(
            [
                "colour",
                "Title",
                "rest_voltage",
                "extra",
                "",
                "none",
                "Voltage",
                "2nd",
                "a-b",
                "rest.voltage",
                "input.max",
                "capacity.value",
                "cell.id",
            ]
            .map(str::to_owned),
        );
        stock.keys.sort();
        stock.keys.dedup();
        stock
    }

    fn collect(&mut self, value: &Value) {
        match value {
            Value::Object(members) => {
                self.keys.extend(members.keys().cloned());
                members.values().for_each(|member| self.collect(member));
            }
            Value::Array(items) => items.iter().for_each(|item| self.collect(item)),
            scalar if !self.values.contains(scalar) => self.values.push(scalar.clone()),
            _ => {}
        }
    }

    fn key(&self, with: usize) -> String {
        self.keys[with % self.keys.len()].clone()
    }

    fn value(&self, with: usize) -> Value {
        self.values[with % self.values.len()].clone()
    }
}

/// Texts that fit in few places, one a line.
const ODD_TEXTS: &str = "\
yes
no
true
none
nothing
3.7
3.7 V
-3.7 V
3,7 V
3.7 v
3.7 V ± 1 %
3.7 V ± 1 A
3.7 V ± -1 V
3.7 V ±
3.6..3.8 V
3.8..3.6 V
1e400 V
0.5 A
0.5 W
7 mm
20 degC
293 K
20 degC ± 1 %
5 %
2
2.5
two
1S1P
2S2P
100S101P
ICR18650
INR19/66
ICR
ICR18650-2
± 1 %
± (0.5 % + 2 digits)
± 2 digits
K4!
(K4)
K 4
Лампа 2
each cell
build
{
cell.id";

fn odd_values() -> Vec<Value> {
    let mut values: Vec<Value> = ODD_TEXTS
        .lines()
        .chain(["", " ", "a\nb", "\u{200b}", "\u{2800}\u{3164}", "\u{a0}"])
        .chain(["3.7\u{a0}V", "3.7\u{3000}V", "20 \u{ba}C", "\u{2212}3.7 V"])
        .chain(["2S1P\u{2003}", "\u{202f}2S1P\u{2009}", "ICR18650\u{3000}"])
        .map(|text| json!(text))
        .collect();
    let (long, longest) = ("x".repeat(201), "é".repeat(200));
    values.extend([
        json!(null),
        json!(true),
        json!(false),
        json!(0),
        json!(1),
        json!(2),
        json!(-1),
        json!(2.5),
        json!(1e300),
        json!(20_000),
    ]);
    values.extend([
        json!("K\u{200b}4"),
        json!("K\u{a0}4"),
        json!("\u{301}K"),
        json!("4\u{301}"),
        json!("Ⓐ"),
        json!("बत्ती"),
        json!([]),
        json!({}),
        json!(["a"]),
        json!([1, null]),
        json!([[]]),
        json!({ "a": 1 }),
        json!({ "id": "K9" }),
    ]);
    values.extend([json!(long), json!(longest)]);
    values
}

/// A document with changes made to it.
pub(crate) fn changed(document: &Value, changes: &[Change], stock: &Stock) -> Value {
    let mut document = document.clone();
    for change in changes {
        let mut places = Vec::new();
        places_of(&document, String::new(), &mut places);
        let place = places[change.place % places.len()].clone();
        if let Some(value) = document.pointer_mut(&place) {
            change_one(value, *change, stock);
        }
    }
    document
}

fn places_of(value: &Value, at: String, places: &mut Vec<String>) {
    match value {
        Value::Object(members) => {
            members.iter().for_each(|(key, member)| {
                places_of(
                    member,
                    format!("{at}/{}", key.replace('~', "~0").replace('/', "~1")),
                    places,
                )
            });
        }
        Value::Array(items) => items
            .iter()
            .enumerate()
            .for_each(|(position, item)| places_of(item, format!("{at}/{position}"), places)),
        _ => {}
    }
    places.push(at);
}

fn change_one(value: &mut Value, change: Change, stock: &Stock) {
    match value {
        Value::Object(members) => change_map(members, change, stock),
        Value::Array(items) if change.what % 4 < 3 => change_list(items, change, stock),
        Value::String(text) if change.what.is_multiple_of(2) => {
            *text = change_text(text, change.with)
        }
        other => match change.what % 6 {
            1 => *other = json!([other.take()]),
            3 => *other = json!({ stock.key(change.with): other.take() }),
            _ => *other = stock.value(change.with),
        },
    }
}

fn change_map(members: &mut Map<String, Value>, change: Change, stock: &Stock) {
    let keys: Vec<String> = members.keys().cloned().collect();
    let Some(key) = keys.get(change.with % keys.len().max(1)) else {
        members.insert(stock.key(change.with), stock.value(change.what));
        return;
    };
    match change.what % 6 {
        0 => drop(members.remove(key)),
        1 => rename(members, key, change_text(key, change.what / 6)),
        2 => rename(members, key, stock.key(change.what / 6)),
        3 => drop(members.insert(stock.key(change.what / 6), stock.value(change.with))),
        4 => drop(members.insert(stock.key(change.what / 6), members[key].clone())),
        _ => drop(members.insert(key.clone(), stock.value(change.what / 6))),
    }
}

fn rename(members: &mut Map<String, Value>, key: &str, new: String) {
    if let Some(value) = members.remove(key) {
        members.insert(new, value);
    }
}

fn change_list(items: &mut Vec<Value>, change: Change, stock: &Stock) {
    match (change.what % 4, items.is_empty()) {
        (0, false) => drop(items.remove(change.with % items.len())),
        (1, false) => items.push(items[change.with % items.len()].clone()),
        _ => items.push(stock.value(change.with)),
    }
}

/// A text with a slip in it.
fn change_text(text: &str, with: usize) -> String {
    let mut letters: Vec<char> = text.chars().collect();
    let at = (with / 12) % letters.len().max(1);
    match with % 12 {
        0 => drop(letters.pop()),
        1 if !letters.is_empty() => drop(letters.remove(at)),
        2 => letters.insert(at, 'x'),
        3 => letters.insert(at, ' '),
        4 => return text.to_uppercase(),
        5 => return text.to_lowercase(),
        6 => return text.split(' ').next().unwrap_or_default().to_owned(),
        7 => return format!("{text} V"),
        8 => return format!("{text} ± 1 %"),
        9 => return text.replace(' ', ""),
        10 => return format!("-{text}"),
        _ => return text.replace(['V', 'A'], "W"),
    }
    letters.into_iter().collect()
}
