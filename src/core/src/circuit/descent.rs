//! How far to go along a step whose end lies higher than its beginning.

use super::balance::{Still, ToolRow, across};
use super::device::Law;

const ROUNDS: usize = 60;
/// The slope may keep this share of its first size.
const ENOUGH: f64 = 1e-3;

/// The share of `step`, which was taken and led to `volts`, at which the descent along it ends. `None` if it
/// does not end before the step does, or if rounding hides the slope.
///
/// Every element's current only rises with its voltage, so the slope along a step only rises too: its zero is
/// enclosed and then narrowed by false position, with bisection against creeping.
pub(super) fn share_of_step(
    still: Still,
    tools: &[ToolRow],
    soft_s: f64,
    volts: &[f64],
    step: &[f64],
) -> Option<f64> {
    let (mut fixed, mut rising) = (0.0, 0.0);
    for (ends, siemens, emf_v) in still.lines() {
        let reach = across(step, ends);
        fixed += reach * (siemens * (across(volts, ends) - reach - emf_v));
        rising += reach * siemens * reach;
    }
    let curves: Vec<(Law, f64, f64)> = still
        .curves()
        .map(|(ends, device)| (Law::Curve(*device), ends))
        .chain(tools.iter().map(|tool| (tool.law, tool.ends)))
        .map(|(law, ends)| {
            (
                law,
                across(volts, ends) - across(step, ends),
                across(step, ends),
            )
        })
        .collect();
    let slope = |share: f64| {
        let along = |sum: f64, &(law, v, reach): &(Law, f64, f64)| {
            let v = v + share * reach;
            let soft_s = if matches!(law, Law::Curve(_)) {
                soft_s
            } else {
                0.0
            };
            sum + reach * (law.amps(v) + soft_s * v)
        };
        curves.iter().fold(fixed + share * rising, along)
    };
    let (mut low, mut high) = (0.0, 1.0);
    let (mut at_low, mut at_high) = (slope(low), slope(high));
    let encloses = at_low < 0.0 && at_high > 0.0;
    if !encloses {
        return None;
    }
    let enough = ENOUGH * at_low.abs();
    let mut share = low;
    let mut side = 0;
    for round in 0..ROUNDS {
        share = if round % 3 == 2 {
            0.5 * (low + high)
        } else {
            low - at_low * (high - low) / (at_high - at_low)
        };
        let at = slope(share);
        if at.abs() <= enough {
            break;
        }
        if at < 0.0 {
            (low, at_low) = (share, at);
            at_high *= if side < 0 { 0.5 } else { 1.0 };
            side = -1;
        } else {
            (high, at_high) = (share, at);
            at_low *= if side > 0 { 0.5 } else { 1.0 };
            side = 1;
        }
    }
    share.is_finite().then_some(share)
}
