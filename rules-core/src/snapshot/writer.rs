//! Writes what is kept.

use std::collections::HashMap;

/// What was written so far.
#[derive(Default)]
pub(crate) struct Writer {
    bytes: Vec<u8>,
    texts: String,
    /// Where each text begins.
    known: HashMap<String, usize>,
    /// The names of the files that places are in.
    files: Vec<String>,
}

impl Writer {
    /// Sets the names of the files that places are in.
    pub(crate) fn set_files(&mut self, files: Vec<String>) {
        self.files = files;
    }

    /// A file that a place is in, by its position; one that is not among them is not read again.
    pub(crate) fn file(&mut self, name: &str) {
        let at = self.files.iter().position(|file| file == name);
        self.number(at.unwrap_or(self.files.len()));
    }

    pub(crate) fn byte(&mut self, byte: u8) {
        self.bytes.push(byte);
    }

    pub(crate) fn all(&mut self, bytes: &[u8]) {
        self.bytes.extend(bytes);
    }

    /// What is written, after the number of its bytes.
    pub(crate) fn measured(&mut self, write: impl FnOnce(&mut Self)) {
        let before = std::mem::take(&mut self.bytes);
        write(self);
        let part = std::mem::replace(&mut self.bytes, before);
        self.number(part.len());
        self.all(&part);
    }

    pub(crate) fn number(&mut self, number: usize) {
        let mut rest = number;
        loop {
            let low = u8::try_from(rest & 0x7f).unwrap_or_default();
            rest >>= 7;
            if rest == 0 {
                return self.byte(low);
            }
            self.byte(low | 0x80);
        }
    }

    pub(crate) fn text(&mut self, text: &str) {
        let start = match self.known.get(text) {
            Some(start) => *start,
            None => {
                let start = self.texts.len();
                self.texts.push_str(text);
                self.known.insert(text.to_owned(), start);
                start
            }
        };
        self.number(start);
        self.number(text.len());
    }

    /// The bytes and the texts.
    pub(crate) fn finish(self) -> (Vec<u8>, String) {
        (self.bytes, self.texts)
    }
}
