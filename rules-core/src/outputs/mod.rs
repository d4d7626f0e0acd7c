//! Findings in forms that other tools show: SARIF 2.1.0, JUnit XML, CSV, Markdown, and annotations as
//! workflow commands.
//!
//! A [`Piece`] is made of one report, of one file that cannot be used, or of what was found in one
//! ruleset, by whichever thread has it. A [`Document`] puts pieces together, each in its turn, so that
//! nothing of them need be kept. Every document carries the standing notice.
//!
//! ```
//! use rules_core::document::{Fault, Problem};
//! use rules_core::outputs::{Document, Form, Piece, Tool};
//!
//! let problem = Problem::of_file(Fault::Empty, "the document is empty", "");
//! let tool = Tool { name: "checker", version: "1.0.0" };
//! let mut document = Document::new(Form::Annotations, tool, &[]);
//! let mut text = document.add(Piece::of_unusable(Form::Annotations, "plan.yaml", &[problem], &[]));
//! text += &document.finish();
//! assert_eq!(text, "::error title=empty::plan.yaml: the document is empty\n");
//! ```

mod annotations;
mod document;
mod form;
mod junit;
mod markdown;
mod of_ruleset;
mod piece;
mod rows;
mod said;
mod sarif;
mod tool;
mod xml;

pub use document::Document;
pub use form::Form;
pub use of_ruleset::{CasesOf, OfRuleset};
pub use piece::Piece;
pub use tool::Tool;
