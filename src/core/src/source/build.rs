//! Builds a [`Tree`] from tokens, in one pass and with its own stack, so that
//! no input can exhaust the program's.
//!
//! Like the lexer it accepts broken text and goes as far as it can.

use std::collections::btree_map::Entry;

use super::MAX_DEPTH;
use super::lexer::{Bracket, Kind, Lexer, Token};
use super::tree::{Broken, Label, Named, Node, Shape, Tree, field_name, key_name};

/// The shape of a text.
pub(super) fn build(text: &str) -> Tree {
    let mut builder = Builder {
        text,
        tree: Tree::default(),
        stack: Vec::new(),
        outside: Frame::default(),
    };
    builder.run();
    builder.tree
}

/// An open bracket while the tree is built.
#[derive(Debug, Default)]
struct Frame {
    node: Option<usize>,
    /// A name or key whose value has not come yet.
    pending: Option<Label>,
    /// The value before the cursor, with no comma or colon since.
    last: Option<usize>,
    /// How many unnamed values there are.
    unnamed: usize,
}

struct Builder<'a> {
    text: &'a str,
    tree: Tree,
    stack: Vec<Frame>,
    /// Outside all brackets.
    outside: Frame,
}

impl Builder<'_> {
    fn run(&mut self) {
        let mut attribute = false;
        for token in Lexer::new(self.text) {
            match token.kind {
                Kind::Open(bracket) => self.open(bracket, token),
                Kind::Close(bracket) => {
                    self.close(bracket, token);
                    if attribute && self.stack.is_empty() {
                        // `#![enable(…)]` at a file's head is no value.
                        attribute = false;
                        self.outside = Frame::default();
                        self.tree.top = None;
                    }
                }
                Kind::Colon => self.colon(),
                Kind::Comma => self.comma(token.start),
                Kind::Word => self.value(Shape::Word, token),
                Kind::Number => self.value(Shape::Number, token),
                Kind::Text => self.value(Shape::Text, token),
                Kind::Char => self.value(Shape::Char, token),
                Kind::Hash => attribute |= self.stack.is_empty() && self.tree.top.is_none(),
                Kind::Other => self.frame().last = None,
                Kind::UnclosedText => {
                    self.value(Shape::Text, token);
                    self.tree.broken = Some(Broken::Text {
                        opened: token.start,
                    });
                }
                Kind::UnclosedComment => {
                    self.tree.broken = Some(Broken::Comment {
                        opened: token.start,
                    });
                }
            }
            if self.tree.broken.is_some() {
                break;
            }
        }
        self.finish();
    }

    /// Ends what is still open at the end of what was read.
    fn finish(&mut self) {
        for frame in &self.stack {
            if let Some(node) = frame.node {
                self.tree.nodes[node].end = self.text.len();
                if self.tree.broken.is_none() {
                    // Of several open brackets the innermost is named: the
                    // others may well have their partner further up.
                    self.tree.broken = self.stack.last().and_then(|last| {
                        let opened = self.tree.nodes[last.node?].open;
                        Some(Broken::Unclosed { opened })
                    });
                }
            }
        }
    }

    fn frame(&mut self) -> &mut Frame {
        self.stack.last_mut().unwrap_or(&mut self.outside)
    }

    fn value(&mut self, shape: Shape, token: Token) {
        let id = self.tree.nodes.len();
        let frame = self.frame();
        let label = frame.pending.take().unwrap_or(Label::At(frame.unnamed));
        if matches!(label, Label::At(_)) {
            frame.unnamed += 1;
        }
        frame.last = Some(id);
        let parent = frame.node;
        self.tree.nodes.push(Node {
            shape,
            start: token.start,
            end: token.end,
            open: token.start,
            parent,
            label,
            children: Vec::new(),
            is_key: false,
            twin: None,
        });
        match parent {
            Some(parent) => {
                self.tree.nodes[parent].children.push(id);
                self.name(parent, id, label);
            }
            None => self.tree.top = self.tree.top.or(Some(id)),
        }
    }

    /// Enters a named child in the index, and marks it where it is a repeat.
    fn name(&mut self, parent: usize, id: usize, label: Label) {
        let (kind, name) = match label {
            Label::Field(start, end) => {
                let name = field_name(&self.text[start..end]);
                (Named::Field, name.to_owned())
            }
            Label::Key(start, end) => key_name(&self.text[start..end]),
            Label::At(_) => return,
        };
        match self.tree.named.entry((parent, kind, name.into())) {
            Entry::Vacant(free) => {
                free.insert(id);
            }
            Entry::Occupied(taken) => self.tree.nodes[id].twin = Some(*taken.get()),
        }
    }

    fn open(&mut self, bracket: Bracket, token: Token) {
        if self.stack.len() == MAX_DEPTH {
            self.tree.broken = Some(Broken::TooDeep { at: token.start });
            return;
        }
        let shape = match bracket {
            Bracket::Round => Shape::Group,
            Bracket::Curly => Shape::Map,
            Bracket::Square => Shape::List,
        };
        let name = self.frame().last.filter(|&last| {
            bracket == Bracket::Round && self.tree.nodes[last].shape == Shape::Word
        });
        let id = match name {
            Some(word) => {
                self.tree.nodes[word].shape = shape;
                self.tree.nodes[word].open = token.start;
                word
            }
            None => {
                self.value(shape, token);
                self.tree.nodes.len() - 1
            }
        };
        self.stack.push(Frame {
            node: Some(id),
            ..Frame::default()
        });
    }

    fn close(&mut self, bracket: Bracket, token: Token) {
        self.supply_nothing(token.start);
        let Some(node) = self.stack.last().and_then(|frame| frame.node) else {
            self.tree.broken = Some(Broken::Stray { at: token.start });
            return;
        };
        let expected = match self.tree.nodes[node].shape {
            Shape::Map => Bracket::Curly,
            Shape::List => Bracket::Square,
            _ => Bracket::Round,
        };
        if expected != bracket {
            self.tree.broken = Some(Broken::Mismatch {
                at: token.start,
                opened: self.tree.nodes[node].open,
            });
            return;
        }
        self.tree.nodes[node].end = token.end;
        self.stack.pop();
        self.frame().last = Some(node);
    }

    /// The value before the cursor turns out to be a name or key.
    fn colon(&mut self) {
        let frame = self.frame();
        let (Some(last), Some(parent)) = (frame.last.take(), frame.node) else {
            return;
        };
        let Label::At(_) = self.tree.nodes[last].label else {
            return;
        };
        self.frame().unnamed -= 1;
        self.tree.nodes[parent].children.pop();
        let group = self.tree.nodes[parent].shape == Shape::Group;
        let key = &mut self.tree.nodes[last];
        key.is_key = true;
        let label = if group && key.shape == Shape::Word {
            Label::Field(key.start, key.end)
        } else {
            Label::Key(key.start, key.end)
        };
        self.frame().pending = Some(label);
    }

    fn comma(&mut self, at: usize) {
        self.supply_nothing(at);
        self.frame().last = None;
    }

    /// Keeps the place of a value that was left out after a `:`.
    fn supply_nothing(&mut self, at: usize) {
        if self.frame().pending.is_some() {
            let token = Token {
                kind: Kind::Other,
                start: at,
                end: at,
            };
            self.value(Shape::Nothing, token);
        }
    }
}
