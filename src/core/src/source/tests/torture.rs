//! Nothing a file can hold makes reading panic or hang, and an error always
//! points into the file. Where the RON crate itself can judge, it does.

use std::time::{Duration, Instant};

use proptest::prelude::*;

use super::super::{Check, Locator, MAX_BYTES, MAX_DEPTH, Path, Problem, decode, nearest, parse};
use super::{GOOD, Sample};

/// Whether line and column are those of a character of the text, of a line's
/// end or of the text's end. Counted here from the text, not by the module.
fn inside(text: &str, problem: &Problem) -> bool {
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    let line = text.split('\n').nth(problem.line as usize - 1);
    line.is_some_and(|line| {
        let column = problem.column as usize;
        column >= 1 && column <= line.chars().count() + 1
    })
}

/// Refusals that are ours alone: the RON crate takes such text.
fn is_deliberate(problem: &Problem) -> bool {
    [
        "given twice",
        "includes are",
        "usable number",
        "too large a number",
        "nested more",
    ]
    .iter()
    .any(|words| problem.message.contains(words))
}

fn exercise(text: &str) -> Result<(), TestCaseError> {
    if let Err(problem) = parse::<Sample>("x.ron", text) {
        prop_assert!(inside(text, &problem), "{problem}\n{text}");
        prop_assert!(!problem.message.is_empty());
    }
    let ours = parse::<ron::Value>("x.ron", text);
    let theirs = ron::from_str::<ron::Value>(text.strip_prefix('\u{FEFF}').unwrap_or(text));
    match (&ours, &theirs) {
        (Ok(_), _) => prop_assert!(theirs.is_ok()),
        (Err(problem), Ok(_)) => prop_assert!(is_deliberate(problem), "{problem}\n{text}"),
        (Err(problem), Err(_)) => prop_assert!(inside(text, problem), "{problem}\n{text}"),
    }
    let locator = Locator::new(text);
    for (line, column) in [(0, 0), (1, 1), (1, 7), (2, 3), (u32::MAX, u32::MAX)] {
        let path = locator.path_at(line, column);
        prop_assert!(locator.find(&path).is_some() || path == Path::root());
    }
    Ok(())
}

/// Pieces that make RON-like text, so that the tests get past the first token.
fn soup() -> impl Strategy<Value = String> {
    let pieces = [
        "(",
        ")",
        "{",
        "}",
        "[",
        "]",
        ":",
        ",",
        "name",
        "parts",
        "Relay",
        "Some",
        "include",
        "r#",
        "r#\"",
        "\"#",
        "\"",
        "\"a\"",
        "\\",
        "'",
        "'x'",
        "b'",
        "#![enable(",
        "implicit_some",
        "1",
        "-",
        "1.5",
        "1e999",
        "NaN",
        "inf",
        "0x1F",
        "1..2",
        "//",
        "\n",
        "/*",
        "*/",
        " ",
        "Ω",
        "é",
        "\u{FEFF}",
        "\r\n",
        "\u{200E}",
        "_",
        "!",
        "=",
        ".",
        "\\u{",
    ];
    prop::collection::vec(prop::sample::select(pieces.to_vec()), 0..60)
        .prop_map(|chosen| chosen.concat())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_string(text in any::<String>()) {
        exercise(&text)?;
    }

    #[test]
    fn any_ron_like_string(text in soup()) {
        exercise(&text)?;
    }

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        match decode("x.ron", &bytes) {
            Ok(text) => exercise(text)?,
            Err(problem) => {
                let good = String::from_utf8_lossy(&bytes);
                prop_assert!(inside(&good, &problem), "{problem}");
            }
        }
    }

    /// A good file with a piece cut out and another put in its place.
    #[test]
    fn any_slip_in_a_good_file(at in 0..GOOD.len(), cut in 0..12_usize, put in soup()) {
        let at = GOOD.floor_char_boundary(at);
        let end = GOOD.ceil_char_boundary((at + cut).min(GOOD.len()));
        let text = format!("{}{put}{}", &GOOD[..at], &GOOD[end..]);
        exercise(&text)?;
    }

    #[test]
    fn nearest_takes_any_words(a in any::<String>(), b in any::<String>()) {
        let found = nearest(&a, [b.as_str()].into_iter());
        prop_assert!(found.is_none() || found == Some(b.as_str()));
    }
}

fn timed<T>(limit: Duration, what: &str, work: impl FnOnce() -> T) -> T {
    let start = Instant::now();
    let out = work();
    let took = start.elapsed();
    assert!(took < limit, "{what} took {took:?}");
    out
}

#[test]
fn ten_megabytes_of_brackets_give_one_error_at_once() {
    for unit in ["[", "(", "{", "[]", "((", "a(", ")"] {
        let text = unit.repeat(10_000_000 / unit.len());
        let problem = timed(Duration::from_millis(200), unit, || {
            parse::<Sample>("x.ron", &text).expect_err("brackets are no file")
        });
        assert_eq!((problem.line, problem.column), (1, 1));
        assert!(problem.message.contains("10000000 bytes"), "{problem}");
        assert_eq!(problem.to_string().lines().count(), 2);
    }
}

#[test]
fn too_deep_is_told_where_it_becomes_too_deep() {
    for unit in ["[", "(", "{", "Some("] {
        let text = unit.repeat(MAX_BYTES / unit.len());
        let problem = timed(Duration::from_millis(200), unit, || {
            parse::<ron::Value>("x.ron", &text).expect_err("too deep")
        });
        assert!(problem.message.contains("nested more than 64"), "{problem}");
        let column = (MAX_DEPTH + 1) * unit.len();
        assert_eq!((problem.line, problem.column as usize), (1, column));
    }
    let deepest = format!("{}{}", "[".repeat(MAX_DEPTH), "]".repeat(MAX_DEPTH));
    assert!(parse::<ron::Value>("x.ron", &deepest).is_ok());
}

/// The time is generous, since it only has to tell linear from quadratic work
/// in an unoptimised build on a busy machine.
#[test]
fn much_of_anything_takes_linear_time() {
    let units = [
        "a:1,",
        "\"a\":1,",
        "1,",
        "\\u{",
        "/*",
        "//",
        "\"",
        "'",
        "r#\"",
        "r#",
        "#",
        "b",
        ":",
        ",",
        "a",
        "1e999,",
        "include:1,",
        "[1],",
        "{1:1},",
        "Some(1),",
        "- ",
        "0x",
        "é",
        "\n",
        "1..",
    ];
    for unit in units {
        for opening in ["", "(", "[{", "\""] {
            let many = unit.repeat(100_000 / unit.len());
            let text = format!("{opening}{many}");
            let what = format!("{opening} then {unit}");
            timed(Duration::from_secs(10), &what, || {
                let problem = parse::<Sample>("x.ron", &text).expect_err("no sample");
                assert!(inside(&text, &problem), "{what}: {problem}");
                let _ = parse::<ron::Value>("x.ron", &text);
            });
        }
    }
}

#[test]
fn a_file_full_of_wrong_numbers_is_told_in_linear_time() {
    let text = format!("[{}]", "-1,".repeat(100_000));
    let problems = timed(Duration::from_secs(10), "checks", || {
        let mut check = Check::new("x.ron", &text);
        for index in 0..100_000 {
            check.number(&Path::root().index(index), -1.0, 0.0..=1.0, "V");
        }
        check.finish().expect_err("all are wrong")
    });
    assert_eq!(problems.len(), 21);
    assert_eq!(problems[19].column, 2 + 19 * 3);
    assert!(problems[20].message.starts_with("and 99980 more problems"));
}
