//! The page in the browser, without a browser: who is let in, and what is written.

mod bench;
mod hostile;
mod saving;
mod served;
