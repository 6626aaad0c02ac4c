//! The roster: a CSV file with an id and a name for each learner.
//!
//! What is wrong with a row is told with its line; the other rows count all the same.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::Read;
use std::path::Path;

use serde::Serialize;

/// Largest accepted roster in bytes.
const MAX_BYTES: u64 = 16 * 1024 * 1024;
/// Longest id and name in characters.
const MAX_TEXT: usize = 300;

/// A learner of the roster.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Person {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
}

/// What a roster file says.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Roster {
    /// Learners, in the file's order.
    pub people: Vec<Person>,
    /// What is wrong with rows that were left out, or was put right.
    pub remarks: Vec<Remark>,
}

/// Something about a row.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Remark {
    /// Line of the file, from 1.
    pub line: u64,
    /// What.
    pub what: String,
}

impl Roster {
    /// Reads a roster file.
    ///
    /// # Errors
    /// It cannot be read, or is no roster at all.
    pub fn read(path: &Path) -> Result<Roster, String> {
        let named = path.display();
        let mut bytes = Vec::new();
        File::open(path)
            .and_then(|file| file.take(MAX_BYTES + 1).read_to_end(&mut bytes))
            .map_err(|error| format!("{named}: {error}"))?;
        if bytes.len() as u64 > MAX_BYTES {
            return Err(format!(
                "{named}: larger than {MAX_BYTES} bytes, so it is no roster"
            ));
        }
        Roster::from_bytes(&bytes).map_err(|error| format!("{named}: {error}"))
    }

    /// Reads a roster's bytes. The first line names the columns `id` and `name`, or is a learner
    /// already.
    ///
    /// # Errors
    /// There is no learner in it.
    pub fn from_bytes(bytes: &[u8]) -> Result<Roster, String> {
        let mut roster = Roster::default();
        if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
            return Err("the file is UTF-16; save it as CSV UTF-8".to_owned());
        }
        let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
        let delimiter = delimiter(bytes);
        let mut columns = (0, 1);
        let mut seen: BTreeMap<String, u64> = BTreeMap::new();
        let mut first = true;
        let lines = bytes.split(|b| *b == b'\n').count();
        // A name on two lines is refused in any case, so a line is a row.
        for (index, row) in bytes.split(|b| *b == b'\n').enumerate() {
            let line = index as u64 + 1;
            if row.trim_ascii().is_empty() {
                // What stands after the last line break is no line.
                if index + 1 < lines {
                    roster.remark(line, "an empty line, left out".to_owned());
                }
                continue;
            }
            let cells = cells(row, delimiter);
            let Some(cells) = cells else {
                roster.remark(
                    line,
                    "not UTF-8 text, left out; save the file as CSV UTF-8".to_owned(),
                );
                continue;
            };
            let header = first && cells.iter().any(|cell| cell.eq_ignore_ascii_case("id"));
            first = false;
            if header {
                let at = |name: &str| cells.iter().position(|c| c.eq_ignore_ascii_case(name));
                columns = (at("id").unwrap_or(0), at("name").unwrap_or(usize::MAX));
                continue;
            }
            let id = cells.get(columns.0).map_or("", String::as_str);
            let name = cells.get(columns.1).map_or("", String::as_str);
            if cells.iter().all(|cell| cell.is_empty()) {
                roster.remark(line, "an empty row, left out".to_owned());
            } else if id.is_empty() {
                roster.remark(line, format!("no id (name “{name}”), left out"));
            } else if [id, name]
                .iter()
                .any(|text| text.chars().any(char::is_control) || text.chars().count() > MAX_TEXT)
            {
                roster.remark(
                    line,
                    format!("control characters or more than {MAX_TEXT} characters, left out"),
                );
            } else if let Some(first) = seen.get(id) {
                roster.remark(
                    line,
                    format!("the id “{id}” is on line {first} already, left out"),
                );
            } else {
                seen.insert(id.to_owned(), line);
                let name = if name.is_empty() { id } else { name };
                roster.people.push(Person {
                    id: id.to_owned(),
                    name: name.to_owned(),
                });
            }
        }
        if roster.people.is_empty() {
            return Err("there is no learner in it; write lines of id,name".to_owned());
        }
        Ok(roster)
    }

    fn remark(&mut self, line: u64, what: String) {
        self.remarks.push(Remark { line, what });
    }
}

/// Comma, semicolon or tab, by the first line: spreadsheets write what their country uses.
fn delimiter(bytes: &[u8]) -> u8 {
    let first = bytes
        .split(|b| *b == b'\n')
        .find(|line| !line.trim_ascii().is_empty());
    let first = first.unwrap_or_default();
    [b',', b';', b'\t']
        .into_iter()
        .find(|mark| first.contains(mark))
        .unwrap_or(b',')
}

/// The cells of a row; none if they are no text.
fn cells(row: &[u8], delimiter: u8) -> Option<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .delimiter(delimiter)
        .from_reader(row);
    let record = reader.records().next()?.ok()?;
    Some(record.iter().map(str::to_owned).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &[u8]) -> Roster {
        Roster::from_bytes(text).unwrap()
    }

    fn ids(roster: &Roster) -> Vec<&str> {
        roster.people.iter().map(|p| p.id.as_str()).collect()
    }

    #[test]
    fn columns_by_name_or_by_place() {
        let by_name = read(b"name,id\r\n\"Doe, J (invented)\",7\r\n");
        assert_eq!(by_name.people[0].name, "Doe, J (invented)");
        assert_eq!(ids(&by_name), ["7"]);
        assert_eq!(ids(&read(b"7,Ana\n8,Ben\n")), ["7", "8"]);
        assert_eq!(ids(&read(b"id;name\n7;Ana\n")), ["7"]);
        assert_eq!(ids(&read(b"\xef\xbb\xbfid,name\n7,Ana\n")), ["7"]);
    }

    #[test]
    fn bad_rows_are_told_and_the_rest_counts() {
        let roster = read(b"id,name\n7,Ana\n\n\n7,Ben\n,Nobody\n9,\xff\xfe\n,\n10,Cy\n11,a\x07b\n");
        assert_eq!(ids(&roster), ["7", "10"]);
        let told: Vec<String> = roster
            .remarks
            .iter()
            .map(|r| format!("{}: {}", r.line, r.what))
            .collect();
        let all = told.join("\n");
        for part in [
            "3: an empty line",
            "4: an empty line",
            "5: the id “7” is on line 2",
            "6: no id (name “Nobody”)",
            "7: not UTF-8",
            "8: an empty row",
            "10: control characters",
        ] {
            assert!(all.contains(part), "{part} in\n{all}");
        }
    }

    #[test]
    fn what_is_no_roster_is_refused_in_words() {
        assert!(Roster::from_bytes(b"").unwrap_err().contains("no learner"));
        let utf16 = Roster::from_bytes(b"\xff\xfei\0d\0").unwrap_err();
        assert!(utf16.contains("UTF-8"));
    }
}
