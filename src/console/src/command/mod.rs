//! From a typed line to what is to be done. Nothing here changes the session.

mod names;
mod parse;
mod tools;
mod verb;

pub use names::{Named, Names};
pub use parse::{Command, Info, Mistake, parse};
pub use verb::{Verb, usage};

#[cfg(test)]
mod tests;
