//! Byte offsets to lines and columns, and back.

/// Where each line of a text starts.
#[derive(Debug)]
pub(super) struct Lines {
    starts: Vec<usize>,
}

impl Lines {
    pub(super) fn new(text: &str) -> Self {
        let after_breaks = text.match_indices('\n').map(|(at, _)| at + 1);
        Self {
            starts: std::iter::once(0).chain(after_breaks).collect(),
        }
    }

    /// Line and column, in characters from 1. An offset past the end is the
    /// end; one inside a character is that character.
    pub(super) fn position(&self, text: &str, at: usize) -> (u32, u32) {
        let at = at.min(text.len());
        let line = self.starts.partition_point(|&start| start <= at) - 1;
        let start = self.starts[line];
        let before = text[start..]
            .char_indices()
            .take_while(|(i, c)| start + i + c.len_utf8() <= at)
            .count();
        (count(line + 1), count(before + 1))
    }

    /// The byte offset of a line and column; past a line's end is its end.
    pub(super) fn offset(&self, text: &str, line: usize, column: usize) -> usize {
        let Some(&start) = self.starts.get(line.saturating_sub(1)) else {
            return text.len();
        };
        let end = self
            .starts
            .get(line.max(1))
            .map_or(text.len(), |&next| next - 1);
        text[start..end]
            .char_indices()
            .nth(column.saturating_sub(1))
            .map_or(end, |(i, _)| start + i)
    }
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}
