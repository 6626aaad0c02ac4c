//! The class's page: overview, what needs a look, item analysis.

use maud::{Markup, html};

use super::{flag_sign, gravity_sign, minutes, page, page_name, part_name, percent, plots, points};
use crate::classbook::{AttemptResult, Classbook};
use crate::flags::{Flag, Gravity};
use crate::items::{Item, mean, poor_name};

/// The class's page. Learners' pages lie in the folder `learners` beside it.
pub fn class_page(book: &Classbook) -> String {
    let body = html! {
        h1 { (book.title) }
        p class="under" {
            "Assignment " (book.assignment) " · rubric “" (book.rubric.title) "” ("
            (book.rubric.id) ", version " (book.rubric.version) ")"
            @if let Some(due) = &book.due { " · due " (due) }
        }
        nav class="screen" {
            a href="#class" { "Class" } a href="#look" { "To look at" }
            a href="side-by-side.html" { "Side by side" }
            a href="#tasks" { "Tasks" } a href="#files" { "Files" } a href="#how" { "How to read this" }
        }
        (figures(book))
        (class_table(book))
        (to_look_at(book))
        @for item in &book.items { (item_section(book, item)) }
        (files(book))
        (how(book))
    };
    page(&format!("{}: class", book.title), &body)
}

fn figures(book: &Classbook) -> Markup {
    let all: Vec<f64> = book.learners.iter().map(|l| l.points).collect();
    let handed_in = book
        .learners
        .iter()
        .filter(|l| l.tasks.iter().any(|t| !t.missing))
        .count();
    let passed_all = book
        .learners
        .iter()
        .filter(|l| l.passed == l.tasks.len())
        .count();
    let looked = book
        .attempts
        .iter()
        .filter(|a| a.assigned && a.gravity().is_some_and(|g| g >= Gravity::Look))
        .count();
    html! {
        div class="figures" {
            div { b { (book.learners.len()) } span { "learners" } }
            div { b { (handed_in) } span { "with work that counts" } }
            div { b { (passed_all) } span { "passed every task" } }
            div { b { (mean(&all).map_or("–".to_owned(), points)) } span { "mean points of 100" } }
            div { b { (looked) } span { "attempts to look at" } }
        }
        (plots::histogram(&all, book.rubric.pass_mark))
    }
}

fn class_table(book: &Classbook) -> Markup {
    html! {
        h2 id="class" { "Class" }
        table {
            thead { tr {
                th { "Learner" } th { "Id" }
                @for task in &book.tasks { th class="n" { (task.title) } }
                th class="n" { "Mean" } th { "Flags" }
            } }
            tbody {
                @for (i, learner) in book.learners.iter().enumerate() {
                    tr {
                        td { a href={ "learners/" (page_name(i)) } { (learner.name) } }
                        td class="id" { (learner.id) }
                        @for task in &learner.tasks {
                            td class="n" {
                                @match task.points {
                                    None => span class="fail" { "missing" },
                                    Some(p) => {
                                        span class=(if task.passed { "ok" } else { "fail" }) {
                                            (points(p)) @if task.passed { " ✓" } @else { " ✕" }
                                        }
                                        @if task.correction.is_some() {
                                            " " span class="soft" { "(computed " (task.computed.map_or("–".to_owned(), points)) ")" }
                                        }
                                    }
                                }
                            }
                        }
                        td class="n" { (points(learner.points)) }
                        td { @for flag in flags_of(book, i) { (flag_sign(flag)) } }
                    }
                }
            }
        }
    }
}

/// The different flags of a learner's attempts.
fn flags_of(book: &Classbook, learner: usize) -> Vec<&Flag> {
    let mut flags: Vec<&Flag> = Vec::new();
    let own = book
        .attempts
        .iter()
        .filter(|a| a.learner == Some(learner) && a.assigned);
    for flag in own.flat_map(|a| &a.flags) {
        if !flags.iter().any(|f| f.name() == flag.name()) {
            flags.push(flag);
        }
    }
    flags
}

fn to_look_at(book: &Classbook) -> Markup {
    let mut rows: Vec<&AttemptResult> = book
        .attempts
        .iter()
        .filter(|a| a.assigned && a.gravity().is_some_and(|g| g >= Gravity::Look))
        .collect();
    rows.sort_by_key(|a| std::cmp::Reverse(a.gravity()));
    let missing: Vec<String> = book
        .learners
        .iter()
        .flat_map(|l| {
            l.tasks
                .iter()
                .zip(&book.tasks)
                .filter(|(t, _)| t.missing)
                .map(|(t, name)| {
                    let void = if t.attempts.is_empty() {
                        ""
                    } else {
                        " (handed in, but no score given)"
                    };
                    format!("{} ({}): {}{void}", l.name, l.id, name.title)
                })
        })
        .collect();
    html! {
        h2 id="look" { "To look at" }
        @if rows.is_empty() && missing.is_empty() { p { "Nothing." } }
        @if !rows.is_empty() {
            table {
                thead { tr { th { "" } th { "Whose" } th { "Task" } th { "What" } th { "File" } } }
                tbody { @for a in rows { (look_row(book, a)) } }
            }
            p class="soft" { "✕ no score is given · ! the score counts until you decide otherwise" }
        }
        @if !missing.is_empty() {
            h3 { "Missing work (" (missing.len()) ")" }
            ul class="said" { @for text in &missing { li { (text) } } }
        }
        @if !book.stray_corrections.is_empty() {
            h3 { "Corrections that fit nobody" }
            ul class="said" { @for text in &book.stray_corrections { li { (text) } } }
        }
    }
}

fn look_row(book: &Classbook, a: &AttemptResult) -> Markup {
    let who = match a.learner {
        Some(l) => book.learners[l].name.clone(),
        None => a
            .learner_id
            .clone()
            .unwrap_or_else(|| "nobody named".to_owned()),
    };
    let sign = a.gravity().map_or("", |g| gravity_sign(g).1);
    html! {
        tr {
            td { (sign) }
            td { (who) }
            td { (a.scenario) }
            td { @for f in a.flags.iter().filter(|f| f.gravity() >= Gravity::Look) { (f.sentence()) " " } }
            td class="file" { (a.file) }
        }
    }
}

fn figure_or_dash(value: Option<f64>, decimals: usize) -> String {
    value.map_or("–".to_owned(), |v| format!("{v:.decimals$}"))
}

fn item_section(book: &Classbook, item: &Item) -> Markup {
    let task = &book.tasks[item.task];
    let names: Vec<&'static str> = book
        .attempts
        .iter()
        .find_map(|a| a.scored.as_ref())
        .map(|s| s.parts.iter().map(|p| part_name(p.part)).collect())
        .unwrap_or_default();
    let parts: Vec<(&str, f64)> = names.into_iter().zip(item.parts.iter().copied()).collect();
    html! {
        section class="page" {
            h2 id=(if item.task == 0 { "tasks" } else { "" }) { (task.title) }
            p class="under" { (task.scenario) ", version " (task.version) " · " (task.topic) }
            @if item.learners == 0 {
                p { "Nobody handed in work that counts." }
            } @else {
                div class="figures" {
                    div { b { (item.learners) } span { "learners" } }
                    div { b { (figure_or_dash(item.mean_points, 1)) } span { "mean points" } }
                    div { b { (item.difficulty.map_or("–".to_owned(), percent)) } span { "passed (difficulty)" } }
                    div { b { (figure_or_dash(item.discrimination, 2)) } span { "discrimination: with the other tasks" } }
                    div { b { (figure_or_dash(item.upper_lower, 2)) } span { "discrimination: upper less lower 27 %" } }
                }
                (plots::shares(&parts, "mean share of the points of each part"))
                (faults(item))
                (wasted(item))
                (beliefs(item))
                @if !item.breaches.is_empty() {
                    h3 { "Safety rules broken" }
                    table {
                        thead { tr { th { "Rule" } th class="n" { "Times" } } }
                        tbody { @for (says, n) in &item.breaches { tr { td { (says) } td class="n" { (n) } } } }
                    }
                }
            }
        }
    }
}

fn faults(item: &Item) -> Markup {
    html! {
        h3 { "Faults, hardest first" }
        table {
            thead { tr {
                th { "What it was" } th class="n" { "Learners" } th class="n" { "Found" }
                th class="n" { "Proven" } th class="n" { "Missed" } th class="n" { "Mean points" }
            } }
            tbody { @for row in &item.faults {
                tr {
                    td { (row.fault) } td class="n" { (row.learners) } td class="n" { (row.found) }
                    td class="n" { (row.proven) } td class="n" { (row.learners - row.found) }
                    td class="n" { (points(row.mean_points)) }
                }
            } }
        }
    }
}

fn wasted(item: &Item) -> Markup {
    html! {
        h3 { "Tests the class wasted" }
        @if item.wasted.is_empty() { p { "None." } }
        @else {
            table {
                thead { tr {
                    th { "What was done" } th { "What was poor about it" } th class="n" { "Times" }
                    th class="n" { "Learners" } th class="n" { "Minutes given away" }
                } }
                tbody { @for row in &item.wasted {
                    tr {
                        td { (row.action) } td { (row.kind.map_or("another test would have told more", poor_name)) }
                        td class="n" { (row.times) } td class="n" { (row.learners) }
                        td class="n" { (minutes(row.minutes)) }
                    }
                } }
            }
        }
    }
}

fn beliefs(item: &Item) -> Markup {
    html! {
        h3 { "Where beliefs went wrong" }
        p {
            (item.called_early) " right call(s) were made before the fault was proven. Tests made after it was proven took "
            (minutes(item.after_proof_minutes)) " minutes a learner."
        }
        @if !item.wrong_calls.is_empty() {
            table {
                thead { tr {
                    th { "Called" } th { "It was" } th class="n" { "Times" }
                    th class="n" { "How likely the call was by what had been seen" }
                } }
                tbody { @for row in &item.wrong_calls {
                    tr {
                        td { (row.called) } td { (row.fault) } td class="n" { (row.times) }
                        td class="n" { (percent(row.posterior)) }
                    }
                } }
            }
        }
    }
}

fn files(book: &Classbook) -> Markup {
    let practice = book.attempts.iter().filter(|a| !a.assigned).count();
    html! {
        section class="page" {
            h2 id="files" { "Files" }
            p {
                (book.attempts.len()) " attempt(s) were read, " (practice)
                " of them practice outside any assignment. " (book.files.len()) " other file(s):"
            }
            @if !book.files.is_empty() {
                table {
                    thead { tr { th { "File" } th { "What" } } }
                    tbody { @for row in &book.files { tr { td class="file" { (row.file) } td { (row.what) } } } }
                }
            }
        }
    }
}

fn how(book: &Classbook) -> Markup {
    html! {
        h2 id="how" { "How to read this" }
        p { "Every attempt was replayed action by action on the learner's own case; points written in files are ignored. The same files, assignment, rubric and program version give the same report." }
        p { "Points are those of the attempt that counts (" (format!("{:?}", book.counts).to_lowercase()) "); missing work counts nothing in the mean. ✓ and ✕ say whether the rubric's conditions for passing are met, which is more than its pass mark of " (points(book.rubric.pass_mark)) "." }
        p { "Difficulty is the share of learners who passed, so a high figure is an easy task. Discrimination near 0 or below says that the task does not tell stronger from weaker learners; with few learners it says little. It is given from five learners on, and against the other tasks only where there is more than one." }
        p { "A flag is a reason to look, not a verdict. Learners can find out the fault of a seed if they have the program; supervise work that must stand up." }
        p class="soft" { "Cars, complaints and priors are invented. Made with Tracebay " (book.program) ", engine revision " (book.engine_revision) "." }
    }
}
