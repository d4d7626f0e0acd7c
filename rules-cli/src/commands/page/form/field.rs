//! A field of the form: what is asked, what can be written, and what is known.

use rulesets::pages::html::Html;
use rulesets::schema::meaning_of_option;

/// What can be written in a field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::commands::page) enum Writes {
    /// One of these words.
    Words(Vec<Word>),
    /// A number of a kind, with a unit; a plain number has none.
    Number {
        kind: String,
        unit: String,
    },
    /// Something written as this.
    Like(String),
    Text,
}

/// A word that can be chosen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::commands::page) struct Word {
    word: String,
    /// What it means, where that is more than the word.
    says: Option<String>,
}

impl Word {
    /// Words that say what they mean themselves.
    pub(in crate::commands::page) fn plain(words: Vec<String>) -> Vec<Self> {
        let plain = |word| Self { word, says: None };
        words.into_iter().map(plain).collect()
    }

    /// The options of a fact, with what each means where that is told.
    pub(in crate::commands::page) fn options_of(fact: &str, words: Vec<String>) -> Vec<Self> {
        let meant = |word: String| {
            let says = meaning_of_option(fact, &word).map(str::to_owned);
            Self { word, says }
        };
        words.into_iter().map(meant).collect()
    }

    /// Words with what each says.
    pub(in crate::commands::page) fn saying(words: Vec<(String, String)>) -> Vec<Self> {
        let saying = |(word, says)| Self {
            word,
            says: Some(says),
        };
        words.into_iter().map(saying).collect()
    }

    fn text(&self) -> String {
        match &self.says {
            Some(says) => format!("{}: {says}", self.word),
            None => self.word.clone(),
        }
    }
}

/// A field. It has the same value at each of its places.
pub(in crate::commands::page) struct Field {
    /// A word that no other field of the page has.
    pub(in crate::commands::page) id: String,
    pub(in crate::commands::page) places: Vec<String>,
    /// Its place as people read it.
    pub(in crate::commands::page) called: String,
    pub(in crate::commands::page) meaning: String,
    pub(in crate::commands::page) writes: Writes,
    /// What the plan says itself.
    pub(in crate::commands::page) own: Option<String>,
    /// What its bench says where the plan does not.
    pub(in crate::commands::page) of_bench: Option<String>,
}

const NOT_KNOWN: &str = "don't know";

impl Field {
    /// Writes it, with its label before and its place and hint behind.
    pub(in crate::commands::page) fn write(&self, html: &mut Html) {
        let hint_id = format!("{}-hint", self.id);
        html.element("div", &[("class", "field")], |html| {
            html.told("label", &[("for", &self.id)], &self.meaning);
            html.element("div", &[("class", "control")], |html| {
                self.control(&hint_id, html);
            });
            html.element("p", &[("class", "hint"), ("id", &hint_id)], |html| {
                html.said("code", &[], &self.called);
                html.text(&self.hint());
            });
        });
    }

    fn control(&self, hint_id: &str, html: &mut Html) {
        let places = self.places.join("\n");
        let all = [
            ("id", self.id.as_str()),
            ("data-places", &*places),
            ("aria-describedby", hint_id),
        ];
        if let Writes::Words(words) = &self.writes {
            html.element("select", &all, |html| self.options(words, html));
            return;
        }
        let unit = self.unit();
        let empty = self.empty();
        let own = self.own.as_deref().unwrap_or_default();
        let of_text = [
            ("type", "text"),
            ("value", own),
            ("placeholder", &*empty),
            ("data-unit", unit),
            ("autocomplete", "off"),
            ("spellcheck", "false"),
        ];
        html.empty("input", &[&all[..], &of_text[..]].concat());
        if !unit.is_empty() {
            html.said("span", &[("class", "unit"), ("aria-hidden", "true")], unit);
        }
    }

    fn options(&self, words: &[Word], html: &mut Html) {
        html.said("option", &[("value", "")], &self.empty());
        let own = self.own.as_deref();
        let foreign = own.filter(|own| !words.iter().any(|known| known.word == *own));
        let foreign = Word::plain(foreign.into_iter().map(str::to_owned).collect());
        for known in words.iter().chain(&foreign) {
            let value = ("value", known.word.as_str());
            match own == Some(&*known.word) {
                true => html.said("option", &[value, ("selected", "selected")], &known.text()),
                false => html.said("option", &[value], &known.text()),
            }
        }
    }

    /// What stands in it while nothing is written.
    fn empty(&self) -> String {
        match &self.of_bench {
            Some(said) => format!("{said} (bench)"),
            None => NOT_KNOWN.to_owned(),
        }
    }

    fn unit(&self) -> &str {
        match &self.writes {
            Writes::Number { unit, .. } => unit,
            _ => "",
        }
    }

    fn hint(&self) -> String {
        match &self.writes {
            Writes::Words(_) => String::new(),
            Writes::Number { kind, unit } if unit.is_empty() => format!("; a number: {kind}"),
            Writes::Number { kind, unit } => {
                format!("; {kind}, with its unit; a number alone is in {unit}")
            }
            Writes::Like(example) => format!("; as {example}"),
            Writes::Text => "; a text".to_owned(),
        }
    }
}
