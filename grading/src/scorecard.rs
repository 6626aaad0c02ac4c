//! The scorecard: points of a judged attempt under a rubric, each traceable to an action.
//!
//! Same attempt, rubric and program version: same card, always. Words are made by the faces.

use std::sync::Arc;

use serde::{Deserialize, Serialize};
use tracebay_core::fault::Fault;
use tracebay_core::scenario::Case;
use tracebay_core::session::Action;

use crate::finish::{Finish, FinishWatch, Habit};
use crate::judge::{JudgeError, Judged, judge_among};
use crate::parts::{Need, PartsWatch, Replaced};
use crate::plan::PoorCheck;
use crate::rubric::{OverBudget, Rubric};
use crate::safety::{Breach, Rules, Severity, Watch};
use crate::survey::Survey;
use crate::worlds::Worlds;

/// The seven parts of a card.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// Right part, right failure.
    Call,
    /// It was the only explanation left.
    Proof,
    /// Few expected minutes given away.
    Order,
    /// Minutes used against the best plan.
    Economy,
    /// Safe work.
    Safety,
    /// Nothing replaced that was not faulty.
    Parts,
    /// Complaint met before and after, everything put back.
    Finish,
}

/// Why points were earned or lost.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reason {
    /// The last call was right, wholly or in its place only.
    CallRight {
        /// 1, or the share for the right place.
        share: f64,
    },
    /// The last call was wrong.
    CallWrong,
    /// Nothing was called.
    NoCall,
    /// An earlier call was wrong.
    EarlierCallWrong,
    /// Probability of what was called, when it was called.
    Proof {
        /// With rivals that no test could split left out.
        posterior: f64,
        /// Candidates that a test could still have split off.
        rivals: Vec<usize>,
    },
    /// A test gave away expected minutes beyond what is forgiven.
    Regret {
        /// Minutes given away.
        minutes: f64,
        /// What was poor about it, if it has a name.
        poor: Option<PoorCheck>,
    },
    /// Minutes of testing against the best plan's.
    Economy {
        /// Minutes used.
        used: f64,
        /// Minutes of the best plan.
        best: f64,
    },
    /// Over the minutes a customer would accept.
    OverBudget {
        /// Minutes over.
        minutes: f64,
    },
    /// A safety rule was broken.
    Breach {
        /// Rule id.
        rule: String,
        /// Severity under the rubric.
        severity: Severity,
    },
    /// A sound part was replaced.
    SoundPart {
        /// Part id.
        target: String,
    },
    /// Something of the finish was kept.
    Kept {
        /// Which habit.
        habit: HabitName,
    },
    /// Something of the finish was left undone.
    Missed {
        /// Which habit.
        habit: HabitName,
    },
    /// A hint was asked for.
    Hint {
        /// Level.
        level: u8,
    },
}

/// The habits of the finish.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum HabitName {
    ReproducedBeforeWork,
    RetestedSameWay,
    CheckedAtVent,
    RelaysIn,
    FusesIn,
    PlugsOn,
    CoversOn,
    ToolsOff,
    KeyOff,
    SparesBack,
    HandedBack,
}

/// One line of a part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Line {
    /// Number of the action, from 0, that earned or lost it.
    pub step: Option<usize>,
    /// Points earned (positive) or lost (negative).
    pub points: f64,
    /// Why.
    pub reason: Reason,
}

/// One part of the card.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PartScore {
    /// Which.
    pub part: Part,
    /// Points earned, from 0 to `most`.
    pub points: f64,
    /// Most points.
    pub most: f64,
    /// Where they come from.
    pub lines: Vec<Line>,
}

/// Why an attempt does not pass, whatever its points.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Gate {
    /// A stop-work breach.
    StopWork,
    /// The last call was not right.
    WrongCall,
    /// The complaint was still there.
    ComplaintLeft,
    /// Fewer points than the pass mark.
    BelowPassMark,
    /// Over the customer's minutes.
    OverBudget,
    /// The car was never handed back.
    NotHandedBack,
}

/// The whole card.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Scorecard {
    /// Scenario id.
    pub scenario: String,
    /// Scenario version.
    pub scenario_version: u32,
    /// Seed.
    pub seed: u64,
    /// Rubric id.
    pub rubric: String,
    /// Rubric version.
    pub rubric_version: u32,
    /// Points of 100, hints taken off.
    pub points: f64,
    /// Passed.
    pub passed: bool,
    /// What stood in the way of passing.
    pub gates: Vec<Gate>,
    /// The seven parts.
    pub parts: Vec<PartScore>,
    /// Points taken off for hints.
    pub hints: Vec<Line>,
    /// Safety rules broken.
    pub breaches: Vec<Breach>,
    /// Replaced parts.
    pub replaced: Vec<Replaced>,
    /// How the job was begun and left.
    pub finish: Finish,
    /// The attempt, step by step.
    pub judged: Judged,
    /// What was wrong with the car: the candidate's id and faults.
    pub truth: Option<(String, Vec<Fault>)>,
}

/// Judges and scores actions on a case.
///
/// # Errors
/// An action that the session refuses, or a scenario that cannot be planned.
pub fn score(
    case: &Arc<Case>,
    survey: &Survey,
    actions: &[Action],
    rubric: &Rubric,
    rules: &Rules,
) -> Result<Scorecard, JudgeError> {
    let worlds = Worlds::new(case).map_err(|e| JudgeError::Cannot(e.to_string()))?;
    score_in(worlds, survey, actions, rubric, rules)
}

/// As [`score`], in worlds in which nothing was done yet: whoever scores several attempts on one case
/// opens them once and gives copies.
///
/// # Errors
/// As [`score`].
pub fn score_in(
    mut worlds: Worlds,
    survey: &Survey,
    actions: &[Action],
    rubric: &Rubric,
    rules: &Rules,
) -> Result<Scorecard, JudgeError> {
    let order_terms = &rubric.order;
    let case = worlds.case().clone();
    let session = worlds.own();
    let mut safety = Watch::new(rules, session);
    let mut habits = FinishWatch::new(session);
    let mut parts = PartsWatch::new(session);
    let mut breaches = Vec::new();
    let judged = judge_among(
        worlds,
        survey,
        actions,
        &order_terms.plausible,
        order_terms.tolerance_minutes,
        &mut |session, action, seen| {
            breaches.extend(safety.step(session, action, seen));
            habits.step(session, action, seen);
            parts.step(session, action);
        },
    )?;
    let (finish, replaced) = (habits.finish(), parts.replaced().to_vec());
    Ok(pointed(&case, judged, breaches, finish, replaced, rubric))
}

/// The same attempt under another rubric. Points depend on nothing but what was judged.
pub fn under(card: &Scorecard, case: &Case, rubric: &Rubric) -> Scorecard {
    pointed(
        case,
        card.judged.clone(),
        card.breaches.clone(),
        card.finish.clone(),
        card.replaced.clone(),
        rubric,
    )
}

fn pointed(
    case: &Case,
    judged: Judged,
    breaches: Vec<Breach>,
    finish: Finish,
    replaced: Vec<Replaced>,
    rubric: &Rubric,
) -> Scorecard {
    let w = &rubric.weights;
    let parts = vec![
        call(&judged, rubric),
        proof(&judged, rubric),
        order(&judged, rubric),
        economy(case, &judged, rubric),
        safety(&breaches, rubric),
        replaced_parts(&replaced, rubric),
        finished(&finish, w.finish),
    ];
    let hints: Vec<Line> = judged
        .steps
        .iter()
        .filter_map(|step| match &step.action {
            Action::Hint(level) => Some(Line {
                step: Some(step.n),
                points: -rubric.hints.price(*level),
                reason: Reason::Hint { level: *level },
            }),
            _ => None,
        })
        .collect();
    let sum: f64 =
        parts.iter().map(|p| p.points).sum::<f64>() + hints.iter().map(|h| h.points).sum::<f64>();
    let points = tenth(sum.clamp(0.0, 100.0));
    let gates = gates(case, &judged, &breaches, rubric, points);
    Scorecard {
        scenario: case.scenario.id.clone(),
        scenario_version: case.scenario.version,
        seed: case.seed,
        rubric: rubric.id.clone(),
        rubric_version: rubric.version,
        points,
        passed: gates.is_empty(),
        gates,
        parts,
        hints,
        breaches,
        replaced,
        finish,
        truth: case.culprit().map(|c| (c.id.clone(), c.faults.clone())),
        judged,
    }
}

/// Rounds to a tenth of a point, as shown.
fn tenth(points: f64) -> f64 {
    libm::round(points * 10.0) / 10.0
}

fn part(part: Part, most: f64, lines: Vec<Line>, points: f64) -> PartScore {
    PartScore {
        part,
        points: tenth(points.clamp(0.0, most)),
        most,
        lines,
    }
}

fn call(judged: &Judged, rubric: &Rubric) -> PartScore {
    let most = rubric.weights.call;
    let mut lines = Vec::new();
    let Some((last, earlier)) = judged.calls.split_last() else {
        lines.push(Line {
            step: None,
            points: 0.0,
            reason: Reason::NoCall,
        });
        return part(Part::Call, most, lines, 0.0);
    };
    let share = if last.right >= 1.0 {
        1.0
    } else if last.right > 0.0 {
        rubric.call.right_place_share
    } else {
        0.0
    };
    let mut points = share * most;
    let reason = if share > 0.0 {
        Reason::CallRight { share }
    } else {
        Reason::CallWrong
    };
    lines.push(Line {
        step: Some(last.n),
        points,
        reason,
    });
    for wrong in earlier.iter().filter(|c| c.right < 1.0) {
        points -= rubric.call.wrong_call_points;
        lines.push(Line {
            step: Some(wrong.n),
            points: -rubric.call.wrong_call_points,
            reason: Reason::EarlierCallWrong,
        });
    }
    part(Part::Call, most, lines, points)
}

fn proof(judged: &Judged, rubric: &Rubric) -> PartScore {
    let most = rubric.weights.proof;
    let Some(last) = judged.calls.last() else {
        return part(Part::Proof, most, Vec::new(), 0.0);
    };
    let share = proof_share(judged, rubric);
    let line = Line {
        step: Some(last.n),
        points: share * most,
        reason: Reason::Proof {
            posterior: last.fair_posterior,
            rivals: last.splittable.clone(),
        },
    };
    part(Part::Proof, most, vec![line], share * most)
}

/// The last call is right and was the only explanation left.
fn proven(judged: &Judged, rubric: &Rubric) -> bool {
    judged
        .calls
        .last()
        .is_some_and(|c| c.right >= 1.0 && c.fair_posterior >= rubric.proof.full_from)
}

/// How well the last call was proven, from 0 to 1.
fn proof_share(judged: &Judged, rubric: &Rubric) -> f64 {
    let terms = &rubric.proof;
    match judged.calls.last() {
        Some(last) if last.right > 0.0 => {
            let span = (terms.full_from - terms.none_below).max(1e-9);
            ((last.fair_posterior - terms.none_below) / span).clamp(0.0, 1.0)
        }
        _ => 0.0,
    }
}

fn order(judged: &Judged, rubric: &Rubric) -> PartScore {
    let most = rubric.weights.order;
    let terms = &rubric.order;
    let mut lines = Vec::new();
    let mut lost = 0.0;
    let mut tests = 0;
    let mut poor_before = false;
    for step in &judged.steps {
        let Some(minutes) = step.fair_regret else {
            continue;
        };
        tests += 1;
        // The tolerance is for honest differences about what usually fails. No such difference
        // makes a check tell anything whose outcome is certain: one is let pass, a habit is not.
        let forgiven = if step.poor.is_some() && poor_before {
            0.0
        } else {
            terms.tolerance_minutes
        };
        poor_before |= step.poor.is_some();
        let over = minutes - forgiven;
        let points = over.max(0.0) / terms.full_loss_minutes * most;
        lost += points;
        // What rounds to nothing is not worth a line.
        if points >= 0.05 || step.poor.is_some() {
            lines.push(Line {
                step: Some(step.n),
                points: -points,
                reason: Reason::Regret {
                    minutes,
                    poor: step.poor,
                },
            });
        }
    }
    // Who called on a guess without testing chose no order; who saw the cause at once needed none.
    let points = if tests == 0 && !proven(judged, rubric) {
        0.0
    } else {
        // A search broken off for a guess has shown a quarter of an order at most; the rest comes
        // with what had been ruled out when the call was made, right or wrong.
        let terms = &rubric.proof;
        let posterior = judged.calls.last().map_or(0.0, |c| c.fair_posterior);
        let span = (terms.full_from - terms.none_below).max(1e-9);
        let searched = ((posterior - terms.none_below) / span).clamp(0.0, 1.0);
        (most - lost).min(most * (0.25 + 0.75 * searched))
    };
    part(Part::Order, most, lines, points)
}

fn economy(case: &Case, judged: &Judged, rubric: &Rubric) -> PartScore {
    let most = rubric.weights.economy;
    let terms = &rubric.economy;
    let mut lines = Vec::new();
    let best = judged.best_minutes.max(0.1);
    let used = judged.testing_minutes;
    let ratio = used / best;
    let span = (terms.none_from_ratio - terms.full_to_ratio).max(1e-9);
    let no_call = judged.calls.is_empty() || (used == 0.0 && !proven(judged, rubric));
    let share = if no_call {
        0.0
    } else {
        // Minutes saved by guessing are not saved: the plan's minutes are those to a proven call.
        ((terms.none_from_ratio - ratio) / span)
            .clamp(0.0, 1.0)
            .min(proof_share(judged, rubric))
    };
    let mut points = share * most;
    lines.push(Line {
        step: None,
        points,
        reason: Reason::Economy { used, best },
    });
    let over = judged.minutes - case.scenario.budget_minutes;
    if over > 0.0
        && let OverBudget::PointsPerTenMinutes(each) = terms.over_budget
    {
        let loss = each * libm::floor(over / 10.0);
        points -= loss;
        lines.push(Line {
            step: None,
            points: -loss,
            reason: Reason::OverBudget { minutes: over },
        });
    }
    part(Part::Economy, most, lines, points)
}

fn safety(breaches: &[Breach], rubric: &Rubric) -> PartScore {
    let most = rubric.weights.safety;
    let mut points = most;
    let mut lines = Vec::new();
    for breach in breaches {
        let severity = rubric.severity(&breach.rule, breach.severity);
        let loss = match severity {
            Severity::Reminder => 0.0,
            Severity::Caution => rubric.safety.caution_points,
            Severity::Deduction(points) => points,
            Severity::StopWork => most,
        };
        points -= loss;
        lines.push(Line {
            step: Some(breach.step),
            points: -loss,
            reason: Reason::Breach {
                rule: breach.rule.clone(),
                severity,
            },
        });
    }
    part(Part::Safety, most, lines, points)
}

fn replaced_parts(replaced: &[Replaced], rubric: &Rubric) -> PartScore {
    let most = rubric.weights.parts;
    let mut points = most;
    let mut lines = Vec::new();
    for r in replaced.iter().filter(|r| r.need == Need::Sound) {
        let loss = rubric.parts.sound_part_points
            + rubric.parts.per_hundred_points * libm::floor(r.price / 100.0);
        points -= loss;
        lines.push(Line {
            step: Some(r.step),
            points: -loss,
            reason: Reason::SoundPart {
                target: r.target.clone(),
            },
        });
    }
    part(Part::Parts, most, lines, points)
}

/// How much each habit counts among the others (the writers' judgement, no source): meeting the
/// complaint before and after is worth more than any one thing put back.
fn habits(finish: &Finish) -> Vec<(HabitName, Habit, f64)> {
    let mut all = vec![
        (
            HabitName::ReproducedBeforeWork,
            finish.reproduced_before_work,
            3.0,
        ),
        (HabitName::RetestedSameWay, finish.retested_same_way, 3.0),
        (HabitName::RelaysIn, finish.relays_in, 1.0),
        (HabitName::FusesIn, finish.fuses_in, 1.0),
        (HabitName::PlugsOn, finish.plugs_on, 1.0),
        (HabitName::CoversOn, finish.covers_on, 1.0),
        (HabitName::ToolsOff, finish.tools_off, 1.0),
        (HabitName::KeyOff, finish.key_off, 0.5),
        (HabitName::SparesBack, finish.spares_back, 0.5),
        (HabitName::HandedBack, finish.handed_back, 1.0),
    ];
    if let Some(vent) = finish.checked_at_vent {
        all.insert(2, (HabitName::CheckedAtVent, vent, 1.0));
    }
    all
}

fn finished(finish: &Finish, most: f64) -> PartScore {
    let habits = habits(finish);
    let whole: f64 = habits.iter().map(|h| h.2).sum();
    let mut points = 0.0;
    let mut lines = Vec::new();
    for (name, habit, weight) in habits {
        let worth = weight / whole * most;
        let (earned, reason) = if habit.kept {
            (worth, Reason::Kept { habit: name })
        } else {
            (0.0, Reason::Missed { habit: name })
        };
        points += earned;
        lines.push(Line {
            step: habit.step,
            points: earned,
            reason,
        });
    }
    part(Part::Finish, most, lines, points)
}

fn gates(
    case: &Case,
    judged: &Judged,
    breaches: &[Breach],
    rubric: &Rubric,
    points: f64,
) -> Vec<Gate> {
    let mut gates = Vec::new();
    let stop = breaches
        .iter()
        .any(|b| rubric.severity(&b.rule, b.severity) == Severity::StopWork);
    if stop && rubric.gates.stop_work_fails {
        gates.push(Gate::StopWork);
    }
    let right = judged.calls.last().is_some_and(|c| c.right > 0.0);
    if rubric.gates.call_must_be_right && !right {
        gates.push(Gate::WrongCall);
    }
    if rubric.gates.complaint_must_be_gone && judged.complaint_left {
        gates.push(Gate::ComplaintLeft);
    }
    if !judged.handed_back {
        gates.push(Gate::NotHandedBack);
    }
    let over = judged.minutes > case.scenario.budget_minutes;
    if over && rubric.economy.over_budget == OverBudget::Fails {
        gates.push(Gate::OverBudget);
    }
    if points < rubric.gates.pass_mark {
        gates.push(Gate::BelowPassMark);
    }
    gates
}
