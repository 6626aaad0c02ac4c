//! Text to value: the checks before the RON reader, the reader, and the choice
//! of which error is told.

use serde::de::DeserializeOwned;

use super::lines::Lines;
use super::path::Path;
use super::tree::Tree;
use super::{Finding, Problem, explain, refuse};

/// Reads RON text into a value, or says what is wrong with it.
///
/// `file` is only the name told in the problem. Beside what RON and `T` refuse,
/// these are refused: text over [`super::MAX_BYTES`], brackets nested deeper
/// than [`super::MAX_DEPTH`], a field or key given twice, a field called
/// `include`, and numbers that are infinite or no number. Unknown fields are
/// refused where `T` does (`#[serde(deny_unknown_fields)]`).
///
/// Of several problems the first in the text is told, since the later ones may
/// only follow from it.
pub fn parse<T: DeserializeOwned>(file: &str, text: &str) -> Result<T, Problem> {
    let text = without_mark(text);
    if let Some(finding) = refuse::too_large(text.len()) {
        return Err(finding.into_problem(file, (1, 1)));
    }
    let lines = Lines::new(text);
    let tree = Tree::new(text);
    let told = |finding: Finding| {
        let position = lines.position(text, finding.at);
        finding.into_problem(file, position)
    };
    let broken = refuse::broken(text, &lines, &tree);
    if let (Some((_, finding)), Some(super::tree::Broken::TooDeep { .. })) = (&broken, tree.broken)
    {
        // The reader recurses; it must not see this text.
        return Err(told(finding.clone()));
    }
    let forbidden = refuse::forbidden(text, &lines, &tree);
    let unread = match ron::from_str::<T>(text) {
        Ok(value) => {
            return match forbidden {
                Some(finding) => Err(told(finding)),
                None => Ok(value),
            };
        }
        Err(error) => error,
    };
    let start = lines.offset(text, unread.span.start.line, unread.span.start.col);
    let end = lines.offset(text, unread.span.end.line, unread.span.end.col);
    let explained = explain::explain(text, &tree, &unread.code, start, end);
    // A repeat of a field is found twice, once by the reader; ours says more.
    let (first, reach) = match forbidden {
        Some(finding) if finding.at <= explained.at => (finding.clone(), finding.at),
        _ => (explained.clone(), explained.at.max(end)),
    };
    let first = match broken {
        Some((sense_to, finding)) if sense_to <= reach => finding,
        Some((_, finding)) => with_hint(first, &finding, lines.position(text, finding.at)),
        None => first,
    };
    Err(told(first))
}

/// An early error in text whose brackets do not match either: often both have
/// one cause, so the second is mentioned.
fn with_hint(mut first: Finding, broken: &Finding, (line, column): (u32, u32)) -> Finding {
    if !first.help.is_empty() {
        first.help.push_str("; ");
    }
    first.help.push_str(&format!(
        "see also line {line}, column {column}: {}",
        broken.message
    ));
    first
}

/// The text without the byte order mark that some editors put first.
pub(super) fn without_mark(text: &str) -> &str {
    text.strip_prefix('\u{FEFF}').unwrap_or(text)
}

/// The text of a file's bytes, or where they stop being UTF-8.
pub fn decode<'a>(file: &str, bytes: &'a [u8]) -> Result<&'a str, Problem> {
    if let Some(finding) = refuse::too_large(bytes.len()) {
        return Err(finding.into_problem(file, (1, 1)));
    }
    str::from_utf8(bytes).map_err(|error| {
        let good = str::from_utf8(&bytes[..error.valid_up_to()]).unwrap_or_default();
        let finding = Finding::new(
            good.len(),
            Path::root(),
            "the file is not UTF-8 text from here on",
            "save it as UTF-8",
        );
        finding.into_problem(file, Lines::new(good).position(good, good.len()))
    })
}
