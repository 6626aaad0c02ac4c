//! How far technicians who rank attempts blind agree with each other and with the grader: Kendall's
//! tau-b of every two of them.

use std::path::Path;

use serde::Serialize;
use tracebay_grading::rank::kendall_tau_b;

use crate::cli::AgreementArgs;
use crate::items::mean;

/// Name of the grader's column.
const GRADER: &str = "grader";

/// Agreement of raters.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Agreement {
    /// Attempts ranked.
    pub attempts: usize,
    /// Raters, in the file's order.
    pub raters: Vec<String>,
    /// Tau-b of every two raters; none where one of them made no difference between attempts.
    pub pairs: Vec<Pair>,
    /// Mean tau-b of the technicians with each other.
    pub among_technicians: Option<f64>,
    /// Mean tau-b of the technicians with the grader.
    pub with_grader: Option<f64>,
}

/// Two raters.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pair {
    /// One.
    pub a: String,
    /// The other.
    pub b: String,
    /// Attempts both ranked.
    pub attempts: usize,
    /// Tau-b.
    pub tau_b: Option<f64>,
}

/// Prints the agreement of a file's raters.
///
/// # Errors
/// What is wrong with the file.
pub fn command(args: &AgreementArgs) -> Result<(), String> {
    let text = std::fs::read(&args.file).map_err(|e| crate::library::file_error(&args.file, &e))?;
    let agreement = agreement(&text).map_err(|e| format!("{}: {e}", named(&args.file)))?;
    if args.json {
        tell!(
            "{}",
            serde_json::to_string(&agreement).map_err(|e| e.to_string())?
        );
        return Ok(());
    }
    let figure = |tau: Option<f64>| tau.map_or("none".to_owned(), |tau| format!("{tau:.3}"));
    tell!(
        "{} attempts, {} raters; Kendall's tau-b",
        agreement.attempts,
        agreement.raters.len()
    );
    for pair in &agreement.pairs {
        tell!(
            "{} and {}: {} ({} attempts)",
            pair.a,
            pair.b,
            figure(pair.tau_b),
            pair.attempts
        );
    }
    tell!(
        "technicians with each other, mean: {}",
        figure(agreement.among_technicians)
    );
    tell!(
        "technicians with the grader, mean: {}",
        figure(agreement.with_grader)
    );
    Ok(())
}

fn named(path: &Path) -> String {
    path.display().to_string()
}

/// The agreement of a CSV text: the first column names attempts, each other is a rater; `grader` is
/// the grader's points. Empty cells are attempts a rater did not rank.
///
/// # Errors
/// No raters, or a cell that is no number.
pub fn agreement(text: &[u8]) -> Result<Agreement, String> {
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .from_reader(text);
    let head = reader.headers().map_err(|e| e.to_string())?.clone();
    let raters: Vec<String> = head.iter().skip(1).map(str::to_owned).collect();
    if raters.len() < 2 {
        return Err("needs a column for the attempt and at least two raters, as in the rankings.csv that `blind` makes".to_owned());
    }
    let mut ranks: Vec<Vec<Option<f64>>> = vec![Vec::new(); raters.len()];
    let mut attempts = 0;
    for record in reader.records() {
        let record = record.map_err(|e| e.to_string())?;
        let line = record.position().map_or(0, csv::Position::line);
        attempts += 1;
        for (rater, cell) in record.iter().skip(1).enumerate() {
            let rank = if cell.is_empty() {
                None
            } else {
                let number: f64 = cell
                    .parse()
                    .ok()
                    .filter(|n: &f64| n.is_finite())
                    .ok_or_else(|| {
                        format!("line {line}, {}: `{cell}` is no number", raters[rater])
                    })?;
                Some(number)
            };
            ranks[rater].push(rank);
        }
    }
    let mut pairs = Vec::new();
    for a in 0..raters.len() {
        for b in a + 1..raters.len() {
            let both: (Vec<f64>, Vec<f64>) = ranks[a]
                .iter()
                .zip(&ranks[b])
                .filter_map(|(x, y)| Some(((*x)?, (*y)?)))
                .unzip();
            pairs.push(Pair {
                a: raters[a].clone(),
                b: raters[b].clone(),
                attempts: both.0.len(),
                tau_b: kendall_tau_b(&both.0, &both.1).ok(),
            });
        }
    }
    let of = |grader: bool| {
        let taus: Vec<f64> = pairs
            .iter()
            .filter(|p| (p.a == GRADER || p.b == GRADER) == grader)
            .filter_map(|p| p.tau_b)
            .collect();
        mean(&taus)
    };
    Ok(Agreement {
        attempts,
        among_technicians: of(false),
        with_grader: of(true),
        raters,
        pairs,
    })
}
