//! Results as xAPI statements (IEEE 9274.1.1), one a line, for a learning record store.

use serde_json::{Value, json};
use sha1::{Digest, Sha1};
use tracebay_words::LANGUAGES;

use crate::classbook::{AttemptResult, Classbook};
use crate::{text, times};

/// Name space of our statement ids: the UUID of version 5 (RFC 9562 5.5) in the name space for URLs
/// of `https://tracebay.example/statements`. Never changed, so that a statement sent twice has the
/// same id and is stored once.
const URL_SPACE: [u8; 16] = [
    0x6b, 0xa7, 0xb8, 0x11, 0x9d, 0xad, 0x11, 0xd1, 0x80, 0xb4, 0x00, 0xc0, 0x4f, 0xd4, 0x30, 0xc8,
];
const OWN_SPACE: &str = "https://tracebay.example/statements";

/// Statements of all scored attempts, one JSON object a line, in the order of the files.
///
/// `home_page` is the account system's address, an IRL; the account's name is the learner's id.
pub fn statements(book: &Classbook, home_page: &str) -> String {
    let displays = ["attempted", "passed", "failed"].map(|verb| (verb, display(verb)));
    let mut text = String::new();
    for attempt in book.attempts.iter().filter(|a| a.assigned) {
        if let Some(statement) = statement(book, attempt, home_page, &displays) {
            text += &statement.to_string();
            text.push('\n');
        }
    }
    text
}

/// A verb's name in every language there are words in (a language map, 4.2.2.3).
fn display(verb: &str) -> Value {
    let names = LANGUAGES.iter().map(|(code, _)| {
        let name = text::words(code).text(&format!("report-verb-{verb}"));
        ((*code).to_owned(), Value::String(name))
    });
    Value::Object(names.collect())
}

fn statement(
    book: &Classbook,
    attempt: &AttemptResult,
    home_page: &str,
    displays: &[(&str, Value)],
) -> Option<Value> {
    let scored = attempt.scored.as_ref()?;
    let learner = &book.learners[attempt.learner?];
    let task = &book.tasks[attempt.task?];
    let base = home_page.trim_end_matches('/');
    let id = uuid_v5(
        &uuid_v5(&URL_SPACE, OWN_SPACE),
        &format!(
            "{base}\n{}\n{}\n{}\n{}\n{}",
            book.assignment, learner.id, attempt.sha256, book.rubric.id, book.rubric.version
        ),
    );
    let verb = match (attempt.given_back, scored.passed) {
        (false, _) => "attempted",
        (true, true) => "passed",
        (true, false) => "failed",
    };
    let mut result = json!({
        // 4.2.2.6.1: scaled is from -1 to 1, raw between min and max.
        "score": { "scaled": round(scored.points / 100.0), "raw": scored.points, "min": 0, "max": 100 },
        "completion": attempt.given_back,
    });
    // A success is claimed only of work that was completed.
    if attempt.given_back {
        result["success"] = json!(scored.passed);
    }
    if let Some(ms) = attempt.wall_ms {
        result["duration"] = json!(times::iso_duration(ms));
    }
    let mut statement = json!({
        "id": uuid_text(&id),
        "actor": {
            "objectType": "Agent",
            "name": learner.name,
            "account": { "homePage": home_page, "name": learner.id },
        },
        "verb": {
            "id": format!("http://adlnet.gov/expapi/verbs/{verb}"),
            "display": displays.iter().find(|(name, _)| *name == verb).map(|(_, display)| display),
        },
        "object": {
            "objectType": "Activity",
            "id": format!("{base}/assignment/{}/{}", book.assignment, task.scenario),
            "definition": {
                "type": "http://adlnet.gov/expapi/activities/assessment",
                "name": { "en": task.title.as_written() },
                "description": { "en": format!("{}, version {}", task.topic.as_written(), task.version) },
            },
        },
        "result": result,
        "context": {
            "platform": "Tracebay",
            "extensions": {
                format!("{OWN_SPACE}/rubric"): format!("{} version {}", book.rubric.id, book.rubric.version),
                format!("{OWN_SPACE}/attempt-sha256"): attempt.sha256,
                format!("{OWN_SPACE}/flags"): attempt.flags.iter().map(crate::flags::Flag::name).collect::<Vec<_>>(),
            },
        },
    });
    if let Some(ended) = &attempt.ended {
        statement["timestamp"] = json!(ended);
    }
    Some(statement)
}

/// A scaled score as decimals that come back from text as they were.
fn round(share: f64) -> f64 {
    (share * 10_000.0).round() / 10_000.0
}

/// RFC 9562 section 5.5: SHA-1 of name space and name, with version and variant set.
fn uuid_v5(space: &[u8; 16], name: &str) -> [u8; 16] {
    let mut hasher = Sha1::new();
    hasher.update(space);
    hasher.update(name.as_bytes());
    let hash = hasher.finalize();
    let mut id = [0; 16];
    id.copy_from_slice(&hash[..16]);
    id[6] = (id[6] & 0x0f) | 0x50;
    id[8] = (id[8] & 0x3f) | 0x80;
    id
}

fn uuid_text(id: &[u8; 16]) -> String {
    let hex = crate::handed::hex(id);
    format!(
        "{}-{}-{}-{}-{}",
        &hex[..8],
        &hex[8..12],
        &hex[12..16],
        &hex[16..20],
        &hex[20..]
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 9562 appendix A.4: name space DNS, "www.example.com".
    #[test]
    fn the_example_of_rfc_9562() {
        let dns = [
            0x6b, 0xa7, 0xb8, 0x10, 0x9d, 0xad, 0x11, 0xd1, 0x80, 0xb4, 0x00, 0xc0, 0x4f, 0xd4,
            0x30, 0xc8,
        ];
        assert_eq!(
            uuid_text(&uuid_v5(&dns, "www.example.com")),
            "2ed6657d-e927-568b-95e1-2665a8aea6a2"
        );
    }
}
