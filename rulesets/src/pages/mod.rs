//! Pages to look at and to print: reports and jobs as documents of HTML.
//!
//! A page is one file that loads nothing and runs nothing. It is made of typed results, and decides
//! nothing: no verdict, number or reason comes into being here. Every plot has a title, words and a
//! table of its numbers. Plots are drawn by `plots`: a library would bring colours and fonts of its
//! own into every mark, where these are to follow one style sheet in the dark and on paper.

mod check;
mod choose;
mod figures;
mod findings;
mod first;
#[doc(hidden)]
pub mod html;
mod label;
mod map;
mod page;
mod paper;
#[doc(hidden)]
pub mod parts;
mod plots;
mod range;
mod sort;
mod tags;

pub use check::check;
pub use choose::choose;
pub use figures::figures;
pub use label::label;
pub use map::map;
pub use page::Page;
pub use range::range;
pub use sort::sort;
pub use tags::tags;
