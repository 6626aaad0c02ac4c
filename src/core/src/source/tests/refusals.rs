//! What is said about each kind of mistake that no type could put right.
//!
//! There is no outside reference for wording. Each place was checked by eye
//! against the snippet; the sentences are kept so that a change of the RON
//! reader that worsens them is seen.

use super::sentences::told;

/// Brackets, quotes, commas and the like.
#[test]
fn broken_text() {
    told(&[
        (
            r#"(name: "a", parts: {} count: 1)"#,
            "1:23: count: expected `,` before the word `count`",
            "separate values by commas; after the last one close the bracket",
        ),
        (
            r#"(name: "a" parts: {})"#,
            "1:12: parts: expected `,` before the word `parts`",
            "separate values by commas; after the last one close the bracket",
        ),
        (
            r#"(name: "a", parts: {}) x"#,
            "1:24: the word `x` stands after the end of the file's value",
            "a file holds one value: remove what follows it, or look for a bracket closed too early",
        ),
        (
            r#"(name: "a\q", parts: {})"#,
            r#"1:10: name: `\q` means nothing here"#,
            r#"accepted after `\`: `n`, `r`, `t`, `0`, `\`, `"`, `'`, `xNN` and `u{NNNN}` with hexadecimal digits; write `\\` for the character itself"#,
        ),
        (
            r#"(name: "a\u{110000}", parts: {})"#,
            r#"1:10: name: `\u` means nothing here"#,
            r#"accepted after `\`: `n`, `r`, `t`, `0`, `\`, `"`, `'`, `xNN` and `u{NNNN}` with hexadecimal digits; write `\\` for the character itself"#,
        ),
        (
            r#"(name = "a", parts: {})"#,
            "1:7: expected `:`, found `=`",
            "write `:` between a name or key and its value",
        ),
        (
            "",
            "1:1: the file has no value in it",
            "begin with the type's name and its fields, as in `Scenario(format: 1, …)`",
        ),
        (
            "   // hi",
            "1:9: the file has no value in it",
            "begin with the type's name and its fields, as in `Scenario(format: 1, …)`",
        ),
        (
            r#"(name: "a", parts: {"x" = Plain})"#,
            "1:25: parts: expected `:`, found `=`",
            "write `:` between a name or key and its value",
        ),
        (
            r#"(name: "a", parts: {}, wires: [(from: "a", mm2: 0.5) (from: "a", mm2: 0.5)])"#,
            "1:54: wires[1]: expected `,` before `( … )`",
            "separate values by commas; after the last one close the bracket",
        ),
        (
            r#"#![enable(foo)] (name: "a", parts: {})"#,
            "1:11: there is no RON extension `foo`",
            "remove the `#![enable(…)]` line",
        ),
        (
            "(name: \"a\", parts: {\n \"K3\": Relay(coil_ohms: 1, pins: [],\n \"K4\": Blank,\n})",
            r#"3:2: parts."K3"."K4": expected a field's name, found the text "K4""#,
            "names stand without quotes: `K4`; see also line 4, column 1: `}` closes nothing here: the `(` of line 2, column 13 is still open",
        ),
        (
            "(name: \"a\", parts: {\n \"K3\": Relay(coil_ohms: 1, pins: [}\n)",
            r#"2:35: parts."K3".pins: `}` closes nothing here: the `[` of line 2, column 34 is still open"#,
            "write `]` before it",
        ),
        (
            "(name: \"a, parts: {\n \"K3\": Blank})",
            "2:3: expected `,` before the word `K3`",
            "separate values by commas; after the last one close the bracket; see also line 2, column 5: this text in quotes never ends",
        ),
        (
            "(name: \"a\", parts: {\n \"K3\": Blank",
            "1:20: parts: this `{` is never closed",
            "write `}` where it should end",
        ),
        (
            r#"(name: "a", parts: {} /* x"#,
            "1:23: this comment never ends",
            "write `*/` where it should end; comments inside comments need their own",
        ),
        (
            r#"(name: "a", parts: {})]"#,
            "1:23: `]` closes nothing: no bracket is open here",
            "remove it, or look for a bracket that was closed too early",
        ),
    ]);
}

/// Good RON that is refused all the same.
#[test]
fn forbidden_content() {
    told(&[
        (
            r#"(name: "a", name: "b", parts: {})"#,
            "1:13: name: the field `name` is given twice; the first is at line 1, column 2",
            "keep one of the two, or rename one",
        ),
        (
            r#"(name: "a", parts: {}, limit: Some(-NaN))"#,
            "1:36: limit: `-NaN` is not a usable number",
            "give a finite number; leave the field out where nothing is meant",
        ),
        (
            r#"(name: "a", parts: {}, limit: Some(1e999))"#,
            "1:36: limit: `1e999` is too large a number",
            "give a number that can be meant",
        ),
        (
            r#"(name: "a", parts: {}, limit: Some(inff64))"#,
            "1:36: limit: `inff64` is not a usable number",
            "give a finite number; leave the field out where nothing is meant",
        ),
        (
            r#"(name: "a", parts: {"F": Blank, "F": Fuse(3)}, n: 3)"#,
            r#"1:33: parts."F": the key `"F"` is given twice; the first is at line 1, column 21"#,
            "keep one of the two, or rename one",
        ),
        (
            r#"(name: "a", include: "other.ron", parts: {})"#,
            "1:13: include: includes are not allowed: each file stands by itself",
            "write the content here instead of naming another file",
        ),
        (
            r#"(name: "a", parts: include("other.ron"))"#,
            "1:13: parts: includes are not allowed: each file stands by itself",
            "write the content here instead of naming another file",
        ),
        (
            r#"(name: "a", parts: include!("other.ron"))"#,
            "1:13: parts: includes are not allowed: each file stands by itself",
            "write the content here instead of naming another file",
        ),
        (
            r#"(name: "a", parts: {}, cavities: {30: Left, 0x1E: Right})"#,
            r#"1:45: cavities."30": the key `0x1E` is given twice; the first is at line 1, column 35"#,
            "keep one of the two, or rename one",
        ),
    ]);
}
