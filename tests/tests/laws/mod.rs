//! Generators first, then what is known to be true of what they make, then the laws.

// Making cases.
mod amount;
mod choices;
mod document;
mod formula;
mod grow;
mod proposal;
mod ruleset;
mod scene;
mod setting;
mod vocabulary;

// The truth about a case, worked out apart from the engine.
mod truth;
mod world;

// The laws.
mod acceptance;
mod ignorance;
mod layers;
mod nothing;
mod order;
mod sameness;
mod shipped;
mod soundness;
mod tightening;
mod totality;
mod violations;
