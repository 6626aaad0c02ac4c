//! One case, everybody's way through it, side by side: for a projector in front of a class.

use maud::{Markup, html};
use tracebay_words::Words;

use super::{not_passed, page, part_name, plots, say, tenths};
use crate::classbook::{AttemptResult, Classbook};
use crate::judging::Scored;

/// The page: a section for each task.
pub fn side_by_side_page(words: &Words, book: &Classbook) -> String {
    let t = |key| words.text(key);
    let title = say(words, "report-side-title", &[("title", &book.title)]);
    let body = html! {
        div class="wall" {
            h1 { (title) }
            p class="under" { (t("report-side-under")) }
            @for (i, task) in book.tasks.iter().enumerate() {
                section class=(if i == 0 { "" } else { "page" }) {
                    h2 { (task.title) }
                    @let seeds = seeds(book, i);
                    p {
                        @if seeds == 1 { (t("report-side-same")) }
                        @else { (say(words, "report-side-own", &[("count", &seeds.to_string())])) }
                    }
                    (grid(words, book, i))
                }
            }
        }
    };
    page(words, &title, &body)
}

fn counted(book: &Classbook, task: usize) -> Vec<(&str, &AttemptResult, &Scored)> {
    let mut rows: Vec<(&str, &AttemptResult, &Scored)> = book
        .learners
        .iter()
        .filter_map(|learner| {
            let attempt = &book.attempts[learner.tasks[task].counted?];
            Some((learner.name.as_str(), attempt, attempt.scored.as_ref()?))
        })
        .collect();
    rows.sort_by(|a, b| b.2.points.total_cmp(&a.2.points));
    rows
}

fn seeds(book: &Classbook, task: usize) -> usize {
    let mut seeds: Vec<u64> = counted(book, task).iter().map(|row| row.1.seed).collect();
    seeds.sort_unstable();
    seeds.dedup();
    seeds.len()
}

fn grid(words: &Words, book: &Classbook, task: usize) -> Markup {
    let rows = counted(book, task);
    let longest = rows
        .iter()
        .filter_map(|row| row.2.curve.last())
        .map(|end| end.0)
        .fold(1.0, f64::max);
    let most = rows
        .iter()
        .flat_map(|row| &row.2.curve)
        .map(|point| point.1)
        .fold(1.0, f64::max);
    html! {
        div class="tiles" {
            @for (name, _, s) in &rows {
                div class="tile" {
                    b { (name) }
                    div class="points" { (tenths(words, s.points)) (if s.passed { " ✓" } else { " ✕" }) }
                    (plots::small(words, &s.curve, longest, most))
                    div {
                        (say(words, "report-side-tests", &[
                            ("tests", &s.tests.to_string()), ("minutes", &tenths(words, s.testing_minutes)),
                        ]))
                    }
                    div class="soft" { (called(words, s)) }
                    (not_passed(words, s))
                    @let lost = lost(words, s);
                    @if !lost.is_empty() {
                        div class="soft" { (say(words, "report-side-lost", &[("parts", &lost)])) }
                    }
                }
            }
        }
    }
}

fn called(words: &Words, s: &Scored) -> String {
    let Some(call) = &s.called else {
        return words.text("report-side-no-call");
    };
    let how = match (call.right, call.proven) {
        (right, true) if right >= 1.0 => "report-side-proven",
        (right, false) if right >= 1.0 => "report-side-right",
        (right, _) if right > 0.0 => "report-side-place",
        _ => "report-side-wrong",
    };
    let how = words.text(how);
    say(
        words,
        "report-side-called",
        &[("call", &call.text), ("how", &how)],
    )
}

fn lost(words: &Words, s: &Scored) -> String {
    let parts: Vec<String> = s
        .parts
        .iter()
        .filter(|p| p.points + 0.05 < p.most)
        .map(|p| {
            let lost = tenths(words, p.most - p.points);
            format!("{} {lost}", part_name(words, p.part))
        })
        .collect();
    parts.join(" · ")
}
