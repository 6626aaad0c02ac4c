//! What an attempt is called where it is kept.

use tracebay_core::attempt::Header;

/// Ending of attempt files.
pub(crate) const ENDING: &str = "jsonl";

/// `no-cold-air-7-20260102-030405.jsonl`: sorts by case, tells the time, needs no quoting.
pub(crate) fn file_name(header: &Header, number: u32) -> String {
    let safe = |text: &str| -> String {
        text.chars()
            .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
            .take(60)
            .collect()
    };
    let mut name = format!("{}-{}", safe(&header.scenario), header.seed);
    if let Some(started) = &header.started {
        let digits: String = started.chars().filter(char::is_ascii_digit).collect();
        if let (Some(day), Some(time)) = (digits.get(..8), digits.get(8..14)) {
            name += &format!("-{day}-{time}");
        }
    }
    if number > 1 {
        name += &format!("-{number}");
    }
    format!("{name}.{ENDING}")
}
