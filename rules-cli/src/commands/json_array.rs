//! An array of JSON that is written element by element, as it would be written at once.

/// What comes before the next element.
#[derive(Debug, Default)]
pub(super) struct JsonArray {
    begun: bool,
}

impl JsonArray {
    /// The next element, which is a value on lines of its own, with what comes before it.
    pub(super) fn element(&mut self, value: &str) -> String {
        let before = if self.begun { ",\n" } else { "[\n" };
        self.begun = true;
        // A text in JSON has no line ends, so that each line is of the layout.
        let lines: Vec<String> = value.lines().map(|line| format!("  {line}")).collect();
        format!("{before}{}", lines.join("\n"))
    }

    /// What comes after the last element.
    pub(super) const fn end(&self) -> &'static str {
        if self.begun { "\n]\n" } else { "[]\n" }
    }
}

#[cfg(test)]
mod tests {
    use rules_core::document::json_text;
    use serde_json::{Value, json};

    use super::*;

    #[test]
    fn it_is_the_text_of_the_array_as_a_whole() {
        let values = [
            json!({ "a": [1, { "b": "x\ny" }], "c": {} }),
            json!([]),
            json!("é\u{2028}"),
        ];
        for count in 0..=values.len() {
            let all: Vec<&Value> = values.iter().take(count).collect();
            let mut array = JsonArray::default();
            let mut text: String = all
                .iter()
                .map(|value| array.element(&json_text(value).unwrap()))
                .collect();
            text += array.end();
            assert_eq!(text, json_text(&all).unwrap());
        }
    }
}
