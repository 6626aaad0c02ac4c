//! The gradebook as CSV (RFC 4180) that learning systems and spreadsheets import.

use crate::classbook::Classbook;
use crate::flags::Flag;

/// The gradebook: a header and a row for each learner.
///
/// # Errors
/// Never in practice: rows are written to memory.
pub fn gradebook(book: &Classbook) -> Result<String, String> {
    // RFC 4180 2.1: lines end in CRLF. 2.4: every line has the same number of fields. 2.6, 2.7:
    // fields with quotes, commas or line breaks are quoted and quotes doubled. All by the writer.
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    let mut head = vec!["id".to_owned(), "name".to_owned()];
    for task in &book.tasks {
        for column in [
            "points",
            "passed",
            "computed",
            "correction",
            "reason",
            "attempts",
        ] {
            head.push(format!("{} {column}", task.scenario));
        }
        if let Some(other) = &book.other_rubric {
            head.push(format!(
                "{} under {} version {}",
                task.scenario, other.id, other.version
            ));
        }
    }
    head.extend(
        [
            "mean points",
            "tasks passed",
            "flags",
            "rubric",
            "rubric version",
        ]
        .map(str::to_owned),
    );
    let told = |error: csv::Error| error.to_string();
    writer
        .write_record(head.iter().map(|cell| harmless(cell)))
        .map_err(told)?;
    for (index, learner) in book.learners.iter().enumerate() {
        let number = |points: Option<f64>| points.map_or(String::new(), |p| format!("{p:.1}"));
        let mut row = vec![harmless(&learner.id), harmless(&learner.name)];
        for task in &learner.tasks {
            row.push(number(task.points));
            row.push(if task.passed { "yes" } else { "no" }.to_owned());
            row.push(number(task.computed));
            row.push(number(task.correction.as_ref().map(|c| c.points)));
            row.push(
                task.correction
                    .as_ref()
                    .map_or(String::new(), |c| harmless(&c.reason)),
            );
            row.push(task.attempts.len().to_string());
            if book.other_rubric.is_some() {
                let scored = task.counted.and_then(|i| book.attempts[i].scored.as_ref());
                row.push(number(
                    scored.and_then(|s| s.other.as_ref()).map(|o| o.points),
                ));
            }
        }
        row.push(number(Some(learner.points)));
        row.push(learner.passed.to_string());
        let mut flags: Vec<&str> = book
            .attempts
            .iter()
            .filter(|a| a.learner == Some(index) && a.assigned)
            .flat_map(|a| a.flags.iter().map(Flag::name))
            .collect();
        if learner.tasks.iter().any(|task| task.missing) {
            flags.push("missing work");
        }
        flags.sort_unstable();
        flags.dedup();
        row.push(flags.join("; "));
        row.push(harmless(&book.rubric.id));
        row.push(book.rubric.version.to_string());
        writer.write_record(&row).map_err(told)?;
    }
    let bytes = writer.into_inner().map_err(|error| error.to_string())?;
    String::from_utf8(bytes).map_err(|error| error.to_string())
}

/// A text that no spreadsheet takes for a formula: OWASP, "CSV Injection", names these first
/// characters and an apostrophe before them.
fn harmless(text: &str) -> String {
    match text.chars().next() {
        Some('=' | '+' | '-' | '@' | '\t' | '\r' | '\n' | '＝' | '＋' | '－' | '＠') => {
            format!("'{text}")
        }
        _ => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::harmless;

    #[test]
    fn no_text_begins_a_formula() {
        for evil in ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "＝1"] {
            assert!(harmless(evil).starts_with('\''), "{evil}");
        }
        assert_eq!(harmless("Ana = 1"), "Ana = 1");
    }
}
