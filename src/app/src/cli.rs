//! What can be asked on the command line.

use std::path::PathBuf;

use clap::{Parser, ValueEnum};

/// A training simulator for finding electrical faults in cars.
///
/// Without options it opens at the first screen.
#[derive(Clone, Debug, Default, Parser)]
#[command(name = "tracebay", version, about)]
pub struct Cli {
    /// Open this case at once
    #[arg(long, value_name = "ID")]
    pub scenario: Option<String>,
    /// Seed of the case
    #[arg(long, value_name = "N", requires = "scenario")]
    pub seed: Option<u64>,
    /// Stand here at the start
    #[arg(long, value_name = "WHERE", requires = "scenario")]
    pub place: Option<PlaceName>,
    /// Save a picture of the window and exit
    #[arg(long, value_name = "FILE.png")]
    pub screenshot: Option<PathBuf>,
    /// Size of the window in pixels
    #[arg(long, value_name = "WxH", default_value = "1280x720", value_parser = size)]
    pub size: (u32, u32),
    /// Screen to show in a picture, when no case is opened
    #[arg(long, value_name = "SCREEN", conflicts_with = "scenario")]
    pub screen: Option<ScreenName>,
    /// Open an assignment that an instructor gave you
    #[arg(long, value_name = "FILE", conflicts_with = "scenario")]
    pub assigned: Option<PathBuf>,
    /// Your id on the class list, where the file is for a whole class
    #[arg(long, value_name = "ID", requires = "assigned")]
    pub learner: Option<String>,
    /// Folder laid over the built-in scenarios
    #[arg(long, value_name = "FOLDER")]
    pub data: Option<PathBuf>,
    /// For authors: read files of the data folder anew whenever they are saved; keeps no attempts
    #[arg(long, requires = "data", conflicts_with_all = ["assigned", "measure"])]
    pub authoring: bool,
    /// Folder for attempts and settings
    #[arg(long, value_name = "FOLDER")]
    pub save: Option<PathBuf>,
    /// Work through a file of keys, clicks and pictures, then exit
    #[arg(long, value_name = "FILE")]
    pub play: Option<PathBuf>,
    /// Measure how fast the program is on this machine, print a table and exit
    ///
    /// Frames a second at every station, at each level or at the one given by --graphics, with the
    /// eye moving; seconds from the start to the first screen; milliseconds from a key to its
    /// reading; processor time at rest; memory. Takes one to three minutes.
    #[arg(long, conflicts_with_all = ["screenshot", "play"])]
    pub measure: bool,
    /// Language for this run
    #[arg(long, value_name = "LANGUAGE")]
    pub language: Option<LanguageName>,
    /// Text size for this run, in percent
    #[arg(long, value_name = "PERCENT", value_parser = clap::value_parser!(u32).range(100..=200))]
    pub text_size: Option<u32>,
    /// Graphics level for this run
    #[arg(long, value_name = "LEVEL")]
    pub graphics: Option<GraphicsName>,
}

/// Graphics levels by name.
#[derive(Copy, Clone, Debug, PartialEq, Eq, ValueEnum)]
pub enum GraphicsName {
    /// For machines without a graphics card.
    Low,
    /// Shadows and finer edges.
    Medium,
    /// Everything.
    High,
}

/// Where to stand.
#[derive(Copy, Clone, Debug, PartialEq, Eq, ValueEnum)]
pub enum PlaceName {
    /// Engine bay.
    Bay,
    /// Fuse box.
    Box,
    /// Driver's seat.
    Seat,
    /// Bench.
    Bench,
}

/// Screens by name.
#[derive(Copy, Clone, Debug, PartialEq, Eq, ValueEnum)]
pub enum ScreenName {
    /// First screen.
    Title,
    /// Choosing a case.
    Choose,
    /// Settings.
    Settings,
}

/// Languages by code.
#[derive(Copy, Clone, Debug, PartialEq, Eq, ValueEnum)]
pub enum LanguageName {
    /// English.
    En,
    /// Spanish.
    Es,
}

fn size(text: &str) -> Result<(u32, u32), String> {
    let parse = |s: &str| s.parse::<u32>().ok().filter(|n| (320..=7680).contains(n));
    text.split_once(['x', 'X'])
        .and_then(|(w, h)| Some((parse(w)?, parse(h)?)))
        .ok_or_else(|| "give width and height in pixels, 320 to 7680, as 1280x720".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_read_or_refused() {
        assert_eq!(size("1920x1080"), Ok((1920, 1080)));
        for bad in ["", "1280", "0x0", "99999x720", "ax b", "-1x5"] {
            assert!(size(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn the_options_make_sense_together() {
        use clap::CommandFactory;
        Cli::command().debug_assert();
        let cli = Cli::try_parse_from(["tracebay", "--scenario", "no-cold-air", "--seed", "7"]);
        assert_eq!(cli.unwrap().seed, Some(7));
        assert!(Cli::try_parse_from(["tracebay", "--seed", "7"]).is_err());
    }
}
