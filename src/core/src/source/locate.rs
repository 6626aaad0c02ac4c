//! From a field's path to its place in the text, and back.

use super::lines::Lines;
use super::path::{Path, Step};
use super::tree::{Label, Shape, Tree};

/// Knows where each value of a RON text stands.
///
/// Names before brackets leave no step in a path: `Relay(coil_ohms: 80)` and
/// `(coil_ohms: 80)` are both reached by `coil_ohms`, and the value inside
/// `Some(…)`, or any other group of one unnamed value, by the path of the group.
#[derive(Debug)]
pub struct Locator {
    text: String,
    lines: Lines,
    tree: Tree,
}

impl Locator {
    /// Reads the text's shape. Broken text is read as far as it goes.
    pub fn new(text: &str) -> Self {
        let text = super::parse::without_mark(text);
        Self {
            text: text.to_owned(),
            lines: Lines::new(text),
            tree: Tree::new(text),
        }
    }

    /// Line and column, from 1, where the value at `path` begins. A value that
    /// is not in the text (a default, or a missing field) is placed at the
    /// nearest group, map or list around it that is. Nothing comes back only
    /// for a text without any value.
    pub fn find(&self, path: &Path) -> Option<(u32, u32)> {
        self.offset(path).map(|at| self.position(at))
    }

    /// The path of the innermost value that holds this place. A field's name
    /// or a map's key counts as part of its value.
    pub fn path_at(&self, line: u32, column: u32) -> Path {
        let at = self
            .lines
            .offset(&self.text, line as usize, column as usize);
        match self.tree.around(at) {
            Some(node) => self.tree.path(&self.text, node),
            None => Path::root(),
        }
    }

    /// The byte at which the value at `path`, or the nearest around it, begins.
    pub(super) fn offset(&self, path: &Path) -> Option<usize> {
        let mut node = self.tree.top?;
        for step in path.steps() {
            match self.step(node, step) {
                Some(next) => node = next,
                None => break,
            }
        }
        Some(self.tree.nodes[node].start)
    }

    pub(super) fn position(&self, at: usize) -> (u32, u32) {
        self.lines.position(&self.text, at)
    }

    fn step(&self, node: usize, step: &Step) -> Option<usize> {
        if let Some(inner) = self.tree.only(node) {
            let index_zero = || (*step == Step::Index(0)).then_some(inner);
            return self.step(inner, step).or_else(index_zero);
        }
        match step {
            Step::Field(name) | Step::Key(name) => self.tree.named(node, name),
            Step::Index(index) => {
                let parent = &self.tree.nodes[node];
                if !matches!(parent.shape, Shape::List | Shape::Group) {
                    return None;
                }
                let child = *parent.children.get(*index)?;
                (self.tree.nodes[child].label == Label::At(*index)).then_some(child)
            }
        }
    }
}
