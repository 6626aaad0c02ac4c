//! Errors of the shelf in words.

use tracebay_shelf::ShelfError;
use tracebay_words::{Value, Words};

/// Why something could not be read or saved.
pub fn shelf(words: &Words, error: &ShelfError) -> String {
    let mut args: Vec<(&str, Value)> = error
        .args()
        .into_iter()
        .map(|(key, value)| (key, value.into()))
        .collect();
    if let ShelfError::Attempt { error, .. } = error {
        args.push(("why", words.attempt_error(error).into()));
    }
    words.get(error.key(), &args)
}
