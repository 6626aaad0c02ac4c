//! A learner's page: what counts, what was flagged, the card, the walk-back.

use maud::{Markup, html};
use tracebay_grading::scorecard::Part;
use tracebay_words::{WalkStep, Words};

use super::{
    flag_sign, invented, not_passed, or_dash, page, part_name, percent, plots, say, tenths,
};
use crate::classbook::{AttemptResult, Classbook};
use crate::judging::Scored;
use crate::text::counted;
use crate::times;

/// Faults shown at a step of the walk-back.
const MOST_SHOWN: usize = 5;

/// A learner's page.
pub fn learner_page(words: &Words, book: &Classbook, index: usize) -> String {
    let t = |key| words.text(key);
    let learner = &book.learners[index];
    let version = book.rubric.version.to_string();
    let body = html! {
        nav class="screen" { a href="../report.html" { (t("report-nav-back")) } }
        h1 { (learner.name) }
        p class="under" {
            (say(words, "report-learner-under", &[
                ("id", &learner.id), ("title", &book.title), ("rubric", &book.rubric.id),
                ("version", &version),
            ]))
        }
        (table(words, book, index))
        @for (t, (task, name)) in learner.tasks.iter().zip(&book.tasks).enumerate() {
            @for (n, i) in task.attempts.iter().enumerate() {
                // The first stands under the table, each other on a sheet of its own.
                section class=(if t + n == 0 { "" } else { "page" }) {
                    (attempt(words, &name.title, &book.attempts[*i], n + 1, task.counted == Some(*i)))
                }
            }
        }
        @if !learner.practice.is_empty() {
            h2 { (t("report-practice")) }
            ul class="said" { @for file in &learner.practice { li class="file" { (file) } } }
        }
        (invented(words, book))
    };
    page(words, &format!("{}: {}", learner.name, book.title), &body)
}

fn table(words: &Words, book: &Classbook, index: usize) -> Markup {
    let t = |key| words.text(key);
    let learner = &book.learners[index];
    html! {
        table {
            thead { tr {
                th { (t("report-column-task")) } th class="n" { (t("report-column-points")) }
                th { (t("report-column-passed")) } th class="n" { (t("report-column-computed")) }
                th { (t("report-column-correction")) }
                @if let Some(other) = &book.other_rubric {
                    @let version = other.version.to_string();
                    th class="n" { (say(words, "report-column-under", &[("rubric", &other.id), ("version", &version)])) }
                }
            } }
            tbody {
                @for (task, name) in learner.tasks.iter().zip(&book.tasks) {
                    tr {
                        td { (name.title) }
                        td class="n" { (task.points.map_or_else(|| t("report-missing"), |p| tenths(words, p))) }
                        td { (t(if task.passed { "report-yes" } else { "report-no" })) }
                        td class="n" { (or_dash(words, task.computed, 1)) }
                        td { @if let Some(c) = &task.correction { (tenths(words, c.points)) ": " (c.reason) } }
                        @if book.other_rubric.is_some() {
                            @let other = task.counted.and_then(|i| book.attempts[i].scored.as_ref()).and_then(|s| s.other.as_ref());
                            td class="n" { (other.map_or("–".to_owned(), |o| format!("{} {}", tenths(words, o.points), if o.passed { "✓" } else { "✕" }))) }
                        }
                    }
                }
                tr class="sum" {
                    td { (t("report-column-mean")) } td class="n" { (tenths(words, learner.points)) }
                    td {} td {} td {} @if book.other_rubric.is_some() { td {} }
                }
            }
        }
    }
}

fn attempt(words: &Words, task: &str, a: &AttemptResult, n: usize, counts: bool) -> Markup {
    let number = a.number.map_or(n.to_string(), |number| number.to_string());
    let heading = if counts {
        "report-attempt-counts"
    } else {
        "report-attempt"
    };
    let (seed, actions) = (a.seed.to_string(), a.actions.to_string());
    html! {
        h2 { (say(words, heading, &[("task", task), ("n", &number)])) }
        p class="under" {
            (say(words, "report-attempt-under", &[("seed", &seed), ("actions", &actions)]))
            @if let Some(started) = &a.started { " · " (say(words, "report-begun", &[("at", started)])) }
            @if let Some(ms) = a.wall_ms { " · " (say(words, "report-took", &[("time", &times::plain_duration(ms))])) }
            br; span class="file" { (a.file) " · sha256 " (a.sha256.get(..16).unwrap_or(&a.sha256)) "…" }
        }
        @if !a.flags.is_empty() {
            ul class="said" {
                @for flag in &a.flags { li { (flag_sign(words, flag)) " " (flag.sentence(words)) } }
            }
        }
        @if let Some(s) = &a.scored { (scored(words, s)) }
    }
}

fn scored(words: &Words, s: &Scored) -> Markup {
    let t = |key| words.text(key);
    let sign = if s.passed { " ✓" } else { " ✕" };
    let best = if s.best_exact {
        "report-figure-best"
    } else {
        "report-figure-best-known"
    };
    html! {
        div class="figures" {
            div { b class=(if s.passed { "ok" } else { "fail" }) { (tenths(words, s.points)) (sign) } span { (t("report-figure-points")) } }
            div { b { (s.tests) } span { (t("report-figure-tests")) } }
            div { b { (tenths(words, s.testing_minutes)) } span { (t("report-figure-testing")) } }
            div { b { (tenths(words, s.best_minutes)) } span { (t(best)) } }
            div { b { (tenths(words, s.minutes)) } span { (t("report-figure-job")) } }
        }
        (plots::uncertainty(words, &s.curve, s.best_minutes))
        h3 { (t("report-card")) }
        p { (say(words, "report-it-was", &[("fault", &s.fault_text)])) }
        (not_passed(words, s))
        @for (i, lines) in s.card.iter().enumerate() {
            @if i < s.parts.len() || !lines.is_empty() {
                section class="part" {
                    @if let Some(part) = s.parts.get(i) {
                        @let of = [("points", &*tenths(words, part.points)), ("most", &*tenths(words, part.most))];
                        h4 { (part_name(words, part.part)) ": " (say(words, "report-of", &of)) }
                    } @else {
                        h4 { (t("report-hints")) }
                    }
                    ul class="card" {
                        @for line in lines { li { b { (signed(words, line.points)) } (line.text) } }
                        @if let Some(key) = order_told(s, i) { li { b {} (t(key)) } }
                    }
                }
            }
        }
        @if !s.walk.is_empty() {
            h3 { (t("report-walk")) }
            ol class="walk" { @for step in &s.walk { (walk_step(words, step)) } }
        }
    }
}

/// What the lines of the order do not say by themselves: why points are missing where no test lost any.
fn order_told(s: &Scored, index: usize) -> Option<&'static str> {
    let part = s.parts.get(index).filter(|part| part.part == Part::Order)?;
    let lost: f64 = s.card[index].iter().map(|line| line.points).sum();
    if part.points + 0.1 >= part.most + lost {
        return None;
    }
    Some(if s.tests == 0 {
        "report-order-no-tests"
    } else {
        "report-order-capped"
    })
}

fn signed(words: &Words, points: f64) -> String {
    if points.abs() < 0.05 {
        return words.number(0.0, 1);
    }
    let sign = if points < 0.0 { "−" } else { "+" };
    format!("{sign}{}", words.number(points.abs(), 1))
}

fn walk_step(words: &Words, step: &WalkStep) -> Markup {
    let told = step.tested || step.bits.0 - step.bits.1 >= 0.005;
    let minutes = tenths(words, step.minutes);
    html! {
        li class=(if step.tested { "test" } else { "" }) {
            span class="no" { (step.n) }
            span class="at" { (say(words, "report-minutes", &[("value", &minutes)])) }
            (step.action)
            @for seen in counted(words, &step.seen) { div class="seen" { (seen) } }
            @if told {
                div { (step.could) " " (step.told) }
                div class="maybe" {
                    @for (fault, share) in step.possible.iter().take(MOST_SHOWN) {
                        span { (fault) }
                        i style={ "width:" (format!("{:.1}", (share * 100.0).max(0.5))) "%" } {}
                        span class="n" { (percent(words, *share)) }
                    }
                }
                @if step.poor.is_some() || step.why.is_some() || step.better.is_some() {
                    div class="why" {
                        @for text in [&step.poor, &step.why, &step.better].into_iter().flatten() { (text) " " }
                    }
                }
            }
        }
    }
}
