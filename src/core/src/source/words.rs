//! Small pieces of the sentences in a [`super::Problem`].

/// Longest piece of a file's own text repeated in a sentence, in characters.
const CLIP: usize = 60;

/// Source text made fit to stand in a sentence: one line, no control
/// characters, not too long.
pub(super) fn clip(text: &str) -> String {
    let mut out = String::new();
    for (i, c) in text.chars().enumerate() {
        if i == CLIP {
            out.push('…');
            break;
        }
        if c.is_control() {
            out.extend(c.escape_default());
        } else {
            out.push(c);
        }
    }
    out
}

/// `` `a`, `b` and `c` ``, cut after thirty names.
pub(super) fn list<'a>(names: impl Iterator<Item = &'a str>) -> String {
    const MOST: usize = 30;
    let names: Vec<&str> = names.collect();
    let quoted: Vec<String> = names
        .iter()
        .take(MOST)
        .map(|name| format!("`{}`", clip(name)))
        .collect();
    match quoted.split_last() {
        None => String::new(),
        Some(_) if names.len() > MOST => {
            format!("{} and {} more", quoted.join(", "), names.len() - MOST)
        }
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
    }
}

/// "did you mean" and the accepted names, as far as there are any.
pub(super) fn suggest<'a>(
    word: &str,
    accepted: impl Iterator<Item = &'a str> + Clone,
    what: &str,
) -> String {
    let meant = super::nearest(word, accepted.clone());
    let listed = list(accepted);
    match (meant, listed.is_empty()) {
        (_, true) => format!("no {what} is accepted here"),
        (Some(meant), false) => {
            format!("did you mean `{}`? Accepted here: {listed}", clip(meant))
        }
        (None, false) => format!("accepted here: {listed}"),
    }
}

/// A number as a person would write it: plain digits, or powers of ten where
/// those would be long.
pub(super) fn number(value: f64) -> String {
    let size = value.abs();
    if size != 0.0 && size.is_finite() && !(1e-6..1e9).contains(&size) {
        format!("{value:e}")
    } else {
        format!("{value}")
    }
}
