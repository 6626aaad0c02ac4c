//! A learner's page: what counts, what was flagged, the card, the walk-back.

use maud::{Markup, html};
use tracebay_words::WalkStep;

use tracebay_grading::scorecard::Gate;

use super::{flag_sign, page, part_name, percent, plots, points};
use crate::classbook::{AttemptResult, Classbook};
use crate::judging::Scored;
use crate::times;

/// Faults shown at a step of the walk-back.
const MOST_SHOWN: usize = 5;

/// A learner's page.
pub fn learner_page(book: &Classbook, index: usize) -> String {
    let learner = &book.learners[index];
    let body = html! {
        nav class="screen" { a href="../report.html" { "The class" } }
        h1 { (learner.name) }
        p class="under" {
            "Id " (learner.id) " · " (book.title) " · rubric " (book.rubric.id) ", version " (book.rubric.version)
        }
        table {
            thead { tr {
                th { "Task" } th class="n" { "Points" } th { "Passed" } th class="n" { "Computed" } th { "Correction" }
                @if let Some(other) = &book.other_rubric { th class="n" { "Under " (other.id) ", version " (other.version) } }
            } }
            tbody {
                @for (task, name) in learner.tasks.iter().zip(&book.tasks) {
                    tr {
                        td { (name.title) }
                        td class="n" { (task.points.map_or("missing".to_owned(), points)) }
                        td { (if task.passed { "✓ yes" } else { "✕ no" }) }
                        td class="n" { (task.computed.map_or("–".to_owned(), points)) }
                        td { @if let Some(c) = &task.correction { (points(c.points)) ": " (c.reason) } }
                        @if book.other_rubric.is_some() {
                            @let other = task.counted.and_then(|i| book.attempts[i].scored.as_ref()).and_then(|s| s.other.as_ref());
                            td class="n" { (other.map_or("–".to_owned(), |o| format!("{} {}", points(o.points), if o.passed { "✓" } else { "✕" }))) }
                        }
                    }
                }
                tr class="sum" { td { "Mean" } td class="n" { (points(learner.points)) } td {} td {} td {} @if book.other_rubric.is_some() { td {} } }
            }
        }
        @for (t, (task, name)) in learner.tasks.iter().zip(&book.tasks).enumerate() {
            @for (n, i) in task.attempts.iter().enumerate() {
                // The first stands under the table, each other on a sheet of its own.
                section class=(if t + n == 0 { "" } else { "page" }) {
                    (attempt(&name.title, &book.attempts[*i], task.counted == Some(*i)))
                }
            }
        }
        @if !learner.practice.is_empty() {
            h2 { "Practice handed in as well" }
            ul class="said" { @for file in &learner.practice { li class="file" { (file) } } }
        }
        p class="soft" { "Cars, complaints and priors are invented. Made with Tracebay " (book.program) ", engine revision " (book.engine_revision) "." }
    };
    page(&format!("{}: {}", learner.name, book.title), &body)
}

fn attempt(title: &str, a: &AttemptResult, counts: bool) -> Markup {
    html! {
            h2 {
                (title)
                @if let Some(n) = a.number { ", attempt " (n) }
                @if counts { " (counts)" }
            }
            p class="under" {
                "Seed " (a.seed) " · " (a.actions) " actions"
                @if let Some(started) = &a.started { " · begun " (started) }
                @if let Some(ms) = a.wall_ms { " · took " (times::plain_duration(ms)) " by the clock" }
                br; span class="file" { (a.file) " · sha256 " (a.sha256.get(..16).unwrap_or(&a.sha256)) "…" }
            }
            @if !a.flags.is_empty() {
                ul class="said" { @for flag in &a.flags { li { (flag_sign(flag)) " " (flag.sentence()) } } }
            }
            @if let Some(s) = &a.scored { (scored(s)) }
    }
}

fn scored(s: &Scored) -> Markup {
    html! {
        div class="figures" {
            div { b class=(if s.passed { "ok" } else { "fail" }) { (points(s.points)) (if s.passed { " ✓" } else { " ✕" }) } span { "points of 100" } }
            div { b { (s.tests) } span { "tests" } }
            div { b { (points(s.testing_minutes)) } span { "minutes of tests" } }
            div { b { (points(s.best_minutes)) } span { (if s.best_exact { "minutes of the best plan" } else { "minutes of the best plan known" }) } }
            div { b { (points(s.minutes)) } span { "job minutes in all" } }
        }
        (plots::uncertainty(&s.curve, s.best_minutes))
        h3 { "Card" }
        p { "It was: " (s.fault_text) "." }
        @if !s.gates.is_empty() {
            p class="fail" { "Not passed: " (s.gates.iter().map(|g| gate(*g)).collect::<Vec<_>>().join("; ")) "." }
        }
        @for (i, lines) in s.card.iter().enumerate() {
            @if let Some(part) = s.parts.get(i) {
                h4 { (part_name(part.part)) ": " (points(part.points)) " of " (points(part.most)) }
            } @else if !lines.is_empty() {
                h4 { "Hints" }
            }
            ul class="card" { @for line in lines { li { b { (signed(line.points)) } (line.text) } } }
        }
        @if !s.walk.is_empty() {
            h3 { "Walk-back" }
            ol class="walk" { @for step in &s.walk { (walk_step(step)) } }
        }
    }
}

fn signed(points: f64) -> String {
    if points.abs() < 0.05 {
        return "0.0".to_owned();
    }
    format!("{points:+.1}").replace('-', "−")
}

fn gate(gate: Gate) -> &'static str {
    match gate {
        Gate::StopWork => "a safety rule that stops the work was broken",
        Gate::WrongCall => "the last call was not right",
        Gate::ComplaintLeft => "the complaint was still there",
        Gate::BelowPassMark => "too few points",
        Gate::OverBudget => "more minutes than the customer would accept",
        Gate::NotHandedBack => "the car was not given back",
    }
}

fn walk_step(step: &WalkStep) -> Markup {
    let told = step.tested || step.bits.0 - step.bits.1 >= 0.005;
    html! {
        li class=(if step.tested { "test" } else { "" }) {
            span class="no" { (step.n) }
            span class="at" { (format!("{:.1} min", step.minutes)) }
            (step.action)
            @for seen in &step.seen { div class="seen" { (seen) } }
            @if told {
                div { (step.could) " " (step.told) }
                div class="maybe" {
                    @for (fault, share) in step.possible.iter().take(MOST_SHOWN) {
                        span { (fault) }
                        i style={ "width:" (format!("{:.1}", (share * 100.0).max(0.5))) "%" } {}
                        span class="n" { (percent(*share)) }
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
