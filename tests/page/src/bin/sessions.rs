//! `sessions play FROM COUNT` writes attempts, one JSON string a line; `sessions replay` reads them so
//! and writes what each comes to; `sessions time MINUTES` writes milliseconds for them at a car.

use std::io::{BufRead, stdin};
use std::time::Instant;

use tracebay_page_replay::{catalogue, minutes_pass, played, replayed};

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let number = |at: usize| arguments.get(at).and_then(|n| n.parse::<u64>().ok());
    let catalogue = catalogue();
    match (arguments.first().map(String::as_str), number(1), number(2)) {
        (Some("play"), Some(from), Some(count)) => {
            for n in from..from + count {
                println!("{}", serde_json::json!(played(&catalogue, n)));
            }
        }
        (Some("replay"), None, None) => {
            for line in stdin().lock().lines() {
                let line = line.expect("readable");
                let attempt: String = serde_json::from_str(&line).expect("a JSON string");
                match replayed(&catalogue, &attempt) {
                    Ok(told) => println!("{told}"),
                    Err(why) => println!("does not replay: {why}"),
                }
            }
        }
        (Some("time"), Some(minutes), None) => {
            minutes_pass(&catalogue, 1);
            let start = Instant::now();
            minutes_pass(&catalogue, minutes as u32);
            println!("{}", start.elapsed().as_secs_f64() * 1000.0);
        }
        _ => {
            eprintln!("sessions play FROM COUNT | replay | time MINUTES");
            std::process::exit(2);
        }
    }
}
