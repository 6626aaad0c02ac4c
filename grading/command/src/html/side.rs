//! One case, everybody's way through it, side by side: for a projector in front of a class.

use maud::{Markup, html};

use super::{page, part_name, plots, points};
use crate::classbook::{AttemptResult, Classbook};
use crate::judging::Scored;

/// The page: a section for each task.
pub fn side_by_side_page(book: &Classbook) -> String {
    let body = html! {
        div class="wall" {
            h1 { (book.title) ": side by side" }
            p class="under" { "Best first. Every line is what was still uncertain, in bits, against job minutes up to the call." }
            @for (t, task) in book.tasks.iter().enumerate() {
                section class="page" {
                    h2 { (task.title) }
                    @let seeds = seeds(book, t);
                    p {
                        @if seeds == 1 { "The same car for all." }
                        @else { "Each on a car of their own (" (seeds) " different ones), so compare the way, not the minutes." }
                    }
                    (grid(book, t))
                }
            }
        }
    };
    page(&format!("{}: side by side", book.title), &body)
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

fn grid(book: &Classbook, task: usize) -> Markup {
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
                    div class="points" { (points(s.points)) (if s.passed { " ✓" } else { " ✕" }) }
                    (plots::small(&s.curve, longest, most))
                    div { (s.tests) " tests · " (points(s.testing_minutes)) " min" }
                    div class="soft" {
                        @match &s.called {
                            Some(call) => { "Called " (call.text) ": " (if call.right >= 1.0 { if call.proven { "right and proven" } else { "right, not proven" } } else if call.right > 0.0 { "right place" } else { "wrong" }) }
                            None => { "No call" }
                        }
                    }
                    div class="soft" {
                        @for part in s.parts.iter().filter(|p| p.points + 0.05 < p.most) {
                            (part_name(part.part)) " " (points(part.points)) " of " (points(part.most)) ". "
                        }
                    }
                }
            }
        }
    }
}
