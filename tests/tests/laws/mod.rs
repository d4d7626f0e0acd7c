//! The laws. What they are tried on is in `generate`.

mod acceptance;
mod figures;
mod fuzzed;
mod ignorance;
mod layers;
mod nothing;
mod order;
mod sameness;
mod shipped;
mod soundness;
mod tightening;
mod totality;
mod unlisted;
mod violations;
