//! A page's address as a command line: `?case=no-cold-air&seed=7` opens that case.
//!
//! Knows nothing of browsers: it is given names and values.

use clap::Parser;

use crate::cli::Cli;

/// What an address may say, and the option that it stands for.
const NAMES: [(&str, &str); 5] = [
    ("case", "--scenario"),
    ("seed", "--seed"),
    ("language", "--language"),
    ("text-size", "--text-size"),
    ("graphics", "--graphics"),
];

/// Letters of a wrong address that are said again.
const LONGEST: usize = 120;

/// What an address asks for. What it cannot mean is left out whole and given back to be told; what others
/// hang on an address is passed over.
pub fn asked_for(pairs: &[(String, String)]) -> (Cli, Option<String>) {
    let options = pairs.iter().filter_map(|(name, value)| {
        let (_, option) = NAMES.iter().find(|(known, _)| known == name)?;
        Some(format!("{option}={value}"))
    });
    let line = std::iter::once("tracebay".to_owned()).chain(options);
    let Ok(cli) = Cli::try_parse_from(line) else {
        let said: Vec<String> = pairs
            .iter()
            .filter(|(name, _)| NAMES.iter().any(|(known, _)| known == name))
            .map(|(name, value)| format!("{name}={value}"))
            .collect();
        let said: String = said.join("&").chars().take(LONGEST).collect();
        return (Cli::parse_from(["tracebay"]), Some(said));
    };
    (cli, None)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(pairs: &[(&str, &str)]) -> (Cli, Option<String>) {
        let owned = |(a, b): &(&str, &str)| ((*a).to_owned(), (*b).to_owned());
        asked_for(&pairs.iter().map(owned).collect::<Vec<_>>())
    }

    #[test]
    fn a_link_opens_its_case() {
        let (cli, wrong) = asked(&[("case", "no-cold-air"), ("seed", "7"), ("from", "mail")]);
        assert_eq!(cli.scenario.as_deref(), Some("no-cold-air"));
        assert_eq!((cli.seed, wrong), (Some(7), None));
        let (cli, wrong) = asked(&[("language", "es"), ("graphics", "medium")]);
        assert!(cli.language.is_some() && cli.graphics.is_some() && wrong.is_none());
    }

    #[test]
    fn a_bad_link_opens_the_first_screen_and_says_why() {
        for bad in [
            &[("case", "no-cold-air"), ("seed", "-7")][..],
            &[("seed", "7")],
            &[("case", "a"), ("case", "b")],
            &[("text-size", "900")],
            &[("language", "--help")],
        ] {
            let (cli, wrong) = asked(bad);
            assert!(cli.scenario.is_none() && cli.seed.is_none(), "{bad:?}");
            assert!(wrong.is_some_and(|w| w.contains(bad[0].0)), "{bad:?}");
        }
        // An address can reach nothing but these.
        let (cli, wrong) = asked(&[("save", "/tmp"), ("play", "x"), ("data", "/")]);
        assert_eq!(
            (cli.save, cli.play, cli.data, wrong),
            (None, None, None, None)
        );
    }
}
