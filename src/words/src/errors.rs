//! What is wrong with a case or an attempt file, in words.

use tracebay_core::attempt::{AttemptError, Damage, ReplayError, ReplayErrorKind, TornLine};
use tracebay_core::scenario::DrawError;
use tracebay_core::vehicle::Vehicle;
use tracebay_grading::assign::{AssignmentError, FORMAT, MAX_BYTES};

use crate::{Value, Words};

impl Words {
    /// Why a case could not be drawn.
    pub fn draw_error(&self, error: &DrawError) -> String {
        match error {
            DrawError::UnknownScenario {
                id,
                nearest: Some(nearest),
            } => self.get(
                "draw-unknown-scenario-nearest",
                &[
                    ("id", id.as_str().into()),
                    ("nearest", nearest.as_str().into()),
                ],
            ),
            DrawError::UnknownScenario { id, nearest: None } => {
                self.get("draw-unknown-scenario", &[("id", id.as_str().into())])
            }
            DrawError::UnknownVehicle { id } => {
                self.get("draw-unknown-vehicle", &[("id", id.as_str().into())])
            }
        }
    }

    /// Why an assignment file cannot be used. What stands in the file is told as it is written there.
    pub fn assignment_error(&self, error: &AssignmentError) -> String {
        let (key, args): (&str, Vec<(&str, Value)>) = match error {
            AssignmentError::TooLarge => ("assignment-too-large", vec![("most", text(&MAX_BYTES))]),
            AssignmentError::NotText => ("assignment-not-text", vec![]),
            AssignmentError::NotOne(detail) => {
                ("assignment-not-one", vec![("detail", text(detail))])
            }
            AssignmentError::Format { found } => (
                "assignment-format",
                vec![("found", text(found)), ("reads", text(&FORMAT))],
            ),
            AssignmentError::Wrong { at, what } => (
                "assignment-wrong",
                vec![("at", text(at)), ("what", text(what))],
            ),
        };
        self.get(key, &args)
    }

    /// Why an attempt file cannot be used.
    pub fn attempt_error(&self, error: &AttemptError) -> String {
        let (key, args): (&str, Vec<(&str, Value)>) = match error {
            AttemptError::Empty => ("attempt-empty", vec![]),
            AttemptError::TooLarge { most_bytes } => {
                ("attempt-too-large", vec![("most", text(most_bytes))])
            }
            AttemptError::LineTooLong { line, most_bytes } => (
                "attempt-line-too-long",
                vec![("line", text(line)), ("most", text(most_bytes))],
            ),
            AttemptError::TooManyLines { most } => {
                ("attempt-too-many-lines", vec![("most", text(most))])
            }
            AttemptError::NoHeader { detail } => {
                ("attempt-no-header", vec![("detail", text(detail))])
            }
            AttemptError::Format { found, reads } => (
                "attempt-format",
                vec![("found", text(found)), ("reads", text(reads))],
            ),
            AttemptError::Damaged { line, damage } => {
                let mut args = vec![("line", text(line))];
                let key = match damage {
                    Damage::NotText => "attempt-damaged-not-text",
                    Damage::NotAnAction { detail } => {
                        args.push(("detail", text(detail)));
                        "attempt-damaged-not-an-action"
                    }
                    Damage::OutOfOrder { found, expected } => {
                        args.push(("found", text(found)));
                        args.push(("expected", text(expected)));
                        "attempt-damaged-out-of-order"
                    }
                };
                (key, args)
            }
            AttemptError::OtherScenario { file, here } => (
                "attempt-other-scenario",
                vec![("file", text(file)), ("here", text(here))],
            ),
            AttemptError::OtherVersion {
                scenario,
                file,
                here,
            } => (
                "attempt-other-version",
                vec![
                    ("scenario", text(scenario)),
                    ("file", text(file)),
                    ("here", text(here)),
                ],
            ),
            AttemptError::OtherEngine { file, here } => (
                "attempt-other-engine",
                vec![("file", text(file)), ("here", text(here))],
            ),
            AttemptError::OtherSeed { file, here } => (
                "attempt-other-seed",
                vec![("file", text(file)), ("here", text(here))],
            ),
        };
        self.get(key, &args)
    }

    /// That a torn last line was dropped.
    pub fn torn_line(&self, torn: &TornLine) -> String {
        self.get("attempt-torn", &[("line", text(&torn.line))])
    }

    /// Why a replay stopped.
    pub fn replay_error(&self, vehicle: &Vehicle, error: &ReplayError) -> String {
        let line = ("line", text(&error.line));
        match &error.kind {
            ReplayErrorKind::Refused(refusal) => {
                let why = self.refusal(vehicle, refusal);
                self.get("replay-refused", &[line, ("why", why.into())])
            }
            ReplayErrorKind::Unsolvable(error) => {
                self.get("replay-unsolvable", &[("detail", text(error))])
            }
            ReplayErrorKind::ChainDiffers => self.get("replay-chain-differs", &[line]),
        }
    }
}

/// Numbers go in as text: the language's digit grouping would make `line 12,345` of a line.
fn text(value: &impl ToString) -> Value<'static> {
    value.to_string().into()
}
