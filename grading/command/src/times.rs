//! Wall-clock times as files write them.
//!
//! RFC 3339 in, UTC out. Nothing here asks what time it is.

use jiff::civil::Date;
use jiff::{SignedDuration, Timestamp};

/// Milliseconds since 1970-01-01T00:00:00Z of an RFC 3339 time with its offset.
pub fn milliseconds(rfc3339: &str) -> Option<i64> {
    let time: Timestamp = rfc3339.trim().parse().ok()?;
    Some(time.as_millisecond())
}

/// A time as `YYYY-MM-DDTHH:MM:SSZ`.
pub fn utc(milliseconds: i64) -> Option<String> {
    let seconds = milliseconds.div_euclid(1000);
    Some(Timestamp::from_second(seconds).ok()?.to_string())
}

/// A time a person typed: RFC 3339, or a date alone, which stands for its last second (UTC).
pub fn typed(text: &str) -> Option<String> {
    let text = text.trim();
    if let Some(time) = milliseconds(text) {
        return utc(time);
    }
    let date: Date = text.parse().ok()?;
    if text.len() != "2026-01-31".len() {
        return None;
    }
    Some(format!("{date}T23:59:59Z"))
}

/// A duration as ISO 8601 has it, in hours, minutes and seconds to a hundredth.
pub fn iso_duration(milliseconds: i64) -> String {
    let hundredths = milliseconds.max(0) / 10;
    let (seconds, rest) = (hundredths / 100, hundredths % 100);
    let (h, m, s) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    let mut text = "PT".to_owned();
    if h > 0 {
        text += &format!("{h}H");
    }
    if m > 0 {
        text += &format!("{m}M");
    }
    text + &format!("{s}.{rest:02}S")
}

/// A duration as people say it.
pub fn plain_duration(milliseconds: i64) -> String {
    let minutes = SignedDuration::from_millis(milliseconds.max(0)).as_mins();
    let seconds = milliseconds.max(0) / 1000 % 60;
    match (minutes / 1440, minutes / 60 % 24, minutes % 60) {
        (0, 0, 0) => format!("{seconds} s"),
        (0, 0, m) => format!("{m} min {seconds} s"),
        (0, h, m) => format!("{h} h {m} min"),
        (d, h, _) => format!("{d} d {h} h"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 3339 section 5.8 gives these as examples of one and the same instant each.
    #[test]
    fn times_of_rfc_3339() {
        assert_eq!(
            milliseconds("1996-12-19T16:39:57-08:00"),
            milliseconds("1996-12-20T00:39:57Z")
        );
        assert_eq!(milliseconds("1970-01-01T00:00:00.25Z"), Some(250));
        assert_eq!(milliseconds("yesterday"), None);
        assert_eq!(
            utc(851_042_397_000).as_deref(),
            Some("1996-12-20T00:39:57Z")
        );
        assert_eq!(typed("2026-01-31").as_deref(), Some("2026-01-31T23:59:59Z"));
        assert_eq!(
            typed("2026-01-31T10:00:00+02:00").as_deref(),
            Some("2026-01-31T08:00:00Z")
        );
        assert_eq!(typed("31.1.2026"), None);
    }

    /// ISO 8601 4.4.3.2: PnYnMnDTnHnMnS, a part that is zero may be left out.
    #[test]
    fn durations_of_iso_8601() {
        assert_eq!(iso_duration(3_723_450), "PT1H2M3.45S");
        assert_eq!(iso_duration(0), "PT0.00S");
        assert_eq!(iso_duration(-5), "PT0.00S");
    }
}
