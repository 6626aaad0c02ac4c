//! Plots as inline SVG, each with its figures in words for those who do not see it.

use maud::{Markup, html};
use tracebay_words::Words;

use super::{percent, say};

/// How many learners have how many points, in tens.
pub fn histogram(words: &Words, points: &[f64], pass_mark: f64) -> Markup {
    const W: f64 = 46.0;
    const H: f64 = 130.0;
    let mut bins = [0usize; 10];
    for p in points {
        bins[((*p / 10.0) as usize).min(9)] += 1;
    }
    let most = bins.iter().copied().max().unwrap_or(0).max(1) as f64;
    let told: Vec<String> = bins
        .iter()
        .enumerate()
        .filter(|(_, n)| **n > 0)
        .map(|(i, n)| format!("{}–{}: {n}", i * 10, i * 10 + 10))
        .collect();
    let mark = 20.0 + pass_mark / 10.0 * W;
    html! {
        figure {
            svg viewBox="0 0 500 190" width="500" height="190" role="img"
                aria-label={ (words.text("report-plot-points-told")) " " (told.join("; ")) } {
                @for (i, n) in bins.iter().enumerate() {
                    @let h = *n as f64 / most * H;
                    @let x = 20.0 + i as f64 * W;
                    rect class="bar" x=(x + 3.0) y=(150.0 - h) width=(W - 6.0) height=(h) {}
                    @if *n > 0 {
                        text x=(x + W / 2.0) y=(145.0 - h) text-anchor="middle" { (n) }
                    }
                    text x=(x) y="167" text-anchor="middle" { (i * 10) }
                }
                text x=(20.0 + 10.0 * W) y="167" text-anchor="middle" { "100" }
                line class="axis" x1="20" y1="150" x2=(20.0 + 10.0 * W) y2="150" {}
                line class="best" x1=(mark) y1="12" x2=(mark) y2="150" {}
                text x="250" y="186" text-anchor="middle" { (words.text("report-plot-points")) }
            }
        }
    }
}

/// Shares as bars with their names.
pub fn shares(words: &Words, rows: &[(&str, f64)], what: &str) -> Markup {
    let height = 22.0 * rows.len() as f64 + 24.0;
    let told: Vec<String> = rows
        .iter()
        .map(|(name, share)| format!("{name} {}", percent(words, *share)))
        .collect();
    html! {
        figure {
            svg viewBox={ "0 0 500 " (height) } width="500" height=(height) role="img"
                aria-label={ (what) ": " (told.join("; ")) } {
                @for (i, (name, share)) in rows.iter().enumerate() {
                    @let y = 22.0 * i as f64 + 4.0;
                    text x="136" y=(y + 13.0) text-anchor="end" { (name) }
                    rect class="rest" x="144" y=(y + 2.0) width="290" height="14" {}
                    rect class="bar" x="144" y=(y + 2.0) width=(290.0 * share.clamp(0.0, 1.0)) height="14" {}
                    text x="442" y=(y + 13.0) { (percent(words, *share)) }
                }
                text x="264" y=(height - 4.0) text-anchor="middle" { (what) }
            }
        }
    }
}

/// What was still uncertain against job minutes, with the best plan's minutes.
pub fn uncertainty(words: &Words, curve: &[(f64, f64)], best_minutes: f64) -> Markup {
    const LEFT: f64 = 40.0;
    const WIDTH: f64 = 560.0;
    const TOP: f64 = 12.0;
    const HEIGHT: f64 = 140.0;
    let Some(last) = curve.last() else {
        return html! {};
    };
    let start = curve.iter().find(|p| p.0 > 0.0).map_or(0.0, |p| p.0);
    let end = last.0.max(start + best_minutes).max(1.0);
    let most_bits = curve.iter().map(|p| p.1).fold(1.0, f64::max).ceil();
    let x = |minutes: f64| LEFT + minutes / end * WIDTH;
    let y = |bits: f64| TOP + HEIGHT - bits / most_bits * HEIGHT;
    let mut path = String::new();
    let mut before = None;
    for (minutes, bits) in curve {
        // Steps: what is known changes only when something is seen.
        match before {
            None => path += &format!("M{:.1} {:.1}", x(*minutes), y(*bits)),
            Some(_) => path += &format!("H{:.1}V{:.1}", x(*minutes), y(*bits)),
        }
        before = Some(*bits);
    }
    let step = [1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 60.0, 120.0, 240.0]
        .into_iter()
        .find(|step| end / step <= 10.0)
        .unwrap_or(600.0);
    let ticks = (0..).map(|i| f64::from(i) * step).take_while(|t| *t <= end);
    html! {
        figure {
            svg viewBox="0 0 620 196" width="620" height="196" role="img"
                aria-label=(say(words, "report-plot-uncertainty-told", &[
                    ("before", &words.number(curve[0].1, 2)), ("after", &words.number(last.1, 2)),
                    ("minutes", &words.number(last.0, 1)),
                ])) {
                @for bits in 0..=(most_bits as u32) {
                    line class="grid" x1=(LEFT) y1=(y(f64::from(bits))) x2=(LEFT + WIDTH) y2=(y(f64::from(bits))) {}
                    text x=(LEFT - 6.0) y=(y(f64::from(bits)) + 4.0) text-anchor="end" { (bits) }
                }
                line class="axis" x1=(LEFT) y1=(TOP + HEIGHT) x2=(LEFT + WIDTH) y2=(TOP + HEIGHT) {}
                @for t in ticks {
                    text x=(x(t)) y=(TOP + HEIGHT + 16.0) text-anchor="middle" { (t) }
                }
                line class="best" x1=(x(start + best_minutes)) y1=(TOP) x2=(x(start + best_minutes)) y2=(TOP + HEIGHT) {}
                path class="trace" d=(path) {}
                text x=(LEFT + WIDTH / 2.0) y="190" text-anchor="middle" {
                    (words.text("report-plot-axis"))
                }
                text x=(LEFT + 4.0) y="10" { (words.text("report-plot-bits")) }
            }
            figcaption { (words.text("report-plot-uncertainty")) }
        }
    }
}

/// A small plot of uncertainty, all of a wall to the same scale.
pub fn small(words: &Words, curve: &[(f64, f64)], longest: f64, most: f64) -> Markup {
    let x = |minutes: f64| 2.0 + minutes / longest * 216.0;
    let y = |bits: f64| 68.0 - bits / most * 64.0;
    let mut path = String::new();
    for (i, (minutes, bits)) in curve.iter().enumerate() {
        if i == 0 {
            path += &format!("M{:.1} {:.1}", x(*minutes), y(*bits));
        } else {
            path += &format!("H{:.1}V{:.1}", x(*minutes), y(*bits));
        }
    }
    html! {
        svg viewBox="0 0 220 72" width="220" height="72" role="img" aria-label=(words.text("report-plot-small")) {
            line class="axis" x1="2" y1="68" x2="218" y2="68" {}
            path class="trace" d=(path) {}
        }
    }
}
