//! Where the RON reader stood when it gave up, and the values around it.

use super::path::Path;
use super::tree::{Shape, Tree, field_name};
use super::words::clip;

/// The reader's cursor in the text it could not read.
pub(super) struct Scene<'a> {
    pub(super) text: &'a str,
    pub(super) tree: &'a Tree,
    pub(super) start: usize,
    pub(super) end: usize,
}

impl Scene<'_> {
    /// The path of a node, or, for a key or name, of what it names.
    pub(super) fn path(&self, node: usize) -> Path {
        let it = &self.tree.nodes[node];
        if !it.is_key {
            return self.tree.path(self.text, node);
        }
        let around = self.tree.around(it.start).or(it.parent);
        around.map_or_else(Path::root, |around| self.tree.path(self.text, around))
    }

    /// The value at the reader's cursor: one that begins there, or failing
    /// that the innermost around it.
    pub(super) fn node_here(&self) -> Option<usize> {
        self.tree
            .starting(self.end)
            .or_else(|| self.tree.around(self.end))
    }

    pub(super) fn here(&self) -> (usize, Path) {
        let path = self
            .node_here()
            .map_or_else(Path::root, |node| self.path(node));
        (self.end, path)
    }

    /// The value that ends at the reader's cursor, white space aside: the
    /// outermost of several. Failing that the innermost around it.
    pub(super) fn node_before(&self) -> Option<usize> {
        let read = self.text[..self.end].trim_end().len();
        let last = self.text[..read].chars().next_back()?;
        let mut node = self.tree.around(read - last.len_utf8())?;
        if self.tree.nodes[node].end > read {
            // Not a value's end but, say, a comma: the value at the cursor.
            return self.tree.around(self.end).or(Some(node));
        }
        while let Some(parent) = self.tree.nodes[node].parent {
            if self.tree.nodes[parent].end != self.tree.nodes[node].end {
                break;
            }
            node = parent;
        }
        Some(node)
    }

    pub(super) fn before(&self) -> (usize, Path) {
        match self.node_before() {
            Some(node) => (self.tree.nodes[node].start, self.path(node)),
            None => self.here(),
        }
    }

    /// Where a field's name stands that the reader has just read, and its path.
    pub(super) fn name(&self, name: &str) -> (usize, Path) {
        let read = &self.text[..self.end];
        if read.ends_with(name) {
            let at = self.end - name.len();
            let at = at - if read[..at].ends_with("r#") { 2 } else { 0 };
            if let Some(node) = self.tree.starting(at) {
                return (at, self.path(node));
            }
        }
        // A value read in one piece first: look for the name inside it.
        let named = self
            .node_before()
            .and_then(|node| self.tree.named(node, name));
        match named {
            Some(child) => (self.tree.nodes[child].from(), self.path(child)),
            None => self.before(),
        }
    }

    /// What stands at the reader's cursor, in words.
    pub(super) fn found(&self) -> String {
        let rest = &self.text[self.end..];
        let Some(first) = rest.chars().next() else {
            return "the end of the file".to_owned();
        };
        let Some(node) = self.tree.starting(self.end) else {
            return format!("`{}`", clip(&first.to_string()));
        };
        let it = &self.tree.nodes[node];
        let source = &self.text[it.start..it.end];
        match it.shape {
            Shape::Nothing => "nothing".to_owned(),
            Shape::Text => format!("the text {}", clip(source)),
            Shape::Number => format!("the number {}", clip(source)),
            Shape::Char => format!("the character {}", clip(source)),
            Shape::Word => format!("the word `{}`", clip(field_name(source))),
            Shape::List => "a list `[ … ]`".to_owned(),
            Shape::Map => "a map `{ … }`".to_owned(),
            Shape::Group => {
                let name = clip(self.text[it.start..it.open].trim_end());
                format!("`{name}( … )`")
            }
        }
    }
}
