//! Pages of HTML: read by a parser of XML that knows nothing of them, they are whole, load nothing,
//! let no text become markup, name everything, and say what the report says in JSON, each finding once.
#![cfg(test)]

mod checked;
mod hostile;
mod jobs;
mod part;
mod setting;
mod whole;
