//! The shape of a RON text: which value stands inside which, and where.
//!
//! Holds for broken text too, as far as it could be followed; [`Tree::broken`]
//! says where the brackets stopped making sense.

use std::collections::BTreeMap;

use super::MAX_BYTES;
use super::lexer::{Kind, Lexer, text_value};
use super::path::{Path, Step};

/// What kind of value a node is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shape {
    /// `( … )`, with or without a name before it.
    Group,
    Map,
    List,
    Word,
    Number,
    Text,
    Char,
    /// A value that is not there, after a `:`.
    Nothing,
}

/// How a node is reached from its parent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Label {
    /// By a field's name; the name stands at these bytes.
    Field(usize, usize),
    /// By a map's key; the key stands at these bytes.
    Key(usize, usize),
    /// By its position among the unnamed.
    At(usize),
}

/// A value in the text.
#[derive(Debug)]
pub(super) struct Node {
    pub(super) shape: Shape,
    pub(super) start: usize,
    pub(super) end: usize,
    /// Where the opening bracket stands, for those that have one.
    pub(super) open: usize,
    pub(super) parent: Option<usize>,
    pub(super) label: Label,
    pub(super) children: Vec<usize>,
    /// This node is itself the key of another.
    pub(super) is_key: bool,
    /// The earlier node with the same name or key in the same group or map.
    pub(super) twin: Option<usize>,
}

impl Node {
    /// Where the node begins, its name or key included.
    pub(super) fn from(&self) -> usize {
        match self.label {
            Label::Field(start, _) | Label::Key(start, _) => start,
            Label::At(_) => self.start,
        }
    }
}

/// Where the brackets, strings or comments stop making sense.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Broken {
    TooDeep {
        at: usize,
    },
    /// A closing bracket for which another is still open.
    Mismatch {
        at: usize,
        opened: usize,
    },
    /// A closing bracket with none open.
    Stray {
        at: usize,
    },
    /// The text ended before this bracket was closed.
    Unclosed {
        opened: usize,
    },
    Text {
        opened: usize,
    },
    Comment {
        opened: usize,
    },
}

/// Kinds of names, kept apart so that the number 30 and the text "30" differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Named {
    Field,
    TextKey,
    OtherKey,
}

/// The shape of a text.
#[derive(Debug, Default)]
pub(super) struct Tree {
    /// In the order in which they begin.
    pub(super) nodes: Vec<Node>,
    pub(super) broken: Option<Broken>,
    /// The named children of each node, for quick finding.
    pub(super) named: BTreeMap<(usize, Named, Box<str>), usize>,
    /// The file's value.
    pub(super) top: Option<usize>,
}

impl Tree {
    /// The shape of the first [`MAX_BYTES`] of a text.
    pub(super) fn new(text: &str) -> Self {
        super::build::build(&text[..text.floor_char_boundary(MAX_BYTES)])
    }

    /// The child with this field name or map key.
    pub(super) fn named(&self, node: usize, name: &str) -> Option<usize> {
        [Named::Field, Named::TextKey, Named::OtherKey]
            .into_iter()
            .find_map(|kind| self.named.get(&(node, kind, name.into())).copied())
    }

    /// The one unnamed value of a group such as `Some(…)`, which a path passes
    /// through without a step of its own.
    pub(super) fn only(&self, node: usize) -> Option<usize> {
        match self.nodes[node] {
            Node {
                shape: Shape::Group,
                ref children,
                ..
            } if children.len() == 1 => {
                let child = children[0];
                matches!(self.nodes[child].label, Label::At(_)).then_some(child)
            }
            _ => None,
        }
    }

    /// Whether a group is written with names; a value without one is then a
    /// mistake and has no path of its own.
    fn has_fields(&self, node: usize) -> bool {
        let it = &self.nodes[node];
        it.shape == Shape::Group
            && it
                .children
                .first()
                .is_some_and(|&first| !matches!(self.nodes[first].label, Label::At(_)))
    }

    /// The path that leads to a node.
    pub(super) fn path(&self, text: &str, node: usize) -> Path {
        let mut steps = Vec::new();
        let mut at = node;
        while let Some(parent) = self.nodes[at].parent {
            match self.nodes[at].label {
                Label::Field(start, end) => {
                    steps.push(Step::Field(field_name(&text[start..end]).to_owned()));
                }
                Label::Key(start, end) => steps.push(Step::Key(key_name(&text[start..end]).1)),
                Label::At(index) => {
                    if self.only(parent).is_none() && !self.has_fields(parent) {
                        steps.push(Step::Index(index));
                    }
                }
            }
            at = parent;
        }
        steps.reverse();
        Path(steps)
    }

    /// The innermost node whose text, name or key included, holds this offset.
    pub(super) fn around(&self, at: usize) -> Option<usize> {
        let mut found = self.top.filter(|&top| {
            let top = &self.nodes[top];
            top.start <= at && at < top.end
        })?;
        while let Some(inner) = self.child_around(found, at) {
            found = inner;
        }
        Some(found)
    }

    fn child_around(&self, node: usize, at: usize) -> Option<usize> {
        let children = &self.nodes[node].children;
        let after = children.partition_point(|&child| self.nodes[child].from() <= at);
        let child = *children.get(after.checked_sub(1)?)?;
        (at < self.nodes[child].end).then_some(child)
    }

    /// The node that begins exactly here.
    pub(super) fn starting(&self, at: usize) -> Option<usize> {
        let index = self.nodes.partition_point(|node| node.start < at);
        self.nodes
            .get(index)
            .is_some_and(|node| node.start == at)
            .then_some(index)
    }
}

/// A field's name without the mark of a raw identifier.
pub(super) fn field_name(source: &str) -> &str {
    source.strip_prefix("r#").unwrap_or(source)
}

/// A map key as it is compared and shown; two spellings of one key are equal.
pub(super) fn key_name(source: &str) -> (Named, String) {
    let mut tokens = Lexer::new(source);
    let (first, second) = (tokens.next(), tokens.next());
    match (first, second) {
        (Some(token), None) if token.kind == Kind::Text => {
            (Named::TextKey, text_value(source).into_owned())
        }
        (Some(token), None) if token.kind == Kind::Number => {
            (Named::OtherKey, whole_number(source))
        }
        _ => {
            let words: Vec<&str> = Lexer::new(source)
                .map(|token| field_name(&source[token.start..token.end]))
                .collect();
            (Named::OtherKey, words.concat())
        }
    }
}

/// A whole number in decimal digits, or the source where it is none.
fn whole_number(source: &str) -> String {
    let plain = source.replace('_', "");
    let (base, digits) = match plain.get(..2) {
        Some("0x") => (16, &plain[2..]),
        Some("0o") => (8, &plain[2..]),
        Some("0b") => (2, &plain[2..]),
        _ => (10, plain.strip_prefix('+').unwrap_or(&plain)),
    };
    i128::from_str_radix(digits, base).map_or(plain.clone(), |n| n.to_string())
}
