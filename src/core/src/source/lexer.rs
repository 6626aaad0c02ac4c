//! RON text cut into tokens with their places.
//!
//! Forgiving on purpose: it is used on text that may be broken, so that the
//! place of an error can be told. Whether the text is good RON is the RON
//! reader's business, not this module's. Works in one pass without recursion.

use std::borrow::Cow;

/// The three kinds of bracket.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Bracket {
    Round,
    Curly,
    Square,
}

impl Bracket {
    pub(super) fn opening(self) -> char {
        match self {
            Self::Round => '(',
            Self::Curly => '{',
            Self::Square => '[',
        }
    }

    pub(super) fn closing(self) -> char {
        match self {
            Self::Round => ')',
            Self::Curly => '}',
            Self::Square => ']',
        }
    }
}

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Open(Bracket),
    Close(Bracket),
    Colon,
    Comma,
    /// An identifier, plain or raw (`r#name`).
    Word,
    /// Anything that starts as a number does, up to where a number must end;
    /// a range such as `1..5` is one token.
    Number,
    /// A string, with all its quotes and marks.
    Text,
    /// A character or byte in single quotes.
    Char,
    Hash,
    Other,
    /// A string that runs to the end of the text.
    UnclosedText,
    /// A block comment that runs to the end of the text.
    UnclosedComment,
}

/// A token and the bytes it takes up.
#[derive(Clone, Copy, Debug)]
pub(super) struct Token {
    pub(super) kind: Kind,
    pub(super) start: usize,
    pub(super) end: usize,
}

/// The tokens of a text, without white space and comments.
pub(super) struct Lexer<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Lexer<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Self { text, at: 0 }
    }

    fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }

    fn skip_while(&mut self, test: impl Fn(char) -> bool) {
        let rest = self.rest();
        self.at += rest.find(|c| !test(c)).unwrap_or(rest.len());
    }

    /// Past white space and comments; false where a comment never ends.
    fn skip_blank(&mut self) -> bool {
        loop {
            self.skip_while(is_blank);
            let rest = self.rest();
            if rest.starts_with("//") {
                self.at += rest.find('\n').unwrap_or(rest.len());
            } else if rest.starts_with("/*") {
                match block_comment(rest) {
                    Some(length) => self.at += length,
                    None => return false,
                }
            } else {
                return true;
            }
        }
    }

    /// The kind of the token at the cursor, and its length in bytes.
    fn token(&self) -> Option<(Kind, usize)> {
        let rest = self.rest();
        let first = rest.chars().next()?;
        let single = match first {
            '(' => Some(Kind::Open(Bracket::Round)),
            '{' => Some(Kind::Open(Bracket::Curly)),
            '[' => Some(Kind::Open(Bracket::Square)),
            ')' => Some(Kind::Close(Bracket::Round)),
            '}' => Some(Kind::Close(Bracket::Curly)),
            ']' => Some(Kind::Close(Bracket::Square)),
            ':' => Some(Kind::Colon),
            ',' => Some(Kind::Comma),
            '#' => Some(Kind::Hash),
            _ => None,
        };
        if let Some(kind) = single {
            return Some((kind, 1));
        }
        if let Some(found) = quoted(rest) {
            return Some(found);
        }
        if let Some(length) = number(rest) {
            return Some((Kind::Number, length));
        }
        if let Some(raw) = rest.strip_prefix("r#") {
            let length = raw
                .find(|c: char| !is_word(c) && !matches!(c, '.' | '+' | '-'))
                .unwrap_or(raw.len());
            if length > 0 {
                return Some((Kind::Word, 2 + length));
            }
        }
        if is_word_start(first) {
            let length = rest.find(|c| !is_word(c)).unwrap_or(rest.len());
            return Some((Kind::Word, length));
        }
        Some((Kind::Other, first.len_utf8()))
    }
}

impl Iterator for Lexer<'_> {
    type Item = Token;

    fn next(&mut self) -> Option<Token> {
        let closed = self.skip_blank();
        let start = self.at;
        let (kind, length) = if closed {
            self.token()?
        } else {
            (Kind::UnclosedComment, self.rest().len())
        };
        self.at += length;
        Some(Token {
            kind,
            start,
            end: self.at,
        })
    }
}

pub(super) fn is_blank(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{200E}' | '\u{200F}')
}

fn is_word_start(c: char) -> bool {
    c == '_' || c.is_alphabetic()
}

fn is_word(c: char) -> bool {
    c == '_' || c.is_alphanumeric()
}

/// Length of the block comment that `rest` starts with; comments nest.
fn block_comment(rest: &str) -> Option<usize> {
    let bytes = rest.as_bytes();
    let mut level = 0_usize;
    let mut at = 0;
    while at + 1 < bytes.len() {
        match &bytes[at..at + 2] {
            b"/*" => {
                level += 1;
                at += 2;
            }
            b"*/" => {
                level -= 1;
                at += 2;
                if level == 0 {
                    return Some(at);
                }
            }
            _ => at += 1,
        }
    }
    None
}

/// A string, byte string, character or byte at the start of `rest`.
fn quoted(rest: &str) -> Option<(Kind, usize)> {
    let unbyte = rest.strip_prefix('b').unwrap_or(rest);
    let prefix = rest.len() - unbyte.len();
    if let Some(raw) = unbyte.strip_prefix('r') {
        let hashes = raw.len() - raw.trim_start_matches('#').len();
        if let Some(content) = raw[hashes..].strip_prefix('"') {
            let closing = format!("\"{}", "#".repeat(hashes));
            return Some(match content.find(&closing) {
                Some(length) => {
                    let length = prefix + 1 + hashes + 1 + length + closing.len();
                    (Kind::Text, length)
                }
                None => (Kind::UnclosedText, rest.len()),
            });
        }
    }
    if let Some(content) = unbyte.strip_prefix('"') {
        return Some(match closing_quote(content) {
            Some(length) => (Kind::Text, prefix + 1 + length + 1),
            None => (Kind::UnclosedText, rest.len()),
        });
    }
    let content = unbyte.strip_prefix('\'')?;
    Some((Kind::Char, prefix + 1 + character(content)?))
}

/// Offset of the quote that ends an escaped string's content.
fn closing_quote(content: &str) -> Option<usize> {
    let mut escaped = false;
    for (i, byte) in content.bytes().enumerate() {
        match byte {
            _ if escaped => escaped = false,
            b'\\' => escaped = true,
            b'"' => return Some(i),
            _ => {}
        }
    }
    None
}

/// Length of a character and its closing quote. A quote that closes nothing is
/// no character, so that one stray mark does not swallow the text after it.
fn character(content: &str) -> Option<usize> {
    let mut chars = content.char_indices();
    let (_, first) = chars.next()?;
    if first == '\\' {
        chars.next()?;
        // The longest escape is `\u{10FFFF}`.
        let (end, _) = chars.take(9).find(|&(_, c)| c == '\'')?;
        return Some(end + 1);
    }
    let (end, closing) = chars.next()?;
    (closing == '\'').then_some(end + 1)
}

/// Length of the number-like token at the start of `rest`.
fn number(rest: &str) -> Option<usize> {
    let bytes = rest.as_bytes();
    let signed = matches!(bytes.first(), Some(b'+' | b'-'));
    let body = &bytes[usize::from(signed)..];
    let starts = match body {
        [b'0'..=b'9', ..] => true,
        [b'.', b'0'..=b'9' | b'.', ..] => true,
        // `-inf` and `-NaN`, and a sign put before a word by mistake.
        [b'a'..=b'z' | b'A'..=b'Z' | b'_', ..] => signed,
        _ => false,
    };
    if !starts {
        return None;
    }
    let mut at = usize::from(signed);
    for c in rest[at..].chars() {
        let before = &rest[..at];
        let goes_on = match c {
            '+' | '-' => before.ends_with(['e', 'E']) || before.ends_with(".."),
            '=' => before.ends_with(".."),
            '.' => true,
            c => is_word(c),
        };
        if !goes_on {
            break;
        }
        at += c.len_utf8();
    }
    Some(at)
}

/// What a [`Kind::Text`] token says: without quotes, escapes resolved. An
/// escape that means nothing is left as it stands.
pub(super) fn text_value(token: &str) -> Cow<'_, str> {
    let unbyte = token.strip_prefix('b').unwrap_or(token);
    if let Some(raw) = unbyte.strip_prefix('r') {
        let hashes = raw.len() - raw.trim_start_matches('#').len();
        // One quote stands inside the marks at each end.
        let content = raw.get(hashes + 1..raw.len().saturating_sub(hashes + 1));
        return Cow::Borrowed(content.unwrap_or_default());
    }
    let content = unbyte.strip_prefix('"').unwrap_or(unbyte);
    let content = content.strip_suffix('"').unwrap_or(content);
    if !content.contains('\\') {
        return Cow::Borrowed(content);
    }
    let mut out = String::with_capacity(content.len());
    let mut rest = content;
    while let Some(slash) = rest.find('\\') {
        out.push_str(&rest[..slash]);
        rest = unescape(&rest[slash..], &mut out);
    }
    out.push_str(rest);
    Cow::Owned(out)
}

/// Resolves the escape that `rest` starts with; gives back what follows it.
fn unescape<'a>(rest: &'a str, out: &mut String) -> &'a str {
    let after = &rest[1..];
    let simple = match after.chars().next() {
        Some('n') => Some('\n'),
        Some('r') => Some('\r'),
        Some('t') => Some('\t'),
        Some('0') => Some('\0'),
        Some(c @ ('\\' | '"' | '\'')) => Some(c),
        _ => None,
    };
    if let Some(c) = simple {
        out.push(c);
        return &after[1..];
    }
    if let Some(next_line) = after.strip_prefix("\r\n").or(after.strip_prefix('\n')) {
        return next_line.trim_start_matches([' ', '\t', '\n', '\r']);
    }
    let code = match after.strip_prefix("u{") {
        // At most six digits; looking further would make a long run of
        // unfinished escapes slow.
        Some(hex) => hex
            .bytes()
            .take(7)
            .position(|byte| byte == b'}')
            .map(|end| (&hex[..end], &hex[end + 1..])),
        // Multi-byte `\x` runs do not occur in names; only ASCII is resolved.
        None => after
            .strip_prefix('x')
            .and_then(|hex| hex.split_at_checked(2)),
    };
    if let Some((digits, following)) = code
        && let Some(c) = u32::from_str_radix(digits, 16)
            .ok()
            .and_then(char::from_u32)
    {
        out.push(c);
        return following;
    }
    out.push('\\');
    after
}
