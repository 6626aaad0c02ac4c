//! The RON reader's errors in sentences, each at the place an author would
//! look at.
//!
//! The reader says how far it had read. Whether the wrong thing stands there,
//! just before, or around it depends on the kind of error; that is decided
//! here, with the help of the text's shape.

use ron::error::Error;

use super::Finding;
use super::path::Path;
use super::scene::Scene;
use super::tree::{Label, Shape, Tree};
use super::words::{clip, suggest};

/// Turns the reader's error into a finding. `start` and `end` are the offsets
/// of the reader's cursor before and at the error.
pub(super) fn explain(text: &str, tree: &Tree, code: &Error, start: usize, end: usize) -> Finding {
    let scene = Scene {
        text,
        tree,
        start: start.min(end),
        end,
    };
    if tree.top.is_none() && end == text.len() {
        return Finding::new(
            end,
            Path::root(),
            "the file has no value in it",
            "begin with the type's name and its fields, as in `Scenario(format: 1, …)`",
        );
    }
    match code {
        Error::NoSuchStructField {
            expected, found, ..
        } => scene.unknown_field(expected, found),
        Error::NoSuchEnumVariant {
            expected, found, ..
        } => scene.unknown_variant(expected, found),
        Error::MissingStructField { field, .. } => scene.missing_field(field),
        Error::DuplicateStructField { field, .. } => {
            let (at, path) = scene.name(field);
            let message = format!("the field `{field}` is given twice");
            Finding::new(at, path, message, "keep one of the two")
        }
        Error::ExpectedDifferentStructName { expected, found } => scene.other_name(expected, found),
        Error::IntegerOutOfBounds => scene.about_value(
            "is out of range for a whole number here",
            "give a smaller whole number; where a minus sign is refused, give 0 or more",
        ),
        Error::InvalidIntegerDigit { digit, base } => scene.about_value(
            &format!("has the digit `{digit}`, which base {base} does not have"),
            "write the number in plain decimal digits",
        ),
        Error::FloatUnderscore | Error::UnderscoreAtBeginning => scene.about_value(
            "has an underscore where a number cannot have one",
            "write the number in plain digits",
        ),
        Error::InvalidValueForType { expected, found } => {
            let (at, path) = scene.before();
            let message = format!("{} is not accepted", clip(found));
            Finding::new(at, path, message, format!("give {}", wanted(expected)))
        }
        Error::ExpectedDifferentLength { expected, found } => {
            let (at, path) = scene.before();
            let message = match found {
                1 => "there is 1 value here".to_owned(),
                _ => format!("there are {found} values here"),
            };
            Finding::new(at, path, message, format!("give {expected}"))
        }
        Error::Message(message) => {
            let (at, path) = scene.before();
            Finding::new(at, path, message.clone(), "")
        }
        Error::InvalidEscape(_) => scene.escape(),
        Error::TrailingCharacters => Finding::new(
            end,
            Path::root(),
            format!("{} stands after the end of the file's value", scene.found()),
            "a file holds one value: remove what follows it, or look for a bracket closed too early",
        ),
        Error::NoSuchExtension(name) => Finding::new(
            scene.start,
            Path::root(),
            format!("there is no RON extension `{}`", clip(name)),
            "remove the `#![enable(…)]` line",
        ),
        Error::UnexpectedChar(c) => {
            let (at, path) = scene.here();
            let found = clip(&c.to_string());
            Finding::new(
                at,
                path,
                format!("`{found}` cannot stand here"),
                "remove it",
            )
        }
        Error::ExceededRecursionLimit => {
            let (at, _) = scene.here();
            let help = "no file needs this; look for brackets that are opened and not closed";
            Finding::new(at, Path::root(), "values are nested too deep", help)
        }
        Error::ExpectedComma => scene.comma(),
        Error::ExpectedOption => scene.optional(),
        Error::ExpectedStructLike => scene.bare_name(),
        Error::SuggestRawIdentifier(found) => scene.bad_name(found),
        Error::ExpectedIdentifier => scene.identifier(),
        _ => scene.expected(code),
    }
}

/// The names of number types, which serde puts into its errors, in plain words.
fn wanted(expected: &str) -> &str {
    match expected {
        "f32" | "f64" => "a number",
        "i8" | "i16" | "i32" | "i64" | "isize" => "a whole number",
        "u8" | "u16" | "u32" | "u64" | "usize" => "a whole number of 0 or more",
        "a string" | "str" => "text in double quotes",
        other => other,
    }
}

impl Scene<'_> {
    /// A sentence that begins with the value just read.
    fn about_value(&self, message: &str, help: &str) -> Finding {
        let node = self
            .node_before()
            .filter(|&node| self.tree.nodes[node].shape == Shape::Number)
            .or_else(|| self.node_here());
        let (at, path, source) = match node {
            Some(node) => {
                let it = &self.tree.nodes[node];
                let source = &self.text[it.start..it.end];
                (it.start, self.path(node), source)
            }
            None => (self.end, Path::root(), ""),
        };
        Finding::new(at, path, format!("`{}` {message}", clip(source)), help)
    }

    fn unknown_field(&self, expected: &[&'static str], found: &str) -> Finding {
        let (at, path) = self.name(found);
        Finding::new(
            at,
            path,
            format!("there is no field `{}` here", clip(found)),
            suggest(found, expected.iter().copied(), "field"),
        )
    }

    fn unknown_variant(&self, expected: &[&'static str], found: &str) -> Finding {
        let (at, path) = self.name(found);
        Finding::new(
            at,
            path,
            format!("`{}` is not one of the accepted names", clip(found)),
            suggest(found, expected.iter().copied(), "name"),
        )
    }

    fn missing_field(&self, field: &str) -> Finding {
        let closes = self.text[self.end..].starts_with(')');
        let group = if closes {
            self.tree.around(self.end)
        } else {
            self.node_before()
        };
        let (at, path) = match group {
            Some(node) => (self.tree.nodes[node].start, self.path(node)),
            None => self.here(),
        };
        let name = group.map(|node| {
            let it = &self.tree.nodes[node];
            clip(self.text[it.start..it.open.max(it.start)].trim_end())
        });
        let group = match name {
            Some(name) if !name.is_empty() => format!("`{name}( … )`"),
            _ => "this `( … )`".to_owned(),
        };
        Finding::new(
            at,
            path.field(field),
            format!("the field `{field}` is missing"),
            format!("add `{field}: …` inside {group}"),
        )
    }

    fn other_name(&self, expected: &str, found: &str) -> Finding {
        let at = self.end.saturating_sub(found.len());
        let node = self.tree.starting(at);
        let path = node.map_or_else(Path::root, |node| self.path(node));
        let message = format!("expected `{expected}( … )`, found `{}`", clip(found));
        let is_field = node.is_some_and(|node| self.tree.nodes[node].is_key);
        let help = if is_field {
            format!(
                "put the fields into brackets of their own: `({}: …)`",
                clip(found)
            )
        } else {
            format!("write `{expected}`, or leave the name out")
        };
        Finding::new(at, path, message, help)
    }

    fn escape(&self) -> Finding {
        let at = self.text[..self.end].rfind('\\').unwrap_or(self.start);
        let path = self
            .tree
            .around(at)
            .map_or_else(Path::root, |node| self.path(node));
        let escape: String = self.text[at..].chars().take(2).collect();
        Finding::new(
            at,
            path,
            format!("`{}` means nothing here", clip(&escape)),
            r#"accepted after `\`: `n`, `r`, `t`, `0`, `\`, `"`, `'`, `xNN` and `u{NNNN}` with hexadecimal digits; write `\\` for the character itself"#,
        )
    }

    /// The reader wanted the end of a value or a comma, and found something.
    fn comma(&self) -> Finding {
        let (at, path) = self.here();
        let Some(node) = self.tree.around(self.end) else {
            return Finding::new(
                at,
                path,
                format!("expected `,`, found {}", self.found()),
                "",
            );
        };
        let it = &self.tree.nodes[node];
        let source = clip(&self.text[it.start..it.end]);
        if it.shape == Shape::Number && it.start < self.end {
            let whole = source
                .bytes()
                .all(|b| matches!(b, b'0'..=b'9' | b'.' | b'-' | b'+'));
            let (message, help) = if whole {
                (
                    "is not a whole number",
                    "give a whole number, without a decimal point",
                )
            } else {
                (
                    "is not a number",
                    "give the number alone; the unit is part of the field's name",
                )
            };
            let message = format!("`{source}` {message}");
            return Finding::new(it.start, self.path(node), message, help);
        }
        if it.shape == Shape::Group && it.open == self.end && it.start < self.end {
            let name = clip(self.text[it.start..it.open].trim_end());
            let message = format!("`{name}` takes no values");
            let help = format!("write `{name}` alone, without brackets");
            return Finding::new(it.start, self.path(node), message, help);
        }
        Finding::new(
            at,
            path,
            format!("expected `,` before {}", self.found()),
            "separate values by commas; after the last one close the bracket",
        )
    }

    /// A name that is none, such as `my-field` or a number.
    fn bad_name(&self, found: &str) -> Finding {
        let (at, path) = self.here();
        if let Some(split) = self.decimal_comma() {
            return split;
        }
        Finding::new(
            at,
            path,
            format!("`{}` cannot be a name", clip(found)),
            "names have letters, digits and `_`, and do not begin with a digit",
        )
    }

    /// `0,5` for `0.5`: a number after the comma where a field should be.
    fn decimal_comma(&self) -> Option<Finding> {
        let node = self.tree.starting(self.end)?;
        let it = &self.tree.nodes[node];
        let siblings = &self.tree.nodes[it.parent?].children;
        let index = siblings.iter().position(|&sibling| sibling == node)?;
        let whole = *siblings.get(index.checked_sub(1)?)?;
        let before = &self.tree.nodes[whole];
        let adjacent = &self.text[before.end..it.start] == ",";
        if !adjacent || before.shape != Shape::Number || it.shape != Shape::Number {
            return None;
        }
        let source = &self.text[before.start..before.end];
        let decimals = &self.text[it.start..it.end];
        Some(Finding::new(
            before.start,
            self.path(whole),
            format!("`{},{}` is not a number", clip(source), clip(decimals)),
            format!(
                "write a decimal point: `{}.{}`",
                clip(source),
                clip(decimals)
            ),
        ))
    }

    fn identifier(&self) -> Finding {
        let (at, path) = self.here();
        let node = self.tree.starting(self.end);
        let in_group = node
            .and_then(|node| self.tree.nodes[node].parent)
            .is_some_and(|parent| self.tree.nodes[parent].shape == Shape::Group);
        let is_field_place = in_group
            && node.is_some_and(|node| matches!(self.tree.nodes[node].label, Label::At(_)));
        let found = self.found();
        let unquoted = node
            .map(|node| &self.tree.nodes[node])
            .filter(|it| it.shape == Shape::Text)
            .map(|it| clip(&super::lexer::text_value(&self.text[it.start..it.end])));
        let (wanted, help) = if is_field_place {
            ("a field's name", "write fields as `name: value`")
        } else {
            ("a name", "names stand without quotes")
        };
        let help = match unquoted {
            Some(word) => format!("names stand without quotes: `{word}`"),
            None => help.to_owned(),
        };
        Finding::new(at, path, format!("expected {wanted}, found {found}"), help)
    }

    /// A value that may be left out, given without `Some`.
    fn optional(&self) -> Finding {
        let (at, path) = self.here();
        let source = self
            .tree
            .starting(self.end)
            .map(|node| &self.tree.nodes[node])
            .filter(|it| matches!(it.shape, Shape::Number | Shape::Text | Shape::Char))
            .map_or("…".to_owned(), |it| clip(&self.text[it.start..it.end]));
        Finding::new(
            at,
            path,
            format!("expected an optional value, found {}", self.found()),
            format!("write `Some({source})`, or `None`"),
        )
    }

    /// `Fuse` for `Fuse(10.0)`.
    fn bare_name(&self) -> Finding {
        let word = self
            .node_before()
            .filter(|&node| self.tree.nodes[node].shape == Shape::Word);
        let Some(node) = word else {
            let (at, path) = self.here();
            let message = format!("expected `( … )`, found {}", self.found());
            return Finding::new(at, path, message, "write values in round brackets");
        };
        let it = &self.tree.nodes[node];
        let name = clip(&self.text[it.start..it.end]);
        Finding::new(
            it.start,
            self.path(node),
            format!("`{name}` needs values in round brackets"),
            format!("write `{name}( … )`"),
        )
    }

    /// The plain "expected this, found that".
    fn expected(&self, code: &Error) -> Finding {
        let (at, path) = self.here();
        let (wanted, help): (&str, &str) = match code {
            Error::ExpectedArray => ("a list", "write `[ … ]`"),
            Error::ExpectedMap => ("a map", "write `{ key: value, … }`"),
            Error::ExpectedBoolean => ("`true` or `false`", "write one of the two, without quotes"),
            Error::ExpectedFloat => ("a number", "write a number such as `12` or `0.5`"),
            Error::ExpectedInteger => ("a whole number", "write a number such as `12`"),
            Error::ExpectedString => ("text", "write it in double quotes"),
            Error::ExpectedChar => ("one character", "write it in single quotes"),
            Error::ExpectedByteString | Error::ExpectedByteLiteral => {
                ("bytes", "write them as `b\"…\"`")
            }
            Error::ExpectedUnit => ("nothing but `()`", "write `()`"),
            Error::ExpectedMapColon => ("`:`", "write `:` between a name or key and its value"),
            Error::ExpectedArrayEnd => ("`]`", "close the list, or put a comma between values"),
            Error::ExpectedMapEnd => ("`}`", "close the map, or put a comma between entries"),
            Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => {
                ("`)`", "there are more values here than are accepted")
            }
            Error::ExpectedNamedStructLike(_) => {
                ("a group of fields", "write `( name: value, … )`")
            }
            Error::ExpectedAttribute | Error::ExpectedAttributeEnd => {
                ("`#![enable(…)]`", "remove what begins with `#`")
            }
            Error::ExpectedStringEnd => ("a closing quote", "end the text with a double quote"),
            Error::UnclosedBlockComment => ("the end of a comment", "write `*/`"),
            Error::Eof => ("more", "the text ends too early"),
            _ => {
                return Finding::new(at, path, clip(&code.to_string()), "");
            }
        };
        Finding::new(
            at,
            path,
            format!("expected {wanted}, found {}", self.found()),
            help,
        )
    }
}
