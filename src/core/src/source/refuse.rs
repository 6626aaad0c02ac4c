//! What is refused whatever type the text is read into: brackets that do not
//! match, repeated names and keys, includes, and numbers that are not finite.

use super::Finding;
use super::lexer::Bracket;
use super::lines::Lines;
use super::path::Path;
use super::tree::{Broken, Label, Node, Shape, Tree, field_name};
use super::words::clip;
use super::{MAX_BYTES, MAX_DEPTH};

const NO_INCLUDES: &str = "includes are not allowed: each file stands by itself";
const NO_INCLUDES_HELP: &str = "write the content here instead of naming another file";

/// The sentence for broken brackets, strings or comments, and the offset up to
/// which the text still made sense.
pub(super) fn broken(text: &str, lines: &Lines, tree: &Tree) -> Option<(usize, Finding)> {
    let end = text.len();
    let path = |at| match tree.around(at) {
        Some(node) => tree.path(text, node),
        None => Path::root(),
    };
    let (sense_to, at, message, help) = match tree.broken? {
        Broken::TooDeep { at } => (
            at,
            at,
            format!("brackets are nested more than {MAX_DEPTH} deep"),
            "no file needs this; look for brackets that are opened and not closed".to_owned(),
        ),
        Broken::Mismatch { at, opened } => {
            let (line, column) = lines.position(text, opened);
            let found = char_at(text, at);
            let opening = char_at(text, opened);
            (
                at,
                at,
                format!(
                    "`{found}` closes nothing here: the `{opening}` of line {line}, column {column} is still open"
                ),
                format!("write `{}` before it", closing(opening)),
            )
        }
        Broken::Stray { at } => (
            at,
            at,
            format!(
                "`{}` closes nothing: no bracket is open here",
                char_at(text, at)
            ),
            "remove it, or look for a bracket that was closed too early".to_owned(),
        ),
        Broken::Unclosed { opened } => {
            let opening = char_at(text, opened);
            (
                end,
                opened,
                format!("this `{opening}` is never closed"),
                format!("write `{}` where it should end", closing(opening)),
            )
        }
        Broken::Text { opened } => (
            end,
            opened,
            "this text in quotes never ends".to_owned(),
            "write the closing quote; if it has one, look for a missing quote further up"
                .to_owned(),
        ),
        Broken::Comment { opened } => (
            end,
            opened,
            "this comment never ends".to_owned(),
            "write `*/` where it should end; comments inside comments need their own".to_owned(),
        ),
    };
    let path = if matches!(tree.broken, Some(Broken::TooDeep { .. })) {
        // The path would be as long as the nest is deep.
        Path::root()
    } else {
        path(at)
    };
    Some((sense_to, Finding::new(at, path, message, help)))
}

fn char_at(text: &str, at: usize) -> char {
    text[at..].chars().next().unwrap_or(' ')
}

fn closing(opening: char) -> char {
    [Bracket::Round, Bracket::Curly, Bracket::Square]
        .into_iter()
        .find(|bracket| bracket.opening() == opening)
        .map_or(opening, Bracket::closing)
}

/// The first thing in the text that no type may accept. Stops at the first, so
/// that a file full of them takes no longer.
pub(super) fn forbidden(text: &str, lines: &Lines, tree: &Tree) -> Option<Finding> {
    tree.nodes
        .iter()
        .enumerate()
        .filter(|(_, node)| !node.is_key)
        .find_map(|(id, node)| {
            repeated(text, lines, tree, id)
                .or_else(|| include(text, tree, id))
                .or_else(|| {
                    not_finite(text, node).map(|(message, help)| {
                        Finding::new(node.start, tree.path(text, id), message, help)
                    })
                })
        })
}

fn repeated(text: &str, lines: &Lines, tree: &Tree, id: usize) -> Option<Finding> {
    let node = &tree.nodes[id];
    let first = &tree.nodes[node.twin?];
    let (what, start, end) = match node.label {
        Label::Field(start, end) => ("field", start, end),
        Label::Key(start, end) => ("key", start, end),
        Label::At(_) => return None,
    };
    let (line, column) = lines.position(text, first.from());
    Some(Finding::new(
        start,
        tree.path(text, id),
        format!(
            "the {what} `{}` is given twice; the first is at line {line}, column {column}",
            clip(&text[start..end])
        ),
        "keep one of the two, or rename one",
    ))
}

fn include(text: &str, tree: &Tree, id: usize) -> Option<Finding> {
    let node = &tree.nodes[id];
    let by_field = match node.label {
        Label::Field(start, end) => field_name(&text[start..end]) == "include",
        _ => false,
    };
    let by_call = match node.shape {
        Shape::Group => text[node.start..node.open].trim_end() == "include",
        Shape::Word => {
            &text[node.start..node.end] == "include" && text[node.end..].starts_with('!')
        }
        _ => false,
    };
    (by_field || by_call).then(|| {
        Finding::new(
            node.from(),
            tree.path(text, id),
            NO_INCLUDES,
            NO_INCLUDES_HELP,
        )
    })
}

/// Why a number cannot be used, where it cannot.
fn not_finite(text: &str, node: &Node) -> Option<(String, &'static str)> {
    if !matches!(node.shape, Shape::Word | Shape::Number) {
        return None;
    }
    let source = &text[node.start..node.end];
    let bare = source.trim_start_matches(['+', '-']);
    let narrow = bare.ends_with("f32");
    let digits = bare.trim_end_matches("f32").trim_end_matches("f64");
    if digits == "inf" || digits == "NaN" {
        return Some((
            format!("`{}` is not a usable number", clip(source)),
            "give a finite number; leave the field out where nothing is meant",
        ));
    }
    if !digits.starts_with(|c: char| c.is_ascii_digit() || c == '.') {
        return None;
    }
    let value: f64 = digits.replace('_', "").parse().ok()?;
    let largest = if narrow {
        f64::from(f32::MAX)
    } else {
        f64::MAX
    };
    (value > largest).then(|| {
        (
            format!("`{}` is too large a number", clip(source)),
            "give a number that can be meant",
        )
    })
}

/// The sentence for a text that is too large to be read at all.
pub(super) fn too_large(bytes: usize) -> Option<Finding> {
    (bytes > MAX_BYTES).then(|| {
        Finding::new(
            0,
            Path::root(),
            format!("the file has {bytes} bytes; at most {MAX_BYTES} are read"),
            "split it into several files, or check that it is the file you meant",
        )
    })
}
