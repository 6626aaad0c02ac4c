//! The rubric: how the parts of a scorecard are weighed, priced and gated.
//!
//! A rubric is data, read from a file and checked. It holds no points of its own making and knows
//! nothing of cars or sessions: the scorecard applies it to what was judged.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use tracebay_core::scenario::SourceFile;
use tracebay_core::source::{Check, Path, Problem, parse};

use crate::judge::{Plausible, Priors};
use crate::safety::{Rules, Severity};

/// The file format this program reads.
pub const FORMAT: u32 = 1;

/// How an attempt is turned into points.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Rubric {
    /// File format version; this program reads 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    pub format: u32,
    /// Short name, lower-case letters, digits and `-`.
    pub id: String,
    /// Raised whenever the same attempt may score otherwise than before.
    pub version: u32,
    /// Title shown to people.
    pub title: String,
    /// Whom it is for.
    pub audience: Audience,
    /// Points of each part; together 100.
    pub weights: Weights,
    /// Terms of the part "call".
    pub call: CallTerms,
    /// Terms of the part "proof".
    pub proof: ProofTerms,
    /// Terms of the part "order".
    pub order: OrderTerms,
    /// Terms of the part "economy".
    pub economy: EconomyTerms,
    /// Terms of the part "safety".
    pub safety: SafetyTerms,
    /// Terms of the part "parts".
    pub parts: PartsTerms,
    /// What each hint costs, in points of the whole.
    pub hints: HintPrices,
    /// What must be so, whatever the points.
    pub gates: Gates,
}

/// Whom a rubric is for.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Audience {
    /// Practice at home.
    Home,
    /// A graded assignment.
    Assignment,
    /// Sign-off in a shop.
    Shop,
}

/// Points of the seven parts; together 100.
#[derive(Copy, Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Weights {
    /// Right part, right failure.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub call: f64,
    /// It was the only explanation left.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub proof: f64,
    /// Few expected minutes given away.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub order: f64,
    /// Minutes used against the best plan.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub economy: f64,
    /// Safe work.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub safety: f64,
    /// Nothing replaced that was not faulty.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub parts: f64,
    /// Complaint met before and after, everything put back.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub finish: f64,
}

/// Terms of the part "call".
#[derive(Copy, Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct CallTerms {
    /// Points of the part lost for each wrong call before the last one.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub wrong_call_points: f64,
    /// Share of the part that the right place with another failure earns, 0 to 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 1.0)))]
    pub right_place_share: f64,
}

/// Terms of the part "proof": the probability of what was called, at the call.
#[derive(Copy, Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ProofTerms {
    /// All points from this probability.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 1.0)))]
    pub full_from: f64,
    /// No points below this probability; between the two the points rise evenly.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 1.0)))]
    pub none_below: f64,
}

/// Terms of the part "order": expected minutes given away by the choice of tests.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct OrderTerms {
    /// Minutes given away in one choice that are forgiven: a technician's sense of what usually
    /// fails differs honestly from the file's.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 600.0)))]
    pub tolerance_minutes: f64,
    /// Minutes given away in all, beyond the tolerance, that cost the whole part.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.1, max = 6000.0)))]
    pub full_loss_minutes: f64,
    /// A choice loses points only where it is poor under all of these.
    #[serde(default)]
    pub plausible: Plausible,
}

/// Terms of the part "economy": minutes of testing against the best plan.
#[derive(Copy, Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct EconomyTerms {
    /// Minutes as a multiple of the best plan's that still earn everything.
    #[cfg_attr(feature = "schema", schemars(range(min = 1.0, max = 100.0)))]
    pub full_to_ratio: f64,
    /// Multiple that earns nothing; between the two the points fall evenly.
    #[cfg_attr(feature = "schema", schemars(range(min = 1.0, max = 1000.0)))]
    pub none_from_ratio: f64,
    /// What happens beyond the minutes a customer would accept.
    pub over_budget: OverBudget,
}

/// What happens beyond the scenario's budget of minutes.
#[derive(Copy, Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub enum OverBudget {
    /// Nothing.
    Ignore,
    /// Points of the part for every full ten minutes over.
    PointsPerTenMinutes(f64),
    /// The attempt does not pass.
    Fails,
}

/// Terms of the part "safety".
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SafetyTerms {
    /// Points of the part lost for each caution.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub caution_points: f64,
    /// Severities that differ from the rules' own, by rule id.
    #[serde(default)]
    pub overrides: BTreeMap<String, Severity>,
}

/// Terms of the part "parts".
#[derive(Copy, Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PartsTerms {
    /// Points of the part lost for each sound part replaced.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub sound_part_points: f64,
    /// Points more for each full hundred of the shop's (invented) currency it cost.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub per_hundred_points: f64,
}

/// What hints cost, in points of the whole.
#[derive(Copy, Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct HintPrices {
    /// Where to think.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub level_1: f64,
    /// Which half.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub level_2: f64,
    /// Which test.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub level_3: f64,
}

/// What must be so for an attempt to pass, whatever the points.
#[derive(Copy, Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Gates {
    /// A stop-work breach fails the attempt.
    pub stop_work_fails: bool,
    /// The last call must be right.
    pub call_must_be_right: bool,
    /// The complaint must be gone when the car is handed back.
    pub complaint_must_be_gone: bool,
    /// Least points of 100.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100.0)))]
    pub pass_mark: f64,
}

impl Weights {
    /// Each part's name and points, in the scorecard's order.
    pub fn each(&self) -> [(&'static str, f64); 7] {
        [
            ("call", self.call),
            ("proof", self.proof),
            ("order", self.order),
            ("economy", self.economy),
            ("safety", self.safety),
            ("parts", self.parts),
            ("finish", self.finish),
        ]
    }
}

impl HintPrices {
    /// Points a hint of a level costs; nothing for a level that does not exist.
    pub fn price(&self, level: u8) -> f64 {
        match level {
            1 => self.level_1,
            2 => self.level_2,
            3 => self.level_3,
            _ => 0.0,
        }
    }
}

impl Rubric {
    /// Reads and checks a rubric file. The rules are those its overrides may name.
    ///
    /// # Errors
    /// Everything that is wrong with it, with file, line and column.
    pub fn load(file: &SourceFile, rules: &Rules) -> Result<Rubric, Vec<Problem>> {
        let rubric: Rubric = parse(&file.name, &file.text).map_err(|p| vec![p])?;
        let mut check = Check::new(&file.name, &file.text);
        rubric.check(rules, &mut check);
        check.finish()?;
        Ok(rubric)
    }

    /// The rubrics that come with the program: practice at home, graded assignment, shop sign-off.
    pub fn presets() -> [SourceFile; 3] {
        [
            ("home.ron", include_str!("../rubrics/home.ron")),
            ("assignment.ron", include_str!("../rubrics/assignment.ron")),
            ("shop.ron", include_str!("../rubrics/shop.ron")),
        ]
        .map(|(name, text)| SourceFile {
            name: format!("grading/rubrics/{name}"),
            text: text.to_owned(),
        })
    }

    /// The severity of a breach under this rubric.
    pub fn severity(&self, rule: &str, own: Severity) -> Severity {
        self.safety.overrides.get(rule).copied().unwrap_or(own)
    }

    fn check(&self, rules: &Rules, check: &mut Check) {
        let root = Path::root;
        if self.format != FORMAT {
            check.refuse(
                &root().field("format"),
                format!("this program reads format {FORMAT} of rubrics"),
                "a newer program may read this file",
            );
        }
        crate::safety::check_id(&root().field("id"), &self.id, check);
        for (name, points) in self.weights.each() {
            check.number(
                &root().field("weights").field(name),
                points,
                0.0..=100.0,
                "points",
            );
        }
        let sum: f64 = self.weights.each().iter().map(|(_, points)| points).sum();
        if (sum - 100.0).abs() > 1e-9 {
            check.refuse(
                &root().field("weights"),
                format!("the weights of the seven parts come to {sum}"),
                "make them 100 together",
            );
        }
        let mut number = |group: &str, field: &str, value: f64, least: f64, most: f64, unit| {
            let path = root().field(group).field(field);
            check.number(&path, value, least..=most, unit);
        };
        let (call, order) = (&self.call, &self.order);
        number(
            "call",
            "wrong_call_points",
            call.wrong_call_points,
            0.0,
            100.0,
            "points",
        );
        number(
            "call",
            "right_place_share",
            call.right_place_share,
            0.0,
            1.0,
            "",
        );
        number("proof", "full_from", self.proof.full_from, 0.0, 1.0, "");
        number("proof", "none_below", self.proof.none_below, 0.0, 1.0, "");
        number(
            "order",
            "tolerance_minutes",
            order.tolerance_minutes,
            0.0,
            600.0,
            "minutes",
        );
        number(
            "order",
            "full_loss_minutes",
            order.full_loss_minutes,
            0.1,
            6000.0,
            "minutes",
        );
        number(
            "economy",
            "full_to_ratio",
            self.economy.full_to_ratio,
            1.0,
            100.0,
            "",
        );
        number(
            "economy",
            "none_from_ratio",
            self.economy.none_from_ratio,
            1.0,
            1000.0,
            "",
        );
        if let OverBudget::PointsPerTenMinutes(points) = self.economy.over_budget {
            number("economy", "over_budget", points, 0.0, 100.0, "points");
        }
        number(
            "safety",
            "caution_points",
            self.safety.caution_points,
            0.0,
            100.0,
            "points",
        );
        number(
            "parts",
            "sound_part_points",
            self.parts.sound_part_points,
            0.0,
            100.0,
            "points",
        );
        number(
            "parts",
            "per_hundred_points",
            self.parts.per_hundred_points,
            0.0,
            100.0,
            "points",
        );
        number("hints", "level_1", self.hints.level_1, 0.0, 100.0, "points");
        number("hints", "level_2", self.hints.level_2, 0.0, 100.0, "points");
        number("hints", "level_3", self.hints.level_3, 0.0, 100.0, "points");
        number(
            "gates",
            "pass_mark",
            self.gates.pass_mark,
            0.0,
            100.0,
            "points",
        );
        let plausible = &order.plausible;
        for (list, length) in [
            ("priors", plausible.priors.len()),
            ("access_factors", plausible.access_factors.len()),
        ] {
            if !(1..=6).contains(&length) {
                let path = root().field("order").field("plausible").field(list);
                check.refuse(&path, format!("{length} entries"), "give 1 to 6");
            }
        }
        for (i, priors) in plausible.priors.iter().enumerate() {
            if let Priors::Blend(share) = priors {
                let path = root()
                    .field("order")
                    .field("plausible")
                    .field("priors")
                    .index(i);
                check.number(&path, *share, 0.0..=1.0, "");
            }
        }
        for (i, factor) in plausible.access_factors.iter().enumerate() {
            let path = root()
                .field("order")
                .field("plausible")
                .field("access_factors")
                .index(i);
            check.number(&path, *factor, 0.1..=10.0, "");
        }
        // An order turned round would give more points for less.
        let mut ordered = |group: &str, field: &str, low: f64, high: f64, what: &str| {
            if low >= high {
                let path = root().field(group).field(field);
                check.refuse(&path, format!("{what}, not {low} and {high}"), "");
            }
        };
        ordered(
            "proof",
            "none_below",
            self.proof.none_below,
            self.proof.full_from,
            "`none_below` must be less than `full_from`",
        );
        ordered(
            "economy",
            "full_to_ratio",
            self.economy.full_to_ratio,
            self.economy.none_from_ratio,
            "`full_to_ratio` must be less than `none_from_ratio`",
        );
        for (rule, severity) in &self.safety.overrides {
            let path = root().field("safety").field("overrides").key(rule);
            let ids = rules.rules.iter().map(|r| r.id.as_str());
            check.known(&path, rule, ids, "safety rule");
            crate::safety::check_severity(&path, *severity, check);
        }
    }
}
